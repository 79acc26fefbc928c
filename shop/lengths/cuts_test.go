package lengths

import (
	"context"
	"math/rand"
	"testing"
)

// A cut takes away no whole cutting: one that is known, with each piece as often as it is
// wanted, keeps all cuts, which the programme's own solution broke.
func TestCutsTakeNoWholeCutting(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	cuts := 0
	for i := 0; i < 40; i++ {
		// Lengths of 100 in three pieces each, most kinds more than once.
		p := Problem{Stock: []Stock{{100, Any, 1}}}
		var known [][]int64
		for n := 0; n < 20; n++ {
			a, b := 15+rnd.Int63n(20), 25+rnd.Int63n(20)
			known = append(known, []int64{a, b, 100 - a - b})
			for _, x := range known[n] {
				p.Pieces = append(p.Pieces, Piece{x, 1})
			}
		}
		c, _ := reduce(&p)
		b := &budget{ctx: context.Background(), left: defaultWork, limit: defaultWork}
		s := newSearch(c, b, Options{})
		s.offer(c.fillBy(c.need, c.count, 0))
		s.value = 1000 // so that no bound is enough
		root := s.root()
		for round := 0; round < 6 && root.generate() == solved && root.separate() > 0; round++ {
		}
		kind := map[int64]int{}
		for k, l := range c.length {
			kind[l] = k
		}
		for _, x := range root.cuts {
			sum := 0
			for _, bar := range known {
				n := 0
				for _, l := range bar {
					if k := kind[l]; k == x.kinds[0] || k == x.kinds[1] || k == x.kinds[2] {
						n++
					}
				}
				sum += n / 2
			}
			if sum > x.left {
				t.Fatalf("%d: cut %v at most %d, the known cutting has %d", i, x.kinds, x.left, sum)
			}
		}
		cuts += len(root.cuts)
		if root.bound > int64(len(known)) {
			t.Fatalf("%d: bound %d, cut from %d", i, root.bound, len(known))
		}
	}
	if cuts < 50 {
		t.Errorf("only %d cuts were made", cuts)
	}
}

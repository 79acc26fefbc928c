package boards

import (
	"context"
	"math"

	"dryfit/shop/nest"
	"dryfit/toy"
)

// plainRows is what the layout is measured against: every piece as its squared blank, rounds
// too, with the same kerf between them, in rows on the same rack: the widest first, each in the
// first row that takes it. The boards are taken as they stand in the file, the smallest
// first, or the largest first, whichever comes out best. It returns the area of all boards
// that are used in mm², and how many pieces have no place.
func plainRows(runs []Run, s *toy.Shop) (area float64, left int) {
	u := runs[0].Model.Toy.Units
	m := marginsOf(s, u)
	var groups []*group
	for _, r := range runs {
		if err := gather(context.Background(), &groups, r, false, m); err != nil {
			panic(err)
		}
	}
	for _, g := range groups {
		g.find(s.Rack, u)
		wanted := make([]int, len(g.cuts))
		for i := range g.cuts {
			wanted[i] = g.cuts[i].count()
		}
		b := g.bench(g.has, nil, wanted, nil, m, 1)
		for i := range b.p.Items {
			b.p.Items[i] = nest.Item{Shape: rect(g.cuts[i].rough), Count: wanted[i]}
		}
		of := func(i int) float64 { return areaOf(nest.Shape{Outer: b.p.Boards[i].Shape.Outer}) }
		n := len(b.p.Boards)
		best, bestLeft := math.Inf(1), math.MaxInt
		for _, less := range []func(a, c int) bool{
			func(a, c int) bool { return a < c },
			func(a, c int) bool { return of(a) < of(c) },
			func(a, c int) bool { return of(a) > of(c) },
		} {
			l := rows(&b.p, make([]float64, len(b.p.Items)), sorted(n, less), wideFirst, true)
			sumA, k := 0.0, sum(l.Left)
			for i, in := range used(l, n) {
				if in {
					sumA += of(i)
				}
			}
			if k < bestLeft || k == bestLeft && sumA < best {
				best, bestLeft = sumA, k
			}
		}
		area, left = area+best, left+bestLeft
	}
	return area, left
}

package solid

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// Overlap skips what cannot matter; here every pair of pieces is cut and measured.
func TestOverlapSkipsNothing(t *testing.T) {
	r := rand.New(rand.NewSource(11))
	s := sample()
	for n := 0; n < 6; n++ {
		o := s.Transform(r3.Turn(r3.Vec{X: 60, Y: 20, Z: 15}, randVec(r, 1), 3*r.Float64()).Then(r3.Shift(randVec(r, 30))))
		got := Overlap(s, o)
		var k knife
		volume, depth, met := 0.0, 0.0, [][2]int{}
		var first r3.Vec
		for i := range s.Pieces {
			for j := range o.Pieces {
				p, q := &s.Pieces[i], &o.Pieces[j]
				c := p
				for f := range q.Faces {
					if c = k.shave(c, q.Faces[f].Plane, Seam); c == nil {
						break
					}
				}
				if c == nil {
					continue
				}
				m := c.Moments()
				volume += m.Volume
				first = first.Add(m.Center.Scale(m.Volume))
				met = append(met, [2]int{i, j})
				// Separation looks at distances too; those in each other by less than tol.Weld do not count.
				if d, _ := Separation(p, q); -d > depth {
					depth = -d
				}
			}
		}
		if !near(got.Volume, volume, 1e-9*volume) || !near(got.Depth, depth, tol.Zero) {
			t.Errorf("volume %.12g, depth %.12g, by all pairs %.12g and %.12g", got.Volume, got.Depth, volume, depth)
		}
		if d := got.Where.Sub(first.Scale(1 / volume)).Len(); d > 1e-9 {
			t.Errorf("the shared centre is off by %g", d)
		}
		if l := got.Clear.Len(); l < got.Depth-tol.Clip || math.IsInf(l, 0) {
			t.Errorf("a move by %g cannot clear what is %g deep", l, got.Depth)
		}
		moved := o.Transform(r3.Shift(got.Clear))
		for _, m := range met {
			if d, _ := Separation(&s.Pieces[m[0]], &moved.Pieces[m[1]]); d < -tol.Clip {
				t.Fatalf("the move leaves pieces %v %g deep in each other", m, -d)
			}
		}
	}
}

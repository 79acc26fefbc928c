package solid

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// brute is the distance of two convex polyhedra over every corner and face and
// every two edges; 0 if a corner or an edge of one enters the other.
func brute(a, b *Convex) float64 {
	best := math.Inf(1)
	for _, pair := range [][2]*Convex{{a, b}, {b, a}} {
		p, q := pair[0], pair[1]
		for _, v := range p.V {
			if q.Contains(v, 0) {
				return 0
			}
			if w, ok := q.nearestOnFaces(v); ok {
				best = math.Min(best, w.Sub(v).Len())
			}
			for _, w := range q.V {
				best = math.Min(best, w.Sub(v).Len())
			}
		}
		for _, e := range p.edges() { // an edge run through the other
			lo, hi := 0.0, 1.0
			for _, f := range q.Faces {
				s, t := f.Plane.Side(p.V[e.a]), f.Plane.Side(p.V[e.b])
				switch {
				case s > 0 && t > 0:
					lo = 2
				case s > 0:
					lo = math.Max(lo, s/(s-t))
				case t > 0:
					hi = math.Min(hi, s/(s-t))
				}
			}
			if lo < hi {
				return 0
			}
		}
	}
	for _, e := range a.edges() {
		for _, f := range b.edges() {
			p, q := nearestOnSegments(a.V[e.a], a.V[e.b], b.V[f.a], b.V[f.b])
			best = math.Min(best, q.Sub(p).Len())
		}
	}
	return best
}

func TestDistanceAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	zero := 0
	for run := 0; run < 4000; run++ {
		a, b := randConvex(r, 14), randConvex(r, 14)
		want := brute(&a, &b)
		d, low, p, q, n := closest(&a, &b, math.Inf(1))
		if !near(d, want, 1e-11) {
			t.Fatalf("run %d: %.15g, want %.15g", run, d, want)
		}
		if low > d || d-low > tol.Clip/10 {
			t.Fatalf("run %d: %g not certified, %g", run, d, d-low)
		}
		if d == 0 {
			zero++
			continue
		}
		if !a.Contains(p, 1e-9) || !b.Contains(q, 1e-9) || !near(q.Sub(p).Len(), d, 1e-9) {
			t.Fatalf("run %d: points %v %v", run, p, q)
		}
		if !near(along(&a, &b, n), d, 1e-10) {
			t.Fatalf("run %d: direction", run)
		}
	}
	if zero < 300 || zero > 3700 {
		t.Fatalf("poor mix: %d overlap", zero)
	}
}

// Distance and overlap never both hold, and one of them does.
func TestApartOrOverlapping(t *testing.T) {
	r := rand.New(rand.NewSource(6))
	for run := 0; run < 3000; run++ {
		a, b := bodyOf(randConvex(r, 12)), bodyOf(randConvex(r, 12))
		g, o := Distance(a, b, math.Inf(1)), Overlap(a, b)
		if g.D > 0 && o.Volume > 0 {
			t.Fatalf("run %d: %g apart and %g shared", run, g.D, o.Volume)
		}
		if g.D == 0 && o.Volume == 0 {
			t.Fatalf("run %d: neither apart nor overlapping", run)
		}
		s, n := Separation(&a.Pieces[0], &b.Pieces[0])
		if (s > 0) != (g.D > 0) || !near(n.Len(), 1, 1e-12) {
			t.Fatalf("run %d: separation %g, distance %g", run, s, g.D)
		}
		if o.Volume == 0 {
			continue
		}
		if !near(o.Depth, -s, 1e-12) || !Penetrates(a, b, o.Depth-1e-6) || Penetrates(a, b, o.Depth+1e-6) {
			t.Fatalf("run %d: depth %g, separation %g", run, o.Depth, s)
		}
		// The move that clears does, and nothing much shorter along any axis does.
		out := b.Transform(r3.Shift(o.Clear.Add(o.Clear.Unit().Scale(1e-7))))
		if Distance(a, out, 1).D <= 0 {
			t.Fatalf("run %d: not cleared by %v", run, o.Clear)
		}
		in := b.Transform(r3.Shift(n.Scale(-s - 1e-6)))
		if Distance(a, in, 1).D > 0 {
			t.Fatalf("run %d: depth %g is too deep", run, o.Depth)
		}
	}
}

// The depth is the least over directions: no sampled direction clears sooner.
func TestDepthAgainstDirections(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	for run := 0; run < 300; run++ {
		a, b := randConvex(r, 5), randConvex(r, 5)
		s, _ := Separation(&a, &b)
		if s > 0 {
			continue
		}
		best := math.Inf(-1)
		for _, x := range a.edges() {
			for _, y := range b.edges() {
				m := a.V[x.b].Sub(a.V[x.a]).Cross(b.V[y.b].Sub(b.V[y.a]))
				if m.Len() > 1e-9 {
					m = m.Unit()
					best = math.Max(best, math.Max(along(&a, &b, m), along(&a, &b, m.Neg())))
				}
			}
		}
		for _, f := range a.Faces {
			best = math.Max(best, along(&a, &b, f.Plane.N))
		}
		for _, f := range b.Faces {
			best = math.Max(best, along(&a, &b, f.Plane.N.Neg()))
		}
		if !near(best, s, 1e-9) {
			t.Fatalf("run %d: %g, all directions say %g", run, s, best)
		}
	}
}

// Gaps between parallel faces, corners and edges, far from the origin.
func TestFaceGaps(t *testing.T) {
	far := r3.Vec{X: 300, Y: -200, Z: 350}
	for e := -9; e <= 0; e++ {
		gap := math.Pow(10, float64(e))
		a := bodyOf(cube(0, 0, 0, 40, 20, 10)).Transform(r3.Shift(far))
		for name, b := range map[string]Body{
			"face": bodyOf(cube(5, 5, 10+gap, 25, 35, 22)),
			"edge": bodyOf(cube(-20, -20, 10+gap, 0, 0, 22)),
			"peg":  bodyOf(Cylinder(r3.Shift(r3.Vec{X: 20, Y: 10}), 4, 10+gap, 30, 1, 2, 3)),
		} {
			g := Distance(a, b.Transform(r3.Shift(far)), math.Inf(1))
			// At 500 mm a coordinate has 6e-14; the sum 10+gap is made there.
			want := far.Z + (10 + gap) - (far.Z + 10)
			if !near(g.D, want, 1e-12) || g.D-g.AtLeast > tol.Clip || g.AtLeast > g.D {
				t.Errorf("%s gap %g: %.15g, at least %.15g", name, gap, g.D, g.AtLeast)
			}
			if o := Overlap(a, b.Transform(r3.Shift(far))); o.Volume != 0 {
				t.Errorf("%s gap %g overlaps", name, gap)
			}
		}
		// A corner over a face, turned.
		m := r3.Turn(r3.Vec{X: 1}, r3.Vec{X: 1, Y: 2, Z: 3}, 0.7)
		c, d := cube(0, 0, 0, 10, 10, 10), cube(0, 0, 0, 10, 10, 10)
		d = d.Transform(r3.Turn(r3.Vec{}, r3.Vec{X: 1, Y: -1}, math.Atan(math.Sqrt2)))
		_, low := d.Support(r3.Z.Neg())
		d = d.Transform(r3.Shift(r3.Vec{X: 4, Y: 5, Z: 10 + gap + low}))
		c, d = c.Transform(m), d.Transform(m)
		dd, lo, _, _, _ := closest(&c, &d, math.Inf(1))
		if !near(dd, gap, 1e-12) || dd-lo > 1e-10 {
			t.Errorf("corner gap %g: %.15g, at least %.15g", gap, dd, lo)
		}
	}
	a, b := bodyOf(cube(0, 0, 0, 40, 20, 10)), bodyOf(cube(0, 0, 10, 40, 20, 20))
	if g := Distance(a, b, math.Inf(1)); g.D != 0 || g.AtLeast != 0 || math.Abs(g.Normal.Z-1) > 1e-9 {
		t.Errorf("touching: %+v", g)
	}
	if g := Distance(a, bodyOf(cube(0, 0, 30, 1, 1, 31)), 5); !math.IsInf(g.D, 1) || g.AtLeast > 5 || g.AtLeast < 5-1e-9 {
		t.Errorf("beyond the limit: %+v", g)
	}
}

// A pin in a hole: both 48-gons, the gap is that of facets, (R-r)·cos(pi/48)
// when corners line up. The hole is carved; the pin sits inside it.
func TestPinInHole(t *testing.T) {
	ngon := func(r, lo, hi float64) Convex {
		return Prism(r3.Shift(r3.Vec{X: 20, Y: 10}), Circle(r2zero, r, 48), nil, lo, hi, 0, 0)
	}
	plate := bodyOf(cube(0, 0, 0, 40, 20, 10)).Carve(ngon(3.2, -1, 11))
	for _, pin := range []float64{3.2, 3.175, 3.0} {
		p := bodyOf(ngon(pin, -5, 15))
		g, o := Distance(plate, p, math.Inf(1)), Overlap(plate, p)
		if want := (3.2 - pin) * math.Cos(math.Pi/48); !near(g.D, want, 1e-12) || o.Volume != 0 {
			t.Errorf("pin %g: gap %.15g, want %.15g; overlap %g", pin, g.D, want, o.Volume)
		}
	}
	o := Overlap(plate, bodyOf(ngon(3.3, -5, 15)))
	want := 10 * 24 * math.Sin(math.Pi/24) * (3.3*3.3 - 3.2*3.2)
	if !near(o.Volume, want, 1e-10) || o.Depth <= 0 || o.Where.Sub(r3.Vec{X: 20, Y: 10, Z: 5}).Len() > 1e-9 {
		t.Errorf("tight pin: %+v, want %g", o, want)
	}
}

// Bodies of many pieces: the tree finds what trying every pair finds.
func TestDistanceTree(t *testing.T) {
	r := rand.New(rand.NewSource(8))
	for run := 0; run < 60; run++ {
		a := NewBody(randStrips(r, 8).prisms(sideFrame, -10, 10)).Intersect(randStrips(r, 8).prisms(topFrame, -10, 10))
		b := a.Transform(randPose(r, 25))
		g := Distance(a, b, math.Inf(1))
		want := math.Inf(1)
		for i := range a.Pieces {
			for j := range b.Pieces {
				d, _, _, _, _ := closest(&a.Pieces[i], &b.Pieces[j], math.Inf(1))
				want = math.Min(want, d)
			}
		}
		if !near(g.D, want, 1e-12) || g.D-g.AtLeast > tol.Clip {
			t.Fatalf("run %d: %g (at least %g), want %g", run, g.D, g.AtLeast, want)
		}
		o := Overlap(a, b)
		if (o.Volume > 0) != (want == 0) {
			t.Fatalf("run %d: overlap %g, distance %g", run, o.Volume, want)
		}
		if o.Volume > 0 {
			if out := b.Transform(r3.Shift(o.Clear.Scale(1 + 1e-9))); Penetrates(a, out, 1e-6) {
				// other pairs may meet after the move; those that met must not
				for i := range a.Pieces {
					for j := range b.Pieces {
						if s, _ := Separation(&a.Pieces[i], &b.Pieces[j]); s < 0 {
							if s, _ := Separation(&a.Pieces[i], &out.Pieces[j]); s < -1e-6 {
								t.Fatalf("run %d: not cleared", run)
							}
						}
					}
				}
			}
		}
	}
}

// The slow way out of a stall of the walk finds the same.
func TestExhaust(t *testing.T) {
	r := rand.New(rand.NewSource(17))
	for run := 0; run < 1500; run++ {
		a, b := randConvex(r, 20), randConvex(r, 20)
		want, _, _, _, n := closest(&a, &b, math.Inf(1))
		if want == 0 {
			continue
		}
		from := b.V[0].Sub(a.V[0])
		d, low, p, q, m := exhaust(&a, &b, from.Len(), 0, a.V[0], b.V[0], from.Unit())
		if !near(d, want, 1e-11) || d-low > 1e-9 || low > d || m.Sub(n).Len() > 1e-6 || !near(q.Sub(p).Len(), d, 1e-11) {
			t.Fatalf("run %d: %.15g at least %.15g, want %.15g", run, d, low, want)
		}
	}
}

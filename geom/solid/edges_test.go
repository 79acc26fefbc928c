package solid

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

func count(edges []Edge) (crisp, smooth, odd int) {
	for _, e := range edges {
		switch {
		case e.N[1] == r3.Vec{}:
			odd++
		case e.Smooth:
			smooth++
		default:
			crisp++
		}
	}
	return
}

func TestFeatureEdgesCount(t *testing.T) {
	m := randPose(rand.New(rand.NewSource(11)), 200)
	block := bodyOf(cube(0, 0, 0, 60, 40, 20))
	hole := func(n int) Convex {
		return Prism(r3.Shift(r3.Vec{X: 20, Y: 20}), Circle(r2.Vec{}, 8, n), rep(50, n), -1, 21, 51, 52)
	}
	blind := Prism(r3.Shift(r3.Vec{X: 20, Y: 20}), Circle(r2.Vec{}, 8, 32), rep(50, 32), 10, 21, 51, 52)
	cross := Prism(r3.Pose{U: r3.Y, V: r3.Z, W: r3.X, O: r3.Vec{Y: 20, Z: 10}}, Circle(r2.Vec{}, 3, 16), rep(60, 16), -1, 61, 61, 62)
	for _, c := range []struct {
		name          string
		b             Body
		crisp, smooth int
	}{
		{"block", block, 12, 0},
		{"block with a square hole", block.Carve(cube(10, 10, -5, 30, 30, 25)), 24, 0},
		{"block with a round hole", block.Carve(hole(48)), 12 + 96, 48},
		{"hole of 8 chords", block.Carve(hole(8)), 12 + 16, 8},
		{"blind hole", block.Carve(blind), 12 + 64, 32},
		{"notch at a corner", block.Carve(cube(50, 30, 10, 70, 50, 30)), 21, 0},
		{"two halves", bodyOf(cube(0, 0, 0, 30, 40, 20), cube(30, 0, 0, 60, 40, 20)), 12, 0},
		{"uneven halves", bodyOf(cube(0, 0, 0, 30, 40, 20), cube(30, 0, 0, 60, 15, 20), cube(30, 15, 0, 60, 40, 20)), 12, 0},
		{"step", bodyOf(cube(0, 0, 0, 30, 40, 20), cube(30, 0, 0, 60, 40, 10)), 18, 0},
		{"two blocks at an edge", bodyOf(cube(0, 0, 0, 30, 40, 20), cube(30, 40, 0, 60, 80, 20)), 23, 0},
		{"cylinder", bodyOf(Cylinder(r3.Identity, 10, 0, 5, 1, 2, 3)), 2 * Facets(10, tol.Chord), Facets(10, tol.Chord)},
	} {
		for _, b := range []Body{c.b, c.b.Transform(m)} {
			if crisp, smooth, odd := count(FeatureEdges(b)); crisp != c.crisp || smooth != c.smooth || odd != 0 {
				t.Errorf("%s: %d crisp, %d smooth, %d odd; want %d, %d", c.name, crisp, smooth, odd, c.crisp, c.smooth)
			}
		}
	}
	// Two holes that cross: whatever the count, no edge lacks a face.
	if _, _, odd := count(FeatureEdges(block.Carve(hole(48)).Carve(cross).Transform(m))); odd != 0 {
		t.Errorf("crossing holes: %d odd", odd)
	}
}

// Unit cells carved out of a block: the crisp length is what looking at the
// four cells around every grid edge says.
func TestFeatureEdgesGrid(t *testing.T) {
	r := rand.New(rand.NewSource(12))
	for run := 0; run < 40; run++ {
		size := [3]int{7, 6, 5}
		b := bodyOf(cube(0, 0, 0, 7, 6, 5))
		full := func(p [3]int) bool { return false }
		var gone [7][6][5]bool
		full = func(p [3]int) bool {
			for k := range p {
				if p[k] < 0 || p[k] >= size[k] {
					return false
				}
			}
			return !gone[p[0]][p[1]][p[2]]
		}
		for k := 0; k < 5; k++ {
			x, y, z := r.Intn(6), r.Intn(5), r.Intn(4)
			X, Y, Z := x+1+r.Intn(3), y+1+r.Intn(3), z+1+r.Intn(3)
			b = b.Carve(cube(float64(x), float64(y), float64(z), float64(X), float64(Y), float64(Z)))
			for i := x; i < min(X, 7); i++ {
				for j := y; j < min(Y, 6); j++ {
					for l := z; l < min(Z, 5); l++ {
						gone[i][j][l] = true
					}
				}
			}
		}
		want := 0
		for axis := 0; axis < 3; axis++ {
			u, v := (axis+1)%3, (axis+2)%3
			for x := 0; x <= size[0]; x++ {
				for y := 0; y <= size[1]; y++ {
					for z := 0; z <= size[2]; z++ {
						p := [3]int{x, y, z}
						if p[axis] == size[axis] {
							continue
						}
						var q [4]bool
						for k, d := range [4][2]int{{0, 0}, {-1, 0}, {-1, -1}, {0, -1}} {
							c := p
							c[u] += d[0]
							c[v] += d[1]
							q[k] = full(c)
						}
						n, turns := 0, 0
						for k := range q {
							if q[k] {
								n++
							}
							if q[k] != q[(k+1)%4] {
								turns++
							}
						}
						if n == 1 || n == 3 || turns == 4 {
							want++
						}
					}
				}
			}
		}
		got := 0.0
		for _, e := range FeatureEdges(b.Transform(randPose(r, 100))) {
			got += e.B.Sub(e.A).Len()
			if e.Smooth || e.N[1].Len() < .5 {
				t.Fatalf("run %d: %+v", run, e)
			}
		}
		if !near(got, float64(want), 1e-9) {
			t.Fatalf("run %d: length %g, want %d", run, got, want)
		}
	}
}

func TestHiddenBlock(t *testing.T) {
	iso := r3.Vec{X: 1, Y: 1, Z: 1}
	for name, b := range map[string]Body{
		"whole":  bodyOf(cube(0, 0, 0, 60, 40, 20)),
		"pieces": bodyOf(cube(0, 0, 0, 30, 40, 20), cube(30, 0, 0, 60, 15, 20), cube(30, 15, 0, 60, 40, 20)),
	} {
		for _, c := range []struct {
			toward       r3.Vec
			seen, hidden int
		}{{iso, 9, 3}, {r3.Z, 12, 0}, {r3.X, 12, 0}, {r3.Vec{X: 1, Z: 1}, 11, 1}} {
			w := NewView(c.toward, b)
			var seen, hidden int
			for _, e := range FeatureEdges(b) {
				switch h := w.Hidden(e); {
				case len(h) == 0:
					seen++
				case len(h) == 1 && h[0] == Span{0, 1}:
					hidden++
				}
			}
			// An edge on the outline is seen, also if it lies behind another.
			if seen != c.seen || hidden != c.hidden {
				t.Errorf("%s from %v: %d seen, %d hidden", name, c.toward, seen, hidden)
			}
		}
	}
}

func TestHiddenBehind(t *testing.T) {
	b := bodyOf(cube(10, -5, 5, 20, 5, 6), cube(20, -5, 8, 24, 5, 9))
	h := NewView(r3.Z, b).HiddenLine(r3.Vec{}, r3.Vec{X: 40})
	if len(h) != 1 || !near(h[0].From, .25, 1e-9) || !near(h[0].To, .6, 1e-9) {
		t.Errorf("%v", h)
	}
	if s := Seen(h); len(s) != 2 || s[0].To != h[0].From || s[1].To != 1 {
		t.Errorf("%v", s)
	}
	if h = NewView(r3.Z.Neg(), b).HiddenLine(r3.Vec{}, r3.Vec{X: 40}); len(h) != 0 {
		t.Errorf("in front: %v", h)
	}
}

// Any line against rays from points along it.
func TestHiddenAgainstRays(t *testing.T) {
	r := rand.New(rand.NewSource(13))
	checked := 0
	for run := 0; run < 60; run++ {
		b := NewBody(randStrips(r, 6).prisms(sideFrame, -10, 10)).Intersect(randStrips(r, 6).prisms(topFrame, -10, 10)).Transform(randPose(r, 5))
		d := randVec(r, 1).Unit()
		w := NewView(d, b)
		for k := 0; k < 20; k++ {
			a, z := randVec(r, 25), randVec(r, 25)
			h := w.HiddenLine(a, z)
			for i := 0; i < 200; i++ {
				x := (float64(i) + .5) / 200
				p := a.Add(z.Sub(a).Scale(x))
				want, margin := false, math.Inf(1)
				for _, c := range b.Pieces {
					lo, hi := 0.001, math.Inf(1)
					for _, f := range c.Faces {
						s, v := f.Plane.Side(p), f.Plane.N.Dot(d)
						if v > 0 {
							hi = math.Min(hi, -s/v)
						} else {
							lo = math.Max(lo, s/-v)
						}
					}
					want = want || hi > lo
					margin = math.Min(margin, math.Abs(hi-lo))
				}
				if margin < 0.01 {
					continue
				}
				got := false
				for _, s := range h {
					got = got || (s.From < x && x < s.To)
				}
				checked++
				if got != want {
					t.Fatalf("run %d: at %g %v, ray says %v (%v)", run, x, got, want, h)
				}
			}
		}
	}
	t.Logf("%d rays", checked)
}

func TestOutlineOfCylinder(t *testing.T) {
	b := bodyOf(Cylinder(r3.Identity, 10, 0, 30, 1, 2, 3))
	n := 0
	for _, e := range FeatureEdges(b) {
		if e.Smooth && e.Outline(r3.X) {
			n++
			if !near(math.Abs(e.A.Y), 10, 1e-9) {
				t.Errorf("outline at %v", e.A)
			}
		}
	}
	if n != 2 {
		t.Errorf("%d outlines of a cylinder, want 2", n)
	}
}

package picture

import (
	"math"
	"slices"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

const hole = `, work: [{drill: {side: face, dia: 16, at: [[20, 20]]}}]`

// straight returns the strokes that are no curves, each from its lower left end,
// in order.
func straight(in []stroke) [][2]r2.Vec {
	var out [][2]r2.Vec
	less := func(a, b r2.Vec) int {
		if math.Abs(a.X-b.X) > tol.Page {
			return int(math.Copysign(1, a.X-b.X))
		}
		if math.Abs(a.Y-b.Y) > tol.Page {
			return int(math.Copysign(1, a.Y-b.Y))
		}
		return 0
	}
	for _, s := range in {
		if s.round {
			continue
		}
		if less(s.a, s.b) > 0 {
			s.a, s.b = s.b, s.a
		}
		out = append(out, [2]r2.Vec{s.a, s.b})
	}
	slices.SortFunc(out, func(p, q [2]r2.Vec) int {
		if c := less(p[0], q[0]); c != 0 {
			return c
		}
		return less(p[1], q[1])
	})
	return out
}

func same(a, b [][2]r2.Vec) bool {
	return slices.EqualFunc(a, b, func(p, q [2]r2.Vec) bool {
		return p[0].Sub(q[0]).Len() < tol.Page && p[1].Sub(q[1]).Len() < tol.Page
	})
}

func outline(x0, y0, x1, y1 float64) [][2]r2.Vec {
	return [][2]r2.Vec{{v2(x0, y0), v2(x0, y1)}, {v2(x0, y0), v2(x1, y0)}, {v2(x0, y1), v2(x1, y1)}, {v2(x1, y0), v2(x1, y1)}}
}

// A block with a round hole, from every side: what is seen, worked out by hand.
func TestBlockWithHole(t *testing.T) {
	o := gather(block(t, 60, 40, 20, hole))
	if got := straight(fromRight.see(o)); !same(got, outline(0, 0, 60, 20)) {
		t.Errorf("from the right: %v", got)
	}
	if got := straight(fromFront.see(o)); !same(got, outline(0, 0, 40, 20)) {
		t.Errorf("from the front: %v", got)
	}
	top := fromAbove.see(o)
	if got := straight(top); !same(got, outline(0, 0, 60, 40)) {
		t.Errorf("from above: %v", got)
	}
	rs := runs(top, Plain, true, 1, r2.Vec{}, r2.Vec{})
	rs = append(rs, runs(top, Plain, false, 1, r2.Vec{}, r2.Vec{})...)
	circles := 0
	for _, r := range rs {
		if len(r.Segs) == 2 && r.Segs[0].Sweep == math.Pi {
			circles++
			if s := r.Segs[0]; s.Centre.Sub(v2(20, 20)).Len() > tol.Page || math.Abs(s.Radius-8) > tol.Page {
				t.Errorf("hole at %v, radius %v", s.Centre, s.Radius)
			}
		}
	}
	if circles != 1 || len(rs) != 2 {
		t.Errorf("from above: %d circles of %d lines, want 1 of 2", circles, len(rs))
	}
	// The nine edges of a block that its three near sides have, the axes 30
	// degrees to the level and all lengths foreshortened by the root of 2/3.
	x, y, z := v2(math.Sqrt(0.5), -math.Sqrt(1./6)), v2(math.Sqrt(0.5), math.Sqrt(1./6)), v2(0, math.Sqrt(2./3))
	at := func(a, b, c float64) r2.Vec { return x.Scale(a).Add(y.Scale(b)).Add(z.Scale(c)) }
	var want []stroke
	for _, e := range [][6]float64{
		{0, 0, 20, 60, 0, 20}, {0, 40, 20, 60, 40, 20}, {0, 0, 0, 60, 0, 0}, // along
		{0, 0, 20, 0, 40, 20}, {60, 0, 20, 60, 40, 20}, {60, 0, 0, 60, 40, 0}, // across
		{0, 0, 0, 0, 0, 20}, {60, 0, 0, 60, 0, 20}, {60, 40, 0, 60, 40, 20}, // up
	} {
		want = append(want, stroke{a: at(e[0], e[1], e[2]), b: at(e[3], e[4], e[5])})
	}
	if got := straight(isometric.see(o)); !same(got, straight(want)) {
		t.Errorf("isometric: %v, want %v", got, straight(want))
	}
}

// Through a hole in a thin board the far rim is seen in part: as a look along
// (1, -1, 1) shifts the near rim by the thickness t both ways, it covers the far
// one but for the arc of 2 acos(t √2 / 2r) that both circles share.
func TestFarRim(t *testing.T) {
	for _, c := range []struct{ thick, want float64 }{
		{5, 2 * 8 * math.Acos(5*math.Sqrt2/16)},
		{10, 2 * 8 * math.Acos(10*math.Sqrt2/16)},
		{12, 0}, // shifted by more than the diameter
	} {
		o := gather(block(t, 60, 40, c.thick, hole))
		far, near := 0.0, 0.0
		for _, l := range isometric.lines(o) {
			switch long := l.b.Sub(l.a).Len(); {
			case !l.round:
			case math.Abs(l.a.Z) < tol.Page:
				far += long
			default:
				near += long
			}
		}
		if math.Abs(far-c.want) > 0.2 || math.Abs(near-16*math.Pi) > 0.1 {
			t.Errorf("%g mm thick: far rim seen for %.3f mm, near rim for %.3f; want %.3f, %.3f", c.thick, far, near, c.want, 16*math.Pi)
		}
	}
}

// The picture of a circle in a face of an isometric is an ellipse with axes of
// r and r/√3 (times √(3/2) where axes are to scale); its arcs stay within a
// chord's depth of it.
func TestEllipse(t *testing.T) {
	o := gather(block(t, 60, 40, 12, hole))
	centre := isometric.flat(o.box.Min.Add(o.box.Max.Sub(o.box.Min).With(0, 20).With(1, 20)))
	var arcs int
	seen := isometric.see(o)
	for _, r := range append(runs(seen, Plain, false, axial, centre, r2.Vec{}), runs(seen, Plain, true, axial, centre, r2.Vec{})...) {
		for _, s := range r.Segs {
			if s.Sweep == 0 {
				continue
			}
			arcs++
			for _, p := range s.Parts(0.05) {
				a, b := 8*axial, 8*axial/math.Sqrt(3)
				// The distance from an ellipse, to first order.
				f := p.X*p.X/(a*a) + p.Y*p.Y/(b*b) - 1
				g := 2 * math.Hypot(p.X/(a*a), p.Y/(b*b))
				if d := math.Abs(f / g); d > 0.03 {
					t.Errorf("%v is %.4f mm off the ellipse", p, d)
				}
			}
		}
	}
	if arcs < 4 {
		t.Errorf("%d arcs", arcs)
	}
}

// Two boards glued side by side: the joint shows as one line, no seam of the
// cutting does.
func TestJointShowsOnce(t *testing.T) {
	m := read(t, "two.yaml", `dryfit: 1
toy: Two
units: mm
stock: {beech: {wood: beech, form: board, thick: 20}}
parts: {half: {from: beech, blank: [60, 40], work: [{notch: {side: face, at: [0, 0], size: [10, 10]}}]}}
build: [{put: half}, {put: half, as: other, sits: {right: half.left, back: half.back, top: half.top}, glued: yes}]
`)
	want := [][2]r2.Vec{
		{v2(0, 10), v2(0, 40)}, {v2(0, 10), v2(10, 10)}, {v2(0, 40), v2(10, 40)}, {v2(0, 50), v2(0, 80)}, {v2(0, 50), v2(10, 50)},
		{v2(0, 80), v2(60, 80)}, {v2(10, 0), v2(10, 10)}, {v2(10, 0), v2(60, 0)}, {v2(10, 40), v2(10, 50)}, {v2(10, 40), v2(60, 40)}, {v2(60, 0), v2(60, 80)},
	}
	seen := fromAbove.see(gather(m))
	if got := straight(seen); !same(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	for _, s := range seen {
		joint := math.Abs(s.a.Y-40) < tol.Page && math.Abs(s.b.Y-40) < tol.Page && min(s.a.X, s.b.X) > 5
		if s.contour == joint {
			t.Errorf("%v is a contour: %v", s, s.contour)
		}
	}
}

// The chords of a curve given as path data leave no lines on the sawn edge; a
// shallow crease does.
func TestCurvesAreSmooth(t *testing.T) {
	// A circle of radius 20 about (30, 20) by the usual four cubics (4/3 tan π/8).
	round := `, work: [{saw: {side: face, outline: {path: "M50 20 C50 31.0457 41.0457 40 30 40 C18.9543 40 10 31.0457 10 20 C10 8.9543 18.9543 0 30 0 C41.0457 0 50 8.9543 50 20 Z"}}}]`
	o := gather(block(t, 60, 40, 20, round))
	if got := len(fromRight.see(o)); got != 4 {
		t.Errorf("a round from the side: %d lines, want 4", got)
	}
	creased := `, work: [{saw: {side: face, outline: [[0, 2], [30, 0], [60, 2], [60, 40], [0, 40]]}}]` // turns by 7.6 degrees
	if got := len(fromRight.see(gather(block(t, 60, 40, 20, creased)))); got != 5 {
		t.Errorf("a creased block from the side: %d lines, want 5", got)
	}
}

package gauge

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r3"
)

// Mutants tried by hand, each caught here: the round added to the clearance instead of taken off;
// the core shrunk by the radius once, not from both sides; the wanted clearance of a
// core without the radius; one chart of four.

// shape makes a random solid as the blocks that it is glued up from, or a hull, and
// returns the corners of all: convex or not, sized so that about half go in.
func shape(rnd *rand.Rand, k int) (pts []r3.Vec) {
	size := 0.9 + 0.5*rnd.Float64()
	block := func(x, y, z, a, b, c float64) {
		for _, p := range boxCorners(a, b, c) {
			pts = append(pts, p.Add(r3.Vec{X: x, Y: y, Z: z}).Scale(size))
		}
	}
	u := func(lo, hi float64) float64 { return lo + (hi-lo)*rnd.Float64() }
	switch k % 5 {
	case 0: // an angle
		block(0, 0, 0, u(5, 10), u(8, 20), u(25, 38))
		block(0, 0, 0, u(15, 26), u(8, 20), u(5, 10))
	case 1: // a tee
		l := u(20, 34)
		block(-l/2, 0, 0, l, u(6, 18), u(4, 9))
		block(-4, 0, 0, u(6, 9), u(6, 18), u(20, 34))
	case 2: // a cross in space
		a, b, c := u(14, 30), u(14, 30), u(20, 44)
		block(-a/2, -3, -3, a, 6, 6)
		block(-3, -b/2, -3, 6, b, 6)
		block(-3, -3, -c/2, 6, 6, c)
	case 3: // a channel
		w, l := u(12, 24), u(16, 36)
		block(0, 0, 0, w, l, 4)
		block(0, 0, 0, 4, l, u(10, 22))
		block(w-4, 0, 0, 4, l, u(10, 22))
	default: // a hull
		a, b, c := u(12, 28), u(12, 28), u(24, 44)
		for i := 0; i < 12; i++ {
			pts = append(pts, r3.Vec{X: u(-a, a) / 2, Y: u(-b, b) / 2, Z: u(-c, c) / 2}.Scale(size))
		}
	}
	return pts
}

// Of 500 shapes, convex and not, what a random-restart search over all six freedoms, which
// shares no code with the gauge (16 CFR 1501.4 figure 1), gets in is never said not
// to fit; and with a clearance of 0 it is said to fit. Every third has its arrises
// rounded: the search then clears balls instead of corners.
func TestFiveHundredShapes(t *testing.T) {
	rnd := rand.New(rand.NewSource(500))
	count := map[Verdict]int{}
	shapes, starts := 500, 3
	if testing.Short() {
		shapes = 60
	}
	most, open := 0, 0
	for k := 0; k < shapes; k++ {
		pts := shape(rnd, k)
		round := 0.0
		if k%3 == 0 {
			round = 0.5 + 1.5*rnd.Float64()
		}
		a := Rounded(pts, nil, round)
		most = max(most, a.Attitudes)
		count[a.Verdict]++
		if f := cleared(pts, a.Pose) - round; math.Abs(f-a.Clearance) > 1e-6 {
			t.Errorf("shape %d: the pose clears %.5f, claimed %.5f", k, f, a.Clearance)
		}
		found := restart(pts, rnd, starts) - round
		if found > a.AtMost+1e-9 {
			t.Errorf("shape %d: found %.5f above the bound %.5f", k, found, a.AtMost)
		}
		if found >= 0 && a.Verdict != Fits {
			t.Errorf("shape %d: %v (%s), but a pose clears it by %.5f", k, a.Verdict, a.Lemma, found)
		}
		if a.Verdict == Fits && a.Clearance < -0.1-1e-9 {
			t.Errorf("shape %d fits with %.5f", k, a.Clearance)
		}
		if a.Verdict == CannotTell {
			open++
		}
	}
	t.Logf("%v; most attitudes %d", count, most)
	if count[Fits] < shapes/5 || count[DoesNotFit] < shapes/5 || open > 0 {
		t.Errorf("one-sided sample or open: %v", count)
	}
}

// A rounded piece is its core fattened: the pose of the core, balls instead of
// corners, and the closed forms of a ball and of a cube's shadow.
func TestRounded(t *testing.T) {
	// A cube rounded to a ball is a ball: the inscribed one.
	for _, d := range []float64{25.4, 31.75, 35} {
		a, b := RoundedBox(d, d, d, d/2), Ball(d)
		if math.Abs(a.Clearance-b.Clearance) > 0.1 || a.Verdict != b.Verdict {
			t.Errorf("ball %g: %+v %+v", d, a, b)
		}
	}
	// The smallest shadow of a cube is its face (worked case 15): with rounded arrises the
	// square's corners lie (sqrt 2 - 1) r nearer.
	s := 0.9375 * in
	for _, r := range []float64{0, 0.5, 1, 2, 3} {
		want := Radius - (s/2-r)*math.Sqrt2 - r
		if a := RoundedBox(s, s, s, r); math.Abs(a.Clearance-want) > 0.02 {
			t.Errorf("cube rounded by %g: %.4f, want %.4f", r, a.Clearance, want)
		}
	}
	// A disc lying down is as wide as ever, whatever its rims: the bore decides.
	for _, r := range []float64{0, 1, 2} {
		if a := RoundedCylinder(30, 6, r); math.Abs(a.Clearance-(Radius-15)) > 0.02 {
			t.Errorf("disc rounded by %g: %.4f", r, a.Clearance)
		}
	}
	// Rounding never makes a piece harder to get in.
	rnd := rand.New(rand.NewSource(4))
	for k := 0; k < 40; k++ {
		a, b, c := 3+30*rnd.Float64(), 3+30*rnd.Float64(), 3+50*rnd.Float64()
		last := math.Inf(-1)
		for _, r := range []float64{0, 0.5, 1, 1.4} {
			g := RoundedBox(a, b, c, r)
			if g.AtMost < last {
				t.Errorf("box %g %g %g rounded by %g: at most %.4f, less before: %.4f", a, b, c, r, g.AtMost, last)
			}
			last = math.Max(last, g.Clearance)
			core := boxCorners(a-2*r, b-2*r, c-2*r)
			for i := range core {
				core[i] = core[i].Add(r3.Vec{X: r, Y: r, Z: r})
			}
			if f := cleared(core, g.Pose) - r; math.Abs(f-g.Clearance) > 1e-6 {
				t.Errorf("box %g %g %g rounded by %g: the pose clears %.5f, claimed %.5f", a, b, c, r, f, g.Clearance)
			}
		}
	}
	for _, a := range []Answer{RoundedBox(1, 1, 1, -1), RoundedCylinder(1, 1, math.NaN()), Rounded([]r3.Vec{{}}, nil, -1)} {
		if a.Verdict != CannotTell || a.Lemma != lemmaBad {
			t.Errorf("a negative radius: %+v", a)
		}
	}
}

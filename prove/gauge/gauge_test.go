package gauge

import (
	"math"
	"math/rand"
	"strings"
	"testing"
	"time"

	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

const in = 25.4

// The worked cases derive from the drawing of 16 CFR 1501.4 figure 1: bore 1.25 in,
// depth 1.00 to 2.25 in. The clearances, in inches, come from another program's
// numeric search over all rotations with 60 starts, printed to 0.001 in.
var worked = []struct {
	name      string
	answer    func() Answer
	clearance float64
	want      Verdict
}{
	{"disc 1.25 x 0.25, line to line", cyl(1.25, .25), 0, Fits},
	{"disc 1.24 x 0.25", cyl(1.24, .25), .005, Fits},
	{"disc 1.26 x 0.25", cyl(1.26, .25), -.005, DoesNotFit},
	{"wheel 1.0 x 0.375", cyl(1, .375), .125, Fits},
	{"wheel 1.0 x 1.30", cyl(1, 1.3), -.015, DoesNotFit},
	{"wheel 1.5 x 0.5", cyl(1.5, .5), -.125, DoesNotFit},
	{"half of a 1.5 x 0.5 wheel", half(1.5, .5), .110, Fits},
	{"half of a 2.0 x 0.5 wheel", half(2, .5), -.062, DoesNotFit},
	{"ball 1.0", ball(1), .125, Fits},
	{"ball 1.25, line to line", ball(1.25), 0, Fits},
	{"ball 1.5", ball(1.5), -.125, DoesNotFit},
	{"ball 1.75", ball(1.75), -.25, DoesNotFit},
	{"ellipsoid 1.2 x 1.2 x 1.5", egg(1.2, 1.5), .004, Fits},
	{"cube 0.75", box(.75, .75, .75), .095, Fits},
	{"cube 0.875", box(.875, .875, .875), .006, Fits},
	{"cube 0.9375", box(.9375, .9375, .9375), -.038, DoesNotFit},
	{"cube 1.0", box(1, 1, 1), -.082, DoesNotFit},
	{"block .75 x .75 x 1.5", box(.75, .75, 1.5), -.034, DoesNotFit},
	{"block .25 x 1.25 x 1.5", box(.25, 1.25, 1.5), -.012, DoesNotFit},
	{"dowel .25 x 2.0", cyl(.25, 2), .044, Fits},
	{"dowel .25 x 2.25", cyl(.25, 2.25), -.020, DoesNotFit},
	{"dowel .25 x 2.5", cyl(.25, 2.5), -.083, DoesNotFit},
	{"dowel .375 x 2.0", cyl(.375, 2), -.007, DoesNotFit},
	{"dowel .75 x 1.5, line to line", cyl(.75, 1.5), 0, Fits},
	{"dowel .75 x 1.75", cyl(.75, 1.75), -.073, DoesNotFit},
	{"dowel 1.0 x 1.5", cyl(1, 1.5), -.073, DoesNotFit},
	{"axle peg", peg(.4, .2, .219, 1.25), .178, Fits},
	{"hexagon 1.0 across flats x .5", prism(6, 1, .5), .066, Fits},
	{"hexagon 1.125 across flats x .5", prism(6, 1.125, .5), .009, Fits},
}

func TestWorkedCases(t *testing.T) {
	for _, c := range worked {
		t.Run(c.name, func(t *testing.T) {
			a := c.answer()
			if a.Verdict != c.want {
				t.Errorf("%v (%s), want %v", a.Verdict, a.Lemma, c.want)
			}
			// Half a digit of the printed figure, plus what that search leaves open.
			const slack = 0.0012
			if a.Clearance/in > c.clearance+slack || a.AtMost/in < c.clearance-slack {
				t.Errorf("clearance %+.4f..%+.4f in, want %+.3f", a.Clearance/in, a.AtMost/in, c.clearance)
			}
			// Halves and hexagons are general pieces, whose bracket may stay wide once
			// the verdict is proved.
			if a.Clearance/in < c.clearance-slack || !a.Exact && !strings.HasPrefix(c.name, "h") {
				t.Errorf("bracket %+.4f..%+.4f in is wide", a.Clearance/in, a.AtMost/in)
			}
		})
	}
	if a := Cylinder(.375*in, 1.875*in); a.Verdict != Fits || a.Clearance <= 0 {
		t.Errorf("dowel .375 x 1.875: %v %+.4f mm, want a fit with clearance", a.Verdict, a.Clearance)
	}
}

// Longest dowels in inches, best tilt (+-0.002), by a numeric search on the geometry of
// 16 CFR 1501.4.
func TestLongestDowels(t *testing.T) {
	for _, c := range []struct{ d, tilted float64 }{
		{.125, 2.372}, {.1875, 2.270}, {.21875, 2.221}, {.25, 2.170}, {.3125, 2.071}, {.375, 1.970},
		{.4375, 1.870}, {.5, 1.771}, {.625, 1.626}, {.75, 1.501}, {1, 1.251}, {1.25, 1.001},
	} {
		// The clearance, not the verdict, is compared: the verdict has 0.1 mm of grace.
		if a := Cylinder(c.d*in, (c.tilted-.002)*in); a.AtMost < 0 {
			t.Errorf("dowel %g x %g: clearance at most %+.4f mm, want a fit", c.d, c.tilted-.002, a.AtMost)
		}
		if a := Cylinder(c.d*in, (c.tilted+.002)*in); a.Clearance > 0 {
			t.Errorf("dowel %g x %g: clearance %+.4f mm, want none", c.d, c.tilted+.002, a.Clearance)
		}
		// Upright limit 2.25 - d: pushed to the deep wall.
		if a := Cylinder(c.d*in, (2.25-c.d)*in); a.Verdict != Fits {
			t.Errorf("upright dowel %g: %v", c.d, a.Verdict)
		}
	}
}

// Upright boxes fit to L = 1.625 + sqrt(.625^2 - (b/2)^2) - a, a along the slope: the same
// argument as for the upright cylinder.
func TestUprightBoxesFit(t *testing.T) {
	for _, c := range [][2]float64{{.25, .25}, {.5, .25}, {.25, 1}, {.75, .75}, {.1, 1.2}, {.5, .9}} {
		l := 1.625 + math.Sqrt(.625*.625-c[1]*c[1]/4) - c[0]
		if a := Box(c[0]*in, c[1]*in, l*in); a.AtMost < 0 || a.Verdict != Fits {
			t.Errorf("box %g x %g x %g: %v, at most %+.4f", c[0], c[1], l, a.Verdict, a.AtMost)
		}
	}
}

func TestThinRodLimit(t *testing.T) {
	// sqrt(1.25^2 + 2.25^2) = 2.574 in, from the shallow rim to the deep corner.
	if a := Points([]r3.Vec{{}, {X: 2.57 * in}}, nil); a.Verdict != Fits || a.Clearance < 0 {
		t.Errorf("line of 2.57 in: %v %+.4f", a.Verdict, a.Clearance)
	}
	if a := Points([]r3.Vec{{}, {X: 2.59 * in}}, nil); a.Verdict != DoesNotFit {
		t.Errorf("line of 2.59 in: %v %+.4f", a.Verdict, a.Clearance)
	}
	if c := chordLimit(math.Hypot(1.25, 2.25) * in); math.Abs(c) > 1e-9 {
		t.Errorf("chord limit %g, want 0", c)
	}
}

func TestBadSizes(t *testing.T) {
	nan := math.NaN()
	for _, a := range []Answer{
		Ball(0), Ball(nan), Cylinder(1, -1), Box(1, math.Inf(1), 1), Points(nil, nil),
		Points([]r3.Vec{{X: nan}}, nil), Points(nil, []Circle{{Radius: 3}}),
		Points(nil, []Circle{{Radius: -3, Normal: r3.X}}),
	} {
		if a.Verdict != CannotTell || a.Lemma != lemmaBad {
			t.Errorf("%v %q, want cannot tell", a.Verdict, a.Lemma)
		}
	}
}

func TestSameFiguresAsTheTables(t *testing.T) {
	for id, v := range map[string]float64{facts.SmallBore: 2 * Radius, facts.SmallShallow: Shallow, facts.SmallDeep: Deep} {
		if l := facts.Child(id); math.Abs(l.Value-v) > 1e-12 {
			t.Errorf("%s: table %g, gauge %g", id, l.Value, v)
		}
	}
}

// A lopsided piece gets the same answer however it is turned beforehand. The spike goes in
// only point down on the deep side, or so: each half turn needs another chart.
func TestTurnedBeforehand(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	for _, size := range [][3]float64{{14, 9, 52}, {20, 12, 45}, {25, 18, 36}, {22, 22, 40}} {
		hull := []r3.Vec{
			{}, {X: size[0]}, {Y: size[1]}, {X: size[0] * .9, Y: size[1]}, {X: 3, Y: 2, Z: size[2]}, {X: 6, Y: 4, Z: size[2] * .9},
		}
		want := Points(hull, nil)
		for i := 0; i < 5; i++ {
			axis := r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}
			angle := 7 * rnd.Float64()
			if i < 3 {
				axis, angle = r3.Vec{}.With(i, 1), math.Pi
			}
			turned := make([]r3.Vec, len(hull))
			for k, p := range hull {
				turned[k] = r3.Turn(r3.Vec{X: 5}, axis, angle).Point(p)
			}
			got := Points(turned, nil)
			if got.Verdict != want.Verdict || math.Abs(got.Clearance-want.Clearance) > 2*tol.GaugeSearch {
				t.Errorf("%v turned %d: %v %+.4f, before %v %+.4f", size, i, got.Verdict, got.Clearance, want.Verdict, want.Clearance)
			}
		}
	}
}

// A box or cylinder is to be decided in 20 ms; work is counted, an attitude of
// either takes some microseconds.
func TestWorkOfADecision(t *testing.T) {
	worst, slowest := 0, time.Duration(0)
	for a := 2.0; a < 60; a += 6.5 {
		for b := a; b < 60; b += 6.5 {
			for c := b; c < 60; c += 6.5 {
				from := time.Now()
				got := Box(a, b, c)
				slowest = max(slowest, time.Since(from))
				worst = max(worst, got.Attitudes)
				if got.Verdict == CannotTell || !got.Exact && (got.Verdict == Fits || got.Lemma == lemmaNone) {
					t.Errorf("box %g x %g x %g: %+v", a, b, c, got)
				}
			}
			from := time.Now()
			got := Cylinder(a, b)
			slowest = max(slowest, time.Since(from))
			worst = max(worst, got.Attitudes)
		}
	}
	t.Logf("most attitudes %d, longest %v", worst, slowest)
	if worst > 20000 {
		t.Errorf("%d attitudes for one decision", worst)
	}
}

// The same shape described in three ways.
func TestPointsAgree(t *testing.T) {
	for _, c := range [][2]float64{{.25, 2.1}, {.5, 1.8}, {1, 1.2}, {.9, 1.4}} {
		d, l := c[0]*in, c[1]*in
		want := Cylinder(d, l)
		tilt := r3.Turn(r3.Vec{X: 3, Y: 1}, r3.Vec{X: 1, Y: 2, Z: 3}, 0.7)
		rims := []Circle{
			{tilt.Point(r3.Vec{}), tilt.Dir(r3.Z).Scale(2), d / 2},
			{tilt.Point(r3.Vec{Z: l}), tilt.Dir(r3.Z).Neg(), d / 2},
		}
		got := Points([]r3.Vec{tilt.Point(r3.Vec{X: d / 4, Z: l / 2})}, rims)
		if got.Verdict != want.Verdict || math.Abs(got.Clearance-want.Clearance) > 2*tol.GaugeSearch {
			t.Errorf("%v: rims %v %+.4f, cylinder %v %+.4f", c, got.Verdict, got.Clearance, want.Verdict, want.Clearance)
		}
		var side []r3.Vec
		const n = 48
		for i := 0; i < n; i++ {
			s, k := math.Sincos(2 * math.Pi * float64(i) / n)
			side = append(side, tilt.Point(r3.Vec{X: d / 2 * k, Y: d / 2 * s}), tilt.Point(r3.Vec{X: d / 2 * k, Y: d / 2 * s, Z: l}))
		}
		got = Points(side, nil)
		sag := d / 2 * (1 - math.Cos(math.Pi/n))
		if got.AtMost < want.Clearance || got.Clearance > want.AtMost+sag {
			t.Errorf("%v: corners %+.4f..%+.4f, cylinder %+.4f..%+.4f", c, got.Clearance, got.AtMost, want.Clearance, want.AtMost)
		}
	}
}

func cyl(d, l float64) func() Answer    { return func() Answer { return Cylinder(d*in, l*in) } }
func ball(d float64) func() Answer      { return func() Answer { return Ball(d * in) } }
func box(a, b, c float64) func() Answer { return func() Answer { return Box(a*in, b*in, c*in) } }

// half is half a wheel, split on a diameter, its arc in chords of 3 degrees.
func half(d, l float64) func() Answer {
	var p []r3.Vec
	for i := 0; i <= 60; i++ {
		s, c := math.Sincos(math.Pi * float64(i) / 60)
		p = append(p, r3.Vec{X: d / 2 * c * in, Y: d / 2 * s * in}, r3.Vec{X: d / 2 * c * in, Y: d / 2 * s * in, Z: l * in})
	}
	return func() Answer { return Points(p, nil) }
}

// egg is an ellipsoid of revolution as a stack of rims.
func egg(d, l float64) func() Answer {
	var rims []Circle
	for i := 0; i <= 60; i++ {
		s, c := math.Sincos(math.Pi * (float64(i)/60 - 0.5))
		rims = append(rims, Circle{r3.Vec{X: l / 2 * s * in}, r3.X, math.Abs(d / 2 * c * in)})
	}
	return func() Answer { return Points(nil, rims) }
}

func peg(head, cap, shank, l float64) func() Answer {
	return func() Answer {
		return Points(nil, []Circle{
			{r3.Vec{}, r3.Z, head / 2 * in},
			{r3.Vec{Z: cap * in}, r3.Z, head / 2 * in},
			{r3.Vec{Z: (cap + l) * in}, r3.Z, shank / 2 * in},
		})
	}
}

// prism is a regular prism of n sides, af across flats.
func prism(n int, af, l float64) func() Answer {
	var p []r3.Vec
	r := af / 2 / math.Cos(math.Pi/float64(n))
	for i := 0; i < n; i++ {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		p = append(p, r3.Vec{X: r * c * in, Y: r * s * in}, r3.Vec{X: r * c * in, Y: r * s * in, Z: l * in})
	}
	return func() Answer { return Points(p, nil) }
}

package tracking

import (
	"math"
	"testing"

	"dryfit/geom/r2"
)

// rig is a steered axle that leads, and units behind it: each so long from its pin
// to its mean axle, the next pin a behind that.
func rig(a float64, lengths ...float64) Train {
	t := Train{{Leader: -1}}
	for k, l := range lengths {
		c := Car{Leader: k, Hitch: r2.Vec{X: l}, Left: Free, Right: Free}
		if k > 0 {
			c.On = r2.Vec{X: -a}
		}
		t = append(t, c)
	}
	return t
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.5f, want %g ± %g", what, got, want, within)
	}
}

const degree = math.Pi / 180

// half takes a train half a turn and gives the least distance of a point beside its
// last mean axle from the centre, and the widest swing of its last pin.
func half(t *testing.T, tr Train, r, angle, beside float64) (inner, widest float64) {
	t.Helper()
	places, ok := tr.Follow([]Bend{Arc(r, angle)}, 2000, nil)
	if !ok {
		t.Fatal("does not follow")
	}
	last := len(tr) - 1
	inner = math.Inf(1)
	for _, p := range places {
		inner = math.Min(inner, p[last].Point(r2.Vec{Y: beside}).Sub(r2.Vec{Y: r}).Len())
	}
	return inner, tr.Widest(places)[last] / degree
}

// Steady turns: O1 to O5, O7 and O8 of the worked examples (derived from the sum of
// squares of SAE J695); the printed figures are of AASHTO, A Policy on Geometric
// Design of Highways and Streets, turning tables.
func TestSteady(t *testing.T) {
	o1 := rig(0, 20).Steady(50)
	near(t, "O1 off-tracking", 50-o1.R[1], 4.1742, 5e-5)
	near(t, "O2 single-unit truck, inner tyre", rig(0, 20).Steady(38).R[1]-4, 28.311, 5e-4)
	near(t, "O3 passenger car, inner side", rig(0, 11).Steady(21).R[1]-3.5, 14.389, 5e-4)
	near(t, "O4 city bus, inner side", rig(0, 25).Steady(37.8).R[1]-4.25, 24.10, 5e-3)
	near(t, "O5 trailer axle", rig(0, 12.5, 27.5).Steady(36).R[2], 19.583, 5e-4)
	near(t, "O7 trailer axle", rig(0, 14.6, 35.4).Steady(41).R[2], 14.65, 5e-3)
	for _, l := range []float64{41, 45.5} { // O8
		if s := rig(0, 19.5, l).Steady(41); s.Folds != 2 {
			t.Errorf("O8 with %g: folds %d", l, s.Folds)
		}
	}
	// The steering angle: sin = L/R. The angle at a pin: atan(a/r) + asin(L/r_h).
	near(t, "steering", o1.Swing[1], math.Asin(20./50), 1e-12)
	s := rig(3, 12.5, 27.5).Steady(60)
	near(t, "swing", s.Swing[2], math.Atan(3/s.R[1])+math.Asin(27.5/math.Hypot(s.R[1], 3)), 1e-12)
	near(t, "sum of squares", s.R[2]*s.R[2], 60*60-12.5*12.5-27.5*27.5+3*3, 1e-9)
}

// Half a turn from straight: O6, O6b, O7, O8 (derived with the tractrix equation; the
// printed inside radii of AASHTO are within 2 % of O6 and 6 % of O7).
func TestHalfTurn(t *testing.T) {
	for _, c := range []struct {
		name                                string
		r, l1, l2, beside, angle, in, swing float64
	}{
		{"O6", 36, 12.5, 25.5, 4, 180, 19.71, 45.5},
		{"O6b", 36, 12.5, 27.5, 4, 180, 18.22, 49.1},
		{"O6b, quarter", 36, 12.5, 27.5, 4, 90, 24.80, 35.8},
		{"O7", 41, 14.6, 35.4, 4.25, 180, 17.94, 55.4}, // this one is 8.5 ft wide
		{"O8, 41", 41, 19.5, 41, 4, 180, math.NaN(), 64.3},
		{"O8, 45.5", 41, 19.5, 45.5, 4, 180, math.NaN(), 69.9},
	} {
		in, swing := half(t, rig(0, c.l1, c.l2), c.r, c.angle*degree, c.beside)
		if !math.IsNaN(c.in) {
			near(t, c.name+" inner tyre", in, c.in, 1.1e-2)
		}
		near(t, c.name+" swing", swing, c.swing, 6e-2)
	}
}

// The tractrix: a trailer of length 10 at a right angle to a straight pull.
// y = L sech(s/L), x = s - L tanh(s/L), theta = 2 atan(tan(theta0/2) e^(-s/L)).
func TestTractrix(t *testing.T) {
	const l = 10.0
	tr := Train{{Leader: -1}, {Leader: 0, Hitch: r2.Vec{X: l}, Left: Free, Right: Free}}
	for _, c := range []struct{ s, theta, x, y float64 }{
		{0.5, 62.4762, 0.3788, 8.8682}, {1, 40.3951, 2.3841, 6.4805}, {2, 15.4146, 10.3597, 2.6580}, {3, 5.7005, 20.0495, 0.9933},
	} {
		places, ok := tr.Follow([]Bend{Straight(c.s * l)}, 400, []float64{0, math.Pi / 2})
		if !ok {
			t.Fatal("does not follow")
		}
		p := places[len(places)-1][1]
		near(t, "theta", -p.Heading/degree, c.theta, 5e-5)
		near(t, "x", p.At.X, c.x, 5e-5)
		near(t, "y", p.At.Y, c.y, 5e-5)
	}
	// Backed, the angle grows by e for every length of the trailer.
	places, _ := tr.Follow([]Bend{Straight(-l)}, 400, []float64{0, 0.001})
	near(t, "backed", -places[len(places)-1][1].Heading, 0.001*math.E, 1e-8)
}

// A steady turn is where following ends: two ways to the same answer, with pins off
// the middle line too.
func TestFollowEndsSteady(t *testing.T) {
	for n, tr := range []Train{rig(0, 12.5, 20), rig(4, 10, 8, 9), rig(-3, 10, 8), {
		{Leader: -1}, {Leader: 0, Hitch: r2.Vec{X: 9, Y: 2}, On: r2.Vec{X: -4, Y: -3}, Left: Free, Right: Free},
		{Leader: 0, Hitch: r2.Vec{X: 6, Y: -1}, On: r2.Vec{X: -2, Y: 5}, Left: Free, Right: Free}}} {
		want := tr.Steady(40)
		places, ok := tr.Follow([]Bend{Arc(40, 30)}, 6000, nil)
		if !ok || want.Folds >= 0 {
			t.Fatalf("%d: %v, folds %d", n, ok, want.Folds)
		}
		p := places[len(places)-1]
		for k, c := range tr {
			near(t, "radius", p[k].At.Sub(r2.Vec{Y: 40}).Len(), want.R[k], 1e-4)
			if c.Leader >= 0 {
				near(t, "swing", p[c.Leader].Heading-p[k].Heading, want.Swing[k], 1e-4)
			}
		}
	}
}

func TestTightest(t *testing.T) {
	box := []r2.Vec{{X: -5, Y: -4}, {X: 20, Y: -4}, {X: 20, Y: 4}, {X: -5, Y: 4}}
	tr := rig(0, 20)
	tr[1].Plan = box
	// A steered axle that swings 30 degrees goes round on L / sin 30.
	tr[1].Left, tr[1].Right = 30*degree, 20*degree
	r, by, ok := tr.Tightest()
	near(t, "left", r, 40, 1e-6)
	if by != (Stop{Car: 1}) || !ok {
		t.Errorf("stopped by %+v, %v", by, ok)
	}
	r, _, _ = tr.Mirrored().Tightest()
	near(t, "right", r, 20/math.Sin(20*degree), 1e-6)
	// A car longer than the circle folds; the widest turn that it has is its length.
	tr[1].Left = Free
	r, by, _ = tr.Tightest()
	near(t, "fold", r, 20, 1e-6)
	if by != (Stop{Car: 1, Folds: true}) {
		t.Errorf("stopped by %+v", by)
	}
	// Alone, the leading car turns on the spot.
	if r, by, ok = (Train{{Leader: -1, Plan: box}}).Tightest(); r != 0 || by.Car != -1 || !ok {
		t.Errorf("alone: %g %+v %v", r, by, ok)
	}
	// The ring: outer front corner hypot(r + half width, front), inner side r - half
	// width; on the spot, the centre lies on the car.
	s := tr.Sweep(tr.Steady(50))
	rear := math.Sqrt(50*50 - 20*20)
	near(t, "outer", s.Outer, math.Hypot(rear+4, 20), 1e-9)
	near(t, "inner", s.Inner, rear-4, 1e-9)
	near(t, "inner on the spot", tr.Sweep(tr.Steady(20)).Inner, 0, 0)
	// The other way round: the lead radius for an outer circle.
	r, ok = tr.Within(s.Outer, 20)
	near(t, "within", r, 50, 1e-6)
	if _, far := tr.Within(10, 20); far || !ok {
		t.Error("a circle that is too small is found")
	}
	near(t, "scrub", Car{Spread: 10}.Scrub(10), 45*degree, 1e-12)
	if _, ok := (Train{{Leader: -1}, {Leader: 0}}).Follow([]Bend{Straight(1)}, 1, nil); ok {
		t.Error("a car pinned over its mean axle is said to follow")
	}
}

// A published page of these turning radii prints the inside radius in the row of the
// turning radius: whatever is imported has to be turning > centre line > inside.
func TestOrderOfRadii(t *testing.T) {
	tr := rig(0, 12.5, 25.5)
	tr[1].Plan = []r2.Vec{{X: 0, Y: -4}, {X: 12.5, Y: -4}, {X: 12.5, Y: 4}, {X: 0, Y: 4}}
	tr[2].Plan = []r2.Vec{{X: 0, Y: -4}, {X: 25.5, Y: -4}, {X: 25.5, Y: 4}, {X: 0, Y: 4}}
	s := tr.Sweep(tr.Steady(36))
	if !(s.Outer > 36 && 36 > s.Inner) || s.InnerAt != 2 || s.OuterAt != 1 {
		t.Errorf("outer %g, inner %g, by %d and %d", s.Outer, s.Inner, s.OuterAt, s.InnerAt)
	}
	near(t, "outer front corner (printed 39.9)", s.Outer, 39.78, 0.005)
}

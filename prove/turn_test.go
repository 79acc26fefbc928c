package prove_test

import (
	"math"
	"os"
	"strings"
	"testing"

	"dryfit/geom/r2"
	"dryfit/prove"
	"dryfit/prove/tracking"
)

// Mutants tried by hand on a scratch copy, each caught by a test of this file or of
// prove/tracking: the hitch added with the wrong sign; the pin's offset left out of the sum
// of squares; the hinge's direction, and the leader's swing, taken the other way round; the
// drawn angle not counted; the mean axle put on the last axle; the farthest axle measured
// from the pin; axles in one line counted twice; a bar without wheels taken as a car; the
// inner sweep by corners only; the first step of the integration for all four; the diameter
// of a must taken as a radius, and of the finding; the better way round counted; right
// turns not mirrored; a must past the last steady turn not minded.

// lorry is a toy of a steered axle below the front of a chassis, its rear axle l1
// behind that, and a trailer pinned a behind the rear axle, its own axle l2 behind the
// pin; wide over the bodies, which end at the steered axle, and its blocks track wide. All
// in mm.
type lorry struct{ l1, l2, a, wide, track float64 }

func (l lorry) sheet() sheetOf {
	const tail = 12.0 // of chassis and trailer behind their axles
	s := sheetOf{stock: []string{board("block", 20), board("deck", 8), board("thin", 2), dowelOf("rod", 3)},
		parts: []string{
			f("beam: {from: block, blank: [8, %g], work: [{drill: {side: edge, dia: 3.5, named: {axle: [middle, 6]}}}, {drill: {side: face, dia: 3, depth: 8, named: {king: [middle, middle]}}}]}", l.track),
			f("chassis: {from: deck, blank: [%g, %g], work: [{drill: {side: face, dia: 3.5, named: {king: [length, middle]}}}, {drill: {side: face, dia: 3, named: {pin: [%g, middle]}}}]}", l.l1+tail, l.wide, tail-l.a),
			f("foot: {from: block, blank: [8, %g], work: [{drill: {side: edge, dia: 3.5, named: {axle: [middle, 6]}}}]}", l.track),
			f("trailer: {from: deck, blank: [%g, %g], work: [{drill: {side: face, dia: 3.5, named: {eye: [length, middle]}}}]}", l.l2+tail, l.wide),
			f("trailer-foot: {from: block, blank: [8, %g], work: [{drill: {side: edge, dia: 3.5, named: {axle: [middle, 6]}}}]}", l.track),
			"raise: {from: deck, blank: [8, 8]}",
			"wheel: {from: thin, disc: 16, bore: 3}", "axle: {from: rod}", "pin: {from: rod}"},
		build: []string{"put: chassis",
			"{put: beam, sits: {king: chassis.king, top: chassis.bottom}}",
			"{put: foot, sits: {top: chassis.bottom, middle-along: chassis.back + 12, middle-across: chassis.middle}, glue-to: [chassis]}",
			"wheels: {in: foot.axle, axle: axle, outward: [wheel], play: 0.5, proud: 0.5}",
			"wheels: {in: beam.axle, axle: axle, outward: [wheel], play: 0.5, proud: 0.5}",
			"hinge: {name: steering, pin: pin, fixed: beam.king, runs: chassis.king}"}}
	if l.l2 > 0 {
		s.build = append(s.build,
			"{put: trailer, sits: {eye: chassis.pin, bottom: chassis.top}}",
			"{put: raise, sits: {top: trailer.bottom, middle-along: trailer.back + 12, middle-across: trailer.middle}, glue-to: [trailer]}",
			"{put: trailer-foot, sits: {top: raise.bottom, middle-along: trailer.back + 12, middle-across: trailer.middle}, glue-to: [raise]}",
			"wheels: {in: trailer-foot.axle, axle: axle, outward: [wheel], play: 0.5, proud: 0.5}",
			"hinge: {name: coupling, pin: pin, fixed: chassis.pin, runs: trailer.eye, lifts-off: yes}")
	}
	return s
}

// ft is a foot of the road at 1:87.
const ft = 304.8 / 87

func trainOf(t *testing.T, text string) tracking.Train {
	t.Helper()
	tr, _, ok := prove.Train(model(t, text))
	if !ok {
		t.Fatal("no train")
	}
	return tr
}

// The oracles O1 to O8: steady turns and half turns of vehicles at 1:87, out of a toy
// file. O1 to O5 follow from the sum of squares (SAE J695), and the printed figures of
// AASHTO, A Policy on Geometric Design of Highways and Streets, stand beside them; O6 to
// O8 from the tractrix equation.
func TestLorriesOfTheRoad(t *testing.T) {
	type half struct{ angle, inner, swing float64 }
	for _, c := range []struct {
		name                string
		r, l1, l2, wide     float64
		last, inner, within float64 // of the last mean axle; its inner side; against the print
		printed             float64
		halves              []half
	}{
		{name: "O1", r: 50, l1: 20, wide: 8, last: 50 - 4.1742, within: 5e-4},
		{name: "O2 single-unit truck", r: 38, l1: 20, wide: 8, inner: 28.311, printed: 28.3, within: 2e-3},
		{name: "O3 passenger car", r: 21, l1: 11, wide: 7, inner: 14.389, printed: 14.4, within: 2e-3},
		{name: "O4 city bus", r: 37.8, l1: 25, wide: 8.5, inner: 24.10, printed: 24.5, within: 6e-3},
		{name: "O5 WB-40", r: 36, l1: 12.5, l2: 27.5, wide: 8, last: 19.583, within: 1e-3},
		{name: "O6 WB-40 of 2011", r: 36, l1: 12.5, l2: 25.5, wide: 8, halves: []half{{180, 19.71, 45.5}}},
		{name: "O6b", r: 36, l1: 12.5, l2: 27.5, wide: 8, halves: []half{{180, 18.22, 49.1}, {90, 24.80, 35.8}}},
		{name: "O7 WB-50", r: 41, l1: 14.6, l2: 35.4, wide: 8.5, last: 14.65, within: 6e-3, halves: []half{{180, 17.94, 55.4}}},
		{name: "O8 WB-62", r: 41, l1: 19.5, l2: 41, wide: 8.5, last: math.NaN(), halves: []half{{180, 0, 64.3}}},
		{name: "O8 WB-67", r: 41, l1: 19.5, l2: 45.5, wide: 8.5, last: math.NaN(), halves: []half{{180, 0, 69.9}}},
	} {
		tr := trainOf(t, lorry{c.l1 * ft, c.l2 * ft, 0, c.wide * ft, 10}.sheet().text())
		n := len(tr) - 1
		if want := 1; c.l2 > 0 && n != want+1 || c.l2 == 0 && n != want {
			t.Fatalf("%s: %d cars", c.name, n+1)
		}
		s := tr.Steady(c.r * ft)
		if math.IsNaN(c.last) {
			if s.Folds != n {
				t.Errorf("%s: has a steady turn", c.name)
			}
		} else if s.Folds >= 0 {
			t.Errorf("%s folds", c.name)
		} else {
			last := s.R[n] / ft
			if c.last > 0 && !near(last, c.last, c.within) {
				t.Errorf("%s: last axle at %.4f, want %g", c.name, last, c.last)
			}
			if c.inner > 0 && !near(last-c.wide/2, c.inner, c.within) {
				t.Errorf("%s: inner side at %.4f, want %g", c.name, last-c.wide/2, c.inner)
			}
			if c.printed > 0 && math.Abs(last-c.wide/2-c.printed) > 0.02*c.printed {
				t.Errorf("%s: inner side at %.4f, printed %g", c.name, last-c.wide/2, c.printed)
			}
		}
		for _, h := range c.halves {
			places, ok := tr.Follow([]tracking.Bend{tracking.Arc(c.r*ft, h.angle*math.Pi/180)}, 1000, nil)
			if !ok {
				t.Fatal(c.name)
			}
			inner := math.Inf(1)
			for _, p := range places {
				inner = math.Min(inner, p[n].Point(r2.Vec{Y: c.wide / 2 * ft}).Sub(r2.Vec{Y: c.r * ft}).Len()/ft)
			}
			if swing := tr.Widest(places)[n] * 180 / math.Pi; !near(swing, h.swing, 0.06) || h.inner > 0 && !near(inner, h.inner, 0.011) {
				t.Errorf("%s by %g°: inner %.3f, swing %.2f, want %g and %g", c.name, h.angle, inner, swing, h.inner, h.swing)
			}
		}
	}
}

// O3b and O4: how far out the front corner goes, and from there back to the radius: the
// must of the file is the outer circle, and the finding tells of the turn within it.
func TestTurnsInCircle(t *testing.T) {
	const r, l1, wide = 37.8, 25.0, 8.5
	outer := math.Hypot(math.Sqrt(r*r-l1*l1)+wide/2, l1)
	if !near(outer, 41.08, 5e-3) { // O4; printed 41.6
		t.Fatal(outer)
	}
	if o3b := math.Hypot(math.Sqrt(21*21-11*11)+3, 11); !near(o3b, 23.61, 5e-3) { // printed 23.8
		t.Fatal(o3b)
	}
	s := lorry{l1 * ft, 0, 0, wide * ft, 8}.sheet()
	s.must = []string{f("{turns-in: %.4f}", 2*outer*ft)}
	g := find(t, proof(t, s.text()), "move.turn:toy")
	if g.Verdict != prove.Holds || g.Margin < 0 {
		t.Fatalf("%v %g %s", g.Verdict, g.Margin, g.Says)
	}
	var got string
	for _, n := range g.Notes {
		if i := strings.Index(n, "on a circle of radius "); i >= 0 {
			got = strings.Fields(n[i:])[5]
		}
	}
	if want := f("%.2f", r*ft); !strings.HasPrefix(got, want[:len(want)-1]) {
		t.Errorf("radius %s, want %s: %s", got, want, g.Notes)
	}
	// Steered with no stop it turns about the middle of its rear axle: the steered
	// axle's end, 7 from its middle and 3 thick, goes farthest round.
	if want := 2 * math.Hypot(l1*ft+4+0.5+2+0.5, 1.5); !near(g.Value, want, 0.01) || want < 2*math.Hypot(wide/2, l1)*ft {
		t.Errorf("tightest %g, want %g", g.Value, want)
	}
	for _, c := range []struct {
		must    float64
		verdict prove.Verdict
	}{{g.Value + 0.1, prove.Holds}, {g.Value - 1, prove.Fails}} {
		s.must = []string{f("{turns-in: %g}", c.must)}
		rep := proof(t, s.text())
		if h := find(t, rep, "move.turn:toy"); h.Verdict != c.verdict || (h.Margin >= 0) != (c.verdict == prove.Holds) {
			t.Errorf("%g: %v, margin %g", c.must, h.Verdict, h.Margin)
		}
	}
	// O8: a trailer that has no steady turn in the circle of its tractor.
	s = lorry{19.5 * ft, 41 * ft, 0, 8.5 * ft, 8}.sheet()
	outer = math.Hypot(math.Sqrt(41*41-19.5*19.5)+4.25, 19.5)
	s.must = []string{f("{turns-in: %g}", 2*outer*ft)}
	g = find(t, proof(t, s.text()), "move.turn:toy")
	if g.Verdict != prove.Fails || !strings.Contains(g.Says, "fold in without limit") {
		t.Errorf("O8: %v %s", g.Verdict, g.Says)
	}
}

// The tractrix table, out of a toy file: a trailer of 100 mm at a right angle.
func TestTractrixOfToy(t *testing.T) {
	tr := trainOf(t, lorry{100, 0, 0, 40, 20}.sheet().text())
	for _, c := range []struct{ s, theta, x, y float64 }{
		{0.5, 62.4762, 0.3788, 8.8682}, {1, 40.3951, 2.3841, 6.4805}, {2, 15.4146, 10.3597, 2.6580}, {3, 5.7005, 20.0495, 0.9933},
	} {
		places, ok := tr.Follow([]tracking.Bend{tracking.Straight(100 * c.s)}, 400, []float64{0, math.Pi / 2})
		if !ok {
			t.Fatal("does not follow")
		}
		p := places[len(places)-1][1]
		if !near(-p.Heading*180/math.Pi, c.theta, 1e-4) || !near(p.At.X/10, c.x, 1e-4) || !near(p.At.Y/10, c.y, 1e-4) {
			t.Errorf("s/L %g: %v", c.s, p)
		}
	}
}

// Two cars on fixed axles at full swing, by hand.
func TestTurnAtFullSwing(t *testing.T) {
	g := find(t, proof(t, tram(t)), "move.turn:toy")
	h := find(t, proof(t, tram(t)), "move.hinge:coupling")
	in := 25.4
	a, l := (1.875+4.375)/2*in-0.5*in, (5.125-7./16)*in-(0.75+2.875)/2*in
	// asin(a/rh) + asin(L/rh) = the swing, by halving
	lo, hi := l, 1000.0
	for i := 0; i < 100; i++ {
		if rh := (lo + hi) / 2; math.Asin(a/rh)+math.Asin(l/rh) > h.Value*math.Pi/180 {
			lo = rh
		} else {
			hi = rh
		}
	}
	r1, r2 := math.Sqrt(hi*hi-a*a), math.Sqrt(hi*hi-l*l)
	// Outermost: the rear corner of the leading frame, rounded by 5/16 in.
	round := 5. / 16 * in
	corner := math.Hypot(r1+1.25/2*in-round, 3.125*in-round) + round
	if math.Abs(g.Value/2-corner) > 0.03 {
		t.Errorf("outer radius %g, by hand %g", g.Value/2, corner)
	}
	if !strings.Contains(g.Says, "1/4 in inside") || !near(r1-r2, 0.25*in, in/32) {
		t.Errorf("off-tracking %g in: %s", (r1-r2)/in, g.Says)
	}
	if !strings.Contains(strings.Join(g.Notes, "\n"), f("dragged sideways at %.1f°", math.Atan2(1.25*in, r1)*180/math.Pi)) {
		t.Errorf("scrub %g: %s", math.Atan2(1.25*in, r1)*180/math.Pi, g.Notes)
	}
}

// tractor is the tractor and trailer of examples/broken with some lines changed, and
// its must left out.
func tractor(t *testing.T, changes ...string) string {
	t.Helper()
	b, err := os.ReadFile("../examples/broken/move.turn-too-wide.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text, _, _ := strings.Cut(string(b), "must:")
	for k := 0; k < len(changes); k += 2 {
		if !strings.Contains(text, changes[k]) {
			t.Fatalf("no %q", changes[k])
		}
		text = strings.ReplaceAll(text, changes[k], changes[k+1])
	}
	return text
}

// Several axles roll as one in their middle, and two short ones in one line count as
// one: where the mean axle is, seen from the pin.
func TestMeanAxle(t *testing.T) {
	wheels := "\n  - wheels: {in: tractor.front-axle,"
	extra := "\n  - wheels: {in: tractor.extra, axle: axle, outward: [wheel], play: 1, proud: 3}" + wheels
	for _, c := range []struct {
		name         string
		changes      []string
		mean, spread float64 // of the tractor, ahead of its pin at 10
	}{
		{"two", nil, 55 - 10, 25},
		{"three", []string{"front-axle: [80, axle-height]", "front-axle: [80, axle-height], extra: [55, axle-height]", wheels, extra}, 55 - 10, 25},
		{"three, not even", []string{"front-axle: [80, axle-height]", "front-axle: [80, axle-height], extra: [64, axle-height]", wheels, extra}, 58 - 10, 28},
	} {
		tr := trainOf(t, tractor(t, c.changes...))
		if len(tr) != 2 || !near(-tr[1].On.X, c.mean, 1e-9) || !near(tr[0].Spread, c.spread, 1e-9) || !near(tr[1].Hitch.X, 82-30, 1e-9) {
			t.Errorf("%s: %+v", c.name, tr)
		}
	}
	// The front axle as two short ones, left and right, each in a block of its own.
	tr := trainOf(t, tractor(t, "parts:", "parts:\n  cheek: {from: beech, blank: [16, 10], work: [{drill: {side: edge, dia: dowel + running, named: {hole: [middle, axle-height]}}}]}",
		"  - wheels: {in: tractor.front-axle, axle: axle, outward: [wheel], play: 1, proud: 3}",
		"  - {put: cheek, sits: {right: tractor.left, middle-along: tractor.front-axle, bottom: tractor.bottom}, glued: yes}\n  - {put: cheek, sits: {left: tractor.right, middle-along: tractor.front-axle, bottom: tractor.bottom}, glued: yes}\n"+
			"  - wheels: {in: cheek.hole, axle: axle, outward: [wheel], play: 1, proud: 3}\n  - wheels: {in: cheek.2.hole, axle: axle, outward: [wheel], play: 1, proud: 3}"))
	if !near(-tr[1].On.X, 45, 1e-9) || !near(tr[0].Spread, 25, 1e-9) || !near(tr[1].On.Y, 0, 1e-9) {
		t.Errorf("short axles: %+v", tr)
	}
}

// A bar without wheels, pinned at both ends, lies in line with what it pulls; what has
// no wheels and pulls nothing rides along.
func TestBarsWithoutWheels(t *testing.T) {
	loose := tractor(t,
		"blank: [60, 40]\n    work:", "blank: [60, 40]\n    work:\n      - drill: {side: face, dia: dowel, named: {peg: [50, middle]}}",
		"blank: [90, 16]\n    work:", "blank: [90, 16]\n    work:\n      - drill: {side: face, dia: dowel + pivot, named: {tail: [8, middle]}}",
		"{put: trailer, sits: {top: drawbar.bottom, back: drawbar.back, middle: drawbar.middle}, glued: yes}", "{put: trailer, sits: {peg: drawbar.tail, top: drawbar.bottom}}")
	tr := trainOf(t, loose+"  - hinge: {name: towing, pin: pin, fixed: trailer.peg, runs: drawbar.tail, lifts-off: yes}\n")
	// eye to tail 74, tail to mean axle 20
	if len(tr) != 2 || !near(tr[1].Hitch.X, 94, 1e-9) || !near(tr[1].On.X, -45, 1e-9) {
		t.Errorf("%+v", tr)
	}
	flag := tractor(t, "parts:", "parts:\n  flag: {from: thin, blank: [40, 20], work: [{drill: {side: face, dia: dowel + pivot, named: {eye: [8, middle]}}}]}",
		"blank: [60, 40]\n    work:", "blank: [60, 40]\n    work:\n      - drill: {side: face, dia: dowel, named: {mast: [50, middle]}}") +
		"  - {put: flag, sits: {eye: trailer.mast, bottom: drawbar.top}}\n  - hinge: {name: flag, pin: pin, fixed: trailer.mast, runs: flag.eye, lifts-off: yes}\n"
	if tr := trainOf(t, flag); len(tr) != 2 || !near(tr[1].Hitch.X, 52, 1e-9) {
		t.Errorf("%+v", tr)
	}
}

// Drawn with the trailer already turned, the toy turns as tightly as drawn straight, and
// no tighter to one side than to the other.
func TestTurnDrawnAtAnAngle(t *testing.T) {
	toyAt := func(lean string) string {
		return tractor(t, "blank: [60, 40]\n    work:", "blank: [60, 40]"+lean+"\n    work:\n      - drill: {side: face, dia: dowel, depth: 4, named: {peg: [50, middle]}}",
			"blank: [90, 16]\n    work:", "blank: [90, 16]"+lean+"\n    work:\n      - drill: {side: face, dia: dowel, named: {tail: [8, middle]}}",
			"{put: trailer, sits: {top: drawbar.bottom, back: drawbar.back, middle: drawbar.middle}, glued: yes}", "{put: trailer, sits: {peg: drawbar.tail, top: drawbar.bottom}, glued: yes}")
	}
	straight := find(t, proof(t, toyAt("")), "move.turn:toy")
	for _, by := range []string{"10°", "-15°"} {
		text := toyAt("\n    lies: {length: forward, up: face, lean: {about: up, by: " + by + "}}")
		bent := find(t, proof(t, text), "move.turn:toy")
		if math.Abs(bent.Value-straight.Value) > 1 || strings.Contains(bent.Says, "to the right") {
			t.Errorf("drawn at %s: %g, straight %g: %s", by, bent.Value, straight.Value, bent.Says)
		}
		if a, b := trainOf(t, text), trainOf(t, toyAt("")); !near(a[1].Hitch.X, b[1].Hitch.X, 1e-6) || !near(a[1].Hitch.Y, 0, 1e-6) {
			t.Errorf("drawn at %s: pin at %v, straight %v", by, a[1].Hitch, b[1].Hitch)
		}
	}
}

// The ways differ where the stops do. In a left turn the tail of the trailer comes
// round on the left, so a stop there is in the way of left turns.
func TestTurnsDifferBySide(t *testing.T) {
	both := find(t, proof(t, tractor(t)), "move.turn:toy")
	stop := "  - {put: stop, sits: {bottom: tractor.top, back: tractor.back, %s: tractor.%s}, glued: yes}\n"
	for side, word := range map[string]string{"left": "to the left, 635 mm to the right", "right": "635 mm over all to the left, "} {
		g := find(t, proof(t, tractor(t, f(stop, side, side), "")), "move.turn:toy")
		if !near(g.Value, both.Value, 0.1) || !strings.Contains(g.Says, word) {
			t.Errorf("without the %s stop: %g (both %g) %s", side, g.Value, both.Value, g.Says)
		}
	}
	none := find(t, proof(t, tractor(t, f(stop, "left", "left"), "", f(stop, "right", "right"), "")), "move.turn:toy")
	if none.Value > both.Value/2 || strings.Contains(none.Says, "to the right") {
		t.Errorf("without stops: %s", none.Says)
	}
	// The near-miss of the broken toy: as wide as it needs.
	for _, c := range []struct {
		must    string
		verdict prove.Verdict
	}{{"635", prove.Holds}, {"634", prove.Fails}} {
		g := find(t, proof(t, tractor(t)+"must: [{turns-in: "+c.must+"}]\n"), "move.turn:toy")
		if g.Verdict != c.verdict || (g.Margin >= 0) != (c.verdict == prove.Holds) {
			t.Errorf("in %s: %v, margin %g: %s", c.must, g.Verdict, g.Margin, g.Says)
		}
	}
}

// Toys without cars: nothing to turn, and a must is not met.
func TestNothingTurns(t *testing.T) {
	g := find(t, proof(t, inches().text()), "move.turn:toy")
	if g.Verdict != prove.Holds || !strings.Contains(g.Says, "rolls straight") || !math.IsInf(g.Value, 1) {
		t.Errorf("%v %g %s", g.Verdict, g.Value, g.Says)
	}
	s := inches().sheet()
	s.must = []string{"{turns-in: 24}"}
	if g := find(t, proof(t, s.text()), "move.turn:toy"); g.Verdict != prove.Fails || !near(g.Margin, -24*25.4, 1e-9) {
		t.Errorf("%v %g %s", g.Verdict, g.Margin, g.Says)
	}
}

// A must for a swing past which no turn goes on is minded: the trailer of one axle
// pinned over the mean axle of its leader has no steady turn past a right angle.
func TestFoldsPastSteady(t *testing.T) {
	free := []string{"  - {put: stop, sits: {bottom: tractor.top, back: tractor.back, left: tractor.left}, glued: yes}\n", "",
		"  - {put: stop, sits: {bottom: tractor.top, back: tractor.back, right: tractor.right}, glued: yes}\n", ""}
	// a 45 mm, L 52 mm: at rh = L the swing is 90 degrees + asin(45/52) = 149.9
	for _, c := range []struct {
		must    string
		verdict prove.Verdict
	}{{"55°", prove.Holds}} {
		g := find(t, proof(t, tractor(t, free...)+"must: [{swings: coupling, at-least: "+c.must+", each-way: yes}]\n"), "move.turn:toy")
		if g.Verdict != c.verdict {
			t.Errorf("%s: %v %s", c.must, g.Verdict, g.Says)
		}
	}
	l := lorry{100, 60, 0, 40, 20}.sheet()
	for _, c := range []struct {
		must    string
		verdict prove.Verdict
	}{{"89°", prove.Holds}, {"110°", prove.Mind}} {
		l.must = []string{"{swings: coupling, at-least: " + c.must + ", each-way: yes}"}
		rep := proof(t, l.text())
		if h := find(t, rep, "move.hinge:coupling"); h.Verdict != prove.Holds {
			t.Fatal(h.Says)
		}
		if g := find(t, rep, "move.turn:toy"); g.Verdict != c.verdict || g.Margin < 0 {
			t.Errorf("%s: %v %s", c.must, g.Verdict, g.Says)
		}
	}
}

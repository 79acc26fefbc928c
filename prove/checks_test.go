package prove_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/prove"
)

// A blind hole for an axle: beyond its end axle and frame claim the same wood.
func TestRodBeyondItsHole(t *testing.T) {
	s := inches().sheet()
	rep := proof(t, s.text())
	if o := find(t, rep, "fit.overlap:toy"); o.Verdict != prove.Holds {
		t.Errorf("through: %s", o.Says)
	}
	s.parts[0] = strings.Replace(s.parts[0], "dia: 5/16", "dia: 5/16, depth: 3/4", 1)
	rep = proof(t, s.text())
	o := find(t, rep, "fit.overlap:frame~axle")
	// a quarter inch of dowel has to move by its own thickness or its length there
	if o.Verdict != prove.Fails || o.Value < 25.4/8 || o.Margin >= 0 {
		t.Errorf("blind: %v %g", o.Verdict, o.Value)
	}
}

// Area in contact: x by 50 mm, against a quarter of the smaller face of 60 by 50.
func TestContactArea(t *testing.T) {
	for _, c := range []struct {
		x       float64
		verdict prove.Verdict
	}{{60, prove.Holds}, {30, prove.Holds}, {16, prove.Holds}, {14, prove.Mind}, {1, prove.Mind}, {0, prove.Fails}} {
		s := sheetOf{stock: []string{board("b", 20)}, parts: []string{"box: {from: b, blank: [60, 50]}"},
			build: []string{"put: box", f("{put: box, as: lid, sits: {bottom: box.top, back: box.front - %g, left: box.left}, glued: yes}", c.x)}}
		g := find(t, proof(t, s.text()), "fit.contact:lid~box")
		if g.Verdict != c.verdict || c.x > 0 && !near(g.Value, c.x*50, 1e-3) || c.x > 0 && !near(g.Limit, 750, 1e-3) {
			t.Errorf("%g: %v %g of %g: %s", c.x, g.Verdict, g.Value, g.Limit, g.Says)
		}
	}
}

// Where the lid is hollowed by 1 mm, more than glue fills, it does not touch.
func TestContactHollow(t *testing.T) {
	s := sheetOf{stock: []string{board("b", 20)}, parts: []string{"box: {from: b, blank: [60, 50]}", "lid: {from: b, blank: [60, 50], work: [{notch: {side: bottom, at: [0, 0], size: [36, 50], depth: 1}}]}"},
		build: []string{"put: box", "{put: lid, sits: {bottom: box.top, back: box.back, left: box.left}, glued: yes}"}}
	if g := find(t, proof(t, s.text()), "fit.contact:lid~box"); !near(g.Value, 24*50, 1e-3) {
		t.Errorf("touches with %g", g.Value)
	}
}

// A seat with a back, and a cover hooked over its front, glued to both. With the cover a
// millimetre over the seat, which glue does not fill, only back and front count, though
// each piece reaches past the other there.
func TestContactOfHooks(t *testing.T) {
	for _, c := range []struct{ off, want float64 }{{1, (9 + 9) * 50}, {0, (10 + 10 + 40) * 50}} {
		s := sheetOf{stock: []string{board("b", 20), board("c", 30)},
			parts: []string{"seat: {from: b, blank: [60, 50], work: [{notch: {side: face, at: [20, 0], size: [40, 50], depth: 10}}]}",
				"cover: {from: c, blank: [64, 50], work: [{notch: {side: bottom, at: [0, 0], size: [40, 50], depth: 10}}]}"},
			build: []string{"put: seat", f("{put: cover, sits: {bottom: seat.bottom + %g, back: seat.back + 20, left: seat.left}, glue-to: [seat]}", c.off)}}
		if g := find(t, proof(t, s.text()), "fit.contact:cover~seat"); !near(g.Value, c.want, 1e-3) {
			t.Errorf("%g off: touches with %g, expected %g", c.off, g.Value, c.want)
		}
	}
}

// A dowel of radius r on a flat: where the gap is no more than g, a strip 2 sqrt(2 r g)
// wide (the sagitta of a circle, r much larger than g), as long as it lies there.
func TestContactOfRoundWood(t *testing.T) {
	for _, c := range []struct{ dia, length, over float64 }{{10, 60, 0}, {10, 60, 20}, {40, 30, 0}} {
		s := sheetOf{stock: []string{board("b", 20), dowelOf("rod", c.dia)}, parts: []string{"box: {from: b, blank: [80, 50]}", f("log: {from: rod, length: %g}", c.length)},
			build: []string{"put: box", f("{put: log, sits: {bottom: box.top, front: box.front + %g, middle: box.middle}, glued: yes}", c.over)}}
		want := (c.length - c.over) * 2 * math.Sqrt(2*c.dia/2*assembly.GlueMost)
		if g := find(t, proof(t, s.text()), "fit.contact:log~box"); !near(g.Value, want, 1e-2) {
			t.Errorf("%+v: touches with %g, expected %g", c, g.Value, want)
		}
	}
}

// Side play: none at all jams the wheels, less than 1/64 in is minded (common practice, no
// source).
func TestLittlePlay(t *testing.T) {
	for play, want := range map[string]prove.Verdict{"0": prove.Fails, "1/128": prove.Mind, "1/65": prove.Mind, "1/64": prove.Holds, "1/32": prove.Holds} {
		c := inches()
		c.axle = "play: " + play + ", proud: 1/8"
		if g := find(t, proof(t, c.text()), "fit.reach:axle"); g.Verdict != want {
			t.Errorf("play of %s: %v: %s", play, g.Verdict, g.Says)
		}
	}
}

// A wheel in a running hole stands up to half its slack off its place, and drifts
// outward by its play: both come off what is left beside it.
func TestWheelFloats(t *testing.T) {
	const play, rise = 25.4 / 32, 25.4 / 32 // 1/4 in dowel in 5/16 in
	put := func(part, at string) prove.Finding {
		s := inches().sheet()
		s.stock = append(s.stock, board("thin", "1/8"))
		s.parts = append(s.parts, "guard: {from: thin, blank: [1/2, 1/4], lies: {length: forward, "+part+"}}")
		s.build = append(s.build, "{put: guard, sits: {middle-along: frame.rear-axle, "+at+"}, glue-to: [frame]}")
		return find(t, proof(t, s.text()), "move.wheels:axle")
	}
	for _, x := range []float64{0.85, 0.9, 1.5} {
		over := put("up: face", f("middle-across: frame.left + 5/32, bottom: frame.rear-axle + 1/2 + %g / 25.4", x))
		if want := math.Min(x-rise, play); !near(over.Value, want, 0.02) {
			t.Errorf("%g over the wheel: %g, want %g", x, over.Value, want)
		}
		// 1/64 in clear, common practice, no source
		if minds := x-rise < 25.4/64; (over.Verdict == prove.Mind) != minds {
			t.Errorf("%g over the wheel: %v", x, over.Verdict)
		}
		beside := put("left: face", f("right: frame.left + 9/32 + %g / 25.4, bottom: frame.rear-axle + 1/4", x))
		if want := math.Min(x-play, play); !near(beside.Value, want, 0.02) {
			t.Errorf("%g beside the wheel: %g, want %g", x, beside.Value, want)
		}
	}
}

// What lifts off its pin is loose; what does not is attached.
func TestSmallLiftsOff(t *testing.T) {
	for lifts, want := range map[string][2]prove.Verdict{"yes": {prove.Fails, prove.Holds}, "no": {prove.Holds, prove.Holds}} {
		s := sheetOf{ages: "18 months and up", stock: []string{board("b", 40), board("thin", 10), dowelOf("rod", 6)},
			parts: []string{"base: {from: b, blank: [200, 150], work: [{drill: {side: face, dia: 6, depth: 20, named: {pin: [100, 75]}}}]}",
				"arm: {from: thin, blank: [25, 20], work: [{drill: {side: face, dia: 6.8, named: {eye: [middle, middle]}}}]}", "pin: {from: rod}"},
			build: []string{"put: base", "{put: arm, sits: {eye: base.pin, bottom: base.top}}", "hinge: {name: turn, pin: pin, fixed: base.pin, runs: arm.eye, lifts-off: " + lifts + "}"}}
		rep := proof(t, s.text())
		if l := find(t, rep, "child.small:loose"); l.Verdict != want[0] || want[0] == prove.Fails && !strings.Contains(l.Says, "arm") {
			t.Errorf("lifts off %s: loose %v %s", lifts, l.Verdict, l.Says)
		}
		if a := find(t, rep, "child.small:attached"); a.Verdict != want[1] {
			t.Errorf("lifts off %s: attached %v %s", lifts, a.Verdict, a.Says)
		}
	}
}

package prove_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/prove"
)

// bench is a block on any number of axles with thin wheels of radius 20: where
// each axle is, and how high above the rest.
func bench(slack float64, wheelRise ...float64) sheetOf {
	s := sheetOf{stock: []string{board("b", 30), board("thin", 2), dowelOf("rod", 6)}}
	var holes []string
	s.build = []string{"put: frame"}
	for i, e := range wheelRise {
		holes = append(holes, f("axle-%d: [%g, %g]", i+1, 30+100*float64(i)/float64(len(wheelRise)-1), 10+e))
		s.build = append(s.build, f("wheels: {in: frame.axle-%d, axle: axle, outward: [wheel], play: 1, proud: 1}", i+1))
	}
	s.parts = []string{f("frame: {from: b, blank: [160, 60], work: [{drill: {side: edge, dia: %g, named: {%s}}}]}", 6+slack, strings.Join(holes, ", ")),
		"wheel: {from: thin, disc: 40, bore: 6}", "axle: {from: rod}"}
	s.must = []string{"rolls"}
	return s
}

// Four contacts are in one plane if the diagonals agree: one radius 1 mm too
// large (20, 20, 20, 21) lifts a corner by 1 mm (derived). A loose running fit lets
// that wheel down, a tight one does not.
func TestFourWheels(t *testing.T) {
	for _, c := range []struct {
		over, slack float64
		verdict     prove.Verdict
	}{
		{0, .5, prove.Holds}, {1, .5, prove.Fails}, {1, 1.6, prove.Holds}, {0.5, 1, prove.Holds}, {0.5, 0.41, prove.Fails},
		{0.25, 0.41, prove.Holds}, {-1, .5, prove.Fails},
	} {
		for _, wheel := range []string{"wheel", "wheel.2", "wheel.3", "wheel.4"} {
			dev := assembly.Deviations{{Piece: wheel, Op: "blank"}: {D: r3.Vec{X: 2 * c.over, Y: 2 * c.over}}}
			g := find(t, built(t, bench(c.slack, 0, 0).text(), dev), "move.ground:wheels")
			// the wheels stand on their rims, 2 mm thick, 60 mm apart
			if g.Verdict != c.verdict || !near(g.Value, math.Abs(c.over), 0.05*math.Abs(c.over)+1e-3) || (g.Margin >= 0) != (c.verdict == prove.Holds) {
				t.Errorf("%s %+g, slack %g: %v, hangs %g, margin %g: %s", wheel, c.over, c.slack, g.Verdict, g.Value, g.Margin, g.Says)
			}
			if !near(g.Limit, c.slack, 1e-3) {
				t.Errorf("limit %g", g.Limit)
			}
		}
	}
}

// Six wheels on three axles: a middle axle high by e is idle; low by e it makes a
// rocker, and an end axle hangs 2 e above the floor (derived: pitch atan(e/half
// wheelbase)).
func TestSixWheels(t *testing.T) {
	for _, c := range []struct {
		rise, slack, gap float64
		verdict          prove.Verdict
	}{
		{0, .5, 0, prove.Holds}, {1, .5, 1, prove.Fails}, {1, 1.2, 1, prove.Holds},
		{-1, .5, 2, prove.Fails}, {-1, 1.9, 2, prove.Fails}, {-1, 2.1, 2, prove.Holds},
	} {
		rep := proof(t, bench(c.slack, 0, c.rise, 0).text())
		g := find(t, rep, "move.ground:wheels")
		if g.Verdict != c.verdict || !near(g.Value, c.gap, 2e-3) {
			t.Errorf("middle axle %+g, slack %g: %v, %g: %s", c.rise, c.slack, g.Verdict, g.Value, g.Says)
		}
		if piece := g.Places[0].Piece; c.rise > 0 && piece != "wheel.3" && piece != "wheel.4" || c.rise < 0 && (piece == "wheel.3" || piece == "wheel.4") {
			t.Errorf("middle axle %+g: at %s", c.rise, piece)
		}
	}
}

// What clears the floor by how much: the bottom of the frame is radius less axle
// height above it, less half the slack by which the body sinks.
func TestClearsFloor(t *testing.T) {
	for _, c := range []struct {
		must    string
		verdict prove.Verdict
	}{{"", prove.Holds}, {"{clears-floor: 9.7}", prove.Holds}, {"{clears-floor: 9.75}", prove.Holds}, {"{clears-floor: 9.76}", prove.Holds}, {"{clears-floor: 9.8}", prove.Fails}} {
		s := bench(.5, 0, 0)
		s.must = nil
		if c.must != "" {
			s.must = []string{c.must}
		}
		g := find(t, proof(t, s.text()), "move.ground:clearance")
		if g.Verdict != c.verdict || !near(g.Value, 20-10-.25, 1e-3) || (g.Margin >= 0) != (c.verdict == prove.Holds) {
			t.Errorf("%q: %v %g margin %g", c.must, g.Verdict, g.Value, g.Margin)
		}
	}
	// Small wheels: the frame drags.
	s := strings.ReplaceAll(bench(.5, 0, 0).text(), "disc: 40", "disc: 20")
	if g := find(t, proof(t, s), "move.ground:clearance"); g.Verdict != prove.Fails || !strings.Contains(g.Says, "drags") {
		t.Errorf("drags: %v %s", g.Verdict, g.Says)
	}
	// No wheels at all cannot roll.
	s = sheetOf{stock: []string{board("b", 30)}, parts: []string{"block: {from: b, blank: [60, 60]}"}, build: []string{"put: block"}, must: []string{"rolls"}}.text()
	if g := find(t, proof(t, s), "move.ground:toy"); g.Verdict != prove.Fails || g.Margin >= 0 {
		t.Errorf("no wheels: %v", g.Verdict)
	}
	// All the weight behind the wheels: it does not stand on them.
	x := bench(.5, 0, 0)
	x.parts[0] = strings.ReplaceAll(strings.ReplaceAll(x.parts[0], "[30, 10]", "[130, 10]"), "[130, 10], axle-2: [130, 10]", "[110, 10], axle-2: [152, 10]")
	if g := find(t, proof(t, x.text()), "move.ground:wheels"); g.Verdict != prove.Fails || !strings.Contains(g.Says, "does not stand") {
		t.Errorf("behind: %v %s", g.Verdict, g.Says)
	}
}

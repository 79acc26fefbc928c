package prove_test

import (
	"strings"
	"testing"

	"dryfit/prove"
)

// The mutants of strength.joint that were tried by hand, each caught by a test below or by
// a toy of examples/broken: arm to the outside of the wheel; d² for d³ in the modulus; the
// age's pull left at that of three years; end grain counted in full; a pull into wood
// counted as off it; glue in a blind hole counted over the whole rod; the twist of a
// dowel at its diameter; the need left out.

const poundForce = 4.4482216152605 // newtons, exact

// roller is a body on one axle. It is as wide as the disc that presses, so that the press is
// shared by both wheels.
func roller(ages, dowel string, wheel, thick float64) string {
	return sheetOf{units: "inch", ages: ages,
		stock: []string{board("beech", "1 1/2"), f("thick: {wood: maple, form: board, thick: %g}", thick), dowelOf("rod", dowel)},
		parts: []string{f("body: {from: beech, blank: [6, 1 1/8], work: [{drill: {side: edge, dia: %s + 1/16, named: {axle: [3, 1/2]}}}]}", dowel),
			f("wheel: {from: thick, disc: %g, bore: %s}", wheel, dowel), "axle: {from: rod}"},
		build: []string{"put: body", "wheels: {in: body.axle, axle: axle, outward: [wheel], play: 1/32, proud: 1/8}"}}.text()
}

// weakest is the finding of strength.joint with the least margin.
func weakest(t *testing.T, text, check string) prove.Finding {
	t.Helper()
	var out prove.Finding
	for _, f := range proof(t, text).Findings {
		if f.Check == check && (out.ID == "" || f.Margin < out.Margin) {
			out = f
		}
	}
	if out.ID == "" {
		t.Fatalf("no %s", check)
	}
	return out
}

// A stub axle under 20 lbf at 3/4 in: 9778 lbf/in² in 1/4 in, 2897 in 3/8 in (textbook: P L
// over pi d³/32). Birch bends to 16600 lbf/in² (Wood Handbook table 5-3b). EN 71-1 pulls
// 90 N at a toy for a child of eighteen months.
func TestStubAxle(t *testing.T) {
	const pull = 90 / poundForce / 20 // of the 20 lbf
	for _, c := range []struct {
		dowel  string
		stress float64
		want   prove.Verdict
	}{{"1/4", 9778, prove.Fails}, {"3/8", 2897, prove.Holds}} {
		g := weakest(t, roller("18 months and up", c.dowel, 3, 2*(0.75-1./32)), "strength.joint")
		if is := 16600 / (c.stress * pull); g.Verdict != c.want || !near(g.Value, is, 0.001*is) || !strings.Contains(g.Says, "sideways") {
			t.Errorf("%s: %v %g, want %v %g: %s", c.dowel, g.Verdict, g.Value, c.want, is, g.Says)
		}
	}
	// From three years on it is ISO 8124-1 with 70 N.
	g := weakest(t, roller("3 and up", "1/4", 3, 2*(0.75-1./32)), "strength.joint")
	if is := 16600 / 9778. * 20 * poundForce / 70; g.Verdict != prove.Holds || !near(g.Value, is, 0.001*is) {
		t.Errorf("at three years: %v %g, want %g: %s", g.Verdict, g.Value, is, g.Says)
	}
	// An ordinary wheel of 3/8 in on a 1/4 in axle is far from that.
	if g := weakest(t, roller("18 months and up", "1/4", 1, 0.375), "strength.joint"); g.Verdict != prove.Holds || g.Value < 2*g.Limit {
		t.Errorf("an ordinary wheel: %v %g: %s", g.Verdict, g.Value, g.Says)
	}
}

// A dowel of 1/4 in glued in for 1 in holds 393 lbf at 500 lbf/in²: tau pi d L; a quarter of
// that for a quarter of the depth.
func TestDowelPullsOut(t *testing.T) {
	text := sheetOf{units: "inch", ages: "3 and up", stock: []string{board("b", 1), dowelOf("rod", "1/4")},
		parts: []string{"base: {from: b, blank: [4, 3], work: [{drill: {side: face, dia: 1/4, depth: 1/4, named: {post: [2, middle]}}}]}", "post: {from: rod}"},
		build: []string{"put: base", "peg: {use: post, in: base.post, proud: 1/4 + 1/32}"}}.text()
	g := weakest(t, text, "strength.joint")
	if want := 392.7 / 4 * poundForce / 70; !near(g.Value, want, 0.001*want) || !strings.Contains(g.Says, "a pull of 16 lbf up") {
		t.Errorf("%g, want %g: %s", g.Value, want, g.Says)
	}
}

// A wheel glued on an axle is twisted off it by tau pi d L d/2.
func TestWheelTwists(t *testing.T) {
	g := weakest(t, roller("3 and up", "1/4", 1.75, 0.25), "strength.joint")
	if want := 392.7 / 4 * 0.125 / 4; g.Verdict != prove.Holds || !near(g.Value, want, 0.005*want) || !strings.Contains(g.Says, "twist") {
		t.Errorf("%g, want %g: %s", g.Value, want, g.Says)
	}
}

// post is a block standing on a board: on its side grain or on its end.
func post(on, lies string, size float64) string {
	return sheetOf{ages: "3 and up", stock: []string{board("b", 20), f("s: {wood: beech, form: board, thick: %g}", size)},
		parts: []string{"base: {from: b, blank: [100, 100]}", f("post: {from: s, blank: [%g, %g], lies: {%s}}", size, size, lies)},
		build: []string{"put: base", "{put: post, sits: {" + on + "}, glued: yes}"}}.text()
}

// Glue on end grain carries a quarter of that on side grain (Wood Handbook, chapter 10).
// 1010 lbf/in² across beech, on a square: pulled by 70 N. The twist is weaker: half of
// shear along and rolling over J / r of a square, s³ / (3 sqrt 2).
func TestGlueByGrain(t *testing.T) {
	const s, psi = 12.0, 0.006894757
	on := "bottom: base.top, middle-along: base.middle, middle-across: base.middle"
	side := weakest(t, post(on, "length: forward, up: face", s), "strength.joint")
	end := weakest(t, post(on, "length: up, forward: face", s), "strength.joint")
	if !near(end.Value, side.Value/4, 0.001*side.Value) {
		t.Errorf("end grain %g, side grain %g", end.Value, side.Value)
	}
	twist := 2010 * psi * (1 + 0.18) / 2 * s * s * s / (3 * 1.41421356) / (4 * 25.4 * poundForce)
	if !near(side.Value, twist, 0.002*twist) || !strings.Contains(side.Says, "twist") {
		t.Errorf("side grain %g, want %g: %s", side.Value, twist, side.Says)
	}
	// too wide to go round by hand, it is only pulled
	wide := weakest(t, post(on, "length: forward, up: face", 60), "strength.joint")
	if pull := 1010 * psi * 60 * 60 / 70; !near(wide.Value, pull, 0.001*pull) {
		t.Errorf("wide: %g, want %g: %s", wide.Value, pull, wide.Says)
	}
}

// Under three years, what fits the gauge fails where its joint does, and holds where it holds.
func TestSmallByJoint(t *testing.T) {
	for wood, want := range map[string]prove.Verdict{"pine": prove.Fails, "ash": prove.Holds} {
		text := sheetOf{ages: "18 months and up", stock: []string{f("b: {wood: %s, form: board, thick: 40}", wood), f("ball: {wood: %s, form: ball, dia: 30}", wood)},
			parts: []string{"car: {from: b, blank: [110, 60]}", "head: {from: ball}"},
			build: []string{"put: car", "{put: head, sits: {bottom: car.top, middle-along: car.middle, middle-across: car.middle}, glued: yes}"}}.text()
		rep := proof(t, text)
		small, joint := find(t, rep, "child.small:attached"), weakest(t, text, "strength.joint")
		if small.Verdict != want || joint.Verdict != want || (small.Margin >= 0) != (want == prove.Holds) || !strings.Contains(small.Says, "head") {
			t.Errorf("%s: small %v (%s), joint %v (%s)", wood, small.Verdict, small.Says, joint.Verdict, joint.Says)
		}
	}
}

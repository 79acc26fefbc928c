package prove_test

import (
	"os"
	"strings"
	"testing"

	"dryfit/prove"
)

// Mutants of the check of pinching tried by hand: the limits 1 mm off; the heavier side for
// the lighter; what only a hand closes fails too; what opens by its weight counts as
// falling shut; a gap that no rod reaches counts; gaps that stay as they are count; gaps that
// close one way only; the arrises of one side only. Each made a line here or a broken
// toy fail.

func example(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile("../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// pinched is the worst verdict of child.pinch.
func pinched(t *testing.T, text string) (worst prove.Finding) {
	t.Helper()
	for _, g := range prove.Only(model(t, text), "child.pinch").Findings {
		if g.Check == "child.pinch" && (worst.Check == "" || g.Verdict > worst.Verdict) {
			worst = g
		}
	}
	if (worst.Verdict == prove.Holds) != (worst.Margin >= 0) {
		t.Errorf("%v with margin %g: %s", worst.Verdict, worst.Margin, worst.Says)
	}
	return worst
}

// A gap between a wheel and what is over it: ASTM F963 4.18.1 wants it to refuse a rod of
// 5 mm or to take one of 13 mm.
func TestTreads(t *testing.T) {
	text := example(t, "broken/child.pinch-wheel-under-a-guard.yaml")
	for _, c := range []struct {
		gap  float64
		want prove.Verdict
	}{{4.9, prove.Holds}, {5.1, prove.Fails}, {10, prove.Fails}, {12.9, prove.Fails}, {13.1, prove.Holds}, {20, prove.Holds}} {
		// the guard lies on the body, 30 mm above the axle
		g := pinched(t, strings.Replace(text, "wheel: 40", f("wheel: %g", 2*(30-c.gap)), 1))
		if g.Verdict != c.want || c.want == prove.Fails && !near(g.Value, c.gap, 0.011) {
			t.Errorf("%g mm: %v %g %s", c.gap, g.Verdict, g.Value, g.Says)
		}
	}
	light := strings.ReplaceAll(text, "wood: beech", "wood: western redcedar")
	if g := pinched(t, light); g.Verdict != prove.Mind {
		t.Errorf("light: %v %s", g.Verdict, g.Says)
	}
	if g := pinched(t, strings.Replace(text, "2 and up", "8 and up", 1)); g.Verdict != prove.Holds {
		t.Errorf("8 years: %v %s", g.Verdict, g.Says)
	}
	// boards all round keep the rod out
	boxed := strings.Replace(text, "  cab: {from", "  end: {from: thin, blank: [200, 200], lies: {length: left, forward: face}}\n  skirt: {from: thin, blank: [300, 200], lies: {length: forward, right: face}}\n  cab: {from", 1)
	wall := func(what, at string) {
		boxed = strings.Replace(boxed, "  - wheels: {in: body.rear-axle", "  - {put: "+what+", sits: {"+at+"}, glue-to: [guard]}\n  - wheels: {in: body.rear-axle", 1)
	}
	wall("skirt, as: right-skirt", "left: guard.right, middle-along: body.middle, middle-up: body.middle")
	wall("skirt, as: left-skirt", "right: guard.left, middle-along: body.middle, middle-up: body.middle")
	wall("end, as: back-end", "front: body.back - 10, middle-across: body.middle, middle-up: body.middle")
	open := pinched(t, boxed)
	wall("end, as: front-end", "back: body.front + 10, middle-across: body.middle, middle-up: body.middle")
	if g := pinched(t, boxed); open.Verdict != prove.Fails || g.Verdict != prove.Holds {
		t.Errorf("boxed in: %v %s", g.Verdict, g.Says)
	}
}

// A lid falls shut; the same chest stood on its end swings its lid like a door. The
// clause for hinges begins at 0.25 kg: ASTM F963 4.13.2.
func TestLid(t *testing.T) {
	text := example(t, "broken/child.pinch-heavy-lid.yaml")
	g := pinched(t, text)
	if g.Verdict != prove.Fails || !strings.Contains(g.Says, "between lid and chest") || g.Value > 0.1 {
		t.Errorf("%v %g %s", g.Verdict, g.Value, g.Says)
	}
	// the same, told from the other side of the pin
	other := strings.Replace(text, "fixed: [right-ear.pin, left-ear.pin], runs: lid.pin", "fixed: lid.pin, runs: [right-ear.pin, left-ear.pin]", 1)
	front := func(g prove.Finding) bool { // of the pin, where lid and chest meet: not behind it, where the tail goes
		return g.Places[0].At.X > 24 && near(g.Places[0].At.Z, 30, 9) && g.Places[1].At.X > 20
	}
	if !front(g) {
		t.Errorf("at %+v", g.Places)
	}
	if g := pinched(t, other); !front(g) || g.Verdict != prove.Fails || g.Margin > -13 || !strings.Contains(g.Says, "lid and chest") && !strings.Contains(g.Says, "chest and lid") {
		t.Errorf("the other way: %v %s", g.Verdict, g.Says)
	}
	// under the middle of a lid that meets nothing else stands a post
	post := strings.Replace(text, "chest: {from: beech,", "post: {from: post, blank: [40, 40]}\n  chest: {from: thin,", 1)
	post = strings.Replace(post, "  rod: {wood", "  post: {wood: beech, form: board, thick: 32}\n  rod: {wood", 1)
	post = strings.Replace(post, "- put: chest\n", "- put: chest\n  - {put: post, sits: {bottom: chest.top, middle-along: chest.middle, middle-across: chest.middle}, glued: yes}\n", 1)
	post = strings.ReplaceAll(strings.Replace(post, "[220, 158]", "[220, 110]", 1), "bottom: chest.bottom", "bottom: chest.bottom + 20")
	if g := pinched(t, post); g.Verdict != prove.Fails || !strings.Contains(g.Says, "post") || g.Value > 0.1 {
		t.Errorf("a post: %v %g %s", g.Verdict, g.Value, g.Says)
	}
	if g := pinched(t, strings.Replace(text, "blank: [220, 158]", "blank: [120, 158]", 1)); g.Verdict != prove.Holds {
		t.Errorf("a light lid: %v %s", g.Verdict, g.Says)
	}
	if g := pinched(t, strings.Replace(text, "3 and up", "8 and up", 1)); g.Verdict != prove.Holds {
		t.Errorf("8 years: %v %s", g.Verdict, g.Says)
	}
	door := strings.Replace(text, "chest: {from: beech, blank: [200, 160]}", "chest: {from: beech, blank: [200, 160], lies: {length: forward, left: face}}", 1)
	door = strings.Replace(door, "lies: {length: forward, right: face}", "lies: {length: forward, up: face}", 1)
	door = strings.Replace(door, "blank: [220, 158]\n", "blank: [220, 158]\n    lies: {length: forward, left: face}\n", 1)
	door = strings.Replace(door, "left: chest.right, bottom: chest.bottom", "top: chest.bottom, right: chest.right", 1)
	door = strings.Replace(door, "right: chest.left, bottom: chest.bottom", "bottom: chest.top, right: chest.right", 1)
	door = strings.Replace(door, "middle: chest.middle", "middle: chest.middle", 1)
	if g := pinched(t, door); g.Verdict != prove.Mind {
		t.Errorf("a door: %v %s", g.Verdict, g.Says)
	}
}

// A turntable keeps its gap: nothing closes.
func TestTurntable(t *testing.T) {
	s := sheetOf{stock: []string{board("b", 30), dowelOf("rod", 8)},
		parts: []string{"base: {from: b, blank: [260, 260], work: [{drill: {side: face, dia: 8, depth: 25, named: {pin: [130, 130]}}}]}", "table: {from: b, disc: 200, bore: 9}", "pin: {from: rod}"},
		build: []string{"put: base", "{put: table, sits: {bore: base.pin, bottom: base.top + 8}}", "hinge: {name: table, pin: pin, fixed: base.pin, runs: table.bore}"}}
	if g := pinched(t, s.text()); g.Verdict != prove.Holds || strings.Contains(g.Says, "too light") {
		t.Errorf("%v %s", g.Verdict, g.Says)
	}
}

// Two cars on an upright pin are moved by the hand: light they hold, heavy they are minded,
// never failed.
func TestCoupledCars(t *testing.T) {
	if g := pinched(t, tram(t)); g.Verdict != prove.Holds || !strings.Contains(g.Says, "too light") {
		t.Errorf("%v %s", g.Verdict, g.Says)
	}
	heavy := strings.Replace(tram(t), "roof: 1 1/2 ", "roof: 4 ", 1)
	if g := pinched(t, heavy); g.Verdict != prove.Mind || g.Value >= 13 {
		t.Errorf("%v %s", g.Verdict, g.Says)
	}
}

package prove_test

import (
	"strings"
	"testing"

	"dryfit/prove"
)

// Trade facts (common practice, no source): what every toy maker knows of a 1/4
// in dowel.

func TestDowelInHole(t *testing.T) {
	for _, c := range []struct {
		hole    string
		slack   float64 // in
		verdict prove.Verdict
		says    string
	}{
		{"5/16", 1. / 16, prove.Holds, "turns freely"},
		{"9/32", 1. / 32, prove.Holds, "turns freely"}, // a snug pivot
		{"17/64", 1. / 64, prove.Holds, "turns freely"},
		{"0.26", 0.01, prove.Mind, "may seize"},
		{"1/4", 0, prove.Fails, "too tight to turn"},
		{"15/64", -1. / 64, prove.Fails, "too tight to turn"},
		{"7/16", 3. / 16, prove.Mind, "knocks about"},
	} {
		k := inches()
		k.hole = c.hole
		d := find(t, proof(t, k.text()), "fit.dowel:axle~frame/rear-axle")
		if d.Verdict != c.verdict || !strings.Contains(d.Says, c.says) || !near(d.Value, c.slack*25.4, 1e-4) {
			t.Errorf("%s: %v %g %s", c.hole, d.Verdict, d.Value, d.Says)
		}
		if (d.Margin >= 0) != (d.Verdict != prove.Fails) {
			t.Errorf("%s: %v with margin %g", c.hole, d.Verdict, d.Margin)
		}
	}
}

// A dowel glued into its hole: press, line to line, a thick glue line, loose.
func TestDowelGlued(t *testing.T) {
	for _, c := range []struct {
		hole    string
		verdict prove.Verdict
	}{
		{"6.35", prove.Holds}, {"6.25", prove.Holds}, {"6.24", prove.Fails}, {"6.55", prove.Holds},
		{"6.6", prove.Mind}, {"6.35 + 25.4 / 64", prove.Fails}, {"7", prove.Fails}, {"6", prove.Fails},
	} {
		s := sheetOf{stock: []string{board("b", 20), dowelOf("rod", 6.35)},
			parts: []string{f("block: {from: b, blank: [80, 40], work: [{drill: {side: face, dia: %s, depth: 12, named: {socket: [20, 20]}}}]}", c.hole), "post: {from: rod}"},
			build: []string{"put: block", "peg: {use: post, in: block.socket, proud: 30}"}}
		d := find(t, proof(t, s.text()), "fit.dowel:post~block/socket")
		if d.Verdict != c.verdict || (d.Margin >= 0) != (d.Verdict != prove.Fails) || d.Verdict == prove.Fails && d.Margin == 0 {
			t.Errorf("%s: %v, margin %g, %s", c.hole, d.Verdict, d.Margin, d.Says)
		}
	}
}

// A wheel glued on with 1/8 in of axle proud has room to spin, and the toy holds.
func TestWheelHasRoom(t *testing.T) {
	rep := proof(t, inches().text())
	if r := find(t, rep, "fit.reach:axle"); r.Verdict != prove.Holds || !near(r.Value, 25.4/32, 1e-4) {
		t.Errorf("%v %s", r.Verdict, r.Says)
	}
	if rep.Verdict != prove.Holds || !rep.Passes() {
		t.Errorf("%v: mind %v, fails %v, cannot tell %v", rep.Verdict, ids(rep, prove.Mind), ids(rep, prove.Fails), ids(rep, prove.CannotTell))
	}
}

// A 2 in axle, 1/4 in wheels, 1/8 in proud on a 1 1/4 in frame leave no play.
func TestAxleTooShort(t *testing.T) {
	k := inches()
	k.axle = "length: 2, proud: 1/8"
	rep := proof(t, k.text())
	for _, id := range ids(rep, prove.Fails) {
		if !strings.HasPrefix(id, "fit.reach:axle") {
			t.Errorf("%s: %s", id, find(t, rep, id).Says)
		}
	}
	r := find(t, rep, "fit.reach:axle")
	if r.Verdict != prove.Fails || !near(r.Value, 0, 1e-4) || r.Margin >= 0 {
		t.Errorf("%v %g margin %g %s", r.Verdict, r.Value, r.Margin, r.Says)
	}
	if c := ids(rep, prove.CannotTell); len(c) > 0 {
		t.Errorf("cannot tell %v", c)
	}
}

// length = body + 2 (play + wheels + gaps + proud): the one left out follows.
func TestAxleLeftOut(t *testing.T) {
	for _, c := range []struct {
		outward, said string
		length, play  float64 // in
		proud, gap    float64
	}{
		{"wheel", "play: 1/32, proud: 1/8", 1.25 + 2*(1./32+.25+.125), 1. / 32, .125, 0},
		{"wheel", "length: 2 1/8, proud: 1/8", 2.125, 1. / 16, .125, 0},
		{"wheel", "length: 2 1/8, play: 1/32", 2.125, 1. / 32, 5. / 32, 0},
		{"wheel, gap, wheel", "play: 1/32, proud: 1/8, gap: 1/16", 1.25 + 2*(1./32+.5+1./16+.125), 1. / 32, .125, 1. / 16},
		{"wheel, gap, wheel", "length: 3, proud: 1/8, gap: 1/16", 3, .875 - .125 - .5 - 1./16, .125, 1. / 16},
		{"wheel, gap, wheel", "length: 3, play: 1/32, gap: 1/16", 3, 1. / 32, .875 - 1./32 - .5 - 1./16, 1. / 16},
		{"wheel, gap, wheel", "length: 3, play: 1/32, proud: 1/8", 3, 1. / 32, .125, .875 - 1./32 - .5 - .125},
	} {
		k := inches()
		k.axle = c.said
		text := strings.ReplaceAll(k.text(), "outward: [wheel]", "outward: ["+c.outward+"]")
		m := model(t, text)
		a := m.Axles[0]
		for _, x := range []struct {
			name      string
			got, want float64
		}{{"length", a.Length, c.length}, {"play", a.Play, c.play}, {"proud", a.Proud, c.proud}, {"gap", a.Gap, c.gap},
			{"rod", m.Pieces[a.Rod].Made.Size.X, c.length}} {
			if !near(x.got, x.want*25.4, 1e-9) {
				t.Errorf("%s of {%s}: %g, want %g", x.name, c.said, x.got, x.want*25.4)
			}
		}
		// And where the outer wheel really is: its outside, less proud, from the end of the axle.
		outer := m.Pieces[a.Wheels[1][len(a.Wheels[1])-1]].Body.Bounds()
		rod := m.Pieces[a.Rod].Body.Bounds()
		if !near(rod.Max.Y-outer.Max.Y, c.proud*25.4, 1e-9) {
			t.Errorf("{%s}: proud in space %g", c.said, rod.Max.Y-outer.Max.Y)
		}
		inner, frame := m.Pieces[a.Wheels[0][0]].Body.Bounds(), m.Pieces[0].Body.Bounds()
		if !near(frame.Min.Y-inner.Max.Y, c.play*25.4, 1e-9) {
			t.Errorf("{%s}: play in space %g", c.said, frame.Min.Y-inner.Max.Y)
		}
	}
}

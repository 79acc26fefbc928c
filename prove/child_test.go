package prove_test

import (
	"strings"
	"testing"

	"dryfit/prove"
)

// Mutants of the checks of cord and material tried by hand, each caught here or by
// examples/broken: 300 and 800 mm changed over; a knot counts as a bead; a bead is
// minded only; no age; under 18 months everything beyond 12 in fails; walnut minded at 3;
// "lead-free" read as lead; "no creosote" read as creosote; stock names not looked
// at; a shorter word found before a longer one.

// The clauses of docs/checks: ASTM F963 4.14.1 and 4.14.3, EN 71-1 5.4 (2014), from memory.
func TestCord(t *testing.T) {
	for _, c := range []struct {
		ages   string
		length float64
		end    string
		want   prove.Verdict
	}{
		{"3 and up", 900, "bead", prove.Holds},
		{"35 months and up", 301, "bead", prove.Fails},
		{"35 months and up", 300, "bead", prove.Holds},
		{"35 months and up", 301, "loop", prove.Fails},
		{"18 months and up", 500, "plain", prove.Holds},
		{"18 months and up", 500, "knot", prove.Holds},
		{"18 months and up", 800, "plain", prove.Holds},
		{"18 months and up", 801, "plain", prove.Fails},
		{"17 months and up", 300, "plain", prove.Holds},
		{"17 months and up", 301, "plain", prove.Mind},
		{"12 months and up", 301, "bead", prove.Fails},
		{"12 months and up", 801, "knot", prove.Fails},
	} {
		s := sheetOf{ages: c.ages, stock: []string{board("b", 50)}, parts: []string{"block: {from: b, blank: [120, 60], work: [{drill: {side: front, dia: 4, depth: 20, named: {cord: [middle, middle]}}}]}"}, build: []string{"put: block"}}
		rep := proof(t, s.text()+f("cord: {from: block.cord, length: %g, end: %s}\n", c.length, c.end))
		g := find(t, rep, "child.cord:cord")
		if g.Verdict != c.want || (g.Verdict == prove.Fails) != (g.Margin < 0) && c.want != prove.Mind {
			t.Errorf("%s, %g mm, %s: %v margin %g: %s", c.ages, c.length, c.end, g.Verdict, g.Margin, g.Says)
		}
	}
	if g := find(t, proof(t, inches().text()), "child.cord:toy"); g.Verdict != prove.Holds || g.Says != "there is no cord" {
		t.Error(g.Says)
	}
}

// The table of cautions, from custom and FHSA section 2(q)(1)(A), 16 CFR 1303.
func TestMaterial(t *testing.T) {
	for _, c := range []struct {
		ages, stock, wood, finish string
		id                        string // of the finding; its verdict
		want                      prove.Verdict
	}{
		{"3 and up", "b", "walnut", "mineral oil", "toy", prove.Holds},
		{"3 and up", "b", "beech", "", "toy", prove.Holds},
		{"18 months and up", "b", "maple", "lead-free paint", "toy", prove.Holds},
		{"18 months and up", "b", "walnut", "beeswax", "walnut", prove.Mind},
		{"18 months and up", "b", "cedar", "", "western redcedar", prove.Mind},
		{"3 and up", "b", "cedar", "", "toy", prove.Holds},
		{"3 and up", "b", "Yew", "", "yew", prove.Fails},
		{"8 and up", "b", "pacific yew", "", "yew", prove.Fails},
		{"3 and up", "treated-pine", "pine", "", "stock treated-pine", prove.Fails},
		{"3 and up", "untreated-pine", "pine", "", "toy", prove.Holds},
		{"3 and up", "pallet", "oak", "", "stock pallet", prove.Mind},
		{"3 and up", "b", "beech", "old paint", "finish old paint", prove.Fails},
		{"3 and up", "b", "beech", "red lead, two coats", "finish red lead", prove.Fails},
		{"3 and up", "b", "beech", "a coat of lead paint", "finish lead paint", prove.Fails},
		{"3 and up", "b", "beech", "Wood preservative", "finish wood preservative", prove.Fails},
		{"3 and up", "b", "beech", "bare, no creosote", "toy", prove.Holds},
		{"3 and up", "b", "beech", "Walnut Oil and wax", "finish walnut oil", prove.Mind},
		{"3 and up", "b", "beech", "walnut-brown stain", "toy", prove.Holds},
	} {
		s := sheetOf{ages: c.ages, stock: []string{f("%s: {wood: %s, form: board, thick: 50}", c.stock, c.wood), "unused: {wood: yew, form: board, thick: 10}"}, parts: []string{f("block: {from: %s, blank: [120, 60]}", c.stock)}, build: []string{"put: block"}}
		text := s.text()
		if c.finish != "" {
			text += "finish: " + c.finish + "\n"
		}
		g := find(t, proof(t, text), "child.material:"+c.id)
		if g.Verdict != c.want || len(g.Notes) == 0 || !strings.Contains(strings.Join(g.Notes, "; "), "screening") {
			t.Errorf("%+v: %v %s %v", c, g.Verdict, g.Says, g.Notes)
		}
		if said := strings.Contains(strings.Join(g.Notes, "; "), "no finish is said"); said != (c.finish == "") && c.want == prove.Holds {
			t.Errorf("%+v: %v", c, g.Notes)
		}
	}
}

// Mutants of the check of finger holes tried by hand: 12 mm as 13; 10 mm deep as 12;
// radius for diameter; one mouth only; what lies on a mouth forgotten; a filling dowel
// forgotten; the probe of the young at all ages; the sheet rule without its thickness; the
// sheet rule for all ages. Each made a line here or the broken toy fail.
//
// Custom: no hole of 6 to 12 mm deeper than 10 mm; probes of 16 CFR 1500.48(c).
func TestFingerHoles(t *testing.T) {
	const (
		open   = "{drill: {side: face, dia: %g, at: [[60, 30]]}}"
		bottom = "{drill: {side: face, dia: %g, depth: %g, at: [[60, 30]]}}"
	)
	for _, c := range []struct {
		name, ages string
		thick      float64
		work       string
		build      []string
		want       prove.Verdict
	}{
		{"through 30 mm", "2 and up", 30, f(open, 10.), nil, prove.Mind},
		{"through 30 mm at 3", "3 and up", 30, f(open, 10.), nil, prove.Mind},
		{"through 30 mm at 5", "5 and up", 30, f(open, 10.), nil, prove.Holds},
		{"a fingertip of 3 years does not go in", "3 and up", 30, f(open, 8.5), nil, prove.Holds},
		{"but one of 2 years does", "2 and up", 30, f(open, 8.5), nil, prove.Mind},
		{"too small", "2 and up", 30, f(open, 5.9), nil, prove.Holds},
		{"6 mm", "2 and up", 30, f(open, 6.), nil, prove.Mind},
		{"wide enough", "2 and up", 30, f(open, 12.), nil, prove.Holds},
		{"thin wood", "2 and up", 10, f(open, 10.), nil, prove.Holds},
		{"a little thicker", "2 and up", 10.2, f(open, 10.), nil, prove.Mind},
		{"not deep", "2 and up", 30, f(bottom, 10., 10.), nil, prove.Holds},
		{"deeper", "2 and up", 30, f(bottom, 10., 11.), nil, prove.Mind},
		{"a sheet of 2 mm", "2 and up", 2, f(open, 10.), nil, prove.Holds},
		{"a sheet of 1.5 mm", "2 and up", 1.5, f(open, 10.), nil, prove.Fails},
		{"a sheet of 1.5 mm, 12.5 mm wide", "2 and up", 1.5, f(open, 12.5), nil, prove.Fails},
		{"a sheet of 1.5 mm, 13 mm wide", "2 and up", 1.5, f(open, 13.), nil, prove.Holds},
		{"a sheet of 1.5 mm for 5 years", "5 and up", 1.5, f(open, 10.), nil, prove.Holds},
		{"a sheet of 1.5 mm on a block", "2 and up", 1.5, f(open, 10.), []string{"{put: plate, sits: {top: it.bottom, back: it.back, left: it.left}, glued: yes}"}, prove.Holds},
		{"plates over and under", "2 and up", 30, f(open, 10.), []string{"{put: plate, sits: {top: it.bottom, back: it.back, left: it.left}, glued: yes}", "{put: plate, sits: {bottom: it.top, back: it.back, left: it.left}, glued: yes}"}, prove.Holds},
		{"a plate over one mouth", "2 and up", 30, f(open, 10.), []string{"{put: plate, sits: {bottom: it.top, back: it.back, left: it.left}, glued: yes}"}, prove.Mind},
		{"filled by a dowel", "2 and up", 30, "{drill: {side: face, dia: 10, named: {hole: [60, 30]}}}", []string{"peg: {use: dowel, in: it.hole}"}, prove.Holds},
		{"filled in part", "2 and up", 30, "{drill: {side: face, dia: 10, named: {hole: [60, 30]}}}", []string{"peg: {use: dowel, in: it.hole, length: 18}"}, prove.Mind},
	} {
		s := sheetOf{ages: c.ages, stock: []string{board("b", c.thick), board("p", 20), dowelOf("d", 10)},
			parts: []string{"it: {from: b, blank: [120, 60], work: [" + c.work + "]}", "plate: {from: p, blank: [120, 60]}", "dowel: {from: d}"}, build: append([]string{"put: it"}, c.build...)}
		rep := proof(t, s.text())
		worst := prove.Holds
		for _, g := range rep.Findings {
			if g.Check == "child.holes" {
				worst = max(worst, g.Verdict)
				if (g.Verdict == prove.Holds) != (g.Margin >= 0) {
					t.Errorf("%s: %v with margin %g", c.name, g.Verdict, g.Margin)
				}
			}
		}
		if worst != c.want {
			t.Errorf("%s: %v", c.name, worst)
		}
	}
}

// Mutants of the check of edges tried by hand: the ages of the two customs changed
// over; an unsaid ease minded at 3; roundings all over a part forgotten; arrises only under
// 10 degrees; the crushed tip forgotten; the slot twice as wide; what another piece
// covers counted; all ages. Each made a line here or the broken toy fail.
//
// Custom: 1.5 mm from 3 years, 3 mm under. A cube's corner is no sharp point, and
// nor is that of a board sawn to an acute angle: makers' practice with both, no source.
func TestEdges(t *testing.T) {
	spire := func(long float64) string {
		return f("{from: b, blank: [%g, 40], lies: {length: up, forward: face}, work: [{saw: {side: face, outline: [[0, 0], [length, middle], [0, width]]}}, {saw: {side: edge, outline: [[0, 0], [length, middle], [0, thick]]}}]}", long)
	}
	wedge := func(wide float64) string {
		return f("{from: b, blank: [120, 40], work: [{saw: {side: face, outline: [[0, 0], [120, 0], [0, %g]]}}]}", wide)
	}
	const cube = "{from: b, blank: [60, 40]}"
	const notched = "{from: b, blank: [120, 40], work: [{cut-in: {side: face, outline: [[50, 0], [60, 34], [70, 0]]}}]}"
	const allRound = "{from: b, blank: [60, 40], work: [{round: {by: 3}}]}"
	for _, c := range []struct {
		name, ages, ease, part string
		toy                    prove.Verdict
		also                   string // a finding beside that of the toy
		want                   prove.Verdict
	}{
		{"cube", "3 and up", "", cube, prove.Holds, "", 0},
		{"cube eased", "3 and up", "1.5", cube, prove.Holds, "", 0},
		{"cube eased in inches", "3 and up", "25.4 / 16", cube, prove.Holds, "", 0},
		{"cube eased little", "3 and up", "1", cube, prove.Mind, "", 0},
		{"cube under 3", "2 and up", "", cube, prove.Mind, "", 0},
		{"cube under 3 eased little", "2 and up", "1.5", cube, prove.Mind, "", 0},
		{"cube under 3 eased", "2 and up", "3", cube, prove.Holds, "", 0},
		{"rounded all over", "2 and up", "", allRound, prove.Holds, "", 0},
		{"spire", "3 and up", "", spire(40), prove.Holds, "it (point)", prove.Fails},
		{"blunt spire", "3 and up", "", spire(20), prove.Holds, "", 0},
		// Of a pyramid 40 mm square and h high, of wood that is crushed at 50.3 N/mm², a
		// flat of 4.45 / 50.3 mm² or 0.297 mm square stands; the slot takes 1.016 mm. Between
		// lie 0.719 h/40, and the head 0.508 mm down is reached from h = 28.3 mm on.
		{"spire just too blunt", "3 and up", "", spire(28), prove.Holds, "", 0},
		{"spire just sharp", "3 and up", "", spire(28.6), prove.Holds, "it (point)", prove.Fails},
		{"spire eased", "3 and up", "1.5", spire(40), prove.Holds, "", 0},
		{"spire eased little", "3 and up", "0.4", spire(40), prove.Mind, "it (point)", prove.Fails},
		{"spire for 8 years", "8 and up", "", spire(40), prove.Holds, "", 0},
		{"wedge of 14 degrees", "3 and up", "", wedge(30), prove.Holds, "it (arris)", prove.Mind},
		{"wedge eased", "3 and up", "1.5", wedge(30), prove.Holds, "", 0},
		{"sharp notch", "3 and up", "", notched, prove.Holds, "", 0},
	} {
		thick := 40.0
		s := sheetOf{ages: c.ages, stock: []string{board("b", thick)}, parts: []string{"it: " + c.part}, build: []string{"put: it"}}
		text := s.text()
		if c.ease != "" {
			text += "ease: " + c.ease + "\n"
		}
		rep := proof(t, text)
		if g := find(t, rep, "child.edges:toy"); g.Verdict != c.toy {
			t.Errorf("%s: %v %s", c.name, g.Verdict, g.Says)
		}
		for _, g := range rep.Findings {
			if g.Check != "child.edges" || g.About == "toy" {
				continue
			}
			if g.About != c.also || g.Verdict != c.want {
				t.Errorf("%s: %v %s %s", c.name, g.Verdict, g.About, g.Says)
			}
			c.also = ""
		}
		if c.also != "" {
			t.Errorf("%s: nothing about %s", c.name, c.also)
		}
	}
	// The tip of a spire under a roof cannot be touched.
	s := sheetOf{ages: "3 and up", stock: []string{board("b", 40)}, parts: []string{"it: " + spire(40), "foot: {from: b, blank: [40, 40], work: [{cut-in: {side: face, outline: {circle: [middle, middle], dia: 9}, depth: 3}}]}"},
		build: []string{"put: it", "{put: foot, sits: {bottom: it.top - 3, back: it.back, left: it.left}, glue-to: [it]}"}}
	for _, g := range proof(t, s.text()).Findings {
		if g.Check == "child.edges" && g.Verdict == prove.Fails {
			t.Errorf("covered: %s", g.Says)
		}
	}
}

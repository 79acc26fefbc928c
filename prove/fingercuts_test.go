package prove_test

import (
	"strings"
	"testing"

	"dryfit/prove"
)

// Mutants of the judging of sawn openings tried by hand: slots count like square holes; a slot only
// from 13 mm; no sheet; every shape in sheet fails; the depth to which a rod goes for that of the
// wall, and the other way about; 1.5 mm more of depth; what lies on a mouth forgotten; the
// smaller fingertip at all ages; what lies behind a thin cut not looked at; the whole cut for
// the stretch that holds; one mouth only; a rod of full size, or of 0.4, slides; the nearest walls
// only, or those 1.5 times as far; along a wall for across it; one way only; no last
// step of the search; rows of holes judged one by one. Each made a line here fail.

// Sawn openings are judged as drilled ones: rods of 6 and 13 mm of ASTM F963 4.18.2 for what
// is round and in thin rigid sheet; the custom of 6 to 12 mm, deeper than 10 mm, for the
// rest (common practice, no source; probes of 16 CFR 1500.48(c), from memory).
func TestSawnHoles(t *testing.T) {
	square := func(a, b float64) string {
		return f("{cut-out: {side: face, outline: {rect: [55, 25], size: [%g, %g]}}}", a, b)
	}
	blind := func(a, b, deep float64) string {
		return f("{cut-in: {side: face, outline: {rect: [55, 25], size: [%g, %g]}, depth: %g}}", a, b, deep)
	}
	round := func(d float64) string {
		return f("{cut-out: {side: face, outline: {circle: [60, 30], dia: %g}}}", d)
	}
	line := func(pts string) string { return "{cut-out: {side: face, outline: [" + pts + "]}}" }
	plate := "{put: plate, sits: {%s, back: it.back, left: it.left}, glued: yes}"
	under, over := f(plate, "top: it.bottom"), f(plate, "bottom: it.top")
	for _, c := range []struct {
		name, ages string
		thick      float64
		work       string
		build      []string
		want       prove.Verdict
		says       string
	}{
		{"square", "2 and up", 30, square(10, 10), nil, prove.Mind, "10 mm across, 10 mm long and open 30 mm deep"},
		{"square at 3", "3 and up", 30, square(10, 10), nil, prove.Mind, ""},
		{"square at 5", "5 and up", 30, square(10, 10), nil, prove.Holds, ""},
		{"square for a tip of 5.6 mm", "2 and up", 30, square(7, 7), nil, prove.Mind, ""},
		{"square too small for a tip of 8.6 mm", "3 and up", 30, square(8.5, 8.5), nil, prove.Holds, ""},
		{"square that just takes it", "3 and up", 30, square(8.7, 8.7), nil, prove.Mind, ""},
		{"square too small", "2 and up", 30, square(5.9, 5.9), nil, prove.Holds, ""},
		{"wide enough", "2 and up", 30, square(12, 12), nil, prove.Holds, ""},
		{"nearly wide enough", "2 and up", 30, square(11.9, 11.9), nil, prove.Mind, ""},
		{"short slot", "2 and up", 30, square(8, 11.8), nil, prove.Mind, "8 mm across, 11.8 mm long"},
		{"slot", "2 and up", 30, square(8, 12.1), nil, prove.Holds, ""},
		{"long slot", "2 and up", 30, square(8, 30), nil, prove.Holds, ""},
		{"thin wood", "2 and up", 10, square(10, 10), nil, prove.Holds, ""},
		{"a little thicker", "2 and up", 10.2, square(10, 10), nil, prove.Mind, ""},
		{"not deep", "2 and up", 30, blind(10, 10, 10), nil, prove.Holds, ""},
		{"deeper", "2 and up", 30, blind(10, 10, 11), nil, prove.Mind, "open 11 mm deep"},
		{"turned square", "2 and up", 30, line("[60, 22.5], [67.5, 30], [60, 37.5], [52.5, 30]"), nil, prove.Mind, "10.6 mm across"},
		{"triangle", "2 and up", 30, line("[52, 22], [68, 22], [60, 36]"), nil, prove.Mind, ""},
		{"key hole", "2 and up", 30, line("[55, 25], [65, 25], [65, 35], [61.5, 35], [61.5, 50], [58.5, 50], [58.5, 35], [55, 35]"), nil, prove.Mind, "10 mm across"},
		{"open at the edge", "2 and up", 30, line("[55, -1], [65, -1], [65, 10], [55, 10]"), nil, prove.Holds, ""},
		{"round", "2 and up", 30, round(10), nil, prove.Mind, "it is 10 mm across and open"},
		{"round, wide", "2 and up", 30, round(12), nil, prove.Holds, ""},
		{"drawn at an angle, a long slot", "2 and up", 30, line("[40, 20], [46, 14], [80, 40], [74, 46]"), nil, prove.Holds, ""},
		{"a square hole of two boards", "2 and up", 15, square(10, 10), []string{"{put: it, as: other, sits: {top: it.bottom, back: it.back, left: it.left}, glued: yes}"}, prove.Mind, "open 30 mm deep"},
		{"and of two that are not deep enough alone", "2 and up", 8, square(10, 10), []string{"{put: it, as: other, sits: {top: it.bottom, back: it.back, left: it.left}, glued: yes}"}, prove.Mind, "open 16 mm deep"},
		{"two thin boards, too small a depth", "2 and up", 4.9, square(10, 10), []string{"{put: it, as: other, sits: {top: it.bottom, back: it.back, left: it.left}, glued: yes}"}, prove.Holds, ""},
		{"closed on both sides", "2 and up", 30, square(10, 10), []string{under, over}, prove.Holds, ""},
		{"closed on one", "2 and up", 30, square(10, 10), []string{under}, prove.Mind, "open 30 mm deep"},
		{"filled", "2 and up", 30, square(10, 10), []string{"{put: post, sits: {bottom: it.bottom, back: it.back + 55, right: it.right + 25}, glue-to: [it]}"}, prove.Holds, ""},
		{"filled but for 12 mm", "2 and up", 30, square(10, 10), []string{"{put: post, sits: {top: it.top - 12, back: it.back + 55, right: it.right + 25}, glue-to: [it]}"}, prove.Mind, "open 12 mm deep"},
		{"filled but for 8 mm", "2 and up", 30, square(10, 10), []string{"{put: post, sits: {top: it.top - 8, back: it.back + 55, right: it.right + 25}, glue-to: [it]}"}, prove.Holds, ""},
		{"a long slot filled but for 10 mm of its length", "2 and up", 30, square(20, 10), []string{"{put: post, sits: {bottom: it.bottom, back: it.back + 55, right: it.right + 25}, glue-to: [it]}"}, prove.Mind, "10 mm across, 10 mm long"},
		{"sheet, round", "2 and up", 1.5, round(10), nil, prove.Fails, "takes a 6 mm rod"},
		{"sheet, round, 12.5 mm", "2 and up", 1.5, round(12.5), nil, prove.Fails, ""},
		{"sheet, round, 13 mm", "2 and up", 1.5, round(13), nil, prove.Holds, ""},
		{"sheet, round, at 5", "5 and up", 1.5, round(10), nil, prove.Holds, ""},
		{"sheet, square", "2 and up", 1.5, square(10, 10), nil, prove.Mind, ""},
		{"sheet of 1.6 mm", "2 and up", 1.6, round(10), nil, prove.Holds, ""},
		{"sheet on a block", "2 and up", 1.5, round(10), []string{under}, prove.Holds, ""},
		{"holes in a row that run into each other", "2 and up", 30, "{drill: {side: face, dia: 10, row: {from: [60, 30], step: [3, 0], count: 4, name: hole}}}", nil, prove.Holds, ""},
		{"holes in a row that meet at a neck", "2 and up", 30, "{drill: {side: face, dia: 10, row: {from: [60, 30], step: [8, 0], count: 2, name: hole}}}", nil, prove.Mind, ""},
	} {
		s := sheetOf{ages: c.ages, stock: []string{board("b", c.thick), board("p", 20), board("q", 30)},
			parts: []string{"it: {from: b, blank: [120, 60], work: [" + c.work + "]}", "plate: {from: p, blank: [120, 60]}", "post: {from: q, blank: [10, 10]}"}, build: append([]string{"put: it"}, c.build...)}
		rep := prove.Only(model(t, s.text()), "child.holes")
		var worst prove.Finding
		for _, g := range rep.Findings {
			if g.Check != "child.holes" {
				continue
			}
			if worst.Check == "" || g.Verdict > worst.Verdict {
				worst = g
			}
			if (g.Verdict == prove.Holds) != (g.Margin >= 0) {
				t.Errorf("%s: %v with margin %g", c.name, g.Verdict, g.Margin)
			}
		}
		if worst.Verdict != c.want || !strings.Contains(worst.Says, c.says) {
			t.Errorf("%s: %v %s", c.name, worst.Verdict, worst.Says)
		}
		if c.want != prove.Holds && (len(worst.Places) == 0 || worst.Places[0].Feature == "") {
			t.Errorf("%s: no place", c.name)
		}
	}
}

// Two rails, each with half of a square notch, make a hole that no one cut makes alone; and
// work on a glue-up goes through all its pieces.
func TestHolesOfTwoPieces(t *testing.T) {
	rails := func(deep float64) string {
		return sheetOf{ages: "2 and up", stock: []string{board("b", 30)},
			parts: []string{f("it: {from: b, blank: [120, 60], work: [{notch: {side: face, at: [55, width - %g], size: [10, %g]}}]}", deep, deep)},
			build: []string{"put: it", "{put: it, as: other, lies: {length: forward, up: other-face}, sits: {right: it.left, back: it.back, bottom: it.bottom}, glued: yes}"}}.text()
	}
	for _, c := range []struct {
		deep float64
		want prove.Verdict
	}{{2.5, prove.Holds}, {5, prove.Mind}, {7, prove.Holds}} {
		worst := prove.Holds
		for _, g := range prove.Only(model(t, rails(c.deep)), "child.holes").Findings {
			if g.Check == "child.holes" {
				worst = max(worst, g.Verdict)
			}
		}
		if worst != c.want {
			t.Errorf("notches of %g mm: %v", c.deep, worst)
		}
	}
	both := sheetOf{ages: "2 and up", stock: []string{board("b", 8)}, parts: []string{"it: {from: b, blank: [120, 60]}"},
		glueUps: []string{"pair: {pieces: [{put: it, as: one}, {put: it, as: two, sits: {bottom: one.top, back: one.back, left: one.left}, glued: yes}], work: [{cut-out: {side: face, outline: {rect: [55, 25], size: [10, 10]}}}]}"},
		build:   []string{"put: pair"}}
	if g := find(t, prove.Only(model(t, both.text()), "child.holes"), "child.holes:pair/work.1"); g.Verdict != prove.Mind || !near(g.Value, 16, 0.05) {
		t.Errorf("%v %g %s", g.Verdict, g.Value, g.Says)
	}
}

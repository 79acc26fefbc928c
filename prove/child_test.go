package prove_test

import (
	"strings"
	"testing"

	"dryfit/prove"
)

// Mutants of the checks of cord and material tried by hand, each caught here or by
// examples/broken: 300 and 800 mm changed over; a knot counts as a bead; a bead is
// minded only; no age; under 18 months everything beyond 12 in fails; walnut minded at 3;
// "lead-free" read as lead; "no creosote" read as creosote; stock names not looked at; stock
// that no piece comes from looked at.

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

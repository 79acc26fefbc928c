package prove_test

import (
	"strings"
	"testing"

	"dryfit/prove"
)

// A bit reaches ten of its diameters, at most 100 mm (common practice, no source): as deep it
// holds, deeper is minded, and right through it reaches twice that, from both sides.
func TestCutDeepHoles(t *testing.T) {
	for _, c := range []struct {
		name      string
		thick     float64
		work      string
		want      prove.Verdict
		says, not string
	}{
		{"through, reached", 40, "{drill: {side: face, dia: 4, at: [[30, 30]]}}", prove.Holds, "", ""},
		{"through, from both sides", 80, "{drill: {side: face, dia: 4, at: [[30, 30]]}}", prove.Holds, "", ""},
		{"through, not even so", 82, "{drill: {side: face, dia: 4, at: [[30, 30]]}}", prove.Mind, "82 mm deep, and an ordinary bit of 4 mm reaches about 40 mm: take a long bit, and drill from both sides", ""},
		{"stopped, reached", 90, "{drill: {side: face, dia: 4, depth: 40, at: [[30, 30]]}}", prove.Holds, "", ""},
		{"stopped", 90, "{drill: {side: face, dia: 4, depth: 42, at: [[30, 30]]}}", prove.Mind, "42 mm deep, and an ordinary bit of 4 mm reaches about 40 mm: take a long bit", "both sides"},
		{"leaning", 60, "{drill: {side: face, dia: 4, at: [[30, 30]], lean: {toward: right, by: 10°}}}", prove.Mind, "take a long bit", "both sides"},
		{"a large bit is no longer", 240, "{drill: {side: face, dia: 25, at: [[30, 30]]}}", prove.Mind, "reaches about 100 mm", ""},
		{"sawn thinner before", 82, "{saw: {side: edge, outline: [[0, 0], [60, 0], [60, 40], [0, 40]]}}, {drill: {side: other-face, dia: 4, at: [[30, 30]]}}", prove.Holds, "", ""},
	} {
		s := block("mm", 60, 60, c.thick, c.work)
		only(t, c.name, "", s, c.want, c.says)
		if c.not != "" {
			for _, f := range cutFinds(t, "", s) {
				if strings.Contains(f.Says, c.not) {
					t.Errorf("%s: %s", c.name, f.Says)
				}
			}
		}
	}
	notes := strings.Join(cutOf(t, "", block("mm", 60, 60, 80, "{drill: {side: face, dia: 4, named: {far: [30, 30]}}}"), "toy").Notes, "; ")
	if !strings.Contains(notes, "drill from both, or take a long bit (it/far)") {
		t.Errorf("from both sides is not told: %s", notes)
	}
	if notes := strings.Join(cutOf(t, "", block("mm", 60, 60, 40, "{drill: {side: face, dia: 4, at: [[30, 30]]}}"), "toy").Notes, "; "); strings.Contains(notes, "long bit") {
		t.Errorf("a bit that reaches: %s", notes)
	}
}

// Two walls with air between them: each is drilled from its own side, however far apart they are.
func TestCutDeepHoleThroughAir(t *testing.T) {
	s := sheetOf{stock: []string{board("b", 9)}, parts: []string{"floor: {from: b, blank: [60, 200]}", "wall: {from: b, blank: [60, 40], lies: {length: forward, left: face}}"},
		build: []string{"put: box"}}
	text := strings.Replace(s.text(), "build:", `glue-ups:
  box:
    pieces:
      - put: floor
      - {put: wall, as: right-wall, sits: {left: floor.right, bottom: floor.bottom, back: floor.back}, glued: yes}
      - {put: wall, as: left-wall, sits: {right: floor.left, bottom: floor.bottom, back: floor.back}, glued: yes}
    work:
      - drill: {side: edge, dia: 6, named: {rod: [30, 25]}}
build:`, 1)
	m := model(t, text)
	deep := prove.DeepHoles(m)
	if len(deep) != 1 || deep[0].On != "box" || !near(deep[0].Deep, 218, 1e-6) || !near(deep[0].Half, 9, 1e-6) || !deep[0].Reached() {
		t.Errorf("%+v", deep)
	}
	for _, f := range proof(t, text).Findings {
		if f.Check == "cut.possible" && f.Verdict != prove.Holds {
			t.Errorf("%v %s", f.Verdict, f.Says)
		}
	}
}

// A recess deeper than an inch is bored out first; one that is more than four times as deep as
// it is wide cannot be pared (common practice, no source).
func TestCutDeepRecess(t *testing.T) {
	recess := func(wide, deep float64) sheetOf {
		return block("mm", 120, 80, 80, f("{cut-in: {side: face, outline: {rect: [20, 15], size: [85, %g]}, depth: %g}}", wide, deep))
	}
	only(t, "as wide as a quarter", "", recess(11, 44), prove.Holds, "")
	only(t, "narrower", "", recess(10.9, 44), prove.Mind, "44 mm deep and only 10.9 mm wide")
	only(t, "narrow and shallow", "", recess(4, 25), prove.Holds, "")
	for deep, want := range map[float64]bool{25: false, 45: true} {
		notes := strings.Join(cutOf(t, "", recess(50, deep), "toy").Notes, "; ")
		if got := strings.Contains(notes, "bore most of the wood out"); got != want {
			t.Errorf("%g mm deep: bored out first %v, want %v", deep, got, want)
		}
	}
}

// An outline that leaves its blank is minded with how far; one that only touches its edge is
// not, nor one that leaves the first piece of a glue-up but not the glue-up.
func TestCutLeavesTheBlank(t *testing.T) {
	arc := func(low string) sheetOf {
		return block("mm", 180, 64, 20, "{saw: {side: face, outline: [[0, 0], [140, 0], {to: [180, 0], through: [160, "+low+"]}, [180, 64], [0, 64]]}}")
	}
	only(t, "past it", "", arc("-8"), prove.Mind, "it (work 1, saw) leaves the blank by 8 mm, at its lower side as seen")
	only(t, "a pencil line past it", "", arc("-0.5"), prove.Holds, "")
	only(t, "on it", "", arc("8"), prove.Holds, "")
	only(t, "a cut-in is meant to", "", block("mm", 180, 64, 20, "{cut-in: {side: face, outline: {circle: [60, -3], dia: 30}}}"), prove.Holds, "")
	s := sheetOf{stock: []string{board("b", 20)}, parts: []string{"core: {from: b, blank: [120, 40]}"}, build: []string{"put: body"}}
	body := func(high string) string {
		return strings.Replace(s.text(), "build:", `glue-ups:
  body:
    pieces:
      - put: core
      - {put: core, as: upper, sits: {right: core.left, bottom: core.bottom, back: core.back}, glued: yes}
    work:
      - saw: {side: face, outline: [[0, 0], [120, 0], [120, `+high+`], [0, 80]]}
build:`, 1)
	}
	for high, want := range map[string]prove.Verdict{"80": prove.Holds, "83": prove.Mind} {
		for _, f := range proof(t, body(high)).Findings {
			if f.Check == "cut.possible" && f.About == "body/work.1" && want == prove.Holds {
				t.Errorf("%s: %s", high, f.Says)
			}
			if f.Check == "cut.possible" && f.About == "body/work.1" && !strings.Contains(f.Says, "leaves the wood by 3 mm, at its upper side") {
				t.Errorf("%s: %s", high, f.Says)
			}
		}
		if want == prove.Mind {
			find(t, proof(t, body(high)), "cut.possible:body/work.1")
		}
	}
}

package prove_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"dryfit/prove"
)

// These tests, and those of cut_wall_test.go, were tried on a scratch copy in which
// cut.possible had been changed by hand, one at a time, and each of these 59 changes made
// one of them fail: the share, least and most of a wall; the drill point; the worst of a
// row; a wall not square to its surface, or off the diameter, or at a seam inside the wood,
// or at the hole's own mouth, or in the middle only, or at the lip of round wood; a hole for
// the saw, a seat, a dowel's hole, the cord's and a counterbore not told apart; pegs that
// collide told twice; outlines read the other way round, arcs of little turn counted,
// drawn-out curves twice as wide, the width of a cut from its last side; half the blade,
// the band-saw formula for the table, a band saw for a window, a usual saw that fails, a
// saw too small for the wood still turning in it, recesses sawn; half the kerf, the larger
// kerf; bits of any shop, the wrong neighbour; only the first layer of a glue-up, or its
// holes taken for those of the part; nothing in front of a stopped hole, or a flat bit
// that may come through; any pilot; slopes of 40 and of 6 degrees; later work counted, and
// what is kept taken for what is gone; a drill 5 mm beside the wood; tiny pieces worked from
// one side; rounds half as small; inch dowels in millimetres, and lengths for boards.

// cutOf proves a toy of one part (and, unless it is empty, a shop) and returns what
// cut.possible finds about a thing.
func cutOf(t testing.TB, shop string, s sheetOf, about string) prove.Finding {
	t.Helper()
	return find(t, proof(t, cutText(shop, s)), "cut.possible:"+about)
}

func cutText(shop string, s sheetOf) string {
	text := s.text()
	if shop != "" {
		text = strings.Replace(text, "stock:\n", "shop: "+shop+"\nstock:\n", 1)
	}
	return text
}

// block is a toy of one block, length x width x thick, with work.
func block(units string, length, width, thick float64, work ...string) sheetOf {
	return sheetOf{units: units, stock: []string{board("b", thick)}, build: []string{"put: it"},
		parts: []string{f("it: {from: b, blank: [%g, %g], work: [%s]}", length, width, strings.Join(work, ", "))}}
}

// cutFinds returns the cut.possible findings other than the one that holds.
func cutFinds(t testing.TB, shop string, s sheetOf) (out []prove.Finding) {
	t.Helper()
	for _, f := range proof(t, cutText(shop, s)).Findings {
		if f.Check == "cut.possible" && f.Verdict != prove.Holds {
			out = append(out, f)
		}
	}
	return out
}

// only wants exactly one finding beside the one that holds, or none for Holds.
func only(t *testing.T, name, shop string, s sheetOf, want prove.Verdict, words string) {
	t.Helper()
	got := cutFinds(t, shop, s)
	if want == prove.Holds {
		for _, f := range got {
			t.Errorf("%s: %v %s: %s", name, f.Verdict, f.ID, f.Says)
		}
		return
	}
	if len(got) != 1 || got[0].Verdict != want || !strings.Contains(got[0].Says, words) || got[0].Margin >= 0 {
		t.Errorf("%s: want one %v with %q: %+v", name, want, words, got)
	}
}

// Inside radii against the printed band-saw table (trade tables, three of which agree; to
// 3/4 in they follow R = w²/(4 s) with a set s of 0.025 in): the printed radius can be sawn,
// 1/64 in less cannot.
func TestCutBandSawRadii(t *testing.T) {
	for _, c := range []struct{ blade, radius float64 }{{1. / 8, 3. / 16}, {3. / 16, 5. / 16}, {1. / 4, 5. / 8}, {3. / 8, 1.5}, {1. / 2, 2.5}, {3. / 4, 5.5}} {
		shop := f("{bits: [inch], band-saw: {blade: %g}}", c.blade)
		bay := func(r float64) sheetOf { // a round bay in the edge, in 3 in of wood
			return block("inch", 2*r+4, r+3, 3, bayOf(r))
		}
		only(t, "at the table", shop, bay(c.radius), prove.Holds, "")
		only(t, "below it", shop, bay(c.radius-1./64), prove.Mind, "inside curve")
	}
	// a width that no table has follows the formula: 0.3² / (4 x 0.025) = 0.9 in
	for r, want := range map[float64]prove.Verdict{0.91: prove.Holds, 0.89: prove.Mind} {
		s := block("inch", 6, 4, 3, bayOf(r))
		only(t, f("%g", r), "{band-saw: {blade: 0.3}}", s, want, "inside curve")
	}
}

// bayOf is the work of a half-round bay of that radius.
func bayOf(r float64) string {
	x, y := r*math.Cos(math.Pi/4), r*math.Sin(math.Pi/4)
	return f("{cut-in: {side: face, outline: [[1, 0], {to: [%.9g, %.9g], through: [%.9g, %.9g]}, {to: [%.9g, 0], through: [%.9g, %.9g]}]}}", 1+r, r, 1+r-x, y, 1+2*r, 1+r+x, y)
}

// The least radius of a scroll saw is half the width of its blade (common practice);
// a curve that was drawn out of chords counts like an arc, a sharp corner is no curve,
// and neither are outside corners.
func TestCutScrollSaw(t *testing.T) {
	shop := "{scroll-saw: {blade: 2}}"
	window := func(r string) sheetOf {
		return block("mm", 80, 60, 12, "{cut-out: {side: face, outline: {rect: [20, 20], size: [30, 20]"+r+"}}}")
	}
	only(t, "round enough", shop, window(", r: 1.01"), prove.Holds, "")
	only(t, "too tight", shop, window(", r: 0.95"), prove.Mind, "1.9 mm there first")
	only(t, "as tight as the kerf", "{scroll-saw: {kerf: 4}}", window(", r: 2.05"), prove.Holds, "")
	only(t, "tighter than the kerf", "{scroll-saw: {kerf: 4}}", window(", r: 1.9"), prove.Mind, "3.8 mm there first")
	only(t, "no bit of 1.94", shop, window(", r: 0.97"), prove.Mind, "sharp")
	only(t, "sharp", shop, window(""), prove.Holds, "")
	outside := block("mm", 80, 60, 12, "{saw: {side: face, outline: [[0, 0, r 0.3], [length, 0, r 0.3], [length, width, r 0.3], [40, 20], [0, width, r 0.3]]}}")
	only(t, "outside", shop, outside, prove.Holds, "")
	// a half circle of four cubic curves: control points at 0.5523 r
	for r, want := range map[float64]prove.Verdict{1.1: prove.Holds, 0.9: prove.Mind} {
		k := 0.5523 * r
		path := f("M 0 0 H %[1]g V 10 C %[1]g %[3]g %[4]g %[2]g 40 %[2]g C %[5]g %[2]g %[6]g %[3]g %[6]g 10 V 0 H 80 V 60 H 0 Z", 40-r, 10+r, 10+k, 40-k, 40+k, 40+r)
		only(t, f("drawn %g", r), shop, block("mm", 80, 60, 12, `{saw: {side: face, outline: {path: "`+path+`"}}}`), want, "inside curve")
	}
}

// Wood against the saw: said, it fails; usual, it minds. A near miss holds.
func TestCutThickness(t *testing.T) {
	whale := func(thick float64) sheetOf {
		return block("inch", 6, 3, thick, "{saw: {side: face, outline: [[0, 0], [length, 0], [length, width, r 1], [0, 2]]}}")
	}
	hole := func(thick float64) sheetOf {
		return block("inch", 6, 3, thick, "{cut-out: {side: face, outline: {rect: [1, 1], size: [2, 1]}}}")
	}
	for _, c := range []struct {
		name, shop string
		toy        sheetOf
		want       prove.Verdict
		words      string
	}{
		{"said", "{scroll-saw: {thickest: 2}}", whale(2), prove.Holds, ""},
		{"said, over", "{scroll-saw: {thickest: 2}}", whale(2.02), prove.Fails, "a saw takes 2 in"},
		{"the larger of two", "{scroll-saw: {thickest: 2}, band-saw: {thickest: 4}}", whale(4), prove.Holds, ""},
		{"neither", "{scroll-saw: {thickest: 2}, band-saw: {thickest: 4}}", whale(4.1), prove.Fails, "a saw takes 4 in"},
		{"one not said", "{scroll-saw: {thickest: 2}, band-saw: {}}", whale(6.1), prove.Mind, "a saw takes 6 in"},
		{"usual", "", whale(6), prove.Holds, ""},
		{"usual, over", "", whale(6.1), prove.Mind, "a saw takes 6 in"},
		{"pierced", "", hole(2), prove.Holds, ""},
		{"pierced, over", "", hole(2.1), prove.Mind, "chisel"},
		{"no scroll saw", "{band-saw: {}}", hole(1), prove.Mind, "no scroll saw"},
		{"not pierced", "{band-saw: {}}", block("inch", 6, 3, 1, "{cut-out: {side: face, outline: {rect: [1, 2], size: [2, 1]}}}"), prove.Holds, ""},
		{"a round window is drilled", "{band-saw: {}}", block("inch", 6, 3, 1, "{cut-out: {side: face, outline: {circle: [2, middle], dia: 3/4}}}"), prove.Holds, ""},
		{"a recess is not sawn", "{scroll-saw: {thickest: 1}}", block("inch", 6, 3, 3, "{cut-out: {side: face, outline: {rect: [1, 1], size: [2, 1]}, depth: 1}}"), prove.Holds, ""},
		{"from the edge", "{scroll-saw: {thickest: 2}}", block("inch", 6, 3, 1, "{saw: {side: edge, outline: [[0, 0], [length, 0], [length, 1/2], [0, thick]]}}"), prove.Fails, "through 3 in"},
	} {
		only(t, c.name, c.shop, c.toy, c.want, c.words)
	}
	// a glue-up is as thick as all its layers
	layers := sheetOf{units: "inch", stock: []string{board("b", 1)}, build: []string{"put: stack"}, parts: []string{"it: {from: b, blank: [4, 3]}"},
		glueUps: []string{"stack: {pieces: [{put: it}, {put: it, as: two, sits: {bottom: it.top, back: it.back, left: it.left}, glued: yes}, {put: it, as: three, sits: {bottom: two.top, back: it.back, left: it.left}, glued: yes}], work: [{saw: {side: face, outline: [[0, 0], [length, 0], [length, width, r 1], [0, width]]}}]}"}}
	only(t, "layers", "{scroll-saw: {thickest: 2}}", layers, prove.Fails, "through 3 in")
	only(t, "thinner layers", "{scroll-saw: {thickest: 3}}", layers, prove.Holds, "")
}

// Slots against the kerf, cut-outs against the hole for the blade (1/16 in, common practice).
func TestCutKerf(t *testing.T) {
	slot := func(word string, x, wide float64) sheetOf {
		return block("mm", 60, 40, 10, f("{%s: {side: face, outline: {rect: [%g, 15], size: [30, %g]}}}", word, x, wide))
	}
	only(t, "as wide", "{scroll-saw: {kerf: 1}, band-saw: {kerf: 1.5}}", slot("cut-in", 30, 1), prove.Holds, "")
	only(t, "narrower", "{scroll-saw: {kerf: 1}, band-saw: {kerf: 1.5}}", slot("cut-in", 30, 0.9), prove.Fails, "takes away: 1 mm")
	only(t, "usual kerf", "", slot("cut-in", 30, 0.45), prove.Mind, "takes away")
	only(t, "blade hole", "", slot("cut-out", 10, 1.6), prove.Holds, "")
	only(t, "no blade hole", "", slot("cut-out", 10, 1.5), prove.Mind, "no room")
}

// Bits: fractions by 64ths to 1 in, 0.1 mm steps to 13 and 0.5 above (ASME B94.11M and
// stock shops); the near pairs of the drill tables: 9/32 is not 7.1 mm, letter F is no
// fraction.
func TestCutBits(t *testing.T) {
	hole := func(dia string) sheetOf {
		return block("inch", 6, 4, 1, "{drill: {side: face, dia: "+dia+", at: [[3, 2]]}}")
	}
	for _, c := range []struct {
		shop, dia string
		want      prove.Verdict
		words     string
	}{
		{"{bits: [inch]}", "9/32", prove.Holds, ""},
		{"{bits: [inch]}", "2 1/8", prove.Holds, ""},
		{"{bits: [inch]}", "7.1 mm", prove.Fails, "9/32 in"},
		{"{bits: [inch]}", "7 mm", prove.Fails, "17/64 in and 9/32 in"},
		{"{bits: [inch]}", "0.257 in", prove.Fails, "1/4 in and 17/64 in"},
		{"{bits: [metric]}", "7 mm", prove.Holds, ""},
		{"{bits: [metric]}", "9/32", prove.Fails, "7.1 mm and 7.2 mm"},
		{"{bits: [metric, inch]}", "9/32", prove.Holds, ""},
		{"{bits: [metric]}", "1/2", prove.Holds, ""}, // 12.7 mm
		{"{bits: [metric]}", "13.2 mm", prove.Fails, "13 mm and 13.5 mm"},
		{"", "7 mm", prove.Holds, ""},
		{"", "6.55 mm", prove.Mind, "6.5 mm and 6.6 mm"},
		{"", "1/4 in + 0.019 mm", prove.Holds, ""},
		{"{bits: [inch]}", "2 1/2", prove.Mind, "hole saw"},
	} {
		only(t, c.shop+" "+c.dia, c.shop, hole(c.dia), c.want, c.words)
	}
	disc := func(made, bore string) sheetOf {
		s := block("mm", 100, 100, 12)
		s.parts[0] = f("it: {from: b, disc: 50, bore: %s, made: %s}", bore, made)
		return s
	}
	only(t, "bought", "{bits: [inch]}", disc("bought", "7"), prove.Holds, "")
	only(t, "sawn", "{bits: [inch]}", disc("sawn", "7"), prove.Fails, "7 mm")
	only(t, "hole saw", "", disc("hole-saw", "1/4 in"), prove.Holds, "")
	only(t, "hole saw, small", "", disc("hole-saw", "5"), prove.Mind, "leaves a hole")
	only(t, "counterbore", "{bits: [metric]}", block("mm", 100, 60, 20, "{drill: {side: face, dia: 6, at: [[50, 30]], counterbore: {dia: 13.2, depth: 5}}}"), prove.Fails, "13.2 mm")
	// a row is one finding
	only(t, "row", "{bits: [inch]}", block("mm", 200, 60, 20, "{drill: {side: face, dia: 7, row: {from: [20, 30], step: [20, 0], count: 8, name: r}}}"), prove.Fails, "7 mm")
}

// Stopped holes: the cone of a 118° point is tan 31° x d/2 = 0.3004 d high. 7 mm has no
// flat-bottomed bit in the table, 8 mm has.
func TestCutStopped(t *testing.T) {
	hole := func(dia, left float64) sheetOf {
		return block("mm", 100, 60, 20, f("{drill: {side: face, dia: %g, depth: %g, at: [[50, 30]]}}", dia, 20-left))
	}
	if cone := math.Tan(31*math.Pi/180) / 2; !near(cone, 0.3, 0.001) {
		t.Errorf("cone %g", cone)
	}
	only(t, "7 mm", "{bits: [metric]}", hole(7, 2.11), prove.Holds, "")
	only(t, "7 mm, deep", "{bits: [metric]}", hole(7, 2.05), prove.Mind, "comes through")
	only(t, "8 mm", "{bits: [metric]}", hole(8, 1.6), prove.Holds, "")
	only(t, "8 mm, deep", "{bits: [metric]}", hole(8, 1.5), prove.Mind, "comes through")
	notes := strings.Join(cutOf(t, "{bits: [metric]}", hole(8, 1.6), "toy").Notes, "\n")
	if !strings.Contains(notes, "flat-bottomed bit (it/work.1.1)") {
		t.Errorf("no note: %s", notes)
	}
}

// Pieces too small, and stock too short: 48 in or 1000 mm are the usual dowels (common
// practice).
func TestCutSizes(t *testing.T) {
	rod := func(units, length, longest string) sheetOf {
		stock := dowelOf("rod", "20 mm")
		if longest != "" {
			stock = strings.Replace(stock, "}", ", longest: "+longest+"}", 1)
		}
		return sheetOf{units: units, stock: []string{stock}, parts: []string{"it: {from: rod, length: " + length + "}"}, build: []string{"put: it"}}
	}
	only(t, "inch", "", rod("inch", "48", ""), prove.Holds, "")
	only(t, "inch, over", "", rod("inch", "48 1/4", ""), prove.Mind, "sold in 48 in")
	only(t, "mm", "", rod("mm", "1000", ""), prove.Holds, "")
	only(t, "mm, over", "", rod("mm", "1001", ""), prove.Mind, "sold in 1000 mm")
	only(t, "said", "", rod("mm", "1200", "1200"), prove.Holds, "")
	only(t, "said, over", "", rod("mm", "501", "500"), prove.Fails, "to be had in 500 mm")
	plank := block("mm", 900, 60, 20)
	only(t, "a board", "", plank, prove.Holds, "")
	plank.stock[0] = strings.Replace(plank.stock[0], "}", ", longest: 800}", 1)
	only(t, "a board, said", "", plank, prove.Fails, "to be had in 800 mm")

	two := "{saw: {side: face, outline: [[0, 0], [length, 0], [length, 8], [0, width]]}}, {drill: {side: edge, dia: 3, at: [[middle, middle]]}}"
	only(t, "small", "", block("mm", 26, 16, 10, two), prove.Holds, "")
	only(t, "tiny", "", block("mm", 25, 16, 10, two), prove.Mind, "hold by hand")
	only(t, "tiny, from one side", "", block("mm", 25, 16, 10, "{drill: {side: face, dia: 3, at: [[middle, middle]]}}"), prove.Holds, "")
	for made, want := range map[string]prove.Verdict{"sawn": prove.Mind, "turned": prove.Holds, "bought": prove.Holds} {
		s := block("mm", 100, 100, 5)
		s.parts[0] = "it: {from: b, disc: 12, made: " + made + "}"
		only(t, made, "", s, want, "dowel")
	}
}

// What is no fault is told once, in the finding that holds.
func TestCutNotes(t *testing.T) {
	notes := strings.Join(find(t, proof(t, tram(t)), "cut.possible:toy").Notes, "\n")
	for _, want := range []string{"usual tools", "(frame, trailer-frame)", "comes through (frame, ", "longer strip", "tightest inside curve, of radius 1/8 in, is in side"} {
		if !strings.Contains(notes, want) {
			t.Errorf("no note of %q in\n%s", want, notes)
		}
	}
	shop := "{bits: [inch], band-saw: {thickest: 6}, scroll-saw: {thickest: 2}}"
	if n := cutOf(t, shop, block("inch", 6, 4, 1, "{drill: {side: face, dia: 1/4, at: [[3, 2]]}}"), "toy"); strings.Contains(fmt.Sprint(n.Notes), "usual") {
		t.Errorf("a shop that says its tools: %v", n.Notes)
	}
	// A strip would cover the end that is drilled; the guide says the same (prove.HeldFor).
	for side, want := range map[string][2]bool{"face": {true, false}, "front": {false, true}} {
		notes := fmt.Sprint(cutOf(t, shop, block("inch", 2, 1, 1, "{drill: {side: "+side+", dia: 1/4, at: [[0.5, 0.5]]}}"), "toy").Notes)
		if got := [2]bool{strings.Contains(notes, "longer strip"), strings.Contains(notes, "longer block")}; got != want {
			t.Errorf("drilled in the %s: a strip, a block: %v, want %v: %s", side, got, want, notes)
		}
	}
}

// rnd gives the same numbers in every run.
func rnd() *rand.Rand { return rand.New(rand.NewSource(7)) }

package prove_test

import (
	"strings"
	"testing"

	"dryfit/prove"
)

// Worked cases of the small-parts cylinder of 16 CFR 1501.4, derived from its
// figure for these shapes: the clearance in inches of the best attitude, found by
// a search that is independent of this program. Line to line counts as fitting.
var smallCases = []struct {
	name, stock, part string
	clearance         float64 // in; below -1 where only the verdict is known
	fits              bool
}{
	{"1 disc 1.25 x .25", board("s", "1/4"), "from: s, disc: 1.25", 0, true},
	{"2 disc 1.24 x .25", board("s", "1/4"), "from: s, disc: 1.24", .005, true},
	{"3 disc 1.26 x .25", board("s", "1/4"), "from: s, disc: 1.26", -.005, false},
	{"4 wheel 1 x .375", board("s", "3/8"), "from: s, disc: 1, bore: 1/4", .125, true},
	{"5 wheel 1 x 1.3", board("s", "1.3"), "from: s, disc: 1, bore: 1/4", -.015, false},
	{"6 wheel 1.5 x .5", board("s", "1/2"), "from: s, disc: 1.5, bore: 1/4", -.125, false},
	{"10 sphere 1", "s: {wood: maple, form: ball, dia: 1}", "from: s", .125, true},
	{"11 sphere 1.25", "s: {wood: maple, form: ball, dia: 1.25}", "from: s", 0, true},
	{"12 sphere 1.5", "s: {wood: maple, form: ball, dia: 1.5}", "from: s", -.125, false},
	{"12 sphere 1.75", "s: {wood: maple, form: ball, dia: 1.75}", "from: s", -.25, false},
	{"15 cube .75", board("s", ".75"), "from: s, blank: [.75, .75]", .095, true},
	{"15 cube .875", board("s", ".875"), "from: s, blank: [.875, .875]", .006, true},
	{"15 cube .9375", board("s", ".9375"), "from: s, blank: [.9375, .9375]", -.038, false},
	{"15 cube 1", board("s", "1"), "from: s, blank: [1, 1]", -.082, false},
	{"16 block .75 x .75 x 1.5", board("s", ".75"), "from: s, blank: [1.5, .75]", -.034, false},
	{"19 block .25 x 1.25 x 1.5", board("s", ".25"), "from: s, blank: [1.5, 1.25]", -.012, false},
	{"20 dowel .25 x 2", dowelOf("s", ".25"), "from: s, length: 2", .044, true},
	{"20 dowel .25 x 2.25", dowelOf("s", ".25"), "from: s, length: 2.25", -.020, false},
	{"20 dowel .25 x 2.5", dowelOf("s", ".25"), "from: s, length: 2.5", -.083, false},
	{"21 dowel .375 x 1.875", dowelOf("s", ".375"), "from: s, length: 1.875", -9, true},
	{"21 dowel .375 x 2", dowelOf("s", ".375"), "from: s, length: 2", -.007, false},
	{"23 dowel .75 x 1.5", dowelOf("s", ".75"), "from: s, length: 1.5", 0, true},
	{"23 dowel .75 x 1.75", dowelOf("s", ".75"), "from: s, length: 1.75", -.073, false},
	{"24 dowel 1 x 1.5", dowelOf("s", "1"), "from: s, length: 1.5", -.073, false},
	// the longest dowel that fits, tilted (within .002), and a little over
	{"longest .125", dowelOf("s", ".125"), "from: s, length: 2.37", -9, true},
	{"over .125", dowelOf("s", ".125"), "from: s, length: 2.39", -9, false},
	{"longest .5", dowelOf("s", ".5"), "from: s, length: 1.769", -9, true},
	{"over .5", dowelOf("s", ".5"), "from: s, length: 1.79", -9, false},
}

// sharpEase says that arrises are hardly eased, as in the worked cases.
const sharpEase = "ease: 1/10000\n"

func smallToy(stock, part, ages string, glued bool) string {
	put := "{put: it, sits: {bottom: tray.top, middle-along: tray.middle, middle-across: tray.middle}}"
	if glued {
		put = strings.Replace(put, "}}", "}, glued: yes}", 1)
	}
	return sheetOf{units: "inch", ages: ages, stock: []string{board("b", 1), stock},
		parts: []string{"tray: {from: b, blank: [8, 6]}", "it: {" + part + "}"}, build: []string{"put: tray", put}}.text() + sharpEase
}

func TestSmallParts(t *testing.T) {
	for _, c := range smallCases {
		// Put down, it is loose: under three it fails where it fits.
		rep := proof(t, smallToy(c.stock, c.part, "18 months and up", false))
		l := find(t, rep, "child.small:loose")
		want := prove.Holds
		if c.fits {
			want = prove.Fails
		}
		if l.Verdict != want || (l.Margin >= 0) == c.fits {
			t.Errorf("%s: loose %v, margin %g: %s", c.name, l.Verdict, l.Margin, l.Says)
		}
		if c.clearance > -1 && !near(l.Value, c.clearance*25.4, 0.0011*25.4) {
			t.Errorf("%s: clearance %g in, want %g", c.name, l.Value/25.4, c.clearance)
		}
		if c.fits && l.Places[0].Piece != "it" {
			t.Errorf("%s: at %s", c.name, l.Places[0].Piece)
		}
		// Glued on, it holds where its glue does; a ball touches in a spot, and comes off.
		a := find(t, proof(t, smallToy(c.stock, c.part, "18 months and up", true)), "child.small:attached")
		want = prove.Holds
		if c.fits && strings.Contains(c.name, "sphere") {
			want = prove.Fails
		}
		if a.Verdict != want || (a.Margin >= 0) != (want == prove.Holds) {
			t.Errorf("%s: attached %v: %s", c.name, a.Verdict, a.Says)
		}
		if lo := find(t, proof(t, smallToy(c.stock, c.part, "18 months and up", true)), "child.small:loose"); lo.Verdict != prove.Holds {
			t.Errorf("%s: glued on, yet loose: %s", c.name, lo.Says)
		}
		// From three years on both hold, and the label has to warn.
		for _, ages := range []string{"3 and up", ""} {
			rep := proof(t, smallToy(c.stock, c.part, ages, false))
			l := find(t, rep, "child.small:loose")
			label := strings.Contains(strings.Join(l.Notes, "\n"), "label: small parts, not for children under 3 years (it)")
			if l.Verdict != prove.Holds || l.Margin < 0 || label != c.fits {
				t.Errorf("%s at %q: %v, label %v", c.name, ages, l.Verdict, label)
			}
		}
	}
}

// The border is three years: 35 months fails, 36 holds.
func TestSmallPartsAge(t *testing.T) {
	for ages, want := range map[string]prove.Verdict{"35 months and up": prove.Fails, "36 months and up": prove.Holds, "2 and up": prove.Fails, "3+": prove.Holds} {
		l := find(t, proof(t, smallToy(board("s", "3/8"), "from: s, disc: 1", ages, false)), "child.small:loose")
		if l.Verdict != want {
			t.Errorf("%s: %v", ages, l.Verdict)
		}
	}
}

// A sawn piece is decided by its hull, not by its blank, or left open; never held
// where it plainly fits.
func TestSmallPartsSawn(t *testing.T) {
	// half of a 1.5 x .5 wheel fits (case 7) though the whole wheel does not
	half := "from: s, blank: [1.5, 1.5], work: [{saw: {side: face, outline: {path: 'M0 0 H1.5 A.75 .75 0 0 1 0 0 Z'}}}]"
	l := find(t, proof(t, smallToy(board("s", ".5"), half, "18 months and up", false)), "child.small:loose")
	if l.Verdict == prove.Holds {
		t.Errorf("half a wheel holds: %s", l.Says)
	}
	t.Logf("half a wheel: %v", l.Verdict)
}

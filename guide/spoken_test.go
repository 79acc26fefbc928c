package guide_test

import (
	"strings"
	"testing"

	"dryfit/guide"
)

// Who builds has no file: holes are told by what they are, and names by their words.
func TestSpokenNotes(t *testing.T) {
	notes := func(name string) string { return strings.Join(of(t, name).Notes, "\n") }
	for name, want := range map[string]string{
		"broken/cut.possible-no-such-bit": "for the hole of the block;",
		"tipping-wagon":                   "(rest, cleat)",
		"quay-tram":                       "(wheel, coupling pin)",
	} {
		if got := notes(name); !strings.Contains(got, want) {
			t.Errorf("%s: want %q in\n%s", name, want, got)
		}
	}
	text := "dryfit: 1\ntoy: Hull\nunits: mm\nages: 18 months and up\nstock:\n  b: {wood: beech, form: board, thick: 40}\nparts:\n" +
		"  hull: {from: b, blank: [120, 60], work: [{drill: {side: other-face, dia: 9, depth: 30, at: [[30, 30]]}}]}\nbuild:\n  - put: hull\n"
	if got := strings.Join(guide.Of(input(t, text)).Notes, "\n"); !strings.Contains(got, "a finger can stick in the 9 mm hole in the hull's other face") {
		t.Errorf("the hull's hole: %s", got)
	}
}

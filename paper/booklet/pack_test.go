package booklet_test

import (
	"regexp"
	"strings"
	"testing"

	"dryfit/paper/layout"
)

// In a pack a step that works by a pattern names its page: the word that only the pattern
// of that side has is found there.
func TestStepsNameThePageOfTheirPattern(t *testing.T) {
	for name, find := range map[string]map[string]string{
		"plain/joinery": {"left side.": "LEFT SIDE OF THE BOX"},
		"tipping-wagon": {"right side.": "SIDE OF THE"},
	} {
		data, err := book(t, example(t, name)).Pack(layout.A4, layout.A4)
		if err != nil {
			t.Fatal(err)
		}
		pages := strings.Split(tool(t, "pdftotext", saved(t, "pack.pdf", data), "-"), "\f")
		all := regexp.MustCompile(`\s+`).ReplaceAllString(strings.Join(pages, " "), " ")
		for side, word := range find {
			on := regexp.MustCompile(`Stick the pattern on the `+regexp.QuoteMeta(side)+` It is on page (\d+)\.`).FindAllStringSubmatch(all, -1)
			if len(on) == 0 {
				t.Errorf("%s: no step names the page of the pattern on the %s", name, side)
			}
			for _, m := range on {
				n := 0
				for _, c := range m[1] {
					n = 10*n + int(c-'0')
				}
				if n > len(pages) || !strings.Contains(strings.ReplaceAll(pages[n-1], "\n", " "), word) {
					t.Errorf("%s: %q is not on page %d", name, word, n)
				}
			}
		}
		if n := strings.Count(all, "It is on page") + strings.Count(all, "They are on pages"); n < 4 {
			t.Errorf("%s: only %d steps name a page", name, n)
		}
	}
}

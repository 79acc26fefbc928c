package booklet_test

import (
	"strconv"
	"strings"
	"testing"

	"dryfit/paper/layout"
)

// A toy that fails says so on the cover, with the page where more is said, and at the foot of
// every page of patterns; one that holds says nothing of it.
func TestUnproved(t *testing.T) {
	good := example(t, "quay-tram")
	bad := strings.Replace(good, "\n  running: 1/16", "\n  running: 0", 1)
	if bad == good {
		t.Fatal("the tram has no size to break")
	}
	for _, c := range []struct {
		text  string
		fails bool
	}{{good, false}, {bad, true}} {
		b := book(t, c.text)
		data, err := b.Pack(layout.A4, layout.A4)
		if err != nil {
			t.Fatal(err)
		}
		path := saved(t, "pack.pdf", data)
		pages := strings.Split(tool(t, "pdftotext", "-layout", path, "-"), "\f")
		last := 0 // of the guide
		for i, p := range pages {
			if strings.Contains(p, "Good to know") {
				last = i
			}
		}
		if got := strings.Contains(pages[0], "Not proved: 4 findings fail; see page "+strconv.Itoa(last+1)); got != c.fails {
			t.Errorf("the cover says that it is not proved: %v, want %v\n%s", got, c.fails, pages[0])
		}
		for i, p := range pages[last+1:] {
			if p == "" {
				continue
			}
			if got := strings.Contains(p, "Not proved: 4 findings fail."); got != c.fails {
				t.Errorf("page %d of patterns says that it is not proved: %v, want %v", i+1, got, c.fails)
			}
		}
		if got := strings.Contains(string(b.HTML()), "Not proved"); got != c.fails {
			t.Errorf("the web page says that it is not proved: %v, want %v", got, c.fails)
		}
		if c.fails {
			guide, err := b.PDF(layout.A4)
			if err != nil {
				t.Fatal(err)
			}
			clear(t, tool(t, "pdftotext", "-bbox", saved(t, "guide.pdf", guide), "-"), layout.A4)
		}
	}
}

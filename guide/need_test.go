package guide_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"dryfit/guide"
	"dryfit/shop"
)

// What is needed is what the shop's list says: its sticks, bits, blades and hole saws.
func TestNeedsAgreeWithTheList(t *testing.T) {
	for _, name := range []string{"quay-tram", "tipping-wagon", "plain/hole-sawn", "plain/pegs", "plain/log-load", "plain/windows"} {
		file, err := os.ReadFile("../examples/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		in := input(t, string(file))
		g := guide.Of(in)
		var all []string
		for _, l := range g.Needs {
			all = append(all, l.Items...)
		}
		text := strings.Join(all, "\n")
		want := func(what string) {
			if !strings.Contains(text, what) {
				t.Errorf("%s: %q is not among\n%s", name, what, text)
			}
		}
		for _, d := range in.Lists.Dowels {
			for _, b := range d.Buy {
				word := "sticks"
				if b.Count == 1 {
					word = "stick"
				}
				want(fmt.Sprintf("%d %s of ", b.Count, word))
			}
		}
		for _, b := range in.Lists.Bits {
			if b.Name != "" {
				want(b.Name)
			}
		}
		narrow, scroll := "", false
		for _, s := range in.Lists.Saws {
			switch s.Saw {
			case shop.SawBand:
				narrow = s.Blade
			case shop.SawScroll:
				scroll = true
			}
		}
		if narrow != "" {
			want("a band saw with a " + narrow + " blade or narrower")
		}
		if strings.Contains(text, "A scroll saw, or a fret saw") != scroll {
			t.Errorf("%s: scroll saw in the list: %v\n%s", name, scroll, text)
		}
		for _, w := range in.Lists.Wheels {
			if w.StampedMM > 0 {
				want("stamped about")
			}
		}
	}
}

package booklet_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"dryfit/paper/draw"
	"dryfit/paper/layout"
)

// The page of pieces points at every one, or says which are not seen: of the tram, which
// hides five as it stands, none is left.
func TestEveryPieceIsPointedAt(t *testing.T) {
	for name, c := range map[string]struct{ pieces, unseen int }{"quay-tram": {23, 0}, "tipping-wagon": {23, 1}, "plain/joinery": {10, 0}, "plain/lidded-box": {5, 0}} {
		b := book(t, example(t, name))
		pages, _ := b.Pages(layout.A4)
		var says []string
		for _, p := range pages {
			var on []string
			p.Walk(func(k draw.Mark) {
				if k.Text != nil {
					on = append(on, k.Text.Says)
				}
			})
			if slices.Contains(on, b.Words.PieceSize) {
				says = on
			}
		}
		missing := ""
		for _, s := range says {
			if rest, ok := strings.CutPrefix(s, b.Words.NotSeen+": "); ok {
				missing = rest
			}
		}
		n := 0
		for i := 1; i <= c.pieces; i++ {
			if !slices.Contains(says, fmt.Sprint(i)) {
				if n++; !strings.Contains(missing, fmt.Sprint(i)) {
					t.Errorf("%s: nothing points at %d, and it is not said: %q", name, i, missing)
				}
			}
		}
		if n > c.unseen {
			t.Errorf("%s: %d pieces are not seen, %q", name, n, missing)
		}
	}
}

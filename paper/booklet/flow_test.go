package booklet_test

import (
	"math"
	"slices"
	"testing"

	"dryfit/paper/draw"
	"dryfit/paper/layout"
)

// The pages of the steps are full: below the steps of a column less than a sixth of it is
// blank on the whole, and the drawing of a step is on the page of all its words.
func TestPagesOfStepsAreFull(t *testing.T) {
	for _, name := range []string{"quay-tram", "tipping-wagon", "plain/quay-crane"} {
		b := book(t, example(t, name))
		pages, _ := b.Pages(layout.A4)
		var chapters []string
		for _, c := range b.Chapters {
			chapters = append(chapters, c.Title)
		}
		const foot, head = 21.0, 273.0 // of the body
		blank, all := 0.0, 0.0
		for _, p := range pages {
			steps := false
			low := [2]float64{head, head}
			p.Walk(func(k draw.Mark) {
				if k.Text == nil {
					return
				}
				c := k.Text.Corners()
				y, x := math.Min(c[0].Y, c[2].Y), math.Min(c[0].X, c[2].X)
				steps = steps || y > head && slices.Contains(chapters, k.Text.Says)
				if side := 0; y > foot && y < head {
					if x > p.Size.X/2 {
						side = 1
					}
					low[side] = math.Min(low[side], y)
				}
			})
			if steps {
				blank += low[0] + low[1] - 2*foot
				all += 2 * (head - foot)
			}
		}
		if all == 0 || blank/all > 1.0/6 {
			t.Errorf("%s: %.0f%% of the pages of the steps is blank", name, 100*blank/all)
		}
	}
}

package pattern

import (
	"testing"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
)

// No word on a page lies on another, on a line, or outside the paper's margin.
func TestWordsLieFree(t *testing.T) {
	for name, m := range toys(t) {
		for _, paper := range papersFor(name) {
			pages, _, err := pagesOf(m, paper)
			if err != nil {
				t.Fatal(err)
			}
			for n, page := range pages {
				var says []string
				var boxes []r2.Box
				var segs [][2]r2.Vec
				page.Walk(func(k draw.Mark) {
					if k.Layer == layout.LayerPage || k.Layer == layout.LayerMarks || len(k.Clips) > 0 {
						return // page furniture is layout's; tiles show part of words at their seams
					}
					if k.Text != nil {
						c := k.Text.Corners()
						says, boxes = append(says, k.Text.Says), append(boxes, r2.Around(c[:]...))
						return
					}
					if k.Path.Line == draw.NoLine {
						return
					}
					for _, r := range k.Path.Runs {
						pts := coarse(r)
						for i := 1; i < len(pts); i++ {
							segs = append(segs, [2]r2.Vec{pts[i-1], pts[i]})
						}
					}
				})
				for i, b := range boxes {
					if b.Min.X < paper.Margin.Left || b.Min.Y < paper.Margin.Bottom || b.Max.X > paper.W-paper.Margin.Right || b.Max.Y > paper.H-paper.Margin.Top {
						t.Errorf("%s, %s page %d: %q lies in the margin", name, paper.Name, n+1, says[i])
					}
					for j := range i {
						if meet(b, boxes[j]) {
							t.Errorf("%s, %s page %d: %q lies on %q", name, paper.Name, n+1, says[i], says[j])
						}
					}
					for _, s := range segs {
						if b.Hits(s[0], s[1]) {
							t.Errorf("%s, %s page %d: %q lies on a line", name, paper.Name, n+1, says[i])
							break
						}
					}
				}
			}
		}
	}
}

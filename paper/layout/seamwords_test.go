package layout

import (
	"fmt"
	"testing"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// A block with an image in it is tiled like any other.
func TestImageOnSeam(t *testing.T) {
	b := Block{ID: "deck", Size: v(430, 330), Split: true}
	b.Items = []draw.Item{draw.Image{Along: v(20, 0), Up: v(0, 20), Photo: &draw.Photo{Width: 1, Height: 1, Grey: true, Samples: []byte{1}}}}
	if _, err := Pages([]Block{b}, A4, Job{Title: "Toy"}); err != nil {
		t.Error(err)
	}
}

// Words everywhere on a board that takes several pages: each is whole on some
// page, none lies on a seam or a line, and every match letter is one seam's own.
func TestWordsKeepOffSeams(t *testing.T) {
	for _, turned := range []bool{false, true} {
		b := Block{ID: "deck", Title: "deck", Size: v(430, 330), Split: true, Turn: turned}
		b.Items = []draw.Item{draw.Path{Runs: []draw.Run{draw.Rect(r2.Box{Max: b.Size})}, Line: draw.Cut}}
		said := map[string]bool{}
		for i := range 11 {
			for j := range 12 {
				says := fmt.Sprintf("word %d.%d", i, j)
				said[says] = false
				at := v(20+35*float64(i), 12+27*float64(j))
				word := draw.Text{At: at, Says: says, Height: 2}
				box := draw.Bounds(word)
				b.Items = append(b.Items, draw.Group{Items: []draw.Item{draw.Path{Runs: []draw.Run{draw.Rect(box)}, Fill: draw.White}, word}},
					draw.Path{Runs: []draw.Run{draw.Polyline(at.Add(v(0, 6)), at.Add(v(18, 6)))}, Line: draw.Thin})
			}
		}
		other := b
		other.ID = "other deck"
		res, err := Pages([]Block{b, other}, A4, Job{Title: "Toy"})
		if err != nil {
			t.Fatal(err)
		}
		pages := map[string]map[r2.Vec]bool{} // of a letter: the places of its mark, in the block
		for _, p := range res.Places {
			if p.Rows*p.Cols < 2 {
				t.Fatal("the board fits a page")
			}
			c := cell{window: p.Window, row: p.Row, col: p.Col, rows: p.Rows, cols: p.Cols}
			free := c.clearOfSeams()
			onPage := r2.Around(p.OnPage.Apply(free.Min), p.OnPage.Apply(free.Max))
			res.Pages[p.Page].Walk(func(m draw.Mark) {
				if m.Text == nil || len(m.Clips) == 0 {
					return
				}
				corners := m.Text.Corners()
				box := r2.Around(corners[:]...)
				shown := m.Clips[0][0].Bounds()
				if !within(r2.Around(p.OnPage.Apply(p.Window.Min), p.OnPage.Apply(p.Window.Max)), shown) {
					return // of another tile on this page
				}
				if !within(box, onPage) {
					t.Errorf("%s on tile %d.%d of %s lies at %v, on a seam", m.Text.Says, p.Row+1, p.Col+1, p.ID, box)
				}
				said[m.Text.Says] = true
			})
			for _, i := range res.Pages[p.Page].Items {
				draw.Page{Items: []draw.Item{i}}.Walk(func(m draw.Mark) {
					if m.Text == nil || m.Layer != LayerMarks || !m.Text.Bold {
						return
					}
					if pages[m.Text.Says] == nil {
						pages[m.Text.Says] = map[r2.Vec]bool{}
					}
					pages[m.Text.Says][v(float64(p.Page), m.Text.At.X+1000*m.Text.At.Y)] = true
				})
			}
		}
		for says, ok := range said {
			if !ok {
				t.Errorf("%s is on no page", says)
			}
		}
		for letter, at := range pages {
			if len(at) != 2 {
				t.Errorf("the letter %s is on %d marks, want the 2 of one seam", letter, len(at))
			}
		}
		if len(pages) < 8 {
			t.Errorf("only %d letters", len(pages))
		}
	}
}

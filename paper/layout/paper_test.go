package layout

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
)

// Off a roll everything comes on one page, no longer than it must be, with all of it
// within the margins.
func TestRoll(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for _, width := range []float64{305, 610, 914} {
		var blocks []Block
		area := 0.0
		for i := range 12 {
			b := plain(fmt.Sprint(i), 30+r.Float64()*200, 20+r.Float64()*200)
			area += (b.Size.X + gap) * (b.Size.Y + gap)
			blocks = append(blocks, b)
		}
		res, err := Pages(blocks, Roll(width), Job{Title: "Toy"})
		if err != nil || len(res.Pages) != 1 {
			t.Fatalf("%g mm: %d pages, %v", width, len(res.Pages), err)
		}
		size := res.Pages[0].Size
		live := r2.Box{Min: v(UsualMargin, UsualMargin), Max: size.Sub(v(UsualMargin, UsualMargin))}
		if b := draw.Bounds(res.Pages[0].Items...); !inside(b, live) || b.Min.Y > live.Min.Y+5 {
			t.Errorf("%g mm: prints at %v of %v", width, b, size)
		}
		if size.X != width || area/(width*size.Y) < 0.5 {
			t.Errorf("%g mm: a page of %v is used by %.0f %%", width, size, 100*area/(width*size.Y))
		}
		for i, p := range res.Places {
			for _, q := range res.Places[:i] {
				if !apart(p.Cell, q.Cell, gap) {
					t.Errorf("%g mm: %s and %s overlap", width, p.ID, q.ID)
				}
			}
		}
	}
	if res, err := Pages([]Block{plain("one", 20, 20)}, Roll(300), Job{}); err != nil || res.Pages[0].Size.Y < barLength {
		t.Errorf("a small block: %v, %v", res.Pages, err)
	}
}

// Through a printer that is out of true, what is drawn, stretched and then printed
// by it comes out true, and nothing leaves the paper's margins.
func TestMeasured(t *testing.T) {
	for _, m := range []r2.Vec{{X: 98.6, Y: 99.1}, {X: 103}, {Y: 97.5}} {
		for _, paper := range []Paper{A4, Letter, Roll(500)} {
			paper.Measured, paper.Margin = m, Margin{Left: 12, Right: 4, Top: 6, Bottom: 9}
			res, err := Pages([]Block{plain("a", 120, 150), plain("b", 60, 40)}, paper, Job{Title: "Toy", Caution: "Mind.", Licence: "Free."})
			if err != nil {
				t.Fatal(err)
			}
			for _, page := range res.Pages {
				by := page.Stretched()
				for axis, c := range []struct{ by, measured float64 }{{by.X, m.X}, {by.Y, m.Y}} {
					if c.measured == 0 {
						c.measured = 100
					}
					if printed := c.by * c.measured / 100; math.Abs(printed-1) > 1e-12 {
						t.Errorf("%v, axis %d: a millimetre is printed as %g", m, axis, printed)
					}
				}
				b := draw.Bounds(page.Items...)
				on := r2.Box{Min: v(b.Min.X*by.X, b.Min.Y*by.Y), Max: v(b.Max.X*by.X, b.Max.Y*by.Y)}
				live := r2.Box{Min: v(12, 9), Max: v(page.Size.X-4, page.Size.Y-6)}
				if on.Min.X < live.Min.X-tol.Page || on.Min.Y < live.Min.Y-tol.Page || on.Max.X > live.Max.X+tol.Page || on.Max.Y > live.Max.Y+tol.Page {
					t.Errorf("%v on %s: prints at %v, may at %v", m, paper.Name, on, live)
				}
				said := false
				page.Walk(func(k draw.Mark) {
					said = said || k.Text != nil && k.Text.Bold && strings.Contains(k.Text.Says, "Made only for the printer whose 100 mm bars measured")
				})
				if !said {
					t.Errorf("%v on %s: the page does not say that it is corrected", m, paper.Name)
				}
			}
		}
	}
	for _, m := range []r2.Vec{{X: 50}, {Y: 120}, {X: math.NaN()}, {X: -98}} {
		p := A4
		p.Measured = m
		if _, err := Pages(nil, p, Job{}); err == nil || !strings.Contains(err.Error(), "a bar of 100 mm that measures") {
			t.Errorf("%v: %v", m, err)
		}
	}
	p := A4
	p.Margin.Top = -1
	if _, err := Pages(nil, p, Job{}); err == nil {
		t.Error("a margin below zero")
	}
}

// Blocks are turned only where that saves a page.
func TestTurnsOnlyIfItMust(t *testing.T) {
	s, _ := newSheet(A4, Job{})
	body := s.body.Size()
	flat := Block{ID: "flat", Size: v(body.X-10, 60), Turn: true}
	res, err := Pages([]Block{flat, flat}, A4, Job{})
	if err != nil || len(res.Pages) != 1 || res.Places[0].OnPage.Turn != 0 || res.Places[1].OnPage.Turn != 0 {
		t.Errorf("two that fit are turned: %+v, %v", res.Places, err)
	}
	// Beside an upright one there is room for it only if it is turned.
	high := Block{ID: "high", Size: v(body.X-70, body.Y)}
	res, err = Pages([]Block{high, flat}, A4, Job{})
	if err != nil || len(res.Pages) != 1 {
		t.Errorf("a turn that saves a page is not made: %d pages, %v", len(res.Pages), err)
	}
}

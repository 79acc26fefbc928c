// Package chart draws a plan of work: bars by hands and tools along time (bands.go), and below
// them every task in words (table.go). Time in which nobody works is drawn short, with a mark.
// All is ink and greys; what waits is hatched.
package chart

import (
	"fmt"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/pdf"
	"dryfit/paper/svg"
	"dryfit/shop/plan"
)

// Sizes on paper, mm.
const (
	titleHeight = 4.0
	textHeight  = 2.2
	smallHeight = 1.8
	pitch       = 4.2 // from line to line of text
)

// sheet is a page that fills from the top.
type sheet struct {
	box  r2.Box // what may be drawn on
	y    float64
	page draw.Page
}

// setter puts a plan on pages.
type setter struct {
	p      *plan.Plan
	paper  layout.Paper
	sheets []*sheet
}

// Pages draws a plan on paper, turned to lie on its long side.
func Pages(p *plan.Plan, paper layout.Paper) ([]draw.Page, error) {
	if paper.Roll {
		return nil, fmt.Errorf("a plan is drawn on sheets of paper, not on %s", paper.Name)
	}
	s := &setter{p: p, paper: paper}
	s.turn()
	s.title()
	s.bands()
	s.table()
	var pages []draw.Page
	for i, sh := range s.sheets {
		foot := fmt.Sprintf("%s · page %d of %d", draw.Shorten(p.Heading(), smallHeight, false, sh.box.Max.X-sh.box.Min.X-30), i+1, len(s.sheets))
		sh.page.Items = append(sh.page.Items, draw.Text{At: r2.Vec{X: sh.box.Max.X, Y: sh.box.Min.Y}, Says: foot, Height: smallHeight, Tone: draw.Pencil, Across: draw.Right})
		pages = append(pages, sh.page)
	}
	return pages, nil
}

// File writes a plan as "pdf" or "svg"; pages of a drawing lie one below the other.
func File(p *plan.Plan, paper layout.Paper, format string) ([]byte, error) {
	pages, err := Pages(p, paper)
	if err != nil {
		return nil, err
	}
	title := "Plan: " + p.Heading()
	switch format {
	case "pdf":
		return pdf.Write(pages, pdf.Meta{Title: title})
	case "svg":
		all := draw.Page{Size: r2.Vec{X: pages[0].Size.X, Y: pages[0].Size.Y * float64(len(pages))}}
		for i, pg := range pages {
			down := pages[0].Size.Y * float64(len(pages)-1-i)
			all.Items = append(all.Items, draw.Group{Move: draw.Translate(r2.Vec{Y: down}), Items: pg.Items})
		}
		return svg.Write(all, svg.Meta{Title: title, Describes: title}), nil
	}
	return nil, fmt.Errorf("no plan is drawn as %s: expected pdf or svg", format)
}

// turn begins a page.
func (s *setter) turn() *sheet {
	m := s.paper.Margin
	w, h := s.paper.H, s.paper.W
	// the page is turned a quarter to the left: its left is the paper's top
	sh := &sheet{page: draw.Page{Size: r2.Vec{X: w, Y: h}}, box: r2.Box{Min: r2.Vec{X: m.Top + 3, Y: m.Left + 3}, Max: r2.Vec{X: w - m.Bottom - 3, Y: h - m.Right - 3}}}
	sh.y = sh.box.Max.Y
	s.sheets = append(s.sheets, sh)
	return sh
}

// room is a page that has so much height left.
func (s *setter) room(height float64) *sheet {
	sh := s.sheets[len(s.sheets)-1]
	if sh.y-height < sh.box.Min.Y+pitch {
		sh = s.turn()
	}
	return sh
}

func (sh *sheet) add(items ...draw.Item) { sh.page.Items = append(sh.page.Items, items...) }

// title heads the first page.
func (s *setter) title() {
	sh := s.sheets[0]
	sh.y -= titleHeight
	wide := sh.box.Max.X - sh.box.Min.X
	sh.add(draw.Text{At: r2.Vec{X: sh.box.Min.X, Y: sh.y}, Says: draw.Shorten("Plan: "+s.p.Heading(), titleHeight, true, wide), Height: titleHeight, Bold: true})
	sh.y -= 1.5
	for _, says := range s.p.Unproved {
		for _, line := range draw.Wrap(says, textHeight, false, wide) {
			sh.y -= pitch
			sh.add(draw.Text{At: r2.Vec{X: sh.box.Min.X, Y: sh.y}, Says: line, Height: textHeight})
		}
	}
	for _, line := range append(s.p.Sums(), s.p.Night()) {
		sh.y -= pitch
		sh.add(draw.Text{At: r2.Vec{X: sh.box.Min.X, Y: sh.y}, Says: draw.Shorten(line, textHeight, false, wide), Height: textHeight})
	}
	sh.y -= pitch
	sh.add(draw.Text{At: r2.Vec{X: sh.box.Min.X, Y: sh.y}, Says: "Numbers are steps of the guide. Grey: hands and tools at work; dark: fitting a bit or blade; hatched: glue sets, finish dries. Times are h:mm from the start.", Height: smallHeight, Tone: draw.Pencil})
	sh.y -= 3
}

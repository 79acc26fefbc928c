package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/paper/draw"
	"dryfit/paper/pdf"
	"dryfit/paper/rack"
	"dryfit/paper/svg"
	"dryfit/shop"
	"dryfit/shop/boards"
	"dryfit/toy"
	"dryfit/toy/file"
)

// ReadShop reads a shop's own file, and refuses woods that no table knows and boards that
// have no proper outline.
func ReadShop(name, text string) (*toy.Shop, source.Problems) {
	f := source.New(name, text)
	s, probs := file.ReadShop(f)
	if len(probs) == 0 {
		probs = knownSpreads(f, s.Builder)
	}
	if len(probs) > 0 || s.Rack == nil {
		return s, probs
	}
	wood := func(name string, at source.Range) {
		if _, ok := facts.Wood(name); ok {
			return
		}
		p := f.Problem("wood", at, "no wood is called "+name)
		p.Expected, p.Nearest = "one of "+strings.Join(facts.WoodNames(), ", "), facts.NearWood(name)
		probs = append(probs, p)
	}
	planks := func(list []toy.Plank) {
		for _, b := range list {
			wood(b.Wood, b.WoodAt)
			var pts []outline.Corner
			for _, c := range b.Outline {
				pts = append(pts, outline.Corner{P: r2.Vec{X: c.X.MM(), Y: c.Y.MM()}})
			}
			line, err := outline.Corners(pts)
			if err == nil {
				if fault := line.Check(); fault != nil {
					err = fault
				}
			}
			if err != nil {
				probs = append(probs, f.Problem("board-outline", b.At, "this outline is no board: "+err.Error()))
			}
		}
	}
	sticks := func(list []toy.Stick) {
		for _, d := range list {
			wood(d.Wood, d.WoodAt)
		}
	}
	planks(s.Rack.Boards)
	planks(s.Rack.Sold.Boards)
	sticks(s.Rack.Dowels)
	sticks(s.Rack.Sold.Dowels)
	if len(probs) > 0 {
		return nil, probs.Sorted()
	}
	return s, nil
}

// MostToys is the most of one toy that are listed, laid or planned at once.
const MostToys = shop.MostToys

// Layout lays the flat pieces of toys on the boards of a shop, which may be nil.
func Layout(ctx context.Context, of []Making, s *toy.Shop, e boards.Effort) (*boards.Plan, error) {
	var runs []boards.Run
	for _, x := range of {
		if x.Count < 1 || x.Count > MostToys {
			return nil, fmt.Errorf("%d toys: expected 1 to %d", x.Count, MostToys)
		}
		m, probs := x.Toy.Model()
		if len(probs) > 0 {
			return nil, probs
		}
		runs = append(runs, boards.Run{Model: m, Count: x.Count})
	}
	p, err := boards.Lay(ctx, runs, s, e)
	if err != nil {
		return nil, err
	}
	p.Notes = slices.Insert(p.Notes, 0, unproved(of)...)
	return p, nil
}

// layouts are the layouts of a toy by itself, on what is sold.
func (t *Toy) layouts() ([]Made, error) {
	p, err := Layout(context.Background(), []Making{{t, 2}}, nil, boards.Effort{Seed: 1})
	if err != nil {
		return nil, err
	}
	pdf, err := DrawLayout(p, "pdf", Print{})
	if err != nil {
		return nil, err
	}
	return []Made{{"layout.json", LayoutJSON(p)}, {"layout.txt", []byte(p.Text())}, {"layout.pdf", pdf}}, nil
}

// LayoutJSON writes a layout as JSON.
func LayoutJSON(p *boards.Plan) []byte { return encode(p) }

// LayoutFormats are what a layout can be drawn as.
var LayoutFormats = []string{"pdf", "svg"}

// DrawLayout draws a layout: pages as PDF, or one picture of them all as SVG.
func DrawLayout(p *boards.Plan, format string, on Print) ([]byte, error) {
	paper, err := on.paper(p.Unit())
	if err != nil {
		return nil, err
	}
	pages, entries, err := rack.Pages(p, paper)
	if err != nil {
		return nil, err
	}
	title := rack.Title(p)
	if format == "svg" {
		return svg.Write(stacked(pages), svg.Meta{Title: title, Describes: p.Text()}), nil
	}
	return pdf.Write(pages, pdf.Meta{Title: title, Outline: entries})
}

// CheckLayoutPaper refuses a paper that boards are not drawn on.
func CheckLayoutPaper(on Print) error {
	paper, err := on.paper(measure.MM)
	if err == nil && paper.Roll {
		err = rack.ErrRoll
	}
	return err
}

// stacked puts pages one below the other.
func stacked(pages []draw.Page) draw.Page {
	var out draw.Page
	for _, p := range pages {
		out.Size = r2.Vec{X: max(out.Size.X, p.Size.X), Y: out.Size.Y + p.Size.Y}
	}
	top := out.Size.Y
	for _, p := range pages {
		top -= p.Size.Y
		out.Items = append(out.Items, draw.Group{Move: draw.Translate(r2.Vec{Y: top}), Items: p.Items})
	}
	return out
}

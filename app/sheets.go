package app

import (
	"errors"
	"sync"

	"dryfit/guide"
	"dryfit/paper/booklet"
	"dryfit/paper/draw"
	"dryfit/paper/pdf"
	"dryfit/paper/rack"
	"dryfit/paper/svg"
	"dryfit/shop/boards"
)

// What is shown on a screen page by page, drawn from the same lists as the files that are printed.

// Sheet is a page as a picture of its own.
type Sheet struct {
	Title      string
	SVG        []byte
	Wide, High float64 // mm
}

// sheetsOf writes pages as pictures. Of the entries of an outline, a page is called by the first that
// leads to it, or the last before it.
func sheetsOf(pages []draw.Page, entries []pdf.Entry) []Sheet {
	out := make([]Sheet, len(pages))
	title := ""
	for i, p := range pages {
		for k := len(entries) - 1; k >= 0; k-- {
			if entries[k].Page == i {
				title = entries[k].Title
			}
		}
		out[i] = Sheet{Title: title, SVG: svg.Write(p, svg.Meta{Title: title}), Wide: p.Size.X, High: p.Size.Y}
	}
	return out
}

// PatternSheets returns the pages that Patterns prints.
func (t *Toy) PatternSheets(on Print) ([]Sheet, error) {
	set, _, _, err := t.patterns(on)
	if err != nil {
		return nil, err
	}
	return sheetsOf(set.Pages, set.Outline), nil
}

// LayoutSheets returns the pages that DrawLayout prints.
func LayoutSheets(p *boards.Plan, on Print) ([]Sheet, error) {
	paper, err := on.paper(p.Unit())
	if err != nil {
		return nil, err
	}
	pages, entries, err := rack.Pages(p, paper)
	if err != nil {
		return nil, err
	}
	return sheetsOf(pages, entries), nil
}

// LayoutTable says where each piece of a board lies, as the table beside its drawing does.
func LayoutTable(p *boards.Plan, b *boards.Board) (heads []string, rows [][]string) {
	all := rack.Table(p, b)
	return all[0], all[1:]
}

// Steps is the guide with a drawing for each of its steps. It is safe for use by several
// goroutines.
type Steps struct {
	guide.Guide
	mu   sync.Mutex
	book *booklet.Book
}

// Steps makes the guide to be shown step by step.
func (t *Toy) Steps() (*Steps, error) {
	b, _, err := t.book(Print{})
	if err != nil {
		return nil, err
	}
	return &Steps{Guide: b.Guide, book: b}, nil
}

// ErrNoDrawing is returned for a step that shows nothing.
var ErrNoDrawing = errors.New("this step has no drawing")

// Draw returns the drawings of a step as one picture, SVG.
func (s *Steps) Draw(n int) ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	b, err := s.book.StepSVG(n)
	if err == nil && b == nil {
		err = ErrNoDrawing
	}
	return b, err
}

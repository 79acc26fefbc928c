// Package layout puts drawings on paper: it packs blocks at true size on few
// pages, tiles a block that is larger than a page, and draws around them what
// every page needs: a frame, a title, check bars both ways and the words of
// caution. [Pages] is the whole of it; paper.go has the papers, rolls and printers that
// are out of true, search.go looks for the packing.
//
// A block is never scaled, and it is turned or split only if it says it may be.
// A tiled block overlaps its neighbours by [Overlap]; marks with letters lie at
// the same place of the drawing on both pages, so that pages laid mark on mark
// are true. A [Place] tells for every part of a block where on which page it is.
package layout

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// Block is a drawing that stays together on the page.
type Block struct {
	ID    string // names the block in places and errors
	Title string // lettered above the drawing
	Note  string // lettered below the title
	Where string // lettered below the note
	Size  r2.Vec // mm
	Items []draw.Item
	Split bool // may be tiled over pages, if it is larger than a page
	Turn  bool // may be turned by a quarter
	Above bool // its lettering stands above it, never beside
}

// Job is what all pages of a set share.
type Job struct {
	Title   string
	Edition string // lettered after the title; may be empty
	Warning string // lettered at the foot of every page, before all else and bold; may be empty
	Caution string // lettered at the foot of every page; may be empty
	Licence string // below it; may be empty
	Before  int    // pages of the same document that come before these
}

// Place says where a block, or one tile of it, came to lie.
type Place struct {
	Block      int            // index of the block
	ID         string         // its ID
	Page       int            // index of the page
	Cell       r2.Box         // the room it takes on the page, with its lettering
	Window     r2.Box         // the part of the block that is shown, in block coordinates
	OnPage     draw.Transform // from block coordinates to the page, before its stretch
	Row, Col   int            // of the tile, counted from 0, rows from the top
	Rows, Cols int            // 1 and 1 for a block that is whole
}

// Result is the finished set of pages.
type Result struct {
	Pages  []draw.Page
	Places []Place // by page, then from the top, then from the left
}

// Pages lays the blocks out on paper. The same blocks give the same pages.
// It fails if a block has no sensible size, or is larger than a page and may not
// be split, or the paper has no room beside margins and check bars.
func Pages(blocks []Block, paper Paper, job Job) (Result, error) {
	sheet, err := newSheet(paper, job)
	if err != nil {
		return Result{}, err
	}
	var cells []cell
	letters := 0
	for i, b := range blocks {
		cs, err := sheet.cells(i, b, &letters)
		if err != nil {
			return Result{}, err
		}
		cells = append(cells, cs...)
	}
	spots, pages, err := pack(cells, sheet.body.Size(), paper.Roll)
	if large := (errTooLarge{}); errors.As(err, &large) {
		size := cells[large.cell].shapes[0].size
		return Result{}, fmt.Errorf("%s: %.0f × %.0f mm with its words is larger than the %.0f × %.0f mm that %s has room for",
			blocks[cells[large.cell].block].ID, size.X, size.Y, sheet.body.Size().X, sheet.body.Size().Y, paper.Name)
	} else if err != nil {
		return Result{}, err
	}
	if paper.Roll && pages == 1 {
		sheet.cutTo(used(spots, 0))
	}
	by := paper.Stretch()
	var res Result
	page := make([][]draw.Item, pages)
	alone := make([]string, pages) // what a block that fills its page says
	for i, c := range cells {
		s := spots[i]
		at := r2.Vec{X: sheet.body.Min.X + s.x, Y: sheet.body.Max.Y - s.y - s.h}
		place, items := c.draw(blocks[c.block], at, c.shapes[s.shape])
		place.Page = s.page
		res.Places = append(res.Places, place)
		page[s.page] = append(page[s.page], items...)
		if c.bare {
			b := blocks[c.block]
			alone[s.page] = strings.TrimSuffix(b.Title+", "+b.Note, ", ")
		}
	}
	slices.SortStableFunc(res.Places, func(a, b Place) int {
		return cmp.Or(cmp.Compare(a.Page, b.Page), cmp.Compare(b.Cell.Max.Y, a.Cell.Max.Y),
			cmp.Compare(a.Cell.Min.X, b.Cell.Min.X), cmp.Compare(a.Block, b.Block))
	})
	for i := range page {
		items := append(sheet.furniture(job.Before+i+1, job.Before+pages, alone[i]), page[i]...)
		page := draw.Page{Size: r2.Vec{X: sheet.paper.W, Y: sheet.paper.H}, Items: items}
		if paper.Measured != (r2.Vec{}) {
			page.Stretch = by
		}
		res.Pages = append(res.Pages, page)
	}
	return res, nil
}

// cells returns what is packed for a block: one cell, or one for each tile.
func (s *sheet) cells(i int, b Block, letters *int) ([]cell, error) {
	body := s.body.Size()
	if !(b.Size.X > 0 && b.Size.Y > 0) || math.IsInf(b.Size.X+b.Size.Y, 0) {
		return nil, fmt.Errorf("%s: a drawing of %g × %g mm has no size", b.ID, b.Size.X, b.Size.Y)
	}
	whole := cell{block: i, window: r2.Box{Max: b.Size}, rows: 1, cols: 1}
	if whole.shapes = shapes(b, body); len(whole.shapes) > 0 {
		return []cell{whole}, nil
	}
	plain := b // without lettering, which the page's header then says
	plain.Title, plain.Note, plain.Where = "", "", ""
	if whole.shapes = shapes(plain, body); len(whole.shapes) > 0 {
		whole.bare = true
		return []cell{whole}, nil
	}
	if !b.Split {
		return nil, fmt.Errorf("%s: %.0f × %.0f mm is larger than the %.0f × %.0f mm that %s has room for, and it may not be split",
			b.ID, b.Size.X, b.Size.Y, body.X, body.Y, s.paper.Name)
	}
	return tiles(i, b, body, letters), nil
}

func turn(v r2.Vec, turned bool) r2.Vec {
	if turned {
		return r2.Vec{X: v.Y, Y: v.X}
	}
	return v
}

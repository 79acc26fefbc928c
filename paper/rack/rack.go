// Package rack draws where pieces lie on boards (shop/boards), to mark the boards out by with
// rule and square: the whole rack on the first page, with what is short and what to buy, then
// each board by itself at scale, with its flaws, its grain, its pieces, and a table of how far
// each lies from the reference end and edge. [Pages] is the whole of it.
package rack

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/pdf"
	"dryfit/shop/boards"
)

// Layers of the pages.
const (
	LayerBoard  = "Boards"
	LayerPieces = "Pieces"
	LayerWords  = "Words"
	LayerScale  = "Measures"
)

// Lettering, mm: capitals and the step of lines, after the patterns.
const (
	small  = 1.8
	normal = draw.LabelHeight
	large  = 3.5
	step   = 3.4
	inset  = 3.0 // of what is drawn from what the printer cannot reach
)

// scales are the reductions that a board is drawn at: a rule is quickly read at them.
var scales = []float64{1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 25, 32, 40, 50}

// Title names the pages.
func Title(p *boards.Plan) string { return p.Heading() + ": boards" }

// ErrRoll refuses a roll of paper.
var ErrRoll = errors.New("boards are drawn on sheets of paper, not on a roll")

// Pages draws a plan on paper laid on its long side.
func Pages(p *boards.Plan, paper layout.Paper) ([]draw.Page, []pdf.Entry, error) {
	if paper.Roll {
		return nil, nil, ErrRoll
	}
	d := &drafter{p: p, size: r2.Vec{X: math.Max(paper.W, paper.H), Y: math.Min(paper.W, paper.H)}}
	m := math.Max(math.Max(paper.Margin.Left, paper.Margin.Right), math.Max(paper.Margin.Top, paper.Margin.Bottom)) + inset
	d.body = r2.Box{Min: r2.Vec{X: m, Y: m}, Max: d.size.Sub(r2.Vec{X: m, Y: m})}
	d.overview()
	for i := range p.Stocks {
		s := &p.Stocks[i]
		for k := range s.Boards {
			d.board(s, &s.Boards[k])
		}
	}
	for i := range d.pages {
		d.pages[i].Items = append(d.pages[i].Items, draw.Group{Layer: LayerWords, Items: []draw.Item{draw.Text{
			At: r2.Vec{X: d.body.Max.X, Y: d.body.Min.Y}, Says: fmt.Sprintf("page %d of %d", i+1, len(d.pages)), Height: small, Tone: draw.Pencil, Across: draw.Right},
			draw.Text{At: d.body.Min, Says: draw.Shorten("In "+unitName(p.Unit())+" from the corner with the arrow, along the reference edge and up from it, to the lower left corner of each piece, to the nearest "+boards.MarkStep(p.Unit())+". Sizes are along the grain × across it.", small, false, d.body.Size().X-25), Height: small, Tone: draw.Pencil}}})
	}
	return d.pages, d.entries, nil
}

type drafter struct {
	p       *boards.Plan
	size    r2.Vec
	body    r2.Box
	pages   []draw.Page
	entries []pdf.Entry
}

func (d *drafter) page(title, about string, items ...draw.Item) {
	head := []draw.Item{draw.Text{At: r2.Vec{X: d.body.Min.X, Y: d.body.Max.Y}, Says: draw.Shorten(title, large, true, d.body.Size().X), Height: large, Bold: true, Up: draw.Top}}
	if about != "" {
		head = append(head, draw.Text{At: r2.Vec{X: d.body.Min.X, Y: d.body.Max.Y - large - 2}, Says: draw.Shorten(about, normal, false, d.body.Size().X), Height: normal, Up: draw.Top})
	}
	d.pages = append(d.pages, draw.Page{Size: d.size, Items: append([]draw.Item{draw.Group{Layer: LayerWords, Items: head}}, items...)})
}

// headRoom is what title and the line below it take.
const headRoom = large + 2 + normal + 4

// room is the page below its head and above its foot.
func (d *drafter) room() r2.Box {
	return r2.Box{Min: d.body.Min.Add(r2.Vec{Y: small + 3}), Max: d.body.Max.Sub(r2.Vec{Y: headRoom})}
}

func vecs(pts [][2]float64) []r2.Vec {
	out := make([]r2.Vec, len(pts))
	for i, p := range pts {
		out[i] = r2.Vec{X: p[0], Y: p[1]}
	}
	return out
}

func boxOf(b *boards.Board) r2.Box { return r2.Around(vecs(b.OutlineMM)...) }

// outline is a piece in the coordinates of its board.
func outline(b *boards.Board, at *boards.Place) (runs []draw.Run) {
	if len(at.Outline) == 0 {
		low := boxOf(b).Min
		return []draw.Run{draw.Circle(low.Add(r2.Vec{X: at.XMM, Y: at.YMM}), at.LengthMM/2)}
	}
	runs = append(runs, draw.Polygon(vecs(at.Outline)...))
	for _, h := range at.Holes {
		runs = append(runs, draw.Polygon(vecs(h)...))
	}
	return runs
}

// wood is a board with its flaws and pieces at a scale, its box at a place.
func wood(b *boards.Board, scale float64, at r2.Vec, edge, piece draw.Line) []draw.Item {
	box := boxOf(b)
	to := draw.Translate(at).After(draw.Transform{Scale: 1 / scale}).After(draw.Translate(box.Min.Neg()))
	line := draw.Polygon(vecs(b.OutlineMM)...)
	items := []draw.Item{draw.Path{Runs: []draw.Run{to.Run(line)}, Line: edge}}
	for _, f := range b.Flaws {
		run := to.Run(draw.Polygon(vecs(f.At)...))
		items = append(items, draw.Group{Clip: []draw.Run{to.Run(line)}, Items: []draw.Item{
			draw.Hatch([]draw.Run{run}, math.Pi/4, 1.1), draw.Path{Runs: []draw.Run{run}, Line: draw.Thin}}})
	}
	out := []draw.Item{draw.Group{Layer: LayerBoard, Items: items}}
	var pieces []draw.Item
	for i := range b.Places {
		var runs []draw.Run
		for _, r := range outline(b, &b.Places[i]) {
			runs = append(runs, to.Run(r))
		}
		pieces = append(pieces, draw.Path{Runs: runs, Line: piece, Fill: draw.White})
	}
	return append(out, draw.Group{Layer: LayerPieces, Items: pieces})
}

// overview is the whole rack, and what is short, to be bought and left.
func (d *drafter) overview() {
	room := d.room()
	lines := slices.Clone(d.p.Notes)
	for i := range d.p.Stocks {
		s := &d.p.Stocks[i]
		lines = append(lines, d.p.Name(s)+": "+d.p.Says(s)+".")
		for _, x := range append(d.p.Shorts(s), d.p.Buys(s)...) {
			lines = append(lines, "   "+x)
		}
		var left []string
		for k := range s.Boards {
			if b := &s.Boards[k]; len(b.Left) > 0 {
				left = append(left, fmt.Sprintf("%s of %s", d.p.Size(b.Left[0].LengthMM, b.Left[0].WidthMM), b.Name))
			}
		}
		if len(left) > 0 {
			lines = append(lines, "   left: "+strings.Join(left, "; "))
		}
		for _, n := range s.Notes {
			lines = append(lines, "   note: "+n)
		}
	}
	if len(d.p.Unused) > 0 {
		lines = append(lines, "Not needed: "+strings.Join(d.p.Unused, ", ")+".")
	}
	var words []string
	strong := 0 // lines of what has to be seen before any wood is cut
	for i, l := range lines {
		lead := len(l) - len(strings.TrimLeft(l, " "))
		for k, w := range draw.Wrap(l, normal, i < len(d.p.Notes), room.Size().X-8) {
			if lead > 0 || k > 0 {
				w = "   " + w
			}
			words = append(words, w)
		}
		if i < len(d.p.Notes) {
			strong = len(words)
		}
	}
	const line = normal * 1.7
	most := int(room.Size().Y * 0.6 / line)
	rest := words[min(most, len(words)):]
	words = words[:min(most, len(words))]
	type thumb struct {
		b    *boards.Board
		used bool
		at   r2.Vec
	}
	var all []thumb
	for i := range d.p.Stocks {
		for k := range d.p.Stocks[i].Boards {
			all = append(all, thumb{b: &d.p.Stocks[i].Boards[k], used: true})
		}
	}
	spares := d.p.Spares()
	for i := range spares {
		all = append(all, thumb{b: &spares[i]})
	}
	field := r2.Box{Min: r2.Vec{X: room.Min.X, Y: room.Min.Y + float64(len(words))*line + 4}, Max: room.Max}
	const between, name = 6.0, 3.4
	lay := func(scale float64) bool {
		x, y, high := field.Min.X, field.Max.Y, 0.0
		for i := range all {
			size := boxOf(all[i].b).Size().Scale(1 / scale)
			wide := math.Max(size.X, draw.TextWidth(label(all[i].b, all[i].used), small, false))
			if x > field.Min.X && x+wide > field.Max.X {
				x, y, high = field.Min.X, y-high-between, 0
			}
			all[i].at = r2.Vec{X: x, Y: y - size.Y}
			x += wide + between
			high = math.Max(high, size.Y+name)
			if wide > field.Size().X || y-high < field.Min.Y {
				return false
			}
		}
		return true
	}
	scale := 0.0
	for _, s := range append(scales, 60, 80, 100, 150, 200) {
		if lay(s) {
			scale = s
			break
		}
	}
	var items []draw.Item
	if scale == 0 {
		rest = append([]string{"There are too many boards to show them all on one page."}, rest...)
	} else {
		for _, t := range all {
			edge, tone := draw.Outline, draw.Ink
			if !t.used {
				edge, tone = draw.Faint, draw.Pencil
			}
			items = append(items, wood(t.b, scale, t.at, edge, draw.Thin)...)
			items = append(items, draw.Group{Layer: LayerWords, Items: []draw.Item{draw.Text{At: t.at.Sub(r2.Vec{Y: 1}), Says: label(t.b, t.used), Height: small, Tone: tone, Up: draw.Top}}})
		}
	}
	about := d.p.Margins()
	if scale > 0 {
		first, n := utf8.DecodeRuneInString(about)
		about = fmt.Sprintf("Scale 1:%g. ", scale) + string(unicode.ToUpper(first)) + about[n:]
	}
	d.entries = append(d.entries, pdf.Entry{Title: "The rack", Page: len(d.pages)})
	d.page(Title(d.p), about, append(items, column(words, strong, r2.Vec{X: room.Min.X, Y: field.Min.Y - 4}, line))...)
	for len(rest) > 0 {
		n := min(len(rest), int(room.Size().Y/line))
		d.page(Title(d.p), "", column(rest[:n], 0, r2.Vec{X: room.Min.X, Y: room.Max.Y}, line))
		rest = rest[n:]
	}
}

// label is what stands below a board on the first page.
func label(b *boards.Board, used bool) string {
	switch {
	case !used:
		return b.Name + ", not needed"
	case b.From == boards.FromRack:
		return fmt.Sprintf("%s, %.0f %%", b.Name, 100*b.PiecesM2/b.AreaM2)
	}
	return b.Name + ", to be bought"
}

func column(words []string, strong int, top r2.Vec, line float64) draw.Item {
	var items []draw.Item
	for i, w := range words {
		x := top.X
		if t := strings.TrimLeft(w, " "); t != w {
			w, x = t, x+4
		}
		items = append(items, draw.Text{At: r2.Vec{X: x, Y: top.Y - float64(float64(i)*line)}, Says: w, Height: normal, Bold: i < strong, Up: draw.Top})
	}
	return draw.Group{Layer: LayerWords, Items: items}
}

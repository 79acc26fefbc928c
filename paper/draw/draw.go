// Package draw describes a page as a list of things to draw, in millimetres at
// true size, x to the right and y up from the lower left corner. It knows no
// file format: the writers (paper/pdf, paper/svg) turn a [Page] into bytes.
//
// A page holds four kinds of [Item]: a [Path] of lines and arcs with a line
// style and a tone of grey, a [Text], an [Image] (image.go), and a [Group] that
// moves, clips or puts on a layer what it holds. Runs of lines and arcs come from [Polyline],
// [Polygon], [Circle], [Rect] or step by step from [Start]; drafting helpers such
// as [Dimension], [Hatch] and [CentreMark] return groups. [Page.Walk] gives a
// writer the page flat, with every move already done.
//
// All values are plain and must not be changed once they are on a page.
// Colours are left out of lines and text on purpose: what prints is ink and greys,
// so that every page works on a black-and-white printer.
package draw

import (
	"math"

	"dryfit/geom/r2"
)

// Page is one piece of paper: its size and what is drawn on it, first item
// lowest.
type Page struct {
	Size  r2.Vec
	Items []Item
	// Stretch is how much longer than true all items are printed, across and up, to
	// make up for a printer that is out of true. The zero value is 1 and 1.
	Stretch r2.Vec
}

// Stretched returns Stretch with its zero value said.
func (p Page) Stretched() r2.Vec {
	if p.Stretch == (r2.Vec{}) {
		return r2.Vec{X: 1, Y: 1}
	}
	return p.Stretch
}

// Item is a [Path], a [Text], an [Image] or a [Group].
type Item interface{ item() }

func (Path) item()  {}
func (Text) item()  {}
func (Image) item() {}
func (Group) item() {}

// Path is one or more runs drawn with the same line and fill. Runs fill by the
// even-odd rule: a run inside another is a hole, whatever way round it goes.
type Path struct {
	Runs []Run
	Line Line // the zero value draws no line
	Fill Tone // the zero value fills nothing
}

// Group holds items that share a move, a clip or a layer.
type Group struct {
	Layer string    // name of the layer; empty: that of the group around it
	Move  Transform // from the coordinates of Items to those around the group
	Clip  []Run     // closed runs, in the coordinates of Items; nothing outside shows; empty: no clip
	Items []Item
}

// Mark is a path, text or image as it lands on the page: in page coordinates.
type Mark struct {
	Layer string
	Clips [][]Run // every clip that applies, outermost first
	Path  *Path   // one of Path, Text and Image is set
	Text  *Text
	Image *Image
}

// Walk calls visit with every path, text and image of the page, lowest first.
func (p Page) Walk(visit func(Mark)) { walk(p.Items, Transform{}, Mark{}, visit) }

func walk(items []Item, move Transform, in Mark, visit func(Mark)) {
	for _, it := range items {
		m := in
		switch it := it.(type) {
		case Path:
			moved := Path{Runs: move.runs(it.Runs), Line: it.Line, Fill: it.Fill}
			m.Path = &moved
			visit(m)
		case Text:
			moved := it.moved(move)
			m.Text = &moved
			visit(m)
		case Image:
			moved := it.moved(move)
			m.Image = &moved
			visit(m)
		case Group:
			inner := move.After(it.Move)
			if it.Layer != "" {
				m.Layer = it.Layer
			}
			if len(it.Clip) > 0 {
				m.Clips = append(m.Clips[:len(m.Clips):len(m.Clips)], inner.runs(it.Clip))
			}
			walk(it.Items, inner, m, visit)
		}
	}
}

// Bounds returns the box around what shows of the items, text by its measured
// box and clips by the boxes around them. Line widths are left out.
func Bounds(items ...Item) r2.Box {
	b := r2.EmptyBox()
	Page{Items: items}.Walk(func(m Mark) {
		own := r2.EmptyBox()
		switch {
		case m.Text != nil:
			corners := m.Text.Corners()
			own = r2.Around(corners[:]...)
		case m.Image != nil:
			corners := m.Image.Corners()
			own = r2.Around(corners[:]...)
		default:
			own = boundsOf(m.Path.Runs)
		}
		for _, c := range m.Clips {
			window := boundsOf(c)
			own.Min = r2.Vec{X: math.Max(own.Min.X, window.Min.X), Y: math.Max(own.Min.Y, window.Min.Y)}
			own.Max = r2.Vec{X: math.Min(own.Max.X, window.Max.X), Y: math.Min(own.Max.Y, window.Max.Y)}
		}
		if !own.Empty() {
			b = b.Union(own)
		}
	})
	return b
}

func boundsOf(runs []Run) r2.Box {
	b := r2.EmptyBox()
	for _, r := range runs {
		b = b.Union(r.Bounds())
	}
	return b
}

// Shapes returns the cut lines and outlines of the items redrawn with another
// line style, without anything else: what a small key map shows.
func Shapes(line Line, items ...Item) []Item {
	var out []Item
	Page{Items: items}.Walk(func(m Mark) {
		if m.Path != nil && (m.Path.Line == Cut || m.Path.Line == Outline) && len(m.Clips) == 0 {
			out = append(out, Path{Runs: m.Path.Runs, Line: line})
		}
	})
	return out
}

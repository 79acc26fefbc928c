package layout

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
)

// A cell is what the packer sees: a block or a tile of one, with its lettering
// above or beside it, in one or more shapes, the best to look at first.
type cell struct {
	block      int
	bare       bool // no lettering: the drawing needs the whole page, whose header names it
	shapes     []shape
	window     r2.Box // of the block
	row, col   int
	rows, cols int
	seams      []seam // of a tile
}

// shape is a cell in one attitude.
type shape struct {
	size    r2.Vec
	turned  bool
	title   []string
	note    []string
	letters float64 // height of the lettering above the drawing
	beside  bool    // the lettering stands to the right of the drawing instead
	ugly    float64 // how much rather another shape is taken, in mm of wasted paper
}

const (
	titleHeight = 2.6  // capitals of a block's title, mm
	noteHeight  = 1.8  // capitals of its note
	underTitle  = 2.5  // room between lettering and drawing
	narrowest   = 46   // lettering is not wrapped narrower than this
	slimmest    = 34.0 // nor beside a drawing narrower than this
	slimStep    = 6.0
	longTitle   = 66.0 // a title that is longer may be broken
	asideGap    = 5    // between a drawing and lettering beside it
	uglyAside   = 2
	uglyWide    = 3
	uglyTurned  = 12
)

// wider are the widths, over that of the drawing, that lettering above it may have
// so that it takes fewer lines.
var wider = [...]float64{30, 60}

// shapes returns the ways in which a whole block can lie on a page: upright with
// its lettering above, the same with wider lettering, with the lettering beside
// it, and all of these turned if the block may be.
func shapes(b Block, body r2.Vec) []shape {
	var out []shape
	add := func(sh shape) {
		if sh.size.X > body.X || sh.size.Y > body.Y {
			return
		}
		for _, o := range out {
			if o.size == sh.size && o.turned == sh.turned {
				return
			}
		}
		out = append(out, sh)
	}
	title := draw.TextWidth(b.Title, titleHeight, true) + 0.1
	if title > longTitle {
		title = 0 // it is broken anyway
	}
	for _, turned := range []bool{false, true} {
		if turned && !b.Turn {
			continue
		}
		size := turn(b.Size, turned)
		base := shape{turned: turned}
		if turned {
			base.ugly = uglyTurned
		}
		tight := math.Min(math.Max(size.X, math.Max(narrowest, title)), body.X)
		above := base
		above.wrap(b, "", tight)
		above.size = onGrid(r2.Vec{X: math.Max(size.X, above.lettered()), Y: size.Y + above.letters})
		add(above)
		for _, w := range wider {
			if tight+w > body.X || above.letters == 0 {
				continue
			}
			wide := base
			wide.ugly += uglyWide
			wide.wrap(b, "", tight+w)
			if wide.letters < above.letters {
				wide.size = onGrid(r2.Vec{X: math.Max(size.X, wide.lettered()), Y: size.Y + wide.letters})
				add(wide)
			}
		}
		if b.Above {
			continue
		}
		for w, found := math.Max(slimmest, title), 0; w < 2*narrowest && found < 2; w += slimStep { // as slim as has room, and one wider
			aside := base
			aside.beside, aside.ugly = true, base.ugly+uglyAside
			aside.wrap(b, "", w)
			if aside.letters > underTitle && aside.letters <= size.Y+underTitle {
				aside.size = onGrid(r2.Vec{X: size.X + asideGap + aside.lettered(), Y: size.Y})
				add(aside)
				found++
			}
		}
	}
	return out
}

// onGrid rounds a size up to tol.Page, so that rounding differences between
// processors can't order the packing.
func onGrid(v r2.Vec) r2.Vec {
	up := func(x float64) float64 { return math.Ceil(x/tol.Page-tol.Clip) * tol.Page }
	return r2.Vec{X: up(v.X), Y: up(v.Y)}
}

// wrap sets the lettering to lines of at most width.
func (sh *shape) wrap(b Block, extra string, width float64) {
	sh.title = draw.Wrap(b.Title, titleHeight, true, width)
	sh.note = draw.Wrap(extra, noteHeight, false, width)
	sh.note = append(sh.note, draw.Wrap(b.Note, noteHeight, false, width)...)
	sh.note = append(sh.note, draw.Wrap(b.Where, noteHeight, false, width)...)
	sh.measure()
}

// measure sets how high the lettering is.
func (sh *shape) measure() {
	sh.letters = float64(float64(len(sh.title))*draw.LineStep(titleHeight)) + float64(float64(len(sh.note))*draw.LineStep(noteHeight))
	if sh.letters > 0 {
		sh.letters += underTitle
	}
}

// lettered returns the width that the lettering needs.
func (sh *shape) lettered() float64 {
	return math.Max(draw.Widest(sh.title, titleHeight, true), draw.Widest(sh.note, noteHeight, false))
}

// lettering draws title and note from the top left corner down.
func (sh *shape) lettering(top r2.Vec) (out []draw.Item) {
	y := top.Y
	put := func(lines []string, t draw.Text) {
		for _, l := range lines {
			t.At, t.Says, t.Up = r2.Vec{X: top.X, Y: y}, l, draw.Top
			out = append(out, t)
			y -= draw.LineStep(t.Height)
		}
	}
	put(sh.title, draw.Text{Height: titleHeight, Bold: true})
	put(sh.note, draw.Text{Height: noteHeight, Tone: draw.Pencil})
	return out
}

// draw returns where the cell's block lies if the cell's lower left corner is at
// at, and what to draw there.
func (c *cell) draw(b Block, at r2.Vec, sh shape) (Place, []draw.Item) {
	p := Place{Block: c.block, ID: b.ID, Cell: r2.Box{Min: at, Max: at.Add(sh.size)}, Window: c.window,
		Row: c.row, Col: c.col, Rows: c.rows, Cols: c.cols}
	if sh.turned { // a quarter counter-clockwise: the block's y runs to the left
		p.OnPage.Turn = math.Pi / 2
		p.OnPage.Shift = r2.Vec{X: at.X + c.window.Max.Y, Y: at.Y - c.window.Min.X}
	} else {
		p.OnPage.Shift = at.Sub(c.window.Min)
	}
	top := r2.Vec{X: at.X, Y: at.Y + sh.size.Y}
	if sh.beside {
		top.X += turn(b.Size, sh.turned).X + asideGap
	}
	if c.rows*c.cols == 1 {
		return p, []draw.Item{
			draw.Group{Layer: layerTitles, Items: sh.lettering(top)},
			draw.Group{Move: p.OnPage, Items: b.Items},
		}
	}
	return p, c.drawTile(b, p, sh, top)
}

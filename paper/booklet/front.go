package booklet

import (
	"slices"

	"dryfit/geom/r2"
	"dryfit/guide"
	"dryfit/paper/draw"
	"dryfit/paper/picture"
	"dryfit/shop"
)

// lists are the pages of what is needed, habits and cautions, in two columns: in the
// size of the steps, or of tables where that saves a page.
func (p *press) lists() {
	pages := func(s style) int {
		q := &press{b: p.b, size: p.size}
		q.listsIn(s)
		return len(q.pages)
	}
	s := plainStyle
	if pages(smallStyle) < pages(s) {
		s = smallStyle
	}
	p.listsIn(s)
}

func (p *press) listsIn(s style) {
	w := p.b.Words
	p.chapter = w.Needs
	p.fresh()
	p.title(w.Needs, "")
	p.twoColumns(p.b.Needs, s)
	p.section(w.Habits, []guide.List{{Items: p.b.Habits}}, s)
	p.section(w.Cautions, p.b.Cautions, s)
	p.section(w.Who, []guide.List{{Items: p.b.Who}}, s)
}

// section sets a titled list below what there is, or on a page of its own.
func (p *press) section(title string, lists []guide.List, s style) {
	head := -p.heading(title, "").y
	_, h := p.columns(lists, s)
	p.chapter = title
	if p.room() < h+head+6 {
		p.fresh()
	} else {
		p.y -= 6
	}
	p.title(title, "")
	p.twoColumns(lists, s)
}

const columnGap = 8.0

// columns sets lists in two columns of about the same height, breaking only between
// items.
func (p *press) columns(lists []guide.List, s style) ([]draw.Item, float64) {
	width := (p.width() - columnGap) / 2
	type chunk struct {
		c    column
		head bool
	}
	var chunks []chunk
	total := 0.0
	for k, l := range lists {
		if l.Title != "" {
			c := column{width: width}
			if k > 0 {
				c.gap(1.5)
			}
			c.para(l.Title, style{height: 3.0, bold: true})
			c.gap(0.6)
			chunks, total = append(chunks, chunk{c, true}), total+c.height()
		}
		for _, i := range l.Items {
			c := column{width: width}
			c.bullet(i, s)
			c.gap(0.5)
			chunks, total = append(chunks, chunk{c, false}), total+c.height()
		}
	}
	// The break that makes the higher of the two columns least.
	best, cut := total, len(chunks)
	sum := 0.0
	for i, ch := range chunks {
		if i > 0 && !chunks[i-1].head {
			if h := max(sum, total-sum); h < best {
				best, cut = h, i
			}
		}
		sum += ch.c.height()
	}
	var items []draw.Item
	y, x := 0.0, 0.0
	for i, ch := range chunks {
		if i == cut {
			y, x = 0, width+columnGap
		}
		items = append(items, at(r2.Vec{X: x, Y: y}, ch.c.items))
		y -= ch.c.height()
	}
	return items, best
}

func (p *press) twoColumns(lists []guide.List, s style) {
	items, h := p.columns(lists, s)
	if h > p.room() { // more than a page: list by list
		for _, l := range lists {
			one, h := p.columns([]guide.List{l}, s)
			if h > p.room() {
				p.fresh()
			}
			p.put(one, 0, h+3)
		}
		return
	}
	p.put(items, 0, h)
}

// pieces is the page with the numbered drawing and the table of all pieces.
func (p *press) pieces() {
	p.chapter = p.b.Words.Pieces
	if p.room() < p.body().Size().Y*0.7 {
		p.fresh()
	} else {
		p.y -= 6
	}
	p.title(p.b.Words.Pieces, "")
	table := p.pieceTable()
	h := min(p.room()-6-table.height(), p.size.Y*0.5)
	if h < 70 {
		h = p.size.Y * 0.4
	}
	p.picture(&drawing{by: p.b.numbered, size: r2.Vec{X: p.width(), Y: h}}, 0, 0)
	p.y -= h + 5
	if table.height() > p.room() {
		p.fresh()
	}
	p.table(table)
}

// numbered draws all pieces with their numbers: as they stand, or drawn apart where that
// shows more of them; what cannot be pointed out is said below.
func (b *Book) numbered(size r2.Vec) []draw.Item {
	scene := picture.Scene{}
	for i := range b.m.Pieces {
		scene.Shown = append(scene.Shown, picture.Shown{Piece: i, Number: shop.Number(i)})
	}
	_, unseen := b.draft.Told(scene, size)
	if len(unseen) > 0 && b.order.Found {
		apart := b.draft.Exploded(b.order)
		if _, less := b.draft.Told(apart, size); len(less) < len(unseen) {
			scene, unseen = apart, less
		}
	}
	if len(unseen) == 0 {
		return b.snug(scene, size)
	}
	slices.Sort(unseen)
	items, unseen := b.draft.Told(scene, r2.Vec{X: size.X, Y: size.Y - notSeenRoom})
	if len(unseen) == 0 {
		return []draw.Item{at(r2.Vec{Y: notSeenRoom}, items)}
	}
	slices.Sort(unseen)
	says := draw.Shorten(b.Words.NotSeen+": "+shop.Numbers(unseen), smallText, false, size.X)
	return []draw.Item{at(r2.Vec{Y: notSeenRoom}, items), draw.Text{At: r2.Vec{X: size.X / 2, Y: 1}, Says: says, Height: smallText, Across: draw.Middle, Tone: draw.Pencil}}
}

// notSeenRoom is the height of the line that says what is not seen, mm.
const notSeenRoom = 5.0

// table is rows that may go over pages.
type rows struct {
	head column
	rows []column
}

func (t rows) height() float64 {
	h := t.head.height()
	for _, r := range t.rows {
		h += r.height()
	}
	return h
}

func (p *press) table(t rows) {
	p.put(t.head.items, 0, t.head.height())
	for _, r := range t.rows {
		if r.height() > p.room() {
			p.fresh()
			p.put(t.head.items, 0, t.head.height())
		}
		p.put(r.items, 0, r.height())
	}
}

// tabled sets a table with a bold head.
func (p *press) tabled(head []string, shares []float64, lines [][]string) rows {
	widths := make([]float64, len(shares))
	for i, s := range shares {
		widths[i] = s * p.width()
	}
	styles, bold := make([]style, len(head)), make([]style, len(head))
	for i := range head {
		styles[i], bold[i] = smallStyle, style{height: smallText, bold: true}
	}
	var t rows
	t.head = column{width: p.width()}
	t.head.row(head, widths, bold)
	for _, l := range lines {
		c := column{width: p.width()}
		c.row(l, widths, styles)
		t.rows = append(t.rows, c)
	}
	return t
}

func (p *press) pieceTable() rows {
	w := p.b.Words
	var lines [][]string
	for _, x := range p.b.Pieces {
		lines = append(lines, []string{x.Numbers, x.Name, x.Count, x.Size, x.From})
	}
	return p.tabled([]string{w.PieceNumber, w.PieceName, w.PieceCount, w.PieceSize, w.PieceFrom}, []float64{0.17, 0.18, 0.17, 0.26, 0.22}, lines)
}

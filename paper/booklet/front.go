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

// chunk is what is not broken over columns: an item, or a list's title.
type chunk struct {
	column
	head bool // it stays with what follows
}

// chunks are the parts of lists in a column of two.
func (p *press) chunks(lists []guide.List, s style) (out []chunk) {
	width := (p.width() - columnGap) / 2
	for k, l := range lists {
		if l.Title != "" {
			c := column{width: width}
			if k > 0 {
				c.gap(1.5)
			}
			c.para(l.Title, style{height: 3.0, bold: true})
			c.gap(0.6)
			out = append(out, chunk{c, true})
		}
		for _, i := range l.Items {
			c := column{width: width}
			c.bullet(i, s)
			c.gap(0.5)
			out = append(out, chunk{c, false})
		}
	}
	return out
}

// columns sets lists in two columns of about the same height, breaking only between
// items.
func (p *press) columns(lists []guide.List, s style) ([]draw.Item, float64) {
	chunks := p.chunks(lists, s)
	cut, high := evenly(chunks)
	return p.inTwo(chunks, cut), high
}

// evenly finds the break that makes the higher of two columns least, and its height.
func evenly(chunks []chunk) (cut int, high float64) {
	total := 0.0
	for _, ch := range chunks {
		total += ch.height()
	}
	high, cut = total, len(chunks)
	sum := 0.0
	for i, ch := range chunks {
		if i > 0 && !chunks[i-1].head {
			if h := max(sum, total-sum); h < high {
				high, cut = h, i
			}
		}
		sum += ch.height()
	}
	return cut, high
}

// inTwo sets chunks in two columns, those from cut on in the second.
func (p *press) inTwo(chunks []chunk, cut int) (items []draw.Item) {
	y, x := 0.0, 0.0
	for i, ch := range chunks {
		if i == cut {
			y, x = 0, (p.width()-columnGap)/2+columnGap
		}
		items = append(items, at(r2.Vec{X: x, Y: y}, ch.items))
		y -= ch.height()
	}
	return items
}

// filling returns how many chunks fit a column of a height, none that is a title alone.
func filling(chunks []chunk, room float64) int {
	n, sum := 0, 0.0
	for i, ch := range chunks {
		if sum += ch.height(); sum > room {
			break
		}
		if !ch.head {
			n = i + 1
		}
	}
	return n
}

// twoColumns sets lists in two columns: of about the same height where they have room, else
// filling page after page.
func (p *press) twoColumns(lists []guide.List, s style) {
	for chunks := p.chunks(lists, s); len(chunks) > 0; {
		cut, high := evenly(chunks)
		if high <= p.room() {
			p.put(p.inTwo(chunks, cut), 0, high)
			return
		}
		cut = filling(chunks, p.room())
		n := cut + filling(chunks[cut:], p.room())
		if n == 0 && p.room() >= p.body().Size().Y { // higher than a page
			n = 1
		}
		p.put(p.inTwo(chunks[:n], cut), 0, p.room())
		chunks = chunks[n:]
		if len(chunks) > 0 {
			p.fresh()
		}
	}
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

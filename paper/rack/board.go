package rack

import (
	"fmt"
	"math"

	"dryfit/geom/r2"
	"dryfit/measure"
	"dryfit/paper/draw"
	"dryfit/paper/pdf"
	"dryfit/shop/boards"
)

// Room around a drawn board, mm.
const (
	ruleRoom = 9.0  // below and left: ticks and their numbers
	topRoom  = 12.0 // above: grain, names of flaws
	between  = 6.0  // from the drawing to the table
)

// A table has a line for each piece and flaw, in columns side by side.
type table struct {
	rows  [][]string // mark and name, size, x, y, how it lies
	wide  [5]float64
	total float64 // of one column
}

const (
	cellGap  = 3.0
	headStep = 4.4 // from the heads to the first line
)

// Table says where each piece of a board lies, and its flaws; the first row is heads.
func Table(p *boards.Plan, b *boards.Board) [][]string {
	rows := [][]string{{"piece", "size", "from end", "from edge", "lies"}}
	u := p.Unit()
	size := func(round bool, length, width float64) string {
		if round {
			return p.Number(length) + " round"
		}
		return p.Sides(length, width)
	}
	for i := range b.Places {
		at := &b.Places[i]
		rows = append(rows, []string{fmt.Sprintf("%d  %s", at.Mark, name(at)), size(isRound(at), at.LengthMM, at.WidthMM), boards.Marked(at.XMM, u), boards.Marked(at.YMM, u), lies(at)})
	}
	for _, f := range b.Flaws {
		to := "flaw"
		if f.Round {
			to = "flaw, to middle"
		}
		rows = append(rows, []string{f.Why, size(f.Round, f.LengthMM, f.WidthMM), boards.Marked(f.XMM, u), boards.Marked(f.YMM, u), to})
	}
	return rows
}

func (d *drafter) table(b *boards.Board) *table {
	t := &table{rows: Table(d.p, b)}
	for _, r := range t.rows {
		for k, s := range r {
			t.wide[k] = math.Max(t.wide[k], draw.TextWidth(s, small, false))
		}
	}
	if t.wide[0] > 55 {
		t.wide[0] = 55
	}
	for _, w := range t.wide {
		t.total += w + cellGap
	}
	t.total += cellGap
	return t
}

// name is the number of a piece, as on picture and patterns, and its part.
func name(at *boards.Place) string {
	out := at.Part
	if at.Number > 0 {
		out = fmt.Sprintf("%s no. %d", out, at.Number)
	} else {
		out += ", spare"
	}
	if at.Toy != "" {
		out += ", " + at.Toy
	}
	return out
}

func isRound(at *boards.Place) bool { return at.As == boards.AsRound || at.As == boards.AsPlug }

func lies(at *boards.Place) string {
	out := ""
	switch at.As {
	case boards.AsRound, boards.AsPlug:
		return "to middle"
	case boards.AsOutline:
		out = "outline"
	default:
		out = "blank"
	}
	if at.Turn != 0 {
		out += fmt.Sprintf(", %d°", at.Turn)
	}
	if at.Over {
		out += ", face down"
	}
	return out
}

// draw puts rows from first on into a box and returns how many it has taken.
func (t *table) draw(box r2.Box, first int) (items []draw.Item, n int) {
	cols := int((box.Size().X + cellGap) / t.total)
	each := int((box.Size().Y - headStep) / step) // below the heads
	if cols < 1 || each < 1 {
		return nil, 0
	}
	n = min(len(t.rows)-1-first, cols*each)
	each = min(each, (n+cols-1)/cols)
	var words []draw.Item
	rule := draw.Path{Line: draw.Construction}
	for c := 0; c < cols && c*each < n; c++ {
		x := box.Min.X + float64(float64(c)*t.total)
		put := func(r []string, y float64, bold bool) {
			at := x
			for k, s := range r {
				words = append(words, draw.Text{At: r2.Vec{X: at, Y: y}, Says: draw.Shorten(s, small, bold, t.wide[k]+cellGap-0.5), Height: small, Bold: bold, Up: draw.Top})
				at += t.wide[k] + cellGap
			}
		}
		put(t.rows[0], box.Max.Y, true)
		rule.Runs = append(rule.Runs, draw.Polyline(r2.Vec{X: x, Y: box.Max.Y - small - 1}, r2.Vec{X: x + t.total - cellGap, Y: box.Max.Y - small - 1}))
		for k := 0; k < each && c*each+k < n; k++ {
			put(t.rows[1+first+c*each+k], box.Max.Y-headStep-float64(float64(k)*step), false)
		}
	}
	return []draw.Item{draw.Group{Layer: LayerWords, Items: append([]draw.Item{rule}, words...)}}, n
}

// high is how high a table is in some width; infinite if it does not go there.
func (t *table) high(wide float64) float64 {
	cols := int((wide + cellGap) / t.total)
	if cols < 1 {
		return math.Inf(1)
	}
	return headStep + float64((len(t.rows)-1+cols-1)/cols)*step
}

// board draws a board on a page of its own, with its table beside or below it, or on pages
// that follow where it is long.
func (d *drafter) board(s *boards.Stock, b *boards.Board) {
	room := d.room()
	size := boxOf(b).Size()
	t := d.table(b)
	title := b.Name + ": " + d.p.Name(s)
	pick := func(tabled bool) (scale float64, beside, ok bool) {
		for _, k := range scales {
			w, h := size.X/k+ruleRoom, size.Y/k+ruleRoom+topRoom
			if w > room.Size().X || h > room.Size().Y {
				continue
			}
			if !tabled || t.high(room.Size().X) <= room.Size().Y-h-between {
				return k, false, true
			}
			if t.high(room.Size().X-w-between) <= room.Size().Y {
				return k, true, true
			}
		}
		return scales[len(scales)-1], false, false
	}
	scale, beside, whole := pick(true)
	if !whole || scale > 12 {
		if k, _, ok := pick(false); ok && (!whole || k < scale/1.5) {
			scale, beside, whole = k, false, false
		}
	}
	at := r2.Vec{X: room.Min.X + ruleRoom, Y: room.Max.Y - topRoom - size.Y/scale}
	items := d.drawn(b, scale, at)
	first := 0
	if whole {
		box := r2.Box{Min: room.Min, Max: r2.Vec{X: room.Max.X, Y: at.Y - ruleRoom - between}}
		if beside {
			box = r2.Box{Min: r2.Vec{X: at.X + size.X/scale + between, Y: room.Min.Y}, Max: room.Max}
		}
		rows, n := t.draw(box, 0)
		items, first = append(items, rows...), n
	} else if box := (r2.Box{Min: room.Min, Max: r2.Vec{X: room.Max.X, Y: at.Y - ruleRoom - between}}); box.Size().Y > 4*step {
		rows, n := t.draw(box, 0)
		items, first = append(items, rows...), n
	}
	about := fmt.Sprintf("Scale 1:%g. %s.", scale, d.p.About(b))
	d.entries = append(d.entries, pdf.Entry{Title: title, Page: len(d.pages)})
	d.page(title, about, items...)
	for first < len(t.rows)-1 {
		rows, n := t.draw(room, first)
		if n == 0 {
			return
		}
		d.page(title, "continued", rows...)
		first += n
	}
}

func unitName(u measure.Unit) string {
	if u == measure.Inch {
		return "inches"
	}
	return "mm"
}

// drawn is a board with all that is said on it.
func (d *drafter) drawn(b *boards.Board, scale float64, at r2.Vec) []draw.Item {
	box := boxOf(b)
	size := box.Size()
	on := func(x, y float64) r2.Vec { return at.Add(r2.Vec{X: x / scale, Y: y / scale}) }
	out := wood(b, scale, at, draw.Outline, draw.Outline)
	var words, scaleMarks []draw.Item
	// what is left, under the words
	if len(b.Left) > 0 {
		r := b.Left[0]
		frame := r2.Around(on(r.XMM, r.YMM), on(r.XMM+r.LengthMM, r.YMM+r.WidthMM))
		frame = r2.Box{Min: frame.Min.Add(r2.Vec{X: 0.6, Y: 0.6}), Max: frame.Max.Sub(r2.Vec{X: 0.6, Y: 0.6})}
		if frame.Size().X > 2 && frame.Size().Y > 2 {
			scaleMarks = append(scaleMarks, draw.Path{Line: draw.Hidden, Runs: []draw.Run{draw.Rect(frame)}})
			says := "left " + d.p.Size(r.LengthMM, r.WidthMM)
			if draw.TextWidth(says, small, false) < frame.Size().X-1 && frame.Size().Y > small+1 {
				words = append(words, draw.Text{At: frame.Min.Add(frame.Max).Scale(0.5), Says: says, Height: small, Tone: draw.Pencil, Across: draw.Middle, Up: draw.Half})
			}
		}
	}
	for i := range b.Places {
		words = append(words, pieceWords(b, &b.Places[i], scale, at, box.Min)...)
	}
	if b.CutMM > 0 {
		says, x := "cut here first", on(b.CutMM, 0).X
		scaleMarks = append(scaleMarks, draw.Path{Line: draw.Cut, Runs: []draw.Run{draw.Polyline(r2.Vec{X: x, Y: at.Y}, r2.Vec{X: x, Y: on(0, size.Y).Y + 1})}})
		words = append(words, draw.Text{At: r2.Vec{X: x, Y: on(0, size.Y).Y + 1.5}, Says: says, Height: small, Across: draw.Middle})
	}
	// flaws, named above the board, with where they are if all of that has room
	for _, placed := range []bool{true, false} {
		free, right := at.X+38, on(size.X, 0).X
		var named []draw.Item
		for _, f := range b.Flaws {
			mid := r2.Around(vecs(f.At)...)
			c := mid.Min.Add(mid.Max).Scale(0.5).Sub(box.Min)
			tip := on(c.X, c.Y)
			tip.Y = on(0, math.Min(mid.Max.Y-box.Min.Y, size.Y)).Y
			says := f.Why
			if placed {
				says += " at " + boards.Marked(f.XMM, d.p.Unit()) + ", " + boards.Marked(f.YMM, d.p.Unit())
			}
			wide := draw.TextWidth(says, small, false)
			x := math.Max(free, math.Min(tip.X-wide/2, right-wide))
			top := on(0, size.Y).Y + 4
			named = append(named, draw.Path{Line: draw.Construction, Runs: []draw.Run{draw.Polyline(tip, r2.Vec{X: x + wide/2, Y: top})}},
				draw.Text{At: r2.Vec{X: x, Y: top + 0.8}, Says: says, Height: small})
			free = x + wide + 3
		}
		if !placed || free-3 <= right {
			words = append(words, named...)
			break
		}
	}
	// grain, above to the left
	y := on(0, size.Y).Y + 6
	g, dir := r2.Vec{X: at.X, Y: y}, r2.Vec{X: 1}
	long, says := 24.0, "grain"
	if b.Across {
		g, dir, long = r2.Vec{X: at.X + 3, Y: y - 4}, r2.Vec{Y: 1}, 9
	}
	end := g.Add(dir.Scale(long))
	scaleMarks = append(scaleMarks, draw.Path{Line: draw.Thin, Runs: []draw.Run{draw.Polyline(g, end)}}, draw.Arrow(g, dir.Neg()), draw.Arrow(end, dir))
	if b.Across {
		words = append(words, draw.Text{At: g.Add(r2.Vec{X: 3, Y: long / 2}), Says: "grain up the board", Height: small, Up: draw.Half})
	} else {
		words = append(words, draw.Text{At: g.Add(r2.Vec{X: long / 2, Y: 1}), Says: says, Height: small, Across: draw.Middle})
	}
	scaleMarks = append(scaleMarks, d.rules(b, scale, at)...)
	return append(out, draw.Group{Layer: LayerScale, Items: scaleMarks}, draw.Group{Layer: LayerWords, Items: words})
}

// pieceWords letters a piece where it has room: its mark, and its name.
func pieceWords(b *boards.Board, at *boards.Place, scale float64, corner, low r2.Vec) (out []draw.Item) {
	box := r2.EmptyBox()
	for _, r := range outline(b, at) {
		box = box.Union(r.Bounds())
	}
	box = r2.Box{Min: corner.Add(box.Min.Sub(low).Scale(1 / scale)), Max: corner.Add(box.Max.Sub(low).Scale(1 / scale))}
	mid := box.Min.Add(box.Max).Scale(0.5)
	mark := fmt.Sprint(at.Mark)
	full := mark + "  " + at.Part
	if at.Number > 0 {
		full += fmt.Sprintf(" no. %d", at.Number)
	}
	long, high, turn := box.Size().X-1.5, box.Size().Y, 0.0
	if box.Size().Y > 1.3*box.Size().X {
		long, high, turn = box.Size().Y-1.5, box.Size().X, math.Pi/2
	}
	if isRound(at) {
		long, turn = long*0.85, 0
	}
	for _, says := range []string{full, mark + "  " + at.Part, mark} {
		for _, h := range []float64{small, 1.4} {
			if draw.TextWidth(says, h, false) <= long && h < high-0.8 {
				return append(out, draw.Text{At: mid, Says: says, Height: h, Turn: turn, Across: draw.Middle, Up: draw.Half})
			}
		}
	}
	return append(out, draw.Text{At: mid, Says: mark, Height: 1.2, Across: draw.Middle, Up: draw.Half})
}

// rules are the reference edge and end with ticks like those of a rule, short ones where
// pieces begin, and the arrow at the corner.
func (d *drafter) rules(b *boards.Board, scale float64, at r2.Vec) (out []draw.Item) {
	size := boxOf(b).Size()
	unit := 10.0
	if d.p.Unit() == measure.Inch {
		unit = measure.Inch.Of(1).MM()
	}
	every := 1
	for _, n := range []int{1, 2, 3, 4, 6, 10, 12, 20, 24, 50, 100} {
		if every = n; float64(n)*unit/scale >= 9 {
			break
		}
	}
	fine := draw.Path{Line: draw.Thin}
	starts := draw.Path{Line: draw.Construction}
	tick := func(x float64, up bool, from, to float64, p *draw.Path) {
		a, c := r2.Vec{X: at.X + x/scale, Y: at.Y - from}, r2.Vec{X: at.X + x/scale, Y: at.Y - to}
		if up {
			a, c = r2.Vec{X: at.X - from, Y: at.Y + x/scale}, r2.Vec{X: at.X - to, Y: at.Y + x/scale}
		}
		p.Runs = append(p.Runs, draw.Polyline(a, c))
	}
	const off = 3.0
	for _, up := range []bool{false, true} {
		long := size.X
		if up {
			long = size.Y
		}
		if up {
			fine.Runs = append(fine.Runs, draw.Polyline(at.Sub(r2.Vec{X: off}), at.Add(r2.Vec{X: -off, Y: long / scale})))
		} else {
			fine.Runs = append(fine.Runs, draw.Polyline(at.Sub(r2.Vec{Y: off}), at.Add(r2.Vec{X: long / scale, Y: -off})))
		}
		for n := 0; float64(n)*unit <= long+1e-6; n++ {
			x := float64(n) * unit
			if n%every != 0 {
				if unit/scale >= 1.2 {
					tick(x, up, off, off+0.8, &fine)
				}
				continue
			}
			tick(x, up, off, off+1.5, &fine)
			says := fmt.Sprint(n)
			if unit == 10 {
				says = fmt.Sprint(n * 10)
			}
			t := draw.Text{At: r2.Vec{X: at.X + x/scale, Y: at.Y - off - 2.2}, Says: says, Height: 1.6, Across: draw.Middle, Up: draw.Top}
			if up {
				t.At, t.Across, t.Up = r2.Vec{X: at.X - off - 2, Y: at.Y + x/scale}, draw.Right, draw.Half
			}
			out = append(out, t)
		}
		for i := range b.Places {
			x := b.Places[i].XMM
			if up {
				x = b.Places[i].YMM
			}
			tick(x, up, 1, off, &starts)
		}
	}
	tip := at.Sub(r2.Vec{X: 0.4, Y: 0.4})
	return append(out, starts, fine, draw.Arrow(tip, r2.Vec{X: 1, Y: 1}))
}

package file

import (
	"fmt"
	"strings"

	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
)

// The rack: what wood there is and what can be bought, clamps and hands. It stands in a
// shop's own file beside the tools.

type rackDoc struct {
	Boards    shape.Named[plank] `key:"boards" says:"The boards, offcuts and sheets there are, by a name to chalk on each."`
	Dowels    shape.Named[stick] `key:"dowels" says:"The dowels there are."`
	Sold      *sold              `key:"sold" says:"What can be bought, any number of each."`
	Money     shape.Text         `key:"money" says:"What prices are in, as EUR; left out: just numbers."`
	Cutting   *cutting           `key:"cutting" says:"What is left between pieces on a board."`
	Clamps    shape.Count        `key:"clamps" most:"200" says:"How many clamps there are; left out: enough."`
	Tools     []shape.Word       `key:"tools" oneof:"drill-press|hand-drill|disc-sander|belt-sander|drum-sander|lathe|router|planer|hand-plane|mitre-saw|table-saw|hand-saw|coping-saw|none" says:"Machines and hand tools besides the saws of shop; left out: a drill press, a sander and hand tools."`
	Hands     shape.Named[hand]  `key:"hands" says:"Who works; left out: one adult."`
	Durations *durations         `key:"durations" says:"How many minutes work takes here, where it is not what plans take."`
}

type sold struct {
	shape.Place
	Boards shape.Named[plank] `key:"boards" says:"Boards and sheets."`
	Dowels shape.Named[stick] `key:"dowels" says:"Dowels."`
}

type plank struct {
	shape.Place
	Wood    shape.Text        `key:"wood" need:"yes" says:"The wood by its trade name."`
	Form    shape.Word        `key:"form" oneof:"board|sheet" says:"Solid wood, or plywood and the like; left out: board."`
	Thick   shape.Formula     `key:"thick" need:"yes" says:"Its thickness as it is, planed or not."`
	Size    []shape.Formula   `key:"size" says:"Length and width of a squared one; the grain runs along the length."`
	Outline [][]shape.Formula `key:"outline" says:"The corners of one that is not squared, in order, as it lies face up."`
	Grain   shape.Word        `key:"grain" oneof:"along|across" says:"Which way the grain runs; left out: along the length, or left to right."`
	Flaws   []flaw            `key:"flaws" says:"Knots, checks, screws: places to keep clear of."`
	Rough   shape.Flag        `key:"rough" says:"It has still to be planed."`
	Count   shape.Count       `key:"count" most:"1000" says:"How many there are that are alike; left out: 1."`
	Price   shape.Formula     `key:"price" says:"What one costs."`
}

type flaw struct {
	shape.Place
	At   []shape.Formula `key:"at" need:"yes" says:"Lower left corner, or the middle of a round one."`
	Size []shape.Formula `key:"size" says:"Length and width."`
	Dia  shape.Formula   `key:"dia" says:"Diameter of a round one."`
	Why  shape.Text      `key:"why" says:"What it is: knot, check, screw hole."`
}

type stick struct {
	shape.Place
	Wood   shape.Text    `key:"wood" need:"yes" says:"The wood by its trade name."`
	Dia    shape.Formula `key:"dia" need:"yes" says:"Diameter."`
	Length shape.Formula `key:"length" need:"yes" says:"Length of one."`
	Count  shape.Count   `key:"count" most:"1000" says:"How many there are; left out: 1."`
	Price  shape.Formula `key:"price" says:"What one costs."`
}

type cutting struct {
	shape.Place
	Kerf     shape.Formula `key:"kerf" says:"What the saw takes between two pieces; left out: that of the band saw, or 1/16 in."`
	Handling shape.Formula `key:"handling" says:"Room around each piece to saw along its line; left out: 1/8 in or 3 mm."`
	Planing  shape.Formula `key:"planing" says:"What the planer takes off a rough board in all; left out: 1/8 in or 3 mm."`
}

type hand struct {
	shape.Place
	Age shape.Count `key:"age" most:"120" says:"Years of age; left out: an adult."`
}

// rack reads what there is.
func (v *values) rack(d *rackDoc, from string) *toy.Rack {
	out := &toy.Rack{Money: strings.TrimSpace(d.Money.Text), Clamps: -1, From: from}
	if d.Clamps.At.End > d.Clamps.At.Start {
		out.Clamps = d.Clamps.N
	}
	for _, t := range d.Tools {
		out.Tools = append(out.Tools, t.Text)
	}
	if c := d.Cutting; c != nil {
		out.Kerf, out.Handling, out.Planing = v.positive(c.Kerf, nil, "a kerf"), v.room(c.Handling, "the room for handling"), v.room(c.Planing, "what planing takes")
	}
	out.Boards, out.Dowels = v.planks(d.Boards), v.sticks(d.Dowels)
	if d.Sold != nil {
		out.Sold = toy.Sold{Boards: v.planks(d.Sold.Boards), Dowels: v.sticks(d.Sold.Dowels)}
	}
	for _, h := range d.Hands {
		out.Hands = append(out.Hands, toy.Hand{Name: h.Key.Text, Years: h.Value.Age.N})
	}
	out.Durations = v.durations(d.Durations)
	return out
}

func (v *values) count(c shape.Count) int {
	if c.At.End == c.At.Start {
		return 1
	}
	return c.N
}

// price evaluates a plain number.
func (v *values) price(f shape.Formula) float64 {
	if f.Text == "" {
		return 0
	}
	val, ok := v.eval(f, nil)
	n, plain := val.AsNumber()
	if ok && (!plain || n < 0 || n > maxPrice) {
		v.problem("price", f.At, "this is not a price").Expected = fmt.Sprintf("a number from 0 to %d", int(maxPrice))
	}
	return n
}

// room is a length that may be nothing, and nil where it is left out.
func (v *values) room(f shape.Formula, what string) *measure.Length {
	l := v.optional(f)
	if l != nil && *l < 0 {
		v.problem("negative", f.At, what+" cannot be less than nothing")
	}
	return l
}

// stockLength is a length of stock, which may be longer than any toy.
func (v *values) stockLength(f shape.Formula) measure.Length {
	return v.within(f, nil, maxStock, "no board or dowel is this large")
}

// stockPoint is a place on a board.
func (v *values) stockPoint(xy []shape.Formula, at shape.Place) toy.Point {
	return v.stockTwo(xy, at, v.stockLength)
}

// stockSize is the length and the width of a board, or of a place on it.
func (v *values) stockSize(xy []shape.Formula, at shape.Place, what string) toy.Point {
	return v.stockTwo(xy, at, func(f shape.Formula) measure.Length { return v.moreThanNothing(f, what, v.stockLength) })
}

func (v *values) stockTwo(xy []shape.Formula, at shape.Place, read func(shape.Formula) measure.Length) toy.Point {
	if len(xy) != 2 {
		v.problem("point", at.At, "a place or a size is two lengths").Expected = "[12, 4 1/2]"
		return toy.Point{}
	}
	return toy.Point{X: read(xy[0]), Y: read(xy[1])}
}

// flaw reads a place to keep clear of on a board, which has no outline where that could not be read.
func (v *values) flaw(f flaw, board []toy.Point) toy.Flaw {
	before := len(*v.probs)
	k := toy.Flaw{At: v.stockPoint(f.At, f.Place), Dia: v.positive(f.Dia, nil, "a flaw"), Why: strings.TrimSpace(f.Why.Text)}
	if (len(f.Size) > 0) == (f.Dia.Text != "") {
		v.problem("flaw-size", f.Place.At, "a flaw needs its size").Expected = "size: [length, width], or dia: of a round one"
	} else if len(f.Size) > 0 {
		k.Size = v.stockSize(f.Size, f.Place, "a flaw")
	}
	if len(*v.probs) > before || len(board) == 0 {
		return k
	}
	lo, hi := board[0], board[0]
	for _, c := range board {
		lo, hi = toy.Point{X: min(lo.X, c.X), Y: min(lo.Y, c.Y)}, toy.Point{X: max(hi.X, c.X), Y: max(hi.Y, c.Y)}
	}
	from, to := k.At, toy.Point{X: k.At.X + k.Size.X, Y: k.At.Y + k.Size.Y}
	if r := k.Dia / 2; r > 0 {
		from, to = toy.Point{X: k.At.X - r, Y: k.At.Y - r}, toy.Point{X: k.At.X + r, Y: k.At.Y + r}
	}
	if to.X <= lo.X || from.X >= hi.X || to.Y <= lo.Y || from.Y >= hi.Y {
		at := source.Range{Start: f.At[0].At.Start, End: f.At[1].At.End}
		says := func(l measure.Length) string { return l.Format(v.unit) }
		v.problem("flaw-outside", at, "this flaw is outside its board").Expected = fmt.Sprintf("a place on it, %s to %s along and %s to %s up", says(lo.X), says(hi.X), says(lo.Y), says(hi.Y))
	}
	return k
}

func (v *values) planks(list shape.Named[plank]) (out []toy.Plank) {
	for _, e := range list {
		p := e.Value
		b := toy.Plank{Name: e.Key.Text, Wood: p.Wood.Text, WoodAt: p.Wood.At, Thick: v.positive(p.Thick, nil, "a board"), Across: p.Grain.Text == "across", Rough: p.Rough.Is, Count: v.count(p.Count), Price: v.price(p.Price), At: p.Place.At}
		if p.Form.Text == "sheet" {
			b.Form = toy.Sheet
		}
		before := len(*v.probs)
		switch {
		case (len(p.Size) > 0) == (len(p.Outline) > 0):
			v.problem("board-size", p.Place.At, e.Key.Text+" needs its size").Expected = "size: [length, width], or outline: [[x, y], ...] where it is not squared"
		case len(p.Size) > 0:
			s := v.stockSize(p.Size, p.Place, "a board")
			b.Outline = []toy.Point{{}, {X: s.X}, s, {Y: s.Y}}
		case len(p.Outline) < 3 || len(p.Outline) > maxCorners:
			v.problem("board-size", p.Place.At, "an outline has at least three corners").Expected = fmt.Sprintf("3 to %d corners", maxCorners)
		default:
			for _, c := range p.Outline {
				b.Outline = append(b.Outline, v.stockPoint(c, p.Place))
			}
		}
		for _, f := range p.Flaws {
			outline := b.Outline
			if len(*v.probs) > before {
				outline = nil
			}
			b.Flaws = append(b.Flaws, v.flaw(f, outline))
		}
		out = append(out, b)
	}
	return out
}

func (v *values) sticks(list shape.Named[stick]) (out []toy.Stick) {
	for _, e := range list {
		s := e.Value
		out = append(out, toy.Stick{Name: e.Key.Text, Wood: s.Wood.Text, WoodAt: s.Wood.At, Dia: v.positive(s.Dia, nil, "a dowel"), Length: v.moreThanNothing(s.Length, "a dowel", v.stockLength), Count: v.count(s.Count), Price: v.price(s.Price), At: s.Place.At})
	}
	return out
}

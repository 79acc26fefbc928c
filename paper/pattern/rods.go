package pattern

import (
	"fmt"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/toy"
)

// entry is one line of the list: dowels of one part and length, or balls.
type entry struct {
	number    int
	name      string
	stock     string
	n, spare  int
	dia, long float64
	ball      bool
}

// entries groups the pieces of a rod by their length, which may follow from the
// build and differ. Spares go with the longest.
func (s *speaker) entries(m *assembly.Model, p *toy.Part, number int, pieces []*assembly.Piece) []entry {
	var out []entry
	base := entry{number: number, name: p.Name, stock: s.stock(m.Toy, p.Stock), ball: p.Shape == toy.Sphere, dia: p.Thick.MM(), long: p.Length.MM()}
	if base.ball {
		base.n, base.spare = len(pieces), p.Spare
		return []entry{base}
	}
next:
	for _, q := range pieces {
		long := q.Made.Size.X
		for i := range out {
			if d := out[i].long - long; d < tol.Touch && d > -tol.Touch {
				out[i].n++
				continue next
			}
		}
		e := base
		e.long, e.n = long, 1
		out = append(out, e)
	}
	if len(out) == 0 {
		if base.long == 0 {
			return nil // never used, and no length of its own
		}
		out = []entry{base}
	}
	longest := 0
	for i := range out {
		if out[i].long > out[longest].long+tol.Touch {
			longest = i
		}
	}
	out[longest].spare = p.Spare
	return out
}

// blankSize is the size of the blank of a part, of the first piece where the
// length follows from the build.
func blankSize(p *toy.Part, pieces []*assembly.Piece) r3.Vec {
	if len(pieces) > 0 {
		return pieces[0].Made.Size
	}
	return r3.Vec{X: p.Length.MM(), Y: p.Width.MM(), Z: p.Thick.MM()}
}

const listHeight = 130.0 // a list that is higher goes on in another block

// list draws dowels and balls at their true size, as many blocks as it takes.
func (s *speaker) list(all []entry) []drawn {
	var out []drawn
	var items []draw.Item
	y, title := 0.0, "Dowels"
	for _, e := range all {
		if e.ball {
			title = "Dowels and balls"
		}
	}
	flush := func() {
		if len(items) == 0 {
			return
		}
		b := grown(draw.Bounds(items...), 0.3)
		id := "dowels"
		if len(out) > 0 {
			id = fmt.Sprintf("dowels.%d", len(out)+1)
		}
		out = append(out, drawn{of: id, Block: layout.Block{ID: id, Title: title, Note: "at true size: lay the dowel on its bar and mark its length",
			Size: b.Size(), Split: true, Turn: b.Size().X > turnFrom,
			Items: []draw.Item{draw.Group{Move: draw.Translate(b.Min.Neg()), Items: items}}}})
		items, y = nil, 0
	}
	for _, e := range all {
		says := fmt.Sprintf("%s × %s", "⌀ "+s.mm(e.dia), s.mm(e.long))
		verb := "cut"
		bar := draw.Rect(r2.Box{Min: r2.Vec{Y: y - 7.5 - e.dia}, Max: r2.Vec{X: e.long, Y: y - 7.5}})
		if e.ball {
			says, verb = "ball ⌀ "+s.mm(e.dia), "buy"
			bar = draw.Circle(r2.Vec{X: e.dia / 2, Y: y - 7.5 - e.dia/2}, e.dia/2)
		}
		head := draw.Text{At: r2.Vec{Y: y}, Says: fmt.Sprintf("%d · %s: %s", e.number, e.name, howMany(verb, e.n, e.spare)), Height: wordHeight, Bold: true, Up: draw.Top}
		rest := draw.Text{At: r2.Vec{Y: y - 3.5}, Says: says + ", " + e.stock, Height: wordHeight, Up: draw.Top}
		mid := y - 7.5 - e.dia/2
		items = append(items,
			draw.Group{Layer: LayerWords, Items: []draw.Item{head, rest}},
			draw.Group{Layer: LayerCut, Items: []draw.Item{draw.Path{Runs: []draw.Run{bar}, Line: draw.Outline}}},
			draw.Group{Layer: LayerBlank, Items: []draw.Item{draw.Path{Runs: []draw.Run{draw.Polyline(r2.Vec{X: -2, Y: mid}, r2.Vec{X: e.long + 2, Y: mid})}, Line: draw.Centre}}})
		if y -= 7.5 + e.dia + 5; -y > listHeight {
			flush()
		}
	}
	flush()
	return out
}

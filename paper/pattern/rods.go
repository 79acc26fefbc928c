package pattern

import (
	"fmt"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/shop"
	"dryfit/toy"
)

// entry is one line of the list: dowels of one part and length, or balls.
type entry struct {
	numbers   []int
	name      string
	goes      string // which of them where
	stock     string
	n, spare  int
	dia, long float64
	ball      bool
}

// entries groups the pieces of a rod by their length, which may follow from the
// build and differ. Spares go with the longest.
func (s *speaker) entries(m *assembly.Model, p *toy.Part) []entry {
	var out []entry
	var at [][]int // the pieces of each entry
	base := entry{name: p.Name, stock: s.stock(m.Toy, p.Stock), ball: p.Shape == toy.Sphere, dia: p.Thick.MM(), long: p.Length.MM()}
next:
	for i, q := range m.Pieces {
		if q.Part.Name != p.Name {
			continue
		}
		long := q.Made.Size.X
		for k := range out {
			if d := out[k].long - long; d < tol.Touch && d > -tol.Touch {
				out[k].n, out[k].numbers, at[k] = out[k].n+1, append(out[k].numbers, shop.Number(i)), append(at[k], i)
				continue next
			}
		}
		e := base
		e.long, e.n, e.numbers = long, 1, []int{shop.Number(i)}
		out, at = append(out, e), append(at, []int{i})
	}
	for k := range out {
		if base.ball {
			_, out[k].goes = goes(shop.Spots(m), p.Name, false)
			continue
		}
		out[k].goes = forWord + strings.Join(shop.Rods(m, at[k]), "; ")
	}
	for k := range out {
		out[k].name = strings.Join(shop.CalledTogether(m, p, at[k]), ", ")
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

const (
	listHeight = 130.0 // a list that is higher goes on in another block
	listWidth  = 80.0  // words are wrapped to this, unless the rod is longer
)

// list draws dowels and balls at their true size, as many blocks as it takes.
func (s *speaker) list(all []entry) []drawn {
	var out []drawn
	var items []draw.Item
	y, title := 0.0, dowelsTitle
	for _, e := range all {
		if e.ball {
			title = ballsTitle
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
		out = append(out, drawn{of: id, Block: layout.Block{ID: id, Title: title, Note: dowelsNote,
			Size: b.Size(), Split: true, Above: true, Turn: b.Size().X > turnFrom,
			Items: []draw.Item{draw.Group{Move: draw.Translate(b.Min.Neg()), Items: items}}}})
		items, y = nil, 0
	}
	for _, e := range all {
		says := fmt.Sprintf("%s × %s", "⌀ "+s.mm(e.dia), s.mm(e.long))
		verb := cutVerb
		if e.ball {
			says, verb = fmt.Sprintf(ballOf, s.mm(e.dia)), buyVerb
		}
		lines := []draw.Item{draw.Text{At: r2.Vec{Y: y}, Says: numbered(e.numbers) + e.name + ": " + howMany(verb, e.n, e.spare), Height: wordHeight, Bold: true, Up: draw.Top}}
		for _, w := range append(draw.Wrap(says+", "+e.stock, wordHeight, false, max(listWidth, e.long)), draw.Wrap(e.goes, wordHeight, false, max(listWidth, e.long))...) {
			y -= 3.5
			lines = append(lines, draw.Text{At: r2.Vec{Y: y}, Says: w, Height: wordHeight, Up: draw.Top})
		}
		y -= 4
		bar := draw.Rect(r2.Box{Min: r2.Vec{Y: y - e.dia}, Max: r2.Vec{X: e.long, Y: y}})
		if e.ball {
			bar = draw.Circle(r2.Vec{X: e.dia / 2, Y: y - e.dia/2}, e.dia/2)
		}
		mid := y - e.dia/2
		items = append(items,
			draw.Group{Layer: layerWords, Items: lines},
			draw.Group{Layer: layerCut, Items: []draw.Item{draw.Path{Runs: []draw.Run{bar}, Line: draw.Outline}}},
			draw.Group{Layer: layerBlank, Items: []draw.Item{draw.Path{Runs: []draw.Run{draw.Polyline(r2.Vec{X: -2, Y: mid}, r2.Vec{X: e.long + 2, Y: mid})}, Line: draw.Centre}}})
		if y -= e.dia + 5; -y > listHeight {
			flush()
		}
	}
	flush()
	return out
}

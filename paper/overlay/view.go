package overlay

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/picture"
	"dryfit/toy"
)

// seen looks at both solids from a side of the new blank.
func (d drawing) seen(s toy.Side) seenSide {
	f := assembly.SideFrame(s, d.now.Made.Size)
	return seenSide{s, picture.Seen(d.was.Made.Bored().Transform(d.p.Align), f), picture.Seen(d.now.Made.Bored(), f)}
}

// view draws a side at a scale, with its name above it, and marks the holes that changed there.
func (d drawing) view(v seenSide, scale float64, numbers []bool) ([]draw.Item, r2.Box) {
	to := draw.Transform{Scale: 1 / scale}
	path := func(runs []draw.Run, l draw.Line) draw.Path {
		p := draw.Path{Line: l}
		for _, r := range runs {
			p.Runs = append(p.Runs, to.Run(r))
		}
		return p
	}
	was, now := path(v.was, draw.Later), path(v.now, draw.Cut)
	box := draw.Bounds(was, now)
	words := d.marks(v, to, numbers, box.Min.Add(box.Max).Scale(0.5))
	if says := sideWords(d.now, v.side); says != "" {
		words = append(words, draw.Text{At: r2.Vec{X: box.Min.X, Y: box.Max.Y + 2.5}, Says: says, Height: digit, Bold: true})
	}
	items := []draw.Item{
		draw.Group{Layer: LayerNew, Items: []draw.Item{now}},
		draw.Group{Layer: LayerOld, Items: []draw.Item{was}},
		draw.Group{Layer: LayerWords, Items: words},
	}
	return items, draw.Bounds(items...)
}

// marks puts a ring with a number around each hole that changed and is seen along its axis, with an
// arrow from where it was to where it is.
func (d drawing) marks(v seenSide, to draw.Transform, numbers []bool, mid r2.Vec) (items []draw.Item) {
	f := assembly.SideFrame(v.side, d.now.Made.Size)
	at := func(b *assembly.Bore) r2.Vec {
		p := b.Point.Sub(f.O)
		return to.Apply(r2.Vec{X: p.Dot(f.U), Y: p.Dot(f.V)})
	}
	for i, h := range d.p.Holes {
		b := h.Now
		if b == nil {
			b = h.Was
		}
		if !along(b, f) || b.Blind && b.Dir.Dot(f.W) > 0 {
			continue
		}
		numbers[i] = true
		c := at(b)
		reach := to.Scale * b.R
		if h.Was != nil && h.Now != nil {
			from := at(h.Was)
			reach = math.Max(reach, to.Scale*h.Was.R+from.Sub(c).Len())
			if by := c.Sub(from); by.Len() > arrowFrom {
				items = append(items, draw.Path{Line: draw.Thin, Runs: []draw.Run{draw.Polyline(from, c)}}, draw.Arrow(c, by))
			}
		}
		reach += ring
		items = append(items, draw.Path{Line: draw.Thin, Runs: []draw.Run{draw.Circle(c, reach)}})
		out := r2.Vec{X: 1, Y: 1}.Unit() // away from the middle, so that labels do not crowd it
		if c.X < mid.X {
			out.X = -out.X
		}
		label := draw.Text{At: c.Add(out.Scale(reach + 0.8)), Says: fmt.Sprint(i + 1), Height: digit, Bold: true, Up: draw.Base}
		if out.X < 0 {
			label.Across = draw.Right
		}
		items = append(items, label)
	}
	return items
}

// arrowFrom is the least way, mm on paper, that is drawn as an arrow.
const arrowFrom = 1.0

// legend shows what the lines mean, and says if there are none.
func legend(any bool) layout.Block {
	const long, step = 16.0, 5.0
	row := func(n int, says string, items ...draw.Item) draw.Item {
		y := -float64(n) * step
		return draw.Group{Move: draw.Translate(r2.Vec{Y: y}), Items: append(items, draw.Text{At: r2.Vec{X: long + 3}, Says: says, Height: digit, Up: draw.Half})}
	}
	line := func(l draw.Line) draw.Item {
		return draw.Path{Line: l, Runs: []draw.Run{draw.Polyline(r2.Vec{}, r2.Vec{X: long})}}
	}
	items := []draw.Item{
		row(0, "the old piece, as it was built", line(draw.Later)),
		row(1, "the new one; where both run together, this one shows", line(draw.Cut)),
		row(2, "a hole that changed, by the number beside it", draw.Path{Line: draw.Thin, Runs: []draw.Run{draw.Circle(r2.Vec{X: long / 2}, 2)}},
			draw.Text{At: r2.Vec{X: long/2 + 2.5}, Says: "1", Height: digit, Bold: true}),
	}
	note := ""
	if !any {
		note = "No outline of a piece that there was has changed."
	}
	box := draw.Bounds(items...)
	return layout.Block{ID: "legend", Title: "What the lines mean", Note: note, Size: box.Size(), Above: true,
		Items: []draw.Item{draw.Group{Layer: LayerWords, Move: draw.Translate(box.Min.Neg()), Items: items}}}
}

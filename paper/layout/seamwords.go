package layout

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
)

// A seam never cuts through words: on each tile, what would lie on a seam or its
// marks is moved, whole, to the nearest free room of that tile if the middle of
// it is there (so words in the strip that two tiles share are on both), and left
// out where it is not.

const (
	seamRoom  = 0.8  // between moved words and any line, mm
	seamStep  = 1.5  // from try to try
	seamReach = 60.0 // words are moved no farther
)

// whole returns the items of a block with the words of this tile in their place.
func (c *cell) whole(b Block) []draw.Item {
	w := &mover{window: c.window, free: c.clearOfSeams()}
	w.learn(b.Items)
	return w.items(b.Items, draw.Transform{})
}

// clearOfSeams is the window without the strips that it shares.
func (c *cell) clearOfSeams() r2.Box {
	box := c.window
	if c.col > 0 {
		box.Min.X += Overlap
	}
	if c.col < c.cols-1 {
		box.Max.X -= Overlap
	}
	if c.row > 0 {
		box.Max.Y -= Overlap
	}
	if c.row < c.rows-1 {
		box.Min.Y += Overlap
	}
	return box
}

// mover moves words off the seams of a tile. All in block coordinates.
type mover struct {
	window, free r2.Box
	segs         [][2]r2.Vec
	boxes        []r2.Box // of words that stay
}

// learn takes in what moved words must not cover.
func (w *mover) learn(items []draw.Item) {
	draw.Page{Items: items}.Walk(func(m draw.Mark) {
		if m.Text != nil {
			if c := m.Text.Corners(); within(r2.Around(c[:]...), w.free) {
				w.boxes = append(w.boxes, r2.Around(c[:]...))
			}
			return
		}
		if m.Path == nil { // an image
			return
		}
		if m.Path.Line == draw.NoLine && m.Path.Fill != draw.Ink || m.Path.Line == draw.HatchLine {
			return
		}
		for _, r := range m.Path.Runs {
			pts := r.Points()
			if r.Closed {
				pts = append(pts[:len(pts):len(pts)], r.From)
			}
			for i := 1; i < len(pts); i++ {
				w.segs = append(w.segs, [2]r2.Vec{pts[i-1], pts[i]})
			}
		}
	})
}

func within(in, out r2.Box) bool {
	return in.Min.X >= out.Min.X-tol.Page && in.Min.Y >= out.Min.Y-tol.Page && in.Max.X <= out.Max.X+tol.Page && in.Max.Y <= out.Max.Y+tol.Page
}

// items goes through the items of a group that lies in the block by move. Words
// that belong together, a group of texts on white paper, stay together.
func (w *mover) items(in []draw.Item, move draw.Transform) []draw.Item {
	var out []draw.Item
	for _, it := range in {
		switch it := it.(type) {
		case draw.Text:
			if t, ok := w.unit([]draw.Item{it}, move); ok {
				out = append(out, t)
			}
		case draw.Group:
			inner := move.After(it.Move)
			if isLabel(it) {
				if g, ok := w.unit([]draw.Item{it}, move); ok {
					out = append(out, g)
				}
				continue
			}
			it.Items = w.items(it.Items, inner)
			w.follow(it.Items)
			out = append(out, it)
		default:
			out = append(out, it)
		}
	}
	return out
}

// isLabel tells that a group begins with white paper for the words in it.
func isLabel(g draw.Group) bool {
	if len(g.Items) == 0 {
		return false
	}
	p, ok := g.Items[0].(draw.Path)
	return ok && p.Fill == draw.White && p.Line == draw.NoLine
}

// unit returns words in their place on this tile; false if they are on another.
func (w *mover) unit(items []draw.Item, move draw.Transform) (draw.Item, bool) {
	box := draw.Bounds(draw.Group{Move: move, Items: items})
	same := draw.Group{Items: items}
	if within(box, w.free) {
		return same, true
	}
	mid := box.Min.Add(box.Max).Scale(0.5)
	if !within(r2.Box{Min: mid, Max: mid}, w.window) {
		return same, false
	}
	by, ok := w.room(box)
	if !ok {
		return same, true // no room on this tile: as it is, cut by the seam
	}
	w.boxes = append(w.boxes, r2.Box{Min: box.Min.Add(by), Max: box.Max.Add(by)})
	back := draw.Transform{Mirror: move.Mirror, Scale: move.Scale, Turn: move.Turn}
	return draw.Group{Move: draw.Translate(undo(back, by)), Items: items}, true
}

// follow lets a leader start at its words again where they were moved: in a group
// that begins with words, it is the path after them.
func (w *mover) follow(items []draw.Item) {
	if len(items) < 2 {
		return
	}
	words, ok := items[0].(draw.Group)
	line, isPath := items[1].(draw.Path)
	if !ok || !isPath || len(words.Items) == 0 || words.Move.Shift == (r2.Vec{}) || len(line.Runs) != 1 {
		return
	}
	if inner, ok := words.Items[0].(draw.Group); ok && isLabel(inner) {
		r := line.Runs[0]
		r.From = r.From.Add(words.Move.Shift)
		line.Runs = []draw.Run{r}
		items[1] = line
	}
}

// undo returns the vector that the linear part of a move takes to by.
func undo(t draw.Transform, by r2.Vec) r2.Vec {
	x, y := t.Apply(r2.Vec{X: 1}), t.Apply(r2.Vec{Y: 1})
	det := x.Cross(y)
	return r2.Vec{X: by.Cross(y) / det, Y: x.Cross(by) / det}
}

// room finds the nearest place for a box that is off the seams, all lines and all
// words, on a grid about where it was.
func (w *mover) room(box r2.Box) (r2.Vec, bool) {
	best, far := r2.Vec{}, math.Inf(1)
	for x := -seamReach; x <= seamReach; x += seamStep {
		for y := -seamReach; y <= seamReach; y += seamStep {
			by := r2.Vec{X: x, Y: y}
			if d := by.Len(); d < far-tol.Page && w.isFree(r2.Box{Min: box.Min.Add(by), Max: box.Max.Add(by)}) {
				best, far = by, d
			}
		}
	}
	return best, !math.IsInf(far, 1)
}

func (w *mover) isFree(b r2.Box) bool {
	if !within(b, w.free) {
		return false
	}
	d := r2.Vec{X: seamRoom, Y: seamRoom}
	b = r2.Box{Min: b.Min.Sub(d), Max: b.Max.Add(d)}
	for _, o := range w.boxes {
		if o.Min.X < b.Max.X && b.Min.X < o.Max.X && o.Min.Y < b.Max.Y && b.Min.Y < o.Max.Y {
			return false
		}
	}
	for _, s := range w.segs {
		if b.Hits(s[0], s[1]) {
			return false
		}
	}
	return true
}

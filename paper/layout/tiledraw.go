package layout

import (
	"fmt"
	"math"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// drawTile draws one tile: lettering, key map, the window of the block, and the
// seams with their marks.
func (c *cell) drawTile(b Block, p Place, sh shape, top r2.Vec) []draw.Item {
	key := keySize(b.Size, sh.turned)
	scale := key.X / turn(b.Size, sh.turned).X
	keyAt := r2.Vec{X: top.X, Y: top.Y - key.Y}
	onKey := draw.Transform{Scale: scale, Turn: p.OnPage.Turn, Shift: keyAt}
	if sh.turned {
		onKey.Shift.X += key.X
	}
	return []draw.Item{
		draw.Group{Layer: layerTitles, Items: sh.lettering(r2.Vec{X: top.X + key.X + keyGap, Y: top.Y})},
		draw.Group{Layer: layerTitles, Items: []draw.Item{
			draw.Group{Move: onKey, Items: c.keyMap(b)},
		}},
		draw.Group{Move: p.OnPage, Clip: []draw.Run{draw.Rect(c.shown(b))}, Items: c.whole(b)},
		draw.Group{Layer: LayerMarks, Move: p.OnPage, Items: c.seamMarks(sh.turned)},
	}
}

// shown is the window with a little room at the block's own edges, so that lines
// along them keep their full width.
func (c *cell) shown(b Block) r2.Box {
	w := c.window
	if c.col == 0 {
		w.Min.X -= edgeRoom
	}
	if c.col == c.cols-1 {
		w.Max.X += edgeRoom
	}
	if c.row == 0 {
		w.Max.Y += edgeRoom
	}
	if c.row == c.rows-1 {
		w.Min.Y -= edgeRoom
	}
	return w
}

// keyMap shows, in block coordinates, the whole block with its tiles and which
// of them this one is.
func (c *cell) keyMap(b Block) []draw.Item {
	items := []draw.Item{
		draw.Path{Runs: []draw.Run{draw.Rect(c.window)}, Fill: draw.Mid},
		draw.Group{Clip: []draw.Run{draw.Rect(r2.Box{Max: b.Size})}, Items: draw.Shapes(draw.Construction, b.Items...)},
		draw.Path{Runs: []draw.Run{draw.Rect(r2.Box{Max: b.Size})}, Line: draw.Thin},
	}
	size := c.window.Size()
	var grid []draw.Run
	for i := 1; i < c.cols; i++ { // in the middle of the overlaps
		x := float64(float64(i)*(size.X-Overlap)) + Overlap/2
		grid = append(grid, draw.Polyline(r2.Vec{X: x}, r2.Vec{X: x, Y: b.Size.Y}))
	}
	for i := 1; i < c.rows; i++ {
		y := b.Size.Y - float64(float64(i)*(size.Y-Overlap)) - Overlap/2
		grid = append(grid, draw.Polyline(r2.Vec{Y: y}, r2.Vec{X: b.Size.X, Y: y}))
	}
	return append(items, draw.Path{Runs: grid, Line: draw.Thin})
}

// seamMarks draws, in block coordinates, the two lines of each seam, what to do
// at them, and the match marks. The tile that lies left of or above a seam is
// cut along its edge and laid on its neighbour, up to the line drawn there.
func (c *cell) seamMarks(turned bool) []draw.Item {
	var out []draw.Item
	upright := 0.0
	if turned {
		upright = -math.Pi / 2 // so that letters stand on the page
	}
	for _, s := range c.seams {
		out = append(out, s.lines()...)
		for _, m := range s.marks {
			arm := float64(markArm)
			cross := []draw.Run{draw.Circle(m.at, markSize),
				draw.Polyline(m.at.Sub(r2.Vec{X: arm}), m.at.Add(r2.Vec{X: arm})),
				draw.Polyline(m.at.Sub(r2.Vec{Y: arm}), m.at.Add(r2.Vec{Y: arm}))}
			out = append(out,
				draw.Path{Runs: quarters(m.at), Fill: draw.Pencil},
				draw.Path{Runs: cross, Line: draw.Construction},
				draw.Text{At: m.at.Add(turnBy(r2.Vec{X: 1.7, Y: 1.9}, upright)), Says: m.letter, Height: 2, Bold: true, Turn: upright})
		}
	}
	return out
}

func turnBy(v r2.Vec, turn float64) r2.Vec { return draw.Transform{Turn: turn}.Apply(v) }

// quarters fills two opposite quarters of a match mark.
func quarters(c r2.Vec) []draw.Run {
	quarter := func(start float64) draw.Run {
		arc := draw.Arc(c, markSize, start, math.Pi/2)
		return draw.Run{From: c, Segs: append([]draw.Seg{{To: arc.From}}, arc.Segs...), Closed: true}
	}
	return []draw.Run{quarter(math.Pi / 2), quarter(-math.Pi / 2)}
}

// lines draws the cut edge or the line to lay to, with words along it inside the
// strip.
func (s seam) lines() []draw.Item {
	a, b := s.strip.Min, r2.Vec{X: s.strip.Max.X, Y: s.strip.Min.Y} // the lower edge, read to the right
	upright := s.strip.Size().Y > s.strip.Size().X
	if upright { // the right edge, read upwards
		a, b = b, s.strip.Max
	}
	along := b.Sub(a).Unit()
	from := math.Min(6, b.Sub(a).Len()/20+1)
	room := b.Sub(a).Len() - 2*from
	for _, m := range s.marks { // stay clear of the mark that is nearest to the start
		room = math.Min(room, m.at.Sub(a).Dot(along)-markArm-from-0.5)
	}
	says := layOther
	if s.after {
		says = layOn
	}
	items := []draw.Item{draw.Path{Runs: []draw.Run{draw.Polyline(a, b)}, Line: draw.Trim}}
	for _, words := range says {
		words = fmt.Sprintf(words, s.other)
		if draw.TextWidth(words, 1.5, false) <= room {
			return append(items, draw.Text{Says: words, Height: 1.5, Tone: draw.Pencil,
				At: a.Add(along.Scale(from)).Add(along.Perp()), Turn: math.Atan2(along.Y, along.X)})
		}
	}
	return items
}

package pattern

import (
	"math"
	"slices"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
)

// Labels go where they cover nothing: a placer knows all that is drawn, tries the
// places around a hole (or over a side) in a fixed order, and takes the one that
// costs least: near, inside what the block takes up anyway, its leader crossing
// as few lines as can be.

type placer struct {
	segs   [][2]r2.Vec
	boxes  []r2.Box
	bounds r2.Box
	waste  []region
}

// region is wood that goes: what is inside the blank and outside the outline of
// a saw, or inside a cut-out.
type region struct {
	blank   r2.Box
	line    []r2.Vec
	outside bool
}

// onWaste tells whether the middle of a box lies on wood that goes.
func (p *placer) onWaste(box r2.Box) bool {
	c := box.Min.Add(box.Max).Scale(0.5)
	for _, w := range p.waste {
		if meet(w.blank, r2.Box{Min: c, Max: c}) && inside(w.line, c) != w.outside {
			return true
		}
	}
	return false
}

// inside is the even-odd rule.
func inside(poly []r2.Vec, c r2.Vec) bool {
	in := false
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y > c.Y) != (b.Y > c.Y) && c.X < a.X+float64((b.X-a.X)*((c.Y-a.Y)/(b.Y-a.Y))) {
			in = !in
		}
	}
	return in
}

// copy returns a placer that can try things without the first one knowing.
func (p *placer) copy() placer {
	return placer{slices.Clone(p.segs), slices.Clone(p.boxes), p.bounds, p.waste}
}

// room left between a label and any line, mm.
const labelRoom = 0.9

// ink tells the placer what is drawn.
func (p *placer) ink(items ...draw.Item) {
	draw.Page{Items: items}.Walk(func(m draw.Mark) {
		if m.Text != nil {
			c := m.Text.Corners()
			p.boxes = append(p.boxes, r2.Around(c[:]...))
			return
		}
		if m.Path == nil { // an image
			return
		}
		for _, r := range m.Path.Runs {
			pts := coarse(r)
			for i := 1; i < len(pts); i++ {
				p.segs = append(p.segs, [2]r2.Vec{pts[i-1], pts[i]})
			}
		}
	})
	if b := draw.Bounds(items...); !b.Empty() {
		p.bounds = p.bounds.Union(b)
	}
}

// coarse returns points along a run, close enough to keep words clear of it.
func coarse(r draw.Run) []r2.Vec { return fine(r, math.Pi/12) }

// fine is a run as corners, its arcs in steps of an angle.
func fine(r draw.Run, step float64) []r2.Vec {
	pts := []r2.Vec{r.From}
	for _, s := range r.Segs {
		if s.Sweep == 0 {
			pts = append(pts, s.To)
		} else {
			pts = append(pts, s.Parts(step)...)
		}
	}
	if r.Closed {
		pts = append(pts, r.From)
	}
	return pts
}

func grown(b r2.Box, by float64) r2.Box {
	d := r2.Vec{X: by, Y: by}
	return r2.Box{Min: b.Min.Sub(d), Max: b.Max.Add(d)}
}

func (p *placer) clear(box r2.Box) bool {
	box = grown(box, labelRoom)
	for _, b := range p.boxes {
		if meet(b, box) {
			return false
		}
	}
	for _, s := range p.segs {
		if box.Hits(s[0], s[1]) {
			return false
		}
	}
	return true
}

func meet(a, b r2.Box) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// crossings counts the lines that a leader would cross, and tells whether it
// would run through words.
func (p *placer) crossings(s [2]r2.Vec) (lines int, words bool) {
	for _, b := range p.boxes {
		if grown(b, 0.5).Hits(s[0], s[1]) {
			return 0, true
		}
	}
	for _, q := range p.segs {
		if cutting(q, s) {
			lines++
		}
	}
	return lines, false
}

func cutting(a, b [2]r2.Vec) bool {
	side := func(s [2]r2.Vec, p r2.Vec) float64 { return s[1].Sub(s[0]).Cross(p.Sub(s[0])) }
	return side(a, b[0])*side(a, b[1]) < 0 && side(b, a[0])*side(b, a[1]) < 0
}

// growth is what a box adds to the size of the block.
func (p *placer) growth(b r2.Box) float64 {
	was, is := p.bounds.Size(), p.bounds.Union(b).Size()
	return is.X - was.X + is.Y - was.Y
}

// sizeOf returns the room that lines of a label take.
func sizeOf(says []line) r2.Vec {
	w := 0.0
	for _, l := range says {
		w = math.Max(w, textOf(l).Width())
	}
	n := float64(len(says))
	return r2.Vec{X: w, Y: float64((n-1)*draw.LineStep(wordHeight)) + wordHeight + draw.Descent(wordHeight, false)}
}

// words letters lines into a box, with white paper below.
func words(says []line, box r2.Box, across draw.Across) draw.Group {
	x := [...]float64{draw.Left: box.Min.X, draw.Middle: (box.Min.X + box.Max.X) / 2, draw.Right: box.Max.X}[across]
	items := []draw.Item{paperUnder(box)}
	for i, l := range says {
		t := textOf(l)
		t.At, t.Across, t.Up = r2.Vec{X: x, Y: box.Max.Y - float64(float64(i)*draw.LineStep(wordHeight))}, across, draw.Top
		items = append(items, t)
	}
	return draw.Group{Items: items}
}

func paperUnder(box r2.Box) draw.Path {
	return draw.Path{Runs: []draw.Run{draw.Rect(grown(box, 0.5))}, Fill: draw.White}
}

// directions are sixteen, by exact numbers so that every processor agrees; the
// first are liked best.
var directions = [...]r2.Vec{
	{X: 1}, {X: -1}, {Y: 1}, {Y: -1},
	{X: 0.8, Y: 0.6}, {X: 0.8, Y: -0.6}, {X: -0.8, Y: 0.6}, {X: -0.8, Y: -0.6},
	{X: 0.6, Y: 0.8}, {X: 0.6, Y: -0.8}, {X: -0.6, Y: 0.8}, {X: -0.6, Y: -0.8},
	{X: 0.96, Y: 0.28}, {X: 0.96, Y: -0.28}, {X: -0.96, Y: 0.28}, {X: -0.96, Y: -0.28},
}

const (
	nearEnough = 6.0  // a label that near to its hole needs no leader
	farthest   = 90.0 // a leader is never longer
	stepOut    = 1.5
)

// unliked is what direction k costs, in mm of distance.
func unliked(k int) float64 {
	switch {
	case k < 2:
		return 0.1 * float64(k)
	case k < 4:
		return 1
	}
	return 3 + 0.05*float64(k)
}

// spot is a place for a label, and what it costs.
type spot struct {
	says   []line
	box    r2.Box
	across draw.Across
	leader [2]r2.Vec
	led    bool
	cost   float64
}

// beside finds the best place near a circle for one of the ways to say a thing,
// with a leader where it can't be close. Where everything is taken, it takes the
// nearest place outside of all that is drawn.
func (p *placer) beside(c r2.Vec, r float64, ways [][]line) spot {
	best := spot{cost: math.Inf(1)}
	for n, says := range ways {
		size := sizeOf(says)
		for out := 0.0; out <= farthest; out += stepOut {
			for k, d := range directions {
				s := spotAt(c, d, r+1.2+out, r, size)
				s.says, s.led = says, out > nearEnough
				s.cost = out + unliked(k) + 0.8*p.growth(s.box) + float64(n)
				if s.led {
					s.cost += 3
				}
				if s.cost >= best.cost {
					continue
				}
				if p.onWaste(s.box) {
					s.cost += 4
				}
				if s.led {
					from := s.leader[0].Add(s.leader[1].Sub(s.leader[0]).Unit().Scale(0.3))
					lines, over := p.crossings([2]r2.Vec{from, s.leader[1]})
					if s.cost += 5 * float64(lines); over {
						continue
					}
				}
				if s.cost < best.cost && p.clear(s.box) {
					best = s
				}
			}
		}
	}
	if math.IsInf(best.cost, 1) {
		best = spotAt(c, r2.Vec{X: 1}, p.bounds.Max.X+3-c.X, r, sizeOf(ways[0]))
		best.says, best.led, best.cost = ways[0], true, farthest
	}
	return best
}

// spotAt puts a box of the given size off a circle of radius r about c, reach
// away in direction d.
func spotAt(c, d r2.Vec, reach, r float64, size r2.Vec) spot {
	s := spot{across: draw.Middle}
	near := c.Add(d.Scale(reach))
	min := r2.Vec{X: near.X - size.X/2, Y: near.Y - size.Y/2}
	switch {
	case d.X > 0:
		s.across, min.X = draw.Left, near.X
	case d.X < 0:
		s.across, min.X = draw.Right, near.X-size.X
	}
	switch {
	case d.Y > 0.5:
		min.Y = near.Y
	case d.Y < -0.5:
		min.Y = near.Y - size.Y
	}
	s.box = r2.Box{Min: min, Max: min.Add(size)}
	end := near.Sub(d.Scale(0.6))
	if d.X != 0 { // at the middle of the first line
		end.X = near.X - math.Copysign(0.8, d.X)
		end.Y = min.Y + size.Y - wordHeight/2
	}
	s.leader = [2]r2.Vec{c.Add(end.Sub(c).Unit().Scale(r)), end}
	return s
}

// draw letters the spot and takes its room.
func (p *placer) draw(s spot) draw.Group {
	g := words(s.says, s.box, s.across)
	if s.led { // beside the words, which may move by themselves at a seam
		g.Items = append([]draw.Item{draw.Group{Items: g.Items}}, draw.Path{Line: draw.Thin, Runs: []draw.Run{draw.Polyline(s.leader[1], s.leader[0])}},
			draw.Arrow(s.leader[0], s.leader[0].Sub(s.leader[1])))
	}
	p.ink(g)
	return g
}

// over finds a free box of the given size whose middle is as near to a wished
// point as can be, within an area, on waste only if that is allowed; it is false if
// there is none.
func (p *placer) over(area r2.Box, size, wish r2.Vec, wasteToo bool) (r2.Box, bool) {
	room := area.Size().Sub(size)
	step := math.Max(1, math.Max(room.X, room.Y)/60)
	best, nearest := r2.Box{}, math.Inf(1)
	for y := area.Min.Y + 1; y+size.Y <= area.Max.Y-1; y += step {
		for x := area.Min.X + 1; x+size.X <= area.Max.X-1; x += step {
			b := r2.Box{Min: r2.Vec{X: x, Y: y}, Max: r2.Vec{X: x + size.X, Y: y + size.Y}}
			if d := b.Min.Add(size.Scale(0.5)).Sub(wish).Len(); d < nearest-tol.Page && (wasteToo || !p.onWaste(b)) && p.clear(b) {
				best, nearest = b, d
			}
		}
	}
	return best, !math.IsInf(nearest, 1)
}

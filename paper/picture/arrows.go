package picture

import (
	"math"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/paper/draw"
	"dryfit/toy"
)

// The arrow of a move: white with a dark border, so that it shows on anything.

// Sizes of an arrow, mm on paper.
const (
	arrowLong  = 9.0
	arrowShort = 3.0 // at least; there is none where the way is shorter
	arrowWide  = 4.2 // its head
	arrowStem  = 1.9
	arrowHead  = 3.4
	arrowOff   = 0.8 // from what moves
)

// roundAxis returns the middle, the axis and the radius of a rod or disc.
func roundAxis(p *assembly.Piece) (c, dir r3.Vec, radius float64, ok bool) {
	if p.Part.Shape != toy.Rod && p.Part.Shape != toy.Disc {
		return c, dir, 0, false
	}
	c, dir, radius = p.Axis()
	return c, dir, radius, true
}

// arrows draws an arrow for each move, along its way in front of what moves, or beside
// it where that is a thin rod.
func (s Scene) arrows(m *assembly.Model, at place) []draw.Item {
	var out []draw.Item
	for k, mv := range s.Moves {
		if s.follows(m, k) {
			continue
		}
		if a, ok := s.arrow(m, mv, at); ok {
			out = append(out, a)
		}
	}
	return out
}

// follows tells whether something else moves ahead of move k, the same way: one arrow
// speaks for both.
func (s Scene) follows(m *assembly.Model, k int) bool {
	mv := s.Moves[k]
	if len(mv.Out) == 0 {
		return false
	}
	way := mv.way()
	own, at := s.boxOf(m, mv)
	for j, o := range s.Moves {
		if j == k || len(o.Out) == 0 || o.way().Dot(way) < 0.999 {
			continue
		}
		_, there := s.boxOf(m, o)
		if there.Meets(own.Union(at)) && there.Center().Sub(at.Center()).Dot(way) > 0 {
			return true
		}
	}
	return false
}

// boxOf returns the boxes around what moves, in its place and where it is drawn.
func (s Scene) boxOf(m *assembly.Model, mv Move) (home, out r3.Box) {
	home = r3.EmptyBox()
	for _, i := range mv.Pieces {
		home = home.Union(m.Pieces[i].Body.Bounds())
	}
	by := mv.off()
	return home, r3.Box{Min: home.Min.Add(by), Max: home.Max.Add(by)}
}

func (s Scene) arrow(m *assembly.Model, mv Move, at place) (draw.Path, bool) {
	way := mv.way()
	dir := at.flat(way)
	if len(mv.Out) == 0 || dir.Len() < 0.1 { // looked at along the way
		return draw.Path{}, false
	}
	last := mv.Out[len(mv.Out)-1].Len() * dir.Len() * at.scale // on paper
	dir = dir.Unit()
	// Around the pieces as they lie off their places: how far along the way they
	// reach, and the middle across it of what goes first.
	lead := math.Inf(-1)
	off := mv.off()
	var front []r3.Vec
	for _, i := range mv.Pieces {
		for _, v := range m.Pieces[i].Bored().Vertices() {
			v = v.Add(off)
			lead = math.Max(lead, v.Dot(way))
			front = append(front, v)
		}
	}
	across := dir.Perp()
	lo, hi, tip := math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, v := range front {
		if v.Dot(way) < lead-leadDepth {
			continue
		}
		q := at.on(v)
		lo, hi = math.Min(lo, q.Dot(across)), math.Max(hi, q.Dot(across))
		tip = math.Max(tip, q.Dot(dir))
	}
	mid, wide := (lo+hi)/2, hi-lo
	long := math.Min(arrowLong, last-2*arrowOff)
	start := tip + arrowOff
	if wide < 2*arrowWide { // beside it, then
		side := 1.0
		if across.Y < 0 {
			side = -1
		}
		mid += side * (wide/2 + arrowOff + arrowWide/2)
		long, start = arrowLong, tip-arrowLong/2
	}
	if long < arrowShort {
		return draw.Path{}, false
	}
	base := dir.Scale(start).Add(across.Scale(mid))
	p := func(along, beside float64) r2.Vec { return base.Add(dir.Scale(along)).Add(across.Scale(beside)) }
	neck := long - min(arrowHead, long*0.6)
	return draw.Path{Line: draw.Outline, Fill: draw.White, Runs: []draw.Run{draw.Polygon(
		p(0, -arrowStem/2), p(neck, -arrowStem/2), p(neck, -arrowWide/2), p(long, 0), p(neck, arrowWide/2), p(neck, arrowStem/2), p(0, arrowStem/2),
	)}}, true
}

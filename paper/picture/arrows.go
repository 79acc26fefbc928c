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
// it where that is a thin rod: where it covers nothing of what is new, if it can.
func (s Scene) arrows(m *assembly.Model, at place, covers func(spot) int) []draw.Item {
	var out []draw.Item
	for k, mv := range s.Moves {
		if s.follows(m, k) {
			continue
		}
		if a, ok := s.arrow(m, mv, at, covers); ok {
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

func (s Scene) arrow(m *assembly.Model, mv Move, at place, covers func(spot) int) (draw.Path, bool) {
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
	var tipLo, tipHi float64 // of its outermost corners
	for _, v := range front {
		if v.Dot(way) < lead-leadDepth {
			continue
		}
		q := at.on(v)
		if x := q.Dot(across); x < lo {
			lo, tipLo = x, q.Dot(dir)
		}
		if x := q.Dot(across); x > hi {
			hi, tipHi = x, q.Dot(dir)
		}
		tip = math.Max(tip, q.Dot(dir))
	}
	mid, wide := (lo+hi)/2, hi-lo
	long := math.Min(arrowLong, last-2*arrowOff)
	var spots []spot
	add := func(along, beside, long float64) {
		spots = append(spots, spot{dir.Scale(along).Add(across.Scale(beside)), dir, long})
	}
	ahead := func() { // farther on where what moves slants down before its leading face
		add(tip+arrowOff, mid, long)
		for by := arrowStep; last-2*arrowOff-by >= arrowFair; by += arrowStep { // and not past where it goes
			add(tip+arrowOff+by, mid, min(long, last-2*arrowOff-by))
		}
	}
	beside := func() {
		side := 1.0
		if across.Y < 0 {
			side = -1
		}
		for by := 0.0; by <= arrowFar; by += arrowStep {
			for _, side := range []float64{side, -side} {
				end := tip
				if wide >= 2*arrowWide && side > 0 {
					end = tipHi
				} else if wide >= 2*arrowWide {
					end = tipLo
				}
				add(end-arrowLong/2, mid+side*(wide/2+arrowOff+arrowWide/2+by), arrowLong)
			}
		}
	}
	switch {
	case wide < 2*arrowWide: // beside it, then
		beside()
	case long < arrowShort:
		return draw.Path{}, false
	default:
		ahead()
		beside()
	}
	best, least := spots[0], math.MaxInt
	for _, a := range spots {
		if n := covers(a); n < least {
			best, least = a, n
		}
		if least == 0 {
			break
		}
	}
	return best.arrow(), true
}

// How far arrows are looked for that cover nothing, and how long they stay, mm on paper.
const (
	arrowStep = 0.5
	arrowFar  = 14.0
	arrowFair = 6.0
)

// spot is where an arrow may be drawn: from a point of the paper in a direction.
type spot struct {
	from, dir r2.Vec
	long      float64
}

func (a spot) on(along, beside float64) r2.Vec {
	return a.from.Add(a.dir.Scale(along)).Add(a.dir.Perp().Scale(beside))
}

// neck is where the head of the arrow begins.
func (a spot) neck() float64 { return a.long - min(arrowHead, a.long*0.6) }

func (a spot) arrow() draw.Path {
	p, neck := a.on, a.neck()
	return draw.Path{Line: draw.Outline, Fill: draw.White, Runs: []draw.Run{draw.Polygon(
		p(0, -arrowStem/2), p(neck, -arrowStem/2), p(neck, -arrowWide/2), p(a.long, 0), p(neck, arrowWide/2), p(neck, arrowStem/2), p(0, arrowStem/2),
	)}}
}

// coveredBy counts the samples of an arrow, and of a little around it, under which something
// new is seen.
func coveredBy(a spot, o *object, look *raster) (n int) {
	neck := a.neck()
	for along := -arrowEdge; along <= a.long+arrowEdge; along += arrowSample {
		half := arrowStem / 2
		if along > neck {
			half = arrowWide / 2 * min(1, (a.long-along)/(a.long-neck))
		}
		half = max(0, half) + arrowEdge
		for beside := -half; beside <= half; beside += arrowSample {
			if b := look.at(a.on(along, beside)); b >= 0 && o.looks[b] == New {
				n++
			}
		}
	}
	return n
}

const (
	arrowEdge   = 0.3
	arrowSample = 0.4
)

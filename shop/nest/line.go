package nest

import (
	"math"

	"dryfit/geom/r2"
)

// A liner finds the best place for a piece along a line. Along it, how deep the piece is in
// each convex part of what lies there is zero outside a stretch and concave on it, so that
// the weighted sum is concave between the ends of stretches: no place on the line is better
// than the best of those ends and the ends of the room. The search is exact, and never
// needs a step length. Where one part alone outweighs what is good enough, no other has to be
// looked at: most of a line is soon closed.
type liner struct {
	cross []crossing
	facet []facet
	open  []stretch // of the line, where it may still be good enough
	rest  []stretch
}

type stretch struct{ a, b float64 }

// A crossing is the stretch of a line in one convex part.
type crossing struct {
	stretch
	w        float64
	from, to int32 // of facets
	in, out  *edge // where it begins and ends
}

// A facet is an edge as met along the line: depth d - s m.
type facet struct{ d, m float64 }

// spot is a place for a piece and what it weighs there; u is the direction of the edge
// that it comes to lie against, zero if none.
type spot struct {
	at r2.Vec
	f  float64
	u  r2.Vec
}

// along finds the best place for piece i as kind k on a board, on the line through from with
// direction dir (unit length), if one there weighs no more than enough.
func (y *yard) along(i int, k, board int32, from, dir r2.Vec, enough float64) (spot, bool) {
	room, ok := y.fits(k, board)
	if !ok {
		return spot{}, false
	}
	lo, hi := math.Inf(-1), math.Inf(1)
	if lo, hi, ok = slab(lo, hi, from.X, dir.X, room.x0, room.x1); !ok {
		return spot{}, false
	}
	if lo, hi, ok = slab(lo, hi, from.Y, dir.Y, room.y0, room.y1); !ok {
		return spot{}, false
	}
	y.work++
	l := &y.line
	l.cross, l.facet, l.open = l.cross[:0], l.facet[:0], append(l.open[:0], stretch{lo, hi})
	n := y.pieces()
	for j := 0; j < n; j++ {
		if j != i && y.on[j] == board {
			l.meet(y.g.between(k, y.kind[j]), from.Sub(y.at[j]), dir, y.w[i*(n+1)+j], enough, y.g.slight)
		}
	}
	l.meet(y.g.outside(board, k), from, dir, y.w[i*(n+1)+n], enough, y.g.slight)
	s, f, e := l.best(lo, hi, enough, y.g.slight)
	if f > enough {
		return spot{}, false
	}
	at := from.Add(dir.Scale(s))
	at.X = math.Min(math.Max(at.X, room.x0), room.x1)
	at.Y = math.Min(math.Max(at.Y, room.y0), room.y1)
	out := spot{at: at, f: f}
	if e != nil {
		out.u = r2.Vec{X: -e.ny, Y: e.nx}
	}
	return out, true
}

// slab clips a stretch of a line to lo..hi of one coordinate.
func slab(lo, hi, from, dir, min, max float64) (float64, float64, bool) {
	if dir == 0 {
		return lo, hi, true // the caller starts inside; what rounding left is clamped after
	}
	a, b := (min-from)/dir, (max-from)/dir
	if a > b {
		a, b = b, a
	}
	if a > lo {
		lo = a
	}
	if b < hi {
		hi = b
	}
	return lo, hi, lo <= hi
}

// meet takes in the stretches of the line in a clash, and closes where one of them weighs more
// than enough; p is the shift at the line's start.
func (l *liner) meet(c *clash, p, dir r2.Vec, w, enough, slight float64) {
	if len(c.parts) == 0 || !l.touches(c.box, p, dir) {
		return
	}
	over := slight + enough/w
	for k := range c.parts {
		q := &c.parts[k]
		if !l.touches(q.box, p, dir) {
			continue
		}
		s0, s1 := math.Inf(-1), math.Inf(1) // in the part
		t0, t1 := math.Inf(-1), math.Inf(1) // more than enough in it
		var in, out *edge
		from := int32(len(l.facet))
		hit := true
		edges := c.edges[q.from:q.to]
		for j := range edges {
			e := &edges[j]
			d := e.d - float64(e.nx*p.X) - float64(e.ny*p.Y)
			m := float64(e.nx*dir.X) + float64(e.ny*dir.Y)
			switch {
			case m > parallel:
				per := 1 / m
				if s := float64(d * per); s < s1 {
					s1, out = s, e
				}
				if t := float64((d - over) * per); t < t1 {
					t1 = t
				}
			case m < -parallel:
				per := 1 / m
				if s := float64(d * per); s > s0 {
					s0, in = s, e
				}
				if t := float64((d - over) * per); t > t0 {
					t0 = t
				}
			default:
				if d <= over {
					t1 = t0
				}
				if d <= slight {
					hit = false
				}
			}
			if hit = hit && s1-s0 > slight; !hit {
				break
			}
			l.facet = append(l.facet, facet{d, m})
		}
		if !hit || !l.opens(s0, s1) {
			l.facet = l.facet[:from]
			continue
		}
		l.cross = append(l.cross, crossing{stretch: stretch{s0, s1}, w: w, from: from, to: int32(len(l.facet)), in: in, out: out})
		if t0 < t1 {
			l.close(t0, t1)
		}
	}
}

// parallel is the sine of the angle at which a line counts as parallel to an edge.
const parallel = 1e-12

// opens tells whether any of a stretch is open.
func (l *liner) opens(a, b float64) bool {
	for _, o := range l.open {
		if o.a <= b && o.b >= a {
			return true
		}
	}
	return false
}

// close takes the inside of a stretch from what is open.
func (l *liner) close(a, b float64) {
	l.rest = l.rest[:0]
	for _, o := range l.open {
		if b <= o.a || a >= o.b {
			l.rest = append(l.rest, o)
			continue
		}
		if a >= o.a {
			l.rest = append(l.rest, stretch{o.a, a})
		}
		if b <= o.b {
			l.rest = append(l.rest, stretch{b, o.b})
		}
	}
	l.open, l.rest = l.rest, l.open
}

// touches tells whether the line meets a box where it is open.
func (l *liner) touches(b box, p, dir r2.Vec) bool {
	switch {
	case dir.X == 1:
		return p.Y > b.y0 && p.Y < b.y1 && l.opens(b.x0-p.X, b.x1-p.X)
	case dir.Y == 1:
		return p.X > b.x0 && p.X < b.x1 && l.opens(b.y0-p.Y, b.y1-p.Y)
	case dir.X == 0 && (p.X <= b.x0 || p.X >= b.x1) || dir.Y == 0 && (p.Y <= b.y0 || p.Y >= b.y1):
		return false
	}
	lo, hi := math.Inf(-1), math.Inf(1)
	var ok bool
	if lo, hi, ok = slab(lo, hi, p.X, dir.X, b.x0, b.x1); !ok {
		return false
	}
	if lo, hi, ok = slab(lo, hi, p.Y, dir.Y, b.y0, b.y1); !ok {
		return false
	}
	return l.opens(lo, hi)
}

// best returns where along the line the weighted sum is least, if no more than enough; of
// equal places the nearest to the line's start.
func (l *liner) best(lo, hi, enough, slight float64) (s, f float64, at *edge) {
	n := 0
	for _, c := range l.cross {
		if l.opens(c.a, c.b) {
			l.cross[n] = c
			n++
		}
	}
	l.cross = l.cross[:n]
	s, f = math.Inf(1), math.Inf(1)
	try := func(t float64, e *edge) {
		if !l.opens(t, t) || f == 0 && math.Abs(t) >= math.Abs(s) {
			return
		}
		if v := l.value(t, math.Min(f, enough), slight); v <= enough && (v < f || v == f && math.Abs(t) < math.Abs(s)) {
			s, f, at = t, v, e
		}
	}
	try(lo, nil)
	try(hi, nil)
	for i := range l.cross {
		c := &l.cross[i]
		try(c.a, c.in)
		try(c.b, c.out)
	}
	return s, f, at
}

// value returns the weighted sum at s, or more than enough once it is more than that.
func (l *liner) value(s, enough, slight float64) float64 {
	v := 0.0
	for i := range l.cross {
		c := &l.cross[i]
		if s <= c.a || s >= c.b {
			continue
		}
		d := math.Inf(1)
		for _, g := range l.facet[c.from:c.to] {
			if t := g.d - float64(s*g.m); t < d {
				if d = t; d <= slight {
					break
				}
			}
		}
		if d > slight {
			if v += float64(c.w * (d - slight)); v > enough {
				break
			}
		}
	}
	return v
}

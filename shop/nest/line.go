package nest

import (
	"math"

	"dryfit/geom/r2"
)

// A liner finds the best place for a piece along a line. Along it, how deep the piece is in
// each convex part of what lies there is zero outside a stretch and concave on it, so that
// the weighted sum is concave between the ends of stretches: no place on the line is better
// than the best of those ends and the ends of the room. The search is exact, and never
// needs a step length.
type liner struct {
	cross []crossing
	facet []facet
	turns []turn
	ends  []end
}

// A crossing is the stretch of a line in one convex part.
type crossing struct {
	s0, s1, w float64
	peak      float64 // weighted depth in the middle
	from, to  int32   // of facets
	e0, e1    int32   // the facets at its ends
}

// A turn is where the bound from below changes its slope.
type turn struct {
	s, slope float64
	open     int8 // +1 where a stretch begins, -1 where one ends
	edge     int32
}

// A facet is an edge as met along the line: depth d - s m.
type facet struct{ d, m, nx, ny float64 }

// An end is where a stretch of the line or the line itself begins or ends.
type end struct {
	s, below float64
	edge     int32 // one more than the facet there; 0: none
}

// spot is a place for a piece and what it weighs there; u is the direction of the edge
// that it comes to lie against, zero if none.
type spot struct {
	at r2.Vec
	f  float64
	u  r2.Vec
}

// along finds the best place for piece i as kind k on a board, on the line through from with
// direction dir (unit length).
func (y *yard) along(i int, k, board int32, from, dir r2.Vec) (spot, bool) {
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
	l.cross, l.facet = l.cross[:0], l.facet[:0]
	n := y.pieces()
	for j := 0; j < n; j++ {
		if j != i && y.on[j] == board {
			l.meet(y.g.between(k, y.kind[j]), from.Sub(y.at[j]), dir, lo, hi, y.w[i*(n+1)+j], y.g.slight)
		}
	}
	l.meet(y.g.outside(board, k), from, dir, lo, hi, y.w[i*(n+1)+n], y.g.slight)
	s, f, e := l.best(lo, hi, y.g.slight)
	at := from.Add(dir.Scale(s))
	at.X = math.Min(math.Max(at.X, room.x0), room.x1)
	at.Y = math.Min(math.Max(at.Y, room.y0), room.y1)
	out := spot{at: at, f: f}
	if e.edge > 0 {
		g := l.facet[e.edge-1]
		out.u = r2.Vec{X: -g.ny, Y: g.nx}
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
	lo, hi = math.Max(lo, a), math.Min(hi, b)
	return lo, hi, lo <= hi
}

// meet takes in the stretches of the line in a clash; p is the shift at the line's start.
func (l *liner) meet(c *clash, p, dir r2.Vec, lo, hi, w, slight float64) {
	if len(c.parts) == 0 || !touches(c.box, p, dir, lo, hi) {
		return
	}
	for k := range c.parts {
		q := &c.parts[k]
		if !touches(q.box, p, dir, lo, hi) {
			continue
		}
		s0, s1 := math.Inf(-1), math.Inf(1)
		var e0, e1 int32
		from := int32(len(l.facet))
		in := true
		for _, e := range c.edges[q.from:q.to] {
			d := e.d - float64(e.nx*p.X) - float64(e.ny*p.Y)
			m := float64(e.nx*dir.X) + float64(e.ny*dir.Y)
			switch {
			case m > parallel:
				if s := d / m; s < s1 {
					s1, e1 = s, int32(len(l.facet))
				}
			case m < -parallel:
				if s := d / m; s > s0 {
					s0, e0 = s, int32(len(l.facet))
				}
			case d <= slight:
				in = false
			}
			if s1-s0 <= slight || s1 <= lo || s0 >= hi || !in {
				in = false
				break
			}
			l.facet = append(l.facet, facet{d, m, e.nx, e.ny})
		}
		if !in {
			l.facet = l.facet[:from]
			continue
		}
		l.cross = append(l.cross, crossing{s0: s0, s1: s1, w: w, from: from, to: int32(len(l.facet)), e0: e0, e1: e1})
	}
}

// parallel is the sine of the angle at which a line counts as parallel to an edge.
const parallel = 1e-12

func touches(b box, p, dir r2.Vec, lo, hi float64) bool {
	if dir.Y == 0 {
		return p.Y > b.y0 && p.Y < b.y1 && p.X+lo < b.x1 && p.X+hi > b.x0 || dir.X != 1 && p.Y > b.y0 && p.Y < b.y1
	}
	if dir.X == 0 {
		return p.X > b.x0 && p.X < b.x1
	}
	var ok bool
	if lo, hi, ok = slab(lo, hi, p.X, dir.X, b.x0, b.x1); !ok {
		return false
	}
	_, _, ok = slab(lo, hi, p.Y, dir.Y, b.y0, b.y1)
	return ok
}

// best returns where along the line the weighted sum is least; of equal places the nearest
// to the line's start. As each depth is concave on its stretch, the tent from its ends up to
// its value in the middle lies below it: one sweep over the tents bounds the sum at every
// end from below, and only those ends that could be better are evaluated.
func (l *liner) best(lo, hi, slight float64) (s, f float64, at end) {
	l.turns = l.turns[:0]
	v, slope := 0.0, 0.0
	open := 0
	for i := range l.cross {
		c := &l.cross[i]
		mid := (c.s0 + c.s1) / 2
		d := math.Inf(1)
		for _, g := range l.facet[c.from:c.to] {
			if t := g.d - float64(mid*g.m); t < d {
				d = t
			}
		}
		c.peak = float64(c.w * math.Max(0, d-slight))
		rise := c.peak / (mid - c.s0)
		if c.s0 >= lo {
			l.turns = append(l.turns, turn{s: c.s0, slope: rise, open: 1, edge: c.e0})
		} else {
			open++
			if mid > lo {
				v += float64(rise * (lo - c.s0))
				slope += rise
			} else {
				v += float64(rise * (c.s1 - lo))
				slope -= rise
			}
		}
		if mid > lo && mid < hi {
			l.turns = append(l.turns, turn{s: mid, slope: -2 * rise})
		}
		if c.s1 <= hi {
			l.turns = append(l.turns, turn{s: c.s1, slope: rise, open: -1, edge: c.e1})
		}
	}
	sortTurns(l.turns)
	l.ends = append(l.ends[:0], end{s: lo, below: v})
	if open == 0 {
		l.ends[0].below = 0
	}
	least := 0
	was := lo
	for i := 0; i < len(l.turns); {
		j := i
		here := l.turns[i].s
		v = math.Max(0, v+float64(slope*(here-was)))
		was = here
		edge := int32(-1)
		for ; j < len(l.turns) && l.turns[j].s == here; j++ {
			t := &l.turns[j]
			if t.open < 0 {
				open--
			}
			if t.open != 0 {
				edge = t.edge
			}
			slope += t.slope
		}
		if open == 0 {
			v, slope = 0, 0
			for k := i; k < j; k++ {
				if l.turns[k].open > 0 {
					slope += l.turns[k].slope
				}
			}
		}
		if edge >= 0 {
			if v < l.ends[least].below {
				least = len(l.ends)
			}
			l.ends = append(l.ends, end{s: here, below: v, edge: edge + 1})
		}
		for k := i; k < j; k++ {
			if l.turns[k].open > 0 {
				open++
			}
		}
		i = j
	}
	v = math.Max(0, v+float64(slope*(hi-was)))
	if open == 0 {
		v = 0
	}
	if v < l.ends[least].below {
		least = len(l.ends)
	}
	l.ends = append(l.ends, end{s: hi, below: v})
	at = l.ends[least]
	s, f = at.s, l.value(at.s, math.Inf(1), slight)
	for _, e := range l.ends {
		if e.below > f || e.below == f && math.Abs(e.s) >= math.Abs(s) {
			continue
		}
		if v := l.value(e.s, f, slight); v < f || v == f && math.Abs(e.s) < math.Abs(s) {
			s, f, at = e.s, v, e
		}
	}
	return s, f, at
}

// value returns the weighted sum at s, or more than enough once it is more than that.
func (l *liner) value(s, enough, slight float64) float64 {
	v := 0.0
	for i := range l.cross {
		c := &l.cross[i]
		if s <= c.s0 || s >= c.s1 {
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

// sortTurns sorts by s: quick sort with insertion for short runs, written out since the
// library's takes a call a comparison, a third of all time.
func sortTurns(t []turn) {
	for len(t) > 12 {
		a, b, c := t[0].s, t[len(t)/2].s, t[len(t)-1].s
		p := math.Max(math.Min(a, b), math.Min(math.Max(a, b), c))
		i, j := 0, len(t)-1
		for i <= j {
			for t[i].s < p {
				i++
			}
			for t[j].s > p {
				j--
			}
			if i <= j {
				t[i], t[j] = t[j], t[i]
				i++
				j--
			}
		}
		if j+1 < len(t)-i {
			sortTurns(t[:j+1])
			t = t[i:]
		} else {
			sortTurns(t[i:])
			t = t[:j+1]
		}
	}
	for i := 1; i < len(t); i++ {
		x := t[i]
		j := i
		for ; j > 0 && t[j-1].s > x.s; j-- {
			t[j] = t[j-1]
		}
		t[j] = x
	}
}

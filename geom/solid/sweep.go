package solid

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// meet calls f for the pairs of pieces that the motion can bring into each
// other by more than allow, in the order of the trees. rings finds where a body lies
// about the axis of a turn.
func (m motion) meet(fixed, moving Body, limit, allow float64, rings func(Body) []ring, f func(i, j int32)) {
	if !m.turn {
		pairs(fixed.tree, m.swept(moving, limit), -allow, func(i, j int32) bool { f(i, j); return true })
		return
	}
	x, y := rings(fixed), rings(moving)
	var walk func(i, j int32)
	walk = func(i, j int32) {
		if !x[i].meets(&y[j], limit, allow) {
			return
		}
		a, b := &fixed.tree[i], &moving.tree[j]
		switch {
		case a.piece >= 0 && b.piece >= 0:
			f(a.piece, b.piece)
		case b.piece >= 0 || (a.piece < 0 && bigger(a.box, b.box)):
			walk(a.left, j)
			walk(a.right, j)
		default:
			walk(i, b.left)
			walk(i, b.right)
		}
	}
	walk(0, 0)
}

// swept returns the tree of b with every box stretched over the slide.
func (m motion) swept(b Body, limit float64) []node {
	out := append([]node(nil), b.tree...)
	d := m.dir.Scale(limit)
	for i := range out {
		x := out[i].box
		out[i].box = x.Union(r3.Box{Min: x.Min.Add(d), Max: x.Max.Add(d)})
	}
	return out
}

// ring is where a piece lies as seen along the axis: its extent along it, from
// how near to how far it reaches, and in which sector.
type ring struct {
	lo, hi, near, far float64
	from, wide        float64 // sector, wide = 2 pi for all round
}

func (a *ring) meets(b *ring, limit, allow float64) bool {
	if a.hi-b.lo <= allow || b.hi-a.lo <= allow || a.near > b.far || b.near > a.far {
		return false
	}
	const full = 2 * math.Pi
	if a.wide >= full || b.wide+limit >= full {
		return true
	}
	gap := math.Mod(b.from-a.from, full) // b's sector grows to wide + limit
	if gap < 0 {
		gap += full
	}
	return gap <= a.wide+tol.Clip || full-gap <= b.wide+limit+tol.Clip
}

// rings returns the ring of every node of the tree of b.
func (m motion) rings(b Body) []ring {
	u := r3.X
	if math.Abs(m.dir.X) > 0.7 {
		u = r3.Y
	}
	u = u.Sub(m.dir.Scale(u.Dot(m.dir))).Unit()
	v := m.dir.Cross(u)
	out := make([]ring, len(b.tree))
	for i := len(b.tree) - 1; i >= 0; i-- {
		n := &b.tree[i]
		if n.piece >= 0 {
			out[i] = m.ring(&b.Pieces[n.piece], u, v)
			continue
		}
		x, y := out[n.left], out[n.right]
		r := ring{lo: math.Min(x.lo, y.lo), hi: math.Max(x.hi, y.hi), near: math.Min(x.near, y.near), far: math.Max(x.far, y.far)}
		r.from, r.wide = joinSectors(x, y)
		out[i] = r
	}
	return out
}

// joinSectors returns the smaller sector that covers both.
func joinSectors(x, y ring) (from, wide float64) {
	const full = 2 * math.Pi
	up := math.Mod(y.from-x.from, full)
	if up < 0 {
		up += full
	}
	w1 := math.Max(x.wide, up+y.wide)      // from x on
	w2 := math.Max(y.wide, full-up+x.wide) // from y on
	if w1 <= w2 {
		return x.from, math.Min(w1, full)
	}
	return y.from, math.Min(w2, full)
}

func (m motion) ring(c *Convex, u, v r3.Vec) ring {
	r := ring{lo: math.Inf(1), hi: math.Inf(-1), near: math.Inf(1)}
	type flat struct{ x, y float64 }
	ps := make([]flat, len(c.V))
	var mid flat
	for i, p := range c.V {
		q := p.Sub(m.o)
		h := q.Dot(m.dir)
		r.lo, r.hi = math.Min(r.lo, h), math.Max(r.hi, h)
		ps[i] = flat{q.Dot(u), q.Dot(v)}
		mid.x += ps[i].x
		mid.y += ps[i].y
		r.far = math.Max(r.far, trig.Hypot(ps[i].x, ps[i].y))
	}
	around := false
	for i := range c.Faces {
		l := c.Faces[i].Loop
		pos, neg := false, false
		for j, a := range l {
			p, q := ps[a], ps[l[(j+1)%len(l)]]
			ex, ey := q.x-p.x, q.y-p.y
			cross := float64(p.x*ey) - float64(p.y*ex)
			pos, neg = pos || cross > 0, neg || cross < 0
			t := 0.0
			if ee := float64(ex*ex) + float64(ey*ey); ee > 0 {
				t = math.Max(0, math.Min(1, -(float64(p.x*ex)+float64(p.y*ey))/ee))
			}
			r.near = math.Min(r.near, trig.Hypot(p.x+float64(t*ex), p.y+float64(t*ey)))
		}
		around = around || pos != neg // the axis runs through this face
	}
	if around || r.near < tol.Weld {
		r.near, r.wide = 0, 2*math.Pi
		return r
	}
	// All corners are on one side of a line through the axis.
	lo, hi := 0.0, 0.0
	for _, p := range ps {
		a := trig.Atan2(float64(mid.x*p.y)-float64(mid.y*p.x), float64(mid.x*p.x)+float64(mid.y*p.y))
		lo, hi = math.Min(lo, a), math.Max(hi, a)
	}
	r.from, r.wide = trig.Atan2(mid.y, mid.x)+lo, hi-lo
	return r
}

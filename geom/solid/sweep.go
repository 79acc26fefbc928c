package solid

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// Turning is a turn about one axis that many bodies are tried with: where a body lies
// about the axis is found once, for both ways. It is for one goroutine.
type Turning struct {
	m     motion
	way   float64          // -1 where m turns against the axis that the rings are about
	boxes map[*node]ring   // by the first node of a body's tree: where its box lies
	rings map[*node][]ring // by the same: where each node lies, of bodies whose box may meet another's
}

// NewTurning returns the turn about an axis.
func NewTurning(axis Axis) *Turning {
	return &Turning{motion{turn: true, o: axis.At, dir: axis.Dir.Unit()}, 1, map[*node]ring{}, map[*node][]ring{}}
}

// Back returns the turn the other way. The two share what they know of the bodies.
func (t *Turning) Back() *Turning { return &Turning{t.m.back(), -t.way, t.boxes, t.rings} }

// about is the turn that the rings are about.
func (t *Turning) about() motion {
	if t.way < 0 {
		return t.m.back()
	}
	return t.m
}

func (t *Turning) boxOf(b Body) ring {
	r, ok := t.boxes[&b.tree[0]]
	if !ok {
		box, m := b.Bounds(), t.about()
		u, v := m.across()
		c := Box(box.Min, box.Max, [6]int32{})
		r = m.ring(&c, u, v)
		t.boxes[&b.tree[0]] = r
	}
	return r
}

func (t *Turning) ringsOf(b Body) []ring {
	r, ok := t.rings[&b.tree[0]]
	if !ok {
		r = t.about().rings(b)
		t.rings[&b.tree[0]] = r
	}
	return r
}

// meet calls f for the pairs of pieces that the motion can bring into each
// other by more than allow, in the order of the trees. f returns how far the motion
// still matters, at most limit: of a turn, pairs that meet later are left out. A
// slide has no turning.
func (m motion) meet(fixed, moving Body, limit, allow float64, turning *Turning, f func(i, j int32) float64) {
	if turning == nil {
		pairs(fixed.tree, m.swept(moving, limit), -allow, func(i, j int32) bool { f(i, j); return true })
		return
	}
	if a, b := turning.boxOf(fixed), turning.boxOf(moving); !a.meets(&b, limit, allow, turning.way) {
		return
	}
	x, y := turning.ringsOf(fixed), turning.ringsOf(moving)
	var walk func(i, j int32)
	walk = func(i, j int32) {
		if !x[i].meets(&y[j], limit, allow, turning.way) {
			return
		}
		a, b := &fixed.tree[i], &moving.tree[j]
		switch {
		case a.piece >= 0 && b.piece >= 0:
			limit = f(a.piece, b.piece)
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

// meets tells whether b, turned by up to limit, may come into a by more than allow; way is
// -1 where it turns against the axis that the rings are about.
func (a *ring) meets(b *ring, limit, allow, way float64) bool {
	if a.hi-b.lo <= allow || b.hi-a.lo <= allow || a.near > b.far || b.near > a.far {
		return false
	}
	const full = 2 * math.Pi
	if a.wide >= full || b.wide+limit >= full {
		return true
	}
	from := b.from // b's sector grows to wide + limit
	if way < 0 {
		from -= limit
	}
	gap := math.Mod(from-a.from, full)
	if gap < 0 {
		gap += full
	}
	return gap <= a.wide+tol.Clip || full-gap <= b.wide+limit+tol.Clip
}

// across returns two directions across the axis, the second a quarter turn after the first.
func (m motion) across() (u, v r3.Vec) {
	u = r3.X
	if math.Abs(m.dir.X) > 0.7 {
		u = r3.Y
	}
	u = u.Sub(m.dir.Scale(u.Dot(m.dir))).Unit()
	return u, m.dir.Cross(u)
}

// rings returns the ring of every node of the tree of b.
func (m motion) rings(b Body) []ring {
	u, v := m.across()
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
	// All corners are on one side of a line through the axis: of two, it is told by their cross
	// product which comes first.
	first, last := ps[0], ps[0]
	for _, p := range ps[1:] {
		if float64(first.x*p.y)-float64(first.y*p.x) < 0 {
			first = p
		}
		if float64(last.x*p.y)-float64(last.y*p.x) > 0 {
			last = p
		}
	}
	past := func(p flat) float64 { // the middle
		return trig.Atan2(float64(mid.x*p.y)-float64(mid.y*p.x), float64(mid.x*p.x)+float64(mid.y*p.y))
	}
	lo, hi := math.Min(0, past(first)), math.Max(0, past(last))
	r.from, r.wide = trig.Atan2(mid.y, mid.x)+lo, hi-lo
	return r
}

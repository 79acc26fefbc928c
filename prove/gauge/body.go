package gauge

import (
	"math"

	"dryfit/geom/r3"
)

// A piece is the hull of corners and round rims. Two questions are all that the
// gauge asks of it: the point farthest in a direction, for rim and floor, and the
// point farthest from an upright line, for the wall.

type circle struct {
	c, n r3.Vec // n of length 1
	r    float64
}

type body struct {
	points  []r3.Vec
	circles []circle
	about   r3.Pose // from the caller's frame to this one
}

// newBody centres the piece and turns rims without radius into corners.
func newBody(hull []r3.Vec, rims []Circle) (body, bool) {
	var b body
	box := r3.Around(hull...)
	for _, c := range rims {
		box = box.Union(r3.Around(c.Center).Grow(math.Max(0, c.Radius)))
	}
	mid := box.Center()
	if box.Empty() || !finite(mid) || !finite(box.Size()) {
		return b, false
	}
	b.about = r3.Shift(mid.Neg())
	seen := map[r3.Vec]bool{}
	corner := func(p r3.Vec) {
		if !seen[p] {
			seen[p] = true
			b.points = append(b.points, p)
		}
	}
	for _, p := range hull {
		corner(p.Sub(mid))
	}
	for _, c := range rims {
		switch {
		case !(c.Radius >= 0) || c.Normal.Len() == 0 || !finite(c.Normal):
			return b, false
		case c.Radius == 0:
			corner(c.Center.Sub(mid))
		default:
			b.circles = append(b.circles, circle{c.Center.Sub(mid), c.Normal.Unit(), c.Radius})
		}
	}
	return b, true
}

// hypot rounds the same on every processor, which math.Hypot does not promise.
func hypot(a, b float64) float64 { return math.Sqrt(float64(a*a) + float64(b*b)) }

func finite(v r3.Vec) bool { l := v.Dot(v); return !math.IsNaN(l) && !math.IsInf(l, 0) }

// turn writes into out the piece turned by m; m must not shift.
func (b *body) turn(m r3.Pose, out *body) {
	out.points = out.points[:0]
	for _, p := range b.points {
		out.points = append(out.points, m.Dir(p))
	}
	out.circles = out.circles[:0]
	for _, c := range b.circles {
		out.circles = append(out.circles, circle{m.Dir(c.c), m.Dir(c.n), c.r})
	}
}

// support returns the point of the piece farthest along d, of length 1.
func (b *body) support(d r3.Vec) r3.Vec {
	most := math.Inf(-1)
	var at r3.Vec
	for _, p := range b.points {
		if h := p.Dot(d); h > most {
			most, at = h, p
		}
	}
	for i := range b.circles {
		c := &b.circles[i]
		across := d.Sub(c.n.Scale(c.n.Dot(d)))
		l := across.Len()
		if h := c.c.Dot(d) + float64(c.r*l); h > most {
			most, at = h, c.c
			if l > 0 {
				at = c.c.Add(across.Scale(c.r / l))
			}
		}
	}
	return at
}

// farthest returns the point farthest from the upright line through (x, y), and its
// distance.
func (b *body) farthest(x, y float64) (r3.Vec, float64) {
	most := math.Inf(-1)
	var at r3.Vec
	try := func(p r3.Vec) {
		dx, dy := p.X-x, p.Y-y
		if d := float64(dx*dx) + float64(dy*dy); d > most {
			most, at = d, p
		}
	}
	for _, p := range b.points {
		try(p)
	}
	for i := range b.circles {
		c := &b.circles[i]
		dx, dy := c.c.X-x, c.c.Y-y
		reach := hypot(dx, dy) + c.r
		if float64(reach*reach) > most {
			try(c.farthest(dx, dy))
		}
	}
	return at, math.Sqrt(most)
}

// farthest returns the rim point farthest from an upright line, from which the centre
// is (dx, dy) away. In the rim's own axes, e1 level and e2 across it, it
// maximises m1 w1^2 + m2 w2^2 + 2 b.w over unit w, where m1 >= m2: the multiplier
// mu >= m1 solves b1^2/(mu-m1)^2 + b2^2/(mu-m2)^2 = 1 (the secular equation of
// the trust-region problem), found by Newton's method on the reciprocal norm.
func (c *circle) farthest(dx, dy float64) r3.Vec {
	e1 := r3.Vec{X: -c.n.Y, Y: c.n.X}
	if l := e1.Len(); l > 0 {
		e1 = e1.Scale(1 / l)
	} else {
		e1 = r3.X
	}
	e2 := c.n.Cross(e1)
	flat := math.Sqrt(float64(e2.X*e2.X) + float64(e2.Y*e2.Y))
	m1, m2 := float64(c.r*c.r), float64(float64(c.r*c.r)*float64(flat*flat))
	b1 := float64(c.r * (float64(e1.X*dx) + float64(e1.Y*dy)))
	b2 := float64(c.r * (float64(e2.X*dx) + float64(e2.Y*dy)))
	if m2 > m1 {
		m2 = m1
	}
	var w1, w2 float64
	// mu starts at a lower bound, where the function is at least 1.
	lo := math.Max(m1+math.Abs(b1), m2+math.Abs(b2))
	if lo == m1 && m2 == m1 {
		w1 = 1 // centred and level: all points are equal
	} else if lo-m1 <= 1e-12*m1 {
		// Hard case: the line lies in the plane of symmetry; both sides tie.
		w2 = b2 / (m1 - m2)
		w1 = math.Sqrt(math.Max(0, 1-float64(w2*w2)))
	} else {
		mu := lo
		for i := 0; i < 30; i++ {
			w1, w2 = b1/(mu-m1), b2/(mu-m2)
			if mu == m2 {
				w2 = 0
			}
			s := float64(w1*w1) + float64(w2*w2)
			n := math.Sqrt(s)
			if n-1 <= 1e-13 {
				break
			}
			slope := float64(w1*w1)/(mu-m1) + float64(w2*w2)/(mu-m2)
			mu += float64(s / slope * (n - 1))
		}
		if n := hypot(w1, w2); n > 0 {
			w1, w2 = w1/n, w2/n
		} else {
			w1 = 1
		}
	}
	return c.c.Add(e1.Scale(float64(c.r * w1))).Add(e2.Scale(float64(c.r * w2)))
}

// longest returns a distance that two points of the piece have.
func (b *body) longest() float64 {
	most := 0.0
	for i, p := range b.points {
		for _, q := range b.points[:i] {
			most = math.Max(most, p.Sub(q).Len())
		}
	}
	for i, c := range b.circles {
		for _, p := range b.points {
			d := p.Sub(c.c)
			h := d.Dot(c.n)
			flat := math.Sqrt(math.Max(0, d.Dot(d)-float64(h*h)))
			most = math.Max(most, hypot(flat+c.r, h))
		}
		for _, o := range b.circles[:i] {
			d := o.c.Sub(c.c)
			across := c.n.Cross(o.n).Len()
			if across < 1e-9 { // parallel rims: the far points of both
				h := d.Dot(c.n)
				flat := math.Sqrt(math.Max(0, d.Dot(d)-float64(h*h)))
				most = math.Max(most, hypot(flat+c.r+o.r, h))
			} else {
				most = math.Max(most, d.Len())
			}
		}
	}
	return most
}

// revolved returns the piece with its axis along z, if it has one: all rims are
// coaxial and every corner lies within their hull or on the axis.
func (b *body) revolved() (body, bool) {
	const same = 1e-6 // mm; a thousandth of any size a shop can tell
	if len(b.circles) == 0 {
		return body{}, false
	}
	axis, origin := b.circles[0].n, b.circles[0].c
	out := body{about: b.about.Then(r3.Shift(origin.Neg())).Then(upright(axis))}
	add := func(h, r float64) { out.circles = append(out.circles, circle{r3.Vec{Z: h}, r3.Z, r}) }
	for _, c := range b.circles {
		d := c.c.Sub(origin)
		h := d.Dot(axis)
		if c.n.Cross(axis).Len()*c.r > same || d.Sub(axis.Scale(h)).Len() > same {
			return body{}, false
		}
		add(h, c.r)
	}
	var off []r3.Vec
	for _, p := range b.points {
		d := p.Sub(origin)
		h := d.Dot(axis)
		if r := d.Sub(axis.Scale(h)).Len(); r > same {
			off = append(off, r3.Vec{X: r, Z: h})
		} else {
			add(h, 0)
		}
	}
	for _, p := range off {
		if out.profile(p.Z) < p.X-same {
			return body{}, false
		}
	}
	return out, true
}

// profile returns the radius at height h of the hull of rims about z.
func (b *body) profile(h float64) float64 {
	const same = 1e-6
	most := math.Inf(-1)
	for _, c := range b.circles {
		if math.Abs(c.c.Z-h) <= same {
			most = math.Max(most, c.r)
		}
		for _, o := range b.circles {
			if c.c.Z < h && h < o.c.Z {
				t := (h - c.c.Z) / (o.c.Z - c.c.Z)
				most = math.Max(most, float64(c.r*(1-t))+float64(o.r*t))
			}
		}
	}
	return most
}

// upright returns the rotation that carries the unit vector n to z.
func upright(n r3.Vec) r3.Pose {
	u := n.Cross(r3.X)
	if v := n.Cross(r3.Y); v.Len() > u.Len() {
		u = v
	}
	u = u.Unit()
	return r3.Pose{U: u, V: n.Cross(u), W: n}.Inverse()
}

package solid

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// Meeting is where faces of two bodies that look one way lie on each other.
type Meeting struct {
	N  r3.Vec   // from the first body to the second
	At []r3.Vec // some points, inside by about meetInset of what they share
}

const (
	// meetPush is how far bodies are pushed into each other to see what they share of a face, in mm.
	meetPush = 0.1
	// meetInset is how far from the edges of what is shared its points are, so that what moves a
	// little is still met there, in mm.
	meetInset = 1.0
	// meetOneWay is the cosine within which normals look one way: 8 degrees.
	meetOneWay = 0.99
	// meetLeast is the least area, in mm², that counts: less is an edge that touches.
	meetLeast = 1.0
)

// Meetings lists where two bodies that touch, within slack, lie on each other with flat faces.
func Meetings(a, b Body, slack float64) (out []Meeting) {
	var k knife
	pairs(a.tree, b.tree, slack, func(i, j int32) bool {
		p, q := &a.Pieces[i], &b.Pieces[j]
		for f := range p.Faces {
			n := p.Faces[f].Plane.N
			if gap := along(p, q, n); math.Abs(gap) > slack || !looks(q, n) {
				continue
			}
			into := q.Transform(r3.Shift(n.Scale(-meetPush)))
			c := k.common(p, &into)
			if c == nil || c.Volume() < meetLeast*meetPush {
				continue
			}
			mid := c.Moments().Center
			for _, v := range c.V {
				d := v.Sub(mid)
				d = d.Sub(n.Scale(d.Dot(n)))
				v = mid.Add(d.Scale(math.Max(0.5, 1-meetInset/math.Max(tol.Weld, d.Len()))))
				out = meet(out, n, v.Sub(n.Scale(p.Faces[f].Plane.Side(v))))
			}
		}
		return true
	})
	for k := range out {
		out[k].spare()
	}
	return out
}

// looks tells whether a piece has a face that looks against n.
func looks(q *Convex, n r3.Vec) bool {
	for i := range q.Faces {
		if q.Faces[i].Plane.N.Dot(n) < -meetOneWay {
			return true
		}
	}
	return false
}

func meet(out []Meeting, n, at r3.Vec) []Meeting {
	for k := range out {
		if out[k].N.Dot(n) > meetOneWay {
			out[k].At = append(out[k].At, at)
			return out
		}
	}
	return append(out, Meeting{n, []r3.Vec{at}})
}

// spare keeps the outermost of the points, those farthest in eight directions, and adds their middle.
func (m *Meeting) spare() {
	u := m.N.Cross(r3.X)
	if v := m.N.Cross(r3.Y); v.Len() > u.Len() {
		u = v
	}
	u = u.Unit()
	v := m.N.Cross(u)
	var kept []r3.Vec
	has := map[int]bool{}
	for _, d := range []r3.Vec{u, v, u.Add(v), u.Sub(v), u.Neg(), v.Neg(), u.Add(v).Neg(), v.Sub(u)} {
		best := 0
		for i, p := range m.At {
			if p.Dot(d) > m.At[best].Dot(d)+tol.Weld {
				best = i
			}
		}
		if !has[best] {
			has[best] = true
			kept = append(kept, m.At[best])
		}
	}
	mid := r3.Vec{}
	for _, p := range kept {
		mid = mid.Add(p.Scale(1 / float64(len(kept))))
	}
	m.At = append(kept, mid)
}

// Leaves tells how far along a direction from a point in a body its wood goes on; ok is false where
// the point is not in it.
func (b Body) Leaves(from, dir r3.Vec) (far float64, ok bool) {
	if b.Empty() {
		return 0, false
	}
	end := from.Add(dir.Scale(b.Bounds().Size().Len()))
	var in [][2]float64
	within(b.tree, r3.Around(from, end), func(j int32) {
		if lo, hi, hit := b.Pieces[j].stretch(from, dir); hit && hi >= -tol.Weld {
			in = append(in, [2]float64{lo, hi})
		}
	})
	for grown := true; grown; {
		grown = false
		for _, s := range in {
			if s[0] <= far+tol.Weld && s[1] > far {
				far, ok, grown = s[1], true, true
			}
		}
	}
	return far, ok
}

// stretch is where a line runs in a convex piece.
func (c *Convex) stretch(from, dir r3.Vec) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for i := range c.Faces {
		pl := &c.Faces[i].Plane
		s, v := pl.Side(from), pl.N.Dot(dir)
		switch {
		case math.Abs(v) < tol.Zero:
			if s > tol.Weld {
				return 0, 0, false
			}
		case v > 0:
			hi = math.Min(hi, -s/v)
		default:
			lo = math.Max(lo, -s/v)
		}
	}
	return lo, hi, lo <= hi
}

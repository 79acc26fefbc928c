package solid

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// closest finds the distance of two convex polyhedra: the point of their
// difference set nearest the origin, by walking simplices of support points.
// It returns the distance d, a proved lower bound of it, a nearest point on
// each, and the unit direction from a to b. d is 0 when they touch or overlap.
// It gives up early, with d still an upper and low a lower bound, once low
// exceeds limit.
//
// Source: the GJK method of computational geometry. The bound is the
// usual one: no point of the set is nearer than its support plane.
func closest(a, b *Convex, limit float64) (d, low float64, onA, onB, n r3.Vec) {
	var s simplex
	dir := b.box.Center().Sub(a.box.Center()) // from a to b
	if dir.Len() == 0 {
		dir = r3.X
	}
	// The set is b - a; its support against v is b's against v, a's along v.
	s.push(support(a, b, dir))
	v := s.p[0].w
	d, n = math.Inf(1), dir.Unit()
	for step := 0; step < 64; step++ {
		nd := v.Len()
		if nd <= tol.Zero || s.n == 4 {
			return 0, 0, s.onA(), s.onB(), n
		}
		if nd >= d && step > 0 { // no progress: rounding has the last word
			break
		}
		d, n = nd, v.Scale(1/nd)
		onA, onB = s.onA(), s.onB()
		p := support(a, b, n)
		low = math.Max(low, n.Dot(p.w))
		if low > limit || d-low <= 1e-4*tol.Clip || s.has(p) {
			break
		}
		s.push(p)
		v = s.reduce()
	}
	if d-low > tol.Clip/10 && low <= limit {
		return exhaust(a, b, d, low, onA, onB, n)
	}
	return d, math.Min(low, d), onA, onB, n
}

// corner is a point of the difference set and where it comes from.
type corner struct {
	w    r3.Vec // b - a
	a, b r3.Vec
	i, j int
}

func support(a, b *Convex, n r3.Vec) corner {
	i, _ := a.Support(n)
	j, _ := b.Support(n.Neg())
	return corner{b.V[j].Sub(a.V[i]), a.V[i], b.V[j], i, j}
}

type simplex struct {
	p [4]corner
	c [4]float64 // weights of the nearest point
	n int
}

func (s *simplex) push(p corner) {
	s.p[s.n] = p
	s.n++
	if s.n == 1 {
		s.c[0] = 1
	}
}

func (s *simplex) has(p corner) bool {
	for i := 0; i < s.n; i++ {
		if s.p[i].i == p.i && s.p[i].j == p.j {
			return true
		}
	}
	return false
}

func (s *simplex) onA() (r r3.Vec) {
	for i := 0; i < s.n; i++ {
		r = r.Add(s.p[i].a.Scale(s.c[i]))
	}
	return
}

func (s *simplex) onB() (r r3.Vec) {
	for i := 0; i < s.n; i++ {
		r = r.Add(s.p[i].b.Scale(s.c[i]))
	}
	return
}

// reduce finds the point of the simplex nearest the origin, trying every
// corner, edge and triangle that has the newest corner, and keeps only those
// corners that carry it. It keeps all four if the origin is inside.
func (s *simplex) reduce() r3.Vec {
	if s.n == 4 && s.holds() {
		return r3.Vec{}
	}
	last := s.n - 1
	best := math.Inf(1)
	var at r3.Vec
	var keep [3]int
	var wt [3]float64
	kn := 0
	try := func(v r3.Vec, n int, k [3]int, w [3]float64) {
		if q := v.Dot(v); q < best {
			best, at, kn, keep, wt = q, v, n, k, w
		}
	}
	o := s.p[last].w
	try(o, 1, [3]int{last}, [3]float64{1})
	for i := 0; i < last; i++ {
		e := s.p[i].w.Sub(o)
		if t := -o.Dot(e) / e.Dot(e); t > 0 && t < 1 {
			v := o.Add(e.Scale(t))
			v = v.Sub(e.Scale(v.Dot(e) / e.Dot(e))) // square to the edge to the last bit
			try(v, 2, [3]int{i, last}, [3]float64{t, 1 - t})
		}
		for j := i + 1; j < last; j++ {
			f := s.p[j].w.Sub(o)
			n := e.Cross(f)
			q := n.Dot(n)
			if q == 0 {
				continue
			}
			x := f.Cross(o).Dot(n) / q // weight of i
			y := o.Cross(e).Dot(n) / q // weight of j
			if x > 0 && y > 0 && x+y < 1 {
				try(n.Scale(n.Dot(o)/q), 3, [3]int{i, j, last}, [3]float64{x, y, 1 - x - y})
			}
		}
	}
	var t simplex
	for k := 0; k < kn; k++ {
		t.p[k], t.c[k] = s.p[keep[k]], wt[k]
	}
	t.n = kn
	*s = t
	return at
}

// holds tells whether the tetrahedron contains the origin, and sets the weights.
func (s *simplex) holds() bool {
	d := s.p[3].w
	a, b, c := s.p[0].w.Sub(d), s.p[1].w.Sub(d), s.p[2].w.Sub(d)
	det := a.Dot(b.Cross(c))
	if det == 0 {
		return false
	}
	o := d.Neg()
	x := o.Dot(b.Cross(c)) / det
	y := a.Dot(o.Cross(c)) / det
	z := a.Dot(b.Cross(o)) / det
	if x < 0 || y < 0 || z < 0 || x+y+z > 1 {
		return false
	}
	s.c = [4]float64{x, y, z, 1 - x - y - z}
	return true
}

// exhaust settles the rare pair on which the walk stalls on rounding: it tries
// every corner against every face and every edge against every edge.
func exhaust(a, b *Convex, d, low float64, onA, onB, n r3.Vec) (float64, float64, r3.Vec, r3.Vec, r3.Vec) {
	ea, eb := a.edges(), b.edges()
	// A separating direction among faces and edge pairs proves the bound.
	var g gauge
	if s, m := g.separation(a, b, ea, eb); s > low {
		low = s
		if s > 0 && n.Dot(m) < 1 && d-s < tol.Clip/10 {
			n = m
		}
	}
	take := func(p, q r3.Vec) {
		if e := q.Sub(p); e.Len() < d {
			d, onA, onB = e.Len(), p, q
			if d > tol.Zero {
				n = e.Scale(1 / d)
			}
		}
	}
	for _, v := range b.V {
		if p, ok := a.nearestOnFaces(v); ok {
			take(p, v)
		}
	}
	for _, v := range a.V {
		if q, ok := b.nearestOnFaces(v); ok {
			take(v, q)
		}
	}
	for _, x := range ea {
		for _, y := range eb {
			p, q := nearestOnSegments(a.V[x.a], a.V[x.b], b.V[y.a], b.V[y.b])
			take(p, q)
		}
	}
	_, sa := a.Support(n)
	_, sb := b.Support(n.Neg())
	low = math.Max(low, -sb-sa)
	if d <= tol.Zero {
		d = 0
	}
	return d, math.Min(low, d), onA, onB, n
}

// nearestOnFaces drops v square onto the faces of c that it is outside of.
func (c *Convex) nearestOnFaces(v r3.Vec) (best r3.Vec, ok bool) {
	far := math.Inf(1)
	for i := range c.Faces {
		f := &c.Faces[i]
		h := f.Plane.Side(v)
		if h < 0 || h >= far {
			continue
		}
		p, in := v.Sub(f.Plane.N.Scale(h)), true
		for j, a := range f.Loop {
			b := f.Loop[(j+1)%len(f.Loop)]
			if c.V[b].Sub(c.V[a]).Cross(p.Sub(c.V[a])).Dot(f.Plane.N) < 0 {
				in = false
				break
			}
		}
		if in {
			best, far, ok = p, h, true
		}
	}
	return
}

// nearestOnSegments returns the nearest points of the segments ab and cd.
func nearestOnSegments(a, b, c, d r3.Vec) (r3.Vec, r3.Vec) {
	u, v, w := b.Sub(a), d.Sub(c), a.Sub(c)
	uu, uv, vv, uw, vw := u.Dot(u), u.Dot(v), v.Dot(v), u.Dot(w), v.Dot(w)
	clamp := func(x float64) float64 { return math.Max(0, math.Min(1, x)) }
	s := 0.0
	if den := float64(uu*vv) - float64(uv*uv); den > 1e-14*uu*vv { // not parallel
		s = clamp((float64(uv*vw) - float64(vv*uw)) / den)
	}
	t := clamp((float64(uv*s) + vw) / vv)
	s = clamp((float64(uv*t) - uw) / uu)
	return a.Add(u.Scale(s)), c.Add(v.Scale(t))
}

package solid

import (
	"math"
	"slices"
	"sort"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// Mesh is the true surface of a body as triangles: every edge of one is, reversed, an
// edge of another, so that the surface is closed.
type Mesh struct {
	V   []r3.Vec
	T   [][3]int32 // corners, counter-clockwise seen from outside
	Tag []int32    // of each triangle, the tag of the face that it is part of
}

// Surface returns the surface of b. Where faces of two pieces lie against each other
// they cancel; what is left of the others is cut at every corner that lies on one of
// its edges, so that no corner ends in the middle of a side.
//
// Bodies that touch themselves along a line or in a point, with air around, have a
// surface that does too.
func Surface(b Body) Mesh {
	g := gather(b)
	w := welder{near: finder{}}
	var polys []polygon
	for i := range g.planes {
		p := &g.planes[i]
		for k := range p.faces {
			f := &p.faces[k]
			for _, left := range p.left(f) {
				if loop := w.loop(left); len(loop) > 2 {
					polys = append(polys, polygon{loop, f.face.Tag})
				}
			}
		}
	}
	w.cut(polys)
	m := Mesh{V: w.v}
	for _, p := range polys {
		m.fill(p)
	}
	return m
}

// A polygon is a convex part of the surface.
type polygon struct {
	loop []int32
	tag  int32
}

// left returns what no face against it covers of a face, in convex parts.
func (p *sheet) left(f *flat) [][]r3.Vec {
	loop := make([]r3.Vec, len(f.face.Loop))
	for i, v := range f.face.Loop {
		loop[i] = f.c.V[v]
	}
	parts := [][]r3.Vec{loop}
	for k := range p.faces {
		o := &p.faces[k]
		if o.facing == f.facing || !o.c.box.Grow(tol.Weld).Meets(f.c.box) {
			continue
		}
		var next [][]r3.Vec
		for _, part := range parts {
			next = append(next, o.spares(part)...)
		}
		parts = next
	}
	return parts
}

// spares returns what of a convex part in its plane the face does not cover.
func (f *flat) spares(part []r3.Vec) (out [][]r3.Vec) {
	whole := part
	l := f.face.Loop
	for j, a := range l {
		p := f.c.V[a]
		d := f.c.V[l[(j+1)%len(l)]].Sub(p)
		if d.Len() < tol.Weld {
			continue
		}
		beyond := PlaneAt(p, d.Cross(f.face.Plane.N))
		outer := above(part, beyond)
		if part = above(part, beyond.Flip()); part == nil { // all of it is beyond this side
			return [][]r3.Vec{whole}
		}
		if outer != nil {
			out = append(out, outer)
		}
	}
	return out
}

// above returns what of a convex polygon is outside of the half-space, nil where that
// is no wider than tol.Weld.
func above(poly []r3.Vec, p Plane) (out []r3.Vec) {
	most := 0.0
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		s, t := p.Side(a), p.Side(b)
		most = math.Max(most, s)
		if s >= -tol.Clip {
			out = append(out, a)
		}
		if s > tol.Clip && t < -tol.Clip || s < -tol.Clip && t > tol.Clip {
			out = append(out, a.Add(b.Sub(a).Scale(s/(s-t))))
		}
	}
	if most <= tol.Weld || len(out) < 3 {
		return nil
	}
	return out
}

// A welder makes one corner of all that are within tol.Weld of each other.
type welder struct {
	v    []r3.Vec
	near finder
}

func (w *welder) corner(p r3.Vec) int32 {
	h := p.Dot(hashDir)
	id := w.near.find(h, func(id int32) bool { return w.v[id].Sub(p).Len() <= tol.Weld })
	if id < 0 {
		id = int32(len(w.v))
		w.v = append(w.v, p)
		w.near.add(h, id)
	}
	return id
}

func (w *welder) loop(ps []r3.Vec) (loop []int32) {
	for _, p := range ps {
		if id := w.corner(p); len(loop) == 0 || loop[len(loop)-1] != id {
			loop = append(loop, id)
		}
	}
	for len(loop) > 1 && loop[0] == loop[len(loop)-1] {
		loop = loop[:len(loop)-1]
	}
	return loop
}

// cut puts into every side the corners that lie on it. Since the surface is closed,
// those are ends of sides that run along the same line.
func (w *welder) cut(polys []polygon) {
	type side struct {
		a, b int32
		line int32
		l    float64
	}
	var sides []side
	for _, p := range polys {
		for i, a := range p.loop {
			b := p.loop[(i+1)%len(p.loop)]
			sides = append(sides, side{a, b, -1, w.v[b].Sub(w.v[a]).Len()})
		}
	}
	order := make([]int, len(sides))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return sides[order[i]].l > sides[order[j]].l })
	var lines []line
	var on [][]int32 // the corners on each line
	near := finder{}
	for _, i := range order {
		s := &sides[i]
		a, b := w.v[s.a], w.v[s.b]
		d := b.Sub(a).Scale(1 / s.l)
		foot := a.Sub(d.Scale(d.Dot(a)))
		h := foot.Dot(hashDir)
		s.line = near.find(h, func(id int32) bool {
			l := &lines[id]
			return math.Abs(l.d.Dot(d)) > 0.99 && l.off(a) <= 2*tol.Weld && l.off(b) <= 2*tol.Weld
		})
		if s.line < 0 {
			s.line = int32(len(lines))
			lines = append(lines, line{p: foot, d: d})
			on = append(on, nil)
			near.add(h, s.line)
		}
		on[s.line] = append(on[s.line], s.a, s.b)
	}
	for k := range on {
		l := &lines[k]
		sort.Slice(on[k], func(i, j int) bool {
			a, b := on[k][i], on[k][j]
			if s, t := l.d.Dot(w.v[a]), l.d.Dot(w.v[b]); s != t {
				return s < t
			}
			return a < b
		})
		on[k] = slices.Compact(on[k])
	}
	i := 0
	for k := range polys {
		var loop []int32
		for range polys[k].loop {
			s := sides[i]
			i++
			loop = append(loop, s.a)
			all := on[s.line]
			from, to := slices.Index(all, s.a), slices.Index(all, s.b)
			for ; from+1 < to; from++ {
				loop = append(loop, all[from+1])
			}
			for ; from > to+1; from-- {
				loop = append(loop, all[from-1])
			}
		}
		polys[k].loop = loop
	}
}

// fill cuts a convex polygon into triangles: from its first corner, or, where corners
// lie in the middle of its sides, from a new one inside, so that none is only a line.
func (m *Mesh) fill(p polygon) {
	add := func(a, b, c int32) {
		m.T = append(m.T, [3]int32{a, b, c})
		m.Tag = append(m.Tag, p.tag)
	}
	n := len(p.loop)
	mid, straight := r3.Vec{}, false
	for i, b := range p.loop {
		u := m.V[b].Sub(m.V[p.loop[(i+n-1)%n]])
		v := m.V[p.loop[(i+1)%n]].Sub(m.V[b])
		straight = straight || u.Cross(v).Len() <= tol.Weld*math.Max(u.Len(), v.Len())
		mid = mid.Add(m.V[b].Scale(1 / float64(n)))
	}
	if n == 3 || !straight {
		for i := 2; i < n; i++ {
			add(p.loop[0], p.loop[i-1], p.loop[i])
		}
		return
	}
	m.V = append(m.V, mid)
	for i, a := range p.loop {
		add(int32(len(m.V)-1), a, p.loop[(i+1)%n])
	}
}

// Open counts the sides of triangles that no other triangle has reversed: none, if the
// surface is closed.
func (m Mesh) Open() (open int) {
	n := map[[2]int32]int{}
	for _, t := range m.T {
		for i := range t {
			n[[2]int32{t[i], t[(i+1)%3]}]++
		}
	}
	for e, k := range n {
		if k != n[[2]int32{e[1], e[0]}] {
			open++
		}
	}
	return open
}

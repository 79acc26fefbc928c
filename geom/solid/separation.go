package solid

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// Separation returns how two convex polyhedra lie to each other: s > 0 is their
// distance, s <= 0 minus the depth to which they are in each other, that is the
// shortest move of b that ends it, along n. n points from a to b and has
// length 1.
func Separation(a, b *Convex) (s float64, n r3.Vec) {
	var g gauge
	return g.signed(a, b, a.edges(), b.edges())
}

func (g *gauge) signed(a, b *Convex, ea, eb []edge) (s float64, n r3.Vec) {
	d, _, _, _, n := closest(a, b, math.Inf(1))
	// Very near, the directions of faces are better known than that of a gap.
	if d > tol.Weld {
		return d, n
	}
	s, m := g.separation(a, b, ea, eb)
	if d > 0 && s <= 0 {
		return d, n
	}
	if s > 0 {
		return math.Max(s, d), m
	}
	return s, m
}

// along returns the gap between a and b in direction n, negative if they share
// it. For any unit n the true separation is at least this.
func along(a, b *Convex, n r3.Vec) float64 {
	_, sa := a.Support(n)
	_, sb := b.Support(n.Neg())
	return -sb - sa
}

// gauge is the scratch memory of separation.
type gauge struct{ arcs []arc }

// arc is an edge of b with the normals of its faces turned inward.
type arc struct{ p, dir, c, d, dxc r3.Vec }

// separation returns the direction of largest gap among the faces of both and
// the pairs of edges that make a face of their difference set. When a and b
// overlap, it is the direction of least depth. Source: the separating axis
// theorem; edge pairs are sifted on the sphere of normals, where the arc of one
// edge must cross that of the other.
func (g *gauge) separation(a, b *Convex, ea, eb []edge) (s float64, n r3.Vec) {
	s = math.Inf(-1)
	for i := range a.Faces {
		p := &a.Faces[i].Plane
		_, far := b.Support(p.N.Neg())
		if gap := -far - p.D; gap > s {
			s, n = gap, p.N
		}
	}
	for i := range b.Faces {
		p := &b.Faces[i].Plane
		_, far := a.Support(p.N.Neg())
		if gap := -far - p.D; gap > s {
			s, n = gap, p.N.Neg()
		}
	}
	arcs := g.arcs[:0]
	for _, e := range eb {
		c, d := b.Faces[e.f].Plane.N.Neg(), b.Faces[e.g].Plane.N.Neg()
		arcs = append(arcs, arc{b.V[e.a], b.V[e.b].Sub(b.V[e.a]), c, d, d.Cross(c)})
	}
	g.arcs = arcs
	for _, e := range ea {
		na, nb := a.Faces[e.f].Plane.N, a.Faces[e.g].Plane.N
		p, dir := a.V[e.a], a.V[e.b].Sub(a.V[e.a])
		bxa := nb.Cross(na)
		for i := range arcs {
			r := &arcs[i]
			cba, dba := r.c.Dot(bxa), r.d.Dot(bxa)
			if cba*dba >= 0 {
				continue
			}
			adc, bdc := na.Dot(r.dxc), nb.Dot(r.dxc)
			if adc*bdc >= 0 || cba*bdc <= 0 {
				continue
			}
			m := dir.Cross(r.dir)
			l := m.Len()
			if l <= 1e-8*dir.Len()*r.dir.Len() { // parallel: a face direction serves
				continue
			}
			m = m.Scale(1 / l)
			if m.Dot(na.Add(nb)) < 0 {
				m = m.Neg()
			}
			if gap := m.Dot(r.p.Sub(p)); gap > s+tol.Zero {
				// Near-flat edges can mislead the sifting: believe only the supports.
				if gap = along(a, b, m); gap > s+tol.Zero {
					s, n = gap, m
				}
			}
		}
	}
	return s, n
}

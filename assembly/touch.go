package assembly

import (
	"iter"
	"math"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// A Touch is what a face of one body and a face of another have in common, in the
// plane of the first.
type Touch struct {
	A, B   solid.Plane
	U, V   r3.Vec // span the plane
	Shared []r2.Vec
	Area   float64
}

// Touches yields the pairs of faces that lie against each other, no further apart than
// glue fills.
func Touches(a, b solid.Body) iter.Seq[Touch] {
	return func(yield func(Touch) bool) {
		near := facesOf(b, a.Bounds().Grow(GlueMost))
		for _, fa := range facesOf(a, b.Bounds().Grow(GlueMost)) {
			for _, fb := range near {
				if fa.p.N.Dot(fb.p.N) > -1+tol.Clip {
					continue
				}
				if gap := -(fa.p.D + fb.p.D); gap < -tol.Touch || gap > GlueMost {
					continue
				}
				u, v := Basis(fa.p.N)
				shared := outline.ClipConvex(Flat(fa.pts, u, v), Flat(fb.pts, u, v))
				if s := math.Abs(outline.SignedArea(shared)); s > tol.Clip && !yield(Touch{fa.p, fb.p, u, v, shared, s}) {
					return
				}
			}
		}
	}
}

type flatFace struct {
	p   solid.Plane
	pts []r3.Vec
}

// facesOf lists the real faces of a body that come near a box.
func facesOf(b solid.Body, near r3.Box) []flatFace {
	var out []flatFace
	for i := range b.Pieces {
		c := &b.Pieces[i]
		if !c.Bounds().Meets(near) {
			continue
		}
		for _, f := range c.Faces {
			if f.Tag == solid.Seam {
				continue
			}
			pts := make([]r3.Vec, len(f.Loop))
			for k, v := range f.Loop {
				pts[k] = c.V[v]
			}
			if r3.Around(pts...).Meets(near) {
				out = append(out, flatFace{f.Plane, pts})
			}
		}
	}
	return out
}

// Basis returns two directions that span the plane square to n.
func Basis(n r3.Vec) (u, v r3.Vec) {
	u = r3.X
	if math.Abs(n.X) > 0.9 {
		u = r3.Y
	}
	v = n.Cross(u).Unit()
	return v.Cross(n), v
}

// Flat lays points into a plane, counter-clockwise.
func Flat(pts []r3.Vec, u, v r3.Vec) []r2.Vec {
	out := make([]r2.Vec, len(pts))
	for i, p := range pts {
		out[i] = r2.Vec{X: p.Dot(u), Y: p.Dot(v)}
	}
	if outline.SignedArea(out) < 0 {
		for i, j := 0, len(out)-1; i < j; i, j = i+1, j-1 {
			out[i], out[j] = out[j], out[i]
		}
	}
	return out
}

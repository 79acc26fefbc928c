package prove

import (
	"math"

	"dryfit/assembly"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// fit.contact: where two pieces are glued, the area in which they really lie on
// each other: faces of both in one plane, looking at each other, cut with each
// other. Round wood on a flat touches in a line only; what counts there is the
// strip in which the gap is no more than glue fills.

// contactShare is the share of the smaller face that should touch before a
// glued joint is called a good one (common practice, no source).
const contactShare = 0.25

var contactCheck = Check{
	ID: "fit.contact", Asks: "do glued faces meet?", run: contact,
	How: "Where two pieces are glued, the area in which faces of both lie in one plane and look at each other. Round wood on a flat touches in a line only; what counts there is the strip in which the gap is no more than glue fills.",
	Limits: []Limit{
		{"faces count as meeting when no further apart than", inMM(assembly.GlueMost), "common practice, no source (glue fit)"},
		{"a good joint touches on this share of the smaller face", share(contactShare), "common practice, no source"},
	},
}

func contact(r *run) {
	for _, g := range r.m.Glues {
		r.glued(g)
	}
	if !r.has("fit.contact") {
		r.add(Finding{Check: "fit.contact", About: "toy", Verdict: Holds, Unit: "mm2", Source: "common practice, no source", Says: "no two faces are glued to each other"})
	}
}

func (r *run) glued(g assembly.Glue) {
	var area, smaller float64
	gap := math.Inf(1)
	var onA, onB r3.Vec
	a, b := g.A[0], g.B[0]
	for _, i := range g.A {
		for _, j := range g.B {
			pi, pj := r.m.Pieces[i], r.m.Pieces[j]
			d := solid.Distance(pi.Body, pj.Body, math.Min(gap, farGap))
			if d.D < gap {
				gap, onA, onB, a, b = d.D, d.OnA, d.OnB, i, j
			}
			if d.D > assembly.GlueMost {
				continue
			}
			s, t := touching(pi.Bored(), pj.Bored())
			if s <= 0 {
				s = strip(pi, pj)
				t = s
			}
			area += s
			smaller += t
		}
	}
	name := func(ids []int) string {
		p := r.m.Pieces[ids[0]]
		if len(ids) > 1 && p.GlueUp != "" {
			return p.GlueUp
		}
		return p.ID
	}
	na, nb := name(g.A), name(g.B)
	f := Finding{Check: "fit.contact", About: na + "~" + nb, Unit: "mm2", Value: area, Source: "common practice, no source",
		Places: []Place{r.place(a, "", onA, g.At), r.place(b, "", onB, r.m.Pieces[b].At)}}
	switch {
	case math.IsInf(gap, 1):
		f.Verdict, f.Margin, f.known = Fails, -farGap, true
		f.Says = na + " is glued to " + nb + ", but they are nowhere near each other"
	case area <= 0:
		f.Verdict, f.Margin, f.known = Fails, -math.Max(gap, tol.Touch), true
		f.Says = na + " is glued to " + nb + ", but they do not meet: " + r.len(gap) + " apart at the nearest"
		if gap <= tol.Touch {
			f.Says = na + " is glued to " + nb + ", but they only meet along a line or at a corner"
		}
	default:
		share := area / smaller
		f.Verdict, f.Limit, f.Margin, f.known = Holds, contactShare*smaller, area, true
		f.Says = na + " lies on " + nb + " with " + r.area(area)
		if share < contactShare {
			f.Verdict = Mind
			f.Says += ", a small part of the face there"
		}
	}
	r.add(f)
}

// farGap is how far apart glued pieces are still looked for, mm.
const farGap = 50.0

// touching returns the area in which faces of a and b lie on each other, and the
// area of the smaller of the two surfaces concerned.
func touching(a, b solid.Body) (area, smaller float64) {
	near := facesOf(b, a.Bounds().Grow(assembly.GlueMost))
	var onA, onB []solid.Plane
	for _, fa := range facesOf(a, b.Bounds().Grow(assembly.GlueMost)) {
		for _, fb := range near {
			if fa.p.N.Dot(fb.p.N) > -1+tol.Clip {
				continue
			}
			if gap := -(fa.p.D + fb.p.D); gap < -tol.Touch || gap > assembly.GlueMost {
				continue
			}
			u, v := basis(fa.p.N)
			if s := math.Abs(outline.SignedArea(outline.ClipConvex(flat(fa.pts, u, v), flat(fb.pts, u, v)))); s > tol.Clip {
				area += s
				onA, onB = oncePlane(onA, fa.p), oncePlane(onB, fb.p)
			}
		}
	}
	return area, math.Min(exposed(a, onA), exposed(b, onB))
}

func samePlane(p, q solid.Plane) bool {
	return p.N.Dot(q.N) > 1-tol.Clip && math.Abs(p.D-q.D) <= tol.Touch/2
}

func oncePlane(list []solid.Plane, p solid.Plane) []solid.Plane {
	for _, q := range list {
		if samePlane(p, q) {
			return list
		}
	}
	return append(list, p)
}

// exposed returns the area of a body's surface in some planes: of all faces of its
// pieces there, less those that look the other way, since seams lie back to back.
func exposed(b solid.Body, planes []solid.Plane) float64 {
	sum := 0.0
	for i := range b.Pieces {
		c := &b.Pieces[i]
		for _, f := range c.Faces {
			sign := 0.0
			for _, p := range planes {
				if samePlane(p, f.Plane) {
					sign = 1
				} else if samePlane(p, f.Plane.Flip()) {
					sign = -1
				}
			}
			if sign == 0 {
				continue
			}
			u, v := basis(f.Plane.N)
			pts := make([]r3.Vec, len(f.Loop))
			for k, w := range f.Loop {
				pts[k] = c.V[w]
			}
			sum += sign * math.Abs(outline.SignedArea(flat(pts, u, v)))
		}
	}
	return sum
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

func basis(n r3.Vec) (u, v r3.Vec) {
	u = r3.X
	if math.Abs(n.X) > 0.9 {
		u = r3.Y
	}
	v = n.Cross(u).Unit()
	return v.Cross(n), v
}

// flat lays points into a plane, counter-clockwise.
func flat(pts []r3.Vec, u, v r3.Vec) []r2.Vec {
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

// strip is the glued area of round wood that touches something in a line or a
// point: where the gap is at most g, a rod of radius r is 2 sqrt(2 r g) wide and
// a ball's patch is a circle of area 2 pi r g (r much larger than g).
func strip(p, q *assembly.Piece) float64 {
	if q.Part.Shape == toy.Rod || q.Part.Shape == toy.Sphere {
		if p.Part.Shape == toy.Block || p.Part.Shape == toy.Disc {
			p, q = q, p
		}
	}
	c, dir, radius := p.Axis()
	switch p.Part.Shape {
	case toy.Sphere:
		return 2 * math.Pi * radius * assembly.GlueMost
	case toy.Rod:
		half := p.Made.Size.X / 2
		box := q.Body.Bounds().Grow(assembly.GlueMost)
		lo, hi := -half, half
		for axis := 0; axis < 3; axis++ { // the stretch of the rod over the other piece
			d := dir.At(axis)
			if math.Abs(d) < 1e-9 {
				continue
			}
			s, e := (box.Min.At(axis)-c.At(axis))/d, (box.Max.At(axis)-c.At(axis))/d
			lo, hi = math.Max(lo, math.Min(s, e)), math.Min(hi, math.Max(s, e))
		}
		return math.Max(0, hi-lo) * 2 * math.Sqrt(2*radius*assembly.GlueMost)
	}
	return 0
}

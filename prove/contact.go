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

// crossShare is the share of a square as wide as the narrower face that is as good,
// whatever of its length stands free: a rail across a post, a long post against an edge
// (common practice, no source). Whether such a joint is levered off is strength.joint's.
const crossShare = 0.5

var contactCheck = Check{
	ID: "fit.contact", Asks: "do glued faces meet?", run: contact,
	How: "Where two pieces are glued, the area in which faces of both lie in one plane and look at each other. Round wood on a flat touches in a line only; what counts there is the strip in which the gap is no more than glue fills. What is only put down has to lie on something.",
	Limits: []Limit{
		{"faces count as meeting when no further apart than", inMM(assembly.GlueMost), "common practice, no source (glue fit)"},
		{"a good joint touches on this share of the smaller face", share(contactShare), "common practice, no source"},
		{"or this share of a square as wide as the narrower face", share(crossShare), "common practice, no source"},
	},
}

func contact(r *run) {
	if r.w.built {
		r.builtContact()
		return
	}
	for _, g := range r.m.Glues {
		r.glued(g)
	}
	r.putDown()
	for _, k := range r.m.Keys {
		r.keyed(k)
	}
	if !r.has("fit.contact") {
		r.add(Finding{Check: "fit.contact", About: "toy", Verdict: Holds, Unit: "mm2", Source: "common practice, no source", Says: "no two faces are glued to each other"})
	}
}

// keyed checks that what is to keep a piece in place while the glue sets touches it.
func (r *run) keyed(k assembly.Key) {
	gap := math.Inf(1)
	for _, i := range k.A {
		for _, j := range k.B {
			gap = math.Min(gap, solid.Distance(r.m.Pieces[i].Body, r.m.Pieces[j].Body, farGap).D)
		}
	}
	if gap <= assembly.GlueMost {
		return
	}
	a, b := r.thing(k.A), r.thing(k.B)
	gap = math.Min(gap, farGap)
	r.add(Finding{Check: "fit.contact", About: a + "~" + b + " (key)", Verdict: Mind, Value: gap, Unit: "mm", Limit: assembly.GlueMost, LimitOp: "<=", Source: practice,
		Says:   b + " is to keep " + a + " in place while the glue sets, but does not touch it: " + r.len(gap) + " apart",
		Places: []Place{r.place(k.A[0], "", r.m.Pieces[k.A[0]].Body.Bounds().Center(), k.At)}})
}

// areaLeast is the glued area, in mm², below which two pieces meet only at a point
// or along an edge.
const areaLeast = 1.0

func (r *run) glued(g assembly.Glue) {
	var area, enough float64
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
				s = strip(pi, pj, d)
				t = float64(contactShare * s)
			}
			area += s
			enough += t
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
		f.Says = na + " is glued to " + nb + ", but they are nowhere near each other: let it sit against what it is glued to"
	case area < areaLeast:
		f.Verdict, f.Margin, f.known = Fails, -math.Max(gap, tol.Touch), true
		f.Says = na + " is glued to " + nb + ", but they do not meet: " + r.len(gap) + " apart at the nearest; bring them together"
		if gap <= tol.Touch {
			f.Says = na + " is glued to " + nb + ", but they only meet along a line or at a corner: let a face of one lie on a face of the other"
		}
	default:
		f.Verdict, f.Limit, f.Margin, f.known = Holds, enough, area-areaLeast, true
		f.Says = na + " lies on " + nb + " with " + r.area(area)
		if area < enough {
			f.Verdict = Mind
			f.Says += ", a small part of the face there: let them lie further on each other, or put a dowel in"
		}
	}
	r.add(f)
}

// farGap is how far apart glued pieces are still looked for, mm.
const farGap = 50.0

// touching returns the area in which faces of a and b lie on each other, and how much
// of the two surfaces concerned would be a good joint.
func touching(a, b solid.Body) (area, enough float64) {
	var onA, onB []solid.Plane
	for t := range assembly.Touches(a, b) {
		area += t.Area
		onA, onB = oncePlane(onA, t.A), oncePlane(onB, t.B)
	}
	of := contactShare * math.Min(exposed(a, onA), exposed(b, onB))
	w := math.Min(width(a, onA), width(b, onB))
	return area, math.Min(of, float64(crossShare*w*w))
}

// width returns how wide a body's surface in some planes is, at its narrowest from side to
// side; of several planes the widest.
func width(b solid.Body, planes []solid.Plane) float64 {
	wide := 0.0
	for _, p := range planes {
		var pts []r2.Vec
		u, v := basis(p.N)
		for i := range b.Pieces {
			c := &b.Pieces[i]
			for _, f := range c.Faces {
				if !samePlane(p, f.Plane) {
					continue
				}
				for _, w := range f.Loop {
					pts = append(pts, r2.Vec{X: c.V[w].Dot(u), Y: c.V[w].Dot(v)})
				}
			}
		}
		hull := outline.Hull(pts)
		least := math.Inf(1)
		for i, q := range hull {
			e, far := hull[(i+1)%len(hull)].Sub(q).Unit(), 0.0
			for _, w := range hull {
				far = math.Max(far, e.Cross(w.Sub(q)))
			}
			least = math.Min(least, far)
		}
		if len(hull) > 2 {
			wide = math.Max(wide, least)
		}
	}
	return wide
}

// Meeting returns the planes of a's faces that lie against faces of b.
func Meeting(a, b solid.Body) (on []solid.Plane) {
	for t := range assembly.Touches(a, b) {
		on = oncePlane(on, t.A)
	}
	return on
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
			sum += float64(sign * math.Abs(outline.SignedArea(flat(pts, u, v))))
		}
	}
	return sum
}

// basis returns two directions that span the plane square to n.
func basis(n r3.Vec) (u, v r3.Vec) { return assembly.Basis(n) }

// flat lays points into a plane, counter-clockwise.
func flat(pts []r3.Vec, u, v r3.Vec) []r2.Vec { return assembly.Flat(pts, u, v) }

// strip is the glued area of round wood that touches something in a line or a
// point: where the gap is at most g, a rod of radius r is 2 sqrt(2 r g) wide and
// a ball's patch is a circle of area 2 pi r g (r much larger than g).
func strip(p, q *assembly.Piece, gap solid.Gap) float64 {
	n := gap.Normal // from p to q
	if q.Part.Shape == toy.Rod || q.Part.Shape == toy.Sphere {
		if p.Part.Shape == toy.Block || p.Part.Shape == toy.Disc {
			p, q, n = q, p, n.Neg()
		}
	}
	c, dir, radius := p.Axis()
	switch p.Part.Shape {
	case toy.Sphere:
		return float64(2 * math.Pi * radius * assembly.GlueMost)
	case toy.Rod:
		n = n.Sub(dir.Scale(n.Dot(dir)))
		if n.Len() < 0.5 {
			return 0 // it stands on its end
		}
		// the line along the rod, as deep in the other piece as glue reaches
		half := p.Made.Size.X / 2
		length := 0.0
		for _, s := range assembly.Spans(q.Body, c.Add(n.Unit().Scale(radius+assembly.GlueMost/2)), dir) {
			length += math.Max(0, math.Min(s[1], half)-math.Max(s[0], -half))
		}
		return float64(length * 2 * math.Sqrt(2*radius*assembly.GlueMost))
	}
	return 0
}

package picture

import (
	"fmt"
	"math"
	"sort"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
	"dryfit/paper/draw"
)

// A drawing carries the numbers of pieces, in circles on a ring around it, each with a leader to a spot of its piece that is seen. They are the
// numbers of the lists and the patterns: the order of the build.

// The ring, mm on paper.
const (
	ringOff  = 8.0 // from the hull of the toy's picture
	ringStep = 6.3 // between two circles at least
	ringSize = 2.4 // radius of a circle
	ringRoom = ringOff + ringSize + 0.5
	ringText = 1.8 // capitals of a number
	dotSize  = 0.45
)

// callouts draws the numbers of what is shown around the drawing, and returns those
// that are not seen in it. If there are too many for the ring, the first piece of
// each part has to speak for the others. The ring goes round other items too.
func callouts(m *assembly.Model, shown []Shown, o *object, at place, look *raster, also []draw.Item) (g draw.Group, unseen []int) {
	var pts []r2.Vec
	for _, b := range o.bodies {
		for i := range b.Pieces {
			for _, v := range b.Pieces[i].V {
				pts = append(pts, at.on(v))
			}
		}
	}
	if len(also) > 0 {
		b := draw.Bounds(also...)
		pts = append(pts, b.Min, b.Max, r2.Vec{X: b.Min.X, Y: b.Max.Y}, r2.Vec{X: b.Max.X, Y: b.Min.Y})
	}
	ring := newRing(pts)
	spots := look.spots(len(o.bodies), ring)
	var all []callout
	for i, s := range shown {
		if s.Number == 0 {
			continue
		}
		spot := spots[i]
		if spot == nil {
			unseen = append(unseen, s.Number)
			continue
		}
		all = append(all, callout{number: s.Number, part: m.Pieces[s.Piece].Part.Name, at: *spot, t: ring.nearest(*spot)})
	}
	if float64(len(all))*ringStep > ring.length {
		told := map[string]bool{}
		var few []callout
		var crowded []int
		for _, c := range all {
			if !told[c.part] {
				told[c.part] = true
				few = append(few, c)
			} else {
				crowded = append(crowded, c.number)
			}
		}
		if all = few; float64(len(all))*ringStep > ring.length {
			return draw.Group{}, nil
		}
		unseen = append(unseen, crowded...)
	}
	spread(all, ring.length)
	uncross(all, ring)
	g = draw.Group{Layer: layerTitles}
	for _, c := range all {
		at := ring.at(c.t)
		g.Items = append(g.Items,
			draw.Path{Runs: []draw.Run{draw.Polyline(at.Add(c.at.Sub(at).Unit().Scale(ringSize)), c.at)}, Line: draw.Thin},
			draw.Path{Runs: []draw.Run{draw.Circle(c.at, dotSize)}, Fill: draw.Ink})
	}
	for _, c := range all {
		at := ring.at(c.t)
		g.Items = append(g.Items,
			draw.Path{Runs: []draw.Run{draw.Circle(at, ringSize)}, Line: draw.Thin, Fill: draw.White},
			draw.Text{At: at, Says: fmt.Sprint(c.number), Height: ringText, Across: draw.Middle, Up: draw.Half})
	}
	return g, unseen
}

// callout is a number, the spot that it points to, and where on the ring it is.
type callout struct {
	number int
	part   string
	at     r2.Vec
	t      float64
}

// spread moves the numbers along the ring until none is too near to the next,
// keeping their order, so that leaders do not cross more than they must.
func spread(all []callout, length float64) {
	sort.SliceStable(all, func(i, j int) bool { return all[i].t < all[j].t-tol.Page })
	n := len(all)
	for range 40 * n {
		moved := false
		for i := range all {
			j := (i + 1) % n
			gap := all[j].t - all[i].t
			if j == 0 {
				gap += length
			}
			if short := ringStep - gap; n > 1 && short > tol.Page {
				all[i].t -= short / 2
				all[j].t += short / 2
				moved = true
			}
		}
		if !moved {
			return
		}
	}
}

// uncross swaps the places of numbers whose leaders cross.
func uncross(all []callout, ring ring) {
	for range len(all) {
		swapped := false
		for i := range all {
			for j := range i {
				if cross(all[i].at, ring.at(all[i].t), all[j].at, ring.at(all[j].t)) {
					all[i].t, all[j].t = all[j].t, all[i].t
					swapped = true
				}
			}
		}
		if !swapped {
			return
		}
	}
}

// cross tells whether the line from a to b crosses the one from c to d.
func cross(a, b, c, d r2.Vec) bool {
	u, v := b.Sub(a), d.Sub(c)
	return u.Cross(c.Sub(a))*u.Cross(d.Sub(a)) < 0 && v.Cross(a.Sub(c))*v.Cross(b.Sub(c)) < 0
}

// ring is a closed line around points.
type ring struct {
	pts    []r2.Vec
	length float64
}

// newRing returns the line at ringOff around the hull of points.
func newRing(pts []r2.Vec) ring {
	hull := hullOf(pts)
	var r ring
	n := len(hull)
	for i, p := range hull {
		d := hull[(i+1)%n].Sub(p)
		if d.Len() < tol.Page {
			continue
		}
		out := d.Unit().Perp().Neg().Scale(ringOff)
		if k := len(r.pts); k > 0 {
			r.bend(p, out)
		}
		r.pts = append(r.pts, p.Add(out), p.Add(d).Add(out))
	}
	if len(r.pts) == 0 {
		return r
	}
	r.bend(hull[0], r.pts[0].Sub(hull[0]))
	for i, p := range r.pts {
		r.length += r.pts[(i+1)%len(r.pts)].Sub(p).Len()
	}
	return r
}

// hullOf returns the convex hull, counter-clockwise; its two outermost points to the
// left and right stand in it twice.
func hullOf(pts []r2.Vec) []r2.Vec {
	up := append([]r2.Vec(nil), pts...)
	for i := range up {
		up[i] = up[i].Neg()
	}
	hull := lower(pts)
	for _, p := range lower(up) { // the upper side, from right to left
		hull = append(hull, p.Neg())
	}
	return hull
}

// bend rounds the ring about a corner of the hull to the offset out.
func (r *ring) bend(p, out r2.Vec) {
	from := r.pts[len(r.pts)-1].Sub(p)
	turn := trig.Atan2(from.Cross(out), from.Dot(out))
	const parts = 6
	for k := 1; k < parts; k++ {
		sin, cos := trig.Sincos(turn * float64(k) / parts)
		r.pts = append(r.pts, p.Add(r2.Vec{X: float64(from.X*cos) - float64(from.Y*sin), Y: float64(from.X*sin) + float64(from.Y*cos)}))
	}
}

// at returns the point at t along the ring.
func (r ring) at(t float64) r2.Vec {
	t = math.Mod(t, r.length)
	if t < 0 {
		t += r.length
	}
	for i, p := range r.pts {
		d := r.pts[(i+1)%len(r.pts)].Sub(p)
		if l := d.Len(); t <= l && l > 0 {
			return p.Add(d.Scale(t / l))
		} else {
			t -= l
		}
	}
	return r.pts[0]
}

// nearest returns where on the ring is nearest to a point.
func (r ring) nearest(q r2.Vec) float64 {
	best, at, sum := math.Inf(1), 0.0, 0.0
	for i, p := range r.pts {
		d := r.pts[(i+1)%len(r.pts)].Sub(p)
		l := d.Len()
		if l > 0 {
			s := min(l, max(0, q.Sub(p).Dot(d)/l))
			if far := p.Add(d.Scale(s / l)).Sub(q).Len(); far < best-tol.Page {
				best, at = far, sum+s
			}
		}
		sum += l
	}
	return at
}

package prove

import (
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// A toy on one pair of wheels, as a push-along on its stick or an aeroplane with a
// skid, leans over about its axle until wood meets the floor. Seen along the axle that
// is a line that touches the circle of the wheels and one corner of the wood, with
// everything above it and the centre of mass between the two.

// skidMost is how far it may lean over before it counts as lying about, not standing:
// the normal of the floor stays within 60 degrees of up, as for wheels.
const skidMost = 0.5

// onSkid finds the floor of a toy on one pair of wheels and its wood.
func (r *run) onSkid(s support, centre r3.Vec) (support, bool) {
	axle, wheels, ok := r.onlyAxle()
	if !ok {
		return s, false
	}
	c, dir, radius := r.m.Pieces[wheels[0]].Axis()
	ahead := dir.Cross(r3.Z).Unit()
	up := ahead.Cross(dir).Unit()
	if up.Z < 0 {
		up = up.Neg()
	}
	c = c.Add(up.Scale(r.float(axle))) // the body sinks onto its axle, the wheels rise in it
	flat := func(p r3.Vec) r2.Vec { d := p.Sub(c); return r2.Vec{X: d.Dot(ahead), Y: d.Dot(up)} }
	var corners []r2.Vec
	for i, p := range r.m.Pieces {
		if !slices.Contains(wheels, i) {
			for _, v := range p.Body.Vertices() {
				corners = append(corners, flat(v))
			}
		}
	}
	corners = outline.Hull(corners)
	best, found := math.Inf(1), false
	for _, p := range corners {
		far := trig.Hypot(p.X, p.Y)
		if far <= radius {
			continue // the wheels keep it off the floor
		}
		for _, sign := range []float64{1, -1} {
			// the normal (sin a, cos a) at which the corner is a radius below the axle
			a := trig.Atan2(p.X, p.Y) + float64(sign*trig.Acos(-radius/far))
			sin, cos := trig.Sincos(a)
			along := func(q r2.Vec) float64 { return float64(cos*q.X) - float64(sin*q.Y) }
			g, foot := along(flat(centre)), along(p)
			lean := math.Abs(trig.Atan2(sin, cos))
			if cos < skidMost || lean >= best || float64(g*foot) < 0 || math.Abs(g) > math.Abs(foot) {
				continue
			}
			above := true
			for _, q := range corners {
				above = above && float64(sin*q.X)+float64(cos*q.Y) >= -radius-tol.Touch
			}
			if above {
				best, found = lean, true
				s.n = ahead.Scale(sin).Add(up.Scale(cos))
			}
		}
	}
	if !found {
		return s, false
	}
	return r.feetOnSkid(s, c.Sub(s.n.Scale(radius)), wheels), true
}

// feetOnSkid sets what touches the floor through a point below the wheels: two points of
// each wheel, and the wood.
func (r *run) feetOnSkid(s support, at r3.Vec, wheels []int) support {
	s.at, s.ok = at, true
	for k := range s.points {
		p := &s.points[k]
		c, dir, _ := r.m.Pieces[p.piece].Axis()
		out := dir.Scale(p.at.Sub(c).Dot(dir))
		p.at = at.Add(dir.Scale(c.Sub(at).Dot(dir))).Add(out)
	}
	for i, p := range r.m.Pieces {
		if slices.Contains(wheels, i) {
			continue
		}
		for _, v := range p.Body.Vertices() {
			if s.height(v) > tol.Touch {
				continue
			}
			s.points = append(s.points, standing{i, v, 0})
			if !slices.Contains(s.skids, i) {
				s.skids = append(s.skids, i)
			}
		}
	}
	return s
}

// onlyAxle returns the one level axle of a toy, and its wheels where all are of one size.
func (r *run) onlyAxle() (axle assembly.Axle, wheels []int, ok bool) {
	if len(r.m.Axles) != 1 || math.Abs(r.m.Axles[0].Dir.Z) > tol.Clip {
		return axle, nil, false
	}
	axle = r.m.Axles[0]
	wheels = append(slices.Clone(axle.Wheels[0]), axle.Wheels[1]...)
	_, _, radius := r.m.Pieces[wheels[0]].Axis()
	for _, w := range wheels {
		if _, _, other := r.m.Pieces[w].Axis(); math.Abs(other-radius) > tol.Touch {
			return axle, nil, false
		}
	}
	return axle, wheels, true
}

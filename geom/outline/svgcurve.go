package outline

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/trig"
)

// flat draws n straight steps along at(t), t from 0 to 1, the last to to.
func (r *reader) flat(n int, to r2.Vec, at func(t float64) r2.Vec) {
	if n > r.left {
		n = r.left + 1 // add then refuses
	}
	for k := 1; k < n; k++ {
		r.line(at(float64(k) / float64(n)))
	}
	r.line(to)
}

// cubic flattens into equal steps of the parameter. A step of 1/n of a curve
// whose second derivative is at most D strays from it by at most D/(8 n^2); for
// a cubic D is 6 times the larger second difference of its control points.
func (r *reader) cubic(c1, c2, to r2.Vec) {
	p := r.pos
	if r.pen != nil {
		r.pen.Cubic(c1, c2, to)
		r.add(Line(to), 1)
		return
	}
	d := float64(6 * math.Max(p.Sub(c1.Scale(2)).Add(c2).Len(), c1.Sub(c2.Scale(2)).Add(to).Len()))
	r.flat(r.steps(d), to, func(t float64) r2.Vec {
		a, b, c := between(p, c1, t), between(c1, c2, t), between(c2, to, t)
		return between(between(a, b, t), between(b, c, t), t)
	})
}

// quadratic is cubic with D twice the second difference.
func (r *reader) quadratic(c, to r2.Vec) {
	p := r.pos
	if r.pen != nil { // the same curve as a cubic
		r.cubic(between(p, c, 2.0/3), between(to, c, 2.0/3), to)
		return
	}
	d := 2 * p.Sub(c.Scale(2)).Add(to).Len()
	r.flat(r.steps(d), to, func(t float64) r2.Vec {
		return between(between(p, c, t), between(c, to, t), t)
	})
}

func (r *reader) steps(d float64) int {
	return max(1, int(math.Ceil(math.Sqrt(d/(8*r.chord)))))
}

func between(a, b r2.Vec, t float64) r2.Vec { return a.Add(b.Sub(a).Scale(t)) }

// arc draws the A command after SVG 1.1, appendix F.6: no radius gives a
// straight line, ends in one place nothing, and radii too small to reach are
// scaled up.
func (r *reader) arc(rx, ry, tilt float64, large, left bool, to r2.Vec) {
	from := r.pos
	if from == to {
		return
	}
	if rx == 0 || ry == 0 {
		r.line(to)
		return
	}
	if r.pen != nil {
		r.ellipse(rx, ry, tilt, large, left, to)
		return
	}
	if rx == ry {
		s := circular(from, to, rx, large, left)
		r.add(s, chords(s.R, s.Sweep, r.chord))
		return
	}
	// In a frame turned by -tilt and squeezed to radii 1 the ellipse is a
	// circle; its chords there are no farther off than 1/max(rx, ry) of the
	// distance here.
	into := func(p r2.Vec) r2.Vec {
		q := turned(p.Sub(from), -tilt)
		return r2.Vec{X: q.X / rx, Y: q.Y / ry}
	}
	s := circular(r2.Vec{}, into(to), 1, large, left)
	most := float64(math.Max(rx, ry) * s.R) // s.R > 1 where the radii had to grow
	n := chords(most, s.Sweep, r.chord)
	r.flat(n, to, func(t float64) r2.Vec {
		q := s.C.Add(turned(s.C.Neg(), float64(s.Sweep*t)))
		return from.Add(turned(r2.Vec{X: float64(q.X * rx), Y: float64(q.Y * ry)}, tilt))
	})
}

// circular returns the arc of radius r, or half their distance if that is more,
// between two points: the larger one or not, turning left or not.
func circular(from, to r2.Vec, r float64, large, left bool) Seg {
	d := to.Sub(from)
	half := d.Len() / 2
	s := Seg{To: to, C: from.Add(d.Scale(0.5)), R: math.Max(r, half), Sweep: math.Pi}
	if s.R > half {
		h := math.Sqrt(float64((s.R - half) * (s.R + half)))
		off := d.Perp().Scale(h / (2 * half)) // a small arc that turns left has its centre on its left
		if large == left {
			off = off.Neg()
		}
		s.C = s.C.Add(off)
		// Half the small angle has the sine half/R and the cosine h/R.
		s.Sweep = 2 * trig.Atan2(half, h)
		if large {
			s.Sweep = 2*math.Pi - s.Sweep
		}
	}
	if !left {
		s.Sweep = -s.Sweep
	}
	return s
}

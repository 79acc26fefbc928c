package drawing

import (
	"math"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// fitAll returns the straight and round steps that stand for pieces; as soon as they are
// more than most it stops.
func fitAll(pieces []piece, most int) (out []outline.Seg) {
	for _, p := range pieces {
		if out = append(out, p.fit()...); len(out) > most {
			break
		}
	}
	return out
}

// fit returns the steps that stand for one piece: a line as it is, a circular arc as it
// is, another curve as pairs of arcs within tol.Fit of it.
//
// A Bézier curve that is what programs write for an arc of a circle is taken as that
// arc: its handles are alike and 4/3 tan(sweep/4) of the radius long (Goldapp,
// Approximation of circular arcs by cubic polynomials, CAGD 8, 1991; the error of a
// quarter is 0.027 % of the radius).
func (p piece) fit() []outline.Seg {
	switch p.kind {
	case 'L':
		if p.to.Sub(p.from).Len() <= tol.Clip {
			return nil
		}
		return []outline.Seg{outline.Line(p.to)}
	case 'C':
		if s, ok := p.asArc(); ok {
			return []outline.Seg{s}
		}
		return fitCurve(p.cubic)
	}
	long, other := p.u.Len(), p.v.Len()
	if math.Abs(long-other) <= 1e-6*long && math.Abs(p.u.Dot(p.v)) <= 1e-6*float64(long*other) {
		s := outline.Seg{To: p.to, C: p.c, R: p.from.Sub(p.c).Len(), Sweep: p.sweep}
		if p.u.Cross(p.v) < 0 {
			s.Sweep = -s.Sweep
		}
		return []outline.Seg{s}
	}
	n := max(1, int(math.Ceil(math.Abs(p.sweep)/(math.Pi/2)-1e-9))) // a quarter at most: it does not come back on itself
	var out []outline.Seg
	for k := range n {
		out = append(out, fitCurve(func(t float64) (at, way r2.Vec) { return p.ellipse((float64(k) + t) / float64(n)) })...)
	}
	if len(out) > 0 {
		out[len(out)-1].To = p.to
	}
	return out
}

// asArc recognises the Bézier curve that stands for an arc of a circle.
func (p piece) asArc() (outline.Seg, bool) {
	h1, h2, chord := p.c1.Sub(p.from), p.to.Sub(p.c2), p.to.Sub(p.from)
	l := chord.Len()
	if l <= tol.Join || h1.Len() <= tol.Join || h2.Len() <= tol.Join {
		return outline.Seg{}, false
	}
	a1 := trig.Atan2(h1.Cross(chord), h1.Dot(chord)) // half the sweep, twice
	a2 := trig.Atan2(chord.Cross(h2), chord.Dot(h2))
	sweep := a1 + a2
	if math.Abs(sweep) < 0.02 || math.Abs(sweep) > 2 {
		return outline.Seg{}, false
	}
	sin, _ := trig.Sincos(math.Abs(sweep) / 2)
	r := l / (2 * sin)
	handle := float64(4.0 / 3 * trig.Tan(math.Abs(sweep)/4) * r)
	slack := float64(1e-3*handle) + 1e-3 // 0.5519 to 0.5523 are in use, and numbers rounded to 0.001
	if math.Abs(h1.Len()-handle) > slack || math.Abs(h2.Len()-handle) > slack || math.Abs(a1-a2)*handle > slack {
		return outline.Seg{}, false
	}
	_, cos := trig.Sincos(sweep / 2)
	off := float64(r * cos)
	if sweep < 0 {
		off = -off
	}
	c := p.from.Add(chord.Scale(0.5)).Add(chord.Unit().Perp().Scale(off))
	return outline.Seg{To: p.to, C: c, R: r, Sweep: sweep}, true
}

// curve gives a place and the way on there, of a parameter from 0 to 1.
type curve func(t float64) (at, way r2.Vec)

func (p piece) cubic(t float64) (at, way r2.Vec) {
	mid := func(a, b r2.Vec) r2.Vec { return a.Add(b.Sub(a).Scale(t)) }
	a, b, c := mid(p.from, p.c1), mid(p.c1, p.c2), mid(p.c2, p.to)
	d, e := mid(a, b), mid(b, c)
	at, way = mid(d, e), e.Sub(d)
	if size := p.to.Sub(p.from).Len() + p.c1.Sub(p.from).Len() + p.c2.Sub(p.from).Len(); way.Len() <= 1e-6*size { // a handle of no length, or a cusp
		if t < 0.5 {
			way = p.c2.Sub(p.from)
		} else {
			way = p.to.Sub(p.c1)
		}
		if way.Len() <= 1e-6*size {
			way = p.to.Sub(p.from)
		}
	}
	return at, way.Unit()
}

func (p piece) ellipse(t float64) (at, way r2.Vec) {
	sin, cos := trig.Turn(p.begin + float64(p.sweep*t))
	at = p.c.Add(p.u.Scale(cos)).Add(p.v.Scale(sin))
	way = p.v.Scale(cos).Sub(p.u.Scale(sin))
	if p.sweep < 0 {
		way = way.Neg()
	}
	return at, way.Unit()
}

// samples is how many places of a curve are compared with the arcs that stand for it.
const samples = 12

// fitCurve goes along a curve by the longest parts that a line or a pair of arcs lies
// within tol.Fit of: whole, else what halving finds.
func fitCurve(f curve) (out []outline.Seg) {
	for t0 := 0.0; t0 < 1; {
		segs, ok := fitPart(f, t0, 1)
		t1 := 1.0
		if !ok {
			lo, hi := 0.0, 1-t0 // a part as long as lo fits, one as long as hi does not
			for hi-lo > 1e-4 {
				mid := (lo + hi) / 2
				if s, ok := fitPart(f, t0, t0+mid); ok {
					lo, segs = mid, s
				} else {
					hi = mid
				}
				if hi-lo < lo/32 {
					break
				}
			}
			if t1 = t0 + lo; lo == 0 { // a cusp
				t1 = math.Min(1, t0+hi)
				b, _ := f(t1)
				segs = []outline.Seg{outline.Line(b)}
			}
		}
		out, t0 = append(out, segs...), t1
	}
	return out
}

// fitPart returns the line or the pair of arcs for a part of a curve, if one is near enough.
func fitPart(f curve, t0, t1 float64) ([]outline.Seg, bool) {
	a, u := f(t0)
	b, v := f(t1)
	if line := []outline.Seg{outline.Line(b)}; near(f, t0, t1, a, line) {
		if a.Sub(b).Len() <= tol.Clip {
			line = nil
		}
		return line, true
	}
	pair := biarc(a, u, b, v)
	return pair, pair != nil && near(f, t0, t1, a, pair)
}

// near tells whether a curve lies within tol.Fit of steps that go from its start to its
// end, and no longer a way than they.
func near(f curve, t0, t1 float64, from r2.Vec, segs []outline.Seg) bool {
	last, long := from, 0.0
	for k := 1; k <= samples; k++ {
		p, _ := f(t0 + float64((t1-t0)*float64(k)/samples))
		long += p.Sub(last).Len()
		last = p
		at, least := from, math.Inf(1)
		for _, s := range segs {
			least = math.Min(least, distance(at, s, p))
			at = s.To
		}
		if least > tol.Fit {
			return false
		}
	}
	way, at := 0.0, from
	for _, s := range segs {
		if s.Round() {
			way += float64(s.R * math.Abs(s.Sweep))
		} else {
			way += s.To.Sub(at).Len()
		}
		at = s.To
	}
	return math.Abs(way-long) <= float64(0.02*long)+2*tol.Fit
}

// distance is that of a place from a step.
func distance(from r2.Vec, s outline.Seg, p r2.Vec) float64 {
	if !s.Round() {
		d := s.To.Sub(from)
		t := 0.0
		if q := d.Dot(d); q > 0 {
			t = math.Max(0, math.Min(1, p.Sub(from).Dot(d)/q))
		}
		return p.Sub(from.Add(d.Scale(t))).Len()
	}
	a, q := from.Sub(s.C), p.Sub(s.C)
	turn := trig.Atan2(a.Cross(q), a.Dot(q))
	if s.Sweep < 0 {
		turn = -turn
	}
	if turn < 0 {
		turn += 2 * math.Pi
	}
	if turn <= math.Abs(s.Sweep) {
		return math.Abs(q.Len() - s.R)
	}
	return math.Min(p.Sub(from).Len(), p.Sub(s.To).Len())
}

// biarc returns two arcs that leave a in the direction u and arrive at b in the direction
// v, with the same length of tangent at both ends; nil where there are none. Source:
// Bolton, Biarc curves, Computer-Aided Design 7 (1975): the join is where both tangent
// lengths d meet, 2 (1 - u.v) d² + 2 w.(u + v) d - w.w = 0 with w = b - a.
func biarc(a, u, b, v r2.Vec) []outline.Seg {
	w := b.Sub(a)
	k, h, g := 2*(1-u.Dot(v)), 2*w.Dot(u.Add(v)), -w.Dot(w)
	var d float64
	if k > 1e-9 {
		d = (math.Sqrt(float64(h*h)-float64(4*k*g)) - h) / (2 * k)
	} else if h > 1e-12 {
		d = -g / h
	}
	if !(d > 0) || math.IsInf(d, 0) {
		return nil
	}
	mid := a.Add(b).Add(u.Sub(v).Scale(d)).Scale(0.5)
	first := tangentArc(a, u, mid)
	back := tangentArc(b, v.Neg(), mid)
	last := outline.Seg{To: b, C: back.C, R: back.R, Sweep: -back.Sweep}
	return []outline.Seg{first, last}
}

// tangentArc leaves a in the direction u and ends at b.
func tangentArc(a, u, b r2.Vec) outline.Seg {
	d := b.Sub(a)
	side := u.Cross(d)
	if rise := math.Abs(side); rise <= tol.Page { // as ThreePointArc: nearly straight
		return outline.Line(b)
	}
	r := d.Dot(d) / (2 * side) // positive to the left
	return outline.Seg{To: b, C: a.Add(u.Perp().Scale(r)), R: math.Abs(r), Sweep: 2 * trig.Atan2(side, u.Dot(d))}
}

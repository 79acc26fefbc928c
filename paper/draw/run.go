package draw

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// Run is a line drawn without lifting the pencil: from From along Segs, and back
// to From if Closed.
type Run struct {
	From   r2.Vec
	Segs   []Seg
	Closed bool
}

// Seg is a straight line to To where Sweep is 0, else an arc to To about Centre
// that starts at the angle Start and turns by Sweep, both in radians,
// counter-clockwise positive.
type Seg struct {
	To                   r2.Vec
	Centre               r2.Vec
	Radius, Start, Sweep float64
}

// Start begins a run at p.
func Start(p r2.Vec) Run { return Run{From: p} }

// End returns the point that the run has reached.
func (r Run) End() r2.Vec {
	if len(r.Segs) == 0 {
		return r.From
	}
	return r.Segs[len(r.Segs)-1].To
}

func (r Run) with(s Seg) Run {
	r.Segs = append(r.Segs[:len(r.Segs):len(r.Segs)], s)
	return r
}

// LineTo returns the run with a straight line to p added.
func (r Run) LineTo(p r2.Vec) Run { return r.with(Seg{To: p}) }

// ArcTo returns the run with an arc added, about centre and by sweep radians,
// counter-clockwise positive.
func (r Run) ArcTo(centre r2.Vec, sweep float64) Run {
	from := r.End().Sub(centre)
	s := Seg{Centre: centre, Radius: from.Len(), Start: math.Atan2(from.Y, from.X), Sweep: sweep}
	s.To = s.at(1)
	return r.with(s)
}

// Close returns the run closed.
func (r Run) Close() Run {
	r.Closed = true
	return r
}

// Polyline joins the points by straight lines.
func Polyline(pts ...r2.Vec) Run {
	r := Run{From: pts[0], Segs: make([]Seg, len(pts)-1)}
	for i, p := range pts[1:] {
		r.Segs[i].To = p
	}
	return r
}

// Polygon joins the points by straight lines, the last to the first.
func Polygon(pts ...r2.Vec) Run { return Polyline(pts...).Close() }

// Rect is the outline of a box.
func Rect(b r2.Box) Run {
	return Polygon(b.Min, r2.Vec{X: b.Max.X, Y: b.Min.Y}, b.Max, r2.Vec{X: b.Min.X, Y: b.Max.Y})
}

// Arc is part of a circle: it starts at the angle start and turns by sweep, both
// in radians, counter-clockwise positive.
func Arc(centre r2.Vec, radius, start, sweep float64) Run {
	s := Seg{Centre: centre, Radius: radius, Start: start, Sweep: sweep}
	s.To = s.at(1)
	return Run{From: s.at(0), Segs: []Seg{s}}
}

// Circle is a whole circle. It is made of two halves, so that it has exact
// points left and right and every format can say it.
func Circle(centre r2.Vec, radius float64) Run {
	return Arc(centre, radius, 0, math.Pi).ArcTo(centre, math.Pi).Close()
}

// sincos is exact at quarter turns, where math.Sincos leaves 1e-16 behind and
// sums of angles a little more; on a page of a metre tol.Clip radians are far
// below tol.Page.
func sincos(a float64) (sin, cos float64) {
	q := math.Round(a / (math.Pi / 2))
	if math.Abs(a-float64(q*(math.Pi/2))) < tol.Clip {
		switch int(math.Mod(math.Mod(q, 4)+4, 4)) {
		case 0:
			return 0, 1
		case 1:
			return 1, 0
		case 2:
			return 0, -1
		default:
			return -1, 0
		}
	}
	return math.Sincos(a)
}

// at returns the point of an arc at the share t of its sweep.
func (s Seg) at(t float64) r2.Vec {
	sin, cos := sincos(s.Start + float64(s.Sweep*t))
	return r2.Vec{X: s.Centre.X + float64(s.Radius*cos), Y: s.Centre.Y + float64(s.Radius*sin)}
}

// Parts returns the ends of the equal parts, each of at most widest radians,
// that an arc is cut into; the last is To.
func (s Seg) Parts(widest float64) []r2.Vec {
	n := max(1, int(math.Ceil(math.Abs(s.Sweep)/widest-tol.Clip)))
	ends := make([]r2.Vec, n)
	for i := range n - 1 {
		ends[i] = s.at(float64(i+1) / float64(n))
	}
	ends[n-1] = s.To
	return ends
}

// Points returns the run as corners of a polygon or polyline; arcs become chords
// that lie within tol.Chord of them. A closed run does not repeat its start.
func (r Run) Points() []r2.Vec {
	pts := []r2.Vec{r.From}
	for _, s := range r.Segs {
		if s.Sweep == 0 {
			pts = append(pts, s.To)
			continue
		}
		widest := 2 * math.Acos(math.Max(0.7, 1-tol.Chord/math.Max(s.Radius, tol.Chord)))
		pts = append(pts, s.Parts(widest)...)
	}
	if n := len(pts); r.Closed && n > 1 && pts[n-1].Sub(r.From).Len() <= tol.Clip {
		pts = pts[:n-1]
	}
	return pts
}

// Bounds returns the box around the run.
func (r Run) Bounds() r2.Box {
	b := r2.Around(r.From)
	for _, s := range r.Segs {
		b = b.Add(s.To)
		if s.Sweep == 0 {
			continue
		}
		lo, hi := s.Start, s.Start+s.Sweep
		if lo > hi {
			lo, hi = hi, lo
		}
		for q := math.Ceil(lo / (math.Pi / 2)); float64(q*(math.Pi/2)) <= hi; q++ {
			sin, cos := sincos(q * (math.Pi / 2))
			b = b.Add(s.Centre.Add(r2.Vec{X: s.Radius * cos, Y: s.Radius * sin}))
		}
	}
	return b
}

// Cubic is a Bézier curve to To with two control points.
type Cubic struct{ C1, C2, To r2.Vec }

// Cubics returns an arc as Bézier curves that leave it by less than tol.Curve.
//
// A curve over the angle a with control points at 4/3 tan(a/4) of the radius
// lies at most about r a^6 / 55000 outside the arc: the known 2.73e-4 r at a
// quarter turn, and the sixth power because the error is of sixth order.
// Source: Goldapp, Approximation of circular arcs by cubic polynomials,
// Computer Aided Geometric Design 8 (1991), from memory; the test measures it.
func (s Seg) Cubics() []Cubic {
	widest := math.Min(math.Pi/2, math.Pow(tol.Curve*50000/math.Max(s.Radius, tol.Curve), 1.0/6))
	ends := s.Parts(widest)
	arm := float64(s.Radius*4/3) * math.Tan(s.Sweep/float64(4*len(ends)))
	out := make([]Cubic, len(ends))
	from := s.at(0)
	for i, to := range ends {
		out[i] = Cubic{
			C1: from.Add(from.Sub(s.Centre).Perp().Unit().Scale(arm)),
			C2: to.Sub(to.Sub(s.Centre).Perp().Unit().Scale(arm)),
			To: to,
		}
		from = to
	}
	return out
}

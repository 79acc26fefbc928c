// Package outline has closed lines of straight and round segments in the
// plane, as a saw follows them, and the polygons that stand for them.
//
// The tour: a Path is made by Corners, Circle, Rect, Mirror or ParseSVG; Check
// tells whether it can be sawn at all; Area, Centroid, Length, Bounds,
// Contains and DistanceTo are exact, arcs included; Polygon is the polygon that
// stands for the path wherever straight edges are needed (flatten.go states the
// rule to the letter). ConvexParts cuts polygons with holes into convex ones;
// Clip, ClipConvex, OverlapArea, Hull, LeastCircle and Moments work on plain
// polygons, given as []r2.Vec without a repeated last point.
//
// Lengths are millimetres, angles radians; counter-clockwise is positive.
// Sines and arc tangents are computed here (trig.go) in a fixed order of
// rounded operations, so that the same path gives the same bits everywhere.
package outline

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// Seg is one step of a path: straight (R is 0) or an arc of a true circle from
// the end of the step before to To.
type Seg struct {
	To    r2.Vec
	C     r2.Vec  // centre of the arc
	R     float64 // radius of the arc; 0: the step is straight
	Sweep float64 // angle turned about C, counter-clockwise positive, at most a whole turn
}

// Line returns the straight step to p.
func Line(p r2.Vec) Seg { return Seg{To: p} }

// Round tells whether the step is an arc.
func (s Seg) Round() bool { return s.R > 0 }

// Middle returns the place in the middle of a step that begins at from.
func (s Seg) Middle(from r2.Vec) r2.Vec {
	if !s.Round() {
		return from.Add(s.To).Scale(0.5)
	}
	sin, cos := trig.Sincos(s.Sweep / 2)
	d := from.Sub(s.C)
	return s.C.Add(r2.Vec{X: float64(d.X*cos) - float64(d.Y*sin), Y: float64(d.X*sin) + float64(d.Y*cos)})
}

// whole tells whether the step is a full circle.
func (s Seg) whole() bool { return s.R > 0 && math.Abs(s.Sweep) >= 2*math.Pi }

// Path is a closed line. When the last step does not end on Start, a straight
// step back to it is understood; its index is len(Segs).
type Path struct {
	Start r2.Vec
	Segs  []Seg
}

// each calls f for every step, the understood closing one included.
func (p Path) each(f func(i int, from r2.Vec, s Seg)) {
	at := p.Start
	for i, s := range p.Segs {
		f(i, at, s)
		at = s.To
	}
	if at != p.Start {
		f(len(p.Segs), at, Line(p.Start))
	}
}

// Reverse returns the same line followed the other way, from the same start.
func (p Path) Reverse() Path {
	q := Path{Start: p.Start}
	p.each(func(_ int, from r2.Vec, s Seg) {
		q.Segs = append(q.Segs, Seg{To: from, C: s.C, R: s.R, Sweep: -s.Sweep})
	})
	for i, j := 0, len(q.Segs)-1; i < j; i, j = i+1, j-1 {
		q.Segs[i], q.Segs[j] = q.Segs[j], q.Segs[i]
	}
	return q
}

// Length returns the length of the line.
func (p Path) Length() float64 {
	sum := 0.0
	p.each(func(_ int, from r2.Vec, s Seg) {
		if s.Round() {
			sum += float64(s.R * math.Abs(s.Sweep))
		} else {
			sum += s.To.Sub(from).Len()
		}
	})
	return sum
}

// Area returns the exact area, positive for a counter-clockwise path: the
// polygon of the end points plus the circular segment of each arc,
// R^2/2 (s - sin s).
func (p Path) Area() float64 {
	a, _ := p.moment()
	return a
}

// Centroid returns the exact centre of the enclosed area; for a path that
// encloses nothing, its start.
func (p Path) Centroid() r2.Vec {
	a, m := p.moment()
	if a == 0 {
		return p.Start
	}
	return p.Start.Add(m.Scale(1 / a))
}

// moment returns the area and the first moment of area about Start. A circular
// segment of sweep s has the first moment 2/3 R^3 sin^3(s/2) about its centre,
// towards the middle of the arc.
func (p Path) moment() (area float64, m r2.Vec) {
	p.each(func(_ int, from r2.Vec, s Seg) {
		a, b := from.Sub(p.Start), s.To.Sub(p.Start)
		t := a.Cross(b) / 2
		area += t
		m = m.Add(a.Add(b).Scale(t / 3))
		if !s.Round() {
			return
		}
		sin, _ := trig.Sincos(s.Sweep)
		if s.whole() {
			sin = 0
		}
		part := float64(float64(s.R*s.R) / 2 * (s.Sweep - sin))
		half, _ := trig.Sincos(s.Sweep / 2)
		area += part
		m = m.Add(s.C.Sub(p.Start).Scale(part))
		if !s.whole() {
			mid := turned(from.Sub(s.C), s.Sweep/2).Unit()
			m = m.Add(mid.Scale(float64(2.0 / 3 * float64(s.R*s.R) * s.R * float64(half*half) * half)))
		}
	})
	return area, m
}

// Bounds returns the exact box around the line.
func (p Path) Bounds() r2.Box {
	b := r2.Around(p.Start)
	p.each(func(_ int, from r2.Vec, s Seg) {
		b = b.Add(s.To)
		if !s.Round() {
			return
		}
		for _, d := range [4]r2.Vec{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}} {
			// A quarter point that close to an end adds nothing: leave the
			// end, which is exact.
			if s.passes(from, d, -tol.Clip) {
				b = b.Add(s.C.Add(d.Scale(s.R)))
			}
		}
	})
	return b
}

// passes tells whether the arc from from runs through the direction d as seen
// from its centre, with that much slack (radians) at both ends.
func (s Seg) passes(from, d r2.Vec, slack float64) bool {
	if s.whole() {
		return true
	}
	u := from.Sub(s.C)
	a := trig.Atan2(u.Cross(d), u.Dot(d))
	if s.Sweep < 0 {
		a = -a
	}
	if a < -slack {
		a += 2 * math.Pi
	}
	return a >= -slack && a <= math.Abs(s.Sweep)+slack
}

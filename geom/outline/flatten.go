package outline

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// Chords returns how many equal chords stand for an arc of radius r and sweep
// s, with e = tol.Chord:
//
//   - arc: ceil(|s| / (2 acos(1 - e/r))), at least 1 (1 also where 2r <= e);
//   - whole turn: the least multiple of 4 not below pi / acos(1 - e/r), at
//     least 8.
//
// The chords are inscribed: their ends lie on the arc, the first and the last
// on its end points, a circle's first where its path starts (angle 0 for one
// made by Circle). No chord is farther than e from its arc.
func Chords(r, s float64) int { return chords(r, s, tol.Chord) }

func chords(r, s, e float64) int {
	half := math.Pi
	if 2*r > e {
		half = trig.Acos(1 - e/r)
	}
	const most = 1 << 30 // far above MaxChords, and still a number to add up
	if math.Abs(s) >= 2*math.Pi {
		return max(8, 4*int(math.Min(most, math.Ceil(math.Pi/half/4))))
	}
	return max(1, int(math.Min(most, math.Ceil(math.Abs(s)/(2*half)))))
}

// trace returns the chord ends in path order, and for the edge that leaves each
// the index of its step. Nothing is tidied.
func (p Path) trace() (pts []r2.Vec, of []int) {
	p.each(func(i int, from r2.Vec, s Seg) {
		pts, of = append(pts, from), append(of, i)
		if !s.Round() {
			return
		}
		n := Chords(s.R, s.Sweep)
		v := s.spoke(from)
		for k := 1; k < n; k++ {
			pts, of = append(pts, s.C.Add(step(v, s.Sweep, k, n))), append(of, i)
		}
	})
	return pts, of
}

// spoke returns the vector from the centre to from; one along an axis has the
// radius as its length to the last bit.
func (s Seg) spoke(from r2.Vec) r2.Vec {
	v := from.Sub(s.C)
	switch {
	case v.Y == 0:
		v.X = math.Copysign(s.R, v.X)
	case v.X == 0:
		v.Y = math.Copysign(s.R, v.Y)
	}
	return v
}

// chordCount returns how long trace's answer is, without making it.
func (p Path) chordCount() int {
	n := 0
	p.each(func(_ int, _ r2.Vec, s Seg) {
		k := 1
		if s.Round() {
			k = Chords(s.R, s.Sweep)
		}
		n += k
	})
	return n
}

// Polygon returns the polygon that stands for the path: the end points of its
// straight steps as they are, its arcs as Chords says; then points closer than
// tol.Clip to the one before are left out, and points within tol.Clip of the
// straight line between their neighbours; counter-clockwise, whichever way the
// path runs, from the path's start if that is still a corner.
//
// A path that Check refuses gives a polygon of no use.
func (p Path) Polygon() []r2.Vec {
	pts, _ := p.PolygonOf()
	return pts
}

// PolygonOf returns Polygon and, for the edge from each point to the next, the
// index of the step of the path it stands for (the first, where straight steps
// in one line became one edge).
func (p Path) PolygonOf() (pts []r2.Vec, of []int) {
	pts, of = tidy(p.trace())
	if SignedArea(pts) < 0 {
		// The edge that left point i now arrives there.
		for i, j := 1, len(pts)-1; i < j; i, j = i+1, j-1 {
			pts[i], pts[j] = pts[j], pts[i]
		}
		for i, j := 0, len(of)-1; i < j; i, j = i+1, j-1 {
			of[i], of[j] = of[j], of[i]
		}
	}
	return pts, of
}

// merged leaves out points closer than tol.Clip to the one before.
func merged(pts []r2.Vec, of []int) ([]r2.Vec, []int) {
	n := 0
	for i, p := range pts {
		if n > 0 && p.Sub(pts[n-1]).Len() <= tol.Clip {
			of[n-1] = of[i]
			continue
		}
		pts[n], of[n] = p, of[i]
		n++
	}
	for n > 1 && pts[n-1].Sub(pts[0]).Len() <= tol.Clip {
		n--
	}
	return pts[:n], of[:n]
}

// tidy merges points and leaves out those in the middle of a straight line.
func tidy(pts []r2.Vec, of []int) ([]r2.Vec, []int) {
	pts, of = merged(pts, of)
	for n := -1; n != len(pts) && len(pts) > 2; {
		n = len(pts)
		out, tag := pts[:0], of[:0]
		last := pts[n-1]
		first := pts[0]
		for i, p := range pts {
			next := first
			if i+1 < n {
				next = pts[i+1]
			}
			if toSegment(p, last, next) <= tol.Clip && n-i+len(out) > 3 {
				continue // the edge before runs on
			}
			t := of[i]
			out, tag = append(out, p), append(tag, t)
			last = p
		}
		pts, of = out, tag
	}
	return pts, of
}

// toSegment returns the distance from p to the segment a-b.
func toSegment(p, a, b r2.Vec) float64 { return p.Sub(nearest(p, a, b)).Len() }

// nearest returns the point of the segment a-b nearest to p.
func nearest(p, a, b r2.Vec) r2.Vec {
	d, w := b.Sub(a), p.Sub(a)
	t, l := w.Dot(d), d.Dot(d)
	switch {
	case t <= 0 || l == 0:
		return a
	case t >= l:
		return b
	}
	return a.Add(d.Scale(t / l))
}

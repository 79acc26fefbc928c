package outline

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// DistanceTo returns the exact distance from p to the line, wherever p lies.
func (p Path) DistanceTo(q r2.Vec) float64 {
	d := math.Inf(1)
	p.each(func(_ int, from r2.Vec, s Seg) {
		d = math.Min(d, s.distance(from, q))
	})
	return d
}

func (s Seg) distance(from, q r2.Vec) float64 {
	if !s.Round() {
		return toSegment(q, from, s.To)
	}
	v := q.Sub(s.C)
	if l := v.Len(); l == 0 || s.passes(from, v, 0) {
		return math.Abs(l - s.R)
	}
	return math.Min(q.Sub(from).Len(), q.Sub(s.To).Len())
}

// Contains tells whether q lies inside the path or within tol.Clip of its line.
func (p Path) Contains(q r2.Vec) bool {
	return p.winding(q) != 0 || p.DistanceTo(q) <= tol.Clip
}

// winding returns how often the path runs round q, exactly: the polygon of end
// points, plus each arc's circular segment that holds q.
func (p Path) winding(q r2.Vec) int {
	w := 0
	p.each(func(_ int, a r2.Vec, s Seg) {
		b := s.To
		side := orient(a, b, q)
		if a.Y <= q.Y && b.Y > q.Y && side > 0 {
			w++
		} else if a.Y > q.Y && b.Y <= q.Y && side < 0 {
			w--
		}
		if !s.Round() || q.Sub(s.C).Len() >= s.R {
			return
		}
		// A point on the chord itself counts as lying on the side that the
		// rule above took it for.
		right := side < 0 || side == 0 && (b.Y > a.Y || b.Y == a.Y && b.X < a.X)
		switch {
		case s.whole():
			w += sign(s.Sweep)
		case s.Sweep > 0 && right:
			w++
		case s.Sweep < 0 && !right:
			w--
		}
	})
	return w
}

// Inside tells whether all of p lies inside q and the two lines nowhere touch
// (come within tol.Clip). It looks at the polygons that stand for the two.
func (p Path) Inside(q Path) bool {
	f := contact(p, q)
	return f == nil && q.winding(p.Start) != 0
}

// Apart tells whether p and q have no point in common, neither line nor inside.
func (p Path) Apart(q Path) bool {
	return contact(p, q) == nil && q.winding(p.Start) == 0 && p.winding(q.Start) == 0
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

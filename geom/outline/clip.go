package outline

import (
	"math"
	"sort"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// Clip returns the part of a convex polygon where n.p <= d, n being a unit
// vector; nil if nothing is left. Points within tol.Clip of the line count as
// on it and stay as they are.
func Clip(poly []r2.Vec, n r2.Vec, d float64) []r2.Vec {
	if len(poly) == 0 {
		return nil
	}
	side := func(p r2.Vec) float64 {
		s := n.Dot(p) - d
		if math.Abs(s) <= tol.Clip {
			return 0
		}
		return s
	}
	var out []r2.Vec
	inside := false
	last := poly[len(poly)-1]
	ls := side(last)
	for _, p := range poly {
		s := side(p)
		if ls < 0 && s > 0 || ls > 0 && s < 0 {
			out = append(out, last.Add(p.Sub(last).Scale(ls/(ls-s))))
		}
		if s <= 0 {
			out = append(out, p)
			inside = inside || s < 0
		}
		last, ls = p, s
	}
	if !inside || len(out) < 3 {
		return nil
	}
	return out
}

// ClipConvex returns the part that two convex counter-clockwise polygons have
// in common; nil if they have no area in common.
func ClipConvex(a, b []r2.Vec) []r2.Vec {
	for i, p := range b {
		q := b[(i+1)%len(b)]
		n := q.Sub(p).Perp().Neg().Unit()
		if a = Clip(a, n, n.Dot(p)); a == nil {
			return nil
		}
	}
	return a
}

// OverlapArea returns the area that two simple polygons have in common, whether
// they run clockwise or not.
func OverlapArea(a, b []r2.Vec) (float64, error) {
	pa, err := ConvexParts(a, nil)
	if err != nil {
		return 0, err
	}
	pb, err := ConvexParts(b, nil)
	if err != nil {
		return 0, err
	}
	boxes := make([]r2.Box, len(pb))
	for j := range pb {
		boxes[j] = r2.Around(pb[j]...)
	}
	sum := 0.0
	for _, p := range pa {
		box := r2.Around(p...)
		for j, q := range pb {
			c := boxes[j]
			if c.Min.X < box.Max.X && box.Min.X < c.Max.X && c.Min.Y < box.Max.Y && box.Min.Y < c.Max.Y {
				sum += SignedArea(ClipConvex(p, q))
			}
		}
	}
	return sum, nil
}

// Hull returns the convex hull, counter-clockwise from the lowest (then
// leftmost) point, without points in the middle of a side.
func Hull(pts []r2.Vec) []r2.Vec {
	p := append([]r2.Vec(nil), pts...)
	sort.Slice(p, func(i, j int) bool { return below(p[i], p[j]) })
	var hull []r2.Vec
	chain := func(q r2.Vec, least int) {
		for len(hull) > least && orient(hull[len(hull)-2], hull[len(hull)-1], q) <= 0 {
			hull = hull[:len(hull)-1]
		}
		if len(hull) == 0 || hull[len(hull)-1] != q {
			hull = append(hull, q)
		}
	}
	for _, q := range p {
		chain(q, 1)
	}
	least := len(hull)
	for i := len(p) - 2; i >= 0; i-- {
		chain(p[i], least)
	}
	if len(hull) > 1 && hull[len(hull)-1] == hull[0] {
		hull = hull[:len(hull)-1]
	}
	return hull
}

// LeastCircle returns the smallest circle that holds all points (Welzl's
// method, in a fixed shuffled order, on the hull). No point lies outside the
// radius returned.
func LeastCircle(pts []r2.Vec) (c r2.Vec, r float64) {
	p := Hull(pts)
	if len(p) == 0 {
		return c, 0
	}
	seed := uint64(1)
	for i := len(p) - 1; i > 0; i-- {
		seed = seed*6364136223846793005 + 1442695040888963407
		j := int(seed>>33) % (i + 1)
		p[i], p[j] = p[j], p[i]
	}
	out := func(q r2.Vec) bool { return q.Sub(c).Len() > r+tol.Clip }
	pair := func(a, b r2.Vec) { c = a.Add(b).Scale(0.5); r = a.Sub(c).Len() }
	c = p[0]
	for i, a := range p {
		if !out(a) {
			continue
		}
		c, r = a, 0
		for j, b := range p[:i] {
			if !out(b) {
				continue
			}
			pair(a, b)
			for _, d := range p[:j] {
				if out(d) {
					if o, ok := circumcentre(a, b, d); ok {
						c, r = o, o.Sub(a).Len()
					}
				}
			}
		}
	}
	r = 0
	for _, q := range p {
		r = math.Max(r, q.Sub(c).Len())
	}
	return c, r
}

func circumcentre(a, b, c r2.Vec) (r2.Vec, bool) {
	b, c = b.Sub(a), c.Sub(a)
	d := 2 * b.Cross(c)
	if d == 0 {
		return a, false
	}
	bb, cc := b.Dot(b), c.Dot(c)
	return a.Add(r2.Vec{
		X: (float64(c.Y*bb) - float64(b.Y*cc)) / d,
		Y: (float64(b.X*cc) - float64(c.X*bb)) / d,
	}), true
}

package nest

import (
	"cmp"
	"math"
	"slices"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
)

// fewer returns fewer convex polygons that cover what the given ones cover, each as large as
// merging in pairs makes it: two give way to their convex hull where all of them cover that,
// and one whose place others cover is dropped. What lies between polygons that merely touch
// stays uncovered: a piece may fit exactly there. Less than slight is lost.
func fewer(parts [][]r2.Vec, slight float64) [][]r2.Vec {
	if len(parts) < 2 {
		return parts
	}
	out := make([]convex, len(parts))
	for i, p := range parts {
		out[i] = convexOf(p)
	}
	for i := 0; i < len(out); i++ {
		for j := 0; j < len(out); j++ {
			if j == i || !out[i].linked(out[j], out, slight) {
				continue
			}
			h := convexOf(hull(out[i].pts, out[j].pts, slight))
			if len(h.pts) < 3 || !h.covered(out, slight) {
				continue
			}
			out[i] = h
			n, at := 0, 0
			for k, c := range out {
				if k == i || k != j && !h.contains(c, slight) {
					if k == i {
						at = n
					}
					out[n] = c
					n++
				}
			}
			out, i, j = out[:n], at, -1
		}
	}
	slices.SortStableFunc(out, func(a, b convex) int { return cmp.Compare(b.area, a.area) })
	for i := len(out) - 1; i >= 0; i-- {
		if rest := slices.Delete(slices.Clone(out), i, i+1); out[i].covered(rest, slight) {
			out = rest
		}
	}
	left := make([][]r2.Vec, len(out))
	for i, c := range out {
		left[i] = c.pts
	}
	return left
}

// A convex is a convex polygon with its edges.
type convex struct {
	pts   []r2.Vec
	edges []edge
	box   box
	area  float64
	mid   r2.Vec
}

func convexOf(pts []r2.Vec) convex {
	c := clash{box: noBox()}
	c.add(pts, 0)
	mid := r2.Vec{}
	for _, p := range pts {
		mid = mid.Add(p.Scale(1 / float64(len(pts))))
	}
	return convex{mid: mid, pts: pts, edges: c.edges, box: c.box, area: outline.SignedArea(pts)}
}

// hull returns the convex hull of two polygons, without sides that are no longer than slight.
func hull(a, b []r2.Vec, slight float64) []r2.Vec {
	h := outline.Hull(append(slices.Clone(a), b...))
	out := h[:0]
	for i, p := range h {
		if p.Sub(h[(i+1)%len(h)]).Len() > slight {
			out = append(out, p)
		}
	}
	return out
}

// linked tells whether some places between two polygons are covered: else their hull is not.
func (c convex) linked(d convex, all []convex, slight float64) bool {
	for k := 0; k < looks; k++ {
		p := c.pts[k*len(c.pts)/looks].Add(d.pts[k*len(d.pts)/looks]).Scale(0.5)
		in := c.mid.Add(d.mid).Scale(0.5)
		if p = p.Add(in.Sub(p).Scale(inward)); !anyHas(all, p, slight) {
			return false
		}
	}
	return true
}

const (
	looks  = 4    // places looked at
	inward = 0.01 // of the way to the middle: not quite at the edge
)

func anyHas(all []convex, p r2.Vec, slight float64) bool {
	for i := range all {
		if all[i].has(p, slight) {
			return true
		}
	}
	return false
}

// contains tells whether another lies in it, but for rounding.
func (c convex) contains(d convex, slight float64) bool {
	for _, e := range c.edges {
		for _, p := range d.pts {
			if float64(e.nx*p.X)+float64(e.ny*p.Y) > e.d+slight/10 {
				return false
			}
		}
	}
	return true
}

// covered tells whether all together cover the polygon, however little each were drawn in.
func (c convex) covered(all []convex, slight float64) bool {
	for i, p := range c.pts { // most are not, as the middle of a side shows
		e := c.edges[i]
		mid := p.Add(c.pts[(i+1)%len(c.pts)]).Scale(0.5)
		if !anyHas(all, mid.Sub(r2.Vec{X: e.nx, Y: e.ny}.Scale(4*slight)), slight) {
			return false
		}
	}
	in := c.pts
	for _, e := range c.edges {
		if in, _ = cut(in, e, -2*slight); in == nil {
			return true
		}
	}
	return overlaid(in, all, slight)
}

// overlaid tells whether convex polygons, drawn in by little, cover another.
func overlaid(p []r2.Vec, all []convex, slight float64) bool {
	for k := range all {
		d := &all[k]
		if d.apart(p, slight) {
			continue
		}
		for _, e := range d.edges {
			var off []r2.Vec
			if p, off = cut(p, e, -slight); off != nil && !overlaid(off, all[k+1:], slight) {
				return false
			}
			if p == nil {
				break
			}
		}
		return true
	}
	return false
}

// apart tells whether an edge parts a polygon from this one.
func (c *convex) apart(p []r2.Vec, slight float64) bool {
	for _, e := range c.edges {
		out := true
		for _, q := range p {
			if float64(e.nx*q.X)+float64(e.ny*q.Y) < e.d-slight {
				out = false
				break
			}
		}
		if out {
			return true
		}
	}
	return false
}

// has tells whether a place lies in it by more than slight.
func (c *convex) has(p r2.Vec, slight float64) bool {
	if p.X < c.box.x0 || p.X > c.box.x1 || p.Y < c.box.y0 || p.Y > c.box.y1 {
		return false
	}
	for _, e := range c.edges {
		if float64(e.nx*p.X)+float64(e.ny*p.Y) > e.d-slight {
			return false
		}
	}
	return true
}

// cut parts a convex polygon along an edge moved out by off, into what lies inside and outside.
func cut(poly []r2.Vec, e edge, off float64) (in, out []r2.Vec) {
	d, least := e.d+off, math.Abs(off)/10
	deep, far := 0.0, 0.0
	for _, p := range poly {
		s := float64(e.nx*p.X) + float64(e.ny*p.Y) - d
		deep, far = math.Min(deep, s), math.Max(far, s)
	}
	if far < least {
		return poly, nil
	}
	if deep > -least {
		return nil, poly
	}
	in, out = make([]r2.Vec, 0, len(poly)+1), make([]r2.Vec, 0, len(poly)+1)
	last := poly[len(poly)-1]
	ls := float64(e.nx*last.X) + float64(e.ny*last.Y) - d
	for _, p := range poly {
		s := float64(e.nx*p.X) + float64(e.ny*p.Y) - d
		if ls < 0 && s > 0 || ls > 0 && s < 0 {
			q := last.Add(p.Sub(last).Scale(ls / (ls - s)))
			in, out = append(in, q), append(out, q)
		}
		if s <= 0 {
			in = append(in, p)
		}
		if s >= 0 {
			out = append(out, p)
		}
		last, ls = p, s
	}
	return in, out
}

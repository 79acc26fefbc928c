package nest

import (
	"math"

	"dryfit/geom/r2"
)

// A clash is where two kinds are in each other: for each pair of their convex parts, the
// convex polygon of the shifts of one past the other at which those parts overlap (the
// Minkowski sum of one with the other mirrored in the origin; the no-fit polygon of
// Art 1966 is the outline of their union), grown by the gap. How deep a shift lies in the
// polygon is how far the parts have to be drawn apart.
type clash struct {
	box   box
	parts []part
	edges []edge
}

type part struct {
	box      box
	from, to int32 // of edges
}

// An edge has the points with n.p < d on its inside.
type edge struct{ nx, ny, d float64 }

type box struct{ x0, y0, x1, y1 float64 }

func (b box) union(c box) box {
	return box{math.Min(b.x0, c.x0), math.Min(b.y0, c.y0), math.Max(b.x1, c.x1), math.Max(b.y1, c.y1)}
}

// noBox is the box of nothing.
func noBox() box { return box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)} }

// clashOf returns the clash of moving parts with fixed ones, by the shift of the moving.
func clashOf(moving, fixed [][]r2.Vec, gap float64) clash {
	c := clash{box: noBox()}
	for _, m := range moving {
		for _, f := range fixed {
			c.add(minkowski(f, m), gap)
		}
	}
	return c
}

// clashes returns the clash of one kind with another and of that with it, of fewer parts.
func clashes(moving, fixed [][]r2.Vec, gap, slight float64) (there, back clash) {
	var all [][]r2.Vec
	for _, m := range moving {
		var row [][]r2.Vec
		for _, f := range fixed {
			row = append(row, minkowski(f, m))
		}
		all = append(all, fewer(row, slight)...)
	}
	there, back = clash{box: noBox()}, clash{box: noBox()}
	for _, p := range fewer(all, slight) {
		there.add(p, gap)
		back.add(negated(p), gap)
	}
	return there, back
}

// negated returns a polygon mirrored in the origin.
func negated(p []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(p))
	for i, v := range p {
		out[i] = v.Neg()
	}
	return out
}

// add takes in a convex counter-clockwise polygon, grown by gap: sides are moved out, and
// a corner that would then stick out farther than a tenth more is cut off square to its
// bisector.
func (c *clash) add(poly []r2.Vec, gap float64) {
	p := part{from: int32(len(c.edges)), box: noBox()}
	var before r2.Vec
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		n := b.Sub(a).Perp().Neg().Unit()
		if gap > 0 {
			if i == 0 {
				before = a.Sub(poly[len(poly)-1]).Perp().Neg().Unit()
			}
			if mid := before.Add(n); mid.Len() < 2/1.1 {
				u := mid.Unit()
				c.edges = append(c.edges, edge{u.X, u.Y, u.Dot(a) + gap})
			}
			before = n
		}
		c.edges = append(c.edges, edge{n.X, n.Y, n.Dot(a) + gap})
		p.box = p.box.union(box{a.X - gap, a.Y - gap, a.X + gap, a.Y + gap})
	}
	p.to = int32(len(c.edges))
	c.parts = append(c.parts, p)
	c.box = c.box.union(p.box)
}

// minkowski returns f + (-m) of convex counter-clockwise polygons: their edges in order of
// direction.
func minkowski(f, m []r2.Vec) []r2.Vec {
	neg := negated(m)
	i0, j0 := lowest(f), lowest(neg)
	at := f[i0].Add(neg[j0])
	out := make([]r2.Vec, 0, len(f)+len(neg))
	for i, j := 0, 0; i < len(f) || j < len(neg); {
		out = append(out, at)
		a := f[(i0+i+1)%len(f)].Sub(f[(i0+i)%len(f)])
		b := neg[(j0+j+1)%len(neg)].Sub(neg[(j0+j)%len(neg)])
		turn := a.Cross(b)
		if i == len(f) {
			turn = -1
		} else if j == len(neg) {
			turn = 1
		}
		switch {
		case turn > 0:
			at = at.Add(a)
			i++
		case turn < 0:
			at = at.Add(b)
			j++
		default:
			at = at.Add(a).Add(b)
			i++
			j++
		}
	}
	return out
}

func lowest(p []r2.Vec) int {
	k := 0
	for i, v := range p {
		if v.Y < p[k].Y || v.Y == p[k].Y && v.X < p[k].X {
			k = i
		}
	}
	return k
}

package outline

import (
	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// SignedArea returns the area of a polygon, positive counter-clockwise.
func SignedArea(poly []r2.Vec) float64 {
	if len(poly) < 3 {
		return 0
	}
	sum, o := 0.0, poly[0]
	for i := 1; i+1 < len(poly); i++ {
		sum += poly[i].Sub(o).Cross(poly[i+1].Sub(o))
	}
	return sum / 2
}

// Moment is the area of a plane figure and how it is spread about its centroid:
// XX is the integral of x^2, YY of y^2, XY of x y, with x and y from the
// centroid (mm^4). About the x axis through it the figure has the second moment
// YY, about the y axis XX, in its plane's pole XX+YY.
type Moment struct {
	Area       float64
	Centroid   r2.Vec
	XX, YY, XY float64
}

// Moments returns area, centroid and second moments of a polygon; all are
// positive whichever way round it runs. Source: the usual sums over triangles
// from one vertex.
func Moments(poly []r2.Vec) Moment {
	if len(poly) < 3 {
		return Moment{}
	}
	var m Moment
	var first r2.Vec
	o := poly[0]
	for i := 1; i+1 < len(poly); i++ {
		a, b := poly[i].Sub(o), poly[i+1].Sub(o)
		t := a.Cross(b)
		m.Area += t / 2
		first = first.Add(a.Add(b).Scale(t / 6))
		m.XX += float64(t * (float64(a.X*a.X) + float64(a.X*b.X) + float64(b.X*b.X)) / 12)
		m.YY += float64(t * (float64(a.Y*a.Y) + float64(a.Y*b.Y) + float64(b.Y*b.Y)) / 12)
		m.XY += float64(t * (float64(2*a.X*a.Y) + float64(a.X*b.Y) + float64(b.X*a.Y) + float64(2*b.X*b.Y)) / 24)
	}
	if m.Area == 0 {
		return Moment{Centroid: o}
	}
	c := first.Scale(1 / m.Area)
	m.Centroid = o.Add(c)
	m.XX -= float64(m.Area * float64(c.X*c.X))
	m.YY -= float64(m.Area * float64(c.Y*c.Y))
	m.XY -= float64(m.Area * float64(c.X*c.Y))
	if m.Area < 0 {
		m.Area, m.XX, m.YY, m.XY = -m.Area, -m.XX, -m.YY, -m.XY
	}
	return m
}

// IsConvex tells whether a counter-clockwise polygon is convex: at no corner
// does it turn right by more than tol.Clip off the line, and it goes round once.
func IsConvex(poly []r2.Vec) bool {
	n := len(poly)
	if n < 3 {
		return false
	}
	turns := 0 // changes between going up and going down
	up := false
	for i := range poly {
		a, b, c := poly[i], poly[(i+1)%n], poly[(i+2)%n]
		d := c.Sub(a)
		if l := d.Len(); b.Sub(a).Cross(d) < -tol.Clip*l || b.Sub(a).Dot(c.Sub(b)) < 0 && orient(a, b, c) == 0 {
			return false
		}
		if now := below(b, a); i > 0 && now != up {
			turns++
		}
		up = below(b, a)
	}
	if below(poly[1], poly[0]) != up {
		turns++
	}
	return turns <= 2
}

// below orders points by y, then x.
func below(a, b r2.Vec) bool { return a.Y < b.Y || a.Y == b.Y && a.X < b.X }

// stripped leaves out the points of a convex polygon that lie within tol.Clip
// of the line between their neighbours; nil if nothing with an area is left.
func stripped(poly []r2.Vec) []r2.Vec {
	pts, _ := tidy(poly, make([]int, len(poly)))
	if len(pts) < 3 {
		return nil
	}
	for i, p := range pts {
		a, b := pts[(i+len(pts)-1)%len(pts)], pts[(i+1)%len(pts)]
		if toSegment(p, a, b) > tol.Clip {
			continue
		}
		return nil // three points in a line
	}
	return pts
}

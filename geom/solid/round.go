package solid

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// Facets returns how many chords stand for a circle of radius r so that none
// is farther from it than chord: the least multiple of 4, and at least 8.
// The sag of a chord is r(1 - cos(pi/n)).
func Facets(r, chord float64) int {
	if r <= chord {
		return 8
	}
	n := int(math.Ceil(math.Pi/trig.Acos(1-chord/r) - tol.Clip))
	return max(8, (n+3)/4*4)
}

// Circle returns n points, a multiple of 4, on the circle, counter-clockwise
// from angle 0. The four quarters are exact copies of each other.
func Circle(c r2.Vec, r float64, n int) []r2.Vec {
	out := make([]r2.Vec, n)
	q := n / 4
	for k := 0; k < q; k++ {
		s, co := trig.Sincos(2 * math.Pi * float64(k) / float64(n))
		p := r2.Vec{X: co, Y: s}.Scale(r)
		for j := 0; j < 4; j++ {
			out[k+j*q] = c.Add(p)
			p = p.Perp()
		}
	}
	return out
}

// Cylinder returns the polygon prism inscribed in the cylinder of radius r
// about the W axis of the frame, from lo to hi, none of its facets more than
// tol.Chord inside. All facets carry tag; tagLo and tagHi are the ends.
func Cylinder(frame r3.Pose, r, lo, hi float64, tag, tagLo, tagHi int32) Convex {
	return Frustum(frame, r, r, lo, hi, tag, tagLo, tagHi)
}

// Frustum is Cylinder with the radius running from r0 > 0 at lo to r1 > 0 at hi.
func Frustum(frame r3.Pose, r0, r1, lo, hi float64, tag, tagLo, tagHi int32) Convex {
	n := Facets(math.Max(r0, r1), tol.Chord)
	tags := make([]int32, n)
	for i := range tags {
		tags[i] = tag
	}
	bottom := Circle(r2.Vec{}, r0, n)
	top := bottom
	if r1 != r0 {
		top = Circle(r2.Vec{}, r1, n)
	}
	return loft(frame, bottom, top, tags, lo, hi, tagLo, tagHi)
}

// Ball returns a polyhedron inscribed in the ball of radius r about c, nowhere
// more than chord inside it.
func Ball(c r3.Vec, r, chord float64, tag int32) Convex {
	n := Facets(r, chord/2) // the sag of a facet is that of its two directions together
	half := Circle(r2.Vec{}, r, n)
	m := n/2 - 1 // rings between the poles
	b := Convex{frame: r3.Shift(c)}
	ring := Circle(r2.Vec{}, 1, n)
	for i := 1; i <= m; i++ {
		// half starts at angle 0 = the south pole here: height -cos, radius sin.
		h, rad := -half[i].X, half[i].Y
		for _, p := range ring {
			b.V = append(b.V, c.Add(r3.Vec{X: float64(rad * p.X), Y: float64(rad * p.Y), Z: h}))
		}
	}
	south, north := int32(len(b.V)), int32(len(b.V)+1)
	b.V = append(b.V, c.Sub(r3.Z.Scale(r)), c.Add(r3.Z.Scale(r)))
	face := func(loop ...int32) {
		b.Faces = append(b.Faces, Face{fit(b.V, loop), loop, tag})
	}
	at := func(i, j int) int32 { return int32((i-1)*n + j%n) }
	for j := 0; j < n; j++ {
		face(south, at(1, j+1), at(1, j))
		for i := 1; i < m; i++ {
			face(at(i, j), at(i, j+1), at(i+1, j+1), at(i+1, j))
		}
		face(at(m, j), at(m, j+1), north)
	}
	b.box = r3.Around(b.V...)
	return b
}

// fit returns the plane of a loop: the sum of its cross products for the
// normal, the mean of its corners for the offset.
func fit(v []r3.Vec, loop []int32) Plane {
	var n, mid r3.Vec
	o := v[loop[0]]
	for i := 1; i+1 < len(loop); i++ {
		n = n.Add(v[loop[i]].Sub(o).Cross(v[loop[i+1]].Sub(o)))
	}
	n = n.Unit()
	for _, i := range loop {
		mid = mid.Add(v[i].Sub(o))
	}
	return Plane{n, n.Dot(o) + n.Dot(mid)/float64(len(loop))}
}

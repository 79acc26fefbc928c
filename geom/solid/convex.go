package solid

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
)

// Plane is the half-space N·p <= D; N has length 1 and points out of it.
type Plane struct {
	N r3.Vec
	D float64
}

// Side returns the signed distance of p from the plane, positive outside.
func (p Plane) Side(v r3.Vec) float64 { return p.N.Dot(v) - p.D }

// Flip returns the other half-space.
func (p Plane) Flip() Plane { return Plane{p.N.Neg(), -p.D} }

// Move returns the plane carried along by the motion.
func (p Plane) Move(m r3.Pose) Plane {
	n := m.Dir(p.N)
	return Plane{n, p.D + n.Dot(m.O)}
}

// PlaneAt returns the plane through point with outward normal n of any length.
func PlaneAt(point, n r3.Vec) Plane {
	n = n.Unit()
	return Plane{n, n.Dot(point)}
}

// Seam is the tag of a face that is no surface: where two pieces of one body
// meet, or where nobody said what surface it is.
const Seam int32 = 0

// Face is one flat side of a convex polyhedron.
type Face struct {
	Plane Plane
	Loop  []int32 // indices of V, counter-clockwise seen from outside
	Tag   int32   // which surface made it; facets of one round surface share it
}

// Convex is a convex polyhedron. It is never changed once made; its vertices
// are shared freely. Every edge of a face is, reversed, an edge of one other.
type Convex struct {
	V     []r3.Vec
	Faces []Face
	box   r3.Box
	frame r3.Pose // the directions in which it is cut clear of a block, see Carve
}

// Bounds returns the smallest axis-aligned box around c.
func (c *Convex) Bounds() r3.Box { return c.box }

// Empty tells whether c has no inside.
func (c *Convex) Empty() bool { return len(c.Faces) == 0 }

// Support returns the index of the vertex farthest along dir, the first of
// equals, and how far it is.
func (c *Convex) Support(dir r3.Vec) (int, float64) {
	best, at := math.Inf(-1), 0
	for i, v := range c.V {
		if d := dir.Dot(v); d > best {
			best, at = d, i
		}
	}
	return at, best
}

// Transform returns c moved by m.
func (c *Convex) Transform(m r3.Pose) Convex {
	return c.moved(m, make([]r3.Vec, len(c.V)), make([]Face, len(c.Faces)))
}

// moved is Transform into memory for as many corners and faces.
func (c *Convex) moved(m r3.Pose, vs []r3.Vec, fs []Face) Convex {
	for i, v := range c.V {
		vs[i] = m.Point(v)
	}
	for i, f := range c.Faces {
		fs[i] = Face{f.Plane.Move(m), f.Loop, f.Tag}
	}
	out := Convex{V: vs, Faces: fs, box: r3.EmptyBox(), frame: c.frame.Then(m)}
	if len(vs) > 0 {
		out.box = around(vs)
	}
	return out
}

// Contains tells whether p lies in c or within slack outside its planes.
func (c *Convex) Contains(p r3.Vec, slack float64) bool {
	for i := range c.Faces {
		if c.Faces[i].Plane.Side(p) > slack {
			return false
		}
	}
	return !c.Empty()
}

// Prism returns the convex, counter-clockwise polygon poly of the frame's UV
// plane, extruded along W from lo to hi > lo. tags names the surface of each
// edge, poly[i] to poly[i+1]; nil, or a missing one, is Seam.
func Prism(frame r3.Pose, poly []r2.Vec, tags []int32, lo, hi float64, tagLo, tagHi int32) Convex {
	return loft(frame, poly, poly, tags, lo, hi, tagLo, tagHi)
}

// loft joins two similar polygons of as many points: the prism and the frustum.
func loft(frame r3.Pose, bottom, top []r2.Vec, tags []int32, lo, hi float64, tagLo, tagHi int32) Convex {
	n := len(bottom)
	c := Convex{V: make([]r3.Vec, 2*n), Faces: make([]Face, 0, n+2), frame: frame}
	loops := make([]int32, 6*n)
	take := func(k int) []int32 {
		l := loops[:k:k]
		loops = loops[k:]
		return l
	}
	for i := range bottom {
		c.V[i] = frame.Point(r3.Vec{X: bottom[i].X, Y: bottom[i].Y, Z: lo})
		c.V[n+i] = frame.Point(r3.Vec{X: top[i].X, Y: top[i].Y, Z: hi})
	}
	slope := 0.0 // how far the sides move out per millimetre along W, times hi-lo
	for i := range bottom {
		j := (i + 1) % n
		e := bottom[j].Sub(bottom[i])
		out := e.Perp().Neg().Unit()
		slope = top[i].Sub(bottom[i]).Dot(out)
		nrm := frame.U.Scale(out.X).Add(frame.V.Scale(out.Y))
		if slope != 0 {
			nrm = nrm.Scale(hi - lo).Sub(frame.W.Scale(slope)).Unit()
		}
		l := take(4)
		l[0], l[1], l[2], l[3] = int32(i), int32(j), int32(n+j), int32(n+i)
		var tag int32
		if i < len(tags) {
			tag = tags[i]
		}
		c.Faces = append(c.Faces, Face{Plane{nrm, nrm.Dot(c.V[i])}, l, tag})
	}
	down, up := take(n), take(n)
	for i := range bottom {
		down[n-1-i], up[i] = int32(i), int32(n+i)
	}
	c.Faces = append(c.Faces,
		Face{Plane{frame.W.Neg(), -frame.W.Dot(c.V[0])}, down, tagLo},
		Face{Plane{frame.W, frame.W.Dot(c.V[n])}, up, tagHi})
	c.box = r3.Around(c.V...)
	return c
}

// Box returns the axis-aligned block from min to max. tags names its sides in
// the order -x, +x, -y, +y, -z, +z.
func Box(min, max r3.Vec, tags [6]int32) Convex {
	poly := []r2.Vec{{X: min.X, Y: min.Y}, {X: max.X, Y: min.Y}, {X: max.X, Y: max.Y}, {X: min.X, Y: max.Y}}
	return Prism(r3.Identity, poly, []int32{tags[2], tags[1], tags[3], tags[0]}, min.Z, max.Z, tags[4], tags[5])
}

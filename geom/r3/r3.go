// Package r3 has points, vectors, boxes and rigid motions of space: float64
// millimetres and radians.
//
// Every product is converted to float64 before it is added to another, which
// forbids the compiler to fuse the two: the same input gives the same bits on
// every processor.
package r3

import (
	"math"

	"dryfit/geom/trig"
)

// Vec is a point or a vector of space.
type Vec struct{ X, Y, Z float64 }

// The unit vectors of the axes.
var (
	X = Vec{1, 0, 0}
	Y = Vec{0, 1, 0}
	Z = Vec{0, 0, 1}
)

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Scale returns v times s.
func (v Vec) Scale(s float64) Vec { return Vec{float64(v.X * s), float64(v.Y * s), float64(v.Z * s)} }

// Neg returns -v.
func (v Vec) Neg() Vec { return Vec{-v.X, -v.Y, -v.Z} }

// Dot returns the scalar product.
func (v Vec) Dot(w Vec) float64 {
	return float64(v.X*w.X) + float64(v.Y*w.Y) + float64(v.Z*w.Z)
}

// Cross returns the vector product.
func (v Vec) Cross(w Vec) Vec {
	return Vec{
		float64(v.Y*w.Z) - float64(v.Z*w.Y),
		float64(v.Z*w.X) - float64(v.X*w.Z),
		float64(v.X*w.Y) - float64(v.Y*w.X),
	}
}

// Len returns the length of v.
func (v Vec) Len() float64 { return math.Sqrt(v.Dot(v)) }

// Unit returns v scaled to length 1; the zero vector stays zero.
func (v Vec) Unit() Vec {
	l := v.Len()
	if l == 0 {
		return v
	}
	return Vec{v.X / l, v.Y / l, v.Z / l}
}

// At returns the coordinate along axis 0, 1 or 2.
func (v Vec) At(axis int) float64 {
	switch axis {
	case 0:
		return v.X
	case 1:
		return v.Y
	}
	return v.Z
}

// With returns v with the coordinate along axis 0, 1 or 2 set to c.
func (v Vec) With(axis int, c float64) Vec {
	switch axis {
	case 0:
		v.X = c
	case 1:
		v.Y = c
	default:
		v.Z = c
	}
	return v
}

// Box is an axis-aligned box.
type Box struct{ Min, Max Vec }

// EmptyBox returns the box that contains nothing.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}}
}

// Around returns the smallest box that holds the points.
func Around(pts ...Vec) Box {
	b := EmptyBox()
	for _, p := range pts {
		b = b.Add(p)
	}
	return b
}

// Add returns the box grown to hold p.
func (b Box) Add(p Vec) Box {
	return Box{
		Vec{min(b.Min.X, p.X), min(b.Min.Y, p.Y), min(b.Min.Z, p.Z)},
		Vec{max(b.Max.X, p.X), max(b.Max.Y, p.Y), max(b.Max.Z, p.Z)},
	}
}

// Union returns the smallest box that holds both.
func (b Box) Union(c Box) Box {
	return Box{
		Vec{min(b.Min.X, c.Min.X), min(b.Min.Y, c.Min.Y), min(b.Min.Z, c.Min.Z)},
		Vec{max(b.Max.X, c.Max.X), max(b.Max.Y, c.Max.Y), max(b.Max.Z, c.Max.Z)},
	}
}

// Grow returns the box with every side moved outward by d.
func (b Box) Grow(d float64) Box {
	g := Vec{d, d, d}
	return Box{b.Min.Sub(g), b.Max.Add(g)}
}

// Meets tells whether the two closed boxes share a point.
func (b Box) Meets(c Box) bool {
	return b.Min.X <= c.Max.X && c.Min.X <= b.Max.X &&
		b.Min.Y <= c.Max.Y && c.Min.Y <= b.Max.Y &&
		b.Min.Z <= c.Max.Z && c.Min.Z <= b.Max.Z
}

// Near tells whether b, grown by slack, and c share a point.
func (b *Box) Near(c *Box, slack float64) bool {
	return b.Min.X-slack <= c.Max.X && c.Min.X <= b.Max.X+slack &&
		b.Min.Y-slack <= c.Max.Y && c.Min.Y <= b.Max.Y+slack &&
		b.Min.Z-slack <= c.Max.Z && c.Min.Z <= b.Max.Z+slack
}

// Distance returns a lower bound of the distance of anything in b to anything in c.
func (b Box) Distance(c Box) float64 {
	gap := func(amin, amax, bmin, bmax float64) float64 {
		return max(0, amin-bmax, bmin-amax)
	}
	return Vec{
		gap(b.Min.X, b.Max.X, c.Min.X, c.Max.X),
		gap(b.Min.Y, b.Max.Y, c.Min.Y, c.Max.Y),
		gap(b.Min.Z, b.Max.Z, c.Min.Z, c.Max.Z),
	}.Len()
}

// Center returns the middle of the box.
func (b Box) Center() Vec { return b.Min.Add(b.Max).Scale(0.5) }

// Size returns the three extents.
func (b Box) Size() Vec { return b.Max.Sub(b.Min) }

// Empty tells whether the box holds no point.
func (b Box) Empty() bool {
	return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y || b.Min.Z > b.Max.Z
}

// Pose is a rigid motion: a point p goes to p.X*U + p.Y*V + p.Z*W + O.
// U, V and W are orthonormal and right-handed. The zero Pose is not a motion;
// use Identity.
type Pose struct{ U, V, W, O Vec }

// Identity is the motion that moves nothing.
var Identity = Pose{X, Y, Z, Vec{}}

// Shift returns the motion that adds d.
func Shift(d Vec) Pose { return Pose{X, Y, Z, d} }

// Turn returns the rotation by angle (radians, right-handed) about the line
// through point along axis. Quarter turns about a coordinate axis are exact.
func Turn(point, axis Vec, angle float64) Pose {
	a := axis.Unit()
	s, c := trig.Turn(angle)
	rot := func(v Vec) Vec { // Rodrigues' formula
		return v.Scale(c).Add(a.Cross(v).Scale(s)).Add(a.Scale(float64(a.Dot(v) * (1 - c))))
	}
	p := Pose{U: rot(X), V: rot(Y), W: rot(Z)}
	p.O = point.Sub(p.Dir(point))
	return p
}

// Dir returns the vector v turned by the motion.
func (p Pose) Dir(v Vec) Vec {
	return p.U.Scale(v.X).Add(p.V.Scale(v.Y)).Add(p.W.Scale(v.Z))
}

// Point returns the point v moved by the motion.
func (p Pose) Point(v Vec) Vec { return p.Dir(v).Add(p.O) }

// Then returns the motion that does p first and q after it.
func (p Pose) Then(q Pose) Pose {
	return Pose{q.Dir(p.U), q.Dir(p.V), q.Dir(p.W), q.Point(p.O)}
}

// Inverse returns the motion that undoes p.
func (p Pose) Inverse() Pose {
	i := Pose{
		U: Vec{p.U.X, p.V.X, p.W.X},
		V: Vec{p.U.Y, p.V.Y, p.W.Y},
		W: Vec{p.U.Z, p.V.Z, p.W.Z},
	}
	i.O = i.Dir(p.O).Neg()
	return i
}

// Near tells whether two motions differ nowhere by more than slack.
func (p Pose) Near(q Pose, slack float64) bool {
	for _, d := range [4]Vec{p.U.Sub(q.U), p.V.Sub(q.V), p.W.Sub(q.W), p.O.Sub(q.O)} {
		if d.Len() > slack {
			return false
		}
	}
	return true
}

// Box returns the smallest axis-aligned box around b moved by p.
func (p Pose) Box(b Box) Box {
	out := EmptyBox()
	for i := 0; i < 8; i++ {
		c := b.Min
		if i&1 != 0 {
			c.X = b.Max.X
		}
		if i&2 != 0 {
			c.Y = b.Max.Y
		}
		if i&4 != 0 {
			c.Z = b.Max.Z
		}
		out = out.Add(p.Point(c))
	}
	return out
}

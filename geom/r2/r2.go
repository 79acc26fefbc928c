// Package r2 has points and vectors of the plane: float64 millimetres.
//
// Every product is converted to float64 before it is added to another, which
// forbids the compiler to fuse the two: the same input gives the same bits on
// every processor.
package r2

import "math"

// Vec is a point or a vector of the plane.
type Vec struct{ X, Y float64 }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y} }

// Scale returns v times s.
func (v Vec) Scale(s float64) Vec { return Vec{float64(v.X * s), float64(v.Y * s)} }

// Neg returns -v.
func (v Vec) Neg() Vec { return Vec{-v.X, -v.Y} }

// Dot returns the scalar product.
func (v Vec) Dot(w Vec) float64 { return float64(v.X*w.X) + float64(v.Y*w.Y) }

// Cross returns the z component of the vector product: positive where w lies
// counter-clockwise of v.
func (v Vec) Cross(w Vec) float64 { return float64(v.X*w.Y) - float64(v.Y*w.X) }

// Len returns the length of v.
func (v Vec) Len() float64 { return math.Sqrt(v.Dot(v)) }

// Unit returns v scaled to length 1; the zero vector stays zero.
func (v Vec) Unit() Vec {
	l := v.Len()
	if l == 0 {
		return v
	}
	return Vec{v.X / l, v.Y / l}
}

// Perp returns v turned a quarter counter-clockwise.
func (v Vec) Perp() Vec { return Vec{-v.Y, v.X} }

// Box is an axis-aligned rectangle.
type Box struct{ Min, Max Vec }

// EmptyBox returns the box that contains nothing.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Vec{inf, inf}, Vec{-inf, -inf}}
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
		Vec{math.Min(b.Min.X, p.X), math.Min(b.Min.Y, p.Y)},
		Vec{math.Max(b.Max.X, p.X), math.Max(b.Max.Y, p.Y)},
	}
}

// Union returns the smallest box that holds both.
func (b Box) Union(c Box) Box { return b.Add(c.Min).Add(c.Max) }

// Size returns the width and height.
func (b Box) Size() Vec { return b.Max.Sub(b.Min) }

// Empty tells whether the box holds no point.
func (b Box) Empty() bool { return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y }

// Hits tells whether a straight line from p to q has a point in the box: the stretch of it
// between the box's sides (Liang and Barsky, from memory) is not empty.
func (b Box) Hits(p, q Vec) bool {
	d := q.Sub(p)
	lo, hi := 0.0, 1.0
	for _, c := range [4][2]float64{
		{-d.X, p.X - b.Min.X}, {d.X, b.Max.X - p.X},
		{-d.Y, p.Y - b.Min.Y}, {d.Y, b.Max.Y - p.Y},
	} {
		switch {
		case c[0] == 0 && c[1] < 0:
			return false
		case c[0] < 0:
			lo = math.Max(lo, c[1]/c[0])
		case c[0] > 0:
			hi = math.Min(hi, c[1]/c[0])
		}
	}
	return lo <= hi
}

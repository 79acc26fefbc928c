package assembly

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/toy"
)

// dirVec returns the unit vector of a world direction (ISO 8855: x forward, y
// left, z up).
func dirVec(d toy.Dir) r3.Vec {
	axis, positive := d.Axis()
	v := r3.Vec{}.With(axis, 1)
	if !positive {
		v = v.Neg()
	}
	return v
}

// sideNormal returns the outward normal of a side in the blank's own axes.
func sideNormal(s toy.Side) r3.Vec {
	switch s {
	case toy.Top:
		return r3.Z
	case toy.Bottom:
		return r3.Z.Neg()
	case toy.Left:
		return r3.Y
	case toy.Right:
		return r3.Y.Neg()
	case toy.Front:
		return r3.X
	}
	return r3.X.Neg()
}

// SideFrame returns the frame of a side of a blank of the given extents (mm, the
// blank fills 0..size): O is the lower left corner as seen from outside with the
// blank lying on its bottom (for the bottom: with the length still to the right),
// U runs to the right, V up, W out of the wood. It is contract "Views" of
// docs/contracts.md.
func SideFrame(s toy.Side, size r3.Vec) r3.Pose {
	switch s {
	case toy.Top:
		return r3.Pose{U: r3.X, V: r3.Y, W: r3.Z, O: r3.Vec{Z: size.Z}}
	case toy.Bottom:
		return r3.Pose{U: r3.X, V: r3.Y.Neg(), W: r3.Z.Neg(), O: r3.Vec{Y: size.Y}}
	case toy.Right:
		return r3.Pose{U: r3.X, V: r3.Z, W: r3.Y.Neg()}
	case toy.Left:
		return r3.Pose{U: r3.X.Neg(), V: r3.Z, W: r3.Y, O: r3.Vec{X: size.X, Y: size.Y}}
	case toy.Front:
		return r3.Pose{U: r3.Y, V: r3.Z, W: r3.X, O: r3.Vec{X: size.X}}
	}
	return r3.Pose{U: r3.Y.Neg(), V: r3.Z, W: r3.X.Neg(), O: r3.Vec{Y: size.Y}}
}

// SideShape returns the width and the height of a side of a blank, as seen from outside,
// and whether the side is round.
func SideShape(s toy.Side, shape toy.Shape, size r3.Vec) (r2.Vec, bool) {
	f := SideFrame(s, size)
	round := shape == toy.Sphere || shape == toy.Disc && f.W.Z != 0 || shape == toy.Rod && f.W.X != 0
	return r2.Vec{X: math.Abs(f.U.Dot(size)), Y: math.Abs(f.V.Dot(size))}, round
}

// Attitude returns the turn that lays a blank: its x axis points along l.Length
// and the normal of l.Side along l.Faces, then the lean.
func Attitude(l toy.Lies) r3.Pose {
	a, b := r3.X, sideNormal(l.Side) // in the blank
	x, y := dirVec(l.Length), dirVec(l.Faces)
	c, z := a.Cross(b), x.Cross(y)
	// The turn takes a to x, b to y, c to z: column by column.
	col := func(e r3.Vec) r3.Vec {
		return x.Scale(a.Dot(e)).Add(y.Scale(b.Dot(e))).Add(z.Scale(c.Dot(e)))
	}
	p := r3.Pose{U: col(r3.X), V: col(r3.Y), W: col(r3.Z)}
	if l.Lean != 0 {
		p = p.Then(r3.Turn(r3.Vec{}, dirVec(l.LeanDir), float64(l.Lean)))
	}
	return p
}

// along returns the turn that takes the local axis e to the direction d and
// keeps the rest as little turned as possible.
func along(e, d r3.Vec) r3.Pose {
	axis := e.Cross(d)
	if axis.Len() < 1e-12 { // parallel: nothing to turn, or end for end
		if e.Dot(d) > 0 {
			return r3.Identity
		}
		side := r3.Z
		if e.Cross(side).Len() < 0.5 {
			side = r3.X
		}
		return r3.Pose{U: r3.X, V: r3.Y, W: r3.Z}.Then(halfTurn(side))
	}
	x, y := e, axis.Unit()
	z := x.Cross(y)
	x2 := d
	z2 := x2.Cross(y)
	col := func(v r3.Vec) r3.Vec {
		return x2.Scale(x.Dot(v)).Add(y.Scale(y.Dot(v))).Add(z2.Scale(z.Dot(v)))
	}
	return r3.Pose{U: col(r3.X), V: col(r3.Y), W: col(r3.Z)}
}

func halfTurn(axis r3.Vec) r3.Pose {
	f := func(v r3.Vec) r3.Vec { return axis.Scale(2 * axis.Dot(v)).Sub(v) }
	return r3.Pose{U: f(r3.X), V: f(r3.Y), W: f(r3.Z)}
}

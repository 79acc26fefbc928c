package picture

import (
	"dryfit/geom/r3"
)

// View is where a drawing looks from.
type View uint8

// The views: isometrics from the corners of a cube, and three sides.
const (
	FrontRight View = iota // isometric, from above: the usual one
	FrontLeft
	BackRight
	BackLeft
	FrontRightBelow
	FrontLeftBelow
	BackRightBelow
	BackLeftBelow
	FromFront
	FromSide // the right side
	FromTop
)

// corners are the isometric views, in the order in which they are preferred.
var corners = []View{FrontRight, FrontLeft, BackRight, BackLeft, FrontRightBelow, FrontLeftBelow, BackRightBelow, BackLeftBelow}

// Says tells in words where a view looks from.
func (v View) Says() string { return viewWords[v] }

func (v View) sight() sight {
	switch v {
	case FromFront:
		return fromFront
	case FromSide:
		return fromRight
	case FromTop:
		return fromAbove
	case FrontRight:
		return isometric
	}
	t := r3.Vec{X: 1, Y: -1, Z: 1}
	if v == BackRight || v == BackLeft || v == BackRightBelow || v == BackLeftBelow {
		t.X = -1
	}
	if v == FrontLeft || v == BackLeft || v == FrontLeftBelow || v == BackLeftBelow {
		t.Y = 1
	}
	if v >= FrontRightBelow {
		t.Z = -1
	}
	right := r3.Z.Cross(t)
	return sight{toward: t.Unit(), right: right.Unit(), up: t.Cross(right).Unit()}
}

package solid_test

import (
	"fmt"
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// A block with a hole, a peg in it, and how far a bar on the peg can swing
// before it meets a stop. The gap is that of the facets, within tol.Chord of 0.1.
func Example() {
	sides := [6]int32{1, 2, 3, 4, 5, 6}
	block := solid.NewBody([]solid.Convex{solid.Box(r3.Vec{}, r3.Vec{X: 60, Y: 40, Z: 20}, sides)})
	at := r3.Shift(r3.Vec{X: 20, Y: 20})
	block = block.Carve(solid.Cylinder(at, 4, -1, 21, 10, 11, 12))
	peg := solid.NewBody([]solid.Convex{solid.Cylinder(at, 3.9, 0, 40, 20, 21, 22)})
	g := solid.Distance(block, peg, math.Inf(1))
	fmt.Printf("gap %.2f, shared %.0f\n", g.D, solid.Overlap(block, peg).Volume)

	bar := solid.NewBody([]solid.Convex{solid.Box(r3.Vec{X: 20, Y: 15, Z: 20}, r3.Vec{X: 70, Y: 25, Z: 25}, sides)})
	stop := solid.NewBody([]solid.Convex{solid.Box(r3.Vec{X: 0, Y: 50, Z: 20}, r3.Vec{X: 80, Y: 60, Z: 30}, sides)})
	c := solid.FirstContact(stop, bar, solid.Axis{At: at.O, Dir: r3.Z}, math.Pi, tol.Touch)
	fmt.Printf("swings %.1f degrees\n", c.Travel*180/math.Pi)
	// Output:
	// gap 0.09, shared 0
	// swings 31.0 degrees
}

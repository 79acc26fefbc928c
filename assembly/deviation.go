package assembly

import (
	"dryfit/geom/r2"
	"dryfit/geom/r3"
)

// Deviations are the small errors of one build, keyed by piece and operation:
// what a builder's saw, drill and stock make of the drawing. Nil means as drawn.
// Virtual builds and as-built measures both come in here.
type Deviations map[DeviationKey]Deviation

// DeviationKey names an operation on a piece. Op is "blank" for the size of the
// blank, "work.N" for an operation (from 1), "work.N.M" for one hole of it, "sits" for
// where the piece came to lie when it was put, and "play" for what was left between
// the wheels of an axle and the body, which D.X adds to.
type DeviationKey struct{ Piece, Op string }

// Deviation is one error. For a blank D adds to its length, width and thickness
// and Dia to its bore; for a saw cut D.X and D.Y shift the line on its side, Grow
// is how far outside the line the saw ran all round, and D.Z adds to the depth of
// one that does not go through; for a hole D.X and D.Y shift its centre, D.Z adds
// to its depth and Dia to its diameter; for "sits" D shifts the piece in world
// directions. Lean tips the blade or the drill, which stays where it is on the
// side, about the directions that are seen there to the right and up.
type Deviation struct {
	D         r3.Vec  // mm
	Dia, Grow float64 // mm
	Lean      r2.Vec  // radians
}

// leant tips a frame of a cut about its own U and V.
func (d Deviation) leant(f r3.Pose) r3.Pose {
	if d.Lean == (r2.Vec{}) {
		return f
	}
	return f.Then(r3.Turn(f.O, f.U, d.Lean.X)).Then(r3.Turn(f.O, f.V, d.Lean.Y))
}

func (d Deviations) of(piece, op string) Deviation {
	if d == nil {
		return Deviation{}
	}
	return d[DeviationKey{piece, op}]
}

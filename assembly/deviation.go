package assembly

import "dryfit/geom/r3"

// Deviations are the small errors of one build, keyed by piece and operation:
// what a builder's saw, drill and stock make of the drawing. Nil means as drawn.
// Virtual builds and as-built measures both come in here.
type Deviations map[DeviationKey]Deviation

// DeviationKey names an operation on a piece. Op is "blank" for the size of the
// blank, "work.N" for an operation (from 1), "work.N.M" for one hole of it, and
// "sits" for where the piece came to lie when it was put.
type DeviationKey struct{ Piece, Op string }

// Deviation is one error in mm. For a blank D adds to its length, width and
// thickness; for a saw cut D.X and D.Y shift the line on its side; for a hole
// they shift its centre, D.Z its depth and Dia its diameter; for "sits" D shifts
// the piece in world directions.
type Deviation struct {
	D   r3.Vec
	Dia float64
}

func (d Deviations) of(piece, op string) Deviation {
	if d == nil {
		return Deviation{}
	}
	return d[DeviationKey{piece, op}]
}

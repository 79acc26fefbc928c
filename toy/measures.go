package toy

import (
	"dryfit/measure"
	"dryfit/measure/source"
)

// Measures are what the finished pieces of one build measured.
type Measures struct {
	File   *source.File
	Toy    string // the name of the toy that was built
	Units  measure.Unit
	Pieces []MeasuredPiece
}

// MeasuredPiece is what one piece measured; nil was not measured.
type MeasuredPiece struct {
	ID                              string
	Length, Width, Thick, Dia, Bore *measure.Length
	Holes                           []MeasuredHole
	At                              source.Range
}

// MeasuredHole is what one hole of a piece measured.
type MeasuredHole struct {
	Name       string // as the toy file calls it, or work.2.1
	Dia, Depth *measure.Length
	X, Y       *measure.Length // of its middle, on the side that it is drilled from
	At         source.Range
}

// Builder is whose hands a shop has.
type Builder struct {
	Skill   string // "" where nothing is said
	Spreads []Spread
	At      source.Range
}

// Spread is what a builder was found to be off by in one operation.
type Spread struct {
	Of       string
	By       float64 // mm or radians
	Angle    bool
	Measured int // how many measures it rests on
	At       source.Range
}

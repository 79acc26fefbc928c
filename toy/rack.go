package toy

import (
	"dryfit/measure"
	"dryfit/measure/source"
)

// Rack is what a builder has and buys: wood, clamps and hands. It stands in a shop's own
// file only.
type Rack struct {
	Boards []Plank
	Dowels []Stick
	Sold   Sold
	Money  string // the name of what prices are in, "" if not said

	Kerf     measure.Length  // between pieces laid on a board; 0: not said
	Handling *measure.Length // around each of them beyond the kerf; nil: not said
	Planing  *measure.Length // that a rough board loses to the planer; nil: not said

	Clamps int // -1: not said
	Tools  []string
	Hands  []Hand
	// Durations are those that differ from the table of facts, by its names.
	Durations []Duration
	From      string // the file
}

// Duration is how long something takes in this shop.
type Duration struct {
	Name    string
	Minutes float64
}

// Sold is what can be bought, any number of each.
type Sold struct {
	Boards []Plank
	Dowels []Stick
}

// Plank is a board or sheet, or some that are alike. Its outline is drawn as it lies on
// the bench, face up, and its grain runs along x unless Across.
type Plank struct {
	Name    string
	Wood    string
	Form    Form // Board or Sheet
	Thick   measure.Length
	Outline []Point // corners in order
	Flaws   []Flaw
	Across  bool // the grain runs along y
	Rough   bool // has still to be planed
	Count   int
	Price   float64 // of one; 0: not said
	At      source.Range
	WoodAt  source.Range
}

// Flaw is a place to keep clear of, a rectangle or a round.
type Flaw struct {
	At   Point // lower left corner, or the middle of a round
	Size Point // zero for a round
	Dia  measure.Length
	Why  string
}

// Stick is a dowel of some length, or some that are alike.
type Stick struct {
	Name   string
	Wood   string
	Dia    measure.Length
	Length measure.Length
	Count  int
	Price  float64
	At     source.Range
	WoodAt source.Range
}

// Hand is someone who helps.
type Hand struct {
	Name  string
	Years int // of age; 0: an adult
}

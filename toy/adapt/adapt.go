// Package adapt makes a toy file into one for other stock, dowels and wheels, another size, or other
// units: by edits of its text, so that remarks, layout, names and formulas stay. It knows nothing of
// space; whether the toy holds afterwards is for the proof to say.
//
// [Read] finds every length that a file says and what it is for ([Role]); [Sheet.Make] gives each
// its new value, brought to what is sold, what a bit makes or what a rule shows (snap.go), and writes
// them. What it cannot follow it says ([Look]) and leaves alone.
package adapt

import (
	"dryfit/facts"
	"dryfit/measure"
	"dryfit/measure/source"
)

// Spec is what a toy is adapted to, as it is asked for. The zero Spec asks for nothing.
type Spec struct {
	Stock  []string // NAME=THICKNESS, NAME=WOOD or NAME=THICKNESS WOOD
	Dowels []string // DIAMETER of all dowels, or NAME=DIAMETER
	Wheels []string // DIAMETER of all wheels on axles, or NAME=DIAMETER
	Units  string   // mm or inch; "": those of the file
	Scale  float64  // 0 or 1: none
}

// Role is what a length of a file is for, which decides what becomes of it.
type Role string

// The roles. What is Shape is multiplied and brought to the marks of a rule.
const (
	Shape     Role = "shape"
	Stock     Role = "stock"     // thickness or diameter of what is bought: to what is sold
	Wheel     Role = "wheel"     // diameter of a wheel that is bought
	Fit       Role = "fit"       // a hole said without the rod that goes in it: it follows the rod
	Hole      Role = "hole"      // any other hole: to a bit
	Clearance Role = "clearance" // room between two things: a fit does not grow with the toy
	Ease      Role = "ease"      // what a hand rubs off
	Floor     Role = "floor"     // what a toy has to clear
	Cord      Role = "cord"      // never made longer than is safe
	Tool      Role = "tool"      // of the shop, or the longest piece sold: the toy has no say in it
	Data      Role = "path"      // path data, all its numbers
)

// Change is a length that another one takes the place of, or a word.
type Change struct {
	Path    string  `json:"path"`
	Line    int     `json:"line"` // of the file as it was
	Role    Role    `json:"role"`
	Was     string  `json:"was"`
	Now     string  `json:"now"`
	Formula string  `json:"formula"` // what the length stands in now
	WasMM   float64 `json:"was_mm"`
	ExactMM float64 `json:"exact_mm"` // before it was brought to what there is
	NowMM   float64 `json:"now_mm"`
	Why     string  `json:"why"` // why it is not what it comes to exactly, or what else is to be known
}

// Share is by how much a length changed, as a share of what it was.
func (c Change) Share() float64 {
	if c.WasMM == 0 {
		return 0
	}
	return c.NowMM/c.WasMM - 1
}

// Look is a place that is left to the maker to look at, or that stays as it is for a reason.
type Look struct {
	Path  string `json:"path"`
	Lines []int  `json:"lines"`
	Text  string `json:"text"`
	Why   string `json:"why"`
}

// Options are what Make has to be told of the toy in space and in its shop, and what it is to do
// otherwise where the plain way does not hold.
type Options struct {
	Clear  map[Spot]string // the lengths that are clearances, and how that was seen
	Thick  map[Spot]Alike  // lengths that stand for the thickness of a stock (of Alike)
	Exact  map[string]bool // the owners (Owner) whose lengths are not brought to the marks of a rule
	Planed bool            // boards that are not asked for are planed to what they come to, and not as sold
	Bits   []facts.System  // the bits there are; none: those of the units
}

// Adapted is a text with what was changed in it.
type Adapted struct {
	Text    string
	Units   [2]measure.Unit // before and after
	Changes []Change
	Kept    []Look // what does not go with the scale, and why
	Looks   []Look // what could not be followed
	// Alike are the lengths that are as large as a stock was thick which is another now, and the
	// stock.
	Alike []Alike
}

// Alike is a length that is as large as a stock was thick, twice as large, or half.
type Alike struct {
	Spot
	Stock string
	Times float64
}

// said is what the length is, as a formula says it.
func (a Alike) said() string {
	switch a.Times {
	case 2:
		return "2 * " + a.Stock + ".thick"
	case 0.5:
		return a.Stock + ".thick / 2"
	}
	return a.Stock + ".thick"
}

// Spot is a length of a file: the byte of the text of the value at Path where it begins.
type Spot struct {
	Path string
	At   int
}

// problem is one about an option, as the reader of the file words them.
func problem(option, text, code, says string) source.Problem {
	f := source.New(option, text)
	return f.Problem(code, f.Whole(), says)
}

package prove

import (
	"cmp"
	"math"
	"slices"

	"dryfit/facts"
	"dryfit/geom/r3"
)

// Verdict is the outcome of one check.
type Verdict int

// The verdicts, from good to bad. Waived stands apart: it fails or is minded,
// and the file says why that is all right.
const (
	Holds Verdict = iota
	Waived
	Mind       // advice: printed and counted, never a failure
	CannotTell // not computed, or not computable: never silence
	Fails
)

func (v Verdict) String() string {
	return [...]string{"holds", "waived", "mind", "cannot tell", "fails"}[v]
}

// MarshalText writes the verdict as its word.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// Place is where on the toy a finding is, and where in the file that was said.
type Place struct {
	Piece   string
	Feature string
	At      r3.Vec // mm, world
	Line    int    // in the file; 0 unknown
	Col     int
}

// Finding is the outcome of one check for one thing.
type Finding struct {
	ID      string // check:about
	Check   string
	About   string
	Verdict Verdict
	Value   float64
	Unit    string // mm, mm2, degree, kg, or "" for a share
	Limit   float64
	LimitOp string  // how the value has to stand to the limit: ">=" or "<="
	Source  string  // of the limit
	Margin  float64 // signed: at least 0 holds; continuous in the sizes where possible
	// Parts are margins of which Margin is the least, each of them smoother than that: of the
	// two ends of a fit, of the wheels of an axle. Nil: Margin is its only part.
	Parts  []float64
	Any    bool // Margin is the greatest of Parts instead: one of them is enough
	Says   string
	Notes  []string
	Places []Place
	// Mend lists single sizes that can mend it: nil where that was not looked for, empty
	// where there is none.
	Mend []Mend

	known bool // the check has set Margin itself; else it is Value against Limit
}

// Mend is a size at another value, at which the finding holds and all that held still
// does. From and To are as a toy file writes them.
type Mend struct {
	Size string `json:"size"`
	From string `json:"from"`
	To   string `json:"to"`
}

// NotAsked names a check that was not made, and why.
type NotAsked struct {
	Check string `json:"check"`
	Why   string `json:"why"`
}

// Report is the whole proof.
type Report struct {
	Toy      string
	Verdict  Verdict
	Pieces   int
	MassKg   float64
	Findings []Finding
	Without  []string // groups that may be left out: it was proved with and without each
	NotAsked []NotAsked
	Year     facts.Year
	YearFrom string   // who says that year, "" where the usual one is taken
	ShopFrom []string // who says which tools there are; none: usual ones are taken
	// MustUntold tells that something the toy must do could not be told.
	MustUntold bool
}

// Failing are the findings that fail, the worst first: the one that is the farthest beyond
// its limit, as a share of it, so that lengths, angles and loads compare. A limit of none
// counts as a millimetre, a degree or a whole.
func (r *Report) Failing() (out []Finding) {
	for _, f := range r.Findings {
		if f.Verdict == Fails {
			out = append(out, f)
		}
	}
	short := func(f Finding) float64 {
		if math.IsNaN(f.Margin) {
			return 0
		}
		by := math.Abs(f.Limit)
		if by == 0 || math.IsNaN(by) || math.IsInf(by, 0) {
			by = 1
		}
		return f.Margin / by
	}
	slices.SortStableFunc(out, func(a, b Finding) int { return cmp.Compare(short(a), short(b)) })
	return out
}

// Passes tells whether nothing fails and no must is left untold.
func (r *Report) Passes() bool { return r.Verdict != Fails && !r.MustUntold }

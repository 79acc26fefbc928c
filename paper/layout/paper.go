package layout

import (
	"fmt"
	"math"

	"dryfit/facts"
	"dryfit/geom/r2"
)

// Paper is a size of paper, upright, and how a printer treats it.
type Paper struct {
	Name   string
	W, H   float64 // mm; of a roll, H is not used: as long as it must be
	Margin Margin  // nothing is printed there
	Roll   bool
	// Measured is what a bar of 100 mm came out as, across and up, in mm; 0 is
	// true. All that is drawn is made longer or shorter to make up for it.
	Measured r2.Vec
}

// Margin is what a printer cannot print on, at each side, mm.
type Margin struct{ Left, Right, Top, Bottom float64 }

// Even returns the same margin all round.
func Even(mm float64) Margin { return Margin{mm, mm, mm, mm} }

// UsualMargin is what nearly all printers leave free, mm: common practice, no source.
const UsualMargin = 7.0

// A4 and Letter are what most printers hold.
var (
	A4     = Sheet("A4")
	Letter = Sheet("Letter")
)

// Papers lists the papers that patterns are made for, beside rolls.
func Papers() []Paper {
	return []Paper{A4, Sheet("A3"), Letter, Sheet("Legal"), Sheet("Tabloid")}
}

// Sheet returns a paper of the table of papers with the usual margin. It panics
// on a name that is not in the table.
func Sheet(name string) Paper {
	p, ok := facts.PaperNamed(name)
	if !ok {
		panic("layout: no paper " + name)
	}
	return Paper{Name: p.Name, W: p.Width, H: p.Height, Margin: Even(UsualMargin)}
}

// Roll returns paper off a roll of the given width in mm.
func Roll(width float64) Paper {
	return Paper{Name: "roll", W: width, Roll: true, Margin: Even(UsualMargin)}
}

// longest is the length of the longest page off a roll, mm: a page of a PDF is at
// most 14400 units of 1/72 in by ISO 32000-1 annex C, which is 5080 mm.
const longest = 5000

// A printer that is farther off than this is not out of true but set to scale.
const leastMeasured, mostMeasured = 90, 110

// Stretch returns how much longer a drawing must be, across and up, to come out
// true: 100 over what was measured.
func (p Paper) Stretch() r2.Vec {
	one := func(measured float64) float64 {
		if measured == 0 {
			return 1
		}
		return 100 / measured
	}
	return r2.Vec{X: one(p.Measured.X), Y: one(p.Measured.Y)}
}

func (p Paper) check() error {
	for _, m := range []float64{p.Measured.X, p.Measured.Y} {
		if m != 0 && !(m >= leastMeasured && m <= mostMeasured) {
			return fmt.Errorf("a bar of 100 mm that measures %g mm: expected from %d to %d; is the printer set to 100 %%?", m, leastMeasured, mostMeasured)
		}
	}
	m := p.Margin
	if !(m.Left >= 0 && m.Right >= 0 && m.Top >= 0 && m.Bottom >= 0) || math.IsInf(p.W+p.H, 0) {
		return fmt.Errorf("paper %s: margins of %g, %g, %g and %g mm", p.Name, m.Left, m.Right, m.Top, m.Bottom)
	}
	return nil
}

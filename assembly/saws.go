package assembly

import (
	"math"
	"slices"

	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

// Which saw and which blade a line is sawn with: one answer for the proof, the lists and the plan.

// The saws that follow a line.
const (
	BandSaw   = "band saw"
	ScrollSaw = "scroll saw"
)

// The thickest wood that saws take where the file does not say, mm: small band saws and hobby
// scroll saws. Common practice, no source.
const (
	BandThickest   = 6 * facts.MMPerInch
	ScrollThickest = 2 * facts.MMPerInch
)

const (
	// widestBlade is the widest band-saw blade that is put on for a curve: that of a small saw.
	widestBlade = facts.MMPerInch / 2
	// narrowestBlade is the narrowest.
	narrowestBlade = facts.MMPerInch / 8
	// sandedRound is the largest radius of an outside corner that is sanded round instead of
	// sawn: less is not worth a narrow blade.
	sandedRound = facts.MMPerInch / 4
	sawnCurve   = math.Pi / 4 // an arc that turns less is followed by any blade
)

// SawMachine is a saw that is there.
type SawMachine struct {
	Name     string       // BandSaw, ScrollSaw
	Is       *toy.Machine // nil: a usual one
	Thickest float64
	Said     bool // the file says how thick
}

// SawsOf returns the band saw and the scroll saw of a shop, which may be nil. When the file names
// one of them only, the other is not there.
func SawsOf(sh *toy.Shop) (band, scroll *SawMachine) {
	saw := func(name string, m *toy.Machine, usual float64) *SawMachine {
		s := &SawMachine{name, m, usual, false}
		if m != nil && m.Thickest > 0 {
			s.Thickest, s.Said = m.Thickest.MM(), true
		}
		return s
	}
	if sh == nil || sh.BandSaw == nil && sh.ScrollSaw == nil {
		return saw(BandSaw, nil, BandThickest), saw(ScrollSaw, nil, ScrollThickest)
	}
	if sh.BandSaw != nil {
		band = saw(BandSaw, sh.BandSaw, BandThickest)
	}
	if sh.ScrollSaw != nil {
		scroll = saw(ScrollSaw, sh.ScrollSaw, ScrollThickest)
	}
	return band, scroll
}

// Takes tells whether there is such a saw, and it takes wood of that thickness.
func (s *SawMachine) Takes(thick float64) bool { return s != nil && thick <= s.Thickest+tol.Page }

// Blade is the width of the blade that the file names; 0: it names none.
func (s *SawMachine) Blade() float64 {
	if s.Is == nil {
		return 0
	}
	return s.Is.Blade.MM()
}

// Turns returns the least inside radius that a saw leaves in wood of that thickness.
func (s *SawMachine) Turns(thick float64) float64 {
	least := 0.0
	if s.Is != nil {
		least = s.Is.Kerf.MM() / 2
	}
	w, band := s.Blade(), s.Name == BandSaw
	switch {
	case band && w > 0:
		return math.Max(least, facts.BandTurns(w))
	case band:
		return math.Max(least, facts.BandTurns(narrowestBlade))
	case w > 0:
		return math.Max(least, w/2)
	}
	return math.Max(least, facts.ScrollBlade(thick).LeastRadius)
}

// Sawing is how a line is sawn.
type Sawing struct {
	Saw             *SawMachine // nil: none of the shop's can, it is done by hand
	Blade           facts.Blade // for its curves, the widest that turns them; no name: the one that the file says
	Inside, Outside float64     // the tightest curves, mm, inside as cut.possible judges them; Inf: none
}

// Straight tells whether a line has no curve.
func (s Sawing) Straight() bool { return math.IsInf(math.Min(s.Inside, s.Outside), 1) }

// SawnWith tells how a line is sawn in a shop, which may be nil. A band saw is taken where it gets
// round the inside curves: it is the faster one.
func SawnWith(s Sawn, sh *toy.Shop) Sawing {
	band, scroll := SawsOf(sh)
	how := Sawing{Outside: outsideCurve(s)}
	how.Inside, _, _ = s.Line.InsideCurves(s.Outside)
	switch {
	case !s.Pierced && band.Takes(s.Depth) && how.Inside >= band.Turns(s.Depth)-tol.Page:
		how.Saw = band
	case scroll.Takes(s.Depth):
		how.Saw = scroll
	case !s.Pierced && band.Takes(s.Depth): // corners are sawn from both sides, or drilled first
		how.Saw = band
	}
	switch {
	case how.Saw == nil:
	case how.Saw.Blade() > 0:
		how.Blade.Width = how.Saw.Blade()
	case how.Saw == scroll:
		how.Blade = facts.ScrollBlade(s.Depth)
	default:
		turns := math.Max(math.Min(how.Inside, how.Outside), facts.BandTurns(narrowestBlade))
		how.Blade, _ = facts.WidestBlade(math.Min(turns, facts.BandTurns(widestBlade)) + tol.Touch)
	}
	return how
}

// outsideCurve is the tightest curve of the wood's outside that is sawn round, mm; Inf: none.
func outsideCurve(s Sawn) float64 {
	way := 1.0
	if s.Line.Area() < 0 {
		way = -1
	}
	if s.Outside {
		way = -way
	}
	least := math.Inf(1)
	for _, g := range s.Line.Segs {
		if g.Round() && g.Sweep*way >= sawnCurve && g.R > sandedRound+tol.Page {
			least = min(least, g.R)
		}
	}
	return least
}

// BitsOf returns the systems of bits that a shop has, which may be nil, that of the toy's own
// units first.
func BitsOf(sh *toy.Shop, u measure.Unit) (out []facts.System) {
	all := []facts.System{facts.Metric, facts.Inch}
	if u != measure.MM {
		slices.Reverse(all)
	}
	if sh == nil || len(sh.Bits) == 0 {
		return all
	}
	word := map[facts.System]string{facts.Metric: "metric", facts.Inch: "inch"}
	for _, s := range all {
		if slices.Contains(sh.Bits, word[s]) {
			out = append(out, s)
		}
	}
	return out
}

// Bit is what there is to drill a hole with.
type Bit struct {
	facts.Drill // no name: no bit makes it
	// Below and Above are then the nearest that there are; one without a name is not there.
	Below, Above facts.Drill
}

// BitFor finds the bit for a hole of mm diameter among those of a shop, which may be nil, of the
// toy's own units first: one answer for the proof, the lists, the plan and what is printed.
func BitFor(mm float64, sh *toy.Shop, u measure.Unit) (b Bit) {
	for _, system := range BitsOf(sh, u) {
		n := facts.NameDrill(mm, system)
		if n.Exists {
			return Bit{Drill: n.Drill}
		}
		if n.Below.MM > b.Below.MM {
			b.Below = n.Below
		}
		if n.Above.Name != "" && (b.Above.Name == "" || n.Above.MM < b.Above.MM) {
			b.Above = n.Above
		}
	}
	return b
}

// Near names the nearest bits: "6 mm and 6.5 mm".
func (b Bit) Near() string {
	switch {
	case b.Below.Name == "":
		return b.Above.Name
	case b.Above.Name == "":
		return b.Below.Name
	}
	return b.Below.Name + " and " + b.Above.Name
}

// BoredWith returns the bit of the shop's that makes a round opening whole; false for what is sawn.
func BoredWith(s Sawn, sh *toy.Shop, u measure.Unit) (facts.Drill, bool) {
	if !s.Pierced || len(s.Line.Segs) != 1 || !s.Line.Segs[0].Round() {
		return facts.Drill{}, false
	}
	b := BitFor(s.Line.Bounds().Size().X, sh, u)
	return b.Drill, b.Name != ""
}

// BoredCut is BoredWith for an opening of a toy as its file has it.
func BoredCut(c toy.Cut, t *toy.Toy) (facts.Drill, bool) {
	if c.Word != "cut-out" || c.Depth > 0 {
		return facts.Drill{}, false
	}
	line, err := Line(c.Outline)
	if err != nil {
		return facts.Drill{}, false // Derive has refused it
	}
	return BoredWith(Sawn{Pierced: true, Line: line}, t.Shop, t.Units)
}

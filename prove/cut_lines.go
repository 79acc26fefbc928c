package prove

import (
	"math"

	"dryfit/assembly"
	"dryfit/geom/tol"
	"dryfit/measure/source"
	"dryfit/toy"
)

// SawLine is a line that is sawn right through, and the saw for it among those of the shop,
// or usual ones: the same that cut.possible judges it by.
type SawLine struct {
	On      string // the part or glue-up
	GlueUp  bool
	Work    int    // index into its work; -1: the outline of a sawn disc
	Saw     string // "band saw", "scroll saw"; "" if none of the shop's can: by hand
	Length  float64
	Thick   float64      // of the wood that it goes through, mm
	Pierced bool         // the blade goes in through a hole
	At      source.Range // of the work in the file
}

// SawLines lists what is sawn, as the parts come on the bench and in the order of their work.
// A band saw is taken where it gets round the curves: it is the faster one.
func SawLines(m *assembly.Model) (out []SawLine) {
	c := &cutting{run: &run{m: m}}
	band, scroll := c.theSaws()
	for _, b := range c.benches() {
		if b.again {
			continue
		}
		if p := b.part; p != nil && p.Shape == toy.Disc && (p.Made == "sawn" || p.Made == "") {
			l := SawLine{On: b.name, Work: -1, Length: float64(math.Pi * b.size.X), Thick: b.size.Z}
			l.Saw = sawFor(l, math.Inf(1), band, scroll)
			out = append(out, l)
		}
		for _, s := range b.sawCuts() {
			l := SawLine{On: b.name, GlueUp: b.part == nil, Work: s.Work, Length: s.Line.Length(), Thick: s.Depth, Pierced: s.Pierced, At: s.At}
			radius, _, _ := s.Line.InsideCurves(s.Outside)
			l.Saw = sawFor(l, radius, band, scroll)
			out = append(out, l)
		}
	}
	return out
}

// sawFor is the saw that a line is sawn at.
func sawFor(l SawLine, radius float64, band, scroll *sawMachine) string {
	fits := func(s *sawMachine) bool { return s != nil && l.Thick <= s.thickest+tol.Page }
	switch {
	case !l.Pierced && fits(band) && radius >= band.turns(l.Thick)-tol.Page:
		return band.name
	case fits(scroll):
		return scroll.name
	case !l.Pierced && fits(band): // corners are sawn from both sides, or drilled first
		return band.name
	}
	return ""
}

package prove

import (
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/measure/source"
)

// SawLine is a line that is sawn right through, and the saw for it among those of the shop,
// or usual ones: the same that cut.possible judges it by.
type SawLine struct {
	On      string // the part or glue-up
	GlueUp  bool
	Work    int    // index into its work; -1: the outline of a sawn disc
	Saw     string // assembly.BandSaw, assembly.ScrollSaw; "" if none of the shop's can: by hand
	Length  float64
	Thick   float64      // of the wood that it goes through, mm
	Pierced bool         // the blade goes in through a hole
	Blade   facts.Blade  // see assembly.Sawing
	Plain   bool         // it has no curve, and goes in from the edge
	Hollow  float64      // of its length, mm, that a flat sander does not get at: in openings, curves and corners inward
	At      source.Range // of the work in the file
}

// SawLines lists what is sawn, as the parts come on the bench and in the order of their work.
func SawLines(m *assembly.Model) (out []SawLine) {
	c := &cutting{run: &run{m: m}}
	for _, b := range c.benches() {
		if b.again {
			continue
		}
		for _, s := range b.sawCuts() {
			l := SawLine{On: b.name, GlueUp: b.part == nil, Work: s.Work, Length: s.Line.Length(), Thick: s.Depth, Pierced: s.Pierced, At: s.At}
			how := assembly.SawnWith(s, m.Toy.Shop)
			if how.Saw != nil {
				l.Saw = how.Saw.Name
			}
			l.Blade, l.Plain, l.Hollow = how.Blade, how.Straight() && !s.Pierced, hollow(s)
			out = append(out, l)
		}
	}
	return out
}

// cornerReach is how far from an inside corner a disc or belt is of no use, mm. Common practice,
// no source.
const cornerReach = 20.0

// hollow is how much of a line a flat sander does not get at.
func hollow(s assembly.Sawn) float64 {
	all := s.Line.Length()
	if s.Pierced {
		return all
	}
	_, _, corners := s.Line.InsideCurves(s.Outside)
	mm := float64(2 * cornerReach * float64(len(corners)))
	for _, g := range s.Line.Segs {
		if g.Round() && (g.Sweep < 0) == (s.Line.Area() > 0) != s.Outside {
			mm += math.Abs(float64(g.R * g.Sweep))
		}
	}
	return math.Min(all, mm)
}

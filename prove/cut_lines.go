package prove

import (
	"dryfit/assembly"
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
			if saw := assembly.SawnWith(s, m.Toy.Shop).Saw; saw != nil {
				l.Saw = saw.Name
			}
			out = append(out, l)
		}
	}
	return out
}

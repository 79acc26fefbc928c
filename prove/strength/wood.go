package strength

import (
	"fmt"
	"math"

	"dryfit/facts"
)

// Wood is what a wood carries, means in MPa: bending along the grain, tension across it,
// shear along it; Rolling is shear that rolls the fibres. A layered panel carries Bend in
// both directions of its sheet and Across across it, Shear through the sheet and Rolling
// between its layers.
type Wood struct {
	Name                         string
	Bend, Across, Shear, Rolling float64
	Layered                      bool
	Notes                        []string // what had to be assumed
}

const (
	// The least tension across, as a share of bending strength, of the woods of the Wood
	// Handbook that have both: it stands in for a figure that its tables do not give.
	acrossDense = 0.045  // of hardwoods of specific gravity 0.5 and more: cherry
	acrossHard  = 0.0309 // of the others: aspen
	acrossSoft  = 0.027  // of softwoods: Douglas fir
	dense       = 0.5
	// shearLeast is the same for shear along the grain (again Douglas fir, 9.1 %).
	shearLeast = 0.091
	// rolling is rolling shear as a share of shear along the grain, 18 to 28 %: Wood
	// Handbook, chapter 5, from memory.
	rolling = 0.18
	// layersAlong is the share of the layers of plywood that run along either direction of
	// its sheet (common practice, no source: as many one way as the other).
	layersAlong = 0.5
	// panelShear is the shear through a board of fibres as a share of its bending strength;
	// EN 12369-1 gives about a third (from memory), and a quarter stays below that.
	panelShear = 0.25
)

// Of returns what a wood of the tables carries. ok is false where the table has no
// strength for it.
func Of(row facts.Row) (w Wood, ok bool) {
	w.Name = row.Name
	if row.Kind == "panel" {
		return panel(row)
	}
	const mpa = 1e-6
	w.Bend, w.Across, w.Shear = float64(row.Bending*mpa), float64(row.TensionAcross*mpa), float64(row.Shear*mpa)
	if math.IsNaN(w.Bend) {
		return w, false
	}
	if math.IsNaN(w.Across) {
		least := acrossShare(row)
		w.Across = float64(least * w.Bend)
		w.Notes = append(w.Notes, fmt.Sprintf("tension across %s is not in the table: taken as %.1f %% of its bending strength, the least of any wood of its kind", row.Name, 100*least))
	}
	if math.IsNaN(w.Shear) {
		w.Shear = float64(shearLeast * w.Bend)
		w.Notes = append(w.Notes, fmt.Sprintf("shear of %s is not in the table: taken as %.1f %% of its bending strength, the least of any wood there", row.Name, 100*shearLeast))
	}
	w.Rolling = float64(rolling * w.Shear)
	return w, true
}

func acrossShare(row facts.Row) float64 {
	switch {
	case row.Kind == "softwood":
		return acrossSoft
	case row.SG12 >= dense:
		return acrossDense
	}
	return acrossHard
}

// panel is Of for sheets. Plywood is layers of its wood, half of them along and half across,
// glued as strong as the wood; a board of fibres is the same all ways in its sheet and
// comes apart between its fibres at its internal bond.
func panel(row facts.Row) (Wood, bool) {
	if math.IsNaN(row.Bending) {
		veneer, ok := facts.Wood("birch")
		if row.Name != "birch plywood" || !ok {
			return Wood{Name: row.Name}, false
		}
		w, ok := Of(veneer)
		w.Name, w.Layered = row.Name, true
		w.Bend = float64(w.Bend * layersAlong)
		w.Notes = []string{"plywood is taken as layers of birch, half of them along and half across, glued as strong as the wood"}
		return w, ok
	}
	const mpa = 1e-6
	w := Wood{Name: row.Name, Bend: float64(row.Bending * mpa), Across: float64(row.TensionAcross * mpa), Layered: true}
	if math.IsNaN(w.Across) {
		return w, false
	}
	w.Shear, w.Rolling = float64(w.Bend*panelShear), w.Across
	w.Notes = []string{fmt.Sprintf("shear through %s is taken as a quarter of its bending strength, between its fibres as its internal bond", row.Name)}
	return w, true
}

// Needs are how many times the load of a test a mean strength has to be. The loads are
// those of tests, met once or a few times; for loads of every day makers take 3 along
// the grain and 4 to 6 across (common practice, no source).
const (
	// NeedBend: the weakest piece in twenty has 0.74 of the mean (coefficient of variation
	// 0.16: Wood Handbook table 5-6), and grain that runs out 1 in 8 leaves 0.75 of that
	// (table 5-12: 0.81 at 1 in 10, 0.55 at 1 in 5, from memory).
	NeedBend = 1.8
	// NeedShear: the weakest piece in twenty has 0.77 of the mean (0.14, the same table).
	NeedShear = 1.3
	// NeedAcross: the weakest in twenty has 0.59 (0.25, the same table). Corners and holes
	// raise the stress; so does the shape of the piece in the test that the figures
	// are from (ASTM D143, from memory).
	NeedAcross = 1.7
	// NeedGlue: half of a joint may be starved of glue (common practice, no source).
	NeedGlue = 2.0
)

const (
	// EndGrain is what glue on end grain carries as a share of that on side grain: Wood
	// Handbook, chapter 10, from memory (a butt joint at best a quarter of the wood).
	EndGrain = 0.25
	// ThickGlue is what is left of the strength of glue that has to fill a gap (common
	// practice, no source).
	ThickGlue = 0.5
	// DowelGlue is the shear of a glued dowel in side grain, 500 lbf/in², the lower end
	// of 500 to 1000 in hardwood (common practice, no source).
	DowelGlue = 500 * facts.PascalsPerPsi * 1e-6
	// dowelWood is the shear of a wood in which DowelGlue is reached, that of yellow poplar,
	// 1190 lbf/in², the weakest of the usual hardwoods; in softer wood it is less in proportion
	// (common practice, no source).
	dowelWood = 1190 * facts.PascalsPerPsi * 1e-6
)

// Dowel returns the shear that the glue of a dowel carries between two woods.
func Dowel(a, b Wood) float64 {
	return float64(DowelGlue * math.Min(1, math.Min(a.Shear, b.Shear)/dowelWood))
}

// GlueTension returns what a face of w, whose normal makes an angle of cosine cos with
// the grain, gives a glue line against a pull off it. A layered panel has side grain on its
// faces and as much end as side grain on its edges.
func (w Wood) GlueTension(cos, face float64) float64 { return float64(w.Across * w.ends(cos, face)) }

// GlueShear is GlueTension against sliding: between along the grain and rolling, which a
// twist or an unknown direction meets half and half. A panel shears between its layers.
func (w Wood) GlueShear(cos, face float64) float64 {
	shear := (w.Shear + w.Rolling) / 2
	if w.Layered {
		shear = w.Rolling
	}
	return float64(shear * w.ends(cos, face))
}

// ends is what is left of a face for its end grain; face is the cosine to the faces of a panel.
func (w Wood) ends(cos, face float64) float64 {
	if w.Layered {
		return Hankinson(1, (1+EndGrain)/2, face)
	}
	return Hankinson(EndGrain, 1, cos)
}

// Section returns the bending and pulling strength of w through a section whose normal makes
// an angle of cosine cos with its grain (of a panel: face with the normal of its sheet),
// and how many times the load it has to be: between along and across by Hankinson.
func (w Wood) Section(cos, face float64) (mean, need float64) {
	cos = w.along(cos, face)
	return Hankinson(w.Bend, w.Across, cos), between(NeedBend, NeedAcross, cos)
}

// Web returns the force with which a rod tears out the wood beside its hole, e to the edge
// over a length t of the hole, and how many times the load it has to be: along the grain a plug
// between two planes of shear, across it the wood splits. grain and face are the cosines of
// the way it is pressed to the grain and to the normal of a sheet, through that of the hole
// to the normal: across a sheet its layers part, in it the plug shears through them, or between
// them where the hole lies in the sheet.
func (w Wood) Web(t, e, grain, face, through float64) (mean, need float64) {
	cos, shear := w.along(grain, face), w.Shear
	if w.Layered {
		shear = Hankinson(w.Shear, w.Rolling, through)
	}
	return Hankinson(TearOut(2, shear, t, e), Split(w.Across, t, e), cos), between(NeedShear, NeedAcross, cos)
}

// along is the cosine of a direction to the grain, of a panel to its sheet.
func (w Wood) along(cos, face float64) float64 {
	if w.Layered {
		return math.Sqrt(math.Max(0, 1-float64(face*face)))
	}
	return math.Min(1, cos)
}

// between goes over from what is needed along the grain to what across it.
func between(along, across, cos float64) float64 {
	return across + float64((along-across)*float64(cos*cos))
}

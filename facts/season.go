package facts

// Grain is a direction in wood.
type Grain int

// The directions of wood: along the grain, across the growth rings, and along them.
const (
	Along Grain = iota
	Radial
	Tangential
)

// alongPerPercent is the change of length along the grain for 1 % of moisture: 0.2 % in
// all from green at 30 % to oven-dry, the upper end for straight wood. Source: USDA
// FPL-GTR-190 Wood Handbook, chapter 4 (0.1 to 0.2 %).
const alongPerPercent = 0.002 / 30

// panelThick is the change of thickness of plywood and fibreboard for 1 % of moisture,
// as a share: that of solid wood across the rings, order of magnitude, from memory.
const panelThick = 0.0025

// Coefficient returns the share by which the wood changes in a direction for 1 % of
// moisture, valid from 6 to 14 %. A panel has Along and Tangential in its plane and
// Radial through its thickness. Source: USDA FPL-GTR-190 Wood Handbook, table 13-5.
func (w Row) Coefficient(g Grain) float64 {
	switch {
	case w.Kind == "panel" && g == Radial:
		return panelThick
	case w.Kind == "panel":
		return w.CT
	case g == Radial:
		return w.CR
	case g == Tangential:
		return w.CT
	}
	return alongPerPercent
}

// The moistures between which coefficients are valid, in percent.
const (
	CoefficientFrom = 6.0
	CoefficientTo   = 14.0
)

// Swell returns the share by which wood with a coefficient grows when its moisture goes
// from one to another percent; negative if it shrinks. Between 6 and 14 % it is
// c (to - from); beyond, the rule from which the coefficients come, 1/(1/c - 10 + from)
// for c, in which c is the coefficient at 10 %, and nothing grows past fibre saturation
// at 30 %. Source: USDA FPL-GTR-190 Wood Handbook, chapter 13, equations 13-1 and 13-2.
func Swell(c, from, to float64) float64 {
	from, to = min(from, saturation), min(to, saturation)
	if c <= 0 {
		return 0
	}
	if min(from, to) < CoefficientFrom || max(from, to) > CoefficientTo {
		c = 1 / (1/c - 10 + from)
	}
	return c * (to - from)
}

// saturation is the moisture, in percent, above which wood no longer grows.
const saturation = 30.0

package shop

import (
	"math"
	"slices"

	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

// MostPlaned is how much is planed off a board at most, beyond what a rough one loses, mm: what
// is thicker is better kept, or sawn through its edge. Common practice, no source.
const MostPlaned = facts.MMPerInch / 4

// Planed tells whether boards have to be planed for a stock in a shop, whose rack may be nil:
// it has none of that thickness as they are, but some that are rough or a little thicker.
func Planed(r *toy.Rack, s toy.Stock, u measure.Unit) bool {
	if r == nil || s.Form != toy.Board {
		return false
	}
	if t := r.Tools; len(t) > 0 && !slices.Contains(t, "planer") && !slices.Contains(t, "hand-plane") {
		return false
	}
	thicker := false
	for _, b := range slices.Concat(r.Boards, r.Sold.Boards) {
		if woodOf(b.Wood) != woodOf(s.Wood) || b.Form != s.Form || b.Count == 0 {
			continue
		}
		over := b.Thick.MM() - s.Thick.MM()
		if b.Rough {
			over -= Planing(r, u)
		}
		if math.Abs(over) <= tol.Plank && !b.Rough {
			return false
		}
		thicker = thicker || over >= -tol.Plank && over <= MostPlaned
	}
	return thicker
}

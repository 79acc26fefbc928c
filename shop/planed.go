package shop

import (
	"fmt"
	"slices"

	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

// Which boards do for wood of some thickness: one rule for the lists and for the layout.

// mostPlaned is how much is planed off a board at most, beyond what a rough one loses: what
// is thicker is better kept, or sawn through its edge. Common practice, no source.
const mostPlaned = inch / 4

// Planing is what a rough board loses to the planer, mm: what the rack, which may be nil, says,
// or a usual depth. Common practice, no source.
func Planing(r *toy.Rack, u measure.Unit) float64 {
	switch {
	case r != nil && r.Planing != nil:
		return r.Planing.MM()
	case u == measure.MM:
		return 3
	}
	return inch / 8
}

// PlanedTo tells to what thickness a board has to be planed for wood of that thickness, mm, 0 for
// not at all, or why it does not do. Whether there is anything to plane with, its rack says, which
// may be nil; one that names no tools has hand tools.
func PlanedTo(b toy.Plank, thick float64, r *toy.Rack, u measure.Unit) (to float64, why string) {
	size := func(mm float64) string { return measure.FromMM(mm).Format(u) }
	is := b.Thick.MM()
	if b.Rough {
		is -= Planing(r, u)
	}
	planes := r == nil || len(r.Tools) == 0 || slices.Contains(r.Tools, "planer") || slices.Contains(r.Tools, "hand-plane")
	over := is - thick
	switch {
	case over < -tol.Plank && b.Rough:
		return 0, fmt.Sprintf("is %s rough, and %s when it is planed", size(b.Thick.MM()), size(is))
	case over < -tol.Plank:
		return 0, "is only " + size(is) + " thick"
	case over <= tol.Plank && !b.Rough:
		return 0, ""
	case b.Form == toy.Sheet:
		return 0, "is " + size(is) + " thick, and a sheet is not planed"
	case over > mostPlaned+tol.Plank:
		return 0, "is " + size(b.Thick.MM()) + " thick, too much to plane away"
	case !planes:
		return 0, "would have to be planed, and the shop has neither planer nor hand plane"
	}
	return thick, ""
}

// Planed tells whether boards have to be planed for a stock in a shop, whose rack may be nil:
// it has none of that thickness as they are, but some that are rough or a little thicker.
func Planed(r *toy.Rack, s toy.Stock, u measure.Unit) bool {
	if r == nil || s.Form != toy.Board {
		return false
	}
	thicker := false
	for _, b := range slices.Concat(r.Boards, r.Sold.Boards) {
		if woodOf(b.Wood) != woodOf(s.Wood) || b.Form != s.Form || b.Count == 0 {
			continue
		}
		to, why := PlanedTo(b, s.Thick.MM(), r, u)
		if why == "" && to == 0 {
			return false
		}
		thicker = thicker || why == ""
	}
	return thicker
}

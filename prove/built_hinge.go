package prove

import (
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// How far a hinge swings falls from all to nothing when two pieces first meet, so no build that swings
// foretells one that jams. What does is the room there is: in a build it is measured at some angles
// between rest and the swing that is wanted, either way.

// roomSteps is at how many angles either way the room is measured, beside that at rest.
const roomSteps = 4

// builtSwing gives the finding of a hinge in a build its margins: the least room to either side, of
// which the greater counts unless it has to swing each way.
func (r *run) builtSwing(f *Finding, h *assembly.Hinge, moving, fixed []int, each bool) {
	limit := float64(f.Limit * math.Pi / 180)
	rest := r.room(h, moving, fixed, 0)
	for _, way := range []float64{1, -1} {
		least := rest
		for k := 1; k <= roomSteps; k++ {
			least = math.Min(least, r.room(h, moving, fixed, float64(way*limit*float64(k))/roomSteps))
		}
		f.Parts = append(f.Parts, least)
	}
	f.Any = !each
	f.Margin = slices.Min(f.Parts)
	if f.Any {
		f.Margin = slices.Max(f.Parts)
	}
	// between those angles it may meet all the same, and a builder may turn past what is in the way
	if ok := f.Verdict == Holds; ok != (f.Margin >= 0) {
		f.Margin = -tol.Page
		if ok {
			f.Margin = 0
		}
		for k := range f.Parts {
			if ok != (f.Parts[k] >= 0) {
				f.Parts[k] = f.Margin
			}
		}
	}
}

// room is how far the moving side of a hinge, turned by an angle, is from meeting the other by more
// than it may; it is negative where it does.
func (r *run) room(h *assembly.Hinge, moving, fixed []int, angle float64) float64 {
	turn, least := r3.Turn(h.Centre, h.Dir, angle), nearBuilt
	for _, i := range moving {
		box := turn.Box(r.m.Pieces[i].Body.Bounds()).Grow(nearBuilt)
		for _, j := range fixed {
			if r.fitted(i, j) || !box.Meets(r.m.Pieces[j].Body.Bounds()) {
				continue
			}
			a, b := r.against(j, i), r.against(i, j).Transform(turn)
			gap := solid.Distance(a, b, nearBuilt).D
			if gap <= tol.Touch {
				gap = -solid.Overlap(a, b).Depth
			}
			least = math.Min(least, gap+r.deep(i, j))
		}
	}
	return least
}

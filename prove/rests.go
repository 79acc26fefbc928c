package prove

import (
	"math"

	"dryfit/assembly"
	"dryfit/geom/r3"
)

// Height is how high the toy is, mm, as it rests on a flat floor: its body down on its axles, as
// move.ground measures the room under it. Without wheels that stand on the floor it is as drawn.
func Height(m *assembly.Model) float64 {
	r := &run{m: m, w: newWorld(m)}
	s := r.stand(r.all(), r.w.weigh().centre)
	if !s.wheels || !s.ok {
		box := r3.EmptyBox()
		for _, p := range m.Pieces {
			box = box.Union(p.Body.Bounds())
		}
		return box.Size().Z
	}
	raised := map[int]float64{} // wheels stand on the floor: they do not sink with the body
	for _, p := range s.points {
		raised[p.piece] = math.Max(raised[p.piece], p.slack/2)
	}
	high := 0.0
	for i, p := range m.Pieces {
		high = math.Max(high, s.height(p.Body.Support(s.n))+raised[i])
	}
	return high
}

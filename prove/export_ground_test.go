package prove

import (
	"dryfit/assembly"
	"dryfit/geom/r3"
)

// Floor tells where a toy finds the floor: the way up from it, how high a point is above
// it, and what of its wood stands on it beside the wheels.
func Floor(m *assembly.Model) (up r3.Vec, height func(r3.Vec) float64, skids []string) {
	r := &run{m: m, w: newWorld(m)}
	s := r.stand(r.all(), r.w.weigh().centre)
	for _, i := range s.skids {
		skids = append(skids, m.Pieces[i].ID)
	}
	return s.n, s.height, skids
}

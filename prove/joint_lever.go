package prove

import (
	"fmt"
	"math"

	"dryfit/geom/outline"
	"dryfit/geom/r3"
	"dryfit/prove/strength"
)

// Levers: what stands on one flat of glue is pushed over more easily than it is pulled off.
// The pull of the tests is taken along the axis of a joint, so this is advice, not failure.

// leverLeast is how many times the pull glue should hold as a lever: by its mean strength at
// least once, or anyone finds it weak (common practice, no source).
const leverLeast = 1.0

// levers minds joints that hold a pull straight off, but not the same pull sideways at the end
// of what stands on them.
func (r *run) levers() {
	pull := r.loads().pull
	fails := map[string]bool{}
	for _, j := range r.judged() {
		fails[j.about] = fails[j.about] || j.f.over() < 0
	}
	said := map[string]bool{}
	for _, c := range r.cuts() {
		about := r.onWhat(c)
		s, reach, ok := r.standsOn(c)
		if !ok || reach < gripLength || fails[about] || said[about] {
			continue
		}
		said[about] = true
		f := s.bends(strength.Cantilever(pull.N, reach-gripLength/2), pull.N)
		if f.is >= leverLeast {
			continue
		}
		r.add(Finding{Check: "strength.joint", About: about + " (levered)", Verdict: Mind, Value: f.is, Limit: leverLeast, Source: practice,
			Says: fmt.Sprintf("%s is easily pushed over: its glue holds only %s a pull of %s sideways at its end, %s out: %s",
				about, times(f.is), r.force(pull.N), r.about(reach), r.glueMend(c)),
			Places: []Place{r.atCut(c)}})
	}
}

// standsOn returns the glue of a cut as a section that bends, and how far what comes off
// reaches from it. ok is false unless all of it is flat faces in one plane.
func (r *run) standsOn(c cut) (s section, reach float64, ok bool) {
	s.told = true
	var n, at r3.Vec
	for _, b := range c.bonds {
		if len(b.fits) > 0 {
			return s, 0, false
		}
		wa, okA := r.carries(b.a)
		wb, okB := r.carries(b.b)
		for _, p := range b.patches {
			if !ok {
				n, at, ok = p.n, p.at, true
				s.u, s.v = basis(n)
			}
			if !okA || !okB || p.pts == nil || n.Dot(p.n) < 1-lying || math.Abs(p.at.Sub(at).Dot(n)) > gripLength/2 {
				return s, 0, false
			}
			ga, fa := r.cosines(b.a, p.n)
			gb, fb := r.cosines(b.b, p.n)
			w := math.Min(wa.GlueTension(ga, fa), wb.GlueTension(gb, fb))
			mo := outline.Moments(flat(p.pts, s.u, s.v))
			x, y := mo.Centroid.X, mo.Centroid.Y
			uu, uv, vv := mo.XX+float64(mo.Area*float64(x*x)), mo.XY+float64(mo.Area*float64(x*y)), mo.YY+float64(mo.Area*float64(y*y))
			s.mean.add(w, mo.Area, float64(mo.Area*x), float64(mo.Area*y), uu, uv, vv)
			s.allowed.add(w/strength.NeedGlue, mo.Area, float64(mo.Area*x), float64(mo.Area*y), uu, uv, vv)
			s.corners = append(s.corners, p.pts...)
		}
	}
	if !ok {
		return s, 0, false
	}
	lo, _ := r.extent(c.off, n)
	return s, at.Dot(n) - lo, true
}

package prove

import (
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// The point gauge of 16 CFR 1500.48: a slot behind which, a little recessed, sits a
// head that lights a lamp when it is pressed. A wooden point is crushed as it is
// pressed in, until it is as wide as its strength wants; what is left beyond that
// width has to go through the slot to reach the head.

const (
	slotWide, slotLong = 0.040 * 25.4, 0.045 * 25.4
	pointReach         = (0.015 + 0.005) * 25.4 // depth of the head below the slot, and how far it has to give
	pointForce         = facts.NewtonsPerLbf
	pointSource        = "16 CFR 1500.48(d), figures of the slot from memory (under 8 years)"
	// pointRound is the radius from which on nothing reaches the head: a ball stands in
	// the narrow way of the slot with r - sqrt(r² - (w/2)²) of it inside, which is
	// less than the depth of the head from r = 0.51 mm on.
	pointRound = 0.55
	// usualCrush is the crushing strength along the grain, N/mm², where the tables have
	// none: that of beech and maple, the hardest usual woods.
	usualCrush = 54.0
)

// crush returns the crushing strength along the grain of a piece's wood, N/mm²: a
// point with the grain across would give way sooner.
func (r *run) crush(p *assembly.Piece) float64 {
	st, _ := r.m.Toy.StockNamed(p.Part.Stock)
	if w, ok := facts.Wood(st.Wood); ok && w.CompressAlong > 0 {
		return float64(w.CompressAlong * 1e-6)
	}
	return usualCrush
}

// pointGauge returns how far into the slot a pointed corner reaches, at most 1 mm:
// ways are the directions of its arrises, from the tip into the wood. It is pressed in
// along the middle of its arrises.
func pointGauge(ways []r3.Vec, crush float64) float64 {
	axis, ok := middleOf(ways)
	if !ok {
		return 0
	}
	u, v := basis(axis)
	section := make([]r2.Vec, 0, len(ways)) // 1 mm below the tip
	for _, w := range ways {
		p := w.Scale(1 / w.Dot(axis))
		section = append(section, r2.Vec{X: p.Dot(u), Y: p.Dot(v)})
	}
	section = outline.Hull(section)
	area := math.Abs(outline.SignedArea(section))
	if len(section) < 3 || area < tol.Clip {
		return 1
	}
	// Crushed down to where the area bears the force, the flat stands at that height;
	// the section that is as wide as the slot is at full.
	flat := math.Sqrt(pointForce / (crush * area))
	full := 0.0
	for i, p := range section { // the slot laid along each side of the section
		q := section[(i+1)%len(section)]
		d := q.Sub(p)
		l := d.Len()
		if l < tol.Clip {
			continue
		}
		d = d.Scale(1 / l)
		var lo, hi r2.Vec
		for k, s := range section {
			e := s.Sub(p)
			a, b := e.Dot(d), e.Dot(r2.Vec{X: -d.Y, Y: d.X})
			if k == 0 {
				lo, hi = r2.Vec{X: a, Y: b}, r2.Vec{X: a, Y: b}
			}
			lo, hi = r2.Vec{X: math.Min(lo.X, a), Y: math.Min(lo.Y, b)}, r2.Vec{X: math.Max(hi.X, a), Y: math.Max(hi.Y, b)}
		}
		w, h := hi.X-lo.X, hi.Y-lo.Y
		full = math.Max(full, math.Min(slotWide/math.Min(w, h), slotLong/math.Max(w, h)))
	}
	return math.Min(1, math.Max(0, full-flat))
}

// middleOf returns the direction that makes the same angle with all of the ways, or
// nearly so, by moving towards the farthest of them.
func middleOf(ways []r3.Vec) (r3.Vec, bool) {
	var axis r3.Vec
	for _, w := range ways {
		axis = axis.Add(w)
	}
	if len(ways) < 3 || axis.Len() < tol.Clip {
		return axis, false
	}
	axis = axis.Unit()
	const steps = 200
	for k := 1; k <= steps; k++ {
		far := ways[0]
		for _, w := range ways {
			if w.Dot(axis) < far.Dot(axis) {
				far = w
			}
		}
		axis = axis.Add(far.Sub(axis).Scale(1 / float64(k+1))).Unit()
	}
	for _, w := range ways {
		if w.Dot(axis) < bluntest {
			return axis, false
		}
	}
	return axis, true
}

// bluntest is the cosine, to the axis, of the arrises of a corner that is no point:
// a cube's make 55 degrees, and at 75 it is nearly flat.
const bluntest = 0.26

// corners are the places of a solid that might be sharp.
type corners struct {
	points []corner
	keen   []corner
}

// ofCorners is what they are kept by with the solid.
type ofCorners struct{}

// corner is a tip with its arrises, or the middle of a keen arris.
type corner struct {
	at, out r3.Vec // out: away from the wood
	ways    []r3.Vec
	angle   float64 // between the faces
}

// cornersOf gathers the tips where three or more arrises meet that all stand out, and
// the arrises under keen.
func cornersOf(b solid.Body) *corners {
	out := &corners{}
	type tip struct {
		at   r3.Vec
		ways []r3.Vec
		bad  bool
	}
	var tips []tip
	join := func(at, way r3.Vec, bad bool) {
		for i := range tips {
			if tips[i].at.Sub(at).Len() <= tol.Weld*10 {
				tips[i].ways = append(tips[i].ways, way)
				tips[i].bad = tips[i].bad || bad
				return
			}
		}
		tips = append(tips, tip{at, []r3.Vec{way}, bad})
	}
	for _, e := range solid.FeatureEdges(b) {
		d := e.B.Sub(e.A)
		l := d.Len()
		if l < tol.Touch {
			continue
		}
		d = d.Scale(1 / l)
		hollow := !e.Smooth && !standsOut(b, e)
		join(e.A, d, hollow || e.Smooth)
		join(e.B, d.Neg(), hollow || e.Smooth)
		if e.Smooth || hollow || l < keenLeast {
			continue
		}
		if angle := math.Pi - trig.Acos(math.Max(-1, math.Min(1, e.N[0].Dot(e.N[1])))); angle < keen {
			if n := e.N[0].Add(e.N[1]); n.Len() > tol.Clip {
				out.keen = append(out.keen, corner{at: e.A.Add(e.B).Scale(0.5), out: n.Unit(), angle: angle})
			}
		}
	}
	for _, t := range tips {
		if t.bad || len(t.ways) < 3 {
			continue
		}
		if axis, ok := middleOf(t.ways); ok {
			out.points = append(out.points, corner{at: t.at, out: axis.Neg(), ways: t.ways})
		}
	}
	return out
}

// standsOut tells whether the wood at an edge is less than a half turn. If so one face
// lies to the side that the other looks away from, with air above it; in an inside
// corner there is wood.
func standsOut(b solid.Body, e solid.Edge) bool {
	const aside, above = 0.02, 0.001
	t := e.B.Sub(e.A).Cross(e.N[0]).Unit()
	if t.Dot(e.N[1]) < 0 {
		t = t.Neg()
	}
	p := e.A.Add(e.B).Scale(0.5).Add(t.Scale(-aside)).Add(e.N[0].Scale(above))
	for i := range b.Pieces {
		if b.Pieces[i].Contains(p, tol.Clip) {
			return false
		}
	}
	return true
}

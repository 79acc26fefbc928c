package prove

import (
	"math"
	"sort"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// mouthTilt is the least cosine between a hole and the square of a surface for it to be
// one that the hole goes through, and not along: 60 degrees.
const mouthTilt = 0.5

// wallAt returns the wood between the wall of a round hole of radius r about c and the
// nearest surface, in the section square to the hole through c: exact for flat
// surfaces, measured square to the surface; negative where the hole breaks out. ok is
// false where c is not in the wood. The pieces share faces inside the wood; those are
// no surface, and neither is the one that the hole goes in or comes out through: ends
// are the places where its axis does.
func wallAt(wood solid.Body, c, dir r3.Vec, r float64, ends [2]r3.Vec) (web float64, at r3.Vec, ok bool) {
	type edge struct {
		q    r3.Vec // nearest to c
		d    float64
		mid  r3.Vec
		n    r3.Vec // outward, in the section
		tilt float64
	}
	var es []edge
	for i := range wood.Pieces {
		p := &wood.Pieces[i]
		ok = ok || p.Contains(c, tol.Clip)
		for _, f := range p.Faces {
			if math.Abs(f.Plane.N.Dot(dir)) >= mouthTilt && (math.Abs(f.Plane.Side(ends[0])) <= tol.Touch || math.Abs(f.Plane.Side(ends[1])) <= tol.Touch) {
				continue
			}
			var cross [2]r3.Vec
			n := 0
			for i, k := range f.Loop {
				a, b := p.V[k], p.V[f.Loop[(i+1)%len(f.Loop)]]
				s, t := a.Sub(c).Dot(dir), b.Sub(c).Dot(dir)
				if s > 0 != (t > 0) && n < 2 {
					cross[n] = a.Add(b.Sub(a).Scale(s / (s - t)))
					n++
				}
			}
			flat := f.Plane.N.Sub(dir.Scale(f.Plane.N.Dot(dir)))
			if n < 2 || flat.Len() < tol.Clip {
				continue
			}
			d := cross[1].Sub(cross[0])
			t := 0.0
			if l := d.Dot(d); l > 0 {
				t = math.Min(1, math.Max(0, c.Sub(cross[0]).Dot(d)/l))
			}
			q := cross[0].Add(d.Scale(t))
			es = append(es, edge{q, q.Sub(c).Len(), cross[0].Add(cross[1]).Scale(0.5), flat.Unit(), flat.Len()})
		}
	}
	if !ok {
		return 0, c, false
	}
	sort.SliceStable(es, func(i, j int) bool { return es[i].d < es[j].d })
	for _, e := range es {
		// just outside the edge, a little away from its end
		in := e.mid.Sub(e.q)
		if l := in.Len(); l > tol.Touch {
			in = in.Scale(tol.Touch / l)
		}
		p := e.q.Add(in).Add(e.n.Scale(tol.Touch))
		if !inWood(wood, p) {
			return float64((e.d - r) * e.tilt), e.q, true
		}
	}
	return math.Inf(1), c, true
}

func inWood(wood solid.Body, p r3.Vec) bool {
	for i := range wood.Pieces {
		w := &wood.Pieces[i]
		if w.Bounds().Grow(tol.Clip).Meets(r3.Around(p)) && w.Contains(p, tol.Clip) {
			return true
		}
	}
	return false
}

// entrySlope returns the angle between a hole and the square of the surface where its axis
// enters the wood at p.
func entrySlope(wood solid.Body, p, dir r3.Vec) float64 {
	best := math.Pi / 2
	for i := range wood.Pieces {
		w := &wood.Pieces[i]
		if !w.Contains(p, tol.Touch) {
			continue
		}
		for _, f := range w.Faces {
			if c := -f.Plane.N.Dot(dir); c > 0 && math.Abs(f.Plane.Side(p)) <= tol.Touch {
				best = math.Min(best, trig.Acos(math.Min(1, c)))
			}
		}
	}
	return best
}

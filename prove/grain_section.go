package prove

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/prove/strength"
)

// A section is what a plane cuts of a limb: wood of several pieces that bend as one. Each
// counts by its strength across the section, as if it were stiff in proportion, so that all
// reach their limit together.

// moments are sums over the section, weighed: its strength against a pull and a bending.
type moments struct{ w, u, v, uu, uv, vv float64 }

// section is the sums by mean strength and by what of it may be used, and the corners.
type section struct {
	mean, allowed moments
	area          float64
	u, v          r3.Vec
	corners       []r3.Vec
	told          bool
}

func (m *moments) add(w, area, fu, fv, uu, uv, vv float64) {
	m.w += float64(w * area)
	m.u += float64(w * fu)
	m.v += float64(w * fv)
	m.uu += float64(w * uu)
	m.uv += float64(w * uv)
	m.vv += float64(w * vv)
}

// sectionOf cuts chunks of a lump by the plane at t along d.
func (r *run) sectionOf(l *lump, cut []int, d r3.Vec, t float64) (s section) {
	s.told = true
	s.u, s.v = basis(d)
	for _, i := range cut {
		c := &l.chunks[i]
		var area, fu, fv, uu, uv, vv float64
		var o r3.Vec
		have := false
		for k := range c.c.Faces {
			f := &c.c.Faces[k]
			a, b, ok := crossing(c.c.V, f.Loop, d, t)
			if !ok {
				continue
			}
			if !have {
				o, have = a, true
			}
			s.corners = append(s.corners, a, b)
			// counter-clockwise about d: the inside to the left
			if b.Sub(a).Dot(d.Cross(f.Plane.N)) < 0 {
				a, b = b, a
			}
			// sums over the triangle o, a, b
			au, av := a.Sub(o).Dot(s.u), a.Sub(o).Dot(s.v)
			bu, bv := b.Sub(o).Dot(s.u), b.Sub(o).Dot(s.v)
			x := float64(au*bv) - float64(av*bu)
			area += x / 2
			fu += float64(x*(au+bu)) / 6
			fv += float64(x*(av+bv)) / 6
			uu += float64(x*(float64(au*au)+float64(au*bu)+float64(bu*bu))) / 12
			vv += float64(x*(float64(av*av)+float64(av*bv)+float64(bv*bv))) / 12
			uv += float64(x*(float64(2*au*av)+float64(au*bv)+float64(bu*av)+float64(2*bu*bv))) / 24
		}
		if area <= 0 {
			continue
		}
		// from o to the common origin
		ou, ov := o.Dot(s.u), o.Dot(s.v)
		uu += float64(2*ou*fu) + float64(area*float64(ou*ou))
		vv += float64(2*ov*fv) + float64(area*float64(ov*ov))
		uv += float64(ou*fv) + float64(ov*fu) + float64(area*float64(ou*ov))
		fu += float64(area * ou)
		fv += float64(area * ov)
		w, told := r.carries(c.piece)
		s.told = s.told && told
		grain, face := r.cosines(c.piece, d)
		mean, need := w.Section(grain, face)
		s.mean.add(mean, area, fu, fv, uu, uv, vv)
		s.allowed.add(mean/need, area, fu, fv, uu, uv, vv)
		s.area += area
	}
	return s
}

// crossing returns where a plane crosses the outline of a face.
func crossing(vs []r3.Vec, loop []int32, d r3.Vec, t float64) (a, b r3.Vec, ok bool) {
	n := 0
	p := vs[loop[len(loop)-1]]
	hp := p.Dot(d) - t
	for _, k := range loop {
		q := vs[k]
		hq := q.Dot(d) - t
		if hp < 0 != (hq < 0) {
			x := p.Add(q.Sub(p).Scale(hp / (hp - hq)))
			if n++; n == 1 {
				a = x
			} else {
				b = x
			}
		}
		p, hp = q, hq
	}
	return a, b, n == 2 && b.Sub(a).Len() > tol.Zero
}

// bends returns how many times a section holds a pull through it and a bending moment,
// whichever way it bends: by mean strength, and what it needs. A moment M that bends
// towards n stresses a corner p from the centroid by M n·T⁻¹p, with T the integral of
// p pᵀ (textbook: bending about two axes), so the worst way stresses it by M |T⁻¹p|.
func (s *section) bends(moment, pull float64) factor {
	one := func(m moments) float64 {
		if m.w <= 0 {
			return 0
		}
		cu, cv := m.u/m.w, m.v/m.w
		uu, vv, uv := m.uu-float64(m.w*float64(cu*cu)), m.vv-float64(m.w*float64(cv*cv)), m.uv-float64(m.w*float64(cu*cv))
		det := float64(uu*vv) - float64(uv*uv)
		if det <= 0 {
			return 0
		}
		most := 0.0
		for _, c := range s.corners {
			pu, pv := c.Dot(s.u)-cu, c.Dot(s.v)-cv
			x, y := float64(vv*pu)-float64(uv*pv), float64(uu*pv)-float64(uv*pu)
			most = math.Max(most, float64(x*x)+float64(y*y))
		}
		return math.Min(m.w/pull, det/(moment*math.Sqrt(most)))
	}
	is, allowed := one(s.mean), one(s.allowed)
	if allowed == 0 {
		return factor{0, strength.NeedAcross}
	}
	return factor{is, is / allowed}
}

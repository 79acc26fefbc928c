package prove

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/prove/strength"
)

// Twists: what a hand goes round is turned about the normal of its glue, or about its dowel.

// twistAxis returns the line about which the lighter side of a cut turns: square to its
// glued faces, through the middle of their area, or else along its one dowel. ok is false
// where wood or a second dowel is in the way.
func (r *run) twistAxis(c cut) (at, axis r3.Vec, area float64, ok bool) {
	var dirs []r3.Vec
	dowels := 0
	for _, b := range c.bonds {
		for _, p := range b.patches {
			dirs = append(dirs, p.n)
			at = at.Add(p.at.Scale(p.area))
			area += p.area
		}
	}
	if area > 0 {
		at = at.Scale(1 / area)
	}
	for _, b := range c.bonds {
		for _, f := range b.fits {
			centre, dir, _ := r.m.Pieces[f.Rod].Axis()
			dirs = append(dirs, dir)
			if dowels++; area == 0 {
				at = centre
			}
		}
	}
	for _, d := range dirs {
		if math.Abs(d.Dot(dirs[0])) < 1-lying {
			return at, axis, area, false
		}
	}
	return at, dirs[0], area, dowels <= 1
}

// twisted returns what a cut holds when its lighter side is twisted in a hand. ok is false
// where there is nothing to turn it by.
func (r *run) twisted(c cut) (k capacity, ok, told bool) {
	at, axis, area, ok := r.twistAxis(c)
	if !ok || !r.grippable(c.off, axis) {
		return k, false, true
	}
	told = true
	var all []patch
	sum := 0.0
	for _, b := range c.bonds {
		wa, okA := r.carries(b.a)
		wb, okB := r.carries(b.b)
		told = told && okA && okB
		for _, p := range b.patches {
			ga, fa := r.cosines(b.a, p.n)
			gb, fb := r.cosines(b.b, p.n)
			sum += float64(p.area * math.Min(wa.GlueShear(ga, fa), wb.GlueShear(gb, fb)))
			all = append(all, p)
		}
		for _, f := range b.fits {
			in, tau, _ := r.dowelGlue(f)
			_, _, radius := r.m.Pieces[f.Rod].Axis()
			glue := strength.PullRound(tau, 2*radius, in)
			w, _ := r.carries(f.Rod)
			// an axle turns, and its wheel with it: only the glue is twisted
			if rod := w.Shear / (strength.Round{Dia: 2 * radius}).Twisting(1); f.Role != "wheel" && rod/strength.NeedShear < glue/strength.NeedGlue {
				k.add(rod, strength.NeedShear)
			} else {
				k.add(glue, strength.NeedGlue)
			}
		}
	}
	if len(all) > 0 {
		j, far := lateral(all, at, axis)
		if far == 0 { // a strip or a spot: as the disc of its area
			far = math.Sqrt(area / math.Pi)
		}
		k.add(sum/area*j/far, strength.NeedGlue)
	}
	return k, true, told
}

// grippable tells whether a hand goes round a thing square to an axis.
func (r *run) grippable(ids []int, axis r3.Vec) bool {
	u, v := basis(axis)
	narrow := math.Inf(1)
	for _, d := range []r3.Vec{u, v} {
		lo, hi := r.extent(ids, d)
		narrow = math.Min(narrow, hi-lo)
	}
	lo, hi := r.extent(ids, axis)
	return narrow <= handSpan && hi-lo >= gripLength
}

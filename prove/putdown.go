package prove

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// fit.contact, second part: what is neither glued nor pinned has to lie on something, and
// is either kept there on all sides or said to be loose.

// dropLeast is how far above its place a thing that is only put down may be drawn:
// 1/64 in, an ordinary saw cut (common practice, no source).
const dropLeast = 25.4 / 64

// penned tells whether something that is put down is kept from sliding off on all
// sides, as a peg in a hole or a load between boards: it is meant to be loose.
func (r *run) penned(ids []int) bool {
	for _, d := range []r3.Vec{r3.X, r3.X.Neg(), r3.Y, r3.Y.Neg()} {
		if _, _, j := r.slide(ids, r.others(ids), d, pen); j < 0 {
			return false
		}
	}
	return true
}

// standing45 is the cosine of the lean of a pin down which things slide off: 45 degrees.
const standing45 = 0.7

// pen is how far off the sides of a pen may be, mm.
const pen = 25.0

// putDown checks that what is neither glued nor pinned lies on something.
func (r *run) putDown() {
	things := r.loose()
	if len(things) < 2 {
		return
	}
	low := math.Inf(1)
	for _, p := range r.m.Pieces {
		low = math.Min(low, p.Body.Bounds().Min.Z)
	}
	for _, ids := range things {
		in := map[int]bool{}
		box := r3.EmptyBox()
		for _, i := range ids {
			in[i] = true
			box = box.Union(r.m.Pieces[i].Body.Bounds())
		}
		tied := in[0]  // all else is placed from the first piece
		onPin := false // it drops down an upright pin, which keeps it from sliding off
		for _, f := range r.m.Fits {
			// a pin that lifts off carries what hangs on it, unless it is upright
			_, dir, _ := r.m.Pieces[f.Rod].Axis()
			if in[f.Rod] != in[f.Piece] {
				upright := math.Abs(dir.Z) >= standing45
				tied, onPin = tied || !upright, onPin || upright
			}
		}
		for _, s := range r.m.Saddles {
			tied = tied || in[s.A[0]] != in[s.B[0]]
		}
		if tied || box.Min.Z <= low+dropLeast {
			continue
		}
		drop, _, j := r.slide(ids, r.others(ids), r3.Z.Neg(), math.Min(farGap, box.Min.Z-low))
		if j >= 0 {
			drop -= tol.Touch
		}
		p := r.m.Pieces[ids[0]]
		if drop <= dropLeast {
			if p.Leave == "" && !onPin && !r.penned(ids) {
				r.add(Finding{Check: "fit.contact", About: r.thing(ids), Verdict: Mind, Unit: "mm", Value: drop, Limit: dropLeast, LimitOp: "<=", Source: "the toy file: neither glued nor may-leave-out",
					Says:   r.thing(ids) + " is only put down, and comes off in the hand: say glued: yes, or may-leave-out if it is meant to be loose",
					Places: []Place{r.place(ids[0], "", p.Body.Bounds().Center(), p.At)}})
			}
			continue
		}
		r.add(Finding{Check: "fit.contact", About: r.thing(ids), Verdict: Fails, Value: drop, Unit: "mm", Limit: dropLeast, LimitOp: "<=", Source: practice,
			Says:   r.thing(ids) + " hangs in the air: it is neither glued nor pinned, and the nearest thing to lie on is " + r.len(drop) + " below",
			Places: []Place{r.place(ids[0], "", p.Body.Bounds().Center(), p.At)}})
	}
}

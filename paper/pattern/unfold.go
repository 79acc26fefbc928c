package pattern

import (
	"math"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/paper/draw"
	"dryfit/toy"
)

// unfold returns the move that lays side b of a blank into the plane of side a,
// turned about the arris that they share, as seen from outside: wrapped around
// the blank again, each view lies on its own side. It is false for a side with
// itself or its opposite, which share none.
//
// About the arris, a quarter turn takes what goes from it into the wood on b
// (against a's normal) to b's normal, which on a points away from the arris.
func unfold(a, b toy.Side, size r3.Vec) (draw.Transform, bool) {
	fa, fb := assembly.SideFrame(a, size), assembly.SideFrame(b, size)
	if fa.W.Cross(fb.W).Len() < 0.5 {
		return draw.Transform{}, false
	}
	e := fa.W.Cross(fb.W)
	turned := e.Scale(e.Dot(fb.U)).Sub(fb.W.Scale(fa.W.Dot(fb.U)))
	u := r2.Vec{X: turned.Dot(fa.U), Y: turned.Dot(fa.V)}
	// The middle of the arris, in both views.
	mid := size.Scale(0.5)
	half := func(w r3.Vec) r3.Vec { return w.Scale(math.Abs(w.Dot(size)) / 2) }
	p := mid.Add(half(fa.W)).Add(half(fb.W))
	on := func(f r3.Pose) r2.Vec {
		d := p.Sub(f.O)
		return r2.Vec{X: d.Dot(f.U), Y: d.Dot(f.V)}
	}
	t := draw.Transform{Turn: math.Atan2(u.Y, u.X)}
	t.Shift = on(fa).Sub(t.Apply(on(fb)))
	return t, true
}

// pair returns two sides that share an arris, the first such pair in the list.
func pair(sides []toy.Side) (a, b toy.Side, ok bool) {
	for i := range sides {
		for _, b := range sides[i+1:] {
			if b != sides[i].Opposite() {
				return sides[i], b, true
			}
		}
	}
	return 0, 0, false
}

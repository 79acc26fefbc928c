package solid

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// Gap is the least distance between two bodies.
type Gap struct {
	D       float64 // the distance; 0 when they touch or overlap; +Inf when nothing is within the limit
	AtLeast float64 // proved: they are nowhere nearer
	OnA     r3.Vec  // a nearest point of a, and of b; unset when D is +Inf
	OnB     r3.Vec
	Normal  r3.Vec // unit direction from a to b; from face or edge directions when D is 0
	A, B    int    // the pieces that are nearest, -1 when D is +Inf
}

// Distance returns the least distance between a and b as far as it is below
// limit (+Inf looks everywhere). It is exact for the polyhedra: D - AtLeast is
// below tol.Clip.
func Distance(a, b Body, limit float64) Gap {
	g := Gap{D: math.Inf(1), AtLeast: limit, A: -1, B: -1}
	if a.Empty() || b.Empty() {
		return g
	}
	best := limit
	var walk func(i, j int32, box float64)
	walk = func(i, j int32, box float64) {
		if box >= best-tol.Zero || g.D == 0 {
			return
		}
		x, y := &a.tree[i], &b.tree[j]
		if x.piece >= 0 && y.piece >= 0 {
			d, low, p, q, n := closest(&a.Pieces[x.piece], &b.Pieces[y.piece], best)
			g.AtLeast = math.Min(g.AtLeast, low)
			if d < best {
				best = d
				g.D, g.OnA, g.OnB, g.Normal, g.A, g.B = d, p, q, n, int(x.piece), int(y.piece)
			}
			return
		}
		var l, r [2]int32
		if y.piece >= 0 || (x.piece < 0 && bigger(x.box, y.box)) {
			l, r = [2]int32{x.left, j}, [2]int32{x.right, j}
		} else {
			l, r = [2]int32{i, y.left}, [2]int32{i, y.right}
		}
		dl, dr := a.tree[l[0]].box.Distance(b.tree[l[1]].box), a.tree[r[0]].box.Distance(b.tree[r[1]].box)
		if dr < dl {
			l, r, dl, dr = r, l, dr, dl
		}
		walk(l[0], l[1], dl)
		walk(r[0], r[1], dr)
	}
	walk(0, 0, a.tree[0].box.Distance(b.tree[0].box))
	if g.D == 0 {
		g.AtLeast = 0
		_, g.Normal = Separation(&a.Pieces[g.A], &b.Pieces[g.B])
		return g
	}
	g.AtLeast = math.Max(0, math.Min(g.AtLeast, best)-tol.Zero)
	return g
}

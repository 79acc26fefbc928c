package solid

import "sort"

// edge runs from a to b in face f and back in face g.
type edge struct{ a, b, f, g int32 }

// edges returns the edges of c, each once, in the order of its corners.
func (c *Convex) edges() []edge {
	type half struct{ lo, hi, face, fwd int32 }
	var hs []half
	for f := range c.Faces {
		l := c.Faces[f].Loop
		for i, a := range l {
			b := l[(i+1)%len(l)]
			if a < b {
				hs = append(hs, half{a, b, int32(f), 0})
			} else {
				hs = append(hs, half{b, a, int32(f), 1})
			}
		}
	}
	sort.Slice(hs, func(i, j int) bool {
		x, y := hs[i], hs[j]
		if x.lo != y.lo {
			return x.lo < y.lo
		}
		if x.hi != y.hi {
			return x.hi < y.hi
		}
		return x.fwd < y.fwd
	})
	out := make([]edge, 0, len(hs)/2)
	for i := 0; i+1 < len(hs); i++ {
		x, y := hs[i], hs[i+1]
		if x.lo == y.lo && x.hi == y.hi && x.fwd == 0 && y.fwd == 1 {
			out = append(out, edge{x.lo, x.hi, x.face, y.face})
			i++
		}
	}
	return out
}

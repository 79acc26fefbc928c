package solid

// edge runs from a to b in face f and back in face g.
type edge struct{ a, b, f, g int32 }

// edges returns the edges of c, each once, in the order of its corners: those
// of one lower corner lie together, found by counting.
func (c *Convex) edges() []edge {
	type half struct{ hi, face, fwd int32 }
	at := make([]int32, len(c.V)+1) // where the next half edge of a corner goes
	n := 0
	for i := range c.Faces {
		l := c.Faces[i].Loop
		n += len(l)
		prev := l[len(l)-1]
		for _, cur := range l {
			at[min(prev, cur)+1]++
			prev = cur
		}
	}
	for v := range c.V {
		at[v+1] += at[v]
	}
	hs := make([]half, n)
	for f := range c.Faces {
		l := c.Faces[f].Loop
		for i, a := range l {
			h, lo := half{l[(i+1)%len(l)], int32(f), 0}, a
			if h.hi < a {
				h.hi, lo, h.fwd = a, h.hi, 1
			}
			hs[at[lo]] = h
			at[lo]++
		}
	}
	// Now at[v] is where the half edges of v end.
	out := make([]edge, 0, n/2)
	start := int32(0)
	for v := range c.V {
		part := hs[start:at[v]]
		start = at[v]
		for i := 1; i < len(part); i++ {
			for j := i; j > 0 && (part[j].hi < part[j-1].hi || part[j].hi == part[j-1].hi && part[j].fwd < part[j-1].fwd); j-- {
				part[j], part[j-1] = part[j-1], part[j]
			}
		}
		for i := 0; i+1 < len(part); i++ {
			if x, y := part[i], part[i+1]; x.hi == y.hi && x.fwd == 0 && y.fwd == 1 {
				out = append(out, edge{int32(v), x.hi, x.face, y.face})
				i++
			}
		}
	}
	return out
}

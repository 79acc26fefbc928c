package solid

import (
	"math"

	"dryfit/geom/tol"
)

// sieve appends to cut those faces of c, in order, that may take something off
// p: p is not strictly inside them. ok is false if one of them has all of p
// outside, within tol.Clip, so that the two share nothing. depth is not less than
// the least depth of p behind a face of c; it is an upper bound of the depth to
// which the two are in each other.
//
// Most pairs end at the box of p, and of the others most at the face that has
// the middle of the box farthest outside: it is tried first.
func (c *Convex) sieve(p *Convex, cut []int32) (_ []int32, depth float64, ok bool) {
	depth = math.Inf(1)
	mid, half := p.box.Center(), p.box.Size().Scale(0.5)
	hardest, most := 0, math.Inf(-1)
	for i := range c.Faces {
		pl := &c.Faces[i].Plane
		s := pl.Side(mid)
		e := float64(math.Abs(pl.N.X)*half.X) + float64(math.Abs(pl.N.Y)*half.Y) + float64(math.Abs(pl.N.Z)*half.Z)
		if e-s <= tol.Clip-tol.Zero {
			return cut, 0, false
		}
		if s > most {
			hardest, most = i, s
		}
		if s+e < -tol.Clip-tol.Zero {
			depth = min(depth, e-s)
			continue
		}
		cut = append(cut, int32(i))
	}
	if in, _ := p.reach(c.Faces[hardest].Plane); in <= tol.Clip {
		return cut, 0, false
	}
	n := 0
	for _, i := range cut {
		in, top := p.extent(c.Faces[i].Plane)
		if in <= tol.Clip {
			return cut, 0, false
		}
		depth = min(depth, in)
		if top >= -tol.Clip {
			cut[n] = i
			n++
		}
	}
	return cut[:n], depth, true
}

// extent returns how far c goes inside p, and how far outside, negative if it
// stays inside.
func (c *Convex) extent(p Plane) (in, top float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range c.V {
		d := p.Side(v)
		if d < lo {
			lo = d
		}
		if d > hi {
			hi = d
		}
	}
	return -lo, hi
}

// enters tells whether no face of either has all of the other outside.
func (k *knife) enters(p, q *Convex) (ok bool) {
	if k.cutP, _, ok = q.sieve(p, k.cutP[:0]); ok {
		k.cutQ, _, ok = p.sieve(q, k.cutQ[:0])
	}
	return ok
}

// meet returns what p and q share, in the memory of k until the next cut, or
// nil; its faces have no tags. depth bounds the depth to which they are in each
// other from above. The one with fewer cuts to make is cut.
func (k *knife) meet(p, q *Convex) (c *Convex, depth float64) {
	var ok bool
	var dp, dq float64
	if k.cutP, dp, ok = q.sieve(p, k.cutP[:0]); !ok {
		return nil, 0
	}
	if k.cutQ, dq, ok = p.sieve(q, k.cutQ[:0]); !ok {
		return nil, 0
	}
	cuts := k.cutP
	if len(k.cutQ) < len(cuts) {
		p, q, cuts = q, p, k.cutQ
	}
	c = p
	for _, i := range cuts {
		if c = k.shave(c, q.Faces[i].Plane, Seam); c == nil {
			return nil, 0
		}
	}
	return c, min(dp, dq)
}

package solid

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// sieve sorts out how p and q lie to each other: in cutP and cutQ it leaves those
// faces of q, and of p, that may take something off the other, in order. ok is
// false if some face has all of the other outside, within tol.Clip, so that the
// two share nothing. depth is not less than the depth to which they are in each
// other.
//
// Most pairs end at the box of one, and of the others most at the face that has
// the middle of the box farthest outside: it is tried first.
func (k *knife) sieve(p, q *Convex) (depth float64, ok bool) {
	var hardP, hardQ int
	var dp, dq float64
	if k.cutP, hardP, dp, ok = q.coarse(&p.box, k.cutP[:0]); !ok {
		return 0, false
	}
	if k.cutQ, hardQ, dq, ok = p.coarse(&q.box, k.cutQ[:0]); !ok {
		return 0, false
	}
	if in, _ := p.reach(q.Faces[hardP].Plane); in <= tol.Clip {
		return 0, false
	}
	if in, _ := q.reach(p.Faces[hardQ].Plane); in <= tol.Clip {
		return 0, false
	}
	if k.cutP, dp, ok = q.fine(p, k.cutP, dp); !ok {
		return 0, false
	}
	if k.cutQ, dq, ok = p.fine(q, k.cutQ, dq); !ok {
		return 0, false
	}
	return min(dp, dq), true
}

// coarse appends those faces of c that do not have all of the box strictly
// inside; depth bounds that of the box behind the others. ok is false if a face
// has all of it outside. hard is the face that has its middle farthest outside.
func (c *Convex) coarse(b *r3.Box, cut []int32) (_ []int32, hard int, depth float64, ok bool) {
	depth = math.Inf(1)
	most := math.Inf(-1)
	mid, half := b.Center(), b.Size().Scale(0.5)
	for i := range c.Faces {
		pl := &c.Faces[i].Plane
		s := pl.Side(mid)
		e := float64(math.Abs(pl.N.X)*half.X) + float64(math.Abs(pl.N.Y)*half.Y) + float64(math.Abs(pl.N.Z)*half.Z)
		if e-s <= tol.Clip-tol.Zero {
			return cut, 0, 0, false
		}
		if s > most {
			hard, most = i, s
		}
		if s+e < -tol.Clip-tol.Zero {
			depth = min(depth, e-s)
			continue
		}
		cut = append(cut, int32(i))
	}
	return cut, hard, depth, true
}

// fine keeps of cut those faces of c that do not have all of p strictly inside.
func (c *Convex) fine(p *Convex, cut []int32, depth float64) (_ []int32, _ float64, ok bool) {
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

// meet returns what p and q share, in the memory of k until the next cut, or
// nil; its faces have no tags. depth bounds the depth to which they are in each
// other from above. The one with fewer cuts to make is cut.
func (k *knife) meet(p, q *Convex) (c *Convex, depth float64) {
	depth, ok := k.sieve(p, q)
	if !ok {
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
	return c, depth
}

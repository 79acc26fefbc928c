package solid

import (
	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// Clip returns the part of c inside p. The new face carries tag; a face of c
// that already lies in p takes it too, if it was a Seam. ok is false if nothing
// of any volume is left. Corners within tol.Clip of the plane count as on it,
// and stay where they are.
func (c *Convex) Clip(p Plane, tag int32) (inside Convex, ok bool) {
	var k knife
	return k.clip(c, p, tag)
}

// Split returns the parts of c inside and outside p; the cut is a Seam of both.
func (c *Convex) Split(p Plane) (inside, outside Convex, okIn, okOut bool) {
	var k knife
	inside, okIn = k.clip(c, p, Seam)
	outside, okOut = k.clip(c, p.Flip(), Seam)
	return
}

// knife is the scratch memory of clipping, reused from cut to cut.
type knife struct {
	side  []float64
	remap []int32 // old vertex to new, -1 not yet
	cuts  []cut
	rimV  []bool     // which new vertices lie on the plane
	rim   [][2]int32 // edges along the plane, as the cap runs
	loop  []int32
	cutP  []int32 // faces of the other that may cut one piece of a pair, see sieve
	cutQ  []int32
	work  [2]bench
}

type cut struct{ a, b, at int32 } // the edge between old vertices a < b became at

// reach returns how far c goes inside and outside p, both at least 0.
func (c *Convex) reach(p Plane) (in, out float64) {
	for _, v := range c.V {
		d := p.Side(v)
		if -d > in {
			in = -d
		}
		if d > out {
			out = d
		}
	}
	return
}

// clip is Clip with the memory of k; the result has its own.
func (k *knife) clip(c *Convex, p Plane, tag int32) (Convex, bool) {
	r := k.shave(c, p, tag)
	if r == nil {
		return Convex{}, false
	}
	return k.keep(r), true
}

// keep returns r, copied if it lies in the memory of k.
func (k *knife) keep(r *Convex) Convex {
	if r != &k.work[0].c && r != &k.work[1].c {
		return *r
	}
	n := 0
	for i := range r.Faces {
		n += len(r.Faces[i].Loop)
	}
	out := *r
	out.V = append(make([]r3.Vec, 0, len(r.V)), r.V...)
	out.Faces = append(make([]Face, 0, len(r.Faces)), r.Faces...)
	pool := make([]int32, 0, n)
	for i := range out.Faces {
		pool = append(pool, out.Faces[i].Loop...)
		out.Faces[i].Loop = pool[len(pool)-len(out.Faces[i].Loop) : len(pool) : len(pool)]
	}
	return out
}

// bench is where a cut piece lies until it is kept or cut again.
type bench struct {
	c    Convex
	pool []int32
}

// shave returns what of c is inside p, nil if nothing is, c itself if all is.
// What is new lies in the memory of k until the second shave after this.
func (k *knife) shave(c *Convex, p Plane, tag int32) *Convex {
	k.side = k.side[:0]
	var in, out float64
	for _, v := range c.V {
		d := p.Side(v)
		if -d > in {
			in = -d
		}
		if d > out {
			out = d
		}
		if d <= tol.Clip && d >= -tol.Clip {
			d = 0
		}
		k.side = append(k.side, d)
	}
	if in <= tol.Clip {
		return nil
	}
	if out <= tol.Clip {
		return k.retag(c, tag)
	}
	w := &k.work[0]
	if c == &w.c {
		w = &k.work[1]
	}
	k.remap, k.cuts, k.rim, k.rimV = k.remap[:0], k.cuts[:0], k.rim[:0], k.rimV[:0]
	for range c.V {
		k.remap = append(k.remap, -1)
	}
	r := &w.c
	r.V, r.Faces, r.frame, r.box = r.V[:0], r.Faces[:0], c.frame, r3.Box{}
	w.pool = w.pool[:0]
	for i := range c.Faces {
		loop, keep := k.face(c, r, c.Faces[i].Loop)
		if !keep || len(loop) < 3 {
			continue
		}
		own := w.store(loop)
		r.Faces = append(r.Faces, Face{c.Faces[i].Plane, own, c.Faces[i].Tag})
		for j, a := range own {
			b := own[(j+1)%len(own)]
			if k.rimV[a] && k.rimV[b] {
				k.rim = append(k.rim, [2]int32{b, a})
			}
		}
	}
	if loop := k.cap(); len(loop) >= 3 {
		r.Faces = append(r.Faces, Face{p, w.store(loop), tag})
	}
	if len(r.Faces) < 4 {
		return nil
	}
	r.box = around(r.V)
	if thin := 1e3 * tol.Weld; in < thin || r.box.Size().X < thin || r.box.Size().Y < thin || r.box.Size().Z < thin {
		if r.Volume() < tol.Sliver {
			return nil
		}
	}
	return r
}

// around is r3.Around for what is never NaN, in a third of the time.
func around(vs []r3.Vec) r3.Box {
	b := r3.Box{Min: vs[0], Max: vs[0]}
	for _, v := range vs[1:] {
		if v.X < b.Min.X {
			b.Min.X = v.X
		}
		if v.X > b.Max.X {
			b.Max.X = v.X
		}
		if v.Y < b.Min.Y {
			b.Min.Y = v.Y
		}
		if v.Y > b.Max.Y {
			b.Max.Y = v.Y
		}
		if v.Z < b.Min.Z {
			b.Min.Z = v.Z
		}
		if v.Z > b.Max.Z {
			b.Max.Z = v.Z
		}
	}
	return b
}

func (w *bench) store(loop []int32) []int32 {
	start := len(w.pool)
	w.pool = append(w.pool, loop...)
	return w.pool[start:len(w.pool):len(w.pool)]
}

// face walks one loop of c and returns what is left of it as vertices of r;
// keep tells that some corner is truly inside.
func (k *knife) face(c, r *Convex, loop []int32) (left []int32, keep bool) {
	k.loop = k.loop[:0]
	prev := loop[len(loop)-1]
	for _, cur := range loop {
		sp, sc := k.side[prev], k.side[cur]
		if (sp < 0 && sc > 0) || (sp > 0 && sc < 0) {
			k.loop = append(k.loop, k.cross(c, r, prev, cur))
		}
		if sc <= 0 {
			keep = keep || sc < 0
			k.loop = append(k.loop, k.old(c, r, cur))
		}
		prev = cur
	}
	return k.loop, keep
}

// old returns the new index of an old vertex that is kept.
func (k *knife) old(c, r *Convex, i int32) int32 {
	if k.remap[i] < 0 {
		k.remap[i] = int32(len(r.V))
		r.V = append(r.V, c.V[i])
		k.rimV = append(k.rimV, k.side[i] == 0)
	}
	return k.remap[i]
}

// cross returns the vertex where the edge between a and b meets the plane. It
// is computed from the corner that comes first in space, so that two pieces
// which share the edge get the same bits.
func (k *knife) cross(c, r *Convex, a, b int32) int32 {
	if a > b {
		a, b = b, a
	}
	for _, x := range k.cuts {
		if x.a == a && x.b == b {
			return x.at
		}
	}
	p, q, sp, sq := c.V[a], c.V[b], k.side[a], k.side[b]
	if less(q, p) {
		p, q, sp, sq = q, p, sq, sp
	}
	at := int32(len(r.V))
	r.V = append(r.V, p.Add(q.Sub(p).Scale(sp/(sp-sq))))
	k.rimV = append(k.rimV, true)
	k.cuts = append(k.cuts, cut{a, b, at})
	return at
}

func less(p, q r3.Vec) bool {
	if p.X != q.X {
		return p.X < q.X
	}
	if p.Y != q.Y {
		return p.Y < q.Y
	}
	return p.Z < q.Z
}

// cap chains the edges that the kept faces have along the plane and no other
// kept face has reversed. Every corner on the plane is in it, those in the
// middle of a straight line too, so that the surface stays closed.
func (k *knife) cap() []int32 {
	rim := k.rim
	for i := 0; i < len(rim); i++ {
		for j := i + 1; j < len(rim); j++ {
			if rim[i][0] == rim[j][1] && rim[i][1] == rim[j][0] {
				rim = append(rim[:j], rim[j+1:]...)
				rim = append(rim[:i], rim[i+1:]...)
				i--
				break
			}
		}
	}
	k.loop = k.loop[:0]
	if len(rim) == 0 {
		return nil
	}
	first, at := rim[0][0], rim[0][1]
	k.loop = append(k.loop, first)
	for at != first && len(k.loop) <= len(rim) {
		k.loop = append(k.loop, at)
		next := int32(-1)
		for i := range rim {
			if rim[i][0] == at {
				next = rim[i][1]
				break
			}
		}
		if next < 0 {
			return nil
		}
		at = next
	}
	return k.loop
}

// retag gives tag to a Seam face of c that lies in the plane just tried.
func (k *knife) retag(c *Convex, tag int32) *Convex {
	if tag == Seam {
		return c
	}
	for i, f := range c.Faces {
		if f.Tag != Seam {
			continue
		}
		flat := true
		for _, v := range f.Loop {
			flat = flat && k.side[v] == 0
		}
		if flat {
			if c == &k.work[0].c || c == &k.work[1].c { // ours to change
				c.Faces[i].Tag = tag
				return c
			}
			r := *c
			r.Faces = append([]Face(nil), c.Faces...)
			r.Faces[i].Tag = tag
			return &r
		}
	}
	return c
}

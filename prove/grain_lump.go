package prove

import (
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/group"
	"dryfit/geom/outline"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// A lump is what glue has made one: the convex pieces of its bodies, and where they hang
// together. Cutting it by a plane gives the section, and what hangs on that.

// chunk is one convex piece of a lump.
type chunk struct {
	c      *solid.Convex
	piece  int
	volume float64
	lo, hi float64 // along the direction of the sweep
}

// seam is where two chunks hang together.
type seam struct {
	a, b   int
	pts    []r3.Vec
	lo, hi float64
}

type lump struct {
	ids    []int
	chunks []chunk
	seams  []seam
	first  map[int]int // the first chunk of a piece
	volume float64
}

// lump makes one of the pieces of a rigid body.
func (r *run) lump(ids []int) *lump {
	l := &lump{ids: ids, first: map[int]int{}}
	for _, i := range ids {
		b := r.m.Pieces[i].Bored()
		l.first[i] = len(l.chunks)
		for k := range b.Pieces {
			c := chunk{c: &b.Pieces[k], piece: i, volume: b.Pieces[k].Volume()}
			l.volume += c.volume
			l.chunks = append(l.chunks, c)
		}
		l.within(l.first[i])
	}
	for _, b := range r.meeting() {
		if !slices.Contains(ids, b.a) || !slices.Contains(ids, b.b) {
			continue
		}
		for _, p := range b.patches {
			pts := p.pts
			if pts == nil {
				pts = []r3.Vec{p.at}
			}
			l.join(l.at(b.a, p.at), l.at(b.b, p.at), pts)
		}
		for _, f := range b.fits {
			l.dowel(r, f)
		}
	}
	return l
}

// within finds the seams of the body whose chunks start at from: faces that look at each
// other in one plane, one of them at least without a surface (the other may go on beyond
// the wood as the wall of a hole).
func (l *lump) within(from int) {
	type side struct {
		chunk int
		seam  bool
		p     solid.Plane
		pts   []r3.Vec
		box   r3.Box
	}
	var all []side
	for i := from; i < len(l.chunks); i++ {
		c := l.chunks[i].c
		for _, f := range c.Faces {
			s := side{chunk: i, seam: f.Tag == solid.Seam, p: f.Plane}
			for _, v := range f.Loop {
				s.pts = append(s.pts, c.V[v])
			}
			s.box = r3.Around(s.pts...)
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b side) int { return sign(math.Abs(a.p.D) - math.Abs(b.p.D)) })
	for i := range all {
		for j := i + 1; j < len(all); j++ {
			a, b := &all[i], &all[j]
			if math.Abs(b.p.D)-math.Abs(a.p.D) > tol.Touch {
				break
			}
			if a.chunk == b.chunk || !a.seam && !b.seam || a.p.N.Dot(b.p.N) > -1+tol.Clip || math.Abs(a.p.D+b.p.D) > tol.Touch || !a.box.Grow(tol.Touch).Meets(b.box) {
				continue
			}
			u, v := basis(a.p.N)
			shared := outline.ClipConvex(flat(a.pts, u, v), flat(b.pts, u, v))
			if math.Abs(outline.SignedArea(shared)) <= tol.Clip {
				continue
			}
			s := seam{a: a.chunk, b: b.chunk}
			for _, q := range shared {
				s.pts = append(s.pts, spaceOf(q, u, v, a.p))
			}
			l.seams = append(l.seams, s)
		}
	}
}

func sign(x float64) int {
	switch {
	case x < 0:
		return -1
	case x > 0:
		return 1
	}
	return 0
}

// at lists the chunks of a piece that reach a point of its surface.
func (l *lump) at(piece int, p r3.Vec) (out []int) {
	for i := l.first[piece]; i < len(l.chunks) && l.chunks[i].piece == piece; i++ {
		if l.chunks[i].c.Contains(p, assembly.GlueMost+tol.Touch) {
			out = append(out, i)
		}
	}
	return out
}

func (l *lump) join(as, bs []int, pts []r3.Vec) {
	for _, a := range as {
		for _, b := range bs {
			l.seams = append(l.seams, seam{a: a, b: b, pts: pts})
		}
	}
}

// dowel joins a glued rod with all wood round it.
func (l *lump) dowel(r *run, f assembly.Fit) {
	c, dir, radius := r.m.Pieces[f.Rod].Axis()
	lo, hi := r.wood(f, c, dir)
	half := r.m.Pieces[f.Rod].Made.Size.X / 2
	ends := []r3.Vec{c.Add(dir.Scale(math.Max(lo, -half))), c.Add(dir.Scale(math.Min(hi, half)))}
	near := r3.Around(ends...).Grow(radius + assembly.GlueMost)
	var host []int
	for i := l.first[f.Piece]; i < len(l.chunks) && l.chunks[i].piece == f.Piece; i++ {
		if l.chunks[i].c.Bounds().Meets(near) {
			host = append(host, i)
		}
	}
	l.join([]int{l.first[f.Rod]}, host, ends)
}

// along measures everything along a direction.
func (l *lump) along(d r3.Vec) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range l.chunks {
		c := &l.chunks[i]
		_, c.hi = c.c.Support(d)
		_, low := c.c.Support(d.Neg())
		c.lo = -low
		lo, hi = math.Min(lo, c.lo), math.Max(hi, c.hi)
	}
	for i := range l.seams {
		s := &l.seams[i]
		s.lo, s.hi = math.Inf(1), math.Inf(-1)
		for _, p := range s.pts {
			x := p.Dot(d)
			s.lo, s.hi = math.Min(s.lo, x), math.Max(s.hi, x)
		}
	}
	return lo, hi
}

// between moves a plane off the ends of chunks, where it would cut only one of two that go on
// into each other.
func (l *lump) between(t float64) float64 {
	for again := true; again; {
		again = false
		for i := range l.chunks {
			if c := &l.chunks[i]; math.Abs(c.lo-t) < aside/2 || math.Abs(c.hi-t) < aside/2 {
				t, again = t+aside, true
			}
		}
	}
	return t
}

// aside is how far a plane is moved off the ends of chunks, mm: less than what is judged.
const aside = tol.Chord / 100

// limb is what hangs on one side of a plane: the chunks that are cut, how far it reaches
// beyond the plane, and its volume.
type limb struct {
	cut    []int
	reach  float64
	volume float64
}

// limbs lists what hangs together beyond the plane at t, above it or below.
func (l *lump) limbs(t float64, above bool) (out []limb) {
	beyond := func(lo, hi float64) bool {
		if above {
			return hi > t+tol.Clip
		}
		return lo < t-tol.Clip
	}
	g := group.New(len(l.chunks))
	for i := range l.seams {
		if s := &l.seams[i]; beyond(s.lo, s.hi) {
			g.Join(s.a, s.b)
		}
	}
	by := map[int]int{}
	for i := range l.chunks {
		c := &l.chunks[i]
		if !beyond(c.lo, c.hi) {
			continue
		}
		k, ok := by[g.Root(i)]
		if !ok {
			k = len(out)
			by[g.Root(i)] = k
			out = append(out, limb{})
		}
		m := &out[k]
		part := 1.0
		if c.lo < t-tol.Clip && c.hi > t+tol.Clip {
			m.cut = append(m.cut, i)
			part = (c.hi - t) / (c.hi - c.lo)
			if !above {
				part = 1 - part
			}
		}
		m.volume += float64(c.volume * part)
		if above {
			m.reach = math.Max(m.reach, c.hi-t)
		} else {
			m.reach = math.Max(m.reach, t-c.lo)
		}
	}
	return slices.DeleteFunc(out, func(m limb) bool { return len(m.cut) == 0 })
}

package solid

import (
	"sync/atomic"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// Body is a set of convex pieces whose insides do not meet. It is immutable:
// every method returns a new one, sharing what did not change. The zero Body is
// empty.
type Body struct {
	Pieces []Convex
	tree   []node
	topo   *topology // edges of the pieces; the same for every position of the body
}

// topology has the edges of every piece that was asked for them. Who comes
// first does not matter: they are the same whoever finds them.
type topology struct{ edges []atomic.Pointer[[]edge] }

// NewBody returns the body of the pieces; empty ones are left out.
func NewBody(pieces []Convex) Body {
	b := Body{Pieces: make([]Convex, 0, len(pieces))}
	for i := range pieces {
		if !pieces[i].Empty() {
			b.Pieces = append(b.Pieces, pieces[i])
		}
	}
	boxes := make([]r3.Box, len(b.Pieces))
	for i := range b.Pieces {
		boxes[i] = b.Pieces[i].box
	}
	b.tree = grow(boxes)
	b.topo = &topology{make([]atomic.Pointer[[]edge], len(b.Pieces))}
	return b
}

// edges returns the edges of piece i.
func (b *Body) edges(i int32) []edge {
	at := &b.topo.edges[i]
	if es := at.Load(); es != nil {
		return *es
	}
	es := b.Pieces[i].edges()
	at.Store(&es)
	return es
}

// Empty tells whether the body has no piece.
func (b Body) Empty() bool { return len(b.Pieces) == 0 }

// Bounds returns the smallest axis-aligned box around the body.
func (b Body) Bounds() r3.Box {
	if b.Empty() {
		return r3.EmptyBox()
	}
	return b.tree[0].box
}

// Vertices returns every corner of every piece once.
func (b Body) Vertices() []r3.Vec {
	seen := map[r3.Vec]bool{}
	var out []r3.Vec
	for i := range b.Pieces {
		for _, v := range b.Pieces[i].V {
			if !seen[v] {
				seen[v] = true
				out = append(out, v)
			}
		}
	}
	return out
}

// Support returns the corner farthest along dir, the first of equals.
func (b Body) Support(dir r3.Vec) r3.Vec {
	var best r3.Vec
	far, any := 0.0, false
	for i := range b.Pieces {
		at, d := b.Pieces[i].Support(dir)
		if !any || d > far {
			best, far, any = b.Pieces[i].V[at], d, true
		}
	}
	return best
}

// Transform returns the body moved by m.
func (b Body) Transform(m r3.Pose) Body {
	out := Body{Pieces: make([]Convex, len(b.Pieces)), tree: append([]node(nil), b.tree...), topo: b.topo}
	nv, nf := 0, 0
	for i := range b.Pieces {
		nv, nf = nv+len(b.Pieces[i].V), nf+len(b.Pieces[i].Faces)
	}
	vs, fs := make([]r3.Vec, nv), make([]Face, nf)
	for i := range b.Pieces {
		v, f := len(b.Pieces[i].V), len(b.Pieces[i].Faces)
		out.Pieces[i] = b.Pieces[i].moved(m, vs[:v:v], fs[:f:f])
		vs, fs = vs[v:], fs[f:]
	}
	for i := len(out.tree) - 1; i >= 0; i-- {
		n := &out.tree[i]
		if n.piece >= 0 {
			n.box = out.Pieces[n.piece].box
		} else {
			n.box = out.tree[n.left].box.Union(out.tree[n.right].box)
		}
	}
	return out
}

// Union returns the body of the pieces of both; the caller knows that their
// insides do not meet.
func (b Body) Union(c Body) Body {
	return NewBody(append(append(make([]Convex, 0, len(b.Pieces)+len(c.Pieces)), b.Pieces...), c.Pieces...))
}

// Clip returns what is inside p; the cut carries tag.
func (b Body) Clip(p Plane, tag int32) Body {
	var k knife
	out := make([]Convex, 0, len(b.Pieces))
	for i := range b.Pieces {
		if c, ok := k.clip(&b.Pieces[i], p, tag); ok {
			out = append(out, c)
		}
	}
	return NewBody(out)
}

// Intersect returns what b shares with the set of convex pieces with, whose
// insides do not meet: the wood that an outline keeps.
func (b Body) Intersect(with []Convex) Body {
	other := NewBody(with)
	var k knife
	out := make([]Convex, 0, len(b.Pieces))
	for i := range b.Pieces {
		p := &b.Pieces[i]
		within(other.tree, p.box, func(j int32) {
			if c := k.common(p, &other.Pieces[j]); c != nil {
				out = append(out, k.keep(c))
			}
		})
	}
	return NewBody(out)
}

// common returns what two convex pieces share, in the memory of k until the
// next cut, or nil.
func (k *knife) common(p, q *Convex) *Convex {
	if _, ok := k.sieve(p, q); !ok {
		return nil
	}
	r := p
	for _, i := range k.cutP {
		if r = k.shave(r, q.Faces[i].Plane, q.Faces[i].Tag); r == nil {
			return nil
		}
	}
	return r
}

// Carve returns b without c: the wood that a drill or a notch leaves. The new
// faces carry the tags of c. Pieces that c does not enter stay as they are.
func (b Body) Carve(c Convex) Body { return b.CarveAll([]Convex{c}) }

// CarveAll carves each of cs, in order; they may overlap.
func (b Body) CarveAll(cs []Convex) Body {
	var k knife
	pieces := b.Pieces
	changed := false
	for i := range cs {
		next := make([]Convex, 0, len(pieces)+len(cs[i].Faces))
		for j := range pieces {
			left, cut := k.carve(&pieces[j], &cs[i])
			if !cut {
				next = append(next, pieces[j])
				continue
			}
			changed = true
			next = append(next, left...)
		}
		pieces = next
	}
	if !changed {
		return b
	}
	return NewBody(pieces)
}

// carve returns p without c, or cut = false if c does not enter p.
func (k *knife) carve(p, c *Convex) (left []Convex, cut bool) {
	if !p.box.Meets(c.box) || c.Empty() {
		return nil, false
	}
	if _, ok := k.sieve(p, c); !ok {
		return nil, false
	}
	rest := p
	// part splits rest: what is outside pl is left, the rest is cut on.
	part := func(pl Plane, tag int32) bool {
		if _, out := rest.reach(pl); out <= tol.Clip {
			return true
		}
		// The bench that rest lies on must live through two cuts.
		if o, some := k.clip(rest, pl.Flip(), tag); some {
			left = append(left, o)
		}
		rest = k.shave(rest, pl, Seam)
		return rest != nil
	}
	// First cut a block clear around c, so that far wood stays in big pieces.
	for _, dir := range [3]r3.Vec{c.frame.U, c.frame.V, c.frame.W} {
		for _, d := range [2]r3.Vec{dir, dir.Neg()} {
			_, far := c.Support(d)
			pl := Plane{d, far}
			// An end of c in this plane makes the cut a true surface in part.
			if !part(pl, c.tagIn(pl)) {
				return nil, false
			}
		}
	}
	for i := range c.Faces {
		if !part(c.Faces[i].Plane, c.Faces[i].Tag) {
			return nil, false
		}
	}
	return left, true
}

// tagIn returns the tag of the face of c that lies in the plane, or Seam.
func (c *Convex) tagIn(p Plane) int32 {
	for i := range c.Faces {
		q := c.Faces[i].Plane
		if p.N.Sub(q.N).Len() < tol.Weld && p.D-q.D < tol.Clip && q.D-p.D < tol.Clip {
			return c.Faces[i].Tag
		}
	}
	return Seam
}

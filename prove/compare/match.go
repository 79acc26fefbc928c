package compare

import (
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// pair is an old piece and the new one that it became, by their numbers in the models.
type pair struct{ was, now int }

// match finds the pairs; the package comment has the order.
func (d *differ) match() {
	same := func(a, b *assembly.Piece) bool { return d.material(a, b) == "" && d.likeness(a, b).same }
	kind := func(a, b *assembly.Piece) bool { return a.Part.Shape == b.Part.Shape }
	for _, fit := range []func(a, b *assembly.Piece) bool{
		func(a, b *assembly.Piece) bool { return a.ID == b.ID && same(a, b) },
		func(a, b *assembly.Piece) bool { return a.Part.Name == b.Part.Name && same(a, b) },
		same,
		func(a, b *assembly.Piece) bool { return a.ID == b.ID && kind(a, b) },
		func(a, b *assembly.Piece) bool { return a.Part.Name == b.Part.Name && kind(a, b) },
		func(a, b *assembly.Piece) bool { return d.material(a, b) == "" && d.likeness(a, b).mirror },
	} {
		for k, b := range d.now.Pieces {
			if _, ok := d.ofNow[k]; ok {
				continue
			}
			for i, a := range d.was.Pieces {
				if _, ok := d.ofWas[i]; !ok && fit(a, b) {
					d.ofWas[i], d.ofNow[k] = len(d.pairs), len(d.pairs)
					d.pairs = append(d.pairs, pair{i, k})
					break
				}
			}
		}
	}
}

// name finds what the new toy calls what the old one has: pieces, glue-ups by their pieces, hinges
// by their pins.
func (d *differ) name() {
	for _, p := range d.pairs {
		a, b := d.was.Pieces[p.was], d.now.Pieces[p.now]
		d.toNow[a.ID] = b.ID
		for _, n := range d.boresNow(a, b) {
			if was := a.Made.Bores[n.from.index].Name; was != n.Name {
				d.toNow[a.ID+"/"+was] = b.ID + "/" + n.Name
			}
		}
	}
	for _, g := range d.was.GlueUps {
		for _, i := range g.Pieces {
			if k, ok := d.ofWas[i]; ok && d.now.Pieces[d.pairs[k].now].GlueUp != "" {
				d.toNow[g.ID] = d.now.Pieces[d.pairs[k].now].GlueUp
				break
			}
		}
	}
	for _, h := range d.was.Hinges {
		if k, ok := d.ofWas[h.Pin]; ok {
			for _, n := range d.now.Hinges {
				if n.Pin == d.pairs[k].now {
					d.hinge[h.Name] = n.Name
				}
			}
		}
	}
}

// called is what the new toy calls something of the old one; what it has not goes by its old name.
func (d *differ) called(id string) string {
	if now, ok := d.toNow[id]; ok {
		return now
	}
	return id
}

// hingeCalled is called for the name of a hinge, which a piece may have as well.
func (d *differ) hingeCalled(name string) string {
	if now, ok := d.hinge[name]; ok {
		return now
	}
	return name
}

// shift is how far a piece has moved in the world: the middle of the box around it, or of one that
// changed where its old blank, laid over the new one, would be now, from where it was.
func (d *differ) shift(p *pair) r3.Vec {
	a, b := d.was.Pieces[p.was], d.now.Pieces[p.now]
	r := d.relate(a, b)
	if r.same {
		return b.Body.Bounds().Center().Sub(a.Body.Bounds().Center())
	}
	mid := a.Made.Filled.Bounds().Center()
	return b.Pose.Point(r.align.Point(mid)).Sub(a.Pose.Point(mid))
}

// shared is the way that most pieces have gone, the earliest of equals: the toys are laid over
// each other by it, since the origin is only a corner of the first piece. Pieces that changed are
// asked only if all did.
func (d *differ) shared() r3.Vec {
	sure := func(p pair) bool { return d.likeness(d.was.Pieces[p.was], d.now.Pieces[p.now]).same }
	any := !slices.ContainsFunc(d.pairs, sure)
	var ways []r3.Vec
	var votes []int
	for k := range d.now.Pieces {
		i, ok := d.ofNow[k]
		if !ok || !any && !sure(d.pairs[i]) {
			continue
		}
		by, found := d.shift(&d.pairs[i]), false
		for j, w := range ways {
			if !found && by.Sub(w).Len() <= tol.Spare {
				votes[j]++
				found = true
			}
		}
		if !found {
			ways, votes = append(ways, by), append(votes, 1)
		}
	}
	best := -1
	for j := range ways {
		if best < 0 || votes[j] > votes[best] {
			best = j
		}
	}
	if best < 0 {
		return r3.Vec{}
	}
	return ways[best]
}

// gluedTo lists what an old piece is glued to, by id; another glue-up is one thing.
func (d *differ) gluedTo(piece int) []string {
	on := map[int]bool{}
	for _, g := range d.was.Glues {
		inA, inB := slices.Contains(g.A, piece), slices.Contains(g.B, piece)
		for _, i := range g.A {
			on[i] = on[i] || inB
		}
		for _, i := range g.B {
			on[i] = on[i] || inA
		}
	}
	for _, f := range d.was.Fits {
		if f.Kind == assembly.Glued && !f.Passing {
			on[f.Rod] = on[f.Rod] || f.Piece == piece
			on[f.Piece] = on[f.Piece] || f.Rod == piece
		}
	}
	out := []string{}
	for i, p := range d.was.Pieces {
		if !on[i] || i == piece {
			continue
		}
		id := p.ID
		if p.GlueUp != "" && p.GlueUp != d.was.Pieces[piece].GlueUp {
			id = p.GlueUp
		}
		if !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out
}

// turned tells whether a piece that is the same lies another way in the toy. What is round is not
// asked how far it is turned about its own axis.
func turned(a, b *assembly.Piece, r *relation) bool {
	for _, g := range r.turns {
		then := g.Then(b.Pose) // the old blank, as it lies in the new toy
		switch a.Part.Shape {
		case toy.Sphere:
			return false
		case toy.Disc:
			if then.W.Sub(a.Pose.W).Len() < tol.Angle {
				return false
			}
		case toy.Rod:
			if then.U.Sub(a.Pose.U).Len() < tol.Angle {
				return false
			}
		default:
			if then.U.Sub(a.Pose.U).Len()+then.V.Sub(a.Pose.V).Len() < tol.Angle {
				return false
			}
		}
	}
	return true
}

// page brings a number to the step at which numbers are told.
func page(x float64) float64 {
	if x = math.Round(x/tol.Page) / (1 / tol.Page); x == 0 {
		return 0 // and no negative zero
	}
	return x
}

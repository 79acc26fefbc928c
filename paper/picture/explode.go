package picture

import (
	"context"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/prove"
)

// The exploded view: every piece off its place along the way that it goes on, and with
// it all that is put onto it later, in the proved order.

// Exploded is the scene of the whole toy drawn apart along the ways of the proved order,
// with the numbers of all pieces; the toy as it stands where there is no such order.
func (d *Drafter) Exploded(seq prove.Sequence) Scene {
	s, _ := d.ExplodedContext(context.Background(), seq) // which is never cancelled
	return s
}

// ExplodedContext is Exploded with an end: once ctx is done no further step is drawn, and its
// error is returned.
func (d *Drafter) ExplodedContext(ctx context.Context, seq prove.Sequence) (Scene, error) {
	s := Scene{Shown: numbered(d.m), NoArrows: true}
	var units []pulled
	inner := map[string][]pulled{}
	for _, g := range grouped(d.m, seq) {
		if err := ctx.Err(); err != nil {
			return Scene{}, err
		}
		st := d.step(seq, g)
		for k, mv := range st.ways {
			u := pulled{pieces: mv.Pieces, out: mv.Out}
			if st.GlueUp != "" {
				u = d.inWorld(st, k)
				inner[st.GlueUp] = append(inner[st.GlueUp], u)
			} else {
				units = append(units, u)
			}
		}
	}
	gap := 0.0
	for _, p := range d.m.Pieces {
		gap = max(gap, p.Body.Bounds().Size().Len()*explodeShare)
	}
	off := map[int]r3.Vec{}
	for _, g := range d.m.GlueUps { // each in itself first
		first := first(g.Pieces, inner[g.ID])
		s.Moves = append(s.Moves, d.spread(first, inner[g.ID], off, gap)...)
	}
	units = joinedFirst(units)
	s.Moves = append(s.Moves, d.spread(first(indices(d.m), units), units, off, gap)...)
	return s, nil
}

// explodeShare is the room between what is drawn apart, as a share of the largest piece.
const explodeShare = 0.12

// pulled is pieces that are drawn out together.
type pulled struct {
	pieces []int
	out    []r3.Vec
}

// joinedFirst puts what is built apart and then joined before what is put onto it: it is
// drawn off by its first pieces, and the rest hangs on them.
func joinedFirst(units []pulled) []pulled {
	for k := range units {
		u := units[k]
		at := slices.IndexFunc(units[:k], func(v pulled) bool { return slices.Contains(u.pieces, v.pieces[0]) })
		if at < 0 {
			continue
		}
		own := slices.DeleteFunc(slices.Clone(u.pieces), func(i int) bool {
			return slices.ContainsFunc(units[:k], func(v pulled) bool { return slices.Contains(v.pieces, i) })
		})
		if len(own) == 0 {
			continue
		}
		units = slices.Insert(slices.Delete(slices.Clone(units), k, k+1), at, pulled{own, u.out})
	}
	return units
}

// inWorld carries a move inside a glue-up to where the glue-up is in the toy.
func (d *Drafter) inWorld(st Step, k int) (u pulled) {
	mv := st.ways[k]
	for _, g := range d.m.GlueUps {
		if g.ID != st.GlueUp {
			continue
		}
		turn := r3.Identity
		if st.Scene.Of != nil {
			turn = st.Scene.Of.Pieces[0].Pose.Inverse().Then(d.m.Pieces[g.Pieces[0]].Pose)
			for _, i := range mv.Pieces {
				u.pieces = append(u.pieces, g.Pieces[i])
			}
		} else {
			u.pieces = mv.Pieces
		}
		for _, v := range mv.Out {
			u.out = append(u.out, turn.Dir(v))
		}
	}
	return u
}

func indices(m *assembly.Model) (out []int) {
	for i := range m.Pieces {
		out = append(out, i)
	}
	return out
}

// first returns those of the pieces that no unit moves.
func first(pieces []int, units []pulled) (out []int) {
	for _, i := range pieces {
		if !slices.ContainsFunc(units, func(u pulled) bool { return slices.Contains(u.pieces, i) }) {
			out = append(out, i)
		}
	}
	return out
}

// spread draws units apart, each with all that hangs on it: off has what is off its place
// by now, and gets what is added.
func (d *Drafter) spread(base []int, units []pulled, off map[int]r3.Vec, gap float64) (moves []Move) {
	boxOf := func(pieces []int) r3.Box {
		b := r3.EmptyBox()
		for _, i := range pieces {
			c := d.m.Pieces[i].Body.Bounds()
			b = b.Union(r3.Box{Min: c.Min.Add(off[i]), Max: c.Max.Add(off[i])})
		}
		return b
	}
	parent := make([]int, len(units))
	carried := make([]r3.Vec, len(units)) // by what it hangs on
	var taken []r3.Box
	for _, i := range base {
		taken = append(taken, boxOf([]int{i}))
	}
	for k, u := range units {
		parent[k] = d.hangsOn(u, units[:k])
		if parent[k] >= 0 {
			carried[k] = carried[parent[k]]
			for _, v := range moves[parent[k]].Out {
				carried[k] = carried[k].Add(v)
			}
		}
		n := len(u.out) - 1
		legs := append([]r3.Vec(nil), u.out...)
		step := u.out[n].Unit().Scale(gap)
		by := carried[k].Add(Move{Out: legs}.off())
		own := boxOf(u.pieces)
		moved := func() r3.Box { return r3.Box{Min: own.Min.Add(by), Max: own.Max.Add(by)} }
		push := func() { by, legs[n] = by.Add(step), legs[n].Add(step) }
		push()
		for tries := 0; tries < 100 && meets(taken, moved().Grow(gap/3)); tries++ {
			push()
		}
		moves = append(moves, Move{Pieces: u.pieces, Out: legs})
		for _, i := range u.pieces {
			c := d.m.Pieces[i].Body.Bounds()
			w := off[i].Add(by)
			taken = append(taken, r3.Box{Min: c.Min.Add(w), Max: c.Max.Add(w)})
		}
	}
	for k := range units { // what hangs on it goes with it
		for p := parent[k]; p >= 0; p = parent[p] {
			moves[p].With = append(moves[p].With, units[k].pieces...)
		}
	}
	for i, by := range (Scene{Moves: moves}).offsets() {
		off[i] = off[i].Add(by)
	}
	return moves
}

// hangsOn returns which of the earlier units one is put onto: by glue, else by the hole
// that its rod is in; -1 if it is what no unit moves. Rods and the wheels on them hang on
// the wood around the rod.
func (d *Drafter) hangsOn(u pulled, before []pulled) int {
	unitOf := func(ids []int) int {
		for k := len(before) - 1; k >= 0; k-- {
			for _, i := range ids {
				if slices.Contains(before[k].pieces, i) {
					return k
				}
			}
		}
		return -1
	}
	in := func(i int) bool { return slices.Contains(u.pieces, i) }
	for _, a := range d.m.Axles {
		on := append(append([]int{a.Rod}, a.Wheels[0]...), a.Wheels[1]...)
		if slices.ContainsFunc(on, in) && len(a.Hosts) > 0 {
			return unitOf([]int{a.Hosts[0].Piece})
		}
	}
	for _, h := range d.m.Hinges {
		if in(h.Pin) && len(h.Fixed) > 0 {
			return unitOf([]int{h.Fixed[0].Piece})
		}
		for _, r := range h.Runs {
			if in(r.Piece) && len(h.Fixed) > 0 && !in(h.Fixed[0].Piece) {
				return unitOf([]int{h.Fixed[0].Piece})
			}
		}
		for _, r := range h.Fixed {
			if in(r.Piece) && len(h.Runs) > 0 && !in(h.Runs[0].Piece) {
				return unitOf([]int{h.Runs[0].Piece})
			}
		}
	}
	for _, g := range d.m.Glues {
		switch {
		case slices.ContainsFunc(g.A, in) && slices.ContainsFunc(g.B, in): // inside of it
		case slices.ContainsFunc(g.A, in):
			return unitOf(g.B)
		case slices.ContainsFunc(g.B, in):
			return unitOf(g.A)
		}
	}
	for _, f := range d.m.Fits {
		if in(f.Rod) && !in(f.Piece) {
			return unitOf([]int{f.Piece})
		}
		if in(f.Piece) && !in(f.Rod) {
			return unitOf([]int{f.Rod})
		}
	}
	return -1
}

// Exploded is the exploded scene of a toy.
func Exploded(m *assembly.Model, seq prove.Sequence) Scene { return NewDrafter(m).Exploded(seq) }

package assembly

import (
	"dryfit/geom/r3"
	"dryfit/toy"
)

// putGlueUp places the pieces of a glue-up on each other, does the work on it as
// one piece, and then puts the whole.
func (b *builder) putGlueUp(s toy.Put, g *toy.GlueUp) {
	first := len(b.m.Pieces) == 0
	start := len(b.m.Pieces)
	inner := &builder{m: &Model{Toy: b.m.Toy, byID: map[string][]int{}, fixed: map[string][3]*toy.Sit{}}, o: Options{Cache: b.o.Cache, Dev: b.o.Dev}, within: s.ID + "/", frames: map[string]r3.Pose{}}
	specs := make([]*spec, 0, len(g.Pieces))
	for _, q := range g.Pieces {
		p, _ := b.m.Toy.PartNamed(q.Part)
		sp, err := b.spec(p, s.ID+"/"+q.ID, 0)
		if err != nil {
			b.workProblem(err, q.At)
			return
		}
		lies := p.Lies
		if q.Lies != nil {
			lies = *q.Lies
		}
		i, ok := inner.addPiece(q.ID, p, sp, Attitude(lies), s.Leave, q.At)
		if !ok {
			b.probs = append(b.probs, inner.probs...)
			return
		}
		inner.settle(q, q.ID, i == 0)
		if i > 0 {
			inner.relations(q, []int{i})
		}
		if len(inner.probs) > 0 {
			b.probs = append(b.probs, inner.probs...)
			return
		}
		specs = append(specs, sp)
	}
	frame := inner.m.Pieces[0].Pose
	if !b.workTogether(s, g, inner, specs, frame) {
		return
	}
	ids := make([]int, len(g.Pieces))
	for k, q := range g.Pieces {
		ip := inner.m.Pieces[k]
		id := s.ID + "/" + q.ID
		i, ok := b.addPiece(id, ip.Part, specs[k], ip.Pose, s.Leave, ip.At)
		if !ok {
			return
		}
		b.m.Pieces[i].GlueUp = s.ID
		b.m.fixed[id] = inner.m.fixed[q.ID]
		ids[k] = i
	}
	b.m.byID[s.ID] = ids
	b.m.GlueUps = append(b.m.GlueUps, GlueUp{ID: s.ID, Spec: g, Pieces: ids, Leave: s.Leave})
	b.frames[s.ID] = frame
	for _, gl := range inner.m.Glues {
		b.m.Glues = append(b.m.Glues, Glue{A: offset(gl.A, start), B: offset(gl.B, start), Dir: gl.Dir, At: gl.At})
	}
	for _, k := range inner.m.Keys {
		b.m.Keys = append(b.m.Keys, Key{A: offset(k.A, start), B: offset(k.B, start), At: k.At})
	}
	for _, sa := range inner.m.Saddles {
		b.m.Saddles = append(b.m.Saddles, Saddle{A: offset(sa.A, start), B: offset(sa.B, start), Dir: sa.Dir, Spec: sa.Spec, At: sa.At})
	}
	b.settle(s, s.ID, first)
	b.relations(s, ids)
}

// workTogether carries the work on a glue-up into each of its pieces.
func (b *builder) workTogether(s toy.Put, g *toy.GlueUp, inner *builder, specs []*spec, frame r3.Pose) bool {
	if len(g.Work) == 0 {
		return true
	}
	reach := r3.EmptyBox() // all the wood, in the frame of the first piece
	back := frame.Inverse()
	for _, p := range inner.m.Pieces {
		for _, v := range p.Body.Vertices() {
			reach = reach.Add(back.Point(v))
		}
	}
	size := inner.m.Pieces[0].Made.Size
	cs, err := cutters(g.Work, size, size.Sub(b.o.Dev.of(s.ID+"/"+g.Pieces[0].ID, "blank").D), reach, s.ID, b.o.Dev)
	if err != nil {
		b.workProblem(err, s.At)
		return false
	}
	for _, w := range g.Work {
		f, ok := w.(toy.Flush)
		if !ok {
			continue
		}
		k := inner.m.byID[f.With][0]
		sf := SideFrame(f.Side, size)
		far := 0.0
		for i, v := range inner.m.Pieces[k].Body.Vertices() {
			if d := back.Point(v).Sub(sf.O).Dot(sf.W); i == 0 || d > far {
				far = d
			}
		}
		sf.O = sf.O.Add(sf.W.Scale(far))
		cs = append(cs, cutter{kind: plane, frame: sf, name: "sand-flush", at: f.At})
	}
	for k, p := range inner.m.Pieces {
		// from the first piece's frame into this piece's
		to := frame.Then(p.Pose.Inverse())
		for _, c := range cs {
			c.frame = c.frame.Then(to)
			if !c.named {
				c.name = "glue-up-" + c.name
			}
			specs[k].cutters = append(specs[k].cutters, c)
		}
	}
	return true
}

func offset(ids []int, by int) []int {
	out := make([]int, len(ids))
	for i, x := range ids {
		out[i] = x + by
	}
	return out
}

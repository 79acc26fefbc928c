package guide

import (
	"dryfit/shop"
	"dryfit/toy"
)

// glueUps is the chapter of what is glued into one piece before the build. Glue-ups
// of one kind are told once, with how many are made.
func (b *book) glueUps() {
	var steps []Step
	told := map[string]bool{}
	for _, g := range b.Model.GlueUps {
		if told[g.Spec.Name] {
			continue
		}
		told[g.Spec.Name] = true
		n := 0
		var ids []string
		for _, o := range b.Model.GlueUps {
			if o.Spec.Name == g.Spec.Name {
				n++
				ids = append(ids, b.named(o.ID))
			}
		}
		name := plain(g.Spec.Name)
		first := true
		for k, group := range b.Groups {
			if b.Order.Steps[group[0]].GlueUp != g.ID {
				continue
			}
			st := Step{Title: b.say("glue-up", "name", name), Shows: Shows{Group: k}}
			if !first {
				var adds []int
				for _, j := range group {
					adds = append(adds, b.Order.Steps[j].Pieces...)
				}
				st.Title = b.say("glue-up.more", "name", name, "piece", b.names(adds))
			}
			if first && n > 1 {
				st.Title = b.say("glue-up.many", "name", plural(name), "count", b.count(n))
				st.Does = append(st.Does, b.says("glue-up.alike", "names", b.listed(ids)))
			}
			first = false
			for _, j := range group {
				p := b.Order.Steps[j]
				st.Bench.Moves = append(st.Bench.Moves, Move{Pieces: p.Pieces, Onto: p.Onto, Clamped: len(p.Onto) > 0})
				if p.Step < 0 || p.Step >= len(g.Spec.Pieces) {
					st.Does = append(st.Does, b.says("join", "pieces", b.the(p.Pieces), "to", b.the(p.Onto)))
					continue
				}
				q := g.Spec.Pieces[p.Step]
				if len(p.Onto) == 0 {
					st.Does = append(st.Does, b.says("glue-up.first", "piece", b.the(p.Pieces)))
					continue
				}
				b.put(&st, q, p.Pieces, g.ID, true)
			}
			st.Dry = b.say("dry.clamp")
			b.done(&st, GlueUps, "glue", "clamp")
			st.Bench.GlueUp, st.Bench.Glued = g.Spec.Name, true
			steps = append(steps, st)
		}
		steps = append(steps, b.shape(g.ID, g.Spec, g.Pieces, n)...)
	}
	b.chapter(b.say("chapter.glue"), b.say("chapter.glue.says"), steps)
}

// shape is the step of the work on a glue-up.
func (b *book) shape(id string, g *toy.GlueUp, pieces []int, n int) []Step {
	if len(g.Work) == 0 {
		return nil
	}
	name := plain(g.Name)
	st := Step{Title: b.say("shape", "name", name), Shows: Shows{Group: -1, Pieces: pieces}}
	if n > 1 {
		st.Title = b.say("shape.many", "name", plural(name), "count", b.count(n))
	}
	st.Does = append(st.Does, b.says("shape.wait"))
	var tasks []string
	word := b.toySide(pieces[0])
	var with []string // what is sanded flush with each piece, told together
	sides := map[string][]string{}
	for _, w := range g.Work {
		if f, ok := w.(toy.Flush); ok {
			if sides[f.With] == nil {
				with = append(with, f.With)
			}
			sides[f.With] = append(sides[f.With], word(f.Side))
		}
	}
	for _, w := range with {
		st.Does = append(st.Does, b.says("flush", "with", b.named(id+"/"+w), "sides", b.listed(sides[w]), "name", name))
		tasks = append(tasks, "sand")
	}
	more, did := b.work(g.Work, n, nil, word)
	st.Pattern = patterned(g.Name, true, len(st.Does), g.Work)
	st.Does, tasks = append(st.Does, more...), append(tasks, did...)
	var all [][]int
	for _, o := range b.Model.GlueUps {
		if o.Spec.Name == g.Name {
			all = append(all, o.Pieces)
		}
	}
	last, did := b.smooth(g.Work, b.gluedTogether(all))
	st.Does, tasks = append(st.Does, last...), append(tasks, did...)
	b.done(&st, Shaping, tasks...)
	st.Bench.GlueUp = g.Name
	return []Step{st}
}

// toySide calls the sides of a glue-up, which are those of its first piece, by where
// they lie in the toy.
func (b *book) toySide(first int) func(toy.Side) string {
	p := b.Model.Pieces[first]
	return func(s toy.Side) string {
		if d, ok := shop.Looks(p, s); ok {
			return b.dirSide(d)
		}
		return shop.SideWord(s)
	}
}

// dirSide is what the side of the toy that looks so is called.
func (b *book) dirSide(d toy.Dir) string {
	return b.say("side." + [...]string{"top", "bottom", "right", "left", "front", "back"}[d])
}

package guide

import (
	"slices"

	"dryfit/assembly"
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
				st.Title = b.say("glue-up.more", "name", name)
			}
			if first && n > 1 {
				st.Title = b.say("glue-up.many", "name", plural(name), "count", b.count(n))
				st.Does = append(st.Does, b.says("glue-up.alike", "names", b.listed(ids)))
			}
			first = false
			for _, j := range group {
				p := b.Order.Steps[j]
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
			st.Who = b.who("glue", "clamp")
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
	for _, w := range g.Work {
		if f, ok := w.(toy.Flush); ok {
			st.Does = append(st.Does, b.says("flush", "with", b.named(id+"/"+f.With)))
			tasks = append(tasks, "sand")
		}
	}
	more, did := b.work(g.Work, n, nil, b.toySide(pieces[0]))
	st.Does, tasks = append(st.Does, more...), append(tasks, did...)
	last, did := b.smooth(slices.DeleteFunc(slices.Clone(g.Work), func(w toy.Work) bool { _, ok := w.(toy.Flush); return ok }))
	st.Does, tasks = append(st.Does, last...), append(tasks, did...)
	st.Who = b.who(tasks...)
	return []Step{st}
}

// toySide calls the sides of a glue-up, which are those of its first piece, by where
// they lie in the toy.
func (b *book) toySide(first int) func(toy.Side) string {
	p := b.Model.Pieces[first]
	return func(s toy.Side) string {
		out := assembly.SideFrame(s, p.Made.Size).W
		out = p.Pose.Dir(out)
		for axis, words := range [3][2]string{{"back", "front"}, {"right", "left"}, {"bottom", "top"}} {
			switch c := out.At(axis); {
			case c > 0.9:
				return b.say("side." + words[1])
			case c < -0.9:
				return b.say("side." + words[0])
			}
		}
		return shop.SideWord(s)
	}
}

package picture

import (
	"slices"
	"sort"
	"strings"

	"dryfit/assembly"
	"dryfit/prove"
	"dryfit/shop"
)

// Steps of the guide, after what is known to work (Agrawala et al., Designing Effective
// Step-by-Step Assembly Instructions, SIGGRAPH 2003): a drawing a step, what is added
// off its place on its path, what is there already quiet, like pieces in one step,
// glue-ups as sequences of their own, one viewpoint unless it hides the action.

// Step is one drawing of the guide: moves of the proved order that are shown together.
type Step struct {
	Paths  []int  // indices of the steps of the sequence, in order
	GlueUp string // id of the glue-up that they are inside of, "" in the build itself
	// Adds are the pieces that the step adds, by their numbers in the toy.
	Adds  []int
	Scene Scene

	ways []Move // as they are proved, without the room for arrows
}

// mostPieces is how many pieces may be added in one drawing.
const mostPieces = 8

// Steps returns the drawings of a proved order, in order. Glue-ups are drawn as they are
// before the work on them.
func (d *Drafter) Steps(seq prove.Sequence) []Step {
	var out []Step
	for _, g := range grouped(d.m, seq) {
		out = append(out, d.step(seq, g))
	}
	return out
}

// grouped says which moves go into one drawing: a step of the build, such as an axle
// with its wheels, and after it steps that put the same parts; and the first piece of
// all with what is put onto it.
func grouped(m *assembly.Model, seq prove.Sequence) (groups [][]int) {
	parts := func(ids []int) string {
		var names []string
		for _, k := range ids {
			for _, p := range seq.Steps[k].Pieces {
				names = append(names, m.Pieces[p].Part.Name)
			}
		}
		sort.Strings(names)
		return strings.Join(names, ",")
	}
	// The moves of one step of the build.
	var whole [][]int
	for k, st := range seq.Steps {
		if n := len(whole); n > 0 && st.Step >= 0 {
			last := seq.Steps[whole[n-1][0]]
			if last.GlueUp == st.GlueUp && last.Step == st.Step {
				whole[n-1] = append(whole[n-1], k)
				continue
			}
		}
		whole = append(whole, []int{k})
	}
	count := func(ids []int) (n int) {
		for _, k := range ids {
			n += len(seq.Steps[k].Pieces)
		}
		return n
	}
	last := ""
	base := map[string][]int{} // by glue-up: what comes first, with nothing to be put onto, till something is
	for k, w := range whole {
		st, n := seq.Steps[w[0]], len(groups)
		later := slices.ContainsFunc(whole[k+1:], func(v []int) bool { return seq.Steps[v[0]].GlueUp == st.GlueUp })
		if b := base[st.GlueUp]; len(b) > 0 && !slices.Contains(st.Onto, seq.Steps[b[0]].Pieces[0]) { // something else comes between
			groups, n = append(groups, b), n+1
			last, base[st.GlueUp] = "", nil
		}
		if len(w) == 1 && len(st.Onto) == 0 && later {
			base[st.GlueUp] = w
			continue
		}
		if n > 0 {
			g := groups[n-1]
			first := seq.Steps[g[len(g)-1]]
			same := first.GlueUp == st.GlueUp && st.Step >= 0 && first.Step >= 0
			if same && len(base[st.GlueUp]) == 0 && parts(w) == last && count(g)+count(w) <= mostPieces && len(st.Pieces) == 1 {
				groups[n-1] = append(g, w...)
				continue
			}
		}
		last = parts(w)
		if b := base[st.GlueUp]; len(b) > 0 {
			w = append(append([]int(nil), b...), w...)
			base[st.GlueUp] = nil
		}
		groups = append(groups, w)
	}
	return groups
}

// step makes the scene of a group of moves.
func (d *Drafter) step(seq prove.Sequence, group []int) Step {
	first := seq.Steps[group[0]]
	s := Step{Paths: group, GlueUp: first.GlueUp}
	m, local := d.m, func(i int) int { return i }
	if first.GlueUp != "" {
		for _, g := range d.m.GlueUps {
			if sub := d.beforeWork(g); g.ID == first.GlueUp && sub != nil {
				m, local = sub, func(i int) int { return slices.Index(g.Pieces, i) }
				s.Scene.Of = sub
			}
		}
	}
	there := map[int]bool{}
	for _, k := range group {
		for _, i := range append(append([]int(nil), seq.Steps[k].Onto...), seq.Steps[k].Pieces...) {
			there[i] = true
		}
		s.Adds = append(s.Adds, seq.Steps[k].Pieces...)
	}
	for i := range d.m.Pieces {
		if !there[i] {
			continue
		}
		p := Shown{Piece: local(i), Look: Quiet}
		if slices.Contains(s.Adds, i) {
			p.Look = New
		}
		s.Scene.Shown = append(s.Scene.Shown, p)
	}
	for _, k := range group {
		st := seq.Steps[k]
		mv := Move{Out: st.Out}
		for _, i := range st.Pieces {
			mv.Pieces = append(mv.Pieces, local(i))
		}
		if len(st.Pieces) == 1 {
			for j := range s.Scene.Shown {
				if s.Scene.Shown[j].Piece == mv.Pieces[0] {
					s.Scene.Shown[j].Number = shop.Number(st.Pieces[0])
				}
			}
		}
		if len(mv.Out) > 0 {
			s.Scene.Moves = append(s.Scene.Moves, mv)
		}
	}
	s.ways = d.choose(m, &s.Scene)
	return s
}

// beforeWork derives a glue-up as it is before the work on it, once; nil if it cannot be.
func (d *Drafter) beforeWork(g assembly.GlueUp) *assembly.Model {
	d.lock.Lock()
	defer d.lock.Unlock()
	if m, ok := d.before[g.Spec.Name]; ok {
		return m
	}
	t := *d.m.Toy
	t.GlueUps, t.Musts, t.Build = nil, nil, nil
	for _, p := range g.Spec.Pieces {
		t.Build = append(t.Build, p)
	}
	m, probs := assembly.Derive(&t, assembly.Options{})
	if len(probs) > 0 || len(m.Pieces) != len(g.Pieces) {
		m = nil
	}
	if d.before == nil {
		d.before = map[string]*assembly.Model{}
	}
	d.before[g.Spec.Name] = m
	return m
}

package shop

import (
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/toy"
)

// Spot says where pieces go in the toy, in words from its build. Pieces of one
// part that go alike share a spot; a glue-up has one as a whole, beside those of
// its pieces.
type Spot struct {
	Toy     string   `json:"toy,omitempty"`
	Numbers []int    `json:"numbers"` // in build order, as on picture and patterns
	IDs     []string `json:"ids"`
	Part    string   `json:"part"` // or the glue-up
	GlueUp  bool     `json:"glue_up,omitempty"`
	Where   string   `json:"where"`
}

// Number is what piece i of a model is called on every page: its place in the
// order of the build.
func Number(i int) int { return i + 1 }

// Name names the pieces of the spot by their ids, inside a glue-up by the short
// ones; ids that differ only in their count share a name.
func (s Spot) Name() string {
	var names []string
	for _, id := range s.IDs {
		if !s.GlueUp {
			id = id[strings.LastIndexByte(id, '/')+1:]
		}
		names = with(names, plainID(id))
	}
	return listed(names)
}

// plainID is an id without the count that tells it from others of its part.
func plainID(id string) string {
	if k := strings.LastIndexByte(id, '.'); k > 0 && strings.Trim(id[k+1:], "0123456789") == "" {
		return id[:k]
	}
	return id
}

// Spots says where every piece goes, in the order of the build.
func Spots(m *assembly.Model) []Spot {
	w := &words{toy: m.Toy, unit: m.Toy.Units, step: map[string]toy.Step{}}
	w.steps(m)
	var out []Spot
	add := func(s Spot) {
		for i := range out {
			if o := &out[i]; o.Part == s.Part && o.GlueUp == s.GlueUp && o.Where == s.Where {
				o.Numbers, o.IDs = append(o.Numbers, s.Numbers...), append(o.IDs, s.IDs...)
				return
			}
		}
		out = append(out, s)
	}
	for i, p := range m.Pieces {
		for _, g := range m.GlueUps {
			if g.Pieces[0] != i {
				continue
			}
			s := Spot{IDs: []string{g.ID}, Part: g.Spec.Name, GlueUp: true, Where: w.goes(g.ID, i == 0)}
			for _, k := range g.Pieces {
				s.Numbers = append(s.Numbers, Number(k))
			}
			add(s)
		}
		add(Spot{Numbers: []int{Number(i)}, IDs: []string{p.ID}, Part: p.Part.Name, Where: w.piece(m, i)})
	}
	return out
}

// words knows by which step each id came into the toy.
type words struct {
	toy  *toy.Toy
	unit measure.Unit
	step map[string]toy.Step
}

func (w *words) steps(m *assembly.Model) {
	for _, s := range m.Toy.Build {
		switch s := s.(type) {
		case toy.Put:
			w.step[s.ID] = s
		case toy.Peg:
			w.step[s.ID] = s
		case toy.Hinge:
			w.step[s.ID] = s
		case toy.Wheels:
			w.step[s.AxleID] = s
			for _, end := range s.WheelIDs {
				for _, id := range end {
					w.step[id] = s
				}
			}
		}
	}
}

// piece says where piece i goes.
func (w *words) piece(m *assembly.Model, i int) string {
	p := m.Pieces[i]
	if p.GlueUp == "" {
		return w.goes(p.ID, i == 0)
	}
	for _, g := range m.GlueUps {
		if g.ID != p.GlueUp {
			continue
		}
		at := slices.Index(g.Pieces, i)
		if at == 0 {
			return "first of the glue-up " + g.Spec.Name
		}
		q := g.Spec.Pieces[at]
		return w.put(q, "in the glue-up "+g.Spec.Name+": ")
	}
	return ""
}

// goes says where an id of the build goes.
func (w *words) goes(id string, first bool) string {
	switch s := w.step[id].(type) {
	case toy.Put:
		if first {
			return "first, the others are put on it"
		}
		return w.put(s, "")
	case toy.Peg:
		says := "in " + holesOf(s.In) + "; glued"
		if s.Proud > 0 {
			says += ", stands out " + s.Proud.Format(w.unit)
		}
		return says
	case toy.Hinge:
		return "glued in " + holesOf(s.Fixed) + "; turns in " + holesOf(s.Runs)
	case toy.Wheels:
		if id == s.AxleID {
			return "in " + holesOf(s.In)
		}
		return "on the axle in " + holesOf(s.In)
	}
	return ""
}

// holesOf names holes by piece: rear-axle and front-axle of frame.
func holesOf(refs []toy.Ref) string {
	var pieces []string
	holes := map[string][]string{}
	for _, r := range refs {
		pieces = with(pieces, r.Piece)
		holes[r.Piece] = with(holes[r.Piece], r.Feature)
	}
	var out []string
	for _, p := range pieces {
		out = append(out, listed(holes[p])+" of "+p)
	}
	return strings.Join(out, ", ")
}

// rodFor says in which holes the rod of an id is.
func (w *words) rodFor(id string) []toy.Ref {
	switch s := w.step[id].(type) {
	case toy.Peg:
		return s.In
	case toy.Hinge:
		return append(append([]toy.Ref(nil), s.Fixed...), s.Runs...)
	case toy.Wheels:
		return s.In
	}
	return nil // put, or in a glue-up
}

// rods says of rods cut alike which goes where: "axle: rear-axle and front-axle
// of frame". Those of one name share a line.
func (w *words) rods(ids []string) []string {
	var names []string
	refs := map[string][]toy.Ref{}
	where := map[string]string{} // of those that are put, not driven into holes
	for _, id := range ids {
		n := plainID(id)
		r := w.rodFor(id)
		if len(r) == 0 {
			n = id
			where[n] = w.goes(id, false)
		}
		names = with(names, n)
		refs[n] = append(refs[n], r...)
	}
	var out []string
	for _, n := range names {
		switch {
		case len(refs[n]) > 0:
			out = append(out, n+": "+holesOf(refs[n]))
		case where[n] != "":
			out = append(out, n+": "+where[n])
		default:
			out = append(out, n)
		}
	}
	return out
}

// Rods says of the rods among pieces (by index) which of them goes where.
func Rods(m *assembly.Model, pieces []int) []string {
	w := &words{toy: m.Toy, unit: m.Toy.Units, step: map[string]toy.Step{}}
	w.steps(m)
	var ids []string
	for _, i := range pieces {
		ids = append(ids, m.Pieces[i].ID)
	}
	return w.rods(ids)
}

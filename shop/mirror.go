package shop

import (
	"slices"

	"dryfit/assembly"
	"dryfit/toy"
)

// Left and right of one pattern: cut two, flip one. A part that is the mirror image of
// another is sawn and drilled as that one and turned over, where that gives the same.

// TurnedOver returns the parts of a toy that are p turned over: one pattern serves
// p and them. There are none where something is done to a piece of either once it is
// glued up, which only its own pattern can show.
func TurnedOver(m *assembly.Model, p *toy.Part) (out []*toy.Part) {
	if !p.TurnsOver() || !made(m, p) || worked(m, p) {
		return nil
	}
	for i := range m.Toy.Parts {
		if o := &m.Toy.Parts[i]; o.Mirrors == p.Name && made(m, o) && !worked(m, o) {
			out = append(out, o)
		}
	}
	return out
}

// IsTurnedOver tells whether a part is the one that it mirrors, turned over.
func IsTurnedOver(m *assembly.Model, p *toy.Part) bool {
	o, ok := m.Toy.PartNamed(p.Mirrors)
	return ok && slices.Contains(TurnedOver(m, o), p)
}

// made tells whether a part is in a toy: spares are made only of what is.
func made(m *assembly.Model, p *toy.Part) bool {
	return slices.ContainsFunc(m.Pieces, func(q *assembly.Piece) bool { return q.Part.Name == p.Name })
}

// worked tells whether a piece of a part is in a glue-up that is drilled or sawn.
func worked(m *assembly.Model, p *toy.Part) bool {
	for _, g := range m.GlueUps {
		has := slices.ContainsFunc(g.Pieces, func(i int) bool { return m.Pieces[i].Part.Name == p.Name })
		if has && slices.ContainsFunc(g.Spec.Work, func(w toy.Work) bool {
			switch w.(type) {
			case toy.Drill, toy.Saw, toy.Cut:
				return true
			}
			return false
		}) {
			return true
		}
	}
	return false
}

package pattern

import (
	"fmt"
	"strings"

	"dryfit/assembly"
	"dryfit/paper/draw"
	"dryfit/toy"
)

// thing is a part or glue-up with what is lettered above its pattern.
type thing struct {
	name, title, note string
	number            int
	order             string // said beside the side of a view, where there is nothing to choose
	glueUp            bool
	around            func(toy.Side) []draw.Run // what else is seen on a side, in its coordinates; may be nil
}

// blocks draws everything that a toy needs patterns for, parts in the order of
// the file, then glue-ups, then the list of dowels and balls. The error names a spare part
// that the build does not use and whose outline cannot be sawn.
func blocks(m *assembly.Model) ([]drawn, error) {
	s := &speaker{units: m.Toy.Units}
	var out []drawn
	var listed []entry
	number := 0
	for i := range m.Toy.Parts {
		p := &m.Toy.Parts[i]
		pieces := piecesOf(m, p)
		if len(pieces) == 0 && p.Spare == 0 {
			continue
		}
		number++
		if err := drawable(p.Name, p.Work); err != nil {
			return nil, err
		}
		_, sides := sidesOf(p.Work)
		if p.Shape == toy.Rod || p.Shape == toy.Sphere {
			listed = append(listed, s.entries(m, p, number, pieces)...)
			if len(sides) == 0 {
				continue
			}
		}
		size := blankSize(p, pieces)
		out = append(out, s.viewBlocks(s.partThing(m.Toy, p, number, len(pieces)), p.Shape, size, p.Bore.MM(), p.Work)...)
	}
	for i := range m.Toy.GlueUps {
		g := &m.Toy.GlueUps[i]
		_, sides := sidesOf(g.Work)
		n, first := 0, -1
		for _, u := range m.GlueUps {
			if u.Spec.Name == g.Name {
				if n++; first < 0 {
					first = u.Pieces[0]
				}
			}
		}
		if n == 0 {
			continue
		}
		number++
		if len(sides) > 0 {
			p := m.Pieces[first]
			of := s.glueUpThing(g, number, n)
			of.around = func(side toy.Side) []draw.Run { return outermost(m, first, side) }
			out = append(out, s.viewBlocks(of, p.Part.Shape, p.Made.Size, 0, g.Work)...)
		}
	}
	return append(out, s.list(listed)...), nil
}

func piecesOf(m *assembly.Model, p *toy.Part) []*assembly.Piece {
	var out []*assembly.Piece
	for _, q := range m.Pieces {
		if q.Part.Name == p.Name {
			out = append(out, q)
		}
	}
	return out
}

func (s *speaker) partThing(t *toy.Toy, p *toy.Part, number, n int) thing {
	verb := "cut"
	if p.Made == "bought" {
		verb = "buy"
	}
	notes := []string{s.stock(t, p.Stock)}
	switch p.Shape {
	case toy.Disc:
		notes = append(notes, "disc ⌀ "+s.mm(p.Length.MM()))
		if p.Made != "" {
			notes = append(notes, strings.ReplaceAll(p.Made, "-", " "))
		}
	case toy.Block:
		notes = append(notes, "blank "+s.by(p.Length.MM(), p.Width.MM()))
	}
	notes = append(notes, s.arrisWork(p.Work)...)
	return thing{name: p.Name, number: number, title: fmt.Sprintf("%d · %s: %s", number, p.Name, howMany(verb, n, p.Spare)), note: strings.Join(notes, ", ")}
}

func (s *speaker) glueUpThing(g *toy.GlueUp, number, n int) thing {
	var names []string
	counts := map[string]int{}
	for _, q := range g.Pieces {
		if counts[q.Part]++; counts[q.Part] == 1 {
			names = append(names, q.Part)
		}
	}
	for i, name := range names {
		if counts[name] > 1 {
			names[i] = fmt.Sprintf("%d %s", counts[name], name)
		}
	}
	notes := append([]string{"glue up " + strings.Join(names, " + "), "measured from the blank of " + g.Pieces[0].Part}, s.arrisWork(g.Work)...)
	return thing{name: g.Name, number: number, glueUp: true, order: togetherWords(g.Work) + " after the glue has set",
		title: fmt.Sprintf("%d · %s, glue-up: %s", number, g.Name, howMany("make", n, 0)), note: strings.Join(notes, ", ")}
}

// togetherWords says what is done to a glue-up.
func togetherWords(work []toy.Work) string {
	drill, saw := false, false
	for _, w := range work {
		switch w.(type) {
		case toy.Drill:
			drill = true
		case toy.Saw, toy.Cut:
			saw = true
		}
	}
	switch {
	case drill && saw:
		return "drill and saw"
	case drill:
		return "drill"
	}
	return "saw"
}

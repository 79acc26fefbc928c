package pattern

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/shop"
	"dryfit/toy"
)

// thing is a part or glue-up with what is lettered above its pattern.
type thing struct {
	name, title, note string
	verb              string // cut, buy
	where             string // where its pieces go in the toy
	numbers           []int
	order             string // said beside the side of a view, where there is nothing to choose
	n, spare          int    // how many are made
	glueUp            bool
	flips             []thing                   // parts that are this one turned over, by the same pattern
	around            func(toy.Side) []draw.Run // what else is seen on a side, in its coordinates; may be nil
	extent            func(toy.Side) r2.Box     // with it: all the wood as seen on a side
	hidden            func(toy.Side) bool       // with it: what is seen there lies before the first piece
	base              string                    // with it: what the first piece is called
	called            func(toy.Side) []line
	ways              func(toy.Side) []way
	turned            bool                      // it does not lie in the toy as it was sawn: its sides have no names of the toy
	later             func(toy.Side) []draw.Run // what is sawn and drilled after the glue-up, in the side's coordinates; may be nil
}

// blocks draws everything that a toy needs patterns for, parts in the order of
// the file, then glue-ups, then the list of dowels and balls. The error names a spare part
// that the build does not use and whose outline cannot be sawn.
func blocks(m *assembly.Model) ([]drawn, error) { return blocksWith(m, true) }

// blocksWith is blocks with the places of holes lettered, or without.
func blocksWith(m *assembly.Model, places bool) ([]drawn, error) {
	s := &speaker{toy: m.Toy, units: m.Toy.Units, bare: !places}
	spoken := shop.Spoken(m)
	var out []drawn
	var listed []entry
	spots := shop.Spots(m)
	for i := range m.Toy.Parts {
		p := &m.Toy.Parts[i]
		pieces := piecesOf(m, p)
		if len(pieces) == 0 && p.Spare == 0 || shop.IsTurnedOver(m, p) {
			continue
		}
		if err := drawable(p.Name, p.Work); err != nil {
			return nil, err
		}
		_, sides := sidesOf(p.Work)
		if p.Shape == toy.Rod || p.Shape == toy.Sphere {
			listed = append(listed, s.entries(m, p)...)
			if len(sides) == 0 {
				continue
			}
		}
		size := blankSize(p, pieces)
		of := s.partThing(m, p, spots, pieces)
		for _, o := range shop.TurnedOver(m, p) {
			back := *o
			back.Lies.Side = o.Lies.Side.Opposite() // its sides are lettered on the back of the paper
			of.flips = append(of.flips, s.partThing(m, &back, spots, piecesOf(m, o)))
		}
		if len(of.flips) > 0 {
			of.shareWith()
		}
		of.later = func(side toy.Side) []draw.Run {
			runs, _ := laterOn(m, p, side)
			return runs
		}
		if of.turned = !asSawn(pieces) || len(of.flips) > 0; of.turned && p.Shape == toy.Block {
			of.called = partSide(pieces)
		}
		out = append(out, s.viewBlocks(of, p.Shape, size, p.Bore.MM(), p.Work)...)
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
		if len(sides) > 0 || len(shop.ByHand(g.Work, s.units)) > 0 {
			p := m.Pieces[first]
			of := s.glueUpThing(g, spots, n, p)
			of.extent = func(side toy.Side) r2.Box { return extent(m, first, side) }
			of.hidden = func(side toy.Side) bool { return behind(m, first, side) }
			of.base = strings.ReplaceAll(p.Part.Name, "-", " ")
			of.called = glueUpSide(g.Name, p)
			of.ways = func(side toy.Side) []way { return waysOn(p, side) }
			of.around = func(side toy.Side) []draw.Run { return outermost(m, first, side) }
			out = append(out, s.viewBlocks(of, p.Part.Shape, p.Made.Size, 0, g.Work)...)
		}
	}
	for i := range listed {
		e := &listed[i]
		e.name, e.goes, e.stock = spoken(e.name), spoken(e.goes), spoken(e.stock)
	}
	for i := range out {
		d := &out[i]
		d.Title, d.Note, d.Where = spoken(d.Title), spoken(d.Note), spoken(d.Where)
	}
	out = append(append(legend(out), out...), s.list(listed)...)
	return append(out, s.strip(m)...), nil
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

// numbered is how the numbers of pieces stand before a title.
func numbered(n []int) string {
	if len(n) == 0 {
		return "" // spare only
	}
	return shop.Numbers(n) + " · "
}

// goes says where the pieces of a part or glue-up go in the toy; which of them
// where, if they go to different places.
func goes(spots []shop.Spot, name string, glueUp bool) (numbers []int, where string) {
	var own []shop.Spot
	for _, s := range spots {
		if s.Part == name && s.GlueUp == glueUp {
			own = append(own, s)
			numbers = append(numbers, s.Numbers...)
		}
	}
	slices.Sort(numbers)
	if len(own) == 1 {
		return numbers, fmt.Sprintf(goesTo, own[0].Where)
	}
	var says []string
	var told string // a start that is not said twice
	for _, s := range own {
		what := shop.Numbers(s.Numbers)
		if n := s.Name(); n != name {
			what += " " + n
		}
		rest := s.Where
		if at, ok := strings.CutPrefix(rest, onAxle); ok && told == onAxle {
			rest = at
		} else if ok {
			told = onAxle
		}
		says = append(says, what+" "+rest)
	}
	if len(says) == 0 {
		return nil, ""
	}
	return numbers, fmt.Sprintf(goTo, strings.Join(says, "; "))
}

func (s *speaker) partThing(m *assembly.Model, p *toy.Part, spots []shop.Spot, own []*assembly.Piece) thing {
	n := len(own)
	var ids []int
	for i, q := range m.Pieces {
		if q.Part.Name == p.Name {
			ids = append(ids, i)
		}
	}
	called := strings.Join(shop.CalledTogether(m, p, ids), ", ")
	verb := cutVerb
	if p.Made == "bought" {
		verb = buyVerb
	}
	notes := []string{s.stock(m.Toy, p.Stock)}
	switch p.Shape {
	case toy.Disc:
		notes = append(notes, fmt.Sprintf(discOf, s.mm(p.Length.MM())))
		if p.Made != "" {
			notes = append(notes, strings.ReplaceAll(p.Made, "-", " "))
		}
	case toy.Block:
		notes = append(notes, fmt.Sprintf(blankOf, s.by(p.Length.MM(), p.Width.MM())))
	}
	notes = append(notes, byHand(p.Work, s.units, asSawn(own))...)
	numbers, where := goes(spots, p.Name, false)
	if lies := shop.Lies(p.Lies); where != "" && lies != "" && p.Shape == toy.Block {
		where = fmt.Sprintf(inTheToy, lies) + where
	}
	if p.Mirrors != "" {
		called += fmt.Sprintf(mirrorOf, p.Mirrors)
	}
	return thing{name: p.Name, n: n, spare: p.Spare, numbers: numbers, where: where, verb: verb, title: numbered(numbers) + called + ": " + howMany(verb, n, p.Spare), note: strings.Join(notes, ", ")}
}

func (s *speaker) glueUpThing(g *toy.GlueUp, spots []shop.Spot, n int, first *assembly.Piece) thing {
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
	notes := append([]string{fmt.Sprintf(glueUpOf, strings.Join(names, " + ")), fmt.Sprintf(measuredFrom, g.Pieces[0].Part)}, byHandTogether(g.Work, s.units, first)...)
	numbers, where := goes(spots, g.Name, true)
	return thing{name: g.Name, n: n, numbers: numbers, where: where, glueUp: true, order: fmt.Sprintf(afterGlue, togetherWords(g.Work)),
		title: numbered(numbers) + g.Name + glueUpTitle + howMany(makeVerb, n, 0), note: strings.Join(notes, ", ")}
}

package shop

import (
	"fmt"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/measure"
)

// The drill list in words.

func (l *Lists) drillText(p *page) {
	if len(l.Bits) == 0 {
		return
	}
	p.blank()
	p.title("Drilling")
	says := "A blank lies with its face up, its other end (back) to your left and its edge (right) toward you. Lay out each hole from the two sides named over it, on the squared blank before any outline is sawn."
	if l.made() > 1 {
		says += " One setting of fence, stop and depth serves all pieces of a line: set it on the first, drill them all, then set the next."
	}
	p.para("", says)
	for _, b := range l.Bits {
		p.blank()
		p.para("", l.bitSays(b))
		for i := range b.SetUps {
			l.setUpText(p, &b.SetUps[i], b.SetUps[i].DrawnMM-b.DiaMM)
		}
	}
}

// bitSays names a bit, and what to do where there is none.
func (l *Lists) bitSays(b Bit) string {
	near := assembly.Bit{Below: facts.Drill{Name: b.Below}, Above: facts.Drill{Name: b.Above}}.Near()
	size := b.Name
	if size == "" {
		size = l.exact(b.DiaMM)
	}
	switch {
	case b.Lacks && b.Above == "":
		return "The shop has no bit as large as " + size + ": get one, saw the hole out, or take a hole saw"
	case b.Lacks && b.Name != "":
		return "Bit " + size + ", which the shop has not: get one, or make the hole in the toy file as wide as a bit there is (the nearest: " + near + ")"
	case b.Name == "" && b.Above == "":
		return "No bit is sold as large as " + size + " (the largest: " + b.Below + "): saw the hole out, or take a hole saw"
	case b.Name == "":
		return "No bit is sold for " + size + ": make the hole in the toy file as wide as a bit there is (the nearest: " + near + ")"
	case b.Above == "" && b.Below != "":
		return "Bit " + size + "; bits in " + l.unitName() + " are no larger than " + b.Below
	case b.Below != "":
		return "Bit " + size + "; of those in " + l.unitName() + " the nearest are " + near
	}
	return "Bit " + size
}

func (l *Lists) setUpText(p *page, s *SetUp, off float64) {
	n := len(s.Holes)
	what := l.ofPart(s.Toy, s.names())
	if len(s.TurnedOver) > 0 {
		what += " (turned over afterwards)"
	}
	if s.GlueUp {
		what += " (once it is glued up)"
	}
	says := []string{fmt.Sprintf("%s: %d %s%s", what, s.Pieces, plural(s.Pieces, "piece", "pieces"), spares(s.Spare))}
	switch s.Op {
	case OpPierce:
		says = append(says, "from the "+s.Side+", through the waste of "+openings(n)+", where the pattern marks it")
	case OpBore:
		says = append(says, "through the middle, "+l.size(s.WoodMM)+" of wood")
		switch s.Made {
		case MadeBought:
			says = append(says, "bought with a hole: measure it, and drill it out if it is smaller")
		case MadePlug:
			says = append(says, "the pilot bit of the hole saw makes this hole if it is this size")
		}
	case OpCounterbore:
		says = append(says, "from the "+s.Side, "counterbore with a flat bottom "+l.size(s.DepthMM)+" deep, before the hole in its middle")
	default:
		says = append(says, "from the "+s.Side, l.depth(s))
	}
	if s.LeanRad != 0 {
		says = append(says, "leaning "+measure.Angle(s.LeanRad).Format()+" off square, going in toward the "+s.Toward+" as you look at the side")
	}
	if s.Counter > 0 {
		says = append(says, "counterbored first, "+l.size(s.Counter)+" wide and "+l.size(s.CounterD)+" deep")
	}
	if !same(off, 0) {
		says = append(says, "drawn as "+l.exact(s.DrawnMM))
	}
	if n > 1 && s.Op != OpPierce {
		says = append(says, fmt.Sprintf("%d holes in each", n))
	}
	if s.Stack > 1 {
		says = append(says, fmt.Sprintf("%d at a time, taped together", s.Stack))
	}
	if s.AfterSaw {
		says = append(says, "drilled after sawing: mark it before the edges to measure from are gone")
	}
	p.para("  ", strings.Join(says, ", "))
	if s.Op == OpBore || s.Op == OpPierce {
		return
	}
	heads := []string{"hole", "from " + s.XFrom, "from " + s.YFrom}
	if s.FromPiece != "" {
		heads[1] += " of " + s.FromPiece
	}
	var rows [][]string
	for _, h := range s.Holes {
		rows = append(rows, []string{h.Name, l.number(h.XMM), l.number(h.YMM)})
	}
	p.table("      ", heads, rows)
}

// openings says how many a piece has.
func openings(n int) string {
	if n == 1 {
		return "its opening"
	}
	return fmt.Sprintf("each of its %d openings", n)
}

func (l *Lists) depth(s *SetUp) string {
	switch {
	case !s.Through:
		return l.size(s.DepthMM) + " deep"
	case s.WoodMM > 0:
		return "through " + l.size(s.WoodMM)
	}
	return "right through"
}

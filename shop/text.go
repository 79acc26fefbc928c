package shop

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"dryfit/measure"
)

// How finished weights and rough amounts are printed for an inch toy: avoirdupois
// ounce (28.349523125 g) and the square foot, exact by the 1959 agreement.
const (
	kgPerOunce = 0.028349523125
	m2PerFoot2 = 12 * 12 * inch * inch * 1e-6
)

// moreWood is how much more than the rough blanks to buy: for knots, and for
// offcuts too small to use. Common practice, no source: 15 to 30 percent.
const moreWood = "a quarter"

// Text prints the lists for a terminal or a sheet on the bench, in the units of
// the toy and at most Columns wide.
func (l *Lists) Text() string {
	p := &page{}
	p.title(l.Toy + ": stock, dowels, drilling")
	p.para("", fmt.Sprintf("%d pieces, %s when finished, spares not counted. Lengths are in %s.", l.Pieces, l.weight(l.WeightKg), l.unitName()))
	if len(l.Without) > 0 {
		p.para("", "Left out: "+strings.Join(l.Without, ", ")+".")
	}
	for _, n := range l.Notes {
		p.para("", "Note: "+n+".")
	}
	p.blank()
	l.stockText(p)
	if len(l.Dowels) > 0 {
		p.blank()
		l.dowelText(p)
	}
	if len(l.Bits) > 0 {
		p.blank()
		l.drillText(p)
	}
	l.handText(p)
	p.blank()
	l.spotText(p)
	text := p.b.String()
	if strings.Contains(text, "≈") {
		text += "\n≈ is the nearest 1/64 in; the true length is a little off it.\n"
	}
	return strings.Map(func(r rune) rune { // a name must not steer the terminal
		if r == tie {
			return ' '
		}
		if r != '\n' && !unicode.IsPrint(r) {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

func (l *Lists) stockText(p *page) {
	p.title("Stock")
	end, edge := l.allowances()
	p.para("", fmt.Sprintf("Sizes are length × width × thickness. The numbers are those on the picture and the patterns. Rough sizes allow %s in length and %s in width for sawing, discs %s both ways.",
		l.size(end), l.size(edge), l.size(edge)))
	for _, s := range l.Stock {
		p.blank()
		size := s.ThickMM
		what := " thick"
		if s.DiaMM > 0 {
			size, what = s.DiaMM, " diameter"
		}
		p.para("", fmt.Sprintf("%s: %s %s, %s%s", s.Name, s.Wood, s.Form, l.size(size), what))
		var rows [][]string
		for _, b := range s.Blanks {
			rows = append(rows, []string{Numbers(b.Numbers), b.Part, strconv.Itoa(b.Count), plus(b.Spare), l.finished(b), l.rough(b), b.Grain})
		}
		p.table("  ", []string{"no.", "part", ">pieces", ">spare", "finished", "rough", "grain"}, rows)
		p.para("  ", l.amount(s))
		for _, n := range s.Notes {
			p.para("  ", "Note: "+n+".")
		}
	}
}

func (l *Lists) finished(b Blank) string {
	switch b.Shape {
	case "disc":
		return l.number(b.LengthMM) + " dia × " + l.number(b.ThickMM)
	case "rod":
		return l.number(b.LengthMM) + " long" + star(b.Follows)
	case "ball":
		return l.number(b.LengthMM) + " dia"
	}
	return l.number(b.LengthMM) + " × " + l.number(b.WidthMM) + " × " + l.number(b.ThickMM)
}

func (l *Lists) rough(b Blank) string {
	switch {
	case b.RoughLengthMM == 0:
		return "bought"
	case b.Shape == "rod":
		return "see dowels"
	}
	return l.number(b.RoughLengthMM) + " × " + l.number(b.RoughWidthMM) + " × " + l.number(b.RoughThickMM)
}

// amount says how much to buy of a stock, and what is left of it in the toy.
func (l *Lists) amount(s Stock) string {
	var parts []string
	switch {
	case s.RoughAreaM2 == 0:
	case l.unit == measure.Inch && s.Form == "board":
		parts = append(parts, fmt.Sprintf("rough blanks %.2f board feet (%.2f sq ft; under 1 in thick counts as 1 in): buy %s more", s.BoardFeet, s.RoughAreaM2/m2PerFoot2, moreWood))
	case l.unit == measure.Inch:
		parts = append(parts, fmt.Sprintf("rough blanks %.2f sq ft: buy %s more", s.RoughAreaM2/m2PerFoot2, moreWood))
	default:
		parts = append(parts, fmt.Sprintf("rough blanks %.4f m² (%.6f m³): buy %s more", s.RoughAreaM2, s.RoughVolumeM3, moreWood))
	}
	return strings.Join(append(parts, "in the finished toy "+l.weight(s.WeightKg)), "; ")
}

func (l *Lists) dowelText(p *page) {
	p.title("Dowels")
	p.para("", fmt.Sprintf("Cut the long ones first. The total has %s for each saw cut and %s for a rough end.", l.size(l.kerf()), l.size(l.waste())))
	follows := false
	for _, d := range l.Dowels {
		p.blank()
		total := l.size(d.NeedMM) + " in all"
		if d.Sticks > 0 {
			total += fmt.Sprintf(": %d %s of %s", d.Sticks, plural(d.Sticks, "stick", "sticks"), l.size(d.StickMM))
		}
		p.para("", fmt.Sprintf("%s %s dowel (%s): %s", l.size(d.DiaMM), d.Wood, strings.Join(d.Stock, ", "), total))
		var rows [][]string
		for _, c := range d.Lengths {
			rows = append(rows, []string{l.number(c.LengthMM) + star(c.Follows), strconv.Itoa(c.Count), plus(c.Spare), Numbers(c.Numbers), strings.Join(c.For, "; ")})
			follows = follows || c.Follows
		}
		p.table("  ", []string{"length", ">pieces", ">spare", "no.", "for"}, rows)
		for _, n := range d.Notes {
			p.para("  ", "Note: "+n+".")
		}
	}
	if follows {
		p.blank()
		p.para("", "* follows from the build: measure it on your own parts before you cut.")
	}
}

func (l *Lists) drillText(p *page) {
	p.title("Drilling")
	p.para("", "A blank lies with its face up, its other end (back) to your left and its edge (right) toward you. Lay out each hole from the two sides named over it, on the squared blank before any outline is sawn.")
	for _, b := range l.Bits {
		p.blank()
		switch {
		case b.Name != "":
			says := "Bit " + b.Name
			if b.Below != "" || b.Above != "" {
				says += ", none in " + l.unitName() + ": " + between(b)
			}
			p.para("", says)
		default:
			p.para("", "No bit is sold for "+l.exact(b.DiaMM)+": "+between(b))
		}
		for i := range b.SetUps {
			l.setUpText(p, &b.SetUps[i], b.SetUps[i].DrawnMM-b.DiaMM)
		}
	}
}

// between names the bits on either side of a hole that has none.
func between(b Bit) string {
	switch {
	case b.Above == "":
		return "it is larger than the largest, " + b.Below + "; saw it, or use a hole saw"
	case b.Below == "":
		return "it is smaller than the smallest, " + b.Above
	}
	return "the nearest are " + b.Below + " and " + b.Above
}

// handText prints what is done by hand to the arrises.
func (l *Lists) handText(p *page) {
	if len(l.ByHand) == 0 && l.EaseMM == 0 {
		return
	}
	p.blank()
	p.title("By hand")
	for _, h := range l.ByHand {
		what := h.Part
		if h.GlueUp {
			what += " (once it is glued up)"
		}
		p.para("  ", fmt.Sprintf("%s: %d %s%s, %s", what, h.Pieces, plural(h.Pieces, "piece", "pieces"), spares(h.Spare), strings.Join(h.Says, "; ")))
	}
	if l.EaseMM > 0 {
		p.para("  ", "all: ease every arris by "+l.size(l.EaseMM))
	}
}

// spotText prints where each piece goes, in the order of the build.
func (l *Lists) spotText(p *page) {
	p.title("Where each piece goes")
	p.para("", "In the order of the build. Left, right, front, back, top and bottom are those of the toy, which drives forward.")
	for _, s := range l.Spots {
		p.para("  ", Numbers(s.Numbers)+" "+s.Name()+": "+s.Where)
	}
}

func (l *Lists) setUpText(p *page, s *SetUp, off float64) {
	n := len(s.Holes)
	what := s.names()
	if len(s.TurnedOver) > 0 {
		what += " (turned over afterwards)"
	}
	if s.GlueUp {
		what += " (once it is glued up)"
	}
	says := []string{fmt.Sprintf("%s: %d %s%s", what, s.Pieces, plural(s.Pieces, "piece", "pieces"), spares(s.Spare))}
	switch s.Op {
	case OpBore:
		says = append(says, "through the middle, "+l.size(s.WoodMM)+" of wood")
		switch s.Made {
		case "bought":
			says = append(says, "bought with a hole: measure it, and drill it out if it is smaller")
		case "hole-saw":
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
	if n > 1 {
		says = append(says, fmt.Sprintf("%d holes in each", n))
	}
	if s.AfterSaw {
		says = append(says, "drilled after sawing: mark it before the edges to measure from are gone")
	}
	p.para("  ", strings.Join(says, ", "))
	if s.Op == OpBore {
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

func (l *Lists) depth(s *SetUp) string {
	switch {
	case !s.Through:
		return l.size(s.DepthMM) + " deep"
	case s.WoodMM > 0:
		return "through " + l.size(s.WoodMM)
	}
	return "right through"
}

// exact names a size that no rule shows: inch toys get thousandths beside it.
func (l *Lists) exact(mm float64) string {
	if l.unit == measure.Inch {
		return fmt.Sprintf("%s (%.4f in)", l.size(mm), mm/inch)
	}
	return measure.FromMM(mm).Exact()
}

// size is a length that a line is not broken in.
func (l *Lists) size(mm float64) string {
	return strings.ReplaceAll(l.length(mm), " ", string(tie))
}

func (l *Lists) unitName() string {
	if l.unit == measure.Inch {
		return "inches"
	}
	return "millimetres"
}

func (l *Lists) weight(kg float64) string {
	if l.unit == measure.Inch {
		return fmt.Sprintf("%.1f%coz (%s)", kg/kgPerOunce, tie, grams(kg))
	}
	return grams(kg)
}

func grams(kg float64) string {
	digits := 0
	if kg < 0.01 {
		digits = 1
	}
	return fmt.Sprintf("%.*f%cg", digits, kg*1000, tie)
}

func plural(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

func plus(n int) string {
	if n == 0 {
		return ""
	}
	return "+" + strconv.Itoa(n)
}

func spares(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(" and %d spare", n)
}

func star(yes bool) string {
	if yes {
		return " *"
	}
	return ""
}

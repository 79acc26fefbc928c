package shop

import (
	"fmt"
	"strconv"
	"strings"

	"dryfit/measure"
	"dryfit/toy"
)

// The lists of wood and dowels in words.

func (l *Lists) stockText(p *page) {
	p.title("Stock")
	a := l.Allowance
	says := fmt.Sprintf("Sizes are length × width × thickness. The numbers are those on the picture and the patterns. Rough sizes allow %s in length and %s in width for sawing, discs %s both ways", l.size(a.LengthMM), l.size(a.WidthMM), l.size(a.WidthMM))
	if a.ThickMM > 0 {
		says += ", and rough boards lose " + l.size(a.ThickMM) + " to the planer"
	}
	if a.From != usualAllowance {
		says += ", as " + a.From + " says"
	}
	p.para("", says+".")
	p.para("", "What to buy of boards and sheets is reckoned by area. Whole boards can be more: dryfit layout says which, and what lies on each.")
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
			rows = append(rows, []string{l.of(b.Toy), Numbers(b.Numbers), b.Part, strconv.Itoa(b.Count), plus(b.Spare), l.finished(b), l.rough(b), shortGrain.Replace(b.Grain)})
		}
		p.table("  ", []string{"toy", "no.", "part", ">pieces", ">spare", "finished", "rough", "grain"}, rows)
		p.para("  ", l.amount(s))
		for _, x := range s.Strips {
			p.para("  ", fmt.Sprintf("or rip strips %s wide, %s of them in all, and cut %d blanks to length: %s", l.size(x.WidthMM), l.size(x.LengthMM), x.Pieces, strings.Join(x.Parts, ", ")))
		}
		for _, n := range s.Notes {
			p.para("  ", "Note: "+n+".")
		}
	}
}

func (l *Lists) finished(b Blank) string {
	switch b.Shape {
	case ShapeDisc:
		return l.number(b.LengthMM) + " dia × " + l.number(b.ThickMM)
	case ShapeRod:
		return l.number(b.LengthMM) + " long" + star(b.Follows)
	case ShapeBall:
		return l.number(b.LengthMM) + " dia"
	}
	return l.number(b.LengthMM) + " × " + l.number(b.WidthMM) + " × " + l.number(b.ThickMM)
}

func (l *Lists) rough(b Blank) string {
	switch {
	case b.RoughLengthMM == 0:
		return "bought"
	case b.Shape == ShapeRod:
		return "see dowels"
	}
	return l.number(b.RoughLengthMM) + " × " + l.number(b.RoughWidthMM) + " × " + l.number(b.RoughThickMM)
}

// amount says how much to buy of a stock, and what is left of it in the toy.
func (l *Lists) amount(s Stock) string {
	var parts []string
	switch {
	case s.RoughAreaM2 == 0:
	case l.unit == measure.Inch && s.Form == toy.Board.String():
		from := ""
		if s.Nominal != "" {
			from = "of " + s.Nominal + " "
		}
		says := fmt.Sprintf("rough blanks %.2f board feet %s(%.2f sq ft; %.6f m³)", s.BoardFeet, from, s.RoughAreaM2/m2PerFoot2, s.RoughVolumeM3)
		if s.tallyMM < thinnestTally {
			says = strings.Replace(says, ")", "; under 1 in thick counts as 1 in)", 1)
		}
		parts = append(parts, fmt.Sprintf("%s, with %s more for waste %.2f board feet", says, wasteWord, s.BoardFeet*(1+wasteShare)))
	case l.unit == measure.Inch:
		parts = append(parts, fmt.Sprintf("rough blanks %.2f sq ft (%.6f m³), with %s more for waste %.2f sq ft", s.RoughAreaM2/m2PerFoot2, s.RoughVolumeM3, wasteWord, s.BuyAreaM2/m2PerFoot2))
	default:
		parts = append(parts, fmt.Sprintf("rough blanks %.4f m² (%.6f m³; %.2f board feet), with %s more for waste %.4f m²", s.RoughAreaM2, s.RoughVolumeM3, s.BoardFeet, wasteWord, s.BuyAreaM2))
		parts[0] = strings.Replace(parts[0], "; 0.00 board feet", "", 1)
	}
	if l.rack != nil && s.RoughAreaM2 > 0 && (len(l.rack.Boards) > 0 || len(l.rack.Sold.Boards) > 0) {
		switch {
		case len(s.OnRack) == 0:
			parts = append(parts, "the rack has no such "+s.Form)
		default:
			left, enough := "", "enough by area"
			if s.TakenM2 > 0 {
				left = " left by what is listed before"
			}
			if s.ShortM2 > 0 {
				enough = l.area(s.ShortM2) + " short by area"
			}
			parts = append(parts, fmt.Sprintf("the rack has %s%s (%s): %s", l.area(s.OnRackM2), left, strings.Join(s.OnRack, ", "), enough))
		}
	}
	return strings.Join(append(parts, "in the finished "+plural(l.made(), "toy", "toys")+" "+l.weight(s.WeightKg)), "; ")
}

func (l *Lists) dowelText(p *page) {
	if len(l.Dowels) == 0 {
		return
	}
	p.blank()
	p.title("Dowels")
	p.para("", fmt.Sprintf("Each saw cut takes %s, and %s of each stick are lost to a rough end. Cut each stick in the order that is given.", l.size(l.kerf()), l.size(l.waste())))
	follows := false
	for i := range l.Dowels {
		d := &l.Dowels[i]
		p.blank()
		p.para("", fmt.Sprintf("%s %s dowel (%s): %s in all%s", l.size(d.DiaMM), d.Wood, strings.Join(d.Stock, ", "), l.size(d.NeedMM), l.toBuy(d)))
		var rows [][]string
		for _, c := range d.Lengths {
			rows = append(rows, []string{l.of(c.Toy), l.number(c.LengthMM) + star(c.Follows), strconv.Itoa(c.Count), plus(c.Spare), Numbers(c.Numbers), strings.Join(c.For, "; ")})
			follows = follows || c.Follows
		}
		p.table("  ", []string{"toy", "length", ">pieces", ">spare", "no.", "for"}, rows)
		rows = nil
		for _, s := range d.Sticks {
			var cuts []string
			for _, c := range s.Cuts {
				if c.Count == 1 {
					cuts = append(cuts, l.number(c.LengthMM))
				} else {
					cuts = append(cuts, fmt.Sprintf("%d of %s", c.Count, l.number(c.LengthMM)))
				}
			}
			rows = append(rows, []string{strconv.Itoa(s.Times), l.stickName(s), l.number(s.LeftMM), strings.Join(cuts, ", ")})
		}
		p.table("  ", []string{">sticks", "from", "left of each", "cut in this order"}, rows)
		for _, n := range d.Notes {
			p.para("  ", "Note: "+n+".")
		}
	}
	if follows {
		p.blank()
		p.para("", "* follows from the build: measure it on your own parts before you cut.")
	}
}

func (l *Lists) stickName(s Stick) string {
	switch s.From {
	case FromRack:
		return l.number(s.LengthMM) + ", " + s.Name
	case FromSold:
		return l.number(s.LengthMM) + ", to buy (" + s.Name + ")"
	}
	return l.number(s.LengthMM) + ", to buy"
}

// toBuy says what sticks to buy, and whether less would do.
func (l *Lists) toBuy(d *Dowel) string {
	says, short := "", 0
	if len(d.Buy) > 0 {
		says = "; buy " + l.Sticks(d)
	}
	for _, x := range d.Short {
		short += x.Count
	}
	switch {
	case short > 0:
		return says + fmt.Sprintf("; %d %s short", short, plural(short, "piece is", "pieces are"))
	case len(d.Buy) == 0 && len(d.Sticks) > 0:
		return "; all of it is on the rack"
	case len(d.Buy) == 0:
		return ""
	}
	what := "length"
	if d.ByPrice {
		what = "price"
	}
	switch {
	case d.Proved:
		return says + " (proved to be the least by " + what + ")"
	case d.ByPrice:
		return says + fmt.Sprintf(" (at least %.2f has to be paid)", d.Least)
	}
	return says + " (at least " + l.size(settled(d.Least)) + " is needed)"
}

// Sticks says how many sticks to buy of a dowel: "1 stick of 36 in and 2 sticks of 48 in".
func (l *Lists) Sticks(d *Dowel) string {
	var out []string
	for _, b := range d.Buy {
		out = append(out, fmt.Sprintf("%d %s of %s", b.Count, plural(b.Count, "stick", "sticks"), l.size(b.LengthMM)))
	}
	return listed(out)
}

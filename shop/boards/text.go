package boards

import (
	"fmt"
	"strings"
	"unicode"

	"dryfit/facts"
	"dryfit/measure"
	"dryfit/shop"
)

// Marked is a place to the step that boards are marked out to, as nobody does to less: what
// rounding to it takes from a gap is a small part of the handling. The step is said by MarkStep;
// sizes are not rounded to it.
func Marked(mm float64, u measure.Unit) string {
	step := markStep(u)
	n := float64(int64(mm/step + 0.5))
	return measure.FromMM(n * step).Number(u)
}

func markStep(u measure.Unit) float64 {
	if u == measure.Inch {
		return facts.MMPerInch / 32
	}
	return 0.5
}

// MarkStep is the step of Marked in words.
func MarkStep(u measure.Unit) string { return measure.FromMM(markStep(u)).Format(u) }

// Unit is the unit that the plan speaks in.
func (p *Plan) Unit() measure.Unit { return p.unit }

// Spares are the boards of the rack that nothing lies on.
func (p *Plan) Spares() []Board { return p.spares }

// Size is a size in words, as the stock list has it: 5 1/4 × 3 in.
func (p *Plan) Size(length, width float64) string {
	return p.Sides(length, width) + " " + p.unit.Symbol()
}

// Sides is a size without the unit.
func (p *Plan) Sides(length, width float64) string {
	return p.Number(length) + " × " + p.Number(width)
}

// Number is a length without the unit.
func (p *Plan) Number(mm float64) string { return measure.FromMM(mm).Number(p.unit) }

// Margins says what is kept free.
func (p *Plan) Margins() string {
	out := p.Length(p.KerfMM) + " of kerf between pieces, and " + p.Length(p.HandlingMM) + " beyond it between outlines and from them to the edge"
	for _, s := range p.Stocks {
		for _, b := range s.Boards {
			if len(b.Flaws) > 0 {
				return out + "; flaws are kept clear of by " + p.Length(p.FlawMM) + " or more"
			}
		}
	}
	return out
}

// Length is a length in words.
func (p *Plan) Length(mm float64) string { return measure.FromMM(mm).Format(p.unit) }

// Area is an area in words.
func (p *Plan) Area(m2 float64) string {
	if p.unit == measure.Inch {
		return fmt.Sprintf("%.2f sq ft", m2/(12*12*facts.MMPerInch*facts.MMPerInch*1e-6))
	}
	return fmt.Sprintf("%.3f m²", m2)
}

// Heading names what is laid: 20 × Quay tram.
func (p *Plan) Heading() string {
	var out []string
	for _, t := range p.Toys {
		out = append(out, fmt.Sprintf("%d × %s", t.Count, t.Toy))
	}
	return strings.Join(out, ", ")
}

// Name is a stock in words.
func (p *Plan) Name(s *Stock) string {
	return fmt.Sprintf("%s %s, %s thick", s.Wood, s.Form, p.Length(s.ThickMM))
}

// Says sums up a stock in a sentence or two.
func (p *Plan) Says(s *Stock) string {
	n := 0
	for _, b := range s.Boards {
		if b.From != FromTrade {
			n++
		}
	}
	out := fmt.Sprintf("%d %s, no board for them", s.Pieces, plural(s.Pieces, "piece"))
	if n > 0 {
		out = fmt.Sprintf("%d of %d pieces on %d %s", s.Placed, s.Pieces, n, plural(n, s.Form))
		out += fmt.Sprintf(" of %s, %.0f %% of them used", p.Area(s.BoardsM2), 100*s.Share)
	}
	return out
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

// Shorts says what has no place and why, a line for each reason.
func (p *Plan) Shorts(s *Stock) (out []string) {
	var whys []string
	parts := map[string][]string{}
	for _, x := range s.Short {
		if parts[x.Why] == nil {
			whys = append(whys, x.Why)
		}
		of := ""
		if x.Toy != "" {
			of = " of " + x.Toy
		}
		parts[x.Why] = append(parts[x.Why], fmt.Sprintf("%d %s%s", x.Count, x.Part, of))
	}
	for _, w := range whys {
		out = append(out, "short: "+strings.Join(parts[w], ", ")+": "+w)
	}
	return out
}

// Buys says what to buy, a line for each kind.
func (p *Plan) Buys(s *Stock) (out []string) {
	for _, b := range s.Buy {
		line := fmt.Sprintf("buy: %d × %s, %s, %s thick", b.Count, b.Name, p.Size(b.LengthMM, b.WidthMM), p.Length(b.ThickMM))
		if b.Price > 0 {
			line += fmt.Sprintf(", %.2f", b.Price)
			if p.Money != "" {
				line += " " + p.Money
			}
		}
		if b.Source != "" {
			line += " (commonly sold so; any like it will do)"
		}
		out = append(out, line)
	}
	return out
}

// About says what there is to know of a board beside its pieces.
func (p *Plan) About(b *Board) string {
	says := []string{fmt.Sprintf("%d %s", len(b.Places), plural(len(b.Places), "piece"))}
	if b.AreaM2 > 0 {
		says = append(says, fmt.Sprintf("%.0f %% used", 100*b.PiecesM2/b.AreaM2))
	}
	if b.PlaneToMM > 0 {
		from := p.Length(b.ThickMM) + " to " + p.Length(b.PlaneToMM)
		if b.CutMM > 0 {
			says = append(says, "first cut "+p.Length(b.CutMM)+" off it and plane only that, from "+from)
		} else {
			says = append(says, "plane it from "+from+" first")
		}
	}
	if b.From != FromRack {
		says = append(says, "to be bought")
	}
	if len(b.Left) > 0 {
		says = append(says, "left "+p.Size(b.Left[0].LengthMM, b.Left[0].WidthMM))
	}
	return strings.Join(says, ", ")
}

// Text says the plan in words: boards used, how well, what is left, what is short.
func (p *Plan) Text() string {
	var b strings.Builder
	line := func(indent, s string) { b.WriteString(shop.Wrapped(indent, indent+"  ", s)) }
	line("", p.Heading())
	for _, n := range p.Notes {
		line("", n)
	}
	line("", p.Margins()+".")
	for i := range p.Stocks {
		s := &p.Stocks[i]
		b.WriteByte('\n')
		line("", p.Name(s)+": "+p.Says(s))
		for k := range s.Boards {
			line("  ", s.Boards[k].Name+": "+p.About(&s.Boards[k]))
		}
		for _, x := range append(p.Shorts(s), p.Buys(s)...) {
			line("  ", x)
		}
		for _, n := range s.Notes {
			line("  ", "note: "+n)
		}
	}
	if len(p.Unused) > 0 {
		b.WriteByte('\n')
		line("", "Not needed: "+strings.Join(p.Unused, ", ")+".")
	}
	return strings.Map(func(r rune) rune { // a name must not steer the terminal
		if r != '\n' && !unicode.IsPrint(r) {
			return unicode.ReplacementChar
		}
		return r
	}, b.String())
}

package boards

import (
	"fmt"
	"strings"
	"unicode"

	"dryfit/facts"
	"dryfit/measure"
)

// Marked is the step to which places are said, finer than which nobody marks out a board: what
// rounding to it takes from a gap is a small part of the handling.
func Marked(mm float64, u measure.Unit) string {
	step := 0.5
	if u == measure.Inch {
		step = facts.MMPerInch / 32
	}
	n := float64(int64(mm/step + 0.5))
	return measure.FromMM(n * step).Number(u)
}

// Unit is the unit that the plan speaks in.
func (p *Plan) Unit() measure.Unit { return p.unit }

// Spares are the boards of the rack that nothing lies on.
func (p *Plan) Spares() []Board { return p.spares }

// Size is a size in words: 5 1/4 × 3 in.
func (p *Plan) Size(length, width float64) string {
	return Marked(length, p.unit) + " × " + Marked(width, p.unit) + " " + p.unit.Symbol()
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
		line := fmt.Sprintf("buy: %d %s, %s, %s thick", b.Count, b.Name, p.Size(b.LengthMM, b.WidthMM), p.Length(b.ThickMM))
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
		says = append(says, "plane it from "+p.Length(b.ThickMM)+" to "+p.Length(b.PlaneToMM)+" first")
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
	line := func(indent, s string) {
		const wide = 100
		out := indent
		for _, w := range strings.Fields(s) {
			if len([]rune(out))+1+len([]rune(w)) > wide && strings.TrimSpace(out) != "" {
				b.WriteString(out + "\n")
				out = indent + "  "
			}
			if strings.TrimSpace(out) != "" {
				out += " "
			}
			out += w
		}
		b.WriteString(out + "\n")
	}
	line("", p.Heading())
	line("", fmt.Sprintf("%s of kerf between pieces, %s beyond it between outlines and from them to the edge.", p.Length(p.KerfMM), p.Length(p.HandlingMM)))
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

package app

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"dryfit/measure"
	"dryfit/prove"
)

// ReportText writes a proof for a reader: what fails first, then what to mind,
// and what holds in a line each. mark, if not nil, wraps the word of a verdict
// (for a terminal).
func ReportText(r *prove.Report, units measure.Unit, mark func(v prove.Verdict, word string) string) string {
	if mark == nil {
		mark = func(_ prove.Verdict, word string) string { return word }
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %d pieces, %s\n", r.Toy, r.Pieces, weight(r.MassKg, units))
	counts := map[prove.Verdict]int{}
	for _, v := range []prove.Verdict{prove.Fails, prove.CannotTell, prove.Mind, prove.Waived} {
		for _, f := range r.Findings {
			if f.Verdict != v {
				continue
			}
			counts[v]++
			fmt.Fprintf(&b, "\n%s  %s\n", mark(v, fmt.Sprintf("%-11s", v)), f.ID)
			line := func(format string, args ...any) {
				b.WriteString(indent(fmt.Sprintf(format, args...), 13, 96))
			}
			line("%s", f.Says)
			if f.Unit != "" && f.Verdict != prove.CannotTell { // a yes or no has no measure
				op := "at least"
				if f.LimitOp == "<=" {
					op = "at most"
				}
				value, limit := toldApart(f.Value, f.Limit, f.Unit, units)
				line("measured %s, limit %s %s (%s)", value, op, limit, f.Source)
			}
			for _, n := range f.Notes {
				line("%s", n)
			}
			for _, m := range f.Mend {
				line("mend: %s", MendText(m))
			}
			if f.Mend != nil && len(f.Mend) == 0 {
				line("mend: no single size can")
			}
			for _, p := range f.Places {
				at := p.Piece + slash(p.Feature)
				if p.Line > 0 {
					at += fmt.Sprintf(", line %d", p.Line)
				}
				line("at %s", at)
			}
		}
	}
	b.WriteString("\n")
	check := ""
	for _, f := range r.Findings {
		if f.Verdict != prove.Holds {
			continue
		}
		counts[prove.Holds]++
		name := ""
		if f.Check != check {
			name, check = f.Check, f.Check
		}
		fmt.Fprintf(&b, "%s  %-12s %s", mark(prove.Holds, "holds"), name, indent(f.Says, 20, 96)[20:])
	}
	b.WriteString("\n")
	fmt.Fprintf(&b, "%s: %d hold, %d to mind, %d cannot be told, %d fail", mark(r.Verdict, strings.ToUpper(r.Verdict.String())), counts[prove.Holds], counts[prove.Mind], counts[prove.CannotTell], counts[prove.Fails])
	if n := counts[prove.Waived]; n > 0 {
		fmt.Fprintf(&b, ", %d waived", n)
	}
	b.WriteString("\n")
	if len(r.Without) > 0 {
		b.WriteString(indent("proved with and without: "+strings.Join(r.Without, ", "), 0, 96))
	}
	b.WriteString(takenText(r))
	if len(r.NotAsked) > 0 {
		var ids []string
		for _, n := range r.NotAsked {
			ids = append(ids, n.Check)
		}
		b.WriteString(indent("not computed by this version: "+strings.Join(ids, ", "), 0, 96))
	}
	b.WriteString("This is screening, not certification: laws, standards and accredited laboratories decide.\n")
	return b.String()
}

// takenText says in whose year and shop a toy was proved, where it is not the usual.
func takenText(r *prove.Report) (text string) {
	if r.YearFrom != "" {
		text += indent("climate: from "+r.Year.Dry.Full()+" to "+r.Year.Damp.Full()+", as "+r.YearFrom+" says", 0, 96)
	}
	if len(r.ShopFrom) > 0 {
		text += indent("shop: the tools are those of "+strings.Join(r.ShopFrom, ", and where it says nothing of "), 0, 96)
	}
	return text
}

func slash(feature string) string {
	if feature == "" {
		return ""
	}
	return "/" + feature
}

// mostDigits is how many digits more than usual a measure has at most: what then still looks like
// its limit is closer to it than anything that is measured.
const mostDigits = 4

// toldApart writes a measure and its limit with as many digits as it takes to tell them apart.
func toldApart(value, limit float64, unit string, u measure.Unit) (v, l string) {
	for more := range mostDigits + 1 {
		if v, l = amount(value, unit, u, more), amount(limit, unit, u, more); v != l || value == limit {
			break
		}
	}
	return v, l
}

// amount writes a measure with more digits than usual.
func amount(v float64, unit string, u measure.Unit, more int) string {
	switch unit {
	case "mm":
		if u == measure.Inch {
			return fmt.Sprintf("%.*f in", 3+more, v/measure.Inch.Length().MM())
		}
	case "degree":
		return fmt.Sprintf("%.*f°", 1+more, v)
	case "mm2":
		return fmt.Sprintf("%.*f mm²", more, v)
	}
	return strings.TrimSpace(fmt.Sprintf("%.*f %s", 2+more, v, unit))
}

func weight(kg float64, u measure.Unit) string {
	if u == measure.Inch {
		return fmt.Sprintf("%.1f oz (%.0f g)", kg/ounce, kg*1000)
	}
	return fmt.Sprintf("%.0f g", kg*1000)
}

// ounce is the avoirdupois ounce in kg (international yard and pound agreement, 1959).
const ounce = 0.028349523125

// indent breaks a text into lines of at most width characters that all start with
// n blanks.
func indent(s string, n, width int) string {
	var b strings.Builder
	at := 0
	for _, w := range strings.Fields(s) {
		l := utf8.RuneCountInString(w)
		switch {
		case at == 0:
			b.WriteString(strings.Repeat(" ", n))
			at = n
		case at+1+l > width:
			b.WriteString("\n" + strings.Repeat(" ", n))
			at = n
		default:
			b.WriteString(" ")
			at++
		}
		b.WriteString(w)
		at += l
	}
	b.WriteString("\n")
	return b.String()
}

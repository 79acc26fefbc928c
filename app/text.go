package app

import (
	"fmt"
	"strings"

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
	for _, v := range []prove.Verdict{prove.Fails, prove.CannotTell, prove.Mind, prove.Waived, prove.Holds} {
		for _, f := range r.Findings {
			if f.Verdict != v {
				continue
			}
			counts[v]++
			fmt.Fprintf(&b, "\n%s  %s\n", mark(v, fmt.Sprintf("%-11s", v)), f.ID)
			fmt.Fprintf(&b, "             %s\n", f.Says)
			if v == prove.Holds {
				continue
			}
			fmt.Fprintf(&b, "             measured %s, limit %s %s (%s)\n", amount(f.Value, f.Unit), f.LimitOp, amount(f.Limit, f.Unit), f.Source)
			for _, n := range f.Notes {
				fmt.Fprintf(&b, "             %s\n", n)
			}
			for _, p := range f.Places {
				fmt.Fprintf(&b, "             at %s%s", p.Piece, slash(p.Feature))
				if p.Line > 0 {
					fmt.Fprintf(&b, ", line %d", p.Line)
				}
				b.WriteString("\n")
			}
		}
	}
	b.WriteString("\n")
	fmt.Fprintf(&b, "%s: %d hold, %d to mind, %d cannot be told, %d fail", mark(r.Verdict, strings.ToUpper(r.Verdict.String())), counts[prove.Holds], counts[prove.Mind], counts[prove.CannotTell], counts[prove.Fails])
	if n := counts[prove.Waived]; n > 0 {
		fmt.Fprintf(&b, ", %d waived", n)
	}
	b.WriteString("\n")
	if len(r.NotAsked) > 0 {
		var ids []string
		for _, n := range r.NotAsked {
			ids = append(ids, n.Check)
		}
		b.WriteString(wrap("not computed by this version: "+strings.Join(ids, ", "), 96))
	}
	b.WriteString("This is screening, not certification: laws, standards and accredited laboratories decide.\n")
	return b.String()
}

func slash(feature string) string {
	if feature == "" {
		return ""
	}
	return "/" + feature
}

func amount(v float64, unit string) string {
	switch unit {
	case "degree":
		return fmt.Sprintf("%.1f°", v)
	case "mm2":
		return fmt.Sprintf("%.0f mm²", v)
	}
	return strings.TrimSpace(fmt.Sprintf("%.2f %s", v, unit))
}

func weight(kg float64, u measure.Unit) string {
	if u == measure.Inch {
		return fmt.Sprintf("%.1f oz (%.0f g)", kg/ounce, kg*1000)
	}
	return fmt.Sprintf("%.0f g", kg*1000)
}

// ounce is the avoirdupois ounce in kg (international yard and pound agreement, 1959).
const ounce = 0.028349523125

// wrap breaks a text into lines of at most width characters.
func wrap(s string, width int) string {
	var b strings.Builder
	n := 0
	for i, w := range strings.Fields(s) {
		if i > 0 && n+1+len(w) > width {
			b.WriteString("\n  ")
			n = 2
		} else if i > 0 {
			b.WriteString(" ")
			n++
		}
		b.WriteString(w)
		n += len(w)
	}
	b.WriteString("\n")
	return b.String()
}

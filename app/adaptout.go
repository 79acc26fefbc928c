package app

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/measure"
	"dryfit/toy/adapt"
)

// JSON writes what was adapted for programs.
func (a *Adapting) JSON() []byte { return encode(a) }

// group is changes that are told together: those of some roles, of named sizes alone, or of all else.
type group struct {
	says    string
	roles   []adapt.Role
	sizes   bool // of what stands in sizes, whatever its role
	byValue bool // those that are alike are told once, with their lines
}

var groups = []group{
	{says: "stock and units", roles: []adapt.Role{"", adapt.Stock}},
	{says: "bought wheels", roles: []adapt.Role{adapt.Wheel}},
	{says: "sizes", sizes: true},
	{says: "holes", roles: []adapt.Role{adapt.Fit, adapt.Hole}},
	{says: "clearances, ease, floor and cord", roles: []adapt.Role{adapt.Clearance, adapt.Ease, adapt.Floor, adapt.Cord}, byValue: true},
	{says: "tools, and the longest pieces sold", roles: []adapt.Role{adapt.Tool}},
	{says: "everything else", roles: []adapt.Role{adapt.Shape, adapt.Data}, byValue: true},
}

// of tells whether a change is told in a group.
func (g group) of(c adapt.Change) bool {
	size := strings.HasPrefix(c.Path, "sizes.") && c.Role != adapt.Stock && c.Role != adapt.Wheel
	return g.sizes == size && (g.sizes || slices.Contains(g.roles, c.Role))
}

// Report writes what was adapted for a reader.
func (a *Adapting) Report() string {
	var b strings.Builder
	line := func(format string, args ...any) {
		b.WriteString("  " + indent(fmt.Sprintf(format, args...), 4, whyWidth)[4:])
	}
	head := func(says string) { fmt.Fprintf(&b, "%s\n", says) }
	unit, _ := measure.ParseUnit(a.Units[1])
	if len(a.Changes) == 0 {
		head("nothing changes")
	}
	for _, g := range groups {
		first := true
		same := map[string]int{} // how often a change is told that is the same elsewhere
		for _, c := range a.Changes {
			if !g.of(c) {
				continue
			}
			if first {
				head(g.says + ":")
				first = false
			}
			if !g.byValue {
				line("line %d, %s: %s", c.Line, c.Path, changeText(c, unit))
				continue
			}
			key := changeText(c, unit)
			if same[key]++; same[key] > 1 {
				continue
			}
			var lines []string
			for _, other := range a.Changes {
				if g.of(other) && changeText(other, unit) == key {
					lines = append(lines, fmt.Sprint(other.Line))
				}
			}
			line("%s: %s %s", key, plural(len(lines), "line", "lines"), strings.Join(lines, ", "))
		}
	}
	if len(a.Follow) > 0 {
		head("sizes that follow:")
		for _, f := range a.Follow {
			line("%s: %s -> %s (%s)", f.Size, measure.FromMM(f.WasMM).Format(unit), measure.FromMM(f.NowMM).Format(unit), shareText(f.NowMM/f.WasMM-1))
		}
	}
	for _, l := range []struct {
		says string
		all  []adapt.Look
	}{{"does not go with the scale:", a.Kept}, {"look at these, adapt could not follow:", a.Looks}} {
		if len(l.all) > 0 {
			head(l.says)
		}
		for _, k := range l.all {
			at := k.Path + ": "
			if k.Path == "" {
				at = ""
			}
			line("%s, %s%s: %s", linesText(k), at, k.Text, k.Why)
		}
	}
	a.proofText(&b, line)
	return b.String()
}

// proofText tells what the proof says now that it did not before.
func (a *Adapting) proofText(b *strings.Builder, line func(string, ...any)) {
	if len(a.Mends) > 0 {
		says := "mends that would make it hold (--mend makes them):"
		if a.Mended {
			says = "mended, one after the other:"
		}
		fmt.Fprintln(b, says)
	}
	for _, m := range a.Mends {
		of := m.Check
		if m.About != "" {
			of += ":" + m.About
		}
		if m.Size == "" {
			line("%s: no single size can (%s)", of, m.Says)
		} else {
			line("%s makes %s hold (%s)", MendText(m.Mend), of, m.Says)
		}
	}
	if len(a.Findings) > 0 {
		fmt.Fprintln(b, "the proof says otherwise of:")
	}
	for _, f := range a.Findings {
		switch {
		case f.Now == "":
			line("%s: there is none now, was %q", f.ID, f.Was)
		case f.Was == "":
			line("%s: %s, which was not there: %s", f.ID, f.Now, f.Says)
		default:
			line("%s: %s, was %q: %s", f.ID, f.Now, f.Was, f.Says)
		}
	}
	if a.Holds {
		fmt.Fprintln(b, "it passes its proof")
	} else {
		fmt.Fprintf(b, "it does not pass its proof: %d fail\n", len(a.Failing))
	}
}

// changeText is "1 1/8 -> 28.5 (-0.3%; exactly 28.58 mm, to the rule)".
func changeText(c adapt.Change, u measure.Unit) string {
	was, now := c.Was, c.Now
	if c.Role == adapt.Data {
		was, now = clipped(was), clipped(now)
	}
	text := was + " -> " + now
	if c.Formula != "" && strings.HasPrefix(c.Path, "sizes.") {
		text += ", in " + c.Formula
	}
	var notes []string
	if c.WasMM != 0 {
		notes = append(notes, shareText(c.Share()))
	}
	if c.Why != "" {
		if math.Abs(c.ExactMM-c.NowMM) > pageMM {
			notes = append(notes, fmt.Sprintf("exactly %s, %s", exactText(c.ExactMM, u), c.Why))
		} else {
			notes = append(notes, c.Why)
		}
	}
	if notes != nil {
		text += " (" + strings.Join(notes, "; ") + ")"
	}
	return text
}

// pageMM is as geom/tol.Page: what is nearer is one length.
const pageMM = 0.0001

func exactText(mm float64, u measure.Unit) string {
	if u == measure.Inch {
		return fmt.Sprintf("%.4f in", mm/25.4)
	}
	return fmt.Sprintf("%.2f mm", mm)
}

func shareText(share float64) string {
	if math.Abs(share) < 0.0005 {
		return "the same"
	}
	return fmt.Sprintf("%+.1f%%", 100*share)
}

// clipped shortens path data for a line.
func clipped(s string) string {
	const most = 24
	if len(s) > most {
		return s[:most] + "…"
	}
	return s
}

// linesText is "line 9", or "lines 9, 12".
func linesText(k adapt.Look) string {
	var all []string
	for _, n := range k.Lines {
		all = append(all, fmt.Sprint(n))
	}
	return plural(len(all), "line ", "lines ") + strings.Join(all, ", ")
}

// plural is one word for one, another for more.
func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

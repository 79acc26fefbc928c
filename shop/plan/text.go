package plan

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"dryfit/facts"
	"dryfit/shop"
)

// Clock writes minutes as h:mm.
func Clock(minutes int) string { return fmt.Sprintf("%d:%02d", minutes/60, minutes%60) }

// Number says which step of which toy's guide a task is: 7, or B7 where there are several
// toys; "check" is on the last page, "wood" before the first.
func (p *Plan) Number(t Task) string {
	n := fmt.Sprint(t.Step)
	switch t.Step {
	case 0:
		n = "check"
	case Wood:
		n = "wood"
	}
	switch {
	case len(p.Toys) == 1:
		return n
	case t.Step <= 0:
		return p.letter(t.Toy) + " " + n
	}
	return p.letter(t.Toy) + n
}

// letter is what a toy goes by in a plan of several.
func (p *Plan) letter(toy int) string {
	if toy < 26 {
		return string(rune('A' + toy))
	}
	return fmt.Sprintf("T%d-", toy+1)
}

// Heading names the toys: 20 Quay tram, 2 Tipping wagon.
func (p *Plan) Heading() string {
	var out []string
	for i, t := range p.Toys {
		s := t.Name
		if t.Count > 1 {
			s = fmt.Sprintf("%d × %s", t.Count, t.Name)
		}
		if len(p.Toys) > 1 {
			s = p.letter(i) + " " + s
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

// Sums are the figures of a plan in words, a line each.
func (p *Plan) Sums() (out []string) {
	bound := "no plan is shorter than " + Clock(p.Bound)
	switch {
	case p.Elapsed == p.Bound:
		bound = "no plan is shorter"
	case p.Session > 0 && p.Elapsed > p.Bound:
		bound = "without breaks " + bound
	}
	out = append(out, fmt.Sprintf("elapsed %s; %s", Clock(p.Elapsed), bound))
	var hands []string
	for _, h := range p.Hands {
		hands = append(hands, h.Name+" "+Clock(h.HandsOn))
	}
	out = append(out, fmt.Sprintf("hands on %s: %s", Clock(p.HandsOn), strings.Join(hands, ", ")))
	least := fmt.Sprintf("no plan has fewer than %d", p.LeastSet)
	if p.SetUps == p.LeastSet {
		least = "no plan has fewer"
	}
	out = append(out, fmt.Sprintf("set-ups of bits and blades: %d; %s", p.SetUps, least))
	if p.Session > 0 {
		out = append(out, fmt.Sprintf("sessions of %s, each on a day of its own: %d", Clock(p.Session), p.Sessions))
	}
	return out
}

// Night says how times go on from one day to the next.
func (p *Plan) Night() string {
	if p.Session > 0 {
		return "Hands rest between sessions."
	}
	return "The hours run on without a night; --session 3h plans in afternoons."
}

// Says is what a task does, with its lot.
func (t Task) Says() string {
	if t.Lot != "" {
		return t.Does + " (" + t.Lot + ")"
	}
	return t.Does
}

// With is what a task is done with: tool and bit or blade.
func (t Task) With() string {
	s := t.Tool
	if t.Setting != "" {
		s += ", " + t.Setting
	}
	if t.SetUp > 0 {
		s += " (fit it: " + Clock(t.SetUp) + ")"
	}
	return s
}

// Text prints a plan for the bench.
func (p *Plan) Text() string {
	var b strings.Builder
	for _, s := range p.Unproved {
		b.WriteString(wrapped("", s))
	}
	fmt.Fprintf(&b, "Plan: %s\n\n", p.Heading())
	for _, s := range p.Sums() {
		fmt.Fprintf(&b, "  %s\n", s)
	}
	fmt.Fprintf(&b, "\nTimes are h:mm from the start. Steps are those of the guide.\n%s\n", p.Night())
	who := 0
	for _, r := range p.Rows() {
		who = max(who, utf8.RuneCountInString(r.Who))
	}
	for i, r := range p.Rows() {
		if r.Session != "" {
			b.WriteString("\n" + wrapped("", r.Session))
		} else if i == 0 {
			b.WriteString("\n")
		}
		b.WriteString(wrapped(fmt.Sprintf("%7s–%-7s %-7s %-*s  ", Clock(r.Begin), Clock(r.Until), r.Number, who, r.Who), r.Says))
	}
	b.WriteString("\nWho can do it\n")
	for _, w := range p.Who {
		b.WriteString(wrapped("  - ", w.Says()))
	}
	if len(p.Advice) > 0 {
		b.WriteString("\nIn one go\n")
		for _, s := range p.Advice {
			b.WriteString(wrapped("  - ", s))
		}
	}
	b.WriteString("\nNotes\n")
	for _, s := range p.Notes {
		b.WriteString(wrapped("  - ", s))
	}
	return b.String()
}

// Says says who can do a kind of work, and why.
func (w Who) Says() string {
	who := "an adult"
	switch {
	case w.Years > 0 && w.Alone:
		who = fmt.Sprintf("a child from %d, alone", w.Years)
	case w.Years > 0:
		who = fmt.Sprintf("a child from %d, with an adult", w.Years)
	}
	says := w.Deed
	if d, ok := facts.DeedNamed(w.Deed); ok {
		says = d.Says
	}
	return fmt.Sprintf("%s: %s (here: %s); %s", says, who, strings.Join(w.Hands, ", "), w.Why)
}

// wrapped breaks a text after its head, further lines below its beginning where that leaves room.
func wrapped(head, says string) string {
	return shop.Wrapped(head, strings.Repeat(" ", min(utf8.RuneCountInString(head), shop.Columns/2)), says)
}

// Tools are the tools of a plan, by first use.
func (p *Plan) Tools() (out []string) {
	for _, t := range p.Tasks {
		if t.Tool != "" && !slices.Contains(out, t.Tool) {
			out = append(out, t.Tool)
		}
	}
	return out
}

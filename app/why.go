package app

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/prove"
)

// whyWidth is the widest line of an explanation.
const whyWidth = 96

// notComputed says of a check that a proof does not make why not.
func notComputed(id string) string {
	if where := prove.Elsewhere(id); where != "" {
		return "how often does it still work as others build it? (" + where + ")"
	}
	return "(this version does not compute it)"
}

// Why explains a check: what it asks, how it is computed, every limit and its
// source. Where there is no check of that id ok is false, and near is the one whose
// id is most like it, "" if none is.
func Why(id string) (text, near string, ok bool) {
	c, near, ok := prove.Named(id)
	if !ok {
		if slices.Contains(prove.NotYet(), id) {
			return id + " " + notComputed(id) + "\n", "", true
		}
		return "", near, false
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s\n\nHow it is computed\n%s\nWhat is compared with\n", c.ID, c.Asks, indent(c.How, 2, whyWidth))
	for _, l := range c.Limits {
		b.WriteString("  " + indent(fmt.Sprintf("%s: %s (%s)", l.What, l.Is, l.Source), 4, whyWidth)[4:])
	}
	return b.String(), "", true
}

// WhyAll lists all checks in a line each.
func WhyAll() string {
	wide := 0
	for _, id := range append(prove.IDs(), prove.NotYet()...) {
		wide = max(wide, len(id))
	}
	var b strings.Builder
	line := func(id, text string) {
		fmt.Fprintf(&b, "%-*s  %s", wide, id, indent(text, wide+2, whyWidth)[wide+2:])
	}
	for _, c := range prove.Checks {
		line(c.ID, c.Asks)
	}
	for _, id := range prove.NotYet() {
		line(id, notComputed(id))
	}
	return b.String()
}

// ChecksPage is docs/checks.md: what Why says of every check.
func ChecksPage() string {
	var b strings.Builder
	b.WriteString(`# The checks

Made from the code by ` + "`go test ./docs -run Golden -update`" + `; not to be edited. ` + "`dryfit why CHECK`" + ` prints the same.

A finding *fails* only where the toy will not go together, will not do what its file says it must, breaks under the stated
load, or breaks a cited mandatory limit for the stated age. Rules of thumb *mind*: they are advice. What a file does not say
is taken as usual, and the finding says so. What could not be computed *cannot tell*, and is never shown as holding.
All of it is screening, not certification: laws, standards and accredited laboratories decide.

| check | asks | made |
|---|---|---|
`)
	for _, c := range prove.Checks {
		when := "at once"
		if c.Slow {
			when = "after the others"
		}
		fmt.Fprintf(&b, "| [%s](#%s) | %s | %s |\n", c.ID, strings.ReplaceAll(c.ID, ".", ""), cell(c.Asks), when)
	}
	for _, id := range prove.NotYet() {
		fmt.Fprintf(&b, "| %s | %s | |\n", id, notComputed(id))
	}
	for _, c := range prove.Checks {
		fmt.Fprintf(&b, "\n## %s\n%s%s\n\n%s\n\n| what | limit | source |\n|---|---|---|\n", c.ID, strings.ToUpper(c.Asks[:1]), c.Asks[1:], c.How)
		for _, l := range c.Limits {
			fmt.Fprintf(&b, "| %s | %s | %s |\n", cell(l.What), cell(l.Is), cell(l.Source))
		}
	}
	return b.String()
}

// cell is a text as a cell of a Markdown table.
func cell(s string) string { return strings.ReplaceAll(s, "|", `\|`) }

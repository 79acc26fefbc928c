package app

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/prove"
	"dryfit/prove/compare"
)

// Comparison is what changed between two editions of a toy, as plain data, with its proofs.
type Comparison struct {
	*compare.Result
	Proved Proved `json:"proved"`

	was, now compare.Edition
}

// Proved says how the proofs of both editions end, and in whose year and shop the new one was made.
type Proved struct {
	Was prove.Verdict `json:"was"`
	Now prove.Verdict `json:"now"`
	takenJSON
}

// Compare tells what changed from one edition of a toy to another, for someone who has built the old
// one. Both are proved. The words are in the units of the new one.
func Compare(was, now *Toy) (*Comparison, error) {
	edition := func(t *Toy) (e compare.Edition, err error) {
		m, probs := t.Model()
		if len(probs) > 0 {
			return e, probs
		}
		rep, probs := t.proved()
		if len(probs) > 0 {
			return e, probs
		}
		return compare.Edition{Model: m, Report: rep}, nil
	}
	c := &Comparison{}
	var err error
	if c.was, err = edition(was); err != nil {
		return nil, err
	}
	if c.now, err = edition(now); err != nil {
		return nil, err
	}
	c.Result = compare.Toys(c.was, c.now, now.Units)
	c.Proved = Proved{c.was.Report.Verdict, c.now.Report.Verdict, takenOf(c.now.Report)}
	return c, nil
}

// Passes tells whether the new edition passes its proof.
func (c *Comparison) Passes() bool { return c.now.Report.Passes() }

// JSON writes a comparison for programs.
func (c *Comparison) JSON() []byte {
	return encode(struct {
		Format int `json:"format"`
		*Comparison
	}{1, c})
}

// Text writes a comparison for a reader: what is to be made first.
func (c *Comparison) Text() string {
	var b strings.Builder
	title := c.Was
	if c.Now != c.Was {
		title += " and " + c.Now
	}
	if c.Same {
		fmt.Fprintf(&b, "%s: nothing changed\n", title)
	} else {
		fmt.Fprintf(&b, "%s: what changed, for who has built the old one\n", title)
	}
	for _, part := range []struct {
		head  string
		state compare.State
	}{
		{"make anew", compare.Remake}, {"work on the old one", compare.Cut}, {"new", compare.New}, {"no longer needed", compare.Gone}, {"unchanged", compare.Unchanged},
	} {
		head := part.head
		for k := range c.Pieces {
			p := &c.Pieces[k]
			if p.State != part.state {
				continue
			}
			if head != "" {
				fmt.Fprintf(&b, "\n%s\n", head)
				head = ""
			}
			for i, l := range c.pieceLines(p) {
				b.WriteString(strings.Repeat(" ", 2+2*i) + indent(l, 4+2*i, whyWidth)[4+2*i:])
			}
		}
	}
	for _, part := range []struct {
		head string
		list []compare.Change
	}{{"build", c.Build}, {"stock", c.Stock}, {"must", c.Musts}, {"ages", c.Ages}, {"besides", c.Other}} {
		if len(part.list) > 0 {
			fmt.Fprintf(&b, "\n%s\n", part.head)
		}
		for _, x := range part.list {
			b.WriteString(indent(x.Says, 2, whyWidth))
		}
	}
	c.findingsText(&b)
	fmt.Fprintf(&b, "\nthe old one %s its proof, the new one %s; see dryfit prove FILE\n", ends(c.was.Report), ends(c.now.Report))
	b.WriteString(takenText(c.now.Report))
	return b.String()
}

func ends(r *prove.Report) string {
	if r.Passes() {
		return "passes"
	}
	return "does not pass"
}

func (c *Comparison) findingsText(b *strings.Builder) {
	if len(c.Findings) == 0 {
		return
	}
	b.WriteString("\nfindings\n")
	for _, f := range c.Findings {
		says := ""
		switch f.Kind {
		case compare.Gained:
			says = fmt.Sprintf("%s, new: %s: %s", f.ID, f.Now, f.Says)
		case compare.Lost:
			says = fmt.Sprintf("%s, no longer asked, was %q: %s", f.ID, f.Was, f.Said)
		case compare.Verdict:
			says = fmt.Sprintf("%s: %s, was %q: %s", f.ID, f.Now, f.Was, f.Says)
		default:
			if f.MarginWas == nil || f.MarginNow == nil || f.UnitWas != f.UnitNow {
				says = fmt.Sprintf("%s: %s, by another measure: %s", f.ID, f.Now, f.Says)
				break
			}
			word := "less to spare"
			if *f.MarginNow > *f.MarginWas {
				word = "more to spare"
			}
			was, now := toldApart(*f.MarginWas, *f.MarginNow, f.UnitNow, c.now.Model.Toy.Units)
			says = fmt.Sprintf("%s: %s, %s: %s, was %s", f.ID, f.Now, word, now, was)
		}
		b.WriteString("  " + indent(says, 4, whyWidth)[4:])
	}
}

// pieceLines says what becomes of some pieces that are alike, in a line or two.
func (c *Comparison) pieceLines(p *compare.Piece) []string {
	ids, part := p.Now, p.PartNow
	if len(ids) == 0 {
		ids, part = p.Was, p.PartWas
	}
	line := c.named(part, ids, false)
	if says := c.todo(p); says != "" {
		line += ": " + says
	}
	if len(p.GluedTo) > 0 && p.State != compare.Gone {
		verb := "it is"
		if len(ids) > 1 {
			verb = "they are"
		}
		return []string{line, "in the old toy " + verb + " glued to " + strings.Join(counted(p.GluedTo), ", ")}
	}
	return []string{line}
}

// todo says what is different of some pieces, and whether the old ones serve.
func (c *Comparison) todo(p *compare.Piece) string {
	var says []string
	for _, x := range p.Changes {
		says = append(says, x.Says)
	}
	switch {
	case p.Sits != "" && p.State == compare.Unchanged:
		says = append(says, "unchanged, but "+p.Sits)
	case p.Sits != "":
		says = append(says, p.Sits)
	}
	if p.Renamed() {
		says = append(says, "called "+c.named(p.PartWas, p.Was, true)+" in the old toy")
	}
	return strings.Join(says, "; ") + serves(p)
}

// why says what is different of some pieces, wherever they sit, and whether the old ones serve.
func why(p *compare.Piece) string {
	var says []string
	for _, x := range p.Changes {
		says = append(says, x.Says)
	}
	return strings.Join(says, "; ") + serves(p)
}

// serves says of pieces that can be made from the old ones that they can.
func serves(p *compare.Piece) string {
	if p.State != compare.Cut {
		return ""
	}
	line := ": can be cut from the old one"
	if len(p.Now) > 1 {
		line += "s"
	}
	if !slices.ContainsFunc(p.Changes, func(x compare.Change) bool { return !strings.HasPrefix(x.Kind, "hole") }) {
		line += ", with the drill alone"
	}
	return line
}

// named names pieces: by their part and how many they are, by their ids where more pieces are of
// that part than these.
func (c *Comparison) named(part string, ids []string, old bool) string {
	if len(ids) == 1 {
		return ids[0]
	}
	all := 0
	for _, p := range c.Pieces {
		switch {
		case old && p.PartWas == part:
			all += len(p.Was)
		case !old && p.PartNow == part:
			all += len(p.Now)
		}
	}
	if says := fmt.Sprintf("%s (%d)", part, len(ids)); all == len(ids) {
		return says
	}
	return fmt.Sprintf("%s (%s)", part, strings.Join(ids, ", "))
}

// counted names pieces of one name once: wheel, wheel.2 and wheel.3 are "wheel (3)".
func counted(ids []string) (out []string) {
	var names []string
	n := map[string]int{}
	for _, id := range ids {
		name := id
		if k := strings.LastIndexByte(id, '.'); k > 0 {
			name = id[:k]
		}
		if n[name]++; n[name] == 1 {
			names = append(names, name)
		}
	}
	for _, name := range names {
		if n[name] > 1 {
			name = fmt.Sprintf("%s (%d)", name, n[name])
		}
		out = append(out, name)
	}
	return out
}

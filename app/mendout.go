package app

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/prove"
)

// Found tells whether there is a mend, or nothing to be mended.
func (s *Solution) Found() bool { return s.Mend != nil || len(s.Targets) == 0 && len(s.Untold) == 0 }

// about names what was asked about: "move.wheels", "move.wheels of axle.2".
func (s *Solution) about() string {
	if s.Ask.About == "" {
		return s.Ask.Check
	}
	return s.Ask.Check + ":" + s.Ask.About
}

// Text writes a solution for a reader.
func (s *Solution) Text() string {
	var b strings.Builder
	line := func(format string, args ...any) { b.WriteString(indent(fmt.Sprintf(format, args...), 0, whyWidth)) }
	switch {
	case s.Mend != nil:
		line("%s makes %s hold", MendText(s.Mend.Mend), s.about())
		s.textChanges(&b)
	case len(s.Targets) > 0:
		who := "no single size"
		if s.Ask.Size != "" {
			who = "no value of " + s.Ask.Size
		}
		line("%s makes %s hold", who, s.about())
		for _, f := range s.Targets {
			b.WriteString("  " + indent(f.ID+": "+f.Says, 4, whyWidth)[4:])
		}
		s.textTried(&b)
	case len(s.Untold) > 0:
		line("%s cannot be told, so no size can be looked for", s.about())
		for _, f := range s.Untold {
			b.WriteString("  " + indent(f.ID+": "+f.Says, 4, whyWidth)[4:])
		}
	default:
		line("%s holds: there is nothing to mend", s.about())
	}
	return b.String() + takenText(s.was)
}

func (s *Solution) textChanges(b *strings.Builder) {
	for _, m := range s.Follow {
		b.WriteString("  " + indent("follows: "+MendText(m), 4, whyWidth)[4:])
	}
	for _, c := range s.Changes {
		text := c.ID + ": "
		switch {
		case c.Now == nil:
			continue // what stands there instead is said
		case c.Was == nil:
			text += fmt.Sprintf("%s: %s", c.Now.Verdict, c.Now.Says)
		case c.Was.Verdict != c.Now.Verdict:
			text += fmt.Sprintf("%s, was %q: %s", c.Now.Verdict, c.Was.Verdict, c.Now.Says)
		case c.Was.Says == c.Now.Says || same(c.Was.Value, c.Now.Value):
			continue // other words for the same
		default:
			text += fmt.Sprintf("%s (was: %s)", c.Now.Says, c.Was.Says)
		}
		b.WriteString("  " + indent(text, 4, whyWidth)[4:])
	}
	fmt.Fprintf(b, "to see it whole: dryfit prove FILE --set %s=%q\n", s.Mend.Size, s.Mend.To)
}

func (s *Solution) textTried(b *strings.Builder) {
	idle := map[string][]string{}
	var whys []string
	for _, t := range s.Tried {
		if t.Bears {
			b.WriteString("  " + indent(t.Size+": "+t.Why, 4, whyWidth)[4:])
			continue
		}
		if !slices.Contains(whys, t.Why) {
			whys = append(whys, t.Why)
		}
		idle[t.Why] = append(idle[t.Why], t.Size)
	}
	for _, w := range whys {
		b.WriteString("  " + indent(w+": "+strings.Join(idle[w], ", "), 4, whyWidth)[4:])
	}
	if len(s.Tried) == 0 {
		b.WriteString("  the toy has no sizes: give a name under sizes to what may change\n")
	}
}

type solutionJSON struct {
	Format  int              `json:"format"`
	Toy     string           `json:"toy"`
	Check   string           `json:"check"`
	About   string           `json:"about"`
	Found   bool             `json:"found"`
	Asked   []string         `json:"asked"`
	Mend    []prove.Mend     `json:"mend"`
	Follow  []prove.Mend     `json:"follow"`
	Changes []ChangedFinding `json:"changes"`
	Tried   []triedJSON      `json:"tried"`
	takenJSON
}

// ChangedFinding is a finding, before and after a change. It has the empty word for the verdict of a finding that there was not, or is
// no longer.
type ChangedFinding struct {
	ID   string `json:"id"`
	Was  string `json:"was"`
	Now  string `json:"now"`
	Said string `json:"said"`
	Says string `json:"says"`
}

type triedJSON struct {
	Size string     `json:"size"`
	MM   [2]float64 `json:"mm"`
	Why  string     `json:"why"`
}

// JSON writes a solution for programs.
func (s *Solution) JSON() []byte {
	out := solutionJSON{Format: 1, Toy: s.Toy, Check: s.Ask.Check, About: s.Ask.About, Found: s.Found(), Asked: []string{}, Mend: []prove.Mend{}, Follow: append([]prove.Mend{}, s.Follow...), Changes: []ChangedFinding{}, Tried: []triedJSON{}, takenJSON: takenOf(s.was)}
	for _, f := range s.Targets {
		out.Asked = append(out.Asked, f.ID)
	}
	if s.Mend != nil {
		out.Mend = append(out.Mend, s.Mend.Mend)
	}
	for _, c := range s.Changes {
		j := ChangedFinding{ID: c.ID}
		if c.Was != nil {
			j.Was, j.Said = c.Was.Verdict.String(), c.Was.Says
		}
		if c.Now != nil {
			j.Now, j.Says = c.Now.Verdict.String(), c.Now.Says
		}
		out.Changes = append(out.Changes, j)
	}
	for _, t := range s.Tried {
		out.Tried = append(out.Tried, triedJSON{t.Size, [2]float64{t.Lo.MM(), t.Hi.MM()}, t.Why})
	}
	return encode(out)
}

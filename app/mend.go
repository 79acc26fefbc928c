package app

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/prove/mend"
)

// Ask is what is to be mended: a check, one finding of it, and the size that may change.
type Ask = mend.Ask

// Solution is what a search for a mend has found, and what else it changes.
type Solution struct {
	mend.Answer
	Ask     Ask
	Toy     string
	Untold  []prove.Finding // of the check: what cannot be told
	Follow  []prove.Mend    // sizes that follow from the one changed
	Changes []Change
	was     *prove.Report // the proof as the toy is
}

// Change is a finding that another value of a size changes. Was or Now is nil where
// there is none of that id.
type Change struct {
	ID       string
	Was, Now *prove.Finding
}

// Solve looks for the value of one size at which a check holds and all that held
// still does. The error is that of ctx, source.Problems of the toy, or of an Ask for
// what there is not.
func (t *Toy) Solve(ctx context.Context, a Ask) (*Solution, error) {
	if err := t.sensible(a); err != nil {
		return nil, err
	}
	rep, err := prove.RunContext(ctx, t.Toy, t.cache, prove.Options{})
	if err != nil {
		return nil, err
	}
	var abouts []string
	out := &Solution{Ask: a, Toy: t.Name, was: rep}
	for i, f := range rep.Findings {
		if f.Check != a.Check {
			continue
		}
		abouts = append(abouts, f.About)
		if f.Verdict == prove.CannotTell && (a.About == "" || a.About == f.About) {
			out.Untold = append(out.Untold, rep.Findings[i])
		}
	}
	if a.About != "" && !slices.Contains(abouts, a.About) {
		return nil, NoSuch{"finding of " + a.Check, a.About, source.Nearest(a.About, abouts), abouts}
	}
	if out.Answer, err = mend.New(t.Toy, rep, t.With, t.cache).Find(ctx, a); err != nil {
		return nil, err
	}
	if m := out.Mend; m != nil {
		for i, z := range t.Sizes {
			was, ok := z.Value.AsLength(t.Toy.Units)
			now, ok2 := m.Toy.Sizes[i].Value.AsLength(t.Toy.Units)
			if ok && ok2 && z.Name != m.Size && was != now {
				out.Follow = append(out.Follow, prove.Mend{Size: z.Name, From: was.ExactIn(t.Toy.Units), To: now.ExactIn(t.Toy.Units)})
			}
		}
		out.Changes = changes(rep, m.Report)
	}
	return out, nil
}

// NoSuch is a name that the toy or the program does not have.
type NoSuch struct {
	What, Name, Near string
	Have             []string
}

func (e NoSuch) Error() string {
	says := fmt.Sprintf("there is no %s %q", e.What, e.Name)
	switch {
	case e.Near != "":
		return says + "; did you mean " + e.Near + "?"
	case len(e.Have) == 0:
		return says
	}
	return says + ": there is " + strings.Join(e.Have, ", ")
}

// sensible refuses checks and sizes that do not exist.
func (t *Toy) sensible(a Ask) error {
	if _, near, ok := prove.Named(a.Check); !ok {
		return NoSuch{"check", a.Check, near, prove.IDs()}
	}
	if a.Size == "" {
		return nil
	}
	var names []string
	for _, z := range t.Sizes {
		if z.Name == a.Size {
			if _, ok := z.Value.AsLength(t.Toy.Units); !ok {
				return fmt.Errorf("%s is no length: only lengths can be looked for", a.Size)
			}
			return nil
		}
		names = append(names, z.Name)
	}
	return NoSuch{"size", a.Size, source.Nearest(a.Size, names), names}
}

// AddMends looks for a mend of every failing finding of a whole proof: one that mends
// all that fails of its check, else one that mends it alone.
func (t *Toy) AddMends(ctx context.Context, rep *prove.Report) error {
	s := mend.New(t.Toy, rep, t.With, t.cache)
	all := map[string]*mend.Mend{}
	for i := range rep.Findings {
		f := &rep.Findings[i]
		if f.Verdict != prove.Fails {
			continue
		}
		if _, ok := all[f.Check]; !ok {
			ans, err := s.Find(ctx, Ask{Check: f.Check})
			if err != nil {
				return err
			}
			all[f.Check] = ans.Mend
		}
		m := all[f.Check]
		if m == nil {
			ans, err := s.Find(ctx, Ask{Check: f.Check, About: f.About})
			if err != nil {
				return err
			}
			m = ans.Mend
		}
		f.Mend = []prove.Mend{}
		if m != nil {
			f.Mend = append(f.Mend, m.Mend)
		}
	}
	return nil
}

// changes compares two proofs: the findings whose verdict or words differ.
func changes(was, now *prove.Report) (out []Change) {
	byID := map[string]int{}
	for i, f := range now.Findings {
		byID[f.ID] = i
	}
	seen := map[string]bool{}
	for i := range was.Findings {
		f := &was.Findings[i]
		seen[f.ID] = true
		j, ok := byID[f.ID]
		if !ok {
			out = append(out, Change{f.ID, f, nil})
		} else if n := &now.Findings[j]; n.Verdict != f.Verdict || n.Says != f.Says || !same(n.Value, f.Value) {
			out = append(out, Change{f.ID, f, n})
		}
	}
	for i := range now.Findings {
		if f := &now.Findings[i]; !seen[f.ID] {
			out = append(out, Change{f.ID, nil, f})
		}
	}
	return out
}

func same(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

// MendText is "wheel: 1 1/8 -> 1 in".
func MendText(m prove.Mend) string {
	from := m.From
	if i := strings.LastIndexByte(m.To, ' '); i >= 0 { // the unit once, where both have it
		from = strings.TrimSuffix(from, m.To[i:])
	}
	return m.Size + ": " + from + " -> " + m.To
}

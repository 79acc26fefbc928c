package app

import (
	"context"
	"strings"

	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/prove/mend"
	"dryfit/toy/adapt"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

// Spec is what a toy is adapted to.
type Spec = adapt.Spec

// mostMends is how many mends are made one after the other: a toy that wants more is to be drawn anew.
const mostMends = 8

// Adapting is a toy made into one for other stock, another size or other units, and what came of it.
type Adapting struct {
	Format  int            `json:"format"`
	Toy     string         `json:"toy"`
	Units   [2]string      `json:"units"` // before and after
	Scale   float64        `json:"scale"`
	Changes []adapt.Change `json:"changes"`
	Follow  []Following    `json:"follow"` // sizes that are worked out from what changed
	Kept    []adapt.Look   `json:"kept"`
	Looks   []adapt.Look   `json:"looks"`
	Mends   []Mending      `json:"mends"`
	// Findings are those whose verdict is another than it was, of the text as it is here.
	Findings []ChangedFinding `json:"findings"`
	Failing  []string         `json:"failing"` // all that fail, or a must that cannot be told
	Holds    bool             `json:"holds"`
	Mended   bool             `json:"mended"` // the mends are made in the text
	Text     string           `json:"text"`
}

// Following is a size that is worked out, before and after.
type Following struct {
	Size  string  `json:"size"`
	WasMM float64 `json:"was_mm"`
	NowMM float64 `json:"now_mm"`
}

// Mending is a mend of what no longer held: the value of one size at which it holds, after those
// before it; Size is empty where no single one can.
type Mending struct {
	Check string `json:"check"`
	About string `json:"about"` // of one finding; "" for all that fail of the check
	Says  string `json:"says"`
	prove.Mend
}

// adapter adapts one toy.
type adapter struct {
	ctx   context.Context
	name  string
	o     Options
	spec  Spec
	was   *Toy
	rep   *prove.Report // of the toy as it was
	clear map[adapt.Spot]string
}

// Adapt makes a toy file into another. With mended, mends of what no longer holds are made in it; else
// they are offered. The error is that of ctx, or source.Problems: of the file, of what is asked for,
// or of the adapted file where that cannot be read or made.
func Adapt(ctx context.Context, name, text string, spec Spec, o Options, mended bool, tell func(string)) (*Adapting, error) {
	was, probs := OpenWith(name, text, o)
	if len(probs) > 0 {
		return nil, probs
	}
	a := &adapter{ctx: ctx, name: name, o: was.options, spec: spec, was: was}
	var err error
	if a.rep, err = prove.RunContext(ctx, was.Toy, was.cache, prove.Options{}); err != nil {
		return nil, err
	}
	try, err := a.best()
	if err != nil {
		return nil, err
	}
	out := &Adapting{Format: 1, Toy: was.Name, Units: [2]string{try.Units[0].String(), try.Units[1].String()}, Scale: 1,
		Changes: append([]adapt.Change{}, try.Changes...), Follow: []Following{}, Kept: append([]adapt.Look{}, try.Kept...), Looks: append([]adapt.Look{}, try.Looks...),
		Mends: []Mending{}, Findings: []ChangedFinding{}, Failing: []string{}, Mended: mended, Text: try.Text}
	if spec.Scale != 0 {
		out.Scale = spec.Scale
	}
	last, err := a.mends(out, try, tell)
	if err != nil {
		return nil, err
	}
	if mended {
		try = last
		out.Text = try.Text
	}
	out.follow(was, try.toy)
	for _, c := range changes(a.rep, try.rep) {
		j := ChangedFinding{ID: c.ID}
		if c.Was != nil {
			j.Was, j.Said = c.Was.Verdict.String(), c.Was.Says
		}
		if c.Now != nil {
			j.Now, j.Says = c.Now.Verdict.String(), c.Now.Says
		}
		if j.Was != j.Now {
			out.Findings = append(out.Findings, j)
		}
	}
	for _, f := range try.rep.Findings {
		if f.Verdict == prove.Fails {
			out.Failing = append(out.Failing, f.ID)
		}
	}
	out.Holds = try.rep.Passes()
	return out, nil
}

// mends looks for mends of what no longer holds: one, a proof, the next. It returns the toy with all
// of them.
func (a *adapter) mends(out *Adapting, t *adapted, tell func(string)) (*adapted, error) {
	given := map[string]bool{} // up: no single size can
	for len(out.Mends) < mostMends {
		var next *prove.Finding
		for _, f := range a.worse(t.rep) {
			if f.Verdict == prove.Fails && !given[f.ID] {
				next = &f
				break
			}
		}
		if next == nil {
			return t, nil
		}
		if tell != nil {
			tell(next.ID + " no longer holds: looking for a mend")
		}
		s := mend.New(t.toy.Toy, t.rep, t.toy.With, t.toy.cache)
		keep := t.sheet.Asked()
		m := Mending{Check: next.Check, Says: next.Says}
		ans, err := s.Find(a.ctx, mend.Ask{Check: next.Check, Keep: keep})
		if err == nil && ans.Mend == nil && len(ans.Targets) > 1 {
			m.About = next.About
			ans, err = s.Find(a.ctx, mend.Ask{Check: next.Check, About: next.About, Keep: keep})
		}
		if err != nil {
			return nil, err
		}
		if ans.Mend == nil {
			given[next.ID] = true
			m.About = next.About
			out.Mends = append(out.Mends, m)
			continue
		}
		m.Mend = ans.Mend.Mend
		out.Mends = append(out.Mends, m)
		unit := t.Units[1]
		text, err := file.Apply(source.New(a.name, t.Text), tree.Edit{Op: "set", Path: tree.Join("sizes", m.Size), Value: strings.TrimSuffix(m.To, " "+unit.Symbol()), As: tree.AsText})
		if err != nil {
			return nil, err
		}
		after := *t.Adapted
		after.Text = text
		t = &adapted{Adapted: &after, sheet: t.sheet}
		if err := a.prove(t); err != nil {
			return nil, err
		}
	}
	return t, nil
}

// follow lists the sizes that are worked out and came to another value.
func (out *Adapting) follow(was, now *Toy) {
	said := map[string]bool{}
	for _, c := range out.Changes {
		if name, ok := strings.CutPrefix(c.Path, "sizes."); ok && c.Formula == "" {
			said[name] = true
		}
	}
	if out.Mended {
		for _, m := range out.Mends {
			said[m.Size] = true
		}
	}
	for i, z := range was.Sizes {
		from, ok := z.Value.AsLength(was.Toy.Units)
		to, ok2 := now.Sizes[i].Value.AsLength(now.Toy.Units)
		if ok && ok2 && !said[z.Name] && from != to {
			out.Follow = append(out.Follow, Following{z.Name, from.MM(), to.MM()})
		}
	}
}

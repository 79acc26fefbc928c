package app

import (
	"context"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/measure"
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
	Findings []changeJSON `json:"findings"`
	Failing  []string     `json:"failing"` // all that fail, or a must that cannot be told
	Holds    bool         `json:"holds"`
	Mended   bool         `json:"mended"` // the mends are made in the text
	Text     string       `json:"text"`
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
func Adapt(ctx context.Context, name, text string, spec Spec, o Options, mended bool) (*Adapting, error) {
	was, probs := OpenWith(name, text, o)
	if len(probs) > 0 {
		return nil, probs
	}
	a := &adapter{ctx: ctx, name: name, o: was.options, spec: spec, was: was}
	var err error
	if a.rep, err = prove.RunContext(ctx, was.Toy, was.cache, prove.Options{}); err != nil {
		return nil, err
	}
	try, err := a.try(nil)
	if err != nil {
		return nil, err
	}
	if try, err = a.exactly(try); err != nil {
		return nil, err
	}
	out := &Adapting{Format: 1, Toy: was.Name, Units: [2]string{try.Units[0].String(), try.Units[1].String()}, Scale: 1,
		Changes: append([]adapt.Change{}, try.Changes...), Follow: []Following{}, Kept: append([]adapt.Look{}, try.Kept...), Looks: append([]adapt.Look{}, try.Looks...),
		Mends: []Mending{}, Findings: []changeJSON{}, Failing: []string{}, Mended: mended, Text: try.Text}
	if spec.Scale != 0 {
		out.Scale = spec.Scale
	}
	last, err := a.mends(out, try)
	if err != nil {
		return nil, err
	}
	if mended {
		try = last
		out.Text = try.Text
	}
	out.follow(was, try.toy)
	for _, c := range changes(a.rep, try.rep) {
		j := changeJSON{ID: c.ID}
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

// trial is an adapted text with its proof.
type adapted struct {
	*adapt.Adapted
	sheet *adapt.Sheet
	toy   *Toy
	rep   *prove.Report
}

// try adapts, leaving lengths of some owners as they come out exactly, and proves.
func (a *adapter) try(exact map[string]bool) (*adapted, error) {
	f := source.New(a.name, a.was.text)
	sheet, err := adapt.Read(f, a.was.Toy, measure.FromMM(assembly.ClearLeast))
	if err != nil {
		return nil, err
	}
	if a.clear == nil && (a.spec.Scale != 0 && a.spec.Scale != 1 || a.spec.Units != "" && a.spec.Units != a.was.Toy.Units.String()) {
		a.clear = a.was.clearances(a.ctx, sheet)
	}
	o := adapt.Options{Clear: a.clear, Exact: exact}
	if sh := a.was.Shop; sh != nil && len(sh.Bits) > 0 {
		o.Bits = assembly.BitsOf(sh, a.was.Toy.Units)
	}
	out := &adapted{sheet: sheet}
	var probs source.Problems
	if out.Adapted, probs = sheet.Make(a.spec, o); len(probs) > 0 {
		return nil, probs
	}
	return out, a.prove(out)
}

func (a *adapter) prove(t *adapted) (err error) {
	o := a.o
	o.Cache = a.was.cache
	var probs source.Problems
	if t.toy, probs = OpenWith(a.name, t.Text, o); len(probs) > 0 {
		return probs
	}
	t.rep, err = prove.RunContext(a.ctx, t.toy.Toy, a.was.cache, prove.Options{})
	return err
}

// worse are the findings of a proof that fail, or cannot be told, and did not before.
func (a *adapter) worse(rep *prove.Report) (out []prove.Finding) {
	was := map[string]prove.Verdict{}
	for _, f := range a.rep.Findings {
		was[f.ID] = f.Verdict
	}
	for _, f := range rep.Findings {
		if f.Verdict > prove.Mind && f.Verdict > was[f.ID] {
			out = append(out, f)
		}
	}
	return out
}

// exactly looks whether what no longer holds would, were lengths not brought to the marks of a rule:
// first those of the pieces in question, then all. What is better for it stays so.
func (a *adapter) exactly(t *adapted) (*adapted, error) {
	bad := a.worse(t.rep)
	marked := t.sheet.Marked()
	if len(bad) == 0 || len(marked) == 0 {
		return t, nil
	}
	whole, err := a.try(marked)
	if err != nil {
		return nil, err
	}
	if len(a.worse(whole.rep)) >= len(bad) {
		return t, nil
	}
	some := map[string]bool{}
	for _, f := range bad {
		for _, p := range f.Places {
			for owner := range marked {
				if a.was.ownedBy(p.Piece, owner) {
					some[owner] = true
				}
			}
		}
	}
	part, err := a.try(some)
	if err == nil && len(a.worse(part.rep)) <= len(a.worse(whole.rep)) {
		return part, nil
	}
	return whole, err
}

// mends looks for mends of what no longer holds: one, a proof, the next. It returns the toy with all
// of them.
func (a *adapter) mends(out *Adapting, t *adapted) (*adapted, error) {
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
		s := mend.New(t.toy.Toy, t.rep, t.toy.With, t.toy.cache)
		keep := t.sheet.Asked()
		m := Mending{Check: next.Check, Says: next.Says}
		ans, err := s.Find(a.ctx, mend.Ask{Check: next.Check, Keep: keep})
		if err == nil && ans.Mend == nil {
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

// ownedBy tells whether a piece is of the part, the glue-up or the step of the build, or whether the
// owner is a size, which may be of all.
func (t *Toy) ownedBy(piece, owner string) bool {
	if strings.HasPrefix(owner, "sizes.") || strings.HasPrefix(owner, "build[") {
		return true
	}
	m, probs := t.Model()
	if len(probs) > 0 {
		return true
	}
	kind, name, _ := strings.Cut(owner, ".")
	return slices.ContainsFunc(m.Find(piece), func(i int) bool {
		p := m.Pieces[i]
		glueUp, _, _ := strings.Cut(p.GlueUp, ".")
		return kind == "parts" && p.Part.Name == name || kind == "glue-ups" && glueUp == name
	})
}

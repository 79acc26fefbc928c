package app

import (
	"context"
	"encoding/json"
	"fmt"
	"runtime"
	"slices"
	"strings"

	"dryfit/facts"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/prove/forgive"
	"dryfit/prove/robust"
	"dryfit/toy"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

// Forgiven is what makes a toy work for a share of its builders.
type Forgiven struct {
	*robust.Answer
	Share float64
	Text  string // of the toy file with the changes; as it was where nothing was found
	toy   *Toy
}

// Forgive looks for sizes at which the toy surely works for a share (0.9 for nine of ten) of builders.
// sizes are those that may change, nil for all that buy nothing else. Errors are source.Problems, that
// of ctx, or of a size or skill that there is not.
func (t *Toy) Forgive(ctx context.Context, share float64, sizes []string, b Builders) (*Forgiven, error) {
	for _, z := range sizes {
		if err := t.sensible(Ask{Check: "fit.dowel", Size: z}); err != nil {
			return nil, err
		}
	}
	o, err := t.builders(b)
	if err != nil {
		return nil, err
	}
	m, probs := t.Model()
	if len(probs) > 0 {
		return nil, probs
	}
	was, err := prove.RunContext(ctx, t.Toy, t.cache, prove.Options{})
	if err != nil {
		return nil, err
	}
	before := map[string]prove.Verdict{}
	for _, f := range was.Findings {
		before[f.ID] = f.Verdict
	}
	toys := robust.Toys{
		Read: t.withAll,
		Proves: func(ctx context.Context, now *toy.Toy) (string, error) {
			rep, err := prove.RunContext(ctx, now, t.cache, prove.Options{})
			if err != nil {
				return "", err
			}
			for _, f := range rep.Findings {
				if f.Verdict > prove.Waived && f.Verdict > before[f.ID] {
					return f.ID + " " + f.Verdict.String() + " as drawn", nil
				}
			}
			if rep.MustUntold && !was.MustUntold {
				return "something that it must do cannot be told", nil
			}
			return "", nil
		},
	}
	a, err := robust.Find(ctx, t.Toy, m, t.cache, toys, robust.Ask{Share: share, Sizes: sizes, Options: o})
	if err != nil {
		return nil, err
	}
	f := &Forgiven{Answer: a, Share: share, Text: t.text, toy: t}
	if a.Found {
		for _, c := range a.Changes {
			if f.Text, _, err = tree.Apply(source.New(t.name, f.Text), tree.Edit{Op: "set", Path: "sizes." + c.Size, Value: t.plain(c.To.ExactIn(t.Units))}); err != nil {
				return nil, err
			}
		}
	}
	return f, nil
}

// withAll reads the toy again with sizes at other values, in the order of the file.
func (t *Toy) withAll(values map[string]string) (*toy.Toy, source.Problems) {
	with := t.options
	with.Sets = slices.Clone(with.Sets)
	for _, z := range t.Sizes {
		if v, ok := values[z.Name]; ok {
			with.Sets = append(with.Sets, file.Set{Size: z.Name, Value: v})
		}
	}
	return read(t.name, t.text, with)
}

// plain is a length without the unit that the file has anyway.
func (t *Toy) plain(says string) string {
	unit := map[bool]string{true: " in", false: " mm"}[t.Units.String() == "inch"]
	return strings.TrimSuffix(says, unit)
}

// builders are the options of virtual builds.
func (t *Toy) builders(b Builders) (o forgive.Options, err error) {
	own := t.BuilderOf()
	if b.Skill == "" {
		if b.Skill = facts.Fair.String(); own != nil && own.Skill != "" {
			b.Skill = strings.ReplaceAll(own.Skill, "-", " ")
		}
	}
	skill := slices.Index(facts.Skills(), b.Skill)
	if skill < 0 {
		return o, NoSuch{"skill", b.Skill, "", facts.Skills()}
	}
	o = forgive.Options{Skill: facts.Skill(skill), Builds: b.Builds, Seed: b.Seed, Lanes: runtime.GOMAXPROCS(0)}
	if own != nil {
		o.Spreads = forgive.Spreads{}
		for _, s := range own.Spreads {
			o.Spreads[s.Of] = s.By
		}
	}
	if b.Progress != nil {
		o.Progress = func(r *forgive.Report) { b.Progress(&Forgiving{Report: r, toy: t}) }
	}
	return o, nil
}

// Report writes it for a reader.
func (f *Forgiven) Report() string {
	var b strings.Builder
	line := func(at int, format string, args ...any) {
		b.WriteString(strings.Repeat(" ", at) + indent(fmt.Sprintf(format, args...), at+2, whyWidth)[at+2:])
	}
	of := func(r *forgive.Report) string { return (&Forgiving{Report: r, toy: f.toy}).Line() }
	fmt.Fprintf(&b, "%s, for %s of builders who are %s\n", f.toy.Name, percent(f.Share), (&Forgiving{Report: f.Was, toy: f.toy}).skill())
	line(0, "as it is, it %s", of(f.Was))
	switch {
	case f.Found && len(f.Changes) == 0:
		b.WriteString("that is enough: nothing has to change\n")
		return b.String()
	case len(f.Answer.Sizes) == 0:
		b.WriteString("it has no sizes that may change: give lengths a name under sizes\n")
		return b.String()
	case f.Found:
		b.WriteString("\nthis makes it so\n")
	case f.Is == nil || len(f.Changes) == 0:
		fmt.Fprintf(&b, "\nno size makes it work more often: %d other sizes were tried, of %s\n", f.Tried, strings.Join(f.Answer.Sizes, ", "))
		f.tightest(&b, f.Was)
		return b.String()
	default:
		fmt.Fprintf(&b, "\nnothing makes it so; of %d other sizes that were tried this comes nearest\n", f.Tried)
	}
	for _, c := range f.Changes {
		line(2, "%s", MendText(prove.Mend{Size: c.Size, From: c.From.ExactIn(f.toy.Units), To: c.To.ExactIn(f.toy.Units)}))
	}
	line(0, "with it, it %s", of(f.Is))
	if !f.Found {
		f.tightest(&b, f.Is)
	}
	b.WriteString("The builds are others than those it was sought with. This is screening: it promises nothing about a single build.\n")
	return b.String()
}

// tightest says what still fails most.
func (f *Forgiven) tightest(b *strings.Builder, r *forgive.Report) {
	if len(r.Things) > 0 {
		t := r.Things[0]
		fmt.Fprintf(b, "what fails most is still %s, in %s\n", t.ID, percent(float64(t.Holds.N-t.Holds.K-t.Holds.Untold)/float64(max(1, t.Holds.N))))
	}
}

type forgivenJSON struct {
	Format  int        `json:"format"`
	Toy     string     `json:"toy"`
	Share   float64    `json:"share"`
	Skill   string     `json:"skill"`
	Builds  int        `json:"builds"`
	Found   bool       `json:"found"`
	Changes []sizeJSON `json:"changes"`
	Was     shareJSON  `json:"was"`
	Is      *shareJSON `json:"is"`
	Why     string     `json:"why"`
	Tried   int        `json:"tried"`
	Sizes   []string   `json:"sizes"`
}

type sizeJSON struct {
	Size string `json:"size"`
	From string `json:"from"`
	To   string `json:"to"`
}

// JSON writes it for programs.
func (f *Forgiven) JSON() []byte {
	of := func(s forgive.Share) shareJSON { return shareJSON{s.K, s.Untold, round(s.Lo, 1e4), round(s.Hi, 1e4)} }
	out := forgivenJSON{1, f.toy.Name, f.Share, f.Was.Skill.String(), f.Was.Builds, f.Found, []sizeJSON{}, of(f.Was.Works), nil, f.Why, f.Tried, append([]string{}, f.Answer.Sizes...)}
	for _, c := range f.Changes {
		out.Changes = append(out.Changes, sizeJSON{c.Size, c.From.ExactIn(f.toy.Units), c.To.ExactIn(f.toy.Units)})
	}
	if f.Is != nil {
		is := of(f.Is.Works)
		out.Is = &is
	}
	b, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		panic(err) // all of it can be written
	}
	return append(b, '\n')
}

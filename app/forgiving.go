package app

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"dryfit/facts"
	"dryfit/guide"
	"dryfit/measure"
	"dryfit/prove"
	"dryfit/prove/forgive"
	"dryfit/prove/robust"
)

// Builders say whose virtual builds are made.
type Builders struct {
	Skill    string // of facts.Skills; "": the shop's, and fair where it has none
	Builds   int    // 0: as many as is usual
	Seed     uint64
	Progress func(*Forgiving) // told now and then; may be nil
}

// Forgiving is how often a toy still does what it should as others build it.
type Forgiving struct {
	*forgive.Report
	Loosen *Loosen // what fails most often, with the size that gives it room; nil: nothing fails
	toy    *Toy
}

// Loosen is the tightest place of a toy: what fails most often.
type Loosen struct {
	ID   string
	Size *prove.Mend // the size that gives it most room for one mark of a rule; nil: none that is named does
}

// Forgiving makes virtual builds of the toy. If ctx ends first it returns what was found until then
// with the error of ctx; other errors are source.Problems, or of a skill that there is not.
func (t *Toy) Forgiving(ctx context.Context, b Builders) (*Forgiving, error) {
	o, err := t.builders(b)
	if err != nil {
		return nil, err
	}
	m, probs := t.Model()
	if len(probs) > 0 {
		return nil, probs
	}
	r, err := forgive.Study(ctx, t.Toy, m, t.cache, o)
	f := &Forgiving{Report: r, toy: t}
	if err == nil && len(r.Things) > 0 && r.Things[0].Holds.K < r.Builds {
		f.Loosen = &Loosen{ID: r.Things[0].ID}
		by, ok, stopped := robust.Loosen(ctx, t.Toy, t.cache, robust.Toys{Read: t.withAll}, r.Things[0].Check, r.Things[0].About)
		if err = stopped; ok {
			f.Loosen.Size = &prove.Mend{Size: by.Size, From: by.From.ExactIn(t.Units), To: by.To.ExactIn(t.Units)}
		}
	}
	return f, err
}

// Line says in a line how often it works.
func (f *Forgiving) Line() string {
	says := fmt.Sprintf("works in %s of %d virtual builds: between %s and %s of all (99 %% sure)", percent(f.Works.Of()), f.Builds, percent(f.Works.Lo), percent(f.Works.Hi))
	if f.Works.Untold > 0 {
		says += fmt.Sprintf("; of %d it cannot be told", f.Works.Untold)
	}
	return says
}

func percent(x float64) string {
	switch {
	case x > 0 && x < 0.01 || x > 0.99 && x < 1:
		return fmt.Sprintf("%.1f %%", 100*x)
	}
	return fmt.Sprintf("%.0f %%", 100*x)
}

// mostThings is how many of what fails is told in words; JSON has all.
const mostThings = 12

// Text writes it for a reader.
func (f *Forgiving) Text() string {
	var b strings.Builder
	line := func(at int, format string, args ...any) {
		b.WriteString(strings.Repeat(" ", at) + indent(fmt.Sprintf(format, args...), at+2, whyWidth)[at+2:])
	}
	fmt.Fprintf(&b, "%s, built by a builder who is %s\n", f.toy.Name, f.skill())
	b.WriteString(indent(f.Line(), 0, whyWidth))
	if !f.Complete {
		b.WriteString("stopped before the end\n")
	}
	told := 0
	for _, same := range f.alike() {
		t := same[0]
		if t.Holds.K == t.Holds.N {
			continue
		}
		if told++; told == 1 {
			b.WriteString("\nwhat fails\n")
		}
		if told > mostThings {
			continue
		}
		says := t.ID
		if len(same) > 1 {
			says += fmt.Sprintf(" and %d just so", len(same)-1)
		}
		if fails := t.Holds.N - t.Holds.K - t.Holds.Untold; fails > 0 {
			says += fmt.Sprintf(" fails in %s", percent(float64(fails)/float64(t.Holds.N)))
		}
		if t.Holds.Untold > 0 {
			says += fmt.Sprintf(" cannot be told in %s", percent(float64(t.Holds.Untold)/float64(t.Holds.N)))
		}
		line(2, "%s (%s to %s)%s", says, percent(1-t.Holds.Hi), percent(1-t.Holds.Lo), f.because(t.Causes))
	}
	if told > mostThings {
		line(2, "and %d more that fail less often: see --json", told-mostThings)
	}
	minded := 0
	for _, t := range f.Things {
		if t.Holds.K == t.Holds.N && t.Minds.K > 0 {
			minded++
		}
	}
	if minded > 0 {
		fmt.Fprintf(&b, "\n%d more to be minded in some builds: see --json\n", minded)
	}
	if l := f.Loosen; l != nil {
		b.WriteString("\nloosen first\n")
		if l.Size != nil {
			line(2, "%s: a mark of the rule more room by %s", l.ID, MendText(*l.Size))
		} else {
			line(2, "%s: no size that has a name gives it room", l.ID)
		}
	}
	if len(f.Care) > 0 {
		b.WriteString("\ntake care here\n")
		for i, c := range f.CareLines() {
			line(2, "%d. %s", i+1, c)
		}
	}
	if len(f.Holds) > 0 {
		b.WriteString("\nnothing failed of\n")
		line(2, "%s", strings.Join(f.Holds, ", "))
	}
	b.WriteString("\nwhat builders are off by (" + f.skill() + "; common practice, no source, but where it says measured: dryfit spreads)\n")
	for _, says := range f.SpreadLines() {
		line(2, "%s", says)
	}
	fmt.Fprintf(&b, "\n%d errors in each build; %d of the builds were made and put to the checks, the rest was told from\nwhat each error adds; seed %d. This is screening: nothing here promises that a build works.\n", f.Errors, f.Made, f.Seed)
	return b.String()
}

// CareLines say where to take most care, first what matters most.
func (f *Forgiving) CareLines() (out []string) {
	for _, c := range f.Care {
		out = append(out, fmt.Sprintf("%s: of 100 builds %s fail by it", f.where(c.Group)+", "+c.Says, about(c.Builds)))
	}
	return out
}

// SpreadLines say what is taken for each operation.
func (f *Forgiving) SpreadLines() (out []string) {
	for _, e := range f.Operations() {
		out = append(out, f.spread(e))
	}
	return out
}

// CausesLine says what the spread of something comes from, "" where that is not known.
func (f *Forgiving) CausesLine(t forgive.Thing) string {
	return strings.TrimPrefix(f.because(t.Causes), ": of its spread ")
}

// alike puts things together that one check says of like pieces, as often and for the same reasons.
func (f *Forgiving) alike() (out [][]forgive.Thing) {
	at := map[string]int{}
	for _, t := range f.Things {
		key := fmt.Sprint(t.Check, t.Holds.K, t.Holds.Untold, t.Minds.K, t.Causes)
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key], out = i, append(out, nil)
		}
		out[i] = append(out[i], t)
	}
	return out
}

func about(builds float64) string {
	if builds < 1 {
		return "less than one"
	}
	return fmt.Sprintf("%.0f", builds)
}

func (f *Forgiving) skill() string {
	return [...]string{"practised", "fair", "at it for the first time"}[f.Skill]
}

// where says which operation on what is meant.
func (f *Forgiving) where(g forgive.Group) string {
	if g.Detail == "" {
		return g.On
	}
	if strings.HasPrefix(g.Detail, "work.") {
		if m, probs := f.toy.Model(); len(probs) == 0 {
			if says := guide.OnWork(m, g.On, g.Detail); says != "" {
				return says
			}
		}
	}
	return g.On + " " + g.Detail
}

// because names the two causes that matter most.
func (f *Forgiving) because(causes []forgive.Cause) string {
	var says []string
	for _, c := range causes[:min(2, len(causes))] {
		says = append(says, fmt.Sprintf("%s (%s) %s", f.where(c.Group), c.Operation, percent(c.Share)))
	}
	if len(says) == 0 {
		return ""
	}
	return ": of its spread " + strings.Join(says, ", ")
}

// spread says what is taken of an operation.
func (f *Forgiving) spread(e facts.Error) string {
	by := e.Spread[f.Skill]
	is := measure.FromMM(by).Format(measure.MM)
	if e.Angle {
		is = measure.FromDegrees(by * 180 / math.Pi).Format()
	}
	shape := map[facts.ErrorShape]string{facts.Normal: "± %s in two of three", facts.Uniform: "up to ± %s", facts.Over: "over, + %s in two of three"}[e.Shape]
	says := e.Name + ": " + fmt.Sprintf(shape, is)
	if own := f.toy.BuilderOf(); own != nil {
		for _, o := range own.Spreads {
			if o.Of == e.Name {
				says += fmt.Sprintf(", measured (%d)", o.Measured)
			}
		}
	}
	return says + ": " + e.Says
}

type forgivingJSON struct {
	Format     int         `json:"format"`
	Toy        string      `json:"toy"`
	Skill      string      `json:"skill"`
	Seed       uint64      `json:"seed"`
	Builds     int         `json:"builds"`
	Made       int         `json:"made"`
	Errors     int         `json:"errors"`
	Complete   bool        `json:"complete"`
	Confidence float64     `json:"confidence"`
	Works      shareJSON   `json:"works"`
	Things     []thingJSON `json:"things"`
	Holds      []string    `json:"holds"`
	Loosen     *loosenJSON `json:"loosen"`
	Care       []careJSON  `json:"care"`
	Spreads    []offJSON   `json:"spreads"`
}

type shareJSON struct {
	Count  int     `json:"count"`
	Untold int     `json:"untold"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
}

type thingJSON struct {
	ID     string      `json:"id"`
	Check  string      `json:"check"`
	About  string      `json:"about"`
	Holds  shareJSON   `json:"holds"`
	Minds  shareJSON   `json:"minds"`
	Causes []causeJSON `json:"causes"`
}

type causeJSON struct {
	Operation string  `json:"operation"`
	On        string  `json:"on"`
	Detail    string  `json:"detail"`
	Share     float64 `json:"share"`
}

type loosenJSON struct {
	ID   string    `json:"id"`
	Size *sizeJSON `json:"size"`
}

type careJSON struct {
	Operation string  `json:"operation"`
	On        string  `json:"on"`
	Detail    string  `json:"detail"`
	Says      string  `json:"says"`
	Builds    float64 `json:"of_100_builds"`
}

type offJSON struct {
	Operation string  `json:"operation"`
	Shape     string  `json:"shape"`
	Spread    float64 `json:"spread"`
	Unit      string  `json:"unit"`
	Source    string  `json:"source"`
}

// JSON writes it for programs.
func (f *Forgiving) JSON() []byte {
	of := func(s forgive.Share) shareJSON { return shareJSON{s.K, s.Untold, round(s.Lo, 1e4), round(s.Hi, 1e4)} }
	out := forgivingJSON{1, f.toy.Name, f.Skill.String(), f.Seed, f.Builds, f.Made, f.Errors, f.Complete, forgive.Confidence, of(f.Works), []thingJSON{}, append([]string{}, f.Holds...), nil, []careJSON{}, []offJSON{}}
	if l := f.Loosen; l != nil {
		out.Loosen = &loosenJSON{ID: l.ID}
		if l.Size != nil {
			out.Loosen.Size = &sizeJSON{l.Size.Size, l.Size.From, l.Size.To}
		}
	}
	for _, t := range f.Things {
		j := thingJSON{t.ID, t.Check, t.About, of(t.Holds), of(t.Minds), []causeJSON{}}
		for _, c := range t.Causes {
			j.Causes = append(j.Causes, causeJSON{c.Operation, c.On, c.Detail, round(c.Share, 1e4)})
		}
		out.Things = append(out.Things, j)
	}
	for _, c := range f.Care {
		out.Care = append(out.Care, careJSON{c.Operation, c.On, c.Detail, c.Says, round(c.Builds, 1e2)})
	}
	for _, e := range f.Operations() {
		unit, by := "mm", e.Spread[f.Skill]
		if e.Angle {
			unit, by = "degree", by*180/math.Pi
		}
		out.Spreads = append(out.Spreads, offJSON{e.Name, [...]string{"normal", "uniform", "over"}[e.Shape], round(by, 1e4), unit, e.Source})
	}
	text, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		panic("app: bug: " + err.Error())
	}
	return append(text, '\n')
}

// round brings a number to so many steps of one.
func round(x, steps float64) float64 { return math.Round(x*steps) / steps }

package prove

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"slices"
	"sync"

	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/toy"
)

// Options say how a toy is proved.
type Options struct {
	// Only names the checks to make; nil makes all. The others are reported as not
	// asked, never as holding.
	Only []string
	// Lanes is how many checks are made side by side; 0 takes what the machine has.
	// The report does not depend on it.
	Lanes int
	// Done is told the findings of each check as soon as it is done: the quick checks
	// first, a check only once. It is called by one goroutine at a time.
	Done func(Part)
	// Slow holds the slow checks back until it is closed, so that the findings of the
	// quick ones can be shown by then; nil holds nothing back.
	Slow <-chan struct{}
}

// Part is what one check has found: all of it, with and without what may be left
// out, waivers applied.
type Part struct {
	Check    string
	Findings []Finding
	Untold   bool // something the toy must do could not be told
}

// Run proves a toy. The groups that a builder may leave out are proved with and
// without: a finding of the toy without one is added where it is worse. cache may
// be nil.
func Run(t *toy.Toy, cache *assembly.Cache) (*Report, source.Problems) {
	rep, probs, _ := runAll(context.Background(), t, nil, cache, Options{})
	return rep, probs
}

// RunContext is Run with options, and with an end: once ctx is done no further
// check is begun, and its error is returned. What is wrong with the toy itself is
// returned as source.Problems.
func RunContext(ctx context.Context, t *toy.Toy, cache *assembly.Cache, o Options) (*Report, error) {
	return runOf(ctx, t, nil, cache, o)
}

// Proof is the proof of a toy that is derived already. While it runs, and after, it is asked
// for what it works out anyway.
type Proof struct {
	m *assembly.Model
	w *world
}

// Of returns the proof of a model, which is that of a whole toy, nothing left out.
func Of(m *assembly.Model) *Proof { return &Proof{m, newWorld(m)} }

// Run is RunContext of the toy that the model is of.
func (p *Proof) Run(ctx context.Context, cache *assembly.Cache, o Options) (*Report, error) {
	return runOf(ctx, p.m.Toy, p, cache, o)
}

func runOf(ctx context.Context, t *toy.Toy, whole *Proof, cache *assembly.Cache, o Options) (*Report, error) {
	rep, probs, err := runAll(ctx, t, whole, cache, o)
	if len(probs) > 0 {
		return nil, probs
	}
	return rep, err
}

// runAll proves a toy; whole is that of it without anything left out, nil where it is to be derived.
func runAll(ctx context.Context, t *toy.Toy, whole *Proof, cache *assembly.Cache, o Options) (*Report, source.Problems, error) {
	if probs := waivable(t); len(probs) > 0 {
		return nil, probs, nil
	}
	if cache == nil {
		cache = &assembly.Cache{}
	}
	p := &proof{waivers: t.Waivers, without: append([][]string{nil}, variants(t)...)}
	rep := &Report{}
	for _, without := range p.without {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		if len(without) == 1 {
			rep.Without = append(rep.Without, without[0])
		}
		if without == nil && whole != nil {
			p.add(whole)
			continue
		}
		m, probs := assembly.Derive(t, assembly.Options{Cache: cache, Without: without})
		if len(probs) > 0 {
			return nil, probs, nil
		}
		p.add(Of(m))
	}
	if err := p.make(ctx, o); err != nil {
		return nil, nil, err
	}
	p.report(rep, o)
	return rep, nil, nil
}

// Model proves one model as it is, waivers not applied.
func Model(m *assembly.Model) *Report { return modelOnly(m, Options{}) }

// Only makes the checks of these ids on one model as it is, waivers not applied.
func Only(m *assembly.Model, ids ...string) *Report { return modelOnly(m, Options{Only: ids}) }

func modelOnly(m *assembly.Model, o Options) *Report {
	p := &proof{without: [][]string{nil}}
	p.add(Of(m))
	p.make(context.Background(), o) // which is never cancelled
	rep := &Report{}
	p.report(rep, o)
	return rep
}

// proof is the making of the chosen checks on a toy, whole and without each of the
// groups that may be left out.
type proof struct {
	without [][]string // what each model is without: nothing the first
	models  []*assembly.Model
	worlds  []*world
	waivers []toy.Waiver
	parts   []Part // by the number of the check in Checks
}

func (p *proof) add(of *Proof) {
	p.models = append(p.models, of.m)
	p.worlds = append(p.worlds, of.w)
}

// job is one check on one model.
type job struct{ check, model int }

// turn is when a check is begun: the less, the sooner.
func (c *Check) turn() int {
	turn := 0
	if c.Slow {
		turn += 2
	}
	if !c.heavy {
		turn++
	}
	return turn
}

// make makes the checks, those of the quick group first.
func (p *proof) make(ctx context.Context, o Options) error {
	p.parts = make([]Part, len(Checks))
	runs := make([][]*run, len(Checks))
	left := make([]int, len(Checks))
	var jobs []job
	for c := range Checks {
		if chosen(o.Only, Checks[c].ID) {
			runs[c], left[c] = make([]*run, len(p.models)), len(p.models)
			for m := range p.models {
				jobs = append(jobs, job{c, m})
			}
		}
	}
	slices.SortStableFunc(jobs, func(a, b job) int { return Checks[a.check].turn() - Checks[b.check].turn() })
	var mu sync.Mutex // guards runs, left, parts and Done
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	do := func(j job) {
		if o.Slow != nil && Checks[j.check].Slow {
			select {
			case <-o.Slow:
			case <-ctx.Done():
				return
			}
		}
		r := &run{m: p.models[j.model], w: p.worlds[j.model]}
		Checks[j.check].run(r)
		mu.Lock()
		defer mu.Unlock()
		runs[j.check][j.model] = r
		if left[j.check]--; left[j.check] > 0 {
			return
		}
		p.parts[j.check] = p.part(Checks[j.check].ID, runs[j.check])
		if o.Done != nil {
			o.Done(p.parts[j.check])
		}
	}
	return sideBySide(ctx, lanes(o.Lanes), len(jobs), func(i int) {
		made := false
		defer func() {
			if !made { // a check panics: no other is to go on waiting
				stop()
			}
		}()
		do(jobs[i])
		made = true
	})
}

// chosen tells whether a check is among those asked for.
func chosen(only []string, id string) bool { return only == nil || slices.Contains(only, id) }

// lanes is how many checks are made side by side where n are asked for. A browser
// has one lane: there it is all done in sequence.
func lanes(n int) int {
	if n <= 0 {
		n = runtime.GOMAXPROCS(0)
	}
	return n
}

// sideBySide does n jobs on so many lanes, begun in order. A panic of a job is
// passed on to the caller.
func sideBySide(ctx context.Context, lanes, n int, do func(int)) error {
	if lanes = min(lanes, n); lanes <= 1 {
		for i := range n {
			if err := ctx.Err(); err != nil {
				return err
			}
			do(i)
		}
		return ctx.Err()
	}
	var (
		mu     sync.Mutex // guards next and failed
		next   int
		failed any
		wait   sync.WaitGroup
	)
	take := func() (int, bool) {
		mu.Lock()
		defer mu.Unlock()
		if next >= n || failed != nil || ctx.Err() != nil {
			return 0, false
		}
		next++
		return next - 1, true
	}
	for range lanes {
		wait.Go(func() {
			defer func() {
				if x := recover(); x != nil {
					mu.Lock()
					failed = fmt.Sprintf("%v\n%s", x, debug.Stack())
					mu.Unlock()
				}
			}()
			for i, ok := take(); ok; i, ok = take() {
				do(i)
			}
		})
	}
	wait.Wait()
	if failed != nil {
		panic(failed)
	}
	return ctx.Err()
}

// part gathers what a check has found on all models: on the toy without a group
// only what is worse than with it.
func (p *proof) part(id string, runs []*run) Part {
	out := Part{Check: id, Findings: runs[0].findings, Untold: runs[0].untold}
	have := map[string]Verdict{}
	for _, f := range out.Findings {
		have[f.ID] = f.Verdict
	}
	for v, r := range runs[1:] {
		out.Untold = out.Untold || r.untold
		name := ""
		for i, g := range p.without[v+1] {
			if i > 0 {
				name += " and "
			}
			name += g
		}
		for _, f := range r.findings {
			if f.Verdict <= have[f.ID] {
				continue
			}
			f.About += " without " + name
			f.ID = f.Check + ":" + f.About
			f.Says = "without " + name + ": " + f.Says
			out.Findings = append(out.Findings, f)
		}
	}
	out.Findings = p.waive(id, out.Findings)
	return out
}

// waive marks the findings of a check that the file waives.
func (p *proof) waive(id string, findings []Finding) []Finding {
	for _, w := range p.waivers {
		if w.Check != id {
			continue
		}
		found := false
		for i := range findings {
			if f := &findings[i]; w.About == f.About && f.Verdict > Waived {
				f.Notes = append(slices.Clone(f.Notes), fmt.Sprintf("would be %q; waived: %s", f.Verdict, w.Reason))
				f.Verdict, found = Waived, true
			}
		}
		if !found {
			line, col := p.models[0].Toy.File.Position(w.At.Start)
			findings = append(findings, Finding{ID: w.Check + ":" + w.About + " (waiver)", Check: w.Check, About: w.About + " (waiver)", Verdict: Mind, LimitOp: ">=", Source: "the toy file: waive",
				Says: "the file waives this, but there is nothing of that name to waive", Places: []Place{{Piece: w.About, Line: line, Col: col}}})
		}
	}
	return findings
}

// report gathers the parts, in the order of the table.
func (p *proof) report(rep *Report, o Options) {
	m := p.models[0]
	rep.Toy, rep.Pieces, rep.MassKg = m.Toy.Name, len(m.Pieces), p.worlds[0].weigh().mass
	rep.Year, rep.YearFrom = yearOf(m.Toy)
	if m.Toy.Shop != nil {
		rep.ShopFrom = m.Toy.Shop.From
	}
	for i, c := range Checks {
		if !chosen(o.Only, c.ID) {
			rep.NotAsked = append(rep.NotAsked, NotAsked{c.ID, "it was not asked for"})
			continue
		}
		rep.Findings = append(rep.Findings, p.parts[i].Findings...)
		rep.MustUntold = rep.MustUntold || p.parts[i].Untold
	}
	for _, id := range notYet {
		if chosen(o.Only, id) {
			rep.Findings = append(rep.Findings, p.waive(id, nil)...)
		}
		why := "this version does not compute it"
		if where := Elsewhere(id); where != "" {
			why = "it is asked of virtual builds: " + where
		}
		rep.NotAsked = append(rep.NotAsked, NotAsked{id, why})
	}
	rep.sum()
}

func (rep *Report) sum() {
	rep.Verdict = Holds
	for _, f := range rep.Findings {
		if f.Verdict != Waived && f.Verdict > rep.Verdict {
			rep.Verdict = f.Verdict
		}
	}
}

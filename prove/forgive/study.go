package forgive

import (
	"context"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/prove"
	"dryfit/toy"
)

// Options say whose builds are made.
type Options struct {
	Skill   facts.Skill
	Spreads Spreads // a builder's own; what is not there is as usual for the skill
	Builds  int     // how many; 0: UsualBuilds
	Seed    uint64
	Checks  []string // the only checks that builds are put to; nil: Varying
	Lanes   int      // how many builds are made side by side; the report does not depend on it
	// Progress is told what is known so far, now and then, by one goroutine.
	Progress func(*Report)
}

// UsualBuilds is how many builds are made where nothing is said.
const UsualBuilds = 10000

const (
	// firstLook is after how many builds something is told, pilots how many are made before errors
	// are tried by themselves.
	firstLook, pilots = 4, 24
	// proofBuilds is how many further builds are made whole to see how wrong the lines are.
	proofBuilds = 40
	// seenFailing is how many builds with a margin below nought have to be made, all failing or all
	// to be minded, before the sign alone is taken for it.
	seenFailing = 6
	// batch is how many builds are looked at between two looks at how wrong the lines are.
	batch = 256
)

// wide is how many times the worst that a line was wrong by in n builds a margin has to be off nought for
// its word to be taken: the more builds, the rarer one that is worse than all of them.
func wide(n int) float64 {
	switch {
	case n < 150:
		return 2
	case n < 600:
		return 1.5
	}
	return 1.25
}

// Study makes virtual builds of a toy and says how often what the proof says still holds. The model
// is as drawn, of the whole toy. If ctx ends first, the report is of the builds until then, and its
// error is returned with it.
func Study(ctx context.Context, t *toy.Toy, m *assembly.Model, cache *assembly.Cache, o Options) (*Report, error) {
	s := begin(t, m, cache, o)
	err := s.run(ctx)
	return s.report(err == nil), err
}

func begin(t *toy.Toy, m *assembly.Model, cache *assembly.Cache, o Options) *study {
	if o.Builds <= 0 {
		o.Builds = UsualBuilds
	}
	if o.Lanes <= 0 {
		o.Lanes = 1
	}
	if cache == nil {
		cache = &assembly.Cache{}
	}
	s := &study{o: o, b: newBench(t, m, inputsOf(m, o.Skill, o.Spreads), cache, o.Checks), made: map[int]*build{}}
	s.base = s.b.build(make([]float64, len(s.b.in.list)), cache, s.b.checks, nil)
	return s
}

// study is a study under way.
type study struct {
	o      Options
	b      *bench
	base   []state
	follow []bool
	lines  *lines
	errs   [][]wrong        // by constraint and part: how wrong its lines are
	kinds  []kind           // by constraint: what a margin below nought has meant
	made   map[int]*build   // builds that were made
	told   map[int][]answer // of the others, what is told by lines; only what is wrong
	looked int              // builds 0 until looked are decided, but for those in open
	open   map[int]bool
}

// build is one that was made: all that was looked at of it.
type build struct {
	states []state
	whole  bool         // all checks were made
	asked  map[int]bool // the constraints that were asked for
}

// answer is a constraint that is off in a build.
type answer struct {
	at      int
	verdict prove.Verdict
}

// wrong is how far the margin of a build has been above what was foretold, and below.
type wrong struct{ above, below float64 }

// kind is what a constraint was found to be in the builds that were made.
type kind struct {
	seen              int
	fails, minds, odd int     // of those with a margin below nought; odd: any other verdict, or another margin
	sum, square       float64 // of margins
}

// far tells whether what is not there in the toy as drawn, but comes up in builds, is out of reach.
func (k kind) far() bool {
	if k.fails+k.minds+k.odd > 0 {
		return false
	}
	mean := k.sum / float64(k.seen)
	return mean > farReach*math.Sqrt(math.Max(0, k.square/float64(k.seen)-float64(mean*mean)))
}

func (s *study) run(ctx context.Context) error {
	for from := 0; from < pilots && from < s.o.Builds; {
		to := min(s.o.Builds, max(firstLook, 2*from), pilots)
		s.makeWhole(ctx, from, to)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		from, s.looked = to, to
		s.tell()
	}
	if s.looked == s.o.Builds {
		return nil
	}
	var states [][]state
	for i := range s.looked {
		states = append(states, s.made[i].states)
	}
	s.follow = reach(s.base, states, s.b.known())
	var all []int
	for k, f := range s.follow {
		if f {
			all = append(all, k)
		}
	}
	straight := s.checksOf(func(k int) bool { return s.follow[k] && of(s.base, k).finite() })
	s.lines = s.b.linesOf(ctx, s.o.Lanes, s.base, s.follow, straight)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	s.errs, s.kinds = make([][]wrong, len(s.follow)), make([]kind, len(s.follow))
	for k, parts := range s.lines.of {
		s.errs[k] = make([]wrong, len(parts))
	}
	to := min(s.o.Builds, s.looked+proofBuilds)
	s.makeSome(ctx, rangeOf(s.looked, to), func(int) []int { return all })
	if ctx.Err() != nil {
		return ctx.Err()
	}
	s.looked = to
	s.learn()
	s.tell()
	return s.rest(ctx)
}

// rest decides all builds by lines, and makes those that are near. As builds are made more is known of
// how wrong the lines are: those that were decided before are looked at again until nothing changes.
func (s *study) rest(ctx context.Context) error {
	s.told = map[int][]answer{}
	for again := true; again; {
		again = false
		for from := 0; from < s.o.Builds; from += batch {
			to := min(s.o.Builds, from+batch)
			near := map[int][]int{}
			var todo []int
			for i := from; i < to; i++ {
				if b := s.made[i]; b != nil && b.whole {
					continue
				}
				if ks := s.decide(i); len(ks) > 0 {
					near[i] = ks
					todo = append(todo, i)
				}
			}
			if len(todo) > 0 {
				s.makeSome(ctx, todo, func(i int) []int { return near[i] })
				if ctx.Err() != nil {
					return ctx.Err()
				}
				again = s.learn() || again
				for _, i := range todo {
					s.decide(i)
				}
			}
			s.looked = max(s.looked, to)
			if to%(4*batch) == 0 || to == s.o.Builds {
				s.tell()
			}
		}
	}
	return nil
}

// decide says what is wrong in a build, by what was made of it and by lines, and returns the
// constraints for which it has to be made first.
func (s *study) decide(i int) (near []int) {
	x := s.b.in.draw(s.o.Seed, i)
	b := s.made[i]
	var off []answer
	for k := range s.follow {
		if !s.follow[k] {
			continue
		}
		if b != nil {
			if st := of(b.states, k); st.there {
				if st.verdict >= prove.Mind {
					off = append(off, answer{k, st.verdict})
				}
				continue
			}
		}
		switch told, sure := s.foretell(k, x); {
		case !of(s.base, k).there && (s.kinds[k].seen == 0 || s.kinds[k].far()):
		case sure && told >= prove.Mind:
			off = append(off, answer{k, told})
		case !sure && (b == nil || !b.asked[k]):
			near = append(near, k)
		}
	}
	if b != nil {
		for k := len(s.follow); k < len(b.states); k++ { // what had not come up before
			if st := b.states[k]; st.there && st.verdict >= prove.Mind {
				off = append(off, answer{k, st.verdict})
			}
		}
		for k, f := range s.follow {
			if st := of(b.states, k); !f && st.there && st.verdict >= prove.CannotTell && of(s.base, k).ok() {
				off = append(off, answer{k, st.verdict})
			}
		}
	}
	s.told[i] = off
	return near
}

// foretell says by lines what a constraint comes to; sure is false where they may be wrong about it.
func (s *study) foretell(k int, x []float64) (v prove.Verdict, sure bool) {
	if s.lines.of[k] == nil {
		return 0, false
	}
	above, below := 0, 0 // how many parts are surely above nought, and below
	for part := range s.lines.of[k] {
		m, e := s.lines.at(k, part, x), s.errs[k][part]
		w := wide(s.kinds[k].seen)
		switch {
		case m < float64(-w*e.above)-tol.Page:
			below++
		case m > float64(w*e.below)+tol.Page:
			above++
		}
	}
	n, any := len(s.lines.of[k]), of(s.base, k).any
	switch {
	case any && above > 0 || !any && above == n:
		return prove.Holds, true
	case any && below == n || !any && below > 0:
		return s.kinds[k].below()
	}
	return prove.Holds, false
}

// below is what a margin below nought means, as far as that was seen often enough.
func (k kind) below() (v prove.Verdict, sure bool) {
	switch {
	case k.odd == 0 && k.minds == 0 && k.fails >= seenFailing:
		return prove.Fails, true
	case k.odd == 0 && k.fails == 0 && k.minds >= seenFailing:
		return prove.Mind, true
	}
	return 0, false
}

// learn sees from what was made how wrong the lines are; changed tells whether more than was known.
func (s *study) learn() (changed bool) {
	kinds := make([]kind, len(s.follow))
	var order []int
	for i := range s.made {
		order = append(order, i)
	}
	slices.Sort(order)
	for _, i := range order {
		x := s.b.in.draw(s.o.Seed, i)
		for k := range s.follow {
			st := of(s.made[i].states, k)
			if !s.follow[k] || !st.finite() {
				continue
			}
			for part := range s.lines.of[k] {
				if part >= len(st.parts) {
					break
				}
				// how far it is above where it was drawn matters to nobody
				most := math.Max(0, of(s.base, k).parts[part])
				d, e := math.Min(st.parts[part], most)-math.Min(s.lines.at(k, part, x), most), &s.errs[k][part]
				if d > e.above {
					e.above, changed = d, true
				}
				if -d > e.below {
					e.below, changed = -d, true
				}
			}
			m := st.margin()
			kinds[k].seen++
			kinds[k].sum += m
			kinds[k].square += float64(m * m)
			switch {
			case m < 0 && st.verdict == prove.Fails:
				kinds[k].fails++
			case m < 0 && st.verdict == prove.Mind:
				kinds[k].minds++
			case st.verdict >= prove.CannotTell || m < 0:
				kinds[k].odd++
			}
		}
	}
	s.kinds = kinds
	return changed
}

// checksOf lists the checks that some constraints are of, in the order of varying.
func (s *study) checksOf(wanted func(k int) bool) (checks []string) {
	for _, id := range s.b.checks {
		for k, c := range s.b.names[:len(s.follow)] {
			if c.check == id && wanted(k) {
				checks = append(checks, id)
				break
			}
		}
	}
	return checks
}

// makeWhole makes builds and puts them to all checks.
func (s *study) makeWhole(ctx context.Context, from, to int) {
	s.makeSome(ctx, rangeOf(from, to), func(int) []int { return nil })
	for i := from; i < to; i++ {
		if b := s.made[i]; b != nil {
			b.whole = true
		}
	}
}

// makeSome makes builds and looks at some constraints of each, beside those it was asked for before; nil
// asks for all.
func (s *study) makeSome(ctx context.Context, builds []int, ask func(i int) []int) {
	made := make([][]state, len(builds))
	asked, checks := make([]map[string]bool, len(builds)), make([][]string, len(builds))
	for j, i := range builds { // before there are others that find new names
		checks[j] = s.b.checks
		if ks := ask(i); ks != nil {
			asked[j] = map[string]bool{}
			for _, k := range ks {
				asked[j][s.b.names[k].id] = true
			}
			checks[j] = s.checksOf(func(k int) bool { return slices.Contains(ks, k) })
		}
	}
	each(ctx, s.o.Lanes, len(builds), func(j int) {
		made[j] = s.b.build(s.b.in.draw(s.o.Seed, builds[j]), &assembly.Cache{}, checks[j], asked[j])
	})
	for j, i := range builds {
		if made[j] == nil {
			continue
		}
		if s.made[i] == nil {
			s.made[i] = &build{asked: map[int]bool{}}
		}
		b := s.made[i]
		for _, k := range ask(i) {
			b.asked[k] = true
		}
		for k, st := range made[j] {
			for k >= len(b.states) {
				b.states = append(b.states, state{})
			}
			if st.there {
				b.states[k] = st
			}
		}
	}
}

func rangeOf(from, to int) (out []int) {
	for i := from; i < to; i++ {
		out = append(out, i)
	}
	return out
}

func (s *study) tell() {
	if s.o.Progress != nil {
		s.o.Progress(s.report(false))
	}
}

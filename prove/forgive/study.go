package forgive

import (
	"context"
	"slices"

	"dryfit/assembly"
	"dryfit/facts"
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
	if o.Builds*len(s.b.in.list) <= mostDraws {
		s.draws = make([][]float64, o.Builds)
	}
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
	looked int              // how many builds there is something to tell of
	fresh  []found          // what learn has not seen yet
	draws  [][]float64      // of builds, which are looked at again and again; nil where they would be too many
}

// mostDraws is how many errors are kept in memory: 128 MB of them.
const mostDraws = 16 << 20

// drawn returns the errors of a build, which are not to be changed. Of one build only one goroutine asks
// at a time.
func (s *study) drawn(i int) []float64 {
	if s.draws == nil {
		return s.b.in.draw(s.o.Seed, i)
	}
	if s.draws[i] == nil {
		s.draws[i] = s.b.in.draw(s.o.Seed, i)
	}
	return s.draws[i]
}

// build is one that was made: all that was looked at of it.
type build struct {
	states []state
	whole  bool         // all checks were made
	asked  map[int]bool // the constraints that were asked for
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
	s.errs, s.kinds = make([][]wrong, len(s.follow)), nil
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
			var todo, all []int
			for i := from; i < to; i++ {
				if b := s.made[i]; b == nil || !b.whole {
					all = append(all, i)
				}
			}
			for j, ks := range s.decide(ctx, all) {
				if len(ks) > 0 {
					near[all[j]] = ks
					todo = append(todo, all[j])
				}
			}
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if len(todo) > 0 {
				s.makeSome(ctx, todo, func(i int) []int { return near[i] })
				if ctx.Err() != nil {
					return ctx.Err()
				}
				again = s.learn() || again
				s.decide(ctx, todo)
			}
			s.looked = max(s.looked, to)
			if to%(4*batch) == 0 || to == s.o.Builds {
				s.tell()
			}
		}
	}
	return nil
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
		made[j] = s.b.build(s.drawn(builds[j]), &assembly.Cache{}, checks[j], asked[j])
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
			if st.there && !b.states[k].there {
				b.states[k] = st
				s.fresh = append(s.fresh, found{i, k})
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

// Package robust finds sizes at which a toy works in a share of builds: several at once, the cheapest
// change first, on the grid that a rule has.
//
// It is a pattern search over the named lengths (Hooke and Jeeves, "Direct search" solution of
// numerical and statistical problems, J. ACM 8, 1961; Kolda, Lewis and Torczon, Optimization by direct
// search, SIAM Review 45, 2003): steps of one to sixteen marks to either side of each size, the best
// taken, as long as one helps. What is climbed is a cheap stand-in: the builds of the toy as it is, the
// same for all that is tried (common random numbers), each off by what it was off by before, with the
// margins that the drawing has at the sizes in question. What it leads to is believed only after a
// whole proof and after virtual builds of their own, from a seed that the search has not seen, so that
// no choice is flattered by its own luck (selection bias). Then changes are taken back as far as the
// share stays.
package robust

import (
	"context"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/prove/forgive"
	"dryfit/toy"
)

const (
	// perInch and perMM are the grids: the finest marks of a steel rule in inches and of one in
	// millimetres (common practice, no source).
	perInch, perMM = 64, 2
	// farthest is how many marks a size is tried to either side: 1/4 in, or 8 mm.
	farthest = 16
	// sampleBuilds is how many builds stand in for all while it is sought.
	sampleBuilds = 600
	// cushion is by how much the stand-in has to be better than what is asked at first.
	cushion = 0.01
	// mostSizes is how many sizes may change at once, mostStudies how often builds of their own are
	// made for what was found.
	mostSizes, mostStudies = 4, 5
)

// steps are tried to either side of a size, the least change first.
var steps = []int{1, 2, 4, 8, farthest}

// Ask is what is wanted.
type Ask struct {
	Share   float64  // of builds that are to work, surely: the lower end of the interval
	Sizes   []string // that may change; nil: all lengths that do not decide what is bought
	Options forgive.Options
}

// Change is a size and what it becomes.
type Change struct {
	Size     string
	From, To measure.Length
}

// Toys reads a toy with sizes at other values, and proves it whole: why says what is worse than it was,
// "" for nothing.
type Toys struct {
	Read   func(values map[string]string) (*toy.Toy, source.Problems)
	Proves func(ctx context.Context, t *toy.Toy) (why string, err error)
}

// Answer is what was found.
type Answer struct {
	Was     *forgive.Report // as the toy is
	Is      *forgive.Report // of what was found, or of the best that was tried; nil: nothing helped
	Found   bool
	Changes []Change
	Toy     *toy.Toy // with the changes
	Tried   int      // how many other sizes were tried
	Sizes   []string // that were tried
	Why     string   // where nothing was made builds of: what of the drawing would be worse
}

type search struct {
	ask    Ask
	toys   Toys
	base   *toy.Toy
	cache  *assembly.Cache
	sample *forgive.Sample
	sizes  []size
	tried  map[string]float64
	out    *Answer
}

type size struct {
	name string
	at   int // its index in Sizes
	from measure.Length
}

// Find looks for sizes. m is the toy as drawn. The error is that of ctx.
func Find(ctx context.Context, t *toy.Toy, m *assembly.Model, cache *assembly.Cache, toys Toys, ask Ask) (*Answer, error) {
	s := &search{ask: ask, toys: toys, base: t, cache: cache, tried: map[string]float64{}, out: &Answer{}}
	var err error
	if s.out.Was, s.sample, err = forgive.StudySample(ctx, t, m, cache, ask.Options, sampleBuilds); err != nil {
		return s.out, err
	}
	if s.out.Was.Works.Lo >= ask.Share {
		s.out.Found, s.out.Is, s.out.Toy = true, s.out.Was, t
		return s.out, nil
	}
	s.list()
	want := math.Min(1, ask.Share+cushion)
	var from spot
	for study := 0; study < mostStudies; study++ {
		at, ok, err := s.climb(ctx, from, want)
		if err != nil {
			return s.out, err
		}
		if len(at) == 0 || at.same(from) {
			break
		}
		if at, err = s.back(ctx, at, math.Min(want, s.share(at))); err != nil {
			return s.out, err
		}
		good, err := s.believe(ctx, at, uint64(study))
		if err != nil || s.out.Found {
			return s.out, err
		}
		switch {
		case !good: // the drawing itself would be worse: anything but that
			s.tried[s.key(at)] = 0
		case !ok:
			return s.out, nil
		default:
			from, want = at, math.Min(1, want+math.Max(cushion, ask.Share-s.out.Is.Works.Lo))
		}
	}
	return s.out, nil
}

// list finds the sizes that may change: lengths written as such, that decide nothing that is bought.
func (s *search) list() {
	for i, z := range s.base.Sizes {
		l, ok := z.Value.AsLength(s.base.Units)
		if !ok || s.ask.Sizes != nil && !slices.Contains(s.ask.Sizes, z.Name) {
			continue
		}
		x := size{z.Name, i, l}
		t, probs := s.toys.Read(map[string]string{z.Name: s.value(x, 1).ExactIn(s.base.Units)})
		if len(probs) > 0 || s.ask.Sizes == nil && s.buysOther(t) {
			continue
		}
		s.sizes = append(s.sizes, x)
		s.out.Sizes = append(s.out.Sizes, z.Name)
	}
}

// buysOther tells whether other stock is to be bought for a toy.
func (s *search) buysOther(t *toy.Toy) bool {
	for i, st := range s.base.Stock {
		if st.Thick != t.Stock[i].Thick || st.Dia != t.Stock[i].Dia {
			return true
		}
	}
	return false
}

// value is a size some marks on, on the grid of a rule.
func (s *search) value(z size, marks int) measure.Length {
	mark := measure.FromMM(1.0 / perMM)
	if s.base.Units == measure.Inch {
		mark = measure.FromMM(25.4 / perInch)
	}
	if marks == 0 {
		return z.from
	}
	k := math.Round(z.from.MM()/mark.MM()) + float64(marks)
	return measure.FromMM(float64(k * mark.MM()))
}

// spot is by how many marks each size that changes is off its value of today.
type spot map[string]int

func (p spot) with(name string, marks int) spot {
	out := spot{}
	for k, v := range p {
		out[k] = v
	}
	if out[name] = marks; marks == 0 {
		delete(out, name)
	}
	return out
}

func (p spot) same(q spot) bool {
	if len(p) != len(q) {
		return false
	}
	for k, v := range p {
		if q[k] != v {
			return false
		}
	}
	return true
}

// values are the sizes of a spot as they are written.
func (s *search) values(p spot) map[string]string {
	out := map[string]string{}
	for _, z := range s.sizes {
		if p[z.name] != 0 {
			out[z.name] = s.value(z, p[z.name]).ExactIn(s.base.Units)
		}
	}
	return out
}

func (s *search) key(p spot) string {
	key := ""
	for _, z := range s.sizes {
		if p[z.name] != 0 {
			key += z.name + "=" + s.value(z, p[z.name]).ExactIn(s.base.Units) + ";"
		}
	}
	return key
}

// share is what the stand-in says of a spot.
func (s *search) share(p spot) float64 {
	key := s.key(p)
	if x, ok := s.tried[key]; ok {
		return x
	}
	s.tried[key] = 0
	for _, z := range s.sizes {
		if p[z.name] != 0 && s.value(z, p[z.name]).MM() < 0 {
			return 0
		}
	}
	t, probs := s.toys.Read(s.values(p))
	if len(probs) > 0 || s.ask.Sizes == nil && s.buysOther(t) {
		return 0
	}
	s.out.Tried++
	if d, ok := s.sample.Drawn(t, s.cache); ok {
		s.tried[key] = s.sample.Share(d)
	}
	return s.tried[key]
}

// cost is how much of a change a spot is: what it adds up to, each size against its own.
func (s *search) cost(p spot) float64 {
	sum := 0.0
	for _, z := range s.sizes {
		if p[z.name] != 0 {
			sum += math.Abs(s.value(z, p[z.name]).MM()-z.from.MM()) / math.Max(z.from.MM(), 25.4/perInch)
		}
	}
	return sum
}

// climb steps from a spot to better ones until the share is reached, or nothing helps. One size alone
// that reaches it comes before all others, and of those the least change.
func (s *search) climb(ctx context.Context, at spot, want float64) (spot, bool, error) {
	now := s.share(at)
	for now < want {
		best, found := at, now
		for _, z := range s.sizes {
			if at[z.name] == 0 && len(at) >= mostSizes {
				continue
			}
			for _, n := range steps {
				for _, marks := range []int{at[z.name] + n, at[z.name] - n} {
					if ctx.Err() != nil {
						return nil, false, ctx.Err()
					}
					if marks > farthest || marks < -farthest {
						continue
					}
					p := at.with(z.name, marks)
					if x := s.share(p); s.better(p, x, best, found, want) {
						best, found = p, x
					}
				}
			}
		}
		if found <= now {
			return at, false, nil
		}
		at, now = best, found
	}
	return at, true, nil
}

// better tells whether a spot is to be taken rather than another: what reaches the share before what
// does not, among those the cheaper, among the others the one that works more often.
func (s *search) better(p spot, x float64, q spot, y, want float64) bool {
	switch {
	case x >= want && y >= want:
		return s.cost(p) < s.cost(q)
	case x >= want || y >= want:
		return x >= want
	}
	return x > y
}

// back takes changes back, the dearest first, as far as the share stays.
func (s *search) back(ctx context.Context, at spot, want float64) (spot, error) {
	for again := true; again; {
		again = false
		for _, z := range s.sizes {
			for n := range abs(at[z.name]) { // all of it first, then less and less
				if ctx.Err() != nil {
					return nil, ctx.Err()
				}
				if p := at.with(z.name, sign(at[z.name])*n); s.share(p) >= want {
					at, again = p, true
					break
				}
			}
		}
	}
	return at, nil
}

func abs(n int) int { return max(n, -n) }

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}

// believe proves a spot whole and makes builds of it from a seed of their own. good is false where the
// drawing would be worse than it is.
func (s *search) believe(ctx context.Context, at spot, study uint64) (good bool, err error) {
	t, probs := s.toys.Read(s.values(at))
	if len(probs) > 0 { // it was read before
		panic("robust: bug: " + probs.Error())
	}
	why, err := s.toys.Proves(ctx, t)
	if err != nil {
		return false, err
	}
	if why != "" {
		if s.out.Is == nil {
			s.out.Why = s.key(at) + " " + why
		}
		return false, nil
	}
	m, probs := assembly.Derive(t, assembly.Options{Cache: s.cache})
	if len(probs) > 0 {
		panic("robust: bug: " + probs.Error())
	}
	o := s.ask.Options
	o.Seed += freshSeed + study
	rep, err := forgive.Study(ctx, t, m, s.cache, o)
	if err != nil {
		return false, err
	}
	if s.out.Is != nil && s.out.Is.Works.Lo > rep.Works.Lo {
		return true, nil
	}
	s.out.Is, s.out.Toy, s.out.Why, s.out.Changes = rep, t, "", nil
	for _, z := range s.sizes {
		if at[z.name] != 0 {
			s.out.Changes = append(s.out.Changes, Change{z.name, z.from, s.value(z, at[z.name])})
		}
	}
	s.out.Found = rep.Works.Lo >= s.ask.Share
	return true, nil
}

// freshSeed is how far the seeds of the last word are from those of the search.
const freshSeed = 0x9e3779b97f4a7c15

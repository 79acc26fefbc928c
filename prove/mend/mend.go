// Package mend finds the value of one size of a toy, on a grid that a shop can
// measure, at which a check that fails holds and all that held still holds.
//
// A size is tried over a stated range about its value of today. At each value tried
// only the check in question is made (prove.Options.Only) on the real toy, read and
// derived anew with one shared cache; its signed margin leads to where it begins to
// hold (walk.go), and the nearest such value is believed only after a whole proof
// (judge.go). Work is counted in proofs, so that every machine finds the same.
package mend

import (
	"context"
	"iter"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy"
)

const (
	// perInch and perMM are the grids: 1/64 in is the finest mark of a steel rule in
	// inches, 0.5 mm that of one in millimetres (common practice, no source).
	perInch, perMM = 64, 2

	// A size is tried from half to double its value, and at least reachInch or reachMM
	// to both sides: a running clearance of 0 has to become something. What is not less
	// than nothing stays so.
	reachInch, reachMM = 0.25, 6

	// trialsPerSize is how often one size is tried with the check alone, slowTrials how
	// often where the check is a slow one.
	trialsPerSize, slowTrials = 60, 16

	// proofsPerSize and proofsPerAsk are how many whole proofs one size and one question
	// may take.
	proofsPerSize, proofsPerAsk = 4, 16
)

// Read reads the toy with a size at another value.
type Read func(size, value string) (*toy.Toy, source.Problems)

// Search looks for mends of one toy. It remembers what it has tried, so that further
// questions about the same toy cost less. It is for one goroutine.
type Search struct {
	base   *toy.Toy
	rep    *prove.Report
	read   Read
	cache  *assembly.Cache
	step   measure.Length
	was    map[string]prove.Verdict
	sizes  []*size
	tried  map[trialOf]*trial
	proofs map[spot]*verdict
}

// New starts a search from a toy and its whole proof. cache may be nil.
func New(t *toy.Toy, rep *prove.Report, read Read, cache *assembly.Cache) *Search {
	if cache == nil {
		cache = &assembly.Cache{}
	}
	s := &Search{base: t, rep: rep, read: read, cache: cache, step: measure.Millimetre / perMM, was: map[string]prove.Verdict{}, tried: map[trialOf]*trial{}, proofs: map[spot]*verdict{}}
	if t.Units == measure.Inch {
		s.step = measure.Inch.Length() / perInch
	}
	for _, f := range rep.Findings {
		s.was[f.ID] = f.Verdict
	}
	for i, z := range t.Sizes {
		if n := s.newSize(i, z); n != nil {
			s.sizes = append(s.sizes, n)
		}
	}
	return s
}

// Ask is what is to be mended.
type Ask struct {
	Check string
	About string   // of one finding; "" for all that fail
	Size  string   // the only size that may change; "" for any
	Keep  []string // sizes that are not to change
}

// Answer is what a search has found.
type Answer struct {
	Targets []prove.Finding // what was to be mended: what fails, or where nothing fails what is to be minded
	Mend    *Mend           // nil: no single size can
	Tried   []Tried         // the sizes that cannot, in the order of the file
}

// Mend is a size and its new value.
type Mend struct {
	prove.Mend
	FromLength, ToLength measure.Length
	Toy                  *toy.Toy
	Report               *prove.Report // the whole proof with it
}

// Tried tells why a size cannot mend it.
type Tried struct {
	Size   string
	Lo, Hi measure.Length // between which it was tried
	Bears  bool           // it changes what was asked about
	Why    string
}

// Find answers one question. The error is that of ctx.
func (s *Search) Find(ctx context.Context, a Ask) (Answer, error) {
	var out Answer
	q := s.quest(a)
	if out.Targets = q.targets; len(q.targets) == 0 {
		return out, nil
	}
	var runners []*runner
	for _, z := range s.sizes {
		if a.Size != "" && z.name != a.Size || slices.Contains(a.Keep, z.name) {
			continue
		}
		r := &runner{z: z, w: &walk{s: s, q: q, z: z, ctx: ctx}}
		if z.formula && a.Size == "" {
			r.w.why = "follows from other sizes"
		} else {
			next, stop := iter.Pull(r.w.candidates())
			defer stop()
			r.next = next
			r.pull()
		}
		runners = append(runners, r)
	}
	for proofs := 0; ctx.Err() == nil; {
		best := cheapest(runners)
		if best == nil {
			break
		}
		if best.proofs == proofsPerSize || proofs == proofsPerAsk {
			best.has = false
			continue
		}
		proofs++
		best.proofs++
		if v := s.verify(ctx, spot{best.z.index, best.k}); v.ok {
			k, v := best.closer(v)
			to := s.value(k)
			out.Mend = &Mend{Mend: prove.Mend{Size: best.z.name, From: best.z.from.ExactIn(s.base.Units), To: to.ExactIn(s.base.Units)}, FromLength: best.z.from, ToLength: to, Toy: v.toy, Report: v.rep}
			break
		}
		if best.w.why == "" && ctx.Err() == nil {
			best.w.why = "at " + s.value(best.k).ExactIn(s.base.Units) + " it holds, but then " + s.proofs[spot{best.z.index, best.k}].why
		}
		best.refused = append(best.refused, best.k)
		best.pull()
	}
	for _, r := range runners {
		if out.Mend == nil || r.z.name != out.Mend.Size {
			out.Tried = append(out.Tried, r.w.told())
		}
	}
	return out, ctx.Err()
}

// runner is a size with the next value at which the check holds.
type runner struct {
	z       *size
	w       *walk
	next    func() (int, bool)
	k       int
	has     bool
	proofs  int
	refused []int // values at which the check holds and something else does not
}

func (r *runner) pull() { r.k, r.has = r.next() }

// closer is the value nearest to today's that stands a whole proof, between one that
// does and the last before it that does not, if there is one: by halves.
func (r *runner) closer(v *verdict) (int, *verdict) {
	good, bad := r.k, math.MinInt
	for _, k := range r.refused {
		if between := (float64(k)-r.z.at)*(float64(good)-float64(k)) > 0; between && (bad == math.MinInt || abs(good-k) < abs(good-bad)) {
			bad = k
		}
	}
	for bad != math.MinInt && abs(good-bad) > 1 && !r.w.spent {
		k := (good + bad) / 2
		if r.w.eval(k).holds {
			if n := r.w.s.verify(r.w.ctx, spot{r.z.index, k}); n.ok {
				good, v = k, n
				continue
			}
		}
		bad = k
	}
	return good, v
}

// cheapest is the runner whose next value changes least: sizes of the design before
// those of what is bought, then by relative change, then by the order of the file.
func cheapest(rs []*runner) (best *runner) {
	for _, r := range rs {
		if r.has && (best == nil || r.cost() < best.cost()) {
			best = r
		}
	}
	return best
}

// bought is the cost of another stock, above any of another shape.
const bought = 1e6

func (r *runner) cost() float64 {
	c := math.Abs(float64(r.w.s.value(r.k)-r.z.from)) / math.Max(math.Abs(float64(r.z.from)), float64(r.w.s.step))
	if r.z.stock {
		c += bought
	}
	return c
}

// size is a size that may be tried.
type size struct {
	index   int
	name    string
	from    measure.Length
	at      float64 // from, in steps of the grid
	lo, hi  int     // the range, in steps
	formula bool    // it is computed from others
	stock   bool    // it decides what is to be bought
	sold    []int   // of what is sold in fixed sizes only: those within the range
	odd     bool    // it is no length after all: the toy cannot be read with one
}

// value is a place on the grid.
func (s *Search) value(k int) measure.Length { return measure.Length(float64(k) * float64(s.step)) }

// newSize returns nil for what is no length.
func (s *Search) newSize(i int, z toy.Size) *size {
	from, ok := z.Value.AsLength(s.base.Units)
	if !ok {
		return nil
	}
	n := &size{index: i, name: z.Name, from: from, at: float64(from) / float64(s.step)}
	if e, err := formula.Parse(z.Text); err == nil && len(e.Names()) > 0 {
		n.formula = true
	}
	reach := float64(reachMM * perMM)
	if s.base.Units == measure.Inch {
		reach = reachInch * perInch
	}
	far := math.Abs(n.at)
	n.lo, n.hi = int(math.Ceil(n.at-math.Max(far/2, reach))), int(math.Floor(n.at+math.Max(far, reach)))
	if from >= 0 {
		n.lo = max(n.lo, 0)
	}
	// read once, a step on: is it a length, and does it decide what is bought?
	t, probs := s.read(z.Name, s.value(int(math.Floor(n.at))+1).ExactIn(s.base.Units))
	if len(probs) > 0 {
		t, probs = s.read(z.Name, from.ExactIn(s.base.Units))
		n.odd = len(probs) > 0
		return n
	}
	s.boughtAs(n, t)
	return n
}

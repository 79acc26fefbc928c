package forgive

import (
	"context"
	"math"
	"slices"
	"sync"

	"dryfit/assembly"
	"dryfit/prove"
	"dryfit/toy"
)

// varyingOf are those that are put to builds of a toy: how tightly it turns is asked of a build only
// where there is a limit to it, and how small pieces are only for an age that has one.
func varyingOf(t *toy.Toy) (ids []string) {
	for _, id := range varying {
		switch {
		case id == "move.turn" && !slices.ContainsFunc(t.Musts, func(m toy.Must) bool { return m.Kind == toy.MustTurn }):
		case id == "child.small" && t.Ages.FromMonths >= threeYears:
		default:
			ids = append(ids, id)
		}
	}
	return ids
}

// threeYears, in months: from then on small parts are allowed (16 CFR 1501.2).
const threeYears = 36

// varying are the checks that an error of a builder can turn. The others ask what no build changes:
// what a shop can cut, which woods and finishes there are, what is said of arrises and cords.
var varying = []string{"fit.overlap", "fit.contact", "fit.holes", "fit.dowel", "fit.reach", "fit.order", "move.wheels", "move.ground", "move.hinge", "move.turn", "balance", "strength.grain", "strength.joint", "wood.season", "child.small", "child.pinch", "child.holes"}

// Varying lists the checks that virtual builds are put to.
func Varying() []string { return append([]string(nil), varying...) }

// state is what a check says of one thing in one build.
type state struct {
	parts   []float64 // margins, of which the least counts
	verdict prove.Verdict
	there   bool
	any     bool // the greatest of the parts counts
}

// bench makes builds of one toy and puts them to the checks.
type bench struct {
	toy    *toy.Toy
	drawn  *prove.Proof
	model  *assembly.Model
	checks []string
	in     *inputs
	cache  *assembly.Cache // of the toy as drawn and with one error: what is as drawn is made once

	mu    sync.Mutex // guards what follows
	ids   map[string]int
	names []constraint
}

// constraint is one thing that one check says: a finding of a build.
type constraint struct{ id, check, about string }

func newBench(t *toy.Toy, m *assembly.Model, in *inputs, cache *assembly.Cache, checks []string) *bench {
	if checks == nil {
		checks = varyingOf(t)
	}
	return &bench{toy: t, drawn: prove.Of(m), model: m, checks: checks, in: in, cache: cache, ids: map[string]int{}}
}

// unmade is the constraint that a build can be made at all.
const unmade = "make"

// index numbers a constraint.
func (b *bench) index(c constraint) int {
	b.mu.Lock()
	defer b.mu.Unlock()
	at, ok := b.ids[c.id]
	if !ok {
		at = len(b.names)
		b.ids[c.id] = at
		b.names = append(b.names, c)
	}
	return at
}

// build makes one build and puts it to checks, for the constraints that are asked for; nil asks for all.
// What a build does not speak of is not there.
func (b *bench) build(x []float64, cache *assembly.Cache, checks []string, asked map[string]bool) []state {
	m, probs := assembly.Derive(b.toy, assembly.Options{Cache: cache, Dev: b.in.deviations(x), Without: b.model.Without, Drawn: b.model})
	out := make([]state, b.known())
	put := func(c constraint, s state) {
		at := b.index(c)
		for at >= len(out) {
			out = append(out, state{})
		}
		if old := out[at]; old.there && (old.verdict > s.verdict || old.verdict == s.verdict && old.margin() <= s.margin()) {
			return // the same words of two things: the worse of them
		}
		out[at] = s
	}
	if len(probs) > 0 {
		put(constraint{unmade, unmade, probs[0].Says}, state{parts: []float64{-1}, verdict: prove.Fails, there: true})
		return out
	}
	var wants func(check, about string) bool
	if asked != nil {
		wants = func(check, about string) bool { return asked[check+":"+about] }
	}
	for _, f := range prove.Built(m, b.drawn).Make(checks, wants) {
		parts := f.Parts
		if parts == nil {
			parts = []float64{f.Margin}
		}
		put(constraint{f.ID, f.Check, f.About}, state{parts, f.Verdict, true, f.Any})
	}
	return out
}

func (b *bench) known() int {
	b.mu.Lock()
	defer b.mu.Unlock()
	return len(b.names)
}

// of returns a state by number; what was not spoken of then is not there.
func of(s []state, at int) state {
	if at < len(s) {
		return s[at]
	}
	return state{}
}

// ok tells whether nothing is wrong by this state.
func (s state) ok() bool { return !s.there || s.verdict < prove.CannotTell }

// margin is that of the part that counts.
func (s state) margin() float64 {
	if len(s.parts) == 0 {
		return math.NaN()
	}
	return s.parts[s.counts()]
}

// counts is the part that decides.
func (s state) counts() (at int) {
	for i, p := range s.parts {
		if s.any && p > s.parts[at] || !s.any && p < s.parts[at] {
			at = i
		}
	}
	return at
}

// finite tells whether a state can be followed: all its parts are numbers.
func (s state) finite() bool {
	for _, p := range s.parts {
		if math.IsInf(p, 0) || math.IsNaN(p) {
			return false
		}
	}
	return s.there
}

// each does n jobs side by side. A job that ctx comes before is not done.
func each(ctx context.Context, lanes, n int, do func(i int)) {
	var wait sync.WaitGroup
	next := make(chan int)
	for range min(lanes, n) {
		wait.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wait.Wait()
}

package schedule

import (
	"context"
	"errors"
)

// Options say how long to search.
type Options struct {
	Seed uint64
	Work int64 // tasks placed and bounds moved; 0: some seconds of it, less than 0: until the context is done

	// Progress, if not nil, is told of every better schedule and bound.
	Progress func(Progress)
}

// defaultWork is Work where none is said: it takes some seconds.
const defaultWork = 20_000_000

// Progress is what is known so far.
type Progress struct {
	Makespan, SetUps, Bound int
	Work                    int64
}

// Solve finds a schedule of small makespan and, of that makespan, few set-ups. It
// stops when both are proved, when the work is done, or when the context is: then
// with the best it has, and no error. With the same seed and work the plan is the
// same, whatever the machine.
func Solve(ctx context.Context, p *Project, o Options) (*Plan, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	if o.Work == 0 {
		o.Work = defaultWork
	}
	v := &solver{ctx: ctx, options: o, in: newInstance(p)}
	weighed, weight := v.in.weighedBound()
	v.bound = weighed
	v.search = newSearch(v.in, o.Seed, weight)
	v.span = max(v.span, weighed)
	v.run()
	plan := v.plan()
	if err := plan.Check(p); err != nil {
		return nil, errors.Join(errors.New("bug in schedule"), err)
	}
	return plan, nil
}

type solver struct {
	ctx     context.Context
	options Options
	in      *instance
	*search
	proof     *proof
	at        solution // where the search for fewer set-ups is
	bound     int
	setUps    int // bound
	exact     bool
	turn      int // of the prover; -1: no more
	vain      int // turns of the prover that gave nothing since one that did
	wait      int // turns that it leaves out
	otherWork int64
	proofWork int64
}

func (v *solver) work() int64 { return v.search.work() + v.otherWork + v.proofWork }

// run takes turns: population, proof, set-ups.
func (v *solver) run() {
	if v.in.n == 0 {
		v.exact = true
		return
	}
	v.setUps = v.in.leastSetUps()
	for range sureSamples {
		v.step()
		if v.stopped() {
			break
		}
	}
	v.bound = max(v.bound, v.in.bound(v.best.makespan, v.stopped))
	v.otherWork += int64(v.in.n)
	v.tell()
	if v.in.n <= exactTasks {
		v.prove()
	}
	for !v.done() {
		if left := v.options.Work - v.work(); v.options.Work > 0 && left < v.options.Work/groupShare && v.best.setUps > v.setUps {
			v.group(left)
			continue
		}
		v.populate()
		v.refute()
		share := v.share()
		if v.best.makespan > v.bound {
			share /= 4
		}
		v.group(share)
	}
}

// groupShare: of the work the last so manieth part is for fewer set-ups alone.
const groupShare = 5

func (v *solver) stopped() bool {
	return v.ctx.Err() != nil || v.options.Work > 0 && v.work() >= v.options.Work
}

func (v *solver) done() bool {
	return v.stopped() || v.exact || v.best.makespan <= v.bound && v.best.setUps <= v.setUps
}

func (v *solver) tell() {
	if f := v.options.Progress; f != nil {
		f(Progress{v.best.makespan, v.best.setUps, v.bound, v.work()})
	}
}

func (v *solver) prove() {
	work := int64(2_000_000)
	if v.options.Work > 0 {
		work = min(work, v.options.Work-v.work())
	}
	before := v.best.makespan
	proved, spent := v.in.exact(v.decoder, &v.best, work)
	v.otherWork += spent
	if v.exact = proved; proved {
		v.bound = v.best.makespan
	}
	if proved || v.best.makespan < before {
		v.tell()
	}
}

// share is the work of a turn.
func (v *solver) share() int64 { return int64(max(100_000, 20*v.in.n)) }

// populate searches for a shorter schedule.
func (v *solver) populate() {
	if v.best.makespan <= v.bound {
		return
	}
	for until := v.search.work() + v.share(); v.search.work() < until && !v.done(); {
		if v.step() {
			v.tell()
		}
	}
}

// refute raises the bound, or finds a shorter schedule where there was none to be
// expected: turn by turn just below the best and at the bound.
func (v *solver) refute() {
	if v.stopped() || v.best.makespan <= v.bound || v.turn < 0 {
		return
	}
	if v.proof == nil {
		if v.proof = newProof(v.in, v.bound, v.best.makespan-1, v.best.start, v.best.modes, proofPairs); v.proof == nil {
			v.turn = -1
			return
		}
	}
	v.proof.limit(v.best.makespan - 1)
	if v.wait--; v.wait > 0 {
		return
	}
	makespan := v.best.makespan - 1
	if v.turn++; v.turn%2 == 0 {
		makespan = v.bound
	}
	before := v.proof.work
	found := v.proof.try(makespan, 4*v.share(), v.stopped)
	v.proofWork += v.proof.work - before
	v.vain++
	if v.in.n > 60 { // where it gives nothing, time is better spent on search
		v.wait = min(v.vain, 12)
	}
	switch found {
	case refuted:
		v.vain = 0
		v.bound = max(v.bound, min(v.proof.refuse, v.best.makespan))
		v.tell()
	case possible:
		v.vain = 0
		v.adopt(v.proof)
		if len(v.pop) > 0 {
			v.pop[0].copyFrom(&v.child)
		}
		if v.best.makespan > makespan && makespan == v.bound {
			v.turn = -1 // possible but for the hands at set-ups: there is no more to refute
		}
	}
}

// adopt makes a schedule of what a prover found.
func (v *solver) adopt(p *proof) {
	for i := range v.in.n {
		v.key[i] = int(p.found[p.start[i]])
		v.modes[i] = 0
		for k, x := range p.mode[i] {
			if p.found[x] == 1 {
				v.modes[i] = k
			}
		}
	}
	v.order(func(i int) int { return v.key[i] })
	v.decode(v.list, v.modes, false, 2, &v.child)
	if v.note() {
		v.tell()
	}
}

// group searches for fewer set-ups at the best makespan.
func (v *solver) group(share int64) {
	if v.best.setUps <= v.setUps {
		return
	}
	v.at.copyFrom(&v.best)
	for until := v.search.work() + share; v.search.work() < until && !v.done(); {
		if v.regroup(&v.at) {
			v.tell()
		}
	}
}

// leastSetUps is how many there must be: one for each family that a task has in
// all its modes and that is not fitted.
func (in *instance) leastSetUps() int { return len(in.sureSetUps()) }

func (v *solver) plan() *Plan {
	s := &v.best
	p := &Plan{Makespan: s.makespan, SetUps: s.setUps, Bound: v.bound, SetUpsBound: v.setUps, Work: v.work()}
	p.Proved = v.exact || s.makespan == v.bound
	p.SetUpsProved = v.exact || p.Proved && s.setUps == v.setUps
	for i := range v.in.n {
		p.Tasks = append(p.Tasks, Placed{Start: s.start[i], Mode: s.modes[i], End: s.end[i], SetUp: s.change[i]})
	}
	return p
}

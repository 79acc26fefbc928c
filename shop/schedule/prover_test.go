package schedule

import (
	"context"
	"math/rand/v2"
	"testing"
)

// crewProject has tasks that share crews: no tool, no pairs, only what is held together.
func crewProject(rng *rand.Rand, n int) *Project {
	p := &Project{Resources: []Resource{{Capacity: 7}, {Capacity: 5}}}
	for i := range n {
		t := Task{}
		for a := range i {
			if rng.IntN(n) < 2 {
				t.After = append(t.After, a)
			}
		}
		m := Mode{Duration: 1 + rng.IntN(9)}
		for r := range p.Resources {
			m.Uses = append(m.Uses, Use{Resource: r, Units: 1 + rng.IntN(3), For: rng.IntN(m.Duration)})
		}
		t.Modes = []Mode{m}
		p.Tasks = append(p.Tasks, t)
	}
	return p
}

// Whatever the prover moves, it moves for a reason from which alone the same follows.
func TestReasonsAreEnough(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	checked := 0
	for range 25 {
		in := newInstance(crewProject(rng, 14))
		zero := make([]int, in.n)
		s := newSearch(in, 1, make([]int, in.m))
		s.step()
		fresh := func() *proof { return newProof(in, 0, s.best.makespan, zero, zero, 0) }
		p := fresh()
		p.propagate()
		for range 30 {
			x := p.start[rng.IntN(in.n)]
			lo, hi := p.low[2*x], -p.low[2*x+1]
			if lo == hi {
				continue
			}
			l := literal{2 * x, lo + 1 + rng.Int32N(hi-lo)}
			if rng.IntN(2) == 0 {
				l = l.not()
			}
			p.decide(l)
			fine := p.propagate()
			for _, e := range p.trail {
				if e.kind != byStore || e.level == 0 {
					continue
				}
				checked++
				q := fresh()
				sound := true
				for _, r := range p.store[e.a:e.b] {
					if !p.holds(r) {
						t.Fatalf("%v is a reason and does not hold", r)
					}
					sound = sound && q.raise(r, byDecision, 0, 0)
				}
				if sound && q.propagate() && !q.holds(literal{e.side, e.v}) {
					t.Fatalf("%v does not follow from %v", e, p.store[e.a:e.b])
				}
			}
			if !fine {
				q := fresh()
				sound := true
				for _, r := range p.conflict {
					sound = sound && q.raise(r, byDecision, 0, 0)
				}
				if sound && q.propagate() {
					t.Fatalf("%v is no contradiction", p.conflict)
				}
				break
			}
		}
	}
	if checked < 500 {
		t.Errorf("only %d reasons were checked", checked)
	}
}

// From below the prover refutes makespans up to one that is possible, with pairs
// and without; what is found is a schedule.
func TestProverFromBelow(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	for range 8 {
		pr := crewProject(rng, 18)
		plan, err := Solve(context.Background(), pr, Options{Work: 300_000})
		if err != nil {
			t.Fatal(err)
		}
		in := newInstance(pr)
		zero := make([]int, in.n)
		var least [2]int
		for x, pairs := range []int{0, proofPairs} {
			p := newProof(in, 0, plan.Makespan, zero, zero, pairs)
			makespan := 0
			for p.try(makespan, 1<<40, never) == refuted {
				makespan = p.refuse
				if makespan > plan.Makespan {
					t.Fatalf("%d is refuted, and there is a schedule of %d", makespan-1, plan.Makespan)
				}
			}
			least[x] = makespan
			found := Plan{Makespan: makespan}
			for i := range in.n {
				s := int(p.found[p.start[i]])
				found.Tasks = append(found.Tasks, Placed{Start: s, End: s + in.shortest[i]})
			}
			if err := found.Check(pr); err != nil {
				t.Error(err)
			}
		}
		if least[0] != least[1] || plan.Proved && plan.Makespan != least[0] {
			t.Errorf("least makespans %v, Solve says %d, proved %v", least, plan.Makespan, plan.Proved)
		}
	}
}

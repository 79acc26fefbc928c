package schedule

import (
	"context"
	"math/rand/v2"
	"testing"
)

// changes counts how often a steady resource begins a task of another kind than its last, by the
// order of starts alone.
func changes(p *Project, plan *Plan) (n int) {
	for r := range p.Resources {
		if !p.Resources[r].Steady {
			continue
		}
		last := -1
		for _, i := range byStart(plan) {
			uses := false
			for _, u := range p.Tasks[i].Modes[plan.Tasks[i].Mode].Uses {
				uses = uses || u.Resource == r && u.Units > 0
			}
			if kind := p.Tasks[i].Kind; uses {
				if kind == 0 || kind != last {
					n++
				}
				last = kind
			}
		}
	}
	return n
}

func byStart(plan *Plan) []int {
	list := make([]int, len(plan.Tasks))
	for i := range list {
		list[i] = i
	}
	byKey(list, func(i int) int { return plan.Tasks[i].Start })
	return list
}

// One pair of hands that changes between two kinds at every task, for no reason, does one and then the other.
func TestWorkOfOneKindIsGathered(t *testing.T) {
	p := &Project{Resources: []Resource{{Name: "adult", Capacity: 1, Steady: true}}}
	plan := &Plan{Makespan: 8}
	for i := range 8 {
		p.Tasks = append(p.Tasks, Task{Kind: 1 + i%2, Modes: []Mode{{Duration: 1, Uses: []Use{{Units: 1}}}}})
		plan.Tasks = append(plan.Tasks, Placed{Start: i, End: i + 1})
	}
	for i := 1; i < 8; i += 2 { // sawn when it is marked
		p.Tasks[i].After = []int{i - 1}
	}
	if n := changes(p, plan); n != 8 {
		t.Fatalf("%d stretches to begin with", n)
	}
	got, err := Gather(context.Background(), p, plan, 1_000_000)
	if err != nil {
		t.Fatal(err)
	}
	if n := changes(p, got); n != 2 || got.Makespan != 8 {
		t.Errorf("%d stretches in %d, not 2 in 8: %+v", n, got.Makespan, got.Tasks)
	}
}

// Whatever the project, a gathered plan is possible, no longer, with no more set-ups and no more changes.
func TestGatherMakesNothingWorse(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	fewer := 0
	for round := range 300 {
		p := randomProject(rng, 4+rng.IntN(20), 4, kinds[round%len(kinds)])
		p.Resources[0].Steady = true
		for i := range p.Tasks {
			p.Tasks[i].Kind = rng.IntN(4)
		}
		plan, err := Solve(context.Background(), p, Options{Seed: uint64(round), Work: 20_000})
		if err != nil {
			t.Fatal(err)
		}
		got, err := Gather(context.Background(), p, plan, 200_000)
		if err != nil {
			t.Fatal(err)
		}
		was, is := changes(p, plan), changes(p, got)
		if got.Makespan > plan.Makespan || got.SetUps > plan.SetUps || is > was || got.Bound != plan.Bound {
			t.Errorf("round %d: %d with %d set-ups and %d changes became %d with %d and %d", round, plan.Makespan, plan.SetUps, was, got.Makespan, got.SetUps, is)
		}
		if is < was {
			fewer++
		}
	}
	if fewer < 30 {
		t.Errorf("only %d of 300 plans got better", fewer)
	}
}

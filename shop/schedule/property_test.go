package schedule

import (
	"context"
	"math/rand/v2"
	"reflect"
	"testing"
)

var kinds = []kind{{}, {release: true}, {modes: true}, {families: true}, {families: true, release: true}, {true, true, true}}

// What branch and bound proves is what trying all starts finds.
func TestSmallProjectsAreProvedAsByTryingAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for round := range 240 {
		k := kinds[round%len(kinds)]
		n := 1 + rng.IntN(5)
		if round < 40 && !k.modes {
			n = 6 + rng.IntN(2)
		}
		longest := 3
		if k.families && k.release && !k.modes { // a tool that is released long before its task ends
			n, longest = 1+rng.IntN(4), 6
		}
		p := randomProject(rng, n, longest, k)
		makespan, setUps := bruteForce(p)
		plan, err := Solve(context.Background(), p, Options{Seed: uint64(round)})
		if err != nil {
			t.Fatal(err)
		}
		if plan.Makespan != makespan || plan.SetUps != setUps || !plan.Proved || !plan.SetUpsProved || plan.Bound != makespan {
			t.Errorf("round %d: %d with %d set-ups, proved %v %v bound %d; trying all gives %d with %d\n%+v", round,
				plan.Makespan, plan.SetUps, plan.Proved, plan.SetUpsProved, plan.Bound, makespan, setUps, p)
		}
	}
}

// A tool that is released early is free for another family while its first task goes on.
func TestToolReleasedEarly(t *testing.T) {
	task := func(family int) Task {
		return Task{Modes: []Mode{{Duration: 5, Uses: []Use{{Units: 1, For: 1, Family: family}}}}}
	}
	for _, setUp := range []int{0, 2} {
		p := &Project{Resources: []Resource{{Capacity: 1, SetUp: setUp}}, Tasks: []Task{task(1), task(2)}}
		want := 6 + 2*setUp
		plan, err := Solve(context.Background(), p, Options{})
		if err != nil || plan.Makespan != want || plan.Bound != want || !plan.Proved {
			t.Errorf("%+v, %v, where %d is possible", plan, err, want)
		}
	}
}

// Bounds and prover agree with branch and bound, which the test above holds.
func TestBoundsAndProverOnSmallProjects(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for round := range 180 {
		k := kinds[round%len(kinds)]
		p := randomProject(rng, 4+rng.IntN(6), 6, k)
		plan, err := Solve(context.Background(), p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !plan.SetUpsProved {
			t.Fatalf("round %d: not proved", round)
		}
		in := newInstance(p)
		weighed, _ := in.weighedBound()
		if b := max(weighed, in.bound(plan.Makespan+3, never)); b > plan.Makespan {
			t.Errorf("round %d: bound %d above the least makespan %d\n%+v", round, b, plan.Makespan, p)
		}
		if in.leastSetUps() > plan.SetUps {
			t.Errorf("round %d: %d set-ups, bound %d", round, plan.SetUps, in.leastSetUps())
		}
		starts, modes := make([]int, in.n), make([]int, in.n)
		lower := 0
		for i := range in.n {
			lower = max(lower, in.head[i]+in.shortest[i]+in.tail[i])
		}
		pairs := proofPairs * (round / len(kinds) % 2) // without pairs all is refuted by explained time-tables
		proof := newProof(in, lower, plan.Makespan+3, starts, modes, pairs)
		for _, makespan := range []int{lower, plan.Makespan - 1, plan.Makespan, plan.Makespan + 2} {
			got := proof.try(makespan, 1<<30, never)
			if makespan < lower {
				continue
			}
			if makespan >= plan.Makespan && got != possible {
				t.Errorf("round %d: the prover says %v of %d, and %d is possible\n%+v", round, got, makespan, plan.Makespan, p)
			}
			if makespan < plan.Makespan && got != refuted && !k.families {
				t.Errorf("round %d: the prover says %v of %d, and %d is the least\n%+v", round, got, makespan, plan.Makespan, p)
			}
		}
	}
}

// Solve checks its own plan (Plan.Check) and the bound does not pass it.
func TestPlansOfMiddleSize(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for round := range 15 {
		p := randomProject(rng, 20+rng.IntN(30), 12, kinds[round%len(kinds)])
		for _, work := range []int64{1, 200_000} {
			plan, err := Solve(context.Background(), p, Options{Seed: 7, Work: work})
			if err != nil {
				t.Fatal(err)
			}
			if plan.Bound > plan.Makespan || plan.SetUpsBound > plan.SetUps || plan.Proved != (plan.Bound == plan.Makespan) {
				t.Errorf("round %d: bounds %d of %d, %d of %d, proved %v", round, plan.Bound, plan.Makespan, plan.SetUpsBound, plan.SetUps, plan.Proved)
			}
		}
	}
}

func TestSameSeedAndWorkSamePlan(t *testing.T) {
	p := randomProject(rand.New(rand.NewPCG(8, 9)), 60, 20, kind{true, true, true})
	one, err := Solve(context.Background(), p, Options{Seed: 3, Work: 500_000})
	if err != nil {
		t.Fatal(err)
	}
	two, _ := Solve(context.Background(), p, Options{Seed: 3, Work: 500_000})
	if !reflect.DeepEqual(one, two) {
		t.Error("the same seed and work gave two plans")
	}
}

func TestStoppedAtOnceThereIsAPlan(t *testing.T) {
	p := randomProject(rand.New(rand.NewPCG(8, 9)), 100, 20, kind{true, true, true})
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Solve(ctx, p, Options{Work: -1}); err != nil {
		t.Error(err)
	}
}

func TestProgressOnlyGetsBetter(t *testing.T) {
	p := randomProject(rand.New(rand.NewPCG(10, 9)), 60, 20, kind{families: true})
	last := Progress{Makespan: 1 << 40}
	plan, err := Solve(context.Background(), p, Options{Work: 1_000_000, Progress: func(g Progress) {
		if g.Makespan > last.Makespan || g.Makespan == last.Makespan && g.SetUps > last.SetUps || g.Bound < last.Bound || g.Work < last.Work {
			t.Errorf("%+v after %+v", g, last)
		}
		last = g
	}})
	if err != nil || plan.Makespan != last.Makespan || plan.SetUps != last.SetUps {
		t.Errorf("the last told is %+v, the plan %d and %d, %v", last, plan.Makespan, plan.SetUps, err)
	}
}

// FuzzSolve: whatever the project, it is refused or its plan is possible.
func FuzzSolve(f *testing.F) {
	f.Add([]byte{3, 2, 1, 5, 1, 1, 0, 2, 0, 9, 1, 1, 1})
	f.Add([]byte{9, 1, 0, 200, 3, 3, 3, 0, 0, 0, 8, 7, 6, 5, 4, 3, 2, 1})
	f.Fuzz(func(t *testing.T, data []byte) {
		at := 0
		next := func(n int) int {
			if at++; at > len(data) {
				return 0
			}
			return int(data[at-1])%(n+2) - 1
		}
		p := &Project{}
		for range 1 + next(4) {
			p.Resources = append(p.Resources, Resource{Capacity: next(4), SetUp: next(9), Fitted: next(3)})
		}
		for at < len(data) && len(p.Tasks) < 20 {
			task := Task{}
			for range next(3) {
				task.After = append(task.After, next(len(p.Tasks)))
			}
			for range next(3) {
				m := Mode{Duration: next(30)}
				for range next(3) {
					m.Uses = append(m.Uses, Use{Resource: next(4), Units: next(4), For: next(20), Family: next(4)})
				}
				task.Modes = append(task.Modes, m)
			}
			p.Tasks = append(p.Tasks, task)
		}
		refused := p.Check()
		plan, err := Solve(context.Background(), p, Options{Work: 100_000})
		if (refused == nil) != (err == nil) {
			t.Fatalf("checked: %v; solved: %v", refused, err)
		}
		if err == nil && plan.Bound > plan.Makespan {
			t.Fatalf("bound %d above %d", plan.Bound, plan.Makespan)
		}
	})
}

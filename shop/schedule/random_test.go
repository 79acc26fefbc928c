package schedule

import (
	"fmt"
	"math/rand/v2"
)

func never() bool { return false }

// kind says what random projects have.
type kind struct{ modes, families, release bool }

// randomProject is a small project: a crew of two, a tool, clamps.
func randomProject(rng *rand.Rand, n, longest int, k kind) *Project {
	p := &Project{Resources: []Resource{{Name: "hands", Capacity: 2}, {Name: "drill", Capacity: 1}, {Name: "clamps", Capacity: 3 + rng.IntN(3)}}}
	if k.families {
		p.Resources[1].SetUp = rng.IntN(3)
		p.Resources[1].Fitted = rng.IntN(3)
	}
	for i := range n {
		t := Task{Name: fmt.Sprint("t", i)}
		for a := range i {
			if rng.IntN(4) == 0 {
				t.After = append(t.After, a)
			}
		}
		count := 1
		if k.modes {
			count += rng.IntN(2)
		}
		for range count {
			t.Modes = append(t.Modes, randomMode(rng, p, longest, k))
		}
		p.Tasks = append(p.Tasks, t)
	}
	return p
}

func randomMode(rng *rand.Rand, p *Project, longest int, k kind) Mode {
	m := Mode{Duration: 1 + rng.IntN(longest)}
	if rng.IntN(9) == 0 {
		m.Duration = 0
	}
	for r := range p.Resources {
		if rng.IntN(2) == 0 {
			continue
		}
		u := Use{Resource: r, Units: 1 + rng.IntN(p.Resources[r].Capacity)}
		if r == 1 && k.families && m.Duration > 0 {
			u.Family = rng.IntN(3)
		}
		if k.release && m.Duration > 1 {
			u.For = rng.IntN(m.Duration)
		}
		m.Uses = append(m.Uses, u)
	}
	return m
}

// bruteForce tries all starts, time by time, for the least makespan and then the
// fewest set-ups. It shares nothing with the search.
func bruteForce(p *Project) (makespan, setUps int) {
	for makespan = 0; ; makespan++ {
		b := &brute{p: p, end: makespan, best: -1, plan: Plan{Tasks: make([]Placed, len(p.Tasks))}}
		for _, r := range p.Resources {
			held := make([]int, makespan)
			for t := range held {
				held[t] = r.Capacity
			}
			b.free = append(b.free, held)
		}
		b.place(0)
		if b.best >= 0 {
			return makespan, b.best
		}
	}
}

type brute struct {
	p    *Project
	end  int
	free [][]int
	plan Plan
	best int
}

// place relies on tasks that come after others standing behind them.
func (b *brute) place(i int) {
	if i == len(b.p.Tasks) {
		b.leaf()
		return
	}
	from := 0
	for _, a := range b.p.Tasks[i].After {
		from = max(from, b.plan.Tasks[a].End)
	}
	for k, m := range b.p.Tasks[i].Modes {
		for s := from; s+m.Duration <= b.end; s++ {
			if b.hold(m, s, -1) {
				b.plan.Tasks[i] = Placed{Start: s, Mode: k, End: s + m.Duration}
				b.place(i + 1)
			}
			b.hold(m, s, 1)
		}
	}
}

func (b *brute) hold(m Mode, s, by int) bool {
	ok := true
	for _, u := range m.Uses {
		length := u.For
		if length == 0 {
			length = m.Duration
		}
		for t := s; t < s+length; t++ {
			b.free[u.Resource][t] += by * u.Units
			ok = ok && b.free[u.Resource][t] >= 0
		}
	}
	return ok
}

func (b *brute) leaf() {
	pl := &b.plan
	pl.Makespan, pl.SetUps = 0, 0
	fitted := map[int]int{}
	for r, x := range b.p.Resources {
		fitted[r] = x.Fitted
	}
	for _, t := range pl.Tasks {
		pl.Makespan = max(pl.Makespan, t.End)
	}
	for t := range b.end {
		for i := range pl.Tasks {
			x := &pl.Tasks[i]
			if x.Start != t {
				continue
			}
			x.SetUp = false
			for _, u := range b.p.Tasks[i].Modes[x.Mode].Uses {
				if u.Family > 0 && u.Family != fitted[u.Resource] {
					fitted[u.Resource] = u.Family
					x.SetUp = true
					pl.SetUps++
				}
			}
		}
	}
	if pl.Check(b.p) == nil && (b.best < 0 || pl.SetUps < b.best) {
		b.best = pl.SetUps
	}
}

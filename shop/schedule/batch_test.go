package schedule

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"
)

// Resources of the Quay Lane workshop; times are minutes.
const (
	adult = iota
	child
	saw
	drill
	sander
	clamps
)

// batch is so many tasks for about a toy for each sixty: every part of a toy is
// marked, sawn, drilled and sanded, every three parts are glued, the toy is oiled.
// Parts with the same number are alike in all toys.
func batch(tasks int, seed uint64) *Project {
	p := &Project{Resources: []Resource{
		adult:  {Name: "adult", Capacity: 1},
		child:  {Name: "child", Capacity: 1},
		saw:    {Name: "saw", Capacity: 1, SetUp: 6},
		drill:  {Name: "drill", Capacity: 1, SetUp: 3},
		sander: {Name: "sander", Capacity: 1},
		clamps: {Name: "clamps", Capacity: 6},
	}}
	add := func(name string, after []int, modes ...Mode) int {
		p.Tasks = append(p.Tasks, Task{Name: name, After: after, Modes: modes})
		return len(p.Tasks) - 1
	}
	hands := func(d, who int, uses ...Use) Mode {
		return Mode{Duration: d, Uses: append([]Use{{Resource: who, Units: 1}}, uses...)}
	}
	for toy := 0; len(p.Tasks) < tasks; toy++ {
		rng := rand.New(rand.NewPCG(seed, 77))
		begin := len(p.Tasks)
		var glued, parts []int
		for part := 0; len(p.Tasks) < tasks-1 && len(p.Tasks)-begin < 58; part++ {
			name := func(what string) string { return fmt.Sprintf("%s toy %d part %d", what, toy+1, part+1) }
			d := 2 + rng.IntN(3)
			marked := add(name("mark"), nil, hands(d, adult), hands(2*d, child))
			blade, d := 1+rng.IntN(2), 2+rng.IntN(6)
			sawn := add(name("saw"), []int{marked}, hands(d, adult, Use{Resource: saw, Units: 1, Family: blade}))
			bit, d := 1+rng.IntN(5), 1+rng.IntN(4)
			at := Use{Resource: drill, Units: 1, Family: bit}
			drilled := add(name("drill"), []int{sawn}, hands(d, adult, at), hands(2*d, child, at))
			d = 3 + rng.IntN(6)
			parts = append(parts, add(name("sand"), []int{drilled}, hands(d, child), hands(d, adult),
				hands(1+d/2, adult, Use{Resource: sander, Units: 1})))
			if len(parts) == 3 {
				n := 1 + rng.IntN(3)
				glue := Use{Resource: adult, Units: 1, For: 6}
				glued = append(glued, add(name("glue"), parts, Mode{Duration: 60, Uses: []Use{glue, {Resource: clamps, Units: n}}}))
				parts = nil
			}
		}
		add(fmt.Sprintf("oil toy %d", toy+1), append(glued, parts...), hands(8, adult), hands(10, child))
	}
	return p
}

// BenchmarkBatch: what five seconds give, from one toy to twenty-five.
func BenchmarkBatch(b *testing.B) {
	for _, n := range []int{50, 100, 200, 400, 800, 1200, 1500} {
		p := batch(n, 1)
		b.Run(fmt.Sprintf("n=%d", n), func(b *testing.B) {
			for range b.N {
				ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
				plan, err := Solve(ctx, p, Options{Work: -1})
				cancel()
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(plan.Makespan), "makespan")
				b.ReportMetric(100*float64(plan.Makespan-plan.Bound)/float64(plan.Bound), "%gap")
				b.ReportMetric(float64(plan.SetUps), "set-ups")
				b.ReportMetric(float64(plan.SetUpsBound), "set-ups-bound")
				b.ReportMetric(float64(plan.Work), "work")
			}
		})
	}
}

// BenchmarkSchedule: one schedule of a list, and one made by going through time.
func BenchmarkSchedule(b *testing.B) {
	for _, n := range []int{50, 100, 200, 400, 800, 1200, 1500} {
		in := newInstance(batch(n, 1))
		_, weight := in.weighedBound()
		s := newSearch(in, 1, weight)
		s.step()
		b.Run(fmt.Sprintf("serial/n=%d", n), func(b *testing.B) {
			for range b.N {
				s.fwd.build(s.best.list, s.best.modes)
			}
		})
		b.Run(fmt.Sprintf("parallel/n=%d", n), func(b *testing.B) {
			for range b.N {
				s.par.build(s.best.list, s.best.modes)
			}
		})
	}
}

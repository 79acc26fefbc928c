package schedule

import "sort"

// item is work that a resource has to do whatever the mode: units held for length,
// not before head and with at least tail from its end to the end of all. A set-up
// that cannot be avoided is an item too, of task -1.
type item struct{ task, units, length, head, tail, all int }

func (x item) energy() int { return x.units * x.all }

// items are the items of every resource.
func (in *instance) items() [][]item {
	out := make([][]item, in.m)
	for i, modes := range in.modes {
		for r := range in.m {
			x := item{task: i, head: in.head[i]}
			for k := range modes {
				u := modes[k].use(r)
				tail := modes[k].d - u.length + in.tail[i]
				if k == 0 {
					x.units, x.length, x.tail, x.all = u.units, u.length, tail, u.all
					continue
				}
				x.units, x.length, x.tail, x.all = min(x.units, u.units), min(x.length, u.length), min(x.tail, tail), min(x.all, u.all)
			}
			if x.energy() > 0 {
				out[r] = append(out[r], x)
			}
		}
	}
	for _, f := range in.sureSetUps() {
		for r, units := range f.units {
			if units > 0 && in.setUp[f.tool] > 0 {
				out[r] = append(out[r], item{-1, units, in.setUp[f.tool], f.head, f.tail, in.setUp[f.tool]})
			}
		}
	}
	return out
}

// use is what a mode holds of a resource, of 0 units if nothing.
func (m *mode) use(r int) use {
	for _, u := range m.uses {
		if u.r == r {
			return u
		}
	}
	return use{r: r}
}

// sureSetUp is a family that has to be fitted once at least: it is not fitted at
// the beginning, and some task has it in all its modes. It holds what every task
// that might need it holds.
type sureSetUp struct {
	tool, fam  int
	units      []int
	head, tail int
}

func (in *instance) sureSetUps() []sureSetUp {
	type key struct{ tool, fam int }
	found := map[key]*sureSetUp{}
	sure := map[key]bool{}
	for i, modes := range in.modes {
		for k := range modes {
			m := &modes[k]
			if m.fam == 0 || in.fitted[m.tool] == m.fam {
				continue
			}
			at := key{m.tool, m.fam}
			f := found[at]
			fresh := f == nil
			if fresh {
				f = &sureSetUp{tool: m.tool, fam: m.fam, units: make([]int, in.m)}
				found[at] = f
			}
			all := true
			for x := range modes {
				all = all && modes[x].tool == m.tool && modes[x].fam == m.fam
			}
			sure[at] = sure[at] || all
			head, tail := max(0, in.head[i]-in.setUp[m.tool]), m.d+in.tail[i]
			if fresh {
				f.head, f.tail = head, tail
			} else {
				f.head, f.tail = min(f.head, head), min(f.tail, tail)
			}
			for r := range f.units {
				if u := m.use(r).units; fresh || u < f.units[r] {
					f.units[r] = u
				}
			}
		}
	}
	var out []sureSetUp
	for at, f := range found {
		if sure[at] {
			out = append(out, *f)
		}
	}
	sort.Slice(out, func(a, b int) bool {
		return out[a].tool < out[b].tool || out[a].tool == out[b].tool && out[a].fam < out[b].fam
	})
	return out
}

// Bound is a time that no schedule is shorter than, where a task may stand for many that are
// alike and are done in lots of any size: it is the way of one of them, and what all of them
// hold a resource for is Use.All, 0 where it is one. Each of them comes after at least one of
// every task before it, so that neither heads and tails nor energies depend on how the work is
// cut up.
func (p *Project) Bound() (int, error) {
	if err := p.Check(); err != nil {
		return 0, err
	}
	in := newInstance(p)
	lb, _ := in.weighedBound()
	for i := range in.n {
		lb = max(lb, in.head[i]+in.shortest[i]+in.tail[i])
	}
	for r, items := range in.items() {
		lb = max(lb, energyBound(items, in.capacity[r]))
	}
	return lb, nil
}

// bound is the best of the bounds that cost little: the longest way, the energy of
// each resource, cliques, and destructive improvement.
func (in *instance) bound(upper int, stop func() bool) int {
	lb := 0
	for i := range in.n {
		lb = max(lb, in.head[i]+in.shortest[i]+in.tail[i])
	}
	items := in.items()
	for r := range items {
		lb = max(lb, energyBound(items[r], in.capacity[r]))
	}
	if in.n <= 400 {
		lb = max(lb, in.cliqueBound())
	}
	if in.n <= 150 {
		lb = in.destructive(items, lb, upper, stop)
	}
	return lb
}

// energyBound is the greatest head + energy/capacity + tail over the sets of items
// that begin after a head and leave a tail. With capacity 1 it is the preemptive
// one-machine bound (Carlier 1982).
func energyBound(items []item, capacity int) int {
	byTail := append([]item(nil), items...)
	sort.SliceStable(byTail, func(a, b int) bool { return byTail[a].tail > byTail[b].tail })
	heads := make([]int, len(items))
	for k, x := range items {
		heads[k] = x.head
	}
	sort.Ints(heads)
	best := 0
	for k, a := range heads {
		if k > 0 && heads[k-1] == a {
			continue
		}
		energy := 0
		for _, x := range byTail {
			if x.head >= a {
				energy += x.energy()
				best = max(best, a+(energy+capacity-1)/capacity+x.tail)
			}
		}
	}
	return best
}

// cliqueBound is the one-machine bound of sets of tasks of which no two can run
// together, each grown from one task by the longest others.
func (in *instance) cliqueBound() int {
	apart := in.apart()
	long := make([]int, in.n)
	for i := range long {
		long[i] = i
	}
	byKey(long, func(i int) int { return -in.shortest[i] })
	best := 0
	for _, seed := range long {
		set := []item{{seed, 1, in.shortest[seed], in.head[seed], in.tail[seed], in.shortest[seed]}}
	next:
		for _, j := range long {
			if j == seed || in.shortest[j] == 0 {
				continue
			}
			for _, x := range set {
				if !apart[x.task][j] {
					continue next
				}
			}
			set = append(set, item{j, 1, in.shortest[j], in.head[j], in.tail[j], in.shortest[j]})
		}
		best = max(best, energyBound(set, 1))
	}
	return best
}

// apart says of two tasks that they cannot run together: one comes after the
// other, or they hold too much of a resource for their whole length in all modes.
func (in *instance) apart() [][]bool {
	apart := make([][]bool, in.n)
	whole := make([][]int, in.n)
	for i := range in.n {
		apart[i] = make([]bool, in.n)
		whole[i] = make([]int, in.m)
		for r := range in.m {
			for k := range in.modes[i] {
				units := 0
				if u := in.modes[i][k].use(r); u.length == in.modes[i][k].d {
					units = u.units
				}
				if k == 0 || units < whole[i][r] {
					whole[i][r] = units
				}
			}
		}
	}
	before := in.before()
	for i := range in.n {
		for j := range i {
			is := before[i][j] || before[j][i]
			for r := range in.m {
				is = is || whole[i][r]+whole[j][r] > in.capacity[r]
			}
			apart[i][j], apart[j][i] = is, is
		}
	}
	return apart
}

// before says which tasks have to be done before which, however far.
func (in *instance) before() [][]bool {
	before := make([][]bool, in.n)
	for i := range before {
		before[i] = make([]bool, in.n)
	}
	for q := len(in.topo) - 1; q >= 0; q-- {
		i := in.topo[q]
		for _, j := range in.succ[i] {
			before[i][j] = true
			for k, after := range before[j] {
				if after {
					before[i][k] = true
				}
			}
		}
	}
	return before
}

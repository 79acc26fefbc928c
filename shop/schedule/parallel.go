package schedule

import "sort"

// parallel is parallel schedule generation (Kolisch 1996): it goes through time
// and starts, of the tasks that can start, those of least rank first. Where group
// says so, what is fitted comes first. A mode of -1 is chosen: of those that
// can start and cost not too much, the one that ends first.
type parallel struct {
	in     *instance
	free   []int
	fitted []int
	start  []int
	mode   []int
	wait   []int
	ready  []int // by rank
	events []event
	work   int64
	cost   [2][][]int // of each mode more than the cheapest of its task, in percent; with a set-up
	most   int        // such cost that is allowed
	group  int
	batch  int // a family is fitted when so many tasks that can start want it, or nothing else goes on
	wanted []wanted
}

// How tasks that want what is fitted come first.
const (
	anyFamily    = iota
	fittedOnTool // a tool is not set up anew while a task wants what is fitted on it
	fittedFirst  // whatever needs no set-up comes before what does
)

// wanted is whether enough tasks want a family, as counted at this time.
type wanted struct {
	tool, fam int
	enough    bool
}

// event is something that happens at a time: a task is done, or units come free.
type event struct{ at, task, r, units int }

func newParallel(in *instance, weight []int) *parallel {
	return &parallel{in: in, cost: [2][][]int{in.costs(weight, false), in.costs(weight, true)}, free: make([]int, in.m), fitted: make([]int, in.m),
		start: make([]int, in.n), mode: make([]int, in.n), wait: make([]int, in.n)}
}

// build fills start and mode. rank is a permutation of all tasks.
func (p *parallel) build(rank, modes []int) {
	in := p.in
	copy(p.free, in.capacity)
	copy(p.fitted, in.fitted)
	p.ready, p.events = p.ready[:0], p.events[:0]
	for i := range in.n {
		if p.wait[i] = len(in.pred[i]); p.wait[i] == 0 {
			p.admit(i, rank)
		}
	}
	now := 0
	for len(p.ready) > 0 || len(p.events) > 0 {
		p.wanted = p.wanted[:0]
		if p.group == fittedFirst {
			p.startAll(now, modes, true)
		}
		p.startAll(now, modes, false)
		if len(p.events) == 0 {
			return
		}
		now = p.events[0].at
		for len(p.events) > 0 && p.events[0].at == now {
			e := p.pop()
			if e.task < 0 {
				p.free[e.r] += e.units
				continue
			}
			for _, j := range in.succ[e.task] {
				if p.wait[j]--; p.wait[j] == 0 {
					p.admit(j, rank)
				}
			}
		}
	}
}

func (p *parallel) admit(i int, rank []int) {
	at := sort.Search(len(p.ready), func(k int) bool { return rank[p.ready[k]] > rank[i] })
	p.ready = append(p.ready, 0)
	copy(p.ready[at+1:], p.ready[at:])
	p.ready[at] = i
}

func (p *parallel) startAll(now int, modes []int, withoutSetUp bool) {
	all, kept := p.ready, p.ready[:0]
	for x, i := range all {
		p.ready = all[x:]
		best, end := -1, 0
		if modes[i] >= 0 {
			if p.can(i, modes[i], withoutSetUp) {
				best = modes[i]
			}
		} else {
			for k := range p.in.modes[i] {
				if e := p.in.modes[i][k].d + p.setUp(i, k); p.costs(i, k) <= p.most && (best < 0 || e < end) && p.can(i, k, withoutSetUp) {
					best, end = k, e
				}
			}
		}
		if best < 0 {
			kept = append(kept, i)
			continue
		}
		p.put(i, best, now)
	}
	p.ready = kept
}

func (p *parallel) costs(i, k int) int {
	if p.setUp(i, k) > 0 {
		return p.cost[1][i][k]
	}
	return p.cost[0][i][k]
}

func (p *parallel) setUp(i, k int) int {
	if m := &p.in.modes[i][k]; m.fam > 0 && p.fitted[m.tool] != m.fam {
		return p.in.setUp[m.tool]
	}
	return 0
}

func (p *parallel) can(i, k int, withoutSetUp bool) bool {
	m := &p.in.modes[i][k]
	for x := range m.uses {
		if p.free[m.uses[x].r] < m.uses[x].units {
			return false
		}
	}
	if fitted := p.fitted; m.fam > 0 && fitted[m.tool] != m.fam && len(p.events) > 0 {
		if withoutSetUp {
			return false
		}
		return !(p.group == fittedOnTool && p.want(m.tool, fitted[m.tool], 1)) && (p.batch <= 1 || p.want(m.tool, m.fam, p.batch))
	}
	return true
}

// want: of the tasks not yet looked at, so many want the family.
func (p *parallel) want(tool, fam, many int) bool {
	for _, w := range p.wanted {
		if w.tool == tool && w.fam == fam {
			return w.enough
		}
	}
	n := 0
	for _, i := range p.ready {
		if k := &p.in.modes[i][0]; k.tool == tool && k.fam == fam {
			n++
		}
	}
	p.wanted = append(p.wanted, wanted{tool, fam, n >= many})
	return n >= many
}

func (p *parallel) put(i, k, now int) {
	p.work++
	m := &p.in.modes[i][k]
	setUp := p.setUp(i, k)
	if m.fam > 0 {
		p.fitted[m.tool] = m.fam
	}
	p.start[i], p.mode[i] = now+setUp, k
	for _, u := range m.uses {
		p.free[u.r] -= u.units
		p.push(event{now + setUp + u.length, -1, u.r, u.units})
	}
	p.push(event{now + setUp + m.d, i, 0, 0})
}

// push and pop are a heap by time, then tasks by index.
func (p *parallel) push(e event) {
	p.events = append(p.events, e)
	for k := len(p.events) - 1; k > 0; {
		up := (k - 1) / 2
		if !p.events[k].before(p.events[up]) {
			break
		}
		p.events[k], p.events[up] = p.events[up], p.events[k]
		k = up
	}
}

func (p *parallel) pop() event {
	top, last := p.events[0], len(p.events)-1
	p.events[0] = p.events[last]
	p.events = p.events[:last]
	for k := 0; ; {
		c := 2*k + 1
		if c >= last {
			return top
		}
		if c+1 < last && p.events[c+1].before(p.events[c]) {
			c++
		}
		if !p.events[c].before(p.events[k]) {
			return top
		}
		p.events[c], p.events[k] = p.events[k], p.events[c]
		k = c
	}
}

func (e event) before(f event) bool { return e.at < f.at || e.at == f.at && e.task < f.task }

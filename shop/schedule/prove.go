package schedule

// proof is a prover with the numbers of an instance. Of set-ups it knows that two
// tasks of different families on a tool have the set-up between them, not that it
// holds hands: what it refutes is refuted, what it finds may not be possible.
type proof struct {
	*prover
	in     *instance
	start  []int32
	end    []int32
	mode   [][]int32
	span   int32   // the makespan
	refuse int     // makespans below are refuted
	runs   int     // restarts so far
	found  []int32 // least values when try last found a schedule
}

// proofSize is how many bounds a proof may have, and pairs of tasks that cannot run together.
const (
	proofSize  = 400_000
	proofPairs = 6000
)

// newProof makes the numbers for schedules from lower to upper, with at most so
// many pairs; nil if there would be too many. Starts and modes are those to try first.
func newProof(in *instance, lower, upper int, starts, modes []int, pairs int) *proof {
	size := 0
	for i := range in.n {
		size += max(0, upper-in.tail[i]-in.shortest[i]-in.head[i])
	}
	if size > proofSize || in.n > 400 {
		return nil
	}
	p := &proof{prover: newProver(), in: in, refuse: lower}
	p.span = p.number(lower, upper)
	for i := range in.n {
		x := p.number(in.head[i], upper-in.tail[i]-in.shortest[i])
		p.start = append(p.start, x)
		p.phase[x] = int32(starts[i])
		p.order(x, p.span, in.shortest[i]+in.tail[i])
	}
	for i := range in.n {
		p.addModes(i, upper, modes[i])
	}
	for i := range in.n {
		for _, j := range in.succ[i] {
			p.endBefore(i, j)
		}
	}
	p.addResources()
	if pairs > 0 {
		p.addPairs(pairs)
	}
	for _, i := range in.several {
		p.fixed = append(p.fixed, p.mode[i]...)
	}
	p.fixed = append(p.fixed, p.start...)
	for x := range p.low {
		p.next = 0
		for k := range p.out[x] {
			if !p.dead && !p.follow(p.out[x][k]) {
				p.dead = true
			}
		}
	}
	for k := range p.dirty {
		p.dirty[k] = true
	}
	return p
}

// addModes gives a task with several modes an end and a number 0 or 1 for each mode.
func (p *proof) addModes(i, upper, chosen int) {
	modes := p.in.modes[i]
	p.end = append(p.end, -1)
	p.mode = append(p.mode, nil)
	if len(modes) == 1 {
		return
	}
	end := p.number(p.in.head[i]+p.in.shortest[i], upper-p.in.tail[i])
	p.end[i] = end
	p.order(p.start[i], end, p.in.shortest[i])
	p.order(end, p.span, p.in.tail[i])
	var one []literal
	for k := range modes {
		x := p.number(0, 1)
		if k == chosen {
			p.phase[x] = 1
		}
		is := atLeast(x, 1)
		for _, l := range one {
			p.insert([]literal{l.not(), is.not()}, 0)
		}
		one = append(one, is)
		p.mode[i] = append(p.mode[i], x)
		p.order(p.start[i], end, modes[k].d, is)
		p.order(end, p.start[i], -modes[k].d, is)
	}
	p.insert(one, 0)
}

func (p *proof) is(i, k int) literal {
	if len(p.mode[i]) == 0 {
		return literal{side: -1}
	}
	return atLeast(p.mode[i][k], 1)
}

func (p *proof) endBefore(i, j int, when ...literal) {
	if p.end[i] >= 0 {
		p.order(p.end[i], p.start[j], 0, when...)
	} else {
		p.order(p.start[i], p.start[j], p.in.shortest[i], when...)
	}
}

func (p *proof) addResources() {
	for r, capacity := range p.in.capacity {
		c := &cumulative{capacity: int32(capacity)}
		at := int32(len(p.cums))
		for i, modes := range p.in.modes {
			for k := range modes {
				u := modes[k].use(r)
				if u.units == 0 {
					continue
				}
				c.parts = append(c.parts, part{p.start[i], int32(u.length), int32(u.units), p.is(i, k)})
				p.uses[p.start[i]] = append(p.uses[p.start[i]], at)
				if len(p.mode[i]) > 0 {
					p.uses[p.mode[i][k]] = append(p.uses[p.mode[i][k]], at)
				}
			}
		}
		p.cums = append(p.cums, c)
		p.dirty = append(p.dirty, true)
	}
}

// addPairs gives two tasks that cannot run together a number that says which is
// first, and the set-up between them.
func (p *proof) addPairs(most int) {
	apart := p.in.apart()
	before := p.in.before()
	pairs := 0
	for i := range p.in.n {
		for j := range i {
			gap := p.setUpsBetween(i, j)
			if before[i][j] || before[j][i] || !apart[i][j] && len(gap) == 0 {
				continue
			}
			if pairs++; pairs > most {
				return
			}
			x := p.number(0, 1)
			if apart[i][j] {
				p.endBefore(i, j, atLeast(x, 1))
				p.endBefore(j, i, atMost(x, 0))
			}
			for _, g := range gap {
				first, second := g.when, append([]literal(nil), g.when...)
				p.order(p.start[i], p.start[j], g.heldI+g.setUp, append(first, atLeast(x, 1))...)
				p.order(p.start[j], p.start[i], g.heldJ+g.setUp, append(second, atMost(x, 0))...)
			}
		}
	}
}

// setUpBetween is the set-up between two tasks in some modes, and how long each has the tool.
type setUpBetween struct {
	heldI, heldJ, setUp int
	when                []literal
}

func (p *proof) setUpsBetween(i, j int) (out []setUpBetween) {
	for ki := range p.in.modes[i] {
		for kj := range p.in.modes[j] {
			a, b := &p.in.modes[i][ki], &p.in.modes[j][kj]
			if a.fam == 0 || b.fam == 0 || a.tool != b.tool || a.fam == b.fam {
				continue
			}
			var when []literal
			for _, l := range []literal{p.is(i, ki), p.is(j, kj)} {
				if l.side >= 0 {
					when = append(when, l)
				}
			}
			out = append(out, setUpBetween{a.use(a.tool).length, b.use(b.tool).length, p.in.setUp[a.tool], when})
		}
	}
	return out
}

type verdict int

const (
	open verdict = iota
	possible
	refuted
)

// try looks for a schedule of at most makespan for some work, or until told to stop.
// A refuted makespan raises p.refuse.
func (p *proof) try(makespan int, work int64, stop func() bool) verdict {
	until := p.work + work
	within := atMost(p.span, makespan)
	rounds := 0
	conflicts, restart := 0, 100*luby(p.runs)
	defer p.back(0)
	for {
		if p.dead {
			p.refuse = max(p.refuse, int(-p.low[2*p.span+1])+1)
			return refuted
		}
		if !p.propagate() {
			lits, level := p.analyse()
			if level < 0 {
				p.dead = true
				continue
			}
			p.back(level)
			if !p.add(lits) {
				p.dead = true
			}
			conflicts++
			continue
		}
		rounds++
		over := p.work >= until || rounds%32 == 0 && stop()
		if over || conflicts >= restart {
			p.back(0)
			if over {
				return open
			}
			p.runs++
			conflicts, restart = 0, 100*luby(p.runs)
			if p.learn > p.keep {
				p.clean()
			}
			continue
		}
		if len(p.level) == 0 {
			if p.fails(within) {
				p.refuse = max(p.refuse, makespan+1)
				return refuted
			}
			p.decide(within)
			continue
		}
		l, all := p.choose()
		if all {
			p.found = p.found[:0]
			for x := 0; x < len(p.low); x += 2 {
				p.found = append(p.found, p.low[x])
			}
			return possible
		}
		p.decide(l)
	}
}

// limit takes away all schedules longer than makespan, for good.
func (p *proof) limit(makespan int) {
	if !p.raise(atMost(p.span, makespan), byStore, 0, 0) {
		p.dead = true
	}
}

// choose gives the next decision: the open bound that was most in conflicts of late,
// on the side where its number last was; else the earliest start as early as it can be.
func (p *proof) choose() (l literal, all bool) {
	for len(p.heap.heap) > 0 {
		x, v := p.heap.bound(p.heap.pop())
		if p.low[2*x] >= v || p.low[2*x+1] >= 1-v {
			continue
		}
		if p.phase[x] >= v {
			return literal{2 * x, v}, false
		}
		return literal{2*x + 1, 1 - v}, false
	}
	best := int32(-1)
	for _, x := range p.fixed {
		if p.low[2*x] == -p.low[2*x+1] {
			continue
		}
		if p.heap.hi[x] == 1 && p.heap.lo[x] == 0 { // a mode, before all starts
			return literal{2*x + 1 - min(1, p.phase[x]), min(1, p.phase[x])}, false
		}
		if best < 0 || p.low[2*x] < p.low[2*best] || p.low[2*x] == p.low[2*best] && p.low[2*x+1] > p.low[2*best+1] {
			best = x
		}
	}
	if best < 0 {
		return l, true
	}
	return literal{2*best + 1, -p.low[2*best]}, false
}

// luby is the restart sequence 1 1 2 1 1 2 4 ... (M. Luby, A. Sinclair, D. Zuckerman,
// Information Processing Letters 47 (1993) 173-180).
func luby(k int) int {
	for size := 1; ; size = 2*size + 1 {
		if k+1 == size {
			return (size + 1) / 2
		}
		if k < size {
			return luby(k - size/2)
		}
	}
}

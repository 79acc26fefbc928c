package schedule

// prover decides whether there is a schedule within a makespan: a search over
// bounds of whole numbers that learns a clause from every dead end (lazy clause
// generation: Ohrimenko, Stuckey, Codish 2009). Where they have a truth value for
// every bound, here a bound is itself the literal.
//
// A number x has two sides, 2x for x and 2x+1 for -x, each with a least value; a
// literal says that a side is at least some value.
type prover struct {
	low   []int32 // least value of each side
	last  []int32 // latest trail entry of each side, -1 if none
	trail []entry
	next  int     // first trail entry whose consequences are not drawn
	level []int32 // where each level of decisions begins on the trail
	room  []int32 // and in store
	store []literal

	edges   []edge
	out     [][]int32 // edges by the side they go from
	guards  [][]int32 // edges by the side of a condition
	clauses []*clause
	watches [][]watch
	uses    [][]int32 // cumulative resources by number
	cums    []*cumulative
	dirty   []bool

	conflict []literal
	need     []int32 // in the analysis: value needed of each side
	entry    []int32 // and the trail entry that gives it; -1: not needed
	sides    []int32 // needed

	heap  boundHeap
	bumps float64
	phase []int32 // value that each number had last
	work  int64
	dead  bool // there is no schedule at all
	learn int  // clauses learned since the last clean-up
	keep  int
	fixed []int32 // numbers to be decided where no bound has been in a conflict, in this order on ties
}

type literal struct{ side, v int32 }

func (l literal) not() literal { return literal{l.side ^ 1, 1 - l.v} }

// entry is a bound that was raised.
type entry struct {
	side, v, old int32
	prev         int32 // entry of the same side before it
	level        int32
	kind, a, b   int32 // why
}

const (
	byDecision = iota
	byClause   // a: clause
	byEdge     // a: edge
	byStore    // store[a:b]
)

// edge: the value of side to is at least that of side from plus off, where all of when hold.
type edge struct {
	from, to, off int32
	when          []literal
}

type clause struct {
	lits []literal
	glue int32 // levels that met in it when it was learned
	gone bool
}

type watch struct {
	at    int32 // false once the side has this value
	other literal
	c     int32
}

func newProver() *prover { return &prover{bumps: 1, keep: 3000} }

// number adds a number with a domain and returns it.
func (p *prover) number(lo, hi int) int32 {
	x := int32(len(p.low) / 2)
	p.low = append(p.low, int32(lo), int32(-hi))
	p.last = append(p.last, -1, -1)
	p.out = append(p.out, nil, nil)
	p.guards = append(p.guards, nil, nil)
	p.watches = append(p.watches, nil, nil)
	p.need = append(p.need, 0, 0)
	p.entry = append(p.entry, -1, -1)
	p.uses = append(p.uses, nil)
	p.phase = append(p.phase, int32(lo))
	p.heap.number(lo, hi)
	return x
}

// order says a + off <= b where all of when hold.
func (p *prover) order(a, b int32, off int, when ...literal) {
	for _, e := range []edge{{2 * a, 2 * b, int32(off), when}, {2*b + 1, 2*a + 1, int32(off), when}} {
		k := int32(len(p.edges))
		p.edges = append(p.edges, e)
		p.out[e.from] = append(p.out[e.from], k)
		for _, l := range when {
			p.guards[l.side] = append(p.guards[l.side], k)
		}
	}
}

func atLeast(x int32, v int) literal { return literal{2 * x, int32(v)} }
func atMost(x int32, v int) literal  { return literal{2*x + 1, int32(-v)} }

func (p *prover) holds(l literal) bool { return p.low[l.side] >= l.v }
func (p *prover) fails(l literal) bool { return p.low[l.side^1] >= 1-l.v }

// raise makes a literal hold for a reason; false, with p.conflict filled, if it cannot.
func (p *prover) raise(l literal, kind, a, b int32) bool {
	if p.low[l.side] >= l.v {
		return true
	}
	e := entry{side: l.side, v: l.v, old: p.low[l.side], prev: p.last[l.side], level: int32(len(p.level)), kind: kind, a: a, b: b}
	if p.fails(l) {
		p.conflict = p.reason(p.conflict[:0], &e, l.v)
		p.conflict = append(p.conflict, l.not())
		return false
	}
	p.last[l.side] = int32(len(p.trail))
	p.low[l.side] = l.v
	p.trail = append(p.trail, e)
	p.work++
	return true
}

// reason appends the literals from which an entry follows as far as v.
func (p *prover) reason(to []literal, e *entry, v int32) []literal {
	switch e.kind {
	case byClause:
		for _, l := range p.clauses[e.a].lits {
			if l.side != e.side || l.v != e.v {
				to = append(to, l.not())
			}
		}
	case byEdge:
		g := &p.edges[e.a]
		to = append(to, literal{g.from, v - g.off})
		to = append(to, g.when...)
	case byStore:
		to = append(to, p.store[e.a:e.b]...)
	}
	return to
}

// because stores a reason.
func (p *prover) because(lits ...literal) (a, b int32) {
	a = int32(len(p.store))
	p.store = append(p.store, lits...)
	return a, int32(len(p.store))
}

// propagate draws all consequences; false if they contradict each other.
func (p *prover) propagate() bool {
	for {
		for p.next < len(p.trail) {
			side := p.trail[p.next].side
			p.next++
			for _, c := range p.uses[side>>1] {
				p.dirty[c] = true
			}
			for _, k := range p.out[side] {
				if !p.follow(k) {
					return false
				}
			}
			for _, k := range p.guards[side] {
				if !p.follow(k) {
					return false
				}
			}
			if !p.visit(side) {
				return false
			}
		}
		done := true
		for k, d := range p.dirty {
			if !d {
				continue
			}
			p.dirty[k] = false
			if !p.cums[k].propagate(p) {
				return false
			}
			if p.next < len(p.trail) {
				done = false
				break
			}
		}
		if done {
			return true
		}
	}
}

// follow draws what an edge means now.
func (p *prover) follow(k int32) bool {
	e := &p.edges[k]
	open := -1
	for x, l := range e.when {
		if p.holds(l) {
			continue
		}
		if open >= 0 || p.fails(l) {
			return true
		}
		open = x
	}
	v := p.low[e.from] + e.off
	if open < 0 {
		return p.raise(literal{e.to, v}, byEdge, k, 0)
	}
	if most := p.low[e.to^1]; v+most > 0 { // it cannot hold: its condition does not
		a := int32(len(p.store))
		p.store = append(p.store, literal{e.from, 1 - most - e.off}, literal{e.to ^ 1, most})
		for x, l := range e.when {
			if x != open {
				p.store = append(p.store, l)
			}
		}
		return p.raise(e.when[open].not(), byStore, a, int32(len(p.store)))
	}
	return true
}

// visit looks at the clauses that watch a side.
func (p *prover) visit(side int32) bool {
	ws := p.watches[side]
	kept := ws[:0]
	for x := 0; x < len(ws); x++ {
		w := ws[x]
		if p.low[side] < w.at || p.holds(w.other) {
			kept = append(kept, w)
			continue
		}
		c := p.clauses[w.c]
		if c.gone {
			continue
		}
		p.work++
		if c.lits[0].side^1 == side && p.fails(c.lits[0]) {
			c.lits[0], c.lits[1] = c.lits[1], c.lits[0]
		}
		if p.holds(c.lits[0]) {
			kept = append(kept, watch{w.at, c.lits[0], w.c})
			continue
		}
		moved := false
		for m := 2; m < len(c.lits) && !moved; m++ {
			if !p.fails(c.lits[m]) {
				c.lits[1], c.lits[m] = c.lits[m], c.lits[1]
				p.watch(c.lits[1], c.lits[0], w.c)
				moved = true
			}
		}
		if moved {
			continue
		}
		kept = append(kept, watch{w.at, c.lits[0], w.c})
		if !p.raise(c.lits[0], byClause, w.c, 0) {
			kept = append(kept, ws[x+1:]...)
			p.watches[side] = kept
			return false
		}
	}
	p.watches[side] = kept
	return true
}

func (p *prover) watch(l, other literal, c int32) {
	side := l.side ^ 1
	p.watches[side] = append(p.watches[side], watch{1 - l.v, other, c})
}

// back takes back all levels from n on.
func (p *prover) back(n int) {
	if len(p.level) <= n {
		return
	}
	to := int(p.level[n])
	for _, e := range p.trail[to:] {
		if x := e.side >> 1; e.side&1 == 0 {
			p.phase[x] = e.v
		} else {
			p.phase[x] = min(p.phase[x], -e.v)
		}
	}
	for k := len(p.trail) - 1; k >= to; k-- {
		e := &p.trail[k]
		p.low[e.side] = e.old
		p.last[e.side] = e.prev
		p.heap.free(e.side, e.old, e.v)
	}
	p.trail = p.trail[:to]
	p.next = to
	p.store = p.store[:p.room[n]]
	p.level = p.level[:n]
	p.room = p.room[:n]
	for k := range p.dirty {
		p.dirty[k] = false
	}
}

func (p *prover) decide(l literal) {
	p.level = append(p.level, int32(len(p.trail)))
	p.room = append(p.room, int32(len(p.store)))
	p.raise(l, byDecision, 0, 0)
}

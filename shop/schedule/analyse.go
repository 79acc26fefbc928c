package schedule

import "sort"

// analyse learns a clause from p.conflict: it goes back to the last point of the
// level through which all reasons pass (first unique implication point). It
// returns the clause, the literal to be raised first and one of the deepest other
// level second, and that level; -1 if there is no schedule at all.
func (p *prover) analyse() (lits []literal, level int) {
	current := int32(len(p.level))
	if current == 0 {
		return nil, -1
	}
	p.sides = p.sides[:0]
	open := 0 // needed entries of the current level
	want := func(l literal) {
		k := p.last[l.side]
		if k < 0 {
			return
		}
		for p.trail[k].old >= l.v {
			if k = p.trail[k].prev; k < 0 {
				return
			}
		}
		if p.trail[k].level == 0 {
			return
		}
		old := p.entry[l.side]
		if old >= 0 {
			if p.need[l.side] >= l.v {
				return
			}
			if p.trail[old].level == current {
				open--
			}
		} else {
			p.sides = append(p.sides, l.side)
		}
		p.need[l.side], p.entry[l.side] = l.v, k
		if p.trail[k].level == current {
			open++
		}
		p.heap.bump(l, p.bumps)
	}
	for _, l := range p.conflict {
		want(l)
	}
	var uip literal
	scratch := make([]literal, 0, 32)
	for k := len(p.trail) - 1; k >= 0; k-- {
		e := &p.trail[k]
		if p.entry[e.side] != int32(k) {
			continue
		}
		p.work++
		if open == 1 {
			uip = literal{e.side, p.need[e.side]}
			break
		}
		v := p.need[e.side]
		p.entry[e.side] = -1
		open--
		scratch = p.reason(scratch[:0], e, v)
		// The same side may be needed with a lesser value: it is in sides already,
		// and twice there does no harm.
		for _, l := range scratch {
			want(l)
		}
	}
	lits = append(lits, uip.not())
	done := map[int32]bool{uip.side: true}
	for _, s := range p.sides {
		if p.entry[s] < 0 || done[s] {
			continue
		}
		done[s] = true
		if p.redundant(s) {
			continue
		}
		lits = append(lits, literal{s, p.need[s]}.not())
		if l := int(p.trail[p.entry[s]].level); l > level {
			level = l
			lits[1], lits[len(lits)-1] = lits[len(lits)-1], lits[1]
		}
	}
	for _, s := range p.sides {
		p.entry[s] = -1
	}
	return lits, level
}

// redundant: what is needed of a side follows from what is needed of others that
// came before it on the trail; that they came before keeps two from standing for
// each other.
func (p *prover) redundant(s int32) bool {
	e := &p.trail[p.entry[s]]
	if e.kind == byDecision {
		return false
	}
	var buf [24]literal
	for _, l := range p.reason(buf[:0], e, p.need[s]) {
		if p.entry[l.side] >= 0 && p.entry[l.side] < p.entry[s] && p.need[l.side] >= l.v {
			continue
		}
		k := p.last[l.side]
		for k >= 0 && p.trail[k].old >= l.v {
			k = p.trail[k].prev
		}
		if k >= 0 && p.trail[k].level > 0 {
			return false
		}
	}
	return true
}

// add takes a learned clause and raises its first literal.
func (p *prover) add(lits []literal) bool {
	p.bumps /= 0.95
	if p.bumps > 1e100 {
		p.heap.scale(1e-100)
		p.bumps *= 1e-100
	}
	if len(lits) == 1 {
		return p.raise(lits[0], byStore, 0, 0)
	}
	seen := map[int32]bool{}
	for _, l := range lits[1:] {
		n := l.not()
		k := p.last[n.side]
		for k >= 0 && p.trail[k].old >= n.v {
			k = p.trail[k].prev
		}
		if k >= 0 {
			seen[p.trail[k].level] = true
		}
	}
	p.insert(lits, int32(len(seen)))
	p.learn++
	return p.raise(lits[0], byClause, int32(len(p.clauses)-1), 0)
}

func (p *prover) insert(lits []literal, glue int32) {
	c := int32(len(p.clauses))
	p.clauses = append(p.clauses, &clause{lits: lits, glue: glue})
	p.watch(lits[0], lits[1], c)
	p.watch(lits[1], lits[0], c)
}

// clean forgets half of the learned clauses, those in which most levels met, at
// level 0, where none is a reason any more.
func (p *prover) clean() {
	var old []int
	for k, c := range p.clauses {
		if !c.gone && c.glue > 2 {
			old = append(old, k)
		}
	}
	sort.SliceStable(old, func(a, b int) bool { return p.clauses[old[a]].glue < p.clauses[old[b]].glue })
	for _, k := range old[len(old)/2:] {
		p.clauses[k].gone = true
	}
	var kept []*clause
	for _, c := range p.clauses {
		if !c.gone {
			kept = append(kept, c)
		}
	}
	p.clauses = kept
	for s := range p.watches {
		p.watches[s] = p.watches[s][:0]
	}
	for k, c := range kept {
		// At level 0 a literal may have come to fail: watch two that do not.
		n := 0
		for x, l := range c.lits {
			if n < 2 && !p.fails(l) {
				c.lits[n], c.lits[x] = c.lits[x], c.lits[n]
				n++
			}
		}
		if n == 1 {
			p.raise(c.lits[0], byStore, 0, 0)
		}
		p.watch(c.lits[0], c.lits[1], int32(k))
		p.watch(c.lits[1], c.lits[0], int32(k))
	}
	p.learn = 0
	p.keep += 500
}

package lengths

import "sort"

// Diving: fix what is whole in the solution of the linear programme and the pattern that
// is nearest to it, generate again for what is left, and so on down; where the bound is
// no better than the best cutting, turn back. With leave to go wrong a few times near the
// top (limited discrepancy search) other patterns are tried: Sadykov, Vanderbeck, Pessoa,
// Tahiri & Uchoa, "Primal heuristics for branch and price: the assets of diving methods",
// INFORMS Journal on Computing 31 (2019) 251-267.

const wrongDepth = 4 // deeper than this no other pattern is tried

// dive dives below a node that is solved.
func (n *node) dive(depth, wrong int, shunned []*pattern) {
	s := n.s
	n.finish()
	for !s.done() && n.bound < s.value {
		list, times, picked := n.choose(shunned)
		if len(list) == 0 {
			return
		}
		t, ok := n.fix(list, times)
		ok = ok && t.generate() == solved
		if picked == nil || wrong == 0 || depth >= wrongDepth {
			if !ok {
				return
			}
			n = t // what is above is not needed again
			n.finish()
			depth++
			continue
		}
		if ok {
			t.dive(depth+1, wrong, shunned)
		}
		wrong--
		shunned = append(shunned[:len(shunned):len(shunned)], picked)
	}
}

// use is a pattern in a solution.
type use struct {
	p    *pattern
	x    float64
	used int64 // size of its pieces
}

func (u use) fraction() float64 { return max(u.x-float64(int(u.x+tolWhole)), 0) }

// choose says what to fix next: the whole part of all patterns and one more of the
// pattern that has the largest fraction.
func (n *node) choose(shunned []*pattern) (list []*pattern, times []int, picked *pattern) {
	var uses []use
	for i, j := range n.lp.basis {
		if p := n.pats[j]; p != nil && !n.lp.off[j] && n.lp.x[i] > tolWhole {
			u := use{p: p, x: n.lp.x[i]}
			for _, c := range p.cuts {
				u.used += n.s.c.size[c.kind] * int64(c.n)
			}
			uses = append(uses, u)
		}
	}
	sort.SliceStable(uses, func(i, j int) bool {
		a, b := uses[i], uses[j]
		if d := a.fraction() - b.fraction(); d > tolWhole || d < -tolWhole {
			return d > 0
		}
		if a.used != b.used {
			return a.used > b.used
		}
		return before(a.p, b.p)
	})
	if n.s.lot != nil {
		uses = n.drawn(uses)
	}
	for _, u := range uses {
		whole := int(u.x + tolWhole)
		if picked == nil && u.x-float64(whole) > tolWhole && !holds(shunned, u.p) {
			picked = u.p
			whole++
		}
		if whole > 0 {
			list, times = append(list, u.p), append(times, whole)
		}
	}
	return list, times, picked
}

// drawn puts one first that is drawn by lot, each with the chance of its fraction.
func (n *node) drawn(uses []use) []use {
	sum := 0.0
	for _, u := range uses {
		sum += u.fraction()
	}
	at := n.s.lot.Float64() * sum
	for i, u := range uses {
		if at -= u.fraction(); at < 0 {
			return append([]use{u}, append(append([]use(nil), uses[:i]...), uses[i+1:]...)...)
		}
	}
	return uses
}

func holds(list []*pattern, p *pattern) bool {
	for _, q := range list {
		if q.same(p) {
			return true
		}
	}
	return false
}

// before orders patterns: long pieces first.
func before(p, q *pattern) bool {
	for i := 0; i < min(len(p.cuts), len(q.cuts)); i++ {
		if a, b := p.cuts[i], q.cuts[i]; a != b {
			return a.kind < b.kind || a.kind == b.kind && a.n > b.n
		}
	}
	if len(p.cuts) != len(q.cuts) {
		return len(p.cuts) > len(q.cuts)
	}
	return p.stock < q.stock
}

// finish offers what is fixed with a plain filling of the rest.
func (n *node) finish() {
	t := cutting{append([]*pattern(nil), n.fixed.patterns...), append([]int(nil), n.fixed.times...)}
	rest := n.s.c.fill(n.need, n.count)
	n.s.b.spend(fillWork * (len(rest.patterns) + 1))
	for i, p := range rest.patterns {
		t.add(p, rest.times[i])
	}
	n.s.offer(&t)
}

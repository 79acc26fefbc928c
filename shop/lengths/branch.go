package lengths

import "math"

// Branching on how often a pattern is cut (Vance, "Branch-and-price algorithms for the
// one-dimensional cutting stock problem", Computational Optimization and Applications 9
// (1998) 211-228): at least so often, which fixes it, or at most, which caps it and keeps
// it from being generated again. It ends, as patterns are finite; small cases are proved
// by it, large ones have their proof by the bound of the root or not at all.

// branch searches below a node that is solved, deep first, and returns a bound of all
// that lies below.
func (n *node) branch(depth int) int64 {
	s := n.s
	n.finish()
	if n.bound >= s.value || s.b.over || depth > n.deepest() || s.nodes <= 0 {
		return min(n.bound, s.value)
	}
	s.nodes--
	j, x := n.fraction()
	if j < 0 {
		// All is whole: the programme's own solution is the best below this node.
		list, times, _ := n.choose(nil)
		t := cutting{append([]*pattern(nil), n.fixed.patterns...), append([]int(nil), n.fixed.times...)}
		for i, p := range list {
			t.add(p, times[i])
		}
		s.offer(&t)
		return min(n.bound, s.value)
	}
	low := int64(math.MaxInt64)
	p := n.pats[j]
	k := int(math.Ceil(x))
	if n.allows(p, k) {
		if t, ok := n.fix([]*pattern{p}, []int{k}); ok {
			low = t.below(n.bound, depth)
		} else {
			low = n.bound
		}
		if s.nodes <= 0 || s.b.over {
			return n.bound
		}
	}
	t := n.clone()
	t.cap(j, int(x))
	low = min(low, t.below(n.bound, depth))
	return max(low, n.bound)
}

// deepest is how deep branching may go: all nodes above one are kept.
func (n *node) deepest() int { return min(300, memory/n.bytes()) }

// allows tells whether a pattern may be fixed so often.
func (n *node) allows(p *pattern, times int) bool {
	for _, c := range n.cuts {
		if c.of(p)*times > c.left {
			return false
		}
	}
	for _, c := range n.caps {
		if c.pattern == p && times > c.left {
			return false
		}
	}
	return n.takes(p, times)
}

// below generates and branches on. What is dead has no bound beyond the one it proved.
func (n *node) below(bound int64, depth int) int64 {
	n.bound = max(bound, n.bound)
	switch n.generate() {
	case solved:
		return n.branch(depth + 1)
	case cutOff:
		return n.s.value
	}
	return n.bound
}

// fraction returns the column that is farthest from whole; -1: none is.
func (n *node) fraction() (int, float64) {
	best, at, value := tolWhole, -1, 0.0
	for i, j := range n.lp.basis {
		if n.pats[j] == nil || n.lp.off[j] {
			continue
		}
		x := n.lp.x[i]
		if f := math.Abs(x - math.Round(x)); f > best+1e-9 || f > best-1e-9 && at >= 0 && before(n.pats[j], n.pats[at]) {
			best, at, value = f, j, x
		}
	}
	return at, value
}

// cap lets a column be used a number of times at most.
func (n *node) cap(j, times int) {
	p := n.pats[j]
	for i := range n.caps {
		if n.caps[i].pattern == p {
			n.caps[i].left = times
			n.lp.rhs[n.caps[i].row] = float64(times)
			n.lp.restart()
			n.lp.dual()
			return
		}
	}
	n.caps = append(n.caps, rowCap{n.lp.m, p, times})
	n.lp.addRow(float64(times), func(k int) float64 {
		if k == j {
			return 1
		}
		return 0
	}, 0)
	n.extra(false)
	n.lp.dual()
}

package lengths

import "math"

// Several kinds of stock: the costs of a few kinds add up to few sums, so a bound that is
// between two of them says little; how many of each kind are used is branched on first
// (after the branching on sums of variables of Vanderbeck & Wolsey, "An exact algorithm
// for IP column generation", Operations Research Letters 19 (1996) 151-159).

const (
	diveEvery   = 10 // nodes
	firstEffort = 8  // nodes of branching on patterns below one node
)

// byStock branches on how many of a stock are used, the node with the least bound first,
// until that is whole for all stock that costs something; then the cost of a node is
// whole, and it is closed as if there were one stock.
func (n *node) byStock() {
	s := n.s
	s.what = "diving"
	n.dive(0, 1, nil)
	s.what = "branching"
	open := []*node{n}
	floor := s.value // of nodes that are given up
	for round := 1; len(open) > 0 && !s.done(); round++ {
		best, bytes := 0, 0
		for i, x := range open {
			if x.bound < open[best].bound {
				best = i
			}
			bytes += x.bytes()
		}
		s.raise(min(open[best].bound, floor))
		if bytes > memory {
			best = len(open) - 1 // deep first takes no more
		}
		n := open[best]
		open = append(open[:best], open[best+1:]...)
		if n.bound >= s.value {
			continue
		}
		k, uses := n.broken()
		if k < 0 || round%diveEvery == 0 {
			n.dive(0, 0, nil)
		}
		if k < 0 {
			// What takes long is put back, for longer.
			n.effort = 8*n.effort + firstEffort
			s.nodes = n.effort
			n.bound = max(n.bound, n.close())
			if s.nodes > 0 {
				floor = min(floor, n.bound)
			} else {
				open = append(open, n)
			}
			continue
		}
		for _, up := range []bool{false, true} {
			t := n.clone()
			if up {
				t.atLeast(k, int(math.Ceil(uses)))
			} else {
				t.atMost(k, int(math.Floor(uses)))
			}
			t.lp.restart()
			got := stopped
			if t.lp.dual() {
				t.proper()
				got = t.generate()
			}
			switch {
			case got == solved && t.bound < s.value:
				open = append(open, t)
			case got == cutOff:
			default:
				floor = min(floor, max(t.bound, n.bound))
			}
		}
	}
	for _, x := range open {
		floor = min(floor, x.bound)
	}
	s.raise(floor)
}

// broken returns the stock that costs most of those whose use is not whole, and its use;
// -1: all are whole.
func (n *node) broken() (int, float64) {
	uses := make([]float64, len(n.count))
	for i, j := range n.lp.basis {
		if p := n.pats[j]; p != nil && !n.lp.off[j] {
			uses[p.stock] += n.lp.x[i]
		}
	}
	best := -1
	for k, x := range uses {
		if c := n.s.c.cost[k]; c > 0 && math.Abs(x-math.Round(x)) > tolWhole && (best < 0 || c > n.s.c.cost[best]) {
			best = k
		}
	}
	if best < 0 {
		return -1, 0
	}
	return best, uses[best]
}

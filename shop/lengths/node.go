package lengths

import "math"

// node is a part of the search: some patterns are fixed, the rest is a linear programme
// over the patterns known so far. The rows are the pieces (at least the need), the stock
// that is limited (at most) or must be used (at least), the cuts and the caps (at most).
type node struct {
	s       *search
	lp      *simplex
	pats    []*pattern // of the columns; nil: slack or a piece that is missed
	fake    []bool     // columns that no cutting uses: a piece missed, stock not used enough
	need    []int      // what is left to cut
	count   []int      // what is left to cut from
	gate    []int      // row of a stock that is limited, or -1
	least   []int      // how much more of a stock must be used
	low     []int      // row of that, or -1
	cuts    []rowCut
	caps    []rowCap
	fixed   cutting
	base    int64 // cost of fixed
	bound   int64
	effort  int     // nodes that branching below it took so far
	penalty float64 // of a piece that is missed, or of a column that is off
}

type rowCap struct {
	row     int
	pattern *pattern
	left    int
}

const (
	penaltyFirst = 2
	penaltyMost  = 1 << 20
	cutMost      = 1 << 10
	tolWhole     = 1e-6 // what is nearer to a whole number is one
)

type outcome int

const (
	solved  outcome = iota // no pattern is worth adding, or none can lift the bound
	cutOff                 // the bound is no better than the best cutting
	dead                   // some piece cannot be cut, as far as the numbers tell
	stopped                // the budget is spent, or the numbers have gone bad
)

// root is the node with nothing fixed.
func (s *search) root() *node {
	n := &node{s: s, lp: &simplex{b: s.b}, need: s.c.need, count: append([]int(nil), s.c.count...), penalty: penaltyFirst}
	none := func(int) float64 { return 0 }
	for i, d := range s.c.need {
		cost := n.penalty
		if s.c.miss != nil {
			cost = float64(s.c.miss[i]) / float64(s.most)
		}
		n.lp.addRow(float64(d), none, cost)
		n.extra(s.c.miss == nil)
	}
	for i := range s.c.need {
		n.lp.addColumn(0, []entry{{i, -1}})
		n.extra(false)
	}
	for k, d := range s.c.count {
		n.gate, n.low, n.least = append(n.gate, -1), append(n.low, -1), append(n.least, 0)
		if d != Any {
			n.atMost(k, d)
		}
	}
	for _, p := range s.best.patterns {
		n.add(p)
	}
	n.bound = s.bound
	return n
}

// extra takes note of a column of the programme that is no pattern.
func (n *node) extra(fake bool) {
	n.pats, n.fake = append(n.pats, nil), append(n.fake, fake)
}

// usesOf is 1 for the columns of a stock.
func (n *node) usesOf(stock int) func(int) float64 {
	return func(j int) float64 {
		if p := n.pats[j]; p != nil && p.stock == stock {
			return 1
		}
		return 0
	}
}

// atMost limits what is left of a stock.
func (n *node) atMost(stock, count int) {
	n.count[stock] = count
	if r := n.gate[stock]; r >= 0 {
		n.lp.rhs[r] = float64(count)
		return
	}
	n.gate[stock] = n.lp.m
	n.lp.addRow(float64(count), n.usesOf(stock), 0)
	n.extra(false)
}

// atLeast makes so much more of a stock be used.
func (n *node) atLeast(stock, count int) {
	n.least[stock] = count
	if r := n.low[stock]; r >= 0 {
		n.lp.rhs[r] = float64(count)
		return
	}
	n.low[stock] = n.lp.m
	n.lp.addRow(float64(count), n.usesOf(stock), n.penalty)
	n.extra(true)
	n.lp.addColumn(0, []entry{{n.low[stock], -1}})
	n.extra(false)
}

// add adds a pattern as a column.
func (n *node) add(p *pattern) int {
	n.pats, n.fake = append(n.pats, p), append(n.fake, false)
	return n.lp.addColumn(n.s.costOf(p), n.column(p))
}

// column is the entries of a pattern in all rows but caps, which know their pattern.
func (n *node) column(p *pattern) []entry {
	var col []entry
	for _, x := range p.cuts {
		col = append(col, entry{x.kind, float64(x.n)})
	}
	if r := n.gate[p.stock]; r >= 0 {
		col = append(col, entry{r, 1})
	}
	if r := n.low[p.stock]; r >= 0 {
		col = append(col, entry{r, 1})
	}
	for _, c := range n.cuts {
		if k := c.of(p); k > 0 {
			col = append(col, entry{c.row, float64(k)})
		}
	}
	return col
}

func (n *node) clone() *node {
	t := *n
	t.lp = n.lp.clone()
	t.pats = append([]*pattern(nil), n.pats...)
	t.need = append([]int(nil), n.need...)
	t.fake = append([]bool(nil), n.fake...)
	t.count = append([]int(nil), n.count...)
	t.gate = append([]int(nil), n.gate...)
	t.low = append([]int(nil), n.low...)
	t.least = append([]int(nil), n.least...)
	t.cuts = append([]rowCut(nil), n.cuts...)
	t.caps = append([]rowCap(nil), n.caps...)
	t.fixed = cutting{append([]*pattern(nil), n.fixed.patterns...), append([]int(nil), n.fixed.times...)}
	n.s.b.spend(n.lp.m*n.lp.m + 4*len(n.pats))
	return &t
}

// memory is what nodes that wait may take together, in bytes, about.
const memory = 256 << 20

func (n *node) bytes() int { return 8*n.lp.m*n.lp.m + 64*len(n.pats) + 1 }

// generate adds patterns until none is worth it. Prices are drawn toward those that
// proved the best bound so far (Wentges, "Weighted Dantzig-Wolfe decomposition for linear
// mixed-integer programming", International Transactions in Operational Research 4
// (1997) 151-162), which saves many rounds.
func (n *node) generate() outcome {
	s, lp := n.s, n.lp
	var center []float64
	bestBound := int64(math.MinInt64)
	slow, last := 0, math.Inf(1)
	for {
		if !lp.primal() {
			return stopped
		}
		if v := lp.value(); v < last*(1-tailGain) {
			slow, last = 0, v
		} else if slow++; slow > tailRounds && lp.m > tailRows && n.missing() < tolWhole &&
			float64(n.base)+v*float64(s.most) < float64(bestBound)*(1+tailGap) {
			return solved // near enough: what it lacks, it lacks at every node
		}
		y := append([]float64(nil), lp.y...)
		z := y
		if center != nil {
			z = make([]float64, len(y))
			for i := range z {
				z[i] = float64(smooth*center[i]) + float64((1-smooth)*y[i])
			}
		}
		added, steps := 0, quickSteps
		for {
			found, bound, more := n.price(z, steps)
			if s.b.over {
				return stopped
			}
			if bound > bestBound || center == nil {
				bestBound, center = bound, z
			}
			n.bound = max(n.bound, bound)
			if n.bound >= s.value {
				return cutOff
			}
			for _, p := range found {
				d := s.costOf(p)
				for _, e := range n.column(p) {
					d -= float64(y[e.row] * e.val)
				}
				if d < -1e-8 {
					n.add(p)
					added++
				}
			}
			if added > 0 {
				break
			}
			if &z[0] != &y[0] {
				z = y
			} else if more && steps < fullSteps && s.attain(n.base+int64(math.Ceil(lp.value()*float64(s.most)-1e-5))) > n.bound {
				steps = fullSteps
			} else {
				break
			}
		}
		if added == 0 || s.attain(n.base+int64(math.Ceil(lp.value()*float64(s.most)-1e-5))) <= n.bound {
			if n.missing() < tolWhole {
				return solved
			}
			if added == 0 {
				if n.penalty >= penaltyMost {
					return dead
				}
				n.harsher()
				center = nil
			}
		}
	}
}

const (
	smooth     = 0.5
	tailRounds = 12 // that gain less than tailGain end it, in large programmes that are near their bound
	tailGain   = 1e-6
	tailRows   = 100
	tailGap    = 1e-3
)

// missing is how much of the solution is columns that are fake or off.
func (n *node) missing() float64 {
	sum := 0.0
	for i, j := range n.lp.basis {
		if n.fake[j] || n.lp.off[j] {
			sum += n.lp.x[i]
		}
	}
	return sum
}

// harsher makes such columns cost more.
func (n *node) harsher() {
	n.penalty = math.Min(n.penalty*64, penaltyMost)
	for j := range n.pats {
		if n.fake[j] || n.lp.off[j] {
			n.lp.cost[j] = n.penalty
		}
	}
}

// fix is the node with patterns fixed, each a number of times more.
func (n *node) fix(list []*pattern, times []int) (*node, bool) {
	t := n.clone()
	lp := t.lp
	for i, p := range list {
		k := times[i]
		t.base += n.s.c.cost[p.stock] * int64(k)
		t.fixed.add(p, k)
		for _, x := range p.cuts {
			t.need[x.kind] = max(t.need[x.kind]-x.n*k, 0)
		}
		if t.count[p.stock] != Any {
			t.count[p.stock] -= k
			if t.count[p.stock] < 0 {
				return nil, false
			}
		}
		t.least[p.stock] = max(t.least[p.stock]-k, 0)
		for j := range t.cuts {
			t.cuts[j].left -= k * t.cuts[j].of(p)
			if t.cuts[j].left < 0 {
				return nil, false
			}
		}
		for j := range t.caps {
			if t.caps[j].pattern == p {
				t.caps[j].left -= k
				if t.caps[j].left < 0 {
					return nil, false
				}
			}
		}
	}
	for i, d := range t.need {
		lp.rhs[i] = float64(d)
	}
	for k, r := range t.gate {
		if r >= 0 {
			lp.rhs[r] = float64(t.count[k])
		}
		if r := t.low[k]; r >= 0 {
			lp.rhs[r] = float64(t.least[k])
		}
	}
	for _, c := range t.cuts {
		lp.rhs[c.row] = float64(c.left)
	}
	for _, c := range t.caps {
		lp.rhs[c.row] = float64(c.left)
	}
	lp.restart()
	if !lp.dual() {
		return nil, false
	}
	t.proper()
	return t, true
}

// takes tells whether there is need and stock for a pattern so many times.
func (n *node) takes(p *pattern, times int) bool {
	for _, x := range p.cuts {
		if x.n*times > n.need[x.kind] {
			return false
		}
	}
	return n.count[p.stock] == Any || times <= n.count[p.stock]
}

// proper puts columns off that cut more of a kind than is left to cut; what is left of
// them comes in their place.
func (n *node) proper() {
	for j, p := range n.pats {
		if p == nil || n.lp.off[j] {
			continue
		}
		if n.takes(p, 1) {
			continue
		}
		n.lp.off[j] = true
		if n.lp.at[j] < 0 {
			continue
		}
		n.lp.cost[j] = n.penalty
		q := &pattern{stock: p.stock}
		for _, x := range p.cuts {
			if k := min(x.n, n.need[x.kind]); k > 0 {
				q.cuts = append(q.cuts, cut{x.kind, k})
			}
		}
		if n.count[p.stock] != 0 && len(q.cuts) > 0 && !n.has(q) {
			n.add(q)
		}
	}
}

// has tells whether a pattern is a column that may be used.
func (n *node) has(q *pattern) bool {
	for j, p := range n.pats {
		if p != nil && p.same(q) && !n.lp.off[j] {
			return true
		}
	}
	return false
}

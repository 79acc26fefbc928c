package lengths

import "sort"

// core is a problem made plain: sizes have the kerf in them, everything is divided by
// what it has in common, and long pieces come first.
type core struct {
	size  []int64 // of each kind of piece, falling
	need  []int
	room  []int64 // of each stock
	cost  []int64
	count []int   // Any, or how many
	miss  []int64 // cost of a piece that is not cut; nil: all must be cut

	length []int64 // of each kind of piece, as the caller said
	stock  []int   // index of each stock in the problem
}

// pattern is what is cut from one length of stock. Patterns never change once made.
type pattern struct {
	stock int
	cuts  []cut // by kind, rising
}

type cut struct{ kind, n int }

// of returns how many pieces of a kind a pattern has.
func (p *pattern) of(kind int) int {
	for _, c := range p.cuts {
		if c.kind == kind {
			return c.n
		}
	}
	return 0
}

func (p *pattern) same(q *pattern) bool {
	if p.stock != q.stock || len(p.cuts) != len(q.cuts) {
		return false
	}
	for i := range p.cuts {
		if p.cuts[i] != q.cuts[i] {
			return false
		}
	}
	return true
}

// reduce makes a core of a problem, and says which pieces are longer than all stock.
func reduce(p *Problem) (*core, []Cut) {
	c := &core{}
	longest := int64(0)
	for _, s := range p.Stock {
		if s.Count != 0 {
			longest = max(longest, s.Length-p.Trim)
		}
	}
	demand := map[int64]int{}
	for _, x := range p.Pieces {
		if x.Demand > 0 {
			demand[x.Length] += x.Demand
		}
	}
	var short []Cut
	total := 0
	for l, n := range demand {
		if l > longest {
			short = append(short, Cut{l, n})
			continue
		}
		c.length = append(c.length, l)
		total += n
	}
	sort.Slice(short, func(i, j int) bool { return short[i].Length > short[j].Length })
	sort.Slice(c.length, func(i, j int) bool { return c.length[i] > c.length[j] })
	for _, l := range c.length {
		c.size = append(c.size, l+p.Kerf)
		c.need = append(c.need, demand[l])
	}
	// A room is only as good as whole multiples of what all sizes have in common.
	g := max(common(c.size), 1)
	for i := range c.size {
		c.size[i] /= g
	}
	costs := p.costs()
	for i, s := range p.Stock {
		room := (s.Length - p.Trim + p.Kerf) / g
		if total == 0 || s.Count == 0 || s.Length <= p.Trim || room < c.size[len(c.size)-1] {
			continue // nothing can be cut from it
		}
		if s.Count >= total {
			s.Count = Any
		}
		c.room = append(c.room, room)
		c.cost = append(c.cost, costs[i])
		c.count = append(c.count, s.Count)
		c.stock = append(c.stock, i)
	}
	return c, short
}

func common(list []int64) int64 {
	g := int64(0)
	for _, x := range list {
		for x != 0 {
			g, x = x, g%x
		}
	}
	return g
}

// shortest is the problem of leaving the least length short, whatever it costs.
func (c *core) shortest() *core {
	s := *c
	s.cost = make([]int64, len(c.cost))
	s.miss = c.length
	return &s
}

// without is the problem with pieces left out.
func (c *core) without(missing []int) *core {
	s := *c
	s.need = make([]int, len(c.need))
	for i := range s.need {
		s.need[i] = c.need[i] - missing[i]
	}
	return &s
}

// cutting is patterns and how often each is cut.
type cutting struct {
	patterns []*pattern
	times    []int
}

func (t *cutting) add(p *pattern, n int) {
	for i, q := range t.patterns {
		if q.same(p) {
			t.times[i] += n
			return
		}
	}
	t.patterns = append(t.patterns, p)
	t.times = append(t.times, n)
}

// missing is how many pieces of each kind are not cut.
func (t *cutting) missing(need []int) []int {
	out := append([]int(nil), need...)
	for i, p := range t.patterns {
		for _, x := range p.cuts {
			out[x.kind] -= x.n * t.times[i]
		}
	}
	for i := range out {
		out[i] = max(out[i], 0)
	}
	return out
}

func (t *cutting) whole(need []int) bool {
	for _, n := range t.missing(need) {
		if n > 0 {
			return false
		}
	}
	return true
}

// value is what a cutting costs, with what it misses.
func (c *core) value(t *cutting) int64 { return c.valueOf(t, c.need) }

func (c *core) valueOf(t *cutting, need []int) int64 {
	v := int64(0)
	for i, p := range t.patterns {
		v += c.cost[p.stock] * int64(t.times[i])
	}
	if c.miss != nil {
		for i, n := range t.missing(need) {
			v += c.miss[i] * int64(n)
		}
	}
	return v
}

// clip takes from a cutting the pieces that are cut too often, and lengths that have
// become empty.
func (c *core) clip(t *cutting) *cutting {
	over := make([]int, len(c.need))
	for i, n := range c.need {
		over[i] = -n
	}
	for i, p := range t.patterns {
		for _, x := range p.cuts {
			over[x.kind] += x.n * t.times[i]
		}
	}
	out := &cutting{}
	for i, p := range t.patterns {
		left := t.times[i]
		for left > 0 {
			// Lengths cut alike lose alike as long as there is enough over.
			q, n := &pattern{stock: p.stock}, left
			for _, x := range p.cuts {
				if k := min(x.n, max(over[x.kind], 0)); k > 0 {
					n = min(n, over[x.kind]/k)
				}
			}
			for _, x := range p.cuts {
				k := min(x.n, max(over[x.kind], 0))
				over[x.kind] -= k * n
				if x.n > k {
					q.cuts = append(q.cuts, cut{x.kind, x.n - k})
				}
			}
			if len(q.cuts) > 0 {
				out.add(q, n)
			}
			left -= n
		}
	}
	return out
}

// expand turns a cutting into what the caller asked for.
func (c *core) expand(t *cutting) []Pattern {
	var out []Pattern
	for i, p := range t.patterns {
		q := Pattern{Stock: c.stock[p.stock], Times: t.times[i]}
		for _, x := range p.cuts {
			q.Cuts = append(q.Cuts, Cut{c.length[x.kind], x.n})
		}
		out = append(out, q)
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if a.Stock != b.Stock {
			return a.Stock < b.Stock
		}
		for k := 0; k < min(len(a.Cuts), len(b.Cuts)); k++ {
			if a.Cuts[k] != b.Cuts[k] {
				return a.Cuts[k].Length > b.Cuts[k].Length || a.Cuts[k].Length == b.Cuts[k].Length && a.Cuts[k].Count > b.Cuts[k].Count
			}
		}
		return len(a.Cuts) > len(b.Cuts)
	})
	return out
}

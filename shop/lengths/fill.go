package lengths

import "sort"

// A first cutting, and the end of every dive: one length after another is filled with the
// longest piece that is left and with those that leave the least of it over. This is the
// minimum bin slack rule of Gupta & Ho, "A new heuristic algorithm for the
// one-dimensional bin-packing problem", Production Planning & Control 10 (1999) 598-603,
// with a limit to the search of each length; with a limit of nothing it is first-fit
// decreasing.

const fillWork = 2000 // steps of work for each pattern, about

// fillSteps are the limits to the search of one length that are tried.
var fillSteps = []int{0, 1000}

// fill cuts what is needed from what there is, as far as that goes.
func (c *core) fill(need, count []int) *cutting {
	var best *cutting
	var value int64
	short := 0
	for _, steps := range fillSteps {
		t := c.fillBy(need, count, steps)
		miss := 0
		for _, n := range t.missing(need) {
			miss += n
		}
		if v := c.valueOf(t, need); best == nil || c.miss == nil && miss < short || (c.miss != nil || miss == short) && v < value {
			best, value, short = t, v, miss
		}
	}
	return best
}

func (c *core) fillBy(need, count []int, steps int) *cutting {
	need, count = append([]int(nil), need...), append([]int(nil), count...)
	t := &cutting{}
	for first := 0; first < len(need); {
		if need[first] == 0 {
			first++
			continue
		}
		var best *pattern
		var bestUsed int64
		for k, room := range c.room {
			if count[k] == 0 || room < c.size[first] {
				continue
			}
			p, used := c.fillOne(k, first, need, steps)
			// Less cost for what is used, then less left over.
			a, b := float64(c.cost[k])*float64(bestUsed), 0.0
			if best != nil {
				b = float64(c.cost[best.stock]) * float64(used)
			}
			if best == nil || a < b || a == b && float64(used)*float64(c.room[best.stock]) > float64(bestUsed)*float64(room) {
				best, bestUsed = p, used
			}
		}
		if best == nil {
			first++ // no stock is left for it
			continue
		}
		n := count[best.stock]
		for _, x := range best.cuts {
			if k := need[x.kind] / x.n; n == Any || k < n {
				n = k
			}
		}
		for _, x := range best.cuts {
			need[x.kind] -= n * x.n
		}
		if count[best.stock] != Any {
			count[best.stock] -= n
		}
		t.add(best, n)
	}
	return c.cheaper(t, count)
}

// fillOne fills one length: a piece of the first kind, then what leaves least over.
func (c *core) fillOne(k, first int, need []int, steps int) (*pattern, int64) {
	var best, now []cut
	var bestUsed int64
	room := c.room[k]
	rest := make([]int64, len(need)+1) // size of all pieces of a kind and those after it
	for i := len(need) - 1; i >= first; i-- {
		rest[i] = rest[i+1] + c.size[i]*int64(need[i])
	}
	var try func(i int, used int64)
	try = func(i int, used int64) {
		if used > bestUsed {
			bestUsed, best = used, append(best[:0], now...)
		}
		// Kinds that are too long are passed over at once.
		i += sort.Search(len(need)-i, func(d int) bool { return c.size[i+d] <= room-used })
		for ; i < len(need); i++ {
			if bestUsed == room || min(room, used+rest[i]) <= bestUsed {
				return
			}
			for n := int(min(int64(need[i]), (room-used)/c.size[i])); n > 0; n-- {
				now = append(now, cut{i, n})
				try(i+1, used+c.size[i]*int64(n))
				now = now[:len(now)-1]
				steps--
				if steps < 0 || i == first && n == 1 || bestUsed == room {
					return
				}
			}
		}
	}
	try(first, 0)
	return &pattern{k, append([]cut(nil), best...)}, bestUsed
}

// cheaper moves each pattern to the cheapest stock it fits, of which there is one left.
func (c *core) cheaper(t *cutting, count []int) *cutting {
	out := &cutting{}
	for i, p := range t.patterns {
		used := int64(0)
		for _, x := range p.cuts {
			used += c.size[x.kind] * int64(x.n)
		}
		left := t.times[i]
		for left > 0 {
			best, n := p.stock, left
			for k, room := range c.room {
				if room >= used && count[k] != 0 && c.cost[k] < c.cost[best] {
					best = k
				}
			}
			if best != p.stock && count[best] != Any {
				n = min(n, count[best])
				count[best] -= n
			}
			if best != p.stock && count[p.stock] != Any {
				count[p.stock] += n
			}
			out.add(&pattern{best, p.cuts}, n)
			left -= n
		}
	}
	return out
}

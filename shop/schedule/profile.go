package schedule

import "sort"

// profile is what is held of one resource over time: used[k] units from at[k] to
// at[k+1], the last for ever. Neighbours differ; the last is 0.
type profile struct {
	capacity int
	at, used []int
	full     int // all before at[full] is held to capacity
}

func (p *profile) reset(capacity int) {
	p.capacity = capacity
	p.at = append(p.at[:0], 0)
	p.used = append(p.used[:0], 0)
	p.full = 0
}

// index is the last k with at[k] <= t.
func (p *profile) index(t int) int {
	lo, hi := 0, len(p.at)
	for hi-lo > 1 {
		if mid := int(uint(lo+hi) >> 1); p.at[mid] <= t {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// fit returns the earliest time not before t from which units are free for length.
func (p *profile) fit(t, length, units int) int {
	if length <= 0 || units <= 0 {
		return t
	}
	free := p.capacity - units
	k := p.full
	if t < p.at[k] {
		t = p.at[k]
	} else {
		k = p.index(t)
	}
	for {
		if p.used[k] > free {
			for k++; p.used[k] > free; k++ {
			}
			t = p.at[k]
		}
		if k++; k == len(p.at) || p.at[k] >= t+length {
			return t
		}
	}
}

// add holds units from s to e; units less than 0 give back what was held.
func (p *profile) add(s, e, units int) {
	if s >= e || units == 0 {
		return
	}
	a := p.split(s)
	b := p.split(e)
	for k := a; k < b; k++ {
		p.used[k] += units
	}
	p.join(b)
	p.join(a)
	if units < 0 {
		p.full = 0
	}
	p.full = min(p.full, len(p.at)-1)
	for p.used[p.full] >= p.capacity && p.full < len(p.at)-1 {
		p.full++
	}
}

// split makes a step at t and returns its index.
func (p *profile) split(t int) int {
	k := p.index(t)
	if p.at[k] == t {
		return k
	}
	k++
	p.at = append(p.at, 0)
	p.used = append(p.used, 0)
	copy(p.at[k+1:], p.at[k:])
	copy(p.used[k+1:], p.used[k:])
	p.at[k], p.used[k] = t, p.used[k-1]
	return k
}

// join takes step k away if it is none.
func (p *profile) join(k int) {
	if k > 0 && k < len(p.at) && p.used[k] == p.used[k-1] {
		p.at = append(p.at[:k], p.at[k+1:]...)
		p.used = append(p.used[:k], p.used[k+1:]...)
		if p.full > k {
			p.full--
		}
	}
}

// byKey sorts tasks by a key, then by index: the same order on every machine.
func byKey(list []int, key func(int) int) {
	sort.Slice(list, func(a, b int) bool {
		x, y := key(list[a]), key(list[b])
		return x < y || x == y && list[a] < list[b]
	})
}

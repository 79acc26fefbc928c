package schedule

import (
	"slices"
	"sort"
)

// cumulative keeps a resource within its capacity by what must run whatever the
// choice (time-table), explained at single points of time (Schutt, Feydy, Stuckey,
// Wallace 2011).
type cumulative struct {
	capacity int32
	parts    []part
	must     []int32 // parts that must run at some time
	steps    []step
	segments []segment
}

// part is units held for length from number x on, where when holds.
type part struct {
	x, length, units int32
	when             literal // side -1: always
}

// step is a time and the units that are held more from it on, in one number.
type step int64

func newStep(at, units int32) step { return step(at)<<32 + step(units) + 1<<31 }
func (s step) at() int32           { return int32(s >> 32) }
func (s step) units() int32        { return int32(s&(1<<32-1) - 1<<31) }

type segment struct{ from, to, units int32 }

func (q *part) runs(p *prover) bool { return q.when.side < 0 || p.holds(q.when) }
func (q *part) est(p *prover) int32 { return p.low[2*q.x] }
func (q *part) lst(p *prover) int32 { return -p.low[2*q.x+1] }
func (q *part) at(t int32) [2]literal {
	return [2]literal{{2 * q.x, t - q.length + 1}, {2*q.x + 1, -t}}
}

func (c *cumulative) propagate(p *prover) bool {
	if !c.table(p) {
		return false
	}
	if len(c.segments) == 0 {
		return true
	}
	highest := int32(0)
	for _, s := range c.segments {
		highest = max(highest, s.units)
	}
	for k := range c.parts {
		q := &c.parts[k]
		if highest+q.units <= c.capacity || !q.runs(p) || q.est(p) == q.lst(p) {
			continue
		}
		if !c.pushLater(p, k) || !c.pushEarlier(p, k) {
			return false
		}
	}
	return true
}

// table makes the segments in which something must run; false if one is too high.
func (c *cumulative) table(p *prover) bool {
	c.must, c.steps, c.segments = c.must[:0], c.steps[:0], c.segments[:0]
	for k := range c.parts {
		q := &c.parts[k]
		if from, to := q.lst(p), q.est(p)+q.length; from < to && q.runs(p) {
			c.must = append(c.must, int32(k))
			c.steps = append(c.steps, newStep(from, q.units), newStep(to, -q.units))
		}
	}
	p.work += int64(len(c.parts)) / 4
	steps := c.steps
	slices.Sort(steps)
	units := int32(0)
	for k := 0; k < len(steps); {
		at := steps[k].at()
		for ; k < len(steps) && steps[k].at() == at; k++ {
			units += steps[k].units()
		}
		if k == len(steps) || units == 0 {
			continue
		}
		if units > c.capacity {
			t := (at + steps[k].at()) / 2
			p.conflict = c.explain(p, p.conflict[:0], t, -1, c.capacity)
			return false
		}
		c.segments = append(c.segments, segment{at, steps[k].at(), units})
	}
	return true
}

// explain appends why parts other than `not` hold more than `limit` units at t.
func (c *cumulative) explain(p *prover, to []literal, t int32, not int, limit int32) []literal {
	units := int32(0)
	for large := true; ; large = false {
		for _, k := range c.must {
			q := &c.parts[k]
			// A table may be older than a bound that was moved; what must run only grows.
			if int(k) == not || q.lst(p) > t || q.est(p)+q.length <= t || large != (2*q.units > c.capacity/2) {
				continue
			}
			at := q.at(t)
			to = append(to, at[0], at[1])
			if q.when.side >= 0 {
				to = append(to, q.when)
			}
			if units += q.units; units > limit {
				return to
			}
		}
		if !large {
			return to
		}
	}
}

// pushLater moves the earliest start of a part past segments in which it has no room.
func (c *cumulative) pushLater(p *prover, k int) bool {
	q := &c.parts[k]
	from, to := q.lst(p), q.est(p)+q.length // where it is in the table itself
	for s := c.first(q.est(p)); s < len(c.segments); s++ {
		g := c.segments[s]
		est := q.est(p)
		if g.from >= est+q.length {
			return true
		}
		own := int32(0)
		if from <= g.from && g.to <= to {
			own = q.units
		}
		if g.to <= est || g.units-own+q.units <= c.capacity {
			continue
		}
		if own > 0 { // the table itself would be too high
			continue
		}
		for est = q.est(p); est < g.to; est = q.est(p) {
			t := min(est+q.length, g.to) - 1
			if t < g.from {
				return true
			}
			a := int32(len(p.store))
			p.store = append(p.store, literal{2 * q.x, t + 1 - q.length})
			if q.when.side >= 0 {
				p.store = append(p.store, q.when)
			}
			p.store = c.explain(p, p.store, t, k, c.capacity-q.units)
			if !p.raise(literal{2 * q.x, t + 1}, byStore, a, int32(len(p.store))) {
				return false
			}
		}
	}
	return true
}

// pushEarlier moves the latest start of a part before such segments.
func (c *cumulative) pushEarlier(p *prover, k int) bool {
	q := &c.parts[k]
	from, to := q.lst(p), q.est(p)+q.length
	for s := min(c.first(q.lst(p)+q.length-1), len(c.segments)-1); s >= 0; s-- {
		g := c.segments[s]
		lst := q.lst(p)
		if g.to <= lst {
			return true
		}
		own := from <= g.from && g.to <= to
		if g.from >= lst+q.length || own || g.units+q.units <= c.capacity {
			continue
		}
		for lst = q.lst(p); lst+q.length > g.from; lst = q.lst(p) {
			t := max(lst, g.from)
			if t >= g.to {
				return true
			}
			a := int32(len(p.store))
			p.store = append(p.store, literal{2*q.x + 1, -t})
			if q.when.side >= 0 {
				p.store = append(p.store, q.when)
			}
			p.store = c.explain(p, p.store, t, k, c.capacity-q.units)
			if !p.raise(literal{2*q.x + 1, q.length - t}, byStore, a, int32(len(p.store))) {
				return false
			}
		}
	}
	return true
}

func (c *cumulative) first(t int32) int {
	return sort.Search(len(c.segments), func(k int) bool { return c.segments[k].to > t })
}

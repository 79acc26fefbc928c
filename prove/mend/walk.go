package mend

import (
	"context"
	"iter"
	"math"
	"slices"
	"strings"
)

// walk tries one size for one question, from today's value outward.
type walk struct {
	s     *Search
	q     *quest
	z     *size
	ctx   context.Context
	used  int    // trials
	spent bool   // of trials there are no more
	valid bool   // some other value makes a toy
	bears bool   // some other value changes what was asked about
	broke string // what else breaks where it was tried
	why   string
}

// eval tries a value. What cannot be read or made does not hold, at no margin.
func (w *walk) eval(k int) result {
	most := trialsPerSize
	if w.q.slow {
		most = slowTrials
	}
	if w.ctx.Err() != nil || w.used == most {
		w.spent = true
		return result{margin: math.NaN()}
	}
	w.used++
	t := w.s.try(w.ctx, w.q, w.z, k)
	if w.valid = w.valid || t.valid; !t.valid || t.broken != "" {
		if w.broke == "" && t.broken != "" {
			w.broke = "at " + w.s.value(k).ExactIn(w.s.base.Units) + " " + t.broken
		}
		return result{margin: math.NaN()}
	}
	r := w.q.judge(w.s, t.findings)
	w.bears = w.bears || r.holds || r.states != w.q.base.states
	return r
}

// mark is a value that was tried.
type mark struct {
	k int
	result
}

// candidates yields values at which the check holds, nearest first as far as they
// are known: in rings about today's value, each about half as wide again as the last.
// Where a value in a ring holds and the one before it does not, the nearest that does
// is found between them; where the margin has a top between rings, it is climbed.
func (w *walk) candidates() iter.Seq[int] {
	return func(yield func(int) bool) {
		if w.z.odd {
			w.why = "is no length"
			return
		}
		if w.z.sold != nil {
			for _, k := range w.z.sold {
				if w.eval(k).holds && !yield(k) {
					return
				}
			}
			return
		}
		if !w.anything() {
			return
		}
		down := &side{sign: -1, end: w.z.lo, last: []mark{{int(math.Ceil(w.z.at)), w.q.base}}}
		up := &side{sign: 1, end: w.z.hi, last: []mark{{int(math.Floor(w.z.at)), w.q.base}}}
		for ring := 1; !w.spent && !(down.done && up.done); ring = max(ring+1, ring*3/2) {
			found := append(w.ring(down, ring), w.ring(up, ring)...)
			slices.SortStableFunc(found, func(a, b int) int {
				return cmpFloat(math.Abs(float64(a)-w.z.at), math.Abs(float64(b)-w.z.at))
			})
			for _, k := range found {
				if !yield(k) {
					return
				}
			}
		}
	}
}

// anything tries the ends of the range and the middles of both sides: a size that
// changes nothing there does not bear on the question. Where none of these makes a
// toy, nearer values may.
func (w *walk) anything() bool {
	for _, k := range []int{w.z.lo, w.z.hi, int(math.Floor((float64(w.z.lo) + w.z.at) / 2)), int(math.Ceil((w.z.at + float64(w.z.hi)) / 2))} {
		if float64(k) != w.z.at {
			w.eval(k)
		}
	}
	return w.bears || !w.valid || w.broke != ""
}

// side is one side of today's value: the last two values tried on it.
type side struct {
	sign, end int
	last      []mark
	done      bool
}

// ring tries the value on a side that is n steps off, or the end of the range.
func (w *walk) ring(s *side, n int) (found []int) {
	if s.done {
		return nil
	}
	k := s.last[0].k + s.sign*n
	if (k-s.end)*s.sign >= 0 {
		k, s.done = s.end, true
	}
	before := s.last[len(s.last)-1]
	if (k-before.k)*s.sign <= 0 {
		return nil
	}
	at := mark{k, w.eval(k)}
	s.last = append(s.last, at)
	switch {
	case at.holds && before.holds:
		found = append(found, k)
	case at.holds:
		if c := w.nearest(before, at); c != k {
			found = append(found, c)
		}
		found = append(found, k)
	case len(s.last) > 2:
		if c, ok := w.climb(s.last[len(s.last)-3], before, at); ok {
			found = append(found, c)
		}
	}
	return found
}

// nearest returns the value nearest to bad at which the check holds, between bad,
// where it does not, and good, where it does: by the chord of the margins and by
// halves in turn.
func (w *walk) nearest(bad, good mark) int {
	for turn := 0; abs(good.k-bad.k) > 1 && !w.spent; turn++ {
		k := (good.k + bad.k) / 2
		if share := -bad.margin / (good.margin - bad.margin); turn%2 == 0 && share > 0 && share < 1 {
			k = bad.k + int(math.Ceil(share*math.Abs(float64(good.k-bad.k))))*sign(good.k-bad.k)
		}
		if k == good.k {
			k -= sign(good.k - bad.k)
		}
		if k == bad.k {
			k += sign(good.k - bad.k)
		}
		if m := (mark{k, w.eval(k)}); m.holds {
			good = m
		} else {
			bad = m
		}
	}
	return good.k
}

// climb looks for a value that holds about b, where the margin is higher than at both
// its neighbours a and c, in the wider gap each time.
func (w *walk) climb(a, b, c mark) (int, bool) {
	if b.holds || !(b.margin > a.margin && b.margin > c.margin) {
		return 0, false
	}
	for !w.spent && (abs(b.k-a.k) > 1 || abs(c.k-b.k) > 1) {
		inner := abs(b.k-a.k) >= abs(c.k-b.k)
		k := (b.k + c.k) / 2
		if inner {
			k = (a.k + b.k) / 2
		}
		m := mark{k, w.eval(k)}
		if m.holds {
			if inner {
				return w.nearest(a, m), true
			}
			return w.nearest(b, m), true
		}
		switch {
		case m.margin > b.margin && inner:
			b, c = m, b
		case m.margin > b.margin:
			a, b = b, m
		case inner:
			a = m
		default:
			c = m
		}
	}
	return 0, false
}

func abs(n int) int { return max(n, -n) }

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}

// told says why the size cannot mend it.
func (w *walk) told() Tried {
	u := w.s.base.Units
	out := Tried{Size: w.z.name, Lo: w.s.value(w.z.lo), Hi: w.s.value(w.z.hi), Bears: w.bears, Why: w.why}
	switch {
	case w.why != "":
	case w.spent:
		out.Why = "the work allowed for one size was used up"
	case !w.valid:
		out.Why = "no other value of it makes the toy"
	case !w.bears && w.broke != "":
		out.Why, out.Bears = w.broke, true
	case !w.bears:
		out.Why = "does not bear on it"
	case w.z.sold != nil:
		var ks []string
		for _, k := range slices.Sorted(slices.Values(w.z.sold)) {
			ks = append(ks, w.s.value(k).Number(u))
		}
		out.Why = "is sold as " + strings.Join(ks, ", ") + " " + u.Symbol() + " about there, and it holds at none"
	default:
		out.Why = "from " + out.Lo.ExactIn(u) + " to " + out.Hi.ExactIn(u) + " it never holds"
	}
	return out
}

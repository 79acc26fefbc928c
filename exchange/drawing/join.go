package drawing

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// chain is a line that may still be open.
type chain struct {
	tag   Line
	start r2.Vec
	steps []outline.Seg
}

func (c *chain) end() r2.Vec { return c.steps[len(c.steps)-1].To }

// reverse turns the chain round.
func (c *chain) reverse() {
	p := outline.Path{Start: c.start, Segs: c.steps}
	at := p.Start
	var back []outline.Seg
	for _, s := range p.Segs {
		back = append(back, outline.Seg{To: at, C: s.C, R: s.R, Sweep: -s.Sweep})
		at = s.To
	}
	for i, j := 0, len(back)-1; i < j; i, j = i+1, j-1 {
		back[i], back[j] = back[j], back[i]
	}
	c.start, c.steps = at, back
}

// join puts open lines of a layer together where just two ends meet, as programs write
// an outline that was drawn in pieces. What stays open is noted.
func (c *collector) join() error {
	rest := c.open
	c.open = nil
	left := map[string]int{} // open lines without a name
	defer func() {
		for _, where := range slices.Sorted(maps.Keys(left)) {
			if n := left[where]; n == 1 {
				c.note(where, "left out: a line that is open, and that no others close")
			} else {
				c.note(where, fmt.Sprintf("left out: %d lines that are open, and that do not close each other", n))
			}
		}
	}()
	for len(rest) > 0 {
		ch := rest[0]
		rest = rest[1:]
		parts := 1
		for turned := false; ; {
			if ch.end().Sub(ch.start).Len() <= tol.Join {
				break
			}
			found, many := -1, 0
			for i := range rest {
				if rest[i].tag.Layer != ch.tag.Layer {
					continue
				}
				if rest[i].start.Sub(ch.end()).Len() <= tol.Join || rest[i].end().Sub(ch.end()).Len() <= tol.Join {
					found = i
					many++
				}
			}
			if many != 1 {
				if turned {
					break
				}
				turned = true
				ch.reverse()
				continue
			}
			next := rest[found]
			rest = append(rest[:found:found], rest[found+1:]...)
			if next.start.Sub(ch.end()).Len() > tol.Join {
				next.reverse()
			}
			ch.steps = append(ch.steps, next.steps...)
			parts++
		}
		if gap := ch.end().Sub(ch.start).Len(); gap > tol.Join {
			if ch.tag.Name == "" { // a page has no end of short lines
				left[ch.tag.Where]++
			} else {
				c.note(ch.tag.says(), fmt.Sprintf("left out: this line is open, it ends %s mm from where it starts", number(gap, 2)))
			}
			continue
		}
		if err := c.close(ch); err != nil {
			return err
		}
	}
	return nil
}

// step is a segment with its start.
type step struct {
	from r2.Vec
	outline.Seg
}

func (s step) long() float64 {
	if s.Round() {
		return float64(s.R * math.Abs(s.Sweep))
	}
	return s.To.Sub(s.from).Len()
}

// middle is a place in the middle of it.
func (s step) middle() r2.Vec { return s.Middle(s.from) }

// path makes a closed line of the chain: ends are brought together, what is too short to
// saw is dropped, and steps that are one line or one arc become one. False: nothing is left.
func (c *chain) path() (outline.Path, bool) {
	var steps []step
	at := c.start
	for _, s := range c.steps {
		st := step{at, s}
		if st.long() > tol.Fit {
			steps = append(steps, st)
			at = s.To
		} else if len(steps) > 0 { // the next one starts where this one did
			at = steps[len(steps)-1].To
		}
	}
	if len(steps) == 0 {
		return outline.Path{}, false
	}
	// Every step begins where the last one ended, and keeps its bend.
	last := steps[len(steps)-1].To
	for i := range steps {
		begin := c.start
		if i > 0 {
			begin = steps[i-1].To
		} else if len(steps) > 1 {
			begin = last
		}
		steps[i] = steps[i].between(begin, steps[i].To)
	}
	return merge(steps), true
}

// between moves the ends of a step by a little.
func (s step) between(from, to r2.Vec) step {
	if s.from == from && s.To == to {
		return s
	}
	if s.Round() && math.Abs(s.Sweep) < 2*math.Pi {
		if t, err := outline.ThreePointArc(from, s.middle(), to); err == nil {
			return step{from, t}
		}
	}
	s.from, s.To = from, to
	return s
}

// merge joins the steps that follow each other on one line or one circle.
func merge(steps []step) outline.Path {
	out := steps[:1:1]
	for _, s := range steps[1:] {
		if m, ok := one(out[len(out)-1], s); ok {
			out[len(out)-1] = m
		} else {
			out = append(out, s)
		}
	}
	for len(out) > 1 {
		m, ok := one(out[len(out)-1], out[0])
		if !ok {
			break
		}
		out = out[:len(out)-1]
		out[0] = m
	}
	if s := out[0]; len(out) == 1 && s.Round() {
		return outline.Circle(s.C, s.R)
	}
	p := outline.Path{Start: out[0].from}
	for _, s := range out {
		p.Segs = append(p.Segs, s.Seg)
	}
	return p
}

// one returns two steps as one, if they are.
func one(a, b step) (step, bool) {
	switch {
	case !a.Round() && !b.Round():
		d, e := a.To.Sub(a.from), b.To.Sub(a.from)
		if e.Len() > tol.Join && d.Dot(e) > 0 && d.Dot(e) < e.Dot(e) && math.Abs(d.Cross(e)) <= float64(tol.Page*5*e.Len()) {
			return step{a.from, outline.Line(b.To)}, true
		}
	case a.Round() && b.Round() && a.Sweep*b.Sweep > 0:
		slack := float64(3e-4*a.R) + 2e-3 // as asArc, and numbers rounded to 0.001
		if a.C.Sub(b.C).Len() > slack || math.Abs(a.R-b.R) > slack {
			break
		}
		sum := a.Sweep + b.Sweep
		share := math.Abs(a.Sweep) / math.Abs(sum)
		if math.Abs(sum) > 2*math.Pi-0.02 { // all the way round
			sum = math.Copysign(2*math.Pi, sum)
			c := a.C.Scale(share).Add(b.C.Scale(1 - share))
			return step{a.from, outline.Seg{To: b.To, C: c, R: float64(a.R*share) + float64(b.R*(1-share)), Sweep: sum}}, b.To.Sub(a.from).Len() <= tol.Join
		}
		if s, err := outline.ThreePointArc(a.from, a.To, b.To); err == nil && s.Round() && math.Abs(s.Sweep-sum) < 0.05 {
			return step{a.from, s}, true
		}
	}
	return a, false
}

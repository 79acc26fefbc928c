package forgive

import (
	"context"
	"math"

	"dryfit/geom/tol"
	"dryfit/prove"
)

// What is said of a build without making it, and when that is not enough.

// wide is how many times the worst that a line was wrong by in n builds a margin has to be off nought for
// its word to be taken: the more builds, the rarer one that is worse than all of them.
func wide(n int) float64 {
	switch {
	case n < 150:
		return 2
	case n < 600:
		return 1.5
	case n < 1200:
		return 1.25
	}
	return 1.1
}

// answer is a constraint that is off in a build.
type answer struct {
	at      int
	verdict prove.Verdict
}

// wrong is how far the margin of a build has been above what was foretold, and below.
type wrong struct{ above, below float64 }

// kind is what a constraint was found to be in the builds that were made.
type kind struct {
	seen              int
	fails, minds, odd int     // of those with a margin below nought; odd: any other verdict, or another margin
	sum, square       float64 // of margins
}

// far tells whether what is not there in the toy as drawn, but comes up in builds, is out of reach.
func (k kind) far() bool {
	if k.fails+k.minds+k.odd > 0 {
		return false
	}
	mean := k.sum / float64(k.seen)
	return mean > farReach*math.Sqrt(math.Max(0, k.square/float64(k.seen)-float64(mean*mean)))
}

// decide says what is wrong in builds, by what was made of them and by lines, and returns for each the
// constraints for which it has to be made first.
func (s *study) decide(ctx context.Context, builds []int) [][]int {
	told, near := make([][]answer, len(builds)), make([][]int, len(builds))
	each(ctx, s.o.Lanes, len(builds), func(j int) { told[j], near[j] = s.judge(builds[j]) })
	if ctx.Err() != nil {
		return nil
	}
	for j, i := range builds {
		s.told[i] = told[j]
	}
	return near
}

func (s *study) judge(i int) (off []answer, near []int) {
	x := s.drawn(i)
	b := s.made[i]
	for k := range s.follow {
		if !s.follow[k] {
			continue
		}
		if b != nil {
			if st := of(b.states, k); st.there {
				if st.verdict >= prove.Mind {
					off = append(off, answer{k, st.verdict})
				}
				continue
			}
		}
		switch told, sure := s.foretell(k, x); {
		case !of(s.base, k).there && (s.kinds[k].seen == 0 || s.kinds[k].far()):
		case sure && told >= prove.Mind:
			off = append(off, answer{k, told})
		case !sure && (b == nil || !b.asked[k]):
			near = append(near, k)
		}
	}
	if b != nil {
		for k := len(s.follow); k < len(b.states); k++ { // what had not come up before
			if st := b.states[k]; st.there && st.verdict >= prove.Mind {
				off = append(off, answer{k, st.verdict})
			}
		}
		for k, f := range s.follow {
			if st := of(b.states, k); !f && st.there && st.verdict >= prove.CannotTell && of(s.base, k).ok() {
				off = append(off, answer{k, st.verdict})
			}
		}
	}
	return off, near
}

// foretell says by lines what a constraint comes to; sure is false where they may be wrong about it.
func (s *study) foretell(k int, x []float64) (v prove.Verdict, sure bool) {
	if s.lines.of[k] == nil {
		return 0, false
	}
	above, below := 0, 0 // how many parts are surely above nought, and below
	for part := range s.lines.of[k] {
		m, e := s.lines.at(k, part, x), s.errs[k][part]
		w := wide(s.kinds[k].seen)
		switch {
		case m < float64(-w*e.above)-tol.Page:
			below++
		case m > float64(w*e.below)+tol.Page:
			above++
		}
	}
	n, any := len(s.lines.of[k]), of(s.base, k).any
	switch {
	case any && above > 0 || !any && above == n:
		return prove.Holds, true
	case any && below == n || !any && below > 0:
		return s.kinds[k].below()
	}
	return prove.Holds, false
}

// below is what a margin below nought means, as far as that was seen often enough.
func (k kind) below() (v prove.Verdict, sure bool) {
	switch {
	case k.odd == 0 && k.minds == 0 && k.fails >= seenFailing:
		return prove.Fails, true
	case k.odd == 0 && k.fails == 0 && k.minds >= seenFailing:
		return prove.Mind, true
	}
	return 0, false
}

// found is a constraint that has been looked at in a build.
type found struct{ build, at int }

// learn sees from what was newly made how wrong the lines are; changed tells whether more than was known.
func (s *study) learn() (changed bool) {
	if s.kinds == nil {
		s.kinds = make([]kind, len(s.follow))
	}
	var x []float64
	last := -1
	for _, n := range s.fresh {
		if n.at >= len(s.follow) || !s.follow[n.at] {
			continue
		}
		st := of(s.made[n.build].states, n.at)
		if !st.finite() {
			continue
		}
		if n.build != last {
			x, last = s.drawn(n.build), n.build
		}
		changed = s.compare(n.at, st, x) || changed
		s.kinds[n.at].add(st)
	}
	s.fresh = s.fresh[:0]
	return changed
}

// compare sees how wrong the lines of a constraint are in a build that was made.
func (s *study) compare(k int, st state, x []float64) (changed bool) {
	for part := range s.lines.of[k] {
		if part >= len(st.parts) {
			break
		}
		// how far it is above where it was drawn matters to nobody
		most := math.Max(0, of(s.base, k).parts[part])
		d, e := math.Min(st.parts[part], most)-math.Min(s.lines.at(k, part, x), most), &s.errs[k][part]
		if d > e.above {
			e.above, changed = d, true
		}
		if -d > e.below {
			e.below, changed = -d, true
		}
	}
	return changed
}

func (k *kind) add(st state) {
	m := st.margin()
	k.seen++
	k.sum += m
	k.square += float64(m * m)
	switch {
	case math.Abs(m) <= tol.Page: // at nought by what rounding leaves
	case m < 0 && st.verdict == prove.Fails:
		k.fails++
	case m < 0 && st.verdict == prove.Mind:
		k.minds++
	case st.verdict >= prove.CannotTell || m < 0:
		k.odd++
	}
}

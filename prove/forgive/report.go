package forgive

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"dryfit/facts"
	"dryfit/prove"
	"dryfit/prove/forgive/chance"
)

// Confidence is that of all intervals of a report.
const Confidence = 0.99

// Report says how often a toy still does what it should when builders of some skill build it.
type Report struct {
	Skill    facts.Skill
	Seed     uint64
	Builds   int // virtual builds that were looked at
	Made     int // of them, those that were made and put to checks; the rest is told by lines
	Errors   int // how many things can be off in a build
	Complete bool
	Works    Share    // builds in which nothing fails, as far as that can be told
	Things   []Thing  // what fails or is to be minded in some build, what fails most first
	Holds    []string // checks by which nothing failed in any build
	Care     []Care   // what to take most care with, first what matters most
	own      Spreads
}

// Share is K of N builds, and between which shares the true one lies with Confidence: whichever way
// it is with those for which it cannot be told.
type Share struct {
	K, N   int
	Untold int
	Lo, Hi float64
}

// Of is the share as it was found.
func (s Share) Of() float64 {
	if s.N == 0 {
		return 0
	}
	return float64(s.K) / float64(s.N)
}

func share(k, untold, n int) Share {
	if n == 0 {
		return Share{Hi: 1}
	}
	i, err := chance.ClopperPearsonUndecided(k, untold, n, Confidence)
	if err != nil {
		panic("forgive: bug: " + err.Error())
	}
	return Share{k, n, untold, i.Low, i.High}
}

// Thing is something that a check says of a build, with how often it fails.
type Thing struct {
	ID, Check, About string
	Holds            Share   // how often it does not fail
	Minds            Share   // how often it is to be minded
	Margin, Spread   float64 // of the toy as drawn, and the standard deviation that errors give it; NaN where that was not followed
	Causes           []Cause // what its spread comes from, the most first; those that matter
}

// Cause is an operation with its share of a variance.
type Cause struct {
	Group
	Says  string
	Share float64
}

// Care is an operation with its share of what goes wrong.
type Care struct {
	Cause
	Builds float64 // in how many of 100 builds something fails that it has the most part in
}

const (
	// leastCause is the share of a spread from which its cause is told.
	leastCause = 0.05
	// mostCauses and mostCare are how many are told.
	mostCauses, mostCare = 5, 6
)

// report sums up what is known so far.
func (s *study) report(done bool) *Report {
	r := &Report{Skill: s.o.Skill, Seed: s.o.Seed, Builds: s.looked, Errors: len(s.b.in.list), Complete: done && s.looked == s.o.Builds, own: s.o.Spreads}
	counts := map[int]*[prove.Fails + 1]int{}
	works, untold := 0, 0
	for i := range s.looked {
		if s.made[i] != nil {
			r.Made++
		}
		worst := prove.Holds
		for _, a := range s.off(i) {
			if counts[a.at] == nil {
				counts[a.at] = &[prove.Fails + 1]int{}
			}
			counts[a.at][a.verdict]++
			worst = max(worst, a.verdict)
		}
		switch {
		case worst < prove.CannotTell:
			works++
		case worst == prove.CannotTell:
			untold++
		}
	}
	n := s.looked
	r.Works = share(works, untold, n)
	seen := map[string]bool{}
	for k, c := range s.b.names {
		by := counts[k]
		if by == nil {
			continue
		}
		fails, open := by[prove.Fails], by[prove.CannotTell]
		t := Thing{ID: c.id, Check: c.check, About: c.about, Holds: share(n-fails-open, open, n), Minds: share(by[prove.Mind], 0, n)}
		t.Margin, t.Spread, t.Causes = s.causes(k)
		r.Things = append(r.Things, t)
		seen[c.check] = seen[c.check] || fails+open > 0
	}
	slices.SortFunc(r.Things, func(a, b Thing) int {
		return cmp.Or(a.Holds.K-b.Holds.K, b.Minds.K-a.Minds.K, strings.Compare(a.ID, b.ID))
	})
	for _, id := range s.b.checks {
		if !seen[id] {
			r.Holds = append(r.Holds, id)
		}
	}
	r.Care = careOf(r.Things)
	return r
}

// off is what is wrong in a build.
func (s *study) off(i int) (off []answer) {
	if told, ok := s.told[i]; ok {
		return told
	}
	if b := s.made[i]; b != nil {
		for k, st := range b.states {
			if st.there && st.verdict >= prove.Mind && st.verdict > of(s.base, k).verdict {
				off = append(off, answer{k, st.verdict})
			}
		}
	}
	return off
}

// causes splits the variance of a margin among the groups of errors: what each adds to it varies by
// itself, so the shares are the first-order indices of Sobol', which add up to one.
//
// Source: I. M. Sobol', "Sensitivity estimates for nonlinear mathematical models", Mathematical
// Modelling and Computational Experiments 1 (1993) 407-414; of a sum of functions of one input each.
func (s *study) causes(k int) (margin, spread float64, causes []Cause) {
	if s.lines == nil || k >= len(s.lines.of) || s.lines.of[k] == nil {
		return math.NaN(), math.NaN(), nil
	}
	sum, by := 0.0, make([]float64, len(s.b.in.groups))
	for _, l := range s.lines.of[k][of(s.base, k).counts()] {
		in := s.b.in.list[l.input]
		v := l.variance(in)
		sum += v
		by[in.Group] += v
	}
	if sum == 0 {
		return of(s.base, k).margin(), 0, nil
	}
	for g, v := range by {
		if v >= leastCause*sum {
			group := s.b.in.groups[g]
			causes = append(causes, Cause{group, facts.ErrorNamed(group.Operation).Says, v / sum})
		}
	}
	slices.SortStableFunc(causes, func(a, b Cause) int { return cmp.Compare(b.Share, a.Share) })
	return of(s.base, k).margin(), math.Sqrt(sum), causes[:min(len(causes), mostCauses)]
}

// careOf weighs causes by how often what they spread fails. Things that fail together by one cause
// are counted once: the one that fails most often.
func careOf(things []Thing) (out []Care) {
	at := map[Group]int{}
	for _, t := range things {
		fails := 0.0
		if t.Holds.N > 0 {
			fails = float64(100*(t.Holds.N-t.Holds.K-t.Holds.Untold)) / float64(t.Holds.N)
		}
		for _, c := range t.Causes {
			by := float64(fails * c.Share)
			i, ok := at[c.Group]
			if !ok {
				at[c.Group] = len(out)
				out = append(out, Care{c, by})
			} else if by > out[i].Builds {
				out[i] = Care{c, by}
			}
		}
	}
	out = slices.DeleteFunc(out, func(c Care) bool { return c.Builds == 0 })
	slices.SortStableFunc(out, func(a, b Care) int { return cmp.Compare(b.Builds, a.Builds) })
	return out[:min(len(out), mostCare)]
}

// Operations lists what can be off, with the spread that was taken for each, in the order of the table.
func (r *Report) Operations() (out []facts.Error) {
	for _, e := range facts.Errors() {
		if own, ok := r.own[e.Name]; ok {
			e.Spread[r.Skill], e.Source = own, "the shop file"
		}
		out = append(out, e)
	}
	return out
}

package mend

import (
	"context"
	"math"
	"slices"
	"strings"

	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/prove"
	"dryfit/toy"
)

// spot is a size at a place of the grid.
type spot struct{ size, k int }

// quest is a question with the findings it is about.
type quest struct {
	check   string
	slow    bool
	targets []prove.Finding
	base    result
}

// quest takes what fails of the check, or where nothing fails what is to be minded.
func (s *Search) quest(a Ask) *quest {
	c, _, _ := prove.Named(a.Check)
	q := &quest{check: a.Check, slow: c.Slow}
	for _, v := range []prove.Verdict{prove.Fails, prove.Mind} {
		for _, f := range s.rep.Findings {
			if f.Check == a.Check && f.Verdict == v && (a.About == "" || f.About == a.About) {
				q.targets = append(q.targets, f)
			}
		}
		if len(q.targets) > 0 {
			break
		}
	}
	q.base = q.judge(s, s.rep.Findings)
	return q
}

func (q *quest) asks(id string) bool {
	return slices.ContainsFunc(q.targets, func(f prove.Finding) bool { return f.ID == id })
}

// result is what a trial says about a question.
type result struct {
	valid  bool // the toy can be read and made
	holds  bool
	margin float64 // the least of what was asked about
	states string  // of what was asked about, to see whether anything changes
}

// judge looks at the findings of the check: what was asked about has to hold, and
// nothing else of it may be worse than it was. Where the findings asked about are
// gone, the margin is that of what stands there instead.
func (q *quest) judge(s *Search, all []prove.Finding) result {
	r := result{valid: true, holds: true, margin: math.Inf(1)}
	var states strings.Builder
	for _, f := range all {
		if f.Check != q.check {
			continue
		}
		asked := q.asks(f.ID)
		if asked && f.Verdict > prove.Waived || !asked && s.worse(f) {
			r.holds = false
		}
		if _, before := s.was[f.ID]; asked || !before {
			r.margin = math.Min(r.margin, f.Margin)
			states.WriteString(f.ID + " " + f.Verdict.String() + " " + f.Says + "\n")
		}
	}
	r.states = states.String()
	return r
}

// worse tells whether a finding says something bad that was not said before.
func (s *Search) worse(f prove.Finding) bool {
	return f.Verdict > prove.Waived && f.Verdict > s.was[f.ID] && !strings.HasSuffix(f.About, "(waiver)")
}

// trial is what a check says of the toy with one size at another value.
type trial struct {
	valid    bool   // the toy can be read and made
	broken   string // what else breaks there; "" if nothing is known to
	findings []prove.Finding
}

type trialOf struct {
	spot
	check string
}

// try makes the check in question with a size at another value. Before a slow check
// the quick ones are made: where those break, it is of no use.
func (s *Search) try(ctx context.Context, q *quest, z *size, k int) *trial {
	at := trialOf{spot{z.index, k}, q.check}
	if t, ok := s.tried[at]; ok {
		return t
	}
	t := &trial{}
	ty, probs := s.read(z.name, s.value(k).ExactIn(s.base.Units))
	if len(probs) == 0 {
		if q.slow {
			_, t.broken = s.prove(ctx, ty, quick())
		}
		if t.valid = true; t.broken == "" {
			rep, err := prove.RunContext(ctx, ty, s.cache, prove.Options{Only: []string{q.check}, Lanes: 1})
			if t.valid = err == nil; t.valid {
				t.findings = rep.Findings
			}
		}
	}
	if ctx.Err() == nil {
		s.tried[at] = t
	}
	return t
}

func quick() (ids []string) {
	for _, c := range prove.Checks {
		if !c.Slow {
			ids = append(ids, c.ID)
		}
	}
	return ids
}

// prove makes checks, nil for all, and stops at the first that says something bad that
// was not said before: in one lane, so that it is the same one every time. Where the
// toy cannot be made or ctx ends, there is neither a report nor a reason.
func (s *Search) prove(ctx context.Context, t *toy.Toy, only []string) (rep *prove.Report, broken string) {
	end, cancel := context.WithCancel(ctx)
	defer cancel()
	rep, _ = prove.RunContext(end, t, s.cache, prove.Options{Only: only, Lanes: 1, Done: func(p prove.Part) {
		for _, f := range p.Findings {
			if broken == "" && s.worse(f) {
				broken = f.ID + " " + verb(f.Verdict)
				cancel()
			}
		}
		if broken == "" && p.Untold && !s.rep.MustUntold {
			broken = p.Check + " cannot tell"
			cancel()
		}
	}})
	if broken != "" {
		return nil, broken
	}
	return rep, ""
}

// verdict is the whole proof of a trial, or why it is of no use.
type verdict struct {
	ok  bool
	why string
	toy *toy.Toy
	rep *prove.Report
}

// verify proves the whole toy.
func (s *Search) verify(ctx context.Context, at spot) *verdict {
	if v, ok := s.proofs[at]; ok {
		return v
	}
	ty, probs := s.read(s.base.Sizes[at.size].Name, s.value(at.k).ExactIn(s.base.Units))
	if len(probs) > 0 { // it was read before
		panic("mend: bug: " + probs.Error())
	}
	v := &verdict{toy: ty}
	v.rep, v.why = s.prove(ctx, ty, nil)
	if v.ok = v.rep != nil; ctx.Err() == nil {
		s.proofs[at] = v
	}
	return v
}

func verb(v prove.Verdict) string {
	if v == prove.Mind {
		return "is to be minded"
	}
	return v.String()
}

// boughtAs finds out whether a size decides what is bought: t is the toy with it a
// step on. What is sold in fixed sizes only, round rods, balls and plywood, can be
// no other (facts.Sizes).
func (s *Search) boughtAs(z *size, t *toy.Toy) {
	fixed := false
	for i, st := range s.base.Stock {
		if changed := st.Thick != t.Stock[i].Thick || st.Dia != t.Stock[i].Dia; changed {
			z.stock = true
			fixed = fixed || st.Form != toy.Board
		}
	}
	if !fixed {
		return
	}
	z.sold = []int{}
	for k := z.lo; k <= z.hi; k++ {
		t, probs := s.read(z.name, s.value(k).ExactIn(s.base.Units))
		if len(probs) == 0 && float64(k) != z.at && s.allSold(t) {
			z.sold = append(z.sold, k)
		}
	}
	slices.SortStableFunc(z.sold, func(a, b int) int {
		return cmpFloat(math.Abs(float64(a)-z.at), math.Abs(float64(b)-z.at))
	})
}

// allSold tells whether all stock that differs from that of the file is sold so.
func (s *Search) allSold(t *toy.Toy) bool {
	for i, st := range t.Stock {
		old := s.base.Stock[i]
		if st.Dia != old.Dia && !sold(map[toy.Form]string{toy.Dowel: "dowel", toy.Ball: "ball"}[st.Form], st.Dia) ||
			st.Form == toy.Sheet && st.Thick != old.Thick && !sold("plywood", st.Thick) {
			return false
		}
	}
	return true
}

func sold(kind string, l measure.Length) bool {
	return slices.ContainsFunc(facts.Sizes(kind), func(f facts.Size) bool { return math.Abs(f.MM-l.MM()) <= tol.Page })
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

package compare

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"dryfit/geom/tol"
	"dryfit/prove"
)

// Finding is one that there was not, that there is no longer, or that is another. Was and Now are
// its verdicts, empty where there is none; the margins are as in the proof, null where there is no
// number. ID is as the new toy calls it.
type Finding struct {
	Kind      string   `json:"kind"` // gained, lost, verdict or margin
	ID        string   `json:"id"`
	Was       string   `json:"was"`
	Now       string   `json:"now"`
	UnitWas   string   `json:"unit_was"`
	UnitNow   string   `json:"unit_now"`
	MarginWas *float64 `json:"margin_was"`
	MarginNow *float64 `json:"margin_now"`
	Said      string   `json:"said"`
	Says      string   `json:"says"`
}

// The kinds of differences between findings.
const (
	Gained  = "gained"
	Lost    = "lost"
	Verdict = "verdict"
	Margin  = "margin"
)

// findings compares two proofs, in the order of the new one; what is lost comes last.
func (d *differ) findings(was, now *prove.Report) []Finding {
	out := []Finding{}
	old := map[string]int{}
	for i, f := range was.Findings {
		old[d.findingNow(f, now)] = i
	}
	kept := make([]bool, len(was.Findings))
	for _, n := range now.Findings {
		i, ok := old[n.ID]
		if !ok {
			out = append(out, Finding{Kind: Gained, ID: n.ID, Now: n.Verdict.String(), UnitNow: n.Unit, MarginNow: number(n.Margin), Says: n.Says})
			continue
		}
		kept[i] = true
		w := was.Findings[i]
		f := Finding{Kind: Verdict, ID: n.ID, Was: w.Verdict.String(), Now: n.Verdict.String(), UnitWas: w.Unit, UnitNow: n.Unit, MarginWas: number(w.Margin), MarginNow: number(n.Margin), Said: w.Says, Says: n.Says}
		switch {
		case w.Verdict != n.Verdict:
		case noticeable(w, n):
			f.Kind = Margin
		default:
			continue
		}
		out = append(out, f)
	}
	for i, w := range was.Findings {
		if !kept[i] {
			out = append(out, Finding{Kind: Lost, ID: d.findingNow(w, now), Was: w.Verdict.String(), UnitWas: w.Unit, MarginWas: number(w.Margin), Said: w.Says})
		}
	}
	return out
}

// findingNow is the id of an old finding by the names of the new toy. What it is about is a piece or,
// of some checks, a hinge: it is the one of which the new toy has a finding.
func (d *differ) findingNow(f prove.Finding, now *prove.Report) string {
	piece, hinge := f.Check+":"+rename(f.About, d.called), f.Check+":"+d.hingeCalled(f.About)
	has := func(id string) bool {
		return slices.ContainsFunc(now.Findings, func(n prove.Finding) bool { return n.ID == id })
	}
	if !has(piece) && has(hinge) {
		return hinge
	}
	return piece
}

func number(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	x = page(x)
	return &x
}

// noticeable tells whether a margin is another than it was: by tol.OtherShare of the larger of the two,
// and by as much as a maker could find.
func noticeable(was, now prove.Finding) bool {
	a, b := number(was.Margin), number(now.Margin)
	switch {
	case was.Unit != now.Unit || (a == nil) != (b == nil):
		return true
	case a == nil:
		return false
	}
	by := math.Abs(*b - *a)
	return by > tol.Page && by >= tol.OtherShare*math.Max(math.Abs(*a), math.Abs(*b)) && by >= found[was.Unit]
}

// found is the least that is told, by unit.
var found = map[string]float64{"mm": tol.Spare, "mm2": tol.OtherArea, "degree": tol.OtherAngle * 180 / math.Pi, "kg": tol.OtherMass, "": tol.OtherPart}

// rename says what a finding is about by the names of the new toy: "post on base", "axle~frame/eye".
func rename(about string, call func(string) string) string {
	return ids.ReplaceAllStringFunc(about, func(id string) string {
		for at := id; at != ""; { // the longest name that is another now
			if now := call(at); now != at {
				return now + id[len(at):]
			}
			at = at[:max(0, strings.LastIndexByte(at, '/'))]
		}
		return id
	})
}

// ids finds the ids of pieces and of what is on them in what a finding is about.
var ids = regexp.MustCompile(`[a-z][a-z0-9-]*(\.[0-9]+)?(/[a-z][a-z0-9-]*(\.[0-9]+)*)*`)

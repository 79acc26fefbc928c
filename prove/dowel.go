package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// fit.dowel: hole less rod, by true diameters, against the fit that is wanted.
// Saddles and slots are measured by sliding one piece against the other.

const fitTable = "common practice, no source (table of fits)"

// running fits sloppier than this turn, but knock about (common practice, no
// source: loose fit 1/16 in; twice that is more than paint and damp can explain).
const sloppy = 25.4 / 8

// fitWords judges a slack. margin is how far it is from failing.
func fitWords(kind assembly.FitKind, slack float64) (v Verdict, limit float64, op, says string, margin float64) {
	switch kind {
	case assembly.Running:
		switch {
		case slack < assembly.GlueMost:
			return Fails, assembly.RunningLeast, ">=", "too tight to turn", slack - assembly.GlueMost
		case slack < assembly.RunningLeast-tol.Page:
			return Mind, assembly.RunningLeast, ">=", "turns, but may seize in damp weather or under finish", slack - assembly.GlueMost
		case slack > sloppy+tol.Page:
			return Mind, sloppy, "<=", "turns, but knocks about", math.Inf(1)
		}
		return Holds, assembly.RunningLeast, ">=", "turns freely", slack - assembly.GlueMost
	default:
		switch {
		case slack < -assembly.PressMost-tol.Page:
			return Fails, -assembly.PressMost, ">=", "the dowel does not go into the hole", slack + assembly.PressMost
		case slack > assembly.RunningLeast-tol.Page:
			return Fails, assembly.GlueMost, "<=", "too loose to hold by glue", assembly.RunningLeast - tol.Page - slack
		case slack > assembly.GlueMost+tol.Page:
			return Mind, assembly.GlueMost, "<=", "a thick glue line: the joint loses strength", assembly.RunningLeast - slack
		}
		return Holds, assembly.GlueMost, "<=", "a glue fit", math.Min(slack+assembly.PressMost, assembly.RunningLeast-slack)
	}
}

var dowelCheck = Check{
	ID: "fit.dowel", Asks: "does each dowel, saddle and slot fit as said?", run: dowel,
	How: "Hole less rod, by true diameters, against the fit that is wanted. Saddles and slots are measured by sliding one piece against the other, both ways, until it touches.",
	Limits: []Limit{
		{"driven in while no larger than its hole by more than", inMM(assembly.PressMost), "common practice, no source (press fit)"},
		{"glue fills a slack up to", inMM(assembly.GlueMost), "common practice, no source (glue fit)"},
		{"turns and slides freely from", inMM(assembly.RunningLeast), "common practice, no source (close running)"},
		{"knocks about beyond", inMM(sloppy), "common practice, no source"},
	},
}

func dowel(r *run) {
	seen := map[string]bool{}
	for _, f := range r.m.Fits {
		slack := r.m.Slack(f)
		rod, host := r.m.Pieces[f.Rod], r.m.Pieces[f.Piece]
		about := rod.ID + "~" + r.hole(f)
		if f.Role == "wheel" {
			about = rod.ID + "~" + host.Part.Name
		}
		if seen[about] {
			continue
		}
		seen[about] = true
		v, limit, op, says, margin := fitWords(f.Kind, slack)
		if math.IsInf(margin, 1) {
			margin = slack - assembly.GlueMost
		}
		b := host.Bore(f.Bore)
		c, dir, radius := rod.Axis()
		r.add(Finding{Check: "fit.dowel", About: about, Verdict: v, Value: slack, Unit: "mm", Limit: limit, LimitOp: op, known: true, Margin: margin, Source: fitTable,
			Says:   fmt.Sprintf("%s of %s in the %s hole of %s (%s): %s", rod.ID, r.len(2*radius), r.len(2*b.R), host.ID, f.Kind, says),
			Places: []Place{r.place(f.Piece, b.Name, r.middle(f, c, dir), b.At), r.place(f.Rod, "", c, f.At)}})
	}
	for _, s := range r.m.Saddles {
		r.saddle(s)
	}
	if !r.has("fit.dowel") {
		r.add(Finding{Check: "fit.dowel", About: "toy", Verdict: Holds, Unit: "mm", Source: fitTable, Says: "there are no dowels, saddles or slots"})
	}
}

// slide returns how far a set of pieces goes along dir before one touches the
// rest; rods in their own holes do not count.
func (r *run) slide(moving, fixed []int, dir r3.Vec, limit float64) (float64, int, int) {
	best, bi, bj := limit, -1, -1
	for _, i := range moving {
		for _, j := range fixed {
			if r.fitted(i, j) {
				continue
			}
			c := solid.FirstContactSlide(r.against(j, i), r.against(i, j), dir, best, tol.Touch)
			if c.Hit && c.Travel < best {
				best, bi, bj = c.Travel, i, j
			}
		}
	}
	return best, bi, bj
}

// fitted tells whether one of two pieces is a rod in a hole of the other.
func (r *run) fitted(i, j int) bool {
	for _, f := range r.m.Fits {
		if f.Rod == i && f.Piece == j || f.Rod == j && f.Piece == i {
			return true
		}
	}
	return false
}

func (r *run) saddle(s assembly.Saddle) {
	a, b := r.m.Pieces[s.A[0]], r.m.Pieces[s.B[0]]
	about := a.ID + "~" + b.ID
	const search = 20.0
	plus, _, _ := r.slide(s.A, s.B, s.Dir, search)
	minus, _, _ := r.slide(s.A, s.B, s.Dir.Neg(), search)
	// each slide runs tol.Touch into the wood before it counts as touching
	slack := plus + minus - 2*tol.Touch
	kind := assembly.Running
	if s.Spec.Glued {
		kind = assembly.Glued
	}
	f := Finding{Check: "fit.dowel", About: about, Unit: "mm", Value: slack, Source: fitTable,
		Places: []Place{r.place(s.A[0], "", a.Body.Bounds().Center(), s.At), r.place(s.B[0], "", b.Body.Bounds().Center(), b.At)}}
	if plus >= search || minus >= search {
		f.Verdict, f.Margin, f.known = Fails, -search, true
		f.Says = a.ID + " does not straddle " + b.ID + ": nothing holds it " + s.Spec.Across.String() + " or the other way"
		r.add(f)
		return
	}
	var says string
	f.Verdict, f.Limit, f.LimitOp, says, f.Margin = fitWords(kind, slack)
	f.known = true
	if math.IsInf(f.Margin, 1) {
		f.Margin, f.known = slack-assembly.GlueMost, true
	}
	switch {
	case kind == assembly.Running && f.Verdict == Holds:
		says = "slides freely"
	case kind == assembly.Running && f.Verdict == Fails:
		says = "too tight to slide"
	case f.Verdict == Fails && slack < 0:
		says = "does not go over"
	}
	f.Says = fmt.Sprintf("%s over %s with %s of play (%s): %s", a.ID, b.ID, r.len(slack), kind, says)
	r.add(f)
}

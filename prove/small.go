package prove

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/group"
	"dryfit/geom/tol"
	"dryfit/prove/gauge"
)

// child.small: does a piece fit the small-parts cylinder, whole, in any attitude?
// Loose things (the toy itself, a load, a car that lifts off) are tried as they
// are; pieces that are attached as if they had come off, and reported apart. From
// three years on small parts are allowed, with a label. Under three a loose piece
// that fits fails, and an attached one if strength.joint says that it comes off.

const threeYears = 36

var smallCheck = Check{
	ID: "child.small", Asks: "does any piece fit the small-parts gauge?", run: small, heavy: true,
	How: "Every attitude of the piece in the small-parts cylinder is bounded: cheap lemmas first, then branch and bound. Its arrises are taken as rounded, as the file says or by the usual 1.5 mm: sharp ones would keep out what goes in once it is sanded. Loose things are tried as they are, attached pieces as if they had come off; of those that fit, strength.joint says whether they do come off.",
	Limits: []Limit{
		{"under three years no loose piece may fit the cylinder", "1.25 in across, 1 to 2.25 in deep", "16 CFR 1501.2, 1501.4"},
		{"nor one that comes off under the tests of use and abuse", "strength.joint", "16 CFR 1501.4(a), 1500.51, 1500.52"},
		{"so near to the gauge counts as fitting", inMM(tol.Gauge), "screening"},
	},
}

func small(r *run) {
	under := r.m.Toy.Ages.FromMonths < threeYears
	r.smallSet("loose", r.loose(), under, Fails)
	var each [][]int
	for _, t := range r.loose() {
		for _, i := range t {
			if len(t) > 1 {
				each = append(each, []int{i})
			}
		}
	}
	slices.SortFunc(each, func(a, b []int) int { return a[0] - b[0] })
	if under {
		r.smallAttached(each)
		return
	}
	r.smallSet("attached", each, under, CannotTell)
}

// smallAttached says of the attached pieces that fit the gauge, for a child under three,
// whether their joints hold.
func (r *run) smallAttached(each [][]int) {
	f := Finding{Check: "child.small", About: "attached", Verdict: Holds, Source: gauge.Source + "; 16 CFR 1501.2 (under 3 years)", known: true,
		Notes: []string{r.easeNote(), screening}}
	off, untold := r.comesOff()
	lost, doubt := r.fitting(off)
	var small, stay, open []string
	worst, least, at := factor{math.Inf(1), 1}, math.Inf(-1), -1
	for _, t := range each {
		a := r.gauge(t)
		if least = math.Max(least, a.AtMost); a.Verdict == gauge.DoesNotFit {
			continue
		}
		name := r.m.Pieces[t[0]].ID
		small = append(small, name)
		if untold[t[0]] {
			open = append(open, name)
		} else if !slices.Contains(lost, name) {
			stay = append(stay, name)
		}
		if by := r.staysBy(t[0]); at < 0 || by.over() < worst.over() {
			worst, at = by, t[0]
		}
	}
	f.Value, f.Limit, f.Margin = page(worst.is), worst.need, worst.is-worst.need
	if at >= 0 {
		f.Places = []Place{r.place(at, "", r.m.Pieces[at].Body.Bounds().Center(), source0)}
	}
	switch {
	case len(lost) > 0:
		f.Verdict, f.Margin = Fails, math.Min(f.Margin, -tol.Gauge)
		f.Says = strings.Join(lost, ", ") + " comes off under the tests of this age and fits the small-parts gauge (see strength.joint)"
	case len(open)+len(doubt) > 0:
		f.Verdict = CannotTell
		f.Says = "cannot tell whether " + strings.Join(append(open, doubt...), ", ") + " comes off: it would fit the small-parts gauge"
	case len(small) == 0:
		f.Value, f.Limit, f.LimitOp, f.Unit, f.Margin = least, -tol.Gauge, "<=", "mm", -tol.Gauge-least
		f.Says = "no piece fits the small-parts gauge"
	case math.IsInf(worst.is, 1):
		f.Value, f.Limit, f.Margin = 1, 1, 1
		f.Says = strings.Join(stay, ", ") + " would fit the small-parts gauge, but nothing holds it to be pulled off by"
	default:
		f.Says = fmt.Sprintf("%s would fit the small-parts gauge, but stays on: the weakest joint holds %s the load of the tests (%.1f needed)", strings.Join(stay, ", "), times(worst.is), worst.need)
	}
	r.add(f)
}

// fitting names the things that fit the gauge, and those of which that is not known.
func (r *run) fitting(things [][]int) (fit, open []string) {
	for _, t := range things {
		list := &fit
		switch r.gauge(t).Verdict {
		case gauge.DoesNotFit:
			continue
		case gauge.CannotTell:
			list = &open
		}
		if name := r.thing(t); !slices.Contains(*list, name) {
			*list = append(*list, name)
		}
	}
	return fit, open
}

// smallSet tries a set of things and reports them as one finding.
func (r *run) smallSet(about string, things [][]int, under bool, ifFits Verdict) {
	f := Finding{Check: "child.small", About: about, Unit: "mm", LimitOp: "<=", Source: gauge.Source + "; 16 CFR 1501.2 (under 3 years)", Verdict: Holds,
		Notes: []string{r.easeNote(), screening}}
	worst := math.Inf(-1)
	var fit, open []string
	type alike struct {
		made *assembly.Made
		as   shown
	}
	seen := map[alike]bool{}
	for _, t := range things {
		name := r.thing(t)
		if about == "attached" { // the piece that would come off, not the glue-up that it is of
			name = r.m.Pieces[t[0]].ID
		}
		if len(t) == 1 { // pieces that are shown alike answer alike
			p := r.m.Pieces[t[0]]
			this := alike{p.Made, r.shown(p)}
			if seen[this] {
				continue
			}
			seen[this] = true
		}
		a := r.gauge(t)
		if a.AtMost > worst {
			worst = a.AtMost
			f.Places = []Place{r.place(t[0], "", r.m.Pieces[t[0]].Body.Bounds().Center(), source0)}
		}
		switch a.Verdict {
		case gauge.Fits:
			fit = append(fit, name)
		case gauge.CannotTell:
			open = append(open, name)
		}
	}
	f.Value, f.Limit = worst, -tol.Gauge // so near to the gauge counts as fitting
	what := "piece"
	if about == "loose" {
		what = "loose piece"
	}
	switch {
	case !under:
		f.Says = "for 3 years and up small parts are allowed"
		if len(fit)+len(open) > 0 {
			f.Says += "; the label has to warn of them"
			f.Notes = append(f.Notes, "label: small parts, not for children under 3 years ("+strings.Join(append(fit, open...), ", ")+")", "label words: 16 CFR 1500.19, from memory")
		} else {
			f.Says = "no " + what + " fits the small-parts gauge"
		}
		f.Margin, f.known = 1, true
	case len(fit) > 0:
		f.Verdict = ifFits
		f.Says = strings.Join(fit, ", ") + " fits the small-parts gauge: make it larger, or glue it on"
		if ifFits == CannotTell {
			f.Says = strings.Join(fit, ", ") + " would fit the small-parts gauge if it came off, and this version does not prove the joints"
		}
	case len(open) > 0:
		f.Verdict = CannotTell
		f.Says = "cannot tell whether " + strings.Join(open, ", ") + " fits the small-parts gauge"
	default:
		f.Says = "no " + what + " fits the small-parts gauge"
	}
	r.add(f)
}

// thing names a loose thing by its first piece.
func (r *run) thing(ids []int) string {
	if len(ids) == len(r.m.Pieces) {
		return "the whole toy"
	}
	p := r.m.Pieces[ids[0]]
	if p.GlueUp != "" {
		return p.GlueUp
	}
	return p.ID
}

// loose splits the toy into what comes apart by hand: at hinges that lift off,
// and wherever a piece is only put down.
func (r *run) loose() [][]int {
	g := group.New(len(r.m.Pieces))
	first := map[int]int{}
	for i, b := range r.m.Rigid {
		if k, ok := first[b]; ok {
			g.Join(k, i)
		} else {
			first[b] = i
		}
	}
	off := map[int]bool{}
	for _, h := range r.m.Hinges {
		if h.Spec.LiftsOff {
			off[h.Pin] = true
		}
	}
	for _, f := range r.m.Fits {
		if !off[f.Rod] {
			g.Join(f.Rod, f.Piece)
		}
	}
	return g.Lists()
}

package prove

import (
	"fmt"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// fit.dowel: hole less rod, by true diameters, against the fit that is wanted.
// Saddles and slots are measured by sliding one piece against the other.

const fitTable = practice + ": fits"

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

// fitParts are the margins that the least of is that of a fit.
func fitParts(kind assembly.FitKind, slack float64) []float64 {
	if kind == assembly.Running {
		return []float64{slack - assembly.GlueMost}
	}
	return []float64{slack + assembly.PressMost, assembly.RunningLeast - slack}
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
		if f.Role == "wheel" && !r.w.built { // as drawn all of an axle are alike
			about = rod.ID + "~" + host.Part.Name
		}
		if seen[about] {
			continue
		}
		seen[about] = true
		if r.open(f) {
			b, c := host.Bore(f.Bore), rod.Pose.O
			r.add(Finding{Check: "fit.dowel", About: about, Verdict: Fails, Value: 0, Unit: "", Limit: 1, Source: "geometry: wood all round the hole",
				Says:   fmt.Sprintf("the hole %s runs out of the side of the wood: %s can fall out sideways", r.hole(f), rod.ID),
				Places: []Place{r.place(f.Piece, b.Name, b.Point, b.At), r.place(f.Rod, "", c, f.At)}})
			continue
		}
		v, limit, op, says, margin := fitWords(f.Kind, slack)
		if math.IsInf(margin, 1) {
			margin = slack - assembly.GlueMost
		}
		b := host.Bore(f.Bore)
		c, dir, radius := rod.Axis()
		if v == Fails && f.Kind == assembly.Running {
			says += ": make the hole " + r.len(2*radius+assembly.RunningLeast) + " or more"
		} else if v == Fails {
			says += ": make the hole as thick as the dowel"
		}
		r.add(Finding{Check: "fit.dowel", About: about, Verdict: v, Value: slack, Unit: "mm", Limit: limit, LimitOp: op, known: true, Margin: margin, Parts: fitParts(f.Kind, slack), Source: fitTable,
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

// open tells whether a hole has no wall on some side all along its wood: a ring
// just outside it is looked at in three places.
func (r *run) open(f assembly.Fit) bool {
	p := r.m.Pieces[f.Piece]
	b := p.Bore(f.Bore)
	c, dir, _ := r.m.Pieces[f.Rod].Axis()
	lo, hi := r.wood(f, c, dir)
	if hi-lo <= tol.Touch {
		return true
	}
	u, v := basis(b.Dir)
	off := b.Point.Sub(c)
	start := c.Add(off.Sub(dir.Scale(off.Dot(dir)))) // on the hole's line, level with the rod's middle
	for _, share := range []float64{0.25, 0.5, 0.75} {
		mid := start.Add(dir.Scale(lo + float64((hi-lo)*share)))
		closed := true
		for k := 0; k < 16 && closed; k++ {
			s, co := trig.Sincos(2 * math.Pi * float64(k) / 16)
			q := mid.Add(u.Scale(float64((b.R + tol.Touch) * co))).Add(v.Scale(float64((b.R + tol.Touch) * s)))
			closed = r.inside(p, q)
		}
		if closed {
			return false
		}
	}
	return true
}

// inside tells whether a point lies in the wood of a piece, round holes filled.
func (r *run) inside(p *assembly.Piece, q r3.Vec) bool {
	for i := range p.Body.Pieces {
		if p.Body.Pieces[i].Contains(q, tol.Clip) {
			return true
		}
	}
	return false
}

// slide returns how far a set of pieces goes along dir before one touches the
// rest; rods in their own holes do not count.
func (r *run) slide(moving, fixed []int, dir r3.Vec, limit float64) (float64, int, int) {
	return r.slideFrom(r3.Vec{}, moving, fixed, dir, limit, r.deep)
}

// slideFrom is slide with the moving pieces shifted first; deep is how far one piece may go into
// another before it counts as touching.
func (r *run) slideFrom(shift r3.Vec, moving, fixed []int, dir r3.Vec, limit float64, deep func(i, j int) float64) (float64, int, int) {
	best, bi, bj := limit, -1, -1
	for _, i := range moving {
		for _, j := range fixed {
			if r.fitted(i, j) {
				continue
			}
			b := r.against(i, j)
			if shift != (r3.Vec{}) {
				b = b.Transform(r3.Shift(shift))
			}
			c := solid.FirstContactSlide(r.against(j, i), b, dir, best, deep(i, j))
			if c.Hit && c.Travel < best {
				best, bi, bj = c.Travel, i, j
			}
		}
	}
	return best, bi, bj
}

// fitted tells whether one of two pieces is a rod in a hole of the other.
func (r *run) fitted(i, j int) bool {
	return slices.Contains(r.w.pairs.fits[i], j)
}

func (r *run) saddle(s assembly.Saddle) {
	a, b := r.m.Pieces[s.A[0]], r.m.Pieces[s.B[0]]
	about := a.ID + "~" + b.ID
	const search = 20.0
	touch := func(int, int) float64 { return tol.Touch }
	plus, _, _ := r.slideFrom(r3.Vec{}, s.A, s.B, s.Dir, search, touch)
	minus, _, _ := r.slideFrom(r3.Vec{}, s.A, s.B, s.Dir.Neg(), search, touch)
	// each slide runs tol.Touch into the wood before it counts as touching
	slack := plus + minus - 2*tol.Touch
	kind := assembly.Running
	if s.Spec.Glued {
		kind = assembly.Glued
	}
	f := Finding{Check: "fit.dowel", About: about, Unit: "mm", Value: slack, Source: fitTable,
		Places: []Place{r.place(s.A[0], "", a.Body.Bounds().Center(), s.At), r.place(s.B[0], "", b.Body.Bounds().Center(), b.At)}}
	// it has to be in so deep that a saw cut off the line does not free it
	for _, side := range []r3.Vec{r3.X, r3.X.Neg(), r3.Y, r3.Y.Neg(), r3.Z, r3.Z.Neg()} {
		if math.Abs(side.Dot(s.Dir)) > 0.5 {
			continue
		}
		shift := side.Scale(holdLeast)
		p, _, _ := r.slideFrom(shift, s.A, s.B, s.Dir, search, touch)
		m, _, _ := r.slideFrom(shift, s.A, s.B, s.Dir.Neg(), search, touch)
		plus, minus = math.Max(plus, p), math.Max(minus, m)
	}
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
		says = "too tight to slide: it wants " + r.len(assembly.RunningLeast-slack) + " more room"
	case f.Verdict == Fails && slack < 0:
		says = "does not go over: it wants " + r.len(-slack) + " more room"
	case f.Verdict == Fails:
		says += ": let it have no more than " + r.len(assembly.GlueMost)
	}
	f.Says = fmt.Sprintf("%s over %s with %s of play (%s): %s", a.ID, b.ID, r.len(slack), kind, says)
	r.add(f)
}

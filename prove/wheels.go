package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// move.wheels: a wheel turns in the round it takes up. The body rests on its
// axles, so a wheel in running holes stands up to half the slack off its place;
// and it drifts outward by its play. That whole round has to be clear of
// everything that is not on its axle. Towards the body the play itself is the
// clearance: fit.reach has it.

var wheelsCheck = Check{
	ID: "move.wheels", Asks: "do wheels turn clear of everything?", run: wheels,
	How: "The round that each wheel takes up, its radius grown by half the slack of the running fit and drawn outward by the play, is measured to every piece that is not on its axle.",
	Limits: []Limit{
		{"clear by at least", inMM(playLeast), "common practice, no source (1/64 in)"},
	},
}

func wheels(r *run) {
	for _, a := range r.m.Axles {
		r.turning(a)
	}
	if !r.has("move.wheels") {
		r.add(Finding{Check: "move.wheels", About: "toy", Verdict: Holds, Unit: "mm", Source: practice, Says: "there are no wheels"})
	}
}

// float returns how far an axle's wheels can stand off their place, radially:
// half the largest slack of what runs.
func (r *run) float(a assembly.Axle) float64 {
	most := 0.0
	for _, f := range r.m.Fits {
		if f.Rod == a.Rod && f.Kind == assembly.Running {
			most = math.Max(most, r.m.Slack(f)/2)
		}
	}
	return most
}

func (r *run) turning(a assembly.Axle) {
	own := map[int]bool{}
	for i := range r.m.Pieces { // whatever is glued to the axle or a wheel turns with it
		own[i] = r.m.Rigid[i] == r.m.Rigid[a.Rod] && !r.host(a, i)
	}
	own[a.Rod] = true
	for end := range a.Wheels {
		for _, w := range a.Wheels[end] {
			own[w] = true
		}
	}
	if r.notRound(a) {
		return
	}
	rise := r.float(a)
	host := map[int]bool{}
	for _, h := range a.Hosts {
		host[h.Piece] = true
	}
	best := solid.Gap{D: math.Inf(1)}
	bestW, bestJ, swept := -1, -1, solid.Body{}
	var parts []float64 // of each wheel
	for end := range a.Wheels {
		out := a.Dir
		if end == 0 {
			out = out.Neg()
		}
		for _, w := range a.Wheels[end] {
			c, dir, radius := r.m.Pieces[w].Axis()
			half := r.m.Pieces[w].Made.Size.Z / 2
			if dir.Dot(out) < 0 {
				dir = dir.Neg()
			}
			u := r.m.Pieces[w].Pose.U
			frame := r3.Pose{U: u, V: dir.Cross(u), W: dir, O: c}
			round := func(in float64) solid.Body {
				return solid.NewBody([]solid.Convex{solid.Cylinder(frame, radius+rise, in-half, half+math.Max(0, a.Play), 1, 2, 3)})
			}
			// Towards its own body only what is not missing in play: fit.reach has that.
			beside := round(math.Min(half, math.Max(0, playLeast-a.Play)))
			whole := round(0)
			if r.w.built {
				parts = append(parts, r.roundClear(own, host, whole, beside))
			}
			for j, q := range r.m.Pieces {
				round := whole
				if host[j] {
					round = beside
				}
				if own[j] || q.Body.Bounds().Distance(round.Bounds()) > math.Min(best.D, nearWheel) {
					continue
				}
				if g := solid.Distance(round, q.Body, math.Min(best.D, nearWheel)); g.D < best.D {
					best, bestW, bestJ, swept = g, w, j, round
				}
			}
		}
	}
	rod := r.m.Pieces[a.Rod]
	f := Finding{Check: "move.wheels", About: rod.ID, Verdict: Holds, Unit: "mm", Limit: playLeast, Source: practice}
	if bestW < 0 {
		f.Value, f.Parts = nearWheel, parts
		f.Says = fmt.Sprintf("the wheels of %s are clear of everything by more than %s", rod.ID, r.len(nearWheel))
		f.Places = []Place{r.place(a.Rod, "", a.Centre, a.Spec.At)}
		r.add(f)
		return
	}
	w, q := r.m.Pieces[bestW], r.m.Pieces[bestJ]
	f.Value, f.Margin, f.known, f.Parts = best.D, best.D-tol.Touch, true, parts
	f.Places = []Place{r.place(bestW, "", best.OnA, a.Spec.At), r.place(bestJ, "", best.OnB, q.At)}
	switch {
	case best.D <= tol.Touch:
		if o := solid.Overlap(swept, q.Body); o.Depth > 0 {
			f.Margin, f.known = -o.Depth, true
			f.Value = -o.Depth
			f.Places[0].At = o.Where
		} else if f.Margin > 0 {
			f.Margin, f.known = -tol.Touch, true
		}
		f.Verdict = Fails
		f.Says = fmt.Sprintf("%s rubs on %s as it turns: it wants %s more room", w.ID, q.ID, r.len(mend(playLeast-math.Min(f.Value, 0))))
	case best.D < playLeast-tol.Page:
		f.Verdict = Mind
		f.Says = fmt.Sprintf("%s turns only %s clear of %s", w.ID, r.len(best.D), q.ID)
	default:
		f.Says = fmt.Sprintf("%s turns %s clear of %s", w.ID, r.len(best.D), q.ID)
	}
	if rise > tol.Touch {
		f.Notes = append(f.Notes, "counted with the axle "+r.len(rise)+" off its place in its running holes")
	}
	r.add(f)
}

// roundClear is the margin of the round of one wheel against all that it might rub on.
func (r *run) roundClear(own, host map[int]bool, whole, beside solid.Body) float64 {
	least := nearWheel
	for j, q := range r.m.Pieces {
		round := whole
		if host[j] {
			round = beside
		}
		if own[j] || q.Body.Bounds().Distance(round.Bounds()) > math.Min(math.Max(least, 0), nearWheel) {
			continue
		}
		d := solid.Distance(round, q.Body, math.Max(least, tol.Touch)).D - tol.Touch
		if d <= 0 {
			if o := solid.Overlap(round, q.Body); o.Depth > 0 {
				d = -o.Depth
			}
		}
		least = math.Min(least, d)
	}
	return least
}

// roundMost is how far a wheel may be off its round before it hobbles: 1/64 in
// (common practice, no source).
const roundMost = 25.4 / 64

// notRound reports a wheel whose work has taken its round away.
func (r *run) notRound(a assembly.Axle) bool {
	for end := range a.Wheels {
		for _, w := range a.Wheels[end] {
			p := r.m.Pieces[w]
			c, dir, radius := p.Axis()
			if len(p.Part.Work) == 0 {
				continue
			}
			least, at := radius, c
			const looks = 72
			v := dir.Cross(p.Pose.U)
			for k := 0; k < looks; k++ {
				s, co := trig.Sincos(2 * math.Pi * float64(k) / looks)
				d := p.Pose.U.Scale(co).Add(v.Scale(s))
				q := p.Body.Support(d)
				if h := q.Sub(c).Dot(d); h < least {
					least, at = h, q
				}
			}
			if off := radius - least; off > roundMost {
				r.add(Finding{Check: "move.wheels", About: r.m.Pieces[a.Rod].ID, Verdict: Fails, Value: off, Unit: "mm", Limit: roundMost, LimitOp: "<=", Source: practice,
					Says:   fmt.Sprintf("%s is not round: its work takes %s off its rim, and it cannot roll", p.ID, r.len(off)),
					Places: []Place{r.place(w, "", at, source0)}})
				return true
			}
		}
	}
	return false
}

// host tells whether a piece is rigid with wood that the axle runs in.
func (r *run) host(a assembly.Axle, i int) bool {
	for _, h := range a.Hosts {
		if r.m.Rigid[h.Piece] == r.m.Rigid[i] {
			return true
		}
	}
	return false
}

// nearWheel is how far around a wheel is looked, mm.
const nearWheel = 25.0

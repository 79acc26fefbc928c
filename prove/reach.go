package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// fit.reach: lengths. An axle needs play left once wheels, gaps and proud are
// taken off it, and has to reach through its wheels; a peg and a pin need wood to
// sit in; a pin that is to lift off must be able to, and one that is not must not.

const (
	// playLeast is the side play of a wheel below which paint or damp stops it:
	// 1/64 in (common practice, no source).
	playLeast = 25.4 / 64
	practice  = "common practice, no source"
	// holdLeast is how far a rod has to be in a hole to be in it at all: 1/64 in, which
	// an ordinary saw cut is off (common practice, no source).
	holdLeast = 25.4 / 64
)

var reachCheck = Check{
	ID: "fit.reach", Asks: "is each axle, peg and pin long enough, with play left?", run: reach,
	How: "Axle length = body + 2 (play + wheels + gaps + proud); the one left out follows. A peg or pin has to fill its hole, or as much of it as it is thick. A pin that lifts off must slide free along its axis, one that does not must be stopped: the pieces are slid until they touch.",
	Limits: []Limit{
		{"side play below which paint or damp stops a wheel", inMM(playLeast), "common practice, no source (1/64 in)"},
	},
}

func reach(r *run) {
	for _, a := range r.m.Axles {
		r.axle(a)
	}
	hinge := map[int]bool{}
	for _, h := range r.m.Hinges {
		hinge[h.Pin] = true
		r.pin(h)
	}
	for _, rod := range r.rods() {
		if len(rod.fits) > 0 && (rod.fits[0].Role == "peg" || hinge[rod.piece]) {
			r.engaged(rod)
		}
	}
	if !r.has("fit.reach") {
		r.add(Finding{Check: "fit.reach", About: "toy", Verdict: Holds, Unit: "mm", Source: practice, Says: "there are no axles, pegs or pins"})
	}
}

func (r *run) axle(a assembly.Axle) {
	rod := r.m.Pieces[a.Rod]
	last := len(a.Wheels[1]) - 1
	outer := r.m.Pieces[a.Wheels[1][last]]
	// how much of the outer wheel's bore is round the axle, and how long it is
	fit := assembly.Fit{Rod: a.Rod, Piece: a.Wheels[1][last]}
	c, dir, _ := rod.Axis()
	lo, hi := r.wood(fit, c, dir)
	bore := hi - lo
	in := math.Min(hi, a.Length/2) - math.Max(lo, -a.Length/2)
	end := a.Centre.Add(a.Dir.Scale(a.Hi + a.Play/2))
	f := Finding{Check: "fit.reach", About: rod.ID, Value: a.Play, Unit: "mm", Limit: playLeast, known: true, Margin: a.Play - tol.Touch, Source: practice,
		Places: []Place{r.place(a.Rod, "", end, a.Spec.At)}}
	f.Margin, f.Parts = math.Min(a.Play, in)-tol.Touch, []float64{a.Play - tol.Touch, in - tol.Touch} // whatever fails first
	if last > 0 {
		f.Margin, f.Parts = math.Min(f.Margin, a.Gap+tol.Touch), append(f.Parts, a.Gap+tol.Touch)
	}
	f.Notes = append(f.Notes, fmt.Sprintf("axle %s: body %s, and at each end play %s, wheels, proud %s", r.len(a.Length), r.len(a.Hi-a.Lo), r.len(a.Play), r.len(a.Proud)))
	// judge files a length in the place of the play.
	judge := func(v Verdict, value, limit float64, says string) {
		f.Verdict, f.Value, f.Limit, f.Says = v, value, limit, says
	}
	longer := func(each float64) string { return "make it " + r.len(mend(a.Length+2*each)) + " long" }
	switch {
	case a.Play <= tol.Touch:
		f.Verdict = Fails
		f.Says = fmt.Sprintf("%s leaves no play, the wheels are jammed against the body: %s", rod.ID, longer(playLeast-a.Play))
		if a.Play < -tol.Touch {
			f.Says = fmt.Sprintf("%s is %s too short at each end: there is no room for the wheels, let alone play: %s", rod.ID, r.len(-a.Play), longer(playLeast-a.Play))
		}
	case in <= tol.Touch:
		judge(Fails, in, bore, fmt.Sprintf("%s does not reach the outer wheel %s: %s", rod.ID, outer.ID, longer(bore-in)))
	case last > 0 && a.Gap < -tol.Touch:
		judge(Fails, a.Gap, 0, fmt.Sprintf("%s is too short: its twin wheels would have to share %s of wood", rod.ID, r.len(-a.Gap)))
	case !a.Held:
		judge(Fails, 0, 1, fmt.Sprintf("nothing keeps the wheels on %s: the outermost is loose on it: bore it to fit the axle, or add a disc outside it that does", rod.ID))
		f.Unit, f.Margin = "", -1
	case a.Play < playLeast-tol.Page:
		f.Verdict = Mind
		f.Says = fmt.Sprintf("%s leaves little play: %s at each side", rod.ID, r.len(a.Play))
	case in < bore-tol.Touch:
		judge(Mind, in, bore, fmt.Sprintf("%s ends %s inside the outer wheels: less to glue to", rod.ID, r.len(bore-in)))
	default:
		f.Verdict = Holds
		f.Says = fmt.Sprintf("%s leaves %s of play at each side", rod.ID, r.len(a.Play))
	}
	r.add(f)
}

// engaged checks how much of each hole a peg or pin fills.
func (r *run) engaged(rod rodFits) {
	p := r.m.Pieces[rod.piece]
	c, dir, radius := p.Axis()
	half := p.Made.Size.X / 2
	worst := Finding{Verdict: Holds, known: true, Margin: math.Inf(1)}
	for _, f := range rod.fits {
		lo, hi := r.wood(f, c, dir)
		in := math.Min(hi, half) - math.Max(lo, -half)
		// a rod has to fill a hole, or as much of it as the rod is thick
		want := math.Min(hi-lo, 2*radius)
		g := Finding{Check: "fit.reach", About: p.ID, Value: in, Unit: "mm", Limit: want, known: true, Margin: in - holdLeast, Source: practice,
			Places: []Place{r.place(f.Piece, r.m.Pieces[f.Piece].Made.Bores[f.Bore].Name, r.middle(f, c, dir), f.At)}}
		switch {
		case in <= tol.Touch:
			g.Verdict = Fails
			g.Says = fmt.Sprintf("%s does not reach into %s: it wants to be %s longer", p.ID, r.hole(f), r.len(mend(want-in)))
		case in < holdLeast:
			g.Verdict = Fails
			g.Says = fmt.Sprintf("%s is only %s in %s: a saw cut off the line and it is out; make it %s longer", p.ID, r.len(in), r.hole(f), r.len(mend(want-in)))
		case in < want-tol.Touch || in < radius-tol.Touch:
			g.Verdict = Mind
			g.Says = fmt.Sprintf("%s is only %s in %s: a dowel wants to be in by its own diameter", p.ID, r.len(in), r.hole(f))
		default:
			g.Verdict = Holds
			g.Says = fmt.Sprintf("%s is %s in %s", p.ID, r.len(in), r.hole(f))
		}
		if g.Verdict > worst.Verdict || g.Verdict == worst.Verdict && g.Margin < worst.Margin {
			worst = g
		}
	}
	r.add(worst)
}

// pin checks that a hinge comes apart along its pin, or does not, as said.
func (r *run) pin(h assembly.Hinge) {
	moving, ok := r.m.Moving(h)
	f := Finding{Check: "fit.reach", About: h.Name, Unit: "mm", Source: "the toy file: lifts-off",
		Places: []Place{r.place(h.Pin, "", h.Centre, h.Spec.At)}}
	if !ok {
		return // move.hinge says that it cannot be moved alone
	}
	fixed := r.linked(h.Pin, r.others(moving))
	// It is off once the pin has left the deepest of the holes that turn on it.
	c, dir, _ := r.m.Pieces[h.Pin].Axis()
	half := r.m.Pieces[h.Pin].Made.Size.X / 2
	in := 0.0
	free := [2]float64{} // how far the wood has to go towards -dir, +dir to be off the pin
	blind := [2]bool{}   // closed towards -dir, +dir as the wood moves
	for _, k := range h.Runs {
		fit := assembly.Fit{Rod: h.Pin, Piece: k.Piece, Bore: k.Bore}
		lo, hi := r.wood(fit, c, dir)
		in = math.Max(in, math.Min(hi, half)-math.Max(lo, -half))
		free[0], free[1] = math.Max(free[0], hi+half), math.Max(free[1], half-lo)
		b := r.m.Pieces[k.Piece].Bore(k.Bore)
		if b.Blind {
			if b.Dir.Dot(dir) > 0 {
				blind[0] = true // its bottom is ahead: the wood cannot go back over the pin
			} else {
				blind[1] = true
			}
		}
	}
	best, want := 0.0, in
	way := r3.Vec{}
	comesOff, stops := false, -1
	for k, d := range []r3.Vec{dir.Neg(), dir} {
		if blind[k] {
			continue
		}
		s, _, j := r.slide(moving, fixed, d, free[k]+tol.Touch)
		if off := s >= free[k]-tol.Touch; off && !comesOff || s > best && off == comesOff {
			best, want, way, comesOff, stops = s, free[k], d, off, j
		}
	}
	f.Value, f.Limit = best, want-tol.Touch
	f.Verdict = Holds
	switch {
	case comesOff && h.Spec.LiftsOff:
		f.Says = h.Name + " comes apart as it should: " + r.way(way.Scale(best))
	case !comesOff && h.Spec.LiftsOff:
		f.Verdict = Fails
		f.Says = fmt.Sprintf("%s should lift off, but it moves only %s of %s along its pin", h.Name, r.len(best), r.len(want))
		if stops >= 0 {
			f.Says += ": " + r.m.Pieces[stops].ID + " is in the way, and has to leave " + r.len(mend(want-best)) + " more"
		}
	case comesOff:
		f.Verdict, f.LimitOp, f.Margin, f.known = Fails, "<=", f.Limit-best-tol.Touch, true
		f.Says = fmt.Sprintf("%s comes off its pin: nothing keeps it from going %s; say lifts-off: yes if it is meant to", h.Name, r.way(way.Scale(best)))
	default:
		f.LimitOp = "<="
		f.Says = h.Name + " stays on its pin"
	}
	r.add(f)
}

// linked returns those of the pieces that hang together with a piece by glue, rods
// in holes or saddles: what is only put down keeps nothing in place.
func (r *run) linked(with int, among []int) []int {
	in := map[int]bool{}
	for _, i := range among {
		in[r.m.Rigid[i]] = true
	}
	seen := map[int]bool{r.m.Rigid[with]: true}
	for again := true; again; {
		again = false
		join := func(i, j int) {
			a, b := r.m.Rigid[i], r.m.Rigid[j]
			if seen[a] != seen[b] && in[a] && in[b] {
				seen[a], seen[b], again = true, true, true
			}
		}
		for _, f := range r.m.Fits {
			join(f.Rod, f.Piece)
		}
		for _, s := range r.m.Saddles {
			join(s.A[0], s.B[0])
		}
	}
	var out []int
	for _, i := range among {
		if seen[r.m.Rigid[i]] {
			out = append(out, i)
		}
	}
	return out
}

// others returns the pieces that are not in the list.
func (r *run) others(ids []int) []int {
	in := make([]bool, len(r.m.Pieces))
	for _, i := range ids {
		in[i] = true
	}
	var out []int
	for i := range r.m.Pieces {
		if !in[i] {
			out = append(out, i)
		}
	}
	return out
}

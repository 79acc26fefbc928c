package prove

import (
	"fmt"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
	"dryfit/toy"
)

// move.ground: the floor is the plane that carries the toy: through three of the
// lowest points of its wheels (of its wood, where it has none), no other below it,
// the centre of mass above the triangle. Of two such planes the lower wins. The
// body rests down on its axles, so a wheel may hang below its place by the slack
// of its running fit: a wheel nearer to the floor than that touches it.

// support is the floor and what stands on it.
type support struct {
	n      r3.Vec // up, square to the floor
	at     r3.Vec // a point of the floor
	points []standing
	wheels bool
	skids  []int // what of its wood stands on the floor beside its wheels
	ok     bool
}

// standing is a point that may touch the floor.
type standing struct {
	piece int
	at    r3.Vec
	slack float64 // how far it may drop
}

func (s support) height(p r3.Vec) float64 { return p.Sub(s.at).Dot(s.n) }

// floorSlack is how nearly the wheels have to agree before the floor counts as
// touched by all, where their running fits give nothing: 1/64 in, which sanding
// takes off anyway (common practice, no source).
const floorSlack = 25.4 / 64

// stand finds the floor of some pieces.
func (r *run) stand(ids []int, centre r3.Vec) support {
	in := map[int]bool{}
	for _, i := range ids {
		in[i] = true
	}
	s := support{n: r3.Z}
	for _, a := range r.m.Axles {
		if math.Abs(a.Dir.Z) > 0.5 || !in[a.Rod] {
			continue
		}
		slack := 2 * r.float(a)
		for end := range a.Wheels {
			for _, w := range a.Wheels[end] {
				c, dir, radius := r.m.Pieces[w].Axis()
				half := r.m.Pieces[w].Made.Size.Z / 2
				down := r3.Z.Neg().Add(dir.Scale(dir.Z)).Unit() // square to the axle
				// the body sinks onto its axles by half the slack
				low := c.Add(down.Scale(radius)).Add(r3.Z.Scale(slack / 2))
				s.points = append(s.points, standing{w, low.Add(dir.Scale(half)), slack}, standing{w, low.Sub(dir.Scale(half)), slack})
			}
		}
	}
	s.wheels = len(s.points) > 0
	if !s.wheels {
		low := math.Inf(1)
		for _, i := range ids {
			low = math.Min(low, r.m.Pieces[i].Body.Bounds().Min.Z)
		}
		for _, i := range ids {
			for _, v := range r.m.Pieces[i].Body.Vertices() {
				if v.Z <= low+r.flatFoot() {
					s.points = append(s.points, standing{i, v, 0})
				}
			}
		}
		s.at, s.ok = r3.Vec{Z: low}, true
		return s
	}
	if s = r.rest(s, centre); !s.ok && len(ids) == len(r.m.Pieces) {
		if t, ok := r.onSkid(s, centre); ok {
			return t
		}
	}
	return s
}

// rest finds the plane through three points under the centre of mass.
func (r *run) rest(s support, centre r3.Vec) support {
	best := math.Inf(1)
	pts := s.points
	for i := range pts {
		for j := i + 1; j < len(pts); j++ {
			for k := j + 1; k < len(pts); k++ {
				n := pts[j].at.Sub(pts[i].at).Cross(pts[k].at.Sub(pts[i].at))
				if n.Len() < minTriangle {
					continue
				}
				n = n.Unit()
				if n.Z < 0 {
					n = n.Neg()
				}
				if n.Z < 0.5 {
					continue
				}
				h := centre.Sub(pts[i].at).Dot(n) // the higher the centre, the worse it rests
				if h >= best-tol.Page || !under(centre, n, pts[i].at, pts[j].at, pts[k].at) || s.sinks(n, pts[i].at) {
					continue
				}
				best = h
				s.n, s.at, s.ok = n, pts[i].at, true
			}
		}
	}
	if !s.ok { // it falls over: measure from the level floor under the lowest wheel
		s.at = pts[0].at
		for _, p := range pts {
			if p.at.Z < s.at.Z {
				s.at = p.at
			}
		}
	}
	return s
}

// sinks tells whether some point lies below a plane.
func (s support) sinks(n, at r3.Vec) bool {
	for _, p := range s.points {
		if p.at.Sub(at).Dot(n) < -tol.Touch {
			return true
		}
	}
	return false
}

// minTriangle is twice the area (mm²) below which three points count as in line.
const minTriangle = 1.0

// under tells whether the foot of centre lies in the triangle.
func under(c, n, a, b, d r3.Vec) bool {
	side := func(p, q r3.Vec) float64 { return q.Sub(p).Cross(c.Sub(p)).Dot(n) }
	x, y, z := side(a, b), side(b, d), side(d, a)
	return x >= -tol.Touch && y >= -tol.Touch && z >= -tol.Touch || x <= tol.Touch && y <= tol.Touch && z <= tol.Touch
}

func (r *run) all() []int {
	out := make([]int, len(r.m.Pieces))
	for i := range out {
		out[i] = i
	}
	return out
}

var groundCheck = Check{
	ID: "move.ground", Asks: "do all wheels touch a flat floor, and does all else clear it?", run: ground,
	How: "The floor is the plane through three of the lowest points of the wheels, no other below it, with the centre of mass above the triangle. The body rests down on its axles; a wheel may drop by the slack of its running fit, so one nearer to the floor than that touches it. A toy on one pair of wheels leans over until its wood meets the floor. Ramps and crests, told beside: the steepest slope below the wheels and everything before, behind or between them; a coupling on an upright pin tilts by its slack only.",
	Limits: []Limit{
		{"a wheel may hang above the floor by its running slack, or", inMM(floorSlack), "common practice, no source (1/64 in)"},
	},
}

func ground(r *run) {
	if r.w.built && r.builtCars() {
		return
	}
	s := r.stand(r.all(), r.w.weigh().centre)
	rolls, clears := r.must(toy.MustRoll), r.must(toy.MustClear)
	if !s.wheels {
		f := Finding{Check: "move.ground", About: "toy", Verdict: Holds, Unit: "mm", Source: practice, Says: "there are no wheels to touch the floor"}
		if rolls != nil {
			f.Verdict, f.Margin, f.Source, f.known = Fails, -1, "the toy file: must", true
			f.Says = "it must roll, and it has no wheels on level axles"
		}
		if rolls == nil && clears != nil {
			f.Verdict, f.Margin, f.Source, f.known = Fails, -clears.Length.MM(), "the toy file: must", true
			f.Says = "it must clear the floor, and it has no wheels to hold it up"
		}
		r.add(f)
		return
	}
	r.touchFloor(s, true)
	r.trackStraight(rolls)
	if len(s.skids) == 0 || clears != nil {
		r.clearFloor(s, clears)
		return
	}
	skid := r.m.Pieces[s.skids[0]]
	f := Finding{Check: "move.ground", About: "clearance", Verdict: Holds, Unit: "mm", Source: practice,
		Says: skid.ID + " stands on the floor beside its wheels", Places: []Place{r.place(s.skids[0], "", skid.Body.Support(s.n.Neg()), skid.At)}}
	if rolls != nil {
		f.Verdict, f.Source, f.Margin, f.known = Fails, "the toy file: must", -tol.Touch, true
		f.Says = skid.ID + " drags on the floor, and it must roll: put a second axle in, or leave that must out if a hand holds it up as it rolls"
	}
	r.add(f)
}

// must returns what the toy must do of a kind, the last that is said; nil where nothing is.
func (r *run) must(kind toy.MustKind) (last *toy.Must) {
	for i := range r.m.Toy.Musts {
		if m := &r.m.Toy.Musts[i]; m.Kind == kind {
			last = m
		}
	}
	return last
}

// askewMost is how far, in degrees, two axles of one car may be out of parallel
// before it drags its wheels sideways (common practice, no source).
const askewMost = 2.0

// trackStraight reports axles of one car that do not run the same way.
func (r *run) trackStraight(rolls *toy.Must) {
	car := map[int]int{}
	for k, ids := range r.cars() {
		for _, i := range ids {
			car[i] = k
		}
	}
	worst, at := 0.0, [2]int{-1, -1}
	for i, a := range r.m.Axles {
		for j, b := range r.m.Axles[:i] {
			if car[a.Rod] != car[b.Rod] || math.Abs(a.Dir.Z) > 0.5 || math.Abs(b.Dir.Z) > 0.5 {
				continue
			}
			// as they lie on the floor
			cross := math.Abs(float64(a.Dir.X*b.Dir.Y) - float64(a.Dir.Y*b.Dir.X))
			if d := degrees(trig.Asin(math.Min(1, cross))); d > worst {
				worst, at = d, [2]int{i, j}
			}
		}
	}
	if worst <= askewMost {
		return
	}
	a, b := r.m.Axles[at[0]], r.m.Axles[at[1]]
	f := Finding{Check: "move.ground", About: "straight", Verdict: Mind, Value: worst, Unit: "degree", Limit: askewMost, LimitOp: "<=", Source: practice,
		Says:   fmt.Sprintf("%s and %s are %.1f° out of parallel: the wheels drag sideways", r.m.Pieces[a.Rod].ID, r.m.Pieces[b.Rod].ID, worst),
		Places: []Place{r.place(a.Rod, "", a.Centre, a.Spec.At), r.place(b.Rod, "", b.Centre, b.Spec.At)}}
	if rolls != nil {
		f.Verdict, f.Source = Fails, "the toy file: must"
	}
	r.add(f)
}

// tilt returns how much lower a wheel may hang because the car it belongs to can
// tip in a loose upright hitch: the slack of the pin over its length in the wood,
// times how far the wheel is from it.
func (r *run) tilt(wheel int) float64 {
	extra := 0.0
	c, _, _ := r.m.Pieces[wheel].Axis()
	for _, h := range r.m.Hinges {
		moving, ok := r.m.Moving(h)
		if math.Abs(h.Dir.Z) < 0.9 || !ok {
			continue
		}
		side := moving
		if m, _ := r.massOf(moving); m > r.w.weigh().mass/2 {
			side = r.others(moving)
		}
		if !slices.Contains(side, wheel) {
			continue
		}
		for _, k := range h.Runs {
			f := assembly.Fit{Rod: h.Pin, Piece: k.Piece, Bore: k.Bore}
			if wood := r.woodOf(f); wood > tol.Touch {
				d := c.Sub(h.Centre)
				extra = math.Max(extra, float64(math.Max(0, r.m.Slack(f))/wood*trig.Hypot(d.X, d.Y)))
			}
		}
	}
	return extra
}

// touchFloor reports the wheel that is farthest from the floor. A wheel of a car that others carry may
// hang lower than its fit lets it, see tilt.
func (r *run) touchFloor(s support, carried bool) {
	gap := map[int]float64{}
	slack := map[int]float64{}
	var order []int
	for _, p := range s.points {
		if slices.Contains(s.skids, p.piece) {
			continue
		}
		h := s.height(p.at)
		if old, ok := gap[p.piece]; !ok || h < old {
			if !ok {
				order = append(order, p.piece)
			}
			gap[p.piece], slack[p.piece] = h, p.slack
			if carried {
				slack[p.piece] += r.tilt(p.piece)
			}
		}
	}
	worst, margin := order[0], math.Inf(1)
	for _, w := range order {
		if m := math.Max(slack[w], floorSlack) - gap[w]; m < margin-tol.Page {
			worst, margin = w, m
		}
	}
	c, _, _ := r.m.Pieces[worst].Axis()
	f := Finding{Check: "move.ground", About: "wheels", Verdict: Holds, Value: gap[worst], Unit: "mm", Limit: math.Max(slack[worst], floorSlack), LimitOp: "<=", known: true, Margin: margin, Source: practice + ": what the running fit lets a wheel drop",
		Says: fmt.Sprintf("all %s touch a flat floor", count(len(order), "wheel")), Places: []Place{r.place(worst, "", c, source0)}}
	if !s.ok {
		f.Verdict, f.Value, f.Unit, f.Limit, f.LimitOp, f.Source, f.Margin, f.known = Fails, 0, "", 1, ">=", "geometry: the centre of mass lies over the wheels", -1, true
		f.Says = "it does not stand on its wheels: its weight is not between them"
	} else if margin < 0 {
		f.Verdict = Fails
		f.Says = fmt.Sprintf("%s never touches the floor: it hangs %s above it, and its fit lets it drop only %s; put its axle lower, or make it larger", r.m.Pieces[worst].ID, r.len(gap[worst]), r.len(slack[worst]))
	}
	if rock, ok := s.rock(order); r.w.built && s.ok && ok {
		f.Value, f.Verdict = math.Abs(rock), Holds
		f.Parts = []float64{f.Limit - rock, f.Limit + rock} // either way
		if f.Margin = slices.Min(f.Parts); f.Margin < 0 {
			f.Verdict = Fails
		}
	}
	r.add(f)
}

// clearFloor reports what comes nearest to the floor beside the wheels.
func (r *run) clearFloor(s support, must *toy.Must) { r.clearFloorOf(s, r.all(), must) }

// clearFloorOf is clearFloor of some pieces.
func (r *run) clearFloorOf(s support, ids []int, must *toy.Must) {
	wheel := map[int]bool{}
	for _, p := range s.points {
		wheel[p.piece] = !slices.Contains(s.skids, p.piece)
	}
	low, at, piece := math.Inf(1), r3.Vec{}, -1
	for _, i := range ids {
		p := r.m.Pieces[i]
		if wheel[i] {
			continue
		}
		v := p.Body.Support(s.n.Neg())
		if h := s.height(v); h < low-tol.Page {
			low, at, piece = h, v, i
		}
	}
	if piece < 0 {
		return
	}
	f := Finding{Check: "move.ground", About: "clearance", Verdict: Holds, Value: low, Unit: "mm", Source: practice,
		Says: fmt.Sprintf("%s clears the floor by %s, with the body resting on its axles", r.m.Pieces[piece].ID, r.len(low)), Places: []Place{r.place(piece, "", at, source0)}}
	if must != nil {
		f.Limit, f.Source = must.Length.MM(), "the toy file: must"
	}
	f.Margin, f.known = math.Min(low-tol.Touch, low-f.Limit+tol.Touch), true
	if low <= tol.Touch || f.Margin < 0 {
		f.Verdict = Fails
		f.Says = fmt.Sprintf("%s comes within %s of the floor", r.m.Pieces[piece].ID, r.len(low))
		if low <= tol.Touch {
			f.Says = fmt.Sprintf("%s drags on the floor", r.m.Pieces[piece].ID)
		}
		f.Says += ": larger wheels, or axles lower in the body, have to raise it by " + r.len(mend(math.Max(f.Limit, playLeast)-low))
	}
	if r.w.built {
		r.add(f)
		return
	}
	ramps, notes := r.rampWords(s)
	if f.Verdict == Holds {
		f.Says += ramps
	}
	f.Notes = append(f.Notes, notes...)
	r.add(f)
}

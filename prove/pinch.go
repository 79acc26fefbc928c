package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// child.pinch: gaps that open far enough for a finger and close on it. The clause asks of
// every gap between moving parts that takes a 5 mm rod to take a 13 mm rod too,
// through the whole motion. By the letter it would forbid every lid, every tipping bed and every
// two cars that are hitched together; what it is for is force. So weight decides, as
// the clause for hinges has it: what weighs less than 0.25 kg is moved by the hand and
// stopped by it. What is heavier fails where its weight closes the gap, and is
// minded where only a hand does.

var pinchCheck = Check{
	ID: "child.pinch", Asks: "does anything that moves squeeze a finger?", run: pinch, Slow: true,
	How: "Hinges: points no more than 4 mm apart along every arris of what swings, and of what it swings against, are followed through the whole swing, in steps that a gap cannot change by more than 1 mm in. A squeeze is where one takes a 5 mm rod from outside, is under 13 mm and closes. It fails where the lighter side weighs 0.25 kg or more and falls shut by its weight; where only a hand closes it, as with two cars on an upright pin, it is minded. " +
		"Lighter parts hold, but for a lever: how far from the pin a hand can push the part down against the floor, by how far from it a finger goes in at most, is how many times the push arrives there; from 4 times on it is minded. " +
		"Wheels: the gap between the tread and whatever faces it stays the same as the wheel turns; one of 5 to 13 mm that a 5 mm rod reaches fails if the toy weighs 0.25 kg or more and is minded else. Every hole and cut-out through a wheel that takes a 5 mm rod is looked through, every 0.5 mm of its way round, from both sides: where a finger goes 5 mm deep past an edge that stands less than 13 mm behind the wheel, and the wheel then carries it over that edge, it fails if the toy weighs 0.25 kg or more and the fingertip of the age goes in, and is minded else. Holes in what swings on a hinge are not looked through; slides are not followed.",
	Limits: []Limit{
		{"a gap that takes a rod of", inMM(facts.Child(facts.FingerRod).Value), facts.Child(facts.FingerRod).Source + " (under 96 months)"},
		{"must take one of", inMM(facts.Child(facts.FingerClear).Value) + " (12 mm in ISO and EN)", "ASTM F963 4.18.1, from memory"},
		{"a hand on a lever pushes less than", fmt.Sprintf("%g times as hard", leverMost), practice},
		{"fingertip up to 3 years, and over, for holes in wheels", inMM(probeSmall) + ", " + inMM(probeLarge), probeSource},
		{"reaches parts of at least", "0.25 kg", facts.Child(facts.HingeWeight).Source + " (hinge lines; taken for all gaps)"},
	},
}

const pinchSource = "ASTM F963 4.18.1; ISO 8124-1 4.13.2 (under 96 months)"

// gapLimits are the rods of the clause, mm.
func gapLimits() (takes, clears float64) {
	return facts.Child(facts.FingerRod).Value, facts.Child(facts.FingerClear).Value
}

func pinch(r *run) {
	if !r.reaches(facts.Child(facts.FingerRod)) {
		r.add(Finding{Check: "child.pinch", About: "toy", Verdict: Holds, Unit: "mm", Source: pinchSource, Says: "no limit reaches its gaps at this age", Notes: []string{screening}})
		return
	}
	cuts := r.cutOpens()
	for _, a := range r.m.Axles {
		r.treads(a)
		r.spokes(a, cuts)
	}
	heaviest, who := 0.0, ""
	var strongest lever
	points := jawPoints{}
	for i := range r.m.Hinges {
		kg, name, l := r.jaws(i, points)
		if kg > heaviest {
			heaviest, who = kg, name
		}
		if l.ratio() > strongest.ratio() {
			strongest = l
		}
	}
	heavy := facts.Child(facts.HingeWeight).Value
	for _, s := range r.m.Saddles {
		if s.Spec == nil || s.Spec.Glued {
			continue
		}
		a, _ := r.massOf(s.A)
		if kg := math.Min(a, r.w.weigh().mass-a); kg >= heavy {
			r.add(Finding{Check: "child.pinch", About: r.thing(s.A), Verdict: CannotTell, Value: kg, Unit: "kg", Limit: heavy, LimitOp: "<=", Source: pinchSource, known: true, Margin: heavy - kg - tol.Touch,
				Says: "cannot tell whether " + r.thing(s.A) + " squeezes a finger as it slides: slides are not followed", Notes: []string{screening},
				Places: []Place{r.place(s.A[0], "", r.m.Pieces[s.A[0]].Body.Bounds().Center(), s.At)}})
		}
	}
	if r.has("child.pinch") {
		return
	}
	f := Finding{Check: "child.pinch", About: "toy", Verdict: Holds, Value: heaviest, Unit: "kg", Limit: heavy, LimitOp: "<=", Source: pinchSource, known: true, Margin: math.Abs(heavy - heaviest), Notes: []string{screening}, Says: "nothing that turns leaves a gap that squeezes a finger"}
	switch {
	case len(r.m.Hinges) == 0:
		f.Unit, f.Value, f.Limit = "mm", 0, 0
		if len(r.m.Axles) == 0 {
			f.Says = "nothing turns"
		}
	case heaviest < heavy:
		f.Says = fmt.Sprintf("what swings is too light to squeeze a finger: %s and what is on it weigh %.0f g", who, heaviest*1000)
		if strongest.arm > 0 {
			f.Notes = append([]string{r.leverSays(strongest)}, f.Notes...)
		}
	}
	r.add(f)
}

// treads looks for gaps between the treads of the wheels of an axle and what faces
// them. A wheel is the same all round: its gaps do not change as it turns.
func (r *run) treads(a assembly.Axle) {
	takes, clears := gapLimits()
	turns := map[int]bool{}
	for _, x := range r.m.Axles {
		turns[x.Rod] = true
		for _, side := range x.Wheels {
			for _, w := range side {
				turns[w] = true
			}
		}
	}
	worst := map[int]int{} // the finding about each piece
	for _, side := range a.Wheels {
		for _, w := range side {
			c, dir, radius := r.m.Pieces[w].Axis()
			u, v := basis(dir)
			half := r.m.Pieces[w].Made.Size.Z / 2
			round := solid.NewBody([]solid.Convex{solid.Cylinder(r3.Pose{U: u, V: v, W: dir, O: c}, radius, -half, half, 1, 2, 3)})
			level := c.Dot(dir)
			for j, q := range r.m.Pieces {
				if turns[j] || q.Body.Bounds().Distance(round.Bounds()) >= clears {
					continue
				}
				// Only what lies within the thickness of the wheel faces its tread.
				b := q.Body.Clip(solid.Plane{N: dir, D: level + half - treadLap}, 1).Clip(solid.Plane{N: dir.Neg(), D: -level + half - treadLap}, 1)
				g := solid.Distance(round, b, clears)
				if g.D < takes+tol.Touch || g.D >= clears-tol.Touch || !r.reachable(g.OnA.Add(g.OnB).Scale(0.5), g.Normal, takes, nil, r3.Identity) {
					continue
				}
				places := []Place{r.place(w, "", g.OnA, a.Spec.At), r.place(j, "", g.OnB, q.At)}
				f := Finding{Check: "child.pinch", About: r.m.Pieces[a.Rod].ID + "~" + q.ID, Verdict: Mind, Value: g.D, Unit: "mm", Limit: clears, Source: pinchSource,
					Says:   fmt.Sprintf("a finger goes between the tread of %s and %s: the gap is %s; make it under %s, or %s", r.m.Pieces[w].ID, q.ID, inMM(page(g.D)), inMM(takes), inMM(clears)),
					Notes:  []string{screening},
					Places: places, known: true, Margin: -math.Min(clears-g.D, g.D-takes)}
				if r.w.weigh().mass >= facts.Child(facts.HingeWeight).Value {
					f.Verdict = Fails
				}
				if at, ok := worst[j]; ok { // the other wheel of the axle
					r.findings[at].Places = append(r.findings[at].Places, places[0])
					continue
				}
				worst[j] = len(r.findings)
				r.add(f)
			}
		}
	}
}

// treadLap is how far, at each side, a thing may reach beside a tread without facing it.
const treadLap = 1.0

// reachable tells whether a rod of that thickness comes straight to p from outside,
// square to the gap, with the pieces of moving carried along by the pose.
func (r *run) reachable(p, across r3.Vec, thick float64, moving map[int]bool, pose r3.Pose) bool {
	const ways, sides = 16, 12
	box := r3.EmptyBox()
	for _, q := range r.m.Pieces {
		box = box.Union(q.Body.Bounds())
	}
	far := box.Size().Len() // it is outside then
	u, v := basis(across)
	back := pose.Inverse()
	for k := 0; k < ways; k++ {
		s, c := trig.Turn(2 * math.Pi * float64(k) / ways)
		d := u.Scale(c).Add(v.Scale(s))
		frame := r3.Pose{U: across, V: d.Cross(across), W: d, O: p}
		here := solid.NewBody([]solid.Convex{solid.Prism(frame, solid.Circle(r2.Vec{}, thick/2-tol.Touch, sides), nil, 0, far, 1, 1)})
		there := here
		if moving != nil {
			there = here.Transform(back)
		}
		free := true
		for i, q := range r.m.Pieces {
			rod := here
			if moving[i] {
				rod = there
			}
			if q.Body.Bounds().Meets(rod.Bounds()) && solid.Distance(rod, q.Body, tol.Touch).D <= 0 {
				free = false
				break
			}
		}
		if free {
			return true
		}
	}
	return false
}

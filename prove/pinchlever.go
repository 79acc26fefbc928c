package prove

import (
	"fmt"
	"sort"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// child.pinch for what is too light to hurt by its weight: a hand that pushes far from the pin
// squeezes near it, as a nutcracker does. The floor has to hold against the push, or the toy
// gives way: so only what closes as it is pushed down counts. Every lid has a great
// lever right beside its hinge, which is why the clause for hinge lines lets light ones be;
// what counts is the place farthest from the pin where a finger goes in.

const (
	// leverMost is from how many times the push on a light part is minded (common practice,
	// no source).
	leverMost = 4.0
	// pushLeast is the least share of a push that goes down for the floor to hold against it:
	// the cosine of 60 degrees.
	pushLeast = 0.5
)

// lever is a hand at one distance from a pin and a finger at another, mm.
type lever struct{ arm, finger float64 }

// ratio is how many times the push of the hand comes to the finger.
func (l lever) ratio() float64 {
	if l.finger <= 0 {
		return 0
	}
	return l.arm / l.finger
}

func (r *run) leverSays(l lever) string {
	return fmt.Sprintf("a hand that pushes %s from the pin squeezes %s from it %.1f times as hard", r.len(rounded(l.arm)), r.len(rounded(l.finger)), l.ratio())
}

// fromPin is the distance of a place from the axis of a hinge.
func fromPin(h *assembly.Hinge, p r3.Vec) float64 {
	d := p.Sub(h.Centre)
	return d.Sub(h.Dir.Scale(d.Dot(h.Dir))).Len()
}

// leverOf is the longest lever with which a hand closes a gap by pushing down; no arm if none
// does. The lighter side turns by j.at in its sense.
func (r *run) leverOf(h *assembly.Hinge, lighter []int, j jaw, sense float64) lever {
	turn := r3.Turn(h.Centre, h.Dir, float64(j.at*sense))
	l := lever{finger: fromPin(h, j.p)}
	for _, i := range lighter {
		p := r.m.Pieces[i]
		for _, v := range p.Body.Vertices() {
			v = turn.Point(v)
			arm := fromPin(h, v)
			if arm <= l.arm {
				continue
			}
			push := h.Dir.Cross(v.Sub(h.Centre)).Scale(float64(j.way*sense) / arm)
			if -push.Z >= pushLeast {
				l.arm = arm
			}
		}
	}
	return l
}

// nutcracker minds the lever of a light part: of each way that it closes, the gap farthest from the
// pin that a finger comes into. It returns the strongest.
func (r *run) nutcracker(h *assembly.Hinge, w *jawWatch, lighter []int, side string, sense float64) (most lever) {
	takes, _ := gapLimits()
	sort.SliceStable(w.found, func(a, b int) bool {
		return page(fromPin(h, w.found[a].p)) > page(fromPin(h, w.found[b].p))
	})
	for _, way := range []float64{1, -1} {
		tries := 0
		for _, j := range w.found {
			if j.way != way || tries == jawTries {
				continue
			}
			l := r.leverOf(h, lighter, j, sense)
			if l.arm == 0 {
				continue
			}
			tries++
			if !r.reachable(j.p, j.across, takes, w.in, r3.Turn(h.Centre, h.Dir, j.at)) {
				continue
			}
			if l.ratio() > most.ratio() {
				most = l
			}
			if l.ratio() >= leverMost {
				r.add(Finding{Check: "child.pinch", About: h.Name, Verdict: Mind, Value: l.ratio(), Limit: leverMost, LimitOp: "<=", Source: practice, known: true, Margin: leverMost - l.ratio() - tol.Touch,
					Says:   fmt.Sprintf("%s: a finger goes between %s and %s, and %s; make the lever shorter, or stop it where %s are left", h.Name, r.m.Pieces[j.piece].ID, r.m.Pieces[j.against].ID, r.leverSays(l), inMM(gapClears())),
					Notes:  []string{screening},
					Places: []Place{r.place(j.piece, "", j.on, source0), r.place(j.against, "", j.onto, source0)}})
				return most
			}
			break
		}
	}
	return most
}

func gapClears() float64 {
	_, clears := gapLimits()
	return clears
}

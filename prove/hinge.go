package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// move.hinge: everything that hangs on the turning side is swung about the pin,
// each way, until some piece of it has gone tol.Touch into a piece that stays.
// The pin in its own holes is left out: true radii decide that (fit.dowel).

// halfTurn is as far as a swing is followed: beyond it the other way is shorter.
const halfTurn = math.Pi

// freeLeast is the swing below which a hinge counts as stuck when the toy has no
// must for it: one degree, which is no more than the play of a running fit.
const freeLeast = 1.0

// swing is how far one way is free.
type swing struct {
	angle float64 // radians
	hit   bool
	a, b  int // the piece that moves and the piece it meets
	at    r3.Vec
}

func hinge(r *run) {
	for i := range r.m.Hinges {
		r.hinge(&r.m.Hinges[i])
	}
	if len(r.m.Hinges) == 0 {
		r.add(Finding{Check: "move.hinge", About: "toy", Verdict: Holds, Unit: "degree", Source: "common practice, no source", Says: "there are no hinges"})
	}
}

func (r *run) hinge(h *assembly.Hinge) {
	must := r.mustOf(h.Name)
	f := Finding{Check: "move.hinge", About: h.Name, Unit: "degree", Limit: freeLeast, Source: practice,
		Places: []Place{r.place(h.Pin, "", h.Centre, h.Spec.At)}}
	if must != nil {
		f.Limit, f.Source = must.Angle.Degrees(), "the toy file: must"
	}
	moving, ok := r.m.Moving(*h)
	if !ok {
		f.Verdict, f.Margin = CannotTell, -f.Limit
		f.Says = h.Name + " cannot be turned alone: its two sides are joined some other way too"
		r.untold = r.untold || must != nil
		r.add(f)
		return
	}
	fixed := r.others(moving)
	ways := [2]swing{r.swing(h, moving, fixed, h.Dir), r.swing(h, moving, fixed, h.Dir.Neg())}
	names := turnNames(h.Dir)
	least, most := ways[0], ways[1]
	if most.angle < least.angle {
		least, most = most, least
	}
	counts := most // without a must, or with one for either way, one free way will do
	if must != nil && must.EachWay {
		counts = least
	}
	f.Value = degrees(counts.angle)
	f.Margin = f.Value - f.Limit + degrees(tol.Angle)/2
	if f.Margin >= 0 {
		f.Verdict = Holds
	} else {
		f.Verdict = Fails
	}
	f.Says = fmt.Sprintf("%s swings %s %s and %s %s", h.Name, r.deg(ways[0].angle), names[0], r.deg(ways[1].angle), names[1])
	if f.Verdict == Fails {
		f.Says += fmt.Sprintf("; %s is wanted", r.deg(f.Limit*math.Pi/180))
		if must != nil && must.EachWay {
			f.Says += " each way"
		}
	}
	for k, s := range ways {
		if !s.hit {
			f.Notes = append(f.Notes, names[k]+": nothing is touched within half a turn")
			continue
		}
		f.Notes = append(f.Notes, fmt.Sprintf("%s: at %s %s touches %s", names[k], r.deg(s.angle), r.m.Pieces[s.a].ID, r.m.Pieces[s.b].ID))
		f.Places = append(f.Places, r.place(s.a, "", s.at, source0), r.place(s.b, "", s.at, source0))
	}
	r.add(f)
}

func (r *run) mustOf(hinge string) *toy.Must {
	for i := range r.m.Toy.Musts {
		if m := &r.m.Toy.Musts[i]; m.Kind == toy.MustSwing && m.Hinge == hinge {
			return m
		}
	}
	return nil
}

// swing turns the moving pieces right-handed about dir.
func (r *run) swing(h *assembly.Hinge, moving, fixed []int, dir r3.Vec) swing {
	best := swing{angle: halfTurn, a: -1, b: -1}
	axis := solid.Axis{At: h.Centre, Dir: dir}
	for _, i := range moving {
		for _, j := range fixed {
			if r.fitted(i, j) {
				continue
			}
			c := solid.FirstContact(r.m.Pieces[j].Body, r.m.Pieces[i].Body, axis, best.angle, tol.Touch)
			if c.Hit && c.Travel < best.angle {
				best = swing{angle: c.Travel, hit: true, a: i, b: j, at: c.At}
			}
		}
	}
	return best
}

// turnNames says the two ways of turning about an axis as one sees them.
func turnNames(dir r3.Vec) [2]string {
	switch {
	case dir.Z > 0.7:
		return [2]string{"to the left", "to the right"}
	case dir.Y > 0.7: // right-handed about left: the front goes down
		return [2]string{"forward", "back"}
	case dir.X > 0.7: // right-handed about forward: the top goes right
		return [2]string{"over to the right", "over to the left"}
	}
	return [2]string{"one way", "the other way"}
}

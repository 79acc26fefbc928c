package prove

import (
	"fmt"
	"math"
	"sync"

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
	about r3.Vec // the direction that it turns about, right-handed
}

var hingeCheck = Check{
	ID: "move.hinge", Asks: "how far does each hinge swing, and what touches first?", run: hinge, heavy: true,
	How: "Everything that hangs on the turning side is swung about the pin, each way, until some piece of it has gone tol.Touch into a piece that stays. A separating plane is kept for every pair, and the swing goes at once to the angle at which the first corner passes it, in closed form: no angle is skipped.",
	Limits: []Limit{
		{"without a must, a hinge is stuck below", inDegrees(freeLeast), "common practice, no source (1 degree)"},
	},
}

func hinge(r *run) {
	for i := range r.m.Hinges {
		r.hinge(i)
	}
	if len(r.m.Hinges) == 0 {
		r.add(Finding{Check: "move.hinge", About: "toy", Verdict: Holds, Unit: "degree", Source: "common practice, no source", Says: "there are no hinges"})
	}
}

func (r *run) hinge(i int) {
	h := &r.m.Hinges[i]
	must := r.mustOf(h.Name)
	f := Finding{Check: "move.hinge", About: h.Name, Unit: "degree", Limit: freeLeast, Source: practice,
		Places: []Place{r.place(h.Pin, "", h.Centre, h.Spec.At)}}
	if must != nil {
		f.Limit, f.Source = must.Angle.Degrees(), "the toy file: must"
	}
	moving, ok := r.m.Moving(*h)
	if !ok {
		f.Verdict, f.Value, f.Margin, f.known = CannotTell, math.NaN(), -f.Limit, true
		f.Says = h.Name + " cannot be turned alone: its two sides are joined some other way too"
		r.untold = r.untold || must != nil
		r.add(f)
		return
	}
	fixed := r.linked(h.Pin, r.others(moving))
	ways := r.swings(i)
	who, names := r.turnNames(h, moving, fixed)
	if names[0] == "down" || names[0] == "to the right" || names[0] == "back" { // say up, left and forward first
		ways[0], ways[1], names[0], names[1] = ways[1], ways[0], names[1], names[0]
	}
	least, most := ways[0], ways[1]
	if most.angle < least.angle {
		least, most = most, least
	}
	counts := most // without a must, or with one for either way, one free way will do
	if must != nil && must.EachWay {
		counts = least
	}
	f.Value = degrees(counts.angle)
	f.Margin, f.known = f.Value-f.Limit+degrees(tol.Angle)/2, true
	if f.Margin >= 0 {
		f.Verdict = Holds
	} else {
		f.Verdict = Fails
	}
	if r.w.built {
		r.builtSwing(&f, h, moving, fixed, must != nil && must.EachWay)
		r.add(f)
		return
	}
	if who != h.Name {
		who = h.Name + ": " + who
	}
	f.Says = fmt.Sprintf("%s swings %s %s and %s %s", who, r.deg(ways[0].angle), names[0], r.deg(ways[1].angle), names[1])
	if must != nil || f.Verdict == Fails {
		f.Says += fmt.Sprintf("; %s is wanted", r.deg(f.Limit*math.Pi/180))
		if must != nil && must.EachWay {
			f.Says += " each way"
		}
	}
	if f.Verdict == Fails {
		f.Says += r.giveWay(h, ways, counts, must != nil && must.EachWay, f.Limit*math.Pi/180)
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

// swungOnce keeps how far every hinge swings: move.hinge and move.turn both ask.
type swungOnce struct {
	do sync.Once
	is [][2]swing
}

// swings returns how far the moving side of a hinge swings right-handed about its
// direction, and the other way; none for a hinge that cannot be turned alone.
func (r *run) swings(hinge int) [2]swing {
	r.w.swung.do.Do(func() {
		for i := range r.m.Hinges {
			h := &r.m.Hinges[i]
			var ways [2]swing
			if moving, ok := r.m.Moving(*h); ok {
				// what is only put down slides off, or is pushed aside: it stops nothing
				fixed := r.linked(h.Pin, r.others(moving))
				turn := solid.NewTurning(solid.Axis{At: h.Centre, Dir: h.Dir})
				ways = [2]swing{r.swing(turn, moving, fixed, h.Dir), r.swing(turn.Back(), moving, fixed, h.Dir.Neg())}
			}
			r.w.swung.is = append(r.w.swung.is, ways)
		}
	})
	return r.w.swung.is[hinge]
}

// swing turns the moving pieces, which is right-handed about dir.
func (r *run) swing(turn *solid.Turning, moving, fixed []int, dir r3.Vec) swing {
	best := swing{angle: halfTurn, a: -1, b: -1}
	for _, i := range moving {
		for _, j := range fixed {
			if r.fitted(i, j) {
				continue
			}
			c := turn.FirstContact(r.against(j, i), r.against(i, j), best.angle, r.deep(i, j))
			if c.Hit && c.Travel < best.angle {
				best = swing{angle: c.Travel, hit: true, a: i, b: j, at: c.At(), about: dir}
			}
		}
	}
	return best
}

// giveWay says what is in the way of a swing that is too short, and how much of it has to go
// or move: as deep as the two would be in each other anywhere up to the swing that is wanted.
func (r *run) giveWay(h *assembly.Hinge, ways [2]swing, counts swing, each bool, want float64) string {
	says := ""
	for _, s := range ways {
		if !s.hit || s.angle >= want || !each && s != counts {
			continue
		}
		deep := 0.0
		for k := 1; k <= giveSteps; k++ {
			to := s.angle + float64((want-s.angle)*float64(k)/giveSteps)
			moved := r.m.Pieces[s.a].Body.Transform(r3.Turn(h.Centre, s.about, to))
			deep = math.Max(deep, solid.Overlap(r.m.Pieces[s.b].Body, moved).Depth)
		}
		if deep <= tol.Touch {
			continue
		}
		if says += ", "; says == ", " {
			says = "; it wants "
		}
		says += fmt.Sprintf("%s more room between %s and %s", r.len(mend(deep)), r.m.Pieces[s.a].ID, r.m.Pieces[s.b].ID)
		if ways[0].a == ways[1].a && ways[0].b == ways[1].b {
			break // the same on both sides
		}
	}
	return says
}

// giveSteps is how many angles are tried for how deep two pieces would be in each other.
const giveSteps = 12

// muchLighter is how much lighter the side with the fixed pin has to be before it is
// spoken of as the one that moves, and not the side that turns on the pin.
const muchLighter = 0.7

// turnNames says which side of a hinge one would call the moving one, the lighter,
// and where its middle goes as the wood on the pin turns right-handed about the
// hinge, and left-handed.
func (r *run) turnNames(h *assembly.Hinge, moving, fixed []int) (who string, ways [2]string) {
	side, at, axis := moving, h.Runs[0], h.Dir
	m, c := r.massOf(moving)
	if n, d := r.massOf(fixed); n < muchLighter*m {
		side, at, axis, c = fixed, h.Fixed[0], axis.Neg(), d
	}
	who = r.thing([]int{at.Piece})
	if len(side) == 0 {
		return who, [2]string{"one way", "the other way"}
	}
	v := axis.Cross(c.Sub(h.Centre))
	words := [3][2]string{{"back", "forward"}, {"to the right", "to the left"}, {"down", "up"}}
	lead := 2 // of equals, up and down say most
	for _, a := range []int{1, 0} {
		if math.Abs(v.At(a)) > math.Abs(v.At(lead))+tol.Touch {
			lead = a
		}
	}
	ways = [2]string{words[lead][0], words[lead][1]}
	if v.At(lead) > 0 {
		ways[0], ways[1] = ways[1], ways[0]
	}
	return who, ways
}

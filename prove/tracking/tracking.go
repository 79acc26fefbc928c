// Package tracking tells how rolling cars follow each other round a turn: the
// steady turn, in which every axle line runs through one centre, and the way into
// it, in which each car swings in behind its pin. It knows neither wood nor files.
//
// A Train is cars by their mean axles and pins. Steady and Tightest answer for a
// whole circle, Follow for any way that the leading car is taken. Lengths are in
// one unit throughout, angles in radians.
package tracking

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/trig"
)

// Car is one rigid thing on axles that all run the same way, in a frame of its
// own: the origin in the middle of its mean axle, x the way it heads, y left. A car
// on several axles rolls as if on one in their middle, the mean axle, and drags the
// others sideways.
type Car struct {
	Leader int    // the car it hangs on, which stands before it in the train; -1 for the first
	Hitch  r2.Vec // its pin
	On     r2.Vec // the same pin in the frame of its leader
	Right  float64
	Left   float64  // how far its leader can swing to the right and left of it
	Spread float64  // how far the farthest axle is from the mean axle
	Plan   []r2.Vec // its outline from above, convex
}

// Train is cars, each behind its leader. The first one leads.
type Train []Car

// Free is a swing that nothing stops.
const Free = math.Pi

// Steady is a turn that goes on for ever. Centre is left of the cars.
type Steady struct {
	R     []float64 // from the centre of the turn to the middle of each mean axle
	Swing []float64 // how far its leader has swung to the left of each car; 0 for the first
	Folds int       // the first car that has no steady turn and folds in without limit; -1 if none
}

// Steady lets the middle of the leading car's mean axle run round on a circle of
// radius r to the left. From car to car the radius of the pin is common to both:
// for pins in the middle, r² + a² = r'² + L², with a from the leader's mean axle back
// to the pin and L from the pin back to the mean axle. Source: the sum of squares of
// SAE J695.
func (t Train) Steady(r float64) Steady {
	s := Steady{R: make([]float64, len(t)), Swing: make([]float64, len(t)), Folds: -1}
	for k, c := range t {
		if c.Leader < 0 {
			s.R[k] = r
			continue
		}
		lead := s.R[c.Leader]
		pin := trig.Hypot(c.On.X, lead-c.On.Y)
		rest := float64(pin*pin) - float64(c.Hitch.X*c.Hitch.X)
		if rest < 0 {
			s.Folds = k
			return s
		}
		s.R[k] = c.Hitch.Y + math.Sqrt(rest)
		s.Swing[k] = trig.Atan2(c.Hitch.X, s.R[k]-c.Hitch.Y) - trig.Atan2(c.On.X, lead-c.On.Y)
	}
	return s
}

// Stop is what keeps a train from turning more tightly: a pin at its end, a car
// that would fold in, or nothing but that the leading car turns on the spot.
type Stop struct {
	Car   int  // -1: the leading car turns on the spot
	Folds bool // the car has no steady turn; else its pin is at the end of its swing
}

// stopped tells what is wrong with a turn.
func (t Train) stopped(s Steady) (Stop, bool) {
	n := len(t)
	if s.Folds >= 0 {
		n = s.Folds
	}
	for k := 1; k < n; k++ {
		if s.Swing[k] > t[k].Left || s.Swing[k] < -t[k].Right {
			return Stop{Car: k}, true
		}
	}
	return Stop{Car: s.Folds, Folds: true}, s.Folds >= 0
}

// Tightest returns the smallest radius to the left of the leading car's mean axle
// that every pin allows and every car follows, and what stops it there. Each swing
// grows, or each falls, steadily as the circle gets smaller, so halving finds it. ok
// is false if the train cannot even run in the widest turn that is tried.
func (t Train) Tightest() (r float64, by Stop, ok bool) {
	return t.least(func(s Steady) (Stop, bool) { return t.stopped(s) })
}

// Foldless is Tightest with the ends of the swings left out.
func (t Train) Foldless() (r float64, by Stop, ok bool) {
	return t.least(func(s Steady) (Stop, bool) { return Stop{Car: s.Folds, Folds: true}, s.Folds >= 0 })
}

// halvings brings an interval of a kilometre below a nanometre.
const halvings = 60

func (t Train) least(stopped func(Steady) (Stop, bool)) (r float64, by Stop, ok bool) {
	// from the widest turn, a thousand times the train, inward by eighths: the first
	// turn that does not go bounds the last one that does
	hi := t.wide()
	if by, bad := stopped(t.Steady(hi)); bad {
		return hi, by, false
	}
	small := float64(hi * 1e-12)
	lo := hi
	for {
		lo = float64(lo * 0.875)
		if lo < small {
			lo = 0
		}
		var bad bool
		if by, bad = stopped(t.Steady(lo)); bad {
			break
		}
		hi = lo
		if lo == 0 {
			return 0, Stop{Car: -1}, true
		}
	}
	for i := 0; i < halvings; i++ {
		mid := (lo + hi) / 2
		if b, bad := stopped(t.Steady(mid)); bad {
			lo, by = mid, b
		} else {
			hi = mid
		}
	}
	return hi, by, true
}

// wide is a thousand times the size of the train.
func (t Train) wide() float64 {
	size := 1.0
	for _, c := range t {
		size += c.Hitch.Len() + c.On.Len()
		for _, p := range c.Plan {
			size = math.Max(size, p.Len())
		}
	}
	return float64(1000 * size)
}

// Sweep is the ring that a train takes up in a steady turn.
type Sweep struct {
	Inner, Outer     float64 // radii
	InnerAt, OuterAt int     // the cars that make them
}

// Sweep returns the ring between the nearest and the farthest point of all cars.
func (t Train) Sweep(s Steady) Sweep {
	out := Sweep{Inner: math.Inf(1), InnerAt: -1, OuterAt: -1}
	for k, c := range t {
		if s.Folds >= 0 && k >= s.Folds {
			break
		}
		near, far := reach(c.Plan, r2.Vec{Y: s.R[k]})
		if near < out.Inner {
			out.Inner, out.InnerAt = near, k
		}
		if far > out.Outer {
			out.Outer, out.OuterAt = far, k
		}
	}
	return out
}

// reach returns the distances of the nearest and the farthest point of a convex
// plan from a point; 0 if that lies on it.
func reach(plan []r2.Vec, from r2.Vec) (near, far float64) {
	near = math.Inf(1)
	inside := len(plan) > 2
	for i, a := range plan {
		b := plan[(i+1)%len(plan)]
		e, d := b.Sub(a), from.Sub(a)
		if e.Cross(d) < 0 {
			inside = false
		}
		along := 0.0
		if n := e.Dot(e); n > 0 {
			along = math.Max(0, math.Min(1, d.Dot(e)/n))
		}
		near = math.Min(near, d.Sub(e.Scale(along)).Len())
		far = math.Max(far, d.Len())
	}
	if inside {
		near = 0
	}
	return near, far
}

// Within returns the radius of the leading car's mean axle at which the whole train
// runs on a circle of the given outer radius; it goes no tighter than least. ok is
// false if even there it sweeps further out.
func (t Train) Within(outer, least float64) (r float64, ok bool) {
	over := func(r float64) bool { return t.Sweep(t.Steady(r)).Outer > outer }
	if over(least) {
		return least, false
	}
	lo, hi := least, math.Max(outer, least)
	if !over(hi) {
		return hi, true
	}
	for i := 0; i < halvings; i++ {
		if mid := (lo + hi) / 2; over(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo, true
}

// Mirrored is the train with left and right changed over: its left turns are the
// right turns of t.
func (t Train) Mirrored() Train {
	flip := func(p r2.Vec) r2.Vec { return r2.Vec{X: p.X, Y: -p.Y} }
	out := make(Train, len(t))
	for k, c := range t {
		c.Hitch, c.On = flip(c.Hitch), flip(c.On)
		c.Left, c.Right = c.Right, c.Left
		plan := make([]r2.Vec, len(c.Plan))
		for i, p := range c.Plan {
			plan[len(plan)-1-i] = flip(p)
		}
		c.Plan = plan
		out[k] = c
	}
	return out
}

// Scrub returns the angle, in a turn of radius r of its mean axle, at which the
// wheels of a car's farthest axle are dragged sideways.
func (c Car) Scrub(r float64) float64 { return trig.Atan2(c.Spread, math.Abs(r)) }

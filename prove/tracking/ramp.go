package tracking

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/trig"
)

// Seen from the side, on a level floor: x forward, y up from it.

// Wheel is a wheel from the side, standing on the floor or above it.
type Wheel struct {
	At r2.Vec
	R  float64
}

// Ramp returns the angle of the steepest slope that touches the underside of a wheel and
// stays below a point ahead of it: the angle of approach to that point. Pi/2 where no
// slope reaches the point before the wheel. The slope at angle a lies at the distance R
// below the middle of the wheel: y cos a - x sin a = -R, for a point x ahead of the
// middle and y above it.
func (w Wheel) Ramp(p r2.Vec) float64 {
	d := p.Sub(w.At)
	away := d.Len()
	if d.X <= 0 || away <= w.R {
		return math.Pi / 2
	}
	return math.Min(math.Pi/2, trig.Acos(-w.R/away)-trig.Atan2(d.X, d.Y))
}

// Mirrored is a point or wheel with front and back changed over.
func (w Wheel) Mirrored() Wheel { return Wheel{r2.Vec{X: -w.At.X, Y: w.At.Y}, w.R} }

// Crest returns the angle by which the floor may bend down over an edge at a point
// between two wheels: the slopes from that point below the one and the other.
func Crest(rear, front Wheel, p r2.Vec) float64 {
	back := r2.Vec{X: -p.X, Y: p.Y}
	return rear.Ramp(p) + front.Mirrored().Ramp(back)
}

// Tilt returns how far a pin of diameter d leans in a hole of diameter hole and the given
// length before it binds at both ends: hole cos a = d + length sin a; 0 if it does not go in.
func Tilt(hole, d, length float64) float64 {
	reach := (r2.Vec{X: hole, Y: length}).Len()
	if hole <= d || reach <= 0 {
		return 0
	}
	return trig.Acos(d/reach) - trig.Atan2(length, hole)
}

// Pull is how hard, as a share of the weight of the whole train, its leading car is pulled
// level until it tips.
type Pull struct {
	Rears   float64 // its wheels rolling: it rears up over its rear wheels; +Inf if it never does
	Dips    float64 // its wheels rolling: it dips over its front wheels; +Inf if it never does
	Blocked float64 // its wheels held: it goes over its front wheels
}

// Car that is pulled: the share of the weight that stands on its own wheels, the heights
// of its middle of mass and of the pin by which it tows the rest, and how far its middle
// of mass is ahead of the rearmost and behind the foremost wheel.
type Pulled struct {
	Share         float64
	Height, Tow   float64
	Behind, Ahead float64
}

// At is pulled at a height: rolling freely the train speeds up, so that the inertia of each
// part pulls back at its height: F (h - cord) > W d rears it up. Source: the equilibrium of
// moments about the wheel that stays down.
func (p Pulled) At(cord float64) Pull {
	h := float64(p.Share*p.Height) + float64((1-p.Share)*p.Tow)
	out := Pull{Rears: math.Inf(1), Dips: math.Inf(1), Blocked: p.Share * p.Ahead / cord}
	switch {
	case h > cord:
		out.Rears = p.Share * p.Behind / (h - cord)
	case h < cord:
		out.Dips = p.Share * p.Ahead / (cord - h)
	}
	return out
}

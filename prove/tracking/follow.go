package tracking

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/trig"
)

// Place is where the middle of a car's mean axle is and which way the car heads,
// radians to the left of +x.
type Place struct {
	At      r2.Vec
	Heading float64
}

// Point carries a point of the car's own frame to the floor.
func (p Place) Point(q r2.Vec) r2.Vec { return p.At.Add(turn(q, p.Heading)) }

func turn(q r2.Vec, angle float64) r2.Vec {
	s, c := trig.Sincos(angle)
	return r2.Vec{X: float64(q.X*c) - float64(q.Y*s), Y: float64(q.X*s) + float64(q.Y*c)}
}

// Bend is a stretch of a way: so long, turning to the left by so much, evenly.
type Bend struct{ Length, Angle float64 }

// Arc is a bend of a circle of radius r to the left.
func Arc(r, angle float64) Bend { return Bend{Length: float64(r * angle), Angle: angle} }

// Straight is a bend that goes straight on. Backed, with a negative length.
func Straight(length float64) Bend { return Bend{Length: length} }

// Follow takes the middle of the leading car's mean axle along a way, heading along
// it, and returns where every car is at the start and after each of the steps that
// every bend is cut into. Each follower starts with its leader swung by swing[k] to the
// left of it, nil for all in line. ok is false for a car whose pin is over its own mean
// axle: nothing turns it.
//
// No wheel slips sideways, so a car turns at the rate at which its pin crosses its
// heading, over the distance from pin to mean axle: for a single car behind a hitch the
// tractrix, d(psi)/ds = sin(heading of the path - psi)/L. Integrated by the classic
// fourth-order Runge-Kutta rule.
func (t Train) Follow(way []Bend, steps int, swing []float64) (places [][]Place, ok bool) {
	for _, c := range t {
		if c.Leader >= 0 && math.Abs(c.Hitch.X) < armLeast {
			return nil, false
		}
	}
	heading := make([]float64, len(t))
	for k, c := range t {
		if c.Leader >= 0 {
			heading[k] = heading[c.Leader]
			if swing != nil {
				heading[k] -= swing[k]
			}
		}
	}
	lead := Place{}
	places = append(places, t.places(lead, heading))
	for _, b := range way {
		h := b.Length / float64(steps)
		bend := b.Angle / float64(steps)
		for i := 0; i < steps; i++ {
			from := lead.Heading
			rate := func(share float64, at []float64) []float64 {
				return t.rates(from+float64(share*bend), h, bend, at)
			}
			k1 := rate(0, heading)
			k2 := rate(0.5, ahead(heading, k1, 0.5))
			k3 := rate(0.5, ahead(heading, k2, 0.5))
			k4 := rate(1, ahead(heading, k3, 1))
			for k := range heading {
				heading[k] += (k1[k] + float64(2*k2[k]) + float64(2*k3[k]) + k4[k]) / 6
			}
			lead = onward(lead, h, bend)
			places = append(places, t.places(lead, heading))
		}
	}
	return places, true
}

// armLeast is the distance from pin to mean axle below which a car counts as turning
// freely about its pin.
const armLeast = 1e-6

// onward goes along an even bend exactly.
func onward(p Place, length, angle float64) Place {
	chord := length
	if half := angle / 2; half != 0 {
		chord = length * trig.Sin(half) / half
	}
	s, c := trig.Sincos(p.Heading + angle/2)
	return Place{At: p.At.Add(r2.Vec{X: float64(chord * c), Y: float64(chord * s)}), Heading: p.Heading + angle}
}

func ahead(heading, rate []float64, share float64) []float64 {
	out := make([]float64, len(heading))
	for k := range out {
		out[k] = heading[k] + float64(share*rate[k])
	}
	return out
}

// rates returns how much each car turns over one step, with the headings as they
// are: length and bend are those of the leading car's step.
func (t Train) rates(lead, length, bend float64, heading []float64) []float64 {
	turns := make([]float64, len(t))
	axle := make([]r2.Vec, len(t)) // how far the middle of each mean axle goes
	for k, c := range t {
		if c.Leader < 0 {
			turns[k] = bend
			axle[k] = turn(r2.Vec{X: length}, lead)
			continue
		}
		psi := heading[c.Leader]
		if c.Leader == 0 {
			psi = lead
		}
		pin := axle[c.Leader].Add(turn(c.On, psi).Perp().Scale(turns[c.Leader]))
		turns[k] = pin.Dot(turn(r2.Vec{Y: 1}, heading[k])) / c.Hitch.X
		axle[k] = pin.Sub(turn(c.Hitch, heading[k]).Perp().Scale(turns[k]))
	}
	return turns
}

// places sets every car behind its leader.
func (t Train) places(lead Place, heading []float64) []Place {
	out := make([]Place, len(t))
	for k, c := range t {
		if c.Leader < 0 {
			out[k] = lead
			heading[k] = lead.Heading
			continue
		}
		pin := out[c.Leader].Point(c.On)
		out[k] = Place{At: pin.Sub(turn(c.Hitch, heading[k])), Heading: heading[k]}
	}
	return out
}

// Widest returns how far each car's leader swings from it at most along a way, to
// either side.
func (t Train) Widest(places [][]Place) []float64 {
	out := make([]float64, len(t))
	for _, p := range places {
		for k, c := range t {
			if c.Leader >= 0 {
				out[k] = math.Max(out[k], math.Abs(p[c.Leader].Heading-p[k].Heading))
			}
		}
	}
	return out
}

package outline

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/trig"
)

// What a saw meets on its way along an outline: inside curves and inside corners of
// the wood that stays.

// sawStep is one step of an outline with its start.
type sawStep struct {
	from r2.Vec
	Seg
}

// sawSteps lists the steps of an outline counter-clockwise, the closing one included.
func sawSteps(p Path) []sawStep {
	if p.Area() < 0 {
		p = p.Reverse()
	}
	var out []sawStep
	at := p.Start
	for _, s := range p.Segs {
		out = append(out, sawStep{at, s})
		at = s.To
	}
	if at != p.Start {
		out = append(out, sawStep{at, Line(p.Start)})
	}
	return out
}

// heading returns the direction in which a step starts and ends.
func (s sawStep) heading() (start, end r2.Vec) {
	if !s.Round() {
		d := s.To.Sub(s.from).Unit()
		return d, d
	}
	a, b := s.from.Sub(s.C).Perp().Unit(), s.To.Sub(s.C).Perp().Unit()
	if s.Sweep < 0 {
		a, b = a.Scale(-1), b.Scale(-1)
	}
	return a, b
}

const (
	// softTurn is the most that two steps of a drawn-out curve turn against each other:
	// what turns more is a corner.
	softTurn = math.Pi / 6
	// curveTurn is the least turn that is a curve for a blade: what turns less is
	// followed by backing off once.
	curveTurn = math.Pi / 4
)

// InsideCurves returns the tightest inside curve of the wood, its radius and a place on it
// (Inf if there is none), and the sharp inside corners. The wood is inside the
// outline, or outside it for what is cut out.
func (p Path) InsideCurves(outside bool) (radius float64, at r2.Vec, corners []r2.Vec) {
	radius = math.Inf(1)
	sign := -1.0 // an inside curve of the wood turns right along a counter-clockwise outline
	if outside {
		sign = 1
	}
	ss := sawSteps(p)
	n := len(ss)
	turn := make([]float64, n) // at the start of each step, positive towards inside curves
	for i, s := range ss {
		_, a := ss[(i+n-1)%n].heading()
		b, _ := s.heading()
		turn[i] = float64(sign * trig.Atan2(a.Cross(b), a.Dot(b)))
		if s.Round() && sign*s.Sweep >= curveTurn && s.R < radius {
			radius, at = s.R, s.C.Add(s.from.Sub(s.C))
		}
		if turn[i] > softTurn {
			corners = append(corners, s.from)
		}
	}
	// drawn-out curves: from each joint on, as far as straight steps turn gently inward
	for i := range ss {
		if turn[i] <= 0 || turn[i] > softTurn {
			continue
		}
		length, sum := 0.0, turn[i]/2
		for k := 1; k < n; k++ {
			prev, j := ss[(i+k-1)%n], (i+k)%n
			if prev.Round() || turn[j] <= 0 || turn[j] > softTurn {
				break
			}
			length += prev.To.Sub(prev.from).Len()
			if t := sum + turn[j]/2; t >= curveTurn {
				if r := length / t; r < radius {
					radius, at = r, ss[i].from
				}
				break
			}
			sum += turn[j]
		}
	}
	return radius, at, corners
}

// Narrowest returns the least width of the strip that an outline fits into.
func (p Path) Narrowest() float64 {
	hull := Hull(p.Polygon())
	best := math.Inf(1)
	for i, a := range hull {
		d := hull[(i+1)%len(hull)].Sub(a).Unit()
		far := 0.0
		for _, q := range hull {
			far = math.Max(far, math.Abs(d.Cross(q.Sub(a))))
		}
		best = math.Min(best, far)
	}
	return best
}

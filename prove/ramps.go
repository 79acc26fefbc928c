package prove

import (
	"fmt"
	"math"
	"sort"

	"dryfit/assembly"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/prove/tracking"
)

// Ramps, crests and dips: seen from the side, the steepest ramp that the front of the
// leading car and the back of the last clear, the sharpest crest that a belly clears
// between two axles, and how far a coupling on an upright pin lets two cars tilt past each
// other, which is only its slack. Told with move.ground; clears-floor is the must for it.

// slopes are what one car clears, radians; Pi/2 or more where nothing is in the way.
type slopes struct {
	car                 int  // its first piece
	leads, ends         bool // it goes first; nothing hangs on it behind
	front, back, crest  float64
	frontAt, backAt, at int // the pieces that would touch first
}

// bellyStations is into how many stretches the belly between two axles is cut.
const bellyStations = 64

// slopes looks at every car on its own.
func (r *run) slopes(s support) []slopes {
	bodies, links := r.bodies()
	ties := make([]int, len(bodies))
	for _, l := range links {
		if l.of[0] != l.of[1] {
			ties[l.of[0]]++
			ties[l.of[1]]++
		}
	}
	leading := r.leading(bodies)
	along := r3.X.Sub(s.n.Scale(s.n.X)).Unit()
	lay := func(v r3.Vec) r2.Vec { return r2.Vec{X: v.Dot(along), Y: s.height(v)} }
	var out []slopes
	for n, b := range bodies {
		if len(b.axles) == 0 {
			continue
		}
		var wheels []tracking.Wheel
		turns := map[int]bool{}
		for _, i := range b.axles {
			a := r.m.Axles[i]
			turns[a.Rod] = true
			var w tracking.Wheel
			for end := range a.Wheels {
				for _, k := range a.Wheels[end] {
					turns[k] = true
					if c, _, radius := r.m.Pieces[k].Axis(); radius > w.R {
						// the body sinks onto its axles: seen from it, the wheels rise
						w = tracking.Wheel{At: lay(c.Add(r3.Z.Scale(r.float(a)))), R: radius}
					}
				}
			}
			wheels = append(wheels, w)
		}
		sort.SliceStable(wheels, func(i, j int) bool { return wheels[i].At.X < wheels[j].At.X })
		x := slopes{car: b.pieces[0], leads: n == leading, ends: ties[n] == 0 || ties[n] == 1 && n != leading, front: math.Pi / 2, back: math.Pi / 2, crest: math.Pi, frontAt: -1, backAt: -1, at: -1}
		first, last := wheels[0], wheels[len(wheels)-1]
		for _, i := range b.pieces {
			if turns[i] {
				continue
			}
			for _, v := range r.m.Pieces[i].Body.Vertices() {
				p := lay(v)
				if a := last.Ramp(p); a < x.front {
					x.front, x.frontAt = a, i
				}
				if a := first.Mirrored().Ramp(r2.Vec{X: -p.X, Y: p.Y}); a < x.back {
					x.back, x.backAt = a, i
				}
			}
			for _, c := range r.m.Pieces[i].Body.Pieces {
				pts := make([]r2.Vec, len(c.V))
				for k, v := range c.V {
					pts[k] = lay(v)
				}
				hull := outline.Hull(pts)
				for k := 1; k < len(wheels); k++ {
					if a := crestOver(wheels[k-1], wheels[k], hull); a < x.crest {
						x.crest, x.at = a, i
					}
				}
			}
		}
		out = append(out, x)
	}
	return out
}

// crestOver is the sharpest crest that a convex profile clears between two wheels: its
// corners, and stations along its underside, whose slopes change slowly.
func crestOver(rear, front tracking.Wheel, hull []r2.Vec) float64 {
	best := math.Pi
	try := func(p r2.Vec) {
		if p.X > rear.At.X && p.X < front.At.X {
			best = math.Min(best, tracking.Crest(rear, front, p))
		}
	}
	for i, a := range hull {
		b := hull[(i+1)%len(hull)]
		try(a)
		if b.X <= a.X { // of a hull that runs counter-clockwise, the underside runs forward
			continue
		}
		step := (front.At.X - rear.At.X) / bellyStations
		for k := 1; k < bellyStations; k++ {
			x := rear.At.X + float64(float64(k)*step)
			if x > a.X && x < b.X {
				try(a.Add(b.Sub(a).Scale((x - a.X) / (b.X - a.X))))
			}
		}
	}
	return best
}

// rampWords is what move.ground tells of ramps: of the toy in a few words, and of each car.
func (r *run) rampWords(s support) (says string, notes []string) {
	front, crest := math.Pi/2, math.Pi
	for _, c := range r.slopes(s) {
		n := ""
		if c.leads {
			front = c.front
			n += ", a ramp or dip of " + r.slope(c.front, c.frontAt) + " ahead"
		}
		if c.ends {
			n += ", one of " + r.slope(c.back, c.backAt) + " behind"
		}
		if crest = math.Min(crest, c.crest); c.at >= 0 {
			n += ", a crest of " + r.slope(c.crest, c.at) + " below it"
		}
		if n != "" {
			notes = append(notes, "the car of "+r.m.Pieces[c.car].ID+" clears"+n[1:])
		}
	}
	for _, h := range r.m.Hinges {
		if upright(h) {
			if a, ok := r.leansAt(h); ok {
				notes = append(notes, fmt.Sprintf("%s is an upright pin: at a crest or in a dip its cars tilt past each other by its slack only, %s; beyond that wheels leave the floor", h.Name, r.deg(a)))
			}
		}
	}
	if front < math.Pi/2 {
		says += "; it takes a ramp of " + r.deg(front)
	}
	if crest < math.Pi {
		if says == "" {
			says = "; it takes"
		} else {
			says += " and"
		}
		says += " a crest of " + r.deg(crest)
	}
	return says, notes
}

// slope says an angle and what sets it.
func (r *run) slope(a float64, piece int) string {
	if piece < 0 {
		return "any steepness"
	}
	return r.deg(a) + " (" + r.m.Pieces[piece].ID + ")"
}

// leansAt is how far a pin leans in the holes that turn on it.
func (r *run) leansAt(h assembly.Hinge) (float64, bool) {
	c, dir, radius := r.m.Pieces[h.Pin].Axis()
	lo, hi, dia := math.Inf(1), math.Inf(-1), math.Inf(1)
	for _, k := range h.Runs {
		l, u, ok := r.m.Wood(k, c, dir)
		if !ok {
			return 0, false
		}
		half := r.m.Pieces[h.Pin].Made.Size.X / 2
		lo, hi = math.Min(lo, math.Max(l, -half)), math.Max(hi, math.Min(u, half))
		dia = math.Min(dia, 2*r.m.Pieces[k.Piece].Bore(k.Bore).R)
	}
	if hi <= lo {
		return 0, false
	}
	return tracking.Tilt(dia, 2*radius, hi-lo), true
}

package outline

import (
	"fmt"
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// Corner is a point of an outline as it is drawn up.
type Corner struct {
	P      r2.Vec
	Radius float64 // 0 leaves the corner sharp
	Via    *r2.Vec // the side that arrives at P is an arc through this point; nil: straight
}

// CornerError says which corner cannot be made and why. Need and Have are the
// lengths that clash, in millimetres, for a radius that does not fit.
type CornerError struct {
	At         int // index of the corner
	Need, Have float64
	Says       string
}

func (e *CornerError) Error() string { return fmt.Sprintf("corner %d: %s", e.At, e.Says) }

// Corners returns the closed path through the points, in that order. A corner
// with a radius becomes the arc that touches both its sides; on a side it takes
// the setback r/tan(A/2), A being the angle between the sides (r 10 at a right
// angle: 10). Where two setbacks do not fit on one side, the error names the
// corner with the larger one. A corner in the middle of a straight line has
// nothing to round and stays as it is.
func Corners(pts []Corner) (Path, error) {
	if len(pts) < 2 || len(pts) == 2 && pts[0].Via == nil && pts[1].Via == nil {
		return Path{}, &CornerError{At: max(0, len(pts)-1), Says: "an outline needs at least three corners"}
	}
	return corners(pts, true)
}

// Polyline is Corners for an open line, such as half of a mirrored outline: its
// first and last corner cannot have a radius, its first no Via. The result is a
// Path that is not to be closed; give it to Mirror.
func Polyline(pts []Corner) (Path, error) {
	if len(pts) < 2 {
		return Path{}, &CornerError{Says: "a line needs at least two points"}
	}
	if pts[0].Via != nil {
		return Path{}, &CornerError{Says: "nothing arrives at the first point of an open line"}
	}
	for _, i := range [2]int{0, len(pts) - 1} {
		if pts[i].Radius != 0 {
			return Path{}, &CornerError{At: i, Says: "the end of an open line has no corner to round"}
		}
	}
	return corners(pts, false)
}

// fillet is a rounded corner: from a to b about c.
type fillet struct {
	a, b, c r2.Vec
	back    float64 // setback
	sweep   float64
}

func corners(pts []Corner, closed bool) (Path, error) {
	n := len(pts)
	cut := make([]fillet, n)
	for i, p := range pts {
		before, after := pts[(i+n-1)%n], pts[(i+1)%n]
		if !finite(p.P) || math.IsNaN(p.Radius) || math.IsInf(p.Radius, 0) || p.Radius < 0 {
			return Path{}, &CornerError{At: i, Says: "a place or a radius is not a usable number"}
		}
		if (closed || i > 0) && p.Via == nil && p.P.Sub(before.P).Len() <= tol.Clip {
			return Path{}, &CornerError{At: i, Says: "lies on the corner before"}
		}
		cut[i] = fillet{a: p.P, b: p.P}
		if p.Radius == 0 {
			continue
		}
		if p.Via != nil || after.Via != nil {
			return Path{}, &CornerError{At: i, Says: "a corner at an arc cannot have a radius"}
		}
		u, v := before.P.Sub(p.P).Unit(), after.P.Sub(p.P).Unit()
		cos, sin := u.Dot(v), -u.Cross(v) // sin > 0 where the line turns left
		if math.Abs(sin) <= tol.Clip {
			if cos > 0 {
				return Path{}, &CornerError{At: i, Says: "the line turns straight back, which has no corner to round"}
			}
			continue
		}
		f := &cut[i]
		f.sweep = trig.Atan2(sin, -cos)
		f.back = float64(p.Radius * math.Sqrt((1+cos)/(1-cos)))
		f.a, f.b = p.P.Add(u.Scale(f.back)), p.P.Add(v.Scale(f.back))
		in := u.Perp().Neg() // the way on is -u; its left is -u turned
		if sin < 0 {
			in = in.Neg()
		}
		f.c = f.a.Add(in.Scale(p.Radius))
	}
	for i := range pts {
		j := (i + 1) % n
		side, need := pts[j].P.Sub(pts[i].P).Len(), cut[i].back+cut[j].back
		if pts[j].Via != nil || !closed && j == 0 || need <= side+tol.Clip {
			continue
		}
		at, other := i, j
		if cut[j].back > cut[i].back {
			at, other = j, i
		}
		says := fmt.Sprintf("radius %.6g does not fit: it takes %.6g of a side that is %.6g long", pts[at].Radius, cut[at].back, side)
		if cut[other].back > 0 {
			says += fmt.Sprintf(", and corner %d takes %.6g", other, cut[other].back)
		}
		return Path{}, &CornerError{At: at, Need: need, Have: side, Says: says}
	}

	p := Path{Start: cut[0].b}
	at := p.Start
	for k := 1; k <= n; k++ {
		i := k % n
		if i == 0 && !closed {
			break
		}
		f := cut[i]
		if pts[i].Via != nil {
			s, err := ThreePointArc(at, *pts[i].Via, f.a)
			if err != nil {
				return Path{}, &CornerError{At: i, Says: err.Error()}
			}
			p.Segs, at = append(p.Segs, s), f.a
		} else if f.a.Sub(at).Len() > tol.Clip {
			p.Segs, at = append(p.Segs, Line(f.a)), f.a
		}
		if f.back > 0 {
			p.Segs, at = append(p.Segs, Seg{To: f.b, C: f.c, R: pts[i].Radius, Sweep: f.sweep}), f.b
		}
	}
	return p, nil
}

// Circle returns the whole circle, counter-clockwise from angle 0.
func Circle(c r2.Vec, r float64) Path {
	at := r2.Vec{X: c.X + r, Y: c.Y}
	return Path{Start: at, Segs: []Seg{{To: at, C: c, R: r, Sweep: 2 * math.Pi}}}
}

// Rect returns the rectangle between two opposite corners, counter-clockwise
// from its lower left one, all four corners rounded with radius.
func Rect(lo, hi r2.Vec, radius float64) (Path, error) {
	if lo.X > hi.X {
		lo.X, hi.X = hi.X, lo.X
	}
	if lo.Y > hi.Y {
		lo.Y, hi.Y = hi.Y, lo.Y
	}
	return Corners([]Corner{
		{P: lo, Radius: radius}, {P: r2.Vec{X: hi.X, Y: lo.Y}, Radius: radius},
		{P: hi, Radius: radius}, {P: r2.Vec{X: lo.X, Y: hi.Y}, Radius: radius},
	})
}

// ThreePointArc returns the arc that leaves from, runs through via and ends at
// to. Three points in a line give a straight step if via is between the ends,
// as does an arc that rises less than tol.Page: its centre would be so far away
// that rounding there exceeds the rise.
func ThreePointArc(from, via, to r2.Vec) (Seg, error) {
	if !finite(from) || !finite(via) || !finite(to) {
		return Seg{}, fmt.Errorf("a point of the arc is not a usable number")
	}
	b, c := via.Sub(from), to.Sub(from)
	if b.Len() <= tol.Clip || c.Len() <= tol.Clip || via.Sub(to).Len() <= tol.Clip {
		return Seg{}, fmt.Errorf("an arc needs three different points")
	}
	cross := b.Cross(c)
	if math.Abs(cross) <= float64(tol.Page*c.Len()) {
		if t := b.Dot(c); t < 0 || t > c.Dot(c) {
			return Seg{}, fmt.Errorf("the three points of the arc lie in a line, the middle one outside the ends")
		}
		return Line(to), nil
	}
	bb, cc := b.Dot(b), c.Dot(c)
	o := r2.Vec{
		X: (float64(c.Y*bb) - float64(b.Y*cc)) / (2 * cross),
		Y: (float64(b.X*cc) - float64(c.X*bb)) / (2 * cross),
	}
	// via to the right of from-to: the arc turns left.
	s := Seg{To: to, C: from.Add(o), R: o.Len()}
	v := c.Sub(o)
	s.Sweep = trig.Atan2(o.Neg().Cross(v), o.Neg().Dot(v))
	if cross > 0 && s.Sweep < 0 {
		s.Sweep += 2 * math.Pi
	} else if cross < 0 && s.Sweep > 0 {
		s.Sweep -= 2 * math.Pi
	}
	return s, nil
}

// MirrorCorners returns the corners of the outline whose one half is given:
// half, then its mirror image in the line through a and b, backwards. A first
// or last point within tol.Clip of that line is a corner of the whole, and may
// have a radius; otherwise a straight side runs across.
func MirrorCorners(half []Corner, a, b r2.Vec) ([]Corner, error) {
	if a.Sub(b).Len() <= tol.Clip {
		return nil, fmt.Errorf("the mirror line needs two different points")
	}
	if len(half) < 2 {
		return nil, &CornerError{Says: "half an outline needs at least two points"}
	}
	if half[0].Via != nil {
		return nil, &CornerError{Says: "nothing arrives at the first point of half an outline"}
	}
	all := append([]Corner(nil), half...)
	for i := len(half) - 1; i >= 0; i-- {
		m := Corner{P: mirrored(half[i].P, a, b), Radius: half[i].Radius}
		if i+1 < len(half) && half[i+1].Via != nil {
			v := mirrored(*half[i+1].Via, a, b)
			m.Via = &v
		}
		if (i == 0 || i == len(half)-1) && m.P.Sub(half[i].P).Len() <= 2*tol.Clip {
			if i == 0 {
				all[0].Via = m.Via // the arc that closes the whole
			}
			continue
		}
		all = append(all, m)
	}
	return all, nil
}

// Mirror returns the closed path made of an open line (Polyline) and its mirror
// image in the line through a and b. Ends within tol.Clip of that line join;
// others are joined by a straight step across.
func Mirror(half Path, a, b r2.Vec) (Path, error) {
	if a.Sub(b).Len() <= tol.Clip {
		return Path{}, fmt.Errorf("the mirror line needs two different points")
	}
	if len(half.Segs) == 0 {
		return Path{}, fmt.Errorf("half an outline needs at least two points")
	}
	whole := Path{Start: half.Start, Segs: append([]Seg(nil), half.Segs...)}
	end := half.Segs[len(half.Segs)-1].To
	if m := mirrored(end, a, b); m.Sub(end).Len() > 2*tol.Clip {
		whole.Segs = append(whole.Segs, Line(m))
	}
	for i := len(half.Segs) - 1; i >= 0; i-- {
		from, s := half.Start, half.Segs[i]
		if i > 0 {
			from = half.Segs[i-1].To
		}
		m := Seg{To: mirrored(from, a, b), R: s.R, Sweep: s.Sweep} // mirrored and reversed: same sense
		if s.Round() {
			m.C = mirrored(s.C, a, b)
		}
		whole.Segs = append(whole.Segs, m)
	}
	last := &whole.Segs[len(whole.Segs)-1]
	if last.To.Sub(whole.Start).Len() <= 2*tol.Clip {
		last.To = whole.Start
	} else {
		whole.Segs = append(whole.Segs, Line(whole.Start))
	}
	return whole, nil
}

// mirrored returns the mirror image of p in the line through a and b, without
// rounding the coordinate that an upright or level line leaves alone.
func mirrored(p, a, b r2.Vec) r2.Vec {
	switch {
	case a.X == b.X:
		return r2.Vec{X: 2*a.X - p.X, Y: p.Y}
	case a.Y == b.Y:
		return r2.Vec{X: p.X, Y: 2*a.Y - p.Y}
	}
	d := b.Sub(a)
	foot := a.Add(d.Scale(p.Sub(a).Dot(d) / d.Dot(d)))
	return foot.Add(foot.Sub(p))
}

func finite(p r2.Vec) bool {
	return !math.IsNaN(p.X-p.X) && !math.IsNaN(p.Y-p.Y)
}

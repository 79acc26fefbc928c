package outline

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/trig"
)

// sharpest is the cosine between the outward normals at a corner below which Grown moves the
// corner no further than along their middle: the mitre of a needle would run away.
const sharpest = -0.9

// Grown returns the line that a saw makes which runs beside this one, further out everywhere by so
// much, or further in where by is less than 0. Straight steps and true rounds that meet without a
// corner are exact; where an arc meets another step in a corner its radius gives a little. It is
// for amounts that are small beside the steps: none of them is dropped.
func (p Path) Grown(by float64) Path {
	if by == 0 {
		return p
	}
	side := 1.0
	if p.Area() < 0 {
		side = -1
	}
	type step struct {
		from    r2.Vec
		seg     Seg
		in, out r2.Vec // outward normals where it begins and where it ends
	}
	var steps []step
	p.each(func(_ int, from r2.Vec, s Seg) {
		st := step{from: from, seg: s}
		if s.Round() {
			turn := side
			if s.Sweep < 0 {
				turn = -side
			}
			st.in, st.out = from.Sub(s.C).Unit().Scale(turn), s.To.Sub(s.C).Unit().Scale(turn)
		} else {
			n := s.To.Sub(from).Unit().Perp().Neg().Scale(side)
			st.in, st.out = n, n
		}
		steps = append(steps, st)
	})
	moved := make([]r2.Vec, len(steps)) // where each step begins
	for i, s := range steps {
		before := steps[(i+len(steps)-1)%len(steps)].out
		c := before.Dot(s.in)
		moved[i] = s.from.Add(before.Add(s.in).Scale(by / (1 + math.Max(c, sharpest))))
	}
	out := Path{Start: moved[0]}
	for i, s := range steps {
		to := moved[(i+1)%len(steps)]
		seg := Line(to)
		if s.seg.Round() {
			seg = arc(moved[i], to, s.seg)
		}
		out.Segs = append(out.Segs, seg)
	}
	return out
}

// arc returns the arc that turns as far as old, between new ends.
func arc(from, to r2.Vec, old Seg) Seg {
	if old.whole() {
		r := from.Sub(old.C).Len()
		return Seg{To: to, C: old.C, R: r, Sweep: old.Sweep}
	}
	chord := to.Sub(from)
	sin, cos := trig.Sincos(old.Sweep / 2)
	r := chord.Len() / (2 * math.Abs(sin))
	// the centre is off the middle of the chord, to its left for a turn of less than half
	off := float64(chord.Len() / 2 * cos / sin)
	c := from.Add(to).Scale(0.5).Add(chord.Unit().Perp().Scale(off))
	return Seg{To: to, C: c, R: r, Sweep: old.Sweep}
}

package outline

import "dryfit/geom/r2"

// Similar is a change of place, direction and size that keeps shapes, so that
// arcs stay arcs: p, mirrored in the x axis if Flip, then turned and scaled by
// By (as a complex number: size times (cos, sin) of the angle), then shifted.
// The zero value shrinks everything to a point: start from Same.
type Similar struct {
	By    r2.Vec
	Flip  bool
	Shift r2.Vec
}

// Same changes nothing.
var Same = Similar{By: r2.Vec{X: 1}}

// Shifted, Scaled (about the origin), Turned (about the origin) and FlippedX,
// FlippedY (x or y of every point negated) make one change each.
func Shifted(by r2.Vec) Similar    { return Similar{By: r2.Vec{X: 1}, Shift: by} }
func Scaled(k float64) Similar     { return Similar{By: r2.Vec{X: k}} }
func Turned(angle float64) Similar { return Similar{By: step(r2.Vec{X: 1}, angle, 1, 1)} }
func FlippedX() Similar            { return Similar{By: r2.Vec{X: -1}, Flip: true} }
func FlippedY() Similar            { return Similar{By: r2.Vec{X: 1}, Flip: true} }

// Then returns the change that does s first and t after it.
func (s Similar) Then(t Similar) Similar {
	by := s.By
	if t.Flip {
		by.Y = -by.Y
	}
	return Similar{By: times(t.By, by), Flip: s.Flip != t.Flip, Shift: t.Apply(s.Shift)}
}

// Apply returns where p goes.
func (s Similar) Apply(p r2.Vec) r2.Vec {
	if s.Flip {
		p.Y = -p.Y
	}
	return times(s.By, p).Add(s.Shift)
}

// Transform returns the changed path. A flipped path runs the other way round.
func (p Path) Transform(t Similar) Path {
	k := t.By.Len()
	if t.By.X == 0 || t.By.Y == 0 {
		k = abs(t.By.X + t.By.Y)
	}
	q := Path{Start: t.Apply(p.Start), Segs: make([]Seg, len(p.Segs))}
	for i, s := range p.Segs {
		s.To = t.Apply(s.To)
		if s.Round() {
			s.C, s.R = t.Apply(s.C), float64(s.R*k)
			if t.Flip {
				s.Sweep = -s.Sweep
			}
		}
		q.Segs[i] = s
	}
	return q
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

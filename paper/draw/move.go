package draw

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// Transform moves a drawing without bending it: first mirrored left to right if
// Mirror, then scaled, then turned counter-clockwise about the origin by Turn
// radians, then shifted. The zero value leaves everything where it is: a Scale
// of 0 counts as 1. Lines keep their width and text is never mirrored.
type Transform struct {
	Mirror bool
	Scale  float64
	Turn   float64
	Shift  r2.Vec
}

// Translate moves by v.
func Translate(v r2.Vec) Transform { return Transform{Shift: v} }

func (t Transform) scale() float64 {
	if t.Scale == 0 {
		return 1
	}
	return t.Scale
}

// Apply moves a point.
func (t Transform) Apply(p r2.Vec) r2.Vec {
	if t.Mirror {
		p.X = -p.X
	}
	p = p.Scale(t.scale())
	sin, cos := sincos(t.Turn)
	return r2.Vec{
		X: float64(p.X*cos) - float64(p.Y*sin) + t.Shift.X,
		Y: float64(p.X*sin) + float64(p.Y*cos) + t.Shift.Y,
	}
}

// After returns the transform that does inner first and then t.
func (t Transform) After(inner Transform) Transform {
	turn := inner.Turn
	if t.Mirror {
		turn = -turn
	}
	return Transform{
		Mirror: t.Mirror != inner.Mirror,
		Scale:  t.scale() * inner.scale(),
		Turn:   t.Turn + turn,
		Shift:  t.Apply(inner.Shift),
	}
}

func (t Transform) runs(rs []Run) []Run {
	if t == (Transform{}) {
		return rs
	}
	out := make([]Run, len(rs))
	for i, r := range rs {
		out[i] = t.Run(r)
	}
	return out
}

// Run moves a run.
func (t Transform) Run(r Run) Run {
	out := Run{From: t.Apply(r.From), Segs: make([]Seg, len(r.Segs)), Closed: r.Closed}
	for i, s := range r.Segs {
		s.To = t.Apply(s.To)
		if s.Sweep != 0 {
			s.Centre = t.Apply(s.Centre)
			s.Radius *= t.scale()
			if t.Mirror {
				s.Start, s.Sweep = math.Pi-s.Start, -s.Sweep
			}
			s.Start += t.Turn
		}
		out.Segs[i] = s
	}
	return out
}

// moved keeps the text's box where the transform puts it, and the text in it
// readable: never mirrored, and not on its head unless it was before.
func (x Text) moved(t Transform) Text {
	stood := upright(x.Turn)
	x.At = t.Apply(x.At)
	x.Height *= t.scale()
	if t.Mirror {
		x.Turn, x.Across = -x.Turn, Right-x.Across
	}
	x.Turn += t.Turn
	if stood && !upright(x.Turn) { // the other way round in the same box
		x.Turn += math.Pi
		x.Across, x.Up = Right-x.Across, Top-x.Up
	}
	return x
}

// upright tells whether text at this angle is read from the bottom or from the
// right of the page.
func upright(turn float64) bool {
	sin, cos := sincos(turn)
	return cos > tol.Clip || cos >= -tol.Clip && sin > 0
}

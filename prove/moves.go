package prove

import (
	"dryfit/assembly"
	"dryfit/geom/r3"
)

// Swing is how far a hinge goes as drawn.
type Swing struct {
	Moving []int      // pieces that turn, with all that hangs on them
	Ways   [2]float64 // radians, counter-clockwise and clockwise about the direction of its pin
	Stop   [2]int     // the piece that stays, that is touched there; -1: none
	By     [2]int     // the piece that moves, that touches it; -1: none
	At     [2]r3.Vec  // where they touch
	OK     bool       // false where its two sides are joined some other way too
}

// Swings returns how far each hinge of the model swings, as move.hinge finds it.
func Swings(m *assembly.Model) []Swing { return Of(m).Swings() }

// Swings is Swings of the model, worked out once for this and for the checks.
func (p *Proof) Swings() []Swing {
	m := p.m
	r := &run{m: m, w: p.w}
	out := make([]Swing, len(m.Hinges))
	for i, h := range m.Hinges {
		moving, ok := m.Moving(h)
		out[i] = Swing{Moving: moving, OK: ok, Stop: [2]int{-1, -1}, By: [2]int{-1, -1}}
		if ok {
			w := r.swings(i)
			out[i].Ways = [2]float64{w[0].angle, w[1].angle}
			for k := range w {
				if w[k].hit {
					out[i].Stop[k], out[i].By[k], out[i].At[k] = w[k].b, w[k].a, w[k].at
				}
			}
		}
	}
	return out
}

package assembly

import (
	"fmt"
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/trig"
	"dryfit/toy"
)

// cutters turns work on a blank, or on a glue-up whose first piece is that
// blank, into cutters in the blank's frame. reach is the box of all the wood
// that the work goes through: the blank, or the glue-up in the blank's frame.
// drawn is the size of that blank without its deviation. Deviations are looked up under the id of the piece or glue-up. Flush is left
// to the caller, who knows the other pieces.
func cutters(work []toy.Work, size, drawn r3.Vec, reach r3.Box, id string, dev Deviations) ([]cutter, error) {
	var out []cutter
	lineOf := Line
	if dev != nil { // of a build: lines are looked at as drawn
		lineOf = line
	}
	off := size != drawn || sawnOffLine(work, id, dev)
	for n, w := range work {
		name := fmt.Sprintf("work.%d", n+1)
		d := dev.of(id, name)
		switch w := w.(type) {
		case toy.Drill:
			out = append(out, drillCutters(w, size, reach, id, name, dev)...)
		case toy.Saw:
			line, e := lineOf(w.Outline)
			if e != nil {
				return nil, e
			}
			f := SideFrame(w.Side, size)
			lo, hi := depths(f, reach)
			kept, sawn := edgesOf(line, sideSize(f, drawn))
			c := cutter{kind: keep, frame: d.leant(f), line: line, lo: lo - d.through(), hi: hi + d.through(), name: name, at: w.At}
			if off { // of one of its saw cuts: the others have to let that be
				c.line = sawnOff(line, d, kept, sideSize(f, drawn))
			}
			for e, over := range sawn {
				if over && off {
					c.over = append(c.over, f.Dir(r3.Vec{X: beyond[e].X, Y: beyond[e].Y}))
				}
			}
			out = append(out, c)
		case toy.Cut:
			line, e := lineOf(w.Outline)
			if e != nil {
				return nil, e
			}
			f := SideFrame(w.Side, size)
			lo, hi := depths(f, reach)
			c := cutter{kind: remove, frame: d.leant(f), line: line, lo: lo - d.through(), hi: hi + d.through(), name: name, at: w.At}
			if d != (Deviation{}) {
				c.line = sawnOff(line, d, [4]bool{true, true, true, true}, sideSize(f, drawn))
			}
			if w.Depth > 0 {
				c.lo = hi - w.Depth.MM() - d.D.Z
			}
			out = append(out, c)
		}
	}
	return out, nil
}

// sawnOffLine tells whether a builder is off in some sawing of a piece.
func sawnOffLine(work []toy.Work, id string, dev Deviations) bool {
	for n, w := range work {
		if _, ok := w.(toy.Saw); ok && dev.of(id, fmt.Sprintf("work.%d", n+1)) != (Deviation{}) {
			return true
		}
	}
	return false
}

// through is how far a saw goes beyond the wood at both ends: one that leans has to go farther for its
// end to be outside everywhere.
func (d Deviation) through() float64 {
	if d.Lean != (r2.Vec{}) {
		return outBeyond
	}
	return clear
}

func d2(d Deviation) r2.Vec { return r2.Vec{X: d.D.X, Y: d.D.Y} }

// sideSize is how large a side of a blank is, along its U and V.
func sideSize(f r3.Pose, size r3.Vec) r2.Vec {
	return r2.Vec{X: math.Abs(f.U.Dot(size)), Y: math.Abs(f.V.Dot(size))}
}

// depths returns where the wood in reach begins and ends along the frame's W.
func depths(f r3.Pose, reach r3.Box) (lo, hi float64) {
	b := f.Inverse().Box(reach)
	return b.Min.Z, b.Max.Z
}

func drillCutters(w toy.Drill, size r3.Vec, reach r3.Box, id, name string, dev Deviations) []cutter {
	var out []cutter
	f := SideFrame(w.Side, size)
	lo, hi := depths(f, reach)
	through := hi - lo
	for i, h := range w.Holes {
		d := dev.of(id, fmt.Sprintf("%s.%d", name, i+1))
		p := pt(h.At).Add(d2(d))
		mouth := f.Point(r3.Vec{X: p.X, Y: p.Y, Z: hi})
		axis := f
		axis.O = mouth
		axis = d.leant(axis)
		cos := 1.0
		if w.Lean != 0 {
			cos = trig.Cos(float64(w.Lean))
			axis = leaned(axis, w.Toward, float64(w.Lean))
		}
		c := cutter{kind: bore, frame: axis, r: (w.Dia.MM() + d.Dia) / 2, lo: -clear, hi: through/cos + clear, name: h.Name, named: true, at: h.In}
		if w.Lean != 0 { // a leaning drill starts before its centre reaches the wood
			t := trig.Tan(float64(w.Lean))
			c.lo -= float64(c.r * t)
			c.hi += float64(c.r * t)
		}
		if h.Name == "" {
			c.name, c.named = fmt.Sprintf("%s.%d", name, i+1), false
		}
		if w.Depth > 0 {
			c.hi = w.Depth.MM() + d.D.Z
		}
		out = append(out, c)
		if w.CounterDia > 0 {
			out = append(out, cutter{kind: bore, frame: axis, r: (w.CounterDia.MM() + d.Dia) / 2, lo: c.lo, hi: w.CounterDepth.MM() + d.D.Z, name: c.name + "-counterbore", at: h.In})
		}
	}
	return out
}

// leaned turns the frame of a hole so that its way in (-W) tilts towards a
// direction seen on the side.
func leaned(f r3.Pose, toward toy.Seen, angle float64) r3.Pose {
	in := f.W.Neg()
	var to r3.Vec
	switch toward {
	case toy.SeenRight:
		to = f.U
	case toy.SeenLeft:
		to = f.U.Neg()
	case toy.SeenUp:
		to = f.V
	default:
		to = f.V.Neg()
	}
	return f.Then(r3.Turn(f.O, in.Cross(to), angle))
}

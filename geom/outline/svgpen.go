package outline

import (
	"dryfit/geom/r2"
	"dryfit/geom/trig"
)

// Pen draws what path data says, step by step, each from where the last ended. Nothing is
// flattened or closed that is not so in the data.
type Pen interface {
	Move(to r2.Vec)
	Line(to r2.Vec)
	Cubic(c1, c2, to r2.Vec) // a quadratic curve too
	// Ellipse goes from c + u cos(from) + v sin(from) over the angle sweep.
	Ellipse(c, u, v r2.Vec, from, sweep float64, to r2.Vec)
	Close() // a straight line to where the last Move went
}

// Trace reads path data as ParseSVG does and draws it, in the units of the data; no more
// than MaxSegments steps.
func Trace(d string, pen Pen) *SVGError {
	r := &reader{d: d, left: MaxSegments, pen: pen}
	if err := r.read(); err != nil {
		return err
	}
	if len(r.paths) == 0 {
		return &SVGError{At: len(d), Says: "the path draws nothing"}
	}
	return nil
}

// ellipse hands an arc on whole, by its centre and half axes: SVG 1.1, appendix F.6.
func (r *reader) ellipse(rx, ry, tilt float64, large, left bool, to r2.Vec) {
	q := turned(to.Sub(r.pos), -tilt)
	s := circular(r2.Vec{}, r2.Vec{X: q.X / rx, Y: q.Y / ry}, 1, large, left)
	k := s.R // more than 1 where the radii had to grow
	u, v := turned(r2.Vec{X: float64(rx * k)}, tilt), turned(r2.Vec{Y: float64(ry * k)}, tilt)
	c := turned(r2.Vec{X: float64(s.C.X * rx), Y: float64(s.C.Y * ry)}, tilt)
	r.pen.Ellipse(r.pos.Add(c), u, v, trig.Atan2(-s.C.Y, -s.C.X), s.Sweep, to)
	r.add(Line(to), 1)
}

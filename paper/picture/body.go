package picture

import (
	"slices"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/paper/draw"
)

// Seen returns the edges of a body that are seen from a side, in the coordinates of the side's
// frame, whose W points to who looks: lines drawn without lifting the pencil, with true arcs.
func Seen(b solid.Body, side r3.Pose) []draw.Run {
	s := sight{toward: side.W, right: side.U, up: side.V}
	o := &object{bodies: []solid.Body{b}, looks: []Look{Plain}, edges: edgesOf(b, false)}
	strokes := s.see(o)
	from := s.flat(side.O)
	return slices.Concat(runs(strokes, Plain, true, 1, from, r2.Vec{}), runs(strokes, Plain, false, 1, from, r2.Vec{}))
}

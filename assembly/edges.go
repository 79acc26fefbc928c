package assembly

import (
	"math"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// Where an outline runs along an edge of its blank nothing is sawn: the blank ends there, and a cut is
// open. So in a build that part of the line stays, however far off the rest of it is.

// edgeOf tells on which edge of a side of that size a straight step lies: U low, U high, V low, V high;
// -1 on none.
func edgeOf(p, q, size r2.Vec) int {
	on := func(a, b, at float64) bool { return math.Abs(a-at) < tol.Touch && math.Abs(b-at) < tol.Touch }
	switch {
	case on(p.X, q.X, 0):
		return 0
	case on(p.X, q.X, size.X):
		return 1
	case on(p.Y, q.Y, 0):
		return 2
	case on(p.Y, q.Y, size.Y):
		return 3
	}
	return -1
}

// beyond are the ways out over those edges.
var beyond = [4]r2.Vec{{X: -1}, {X: 1}, {Y: -1}, {Y: 1}}

// sawnOff is a line as a builder saws it: off by a deviation where it runs through wood, and out over
// the edge where it runs along one.
func sawnOff(line outline.Path, d Deviation, size r2.Vec) outline.Path {
	if d == (Deviation{}) {
		return line
	}
	out := outline.Path{Start: line.Start}
	at := line.Start
	step := func(s outline.Seg) {
		if e := edgeOf(at, s.To, size); e >= 0 && !s.Round() && s.To != at {
			far := beyond[e].Scale(clear)
			out.Segs = append(out.Segs, outline.Line(at.Add(far)), outline.Line(s.To.Add(far)))
		}
		out.Segs = append(out.Segs, s)
		at = s.To
	}
	for _, s := range line.Segs {
		step(s)
	}
	if at != line.Start {
		step(outline.Line(line.Start))
	}
	return out.Grown(d.Grow).Transform(outline.Shifted(d2(d)))
}

// EdgesKept tells on which edges of its side a sawn outline leaves the blank as it is, as edgeOf
// numbers them: to the left, to the right, below and above, seen from outside.
func EdgesKept(o toy.Outline, size r2.Vec) (kept [4]bool) {
	line, err := Line(o)
	if err != nil {
		return kept
	}
	at := line.Start
	for _, s := range append(line.Segs, outline.Line(line.Start)) {
		if e := edgeOf(at, s.To, size); e >= 0 && !s.Round() && s.To != at {
			kept[e] = true
		}
		at = s.To
	}
	return kept
}

package assembly

import (
	"math"
	"slices"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// Where an outline runs along an edge of its blank nothing is sawn: the blank ends there, and a cut is
// open. So in a build that part of the line stays, however far off the rest of it is. Where it only
// touches an edge between two rounds a builder saws all of it, and leaves the blank larger for that.

// outBeyond is how far outside the blank an open cut goes, and how much larger than it a blank is that is
// sawn all round, in mm: no error of a builder comes near it.
const outBeyond = 10.0

// leastKept is the share of an edge that an outline has to run along for the edge to be left as it is
// (common practice, no source).
const leastKept = 1.0 / 3

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
// the edge where that is kept.
func sawnOff(line outline.Path, d Deviation, kept [4]bool, size r2.Vec) outline.Path {
	type run struct {
		from r2.Vec
		seg  outline.Seg
		edge int // that is kept, -1 for none
	}
	var runs []run
	at := line.Start
	for _, s := range append(slices.Clone(line.Segs), outline.Line(line.Start)) {
		if s.To == at && !s.Round() {
			continue
		}
		e := edgeOf(at, s.To, size)
		if s.Round() || e >= 0 && !kept[e] {
			e = -1
		}
		runs = append(runs, run{at, s, e})
		at = s.To
	}
	first := slices.IndexFunc(runs, func(r run) bool { return r.edge < 0 })
	if first < 0 { // all of the blank is kept
		return line
	}
	runs = append(slices.Clone(runs[first:]), runs[:first]...)
	out := outline.Path{Start: runs[0].from}
	for i, r := range runs {
		if r.edge < 0 {
			out.Segs = append(out.Segs, r.seg)
			continue
		}
		far := beyond[r.edge].Scale(outBeyond)
		if runs[i-1].edge < 0 {
			out.Segs = append(out.Segs, outline.Line(r.from.Add(far)))
		}
		switch next := runs[(i+1)%len(runs)]; {
		case next.edge < 0:
			out.Segs = append(out.Segs, outline.Line(r.seg.To.Add(far)), outline.Line(r.seg.To))
		case next.edge == r.edge: // on along the same edge
		default: // round the corner outside
			out.Segs = append(out.Segs, outline.Line(r.seg.To.Add(far).Add(beyond[next.edge].Scale(outBeyond))))
		}
	}
	return out.Grown(d.Grow).Transform(outline.Shifted(d2(d)))
}

// EdgesKept tells on which edges of its side a sawn outline leaves the blank as it is, as edgeOf
// numbers them: to the left, to the right, below and above, seen from outside.
func EdgesKept(o toy.Outline, size r2.Vec) (kept [4]bool) {
	line, err := line(o)
	if err != nil {
		return kept
	}
	kept, _ = edgesOf(line, size)
	return kept
}

// edgesOf tells which edges of its side a line keeps, and which it saws along.
func edgesOf(line outline.Path, size r2.Vec) (kept, sawn [4]bool) {
	var runs [4]float64
	at := line.Start
	for _, s := range append(slices.Clone(line.Segs), outline.Line(line.Start)) {
		if e := edgeOf(at, s.To, size); e >= 0 && !s.Round() {
			runs[e] += s.To.Sub(at).Len()
		}
		at = s.To
	}
	for e, run := range runs {
		long := size.Y
		if e >= 2 {
			long = size.X
		}
		kept[e] = run >= float64(leastKept*long)
		sawn[e] = run > 0 && !kept[e]
	}
	return kept, sawn
}

// SawnSides tells for which of length and width of a blank a sawn outline settles the size, because it
// does not leave both ends, or both edges, as they are.
func SawnSides(p *toy.Part) (sawn [2]bool) {
	for axis, n := range SawnBy(p) {
		sawn[axis] = n >= 0
	}
	return sawn
}

// SawnBy is the number of the sawing that settles length and width of a blank, -1 where none does.
func SawnBy(p *toy.Part) (work [2]int) {
	work = [2]int{-1, -1}
	size := r3.Vec{X: p.Length.MM(), Y: p.Width.MM(), Z: p.Thick.MM()}
	for n, w := range p.Work {
		s, ok := w.(toy.Saw)
		if !ok {
			continue
		}
		f := SideFrame(s.Side, size)
		shape, _ := SideShape(s.Side, p.Shape, size)
		kept := EdgesKept(s.Outline, shape)
		for axis := range work {
			switch {
			case f.U.At(axis) != 0 && (!kept[0] || !kept[1]):
				work[axis] = n
			case f.V.At(axis) != 0 && (!kept[2] || !kept[3]):
				work[axis] = n
			}
		}
	}
	return work
}

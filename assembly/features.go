package assembly

import (
	"fmt"
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure/source"
	"dryfit/toy"
)

// Features are the places on a piece or glue-up that others sit on: its sides in
// world directions, its middle, its holes, and the flats and corners that have a
// name.

var axisNames = [3]string{"forward and back", "left and right", "up and down"}

// worldSide tells the axis of a side word, and whether it is the far side.
func worldSide(word string) (axis int, positive, ok bool) {
	switch word {
	case "front":
		return 0, true, true
	case "back":
		return 0, false, true
	case "left":
		return 1, true, true
	case "right":
		return 1, false, true
	case "top":
		return 2, true, true
	case "bottom":
		return 2, false, true
	}
	return 0, false, false
}

// feat is a feature as a place: the coordinates that it fixes.
type feat struct {
	has  [3]bool
	at   r3.Vec
	line bool
	dir  r3.Vec
	face int // for planes: axis*2 + 1 if it looks along the axis, axis*2 if against; -1 unknown
}

// feature finds a side, the middle, a hole, a flat or a point of an id.
func (b *builder) feature(id, name string, at source.Range) (feat, bool) {
	box := b.bounds(id)
	f := feat{face: -1}
	if axis, positive, ok := worldSide(name); ok {
		f.has[axis] = true
		f.at, f.face = box.Min, 2*axis
		if positive {
			f.at, f.face = box.Max, 2*axis+1
		}
		return f, true
	}
	if name == "middle" {
		f.has, f.at = [3]bool{true, true, true}, box.Center()
		return f, true
	}
	for _, h := range b.m.holes(id, name) {
		bo := b.m.Pieces[h.Piece].Bore(h.Bore)
		return b.lineFeat(bo.Point, bo.Dir), true
	}
	ids := b.m.byID[id]
	if name == "axis" && len(ids) == 1 {
		c, d, _ := b.m.Pieces[ids[0]].Axis()
		return b.lineFeat(c, d), true
	}
	work, frame, size := b.workOf(id)
	drawn := size.Sub(b.o.Dev.of(b.within+b.m.Pieces[b.m.byID[id][0]].ID, "blank").D)
	for n, w := range work {
		var side toy.Side
		var o toy.Outline
		out := 1.0 // of a sawn outline the wood is inside, of a cut outside
		switch w := w.(type) {
		case toy.Saw:
			side, o = w.Side, w.Outline
		case toy.Cut:
			side, o, out = w.Side, w.Outline, -1
		default:
			continue
		}
		sf := SideFrame(side, size).Then(frame)
		dev := b.o.Dev.of(b.within+id, fmt.Sprintf("work.%d", n+1))
		place := func(i int) r3.Vec {
			p := pt(o.Corners[i%len(o.Corners)].Point).Add(d2(dev))
			return sf.Point(r3.Vec{X: p.X, Y: p.Y})
		}
		for _, n := range o.Points {
			if n.Name == name {
				return b.lineFeat(place(n.Index), sf.W), true
			}
		}
		for _, n := range o.Flats {
			if n.Name != name {
				continue
			}
			shape := sideSize(SideFrame(side, size), drawn)
			if e := edgeOf(pt(o.Corners[n.Index].Point), pt(o.Corners[(n.Index+1)%len(o.Corners)].Point), shape); e >= 0 && (out < 0 || EdgesKept(o, shape)[e]) {
				dev = Deviation{} // it is the blank's own edge
			}
			p, q := place(n.Index), place(n.Index+1)
			normal := q.Sub(p).Cross(sf.W).Unit().Scale(float64(out * turn(o.Corners))) // out of the wood
			if dev.Lean != (r2.Vec{}) {                                                 // what lies on it lies on the edge that stands out
				lo, hi := depths(SideFrame(side, size), r3.Box{Max: size})
				at := sf.Inverse().Point(p)
				through := dev.leant(sf).Point(r3.Vec{X: at.X, Y: at.Y, Z: lo - hi})
				p = p.Add(normal.Scale(math.Max(0, through.Sub(p).Dot(normal))))
			}
			for axis := 0; axis < 3; axis++ {
				if c := normal.At(axis); c > 1-tol.Clip || c < tol.Clip-1 {
					f.has[axis], f.at, f.face = true, p.Add(normal.Scale(float64(out*dev.Grow))), 2*axis
					if c > 0 {
						f.face++
					}
					return f, true
				}
			}
			b.problem("flat", at, name+" lies slanting, so nothing can be said to sit on it square")
			return f, false
		}
	}
	b.problem("unknown-name", at, id+" has no side, hole, flat or point "+name)
	return f, false
}

// turn is 1 for corners that go round against the clock, as seen from outside, and -1 for others.
func turn(corners []toy.Corner) float64 {
	sum := 0.0
	for i, c := range corners {
		p, q := pt(c.Point), pt(corners[(i+1)%len(corners)].Point)
		sum += float64(p.X*q.Y) - float64(p.Y*q.X)
	}
	if sum < 0 {
		return -1
	}
	return 1
}

// Bounds is the box that an id fills.
func (m *Model) Bounds(id string) r3.Box { return (&builder{m: m}).bounds(id) }

// Flat tells which way a named flat of an id faces, as axis*2 and 1 more if along the axis, and
// where it is along that axis.
func (m *Model) Flat(id, name string) (face int, at float64, ok bool) {
	f, ok := (&builder{m: m, frames: m.frames}).feature(id, name, source.Range{})
	if !ok || f.face < 0 {
		return 0, 0, false
	}
	return f.face, f.at.At(f.face / 2), true
}

func (b *builder) lineFeat(p, dir r3.Vec) feat {
	f := feat{at: p, line: true, dir: dir, face: -1}
	for axis := 0; axis < 3; axis++ {
		f.has[axis] = math.Abs(dir.At(axis)) < b.lean()
	}
	return f
}

// lean is the sine of the angle up to which a line counts as square to an axis or along another:
// exactly as drawn, and as nearly as anybody drills in a build of it.
func (b *builder) lean() float64 {
	if b.o.Drawn != nil {
		return tol.Askew
	}
	return tol.Clip
}

// workOf returns the work of an id with the frame and blank size it is drawn in.
func (b *builder) workOf(id string) ([]toy.Work, r3.Pose, r3.Vec) {
	ids := b.m.byID[id]
	if f, ok := b.frames[id]; ok {
		for _, g := range b.m.GlueUps {
			if g.ID == id {
				return g.Spec.Work, f, b.m.Pieces[g.Pieces[0]].Made.Size
			}
		}
	}
	p := b.m.Pieces[ids[0]]
	return p.Part.Work, p.Pose, p.Made.Size
}

// holes returns the holes of that name: one of a piece, or those that a drill
// through a glue-up made in its pieces.
func (m *Model) holes(id, name string) []Hole {
	var out []Hole
	for _, i := range m.byID[id] {
		p := m.Pieces[i]
		for k, bo := range p.Made.Bores {
			if bo.Name != name {
				continue
			}
			w := p.Bore(k)
			if _, _, ok := Span(p.Body, w.Point, w.Dir); ok || len(m.byID[id]) == 1 {
				out = append(out, Hole{i, k})
			}
		}
	}
	return out
}

package picture

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// sight is a direction to look from, with the directions of the paper.
type sight struct{ toward, right, up r3.Vec }

// The views of a toy, the axes of the world being x forward, y left, z up. All
// agree with the side view from the right, where the toy drives to the right.
var (
	fromRight = sight{toward: r3.Y.Neg(), right: r3.X, up: r3.Z}
	fromFront = sight{toward: r3.X, right: r3.Y, up: r3.Z}
	fromAbove = sight{toward: r3.Z, right: r3.X, up: r3.Y}

	// isometric looks along the diagonal of a cube from the front, the right and
	// above: the three axes are foreshortened alike (ISO 5456-3, from memory).
	isometric = sight{
		toward: r3.Vec{X: 1, Y: -1, Z: 1}.Unit(),
		right:  r3.Vec{X: 1, Y: 1}.Unit(),
		up:     r3.Vec{X: -1, Y: 1, Z: 2}.Unit(),
	}
)

// axial is what an isometric is drawn larger by, so that lengths along the axes
// are to scale: each is foreshortened by the square root of 2/3.
var axial = math.Sqrt(1.5)

func (s sight) flat(p r3.Vec) r2.Vec { return r2.Vec{X: p.Dot(s.right), Y: p.Dot(s.up)} }

// bounds returns the box of the picture of the object.
func (s sight) bounds(o *object) r2.Box {
	box := r2.EmptyBox()
	for _, b := range o.bodies {
		for i := range b.Pieces {
			for _, v := range b.Pieces[i].V {
				box = box.Add(s.flat(v))
			}
		}
	}
	for _, b := range o.balls {
		// The polyhedron of a ball may stop short of it; work may have cut it.
		for _, c := range b.circle(s) {
			box = box.Add(s.flat(c[0])).Add(s.flat(c[1]))
		}
	}
	return box
}

// line is a straight line of the toy that is seen, in space.
type line struct {
	a, b    r3.Vec
	round   bool // part of a curve
	contour bool // nothing, or something farther away, is to one side of it
	look    Look
}

// lines returns all that is seen of the object's edges.
func (s sight) lines(o *object) []line {
	view := solid.NewView(s.toward, o.bodies...)
	var out []line
	// add takes the stretches of a line that are seen, apart where wood beside
	// them begins or ends.
	add := func(l line, hidden, inner []solid.Span) {
		d := l.b.Sub(l.a)
		for _, b := range o.balls {
			if s, ok := b.hides(s, l.a, l.b); ok && b.whole {
				hidden = join(append(hidden, s), tol.Page/d.Len())
			}
		}
		for _, sp := range solid.Seen(hidden) {
			one := []solid.Span{sp}
			for i, stretches := range [2][]solid.Span{both(one, inner), both(one, solid.Seen(inner))} {
				for _, r := range stretches {
					out = append(out, line{l.a.Add(d.Scale(r.From)), l.a.Add(d.Scale(r.To)), l.round, i == 1, l.look})
				}
			}
		}
	}
	for i := range o.edges {
		e := &o.edges[i]
		if !e.sees(s.toward) || e.B.Sub(e.A).Cross(s.toward).Len() <= tol.Page { // or end-on
			continue
		}
		add(line{a: e.A, b: e.B, round: e.round, look: e.look}, s.hidden(view, e), s.inner(o, e))
	}
	for _, b := range o.balls {
		for _, c := range b.circle(s) {
			// Held off the ball's own polyhedron, which reaches past the chord.
			lift := c[0].Add(c[1]).Scale(0.5).Sub(b.centre).Unit().Scale(2 * tol.Chord)
			add(line{a: c[0], b: c[1], round: true, look: b.look}, view.HiddenLine(c[0].Add(lift), c[1].Add(lift)), nil)
		}
	}
	return out
}

// stroke is a line of the picture, in millimetres of the toy.
type stroke struct {
	a, b           r2.Vec
	round, contour bool
	look           Look
}

// see returns the picture of the object, each line of it once.
func (s sight) see(o *object) []stroke { return s.strokes(s.lines(o)) }

// strokes are lines on the paper, each once.
func (s sight) strokes(lines []line) []stroke {
	var out []stroke
	for _, l := range lines {
		if p, q := s.flat(l.a), s.flat(l.b); q.Sub(p).Len() > tol.Page {
			out = append(out, stroke{p, q, l.round, l.contour, l.look})
		}
	}
	return once(out)
}

// hidden returns the stretches of an edge that are hidden. Round things that
// touch go through each other's facets by up to the depth of a chord, and must
// not hide each other where they do:
//
//   - A round rim counts as seen where the flat face just beside it is: else a
//     dowel glued into a hole of its own size would hide its rim in dashes.
//   - Where a round surface turns away it is looked at from a little above: else
//     two dowels side by side would hide the line where they touch.
func (s sight) hidden(view *solid.View, e *edge) []solid.Span {
	hidden := view.Hidden(e.Edge)
	if len(hidden) == 0 {
		return nil
	}
	var lift r3.Vec
	switch {
	case e.Smooth:
		lift = e.N[0].Add(e.N[1]).Scale(tol.Lift).Add(s.toward.Scale(2 * tol.Chord))
	case e.flat >= 0 && e.N[e.flat].Dot(s.toward) > tol.Clip:
		lift = e.N[e.flat].Scale(tol.Lift).Sub(e.N[1-e.flat].Scale(2 * tol.Chord))
	default:
		return hidden
	}
	return both(hidden, view.HiddenLine(e.A.Add(lift), e.B.Add(lift)))
}

// both returns the stretches that are in a and in b, each in order.
func both(a, b []solid.Span) []solid.Span {
	var out []solid.Span
	for len(a) > 0 && len(b) > 0 {
		if s := (solid.Span{From: max(a[0].From, b[0].From), To: min(a[0].To, b[0].To)}); s.From < s.To {
			out = append(out, s)
		}
		if a[0].To < b[0].To {
			a = a[1:]
		} else {
			b = b[1:]
		}
	}
	return out
}

// inner returns the stretches of an edge where it is no contour: both its faces
// look this way, or just beside and behind it is wood, as there is where two
// pieces are glued up flush.
func (s sight) inner(o *object, e *edge) []solid.Span {
	near, far := e.N[0], e.N[1]
	if near.Dot(s.toward) <= tol.Clip {
		near, far = far, near
	}
	if far.Dot(s.toward) > tol.Clip {
		return []solid.Span{{From: 0, To: 1}}
	}
	out := s.toward.Cross(e.B.Sub(e.A)).Unit()
	if out.Dot(far) < 0 {
		out = out.Neg()
	}
	off := out.Scale(beside).Sub(s.toward.Scale(behind))
	return inWood(o.bodies, e.A.Add(off), e.B.Add(off))
}

// Where to look for wood beside an edge: off the facets of round things, and
// across gaps too small for two lines.
const (
	beside = 20 * tol.Chord
	behind = 40 * tol.Chord
)

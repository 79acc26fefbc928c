package picture

import (
	"math"
	"sort"
	"sync"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// Which lines there are to draw: the true edges of every piece, in the world.

// edge is a true edge of a piece.
type edge struct {
	solid.Edge
	round bool // it runs along a round surface: part of a curve
	look  Look // how its piece is drawn
	flat  int  // which of its faces is flat if the other is round, else -1
}

// object is what is drawn: the pieces with their holes, and their edges.
type object struct {
	bodies []solid.Body
	looks  []Look // of the bodies
	edges  []edge
	balls  []ball
	box    r3.Box
}

// ball is a ball by its true radius: its polyhedron is too coarse to show.
type ball struct {
	body   solid.Body
	centre r3.Vec
	radius float64
	whole  bool // no work is done on it
	look   Look
}

// gather collects the edges of the model as it stands.
func gather(m *assembly.Model) *object { return new(known).gather(m, all(m), nil) }

// known keeps the edges of what was made: pieces made alike share the work. It is
// safe for use by several goroutines; the zero known is ready.
type known struct {
	lock   sync.Mutex
	made   map[*assembly.Made][]edge
	meshes map[*assembly.Made]*shaped
}

func (k *known) edges(p *assembly.Piece) []edge {
	k.lock.Lock()
	defer k.lock.Unlock()
	e, ok := k.made[p.Made]
	if !ok {
		if k.made == nil {
			k.made = map[*assembly.Made][]edge{}
		}
		e = edgesOf(p.Made.Bored(), p.Part.Shape == toy.Sphere)
		k.made[p.Made] = e
	}
	return e
}

// gather collects what is shown of a model, some of it off its place: off is by
// piece.
func (k *known) gather(m *assembly.Model, shown []Shown, off map[int]r3.Vec) *object {
	o := &object{box: r3.EmptyBox()}
	for _, s := range shown {
		p, by := m.Pieces[s.Piece], off[s.Piece]
		for _, e := range k.edges(p) {
			e.A, e.B = p.Pose.Point(e.A).Add(by), p.Pose.Point(e.B).Add(by)
			e.N[0], e.N[1] = p.Pose.Dir(e.N[0]), p.Pose.Dir(e.N[1])
			e.look = s.Look
			o.edges = append(o.edges, e)
		}
		body := p.Bored()
		if by != (r3.Vec{}) {
			body = body.Transform(r3.Shift(by))
		}
		o.bodies, o.looks = append(o.bodies, body), append(o.looks, s.Look)
		o.box = o.box.Union(body.Bounds())
		if p.Part.Shape == toy.Sphere {
			c, _, r := p.Axis()
			o.balls = append(o.balls, ball{body, c.Add(by), r, len(p.Part.Work) == 0 && p.GlueUp == "", s.Look})
		}
	}
	return o
}

// ballTag is the surface tag of a ball's own surface (see assembly).
const ballTag = 1

// edgesOf returns the edges of a body that may have to be drawn. An edge where a
// round surface runs on tangentially into its neighbour counts as smooth, and so
// does one between chords of a curve.
func edgesOf(b solid.Body, isBall bool) []edge {
	all := solid.FeatureEdges(b)
	step := map[int32]float64{} // by tag of a round surface: the turn from facet to facet
	sides := map[int32][]int{}
	for i := range all {
		e := &all[i]
		if e.Smooth {
			step[e.Tag[0]] = max(step[e.Tag[0]], turn(e))
		}
		for k := range e.Tag {
			if k == 0 || e.Tag[1] != e.Tag[0] {
				sides[e.Tag[k]] = append(sides[e.Tag[k]], i)
			}
		}
	}
	curve := map[int32]bool{} // by tag: it is a facet of a curve
	for t := range step {
		curve[t] = true
	}
	for i := range all {
		e := &all[i]
		if e.Smooth || turn(e) > math.Pi/4 || e.N[1] == (r3.Vec{}) {
			continue
		}
		if s := step[e.Tag[0]] + step[e.Tag[1]]; s > 0 && turn(e) <= s/2*(1+tangentSlack) {
			e.Smooth = true
			continue
		}
		// A corner that stands less off the curve through its neighbours than the
		// chords of a curve do is one of those.
		width := func(k int) float64 { return across(all, sides[e.Tag[k]], e, k) }
		if turn(e)*min(width(0), width(1))/8 < 2*tol.Chord {
			e.Smooth, curve[e.Tag[0]], curve[e.Tag[1]] = true, true, true
		}
	}
	var out []edge
	for _, e := range all {
		if isBall && e.Smooth && e.Tag[0] == ballTag && e.Tag[1] == ballTag {
			continue // drawn as a circle, see ball
		}
		d := edge{Edge: e, round: curve[e.Tag[0]] || curve[e.Tag[1]], flat: -1}
		if !e.Smooth && curve[e.Tag[0]] != curve[e.Tag[1]] {
			if d.flat = 0; curve[e.Tag[0]] {
				d.flat = 1
			}
		}
		out = append(out, d)
	}
	return out
}

// turn returns the angle between the faces of an edge.
func turn(e *solid.Edge) float64 { return math.Acos(max(-1, min(1, e.N[0].Dot(e.N[1])))) }

// across returns how wide face k of the edge e is, from it to the nearest other
// edge of the face that runs the same way: endless if there is none.
func across(all []solid.Edge, of []int, e *solid.Edge, k int) float64 {
	d, width := e.B.Sub(e.A).Unit(), math.Inf(1)
	for _, i := range of {
		f := &all[i]
		own := 0
		if f.Tag[0] != e.Tag[k] {
			own = 1
		}
		if f.Tag[0] == f.Tag[1] && f.N[1].Dot(e.N[k]) > f.N[0].Dot(e.N[k]) {
			own = 1
		}
		if f == e || 1-f.N[own].Dot(e.N[k]) > tol.Clip || f.B.Sub(f.A).Unit().Cross(d).Len() > tol.Weld {
			continue
		}
		if w := f.A.Sub(e.A).Cross(d).Len(); w > tol.Page {
			width = min(width, w)
		}
	}
	return width
}

// tangentSlack lets the turn at a tangent point be a little more than half a
// facet's: the last chord of an arc is as long as the others, but rounded.
const tangentSlack = 1e-3

// sees tells whether e is drawn when seen from toward, if nothing hides it.
// Edges between faces that both look away are behind the wood, and one whose
// only near face is seen edge-on coincides with that face's front edge.
func (e *edge) sees(toward r3.Vec) bool {
	a, b := e.N[0].Dot(toward) > tol.Clip, e.N[1].Dot(toward) > tol.Clip
	if e.Smooth {
		return a != b
	}
	return a || b
}

// circle returns the outline of the ball seen from toward as chords, those of
// it that the work has left standing.
func (b ball) circle(s sight) [][2]r3.Vec {
	n := solid.Facets(b.radius, tol.Chord)
	at := func(i int, r float64) r3.Vec {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		return b.centre.Add(s.right.Scale(r * cos)).Add(s.up.Scale(r * sin))
	}
	var out [][2]r3.Vec
	for i := range n {
		p, q := at(i, b.radius), at((i+1)%n, b.radius)
		in := p.Add(q).Scale(0.5).Sub(b.centre).Scale(1 - ballDepth/b.radius).Add(b.centre)
		if inside(b.body, in) {
			out = append(out, [2]r3.Vec{p, q})
		}
	}
	return out
}

// hides returns the stretch of the line from p to q that a whole ball hides, by
// its true radius: its polyhedron would let the rim of its seat show in dashes.
// What is behind the front of a ball is convex, so the stretch is one: it spans
// what is inside the ball and what is inside its shadow, farther than its middle.
func (b ball) hides(s sight, p, q r3.Vec) (solid.Span, bool) {
	r := b.radius - 2*tol.Chord
	p, d := p.Sub(b.centre), q.Sub(p)
	out := solid.Span{From: 1, To: 0}
	span := func(from, to float64) {
		if from, to = max(from, 0), min(to, 1); from < to {
			out.From, out.To = min(out.From, from), max(out.To, to)
		}
	}
	if from, to, ok := inBall(p, d, r); ok {
		span(from, to)
	}
	z, dz := p.Dot(s.toward), d.Dot(s.toward)
	if from, to, ok := inBall(p.Sub(s.toward.Scale(z)), d.Sub(s.toward.Scale(dz)), r); ok {
		switch {
		case dz > 0:
			to = min(to, -z/dz)
		case dz < 0:
			from = max(from, -z/dz)
		case z > 0:
			return out, out.From < out.To
		}
		span(from, to)
	}
	return out, out.From < out.To
}

// inBall solves |p + t·d| < r.
func inBall(p, d r3.Vec, r float64) (from, to float64, ok bool) {
	a, b, c := d.Dot(d), p.Dot(d), p.Dot(p)-float64(r*r)
	disc := float64(b*b) - float64(a*c)
	if a == 0 || disc <= 0 {
		return 0, 1, a == 0 && c < 0
	}
	root := math.Sqrt(disc)
	return (-b - root) / a, (-b + root) / a, true
}

// ballDepth is how deep under a ball's true surface its polyhedron has wood for
// certain: more than the chord it is made with (assembly), 0.1 mm.
const ballDepth = 0.2

// inside tells whether p lies in one of the convex pieces of b.
func inside(b solid.Body, p r3.Vec) bool {
	at := r3.Box{Min: p, Max: p}
	if b.Empty() || !b.Bounds().Meets(at) {
		return false
	}
	for i := range b.Pieces {
		if c := &b.Pieces[i]; c.Bounds().Meets(at) && c.Contains(p, 0) {
			return true
		}
	}
	return false
}

// inWood returns the stretches of the line from a to b that lie in the bodies, in
// order and apart.
func inWood(bodies []solid.Body, a, b r3.Vec) []solid.Span {
	var all []solid.Span
	box, d := r3.Around(a, b), b.Sub(a)
	for _, body := range bodies {
		if body.Empty() || !body.Bounds().Meets(box) {
			continue
		}
		for i := range body.Pieces {
			c := &body.Pieces[i]
			if !c.Bounds().Meets(box) {
				continue
			}
			if s, ok := within(c, a, d); ok {
				all = append(all, s)
			}
		}
	}
	return join(all, tol.Page/d.Len())
}

// join puts stretches in order and joins those less than small apart.
func join(all []solid.Span, small float64) []solid.Span {
	sort.Slice(all, func(i, j int) bool { return all[i].From < all[j].From })
	out := all[:0]
	for _, s := range all {
		if n := len(out); n > 0 && s.From <= out[n-1].To+small {
			out[n-1].To = max(out[n-1].To, s.To)
		} else {
			out = append(out, s)
		}
	}
	return out
}

// within returns the stretch of the line a + t·d, t from 0 to 1, that is in c.
func within(c *solid.Convex, a, d r3.Vec) (solid.Span, bool) {
	s := solid.Span{From: 0, To: 1}
	for i := range c.Faces {
		p := &c.Faces[i].Plane
		off, slope := p.Side(a), p.N.Dot(d)
		switch {
		case slope > 0:
			s.To = min(s.To, -off/slope)
		case slope < 0:
			s.From = max(s.From, -off/slope)
		case off > 0:
			return s, false
		}
	}
	return s, s.From < s.To
}

package picture

import (
	"math"

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
	flat  int  // which of its faces is flat if the other is round, else -1
}

// object is what is drawn: the pieces with their holes, and their edges.
type object struct {
	bodies []solid.Body
	edges  []edge
	balls  []ball
	box    r3.Box
}

// ball is a ball by its true radius: its polyhedron is too coarse to show.
type ball struct {
	body   solid.Body
	centre r3.Vec
	radius float64
}

// gather collects the edges of the model. Pieces made alike share the work.
func gather(m *assembly.Model) *object {
	o := &object{box: r3.EmptyBox()}
	made := map[*assembly.Made][]edge{}
	for _, p := range m.Pieces {
		local, ok := made[p.Made]
		if !ok {
			local = edgesOf(p.Made.Bored(), p.Part.Shape == toy.Sphere)
			made[p.Made] = local
		}
		for _, e := range local {
			e.A, e.B = p.Pose.Point(e.A), p.Pose.Point(e.B)
			e.N[0], e.N[1] = p.Pose.Dir(e.N[0]), p.Pose.Dir(e.N[1])
			o.edges = append(o.edges, e)
		}
		o.bodies = append(o.bodies, p.Bored())
		o.box = o.box.Union(p.Bored().Bounds())
		if p.Part.Shape == toy.Sphere {
			c, _, r := p.Axis()
			o.balls = append(o.balls, ball{p.Bored(), c, r})
		}
	}
	return o
}

// ballTag is the surface tag of a ball's own surface (see assembly).
const ballTag = 1

// edgesOf returns the edges of a body that may have to be drawn. Where a round
// surface runs on tangentially into its neighbour there is nothing to see: such
// an edge counts as smooth. It is known by its turn, at most what half a facet
// to either side makes.
func edgesOf(b solid.Body, isBall bool) []edge {
	all := solid.FeatureEdges(b)
	turn := func(e *solid.Edge) float64 { return math.Acos(max(-1, min(1, e.N[0].Dot(e.N[1])))) }
	step := map[int32]float64{} // by tag: the turn from facet to facet
	for i := range all {
		if e := &all[i]; e.Smooth {
			step[e.Tag[0]] = max(step[e.Tag[0]], turn(e))
		}
	}
	var out []edge
	for _, e := range all {
		if isBall && e.Smooth && e.Tag[0] == ballTag {
			continue // drawn as a circle, see ball
		}
		s := step[e.Tag[0]] + step[e.Tag[1]]
		if !e.Smooth && s > 0 && turn(&e) <= s/2*(1+tangentSlack) {
			e.Smooth = true
		}
		flat := -1
		if !e.Smooth && (step[e.Tag[0]] > 0) != (step[e.Tag[1]] > 0) {
			if flat = 0; step[e.Tag[0]] > 0 {
				flat = 1
			}
		}
		out = append(out, edge{e, s > 0, flat})
	}
	return out
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

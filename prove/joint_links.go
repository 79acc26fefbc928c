package prove

import (
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/outline"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/toy"
)

// What holds one piece to another: glued faces and glued dowels, as links between
// pieces. strength.joint pulls at them, strength.grain takes what they join as one.

// patch is a stretch of glue between a face of one piece and a face of another.
type patch struct {
	area float64
	at   r3.Vec   // its centre
	n    r3.Vec   // from a to b
	pts  []r3.Vec // its outline; nil for the strip along a round
	own  float64  // second moment about its own centre, along n, mm⁴
}

// bond is all that holds piece a to piece b.
type bond struct {
	a, b    int
	patches []patch
	fits    []assembly.Fit // glued dowels: a or b is the rod
}

// bonds lists what is glued to what, by pieces, a before b.
func (r *run) bonds() []bond {
	if r.w.built { // faces are fitted to each other before they are glued: they hold as drawn
		return (&run{m: r.m.Drawn, w: r.w.drawn}).bonds()
	}
	return r.meeting()
}

// meeting lists the bonds of faces that lie on each other as the pieces are.
func (r *run) meeting() []bond { return r.w.glue.get(r.findBonds) }

func (r *run) findBonds() []bond {
	by := map[[2]int]*bond{}
	at := func(i, j int) *bond {
		k := [2]int{min(i, j), max(i, j)}
		if by[k] == nil {
			by[k] = &bond{a: k[0], b: k[1]}
		}
		return by[k]
	}
	pair := func(i, j int) {
		if i != j && at(i, j).patches == nil {
			k := at(i, j)
			k.patches = r.patches(k.a, k.b)
		}
	}
	for _, g := range r.m.Glues {
		for _, i := range g.A {
			for _, j := range g.B {
				pair(i, j)
			}
		}
	}
	for _, g := range r.m.GlueUps { // all that touches in a glue-up is glued
		for k, i := range g.Pieces {
			for _, j := range g.Pieces[:k] {
				pair(i, j)
			}
		}
	}
	for _, f := range r.m.Fits {
		if f.Kind == assembly.Glued {
			k := at(f.Rod, f.Piece)
			k.fits = append(k.fits, f)
		}
	}
	out := []bond{}
	for _, k := range by {
		if len(k.patches)+len(k.fits) > 0 {
			out = append(out, *k)
		}
	}
	slices.SortFunc(out, func(x, y bond) int { return (x.a-y.a)*len(r.m.Pieces) + x.b - y.b })
	return out
}

// bonded lists what glue joins, where it does: in the order of the pieces.
func (r *run) bonded() (out [][]int) {
	seen := make([]bool, len(r.m.Pieces))
	all := make([]int, len(r.m.Pieces))
	for i := range all {
		all[i] = i
	}
	for i := range all {
		if seen[i] {
			continue
		}
		set := hanging(i, all, r.meeting(), func(bond) bool { return false })
		for _, j := range set {
			seen[j] = true
		}
		out = append(out, set)
	}
	return out
}

// patches returns where faces of two pieces lie on each other; for a round on a flat
// the strip that glue fills (see strip).
func (r *run) patches(i, j int) (out []patch) {
	p, q := r.m.Pieces[i], r.m.Pieces[j]
	if !p.Body.Bounds().Grow(assembly.GlueMost).Meets(q.Body.Bounds()) {
		return nil
	}
	a, b := p.Bored(), q.Bored()
	for t := range assembly.Touches(a, b) {
		c := patch{area: t.Area, n: t.A.N}
		mo := outline.Moments(t.Shared)
		c.at = spaceOf(mo.Centroid, t.U, t.V, t.A)
		c.own = math.Abs(mo.XX + mo.YY)
		for _, s := range t.Shared {
			c.pts = append(c.pts, spaceOf(s, t.U, t.V, t.A))
		}
		out = append(out, c)
	}
	if len(out) > 0 {
		return out
	}
	if d := solid.Distance(p.Body, q.Body, farGap); d.D <= assembly.GlueMost {
		if area := float64(strip(p, q, d) * fringe(p, q)); area > 0 {
			out = append(out, patch{area: area, at: d.OnA, n: d.Normal, own: area * area / (2 * math.Pi)})
		}
	}
	return out
}

// fringe is how much more a strip carries for the thick glue beside it: out to the gap at
// which glue no longer holds it loses its strength, so half of it counts. The strip of a
// rod grows with the root of the gap, the spot of a ball with the gap.
func fringe(p, q *assembly.Piece) float64 {
	more := assembly.RunningLeast / assembly.GlueMost
	if p.Part.Shape != toy.Sphere && q.Part.Shape != toy.Sphere {
		more = math.Sqrt(more)
	}
	return 1 + (more-1)/2
}

// lateral is the second moment of a set of patches about an axis, and the farthest
// corner from it.
func lateral(ps []patch, at, axis r3.Vec) (j, far float64) {
	off := func(p r3.Vec) float64 { return axis.Cross(p.Sub(at)).Len() }
	for _, p := range ps {
		d := off(p.at)
		j += p.own + float64(p.area*float64(d*d))
		for _, q := range p.pts {
			far = math.Max(far, off(q))
		}
	}
	return j, far
}

package prove

import (
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/prove/gauge"
	"dryfit/toy"
)

// How a thing is shown to the small-parts gauge: with its arrises rounded, because
// sandpaper makes it smaller, and a piece that only its sharp corners keep out would go
// in. A rounding is what a ball sweeps; the middles of the balls are the core.

// chamferRound is the radius of the rounding that lies inside a chamfer of 1: the arc, at
// (sqrt 2 - 1) r from the arris, has to be as far in as the chamfer, at 1/sqrt 2.
const chamferRound = 1 / math.Sqrt2 / (math.Sqrt2 - 1)

// eased returns how far the arrises of a piece are rounded: by hand, as the file says
// or as is usual, or more by its own work, but no more than its least size allows.
func (r *run) eased(p *assembly.Piece) float64 {
	by := r.m.Toy.Ease.MM()
	if by == 0 {
		by = facts.Child(facts.ArrisUsual).Value
	}
	work := p.Part.Work
	if p.GlueUp != "" {
		for _, g := range r.m.GlueUps {
			if g.ID == p.GlueUp {
				work = append(work[:len(work):len(work)], g.Spec.Work...)
			}
		}
	}
	for _, w := range work {
		if a, ok := w.(toy.Arris); ok {
			if a.Round {
				by = math.Max(by, a.By.MM())
			} else {
				by = math.Max(by, chamferRound*a.By.MM())
			}
		}
	}
	s := p.Made.Size
	return math.Min(by, coreLeast*math.Min(s.X, math.Min(s.Y, s.Z)))
}

// shown is what the gauge's answer for one piece depends on, besides its solid.
type shown struct {
	shape toy.Shape
	plain bool
	eased float64
}

func (r *run) shown(p *assembly.Piece) shown { return shown{p.Part.Shape, plain(p), r.eased(p)} }

// coreLeast leaves a core in a piece that is rounded to half its thickness.
const coreLeast = 0.499

// easeNote says which rounding the gauge has been shown.
func (r *run) easeNote() string {
	if r.m.Toy.Ease > 0 {
		return "arrises taken as eased by " + r.len(r.m.Toy.Ease.MM())
	}
	return "arrises taken as eased by " + r.len(facts.Child(facts.ArrisUsual).Value) + ", as is usual: the file does not say"
}

// gauge decides one thing.
func (r *run) gauge(ids []int) gauge.Answer {
	if len(ids) > 1 {
		var pieces []*assembly.Piece
		for _, i := range ids {
			pieces = append(pieces, r.m.Pieces[i])
		}
		return r.gaugeWhole(pieces)
	}
	p := r.m.Pieces[ids[0]]
	return assembly.Keep(p.Made, r.shown(p), func() gauge.Answer { return r.gaugePiece(p) })
}

// gaugePiece decides one piece by the published lemmas, or by search; where it is does not matter.
func (r *run) gaugePiece(p *assembly.Piece) gauge.Answer {
	s, round := p.Made.Size, r.eased(p)
	if plain(p) {
		switch p.Part.Shape {
		case toy.Block:
			return gauge.RoundedBox(s.X, s.Y, s.Z, round)
		case toy.Disc:
			return gauge.RoundedCylinder(s.X, s.Z, round)
		case toy.Rod:
			return gauge.RoundedCylinder(s.Z, s.X, round)
		case toy.Sphere:
			return gauge.Ball(s.X)
		}
	}
	// A box that holds the piece and fits lets the piece in too.
	e := p.Made.Filled.Bounds().Size()
	if a := gauge.Box(e.X, e.Y, e.Z); a.Verdict == gauge.Fits {
		return a
	}
	return r.gaugeWhole([]*assembly.Piece{{Part: p.Part, Made: p.Made, GlueUp: p.GlueUp, Pose: r3.Identity, Body: p.Made.Filled}})
}

// gaugeWhole decides pieces that hang together, by search.
func (r *run) gaugeWhole(pieces []*assembly.Piece) gauge.Answer {
	round := math.Inf(1)
	for _, p := range pieces {
		if p.Part.Shape != toy.Sphere {
			round = math.Min(round, r.eased(p))
		}
	}
	if math.IsInf(round, 1) {
		round = 0
	}
	var core []r3.Vec
	var rims []gauge.Circle
	box := r3.EmptyBox()
	for _, p := range pieces {
		pts, circles := r.core(p, round)
		core, rims = append(core, pts...), append(rims, circles...)
		box = box.Union(r3.Around(pts...))
		for _, c := range circles {
			n := c.Normal
			wide := r3.Vec{X: across(n.X), Y: across(n.Y), Z: across(n.Z)}.Scale(c.Radius)
			box = box.Union(r3.Around(c.Center.Sub(wide), c.Center.Add(wide)))
		}
	}
	// The extent along an axis is a distance between two points of the thing.
	e := box.Size()
	if a, ok := gauge.Long(math.Max(e.X, math.Max(e.Y, e.Z)) + 2*round); ok {
		return a
	}
	return gauge.Rounded(core, rims, round)
}

// across is the share of its radius by which a circle reaches along an axis, to which
// its normal has that cosine.
func across(cos float64) float64 { return math.Sqrt(math.Max(0, 1-float64(cos*cos))) }

// plain tells whether a piece has still the outer shape of its blank.
func plain(p *assembly.Piece) bool {
	for _, w := range p.Part.Work {
		switch w.(type) {
		case toy.Saw, toy.Cut:
			return false
		}
	}
	return p.GlueUp == "" // work on the glue-up may have gone through it
}

// core returns what balls of radius round have to be put about to make the piece with
// its arrises eased, or a little less of it.
func (r *run) core(p *assembly.Piece, round float64) (pts []r3.Vec, rims []gauge.Circle) {
	c, dir, radius := p.Axis()
	own := r.eased(p)
	if plain(p) {
		half := 0.0
		switch p.Part.Shape {
		case toy.Disc:
			half = p.Made.Size.Z / 2
		case toy.Rod:
			half = p.Made.Size.X / 2
		case toy.Sphere:
			for _, v := range p.Body.Vertices() {
				pts = append(pts, c.Add(v.Sub(c).Unit().Scale(math.Max(0, radius-round))))
			}
			return pts, nil
		}
		if half > 0 {
			for _, h := range []float64{own - half, half - own} {
				rims = append(rims, gauge.Circle{Center: c.Add(dir.Scale(h)), Normal: dir, Radius: radius - own})
			}
			return nil, rims
		}
	}
	for _, v := range extremes(p.Body.Vertices()) {
		pts = append(pts, tucked(p.Body, v, own))
	}
	return pts, nil
}

// tucked returns the middle of a ball of that radius that lies behind every face that
// meets in v, by moving it behind each in turn until it is behind all.
func tucked(b solid.Body, v r3.Vec, radius float64) r3.Vec {
	var faces []r3.Vec
	at := r3.Around(v).Grow(tol.Weld)
	for i := range b.Pieces {
		c := &b.Pieces[i]
		if !c.Bounds().Meets(at) || !c.Contains(v, tol.Weld) {
			continue
		}
		for _, f := range c.Faces {
			if f.Tag != solid.Seam && math.Abs(f.Plane.Side(v)) <= tol.Weld {
				faces = append(faces, f.Plane.N)
			}
		}
	}
	const rounds = 200
	q := v
	for k := 0; k < rounds; k++ {
		done := true
		for _, n := range faces {
			if short := n.Dot(q.Sub(v)) + radius; short > tol.Weld {
				q, done = q.Sub(n.Scale(short)), false
			}
		}
		if done {
			break
		}
	}
	return q
}

// extremes keeps the points that can be corners of the hull: for each of the
// levels of x, the hull of the slice.
func extremes(pts []r3.Vec) []r3.Vec {
	levels := map[float64][]r2.Vec{}
	var order []float64
	for _, p := range pts {
		if levels[p.X] == nil {
			order = append(order, p.X)
		}
		levels[p.X] = append(levels[p.X], r2.Vec{X: p.Y, Y: p.Z})
	}
	var out []r3.Vec
	for _, x := range order {
		h := levels[x]
		if len(h) > 3 {
			h = outline.Hull(h)
		}
		for _, q := range h {
			out = append(out, r3.Vec{X: x, Y: q.X, Z: q.Y})
		}
	}
	return out
}

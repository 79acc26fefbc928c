package boards

import (
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
	"dryfit/shop"
	"dryfit/shop/nest"
	"dryfit/toy"
)

// roundChord is how far the polygon that stands for a round may reach beyond it: rounds are
// many, and a polygon of few sides around each is laid sooner. The true circle is inside.
const roundChord = 0.05

// cutOf says in what shape a part is laid: its outline, where all that shapes it is sawn
// square through its faces; else the squared blank that the work starts from.
func cutOf(m *assembly.Model, p *toy.Part, b shop.Blank, w facts.Row, at margins) cut {
	c := cut{part: p.Name, numbers: b.Numbers, rough: r2.Vec{X: b.RoughLengthMM, Y: b.RoughWidthMM}}
	if p.Shape == toy.Disc {
		dia := b.LengthMM
		c.as, c.room = AsRound, at.handling
		switch p.Made {
		case shop.MadePlug:
			c.as, dia = AsPlug, dia+facts.HoleSawTakes
		case shop.MadeTurned:
			dia, c.room = b.RoughLengthMM, 0
		}
		c.length, c.width = dia, dia
		c.shape = nest.Shape{Outer: round(r2.Vec{X: dia / 2, Y: dia / 2}, dia/2)}
		return c // a round lies alike any way
	}
	if needsBlank(m, p) {
		c.as, c.length, c.width, c.shape = AsBlank, c.rough.X, c.rough.Y, rect(c.rough)
	} else {
		c.as, c.room = AsOutline, at.handling
		c.shape = nest.Shape{Outer: rect(r2.Vec{X: b.LengthMM, Y: b.WidthMM}).Outer}
		if s, ok := outlineOf(m.Toy, p); ok {
			c.shape = s
		}
		box := r2.Around(c.shape.Outer...)
		c.length, c.width = box.Size().X, box.Size().Y
	}
	angles := []float64{0, math.Pi}
	if w.Name == "mdf" { // has no grain
		angles = []float64{0, math.Pi / 2, math.Pi, 3 * math.Pi / 2}
	}
	over := []bool{false}
	if c.as == AsOutline && p.TurnsOver() {
		over = append(over, true)
	}
	var kept []nest.Shape
	for _, o := range over {
	next:
		for _, a := range angles {
			t := nest.Turn{Angle: a, Over: o}
			s := laidAtOrigin(c.shape, t)
			for _, k := range kept {
				if alike(s, k) {
					continue next
				}
			}
			kept, c.turns = append(kept, s), append(c.turns, t)
		}
	}
	return c
}

// needsBlank tells whether a part is worked on as a squared blank: sawn on two sides, drilled
// or cut from an edge or end, or out of square, before its outline is sawn, or in a glue-up
// that is sawn later.
func needsBlank(m *assembly.Model, p *toy.Part) bool {
	for _, g := range m.GlueUps {
		for _, i := range g.Pieces {
			if m.Pieces[i].Part.Name != p.Name {
				continue
			}
			for _, w := range g.Spec.Work {
				switch w.(type) {
				case toy.Saw, toy.Cut:
					return true
				}
			}
		}
	}
	face := func(s toy.Side) bool { return s == toy.Top || s == toy.Bottom }
	first := false // something wants square sides, and no outline is sawn yet
	sawn := false
	for _, w := range p.Work {
		switch w := w.(type) {
		case toy.Saw:
			if !face(w.Side) {
				return true
			}
			sawn = true
		case toy.Cut:
			if !face(w.Side) {
				return true
			}
		case toy.Drill:
			first = first || !sawn && (!face(w.Side) || w.Lean != 0)
		}
	}
	return first
}

// outlineOf returns the outline of a part with what is cut right through its faces; drilled
// holes leave nothing to lay a piece in. It is false where that is not one piece.
func outlineOf(t *toy.Toy, p *toy.Part) (nest.Shape, bool) {
	flat := *p
	flat.Work, flat.Mirrors, flat.Lies, flat.Spare = nil, "", toy.Natural, 0
	for _, w := range p.Work {
		switch w := w.(type) {
		case toy.Saw:
			flat.Work = append(flat.Work, w)
		case toy.Cut:
			if w.Depth == 0 {
				flat.Work = append(flat.Work, w)
			}
		}
	}
	if len(flat.Work) == 0 {
		return nest.Shape{}, false
	}
	m, probs := assembly.Derive(&toy.Toy{File: t.File, Name: t.Name, Units: t.Units, Stock: t.Stock, Parts: []toy.Part{flat},
		Build: []toy.Step{toy.Put{Part: flat.Name, ID: flat.Name}}}, assembly.Options{})
	if len(probs) > 0 || len(m.Pieces) != 1 {
		return nest.Shape{}, false
	}
	return topOf(m.Pieces[0].Made.Filled, p.Thick.MM())
}

// topOf joins the edges of a body in a plane to loops.
func topOf(b solid.Body, z float64) (nest.Shape, bool) {
	type side struct{ a, b r2.Vec }
	var sides []side
	in := func(v r3.Vec) bool { return math.Abs(v.Z-z) < tol.Weld*10 }
	for _, e := range solid.FeatureEdges(b) {
		if in(e.A) && in(e.B) {
			sides = append(sides, side{r2.Vec{X: e.A.X, Y: e.A.Y}, r2.Vec{X: e.B.X, Y: e.B.Y}})
		}
	}
	near := func(a, b r2.Vec) bool { return a.Sub(b).Len() < tol.Page }
	var loops [][]r2.Vec
	for len(sides) > 0 {
		s := sides[0]
		sides = sides[1:]
		loop := []r2.Vec{s.a}
		for at := s.b; !near(at, loop[0]); {
			found := false
			for i, n := range sides {
				if near(n.b, at) {
					n.a, n.b = n.b, n.a
				}
				if near(n.a, at) {
					loop, at = append(loop, at), n.b
					sides = append(sides[:i], sides[i+1:]...)
					found = true
					break
				}
			}
			if !found {
				return nest.Shape{}, false
			}
		}
		loops = append(loops, loop)
	}
	if len(loops) == 0 {
		return nest.Shape{}, false
	}
	outer := 0
	for i := range loops {
		if a, b := r2.Around(loops[i]...), r2.Around(loops[outer]...); a.Size().X > b.Size().X+tol.Page || a.Size().Y > b.Size().Y+tol.Page {
			outer = i
		}
	}
	out := nest.Shape{Outer: loops[outer]}
	box := r2.Around(out.Outer...)
	for i, l := range loops {
		if i == outer {
			continue
		}
		if c := r2.Around(l...); c.Min.X < box.Min.X || c.Min.Y < box.Min.Y || c.Max.X > box.Max.X || c.Max.Y > box.Max.Y || !inside(out.Outer, l[0]) {
			return nest.Shape{}, false
		}
		out.Holes = append(out.Holes, l)
	}
	return out, true
}

// simplest is how far the line that is searched with may lie from the true one: fewer corners
// are sooner laid, and the room around the piece makes up for it.
const simplest = 0.15

// item is a piece as the search takes it.
func (c *cut) item(count int) nest.Item {
	it := nest.Item{Name: c.part, Shape: c.shape, Turns: c.turns, Count: count, Room: c.room}
	if c.as != AsOutline {
		return it
	}
	plain := nest.Shape{Outer: simple(c.shape.Outer)}
	fewer := len(c.shape.Outer) - len(plain.Outer)
	for _, h := range c.shape.Holes {
		plain.Holes = append(plain.Holes, simple(h))
		fewer += len(h) - len(plain.Holes[len(plain.Holes)-1])
	}
	if _, err := outline.ConvexParts(plain.Outer, plain.Holes); err != nil || fewer == 0 {
		return it
	}
	it.Shape, it.Room = plain, c.room+2*simplest
	return it
}

// simple leaves out corners of a closed line that lie near to the line without them (Ramer
// 1972, Douglas and Peucker 1973).
func simple(pts []r2.Vec) []r2.Vec {
	far := 0
	for i, p := range pts {
		if p.Sub(pts[0]).Len() > pts[far].Sub(pts[0]).Len() {
			far = i
		}
	}
	if far == 0 || len(pts) < 5 {
		return pts
	}
	ring := append(append([]r2.Vec{}, pts...), pts[0])
	var thin func(list []r2.Vec) []r2.Vec // without the last
	thin = func(list []r2.Vec) []r2.Vec {
		a, b := list[0], list[len(list)-1]
		d := b.Sub(a)
		worst, at := 0.0, 0
		for i := 1; i < len(list)-1; i++ {
			t := math.Min(1, math.Max(0, list[i].Sub(a).Dot(d)/d.Dot(d)))
			if off := list[i].Sub(a.Add(d.Scale(t))).Len(); off > worst {
				worst, at = off, i
			}
		}
		if worst <= simplest {
			return []r2.Vec{a}
		}
		return append(thin(list[:at+1]), thin(list[at:])...)
	}
	out := append(thin(ring[:far+1]), thin(ring[far:])...)
	if len(out) < 3 {
		return pts
	}
	return out
}

func rect(size r2.Vec) nest.Shape {
	return nest.Shape{Outer: []r2.Vec{{}, {X: size.X}, size, {Y: size.Y}}}
}

// round is a polygon around a circle.
func round(c r2.Vec, r float64) []r2.Vec {
	n := 8
	for ; r*(1/trig.Cos(math.Pi/float64(n))-1) > roundChord; n += 4 {
	}
	out := make([]r2.Vec, n)
	far := r / trig.Cos(math.Pi/float64(n))
	for i := range out {
		a := math.Pi * float64(2*i+1) / float64(n) // with sides, not corners, at the quarters
		out[i] = c.Add(r2.Vec{X: float64(far * trig.Cos(a)), Y: float64(far * trig.Sin(a))})
	}
	return out
}

// laidAtOrigin is a shape as a turn lays it, its box at the origin.
func laidAtOrigin(s nest.Shape, t nest.Turn) nest.Shape {
	p := nest.Problem{Items: []nest.Item{{Shape: s, Turns: []nest.Turn{t}}}}
	out := p.Laid(nest.Place{})
	return p.Laid(nest.Place{At: r2.Around(out.Outer...).Min.Neg()})
}

// alike tells whether two shapes are one.
func alike(a, b nest.Shape) bool {
	has := func(list []r2.Vec, p r2.Vec) bool {
		for _, q := range list {
			if p.Sub(q).Len() < tol.Page {
				return true
			}
		}
		return false
	}
	all := func(a, b []r2.Vec) bool {
		for _, p := range a {
			if !has(b, p) {
				return false
			}
		}
		return true
	}
	if len(a.Outer) != len(b.Outer) || len(a.Holes) != len(b.Holes) || !all(a.Outer, b.Outer) {
		return false
	}
	for _, h := range a.Holes {
		found := false
		for _, k := range b.Holes {
			found = found || len(h) == len(k) && all(h, k)
		}
		if !found {
			return false
		}
	}
	return true
}

// inside tells whether a point is in a polygon.
func inside(poly []r2.Vec, p r2.Vec) bool {
	in := false
	for i, a := range poly {
		b := poly[(i+1)%len(poly)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+float64((b.X-a.X)*((p.Y-a.Y)/(b.Y-a.Y))) {
			in = !in
		}
	}
	return in
}

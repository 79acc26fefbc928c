package prove

import (
	"math"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// An opening is looked at in a section square to the way in: what is wood there, be it of one
// piece or of several, and how large a rod goes between. Exact for flat walls; round ones are
// polygons within tol.Chord.

// plate is the wood in one plane.
type plate struct {
	slabs []slab
}

// slab is the section of one convex piece.
type slab struct {
	sides []half
	edges [][2]r2.Vec
	box   r2.Box
}

// half is what lies on the side of d against n; n need not have length 1.
type half struct {
	n r2.Vec
	d float64
}

// section cuts the toy with the plane at height z of a frame, near a box of that plane. Pieces of
// skip are left out; nil leaves out none.
func (r *run) section(f r3.Pose, z float64, near r2.Box, skip map[int]bool) plate {
	f.O = f.O.Add(f.W.Scale(z))
	box := f.Box(r3.Box{Min: r3.Vec{X: near.Min.X, Y: near.Min.Y}, Max: r3.Vec{X: near.Max.X, Y: near.Max.Y}})
	var p plate
	for i, q := range r.m.Pieces {
		if skip[i] || !q.Body.Bounds().Meets(box) {
			continue
		}
		b := q.Bored()
		for k := range b.Pieces {
			if c := &b.Pieces[k]; c.Bounds().Meets(box) {
				if s := slabOf(c, f); len(s.edges) > 0 {
					p.slabs = append(p.slabs, s)
				}
			}
		}
	}
	return p
}

// slabOf is the section of a convex piece with the plane of a frame.
func slabOf(c *solid.Convex, f r3.Pose) (s slab) {
	s.box = r2.EmptyBox()
	flat := func(v r3.Vec) r2.Vec { return r2.Vec{X: v.Dot(f.U), Y: v.Dot(f.V)} }
	for i := range c.Faces {
		g := &c.Faces[i]
		var cross [2]r2.Vec
		n := 0
		for j, k := range g.Loop {
			a, b := c.V[k].Sub(f.O), c.V[g.Loop[(j+1)%len(g.Loop)]].Sub(f.O)
			h, l := a.Dot(f.W), b.Dot(f.W)
			if h > 0 != (l > 0) && n < 2 {
				cross[n] = flat(a.Add(b.Sub(a).Scale(h / (h - l))))
				n++
			}
		}
		if n == 2 && cross[0] != cross[1] {
			s.edges = append(s.edges, cross)
			s.box = s.box.Add(cross[0]).Add(cross[1])
		}
		s.sides = append(s.sides, half{flat(g.Plane.N), g.Plane.D - g.Plane.N.Dot(f.O)})
	}
	return s
}

// gap is how far p is from the nearest wood, no more than most: 0 in the wood.
func (p plate) gap(q r2.Vec, most float64) float64 {
	for i := range p.slabs {
		s := &p.slabs[i]
		if beside(s.box, q) >= most {
			continue
		}
		in := true
		for _, h := range s.sides {
			if h.n.Dot(q) > h.d {
				in = false
				break
			}
		}
		if in {
			return 0
		}
		for _, e := range s.edges {
			most = math.Min(most, toEdge(q, e).Sub(q).Len())
		}
	}
	return most
}

// beside is how far a point lies from a box.
func beside(b r2.Box, q r2.Vec) float64 {
	return r2.Vec{X: math.Max(0, math.Max(b.Min.X-q.X, q.X-b.Max.X)), Y: math.Max(0, math.Max(b.Min.Y-q.Y, q.Y-b.Max.Y))}.Len()
}

// toEdge is the place of an edge that is nearest to q.
func toEdge(q r2.Vec, e [2]r2.Vec) r2.Vec {
	d := e[1].Sub(e[0])
	l := d.Dot(d)
	if l == 0 {
		return e[0]
	}
	return e[0].Add(d.Scale(math.Min(1, math.Max(0, q.Sub(e[0]).Dot(d)/l))))
}

const (
	// closely is how near the middle of the largest rod is brought in the end, and roughly
	// how near its size is known before that: a slot has a whole line of middles.
	closely = tol.Touch
	roughly = 0.15
)

// largest looks inside a line for the middle of the largest rod that goes between the wood,
// and returns its diameter, no more than most; 0 if it is less than least. Halves of the box are
// halved again while they can hold a larger one.
func (p plate) largest(line outline.Path, least, most float64) (at r2.Vec, dia float64) {
	box := line.Bounds()
	type cell struct {
		c    r2.Vec
		h    r2.Vec // half its sides
		most float64
	}
	best, found := least/2-roughly, false
	look := func(c, h r2.Vec) cell {
		g, reach := p.gap(c, most/2), h.Len()
		switch {
		case line.Contains(c):
			if g > best {
				best, at, found = g, c, true
			}
		case line.DistanceTo(c) > reach:
			return cell{c, h, 0} // all of it is outside
		}
		return cell{c, h, math.Min(most/2, g+reach)}
	}
	size := box.Size().Scale(0.5)
	cells := []cell{look(box.Min.Add(size), size)}
	for len(cells) > 0 && best < most/2 {
		var next []cell
		for _, c := range cells {
			if c.most <= best+roughly {
				continue
			}
			h := c.h.Scale(0.5)
			for k := 0; k < 4; k++ {
				d := h
				if k&1 == 1 {
					d.X = -d.X
				}
				if k&2 == 2 {
					d.Y = -d.Y
				}
				next = append(next, look(c.c.Add(d), h))
			}
		}
		cells = next
	}
	if !found {
		return at, 0
	}
	for step := roughly; step > closely/4 && best < most/2; { // and from there uphill
		better := false
		for k := 0; k < 8; k++ {
			sin, cos := trig.Turn(float64(math.Pi / 4 * float64(k)))
			c := at.Add(r2.Vec{X: cos, Y: sin}.Scale(step))
			if g := p.gap(c, most/2); g > best && line.Contains(c) {
				best, at, better = g, c, true
			}
		}
		if !better {
			step /= 2
		}
	}
	return at, 2 * best
}

// slide is how far a rod goes from c along u before it meets wood, up to limit.
func (p plate) slide(c, u r2.Vec, radius, limit float64) float64 {
	t := 0.0
	for k := 0; t < limit && k < slideSteps; k++ {
		g := p.gap(c.Add(u.Scale(t)), limit+radius) - radius
		if g <= closely {
			return t
		}
		t += g
	}
	return math.Min(t, limit)
}

const (
	// slideSteps bounds the steps of a slide along a wall.
	slideSteps = 2000
	// slideShare is what of the largest rod slides along an opening: flesh gives by as much
	// (common practice, no source), and a rod of full size would stick in any taper.
	slideShare = 0.85
	// touchShare is how much farther than the nearest wood other wood may be that still holds the
	// rod.
	touchShare = 1.02
)

// long is how long an opening is for what fills it from side to side: from each wall that
// the largest rod touches, how far a slightly smaller one slides along that wall, both
// ways, with its own thickness. A round or a square hole is as long as it is wide.
func (p plate) long(c r2.Vec, dia, limit float64) float64 {
	var walls []r2.Vec
	for i := range p.slabs {
		for _, e := range p.slabs[i].edges {
			w := toEdge(c, e).Sub(c)
			if l := w.Len(); l == 0 || l > float64(dia/2*touchShare)+closely {
				continue
			}
			w = w.Unit()
			known := false
			for _, o := range walls {
				known = known || math.Abs(o.Cross(w)) < sameWall
			}
			if !known {
				walls = append(walls, w)
			}
		}
	}
	most := dia
	rod := dia * slideShare / 2
	for _, w := range walls {
		u := w.Perp()
		most = math.Max(most, p.slide(c, u, rod, limit)+p.slide(c, u.Neg(), rod, limit)+2*rod)
	}
	return most
}

// sameWall is the sine of the angle, 5 degrees, under which two walls count as one.
const sameWall = 0.087

package solid

import (
	"math"
	"slices"
	"sort"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// Edge is a line where two faces of the true surface of a body meet.
type Edge struct {
	A, B   r3.Vec
	N      [2]r3.Vec // outward normals of the faces; where four meet, two of them
	Tag    [2]int32  // and their tags
	Smooth bool      // the faces are facets of one round surface
}

// smoothTurn is the cosine of the most that two facets of one round surface can
// be turned against each other: 45 degrees in the coarsest circle, of 8 chords.
var smoothTurn = trig.Cos(46 * math.Pi / 180)

// FeatureEdges returns the true edges of b, each once and whole: seams between
// pieces cancel, and collinear stretches between the same faces are joined.
// Facets that share a tag and turn by at most 45 degrees meet in a Smooth edge.
// Edges shorter than tol.Page are left out: no drawing can show them.
//
// In every plane the outlines of all faces are added up as a chain, faces to
// either side with their own sense; what is inside the body occurs once each
// way and cancels.
func FeatureEdges(b Body) []Edge {
	g := gather(b)
	var out []Edge
	for i := range g.lines {
		out = g.resolve(&g.lines[i], out)
	}
	for i := range out {
		out[i].A, out[i].B = out[i].A.Add(g.mid), out[i].B.Add(g.mid)
	}
	return out
}

// Outline tells whether e is to be drawn when seen from toward: a crisp edge,
// or one where a round surface turns away.
func (e Edge) Outline(toward r3.Vec) bool {
	if !e.Smooth {
		return true
	}
	return (e.N[0].Dot(toward) > tol.Clip) != (e.N[1].Dot(toward) > tol.Clip)
}

type gathered struct {
	mid    r3.Vec
	planes []sheet
	lines  []line
}

// sheet is one plane, about mid, with all the faces that lie in it, to either
// side.
type sheet struct {
	Plane
	faces []flat
}

// flat is a face in a sheet, facing as the sheet or against it.
type flat struct {
	c      *Convex
	face   *Face
	facing float64
}

// line is a carrier of edges: p + t·d.
type line struct {
	p, d  r3.Vec
	first int // lowest index of its edges: lines are taken in that order
	runs  []run
}

// run is one edge of one face on its line.
type run struct {
	from, to float64
	plane    int32
	sign     int // along the line, or back
}

// face is a face of the true surface that ends at a line.
type face struct {
	plane int32
	n     r3.Vec
	tag   int32
}

func gather(b Body) gathered {
	g := gathered{mid: b.Bounds().Center()}
	if b.Empty() {
		return g
	}
	type side struct {
		a, b  r3.Vec
		l     float64
		plane int32
	}
	var sides []side
	planes := finder{}
	for i := range b.Pieces {
		c := &b.Pieces[i]
		for k := range c.Faces {
			f := &c.Faces[k]
			p := Plane{f.Plane.N, f.Plane.D - f.Plane.N.Dot(g.mid)}
			id := planes.find(planeHash(p), func(id int32) bool { return samePlane(p, g.planes[id].Plane) })
			if id < 0 {
				id = int32(len(g.planes))
				g.planes = append(g.planes, sheet{Plane: p})
				planes.add(planeHash(p), id)
			}
			own := &g.planes[id]
			own.faces = append(own.faces, flat{c, f, math.Copysign(1, p.N.Dot(own.N))})
			for j, v := range f.Loop {
				s := side{a: c.V[v].Sub(g.mid), b: c.V[f.Loop[(j+1)%len(f.Loop)]].Sub(g.mid), plane: id}
				if s.l = s.b.Sub(s.a).Len(); s.l > tol.Weld {
					sides = append(sides, s)
				}
			}
		}
	}
	// The longest first: they tell best where their line runs.
	order := make([]int, len(sides))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool { return sides[order[i]].l > sides[order[j]].l })
	lines := finder{}
	for _, i := range order {
		s := &sides[i]
		d := s.b.Sub(s.a).Scale(1 / s.l)
		foot := s.a.Sub(d.Scale(d.Dot(s.a)))
		h := foot.Dot(hashDir)
		id := lines.find(h, func(id int32) bool {
			l := &g.lines[id]
			return math.Abs(l.d.Dot(d)) > 0.99 && l.off(s.a) < tol.Weld && l.off(s.b) < tol.Weld
		})
		if id < 0 {
			id = int32(len(g.lines))
			g.lines = append(g.lines, line{p: foot, d: d, first: i})
			lines.add(h, id)
		}
		l := &g.lines[id]
		l.first = min(l.first, i)
		r := run{from: l.d.Dot(s.a), to: l.d.Dot(s.b), plane: s.plane, sign: 1}
		if r.from > r.to {
			r.from, r.to, r.sign = r.to, r.from, -1
		}
		l.runs = append(l.runs, r)
	}
	sort.SliceStable(g.lines, func(i, j int) bool { return g.lines[i].first < g.lines[j].first })
	return g
}

func (l *line) off(p r3.Vec) float64 {
	q := p.Sub(l.p)
	return q.Sub(l.d.Scale(l.d.Dot(q))).Len()
}

// resolve adds up the runs of a line and appends the edges that remain.
func (g *gathered) resolve(l *line, out []Edge) []Edge {
	sort.SliceStable(l.runs, func(i, j int) bool { return l.runs[i].plane < l.runs[j].plane })
	stops := make([]float64, 0, 2*len(l.runs))
	for _, r := range l.runs {
		stops = append(stops, r.from, r.to)
	}
	sort.Float64s(stops)
	k := 1
	for _, s := range stops[1:] { // one stop for all within tol.Weld
		if s-stops[k-1] > tol.Weld {
			stops[k] = s
			k++
		}
	}
	stops = stops[:k]
	var open, now []face // faces of the edge being extended, and of this stretch
	var from float64
	flush := func(to float64) {
		if len(open) == 0 || to-from < tol.Page {
			return
		}
		e := Edge{A: l.p.Add(l.d.Scale(from)), B: l.p.Add(l.d.Scale(to))}
		for i := 0; i < 2 && i < len(open); i++ {
			e.N[i], e.Tag[i] = open[i].n, open[i].tag
		}
		e.Smooth = len(open) == 2 && e.Tag[0] == e.Tag[1] && e.Tag[0] != Seam && e.N[0].Dot(e.N[1]) > smoothTurn
		out = append(out, e)
	}
	for i := 0; i+1 < len(stops); i++ {
		// Not the middle: there a seam may cross.
		now = g.ends(l, stops[i]+float64(0.41421356*(stops[i+1]-stops[i])), now[:0])
		if !slices.Equal(open, now) {
			flush(stops[i])
			open, from = append(open[:0], now...), stops[i]
		}
	}
	flush(stops[len(stops)-1])
	return out
}

// ends returns the faces of the true surface that end at t on the line: in each
// plane whose runs do not cancel there, those just beside the line.
func (g *gathered) ends(l *line, t float64, out []face) []face {
	for i := 0; i < len(l.runs); {
		j, sum, id := i, 0, l.runs[i].plane
		for ; j < len(l.runs) && l.runs[j].plane == id; j++ {
			if r := &l.runs[j]; r.from < t && t < r.to {
				sum += r.sign
			}
		}
		i = j
		if sum == 0 {
			continue
		}
		p := &g.planes[id]
		at, across := g.mid.Add(l.p).Add(l.d.Scale(t)), p.N.Cross(l.d).Scale(2*tol.Weld)
		for _, q := range [2]r3.Vec{at.Add(across), at.Sub(across)} {
			if f := p.real(q); f != nil {
				out = append(out, face{id, p.N.Scale(f.facing), f.face.Tag})
			}
		}
	}
	return out
}

// real returns the face of the true surface at q, a point of the sheet: one that
// has no other against it.
func (p *sheet) real(q r3.Vec) (found *flat) {
	for i := range p.faces {
		f := &p.faces[i]
		if !f.c.box.Grow(tol.Lift).Meets(r3.Box{Min: q, Max: q}) || !f.holds(q) {
			continue
		}
		if found == nil {
			found = f
		} else if found.facing != f.facing {
			return nil
		}
	}
	return found
}

// holds tells whether q, a point of the plane, is in the face.
func (f *flat) holds(q r3.Vec) bool {
	l := f.face.Loop
	for j, a := range l {
		p := f.c.V[a]
		if f.c.V[l[(j+1)%len(l)]].Sub(p).Cross(q.Sub(p)).Dot(f.face.Plane.N) < 0 {
			return false
		}
	}
	return true
}

// finder finds things by a number that is nearly the same for the same thing.
type finder map[int64][]int32

const finderCell = 1e3 * tol.Weld

// hashDir is a direction that no drawing has, so that different things rarely
// share a number.
var hashDir = r3.Vec{X: 0.61803398875, Y: 0.41421356237, Z: 0.73205080757}

func (f finder) find(h float64, same func(int32) bool) int32 {
	cell := int64(math.Floor(h / finderCell))
	for _, c := range [3]int64{cell, cell - 1, cell + 1} {
		for _, id := range f[c] {
			if same(id) {
				return id
			}
		}
	}
	return -1
}

func (f finder) add(h float64, id int32) {
	cell := int64(math.Floor(h / finderCell))
	f[cell] = append(f[cell], id)
}

// planeHash is the same for a plane and its other side.
func planeHash(p Plane) float64 {
	k := p.N.Dot(hashDir)
	return float64(100*float64(k*k)) + float64(p.D*k)
}

func samePlane(p, q Plane) bool {
	if p.N.Dot(q.N) < 0 {
		q = q.Flip()
	}
	return p.N.Sub(q.N).Len() < tol.Weld && math.Abs(p.D-q.D) < tol.Weld
}

package picture

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
)

// Hidden lines against a ray-caster that knows nothing of edges or convex pieces: at ten
// thousand random points of the edges of the closed surfaces (as they are exported) a ray
// goes to the eye, by the intersection of rays and triangles after Möller and Trumbore
// (Journal of Graphics Tools 2, 1997, from memory), and the drawing has a line there if,
// and only if, no wood is in the way. Points within 0.2 mm of another edge are left out.
func TestHiddenLinesAgreeWithRays(t *testing.T) {
	t.Parallel()
	for _, name := range []string{tram, "../../examples/tipping-wagon.yaml"} {
		toy := toyOf(t, name)
		m, d, whole := toy.m, toy.draft, toy.look.o
		apart := d.known.gather(m, all(m), d.Exploded(toy.order()).offsets())
		for _, c := range []struct {
			what string
			o    *object
			v    View
		}{
			{"isometric", whole, FrontRight}, {"isometric from behind", whole, BackLeft}, {"isometric from below", whole, FrontLeftBelow},
			{"front", whole, FromFront}, {"side", whole, FromSide}, {"top", whole, FromTop}, {"drawn apart", apart, FrontRight},
		} {
			asked, agree := castAll(t, c.o, c.v.sight(), 10000)
			share := float64(agree) / float64(asked)
			t.Logf("%s, %s: %d of %d agree, %.3f %%", name, c.what, agree, asked, 100*share)
			if asked < 10000 || share < 0.999 {
				t.Errorf("%s, %s: %d of %d agree", name, c.what, agree, asked)
			}
		}
	}
}

// thick is how much wood in the way hides a point, mm: less is where round things that
// touch stand in each other's chords.
const thick = 0.03

type castEdge struct {
	a, b r3.Vec
	lift r3.Vec
	p, q r2.Vec
}

type castTri struct {
	body    int
	a, b, c r3.Vec
}

// cells finds what is near a place of the paper.
type cells struct {
	size float64
	in   map[[2]int][]int32
}

func (c *cells) key(p r2.Vec) [2]int {
	return [2]int{int(math.Floor(p.X / c.size)), int(math.Floor(p.Y / c.size))}
}

func (c *cells) add(i int, around float64, pts ...r2.Vec) {
	box := r2.Around(pts...)
	lo := c.key(box.Min.Sub(r2.Vec{X: around, Y: around}))
	hi := c.key(box.Max.Add(r2.Vec{X: around, Y: around}))
	for x := lo[0]; x <= hi[0]; x++ {
		for y := lo[1]; y <= hi[1]; y++ {
			c.in[[2]int{x, y}] = append(c.in[[2]int{x, y}], int32(i))
		}
	}
}

func castAll(t *testing.T, o *object, s sight, want int) (asked, agree int) {
	var tris []castTri
	var edges []castEdge
	triCells := cells{2, map[[2]int][]int32{}}
	for k, b := range o.bodies {
		m := solid.Surface(b)
		if m.Open() > 0 {
			t.Fatal("a surface is open")
		}
		sides := map[[2]int32]r3.Vec{}
		for _, x := range m.T {
			n := m.V[x[1]].Sub(m.V[x[0]]).Cross(m.V[x[2]].Sub(m.V[x[0]])).Unit()
			for i := range x {
				sides[[2]int32{x[i], x[(i+1)%3]}] = n
			}
			triCells.add(len(tris), 0.01, s.flat(m.V[x[0]]), s.flat(m.V[x[1]]), s.flat(m.V[x[2]]))
			tris = append(tris, castTri{k, m.V[x[0]], m.V[x[1]], m.V[x[2]]})
		}
		for _, x := range m.T { // in the order of the triangles
			for i := range x {
				u, v := x[i], x[(i+1)%3]
				n1, n2 := sides[[2]int32{u, v}], sides[[2]int32{v, u}]
				if u > v || n2 == (r3.Vec{}) {
					continue
				}
				front := n1.Dot(s.toward) > 1e-6 || n2.Dot(s.toward) > 1e-6
				turns := (n1.Dot(s.toward) > 1e-6) != (n2.Dot(s.toward) > 1e-6)
				if sharp := n1.Dot(n2) < 0.64; front && (sharp || turns) && m.V[u].Sub(m.V[v]).Cross(s.toward).Len() > 0.05 {
					edges = append(edges, castEdge{m.V[u], m.V[v], n1.Add(n2).Unit().Scale(1e-3), s.flat(m.V[u]), s.flat(m.V[v])})
				}
			}
		}
	}
	edgeCells := cells{1, map[[2]int][]int32{}}
	sum := make([]float64, len(edges))
	total := 0.0
	for i, e := range edges {
		edgeCells.add(i, 0.2, e.p, e.q)
		total += e.q.Sub(e.p).Len()
		sum[i] = total
	}
	strokes := s.see(o)
	strokeCells := cells{1, map[[2]int][]int32{}}
	for i, k := range strokes {
		strokeCells.add(i, 0.05, k.a, k.b)
	}
	r := rand.New(rand.NewSource(7))
	shown := 0
	for tries := 0; asked < want && tries < 40*want; tries++ {
		i, _ := slices.BinarySearch(sum, r.Float64()*total)
		e := &edges[i]
		f := r.Float64()
		at := e.a.Add(e.b.Sub(e.a).Scale(f))
		q := s.flat(at)
		if slices.ContainsFunc(edgeCells.in[edgeCells.key(q)], func(j int32) bool { return int(j) != i && crowds(e, &edges[j], q) }) {
			continue
		}
		asked++
		drawn := slices.ContainsFunc(strokeCells.in[strokeCells.key(q)], func(j int32) bool { return strokes[j].away(q) < 0.02 })
		// Edges behind one another share a line of the paper: it is drawn if one is seen.
		seen := slices.ContainsFunc(edgeCells.in[edgeCells.key(q)], func(j int32) bool {
			o := &edges[j]
			d := o.q.Sub(o.p)
			f := q.Sub(o.p).Dot(d) / d.Dot(d)
			if f < 0 || f > 1 || (stroke{a: o.p, b: o.q}).away(q) > 1e-3 {
				return false
			}
			return inTheWay(tris, triCells.in[triCells.key(q)], o.a.Add(o.b.Sub(o.a).Scale(f)).Add(o.lift), s.toward) < thick
		})
		if seen == drawn {
			agree++
		} else if shown++; shown <= 3 {
			t.Logf("at %v of the edge from %v to %v: seen %v, drawn %v", at, e.a, e.b, seen, drawn)
		}
	}
	return asked, agree
}

// crowds tells whether edge o is within 0.2 mm of q, which lies on e: not if it lies on the
// same line, or runs on from it.
func crowds(e, o *castEdge, q r2.Vec) bool {
	if (stroke{a: o.p, b: o.q}).away(q) > 0.2 {
		return false
	}
	d, g := e.q.Sub(e.p).Unit(), o.q.Sub(o.p).Unit()
	if math.Abs(d.Cross(g)) < 1e-6 && math.Abs(d.Cross(o.p.Sub(e.p))) < 1e-6 {
		return false
	}
	joined := e.a == o.a || e.a == o.b || e.b == o.a || e.b == o.b
	return !joined || math.Abs(d.Dot(g)) < 0.9
}

// inTheWay returns the longest stretch inside one body on the way from p along dir.
func inTheWay(tris []castTri, near []int32, p, dir r3.Vec) float64 {
	hits := map[int][]float64{}
	for _, k := range near {
		t := &tris[k]
		u, v := t.b.Sub(t.a), t.c.Sub(t.a)
		h := dir.Cross(v)
		det := u.Dot(h)
		if math.Abs(det) < 1e-12 {
			continue
		}
		w := p.Sub(t.a)
		x := w.Dot(h) / det
		n := w.Cross(u)
		y := dir.Dot(n) / det
		if x < 0 || y < 0 || x+y > 1 {
			continue
		}
		if far := v.Dot(n) / det; far > 0 {
			hits[t.body] = append(hits[t.body], far)
		}
	}
	most := 0.0
	for _, h := range hits {
		slices.Sort(h)
		from := 0.0
		if len(h)%2 == 0 {
			from, h = h[0], h[1:]
		}
		for i := 0; i < len(h); i += 2 {
			if i > 0 {
				from = h[i-1]
			}
			most = max(most, h[i]-from)
		}
	}
	return most
}

package outline

import (
	"fmt"
	"math"
	"sort"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// MaxChords is the largest number of straight edges that may stand for a path
// or a region.
const MaxChords = 20000

// Fault is why a path or region cannot be sawn. A and B are the steps at fault
// (indices into Segs; len(Segs) is the understood closing step), B is -1 where
// there is but one or none; PathA and PathB tell which path of a region: 0 the
// outer, 1 on the holes.
type Fault struct {
	PathA, A int
	PathB, B int
	At       r2.Vec
	Says     string
}

func (f *Fault) Error() string { return f.Says }

// Check returns nil if the path can be sawn: it encloses an area and nowhere
// crosses or touches itself (comes within tol.Clip). It looks at the polygon
// that stands for the path. Otherwise it returns the first fault along the
// path.
func (p Path) Check() *Fault { return Region{Outer: p}.Check() }

// Region is a closed line less the holes within it.
type Region struct {
	Outer Path
	Holes []Path
}

// Check is Path.Check for all lines of the region, which must not touch each
// other; every hole must lie inside the outer line and outside the other holes.
func (g Region) Check() *Fault {
	all := append([]Path{g.Outer}, g.Holes...)
	if f := usable(all); f != nil {
		return f
	}
	if f := contact(all...); f != nil {
		return f
	}
	for k, p := range all {
		if area := SignedArea(p.Polygon()); math.Abs(area) <= float64(tol.Clip*p.Length()) {
			return &Fault{PathA: k, PathB: k, B: -1, At: p.Start, Says: "the line encloses no area"}
		}
	}
	for k, p := range g.Holes {
		if g.Outer.winding(p.Start) == 0 {
			return &Fault{PathA: k + 1, B: -1, At: p.Start, Says: fmt.Sprintf("hole %d lies outside the outline", k+1)}
		}
	}
	for i, p := range g.Holes {
		for j, q := range g.Holes {
			if i != j && inBox(p.Start, q.Bounds()) && q.winding(p.Start) != 0 {
				return &Fault{PathA: i + 1, PathB: j + 1, B: -1, At: p.Start, Says: fmt.Sprintf("hole %d lies inside hole %d", i+1, j+1)}
			}
		}
	}
	return nil
}

func inBox(p r2.Vec, b r2.Box) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y
}

// Area returns the exact area of the outer line less the holes.
func (g Region) Area() float64 {
	a := math.Abs(g.Outer.Area())
	for _, h := range g.Holes {
		a -= math.Abs(h.Area())
	}
	return a
}

// Polygons returns the polygons that stand for the lines, all
// counter-clockwise.
func (g Region) Polygons() (outer []r2.Vec, holes [][]r2.Vec) {
	for _, h := range g.Holes {
		holes = append(holes, h.Polygon())
	}
	return g.Outer.Polygon(), holes
}

// Parts cuts the region's polygons into convex ones: see ConvexParts.
func (g Region) Parts() ([][]r2.Vec, error) {
	outer, holes := g.Polygons()
	return ConvexParts(outer, holes)
}

// usable finds numbers that are none, and lines without three points.
func usable(all []Path) *Fault {
	chords := 0
	for k, p := range all {
		var f *Fault
		p.each(func(i int, from r2.Vec, s Seg) {
			bad := !finite(from) || !finite(s.To)
			if s.R != 0 {
				bad = bad || !finite(s.C) || !(s.R > 0) || math.IsInf(s.R, 0) || !(math.Abs(s.Sweep) <= 2*math.Pi)
			}
			if bad && f == nil {
				f = &Fault{PathA: k, PathB: k, A: i, B: -1, At: from, Says: "a number of the line is not usable"}
			}
		})
		if f != nil {
			return f
		}
		if chords += p.chordCount(); chords > MaxChords {
			return &Fault{PathA: k, PathB: k, B: -1, At: p.Start, Says: fmt.Sprintf("the line needs more than %d straight edges", MaxChords)}
		}
		if pts, _ := merged(p.trace()); len(pts) < 3 {
			return &Fault{PathA: k, PathB: k, B: -1, At: p.Start, Says: "the line has fewer than three different points"}
		}
	}
	return nil
}

// edge is a straight edge of a traced path; edges of one path follow each other
// in a slice, and the path begins at first and has n.
type edge struct {
	a, b           r2.Vec
	path, seg      int
	first, n, self int
}

func edges(all ...Path) []edge {
	var out []edge
	for k, p := range all {
		pts, of := merged(p.trace())
		out = appendRing(out, pts, of, k)
	}
	return out
}

func appendRing(out []edge, pts []r2.Vec, of []int, path int) []edge {
	first, n := len(out), len(pts)
	for i := range pts {
		e := edge{a: pts[i], b: pts[(i+1)%n], path: path, first: first, n: n, self: i}
		if of != nil {
			e.seg = of[i]
		}
		out = append(out, e)
	}
	return out
}

// contact returns the first place along the paths where two edges that do not
// follow each other come within tol.Clip, or two that do fold back.
func contact(all ...Path) *Fault {
	es := edges(all...)
	bi, bj := len(es), len(es)
	var at r2.Vec
	var crossing bool
	sweep(es, tol.Clip, func(i, j int) bool {
		if i > j {
			i, j = j, i
		}
		if i > bi || i == bi && j > bj {
			return true
		}
		if p, cross, ok := meet(es[i], es[j]); ok {
			bi, bj, at, crossing = i, j, p, cross
		}
		return true
	})
	if bi == len(es) {
		return nil
	}
	e, f := es[bi], es[bj]
	does := "touches"
	if crossing {
		does = "crosses"
	}
	says := "the line " + does + " itself"
	if e.path != f.path {
		names := [2]string{"the outline", "the outline"}
		for i, k := range [2]int{e.path, f.path} {
			if k > 0 {
				names[i] = fmt.Sprintf("hole %d", k)
			}
		}
		says = names[1] + " " + does + " " + names[0]
	}
	return &Fault{PathA: e.path, A: e.seg, PathB: f.path, B: f.seg, At: at, Says: says}
}

// meet tells whether two edges come within tol.Clip of each other, where, and
// whether they truly cross.
func meet(e, f edge) (at r2.Vec, crossing, ok bool) {
	if e.path == f.path && e.n > 0 {
		follows := f.self == (e.self+1)%e.n
		if !follows && e.self == (f.self+1)%f.n {
			e, f, follows = f, e, true
		}
		if follows {
			switch {
			case e.n == 2:
				return at, false, false
			case toSegment(f.b, e.a, e.b) <= tol.Clip:
				return f.b, false, true
			case toSegment(e.a, f.a, f.b) <= tol.Clip:
				return e.a, false, true
			}
			return at, false, false
		}
	}
	if beside(e, f) || beside(f, e) {
		return at, false, false
	}
	if crosses(e, f) {
		d, g := e.b.Sub(e.a), f.b.Sub(f.a)
		t := f.a.Sub(e.a).Cross(g) / d.Cross(g)
		return e.a.Add(d.Scale(t)), true, true
	}
	for _, c := range [4]struct{ p, a, b r2.Vec }{{f.a, e.a, e.b}, {f.b, e.a, e.b}, {e.a, f.a, f.b}, {e.b, f.a, f.b}} {
		if toSegment(c.p, c.a, c.b) <= tol.Clip {
			return c.p, false, true
		}
	}
	return at, false, false
}

// beside tells whether f surely lies on one side of the line of e, farther off
// than tol.Clip. It may say no where yes were true.
func beside(e, f edge) bool {
	d := e.b.Sub(e.a)
	u, w := f.a.Sub(e.a), f.b.Sub(e.a)
	p, q := d.Cross(u), d.Cross(w)
	// |d| <= reach; the second term is far above the rounding of a product.
	reach := math.Abs(d.X) + math.Abs(d.Y)
	far := float64(reach * (tol.Clip + 0x1p-48*(math.Abs(u.X)+math.Abs(u.Y)+math.Abs(w.X)+math.Abs(w.Y))))
	return p > far && q > far || p < -far && q < -far
}

// crosses tells exactly whether the insides of two edges cross in one point.
func crosses(e, f edge) bool {
	return orient(e.a, e.b, f.a)*orient(e.a, e.b, f.b) < 0 && orient(f.a, f.b, e.a)*orient(f.a, f.b, e.b) < 0
}

// sweep calls f for every pair of edges whose boxes come within pad, until f
// returns false. It sweeps along the axis in which the edges are shorter.
func sweep(es []edge, pad float64, f func(i, j int) bool) {
	type span struct {
		lo, hi, bottom, top float64
		i                   int
	}
	all := make([]span, len(es))
	sumX, sumY, box := 0.0, 0.0, r2.EmptyBox()
	for _, e := range es {
		box = box.Add(e.a)
		sumX += math.Abs(e.a.X - e.b.X)
		sumY += math.Abs(e.a.Y - e.b.Y)
	}
	across := float64(sumX*box.Size().Y) > float64(sumY*box.Size().X)
	for i, e := range es {
		b := r2.Around(e.a, e.b)
		all[i] = span{b.Min.X, b.Max.X + pad, b.Min.Y, b.Max.Y + pad, i}
		if across {
			all[i] = span{b.Min.Y, b.Max.Y + pad, b.Min.X, b.Max.X + pad, i}
		}
	}
	sort.Slice(all, func(a, b int) bool {
		if all[a].lo != all[b].lo {
			return all[a].lo < all[b].lo
		}
		return all[a].i < all[b].i
	})
	for k, s := range all {
		for l := k + 1; l < len(all) && all[l].lo <= s.hi; l++ {
			if t := &all[l]; t.bottom <= s.top && s.bottom <= t.top && !f(s.i, t.i) {
				return
			}
		}
	}
}

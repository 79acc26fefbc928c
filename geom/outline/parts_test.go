package outline

import (
	"fmt"
	"math"
	"math/big"
	"math/rand"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// star returns a random simple polygon with n corners between two radii.
func star(rnd *rand.Rand, c r2.Vec, n int, lo, hi float64) []r2.Vec {
	var p []r2.Vec
	for i := range n {
		a := 2 * math.Pi * (float64(i) + 0.9*rnd.Float64()) / float64(n)
		r := lo + (hi-lo)*rnd.Float64()
		p = append(p, c.Add(v(r*math.Cos(a), r*math.Sin(a))))
	}
	return p
}

// cover checks all that ConvexParts promises, and returns the parts.
func cover(t testing.TB, poly []r2.Vec, holes ...[]r2.Vec) [][]r2.Vec {
	t.Helper()
	parts, err := ConvexParts(poly, holes)
	if err != nil {
		t.Fatalf("%v\n%v\n%v", err, poly, holes)
	}
	known := map[r2.Vec]bool{}
	area := math.Abs(SignedArea(poly))
	size := area
	for _, p := range poly {
		known[p] = true
	}
	for _, h := range holes {
		area -= math.Abs(SignedArea(h))
		for _, p := range h {
			known[p] = true
		}
	}
	sum := 0.0
	for k, p := range parts {
		sum += SignedArea(p)
		for i, q := range p {
			if !known[q] {
				t.Fatalf("corner %v is not of the input", q)
			}
			if a, b := p[(i+1)%len(p)], p[(i+2)%len(p)]; orient(q, a, b) < 0 || toSegment(a, q, b) <= tol.Clip {
				t.Fatalf("part %d is not strictly convex at %v: %v", k, a, p)
			}
		}
		if !IsConvex(p) {
			t.Fatalf("part %d is not convex: %v", k, p)
		}
	}
	if !(math.Abs(sum-area) <= 1e-9*size) {
		t.Fatalf("parts have the area %v, not %v", sum, area)
	}
	return parts
}

// disjoint checks that no two parts overlap.
func disjoint(t testing.TB, parts [][]r2.Vec) {
	t.Helper()
	for i := range parts {
		for j := range i {
			if a := SignedArea(ClipConvex(parts[i], parts[j])); a > 1e-6 {
				t.Fatalf("parts %d and %d overlap by %v", i, j, a)
			}
		}
	}
}

func TestConvexPartsShapes(t *testing.T) {
	circle := Circle(v(0, 0), 30).Polygon()
	square := func(x, y, h float64) []r2.Vec {
		return []r2.Vec{v(x-h, y-h), v(x+h, y-h), v(x+h, y+h), v(x-h, y+h)}
	}
	for _, c := range []struct {
		name  string
		poly  []r2.Vec
		holes [][]r2.Vec
		most  int // parts
	}{
		{"circle", circle, nil, 1},
		{"circle, clockwise", reversed(circle), nil, 1},
		{"L", ell(t).Polygon(), nil, 2},
		{"frame", square(0, 0, 10), [][]r2.Vec{square(0, 0, 5)}, 4},
		{"frame, hole clockwise", square(0, 0, 10), [][]r2.Vec{reversed(square(0, 0, 5))}, 4},
		{"plus", []r2.Vec{v(1, 0), v(2, 0), v(2, 1), v(3, 1), v(3, 2), v(2, 2), v(2, 3), v(1, 3), v(1, 2), v(0, 2), v(0, 1), v(1, 1)}, nil, 3},
		{"points in a line", []r2.Vec{v(0, 0), v(1, 0), v(2, 0), v(3, 0), v(3, 1), v(3, 3), v(2, 3), v(2, 2), v(2, 1), v(1, 1), v(1, 2), v(1, 3), v(0, 3), v(0, 2), v(0, 1)}, nil, 3},
		{"four windows in a row", square(0, 0, 50), [][]r2.Vec{square(-30, 0, 5), square(-10, 0, 5), square(10, 0, 5), square(30, 0, 5)}, 14},
		{"square touching itself in a corner", []r2.Vec{v(0, 0), v(2, 0), v(2, 2), v(4, 2), v(4, 4), v(2, 4), v(2, 2), v(0, 2)}, nil, 2},
	} {
		parts := cover(t, c.poly, c.holes...)
		disjoint(t, parts)
		if len(parts) > c.most {
			t.Errorf("%s: %d parts, want at most %d", c.name, len(parts), c.most)
		}
	}
	for _, c := range []struct {
		name  string
		poly  []r2.Vec
		holes [][]r2.Vec
	}{
		{"bow tie", []r2.Vec{v(0, 0), v(10, 10), v(10, 0), v(0, 11)}, nil},
		{"hole outside", square(0, 0, 10), [][]r2.Vec{square(30, 0, 5)}},
		{"hole through side", square(0, 0, 10), [][]r2.Vec{square(8, 0, 5)}},
		{"hole in hole", square(0, 0, 10), [][]r2.Vec{square(0, 0, 5), square(0, 0, 2)}},
		{"flat", []r2.Vec{v(0, 0), v(1, 0), v(2, 0)}, nil},
		{"no number", []r2.Vec{v(0, 0), v(1, 0), v(2, math.NaN())}, nil},
		{"nothing", nil, nil},
	} {
		if parts, err := ConvexParts(c.poly, c.holes); err == nil {
			t.Errorf("%s: %d parts and no error", c.name, len(parts))
		}
	}
}

// Random stars with random stars as holes, some on a coarse grid so that many
// coordinates coincide.
func TestConvexPartsRandom(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	done := 0
	for round := range 300 {
		poly := star(rnd, v(0, 0), 5+rnd.Intn(60), 60, 100)
		var holes [][]r2.Vec
		for k := range rnd.Intn(8) {
			c := v(float64(k%3)*30-30, float64(k/3)*30-30)
			holes = append(holes, star(rnd, c, 3+rnd.Intn(12), 4, 14))
		}
		if round%2 == 0 {
			snap := func(p []r2.Vec) []r2.Vec {
				for i := range p {
					p[i] = v(math.Round(p[i].X/2)*2, math.Round(p[i].Y/2)*2)
				}
				q, _ := tidy(p, make([]int, len(p)))
				return q
			}
			poly = snap(poly)
			for i := range holes {
				holes[i] = snap(holes[i])
			}
		}
		if !fine(poly, holes...) {
			continue
		}
		disjoint(t, cover(t, poly, holes...))
		done++
	}
	if done < 200 {
		t.Errorf("only %d regions were fit to try", done)
	}
}

// fine tells whether the polygons make a region that Check passes.
func fine(poly []r2.Vec, holes ...[]r2.Vec) bool {
	g := Region{Outer: asPath(poly)}
	for _, h := range holes {
		g.Holes = append(g.Holes, asPath(h))
	}
	return g.Check() == nil
}

func asPath(pts []r2.Vec) (p Path) {
	if len(pts) > 0 {
		p.Start = pts[0]
		for _, q := range pts[1:] {
			p.Segs = append(p.Segs, Line(q))
		}
	}
	return p
}

// Rectilinear outlines on an integer grid: a random connected set of cells,
// against the number of cells, in three positions: as it is, turned by an odd
// angle (points in a line only up to rounding), and with noise.
func TestConvexPartsGrid(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	for range 150 {
		n := 4 + rnd.Intn(10)
		height := make([]float64, n) // a comb: columns of random height
		cells := 0.0
		p := []r2.Vec{v(0, 0), v(float64(n), 0)}
		for i := range n {
			height[i] = float64(1 + rnd.Intn(5))
			cells += height[i]
		}
		for i := n - 1; i >= 0; i-- {
			p = append(p, v(float64(i+1), height[i]), v(float64(i), height[i]))
		}
		for mode := range 3 {
			q := make([]r2.Vec, len(p))
			for i, c := range p {
				switch q[i] = c; mode {
				case 1:
					q[i] = turned(c.Scale(7.3), 0.3).Add(v(0.1, 0.2))
				case 2:
					q[i] = c.Add(v(rnd.Float64()*1e-10, rnd.Float64()*1e-10))
				}
			}
			q, _ = tidy(q, make([]int, len(q)))
			parts := cover(t, q)
			disjoint(t, parts)
			if mode == 0 {
				near(t, "cells", sumArea(parts), cells, 1e-12)
			}
		}
	}
}

func sumArea(parts [][]r2.Vec) (a float64) {
	for _, p := range parts {
		a += SignedArea(p)
	}
	return a
}

// orient against exact rational arithmetic, near and on the line.
func TestOrient(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	rat := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	cross := func(a, b, c r2.Vec) int {
		sub := func(x, y float64) *big.Rat { return new(big.Rat).Sub(rat(x), rat(y)) }
		l := new(big.Rat).Mul(sub(a.X, c.X), sub(b.Y, c.Y))
		return l.Cmp(new(big.Rat).Mul(sub(a.Y, c.Y), sub(b.X, c.X)))
	}
	zero := 0
	for range 20000 {
		a, b := v(rnd.Float64()*100, rnd.Float64()), v(rnd.Float64(), rnd.Float64()*10)
		c := between(a, b, float64(rnd.Intn(9))/4-0.5)
		if rnd.Intn(2) == 0 {
			a, b, c = v(float64(rnd.Intn(9))*25.4/64, 0.1), v(0.3, float64(rnd.Intn(9))*0.1), v(float64(rnd.Intn(9))*0.1, 0.2)
		}
		want := cross(a, b, c)
		if want == 0 {
			zero++
		}
		if got := orient(a, b, c); got != want {
			t.Fatalf("orient(%v, %v, %v) = %d, want %d", a, b, c, got, want)
		}
	}
	if zero < 100 {
		t.Errorf("only %d cases in a line", zero)
	}
}

func TestClipAndOverlap(t *testing.T) {
	sq := []r2.Vec{v(0, 0), v(10, 0), v(10, 10), v(0, 10)}
	near(t, "half", SignedArea(Clip(sq, v(1, 0), 4)), 40, 0)
	near(t, "slope", SignedArea(Clip(sq, v(0.6, 0.8), 6)), 0.5*10*7.5, 1e-12)
	if Clip(sq, v(1, 0), 0) != nil || Clip(sq, v(-1, 0), -10) != nil {
		t.Error("a part of no area is left")
	}
	near(t, "all", SignedArea(Clip(sq, v(1, 0), 10)), 100, 0)
	overlap := func(a, b []r2.Vec) float64 {
		t.Helper()
		x, err := OverlapArea(a, b)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	l := ell(t).Polygon()
	near(t, "with itself", overlap(l, l), 2000, 1e-9)
	near(t, "L and square", overlap(l, reversed([]r2.Vec{v(10, 10), v(30, 10), v(30, 30), v(10, 30)})), 300, 1e-9)
	// Lens of two circles r, distance d: 2 r^2 acos(d/2r) - d/2 sqrt(4r^2-d^2).
	a, b := Circle(v(0, 0), 30), Circle(v(20, 0), 30)
	near(t, "lens", overlap(a.Polygon(), b.Polygon()), 1800*math.Acos(1.0/3)-10*math.Sqrt(3200), 1.5)
	// Cutting a star in two halves loses nothing.
	rnd := rand.New(rand.NewSource(4))
	for range 50 {
		s, u := star(rnd, v(0, 0), 40, 20, 90), star(rnd, v(30, 10), 25, 20, 90)
		left := []r2.Vec{v(-200, -200), v(3, -200), v(3, 200), v(-200, 200)}
		right := []r2.Vec{v(3, -200), v(300, -200), v(300, 200), v(3, 200)}
		near(t, "halves", overlap(s, left)+overlap(s, right), SignedArea(s), 1e-6)
		near(t, "symmetric", overlap(s, u), overlap(u, s), 1e-6)
	}
}

func TestHullAndLeastCircle(t *testing.T) {
	if h := Hull([]r2.Vec{v(0, 0), v(2, 2), v(1, 1), v(2, 0), v(1, 0), v(0, 2), v(0, 1), v(0, 0)}); len(h) != 4 || SignedArea(h) != 4 {
		t.Errorf("hull %v", h)
	}
	for n, pts := range [][]r2.Vec{nil, {v(1, 1), v(1, 1)}, {v(1, 1), v(3, 1), v(2, 1), v(3, 1)}} {
		if h := Hull(pts); len(h) != n {
			t.Errorf("hull of %v: %v", pts, h)
		}
	}
	c, r := LeastCircle([]r2.Vec{v(0, 0), v(6, 0), v(3, 1)})
	nearVec(t, "obtuse", c, v(3, 0), 1e-12)
	near(t, "obtuse", r, 3, 1e-12)
	// 3-4-5 right triangle: circumradius half the hypotenuse; equilateral a/sqrt 3.
	_, r = LeastCircle([]r2.Vec{v(0, 0), v(3, 0), v(0, 4)})
	near(t, "3-4-5", r, 2.5, 1e-12)
	_, r = LeastCircle([]r2.Vec{v(0, 0), v(1, 0), v(0.5, math.Sqrt(0.75))})
	near(t, "equilateral", r, 1/math.Sqrt(3), 1e-12)
	rnd := rand.New(rand.NewSource(5))
	for range 200 {
		var pts []r2.Vec
		for range 3 + rnd.Intn(12) {
			pts = append(pts, v(rnd.Float64()*100, rnd.Float64()*50))
		}
		h := Hull(pts)
		if !IsConvex(h) {
			t.Fatalf("hull of %v is not convex", pts)
		}
		// Brute force: the least of all circles through two or three points that
		// hold all.
		best := math.Inf(1)
		try := func(c r2.Vec, r float64) {
			for _, p := range pts {
				if p.Sub(c).Len() > r+1e-9 {
					return
				}
			}
			best = math.Min(best, r)
		}
		for i, a := range pts {
			for j, b := range pts[:i] {
				m := a.Add(b).Scale(0.5)
				try(m, a.Sub(m).Len())
				for _, d := range pts[:j] {
					if o, ok := circumcentre(a, b, d); ok {
						try(o, o.Sub(a).Len())
					}
				}
			}
		}
		_, r := LeastCircle(pts)
		near(t, "least circle", r, best, 1e-8)
	}
}

func FuzzConvexParts(f *testing.F) {
	f.Add(int64(1), 10, 3, 1.0)
	f.Add(int64(2), 200, 0, 8.0)
	f.Fuzz(func(t *testing.T, seed int64, n, holes int, snap float64) {
		rnd := rand.New(rand.NewSource(seed))
		n, holes = 3+int(uint(n)%300), int(uint(holes)%10)
		grid := func(p []r2.Vec) []r2.Vec {
			if snap > 0.01 && snap < 20 {
				for i := range p {
					p[i] = v(math.Round(p[i].X/snap)*snap, math.Round(p[i].Y/snap)*snap)
				}
			}
			q, _ := tidy(p, make([]int, len(p)))
			return q
		}
		poly := grid(star(rnd, v(0, 0), n, 10+80*rnd.Float64(), 100))
		var in [][]r2.Vec
		for range holes {
			h := grid(star(rnd, v(rnd.Float64()*140-70, rnd.Float64()*140-70), 3+rnd.Intn(20), 2, 12))
			if len(poly) > 2 && len(h) > 2 && fine(poly, append(append([][]r2.Vec(nil), in...), h)...) {
				in = append(in, h)
			}
		}
		if len(poly) > 2 && fine(poly, in...) {
			disjoint(t, cover(t, poly, in...))
		}
	})
}

// comb and spiral are worst cases: long thin teeth, and half the corners reflex.
func comb(n int) []r2.Vec {
	p := []r2.Vec{v(float64(n), -5), v(float64(n), 0)}
	for i := n - 1; i > 0; i-- {
		p = append(p, v(float64(i), float64(i%2)*100))
	}
	return append(p, v(0, 0), v(0, -5))
}

func spiral(n int) []r2.Vec {
	var in, out []r2.Vec
	for i := range n / 2 {
		a := float64(i) * 0.1
		out = append(out, turned(v(5+a, 0), a))
		in = append(in, turned(v(4+a, 0), a))
	}
	return append(out, reversed(in)...)
}

func plate(holes int) Region {
	g := Region{Outer: Path{Start: v(0, 0), Segs: []Seg{Line(v(200, 0)), Line(v(200, 200)), Line(v(0, 200))}}}
	for k := range holes {
		g.Holes = append(g.Holes, Circle(v(15+19*float64(k%10), 15+19*float64(k/10)), 4))
	}
	return g
}

func TestConvexPartsLarge(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	for name, p := range map[string][]r2.Vec{"star": star(rnd, v(0, 0), 3000, 20, 100), "comb": comb(2000), "spiral": spiral(2000)} {
		if !fine(p) {
			t.Errorf("%s: not simple", name)
		}
		cover(t, p)
	}
	outer, holes := plate(80).Polygons()
	parts := cover(t, outer, holes...)
	corners := len(outer)
	for _, h := range holes {
		corners += len(h)
	}
	t.Logf("plate with 80 round holes, %d corners: %d parts", corners, len(parts))
}

func BenchmarkConvexParts(b *testing.B) {
	rnd := rand.New(rand.NewSource(7))
	run := func(name string, poly []r2.Vec, holes [][]r2.Vec) {
		b.Run(name, func(b *testing.B) {
			n := 0
			for b.Loop() {
				p, err := ConvexParts(poly, holes)
				if err != nil {
					b.Fatal(err)
				}
				n = len(p)
			}
			b.ReportMetric(float64(n), "parts")
		})
	}
	for _, n := range []int{20, 200, 2000, 5000} {
		run(fmt.Sprintf("star/n=%d", n), star(rnd, v(0, 0), n, 20, 100), nil)
		run(fmt.Sprintf("comb/n=%d", n), comb(n), nil)
		run(fmt.Sprintf("spiral/n=%d", n), spiral(n), nil)
	}
	for _, k := range []int{1, 10, 80} {
		outer, holes := plate(k).Polygons()
		run(fmt.Sprintf("holes/n=%d", k), outer, holes)
	}
}

func BenchmarkCheck(b *testing.B) {
	rnd := rand.New(rand.NewSource(8))
	for _, n := range []int{50, 500, 5000, 20000} {
		for name, p := range map[string][]r2.Vec{"star": star(rnd, v(0, 0), n, 20, 100), "comb": comb(n), "spiral": spiral(n)} {
			path := asPath(p)
			b.Run(fmt.Sprintf("%s/n=%d", name, n), func(b *testing.B) {
				for b.Loop() {
					if f := path.Check(); f != nil && n <= 5000 {
						b.Fatal(f)
					}
				}
			})
		}
	}
}

package gauge

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// An independent check: the clearance of a pose straight from its definition, on
// sampled surfaces, and a random-restart search over all six freedoms. Neither shares code
// with the package.

// cleared returns the clearance of the posed points.
func cleared(pts []r3.Vec, m r3.Pose) float64 {
	least := math.Inf(1)
	for _, p := range pts {
		q := m.Point(p)
		least = math.Min(least, -q.Z)
		least = math.Min(least, 15.875-math.Hypot(q.X, q.Y))
		least = math.Min(least, (q.Z+41.275+q.X)/math.Sqrt2)
	}
	return least
}

func boxCorners(a, b, c float64) []r3.Vec {
	var pts []r3.Vec
	for i := 0; i < 8; i++ {
		pts = append(pts, r3.Vec{X: a * float64(i&1), Y: b * float64(i>>1&1), Z: c * float64(i>>2&1)})
	}
	return pts
}

func rimPoints(d, l float64, n int) []r3.Vec {
	var pts []r3.Vec
	for i := 0; i < n; i++ {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		pts = append(pts, r3.Vec{X: d / 2 * c, Y: d / 2 * s}, r3.Vec{X: d / 2 * c, Y: d / 2 * s, Z: l})
	}
	return pts
}

// restart climbs from random poses and returns the best clearance found.
func restart(pts []r3.Vec, rnd *rand.Rand, starts int) float64 {
	best := math.Inf(-1)
	var mid r3.Vec
	for _, p := range pts {
		mid = mid.Add(p.Scale(1 / float64(len(pts))))
	}
	axis := func() r3.Vec {
		return r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Unit()
	}
	for k := 0; k < starts; k++ {
		m := r3.Turn(mid, axis(), 2*math.Pi*rnd.Float64()).Then(r3.Shift(r3.Vec{X: 3, Z: -20}.Sub(mid)))
		f := cleared(pts, m)
		for step := 8.0; step > 0.001; {
			won := false
			for i := 0; i < 24; i++ {
				at := m.Point(mid)
				n := r3.Turn(at, axis(), step/30*rnd.NormFloat64()).Then(r3.Shift(axis().Scale(step * rnd.Float64())))
				if g := cleared(pts, n2(m, n)); g > f {
					m, f, won = n2(m, n), g, true
				}
			}
			if !won {
				step /= 2
			}
		}
		best = math.Max(best, f)
	}
	return best
}

func n2(m, n r3.Pose) r3.Pose { return m.Then(n) }

func TestAgainstRandomRestarts(t *testing.T) {
	rnd := rand.New(rand.NewSource(1501))
	count := map[Verdict]int{}
	rounds := 100
	if testing.Short() {
		rounds = 20
	}
	for i := 0; i < rounds; i++ {
		var a Answer
		var pts []r3.Vec
		var sag float64
		size := [3]float64{3 + 35*rnd.Float64(), 3 + 35*rnd.Float64(), 3 + 60*rnd.Float64()}
		if i%2 == 0 {
			a, pts = Box(size[0], size[1], size[2]), boxCorners(size[0], size[1], size[2])
		} else {
			a, pts = Cylinder(size[0], size[2]), rimPoints(size[0], size[2], 48)
			sag = size[0] / 2 * (1 - math.Cos(math.Pi/48))
		}
		count[a.Verdict]++
		if a.Verdict == CannotTell {
			t.Errorf("%v: cannot tell", size)
		}
		// The pose that is claimed really has the clearance that is claimed.
		if f := cleared(pts, a.Pose); f < a.Clearance-1e-6 || f > a.Clearance+sag+1e-6 {
			t.Errorf("%v: pose clears %.5f, claimed %.5f", size, f, a.Clearance)
		}
		found := restart(pts, rnd, 6)
		if found > a.AtMost+sag+1e-9 {
			t.Errorf("%v: found %.5f above the bound %.5f", size, found, a.AtMost)
		}
		if a.Verdict == DoesNotFit && found >= sag {
			t.Errorf("%v: does not fit (%s), but a pose clears by %.5f", size, a.Lemma, found)
		}
	}
	if count[Fits] < rounds/10 || count[DoesNotFit] < rounds/10 {
		t.Errorf("one-sided sample: %v", count)
	}
}

// General hulls of corners and rims, near the limit, with the same two checks.
func TestGeneralHulls(t *testing.T) {
	rnd := rand.New(rand.NewSource(77))
	worst := 0
	for i := 0; i < 12; i++ {
		var pts []r3.Vec
		for j := 0; j < 10; j++ {
			pts = append(pts, r3.Vec{X: 26 * rnd.Float64(), Y: 26 * rnd.Float64(), Z: 34 * rnd.Float64()})
		}
		rim := Circle{r3.Vec{X: 13, Y: 13, Z: 17}, r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: 1}, 10}
		a := Points(pts, []Circle{rim})
		worst = max(worst, a.Attitudes)
		if a.Verdict == CannotTell {
			t.Errorf("hull %d: cannot tell, %+.4f..%+.4f", i, a.Clearance, a.AtMost)
		}
		all := append([]r3.Vec(nil), pts...)
		u := rim.Normal.Unit()
		e := u.Cross(r3.X).Unit()
		for k := 0; k < 64; k++ {
			turn := r3.Turn(rim.Center, u, 2*math.Pi*float64(k)/64)
			all = append(all, turn.Point(rim.Center.Add(e.Scale(rim.Radius))))
		}
		sag := rim.Radius * (1 - math.Cos(math.Pi/64))
		if f := cleared(all, a.Pose); f < a.Clearance-1e-6 || f > a.Clearance+sag+1e-6 {
			t.Errorf("hull %d: pose clears %.5f, claimed %.5f", i, f, a.Clearance)
		}
		if found := restart(all, rnd, 6); found > a.AtMost+sag+1e-9 {
			t.Errorf("hull %d: found %.5f above the bound %.5f", i, found, a.AtMost)
		}
	}
	t.Logf("most attitudes %d", worst)
}

// The best placing at a fixed attitude against plain nested ternary search of the
// concave clearance over the shift.
func TestPlaceAgainstTernarySearch(t *testing.T) {
	rnd := rand.New(rand.NewSource(31))
	unit := func() r3.Vec {
		return r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Unit()
	}
	most := func(f func(float64) float64) float64 {
		lo, hi := -60.0, 60.0
		for i := 0; i < 80; i++ {
			a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
			if f(a) < f(b) {
				lo = a
			} else {
				hi = b
			}
		}
		return f((lo + hi) / 2)
	}
	for i := 0; i < 300; i++ {
		var b body
		for j := rnd.Intn(7); j >= 0; j-- {
			b.points = append(b.points, unit().Scale(30*rnd.Float64()))
		}
		for j := rnd.Intn(3); j > 0; j-- {
			b.circles = append(b.circles, circle{unit().Scale(10 * rnd.Float64()), unit(), 15 * rnd.Float64()})
		}
		p := place(&b)
		if p.upper-p.lower > 1e-5 {
			t.Errorf("piece %d: %.7f..%.7f", i, p.lower, p.upper)
		}
		top, low := b.support(r3.Z), b.support(downhill)
		want := most(func(x float64) float64 {
			return most(func(y float64) float64 {
				_, d := b.farthest(-x, -y)
				depth := (mean + x - top.Z + low.X + low.Z) / (1 + math.Sqrt2)
				return math.Min(15.875-d, depth)
			})
		})
		if math.Abs(want-p.lower) > 1e-4 {
			t.Errorf("piece %d: placed with %.6f, search %.6f", i, p.lower, want)
		}
		level, sum := p.proof.level, r3.Vec{}
		for k := 0; k < p.proof.n; k++ {
			level -= p.proof.weight[k] * p.proof.normal[k].Dot(p.proof.point[k])
			sum = sum.Add(p.proof.normal[k].Scale(p.proof.weight[k]))
			if p.proof.weight[k] < 0 {
				t.Errorf("piece %d: negative weight", i)
			}
		}
		if math.Abs(level-p.upper) > 1e-6 || sum.Len() > 1e-9 {
			t.Errorf("piece %d: proof says %.7f, placing %.7f; normals add to %g", i, level, p.upper, sum.Len())
		}
	}
}

// The bound over a box of attitudes holds at every attitude within.
func TestBoundsHold(t *testing.T) {
	rnd := rand.New(rand.NewSource(8))
	sym := func(w float64) float64 { return w * (2*rnd.Float64() - 1) }
	var turned body
	for i := 0; i < 400; i++ {
		var b body
		for j := 0; j < 6; j++ {
			b.points = append(b.points, r3.Vec{X: sym(20), Y: sym(12), Z: sym(25)})
		}
		b.circles = []circle{{r3.Vec{X: sym(5)}, r3.Vec{X: sym(1), Y: sym(1), Z: 1}.Unit(), 8}}
		size := math.Pow(2, -float64(rnd.Intn(7)))
		w := r3.Vec{X: size * rnd.Float64(), Y: size * rnd.Float64(), Z: size * rnd.Float64()}
		v := r3.Vec{X: sym(1 - w.X), Y: sym(1 - w.Y), Z: sym(1 - w.Z)}
		b.turn(gibbs(v), &turned)
		p := place(&turned)
		bound, _ := p.proof.over(v, w)
		for k := 0; k < 50; k++ {
			d := r3.Vec{X: sym(w.X), Y: sym(w.Y), Z: sym(w.Z)}
			if k < 8 { // the corners of the box
				d = r3.Vec{X: w.X * float64(2*(k&1)-1), Y: w.Y * float64(k&2-1), Z: w.Z * float64(k>>1&2-1)}
			}
			b.turn(gibbs(v.Add(d)), &turned)
			if q := place(&turned); q.lower > bound {
				t.Fatalf("%d: clearance %.6f above the bound %.6f, half widths %v", i, q.lower, bound, w)
			}
		}
	}
}

// The farthest rim point, from the secular equation, against dense sampling.
func TestFarthestRimPoint(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	for i := 0; i < 2000; i++ {
		n := r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}
		switch i % 4 {
		case 1:
			n = r3.Vec{X: rnd.NormFloat64(), Z: 1} // symmetric in y
		case 2:
			n = r3.Z
		case 3:
			n.Z = 0
		}
		c := circle{r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64() * float64(i%3)}, n.Unit(), 2}
		b := body{circles: []circle{c}}
		p, d := b.farthest(0, 0)
		if math.Abs(p.Sub(c.c).Len()-2) > tol.Clip || math.Abs(p.Sub(c.c).Dot(c.n)) > tol.Clip {
			t.Fatalf("%+v: %v is not on the rim", c, p)
		}
		e := c.n.Cross(r3.X)
		if o := c.n.Cross(r3.Y); o.Len() > e.Len() {
			e = o
		}
		e = e.Unit().Scale(2)
		f := c.n.Cross(e)
		for k := 0; k < 720; k++ {
			s, co := math.Sincos(math.Pi * float64(k) / 360)
			q := c.c.Add(e.Scale(co)).Add(f.Scale(s))
			if o := math.Hypot(q.X, q.Y); o > d+1e-9 {
				t.Fatalf("%+v: farthest %.9f, sample %.9f", c, d, o)
			}
		}
	}
}

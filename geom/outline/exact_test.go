package outline

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r2"
)

// rounded returns a random star with some corners rounded and some sides arcs.
func rounded(rnd *rand.Rand, n int) (Path, error) {
	var c []Corner
	pts := star(rnd, v(120, -40), n, 40, 80)
	for i, p := range pts {
		k := Corner{P: p}
		switch rnd.Intn(4) {
		case 0:
			k.Radius = 3 * rnd.Float64()
		case 1:
			before := pts[(i+n-1)%n]
			side := p.Sub(before)
			via := between(before, p, 0.3+0.4*rnd.Float64()).Add(side.Perp().Scale(0.2*rnd.Float64() - 0.1))
			k.Via = &via
			k.Radius = 0
		}
		c = append(c, k)
	}
	for i := range c {
		if c[i].Via != nil || c[(i+1)%n].Via != nil {
			c[i].Radius = 0
		}
	}
	return Corners(c)
}

// Exact measures against the same line in chords a ten-thousandth as far off.
func TestExactAgainstFine(t *testing.T) {
	rnd := rand.New(rand.NewSource(11))
	done := 0
	for range 80 {
		p, err := rounded(rnd, 5+rnd.Intn(12))
		if err != nil || p.Check() != nil {
			continue
		}
		done++
		var fine []r2.Vec
		length := 0.0
		p.each(func(_ int, from r2.Vec, s Seg) {
			n := 1
			if s.Round() {
				n = chords(s.R, s.Sweep, 1e-6)
			}
			for k := range n {
				q := from
				if k > 0 {
					sin, cos := math.Sincos(s.Sweep * float64(k) / float64(n))
					q = s.C.Add(times(v(cos, sin), from.Sub(s.C)))
				}
				if len(fine) > 0 {
					length += q.Sub(fine[len(fine)-1]).Len()
				}
				fine = append(fine, q)
			}
		})
		length += fine[0].Sub(fine[len(fine)-1]).Len()
		m := Moments(fine)
		near(t, "area", p.Area(), SignedArea(fine), 1e-6*length)
		nearVec(t, "centroid", p.Centroid(), m.Centroid, 1e-5)
		near(t, "length", p.Length(), length, 1e-4)
		b, w := p.Bounds(), r2.Around(fine...)
		nearVec(t, "bounds", b.Min, w.Min, 2e-6)
		nearVec(t, "bounds", b.Max, w.Max, 2e-6)
		for range 20 {
			q := v(120+180*(rnd.Float64()-0.5), -40+180*(rnd.Float64()-0.5))
			d := math.Inf(1)
			for i := range fine {
				d = math.Min(d, toSegment(q, fine[i], fine[(i+1)%len(fine)]))
			}
			near(t, "distance", p.DistanceTo(q), d, 2e-6)
			if d > 1e-5 {
				if in := asPath(fine).winding(q) != 0; p.Contains(q) != in || p.Reverse().Contains(q) != in {
					t.Errorf("contains %v: not %v", q, in)
				}
			}
		}
	}
	if done < 30 {
		t.Errorf("only %d outlines were fit to try", done)
	}
}

// The same bits on every processor: the hash was made on amd64 and must come
// out the same under WebAssembly and everywhere else.
func TestSameBits(t *testing.T) {
	rnd := rand.New(rand.NewSource(12))
	h := fnv.New64a()
	put := func(pts ...r2.Vec) {
		for _, p := range pts {
			fmt.Fprintf(h, "%x %x ", math.Float64bits(p.X), math.Float64bits(p.Y))
		}
	}
	for range 60 {
		var c []Corner
		for i := range 9 { // integers, so that making the input rounds nothing
			c = append(c, Corner{P: v(float64(i%3*40+rnd.Intn(30)), float64(i/3*40+rnd.Intn(30))), Radius: float64(rnd.Intn(3))})
		}
		p, err := Corners([]Corner{c[0], c[1], c[2], c[5], c[4], c[8], c[7], c[6], c[3]})
		if err != nil || p.Check() != nil {
			continue
		}
		p = p.Transform(Turned(0.7).Then(Shifted(v(3, 1))).Then(Scaled(25.4)))
		put(p.Centroid(), v(p.Area(), p.Length()), p.Bounds().Min)
		poly := p.Polygon()
		put(poly...)
		parts, err := ConvexParts(poly, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range parts {
			put(q...)
			put(Clip(q, v(0.6, 0.8), 900)...)
		}
		o, r := LeastCircle(poly)
		put(o, v(r, 0))
	}
	for _, d := range []string{"M0 0C9 1 3 17 5 30S0 50-20 40A20 11 30 0 1-40 0z", "M0 0Q9 1 30 17T80 0A70 70 0 1 1 0 0"} {
		for _, p := range parse(t, d) {
			put(p.Polygon()...)
		}
	}
	if got := h.Sum64(); got != 0xddcca71241210cc8 {
		t.Errorf("hash %#x", got)
	}
}

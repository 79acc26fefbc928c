package solid

import (
	"math"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// wavy is an outline of n columns over length 120, as convex strips: a profile
// of about 2n vertices with no hole.
func wavy(frame r3.Pose, n int, base, wave, lo, hi float64) []Convex {
	out := make([]Convex, 0, n)
	y := func(i int) float64 {
		return base + wave*math.Sin(float64(i)*0.7) + 0.3*wave*math.Sin(float64(i)*2.3)
	}
	for i := 0; i < n; i++ {
		a, b := 120*float64(i)/float64(n), 120*float64(i+1)/float64(n)
		out = append(out, Prism(frame, []r2.Vec{{X: a, Y: 0}, {X: b, Y: 0}, {X: b, Y: y(i + 1)}, {X: a, Y: y(i)}},
			[]int32{10, 0, int32(20 + i), 0}, lo, hi, 5, 6))
	}
	return out
}

// sample is a profile of 120 vertices with four 48-gon holes across, crossed
// with a top profile of 80 vertices.
func sample() Body {
	b := NewBody(wavy(sideFrame, 59, 30, 4, -60, 0)).Intersect(wavy(topFrame, 39, 40, 5, 0, 60))
	for i, x := range []float64{20, 50, 80, 105} {
		hole := Prism(r3.Pose{U: r3.X, V: r3.Z, W: r3.Y.Neg(), O: r3.Vec{X: x, Z: 12}}, Circle(r2zero, 4, 48), rep(int32(100+i), 48), -70, 10, 1, 2)
		b = b.Carve(hole)
	}
	return b
}

func rep(tag int32, n int) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = tag
	}
	return out
}

func BenchmarkBuildSample(b *testing.B) {
	var s Body
	for b.Loop() {
		s = sample()
	}
	b.ReportMetric(float64(len(s.Pieces)), "pieces")
}

func BenchmarkDistanceSample(b *testing.B) {
	s := sample()
	o := s.Transform(r3.Shift(r3.Vec{X: 3, Y: 50, Z: 2}))
	for b.Loop() {
		if g := Distance(s, o, math.Inf(1)); g.D <= 0 {
			b.Fatal(g)
		}
	}
}

func BenchmarkOverlapSample(b *testing.B) {
	s := sample()
	o := s.Transform(r3.Turn(r3.Vec{X: 60, Y: 20, Z: 15}, r3.Z, 0.3))
	for b.Loop() {
		if g := Overlap(s, o); g.Volume <= 0 {
			b.Fatal(g)
		}
	}
}

func BenchmarkMomentsSample(b *testing.B) {
	s := sample()
	for b.Loop() {
		s.Moments()
	}
}

func BenchmarkSwingSample(b *testing.B) {
	s := sample()
	o := s.Transform(r3.Shift(r3.Vec{X: 125}))
	var c Contact
	for b.Loop() {
		c = FirstContact(s, o, Axis{r3.Vec{X: 122, Y: 20}, r3.Z}, 2, tol.Touch)
	}
	b.ReportMetric(float64(c.Steps), "steps")
}

func BenchmarkEdgesSample(b *testing.B) {
	s := sample()
	n := 0
	for b.Loop() {
		n = len(FeatureEdges(s))
	}
	b.ReportMetric(float64(n), "edges")
}

func BenchmarkHiddenSample(b *testing.B) {
	s := sample()
	es := FeatureEdges(s)
	for b.Loop() {
		w := NewView(r3.Vec{X: 1, Y: 1, Z: 1}, s)
		for _, e := range es {
			w.Hidden(e)
		}
	}
}

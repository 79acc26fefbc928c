package solid

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
)

// Slanted holes and notches at random: what is carved and what is kept add up,
// pieces stay closed and apart, and every true edge has its two faces.
func TestCarveAtRandom(t *testing.T) {
	r := rand.New(rand.NewSource(15))
	for run := 0; run < 60; run++ {
		b := NewBody(randStrips(r, 6).prisms(sideFrame, -8, 0)).Transform(randPose(r, 50))
		at := b.Bounds().Center()
		for k := 0; k < 3; k++ {
			m := r3.Turn(r3.Vec{}, randVec(r, 1), 7*r.Float64()).Then(r3.Shift(at.Add(randVec(r, 4))))
			var c Convex
			switch r.Intn(3) {
			case 0:
				c = Prism(m, Circle(r2.Vec{}, 1+2*r.Float64(), 24), rep(30, 24), -20, 20*r.Float64()-5, 31, 32)
			case 1:
				c = cube(-3, -2, -1, 4, 3, 2).at(m)
			default:
				c = Frustum(m, 1, 3, -5, 5, 40, 41, 42)
			}
			before := b.Moments().Volume
			kept := b.Intersect([]Convex{c}).Moments().Volume
			b = b.Carve(c)
			if after := b.Moments().Volume; !near(after+kept, before, 1e-9*before) {
				t.Fatalf("run %d: %.12g + %.12g is not %.12g", run, after, kept, before)
			}
			if o := Overlap(b, bodyOf(c)); o.Volume > 1e-7 {
				t.Fatalf("run %d: %g left in the hole", run, o.Volume)
			}
		}
		if o := Overlap(b, b); !near(o.Volume, b.Moments().Volume, 1e-9*o.Volume) {
			t.Fatalf("run %d: pieces share %g", run, o.Volume-b.Moments().Volume)
		}
		for i := range b.Pieces {
			closed(t, &b.Pieces[i])
		}
		if _, _, odd := count(FeatureEdges(b)); odd > 0 {
			t.Fatalf("run %d: %d edges without two faces", run, odd)
		}
	}
}

// Planes that almost coincide, off by 1e-11 to 1e-6 mm, are the hard case of
// cutting: volume against the integral of H(x)W(x) as far as the noise allows.
func TestCrossedProfilesNoise(t *testing.T) {
	r := rand.New(rand.NewSource(16))
	for run := 0; run < 80; run++ {
		n := 6 + r.Intn(8)
		noise := math.Pow(10, -11+5*r.Float64())
		side, top := randStrips(r, n), randStrips(r, n)
		jit := func(cs []Convex) []Convex {
			for i := range cs {
				cs[i] = cs[i].Transform(r3.Turn(r3.Vec{}, randVec(r, 1), noise/20).Then(r3.Shift(randVec(r, noise))))
			}
			return cs
		}
		b := NewBody(jit(side.prisms(sideFrame, -100, 100))).Intersect(jit(top.prisms(topFrame, -100, 100)))
		want := 0.0
		for i := 0; i < n; i++ {
			want += side.width(i) * top.width(i)
		}
		if got := b.Moments().Volume; !near(got, want, want*(10*noise+1e-9)) {
			t.Fatalf("run %d: noise %g: %.15g, want %.15g", run, noise, got, want)
		}
		for i := range b.Pieces {
			closed(t, &b.Pieces[i])
		}
		c := Cylinder(r3.Shift(r3.Vec{X: float64(n) / 2, Y: 3}), 2, -1, 30, 1, 2, 3)
		kept, left := b.Intersect([]Convex{c}).Moments().Volume, b.Carve(c).Moments().Volume
		if got := b.Moments().Volume; !near(kept+left, got, 1e-8*got) {
			t.Fatalf("run %d: carved %g + %g of %g", run, left, kept, got)
		}
	}
}

// Faces and corners of a body with a hole: tags and normals of its edges.
func TestFeatureEdgeFaces(t *testing.T) {
	b := bodyOf(cube(0, 0, 0, 60, 40, 20)).Carve(Prism(r3.Shift(r3.Vec{X: 20, Y: 20}), Circle(r2.Vec{}, 8, 32), rep(50, 32), 10, 21, 51, 52))
	rim, floor, wall := 0, 0, 0
	for _, e := range FeatureEdges(b) {
		mid := e.A.Add(e.B).Scale(.5)
		in := r3.Vec{X: 20 - mid.X, Y: 20 - mid.Y}.Unit()
		for k := range e.N {
			want := e.N[k]
			switch e.Tag[k] {
			case 50:
				if e.N[k].Dot(in) < .99 {
					t.Fatalf("hole faces %v at %v", e.N[k], mid)
				}
				continue
			case 6, 51:
				want = r3.Z
			case 5:
				want = r3.Z.Neg()
			case 1:
				want = r3.X.Neg()
			}
			if e.N[k].Sub(want).Len() > 1e-12 {
				t.Fatalf("tag %d faces %v", e.Tag[k], e.N[k])
			}
		}
		switch has := func(x, y int32) bool {
			return e.Tag == [2]int32{x, y} || e.Tag == [2]int32{y, x}
		}; {
		case has(50, 6):
			rim++
		case has(50, 51):
			floor++
		case has(50, 50):
			wall++
		}
	}
	if rim != 32 || floor != 32 || wall != 32 {
		t.Errorf("rim %d, floor %d, wall %d", rim, floor, wall)
	}
}

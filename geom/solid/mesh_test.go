package solid

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r3"
)

// volumeOf is that of a closed surface, by the divergence theorem.
func volumeOf(m Mesh) (v float64) {
	for _, t := range m.T {
		v += m.V[t[0]].Dot(m.V[t[1]].Cross(m.V[t[2]])) / 6
	}
	return v
}

func checkMesh(t *testing.T, what string, b Body) {
	t.Helper()
	m := Surface(b)
	if n := m.Open(); n > 0 {
		t.Errorf("%s: %d open sides of %d triangles", what, n, len(m.T))
	}
	if v, want := volumeOf(m), b.Moments().Volume; math.Abs(v-want) > 1e-6*(1+want) {
		t.Errorf("%s: volume %.9g, want %.9g", what, v, want)
	}
}

func TestSurface(t *testing.T) {
	box := func(x, y, z, u, v, w float64) Convex {
		return Box(r3.Vec{X: x, Y: y, Z: z}, r3.Vec{X: u, Y: v, Z: w}, [6]int32{1, 2, 3, 4, 5, 6})
	}
	checkMesh(t, "a box", NewBody([]Convex{box(0, 0, 0, 3, 2, 1)}))
	if m := Surface(NewBody([]Convex{box(0, 0, 0, 3, 2, 1)})); len(m.T) != 12 || len(m.V) != 8 {
		t.Errorf("a box has %d triangles and %d corners", len(m.T), len(m.V))
	}
	checkMesh(t, "two boxes side by side", NewBody([]Convex{box(0, 0, 0, 3, 2, 1), box(3, 0, 0, 4, 2, 1)}))
	checkMesh(t, "a small box on a large one", NewBody([]Convex{box(0, 0, 0, 3, 2, 1), box(1, 0.5, 1, 2, 1.5, 4)}))
	checkMesh(t, "two that share part of a face", NewBody([]Convex{box(0, 0, 0, 3, 2, 1), box(3, 1, 0.5, 4, 3, 2)}))
	bore := Cylinder(r3.Pose{U: r3.X, V: r3.Y, W: r3.Z, O: r3.Vec{X: 1.5, Y: 1}}, 0.4, -1, 2, 7, 8, 9)
	checkMesh(t, "a box with a hole", NewBody([]Convex{box(0, 0, 0, 3, 2, 1)}).Carve(bore))
	if v := volumeOf(Surface(NewBody([]Convex{box(0, 0, 0, 3, 2, 1)}).Carve(bore))); v > 6-math.Pi*0.16*0.9 {
		t.Errorf("the hole is not cut: %g", v)
	}
}

// Boxes and leaning cylinders taken out of a block in any order leave a closed surface.
func TestSurfaceOfRandomBodies(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for k := 0; k < 200; k++ {
		b := NewBody([]Convex{Box(r3.Vec{}, r3.Vec{X: 60, Y: 40, Z: 20}, [6]int32{1, 2, 3, 4, 5, 6})})
		for n := 0; n < 1+r.Intn(4); n++ {
			at := r3.Vec{X: 60 * r.Float64(), Y: 40 * r.Float64(), Z: 20 * r.Float64()}
			if r.Intn(2) == 0 {
				b = b.Carve(Box(at, at.Add(r3.Vec{X: 1 + 30*r.Float64(), Y: 1 + 20*r.Float64(), Z: 1 + 10*r.Float64()}), [6]int32{7, 7, 7, 7, 7, 7}))
				continue
			}
			w := r3.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Unit()
			u := w.Cross(r3.X).Unit()
			b = b.Carve(Cylinder(r3.Pose{U: u, V: w.Cross(u), W: w, O: at}, 1+6*r.Float64(), -40, 40, 8, 9, 10))
		}
		checkMesh(t, "random", b)
	}
}

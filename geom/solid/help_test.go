package solid

import (
	"math"
	"math/rand"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
)

// cube is an axis-aligned block whose sides have the tags 1 to 6.
func cube(x0, y0, z0, x1, y1, z1 float64) Convex {
	return Box(r3.Vec{X: x0, Y: y0, Z: z0}, r3.Vec{X: x1, Y: y1, Z: z1}, [6]int32{1, 2, 3, 4, 5, 6})
}

func bodyOf(c ...Convex) Body { return NewBody(c) }

func randVec(r *rand.Rand, s float64) r3.Vec {
	return r3.Vec{X: s * (2*r.Float64() - 1), Y: s * (2*r.Float64() - 1), Z: s * (2*r.Float64() - 1)}
}

func randPose(r *rand.Rand, s float64) r3.Pose {
	return r3.Turn(r3.Vec{}, randVec(r, 1), 7*r.Float64()).Then(r3.Shift(randVec(r, s)))
}

// randConvex is a block cut by a few random planes, somewhere near the origin.
func randConvex(r *rand.Rand, spread float64) Convex {
	c := cube(-10, -6, -4, 10, 6, 4)
	for i := 0; i < r.Intn(8); i++ {
		if k, ok := c.Clip(PlaneAt(randVec(r, 5), randVec(r, 1)), int32(10+i)); ok && k.Volume() > 20 {
			c = k
		}
	}
	return c.Transform(randPose(r, spread))
}

// strips cuts the region 0 <= y <= h[i] over unit columns into rectangles,
// holes[i] being an interval [lo, hi) of column i left out.
type strips struct{ h, lo, hi []float64 }

func randStrips(r *rand.Rand, n int) strips {
	s := strips{make([]float64, n), make([]float64, n), make([]float64, n)}
	for i := range s.h {
		s.h[i] = float64(4 + r.Intn(20))
		s.lo[i] = float64(1 + r.Intn(2))
		s.hi[i] = s.lo[i] + float64(r.Intn(2))
	}
	return s
}

func (s strips) width(i int) float64 { return s.h[i] - (s.hi[i] - s.lo[i]) }

// prisms extrudes the strips along W of the frame, column i at U = i.
func (s strips) prisms(frame r3.Pose, lo, hi float64) []Convex {
	var out []Convex
	rect := func(x, y0, y1 float64) {
		if y1 > y0 {
			out = append(out, Prism(frame, []r2.Vec{{X: x, Y: y0}, {X: x + 1, Y: y0}, {X: x + 1, Y: y1}, {X: x, Y: y1}}, []int32{7, 0, 8, 0}, lo, hi, 5, 6))
		}
	}
	for i := range s.h {
		rect(float64(i), 0, s.lo[i])
		rect(float64(i), s.hi[i], s.h[i])
	}
	return out
}

// sideFrame has U along x, V along z, W along -y; topFrame U along x, V along y.
var (
	sideFrame = r3.Pose{U: r3.X, V: r3.Z, W: r3.Y.Neg()}
	topFrame  = r3.Identity
)

func near(a, b, eps float64) bool { return math.Abs(a-b) <= eps }

var r2zero r2.Vec

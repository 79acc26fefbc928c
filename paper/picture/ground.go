package picture

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
)

// ground is the floor below a toy, with the shadow where something is near above it.
type ground struct {
	from   sight
	z      float64
	origin r2.Vec // of the world's x and y
	w, h   int
	cell   float64
	dark   []float64
}

// How shadows fall, mm of the toy: what stands higher than that casts none; how soft they
// are; and how dark.
const (
	shadowHigh = 30.0
	shadowSoft = 3.0
	shadowWide = 14.0
	shadowNear = 0.5
	shadowFar  = 0.3
	floorCells = 420
)

// newGround finds the shadows of the object; nil where the floor is not seen.
func newGround(o *object, from sight) *ground {
	if from.toward.Z < 0.2 {
		return nil
	}
	below := sight{toward: r3.Z.Neg(), right: r3.X, up: r3.Y} // looks up, mirrored: only heights matter
	at := place{sight: below, scale: 1}
	box := below.bounds(o)
	around := 3 * shadowWide
	box = r2.Around(box.Min.Sub(r2.Vec{X: around, Y: around}), box.Max.Add(r2.Vec{X: around, Y: around}))
	cell := max(box.Size().X, box.Size().Y) / floorCells
	r := newRaster(o, at, box, cell)
	g := &ground{from: from, z: math.Inf(1), origin: r.origin, w: r.w, h: r.h, cell: cell}
	for _, d := range r.depth {
		g.z = min(g.z, -d)
	}
	near := make([]float64, len(r.depth))
	for i, d := range r.depth {
		if up := max(0, 1-(-d-g.z)/shadowHigh); up > 0 {
			near[i] = up * up
		}
	}
	far := append([]float64(nil), near...)
	g.blur(near, shadowSoft/cell)
	g.blur(far, shadowWide/cell)
	g.dark = near
	for i := range near {
		g.dark[i] = float64(near[i]*shadowNear) + float64(far[i]*shadowFar)
	}
	return g
}

// blur takes the mean of neighbours, three times, which is near to a bell.
func (g *ground) blur(v []float64, radius float64) {
	n := max(1, int(math.Round(radius/1.7)))
	tmp := make([]float64, max(g.w, g.h))
	pass := func(start, step, count int) {
		sum := 0.0
		for k := -n; k < count; k++ {
			if k+n < count {
				sum += v[start+(k+n)*step]
			}
			if k-n-1 >= 0 {
				sum -= v[start+(k-n-1)*step]
			}
			if k >= 0 {
				tmp[k] = sum / float64(2*n+1)
			}
		}
		for k := range count {
			v[start+k*step] = tmp[k]
		}
	}
	for range 3 {
		for y := range g.h {
			pass(y*g.w, 1, g.w)
		}
		for x := range g.w {
			pass(x, g.w, g.h)
		}
	}
}

// at returns the colour of the floor in an element of the picture.
func (g *ground) at(x, y int, at place) rgb {
	if g == nil {
		return rgb{1, 1, 1}
	}
	q := r2.Vec{X: float64(x) + 0.5, Y: float64(y) + 0.5}.Scale(samples / at.scale).Add(at.from)
	p := g.from.right.Scale(q.X).Add(g.from.up.Scale(q.Y))
	p = p.Add(g.from.toward.Scale((g.z - p.Z) / g.from.toward.Z))
	u, v := (p.X-g.origin.X)/g.cell-0.5, (p.Y-g.origin.Y)/g.cell-0.5
	i, j := int(math.Floor(u)), int(math.Floor(v))
	if i < 0 || j < 0 || i+1 >= g.w || j+1 >= g.h {
		return rgb{1, 1, 1}
	}
	u, v = u-float64(i), v-float64(j)
	k := j*g.w + i
	low := g.dark[k] + float64(u*(g.dark[k+1]-g.dark[k]))
	high := g.dark[k+g.w] + float64(u*(g.dark[k+g.w+1]-g.dark[k+g.w]))
	light := float32(1 - min(0.9, low+float64(v*(high-low))))
	return rgb{light, light, light}
}

package picture

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// raster is a picture of small squares that each know what is seen in them: the first
// wood on the way from the eye.
type raster struct {
	w, h   int
	cell   float64
	origin r2.Vec // lower left corner
	body   []int32
	face   []int32 // which face of it, in the order in which they are met
	depth  []float64
	normal []r3.Vec // of the faces
}

// newRaster looks at the object, box of the paper cut into squares of cell mm.
func newRaster(o *object, at place, box r2.Box, cell float64) *raster {
	size := box.Size()
	r := &raster{w: int(math.Ceil(size.X/cell)) + 2, h: int(math.Ceil(size.Y/cell)) + 2, cell: cell}
	r.origin = box.Min.Sub(r2.Vec{X: cell, Y: cell})
	n := r.w * r.h
	r.body, r.face, r.depth = make([]int32, n), make([]int32, n), make([]float64, n)
	for i := range r.body {
		r.body[i], r.face[i], r.depth[i] = -1, -1, math.Inf(-1)
	}
	var poly []r2.Vec
	face := int32(0)
	for k, b := range o.bodies {
		for i := range b.Pieces {
			c := &b.Pieces[i]
			for _, f := range c.Faces {
				face++
				r.normal = append(r.normal, f.Plane.N)
				if f.Plane.N.Dot(at.toward) <= edgeOn {
					continue
				}
				poly = poly[:0]
				for _, v := range f.Loop {
					poly = append(poly, at.on(c.V[v]).Sub(r.origin).Scale(1/cell))
				}
				r.fill(poly, c.V[f.Loop[0]], f.Plane.N, at, int32(k), face-1)
			}
		}
	}
	return r
}

// edgeOn is the least share of itself that a face has to show to be filled.
const edgeOn = 1e-6

// fill puts a convex face into the squares whose middles it covers, where it is nearest.
// poly is its outline in squares; p and n are a point of its plane and its normal.
func (r *raster) fill(poly []r2.Vec, p, n r3.Vec, at place, body, face int32) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range poly {
		lo, hi = min(lo, q.Y), max(hi, q.Y)
	}
	// The depth of the plane is linear on the paper.
	k := 1 / n.Dot(at.toward)
	dx := -float64(n.Dot(at.right)*k) * (r.cell / at.scale)
	dy := -float64(n.Dot(at.up)*k) * (r.cell / at.scale)
	q0 := at.on(p).Sub(r.origin).Scale(1 / r.cell)
	d0 := p.Dot(at.toward)
	for y := max(0, int(math.Ceil(lo-0.5))); y < r.h && float64(y)+0.5 <= hi; y++ {
		row := float64(y) + 0.5
		left, right := math.Inf(1), math.Inf(-1)
		for i, a := range poly {
			b := poly[(i+1)%len(poly)]
			if (a.Y <= row) == (b.Y <= row) {
				continue
			}
			x := a.X + float64((b.X-a.X)*((row-a.Y)/(b.Y-a.Y)))
			left, right = min(left, x), max(right, x)
		}
		for x := max(0, int(math.Ceil(left-0.5))); x < r.w && float64(x)+0.5 <= right; x++ {
			d := d0 + float64(dx*(float64(x)+0.5-q0.X)) + float64(dy*(row-q0.Y))
			if i := y*r.w + x; d > r.depth[i] {
				r.depth[i], r.body[i], r.face[i] = d, body, face
			}
		}
	}
}

// at returns which body is seen at a point of the paper; -1: none.
func (r *raster) at(p r2.Vec) int32 {
	q := p.Sub(r.origin).Scale(1 / r.cell)
	x, y := int(math.Floor(q.X)), int(math.Floor(q.Y))
	if x < 0 || y < 0 || x >= r.w || y >= r.h {
		return -1
	}
	return r.body[y*r.w+x]
}

// middleOf returns where on the paper square i is.
func (r *raster) middleOf(i int) r2.Vec {
	return r.origin.Add(r2.Vec{X: float64(i%r.w) + 0.5, Y: float64(i/r.w) + 0.5}.Scale(r.cell))
}

// spots returns for each body a spot of it that is seen well, off the borders of what is
// seen as one face, and near to the ring; nil where nothing of it is seen.
func (r *raster) spots(bodies int, ring ring) []*r2.Vec {
	clear := r.clearance()
	most := make([]int32, bodies)
	for i, b := range r.body {
		if b >= 0 {
			most[b] = max(most[b], clear[i])
		}
	}
	well := func(i int) int { // the body that is well seen there
		b := r.body[i]
		if b < 0 || clear[i] < min(max(1, most[b]*6/10), int32(math.Ceil(seenWide/r.cell))) {
			return -1
		}
		return int(b)
	}
	count := make([]int, bodies)
	for i := range r.body {
		if b := well(i); b >= 0 {
			count[b]++
		}
	}
	out := make([]*r2.Vec, bodies)
	met := make([]int, bodies)
	best := make([]float64, bodies)
	for i := range r.body {
		b := well(i)
		if b < 0 {
			continue
		}
		if met[b]%max(1, count[b]/mostTries) == 0 {
			q := r.middleOf(i)
			if far := ring.at(ring.nearest(q)).Sub(q).Len(); out[b] == nil || far < best[b]-tol.Page {
				best[b], out[b] = far, &q
			}
		}
		met[b]++
	}
	return out
}

const (
	seenWide  = 1.6 // a spot so far off the borders is as good as any, mm on paper
	mostTries = 60  // spots of a piece that are looked at
)

// clearance returns for each square how many squares it is off the border of what is seen
// as one face of one body, counting sideways, up and across alike.
func (r *raster) clearance() []int32 {
	out := make([]int32, len(r.body))
	one := func(i, j int) bool {
		return r.body[i] == r.body[j] && (r.face[i] == r.face[j] || r.normal[r.face[i]].Dot(r.normal[r.face[j]]) > sameFace)
	}
	for y := 1; y+1 < r.h; y++ {
		for x := 1; x+1 < r.w; x++ {
			if i := y*r.w + x; r.body[i] >= 0 && one(i, i+1) && one(i, i-1) && one(i, i+r.w) && one(i, i-r.w) {
				out[i] = math.MaxInt32 / 2
			}
		}
	}
	for y := 1; y+1 < r.h; y++ {
		for x := 1; x+1 < r.w; x++ {
			i := y*r.w + x
			out[i] = min(out[i], 1+min(out[i-1], out[i-r.w], out[i-r.w-1], out[i-r.w+1]))
		}
	}
	for y := r.h - 2; y > 0; y-- {
		for x := r.w - 2; x > 0; x-- {
			i := y*r.w + x
			out[i] = min(out[i], 1+min(out[i+1], out[i+r.w], out[i+r.w+1], out[i+r.w-1]))
		}
	}
	return out
}

// sameFace is the cosine of the turn from one facet of a round thing to the next that is
// still seen as one face.
const sameFace = 0.9

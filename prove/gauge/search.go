package gauge

import (
	"container/heap"
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// The search covers all attitudes by boxes of Gibbs vectors (axis times the tangent of
// half the angle; v stands for the quaternion 1 + v) and always splits the box
// with the highest bound. A quaternion's largest component can be made the real
// one by a half turn of the piece about x, y or z, so four charts with |vi| <= 1
// cover all attitudes; a block is its own half turn and needs one; a revolved piece
// turns about level axes only.
//
// The bound of a box comes from the proof at its middle: a weighted sum of
// constraints stays true when the piece is turned on, and by a rotation with Gibbs
// vector g it changes by
//
//	-2 (g.G + g'Sg - |g|^2 tr S) / (1 + |g|^2),
//	G = sum weight * point x normal,  S = sum weight * sym(normal point'),
//
// so near a smooth best attitude, where G is small, the bound is of second order
// and few boxes suffice.

type kind int

const (
	general  kind = iota // four charts
	revolved             // axis along z
	block                // corners at (+-a, +-b, +-c)
)

// Work is counted in corners looked at, so that the answer is the same on every machine.
const (
	// maxWork is where a search gives up; about half a second.
	maxWork = 20e6
	// fairWork is where a search for a general piece stops to sharpen a verdict
	// that it has; about 20 ms. The bracket may then be wider than tol.GaugeSearch.
	fairWork = 0.5e6
)

type cell struct {
	chart int
	v, w  r3.Vec // middle, half widths
	upper float64
	axis  int // to split next
	seq   int
}

type attitude struct {
	chart int
	v     r3.Vec
	placing
}

type search struct {
	kind   kind
	charts []body
	round  float64 // the piece is its core fattened by this
	heap   cells
	best   attitude
	upper  float64
	looked int
	seq    int
	turned body
}

func newSearch(k kind, mirrored bool, b body) *search {
	s := &search{kind: k, charts: []body{b}}
	half := []r3.Pose{
		{U: r3.X, V: r3.Y.Neg(), W: r3.Z.Neg()},
		{U: r3.X.Neg(), V: r3.Y, W: r3.Z.Neg()},
		{U: r3.X.Neg(), V: r3.Y.Neg(), W: r3.Z},
	}
	switch {
	case k == revolved && !mirrored:
		half = half[:1]
	case k != general:
		half = nil
	}
	for _, m := range half {
		c := body{about: b.about.Then(m)}
		b.turn(m, &c)
		s.charts = append(s.charts, c)
	}
	s.best.lower = math.Inf(-1)
	return s
}

// gibbs returns the rotation of a Gibbs vector.
func gibbs(v r3.Vec) r3.Pose {
	n := 1 + v.Dot(v)
	col := func(e r3.Vec) r3.Vec { // ((1-v^2)e + 2v(v.e) + 2 v x e) / (1+v^2)
		return e.Scale(2 - n).Add(v.Scale(2 * v.Dot(e))).Add(v.Cross(e).Scale(2)).Scale(1 / n)
	}
	return r3.Pose{U: col(r3.X), V: col(r3.Y), W: col(r3.Z)}
}

// at places the piece in one attitude and keeps it if it is the best.
func (s *search) at(chart int, v r3.Vec) placing {
	s.looked++
	s.charts[chart].turn(gibbs(v), &s.turned)
	p := place(&s.turned)
	if p.lower > s.best.lower {
		s.best = attitude{chart, v, p}
	}
	return p
}

// pose returns the motion of the best attitude, for the caller's frame.
func (s *search) pose() r3.Pose {
	m := gibbs(s.best.v)
	m.O = r3.Vec{X: s.best.tx, Y: s.best.ty, Z: s.best.tz}
	return s.charts[s.best.chart].about.Then(m)
}

// domain returns the middle and half widths of a chart. The gauge is its own mirror image
// in y, which turns v into (-vx, vy, -vz), so a piece that is its own mirror image needs
// half.
func (s *search) domain() (v, w r3.Vec) {
	switch s.kind {
	case revolved:
		return r3.Vec{X: 0.5}, r3.Vec{X: 0.5, Y: 1}
	case block:
		return r3.Vec{X: 0.5}, r3.Vec{X: 0.5, Y: 1, Z: 1}
	}
	return r3.Vec{}, r3.Vec{X: 1, Y: 1, Z: 1}
}

// seed tries upright and lying attitudes and climbs from the best of them.
func (s *search) seed() {
	for chart := range s.charts {
		s.at(chart, r3.Vec{})
		mid, w := s.domain()
		for i := 0; i < 125; i++ {
			v := r3.Vec{
				X: mid.X + float64(w.X*float64(i%5-2))/2,
				Y: mid.Y + float64(w.Y*float64(i/5%5-2))/2,
				Z: mid.Z + float64(w.Z*float64(i/25-2))/2,
			}
			if w.Z == 0 && i >= 25 {
				break
			}
			s.at(chart, v)
		}
	}
	s.climb(0.125)
}

// climb improves the best attitude by steps along the axes, halved when none helps.
func (s *search) climb(step float64) {
	_, w := s.domain()
	for step > 1e-5 {
		from := s.best
		for i := 0; i < 3; i++ {
			for _, d := range [2]float64{step, -step} {
				if w.At(i) > 0 {
					s.at(from.chart, from.v.With(i, from.v.At(i)+d))
				}
			}
		}
		if s.best.lower <= from.lower {
			step /= 2
		}
	}
}

// run searches until the best attitude is within tol.GaugeSearch of the upper bound
// or the work is used up. limit is an upper bound known beforehand.
func (s *search) run(limit float64) {
	s.seed()
	s.upper = limit
	v, w := s.domain()
	for chart := range s.charts {
		s.push(cell{chart: chart, v: v, w: w, upper: limit})
	}
	size := len(s.charts[0].points) + 3*len(s.charts[0].circles)
	for len(s.heap) > 0 {
		c := s.heap[0]
		s.upper = c.upper
		work := s.looked * size
		if c.upper <= s.best.lower+tol.GaugeSearch || work > maxWork ||
			s.kind == general && work > fairWork && s.decided() {
			return
		}
		heap.Pop(&s.heap)
		half := c.w.At(c.axis) / 2
		for _, d := range [2]float64{-half, half} {
			s.push(cell{chart: c.chart, upper: c.upper,
				v: c.v.With(c.axis, c.v.At(c.axis)+d), w: c.w.With(c.axis, half)})
		}
	}
}

// decided tells whether the bracket lies on one side of the limit.
func (s *search) decided() bool {
	return s.best.lower >= s.need() || s.upper <= s.need()+tol.GaugeSearch
}

// need is the clearance that the core has to have for the piece to count as fitting.
func (s *search) need() float64 { return s.round - tol.Gauge }

// push bounds a box and puts it on the heap.
func (s *search) push(c cell) {
	before := s.best.lower
	p := s.at(c.chart, c.v)
	bound, axis := p.proof.over(c.v, c.w)
	c.upper, c.axis = math.Min(c.upper, bound), axis
	c.seq = s.seq
	s.seq++
	heap.Push(&s.heap, c)
	if s.best.lower > before+tol.GaugeSearch {
		s.climb(c.w.At(axis) / 2)
	}
}

// over returns the bound of the clearance over the box of Gibbs vectors about v
// with half widths w, and the axis along which splitting lowers it most.
func (p *proof) over(v, w r3.Vec) (bound float64, axis int) {
	level := p.level
	var g r3.Vec
	var xx, yy, zz, xy, xz, yz float64
	for i := 0; i < p.n; i++ {
		k, n, q := p.weight[i], p.normal[i], p.point[i]
		level -= float64(k * n.Dot(q))
		g = g.Add(q.Cross(n).Scale(k))
		xx += float64(k * float64(n.X*q.X))
		yy += float64(k * float64(n.Y*q.Y))
		zz += float64(k * float64(n.Z*q.Z))
		xy += float64(k*(float64(n.X*q.Y)+float64(n.Y*q.X))) / 2
		xz += float64(k*(float64(n.X*q.Z)+float64(n.Z*q.X))) / 2
		yz += float64(k*(float64(n.Y*q.Z)+float64(n.Z*q.Y))) / 2
	}
	// The box as seen from its middle: the Gibbs vector on top of v is
	// (d - d x v) / (1 + |v|^2 + d.v) for d in the box.
	norm := 1 + v.Dot(v)
	least := norm - float64(w.X*math.Abs(v.X)) - float64(w.Y*math.Abs(v.Y)) - float64(w.Z*math.Abs(v.Z))
	if least <= 0 {
		return math.Inf(1), widest(w)
	}
	gd := g.Sub(v.Cross(g)) // g.(d - d x v) = d.gd
	first := r3.Vec{X: float64(math.Abs(gd.X) * w.X), Y: float64(math.Abs(gd.Y) * w.Y), Z: float64(math.Abs(gd.Z) * w.Z)}
	linear := 2 * (first.X + first.Y + first.Z) / least

	// |g|^2 <= |d|^2 (1 + |v|^2) / least^2. The largest eigenvalue of tr S - S is at
	// most its mean plus sqrt(2/3) of the norm of the rest.
	tr := xx + yy + zz
	m := tr / 3
	dx, dy, dz := xx-m, yy-m, zz-m
	rest := float64(dx*dx) + float64(dy*dy) + float64(dz*dz) +
		2*(float64(xy*xy)+float64(xz*xz)+float64(yz*yz))
	curve := math.Max(0, tr-m+math.Sqrt(rest*2/3))
	scale := 2 * curve * norm / float64(least*least)
	second := r3.Vec{X: float64(w.X * w.X), Y: float64(w.Y * w.Y), Z: float64(w.Z * w.Z)}.Scale(scale)
	bound = level + linear + second.X + second.Y + second.Z + tol.Clip

	most := -1.0
	for i := 0; i < 3; i++ {
		// Halving w takes half of the linear and three quarters of the second-order part.
		if gain := first.At(i)/least + float64(0.75*second.At(i)); gain > most {
			most, axis = gain, i
		}
	}
	return bound, axis
}

func widest(w r3.Vec) int {
	axis := 0
	for i := 1; i < 3; i++ {
		if w.At(i) > w.At(axis) {
			axis = i
		}
	}
	return axis
}

// cells is a heap with the highest bound on top, the older first if equal.
type cells []cell

func (h cells) Len() int { return len(h) }
func (h cells) Less(i, j int) bool {
	if h[i].upper != h[j].upper {
		return h[i].upper > h[j].upper
	}
	return h[i].seq < h[j].seq
}
func (h cells) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *cells) Push(x any)   { *h = append(*h, x.(cell)) }
func (h *cells) Pop() any {
	old := *h
	c := old[len(old)-1]
	*h = old[:len(old)-1]
	return c
}

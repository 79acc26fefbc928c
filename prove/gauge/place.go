package gauge

import (
	"math"

	"dryfit/geom/r3"
)

// At a fixed attitude the best clearance r is a small convex problem. Set as high
// as the rim allows, the piece shifted by (tx, ty) clears the floor by r if
//
//	(1 + sqrt 2) r <= room + tx,   room = mean - max z - max -(x + z),
//
// and clears the wall by r if |p + t| <= Radius - r for each of its points. That is
// the smallest circle of radius rho = Radius - r about the shadow, whose
// centre may not lie too far to the deep side. Three constraints decide, so the
// basis is exchanged one point at a time, as for smallest enclosing circles
// (E. Welzl 1991). Every basis on the way is an upper bound of r; every t
// is a placing, thus a lower bound.

const kappa = 1 + math.Sqrt2

// wall is the wall part of a basis: up to three points that hold the circle.
type wall struct {
	n      int
	p      [3]r3.Vec
	mu     [3]float64 // weights: the sum of mu * normal is (1, 0) with floor, else 0
	floor  bool
	tx, ty float64
	rho    float64
}

// placing is the outcome at one attitude.
type placing struct {
	lower, upper float64
	tx, ty, tz   float64
	proof        proof
}

// proof is a weighted sum of constraints that holds at every attitude:
// r <= level - sum of weight * normal.(turned point).
type proof struct {
	n      int
	weight [5]float64
	normal [5]r3.Vec
	point  [5]r3.Vec
	level  float64
}

var downhill = r3.Vec{X: -1 / math.Sqrt2, Z: -1 / math.Sqrt2}

// place solves for the attitude in which b lies.
func place(b *body) placing {
	top := b.support(r3.Z)
	low := b.support(downhill)
	room := mean - top.Z + low.X + low.Z
	need := float64(kappa*Radius) - room // tx + kappa*rho must reach it

	first := b.support(r3.X)
	w := one(first, need)
	lower, upper := math.Inf(-1), math.Inf(1)
	var tx, ty float64
	for i := 0; i < 50; i++ {
		far, d := b.farthest(-w.tx, -w.ty)
		if l := math.Min((room+w.tx)/kappa, Radius-d); l > lower {
			lower, tx, ty = l, w.tx, w.ty
		}
		upper = Radius - w.rho
		if d <= w.rho+1e-7 {
			break
		}
		next := w.exchange(far, need)
		if !(next.rho > w.rho) {
			break
		}
		w = next
	}
	return placing{lower, upper, tx, ty, -top.Z - lower, prove(&w, top, low)}
}

// one returns the basis of the floor and a point, or of the point alone.
func one(p r3.Vec, need float64) wall {
	w := wall{n: 1, p: [3]r3.Vec{p}, ty: -p.Y, floor: true}
	w.mu[0] = 1
	w.rho = (need + p.X) / (1 + kappa)
	if w.rho < 0 {
		w.rho, w.floor = 0, false
	}
	w.tx = w.rho - p.X
	return w
}

// exchange returns the basis of w's points, the floor and k, which contains k.
// Every candidate with weights >= 0 bounds rho from below, so the largest is right.
func (w *wall) exchange(k r3.Vec, need float64) wall {
	best := one(k, need)
	keep := func(c wall, ok bool) {
		if ok && c.rho > best.rho {
			best = c
		}
	}
	for i := 0; i < w.n; i++ {
		keep(two(w.p[i], k, need))
		for j := 0; j < i; j++ {
			keep(three(w.p[i], w.p[j], k))
		}
	}
	return best
}

// two returns the basis of two points, with the floor if it is needed.
func two(p, q r3.Vec, need float64) (wall, bool) {
	w := wall{n: 2, p: [3]r3.Vec{p, q}}
	mx, my := -(p.X+q.X)/2, -(p.Y+q.Y)/2
	dx, dy := (p.X-q.X)/2, (p.Y-q.Y)/2
	h := math.Sqrt(float64(dx*dx) + float64(dy*dy))
	if h == 0 {
		return w, false
	}
	if mx+float64(kappa*h) >= need {
		w.tx, w.ty, w.rho = mx, my, h
		w.mu[0], w.mu[1] = 0.5, 0.5
		return w, true
	}
	ux, uy := -dy/h, dx/h // along the bisector, to the deep side
	if ux < 0 {
		ux, uy = -ux, -uy
	}
	// (kappa^2 - ux^2) s^2 + 2 e ux s + kappa^2 h^2 - e^2 = 0, e = need - mx > kappa h.
	e := need - mx
	a := kappa*kappa - float64(ux*ux)
	b := float64(e * ux)
	c := float64(e*e) - float64(float64(kappa*h)*float64(kappa*h))
	s := c / (b + math.Sqrt(float64(b*b)+float64(a*c)))
	w.floor = true
	w.tx, w.ty = mx+float64(s*ux), my+float64(s*uy)
	w.rho = math.Sqrt(float64(h*h) + float64(s*s))
	// mu0 n0 + mu1 n1 = (1, 0)
	x0, y0 := (p.X+w.tx)/w.rho, (p.Y+w.ty)/w.rho
	x1, y1 := (q.X+w.tx)/w.rho, (q.Y+w.ty)/w.rho
	det := float64(x0*y1) - float64(x1*y0)
	w.mu[0], w.mu[1] = y1/det, -y0/det
	return w, w.mu[0] >= 0 && w.mu[1] >= 0
}

// three returns the basis of three points that form no obtuse triangle.
func three(p, q, k r3.Vec) (wall, bool) {
	w := wall{n: 3, p: [3]r3.Vec{p, q, k}}
	ax, ay := q.X-p.X, q.Y-p.Y
	bx, by := k.X-p.X, k.Y-p.Y
	det := 2 * (float64(ax*by) - float64(ay*bx))
	if det == 0 {
		return w, false
	}
	aa, bb := float64(ax*ax)+float64(ay*ay), float64(bx*bx)+float64(by*by)
	cx := (float64(by*aa) - float64(ay*bb)) / det
	cy := (float64(ax*bb) - float64(bx*aa)) / det
	w.rho = math.Sqrt(float64(cx*cx) + float64(cy*cy))
	w.tx, w.ty = -(p.X + cx), -(p.Y + cy)
	// The weights are the barycentric coordinates of the centre.
	w.mu[1] = 2 * (float64(cx*by) - float64(cy*bx)) / det
	w.mu[2] = 2 * (float64(ax*cy) - float64(ay*cx)) / det
	w.mu[0] = 1 - w.mu[1] - w.mu[2]
	return w, w.mu[0] >= 0 && w.mu[1] >= 0 && w.mu[2] >= 0
}

// prove turns a basis into weights that sum to 1 and normals that balance.
func prove(w *wall, top, low r3.Vec) proof {
	var pr proof
	add := func(weight, reach float64, normal, point r3.Vec) {
		pr.weight[pr.n], pr.normal[pr.n], pr.point[pr.n] = weight, normal, point
		pr.level += float64(weight * reach)
		pr.n++
	}
	total, scale := 0.0, 1.0
	if w.floor {
		scale = 1 / math.Sqrt2
		total = 1 + scale
	}
	for i := 0; i < w.n; i++ {
		total += float64(w.mu[i] * scale)
	}
	if w.floor {
		add(1/total, mean/math.Sqrt2, downhill, low)
		add(scale/total, 0, r3.Z, top)
	}
	for i := 0; i < w.n; i++ {
		n := r3.Vec{X: w.p[i].X + w.tx, Y: w.p[i].Y + w.ty}
		if l := n.Len(); l > 0 {
			n = n.Scale(1 / l)
		}
		add(float64(w.mu[i]*scale)/total, Radius, n, w.p[i])
	}
	return pr
}

package outline

import (
	"fmt"
	"sort"

	"dryfit/geom/r2"
)

// bridge makes one chain of all rings: the first counter-clockwise, the others
// clockwise. Each hole, the one that reaches farthest right first, is joined
// from its rightmost corner to the nearest corner of the chain that it can see.
// There is one: the holes not yet joined reach no farther right, so what lies
// straight to the right is the chain.
func (m *mesh) bridge(rings [][]r2.Vec) error {
	m.start = m.ring(rings[0])
	type hole struct {
		ring  int
		first int32 // rightmost node
	}
	var holes []hole
	for k, ring := range rings[1:] {
		h := hole{ring: k, first: m.ring(ring)}
		for i := h.first; int(i) < len(m.pt); i++ {
			if p, q := m.pt[i], m.pt[h.first]; p.X > q.X || p.X == q.X && p.Y > q.Y {
				h.first = i
			}
		}
		holes = append(holes, h)
	}
	sort.Slice(holes, func(i, j int) bool {
		p, q := m.pt[holes[i].first], m.pt[holes[j].first]
		if p.X != q.X {
			return p.X > q.X
		}
		if p.Y != q.Y {
			return p.Y > q.Y
		}
		return holes[i].ring < holes[j].ring
	})
	from := append([]r2.Vec(nil), m.pt...) // every edge, bridges too
	ends := make([]r2.Vec, len(from))
	for i := range ends {
		ends[i] = m.pt[m.next[i]]
	}
	chain := []int32{}
	add := func(from int32) {
		for i := from; ; {
			chain = append(chain, i)
			if i = m.next[i]; i == from {
				return
			}
		}
	}
	add(m.start)
	type far struct {
		d2 float64
		i  int32
	}
	var order []far
	for _, h := range holes {
		at := m.pt[h.first]
		order = order[:0]
		for _, i := range chain {
			d := m.pt[i].Sub(at)
			order = append(order, far{d.Dot(d), i})
		}
		sort.Slice(order, func(i, j int) bool {
			if order[i].d2 != order[j].d2 {
				return order[i].d2 < order[j].d2
			}
			return order[i].i < order[j].i
		})
		to := int32(-1)
		for _, c := range order {
			if m.opens(c.i, at) && clear(from, ends, at, m.pt[c.i]) {
				to = c.i
				break
			}
		}
		if to < 0 {
			return fmt.Errorf("hole %d does not lie inside the polygon, or touches its line", h.ring+1)
		}
		add(h.first)
		from, ends = append(from, at), append(ends, m.pt[to])
		// to -> hole ... hole' -> to' -> what followed to
		hole2, to2 := m.node(at), m.node(m.pt[to])
		m.key[to2], m.key[hole2] = m.key[to], m.keys
		m.key[to] = m.keys
		m.keys++
		m.join(to2, m.next[to])
		m.join(m.prev[h.first], hole2)
		m.join(to, h.first)
		m.join(hole2, to2)
		chain = append(chain, hole2, to2)
	}
	return nil
}

// opens tells whether p lies strictly within the polygon's angle at node i.
func (m *mesh) opens(i int32, p r2.Vec) bool {
	a, v, b := m.pt[m.prev[i]], m.pt[i], m.pt[m.next[i]]
	if v == p {
		return false
	}
	if orient(a, v, b) > 0 {
		return orient(v, b, p) > 0 && orient(v, p, a) > 0
	}
	return !(orient(v, a, p) >= 0 && orient(v, p, b) >= 0)
}

// clear tells whether nothing lies on the line from p to q but the edges that
// end at p or at q.
func clear(from, to []r2.Vec, p, q r2.Vec) bool {
	box := r2.Around(p, q)
	for i, a := range from {
		b := to[i]
		if a.X < box.Min.X && b.X < box.Min.X || a.X > box.Max.X && b.X > box.Max.X ||
			a.Y < box.Min.Y && b.Y < box.Min.Y || a.Y > box.Max.Y && b.Y > box.Max.Y {
			continue
		}
		if b == p || b == q {
			a, b = b, a
		}
		if a == p || a == q {
			// Only an edge that runs along the line is in the way.
			o := q
			if a == q {
				o = p
			}
			if b != o && orient(p, q, b) == 0 && b.Sub(a).Dot(o.Sub(a)) > 0 {
				return false
			}
			continue
		}
		if orient(p, q, a)*orient(p, q, b) <= 0 && orient(a, b, p)*orient(a, b, q) <= 0 {
			return false
		}
	}
	return true
}

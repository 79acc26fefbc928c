package outline

import (
	"fmt"
	"math"
	"sort"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// ConvexParts cuts a simple polygon with holes into convex counter-clockwise
// polygons that cover it exactly: every corner is a corner of the input, bit
// for bit, points in the middle of a side are left out. The input may run
// either way round.
//
// Holes are joined to the outside by bridges (bridge.go), the whole is cut into
// triangles by clipping ears (ears.go), and triangles are merged, longest
// common side first, as long as the result stays convex (Hertel and Mehlhorn,
// 1983: at most four times the least number possible).
//
// It is an error, never a silent loss, if lines cross, if a hole does not lie
// inside, or if the areas of the parts do not sum to the area of the polygon
// within tol.Cover of it. Lines that lie on each other along their length are
// not looked for here: Check finds those.
func ConvexParts(poly []r2.Vec, holes [][]r2.Vec) ([][]r2.Vec, error) {
	rings := make([][]r2.Vec, 0, 1+len(holes))
	var es []edge
	area, size := 0.0, 0.0
	for k, ring := range append([][]r2.Vec{poly}, holes...) {
		for _, p := range ring {
			if !finite(p) {
				return nil, fmt.Errorf("a corner is not a usable number")
			}
		}
		a := SignedArea(ring)
		if a == 0 {
			return nil, fmt.Errorf("polygon %d of the region encloses no area", k)
		}
		if (a > 0) != (k == 0) {
			ring = reversed(ring)
			a = -a
		}
		area += a
		size = math.Max(size, math.Abs(a))
		rings = append(rings, ring)
		es = appendRing(es, ring, nil, k)
	}
	if len(holes) == 0 && IsConvex(rings[0]) && exactlyConvex(rings[0]) {
		if p := stripped(append([]r2.Vec(nil), rings[0]...)); p != nil {
			return [][]r2.Vec{p}, nil
		}
	}
	simple := true
	var at r2.Vec
	sweep(es, 0, func(i, j int) bool {
		if crosses(es[i], es[j]) {
			simple, at = false, es[i].a
		}
		return simple
	})
	if !simple {
		return nil, fmt.Errorf("lines of the polygon cross near (%.4g, %.4g)", at.X, at.Y)
	}
	m := &mesh{}
	if err := m.bridge(rings); err != nil {
		return nil, err
	}
	if err := m.clipEars(); err != nil {
		return nil, err
	}
	m.merge()
	parts := m.parts()
	sum := 0.0
	for _, p := range parts {
		sum += SignedArea(p)
	}
	if !(math.Abs(sum-area) <= tol.Cover*size) {
		return nil, fmt.Errorf("the parts of the polygon have the area %.9g, not %.9g", sum, area)
	}
	return parts, nil
}

func exactlyConvex(ring []r2.Vec) bool {
	n := len(ring)
	for i := range ring {
		if orient(ring[i], ring[(i+1)%n], ring[(i+2)%n]) < 0 {
			return false
		}
	}
	return true
}

func reversed(ring []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(ring))
	for i, p := range ring {
		out[len(ring)-1-i] = p
	}
	return out
}

// mesh is the work in hand: first a chain of nodes that winds round everything
// not yet cut off, then triangles, then merged pieces.
//
// Chain: node i stands at pt[i], next[i] follows it; key[i] names the edge that
// leaves it. A key is 0 or more for an edge with polygon on both sides, so that
// exactly two triangle sides carry it, and -1 on the boundary.
//
// Pieces: side h of a piece runs from pt[org[h]] to the origin of after[h];
// twin[h] is the same side of the neighbour, or -1.
type mesh struct {
	pt         []r2.Vec
	next, prev []int32
	key        []int32
	keys       int32
	start      int32

	org, after, before, twin []int32
	sideKey                  []int32
	gone                     []bool
}

// node adds a node to the arrays, joined to nothing.
func (m *mesh) node(p r2.Vec) int32 {
	m.pt = append(m.pt, p)
	m.next = append(m.next, 0)
	m.prev = append(m.prev, 0)
	m.key = append(m.key, -1)
	return int32(len(m.pt) - 1)
}

func (m *mesh) join(a, b int32) { m.next[a], m.prev[b] = b, a }

// ring adds a ring of nodes and returns its first.
func (m *mesh) ring(pts []r2.Vec) int32 {
	first := int32(len(m.pt))
	for _, p := range pts {
		m.node(p)
	}
	for i := range pts {
		m.join(first+int32(i), first+int32((i+1)%len(pts)))
	}
	return first
}

func (m *mesh) triangle(a, b, c int32, ab, bc, ca int32) {
	h := int32(len(m.org))
	m.org = append(m.org, a, b, c)
	m.sideKey = append(m.sideKey, ab, bc, ca)
	m.after = append(m.after, h+1, h+2, h)
	m.before = append(m.before, h+2, h, h+1)
}

// merge takes away sides between pieces, longest first (ties: the side made
// first), as long as both ends stay convex; again until nothing changes.
func (m *mesh) merge() {
	n := len(m.org)
	m.twin, m.gone = make([]int32, n), make([]bool, n)
	seen := make([]int32, m.keys)
	type side struct {
		h  int32
		ll float64
	}
	var inner []side
	for h, k := range m.sideKey {
		m.twin[h] = -1
		if k < 0 {
			continue
		}
		if g := seen[k]; g > 0 {
			m.twin[h], m.twin[g-1] = g-1, int32(h)
			d := m.pt[m.org[h]].Sub(m.pt[m.org[g-1]])
			inner = append(inner, side{int32(g - 1), d.Dot(d)})
		} else {
			seen[k] = int32(h) + 1
		}
	}
	sort.SliceStable(inner, func(i, j int) bool {
		if inner[i].ll != inner[j].ll {
			return inner[i].ll > inner[j].ll
		}
		return inner[i].h < inner[j].h
	})
	for {
		kept := inner[:0]
		for _, s := range inner {
			if !m.dissolve(s.h) {
				kept = append(kept, s)
			}
		}
		if len(kept) == len(inner) {
			return
		}
		inner = kept
	}
}

// dissolve merges the two pieces at side h if the result is convex.
func (m *mesh) dissolve(h int32) bool {
	g := m.twin[h]
	hb, ha, gb, ga := m.before[h], m.after[h], m.before[g], m.after[g]
	if ha == g || hb == g {
		return false
	}
	if !m.convexAt(hb, ga) || !m.convexAt(gb, ha) {
		return false
	}
	for s := ha; s != h; s = m.after[s] { // a piece that meets itself
		if s == g {
			return false
		}
	}
	m.after[hb], m.before[ga] = ga, hb
	m.after[gb], m.before[ha] = ha, gb
	m.gone[h], m.gone[g] = true, true
	return true
}

// convexAt tells whether the line does not turn right, nor back, from side s
// into side t.
func (m *mesh) convexAt(s, t int32) bool {
	a, b, c := m.pt[m.org[s]], m.pt[m.org[t]], m.pt[m.org[m.after[t]]]
	switch orient(a, b, c) {
	case 1:
		return true
	case 0:
		return b.Sub(a).Dot(c.Sub(b)) > 0
	}
	return false
}

// parts returns the pieces, in the order of their first sides.
func (m *mesh) parts() [][]r2.Vec {
	var out [][]r2.Vec
	done := make([]bool, len(m.org))
	for h := range m.org {
		if done[h] || m.gone[h] {
			continue
		}
		var p []r2.Vec
		for s := int32(h); !done[s]; s = m.after[s] {
			done[s] = true
			p = append(p, m.pt[m.org[s]])
		}
		if p = stripped(p); p != nil {
			out = append(out, p)
		}
	}
	return out
}

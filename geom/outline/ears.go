package outline

import (
	"container/heap"
	"fmt"
	"math"

	"dryfit/geom/r2"
)

// clipEars cuts the chain into triangles. An ear is a corner that turns left
// and whose triangle holds no corner that turns right; of all ears the one with
// the shortest cut goes first, which leaves compact pieces. The end of a spike
// of no width goes at once, as an ear of no area; a corner in the middle of a
// line only when nothing else is left, since pieces may want to end there.
//
// Only right-turning (reflex) corners are tested, found by a grid. A corner
// that is no ear waits on the reflex corner that is in its way, and is tested
// again when that one no longer turns right; a corner never begins to.
func (m *mesh) clipEars() error {
	n := 0
	for i := m.start; ; {
		n++
		if i = m.next[i]; i == m.start {
			break
		}
	}
	e := &clipper{
		mesh: m, version: make([]int32, len(m.pt)), reflex: make([]bool, len(m.pt)), waiting: map[int32][]int32{},
	}
	count := 0
	for k, i := 0, m.start; k < n; k, i = k+1, m.next[i] {
		if m.turn(i) < 0 {
			e.reflex[i] = true
			count++
		}
	}
	e.grid = newGrid(m.pt, count)
	for k, i := 0, m.start; k < n; k, i = k+1, m.next[i] {
		if e.reflex[i] {
			e.grid.add(i)
		} else {
			e.push(i)
		}
	}
	for n > 3 {
		if len(e.heap) == 0 {
			return fmt.Errorf("the polygon touches or crosses itself")
		}
		c := heap.Pop(&e.heap).(cut)
		i := c.node
		if c.version != e.version[i] {
			continue
		}
		a, b := m.prev[i], m.next[i]
		if c.length >= 0 && !math.IsInf(c.length, 1) {
			if q := e.inTheWay(a, i, b); q >= 0 {
				e.waiting[q] = append(e.waiting[q], i)
				continue
			}
		}
		m.triangle(a, i, b, m.key[a], m.key[i], m.keys)
		m.key[a] = m.keys
		m.keys++
		m.join(a, b)
		e.version[i] = -1
		n--
		e.update(a)
		e.update(b)
		m.start = a
	}
	a := m.start
	b, c := m.next[a], m.prev[a]
	if n == 3 {
		if orient(m.pt[a], m.pt[b], m.pt[c]) < 0 {
			return fmt.Errorf("the polygon touches or crosses itself")
		}
		m.triangle(a, b, c, m.key[a], m.key[b], m.key[c])
	}
	return nil
}

func (m *mesh) turn(i int32) int { return orient(m.pt[m.prev[i]], m.pt[i], m.pt[m.next[i]]) }

type clipper struct {
	*mesh
	heap    cuts
	version []int32 // -1: cut off; a queue entry of an older version is void
	reflex  []bool
	waiting map[int32][]int32 // never walked, only looked up
	grid    *grid
}

// push queues a corner that does not turn right.
func (e *clipper) push(i int32) {
	d := e.pt[e.next[i]].Sub(e.pt[e.prev[i]])
	length := d.Dot(d)
	if e.turn(i) == 0 {
		length = math.Inf(1)
		if p := e.pt[i]; p.Sub(e.pt[e.prev[i]]).Dot(e.pt[e.next[i]].Sub(p)) <= 0 {
			length = -1
		}
	}
	heap.Push(&e.heap, cut{length, i, e.version[i]})
}

// update sees to a corner whose neighbour was cut off.
func (e *clipper) update(i int32) {
	e.version[i]++
	if e.turn(i) < 0 {
		if !e.reflex[i] { // only where the chain folds back on itself
			e.reflex[i] = true
			e.grid.add(i)
		}
		return
	}
	if e.reflex[i] {
		e.reflex[i] = false
		e.grid.remove(i)
		for _, w := range e.waiting[i] {
			if e.version[w] >= 0 && !e.reflex[w] {
				e.version[w]++
				e.push(w)
			}
		}
		delete(e.waiting, i)
	}
	e.push(i)
}

// inTheWay returns a reflex corner inside the triangle or on its cut, or -1.
func (e *clipper) inTheWay(a, i, b int32) int32 {
	p, q, r := e.pt[a], e.pt[i], e.pt[b]
	return e.grid.find(r2.Around(p, q, r), func(k int32) bool {
		c := e.pt[k]
		return k != a && k != b && orient(p, q, c) > 0 && orient(q, r, c) > 0 && orient(r, p, c) >= 0
	})
}

// cut is an entry of the queue: a corner and its squared cut length.
type cut struct {
	length  float64
	node    int32
	version int32
}

type cuts []cut

func (c cuts) Len() int { return len(c) }
func (c cuts) Less(i, j int) bool {
	if c[i].length != c[j].length {
		return c[i].length < c[j].length
	}
	return c[i].node < c[j].node
}
func (c cuts) Swap(i, j int) { c[i], c[j] = c[j], c[i] }
func (c *cuts) Push(x any)   { *c = append(*c, x.(cut)) }
func (c *cuts) Pop() any {
	old := *c
	x := old[len(old)-1]
	*c = old[:len(old)-1]
	return x
}

// grid finds nodes by place.
type grid struct {
	pt     []r2.Vec
	box    r2.Box
	n      int // cells each way
	kx, ky float64
	cells  [][]int32
}

func newGrid(pt []r2.Vec, count int) *grid {
	g := &grid{pt: pt, box: r2.Around(pt...), n: 1 + int(math.Sqrt(float64(count)))}
	size := g.box.Size()
	if size.X > 0 {
		g.kx = float64(g.n) / size.X
	}
	if size.Y > 0 {
		g.ky = float64(g.n) / size.Y
	}
	g.cells = make([][]int32, g.n*g.n)
	return g
}

func (g *grid) column(x float64) int {
	return min(g.n-1, max(0, int((x-g.box.Min.X)*g.kx)))
}

func (g *grid) row(y float64) int {
	return min(g.n-1, max(0, int((y-g.box.Min.Y)*g.ky)))
}

func (g *grid) cell(i int32) *[]int32 {
	return &g.cells[g.row(g.pt[i].Y)*g.n+g.column(g.pt[i].X)]
}

func (g *grid) add(i int32) { c := g.cell(i); *c = append(*c, i) }

func (g *grid) remove(i int32) {
	c := g.cell(i)
	for k, j := range *c {
		if j == i {
			(*c)[k] = (*c)[len(*c)-1]
			*c = (*c)[:len(*c)-1]
			return
		}
	}
}

func (g *grid) find(box r2.Box, ok func(int32) bool) int32 {
	x0, x1 := g.column(box.Min.X), g.column(box.Max.X)
	for y, y1 := g.row(box.Min.Y), g.row(box.Max.Y); y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			for _, i := range g.cells[y*g.n+x] {
				if p := g.pt[i]; p.X >= box.Min.X && p.X <= box.Max.X && p.Y >= box.Min.Y && p.Y <= box.Max.Y && ok(i) {
					return i
				}
			}
		}
	}
	return -1
}

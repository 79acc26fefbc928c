package prove

import (
	"math"
	"sort"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// What is tried when no plain direction is free: directions between the faces
// that a piece touches, and two moves one after the other. And when that fails
// too, the proof that a piece is shut in.

// normalsMost bounds the faces that directions of least obstruction are made of.
const normalsMost = 16

// loosest returns directions of least obstruction: into the middle of what the
// touched faces leave free, and along its edges.
func (p *puzzle) loosest(moving, fixed []int) []r3.Vec {
	var ns []r3.Vec
	for _, i := range moving {
		for _, j := range fixed {
			if p.fits[[2]int{i, j}] != nil || p.fits[[2]int{j, i}] != nil || !p.boxes[i].Grow(tol.Touch).Meets(p.boxes[j]) {
				continue
			}
			a, b := p.at(j, p.boxes[i]), p.at(i, p.boxes[j])
			for k := range a.Pieces {
				near := a.Pieces[k].Bounds().Grow(tol.Touch)
				if !near.Meets(b.Bounds()) {
					continue
				}
				for l := range b.Pieces {
					if len(ns) >= normalsMost || !near.Meets(b.Pieces[l].Bounds()) {
						continue
					}
					if s, n := solid.Separation(&a.Pieces[k], &b.Pieces[l]); s <= tol.Touch && s >= -tol.Touch {
						ns = addWay(ns, n)
					}
				}
			}
		}
	}
	var all []r3.Vec
	sum := r3.Vec{}
	for _, n := range ns {
		sum = sum.Add(n)
	}
	all = append(append(all, sum), ns...)
	for k, n := range ns {
		for _, o := range ns[:k] {
			c := n.Cross(o)
			all = append(all, c, c.Neg())
		}
	}
	var out []r3.Vec
next:
	for _, v := range all {
		if v.Len() < tol.Weld {
			continue
		}
		v = v.Unit()
		for _, n := range ns {
			if n.Dot(v) < -tol.Weld {
				continue next
			}
		}
		out = addWay(out, v)
	}
	return out
}

func addWay(ds []r3.Vec, n r3.Vec) []r3.Vec {
	for _, d := range ds {
		if d.Dot(n) > 1-tol.Weld {
			return ds
		}
	}
	return append(ds, n)
}

// moveLeast is the shortest first move worth a second one: what a hand feels
// (common practice, no source).
const moveLeast = 1.0

// twoMoves shifts the pieces one way as far as they go, or until they are past
// something, and from there another way out.
func (p *puzzle) twoMoves(moving, fixed []int, ways []int) ([]r3.Vec, bool) {
	for _, d := range ways {
		one := p.dirs[d]
		far := p.free(moving, fixed, r3.Vec{}, one, p.span[d])
		for _, s := range p.halts(moving, fixed, one, far) {
			off := one.Scale(s)
			for _, e := range ways {
				if e|1 == d|1 || p.slides <= 0 {
					continue
				}
				if two := p.dirs[e]; p.free(moving, fixed, off, two, 2*p.span[e]) >= 2*p.span[e] {
					return []r3.Vec{off, p.out(moving, fixed, off, two)}, true
				}
			}
		}
	}
	return nil, false
}

// free returns how far the pieces, shifted by off, can go along d.
func (p *puzzle) free(moving, fixed []int, off, d r3.Vec, far float64) float64 {
	for _, reach := range []float64{nearBy, far} { // mostly something is in the way at once
		if reach = math.Min(reach, far); reach < nearBy {
			return far
		}
		for _, i := range moving {
			from := r3.Box{Min: p.boxes[i].Min.Add(off), Max: p.boxes[i].Max.Add(off)}
			for _, j := range fixed {
				if swept(from, d.Scale(reach)).Grow(-tol.Touch).Meets(p.boxes[j]) {
					p.slides--
					t, _ := p.travel(i, j, off, d, reach)
					if t < reach {
						if far, reach = t, t; far < moveLeast {
							return far
						}
					}
				}
			}
		}
	}
	return far
}

// halts returns where along d it may pay to turn off: at the end, and wherever
// the pieces have just come past, or just not come to, a flat-sided piece of the
// wood about them.
func (p *puzzle) halts(moving, fixed []int, d r3.Vec, far float64) []float64 {
	if far < moveLeast {
		return nil
	}
	end := far - tol.Touch // where they just touch
	out := []float64{end}
	add := func(s float64) {
		if s < moveLeast || s > end-moveLeast/2 || len(out) >= haltsMost {
			return
		}
		for _, o := range out {
			if math.Abs(o-s) < tol.Touch {
				return
			}
		}
		out = append(out, s)
	}
	low, high, way := math.Inf(1), math.Inf(-1), r3.EmptyBox()
	for _, i := range moving {
		l, h := reachOf(p.boxes[i], d)
		low, high = math.Min(low, l), math.Max(high, h)
		way = way.Union(swept(p.boxes[i], d.Scale(far)))
	}
	for _, j := range fixed {
		if !way.Grow(nearBy).Meets(p.boxes[j]) {
			continue
		}
		body := p.r.m.Pieces[j].Body
		for k := range body.Pieces {
			if box := body.Pieces[k].Bounds(); way.Grow(nearBy).Meets(box) {
				l, h := reachOf(box, d)
				add(h - low)
				add(l - high)
			}
		}
	}
	sort.Float64s(out)
	return out
}

// haltsMost bounds the places at which a shift turns off.
const haltsMost = 12

// anyShut proves of one of the units that it is shut in by wood that is glued
// together: nobody would move that aside.
func (p *puzzle) anyShut(units []blocked) bool {
	for _, rod := range []bool{true, false} { // rods are the likeliest
		for _, b := range units {
			u := p.units[b.unit]
			if (u.kind == rodUnit) != rod {
				continue
			}
			for _, rigid := range p.parts(b.from, pressed) {
				if p.shutIn(u.pieces, p.wood(rigid)) {
					return true
				}
			}
		}
	}
	return false
}

// fast proves that some units cannot be parted at all by shifts, neither one of
// them nor several together. Two that are shut in by each other alone are on the
// same side of any parting; what is left after joining such pairs is tried set by
// set, where there are few.
func (p *puzzle) fast(set []int) bool {
	var nodes [][]int
	for _, u := range set {
		nodes = append(nodes, []int{u})
	}
	for again := true; again && len(nodes) > 1; {
		again = false
	pairs:
		for a := range nodes {
			for b := a + 1; b < len(nodes); b++ {
				if p.shutIn(p.wood(nodes[a]), p.wood(nodes[b])) {
					nodes[a] = append(nodes[a], nodes[b]...)
					nodes = append(nodes[:b], nodes[b+1:]...)
					again = true
					break pairs
				}
			}
		}
	}
	if len(nodes) > nodesMost {
		return false
	}
	for mask := 1; mask < 1<<(len(nodes)-1); mask++ { // the last node stays
		var in, out []int
		for k, us := range nodes {
			if mask>>k&1 == 1 {
				in = append(in, us...)
			} else {
				out = append(out, us...)
			}
		}
		if !p.shutIn(p.wood(in), p.wood(out)) {
			return false
		}
	}
	return true
}

// nodesMost bounds the sets that are tried: 15 of five.
const nodesMost = 5

// shutIn proves that the pieces cannot be taken from among the others by any
// shift, straight or not, without turning. It fills the space of shifts with
// cubes, from no shift on: a cube is closed when at its middle two pieces are
// deeper in each other than its half diagonal, since no shift by less could then
// part them. If the open cubes that can be reached are few and all inside, the
// pieces are shut in. false says only that it was not proved.
func (p *puzzle) shutIn(moving, fixed []int) bool {
	if len(fixed) == 0 {
		return false
	}
	c := closet{p: p, inner: r3.EmptyBox(), outer: r3.EmptyBox(), looks: min(looksMost, p.looks)}
	for _, j := range fixed {
		c.outer = c.outer.Union(p.boxes[j])
	}
	for _, i := range moving {
		c.inner = c.inner.Union(p.boxes[i])
		for _, j := range fixed {
			a, b := p.r.m.Pieces[j].Bored(), p.r.m.Pieces[i].Bored()
			c.pairs = append(c.pairs, closetPair{i, j, a, b, p.allowed(a, b)})
		}
	}
	start := c.looks
	shut := false
	for _, half := range cubeHalves {
		if shut = c.fill(half); shut {
			break
		}
	}
	p.looks -= start - max(0, c.looks)
	return shut
}

// cubeHalves are the sizes of cubes in turn, in mm: half their edges.
var cubeHalves = [...]float64{1, 0.5, 0.25}

type closet struct {
	p            *puzzle
	pairs        []closetPair
	inner, outer r3.Box // of what moves and of what stays
	looks        int
}

type closetPair struct {
	i, j  int
	a, b  solid.Body
	allow float64
}

type cube [3]int

// fill goes from open cube to open cube, the farthest first, so that a way out is
// soon found where there is one.
func (c *closet) fill(half float64) bool {
	at := [][]cube{{{}}} // open cubes by how many steps they are from no shift
	seen := map[cube]bool{{}: true}
	for far := 0; far >= 0; {
		k := len(at[far]) - 1
		if k < 0 {
			far--
			continue
		}
		from := at[far][k]
		at[far] = at[far][:k]
		for n := 0; n < 6; n++ {
			next := from
			next[n/2] += 2*(n%2) - 1
			if seen[next] {
				continue
			}
			seen[next] = true
			if c.looks--; c.looks < 0 {
				return false
			}
			off := r3.Vec{X: float64(next[0]), Y: float64(next[1]), Z: float64(next[2])}.Scale(2 * half)
			if c.closed(off, float64(half*math.Sqrt(3))) {
				continue
			}
			if box := (r3.Box{Min: c.inner.Min.Add(off), Max: c.inner.Max.Add(off)}); !box.Meets(c.outer) {
				return false
			}
			steps := abs(next[0]) + abs(next[1]) + abs(next[2])
			for len(at) <= steps {
				at = append(at, nil)
			}
			at[steps] = append(at[steps], next)
			far = max(far, steps)
		}
	}
	return true
}

// closed tells whether no shift within reach of off keeps the pieces apart.
func (c *closet) closed(off r3.Vec, reach float64) bool {
	last, body := -1, solid.Body{}
	for _, q := range c.pairs {
		box := r3.Box{Min: c.p.boxes[q.i].Min.Add(off), Max: c.p.boxes[q.i].Max.Add(off)}
		if !box.Grow(-reach).Meets(c.p.boxes[q.j]) {
			continue
		}
		if q.i != last {
			last, body = q.i, q.b.Transform(r3.Shift(off))
		}
		if solid.Penetrates(q.a, body, reach+q.allow) {
			return true
		}
	}
	return false
}

func abs(n int) int { return max(n, -n) }

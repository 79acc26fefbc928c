package prove

import (
	"math"
	"sort"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// What is tried when no plain direction is free: directions between the faces
// that a piece touches, and two moves one after the other. When that fails too,
// order_shut.go tries to prove that there is no way.

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
					t := p.travel(i, j, off, d, reach)
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

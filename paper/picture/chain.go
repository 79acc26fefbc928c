package picture

import (
	"math"
	"sort"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
)

// From strokes to lines drawn without lifting the pencil, and from chords back
// to the arcs they stand for.

// chain is a polyline. smooth[i] tells whether it runs on as a curve at pts[i].
type chain struct {
	pts    []r2.Vec
	smooth []bool
	closed bool // the last point joins the first, which is not repeated
}

// runs returns the strokes of one look and weight as runs, at the given scale,
// moved so that the point from comes to the point to.
func runs(in []stroke, look Look, contour bool, scale float64, from, to r2.Vec) []draw.Run {
	var own []stroke
	for _, s := range in {
		if s.contour == contour && s.look == look {
			s.a, s.b = s.a.Sub(from).Scale(scale).Add(to), s.b.Sub(from).Scale(scale).Add(to)
			own = append(own, s)
		}
	}
	var out []draw.Run
	for _, c := range chains(own) {
		out = append(out, c.run(scale))
	}
	return out
}

// end is one end of a stroke: 2i at its a, 2i+1 at its b.
type end = int

// chains joins strokes end to end: first those that run on smoothly into each
// other, then two that are alone at a corner.
func chains(in []stroke) []chain {
	at := func(e end) r2.Vec {
		if e&1 == 0 {
			return in[e>>1].a
		}
		return in[e>>1].b
	}
	away := func(e end) r2.Vec { return at(e ^ 1).Sub(at(e)).Unit() }
	next := make([]end, 2*len(in)) // the end that an end is joined to
	smooth := make([]bool, 2*len(in))
	for i := range next {
		next[i] = -1
	}
	for _, node := range nodes(in) {
		type pair struct {
			i, j end
			cos  float64
		}
		var pairs []pair
		for k, i := range node {
			for _, j := range node[k+1:] {
				if in[i>>1].round && in[j>>1].round && i>>1 != j>>1 {
					if cos := -away(i).Dot(away(j)); cos > smoothTurn {
						pairs = append(pairs, pair{i, j, cos})
					}
				}
			}
		}
		sort.SliceStable(pairs, func(x, y int) bool { return pairs[x].cos > pairs[y].cos })
		for _, p := range pairs {
			if next[p.i] < 0 && next[p.j] < 0 {
				next[p.i], next[p.j] = p.j, p.i
				smooth[p.i], smooth[p.j] = true, true
			}
		}
		var left []end
		for _, e := range node {
			if next[e] < 0 {
				left = append(left, e)
			}
		}
		if len(left) == 2 && left[0]>>1 != left[1]>>1 {
			next[left[0]], next[left[1]] = left[1], left[0]
		}
	}
	done := make([]bool, len(in))
	walk := func(e end) chain {
		c := chain{pts: []r2.Vec{at(e)}, smooth: []bool{false}}
		for {
			done[e>>1] = true
			e ^= 1
			c.pts, c.smooth = append(c.pts, at(e)), append(c.smooth, smooth[e])
			if e = next[e]; e < 0 {
				return c
			}
			if done[e>>1] { // round to the start
				n := len(c.pts) - 1
				c.smooth[0], c.closed = c.smooth[n], true
				c.pts, c.smooth = c.pts[:n], c.smooth[:n]
				return c
			}
		}
	}
	var out []chain
	for e := range next {
		if next[e] < 0 && !done[e>>1] {
			out = append(out, walk(e))
		}
	}
	for e := range next {
		if !done[e>>1] {
			out = append(out, walk(e))
		}
	}
	return out
}

// smoothTurn is the cosine of the most that a curve may turn between two chords:
// 45 degrees in the coarsest circle, of 8 chords.
var smoothTurn = math.Cos(46 * math.Pi / 180)

// nodes groups the ends of strokes that meet in a point.
func nodes(in []stroke) [][]end {
	type cell struct{ x, y int64 }
	const size = 20 * tol.Page
	cells := map[cell][]int{}
	var out [][]end
	var where []r2.Vec
	for e := range 2 * len(in) {
		p := in[e>>1].a
		if e&1 == 1 {
			p = in[e>>1].b
		}
		x, y := int64(math.Floor(p.X/size)), int64(math.Floor(p.Y/size))
		id := -1
		for _, c := range [9]cell{{x, y}, {x - 1, y}, {x + 1, y}, {x, y - 1}, {x, y + 1}, {x - 1, y - 1}, {x + 1, y - 1}, {x - 1, y + 1}, {x + 1, y + 1}} {
			for _, i := range cells[c] {
				if id < 0 && where[i].Sub(p).Len() < size/2 {
					id = i
				}
			}
		}
		if id < 0 {
			id = len(out)
			out, where = append(out, nil), append(where, p)
			cells[cell{x, y}] = append(cells[cell{x, y}], id)
		}
		out[id] = append(out[id], e)
	}
	return out
}

// run returns the chain with arcs where its points lie on circles.
func (c chain) run(scale float64) draw.Run {
	n := len(c.pts)
	slack := tol.Chord * math.Max(1, scale)
	if c.closed {
		if o, r, ok := c.circle(slack); ok {
			return draw.Circle(o, r)
		}
		// Start at a corner, and come back to it.
		first := 0
		for i, s := range c.smooth {
			if !s {
				first = i
				break
			}
		}
		var turned chain
		for i := range n + 1 {
			turned.pts = append(turned.pts, c.pts[(first+i)%n])
			turned.smooth = append(turned.smooth, c.smooth[(first+i)%n])
		}
		r := turned.run(scale)
		r.Closed = true
		return r
	}
	r := draw.Start(c.pts[0])
	for i := 0; i+1 < n; {

		far := i + 1
		for far < n-1 && c.smooth[far] {
			far++
		}
		best, o, sweep := i+1, r2.Vec{}, 0.0
		for j := far; j >= i+3; j-- {
			if oo, s, ok := c.arc(i, j, slack); ok {
				best, o, sweep = j, oo, s
				break
			}
		}
		if sweep != 0 {
			r = r.ArcTo(o, sweep)
		} else {
			r = r.LineTo(c.pts[best])
		}
		i = best
	}
	return r
}

// circle tells whether a closed chain is a whole circle.
func (c chain) circle(slack float64) (o r2.Vec, r float64, ok bool) {
	n := len(c.pts)
	if n < 8 {
		return o, 0, false
	}
	for _, s := range c.smooth {
		if !s {
			return o, 0, false
		}
	}
	o, r, ok = through(c.pts[0], c.pts[n/3], c.pts[2*n/3])
	for _, p := range c.pts {
		ok = ok && math.Abs(p.Sub(o).Len()-r) <= slack/10
	}
	return o, r, ok
}

// arc tells whether the points from i to j lie on an arc, about o by sweep.
func (c chain) arc(i, j int, slack float64) (o r2.Vec, sweep float64, ok bool) {
	a, b := i, j
	if j-i >= 5 { // the outermost points may be cut off on their chords
		a, b = i+1, j-1
	}
	o, r, ok := through(c.pts[a], c.pts[(a+b)/2], c.pts[b])
	if !ok || r > flattest {
		return o, 0, false
	}
	for k := i; k <= j; k++ {
		p := c.pts[k].Sub(o)
		if math.Abs(p.Len()-r) > slack {
			return o, 0, false
		}
		if k == i {
			continue
		}
		q := c.pts[k-1].Sub(o)
		turn := math.Atan2(q.Cross(p), q.Dot(p))
		if turn == 0 || turn*sweep < 0 || r*(1-math.Cos(turn/2)) > 2*slack {
			return o, 0, false
		}
		sweep += turn
	}
	return o, sweep, math.Abs(sweep) < 1.9*math.Pi
}

// flattest is the largest radius that is drawn as an arc, mm: flatter ones bend
// by less than a pencil line over a page.
const flattest = 10000

// through returns the circle through three points.
func through(a, b, c r2.Vec) (o r2.Vec, r float64, ok bool) {
	u, v := b.Sub(a), c.Sub(a)
	d := 2 * u.Cross(v)
	if math.Abs(d) <= tol.Clip*(1+v.Dot(v)) {
		return o, 0, false
	}
	uu, vv := u.Dot(u), v.Dot(v)
	w := r2.Vec{X: (float64(v.Y*uu) - float64(u.Y*vv)) / d, Y: (float64(u.X*vv) - float64(v.X*uu)) / d}
	return a.Add(w), w.Len(), true
}

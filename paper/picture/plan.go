package picture

import (
	"fmt"
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
	"dryfit/paper/draw"
)

// Where the views go. Two rows: the side and the front view in one, the top view
// in the other, above in third angle, below in first angle. What stands on the
// paper around a view is counted in: its name above, dimensions below and
// beside. The isometric goes where the most of it fits, its slanting outline close
// to the views.

// Room around the views, mm on paper.
const (
	nameRoom = 6.5  // above a view
	dimRoom  = 15.0 // below the row of the side view, and beside it
	apart    = 12.0 // between views
	offset   = 8.5  // of a dimension from the view
	dimStep  = 7.0  // from one line of dimensions to the next
)

// views is how the toy looks: the boxes of its pictures, mm of the toy.
type views struct {
	side, front, top, iso r2.Box
	third                 bool
	length, width, height string  // what the dimensions say
	ring                  float64 // room around the isometric for its numbers
	hull                  []r2.Vec
	wheels                []wheelMark // in the side view, from back to front
	axle, dia             marked      // height of an axle, diameter of the largest wheel
}

// marked is a length with what its dimension says.
type marked struct {
	from, to float64 // above the lowest of the views
	says     string
}

// top is how high on the paper the dimension reaches.
func (d marked) top(scale float64) float64 {
	if d.says == "" {
		return 0
	}
	return float64(d.to*scale) + beyond((d.to-d.from)*scale, d.says)
}

// wheelMark is an axle in the side view.
type wheelMark struct {
	at     r2.Vec
	radius float64
}

// below and beside are the room for dimensions below the side view and the front view, and
// beside the side view: one more line of them where there are axles.
func (v views) below() float64 {
	if len(v.wheels) > 1 {
		return dimRoom + dimStep
	}
	return dimRoom
}

func (v views) beside() float64 {
	if len(v.wheels) > 0 {
		return dimRoom + dimStep
	}
	return dimRoom
}

// wheelRoom is the room beside the front view for the wheels' diameter.
func (v views) wheelRoom() float64 {
	if len(v.wheels) > 0 {
		return dimRoom - 1
	}
	return 0
}

// plan is where everything goes on the paper.
type plan struct {
	scale, iso       float64 // of the views, and of the lengths along the axes of the isometric
	side, front, top r2.Vec  // lower left corners of the boxes
	middle           r2.Vec  // of the isometric
	isoNote          bool    // the isometric has a scale of its own
	wide             float64 // of the isometric with its numbers
}

// scales are those of ISO 5455, from 10:1 down.
var scales = []struct{ paper, toy float64 }{
	{10, 1}, {5, 1}, {2, 1}, {1, 1}, {1, 2}, {1, 5}, {1, 10}, {1, 20}, {1, 50}, {1, 100},
}

// isoLeast is the least scale of the isometric, as a share of that of the views.
// Small views help less than a small isometric, which nobody measures.
const isoLeast = 0.35

// isoMost is the largest: where there is room, it may be larger than the views.
const isoMost = 2.0

// isoWords is the room above the isometric for its name and what is not seen.
const isoWords = nameRoom + 4

// spread lays the views out on a sheet whose free room is body, at the largest
// scale that leaves room for a fair isometric; ok is false if there is none.
func (v views) spread(body r2.Vec) (best plan, ok bool) {
	for _, s := range scales {
		if p, fits := v.try(s.paper/s.toy, body); fits && p.iso >= isoLeast*p.scale {
			return p, true
		}
	}
	return plan{}, false
}

// try puts the views at scale s into a corner of the body, and the isometric where the
// most of it fits beside them.
func (v views) try(s float64, body r2.Vec) (plan, bool) {
	side, front, top := v.side.Size().Scale(s), v.front.Size().Scale(s), v.top.Size().Scale(s)
	below, beside, wheel := v.below(), v.beside(), v.wheelRoom()
	row1 := below + max(side.Y+max(nameRoom, beyond(side.Y, v.height)), front.Y+nameRoom, v.axle.top(s), v.dia.top(s)) // with the side view
	row2 := top.Y + nameRoom
	between, end := max(apart, beyond(front.X, v.width)), max(wheel, beyond(side.X, v.length)-beside)
	if v.third {
		row2 += 4
		between, end = max(apart, beyond(side.X, v.length)), max(wheel, beyond(front.X, v.width))
	}
	block := r2.Vec{X: beside + side.X + between + front.X + max(0, end), Y: row1 + row2}
	if block.X > body.X || block.Y > body.Y {
		return plan{}, false
	}
	// In third angle the views are in the lower left corner of the body, the top view above;
	// in first angle in the upper right one, the front view to the left, the top view below.
	p := plan{scale: s}
	if v.third {
		p.side = r2.Vec{X: beside, Y: below}
		p.front = r2.Vec{X: beside + side.X + between, Y: below}
		p.top = r2.Vec{X: beside, Y: row1 + row2 - nameRoom - top.Y}
	} else {
		p.front = r2.Vec{X: body.X - block.X + max(0, end), Y: body.Y - row1 + below}
		p.side = r2.Vec{X: p.front.X + front.X + between, Y: p.front.Y}
		p.top = r2.Vec{X: p.side.X, Y: body.Y - block.Y}
	}
	box := func(at, size r2.Vec, left, below, right float64) r2.Box {
		return r2.Box{Min: at.Sub(r2.Vec{X: left, Y: below}), Max: at.Add(size).Add(r2.Vec{X: right, Y: nameRoom})}
	}
	taken := []r2.Box{box(p.top, top, 2, 2, 2)}
	if v.third {
		taken = append(taken, box(p.side, side, beside, below, between), box(p.front, front, between, below, max(2, end)))
	} else {
		taken = append(taken, box(p.side, side, between, below, beside), box(p.front, front, max(2, end), below, between))
	}
	h := newHull(v.hull)
	lo, hi := 0.0, isoMost*s
	for range 14 {
		mid := (lo + hi) / 2
		if _, ok := h.place(v, body, taken, mid, 0); ok {
			lo = mid
		} else {
			hi = mid
		}
	}
	if p.iso = lo; p.iso >= s && p.iso < 1.25*s {
		p.iso = s
	}
	p.isoNote = p.iso != s
	if p.iso == 0 {
		return plan{}, false
	}
	// Of all the places for it, one with room around it.
	near, far := 0.0, 40.0
	for range 8 {
		mid := (near + far) / 2
		if _, ok := h.place(v, body, taken, p.iso, mid); ok {
			near = mid
		} else {
			far = mid
		}
	}
	at, ok := h.place(v, body, taken, p.iso, near)
	if !ok {
		return plan{}, false
	}
	p.middle = at
	took := v.iso.Size().Scale(axial * p.iso).Add(r2.Vec{X: 2 * v.ring, Y: 2 * v.ring})
	p.wide = took.X
	around := r2.Around(p.middle.Sub(took.Scale(0.5)), p.middle.Add(took.Scale(0.5)).Add(r2.Vec{Y: isoWords}))
	for _, b := range taken {
		around = around.Union(b)
	}
	shift := body.Scale(0.5).Sub(middle(around))
	p.side, p.front, p.top, p.middle = p.side.Add(shift), p.front.Add(shift), p.top.Add(shift), p.middle.Add(shift)
	return p, true
}

// hull is how far the isometric reaches from its middle in directions all around, mm of
// the toy.
type hull struct {
	dirs  []r2.Vec
	reach []float64
}

func newHull(pts []r2.Vec) hull {
	const n = 24
	var h hull
	for k := range n {
		sin, cos := trig.Sincos(2 * math.Pi * float64(k) / n)
		d, far := r2.Vec{X: cos, Y: sin}, 0.0
		for _, p := range pts {
			far = max(far, p.Dot(d))
		}
		h.dirs, h.reach = append(h.dirs, d), append(h.reach, far)
	}
	return h
}

// place finds where on the body the isometric fits at a scale, with its ring of numbers,
// its name, and some room to spare; the place that is nearest to the middle of the body.
func (h hull) place(v views, body r2.Vec, taken []r2.Box, scale, spare float64) (best r2.Vec, ok bool) {
	if scale <= 0 {
		return body.Scale(0.5), true
	}
	half := v.iso.Size().Scale(axial * scale / 2).Add(r2.Vec{X: v.ring, Y: v.ring})
	words := r2.Vec{X: isoWordsWide / 2, Y: half.Y + isoWords}
	wide := max(half.X, words.X)
	const grid = 24
	room := r2.Vec{X: body.X - 2*wide, Y: body.Y - 2*half.Y - isoWords}
	if room.X < 0 || room.Y < 0 {
		return best, false
	}
	least := math.Inf(1)
	for i := range grid + 1 {
		for j := range grid + 1 {
			at := r2.Vec{X: wide + float64(room.X*float64(i)/grid), Y: half.Y + float64(room.Y*float64(j)/grid)}
			free := true
			for _, b := range taken {
				if !h.clear(at, b, axial*scale, v.ring+spare) || b.Min.X < at.X+words.X && b.Max.X > at.X-words.X && b.Min.Y < at.Y+words.Y && b.Max.Y > at.Y+half.Y-v.ring {
					free = false
					break
				}
			}
			if far := at.Sub(body.Scale(0.5)).Len(); free && far < least-tol.Page {
				best, least, ok = at, far, true
			}
		}
	}
	return best, ok
}

// isoWordsWide is the room for the words above the isometric.
const isoWordsWide = 56.0

// clear tells whether the hull about a place keeps off a box by some room.
func (h hull) clear(at r2.Vec, b r2.Box, scale, room float64) bool {
	for k, d := range h.dirs {
		c := b.Min // the corner that is least far that way
		if d.X < 0 {
			c.X = b.Max.X
		}
		if d.Y < 0 {
			c.Y = b.Max.Y
		}
		near := c.Sub(at).Dot(d)
		if near > float64(h.reach[k]*scale)+room {
			return true
		}
	}
	return false
}

// beyond returns how far the label of a dimension reaches beyond its end: not at
// all where it fits between the arrows (see draw.Dimension).
func beyond(length float64, label string) float64 {
	b := draw.Bounds(draw.Dimension(r2.Vec{}, r2.Vec{X: length}, offset, label))
	if past := b.Max.X - length; past > 6 { // more than arrows from outside
		return past + 3
	}
	return 0
}

// ratio writes a scale as ISO 5455 does.
func ratio(s float64) string {
	if s < 1 {
		return fmt.Sprintf("1:%g", 1/s)
	}
	return fmt.Sprintf("%g:1", s)
}

package picture

import (
	"fmt"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// Where the views go. Two rows: the side and the front view in one, the top view
// in the other, above in third angle, below in first angle. What stands on the
// paper around a view is counted in: its name above, dimensions below and
// beside. The isometric takes the best of the free room: the corner that the
// three views leave, or a band beside or above (below) them.

// Room around the views, mm on paper.
const (
	nameRoom = 6.5  // above a view
	dimRoom  = 15.0 // below the row of the side view, and beside it
	apart    = 12.0 // between views
	offset   = 8.5  // of a dimension from the view
)

// views is how the toy looks: the boxes of its pictures, mm of the toy.
type views struct {
	side, front, top, iso r2.Box
	third                 bool
	length, width, height string  // what the dimensions say
	ring                  float64 // room around the isometric for its numbers
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
		for corner := range 3 {
			p, fits := v.try(s.paper/s.toy, corner, body)
			if fits && p.iso >= isoLeast*p.scale && p.iso > best.iso {
				best, ok = p, true
			}
		}
		if ok {
			return best, true
		}
	}
	return plan{}, false
}

// try puts the views at scale s and the isometric in one of the free rooms: the
// corner, the band above or below, the band to the right or left.
func (v views) try(s float64, where int, body r2.Vec) (plan, bool) {
	side, front, top := v.side.Size().Scale(s), v.front.Size().Scale(s), v.top.Size().Scale(s)
	row1 := dimRoom + max(side.Y+max(nameRoom, beyond(side.Y, v.height)), front.Y+nameRoom) // with the side view
	row2 := top.Y + nameRoom
	between, end := max(apart, beyond(front.X, v.width)), beyond(side.X, v.length)-dimRoom
	if v.third {
		row2 += 4
		between, end = max(apart, beyond(side.X, v.length)), beyond(front.X, v.width)
	}
	block := r2.Vec{X: dimRoom + side.X + between + front.X + max(0, end), Y: row1 + row2}
	if block.X > body.X || block.Y > body.Y {
		return plan{}, false
	}
	// All as in third angle first: the views in the lower left corner of body,
	// the isometric up and to the right of them.
	p := plan{scale: s}
	p.side = r2.Vec{X: dimRoom, Y: dimRoom}
	p.front = r2.Vec{X: dimRoom + side.X + between, Y: dimRoom}
	p.top = r2.Vec{X: dimRoom, Y: row1 + row2 - nameRoom - top.Y}
	room := r2.Box{Min: r2.Vec{}, Max: body}
	switch where {
	case 0:
		room.Min = r2.Vec{X: dimRoom + side.X + apart/2, Y: row1}
	case 1:
		room.Min.Y = block.Y + apart/2
	case 2:
		room.Min.X = block.X + apart/2
	}
	if !v.third {
		// First angle: the front view to the left of the side view, the top view
		// below it, the views in the upper right corner.
		p.front.X = body.X - block.X
		p.side.X = p.front.X + front.X + between
		p.top.X = p.side.X
		p.side.Y = body.Y - row1 + dimRoom
		p.front.Y = p.side.Y
		p.top.Y = body.Y - block.Y
		room = r2.Box{Min: r2.Vec{}, Max: body}
		switch where {
		case 0:
			room.Max = r2.Vec{X: p.side.X - apart/2, Y: body.Y - row1}
		case 1:
			room.Max.Y = body.Y - block.Y - apart/2
		case 2:
			room.Max.X = p.front.X - apart/2
		}
	}
	space := room.Size()
	space.Y -= isoWords
	space = space.Sub(r2.Vec{X: 2 * v.ring, Y: 2 * v.ring})
	if space.X <= 0 || space.Y <= 0 {
		return plan{}, false
	}
	have := v.iso.Size().Scale(axial)
	p.iso = fit(have, space)
	if p.iso >= s && p.iso < 1.25*s {
		p.iso = s
	}
	p.iso = min(p.iso, isoMost*s)
	p.isoNote = p.iso != s
	took := have.Scale(p.iso).Add(r2.Vec{X: 2 * v.ring, Y: 2 * v.ring})
	p.wide = took.X
	took.Y += isoWords
	p.middle = middle(room)
	// The isometric comes near to the views, and all of it into the middle.
	if v.third {
		p.middle.X = min(p.middle.X, room.Min.X+max(took.X/2, float64((block.X-room.Min.X)/2)))
		p.middle.Y = min(p.middle.Y, room.Min.Y+max(took.Y/2, float64((block.Y-room.Min.Y)/2)))
	} else {
		p.middle.X = max(p.middle.X, room.Max.X-max(took.X/2, float64((room.Max.X-(body.X-block.X))/2)))
		p.middle.Y = max(p.middle.Y, room.Max.Y-max(took.Y/2, float64((room.Max.Y-(body.Y-block.Y))/2)))
	}
	all := r2.Around(p.middle.Sub(took.Scale(0.5)), p.middle.Add(took.Scale(0.5)))
	if v.third {
		all = all.Union(r2.Box{Max: block})
	} else {
		all = all.Union(r2.Box{Min: body.Sub(block), Max: body})
	}
	shift := body.Scale(0.5).Sub(middle(all))
	p.side, p.front, p.top = p.side.Add(shift), p.front.Add(shift), p.top.Add(shift)
	p.middle = p.middle.Add(shift).Sub(r2.Vec{Y: isoWords / 2})
	return p, true
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

package prove

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
)

// A flood fills what can be reached without the parts going through each other. The
// space of shifts, or of shifts and turns, is cut into cells; a cell is closed when
// none of its places is free. What gets from one place to another goes from open cell
// to open cell over their sides: if the open cells that can be reached are few and
// none is outside, there is no way out. That a flood finds no end proves nothing.

// cell counts steps of shift along x, y and z and of turning about them, from the
// place where a piece is drawn.
type cell [6]int

// flood tells whether all that can be reached from cell 0 is inside. It goes to the
// farthest open cell first, so that a way out is soon found where there is one. Each
// cell that is looked at costs one of *looks.
func flood(dims int, looks *int, closed, outside func(cell) bool) bool {
	at := [][]cell{{{}}} // open cells by how many steps they are from the first
	seen := map[cell]bool{{}: true}
	for far := 0; far >= 0; {
		k := len(at[far]) - 1
		if k < 0 {
			far--
			continue
		}
		from := at[far][k]
		at[far] = at[far][:k]
		for n := 0; n < 2*dims; n++ {
			next := from
			next[n/2] += 2*(n%2) - 1
			if seen[next] {
				continue
			}
			seen[next] = true
			if *looks--; *looks < 0 {
				return false
			}
			if closed(next) {
				continue
			}
			if outside(next) {
				return false
			}
			steps := 0
			for _, c := range next {
				steps += max(c, -c)
			}
			for len(at) <= steps {
				at = append(at, nil)
			}
			at[steps] = append(at[steps], next)
			far = max(far, steps)
		}
	}
	return true
}

// shift returns the middle of a cell whose half edge is half.
func (c cell) shift(half float64) r3.Vec {
	return r3.Vec{X: float64(c[0]), Y: float64(c[1]), Z: float64(c[2])}.Scale(2 * half)
}

// turn returns the middle of a cell as a turn: its direction is the axis, its length
// the angle.
func (c cell) turn(half float64) r3.Vec {
	return r3.Vec{X: float64(c[3]), Y: float64(c[4]), Z: float64(c[5])}.Scale(2 * half)
}

// closet is what moves among what stays.
type closet struct {
	p            *puzzle
	pairs        []closetPair
	inner, outer r3.Box // of what moves and of what stays
}

type closetPair struct {
	i, j  int
	a, b  solid.Body // what stays, what moves
	allow float64    // how deep they are drawn in each other
	far   float64    // of what moves, how far any of it is from the middle of inner
}

func (p *puzzle) closet(moving, fixed []int) *closet {
	c := &closet{p: p, inner: r3.EmptyBox(), outer: r3.EmptyBox()}
	for _, j := range fixed {
		c.outer = c.outer.Union(p.boxes[j])
	}
	for _, i := range moving {
		c.inner = c.inner.Union(p.boxes[i])
	}
	mid := c.inner.Center()
	for _, i := range moving {
		b, far := p.r.m.Pieces[i].Bored(), 0.0
		for _, v := range b.Vertices() {
			far = math.Max(far, v.Sub(mid).Len())
		}
		for _, j := range fixed {
			a := p.r.m.Pieces[j].Bored()
			c.pairs = append(c.pairs, closetPair{i, j, a, b, p.allowed(a, b), far})
		}
	}
	return c
}

// noShift proves that the pieces cannot be taken from among the others by any shift,
// straight or not, without turning: a cell is closed when at its middle two pieces are
// deeper in each other than its half diagonal, since no shift by less could part them.
func (p *puzzle) noShift(moving, fixed []int) bool {
	if len(fixed) == 0 {
		return false
	}
	c := p.closet(moving, fixed)
	looks := min(looksMost, p.looks)
	start := looks
	shut := false
	for _, half := range cellHalves {
		closed := func(n cell) bool { return c.closedCell(n, half, 0) }
		if shut = flood(3, &looks, closed, func(n cell) bool { return c.isOut(n.shift(half)) }); shut {
			break
		}
	}
	p.looks -= start - max(0, looks)
	return shut
}

// cellHalves are the sizes of cells in turn, in mm: half their edges.
var cellHalves = [...]float64{1, 0.5, 0.25}

// isOut tells whether what moves is past what stays, so that nothing holds it.
func (c *closet) isOut(off r3.Vec) bool {
	return !(r3.Box{Min: c.inner.Min.Add(off), Max: c.inner.Max.Add(off)}).Meets(c.outer)
}

// noTwist proves that the pieces cannot be taken from among the others by any rigid
// motion, turning included. A cell has three shifts and a turn about the middle of
// what moves. From its middle to any other of its places no point of a piece goes
// farther than reach, the half diagonal of the shifts and the turn's times the
// distance of the piece's farthest point (two turns are no farther apart than the
// vectors that stand for them). If two convex pieces are deeper in each other than
// that, they are in each other all over the cell: a plane between them there would,
// carried back, be a shift by reach that parts them at the middle.
//
// It ends soon only where there is little play, as of a panel in grooves. Round pieces
// can spin for ever, and are left to the other proofs.
func (p *puzzle) noTwist(moving, fixed []int) bool {
	if len(fixed) == 0 || len(moving) == 1 && round(p.r.m.Pieces[moving[0]]) {
		return false
	}
	c := p.closet(moving, fixed)
	far := c.farthest()
	looks := min(twistsMost, p.twists)
	start := looks
	shut := false
	for _, half := range twistHalves {
		turn := half / far
		closed := func(n cell) bool { return c.closedCell(n, half, turn) }
		outside := func(n cell) bool {
			return c.isOut(n.shift(half)) || n.turn(turn).Len()+4*turn > math.Pi
		}
		if shut = flood(6, &looks, closed, outside); shut {
			break
		}
	}
	p.twists -= start - max(0, looks)
	return shut
}

// farthest returns how far the farthest point of what moves is from its middle.
func (c *closet) farthest() (far float64) {
	for _, q := range c.pairs {
		far = math.Max(far, q.far)
	}
	return far
}

// closedCell tells whether a cell of half edges half and turn is closed.
func (c *closet) closedCell(n cell, half, turn float64) bool {
	return c.closed(n.shift(half), n.turn(turn), float64(half*math.Sqrt(3)), float64(turn*math.Sqrt(3)))
}

// twistHalves are the sizes of cells with turns in turn, in mm: half their edges.
var twistHalves = [...]float64{0.5, 0.25}

// closed tells whether nothing that is within reach of off, and within swing of the
// turn, keeps the pieces apart.
func (c *closet) closed(off, turn r3.Vec, reach, swing float64) bool {
	last, body, box := -1, solid.Body{}, r3.Box{}
	for _, q := range c.pairs {
		if q.i != last {
			last = q.i
			if pose := c.pose(off, turn); turn == (r3.Vec{}) {
				box = r3.Box{Min: c.p.boxes[q.i].Min.Add(off), Max: c.p.boxes[q.i].Max.Add(off)}
				body = solid.Body{}
			} else {
				body = q.b.Transform(pose)
				box = body.Bounds()
			}
		}
		in := reach + float64(swing*q.far)
		if !box.Grow(-in).Meets(c.p.boxes[q.j]) {
			continue
		}
		if body.Empty() {
			body = q.b.Transform(r3.Shift(off))
		}
		if solid.Penetrates(q.a, body, in+q.allow) {
			return true
		}
	}
	return false
}

func (c *closet) pose(off, turn r3.Vec) r3.Pose {
	if turn == (r3.Vec{}) {
		return r3.Shift(off)
	}
	return r3.Turn(c.inner.Center(), turn.Unit(), turn.Len()).Then(r3.Shift(off))
}

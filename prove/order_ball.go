package prove

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// A ball in the wood of a piece that cannot get out among the others. Wherever the
// piece goes, turned or not, the ball goes with it and is only shifted: its middle
// would have to go from where it is to outside of all that stays. In a flood over the
// places of its middle a cell is closed when from all of it some wood is nearer than
// the ball's radius.

// ballShut tries that with the largest ball that is found in what moves.
func (p *puzzle) ballShut(moving, fixed []int) (dia float64, ok bool) {
	var at r3.Vec
	radius := 0.0
	for _, i := range moving {
		if c, r := p.ballIn(i); r > radius {
			at, radius = c, r
		}
	}
	if radius < ballLeast {
		return 0, false
	}
	outer := r3.EmptyBox()
	var wood []solid.Body
	for _, j := range fixed {
		outer = outer.Union(p.boxes[j])
		wood = append(wood, p.r.m.Pieces[j].Bored())
	}
	if !outer.Meets(r3.Around(at, at)) {
		return 0, false
	}
	looks := min(ballsMost, p.balls)
	start := looks
	for _, half := range ballHalves {
		near := radius - float64(half*math.Sqrt(3)) - tol.Spare
		if near <= 0 {
			continue
		}
		closed := func(n cell) bool { return reaches(wood, at.Add(n.shift(half)), near) }
		outside := func(n cell) bool {
			q := at.Add(n.shift(half))
			return !outer.Meets(r3.Around(q, q))
		}
		if ok = flood(3, &looks, closed, outside); ok {
			break
		}
	}
	p.balls -= start - max(0, looks)
	return 2 * radius, ok
}

// ballHalves are the sizes of cells in turn, in mm: half their edges.
var ballHalves = [...]float64{2, 1, 0.5}

// ballLeast is the smallest radius that is tried, in mm: a smaller ball gets through
// every joint.
const ballLeast = 1.0

// reaches tells whether some wood is within near of a point. The point is a cube as
// small as makes a solid, and counted the farther for it.
func reaches(wood []solid.Body, at r3.Vec, near float64) bool {
	g := r3.Vec{X: tol.Curve, Y: tol.Curve, Z: tol.Curve}
	dot := solid.NewBody([]solid.Convex{solid.Box(at.Sub(g), at.Add(g), [6]int32{})})
	reach := near - 2*tol.Curve
	for _, b := range wood {
		if b.Bounds().Grow(reach).Meets(dot.Bounds()) && solid.Distance(b, dot, reach).D < reach {
			return true
		}
	}
	return false
}

// ballIn returns a large ball in the wood of a piece, by going uphill from the middles
// of its convex parts: in all faces of one part, clear of all holes.
func (p *puzzle) ballIn(i int) (at r3.Vec, radius float64) {
	q := p.r.m.Pieces[i]
	for k := range q.Body.Pieces {
		c := &q.Body.Pieces[k]
		room := func(v r3.Vec) float64 {
			in := math.Inf(1)
			for _, f := range c.Faces {
				in = math.Min(in, -f.Plane.Side(v))
			}
			for n := range q.Made.Bores {
				b := q.Bore(n)
				d := v.Sub(b.Point)
				along := d.Dot(b.Dir)
				aside := math.Max(0, d.Sub(b.Dir.Scale(along)).Len()-b.R-tol.Touch)
				past := math.Max(0, math.Max(b.Lo-along, along-b.Hi))
				in = math.Min(in, math.Sqrt(float64(aside*aside)+float64(past*past)))
			}
			return in
		}
		size := c.Bounds().Size()
		mid := c.Moments().Center
		for _, from := range []r3.Vec{{}, {X: size.X / 3}, {X: -size.X / 3}, {Y: size.Y / 3}, {Y: -size.Y / 3}, {Z: size.Z / 3}, {Z: -size.Z / 3}} {
			v := mid.Add(from)
			best := room(v)
			for step := math.Max(size.X, math.Max(size.Y, size.Z)) / 4; step > tol.Spare/2; step /= 2 {
				for again, n := true, 0; again && n < uphillMost; n++ {
					again = false
					for axis := 0; axis < 3; axis++ {
						for _, s := range []float64{-step, step} {
							w := v.With(axis, v.At(axis)+s)
							if r := room(w); r > best {
								v, best, again = w, r, true
							}
						}
					}
				}
			}
			if best > radius {
				at, radius = v, best
			}
		}
	}
	return at, radius - tol.Touch
}

// uphillMost bounds the steps of one size.
const uphillMost = 16

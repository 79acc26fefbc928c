package prove

import (
	"math"

	"dryfit/assembly"
	"dryfit/geom/group"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/trig"
	"dryfit/prove/tracking"
)

// A toy as a train: what hangs together without its upright pins is one car. What
// has no wheels and carries nothing further rides on the car that it is pinned to; a
// bar without wheels between two cars lies in line with the one that it pulls,
// because its pull has to go through that one's mean axle. What is only put down is
// left out.

// train is the cars of a toy, the leading one first.
type train struct {
	tracking.Train
	names  []string // of each car: the piece that its first axle is in
	pins   []int    // the hinge by which each car hangs on its leader; -1 for the first
	pieces [][]int
	drawn  []tracking.Place // as drawn
	untold string           // why it cannot be told how the toy turns; "" if it can
}

// Train returns the cars of a toy as they follow each other, and the names of the
// pieces that they are called after. ok is false if the toy does not roll on cars of
// parallel axles that hang on each other like a tree.
func Train(m *assembly.Model) (t tracking.Train, names []string, ok bool) {
	r := &run{m: m, w: newWorld(m)}
	c := r.train()
	return c.Train, c.names, c.untold == "" && len(c.Train) > 0
}

// inLine is how near, in mm, two short axles are to one line across the car: 1 mm, less
// than any wheel (common practice, no source).
const inLine = 1.0

// body is a car in the making.
type body struct {
	pieces []int
	axles  []int // of the model
}

// link is an upright pin between two bodies.
type link struct {
	hinge int
	of    [2]int // the body of the pin, and that which turns on it
}

// upright tells whether a hinge turns on an upright pin.
func upright(h assembly.Hinge) bool { return math.Abs(h.Dir.Z) >= 0.9 }

// bodies splits a toy at its upright pins.
func (r *run) bodies() (bodies []body, links []link) {
	rigid := r.m.Rigid
	g := group.New(len(rigid)) // of rigid bodies: there are no more than pieces
	pin := map[int]bool{}
	for _, h := range r.m.Hinges {
		pin[h.Pin] = pin[h.Pin] || upright(h)
	}
	for _, f := range r.m.Fits {
		if f.Kind == assembly.Glued || !pin[f.Rod] {
			g.Join(rigid[f.Rod], rigid[f.Piece])
		}
	}
	for _, s := range r.m.Saddles {
		g.Join(rigid[s.A[0]], rigid[s.B[0]])
	}
	number := map[int]int{}
	at := make([]int, len(rigid))
	for i := range rigid {
		k, ok := number[g.Root(rigid[i])]
		if !ok {
			k = len(bodies)
			number[g.Root(rigid[i])] = k
			bodies = append(bodies, body{})
		}
		at[i] = k
		bodies[k].pieces = append(bodies[k].pieces, i)
	}
	for i, a := range r.m.Axles {
		if math.Abs(a.Dir.Z) <= 0.5 {
			bodies[at[a.Rod]].axles = append(bodies[at[a.Rod]].axles, i)
		}
	}
	for i, h := range r.m.Hinges {
		if upright(h) {
			links = append(links, link{i, [2]int{at[h.Pin], at[h.Runs[0].Piece]}})
		}
	}
	return bodies, links
}

// train finds the cars.
func (r *run) train() train {
	bodies, links := r.bodies()
	tied := make([][]link, len(bodies)) // the links of each body
	for _, l := range links {
		if l.of[0] == l.of[1] {
			continue // move.hinge says that it cannot turn
		}
		tied[l.of[0]] = append(tied[l.of[0]], l)
		tied[l.of[1]] = append(tied[l.of[1]], l)
	}
	first := r.leading(bodies)
	if first < 0 {
		return train{}
	}
	// From the leading body on: who hangs on whom.
	up := make([]int, len(bodies)) // the link to the leader, -1 for none
	from := make([]int, len(bodies))
	for i := range up {
		up[i], from[i] = -1, -1
	}
	order := []int{first}
	seen := map[int]bool{first: true}
	for k := 0; k < len(order); k++ {
		b := order[k]
		for _, l := range tied[b] {
			next := l.of[0] + l.of[1] - b
			if l.hinge == up[b] {
				continue
			}
			if seen[next] {
				return train{untold: "its cars are pinned to each other in a ring"}
			}
			seen[next] = true
			up[next], from[next] = l.hinge, b
			order = append(order, next)
		}
	}
	// Without wheels: at the end of the line it rides along, in between it lies in line
	// with what it pulls.
	into := make([]int, len(bodies))
	for i := range into {
		into[i] = i
	}
	behind := make([][]int, len(bodies))
	for k := len(order) - 1; k >= 0; k-- {
		b := order[k]
		if len(bodies[b].axles) == 0 {
			switch len(behind[b]) {
			case 0:
				into[b] = from[b]
				continue
			case 1:
				c := behind[b][0] // the car that it pulls takes its pin over
				into[b], up[c], from[c] = c, up[b], from[b]
				behind[from[b]] = append(behind[from[b]], c)
				continue
			default:
				return train{untold: "a bar without wheels pulls more than one car"}
			}
		}
		if from[b] >= 0 {
			behind[from[b]] = append(behind[from[b]], b)
		}
	}
	top := func(b int) int {
		for into[b] != b {
			b = into[b]
		}
		return b
	}
	return r.layOut(bodies, order, up, from, top)
}

// layOut lays the cars out, each in a frame of its own.
func (r *run) layOut(bodies []body, order, up, from []int, top func(int) int) train {
	var t train
	index := map[int]int{}
	for _, b := range order {
		if top(b) != b {
			continue
		}
		place, spread := r.meanAxle(bodies[b])
		var plan []r2.Vec
		var pieces []int
		for k, other := range bodies {
			if index := top(k); index != b {
				continue
			}
			for _, i := range other.pieces {
				pieces = append(pieces, i)
				for _, v := range r.m.Pieces[i].Body.Vertices() {
					plan = append(plan, own(place, v))
				}
			}
		}
		c := tracking.Car{Leader: -1, Spread: spread, Plan: outline.Hull(plan), Left: tracking.Free, Right: tracking.Free}
		index[b] = len(t.Train)
		if up[b] >= 0 {
			c.Leader = index[top(from[b])]
			h := &r.m.Hinges[up[b]]
			lead := t.drawn[c.Leader]
			c.Hitch, c.On = own(place, h.Centre), own(lead, h.Centre)
			open := lead.Heading - place.Heading // as drawn
			left, right, ok := r.leaderSwings(up[b], pieces)
			if !ok {
				return train{untold: h.Name + " cannot be turned alone"}
			}
			c.Left, c.Right = left+open, right-open
		}
		t.Train = append(t.Train, c)
		t.drawn = append(t.drawn, place)
		t.pieces = append(t.pieces, pieces)
		t.pins = append(t.pins, up[b])
		t.names = append(t.names, r.m.Pieces[r.m.Axles[bodies[b].axles[0]].Hosts[0].Piece].ID)
	}
	return t
}

// own carries a point of the world into a car's frame.
func own(p tracking.Place, v r3.Vec) r2.Vec {
	d := r2.Vec{X: v.X, Y: v.Y}.Sub(p.At)
	s, c := trig.Sincos(p.Heading)
	return r2.Vec{X: float64(d.X*c) + float64(d.Y*s), Y: float64(d.Y*c) - float64(d.X*s)}
}

// leading returns the body that goes first: that with the cord, else that with the
// foremost axle; -1 if nothing rolls.
func (r *run) leading(bodies []body) int {
	best, front := -1, math.Inf(-1)
	for k, b := range bodies {
		for _, a := range b.axles {
			if x := r.m.Axles[a].Centre.X; x > front+inLine {
				best, front = k, x
			}
		}
	}
	if c := r.m.Toy.Cord; c != nil && best >= 0 {
		for k, b := range bodies {
			for _, i := range b.pieces {
				for _, j := range r.m.Find(c.From.Piece) {
					if i == j && len(b.axles) > 0 {
						return k
					}
				}
			}
		}
	}
	return best
}

// meanAxle returns the middle of a car's mean axle with its heading, square to the
// mean of the ways its axles run (move.ground tells of axles out of parallel), and how
// far the farthest axle is from it. Short axles in one line count as one.
func (r *run) meanAxle(b body) (p tracking.Place, spread float64) {
	var heading r2.Vec
	for _, i := range b.axles {
		d := r2.Vec{X: r.m.Axles[i].Dir.Y, Y: -r.m.Axles[i].Dir.X}.Unit()
		if d.X < 0 || d.X == 0 && d.Y < 0 {
			d = d.Neg()
		}
		heading = heading.Add(d)
	}
	heading = heading.Unit()
	left := heading.Perp()
	var rows []r2.Vec // along and across: the middle of each row of axles
	var count []float64
next:
	for _, i := range b.axles {
		a := r.m.Axles[i]
		mid := a.Centre.Add(a.Dir.Scale((a.Lo + a.Hi) / 2))
		at := r2.Vec{X: mid.X, Y: mid.Y}
		row := r2.Vec{X: at.Dot(heading), Y: at.Dot(left)}
		for k := range rows {
			if math.Abs(rows[k].X-row.X) < inLine {
				n := count[k]
				rows[k] = rows[k].Scale(n / (n + 1)).Add(row.Scale(1 / (n + 1)))
				count[k]++
				continue next
			}
		}
		rows, count = append(rows, row), append(count, 1)
	}
	var mean r2.Vec
	for _, row := range rows {
		mean = mean.Add(row.Scale(1 / float64(len(rows))))
	}
	for _, row := range rows {
		spread = math.Max(spread, math.Abs(row.X-mean.X))
	}
	p.At = heading.Scale(mean.X).Add(left.Scale(mean.Y))
	p.Heading = trig.Atan2(heading.Y, heading.X)
	return p, spread
}

// leaderSwings returns how far the leader of a car swings about their pin, seen from
// above, to the left and to the right of the car.
func (r *run) leaderSwings(hinge int, car []int) (left, right float64, ok bool) {
	h := r.m.Hinges[hinge]
	moving, ok := r.m.Moving(h)
	if !ok {
		return 0, 0, false
	}
	ways := r.swings(hinge)
	left, right = ways[0].angle, ways[1].angle
	if h.Dir.Z < 0 {
		left, right = right, left
	}
	for _, i := range moving {
		for _, j := range car {
			if i == j { // it is the car that moved: its leader swings the other way
				return right, left, true
			}
		}
	}
	return left, right, true
}

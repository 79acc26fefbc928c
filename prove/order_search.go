package prove

import (
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
)

// The search works backwards: it takes the toy apart. What can be drawn out among
// many can be drawn out among fewer of them, so the order in which free things are
// taken never spoils anything, and taking whatever is free until nothing is finds
// an order if there is one of such moves. No backtracking is needed.

// move is one thing drawn out of others: units, and the shifts, one after the other.
type move struct {
	units []int
	from  []int // the units that stay
	out   []r3.Vec
	join  bool // a sub-assembly, built apart
}

// blocked is a unit that cannot be drawn out of those before it in the file.
type blocked struct {
	unit int
	from []int
}

// fileOrder takes the units off in the reverse of the file's order. Where one does
// not come out, the sides of hinges and what is loose are drawn apart first, and
// then what only the pegs of this step and those before it join: a maker builds
// them apart, and puts a dowel into one of two blind holes before the other comes
// over it. hard tries more than plain directions.
func (p *puzzle) fileOrder(hard bool) (moves []move, no []blocked) {
	return p.fileOrderOf([][]int{all(len(p.units))}, nil, hard)
}

// fileOrderOf is fileOrder of groups that were drawn apart by moves.
func (p *puzzle) fileOrderOf(groups [][]int, moves []move, hard bool) ([]move, []blocked) {
	var no []blocked
	for k := len(p.units) - 1; k >= 0; k-- {
		g := groupOf(groups, k)
		out, ok := p.drawUnit(k, less(groups[g], k), false)
		for !ok {
			part, way := p.split(p.parts(groups[g], hinged))
			if part == nil {
				part, way = p.split(p.parts(groups[g], p.lastRods(k)))
			}
			if part == nil {
				break
			}
			moves = append(moves, p.join(groups[g], part, way))
			groups = append(groups, part)
			groups[g] = less(groups[g], part...)
			g = groupOf(groups, k)
			out, ok = p.drawUnit(k, less(groups[g], k), false)
		}
		from := less(groups[g], k)
		if !ok && hard {
			out, ok = p.drawUnit(k, from, true)
		}
		if !ok {
			no = append(no, blocked{k, from})
		} else {
			moves = append(moves, move{units: []int{k}, from: from, out: out})
		}
		groups[g] = from
	}
	return moves, no
}

// search takes off whatever is free, the last of the file first, then what hangs
// together, then any set of units. stuck lists those that are left when nothing is.
func (p *puzzle) search() (moves []move, stuck [][]int) {
	groups := [][]int{all(len(p.units))}
	single := func(hard bool) bool {
		for k := len(p.units) - 1; k >= 0; k-- {
			g := groupOf(groups, k)
			if g < 0 {
				continue
			}
			from := less(groups[g], k)
			if out, ok := p.drawUnit(k, from, hard); ok {
				moves = append(moves, move{units: []int{k}, from: from, out: out})
				groups[g] = from
				return true
			}
		}
		return false
	}
	several := func(nodes func(g []int) [][]int) bool {
		for g := range groups {
			if part, way := p.split(nodes(groups[g])); part != nil {
				moves = append(moves, p.join(groups[g], part, way))
				groups[g] = less(groups[g], part...)
				groups = append(groups, part)
				return true
			}
		}
		return false
	}
	for single(false) ||
		several(func(g []int) [][]int { return p.parts(g, hinged) }) ||
		several(func(g []int) [][]int { return p.parts(g, func(assembly.Fit) bool { return true }) }) ||
		several(alone) ||
		single(true) {
	}
	for _, g := range groups {
		if len(g) > 0 {
			stuck = append(stuck, g)
		}
	}
	return moves, stuck
}

// alone makes a node of each unit.
func alone(g []int) (out [][]int) {
	for _, u := range g {
		out = append(out, []int{u})
	}
	return out
}

// drawUnit finds a way for one unit out of others; the last of all needs none.
func (p *puzzle) drawUnit(k int, from []int, hard bool) ([]r3.Vec, bool) {
	if len(from) == 0 {
		return nil, true
	}
	return p.draw(p.units[k].pieces, p.wood(from), p.units[k].ways, hard)
}

// split finds a set of nodes that can be drawn out of the rest together, in a
// straight line: along each direction in turn it asks which node is in the way of
// which. Nodes that are in each other's way, at last, have to go together; a set of
// them that no other is in the way of is free. So if there is any such set for a
// direction, one is found.
func (p *puzzle) split(nodes [][]int) (part []int, way r3.Vec) {
	if p.axes || len(nodes) < 2 {
		return nil, way
	}
	n := len(nodes)
	var wood [][]int
	var whole []int
	for _, us := range nodes {
		wood = append(wood, p.wood(us))
		whole = append(whole, us...)
	}
	for _, d := range p.axesIn(p.wood(whole)) {
		// reach[a] is all that has to move with a.
		best := n
		for a := range nodes {
			in := make([]bool, n)
			in[a] = true
			queue := []int{a}
			for len(queue) > 0 && len(queue) < best {
				for b := range nodes {
					if !in[b] && p.stops(wood[queue[0]], wood[b], d, true) != nil {
						in[b] = true
						queue = append(queue, b)
					}
				}
				queue = queue[1:]
			}
			var set []int
			count := 0
			for b := range nodes {
				if in[b] {
					count++
					set = append(set, nodes[b]...)
				}
			}
			if count < best {
				best, part = count, set
			}
		}
		if part != nil {
			slices.Sort(part)
			return part, p.dirs[d]
		}
	}
	return nil, way
}

// axesIn lists the axes of all rods in holes among the pieces, and the six
// directions.
func (p *puzzle) axesIn(wood []int) []int {
	in := map[int]bool{}
	for _, i := range wood {
		in[i] = true
	}
	out := []int{0, 1, 2, 3, 4, 5}
	for _, f := range p.r.m.Fits {
		if in[f.Rod] && in[f.Piece] {
			_, axis, _ := p.r.m.Pieces[f.Rod].Axis()
			if d := p.dir(axis); !slices.Contains(out, d) {
				out = append(out, d, d^1)
			}
		}
	}
	return out
}

// join is the move that draws part from its group.
func (p *puzzle) join(group, part []int, way r3.Vec) move {
	rest := less(group, part...)
	return move{units: part, from: rest, out: []r3.Vec{p.out(p.wood(part), p.wood(rest), r3.Vec{}, way)}, join: true}
}

// earlier looks for an order by moving whole steps of the file ahead, each no
// farther than it takes, and none before the first. order lists the units;
// jumped lists for each step that was moved the steps that it has to come before.
// nil if that finds none.
func (p *puzzle) earlier() (order []int, jumped map[int][]int) {
	jumped = map[int][]int{}
	var steps [][]int // units by step, so far
	for k := 0; k < len(p.units); {
		n := k
		for n < len(p.units) && p.units[n].step == p.units[k].step {
			n++
		}
		step := all(n)[k:]
		at := len(steps)
		goes := func(at int, hard bool) bool {
			return p.goes(slices.Concat(slices.Insert(slices.Clone(steps), at, step)...), hard)
		}
		found, hard := false, false
	positions:
		for _, hard = range []bool{false, true} {
			for at = len(steps); at == len(steps) || at > 0; at-- {
				if found = goes(at, hard); found {
					break positions
				}
			}
		}
		if !found {
			return nil, nil
		}
		for x := at; x < len(steps); x++ { // which of them does it really have to come before? the first, for one
			with := append(slices.Clone(steps[:at]), steps[x], step)
			if x == at || !p.goes(slices.Concat(with...), hard) {
				jumped[p.units[k].step] = append(jumped[p.units[k].step], steps[x]...)
			}
		}
		steps = slices.Insert(steps, at, step)
		k = n
	}
	return slices.Concat(steps...), jumped
}

// goes tells whether units can be put in that order.
func (p *puzzle) goes(order []int, hard bool) bool {
	_, no := p.of(order).fileOrder(hard)
	return len(no) == 0
}

// of returns the puzzle of some of the units in another order.
func (p *puzzle) of(order []int) *puzzle {
	q := &puzzle{table: p.table, r: p.r, axes: p.axes}
	for _, u := range order {
		q.units = append(q.units, p.units[u])
	}
	return q
}

func all(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// groupOf returns the group that unit k is in, -1 if it is gone.
func groupOf(groups [][]int, k int) int {
	for g, us := range groups {
		for _, u := range us {
			if u == k {
				return g
			}
		}
	}
	return -1
}

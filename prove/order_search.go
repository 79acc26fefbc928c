package prove

import (
	"slices"
	"sort"

	"dryfit/geom/r3"
	"dryfit/toy"
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
	by    int  // the unit that alone holds it to the rest, -1 if none does
}

// blocked is a unit that cannot be drawn out of those before it in the file.
type blocked struct {
	unit int
	from []int
}

// fileOrder takes the units off in the reverse of the file's order. Where one does
// not come out, the sides of hinges and what is loose are drawn apart first, and
// then what only this unit joins: a maker builds them apart, and puts a dowel into
// one of two blind holes before the other comes over it.
func (p *puzzle) fileOrder() (moves []move, no []blocked) {
	groups := [][]int{all(len(p.units))}
	for k := len(p.units) - 1; k >= 0; k-- {
		g := groupOf(groups, k)
		out, ok := p.drawUnit(k, less(groups[g], k), false)
		for !ok {
			var apart []move
			if groups, apart = p.apart(groups, g, -1); apart == nil {
				if groups, apart = p.apart(groups, g, k); apart == nil {
					break
				}
			}
			moves = append(moves, apart...)
			g = groupOf(groups, k)
			out, ok = p.drawUnit(k, less(groups[g], k), false)
		}
		if !ok {
			out, ok = p.drawUnit(k, less(groups[g], k), true)
		}
		from := less(groups[g], k)
		if !ok {
			no = append(no, blocked{k, from})
		} else {
			moves = append(moves, move{units: []int{k}, from: from, out: out})
		}
		groups[g] = from
	}
	return moves, no
}

// search takes off whatever is free, the last of the file first. stuck lists the
// units that are left when nothing is.
func (p *puzzle) search() (moves []move, stuck [][]int) {
	groups := [][]int{all(len(p.units))}
	for {
		left, gone := 0, false
		for _, hard := range []bool{false, true} {
			for k := len(p.units) - 1; k >= 0 && !gone; k-- {
				g := groupOf(groups, k)
				if g < 0 {
					continue
				}
				left++
				from := less(groups[g], k)
				if out, ok := p.drawUnit(k, from, hard); ok {
					moves = append(moves, move{units: []int{k}, from: from, out: out})
					groups[g], gone = from, true
				}
			}
			for g := 0; g < len(groups) && !gone; g++ {
				var apart []move
				if groups, apart = p.apart(groups, g, -1); apart != nil {
					moves, gone = append(moves, apart...), true
				}
			}
			for k := len(p.units) - 1; k >= 0 && !gone; k-- {
				if g := groupOf(groups, k); g >= 0 {
					var apart []move
					if groups, apart = p.apart(groups, g, k); apart != nil {
						moves, gone = append(moves, apart...), true
					}
				}
			}
		}
		if left == 0 {
			return moves, nil
		}
		if !gone {
			for _, g := range groups {
				if len(g) > 0 {
					stuck = append(stuck, g)
				}
			}
			return moves, stuck
		}
	}
}

// drawUnit finds a way for one unit out of others; the last of all needs none.
func (p *puzzle) drawUnit(k int, from []int, hard bool) ([]r3.Vec, bool) {
	if len(from) == 0 {
		return nil, true
	}
	return p.draw(p.units[k].pieces, p.wood(from), p.units[k].ways, hard)
}

// apart draws from a group what does not hang together with the rest of it, or
// would not without the unit by, which then goes with either side.
func (p *puzzle) apart(groups [][]int, g, by int) ([][]int, []move) {
	if p.axes || len(groups[g]) < 2 {
		return groups, nil
	}
	parts := p.parts(less(groups[g], by), false)
	if len(parts) < 2 {
		return groups, nil
	}
	sort.SliceStable(parts, func(i, j int) bool { return len(parts[i]) < len(parts[j]) })
	sides := parts
	if by >= 0 {
		for _, part := range parts {
			sides = append(sides, append(append([]int(nil), part...), by))
		}
	}
	for _, part := range sides {
		rest := less(groups[g], part...)
		if len(rest) == 0 {
			continue
		}
		if out, ok := p.draw(p.wood(part), p.wood(rest), nil, false); ok {
			slices.Sort(part)
			groups = append(append([][]int(nil), groups...), part)
			groups[g] = rest
			return groups, []move{{units: part, from: rest, out: out, join: true, by: by}}
		}
	}
	return groups, nil
}

// nearest puts an order that was found by taking apart into the order nearest to
// the file's: each unit as early as the file has it, but before those that would
// be in its way. The moves come back in the order of building. before lists for
// each unit those that have to come after it; nil where sub-assemblies or double
// moves leave the order as it was found.
func (p *puzzle) nearest(moves []move) (built []move, before [][]int) {
	n := len(moves)
	for k := n - 1; k >= 0; k-- {
		built = append(built, moves[k])
	}
	for _, m := range moves {
		if m.join || len(m.out) > 1 {
			return built, nil
		}
	}
	before = make([][]int, len(p.units))
	waits := make([]int, len(p.units)) // for how many
	byUnit := make([]move, len(p.units))
	first := built[0].units[0]
	for _, m := range moves {
		u := m.units[0]
		byUnit[u] = m
		if len(m.out) == 0 {
			continue
		}
		for x := range p.units {
			if x != u && p.stops(p.units[u].pieces, p.units[x].pieces, p.dir(m.out[0]), true) != nil {
				before[u] = append(before[u], x)
				waits[x]++
			}
		}
	}
	out := make([]move, 0, n)
	done := make([]bool, len(p.units))
	step := -1
	var there []int
	for len(out) < n {
		next := -1
		for u := range p.units {
			if done[u] || waits[u] > 0 {
				continue
			}
			if next < 0 || p.units[u].step == step && p.units[next].step != step {
				next = u
			}
		}
		if len(out) == 0 {
			next = first // the one that has no way out, since nothing was left to draw it out of
		}
		done[next], step = true, p.units[next].step
		m := byUnit[next]
		m.from = append([]int(nil), there...)
		if len(there) == 0 {
			m.out = nil
		} else {
			m.out = []r3.Vec{p.out(p.units[next].pieces, p.wood(there), r3.Vec{}, m.out[0].Unit())}
		}
		out = append(out, m)
		there = append(there, next)
		for _, x := range before[next] {
			waits[x]--
		}
	}
	return out, before
}

// earlier looks for an order by moving whole steps of the file ahead, each no
// farther than it takes, never before what it refers to. order lists the units;
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
		goes := func(at int) bool { return p.goes(slices.Concat(slices.Insert(slices.Clone(steps), at, step)...)) }
		for !goes(at) {
			if at--; at <= 0 || p.refers(step, steps[at]) {
				return nil, nil
			}
		}
		for x := at; x < len(steps); x++ { // which of them does it really have to come before?
			with := append(slices.Clone(steps[:at]), steps[x], step)
			if x == at && len(steps) == at+1 || !p.goes(slices.Concat(with...)) {
				jumped[p.units[k].step] = append(jumped[p.units[k].step], steps[x]...)
			}
		}
		steps = slices.Insert(steps, at, step)
		k = n
	}
	return slices.Concat(steps...), jumped
}

// goes tells whether units can be put in that order.
func (p *puzzle) goes(order []int) bool {
	q := p.of(order)
	_, no := q.fileOrder()
	p.slides = q.slides
	return len(no) == 0
}

// of returns the puzzle of some of the units in another order.
func (p *puzzle) of(order []int) *puzzle {
	q := *p
	q.units = nil
	for _, u := range order {
		q.units = append(q.units, p.units[u])
	}
	return &q
}

// refers tells whether a step is made on wood that another one puts.
func (p *puzzle) refers(step, other []int) bool {
	in := map[int]bool{}
	for _, i := range p.wood(step) {
		in[i] = true
	}
	there := map[int]bool{}
	for _, i := range p.wood(other) {
		there[i] = true
	}
	for _, f := range p.r.m.Fits {
		if in[f.Rod] && there[f.Piece] {
			return true
		}
	}
	for _, u := range step {
		put, ok := p.r.m.Toy.Build[p.units[u].step].(toy.Put)
		for _, s := range put.Sits {
			if ids := p.r.m.Find(s.Target.Piece); ok && len(ids) > 0 && there[ids[0]] {
				return true
			}
		}
	}
	return false
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

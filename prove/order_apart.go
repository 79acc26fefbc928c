package prove

import (
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/toy"
)

// What lifts off a pin is built apart, and hung on it last: or else a maker clamps and
// glues at a car that lies loose on the one before it, and then gets no glue to the pin's
// hole, which it covers. The file's order stays otherwise: on each side of the hinge the
// units go together as it has them.

// apart puts what lifts off to the end of the order, where it is more than one piece, does
// not hold what the file begins with and can be drawn off as a whole.
func (s *solved) apart() {
	p := s.p
	groups := [][]int{all(len(p.units))}
	var moves []move
	for k := len(p.r.m.Toy.Build) - 1; k >= 0; k-- {
		h, ok := p.r.m.Toy.Build[k].(toy.Hinge)
		if !ok || !h.LiftsOff {
			continue
		}
		pin := slices.IndexFunc(p.units, func(u unit) bool { return u.step == k })
		if pin < 0 {
			continue
		}
		g := groupOf(groups, pin)
		part := p.liftsOff(groups[g], pin, h)
		if len(part) < 2 || slices.Contains(part, 0) {
			continue
		}
		rest := less(groups[g], part...)
		way, free := p.freeWay(part, rest)
		if !free {
			continue
		}
		moves = append(moves, p.join(groups[g], part, way))
		groups[g] = rest
		groups = append(groups, part)
	}
	if len(moves) == 0 {
		return
	}
	if moves, no := p.fileOrderOf(groups, moves, true); len(no) == 0 {
		slices.Reverse(moves)
		s.moves = moves
	}
}

// liftsOff returns what hangs together with the pieces that turn on a pin, and not with
// the pin; nil if all is one.
func (p *puzzle) liftsOff(group []int, pin int, h toy.Hinge) []int {
	rod := p.units[pin].pieces[0]
	for _, list := range p.parts(group, func(f assembly.Fit) bool { return f.Rod == rod && f.Kind == assembly.Running }) {
		if slices.Contains(list, pin) {
			continue
		}
		wood := p.wood(list)
		for _, r := range h.Runs {
			if of := p.r.m.Find(r.Piece); len(of) > 0 && slices.Contains(wood, of[0]) {
				return list
			}
		}
	}
	return nil
}

// freeWay returns a straight way in which part can be drawn off the rest as a whole.
func (p *puzzle) freeWay(part, rest []int) (r3.Vec, bool) {
	moving, fixed := p.wood(part), p.wood(rest)
	for _, d := range p.axesIn(slices.Concat(moving, fixed)) {
		if len(p.stops(moving, fixed, d, true)) == 0 {
			return p.dirs[d], true
		}
	}
	return r3.Vec{}, false
}

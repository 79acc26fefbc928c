package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// When no way is found for a piece, is there none? That nothing was found proves
// nothing, and that no shift takes it out still leaves that it is turned on its way.
// It fails only where one of four proofs holds, each for every rigid motion, turns
// included:
//
//   - a rod in a hole meets wood at both ends before it is out (order_rod.go);
//   - a ring cannot pass what is on both ends of its rod (order_thread.go);
//   - a ball that fits into the piece cannot get out by any shift (order_ball.go),
//     and turning a ball changes nothing;
//   - all places and turns that can be reached are few and inside (noTwist,
//     order_flood.go).
//
// Each speaks of two rigid things alone: whatever else is there can only be more in
// the way. If none holds but no shift takes the piece out (noShift), it cannot be
// told. Wood that bends and holes that are forced are left out.

// shutting is how much is proved.
type shutting int

const (
	notProved shutting = iota
	noShift            // no shift takes it out; a twist might
	noMotion
)

// shut proves what it can of pieces among others, both rigid. why tells of noMotion
// what the proof rests on. With soon only the two quick proofs are tried.
func (p *puzzle) shut(moving, fixed []int, soon bool) (is shutting, why string) {
	if len(moving) == 0 || len(fixed) == 0 {
		return notProved, ""
	}
	for _, way := range [][2][]int{{moving, fixed}, {fixed, moving}} {
		if rod, ok := p.heldRod(way[0], way[1]); ok {
			return noMotion, fmt.Sprintf("%s cannot leave its hole, for whichever end goes first meets wood, however it is tilted", p.r.m.Pieces[rod].ID)
		}
		if rod, ring, ok := p.threaded(way[0], way[1]); ok {
			return noMotion, fmt.Sprintf("what is on both ends of %s cannot pass the hole in %s, however it is turned", p.r.m.Pieces[rod].ID, p.r.m.Pieces[ring].ID)
		}
	}
	if soon {
		return notProved, ""
	}
	if dia, ok := p.ballShut(moving, fixed); ok {
		return noMotion, fmt.Sprintf("a ball of %s fits into it, and even that cannot get out", p.r.len(math.Floor(10*dia)/10))
	}
	if !p.noShift(moving, fixed) {
		return notProved, ""
	}
	if p.noTwist(moving, fixed) {
		return noMotion, "all the places and turns that it can come to are close by"
	}
	return noShift, ""
}

// anyShut proves of one of the units that it is shut in by wood that is glued
// together: nobody would move that aside.
func (p *puzzle) anyShut(units []blocked) (is shutting, why string) {
	for _, soon := range []bool{true, false} {
		for _, rod := range []bool{true, false} { // rods are the likeliest
			for _, b := range units {
				u := p.units[b.unit]
				if (u.kind == rodUnit) != rod {
					continue
				}
				for _, rigid := range p.parts(b.from, pressed) {
					s, w := p.shut(u.pieces, p.wood(rigid), soon)
					if s > is {
						is, why = s, w
					}
					if is == noMotion {
						return is, why
					}
				}
			}
		}
	}
	return is, why
}

// neverApart proves that some units cannot all be parted, and so never have come
// together: two of them by any motion, or none of them and no several of them by
// shifts.
func (p *puzzle) neverApart(set []int) (is shutting, why string) {
	pairs := func(soon bool) bool {
		for k, a := range set {
			for _, b := range set[:k] {
				if is, why = p.shut(p.units[a].pieces, p.units[b].pieces, soon); is == noMotion {
					return true
				}
			}
		}
		return false
	}
	if pairs(true) {
		return is, why
	}
	fast := p.fast(set)
	if pairs(false) {
		return is, why
	}
	if fast {
		return noShift, ""
	}
	return notProved, ""
}

// fast proves that some units cannot be parted at all by shifts, neither one of
// them nor several together. Two that are shut in by each other alone are on the
// same side of any parting; what is left after joining such pairs is tried set by
// set, where there are few.
func (p *puzzle) fast(set []int) bool {
	var nodes [][]int
	for _, u := range set {
		nodes = append(nodes, []int{u})
	}
	for again := true; again && len(nodes) > 1; {
		again = false
	pairs:
		for a := range nodes {
			for b := a + 1; b < len(nodes); b++ {
				if p.noShift(p.wood(nodes[a]), p.wood(nodes[b])) {
					nodes[a] = append(nodes[a], nodes[b]...)
					nodes = append(nodes[:b], nodes[b+1:]...)
					again = true
					break pairs
				}
			}
		}
	}
	if len(nodes) > nodesMost {
		return false
	}
	for mask := 1; mask < 1<<(len(nodes)-1); mask++ { // the last node stays
		var in, out []int
		for k, us := range nodes {
			if mask>>k&1 == 1 {
				in = append(in, us...)
			} else {
				out = append(out, us...)
			}
		}
		if !p.noShift(p.wood(in), p.wood(out)) {
			return false
		}
	}
	return true
}

// nodesMost bounds the sets that are tried: 15 of five.
const nodesMost = 5

// round tells of a piece that can spin about an axis and look the same.
func round(q *assembly.Piece) bool {
	return q.Part.Shape == toy.Disc || q.Part.Shape == toy.Rod || q.Part.Shape == toy.Sphere
}

// woodOf returns all wood of pieces that are one rigid thing, with the holes filled
// that their rods are glued in: what is left open there is narrower than anything that
// is proved with it.
func (p *puzzle) woodOf(ids []int) (out []solid.Convex) {
	for _, i := range ids {
		out = append(out, p.r.m.Pieces[i].Bored().Pieces...)
	}
	for _, i := range ids {
		if p.r.m.Pieces[i].Part.Shape != toy.Rod {
			continue
		}
		c, axis, r := p.r.m.Pieces[i].Axis()
		half := p.r.m.Pieces[i].Made.Size.X / 2
		for _, j := range ids {
			for _, b := range p.around(i, j) {
				lo, hi := b.Along(c, axis)
				if lo, hi = math.Max(lo, -half), math.Min(hi, half); hi > lo && b.R-r <= tol.Spare {
					out = append(out, solid.Cylinder(p.frame(i), b.R+2*tol.Touch, lo, hi, 1, 2, 3))
				}
			}
		}
	}
	return out
}

// around returns the holes of a piece that are along the line of a rod, and that it
// goes into without being much too thin for them.
func (p *puzzle) around(rod, piece int) (out []assembly.Bore) {
	c, axis, r := p.r.m.Pieces[rod].Axis()
	for k := range p.r.m.Pieces[piece].Made.Bores {
		b := p.r.m.Pieces[piece].Bore(k)
		if b.Dir.Cross(axis).Len() <= tol.Weld && offLine(b, c, axis)+r <= b.R+tol.Touch && b.R <= 2*r {
			out = append(out, b)
		}
	}
	return out
}

package prove

import (
	"math"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// A ring on a rod that carries something wider than the hole on both ends.
//
// Take a flat disc D across the hole, its rim in the wood of the ring, and a line in
// the wood of the other thing, along the rod, from the middle q of a flat round disc K
// on one side of the ring to that of another on the other side. As drawn the line
// crosses D once. Once the two are parted it does not cross it at all. How often it
// does, odd or even, changes only when the line goes over the rim of D, which is wood
// in wood, or when one of its ends q comes to lie in D. Then the plane of D cuts K in
// a line across its middle, as far to both sides as K's radius, which is more than
// D's: so that line goes over the rim of D, wood in wood again. Hence there is no
// motion that parts them.

// threaded looks for a rod among some pieces that carries heads on both sides of a
// hole in one of the others.
func (p *puzzle) threaded(rods, rings []int) (rod, ring int, ok bool) {
	if len(rods) < 2 {
		return 0, 0, false
	}
	var wood, round []solid.Convex
	for _, i := range rods {
		if p.r.m.Pieces[i].Part.Shape != toy.Rod {
			continue
		}
		for _, j := range rings {
			for _, b := range p.around(i, j) {
				if wood == nil {
					wood = p.woodOf(rods)
					for _, k := range rings {
						round = append(round, p.r.m.Pieces[k].Bored().Pieces...)
					}
				}
				if p.headed(i, b, rods, wood, round) {
					return i, j, true
				}
			}
		}
	}
	return 0, 0, false
}

// headed tells whether a rod carries heads on both sides of a hole; wood is that of
// the rod and what is fast to it, round that of the ring.
func (p *puzzle) headed(rod int, b assembly.Bore, rods []int, wood, round []solid.Convex) bool {
	c, axis, _ := p.r.m.Pieces[rod].Axis()
	frame := p.frame(rod)
	lo, hi := b.Along(c, axis)
	half := p.r.m.Pieces[rod].Made.Size.X / 2
	for _, g := range closedAlong(round, lineAt(frame, b), b.R, math.Max(lo, -half), math.Min(hi, half), closedHalvings) {
		if g.hi-g.lo < rimThick {
			continue
		}
		wide := rimOut(b.R) + tol.Spare
		low, ok := p.head(rods, wood, frame, wide, g.lo, -1)
		if !ok {
			return false
		}
		high, ok := p.head(rods, wood, frame, wide, g.hi, 1)
		return ok && covers(wood, solid.Cylinder(frame, tol.Spare, low, high, 1, 2, 3))
	}
	return false
}

// head looks along the line of a rod, the way of sign from a place on it, for a disc
// of wood across it.
func (p *puzzle) head(rods []int, wood []solid.Convex, frame r3.Pose, wide, from, sign float64) (float64, bool) {
	for _, i := range rods {
		box := p.boxes[i]
		lo, hi := reachOf(r3.Box{Min: box.Min.Sub(frame.O), Max: box.Max.Sub(frame.O)}, frame.W)
		for _, share := range headAt {
			at := lo + float64(share*(hi-lo))
			if float64(sign*(at-from)) > tol.Spare && covers(wood, solid.Cylinder(frame, wide, at-tol.Spare, at+tol.Spare, 1, 2, 3)) {
				return at, true
			}
		}
	}
	return 0, false
}

// headAt are the places of a piece along the rod at which a disc is looked for.
var headAt = [...]float64{0.5, 0.25, 0.75}

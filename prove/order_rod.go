package prove

import (
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
	"dryfit/toy"
)

// A rod that meets wood at both ends before it is out of its holes.
//
// Call a rod engaged when it is in the holes over a length of E at least: at two
// places E apart its whole round section is in a hole that is closed all round. There
// its axis is within the play c of the line of the holes, so it leans by a slope of
// 2c/E at most, and at a distance s beyond the holes its axis is within c + 2c s/E of
// that line. Wood out there that is nearer to the line than the rod's radius less
// that is then in the rod's section wherever it is, so the rod cannot go past it.
// Between the two stops, leaning so far at most, it is still in the holes over some
// length, the worst place counted. If that is more than E, then engaged it stays
// engaged: there is no motion that ends it.
//
// With one hole that is the rule of thumb for an axle between two cheeks with blind
// holes, W apart and d1 and d2 deep: L cos(lean) > W + max(d1, d2), and it is in for
// good.

// heldRod looks for such a rod among some pieces, in holes of others.
func (p *puzzle) heldRod(rods, holed []int) (rod int, ok bool) {
	for _, i := range rods {
		if p.r.m.Pieces[i].Part.Shape == toy.Rod && p.held(i, holed) {
			return i, true
		}
	}
	return 0, false
}

// guide is a stretch of the rod's line in which a hole is closed all round.
type guide struct{ lo, hi float64 }

// heldIn is a rod and what it is in, along its line from its middle.
type heldIn struct {
	frame  r3.Pose
	wood   solid.Body
	radius float64
	half   float64 // half its length
	play   float64
	guides []guide
}

func (p *puzzle) held(rod int, holed []int) bool {
	h := heldIn{frame: p.frame(rod)}
	c, axis, r := p.r.m.Pieces[rod].Axis()
	h.radius = r - tol.Touch
	var all []solid.Convex
	for _, j := range holed {
		all = append(all, p.r.m.Pieces[j].Bored().Pieces...)
	}
	for _, j := range holed {
		for _, b := range p.around(rod, j) {
			lo, hi := b.Along(c, axis)
			from := len(h.guides)
			h.guides = append(h.guides, closedAlong(all, lineAt(h.frame, b), b.R, lo, hi, closedHalvings)...)
			if len(h.guides) > from {
				// the rim is a polygon about the circle: see rim
				h.play = math.Max(h.play, float64((b.R+tol.Touch-h.radius)/trig.Cos(math.Pi/rimSides))+offLine(b, c, axis))
			}
		}
	}
	// those that it is in as drawn: another may be beyond the wood that stops it
	half := p.r.m.Pieces[rod].Made.Size.X / 2
	h.guides = slices.DeleteFunc(h.guides, func(g guide) bool { return g.lo >= half || g.hi <= -half })
	if len(h.guides) == 0 {
		return false
	}
	slices.SortFunc(h.guides, func(a, b guide) int {
		if a.lo < b.lo {
			return -1
		}
		return 1
	})
	if h.half = p.core(rod, h.frame, h.radius); h.half == 0 {
		return false
	}
	h.wood = solid.NewBody(all)
	return h.stays()
}

// stays looks for a length of engagement that keeps itself up.
func (h *heldIn) stays() bool {
	first, last := h.guides[0].lo, h.guides[0].hi
	for _, g := range h.guides {
		last = math.Max(last, g.hi)
	}
	e := h.engaged(-h.half, h.half, 2*h.half) // as drawn
	for range engageMost {
		if e < 8*h.play { // it would lean by a quarter
			return false
		}
		slope := 2 * h.play / e
		hi, ok := h.stop(1, last, slope)
		lo, ok2 := h.stop(-1, -first, slope)
		if !ok || !ok2 || hi < h.half-tol.Touch || lo < h.half-tol.Touch {
			return false
		}
		for k, g := range h.guides[1:] { // it does not get by a hole either
			if h.play+float64(slope*(g.lo-h.guides[k].hi)) > h.radius {
				return false
			}
		}
		cos := 1 / math.Sqrt(1+float64(slope*slope))
		long := float64(2*h.half*cos) - float64(2*h.radius*slope*cos) // of whole sections
		if long <= 0 {
			return false
		}
		next := h.engaged(-lo, hi, long)
		if next >= e {
			return true
		}
		e = next - tol.Spare
	}
	return false
}

// engageMost bounds the lengths of engagement that are tried.
const engageMost = 8

// stop returns how far, the way of sign, the whole section of the rod can get before
// it meets wood: from the last hole's end on the wood nearest to the line.
func (h *heldIn) stop(sign, from, slope float64) (float64, bool) {
	f := h.frame
	if sign < 0 {
		f.U, f.V, f.W = f.V, f.U, f.W.Neg()
	}
	wide := func(z float64) float64 { return h.radius - h.play - float64(slope*(z-from)) - tol.Spare }
	hits := func(z float64) bool {
		bar := solid.Frustum(f, wide(from), wide(z), from, z, 1, 2, 3)
		return solid.Penetrates(solid.NewBody([]solid.Convex{bar}), h.wood, tol.Touch)
	}
	box := h.wood.Bounds()
	_, hi := reachOf(r3.Box{Min: box.Min.Sub(f.O), Max: box.Max.Sub(f.O)}, f.W)
	if slope > 0 { // no farther than the cone has any width
		hi = math.Min(hi, from+(wide(from)-tol.Spare)/slope)
	}
	if wide(from) <= tol.Spare || hi <= from+tol.Touch || !hits(hi) {
		return 0, false
	}
	lo := from
	for hi-lo > tol.Touch {
		if mid := (lo + hi) / 2; mid > from+tol.Touch && hits(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}

// engaged returns the shortest stretch from first to last hole that the rod is in,
// as its section goes from lo to hi and is long altogether.
func (h *heldIn) engaged(lo, hi, long float64) float64 {
	stretch := func(top float64) float64 {
		a, b := math.Inf(1), math.Inf(-1)
		for _, g := range h.guides {
			if g.hi >= top-long && g.lo <= top {
				a, b = math.Min(a, math.Max(g.lo, top-long)), math.Max(b, math.Min(g.hi, top))
			}
		}
		return b - a
	}
	least := math.Min(stretch(lo+long), stretch(hi))
	for _, g := range h.guides { // just before it comes to a hole, and just after it has left one
		for _, top := range []float64{g.lo - tol.Clip, g.hi + long + tol.Clip} {
			if top > lo+long && top < hi {
				least = math.Min(least, stretch(top))
			}
		}
	}
	return least
}

// core returns half the length of the round wood that a rod has all about its middle,
// within radius; 0 if there is none to speak of.
func (p *puzzle) core(rod int, frame r3.Pose, radius float64) float64 {
	half := p.r.m.Pieces[rod].Made.Size.X / 2
	for _, off := range coreOffs {
		if off < half && covers(p.r.m.Pieces[rod].Bored().Pieces, solid.Cylinder(frame, radius, off-half, half-off, 1, 2, 3)) {
			return half - off
		}
	}
	return 0
}

// coreOffs are what rounding or a chamfer may have taken off an end, in mm.
var coreOffs = [...]float64{0, 0.5, 1, 2, 4}

// frame returns the line of a rod or hole as a frame: W along it.
func (p *puzzle) frame(rod int) r3.Pose {
	c, axis, _ := p.r.m.Pieces[rod].Axis()
	return frameOf(c, axis)
}

func frameOf(at, axis r3.Vec) r3.Pose {
	u := axis.Cross(r3.X)
	if u.Len() < 0.5 {
		u = axis.Cross(r3.Y)
	}
	u = u.Unit()
	return r3.Pose{U: u, V: axis.Cross(u), W: axis, O: at}
}

// offLine returns how far the line of a hole is from a point along a direction.
func offLine(b assembly.Bore, at, axis r3.Vec) float64 {
	d := b.Point.Sub(at)
	return d.Sub(axis.Scale(d.Dot(axis))).Len()
}

// lineAt returns a frame moved aside onto the line of a hole.
func lineAt(f r3.Pose, b assembly.Bore) r3.Pose {
	d := b.Point.Sub(f.O)
	f.O = f.O.Add(d.Sub(f.W.Scale(d.Dot(f.W))))
	return f
}

// closedAlong returns the stretches of a hole that wood is about all round, as they
// are found by halving.
func closedAlong(wood []solid.Convex, frame r3.Pose, r, lo, hi float64, halvings int) []guide {
	if hi-lo < tol.Spare {
		return nil
	}
	if covers(wood, rim(frame, r, lo, hi)...) {
		return []guide{{lo, hi}}
	}
	if halvings == 0 {
		return nil
	}
	mid := (lo + hi) / 2
	return append(closedAlong(wood, frame, r, lo, mid, halvings-1), closedAlong(wood, frame, r, mid, hi, halvings-1)...)
}

const (
	closedHalvings = 4
	rimSides       = 16  // of the polygon that stands for the rim of a hole
	rimThick       = 0.3 // mm of wood about a hole that is asked for
)

// rim returns a ring just outside a hole: about the circle, so that what is within it
// is never farther from the middle than rimOut.
func rim(frame r3.Pose, r, lo, hi float64) []solid.Convex {
	in := solid.Circle(r2.Vec{}, rimOut(r), rimSides)
	out := solid.Circle(r2.Vec{}, rimOut(r)+rimThick, rimSides)
	var parts []solid.Convex
	for k := range in {
		n := (k + 1) % len(in)
		parts = append(parts, solid.Prism(frame, []r2.Vec{in[k], out[k], out[n], in[n]}, nil, lo, hi, 0, 0))
	}
	return parts
}

// rimOut is the radius of the corners of a hole's rim.
func rimOut(r float64) float64 { return (r + tol.Touch) / trig.Cos(math.Pi/rimSides) }

// covers tells whether all of some parts is in wood.
func covers(wood []solid.Convex, parts ...solid.Convex) bool {
	rest := solid.NewBody(parts)
	var near []solid.Convex
	for k := range wood {
		if wood[k].Bounds().Meets(rest.Bounds()) {
			near = append(near, wood[k])
		}
	}
	return rest.CarveAll(near).Empty()
}

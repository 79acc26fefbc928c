package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// child.holes: openings that a finger goes into and may stick in, drilled here and sawn in
// fingercuts.go. The published clause reaches round holes in rigid sheet thinner than any
// usual wood; in thicker wood, and of other shapes, the same sizes are avoided by custom.
// What a dowel, a wheel or another piece fills is no hole, and what lets a finger out
// sideways does not hold it.

const (
	// holeWide is the hole from which a finger comes out again: 12 mm, the rod of ISO
	// and EN; ASTM F963 says 13 mm.
	holeWide = 12.0
	// The tip of the fingers of a small child, as the accessibility probes have it: up
	// to 36 months, and older.
	probeSmall, probeLarge = 5.6, 8.6
	probeSource            = "16 CFR 1500.48(c), from memory"

	thinSheet   = "ASTM F963 4.18.2; ISO 8124-1 4.13.1 (under 60 months)"
	roundCustom = practice + " (sizes of ASTM F963 4.18.2)"
)

var fingerHolesCheck = Check{
	ID: "child.holes", Asks: "does any hole or cut-out trap a finger?", run: fingerHoles,
	How: "Every drilled hole that is not filled is followed from each mouth inward until something lies across its middle, and outward, where a finger must be able to come at it. Every cut-out, recess, notch and groove is looked at in sections 2.5 mm apart, with all that lies in it: the largest rod that goes between the wood, and how far one of 85 % of that slides along each wall that it touches. " +
		"What is 12 mm long or more (13 mm in sheet), or open at an edge, lets a finger out sideways and holds. A round opening in rigid sheet under 1.58 mm that takes a 6 mm rod 10 mm deep and no 13 mm rod fails; another shape there is minded. In thicker wood an opening of 6 to 12 mm that holds a finger all round for more than 10 mm is minded, from 3 years on only if it takes the 8.6 mm tip of the older children's probe. Openings that no one cut or hole makes, as between boards side by side, are not looked at.",
	Limits: []Limit{
		{"in sheet under 1.58 mm: takes a 6 mm rod to 10 mm, then a 13 mm rod too", inMM(facts.Child(facts.FingerClear).Value), "ASTM F963 4.18.2 (under 60 months)"},
		{"in thicker wood: from 6 to 12 mm across no deeper than", inMM(facts.Child(facts.HoleDepth).Value), practice},
		{"a slot lets a finger out sideways from", inMM(holeWide) + " long", practice},
		{"fingertip up to 3 years, and over", inMM(probeSmall) + ", " + inMM(probeLarge), probeSource},
	},
}

// mouthAt is one open mouth of a hole.
type mouthAt struct {
	piece, bore int
	at, in      r3.Vec  // where it is, and the way in
	depth       float64 // how far a rod goes in
	wall        float64 // and how far with the hole's own wall around it
}

func fingerHoles(r *run) {
	rod, deep, thin := facts.Child(facts.HoleRod), facts.Child(facts.HoleDepth), facts.Child(facts.HoleThin)
	looked := 0
	type kind struct {
		made *assembly.Made
		d    float64
	}
	first := map[kind]int{} // holes alike in pieces alike make one finding
	if r.reaches(rod) {
		tip := math.Max(rod.Value, r.tip())
		for i, p := range r.m.Pieces {
			for k, b := range p.Made.Bores {
				d := 2 * b.R
				sheet := p.Part.Shape != toy.Rod && math.Min(p.Made.Size.X, math.Min(p.Made.Size.Y, p.Made.Size.Z)) < thin.Value
				if r.w.built && !sheet {
					r.builtHole(i, k, tip)
					continue
				}
				if d < rod.Value || d >= holeWide && !sheet || d >= facts.Child(facts.FingerClear).Value {
					continue
				}
				looked++
				m, ok := r.deepest(i, k)
				in := m.wall
				if sheet {
					in = m.depth
				}
				if !ok || in <= deep.Value || !sheet && d < tip || r.slips(p.Bore(k), m, sheet) {
					continue
				}
				place := r.place(i, b.Name, m.at, p.Bore(k).At)
				if at, ok := first[kind{p.Made, d}]; ok {
					r.findings[at].Places = append(r.findings[at].Places, place)
					continue
				}
				first[kind{p.Made, d}] = len(r.findings)
				name := r.m.Name(assembly.Hole{Piece: i, Bore: k})
				f := Finding{Check: "child.holes", About: name, Verdict: Mind, Value: in, Unit: "mm", Limit: deep.Value, LimitOp: "<=", Source: roundCustom,
					Says:   fmt.Sprintf("a finger can stick in %s: it is %s across and open %s deep; fill it, or make it %s wide or more", name, r.len(d), r.len(in), r.len(holeWide)),
					Notes:  []string{screening},
					Places: []Place{place}}
				if sheet {
					f.Verdict, f.Source = Fails, thinSheet
					f.Value, f.Limit, f.LimitOp = d, facts.Child(facts.FingerClear).Value, ">="
					f.Says = fmt.Sprintf("%s, in sheet under %s, takes a %s rod %s deep but none of %s: make it that wide, or too small for the first", name, inMM(thin.Value), inMM(rod.Value), inMM(deep.Value), inMM(f.Limit))
				}
				r.add(f)
			}
		}
		looked += r.cutHoles()
	}
	if !r.has("child.holes") {
		says := "no hole or cut-out traps a finger"
		if looked == 0 {
			says = "there is no open hole or cut-out that holds a finger, between " + inMM(rod.Value) + " and " + inMM(holeWide)
			if !r.reaches(rod) {
				says = "no limit reaches the holes at this age"
			}
		}
		r.add(Finding{Check: "child.holes", About: "toy", Verdict: Holds, Unit: "mm", Limit: deep.Value, LimitOp: "<=", Source: roundCustom, Says: says, Notes: []string{screening}})
	}
}

// tip is the thickness of the fingertips that the toy meets.
func (r *run) tip() float64 {
	if r.underThree() {
		return probeSmall
	}
	return probeLarge
}

// slips tells whether a finger gets out of a drilled hole sideways, in the middle of its wall:
// holes drilled in a row that run into each other, and those that break out at an edge.
func (r *run) slips(b assembly.Bore, m mouthAt, sheet bool) bool {
	u, v := basis(m.in)
	d, clears := 2*b.R, holeWide
	if sheet {
		clears = facts.Child(facts.FingerClear).Value
	}
	p := r.section(r3.Pose{U: u, V: v, W: m.in, O: m.at}, m.wall/2, r2.Around(r2.Vec{X: -d - holeWide, Y: -d - holeWide}, r2.Vec{X: d + holeWide, Y: d + holeWide}), nil)
	return p.long(r2.Vec{}, d, clears) >= clears
}

// deepest follows a hole inward from each of its mouths that a finger comes at.
func (r *run) deepest(piece, bore int) (best mouthAt, ok bool) {
	b := r.m.Pieces[piece].Bore(bore)
	lo, hi, some := r.m.Wood(assembly.Hole{Piece: piece, Bore: bore}, b.Point, b.Dir)
	if !some || hi-lo <= tol.Touch {
		return best, false
	}
	ways := []mouthAt{{piece, bore, b.Point.Add(b.Dir.Scale(lo)), b.Dir, 0, 0}}
	if !b.Blind {
		ways = append(ways, mouthAt{piece, bore, b.Point.Add(b.Dir.Scale(hi)), b.Dir.Neg(), 0, 0})
	}
	for _, m := range ways {
		if r.ahead(m.at, m.in.Neg(), probeLarge) < probeSmall {
			continue // something lies on the mouth
		}
		m.depth = r.ahead(m.at, m.in, hi-lo+facts.Child(facts.HoleDepth).Value)
		m.wall = math.Min(m.depth, hi-lo)
		if !ok || m.depth > best.depth {
			best, ok = m, true
		}
	}
	return best, ok
}

// ahead returns how far one comes from p along dir before wood, up to limit.
func (r *run) ahead(p, dir r3.Vec, limit float64) float64 {
	limit, _ = r.meets(p, dir, limit, nil)
	return limit
}

// meets returns how far one comes from p along dir before wood, up to limit, and the piece that
// it is of, -1 if there is none. Pieces of skip are left out.
func (r *run) meets(p, dir r3.Vec, limit float64, skip map[int]bool) (float64, int) {
	way, piece := r3.Around(p, p.Add(dir.Scale(limit))), -1
	for i, q := range r.m.Pieces {
		if skip[i] || !q.Body.Bounds().Grow(tol.Touch).Meets(way) {
			continue
		}
		var on solid.Body // what of the piece is on the way
		for _, c := range q.Bored().Pieces {
			if c.Bounds().Grow(tol.Touch).Meets(way) {
				on.Pieces = append(on.Pieces, c)
			}
		}
		for _, s := range assembly.Spans(on, p, dir) {
			if s[1] > tol.Touch && s[0] < limit {
				limit, piece = math.Max(0, s[0]), i
			}
		}
	}
	return limit, piece
}

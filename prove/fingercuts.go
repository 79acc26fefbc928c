package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure/source"
	"dryfit/toy"
)

// child.holes for what is sawn: cut-outs, recesses, notches that another piece closes.
// The clause speaks of round holes. In others the largest rod that goes in decides, and
// how long the opening is: a finger is not held by a slot, which lets it slip sideways.

// cutOpen is a cut that may leave an opening, in its place.
type cutOpen struct {
	piece   int // the first it is drawn on
	spec    any // what it is part of: openings alike make one finding
	word    string
	of      string  // piece or glue-up
	feature string  // work.N
	frame   r3.Pose // W points out of the wood
	line    outline.Path
	lo, hi  float64 // where it is cut, along W
	round   float64 // its diameter if it is round, else 0
	sheet   bool    // in rigid sheet that the clause reaches
	at      source.Range
}

// cutOpens lists the cuts in the order of the pieces, and those of glue-ups after them.
func (r *run) cutOpens() (out []cutOpen) {
	thin := facts.Child(facts.HoleThin).Value
	list := func(work []toy.Work, c cutOpen, pose r3.Pose, size r3.Vec, reach r3.Box) {
		for k, w := range work {
			cut, ok := w.(toy.Cut)
			if !ok {
				continue
			}
			line, err := assembly.Line(cut.Outline)
			if err != nil {
				continue // Derive has refused it
			}
			c := c
			side := assembly.SideFrame(cut.Side, size)
			box := side.Inverse().Box(reach)
			c.lo, c.hi = box.Min.Z, box.Max.Z
			c.sheet = c.sheet && c.hi-c.lo < thin
			if cut.Depth > 0 {
				c.lo = math.Max(c.lo, c.hi-cut.Depth.MM())
			}
			c.word, c.feature, c.at = cut.Word, fmt.Sprintf("work.%d", k+1), cut.At
			c.frame, c.line, c.round = side.Then(pose), line, roundDia(line)
			out = append(out, c)
		}
	}
	for i, p := range r.m.Pieces {
		list(p.Part.Work, cutOpen{piece: i, spec: p.Made, of: p.ID, sheet: p.Part.Shape != toy.Rod}, p.Pose, p.Made.Size, r3.Box{Max: p.Made.Size})
	}
	for _, g := range r.m.GlueUps {
		first := r.m.Pieces[g.Pieces[0]]
		back, reach := first.Pose.Inverse(), r3.EmptyBox()
		for _, i := range g.Pieces {
			p := r.m.Pieces[i]
			reach = reach.Union(p.Pose.Then(back).Box(r3.Box{Max: p.Made.Size}))
		}
		list(g.Spec.Work, cutOpen{piece: g.Pieces[0], spec: g.Spec, of: g.ID}, first.Pose, first.Made.Size, reach)
	}
	return out
}

// roundDia is the diameter of a line that is one circle, else 0.
func roundDia(line outline.Path) float64 {
	for i, s := range line.Segs {
		if !s.Round() || s.R != line.Segs[0].R || s.C.Sub(line.Segs[0].C).Len() > tol.Clip {
			return 0
		}
		if i == len(line.Segs)-1 && s.To.Sub(line.Start).Len() > tol.Clip {
			return 0
		}
	}
	if len(line.Segs) == 0 {
		return 0
	}
	return 2 * line.Segs[0].R
}

// hold is a stretch of an opening that holds a finger all round.
type hold struct {
	c         r2.Vec
	dia, long float64
	from, to  float64 // along W
	mouth     float64 // where a finger comes in
	depth     float64 // how far a rod goes in from there
	reached   bool
}

// holds looks for the deepest stretch of an opening that takes a rod of one size and
// neither takes one of another nor is that long.
func (r *run) holds(o cutOpen, takes, clears float64) (best hold, ok bool) {
	at := func(z float64) (h hold, ok bool) {
		b := o.line.Bounds()
		m := r2.Vec{X: clears, Y: clears}
		p := r.section(o.frame, z, r2.Box{Min: b.Min.Sub(m), Max: b.Max.Add(m)}, nil)
		h.c, h.dia = p.largest(o.line, takes, clears)
		if h.dia < takes-tol.Touch || h.dia >= clears-tol.Touch {
			return h, false
		}
		if o.round > 0 && math.Abs(h.dia-o.round) <= 2*tol.Touch {
			h.dia = o.round // the polygon that stands for it lies within
			if h.dia < takes || h.dia >= clears {
				return h, false
			}
		}
		h.long = p.long(h.c, h.dia, clears)
		return h, h.long < clears
	}
	// end walks from a level that holds to the last one that does.
	end := func(z, step float64) float64 {
		for k := 0; k < holdSteps; k++ {
			if _, ok := at(z + step); ok {
				z += step
				continue
			}
			in, out := z, z+step
			for math.Abs(out-in) > closely/2 {
				mid := (in + out) / 2
				if _, ok := at(mid); ok {
					in = mid
				} else {
					out = mid
				}
			}
			return in
		}
		return z
	}
	if !o.sheet && o.hi-o.lo <= facts.Child(facts.HoleDepth).Value {
		// Not deep enough by itself, such as a window in plywood: does it go on in what lies behind?
		_, below := at(o.lo - beyondCut)
		_, above := at(o.hi + beyondCut)
		if !below && !above {
			return best, false
		}
	}
	n := int(math.Ceil((o.hi - o.lo) / holdStep))
	for k, done := 0, math.Inf(-1); k < n; k++ {
		z := o.lo + (o.hi-o.lo)*(float64(k)+0.5)/float64(n)
		if z <= done {
			continue
		}
		h, some := at(z)
		if !some {
			continue
		}
		h.from, h.to = end(z, -holdStep), end(z, holdStep)
		done = h.to
		for _, way := range []float64{1, -1} {
			mouth := h.to
			if way < 0 {
				mouth = h.from
			}
			p := o.frame.Point(r3.Vec{X: h.c.X, Y: h.c.Y, Z: mouth})
			out := o.frame.W.Scale(way)
			if r.ahead(p, out, probeLarge) < probeSmall {
				continue // something lies on the mouth, or it is the bottom
			}
			depth := r.ahead(p, out.Neg(), h.to-h.from+facts.Child(facts.HoleDepth).Value)
			if !h.reached || depth > h.depth {
				h.reached, h.mouth, h.depth = true, mouth, depth
			}
		}
		if h.reached && (!ok || h.to-h.from > best.to-best.from) {
			best, ok = h, true
		}
	}
	return best, ok
}

const (
	// beyondCut is how far beyond a cut it is looked for whether it goes on: more than a gap that
	// counts as touching.
	beyondCut = 5 * tol.Touch
	// holdStep is how far apart the sections of an opening are, and holdSteps how many follow
	// each other at most.
	holdStep  = 2.5
	holdSteps = 200
)

// cutHoles judges what is sawn, and returns at how many openings it looked.
func (r *run) cutHoles() (looked int) {
	rod, deep, wide := facts.Child(facts.HoleRod).Value, facts.Child(facts.HoleDepth).Value, facts.Child(facts.FingerClear).Value
	type kind struct {
		spec    any
		feature string
		dia     float64
	}
	first := map[kind]int{}
	for _, o := range r.cutOpens() {
		takes, clears := math.Max(rod, r.tip()), holeWide
		if o.sheet {
			takes, clears = rod, wide
		}
		h, ok := r.holds(o, takes, clears)
		if !ok {
			continue
		}
		looked++
		in := h.to - h.from
		if o.sheet {
			in = h.depth
		}
		if in <= deep+tol.Touch {
			continue
		}
		place := r.place(o.piece, o.feature, o.frame.Point(r3.Vec{X: h.c.X, Y: h.c.Y, Z: h.mouth}), o.at)
		id := kind{o.spec, o.feature, page(h.dia)}
		if at, ok := first[id]; ok {
			r.findings[at].Places = append(r.findings[at].Places, place)
			continue
		}
		first[id] = len(r.findings)
		r.add(r.heldIn(o, h, in, place))
	}
	return looked
}

func (r *run) heldIn(o cutOpen, h hold, in float64, place Place) Finding {
	rod, deep, wide := facts.Child(facts.HoleRod).Value, facts.Child(facts.HoleDepth).Value, facts.Child(facts.FingerClear).Value
	name := "the " + o.word + " of " + o.of
	f := Finding{Check: "child.holes", About: o.of + "/" + o.feature, Verdict: Mind, Value: in, Unit: "mm", Limit: deep, LimitOp: "<=", Source: practice + " (sizes of ASTM F963 4.18.2, which is for round holes)",
		Says:   fmt.Sprintf("a finger can stick in %s: it is %s across, %s long and open %s deep; fill it, or make it %s one way or more", name, r.len(rounded(h.dia)), r.len(rounded(h.long)), r.len(rounded(in)), r.len(holeWide)),
		Notes:  []string{screening},
		Places: []Place{place}}
	if o.round > 0 {
		f.Says = fmt.Sprintf("a finger can stick in %s: it is %s across and open %s deep; fill it, or make it %s wide or more", name, r.len(rounded(h.dia)), r.len(rounded(in)), r.len(holeWide))
		f.Source = roundCustom
	}
	if o.sheet && o.round > 0 {
		f.Verdict, f.Source = Fails, thinSheet
		f.Value, f.Limit, f.LimitOp = h.dia, wide, ">="
		f.Says = fmt.Sprintf("%s, in sheet under %s, takes a %s rod %s deep but none of %s: make it that wide, or too small for the first", name, inMM(facts.Child(facts.HoleThin).Value), inMM(rod), inMM(deep), inMM(wide))
	}
	return f
}

// rounded brings a measured length to what a rule shows, a tenth of a millimetre.
func rounded(mm float64) float64 { return math.Round(mm*10) / 10 }

package pattern

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/paper/draw"
	"dryfit/toy"
)

// view is one side of a blank with the work that is drawn on it, in millimetres
// from its lower left corner as seen from outside.
type view struct {
	side     toy.Side
	size     r2.Vec
	blank    draw.Run
	grain    r2.Vec // which way the grain runs; zero: into the paper, or none
	saws     []draw.Run
	cuts     []cut
	holes    []hole
	seen     []draw.Run     // what else is seen there, to lay the pattern by
	far      []draw.Run     // what is done from the side across
	marks    []hole         // centres of that
	unplaced []string       // places of holes that found no room beside them
	starts   bool           // a cut-out of the block is begun at a dot
	later    []draw.Run     // what is sawn and drilled once this is glued up
	hidden   bool           // the blank itself is behind what is seen
	called   []line         // which side it is; nil: by the name of the side
	flats    []namedFlat    // sides of outlines that have a name
	ways     []way          // of the toy, as they lie here
	wood     draw.Run       // what can be cut: the blank, or all of a glue-up
	move     draw.Transform // to the block
}

// cut is a cut-out, cut-in, notch or groove.
type cut struct {
	run   draw.Run
	line  []r2.Vec // its corners, arcs in short steps
	word  string
	depth float64 // 0: through
	round bool    // a circle: its centre is marked
}

// hole is one hole and what is said of it; holes of a row share their words, and
// only the first says them.
type hole struct {
	at      r2.Vec
	r       float64
	counter float64  // radius of a counterbore; 0: none
	lean    r2.Vec   // where a leaning hole goes; zero: square in
	says    [][]line // ways to say it, the best first
}

// sidesOf returns the sides that work is drawn on, those that are sawn first, in
// the order in which they are.
func sidesOf(work []toy.Work) (sawn, all []toy.Side) {
	add := func(list []toy.Side, s toy.Side) []toy.Side {
		for _, x := range list {
			if x == s {
				return list
			}
		}
		return append(list, s)
	}
	for _, w := range work {
		if w, ok := w.(toy.Saw); ok {
			sawn = add(sawn, w.Side)
		}
	}
	all = append(all, sawn...)
	for _, w := range work {
		switch w := w.(type) {
		case toy.Drill:
			all = add(all, w.Side)
		case toy.Cut:
			all = add(all, w.Side)
		}
	}
	return sawn, all
}

// viewOf draws the work on one side of a blank.
func (s *speaker) viewOf(side toy.Side, shape toy.Shape, size r3.Vec, bore float64, work []toy.Work) *view {
	f := assembly.SideFrame(side, size)
	v := &view{side: side}
	var round bool
	v.size, round = assembly.SideShape(side, shape, size)
	mid := v.size.Scale(0.5)
	v.blank = draw.Rect(r2.Box{Max: v.size})
	if round {
		v.blank = draw.Circle(mid, mid.X)
	}
	if shape == toy.Block || shape == toy.Rod {
		v.grain = r2.Vec{X: f.U.X, Y: f.V.X}
	}
	if bore > 0 && f.W.Z != 0 {
		v.holes = append(v.holes, hole{at: mid, r: bore / 2, says: s.holeSays("", bore, 0, nil)})
	}
	for _, w := range work {
		switch w := w.(type) {
		case toy.Saw:
			if w.Side == side {
				v.saws = append(v.saws, runOf(w.Outline))
				v.flats = append(v.flats, flatsOf(w.Outline)...)
			}
		case toy.Cut:
			if w.Side == side && s.bored(w) {
				v.holes = append(v.holes, s.holesOf(toy.Drill{Side: side, Dia: w.Outline.Circle.Dia, Holes: []toy.Hole{{At: w.Outline.Circle.Centre}}})...)
			} else if w.Side == side {
				v.flats = append(v.flats, flatsOf(w.Outline)...)
				v.cuts = append(v.cuts, cut{run: runOf(w.Outline), line: cornersOf(w.Outline), word: w.Word, depth: w.Depth.MM(), round: w.Outline.Circle != nil})
			}
		case toy.Drill:
			if w.Side == side {
				v.holes = append(v.holes, s.holesOf(w)...)
			}
		}
	}
	return v
}

// bored tells whether a round opening is made whole by a bit: it is drawn as the hole that it is.
func (s *speaker) bored(c toy.Cut) bool {
	if s.toy == nil || c.Outline.Circle == nil {
		return false
	}
	_, bored := assembly.BoredCut(c, s.toy)
	return bored
}

// origin is the corner of a side that all is measured from, and which way the wood is from
// there: the lower left one of the blank or, where that is behind other pieces, a corner of
// those; false if there is none.
func (v *view) origin() (at, into r2.Vec, ok bool) {
	if v.hidden {
		return corner(v.seen)
	}
	return r2.Vec{}, r2.Vec{X: 1, Y: 1}, v.blank.Segs[0].Sweep == 0
}

// places tells how far to the right of the origin and up from it the holes are that share the
// label of hole k: its own, and the unlabelled ones after it. Of a round, where all is about
// its middle, there are none, nor where the wood does not lie to the right of the origin and up.
func (v *view) places(k int) (at []r2.Vec) {
	o, into, ok := v.origin()
	if !ok || into.X <= 0 || into.Y <= 0 {
		return nil
	}
	for i := k; i < len(v.holes) && (i == k || len(v.holes[i].says) == 0); i++ {
		at = append(at, v.holes[i].at.Sub(o))
	}
	return at
}

// sharedFrom is the number of holes of one drilling from which they share a label.
const sharedFrom = 7

func (s *speaker) holesOf(w toy.Drill) []hole {
	n := len(w.Holes)
	shared, nameless := n >= sharedFrom, 0
	for _, h := range w.Holes {
		if h.Name == "" {
			nameless++
		}
	}
	var out []hole
	said := false
	for _, h := range w.Holes {
		o := hole{at: r2.Vec{X: h.At.X.MM(), Y: h.At.Y.MM()}, r: w.Dia.MM() / 2, counter: w.CounterDia.MM() / 2}
		switch {
		case shared && !said && nameless == 0:
			o.says = s.drillSays(h.Name+" … "+w.Holes[n-1].Name+", "+holes(n), w)
		case shared && !said:
			o.says = s.drillSays(holes(n), w)
		case h.Name != "" && !shared:
			o.says = s.drillSays(h.Name, w)
		case !shared && !said && nameless > 1:
			o.says = s.drillSays(holes(nameless), w)
		case !shared && !said:
			o.says = s.drillSays("", w)
		}
		said = said || shared || h.Name == ""
		if w.Lean != 0 {
			o.lean = [...]r2.Vec{toy.SeenRight: {X: 1}, toy.SeenLeft: {X: -1}, toy.SeenUp: {Y: 1}, toy.SeenDown: {Y: -1}}[w.Toward]
		}
		out = append(out, o)
	}
	return out
}

// drawable returns what is wrong with an outline of work that was never done,
// because the build does not use the part.
func drawable(name string, work []toy.Work) error {
	for _, w := range work {
		var o toy.Outline
		switch w := w.(type) {
		case toy.Saw:
			o = w.Outline
		case toy.Cut:
			o = w.Outline
		default:
			continue
		}
		if _, err := assembly.Line(o); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}

// runOf returns an outline as it is drawn: lines and true arcs. Either the model
// was derived from the same outline, or drawable has looked at it.
func runOf(o toy.Outline) draw.Run {
	p, err := assembly.Line(o)
	if err != nil {
		panic("pattern: an outline of a derived toy: " + err.Error())
	}
	return run(p)
}

// cornersOf is runOf as corners.
func cornersOf(o toy.Outline) []r2.Vec {
	p, err := assembly.Line(o)
	if err != nil {
		panic("pattern: an outline of a derived toy: " + err.Error())
	}
	return p.Polygon()
}

func run(p outline.Path) draw.Run {
	r := draw.Run{From: p.Start, Closed: true}
	at := p.Start
	for _, s := range p.Segs {
		switch from := at.Sub(s.C); {
		case !s.Round():
			r.Segs = append(r.Segs, draw.Seg{To: s.To})
		case math.Abs(s.Sweep) > math.Pi: // in two parts, so that every format can say it
			half := draw.Arc(s.C, s.R, math.Atan2(from.Y, from.X), s.Sweep/2).Segs[0]
			rest := half.To.Sub(s.C)
			r.Segs = append(r.Segs, half, draw.Seg{To: s.To, Centre: s.C, Radius: s.R, Start: math.Atan2(rest.Y, rest.X), Sweep: s.Sweep / 2})
		default:
			r.Segs = append(r.Segs, draw.Seg{To: s.To, Centre: s.C, Radius: s.R, Start: math.Atan2(from.Y, from.X), Sweep: s.Sweep})
		}
		at = s.To
	}
	return r
}

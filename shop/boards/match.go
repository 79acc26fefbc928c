package boards

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/shop"
	"dryfit/shop/nest"
	"dryfit/toy"
)

// manySold stands for any number.
const manySold = math.MaxInt32

// A candidate is a board that a stock can come from.
type candidate struct {
	board toy.Plank
	from  string
	plane float64 // to this thickness; 0: as it is
	label string  // of the trade
	copy  copyOf
	cost  float64 // to the search
}

// copyOf is a board apart from others alike: the name of their kind, and its number from 1.
type copyOf struct {
	name string
	n    int
}

// says names the group.
func (g *group) says(u measure.Unit) string {
	return fmt.Sprintf("%s %s, %s", g.wood.Name, g.form, measure.FromMM(g.thick).Format(u))
}

// find looks through a rack for boards of the group's wood, form and thickness.
func (g *group) find(r *toy.Rack, u measure.Unit) {
	g.rack = r
	take := func(list []toy.Plank, from string) (out []candidate) {
		for _, b := range list {
			if w, ok := facts.Wood(b.Wood); !ok || w.Name != g.wood.Name || b.Form != g.form || b.Count == 0 {
				continue
			}
			to, why := shop.PlanedTo(b, g.thick, r, u)
			if why != "" {
				g.whys = append(g.whys, b.Name+" "+why)
				continue
			}
			if from == FromSold {
				b.Count = manySold
			}
			out = append(out, candidate{board: b, from: from, plane: to})
		}
		return out
	}
	g.has, g.sold = take(r.Boards, FromRack), take(r.Sold.Boards, FromSold)
	g.priced = !slices.ContainsFunc(g.sold, func(c candidate) bool { return c.board.Price <= 0 })
}

// copies lists boards of the rack that are alike by names of their own.
func copies(b toy.Plank) (out []toy.Plank) {
	for n := 1; n <= b.Count; n++ {
		out = append(out, copyAt(b, n))
	}
	return out
}

// copyAt is one of boards that are alike.
func copyAt(b toy.Plank, n int) toy.Plank {
	if b.Count > 1 {
		b.Name = fmt.Sprintf("%s no. %d", b.Name, n)
	}
	b.Count = 1
	return b
}

// flaw is how far pieces stay from a flaw at least. A flaw is measured by eye, the grain runs out
// around a knot, and the saw goes by between it and the piece: the room between two pieces.
func (m margins) flaw() float64 { return m.kerf + m.handling }

// shapeOf is the outline of a board with its flaws as holes, each with a margin around it, in
// the board's own frame.
func shapeOf(b toy.Plank, margin float64) nest.Shape {
	s := nest.Shape{Outer: points(b.Outline)}
	for _, f := range b.Flaws {
		s.Holes = append(s.Holes, flawOf(f, margin))
	}
	return s
}

func points(list []toy.Point) (out []r2.Vec) {
	for _, p := range list {
		out = append(out, r2.Vec{X: p.X.MM(), Y: p.Y.MM()})
	}
	return out
}

func flawOf(f toy.Flaw, margin float64) []r2.Vec {
	at := r2.Vec{X: f.At.X.MM(), Y: f.At.Y.MM()}
	if f.Dia > 0 {
		return round(at, f.Dia.MM()/2+margin)
	}
	grow := r2.Vec{X: margin, Y: margin}
	var out []r2.Vec
	for _, p := range rect(r2.Vec{X: f.Size.X.MM(), Y: f.Size.Y.MM()}.Add(grow.Scale(2))).Outer {
		out = append(out, p.Add(at).Sub(grow))
	}
	return out
}

// boardOf is a board without pieces.
func boardOf(b toy.Plank, from string, plane float64) Board {
	s := shapeOf(b, 0)
	low := r2.Around(s.Outer...).Min
	out := Board{Name: b.Name, From: from, ThickMM: rounded(b.Thick.MM()), PlaneToMM: rounded(plane), Across: b.Across, Price: b.Price, OutlineMM: pairs(s.Outer), Flaws: []Flaw{}, Places: []Place{}, Left: []Rest{}, shape: s}
	out.AreaM2 = kept(areaOf(nest.Shape{Outer: s.Outer}) * 1e-6)
	for i, f := range b.Flaws {
		why := f.Why
		if why == "" {
			why = "flaw"
		}
		flaw := Flaw{Why: why, At: pairs(s.Holes[i]), Round: f.Dia > 0, XMM: rounded(f.At.X.MM() - low.X), YMM: rounded(f.At.Y.MM() - low.Y)}
		flaw.LengthMM, flaw.WidthMM = rounded(f.Size.X.MM()), rounded(f.Size.Y.MM())
		if flaw.Round {
			flaw.LengthMM, flaw.WidthMM = rounded(f.Dia.MM()), rounded(f.Dia.MM())
		}
		out.Flaws = append(out.Flaws, flaw)
	}
	return out
}

// A frame is how a board is turned for the search, so that its grain runs along x.
type frame struct {
	across bool
	wide   float64 // what y becomes: X' = y - min, Y' = max - x
	min    r2.Vec
}

func frameOf(b toy.Plank) frame {
	box := r2.Around(points(b.Outline)...)
	return frame{across: b.Across, wide: box.Max.X, min: box.Min}
}

// in turns a shape from the board's frame to that of the search, a quarter clockwise.
func (f frame) in(p r2.Vec) r2.Vec {
	if !f.across {
		return p
	}
	return r2.Vec{X: p.Y - f.min.Y, Y: f.wide - p.X}
}

// out is the way back.
func (f frame) out(p r2.Vec) r2.Vec {
	if !f.across {
		return p
	}
	return r2.Vec{X: f.wide - p.Y, Y: p.X + f.min.Y}
}

func (f frame) shape(s nest.Shape, by func(r2.Vec) r2.Vec) nest.Shape {
	each := func(pts []r2.Vec) []r2.Vec {
		out := make([]r2.Vec, len(pts))
		for i, p := range pts {
			out[i] = by(p)
		}
		return out
	}
	out := nest.Shape{Outer: each(s.Outer)}
	for _, h := range s.Holes {
		out.Holes = append(out.Holes, each(h))
	}
	return out
}

// trades lists what is commonly sold that a stock can be made from, no thicker than it has to be,
// or says why nothing is.
func (g *group) trades(u measure.Unit) (out []candidate, why string) {
	best := math.Inf(1)
	for _, t := range facts.Trades(g.wood.Kind) {
		if t.Width == 0 {
			continue
		}
		thick := t.Thick
		if t.Kind == "panel" {
			thick = g.thick
		}
		if thick > best+tol.Page {
			continue
		}
		b := toy.Plank{Name: strings.TrimSpace(t.Name + " " + g.wood.Name), Wood: g.wood.Name, Form: g.form, Thick: measure.FromMM(thick), Count: manySold}
		plane, no := shop.PlanedTo(b, g.thick, g.rack, u)
		if no != "" {
			if thick > g.thick && why == "" { // the nearest, not what is too thin
				why = "of what is commonly sold, " + b.Name + " " + no
			}
			continue
		}
		best = thick
		l, w := measure.FromMM(t.Length), measure.FromMM(t.Width)
		b.Outline = []toy.Point{{}, {X: l}, {X: l, Y: w}, {Y: w}}
		out = append(out, candidate{board: b, from: FromTrade, label: t.Source, plane: plane})
	}
	switch {
	case len(out) > 0:
		return out, ""
	case why == "":
		why = "nothing that is commonly sold is as thick"
	}
	return nil, why
}

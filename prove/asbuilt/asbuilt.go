// Package asbuilt takes what the finished pieces of a build measured: how far each is off the drawing,
// as the deviations of a build that the proof runs on, and as errors of the operations that made it.
package asbuilt

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
)

// Measured is one size that was measured.
type Measured struct {
	Piece, What string  // "wheel.2", "diameter"; "frame", "front-axle, across"
	Drawn, Is   float64 // mm
	Operation   string  // of facts.Errors that is off by it
	SetUp       string  // what was set once for all that share it; "" for nothing
	At          source.Range
}

// Off is by how much it is off, in mm.
func (m Measured) Off() float64 { return m.Is - m.Drawn }

// Build is what is known of one build.
type Build struct {
	Measured []Measured
	Dev      assembly.Deviations
	Sizes    int // how many sizes there are to measure
}

// reader goes through the measures of one file.
type reader struct {
	m     *assembly.Model
	file  *source.File
	out   *Build
	probs source.Problems
}

// Read sets the measures of a build against the model as drawn.
func Read(m *assembly.Model, ms *toy.Measures) (*Build, source.Problems) {
	r := &reader{m: m, file: ms.File, out: &Build{Dev: assembly.Deviations{}}}
	if ms.Toy != m.Toy.Name {
		p := r.problem("other-toy", source.Range{}, "these are the measures of "+ms.Toy)
		p.Expected = "measures of " + m.Toy.Name
	}
	var ids []string
	by := map[string]*assembly.Piece{}
	for _, p := range m.Pieces {
		ids = append(ids, p.ID)
		by[p.ID] = p
		r.out.Sizes += sizes(p)
	}
	seen := map[string]bool{}
	for _, mp := range ms.Pieces {
		p := by[mp.ID]
		switch {
		case p == nil:
			r.near("unknown-name", mp.At, "the toy has no piece "+mp.ID, mp.ID, ids)
		case seen[mp.ID]:
			r.problem("twice", mp.At, mp.ID+" is measured twice")
		default:
			r.piece(p, mp)
		}
		seen[mp.ID] = true
	}
	if len(r.probs) > 0 {
		return nil, r.probs.Sorted()
	}
	return r.out, nil
}

func (r *reader) problem(code string, at source.Range, says string) *source.Problem {
	r.probs = append(r.probs, r.file.Problem(code, at, says))
	return &r.probs[len(r.probs)-1]
}

func (r *reader) near(code string, at source.Range, says, word string, options []string) {
	r.probs = append(r.probs, r.file.Problem(code, at, says).Near(word, options))
}

// Size is a size of a piece that can be measured.
type Size struct {
	Key   string  // as the measures file calls it: length, thick, dia, bore
	Drawn float64 // mm
}

// Sizes lists what can be measured of a piece beside its holes. Of an outline that is sawn it is the
// length and width over all.
func Sizes(p *assembly.Piece) (out []Size) {
	size := over(p)
	switch p.Part.Shape {
	case toy.Disc:
		out = []Size{{"dia", size.X}, {"thick", size.Z}}
		if p.Part.Bore > 0 {
			out = append(out, Size{"bore", p.Part.Bore.MM()})
		}
	case toy.Rod:
		out = []Size{{"length", size.X}, {"dia", p.Made.Size.Z}}
	case toy.Sphere:
		out = []Size{{"dia", p.Made.Size.X}}
	default:
		out = []Size{{"length", size.X}, {"width", size.Y}, {"thick", size.Z}}
	}
	return out
}

// over is how large a piece is over all, along its blank.
func over(p *assembly.Piece) r3.Vec {
	if p.Part.Shape == toy.Block {
		return p.Made.Filled.Bounds().Size()
	}
	return p.Made.Size
}

// Hole is a drilled hole that can be measured.
type Hole struct {
	Name  string // as measures call it
	Key   string // of its deviation: work.2.1
	SetUp string // the drilling it belongs to
	X, Y  float64
	Dia   float64
	Depth float64 // 0: through
}

// Holes lists the drilled holes of a piece.
func Holes(p *assembly.Piece) (out []Hole) {
	for n, w := range p.Part.Work {
		d, ok := w.(toy.Drill)
		if !ok {
			continue
		}
		for i, h := range d.Holes {
			x := Hole{Key: fmt.Sprintf("work.%d.%d", n+1, i+1), SetUp: fmt.Sprintf("work.%d", n+1), X: h.At.X.MM(), Y: h.At.Y.MM(), Dia: d.Dia.MM(), Depth: d.Depth.MM()}
			if x.Name = h.Name; x.Name == "" {
				x.Name = x.Key
			}
			out = append(out, x)
		}
	}
	return out
}

func sizes(p *assembly.Piece) int {
	n := len(Sizes(p))
	for _, h := range Holes(p) {
		if n += 3; h.Depth > 0 {
			n++
		}
	}
	return n
}

// far is how far off a measure may be before it is taken for a slip of the pen.
const far = 6.0

// take files one measure, and returns how far it is off; ok is false where it was not measured.
func (r *reader) take(m Measured, is *measure.Length) (off float64, ok bool) {
	if is == nil {
		return 0, false
	}
	if m.Is = is.MM(); math.Abs(m.Off()) > far {
		u := r.m.Toy.Units
		r.problem("far-off", m.At, fmt.Sprintf("the %s of %s is drawn %s", m.What, m.Piece, measure.FromMM(m.Drawn).Format(u))).Expected =
			"a measure within " + measure.FromMM(far).Format(u) + " of the drawing; what is farther off is another piece"
		return 0, false
	}
	r.out.Measured = append(r.out.Measured, m)
	return m.Off(), true
}

func (r *reader) add(piece, op string, d assembly.Deviation) {
	k := assembly.DeviationKey{Piece: piece, Op: op}
	was := r.out.Dev[k]
	was.D, was.Dia, was.Grow = was.D.Add(d.D), was.Dia+d.Dia, was.Grow+d.Grow
	r.out.Dev[k] = was
}

func (r *reader) piece(p *assembly.Piece, mp toy.MeasuredPiece) {
	words := map[string]string{"length": "length", "width": "width", "thick": "thickness", "dia": "diameter", "bore": "bore"}
	given := map[string]*measure.Length{"length": mp.Length, "width": mp.Width, "thick": mp.Thick, "dia": mp.Dia, "bore": mp.Bore}
	by := assembly.SawnBy(p.Part)
	grown := map[int][]float64{}
	for _, s := range Sizes(p) {
		is := given[s.Key]
		delete(given, s.Key)
		op, d := r.operation(p, s.Key)
		m := Measured{Piece: p.ID, What: words[s.Key], Drawn: s.Drawn, Operation: op, At: mp.At}
		axis := map[string]int{"length": 0, "width": 1}
		if a, ok := axis[s.Key]; ok && p.Part.Shape == toy.Block {
			if by[a] >= 0 { // sawn to a line: outside or inside it on either side
				m.Operation = "saw.grow"
				if off, ok := r.take(m, is); ok {
					r.out.Measured[len(r.out.Measured)-1].halve()
					grown[by[a]] = append(grown[by[a]], off/2)
				}
				continue
			}
			m.SetUp = p.Part.Name + " " + s.Key
		}
		if off, ok := r.take(m, is); ok {
			d.D, d.Dia = d.D.Scale(off), float64(d.Dia*off)
			r.add(p.ID, "blank", d)
		}
	}
	for n, list := range grown {
		sum := 0.0
		for _, g := range list {
			sum += g
		}
		r.add(p.ID, fmt.Sprintf("work.%d", n+1), assembly.Deviation{Grow: sum / float64(len(list))})
	}
	for _, key := range []string{"length", "width", "thick", "dia", "bore"} {
		if given[key] != nil {
			var has []string
			for _, s := range Sizes(p) {
				has = append(has, s.Key)
			}
			r.near("no-such-size", mp.At, fmt.Sprintf("%s has no %s to measure", p.ID, words[key]), key, has)
		}
	}
	r.holes(p, mp)
}

// halve makes a measure across two sawn sides one of how far outside the line each was sawn.
func (m *Measured) halve() {
	m.What += ", each side"
	m.Drawn, m.Is = 0, m.Off()/2
}

// operation tells what is off where a size of a blank is, and what a deviation of 1 is there.
func (r *reader) operation(p *assembly.Piece, key string) (string, assembly.Deviation) {
	shape := p.Part.Shape
	switch {
	case key == "bore":
		return "drill.over", assembly.Deviation{Dia: 1}
	case key == "dia" && shape == toy.Rod:
		return "stock.dowel", assembly.Deviation{D: r3.Vec{Y: 1, Z: 1}}
	case key == "dia" && shape == toy.Sphere:
		return "stock.ball", assembly.Deviation{D: r3.Vec{X: 1, Y: 1, Z: 1}}
	case key == "dia":
		made := map[string]string{"sawn": "wheel.sawn", "bought": "wheel.bought"}[p.Part.Made]
		if made == "" {
			made = "wheel.turned"
		}
		return made, assembly.Deviation{D: r3.Vec{X: 1, Y: 1}}
	case key == "thick":
		if st, _ := r.m.Toy.StockNamed(p.Part.Stock); st.Form == toy.Sheet {
			return "stock.sheet", assembly.Deviation{D: r3.Z}
		}
		return "stock.board", assembly.Deviation{D: r3.Z}
	case key == "length" && shape == toy.Rod:
		return "rod.length", assembly.Deviation{D: r3.X}
	case key == "width":
		return "cut.piece", assembly.Deviation{D: r3.Y}
	}
	return "cut.piece", assembly.Deviation{D: r3.X}
}

func (r *reader) holes(p *assembly.Piece, mp toy.MeasuredPiece) {
	holes := Holes(p)
	var names []string
	for _, h := range holes {
		names = append(names, h.Name)
	}
	for _, mh := range mp.Holes {
		at := -1
		for i, h := range holes {
			if h.Name == mh.Name || h.Key == mh.Name {
				at = i
			}
		}
		if at < 0 {
			r.near("unknown-name", mh.At, p.ID+" has no hole "+mh.Name, mh.Name, names)
			continue
		}
		h := holes[at]
		one := func(what, op, setUp string, drawn float64, is *measure.Length, d assembly.Deviation) {
			m := Measured{Piece: p.ID, What: h.Name + ", " + what, Drawn: drawn, Operation: op, SetUp: setUp, At: mh.At}
			if off, ok := r.take(m, is); ok {
				d.D, d.Dia = d.D.Scale(off), float64(d.Dia*off)
				r.add(p.ID, h.Key, d)
			}
		}
		set := p.Part.Name + " " + h.SetUp
		one("diameter", "drill.over", "", h.Dia, mh.Dia, assembly.Deviation{Dia: 1})
		one("along", "drill.centre", set+" along", h.X, mh.X, assembly.Deviation{D: r3.X})
		one("up", "drill.centre", set+" up", h.Y, mh.Y, assembly.Deviation{D: r3.Y})
		if h.Depth > 0 {
			one("depth", "drill.depth", "", h.Depth, mh.Depth, assembly.Deviation{D: r3.Z})
		} else if mh.Depth != nil {
			r.problem("no-such-size", mh.At, "the hole "+h.Name+" of "+p.ID+" goes right through")
		}
	}
}

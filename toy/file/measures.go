package file

import (
	"math"

	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
)

// What a build measured: a file of its own, which a builder fills in.

type measuresDoc struct {
	shape.Place
	Dryfit shape.Count  `key:"dryfit" need:"yes" most:"1000" says:"The version of the file: 1."`
	Toy    shape.Text   `key:"measures-of" need:"yes" says:"The name of the toy that was built."`
	Units  shape.Word   `key:"units" need:"yes" oneof:"inch|mm" says:"What a number without a unit is."`
	Note   shape.Text   `key:"note" says:"Anything the builder wants to say."`
	Pieces []madePieces `key:"pieces" need:"yes" says:"What was measured; what is left out was not."`
}

type madePieces struct {
	shape.Place
	Piece  shape.Text    `key:"piece" need:"yes" says:"The piece, as the build calls it: frame, wheel.2."`
	Length shape.Formula `key:"length" says:"Its length, along the grain."`
	Width  shape.Formula `key:"width" says:"Its width."`
	Thick  shape.Formula `key:"thick" says:"Its thickness."`
	Dia    shape.Formula `key:"dia" says:"Diameter of a disc, a dowel or a ball."`
	Bore   shape.Formula `key:"bore" says:"Diameter of the hole through the middle of a disc."`
	Holes  []madeHoles   `key:"holes" says:"Its drilled holes."`
}

type madeHoles struct {
	shape.Place
	Hole  shape.Text      `key:"hole" need:"yes" says:"The hole: its name, or work.2.1 for the first of the second piece of work."`
	Dia   shape.Formula   `key:"dia" says:"Its diameter."`
	At    []shape.Formula `key:"at" says:"Its middle, from the lower left corner of the side."`
	Depth shape.Formula   `key:"depth" says:"Its depth."`
}

// ReadMeasures reads what a build measured. The measures are nil where problems are returned.
func ReadMeasures(f *source.File) (*toy.Measures, source.Problems) {
	var d measuresDoc
	if probs := decode(f, "a measures file", &d); len(probs) > 0 {
		return nil, probs
	}
	var probs source.Problems
	v := values{file: f, slots: map[string]*slot{}, probs: &probs}
	v.unit, _ = measure.ParseUnit(d.Units.Text)
	if !v.version(d.Dryfit) {
		return nil, probs
	}
	is := func(f shape.Formula, what string) *measure.Length {
		if f.Text == "" {
			return nil
		}
		l := v.positive(f, nil, what)
		return &l
	}
	out := &toy.Measures{File: f, Toy: d.Toy.Text, Units: v.unit}
	for _, p := range d.Pieces {
		m := toy.MeasuredPiece{ID: p.Piece.Text, At: p.Piece.At, Length: is(p.Length, "a length"), Width: is(p.Width, "a width"),
			Thick: is(p.Thick, "a thickness"), Dia: is(p.Dia, "a diameter"), Bore: is(p.Bore, "a bore")}
		for _, h := range p.Holes {
			x := toy.MeasuredHole{Name: h.Hole.Text, At: h.Hole.At, Dia: is(h.Dia, "a diameter"), Depth: is(h.Depth, "a depth")}
			switch len(h.At) {
			case 0:
			case 2:
				x.X, x.Y = v.optional(h.At[0]), v.optional(h.At[1])
			default:
				v.problem("wrong-kind", h.Place.At, "a place has two numbers: from the left, and up").Expected = "at: [1 1/2, 3/8]"
			}
			m.Holes = append(m.Holes, x)
		}
		out.Pieces = append(out.Pieces, m)
	}
	if len(probs) > 0 {
		return nil, probs.Sorted()
	}
	return out, nil
}

// MeasuresSchema returns the JSON Schema (2020-12) of a measures file.
func MeasuresSchema() ([]byte, error) { return shape.Schema(measuresDoc{}, "dryfit measures file") }

// MeasuresReference returns the keys of a measures file as Markdown tables.
func MeasuresReference() string { return shape.Reference(measuresDoc{}) }

type builder struct {
	shape.Place
	Skill   shape.Word `key:"skill" oneof:"practised|fair|first-time" says:"How much practice the builder has."`
	Spreads []spread   `key:"spreads" says:"What the builder was found to be off by, operation by operation."`
}

type spread struct {
	shape.Place
	Of       shape.Text    `key:"of" need:"yes" says:"The operation, as dryfit forgiving lists it."`
	By       shape.Formula `key:"by" need:"yes" says:"Its spread: a length, or an angle for what leans."`
	Measured shape.Count   `key:"measured" most:"100000" says:"How many measures it rests on."`
}

// builder reads whose hands the shop has.
func (v *values) builder(b *builder) *toy.Builder {
	if b == nil {
		return nil
	}
	out := &toy.Builder{Skill: b.Skill.Text, At: b.Place.At}
	for _, s := range b.Spreads {
		x := toy.Spread{Of: s.Of.Text, Measured: s.Measured.N, At: s.Of.At}
		val, ok := v.eval(s.By, nil)
		if !ok {
			continue
		}
		if l, is := val.AsLength(v.unit); is {
			x.By = l.MM()
		} else {
			x.By, x.Angle = float64(v.angle(s.By, 45)), true
		}
		if x.By < 0 || math.IsNaN(x.By) {
			v.problem("not-positive", s.By.At, "a spread is not less than nothing")
		}
		out.Spreads = append(out.Spreads, x)
	}
	return out
}

package page

import (
	"slices"
	"strings"

	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/toy"
)

// Lengths in another hand than the file's: each value of the file with its units said, what it comes
// to, and what a maker of either unit types as the file has to have it.

// hand reads the formulas of a toy. That of no toy knows no names.
type hand struct {
	unit  measure.Unit
	names map[string]formula.Value
}

func handOf(t *toy.Toy) hand {
	h := hand{names: map[string]formula.Value{}}
	if t == nil {
		return h
	}
	h.unit = t.Units
	for _, z := range t.Sizes {
		h.names[z.Name] = z.Value
	}
	length := func(of, key string, l measure.Length) {
		if l > 0 { // else it follows from the build
			h.names[of+"."+key] = formula.OfLength(l)
		}
	}
	for _, s := range t.Stock {
		length(s.Name, "thick", s.Thick)
		length(s.Name, "dia", s.Dia)
	}
	for _, p := range t.Parts {
		length(p.Name, "length", p.Length)
		length(p.Name, "width", p.Width)
		length(p.Name, "thick", p.Thick)
		if p.Shape != toy.Block {
			length(p.Name, "dia", p.Width)
		}
		length(p.Name, "bore", p.Bore)
	}
	return h
}

// kind is what a name stands for; what is not known here can only be a length.
func (h hand) kind(name string) formula.Kind {
	if v, ok := h.names[name]; ok {
		return v.Kind
	}
	return formula.Length
}

// said is a text of the file with a unit behind every number that is a length.
func (h hand) said(text string) string { return formula.InUnit(text, h.unit, h.kind) }

// mm is what a formula comes to, own being names that are known at its place alone; nil if that
// cannot be told.
func (h hand) mm(text string, own map[string]formula.Value) *float64 {
	e, bad := formula.Parse(text)
	if bad != nil {
		return nil
	}
	v, bad := e.Eval(h.unit, func(name string) (formula.Value, bool) {
		if v, ok := own[name]; ok {
			return v, true
		}
		v, ok := h.names[name]
		return v, ok
	}, nil)
	if bad != nil {
		return nil
	}
	l, ok := v.AsLength(h.unit)
	if !ok {
		return nil
	}
	return number(l)
}

// plain are the fields that are no lengths.
var plain = []string{"as", "name", "may-leave-out", "spare"}

// field fills in what a field says beside its text.
func (h hand) field(f *Field, own map[string]formula.Value) {
	if f.Plain = slices.Contains(plain, f.Name); f.Plain {
		f.Said = f.Text
		return
	}
	f.Said = h.said(f.Text)
	if f.MM == nil {
		f.MM = h.mm(f.Text, own)
	}
}

// part fills in the fields of a part and of its work.
func (h hand) part(p *Part) {
	length := func(mm float64) formula.Value { return formula.OfLength(measure.FromMM(mm)) }
	own := map[string]formula.Value{"length": length(p.Size[0]), "width": length(p.Size[1]), "thick": length(p.Size[2])}
	for i := range p.Fields {
		h.field(&p.Fields[i], nil)
	}
	for i := range p.Work {
		w := &p.Work[i]
		across, up := sideOf(w.Side, p.Size)
		at := func(f *Field) {
			switch {
			case strings.HasSuffix(f.Name, "from left"):
				own["middle"] = length(across / 2)
			case strings.HasSuffix(f.Name, "from bottom"):
				own["middle"] = length(up / 2)
			default:
				delete(own, "middle")
			}
			h.field(f, own)
		}
		for k := range w.Fields {
			at(&w.Fields[k])
		}
		for k := range w.Holes {
			at(&w.Holes[k].X)
			at(&w.Holes[k].Y)
		}
		for k := range w.Corners {
			c := &w.Corners[k]
			at(&c.X)
			at(&c.Y)
			if c.Radius != nil {
				at(c.Radius)
			}
			for j := range c.Arc {
				at(&c.Arc[j])
			}
		}
	}
}

// sideOf is how large a side of a blank is, across and up (docs/contracts.md: Views).
func sideOf(side string, size [3]float64) (across, up float64) {
	switch side {
	case "top", "bottom":
		return size[0], size[1]
	case "right", "left":
		return size[0], size[2]
	}
	return size[1], size[2]
}

// InFile are texts that were typed by somebody who means unit by a number alone, as the file of a toy
// has to have them. t is nil where nothing could be read yet.
func InFile(t *toy.Toy, unit measure.Unit, texts []string) []string {
	h := handOf(t)
	out := make([]string, len(texts))
	for i, text := range texts {
		out[i] = text
		if t == nil || unit != t.Units {
			out[i] = formula.InUnit(text, unit, h.kind)
		}
	}
	return out
}

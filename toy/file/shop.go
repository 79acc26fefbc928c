package file

import (
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
	"dryfit/toy/file/tree"
)

// The shop: what tools there are. A toy file may say so for its toy, and a builder in a
// file of their own, which stands in where the toy file says nothing. The keys are the
// same, and read alike.

// shopDoc is the whole of a shop's own file.
type shopDoc struct {
	shape.Place
	Dryfit shape.Count `key:"dryfit" need:"yes" most:"1000" says:"The version of the file: 1."`
	Units  shape.Word  `key:"units" need:"yes" oneof:"inch|mm" says:"What a number without a unit is."`
	Note   shape.Text  `key:"note" says:"Anything the builder wants to say."`
	Shop   *shop       `key:"shop" says:"The saws and bits there are."`
	Hands  *builder    `key:"builder" says:"How exactly the builder works, for virtual builds."`
	rackDoc
}

type shop struct {
	shape.Place
	Bits   []shape.Word `key:"bits" oneof:"inch|metric" says:"Which drill bits there are; left out: both."`
	Band   *machine     `key:"band-saw" says:"The band saw."`
	Scroll *machine     `key:"scroll-saw" says:"The scroll saw."`
}

type machine struct {
	shape.Place
	Blade    shape.Formula `key:"blade" says:"Width of its blade."`
	Kerf     shape.Formula `key:"kerf" says:"Width of its cut."`
	Thickest shape.Formula `key:"thickest" says:"The thickest wood it takes."`
}

// ReadShop reads a shop's own file. The shop is nil where problems are returned.
func ReadShop(f *source.File) (*toy.Shop, source.Problems) {
	var d shopDoc
	if probs := decode(f, "a shop file", &d); len(probs) > 0 {
		return nil, probs
	}
	var probs source.Problems
	v := values{file: f, slots: map[string]*slot{}, probs: &probs}
	v.unit, _ = measure.ParseUnit(d.Units.Text)
	if !v.version(d.Dryfit) {
		return nil, probs
	}
	s := &toy.Shop{From: []string{f.Name}, At: d.Place.At}
	if d.Shop != nil {
		s = v.shop(d.Shop, f.Name)
	}
	s.Builder = v.builder(d.Hands)
	s.Rack = v.rack(&d.rackDoc, f.Name)
	if len(probs) > 0 {
		return nil, probs.Sorted()
	}
	return s, nil
}

// decode reads a text into a document of that kind.
func decode(f *source.File, kind string, into any) source.Problems {
	n, probs := tree.Parse(f)
	if len(probs) > 0 {
		return probs.Sorted()
	}
	if n.Empty() {
		return source.Problems{f.Problem("empty", f.Whole(), "this file is empty").Expect(kind + ", which starts with dryfit: 1")}
	}
	return shape.Decode(f, n, into).Sorted()
}

// version refuses files of other versions.
func (v *values) version(is shape.Count) bool {
	if is.N == Version {
		return true
	}
	says := "this file is of a version that does not exist"
	if is.N > Version {
		says = "this file needs a newer dryfit"
	}
	v.problem("version", is.At, says).Expected = "dryfit: 1"
	return false
}

// shop reads the tools, which from says.
func (v *values) shop(s *shop, from string) *toy.Shop {
	out := &toy.Shop{From: []string{from}, At: s.Place.At}
	for _, b := range s.Bits {
		out.Bits = append(out.Bits, b.Text)
	}
	machine := func(m *machine) *toy.Machine {
		if m == nil {
			return nil
		}
		return &toy.Machine{Blade: v.positive(m.Blade, nil, "a blade"), Kerf: v.positive(m.Kerf, nil, "a kerf"), Thickest: v.positive(m.Thickest, nil, "a thickness"), At: m.Place.At}
	}
	out.BandSaw, out.ScrollSaw = machine(s.Band), machine(s.Scroll)
	return out
}

// ShopSchema returns the JSON Schema (2020-12) of a shop's own file.
func ShopSchema() ([]byte, error) { return shape.Schema(shopDoc{}, "dryfit shop file") }

// ShopReference returns the keys of a shop's own file as Markdown tables.
func ShopReference() string { return shape.Reference(shopDoc{}) }

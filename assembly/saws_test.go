package assembly

import (
	"testing"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/measure"
	"dryfit/toy"
)

// A round is an outside curve when its wood is kept, an inside one when it is taken out.
func TestSawnWith(t *testing.T) {
	const in = 25.4
	wide := func(mm float64) *toy.Machine { return &toy.Machine{Blade: measure.FromMM(mm)} }
	band, both := &toy.Shop{BandSaw: wide(in / 2)}, &toy.Shop{BandSaw: wide(in / 2), ScrollSaw: wide(1)}
	for _, c := range []struct {
		says    string
		radius  float64
		outside bool
		pierced bool
		depth   float64
		shop    *toy.Shop
		saw     string
		blade   string
	}{
		{"a disc", 20, false, false, 20, nil, BandSaw, "band saw 1/4 in"},
		{"a small disc", 5, false, false, 20, nil, BandSaw, "band saw 1/2 in"}, // sanded round
		{"a disc by a wide blade: from straight cuts", 20, false, false, 20, both, BandSaw, ""},
		{"a bay", 20, true, false, 20, nil, BandSaw, "band saw 1/4 in"},
		{"a bay, and a wide blade", 20, true, false, 20, both, ScrollSaw, ""},
		{"and no other saw", 20, true, false, 20, band, BandSaw, ""},
		{"a tight bay", 3, true, false, 20, nil, ScrollSaw, "scroll saw no. 7"},
		{"and thick", 3, true, false, 60, nil, BandSaw, "band saw 1/8 in"},
		{"a window", 20, true, true, 15, nil, ScrollSaw, "scroll saw no. 5"},
		{"and no scroll saw", 20, true, true, 15, band, "", ""},
		{"too thick", 20, true, true, 60, nil, "", ""},
	} {
		how := SawnWith(Sawn{Line: outline.Circle(r2.Vec{}, c.radius), Outside: c.outside, Pierced: c.pierced, Depth: c.depth}, c.shop)
		name := ""
		if how.Saw != nil {
			name = how.Saw.Name
		}
		if name != c.saw || how.Blade.Name != c.blade {
			t.Errorf("%s: %q with %q, want %q with %q", c.says, name, how.Blade.Name, c.saw, c.blade)
		}
	}
}

// A round opening is bored where the shop has the bit.
func TestBoredWith(t *testing.T) {
	for _, c := range []struct {
		dia     float64
		pierced bool
		bits    []string
		want    string
	}{
		{15.875, true, nil, "5/8 in"},
		{15.875, true, []string{"metric"}, ""},
		{15.875, false, nil, ""},
		{20, true, []string{"metric"}, "20 mm"},
		{21.3, true, nil, ""},
	} {
		s := Sawn{Line: outline.Circle(r2.Vec{}, c.dia/2), Outside: true, Pierced: c.pierced, Depth: 10}
		if bit, ok := BoredWith(s, &toy.Shop{Bits: c.bits}, measure.MM); ok != (c.want != "") || bit.Name != c.want {
			t.Errorf("%g mm, bits %v: %q, want %q", c.dia, c.bits, bit.Name, c.want)
		}
	}
}

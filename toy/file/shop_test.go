package file_test

import (
	"reflect"
	"strings"
	"testing"

	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file"
)

func shopOf(t *testing.T, name, text string) *toy.Shop {
	t.Helper()
	s, probs := file.ReadShop(source.New(name, "dryfit: 1\nunits: mm\nshop: "+text+"\n"))
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return s
}

// said is a shop without the places of its file.
type said struct {
	bits         string
	band, scroll [3]float64 // blade, kerf, thickest in mm; all -1: there is none
	from         string
}

func saidOf(s *toy.Shop) said {
	mm := func(m *toy.Machine) [3]float64 {
		if m == nil {
			return [3]float64{-1, -1, -1}
		}
		return [3]float64{m.Blade.MM(), m.Kerf.MM(), m.Thickest.MM()}
	}
	return said{strings.Join(s.Bits, " "), mm(s.BandSaw), mm(s.ScrollSaw), s.Source()}
}

// The toy file's word comes first, key by key; who says anything that counts is named.
func TestShopStandsIn(t *testing.T) {
	none := [3]float64{-1, -1, -1}
	for _, c := range []struct {
		toys, own string
		want      said
	}{
		{"{bits: [inch]}", "{bits: [metric]}", said{"inch", none, none, "toy: shop"}},
		{"{bits: [inch]}", "{band-saw: {blade: 6}}", said{"inch", [3]float64{6, 0, 0}, none, "toy and own: shop"}},
		{"{band-saw: {blade: 10}}", "{bits: [inch, metric], band-saw: {blade: 6, kerf: 1, thickest: 150}}", said{"inch metric", [3]float64{10, 1, 150}, none, "toy and own: shop"}},
		{"{scroll-saw: {thickest: 50}}", "{scroll-saw: {thickest: 40}}", said{"", none, [3]float64{0, 0, 50}, "toy: shop"}},
		{"{scroll-saw: {thickest: 50}}", "{scroll-saw: {kerf: 0.4}}", said{"", none, [3]float64{0, 0.4, 50}, "toy and own: shop"}},
	} {
		toys, own := shopOf(t, "toy", c.toys), shopOf(t, "own", c.own)
		before := []said{saidOf(toys), saidOf(own)}
		if got := saidOf(toys.Over(own)); got != c.want {
			t.Errorf("%s over %s: %v, want %v", c.toys, c.own, got, c.want)
		}
		if after := []said{saidOf(toys), saidOf(own)}; !reflect.DeepEqual(before, after) {
			t.Errorf("%s over %s changes them: %v, was %v", c.toys, c.own, after, before)
		}
	}
	own := shopOf(t, "own", "{bits: [inch]}")
	var nobody *toy.Shop
	if nobody.Over(own) != own || own.Over(nil) != own || nobody.Over(nil) != nil {
		t.Error("one shop over none is not that shop")
	}
}

// The block of a shop file is read as that of a toy file, to the last digit.
func TestShopFileIsReadAsTheToyFile(t *testing.T) {
	block := "{bits: [metric], band-saw: {blade: 1/4 in, kerf: 0.5 + 0.3, thickest: 100}, scroll-saw: {blade: 1}}"
	ty, probs := file.Read(source.New("toy.yaml", "dryfit: 1\ntoy: T\nunits: mm\nstock: {b: {wood: beech, form: board, thick: 18}}\nparts: {p: {from: b, blank: [120, 50]}}\nbuild: [{put: p}]\nshop: "+block+"\n"), nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	a, b := saidOf(ty.Shop), saidOf(shopOf(t, toy.FromFile, block))
	if a != b || a.band != [3]float64{6.35, 0.8, 100} {
		t.Errorf("%v, but in a shop file %v", a, b)
	}
}

func FuzzReadShop(f *testing.F) {
	f.Add("dryfit: 1\nunits: mm\nshop: {bits: [inch]}\n")
	f.Add("dryfit: 1\nunits: inch\nshop:\n  band-saw: {blade: 1/4, kerf: 1/32}\n")
	f.Fuzz(func(t *testing.T, text string) {
		s, probs := file.ReadShop(source.New("shop.yaml", text))
		if (s == nil) != (len(probs) > 0) {
			t.Errorf("a shop %v and problems %v", s, probs)
		}
	})
}

// What is wrong on the rack is said once, and at the value.
func TestRackProblems(t *testing.T) {
	const head = "dryfit: 1\nunits: inch\nboards:\n  a: "
	for text, want := range map[string]string{
		"{wood: beech, thick: 3/4, size: [700 mm, 110 ft]}":                                            `shop:4:51: "ft" is not a unit`,
		"{wood: beech, thick: 3/4, size: [-30, 6]}":                                                    "shop:4:39: a board has to be more than nothing",
		"{wood: beech, thick: 3/4, size: [30, 0]}":                                                     "shop:4:43: a board has to be more than nothing",
		"{wood: beech, thick: 3/4, size: [30, 6], flaws: [{at: [1, 1], size: [1, -1]}]}":               "shop:4:78: a flaw has to be more than nothing",
		"{wood: beech, thick: 3/4, size: [31 1/2, 6], flaws: [{at: [40, 2], dia: 1}]}":                 "shop:4:65: this flaw is outside its board (expected a place on it, 0 in to 31 1/2 in along and 0 in to 6 in up)",
		"{wood: beech, thick: 3/4, size: [31 1/2, 6], flaws: [{at: [32, 2], dia: 1}]}":                 "shop:4:65: this flaw is outside",
		"{wood: beech, thick: 3/4, size: [31 1/2, 6], flaws: [{at: [31 3/4, 2], dia: 1}]}":             "",
		"{wood: beech, thick: 3/4, size: [31 1/2, 6], flaws: [{at: [-1, -1], size: [2, 2]}]}":          "",
		"{wood: beech, thick: 3/4, size: [31 1/2, 6], flaws: [{at: [-2, 1], size: [2, 2]}]}":           "shop:4:65: this flaw is outside",
		"{wood: beech, thick: 3/4, outline: [[9, 0], [20, 0], [9, 5]], flaws: [{at: [1, 2], dia: 1}]}": "shop:4:82: this flaw is outside its board (expected a place on it, 9 in to 20 in along and 0 in to 5 in up)",
		"{wood: beech, thick: 3/4, size: [31, 6]}\nclamps: -1":                                         "shop:5:9: clamps cannot be less than 0",
		"{wood: beech, thick: 3/4, size: [31, 6]}\ndowels: {d: {wood: birch, dia: 1/4, length: -36}}":  "shop:5:45: a dowel has to be more than nothing",
		"{wood: beech, thick: 3/4, size: [31, 6]}\ncutting: {handling: -1/8}":                          "shop:5:21: the room for handling cannot be less than nothing",
		"{wood: beech, thick: 3/4, size: [31, 6]}\ncutting: {planing: -1/8}":                           "shop:5:20: what planing takes cannot be less than nothing",
		"{wood: beech, thick: 3/4, size: [31, 6]}\ncutting: {handling: 0, planing: 0}":                 "",
		"{wood: beech, thick: 3/4, size: [31, 6]}\ncutting: {kerf: 0}":                                 "shop:5:17: a kerf has to be more than nothing",
		"{wood: beech, thick: 3/4, size: [31, 6]}\ndowels: {d: {wood: birch, dia: 1/4, length: 0}}":    "shop:5:45: a dowel has to be more than nothing",
		"{wood: beech, thick: 3/4, size: [30, 6], flaws: [{at: [1, 1], size: [0, 1]}]}":                "shop:4:75: a flaw has to be more than nothing",
	} {
		_, probs := file.ReadShop(source.New("shop", head+text+"\n"))
		if want == "" {
			if len(probs) > 0 {
				t.Errorf("%s: %v", text, probs)
			}
			continue
		}
		if len(probs) != 1 || !strings.HasPrefix(probs.Error(), want) {
			t.Errorf("%s: %v, want %s", text, probs, want)
		}
	}
}

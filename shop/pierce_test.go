package shop_test

import (
	"testing"

	"dryfit/measure"
	"dryfit/shop"
	"dryfit/toy"
)

// The bit for the hole that a blade goes through leaves 1 mm to the line (common practice, no
// source): 6 mm in an opening of 8, 3 mm in one of 5, 2 mm in one of 4, none in a narrower one.
// What is sawn in from an edge, or not through, is not pierced.
func TestPierced(t *testing.T) {
	slot := func(wide float64) toy.Cut {
		l := func(x, y float64) toy.Corner {
			return toy.Corner{Point: toy.Point{X: measure.FromMM(x), Y: measure.FromMM(y)}}
		}
		return toy.Cut{Word: "cut-out", Outline: toy.Outline{Corners: []toy.Corner{l(10, 10), l(50, 10), l(50, 10+wide), l(10, 10+wide)}}}
	}
	pierced := func(c toy.Cut, u measure.Unit) float64 {
		_, dia := shop.Pierced(c, &toy.Toy{Units: u})
		return dia
	}
	for wide, want := range map[float64]float64{20: 6, 8: 6, 7.9: 3, 5: 3, 4.9: 2, 4: 2, 3.9: 0} {
		if got := pierced(slot(wide), measure.MM); got != want {
			t.Errorf("a slot of %g mm is pierced with %g mm, want %g", wide, got, want)
		}
	}
	if got := pierced(slot(20), measure.Inch); got != 6.35 {
		t.Errorf("in inches it is pierced with %g mm, want 1/4 in", got)
	}
	in, deep := slot(20), slot(20)
	in.Word, deep.Depth = "cut-in", measure.FromMM(5)
	if pierced(in, measure.MM) != 0 || pierced(deep, measure.MM) != 0 {
		t.Error("a cut-in or a recess is pierced")
	}
}

package shop_test

import (
	"testing"

	"dryfit/measure"
	"dryfit/shop"
	"dryfit/toy"
)

func TestPlaned(t *testing.T) {
	mm := measure.FromMM
	stock := toy.Stock{Wood: "beech", Form: toy.Board, Thick: mm(18)}
	board := func(thick float64, rough bool) toy.Plank {
		return toy.Plank{Wood: "beech", Form: toy.Board, Thick: mm(thick), Rough: rough, Count: 1}
	}
	for _, c := range []struct {
		boards []toy.Plank
		tools  []string
		want   bool
	}{
		{nil, nil, false},
		{[]toy.Plank{board(21, true)}, nil, true},
		{[]toy.Plank{board(21, false)}, []string{"planer"}, true},
		{[]toy.Plank{board(21, false)}, []string{"hand-saw"}, false},
		{[]toy.Plank{board(21, true), board(18.2, false)}, nil, false},
		{[]toy.Plank{board(18, true)}, nil, false}, // too thin once planed
		{[]toy.Plank{board(30, false)}, nil, false},
	} {
		if got := shop.Planed(&toy.Rack{Boards: c.boards, Tools: c.tools}, stock, measure.MM); got != c.want {
			t.Errorf("%v with %v: %v", c.boards, c.tools, got)
		}
	}
	if shop.Planed(nil, stock, measure.MM) {
		t.Error("boards of no rack are planed")
	}
}

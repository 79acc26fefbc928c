package boards

import "testing"

// Plans are compared by what matters first.
func TestBetter(t *testing.T) {
	plan := func(placed int, price, cut, left float64) *Plan {
		b := Board{Left: []Rest{{LengthMM: left, WidthMM: 100}}}
		s := Stock{Placed: placed, BoardsM2: cut, Boards: []Board{b}}
		if price > 0 {
			s.Buy = []Buy{{Count: 1, LengthMM: 900, WidthMM: 100, Price: price}}
		}
		return &Plan{Stocks: []Stock{s}}
	}
	base := plan(10, 20, 0.5, 300)
	for name, c := range map[string]struct {
		p    *Plan
		want bool
	}{
		"the same":                    {plan(10, 20, 0.5, 300), false},
		"more placed, though dearer":  {plan(11, 30, 0.9, 0), true},
		"cheaper, though more is cut": {plan(10, 19, 0.9, 0), true},
		"dearer, though less is cut":  {plan(10, 21, 0.1, 900), false},
		"less is cut":                 {plan(10, 20, 0.4, 0), true},
		"more is left":                {plan(10, 20, 0.5, 301), true},
		"less is left":                {plan(10, 20, 0.5, 299), false},
	} {
		if got := c.p.Better(base); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
	// without a price for each, the area to buy tells
	small, large := plan(10, 0, 0.5, 300), plan(10, 0, 0.5, 300)
	small.Stocks[0].Buy = []Buy{{Count: 2, LengthMM: 100, WidthMM: 100}}
	large.Stocks[0].Buy = []Buy{{Count: 1, LengthMM: 300, WidthMM: 100}}
	if !small.Better(large) || large.Better(small) {
		t.Error("the smaller boards to buy are not better")
	}
}

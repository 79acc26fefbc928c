package chart

import (
	"testing"

	"dryfit/shop/plan"
)

// Two people at hand saws are two rows: no bar lies on another.
func TestTwoSaws(t *testing.T) {
	p := &plan.Plan{Toys: []plan.Toy{{Name: "Tram", Count: 1}}, Hands: []plan.Person{{Name: "ann"}, {Name: "ben"}}, Tasks: []plan.Task{
		{Tool: "hand saw", Hands: []string{"ann"}, Begin: 0, Free: 10, End: 10},
		{Tool: "hand saw", Hands: []string{"ben"}, Begin: 5, Free: 15, End: 15},
		{Tool: "hand saw", Hands: []string{"ann"}, Begin: 10, Free: 12, End: 12},
	}}
	saws := 0
	for _, r := range rows(p)[len(p.Hands):] {
		saws++
		for k := 1; k < len(r.bars); k++ {
			if r.bars[k].from < r.bars[k-1].to {
				t.Errorf("bars lie on each other: %+v", r.bars)
			}
		}
	}
	if saws != 2 {
		t.Errorf("two people at hand saws are %d rows", saws)
	}
}

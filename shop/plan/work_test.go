package plan

import (
	"slices"
	"testing"
)

// Who needs some pieces of a batch waits for all stacks and lots that have some of them, and
// for no others.
func TestFlow(t *testing.T) {
	b := stacked(8, 3) // 3, 3 and 2 pieces
	var f flow
	for k := range b.n {
		f = append(f, stretch{b.upTo(k), b.upTo(k + 1), k})
	}
	for _, c := range []struct {
		from, to int // pieces
		want     []int
	}{{0, 2, []int{0}}, {0, 3, []int{0}}, {2, 4, []int{0, 1}}, {3, 6, []int{1}}, {6, 8, []int{2}}, {0, 8, []int{0, 1, 2}}} {
		if got := f.over(float64(c.from)/8, float64(c.to)/8); !slices.Equal(got, c.want) {
			t.Errorf("pieces %d to %d come from %v, not %v", c.from, c.to, got, c.want)
		}
	}
}

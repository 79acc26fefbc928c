package pattern

import (
	"math"
	"testing"

	"dryfit/geom/r2"
	"dryfit/paper/layout"
)

// The bar: the patterns of each demo toy use at most one page more than the larger
// of two bounds, worked out here from nothing but the sizes of the drawings: their
// area over that of a page, and the most drawings no two of which fit one page.
func TestFewPages(t *testing.T) {
	for name, m := range toys(t) {
		if name != "quay-tram" && name != "tipping-wagon" {
			continue
		}
		for _, paper := range layout.Papers() {
			pages, places, err := pagesOf(m, paper)
			if err != nil {
				t.Fatal(err)
			}
			drawn, err := blocks(m)
			if err != nil {
				t.Fatal(err)
			}
			// The room for drawings: all the paper but its margins, which is more than
			// there is, so that the bounds are no higher than the truth.
			room := r2.Vec{X: paper.W - paper.Margin.Left - paper.Margin.Right, Y: paper.H - paper.Margin.Top - paper.Margin.Bottom}
			area := 0.0
			var sizes []r2.Vec
			for _, d := range drawn {
				area += d.Size.X * d.Size.Y
				sizes = append(sizes, d.Size)
			}
			least := max(int(math.Ceil(area/(room.X*room.Y))), alone(sizes, room))
			if len(pages) > least+1 {
				t.Errorf("%s on %s: %d pages, at least %d are needed", name, paper.Name, len(pages), least)
			}
			t.Logf("%s on %s: %d pages, bound %d, %d places", name, paper.Name, len(pages), least, len(places))
		}
	}
}

// alone returns the size of the largest set of drawings no two of which fit one
// page, either way round, by trying all sets.
func alone(sizes []r2.Vec, room r2.Vec) int {
	together := func(a, b r2.Vec) bool {
		for _, p := range []r2.Vec{a, {X: a.Y, Y: a.X}} {
			for _, q := range []r2.Vec{b, {X: b.Y, Y: b.X}} {
				if p.X+q.X <= room.X && math.Max(p.Y, q.Y) <= room.Y || p.Y+q.Y <= room.Y && math.Max(p.X, q.X) <= room.X {
					return true
				}
			}
		}
		return false
	}
	var most func(from int, set []int) int
	most = func(from int, set []int) int {
		best := len(set)
	next:
		for i := from; i < len(sizes); i++ {
			for _, j := range set {
				if together(sizes[i], sizes[j]) {
					continue next
				}
			}
			best = max(best, most(i+1, append(set[:len(set):len(set)], i)))
		}
		return best
	}
	return most(0, nil)
}

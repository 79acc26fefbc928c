package layout

import (
	"cmp"
	"math"
	"math/rand"
	"slices"

	"dryfit/geom/r2"
)

// Fewest pages come first. Of packings with as many pages the one is taken that a
// reader likes best: blocks in the order in which they were given, lettering above
// its drawing, and what is left over in one place. Blocks are turned only where
// that saves a page.

// budget is how much a search may do: rectangles looked at, some ten milliseconds.
const budget = 250_000

// atLeast is how many orders are tried whatever they cost.
const atLeast = 2 * (len(sizes) + 1)

// pack finds a spot for every cell and the number of pages. Pages are numbered by
// the first cell, in the order given, that lies on them. With roll set, the body is
// as long as a page can be, and what counts is how much of it is used.
func pack(cells []cell, body r2.Vec, roll bool) ([]spot, int) {
	if len(cells) == 0 {
		return nil, 0
	}
	best := search(cells, body, roll, false)
	if !roll && best.pages > areaBound(cells, body) {
		if turned := search(cells, body, roll, true); turned.pages < best.pages {
			best = turned
		}
	}
	return best.spots, best.pages
}

// areaBound is the least number of pages that the cells' area could do with.
func areaBound(cells []cell, body r2.Vec) int {
	sum := 0.0
	for _, c := range cells {
		least := math.Inf(1)
		for _, s := range c.shapes {
			least = math.Min(least, float64((s.size.X+gap)*(s.size.Y+gap)))
		}
		sum += least
	}
	return int(math.Ceil(sum/float64((body.X+gap)*(body.Y+gap)) - 1e-9))
}

// packing is a way to lay the cells out, with what it costs in falling weight.
type packing struct {
	spots []spot
	pages int
	cost  [3]float64
}

func search(cells []cell, body r2.Vec, roll, turns bool) packing {
	p := &packer{cells: cells, body: body, turns: turns}
	dice := rand.New(rand.NewSource(1))
	var best packing
	for n := 0; n < atLeast || p.work < budget; n++ {
		order := p.orderOf(n/int(rules), dice)
		spots, pages := p.inOrder(order, rule(n%int(rules)))
		got := packing{spots, pages, [3]float64{}}
		got.number()
		got.price(cells, roll)
		if best.spots == nil || slices.Compare(got.cost[:], best.cost[:]) < 0 {
			best = got
		}
		if best.cost[1] == 0 && !roll && best.pages <= areaBound(cells, body) {
			break // nothing is left to mend
		}
	}
	return best
}

// number counts the pages by the first cell on them.
func (g *packing) number() {
	number := make([]int, g.pages)
	next := 0
	for i := range g.spots {
		if p := g.spots[i].page; number[p] == 0 {
			next++
			number[p] = next
		}
	}
	for i := range g.spots {
		g.spots[i].page = number[g.spots[i].page] - 1
	}
}

// price sets the cost: pages, or the length of paper off a roll; what a reader does
// not like; and how far down the last page is used.
func (g *packing) price(cells []cell, roll bool) {
	used, dislike := make([]float64, g.pages), 0.0
	for i, s := range g.spots {
		used[s.page] = math.Max(used[s.page], s.y+s.h)
		dislike += cells[i].shapes[s.shape].ugly
		for j := range i { // pairs in the wrong order: on an earlier page or, by half, higher up
			switch q := g.spots[j]; {
			case s.page < q.page:
				dislike += 4
			case s.page == q.page && cmp.Or(cmp.Compare(s.y, q.y), cmp.Compare(s.x, q.x)) < 0:
				dislike++
			}
		}
	}
	g.cost = [3]float64{float64(g.pages), dislike, used[g.pages-1]}
	if roll {
		g.cost[0] += used[g.pages-1] / longest
	}
}

// used returns how far down the body of a page is used.
func used(spots []spot, page int) (far float64) {
	for _, s := range spots {
		if s.page == page {
			far = math.Max(far, s.y+s.h)
		}
	}
	return far
}

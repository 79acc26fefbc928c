package layout

import (
	"cmp"
	"math"
	"math/rand"
	"slices"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// Fewest pages come first. Of packings with as many pages the one is taken that a
// reader likes best: blocks in the order in which they were given, lettering above
// its drawing, and what is left over in one place. Blocks are turned only where
// that saves a page.
//
// The search changes a little of a plan at random from a fixed seed and goes on from
// the new one if it is not much worse than the best, less and less so as its work is
// used up (threshold accepting; Dueck and Scheuer, J. Comput. Phys. 90, 1990, from
// memory).

// budget is how much a search may do: rectangles looked at, about a tenth of a second.
const budget = 1_500_000

// pack finds a spot for every cell and the number of pages. Pages are numbered by
// the first cell, in the order given, that lies on them. With roll set, the body is
// as long as a page can be, and what counts is how much of it is used.
func pack(cells []cell, body r2.Vec, roll bool) ([]spot, int, error) {
	if len(cells) == 0 {
		return nil, 0, nil
	}
	least, turns := max(areaBound(cells, body), apartBound(cells, body)), false
	best, err := search(cells, body, roll, false, least)
	if err != nil {
		return nil, 0, err
	}
	again := func(turns bool, least int, better func(packing) bool) bool {
		other, e := search(cells, body, roll, turns, least)
		if e != nil {
			err = e
			return false
		}
		if better(other) {
			best = other
			return true
		}
		return false
	}
	if !roll && best.pages > least {
		turns = again(true, least, func(p packing) bool { return p.pages < best.pages })
	}
	if !roll && best.pages > least { // so many it must be: now for the reader
		again(turns, best.pages, func(p packing) bool { return p.pages == best.pages })
	}
	return best.spots, best.pages, err
}

// apartBound counts cells of which no two have room on one page: they lie beside each
// other or one above the other, and neither fits.
func apartBound(cells []cell, body r2.Vec) int {
	var large []r2.Vec // the least width and the least height of each
	for _, c := range cells {
		v := c.shapes[0].size
		for _, s := range c.shapes[1:] {
			v = r2.Vec{X: math.Min(v.X, s.size.X), Y: math.Min(v.Y, s.size.Y)}
		}
		large = append(large, v)
	}
	slices.SortStableFunc(large, func(a, b r2.Vec) int { return cmp.Compare(math.Min(b.X, b.Y), math.Min(a.X, a.Y)) })
	var apart []r2.Vec
	for _, v := range large {
		if !slices.ContainsFunc(apart, func(o r2.Vec) bool {
			return v.X+o.X+gap <= body.X+tol.Page || v.Y+o.Y+gap <= body.Y+tol.Page
		}) {
			apart = append(apart, v)
		}
	}
	return len(apart)
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

// plan is what a packing is made from: cells with a large key come first, each in
// the shape that is picked, or in the best that fits if that is -1.
type plan struct {
	key  []float64
	pick []int
	by   rule
}

// packing is a way to lay the cells out, and what it costs.
type packing struct {
	spots []spot
	pages int
	cost  float64
	fine  bool // as few pages as can be, and nothing to dislike
}

// search looks for a good packing on few pages; with as many as least of them, for
// what a reader likes.
func search(cells []cell, body r2.Vec, roll, turns bool, least int) (packing, error) {
	best, err := searchFrom(1, cells, body, roll, turns, least)
	if err == nil && best.pages > least && !roll && len(cells) > 1 { // another start may find what the first has missed
		if again, err := searchFrom(2, cells, body, roll, turns, least); err == nil && again.pages < best.pages {
			return again, nil
		}
	}
	return best, err
}

func searchFrom(seed int64, cells []cell, body r2.Vec, roll, turns bool, least int) (packing, error) {
	p := &packer{cells: cells, body: body, turns: turns}
	var best packing
	var from plan
	var at float64 // the cost of from
	since := 0     // tries that found nothing better
	var failed error
	try := func(pl plan, worse float64) {
		spots, pages, err := p.inOrder(pl)
		if err != nil {
			failed = err
			return
		}
		got := packing{spots: spots, pages: pages}
		got.number()
		got.price(cells, roll, least)
		since++
		if best.spots == nil || got.cost < best.cost {
			best, since = got, 0
		}
		if from.key == nil || got.cost <= best.cost+worse || got.cost <= at {
			from, at = pl, got.cost
		}
	}
	for n := range len(sizes) + 1 {
		for by := range rules {
			try(p.bySize(n, by), 0)
		}
	}
	if failed != nil || len(cells) == 1 {
		return best, failed
	}
	dice := rand.New(rand.NewSource(seed))
	for p.work < budget && !best.fine && failed == nil {
		if best.pages == least && !roll && since > enough {
			break
		}
		worse := slack * (1 - float64(p.work)/budget)
		if best.pages > least && !roll {
			worse *= costArea * 2000 // the area of a small block
		}
		try(p.changed(from, dice), worse)
	}
	return best, failed
}

const (
	enough = 300 // tries without a better one after which an order is good enough to read
	slack  = 2.0 // how much worse a plan to go on from may be at first
)

// bySize orders the cells by one of sizes, or as they came.
func (p *packer) bySize(n int, by rule) plan {
	pl := plan{key: make([]float64, len(p.cells)), pick: make([]int, len(p.cells)), by: by}
	order := make([]int, len(p.cells))
	for i, c := range p.cells {
		pl.pick[i], order[i] = -1, i
		if n < len(sizes) {
			pl.key[i] = sizes[n](c.shapes[0].size)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(pl.key[b], pl.key[a]) })
	for place, i := range order {
		pl.key[i] = float64(len(order) - place)
	}
	return pl
}

// changed returns a plan with a few things changed.
func (p *packer) changed(pl plan, dice *rand.Rand) plan {
	out := plan{slices.Clone(pl.key), slices.Clone(pl.pick), pl.by}
	n := len(p.cells)
	for range 1 + dice.Intn(3) {
		switch i := dice.Intn(n); dice.Intn(8) {
		case 0, 1, 2: // two change places
			j := dice.Intn(n)
			out.key[i], out.key[j] = out.key[j], out.key[i]
		case 3: // one moves anywhere
			out.key[i] = dice.Float64() * float64(n+1)
		case 4, 5: // one takes another shape
			out.pick[i] = dice.Intn(len(p.cells[i].shapes))
		case 6:
			out.pick[i] = -1
		case 7:
			out.by = rule(dice.Intn(int(rules)))
		}
	}
	return out
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

// The weights of a cost: a page is worth more than anything else; while there are
// more pages than the area asks for, so is emptying one of them.
const (
	costPage  = 1e9
	costArea  = 10.0 // per mm² on the emptiest page
	costOrder = 1.0
	sparse    = 0.25 // a page that is used less than this, against the fullest, looks forgotten
)

// price sets the cost: pages, or the length of paper off a roll; and what a reader
// does not like.
func (g *packing) price(cells []cell, roll bool, least int) {
	far, area, dislike := make([]float64, g.pages), make([]float64, g.pages), 0.0
	for i, s := range g.spots {
		far[s.page] = math.Max(far[s.page], s.y+s.h)
		area[s.page] += float64(s.w * s.h)
		dislike += cells[i].shapes[s.shape].ugly
		for j := range i { // pairs in the wrong order: on an earlier page, or higher up
			switch q := g.spots[j]; {
			case s.page < q.page:
				dislike += 4 * costOrder
			case s.page == q.page && cmp.Or(cmp.Compare(s.y, q.y), cmp.Compare(s.x, q.x)) < 0:
				dislike += costOrder
			}
		}
	}
	g.fine = dislike == 0 && g.pages <= least && !roll
	g.cost = float64(costPage*float64(g.pages)) + dislike + far[g.pages-1]/100
	for _, a := range area {
		if len(cells) > 1 && a < sparse*slices.Max(area) {
			g.cost += 20 * costOrder
		}
	}
	switch {
	case roll:
		g.cost += float64(far[g.pages-1] * costPage / longest)
	case g.pages > least:
		g.cost += float64(costArea * slices.Min(area))
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

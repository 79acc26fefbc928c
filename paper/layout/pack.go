package layout

import (
	"cmp"
	"math"
	"slices"

	"dryfit/geom/r2"
)

// Packing keeps for each page the list of largest free rectangles, puts a cell
// where the shorter of the two left-over sides is smallest, and opens a page
// only when no page has room. This is done in several orders of the cells, and
// the order that needs the fewest pages is taken.
// Source: Jylänki, A Thousand Ways to Pack the Bin (2010), the rule MAXRECTS-BSSF,
// from memory.

const gap = 6 // between cells, mm: room for scissors

// spot is where a cell lies: its upper left corner from the body's upper left
// corner, x to the right and y down.
type spot struct {
	page       int
	x, y, w, h float64
	turned     bool
}

// rect is a free rectangle, y down.
type rect struct{ x, y, w, h float64 }

func (r rect) holds(s rect) bool {
	return s.x >= r.x && s.y >= r.y && s.x+s.w <= r.x+r.w && s.y+s.h <= r.y+r.h
}

func (r rect) meets(s rect) bool {
	return s.x < r.x+r.w && r.x < s.x+s.w && s.y < r.y+r.h && r.y < s.y+s.h
}

// pack finds a spot for every cell and the number of pages. Pages are numbered
// by the first cell, in the order given, that lies on them.
func pack(cells []cell, body r2.Vec) ([]spot, int) {
	var best []spot
	fewest := 0
	for _, size := range []func(r2.Vec) float64{
		func(v r2.Vec) float64 { return v.Y },
		func(v r2.Vec) float64 { return v.X * v.Y },
		func(v r2.Vec) float64 { return math.Max(v.X, v.Y) },
		func(v r2.Vec) float64 { return v.X },
	} {
		order := make([]int, len(cells))
		for i := range order {
			order[i] = i
		}
		slices.SortStableFunc(order, func(a, b int) int {
			return cmp.Compare(size(cells[b].shapes[0].size), size(cells[a].shapes[0].size))
		})
		spots, pages := packInOrder(cells, order, body)
		if best == nil || pages < fewest {
			best, fewest = spots, pages
		}
	}
	number := make([]int, fewest)
	next := 0
	for i := range best {
		if p := best[i].page; number[p] == 0 {
			next++
			number[p] = next
		}
	}
	for i := range best {
		best[i].page = number[best[i].page] - 1
	}
	return best, fewest
}

func packInOrder(cells []cell, order []int, body r2.Vec) ([]spot, int) {
	spots := make([]spot, len(cells))
	var free [][]rect // of each page; cells and pages are both a gap larger, right and below
	for _, i := range order {
		placed := false
		for p := 0; !placed; p++ {
			if p == len(free) {
				free = append(free, []rect{{0, 0, body.X + gap, body.Y + gap}})
			}
			if spots[i], placed = bestSpot(free[p], cells[i].shapes); placed {
				s := &spots[i]
				s.page = p
				free[p] = cut(free[p], rect{s.x, s.y, s.w + gap, s.h + gap})
			}
		}
	}
	return spots, len(free)
}

// bestSpot returns the spot in the free rectangles with the smallest left-over
// side; ties go to the smaller other side, then upwards, then to the left, then
// to the shape that comes first.
func bestSpot(free []rect, shapes []shape) (best spot, found bool) {
	var short, long float64
	for _, sh := range shapes {
		w, h := sh.size.X+gap, sh.size.Y+gap
		for _, f := range free {
			if w > f.w || h > f.h {
				continue
			}
			s, l := math.Min(f.w-w, f.h-h), math.Max(f.w-w, f.h-h)
			if found && cmp.Or(cmp.Compare(s, short), cmp.Compare(l, long), cmp.Compare(f.y, best.y), cmp.Compare(f.x, best.x)) >= 0 {
				continue
			}
			best, found = spot{x: f.x, y: f.y, w: sh.size.X, h: sh.size.Y, turned: sh.turned}, true
			short, long = s, l
		}
	}
	return best, found
}

// cut takes used out of the free rectangles and drops those that lie inside
// others.
func cut(free []rect, used rect) []rect {
	var parts []rect
	for _, f := range free {
		if !f.meets(used) {
			parts = append(parts, f)
			continue
		}
		for _, p := range []rect{
			{f.x, f.y, used.x - f.x, f.h},
			{used.x + used.w, f.y, f.x + f.w - used.x - used.w, f.h},
			{f.x, f.y, f.w, used.y - f.y},
			{f.x, used.y + used.h, f.w, f.y + f.h - used.y - used.h},
		} {
			if p.w > gap && p.h > gap {
				parts = append(parts, p)
			}
		}
	}
	var kept []rect
	for i, p := range parts {
		inside := false
		for j, q := range parts {
			if i != j && q.holds(p) && (!p.holds(q) || j < i) {
				inside = true
				break
			}
		}
		if !inside {
			kept = append(kept, p)
		}
	}
	return kept
}

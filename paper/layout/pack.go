package layout

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"dryfit/geom/r2"
)

// Packing keeps for each page the list of largest free rectangles, puts a cell
// into one of them by a rule, and opens a page only when no page has room. This is
// done in several orders of the cells, and the best is taken (search.go).
// Source: Jylänki, A Thousand Ways to Pack the Bin (2010), the rules MAXRECTS-BSSF
// and MAXRECTS-BL, from memory.

const gap = 5 // between cells, mm: room for scissors

// spot is where a cell lies: its upper left corner from the body's upper left
// corner, x to the right and y down.
type spot struct {
	page       int
	x, y, w, h float64
	shape      int
}

// rect is a free rectangle, y down.
type rect struct{ x, y, w, h float64 }

func (r rect) holds(s rect) bool {
	return s.x >= r.x && s.y >= r.y && s.x+s.w <= r.x+r.w && s.y+s.h <= r.y+r.h
}

func (r rect) meets(s rect) bool {
	return s.x < r.x+r.w && r.x < s.x+s.w && s.y < r.y+r.h && r.y < s.y+s.h
}

// rule says which of two spots is better by what they leave.
type rule int

const (
	shortSide rule = iota // the shorter of the left-over sides is small
	upperLeft             // it ends high up, then it lies far to the left
	rules
)

// packer puts cells on pages, and counts its work.
type packer struct {
	cells []cell
	body  r2.Vec
	turns bool // shapes that are turned may be used though there are others
	work  int  // rectangles looked at so far
}

// inOrder places the cells as planned; every page takes what it has room for. It fails
// where a cell is larger than a page.
func (p *packer) inOrder(pl plan) ([]spot, int, error) {
	order := make([]int, len(p.cells))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(pl.key[b], pl.key[a]) })
	spots := make([]spot, len(p.cells))
	var free [][]rect // of each page; cells and pages are both a gap larger, right and below
	for _, i := range order {
		placed := false
		for n := 0; !placed; n++ {
			fresh := n == len(free)
			if fresh {
				free = append(free, []rect{{0, 0, p.body.X + gap, p.body.Y + gap}})
			}
			if spots[i], placed = p.best(free[n], p.cells[i].shapes, pl.pick[i], pl.by); placed {
				s := &spots[i]
				s.page = n
				free[n] = p.cut(free[n], rect{s.x, s.y, s.w + gap, s.h + gap})
			} else if fresh {
				return nil, 0, errTooLarge{i}
			}
		}
	}
	return spots, len(free), nil
}

// errTooLarge names the cell that no page has room for.
type errTooLarge struct{ cell int }

func (e errTooLarge) Error() string { return fmt.Sprintf("cell %d is larger than a page", e.cell) }

// best returns the best spot in the free rectangles; ties go upwards, then to the
// left, then to the shape that comes first.
func (p *packer) best(free []rect, shapes []shape, pick int, by rule) (best spot, found bool) {
	var first, second float64
	if pick >= 0 && shapes[pick].turned && !p.turns && !shapes[0].turned {
		pick = -1
	}
	for k, sh := range shapes {
		if sh.turned && !p.turns && !shapes[0].turned {
			continue
		}
		if pick >= 0 && k != pick {
			continue
		}
		w, h := sh.size.X+gap, sh.size.Y+gap
		p.work += len(free)
		for _, f := range free {
			if w > f.w || h > f.h {
				continue
			}
			a, b := math.Min(f.w-w, f.h-h)+sh.ugly, math.Max(f.w-w, f.h-h)
			if by == upperLeft {
				a, b = f.y+h+sh.ugly, f.x
			}
			if found && cmp.Or(cmp.Compare(a, first), cmp.Compare(b, second), cmp.Compare(f.y, best.y), cmp.Compare(f.x, best.x)) >= 0 {
				continue
			}
			best, found = spot{x: f.x, y: f.y, w: sh.size.X, h: sh.size.Y, shape: k}, true
			first, second = a, b
		}
	}
	return best, found
}

// cut takes used out of the free rectangles and drops those that lie inside
// others.
func (p *packer) cut(free []rect, used rect) []rect {
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
	p.work += len(parts) * len(parts) / 4
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

// sizes are what cells are ordered by, large first.
var sizes = [...]func(r2.Vec) float64{
	func(v r2.Vec) float64 { return v.Y },
	func(v r2.Vec) float64 { return float64(v.X * v.Y) },
	func(v r2.Vec) float64 { return math.Max(v.X, v.Y) },
	func(v r2.Vec) float64 { return v.X },
}

package nest

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"sort"

	"dryfit/geom/r2"
)

// Boards lays all items on as few and cheap boards as it can: those whose costs sum to
// least. What does not fit on all of them is left. Value is the sum of the costs.
func Boards(ctx context.Context, p Problem, e Effort) (Layout, float64, error) {
	g, err := newGround(&p)
	if err != nil {
		return Layout{}, 0, err
	}
	best, err := e.search(func(l Layout, _ float64) error { return p.Check(l, g.near()) }, func(seed uint64, tell func(found)) found {
		s := &stacker{y: newYard(g, seed)}
		s.start(ctx)
		tell(s.found())
		for round := 0; !e.ends(ctx, round) && s.tries(); round++ {
			if s.round(ctx, e.Lines) {
				tell(s.found())
			}
			if e.Lines > 0 && s.y.work > e.Lines {
				break
			}
		}
		s.tidy()
		return s.found()
	})
	return best.layout, best.value, err
}

func (s *stacker) found() found {
	return found{layout: s.y.g.layout(s.best), left: s.left, value: s.cost}
}

// A stacker is the search for the fewest and cheapest boards.
type stacker struct {
	y     *yard
	best  stand
	used  []bool // boards of the best layout
	cost  float64
	left  int    // pieces without a place
	plans []plan // sets of boards to try, the cheapest first
	tired int    // how often each of them was tried
}

// A plan is to do with other boards than those used: without one, and with another; none
// is -1, and with all of them if all.
type plan struct {
	without, with int
	all           bool
	cost          float64
}

// set returns which boards a plan uses.
func (s *stacker) set(p plan) []bool {
	set := slices.Clone(s.used)
	for b := range set {
		set[b] = p.all || b == p.with || set[b] && b != p.without
	}
	return set
}

// start lays the pieces one after the other, the largest first, on the first board that has
// room for them, and takes a new board, the cheapest that takes the piece, when none has.
// Once the context ends it lays no more. Of boards that are alike and empty it tries one.
func (s *stacker) start(ctx context.Context) {
	y := s.y
	order := y.cleared()
	boards := make([]int32, len(y.room))
	for b := range boards {
		boards[b] = int32(b)
	}
	sort.SliceStable(boards, func(a, b int) bool { return s.boardCost(boards[a]) < s.boardCost(boards[b]) })
	open := 0
	tried := make([]int, len(boards)) // by the first alike: the piece that it was tried for
	for n, i := range order {
		if ctx.Err() != nil {
			break
		}
		placed := false
		for b := 0; b < open && !placed; b++ {
			placed = s.lay(i, boards[b])
		}
		for b := open; b < len(boards) && !placed; b++ {
			if like := y.g.alike[boards[b]]; tried[like] == n+1 {
				continue
			} else {
				tried[like] = n + 1
			}
			if placed = s.lay(i, boards[b]); placed {
				taken := boards[b]
				copy(boards[open+1:b+1], boards[open:b])
				boards[open] = taken
				open++
			}
		}
	}
	s.keep()
}

func (s *stacker) boardCost(b int32) float64 { return s.y.g.p.Boards[b].Cost }

// lay puts a piece on a board where it is free, as low and left as lines through some
// places show, and tells whether it could.
func (s *stacker) lay(i int, b int32) bool {
	y := s.y
	best, at := math.Inf(1), spot{}
	var bk int32
	item := y.g.item[i]
	for k := int32(y.g.first[item]); k < int32(y.g.first[item+1]); k++ {
		room, ok := y.fits(k, b)
		if !ok {
			continue
		}
		for t := 0; t < startLines; t++ {
			from := r2.Vec{X: room.x0, Y: room.y0 + float64(y.r.Float64()*(room.y1-room.y0))}
			if t == 0 {
				from.Y = room.y0
			} else if t%2 == 0 {
				from.Y = math.Min(math.Max(y.beside(i, k, b, from).Y, room.y0), room.y1)
			}
			c, ok := y.along(i, k, b, from, r2.Vec{X: 1}, 0)
			if !ok {
				continue
			}
			box := y.g.kinds[k].box
			if v := c.at.X + box.Max.X + float64(lowness*(c.at.Y+box.Max.Y)); v < best {
				best, at, bk = v, c, k
			}
		}
	}
	if math.IsInf(best, 1) {
		return false
	}
	y.put(i, bk, b, at.at)
	return true
}

// lowness is how much lying low counts against lying left: enough to settle ties.
const lowness = 0.01

// keep takes what lies there as the best.
func (s *stacker) keep() {
	y := s.y
	s.best = y.stand()
	s.used, s.cost, s.left = make([]bool, len(y.room)), 0, 0
	for _, b := range y.on {
		if b < 0 {
			s.left++
		} else if !s.used[b] {
			s.used[b] = true
		}
	}
	for b, used := range s.used {
		if used {
			s.cost += s.boardCost(int32(b))
		}
	}
	s.plan()
}

// plan lists what sets of boards to try next: all boards while pieces are left; else each
// used board given up, or changed for a cheaper one, where the rest is large enough. Of
// boards that are alike and not used one is as good as the other.
func (s *stacker) plan() {
	s.plans, s.tired = s.plans[:0], 0
	g := s.y.g
	need := 0.0
	for _, i := range g.item {
		need += g.kinds[g.first[i]].area
	}
	room, all := 0.0, 0.0
	var others []int
	seen := make([]bool, len(s.used))
	for b, in := range s.used {
		all += g.free[b]
		if in {
			room += g.free[b]
		} else if like := g.alike[b]; !seen[like] {
			seen[like] = true
			others = append(others, b)
		}
	}
	if s.left > 0 {
		if all >= need {
			s.plans = append(s.plans, plan{all: true})
		}
		return
	}
	for b, in := range s.used {
		if !in {
			continue
		}
		less, cost := room-g.free[b], s.cost-s.boardCost(int32(b))
		if less >= need {
			s.plans = append(s.plans, plan{without: b, with: -1, cost: cost})
		}
		for _, c := range others {
			if more := s.boardCost(int32(c)); more < s.boardCost(int32(b)) && less+g.free[c] >= need {
				s.plans = append(s.plans, plan{without: b, with: c, cost: cost + more})
			}
		}
	}
	slices.SortStableFunc(s.plans, func(a, b plan) int { return cmp.Compare(a.cost, b.cost) })
}

// tries tells whether anything better may be found.
func (s *stacker) tries() bool { return len(s.plans) > 0 }

// round tries the next set of boards.
func (s *stacker) round(ctx context.Context, lines int) bool {
	y := s.y
	set := s.set(s.plans[s.tired%len(s.plans)])
	s.tired++
	y.back(s.best)
	for b := range y.room {
		y.room[b] = y.g.boards[b]
		if !set[b] {
			y.room[b] = noBox()
		}
	}
	for i := range y.on {
		if b := y.on[i]; b >= 0 && set[b] {
			continue
		}
		y.on[i] = -1
	}
	for i := range y.on {
		if y.on[i] < 0 {
			y.measure(i)
		}
	}
	for i := range y.on {
		if y.on[i] < 0 && !s.drop(i) {
			return false
		}
	}
	y.even()
	stop := func() bool { return ctx.Err() != nil || lines > 0 && y.work > lines }
	for k := 0; k < 1+s.tired/len(s.plans) && !stop(); k++ {
		if k > 0 {
			y.kick()
			y.even()
		}
		if y.loosen(patience, stop) {
			s.keep()
			return true
		}
	}
	return false
}

// drop puts a piece anywhere on a board that it fits on.
func (s *stacker) drop(i int) bool {
	y := s.y
	item := y.g.item[i]
	for t := 0; t < 200; t++ {
		k := int32(y.g.first[item] + y.r.IntN(y.g.first[item+1]-y.g.first[item]))
		b := y.someBoard()
		if room, ok := y.fits(k, b); ok {
			y.put(i, k, b, r2.Vec{X: room.x0 + float64(y.r.Float64()*(room.x1-room.x0)), Y: room.y0 + float64(y.r.Float64()*(room.y1-room.y0))})
			return true
		}
	}
	return false
}

// tidy pushes all pieces down and left as far as they go, so that what is left of each
// board is in one place and the first pieces lie against its edges.
func (s *stacker) tidy() {
	y := s.y
	copy(y.room, y.g.boards)
	y.back(s.best)
	order := make([]int, 0, y.pieces())
	for i := range y.on {
		if y.on[i] >= 0 {
			order = append(order, i)
		}
	}
	for pass := 0; pass < tidyPasses; pass++ {
		sort.SliceStable(order, func(a, b int) bool {
			p, q := y.at[order[a]], y.at[order[b]]
			return p.X+p.Y < q.X+q.Y
		})
		moved := false
		for _, i := range order {
			for _, dir := range [2]r2.Vec{{X: 1}, {Y: 1}} {
				k, b := y.kind[i], y.on[i]
				room, ok := y.fits(k, b)
				if !ok {
					continue
				}
				from := y.at[i]
				if dir.X > 0 {
					from.X = room.x0
				} else {
					from.Y = room.y0
				}
				c, ok := y.along(i, k, b, from, dir, 0)
				if ok && c.at.X+c.at.Y < y.at[i].X+y.at[i].Y-float64(tidyLeast*math.Sqrt(y.g.kinds[k].area)) {
					y.put(i, k, b, c.at)
					moved = true
				}
			}
		}
		if !moved {
			break
		}
	}
	s.best = y.stand()
}

const (
	tidyPasses = 20
	tidyLeast  = 1e-4 // of its size: a shorter push is not worth it
)

// newGround makes a problem ready for boards.
func newGround(p *Problem) (*ground, error) {
	if err := p.usable(); err != nil {
		return nil, err
	}
	if len(p.Boards) == 0 {
		return nil, fmt.Errorf("there is no board")
	}
	kinds, first, err := kindsOf(p)
	if err != nil {
		return nil, err
	}
	g := &ground{p: p, kinds: kinds, first: first}
	g.count()
	for _, b := range p.Boards {
		off, err := b.outside()
		if err != nil {
			return nil, fmt.Errorf("board %s: %w", b.Name, err)
		}
		for k := range kinds {
			g.off = append(g.off, clashOf(kinds[k].parts, off, p.rim(kinds[k].item)))
		}
		g.boards = append(g.boards, boxOf(b.Shape.Outer).grow(-p.Rim))
		g.free = append(g.free, b.Shape.Area())
		g.alike = append(g.alike, slices.IndexFunc(p.Boards, b.alike))
	}
	g.tables()
	return g, nil
}

// alike tells whether two boards are as good as each other.
func (b Board) alike(c Board) bool {
	return b.Cost == c.Cost && slices.Equal(b.Shape.Outer, c.Shape.Outer) && slices.EqualFunc(b.Shape.Holes, c.Shape.Holes, slices.Equal)
}

// kick changes over two pieces of like size, each of which goes where the other lies.
func (y *yard) kick() {
	n := y.pieces()
	for t := 0; t < 20; t++ {
		i, j := y.r.IntN(n), y.r.IntN(n)
		a, b := &y.g.kinds[y.kind[i]], &y.g.kinds[y.kind[j]]
		if a.item == b.item || math.Max(a.area, b.area) > alike*math.Min(a.area, b.area) {
			continue
		}
		_, there := y.fits(y.kind[i], y.on[j])
		_, here := y.fits(y.kind[j], y.on[i])
		if !there || !here {
			continue
		}
		y.at[i], y.at[j] = y.at[j], y.at[i]
		y.on[i], y.on[j] = y.on[j], y.on[i]
		for _, q := range [2]int{i, j} {
			y.inside(q)
			y.measure(q)
		}
		if y.r.IntN(3) == 0 {
			continue
		}
		return
	}
}

const alike = 3 // pieces change places whose areas differ by no more than this

package boards

import (
	"context"
	"fmt"
	"math"
	"slices"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/shop/nest"
)

// A searcher looks for the cheapest boards that take all pieces of a problem, and for a
// layout on them that can be followed. Plain rows give a first answer. Sets of boards that
// would be cheaper are tried with rows and then with the full search. Where rows do on the boards that
// are found, rows it is.
type searcher struct {
	ctx   context.Context
	p     *nest.Problem
	dia   []float64 // of the items that are rounds
	e     Effort
	alike [][]int // boards that are
	sold  int     // the first board that is not of the rack
	best  nest.Layout
	rows  bool // some boards are so full that pieces were laid there in rows alone
	err   error
}

const (
	mostSets     = 4096       // of boards that are looked at; beyond, only the search over all boards
	setTries     = 12         // of them with the full search, in a round
	fewBoards    = 12         // of so many every set may be worth that
	neverFull    = 0.92       // of their area: more than this is never filled by pieces and their gaps
	mostSearched = 400        // pieces, for the full search
	mostRounds   = 30         // the same, where all of them are rounds
	mostOnOne    = 80         // the same, for one board by itself
	moreAtOnce   = 3          // of a kind, beside what is on it: many more than it can take lead the search astray
	lineWork     = 15_000_000 // corners looked at by a search
	pushTries    = 5          // of pushing the pieces of a board together
	pushRounds   = 3
	mostPushed   = 3    // boards of a stock, the emptiest: what is left of those is worth having in one piece
	worthPush    = 0.85 // a board that is used more is left as it is
	mostTrimmed  = 4    // boards of a stock, the emptiest, that are tried to do without
)

// searcher makes a search for a layout on a bench.
func (b *bench) searcher(ctx context.Context, e Effort) *searcher {
	s := &searcher{ctx: ctx, p: &b.p, dia: b.dia, e: e, sold: b.sold}
	for i, x := range b.p.Boards {
		k := slices.IndexFunc(s.alike, func(list []int) bool {
			y := b.p.Boards[list[0]]
			same := func(a, b []r2.Vec) bool { return slices.Equal(a, b) }
			return x.Cost == y.Cost && same(x.Shape.Outer, y.Shape.Outer) && slices.EqualFunc(x.Shape.Holes, y.Shape.Holes, same)
		})
		if k < 0 {
			k, s.alike = len(s.alike), append(s.alike, nil)
		}
		s.alike[k] = append(s.alike[k], i)
	}
	return s
}

// lookFor returns the best layout found; what does not go on all boards together is left. It
// notes how that was tried.
func (b *bench) lookFor(ctx context.Context, e Effort) (nest.Layout, error) {
	s := b.searcher(ctx, e)
	p := s.p
	s.best = s.inRows(s.all())
	s.oneKind()
	// no longer than it takes to lay all: what is cheaper is for sets
	for round := 1; round <= e.Rounds && s.left(s.best) > 0; round++ {
		s.run(s.all(), round)
	}
	if s.left(s.best) == 0 {
		s.sets()
	}
	s.follow()
	s.refill()
	s.trim()
	full := s.full()
	pushed := 0
	for _, b := range sorted(len(full), func(a, b int) bool { return full[a] < full[b] }) {
		if full[b] > 0 && full[b] < worthPush && pushed < mostPushed {
			s.push(b)
			pushed++
		}
	}
	fill(ctx, p, s.dia, &s.best, s.order(1), false) // in what was pushed free
	switch {
	case ctx.Err() != nil:
		b.tried = ended
	case s.rows:
		b.tried = crowded
	}
	return s.best, s.err
}

// full is the share of each board that pieces lie on.
func (s *searcher) full() []float64 {
	out := make([]float64, len(s.p.Boards))
	for _, at := range s.best.Places {
		out[at.Board] += areaOf(s.p.Items[at.Item].Shape) / areaOf(s.p.Boards[at.Board].Shape)
	}
	return out
}

// oneKind tries rows on the rack and one kind of what is sold: what costs least for a piece may
// neither be the cheapest board nor the dearest.
func (s *searcher) oneKind() {
	for _, list := range s.alike {
		if list[0] < s.sold || s.ctx.Err() != nil {
			continue
		}
		set := make([]bool, len(s.p.Boards))
		for b := range set {
			set[b] = b < s.sold
		}
		for _, b := range list {
			set[b] = true
		}
		if l := s.inRows(set); s.better(l, s.best) {
			s.best = l
		}
	}
}

// trim does without a board whose pieces go beside those on others, or on one that is cheaper.
func (s *searcher) trim() {
	for again := true; again && s.ctx.Err() == nil; {
		again = false
		in, full, tries := used(s.best, len(s.p.Boards)), s.full(), 0
		for _, b := range sorted(len(in), func(a, b int) bool { return full[a] < full[b] }) {
			if !in[b] || again || tries == mostTrimmed {
				continue
			}
			tries++
			l := nest.Layout{Left: slices.Clone(s.best.Left)}
			for _, at := range s.best.Places {
				if at.Board == b {
					l.Left[at.Item]++
				} else {
					l.Places = append(l.Places, at)
				}
			}
			var others []int
			for _, o := range s.order(1) {
				if in[o] && o != b {
					others = append(others, o)
				}
			}
			if tries == 1 { // what is on a fuller board is more than others have room for
				fill(s.ctx, s.p, s.dia, &l, others, true)
			}
			if s.better(l, s.best) {
				s.best, again = l, true
				continue
			}
			for _, list := range s.alike {
				k := slices.IndexFunc(list, func(o int) bool { return !in[o] })
				if again || k < 0 || s.p.Boards[list[k]].Cost >= s.p.Boards[b].Cost {
					continue
				}
				on := nest.Layout{Left: slices.Clone(l.Left), Places: slices.Clone(l.Places)}
				fill(s.ctx, s.p, s.dia, &on, list[k:k+1], true)
				if s.better(on, s.best) {
					s.best, again = on, true
				}
			}
		}
	}
}

// search has shop/nest search, and drops a layout that is not right: it is a search with chance
// in it, and what is here holds already.
func (s *searcher) search(p nest.Problem, e nest.Effort) (nest.Layout, bool) {
	l, _, err := nest.Boards(s.ctx, p, e)
	if err != nil {
		s.err = err
	}
	return l, err == nil && p.Check(l, tol.Touch) == nil
}

// filled lays pieces in rows on some boards, then those that are left beside them, and keeps
// what is better. It is true if nothing is left.
func (s *searcher) filled(set []bool) bool {
	l := s.inRows(set)
	var on []int
	for _, b := range s.order(1) {
		if set[b] {
			on = append(on, b)
		}
	}
	fill(s.ctx, s.p, s.dia, &l, on, s.left(s.best) == 0)
	if s.better(l, s.best) {
		s.best = l
	}
	return s.left(l) == 0
}

// refill puts what is left into each board: beside what lies there, and then by a search of
// that board alone, as long as that places more.
func (s *searcher) refill() {
	of := make([]int, len(s.p.Boards))
	for k, list := range s.alike {
		for _, b := range list {
			of[b] = k
		}
	}
	for was := s.left(s.best) + 1; s.left(s.best) > 0 && s.left(s.best) < was && s.ctx.Err() == nil; {
		was = s.left(s.best)
		fill(s.ctx, s.p, s.dia, &s.best, s.order(1), false)
		vain := map[string]bool{} // boards alike with the same on them
		for _, b := range s.order(1) {
			if s.left(s.best) == 0 || s.ctx.Err() != nil {
				continue
			}
			on := make([]int, len(s.p.Items))
			for _, at := range s.best.Places {
				if at.Board == b {
					on[at.Item]++
				}
			}
			key := fmt.Sprint(of[b], on)
			if vain[key] {
				continue
			}
			if vain[key] = !s.more(b); !vain[key] {
				vain = map[string]bool{}
			}
		}
	}
}

// more lays what is on a board anew with some of what is left, and keeps it if less is left,
// which it tells.
func (s *searcher) more(b int) bool {
	sub := nest.Problem{Gap: s.p.Gap, Rim: s.p.Rim, Boards: s.p.Boards[b : b+1]}
	var items []int
	n := 0
	for i, it := range s.p.Items {
		on := 0
		for _, at := range s.best.Places {
			if at.Board == b && at.Item == i {
				on++
			}
		}
		if it.Count = on + min(moreAtOnce, s.best.Left[i]); it.Count > 0 {
			sub.Items, items, n = append(sub.Items, it), append(items, i), n+it.Count
		}
	}
	if n == 0 {
		return false
	}
	if n > mostOnOne {
		s.rows = true
		return false
	}
	l, ok := s.search(sub, nest.Effort{Seed: s.e.Seed, Hands: s.e.Hands, Rounds: s.e.Rounds, Lines: s.e.Rounds * lines(&sub)})
	if !ok {
		return false
	}
	out := nest.Layout{Left: slices.Clone(s.best.Left)}
	for _, at := range s.best.Places {
		if at.Board == b {
			out.Left[at.Item]++
		} else {
			out.Places = append(out.Places, at)
		}
	}
	for _, at := range l.Places {
		out.Left[items[at.Item]]--
		out.Places = append(out.Places, nest.Place{Item: items[at.Item], Board: b, Turn: at.Turn, At: at.At})
	}
	if s.left(out) >= s.left(s.best) {
		return false
	}
	s.best = out
	return true
}

func (s *searcher) all() []bool {
	out := make([]bool, len(s.p.Boards))
	for i := range out {
		out[i] = true
	}
	return out
}

func (s *searcher) left(l nest.Layout) (n int) {
	for _, k := range l.Left {
		n += k
	}
	return n
}

func used(l nest.Layout, n int) []bool {
	out := make([]bool, n)
	for _, p := range l.Places {
		out[p.Board] = true
	}
	return out
}

func (s *searcher) cost(set []bool) (c float64) {
	for b, in := range set {
		if in {
			c += s.p.Boards[b].Cost
		}
	}
	return c
}

// better tells whether a layout leaves fewer pieces, or lies on cheaper boards.
func (s *searcher) better(a, b nest.Layout) bool {
	if x, y := s.left(a), s.left(b); x != y {
		return x < y
	}
	return s.cost(used(a, len(s.p.Boards))) < s.cost(used(b, len(s.p.Boards)))-1e-9
}

// inRows returns the best layout in rows on some boards: cheap boards first or large ones, wide or
// long pieces first.
func (s *searcher) inRows(set []bool) nest.Layout {
	var best nest.Layout
	first := true
	for _, sign := range [2]float64{1, -1} {
		if !first && s.ctx.Err() != nil {
			break // one is enough to go on with
		}
		var order []int
		for _, b := range s.order(sign) {
			if set[b] {
				order = append(order, b)
			}
		}
		for _, less := range []func(a, b r2.Vec) bool{wideFirst, longFirst} {
			for _, gaps := range []bool{true, false} {
				if !gaps && slices.Max(s.dia) == 0 {
					continue // no rounds: the same again
				}
				if l := rows(s.p, s.dia, order, less, gaps); first || s.better(l, best) {
					best, first = l, false
				}
			}
		}
	}
	return best
}

// order lists all boards, cheap ones first, or last for a negative sign.
func (s *searcher) order(sign float64) []int {
	return sorted(len(s.p.Boards), func(a, b int) bool { return sign*s.p.Boards[a].Cost < sign*s.p.Boards[b].Cost })
}

// crowded tells whether there are so many pieces that the full search gets nowhere in a
// sensible time: rounds alone lie as close in rows as they can, and of many hundred pieces
// one more or less does not fill a board.
func (s *searcher) crowded() bool {
	n, rounds := 0, true
	for i, it := range s.p.Items {
		n += it.Count
		rounds = rounds && (s.dia[i] > 0 || it.Count == 0)
	}
	return n > mostSearched || rounds && n > mostRounds
}

// lines is how many lines a search may follow: so many that it takes about as long whatever the
// number of pieces and corners.
func lines(p *nest.Problem) int {
	n, corners := 0, 0
	for _, it := range p.Items {
		n += it.Count
		k := len(it.Shape.Outer)
		for _, h := range it.Shape.Holes {
			k += len(h)
		}
		corners += it.Count * k
	}
	return 1000 + lineWork/max(1, corners+n)
}

// run searches on some boards and keeps what is better.
func (s *searcher) run(set []bool, rounds int) bool {
	sub := *s.p
	sub.Boards = nil
	var of []int
	for b, in := range set {
		if in {
			sub.Boards, of = append(sub.Boards, s.p.Boards[b]), append(of, b)
		}
	}
	if s.ctx.Err() != nil {
		return false
	}
	if s.crowded() {
		return rounds == 1 && s.filled(set)
	}
	l, ok := s.search(sub, nest.Effort{Seed: s.e.Seed, Hands: s.e.Hands, Rounds: rounds, Lines: rounds * lines(&sub)})
	if !ok {
		return false
	}
	for i := range l.Places {
		l.Places[i].Board = of[l.Places[i].Board]
	}
	if !s.better(l, s.best) {
		return s.left(l) == 0
	}
	s.best = l
	return true
}

// sets tries sets of boards that are cheaper than those of the best layout.
func (s *searcher) sets() {
	need := 0.0
	for i, it := range s.p.Items {
		a := areaOf(it.Shape)
		if it.Room == 0 { // squared: each takes its kerf as well
			size := r2.Around(s.p.Laid(nest.Place{Item: i}).Outer...).Size()
			a = (size.X + s.p.Gap) * (size.Y + s.p.Gap)
		}
		need += float64(a * float64(it.Count))
	}
	n, choices := len(s.p.Boards), 1
	for _, list := range s.alike {
		if choices *= 1 + len(list); choices > mostSets {
			s.run(s.all(), s.e.Rounds)
			return
		}
	}
	type choice struct {
		set  []bool
		cost float64
	}
	var list []choice
	limit := s.cost(used(s.best, n))
	for code := 1; code < choices; code++ {
		c := choice{set: make([]bool, n)}
		room := 0.0
		rest := code
		for _, alike := range s.alike {
			for _, b := range alike[:rest%(1+len(alike))] {
				c.set[b] = true
				room += areaOf(s.p.Boards[b].Shape)
			}
			rest /= 1 + len(alike)
		}
		if c.cost = s.cost(c.set); c.cost < limit-1e-9 && room*neverFull >= need {
			list = append(list, c)
		}
	}
	order := sorted(len(list), func(a, b int) bool { return list[a].cost < list[b].cost })
	// rows on each: quick, and what they reach bounds the rest
	for k, i := range order {
		if s.ctx.Err() != nil {
			return
		}
		if l := s.inRows(list[i].set); s.better(l, s.best) {
			s.best = l
			order = order[:k]
			break
		}
	}
	cheaper := func(i int) bool { return list[order[i]].cost < s.cost(used(s.best, n))-1e-9 }
	// bisection, as a set that costs more mostly takes more
	done := make([]int, len(order)) // rounds
	for lo, hi := 0, len(order); lo < hi && s.ctx.Err() == nil; {
		mid := (lo + hi) / 2
		done[mid] = 1
		if cheaper(mid) && s.run(list[order[mid]].set, 1) {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	if n > fewBoards || s.crowded() { // of many alike a few more or less are told apart by the bisection
		return
	}
	// then all that are cheaper still, the dearest first, with more effort each time
	for round := 1; round <= s.e.Rounds; round++ {
		tries := setTries
		for i := len(order) - 1; i >= 0 && tries > 0 && s.ctx.Err() == nil; i-- {
			if cheaper(i) && done[i] < round {
				done[i] = round
				s.run(list[order[i]].set, round)
				tries--
			}
		}
	}
}

// follow lays the pieces in rows, if the boards that are used take them so.
func (s *searcher) follow() {
	set := used(s.best, len(s.p.Boards))
	l := s.inRows(set)
	if s.left(l) <= s.left(s.best) && !s.better(s.best, l) {
		s.best = l
	}
}

// push lays the pieces of a board anew on a shorter one, as long as they go on it: what is
// left is then one piece, the board's full width.
func (s *searcher) push(b int) {
	sub := nest.Problem{Gap: s.p.Gap, Rim: s.p.Rim}
	of := map[int]int{}
	var items []int
	var dia []float64
	in := 0.0
	for _, at := range s.best.Places {
		if at.Board != b {
			continue
		}
		k, ok := of[at.Item]
		if !ok {
			k = len(items)
			of[at.Item] = k
			items = append(items, at.Item)
			it := s.p.Items[at.Item]
			it.Count = 0
			sub.Items, dia = append(sub.Items, it), append(dia, s.dia[at.Item])
		}
		sub.Items[k].Count++
		in += areaOf(s.p.Items[at.Item].Shape)
	}
	board := s.p.Boards[b]
	if len(items) == 0 {
		return
	}
	box := r2.Around(board.Shape.Outer...)
	end := func(l []nest.Place) (x float64) {
		x = box.Min.X
		for _, at := range l {
			if at.Board == b {
				x = math.Max(x, r2.Around(s.p.Laid(at).Outer...).Max.X+s.p.Rim+s.p.Items[at.Item].Room)
			}
		}
		return x
	}
	// no shorter than the pieces' area takes
	lo, hi := box.Min.X+in/box.Size().Y, end(s.best.Places)
	for t := 0; t < pushTries && s.ctx.Err() == nil && hi-lo > 0.02*box.Size().X; t++ {
		x := (lo + hi) / 2
		short, ok := shortened(board, x)
		if !ok {
			return
		}
		sub.Boards = []nest.Board{short}
		one := &searcher{ctx: s.ctx, p: &sub, dia: dia, e: s.e}
		l := one.inRows([]bool{true})
		if one.left(l) > 0 && !one.crowded() {
			if m, ok := s.search(sub, nest.Effort{Seed: s.e.Seed, Rounds: pushRounds, Lines: lines(&sub) / 5}); ok {
				l = m
			}
		}
		if one.left(l) > 0 {
			lo = x
			continue
		}
		var out []nest.Place
		for _, at := range s.best.Places {
			if at.Board != b {
				out = append(out, at)
			}
		}
		for _, at := range l.Places {
			out = append(out, nest.Place{Item: items[at.Item], Board: b, Turn: at.Turn, At: at.At})
		}
		s.best.Places = out
		hi = end(out)
	}
}

// shortened is a board sawn off square at x; false where that is not one plain shape.
func shortened(b nest.Board, x float64) (nest.Board, bool) {
	b.Shape.Outer = outline.Clip(b.Shape.Outer, r2.Vec{X: 1}, x)
	var out []r2.Vec
	for i, p := range b.Shape.Outer { // what is cut off leaves no line that is run twice
		if q := b.Shape.Outer[(i+1)%len(b.Shape.Outer)]; p.Sub(q).Len() > 1e-9 {
			out = append(out, p)
		}
	}
	if b.Shape.Outer = out; len(out) < 3 {
		return b, false
	}
	on := 0
	for _, p := range out {
		if math.Abs(p.X-x) < 1e-9 {
			on++
		}
	}
	if on > 2 {
		return b, false
	}
	var holes [][]r2.Vec
	for _, h := range b.Shape.Holes {
		if r2.Around(h...).Min.X < x {
			holes = append(holes, h)
		}
	}
	b.Shape.Holes = holes
	return b, true
}

package nest

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"dryfit/geom/r2"
)

// Strip lays all items on a strip of a height, as short as it can, and returns the layout
// and its length. The problem's boards are not looked at.
func Strip(ctx context.Context, p Problem, height float64, e Effort) (Layout, float64, error) {
	g, err := newStrip(&p, height)
	if err != nil {
		return Layout{}, 0, err
	}
	allowed := func(l Layout, length float64) error {
		on := p
		on.Boards = []Board{{Name: "strip", Shape: rectangle(length, height)}}
		return on.Check(l, g.near())
	}
	best, err := e.search(allowed, func(seed uint64, tell func(found)) found {
		b := newBelt(g, seed)
		b.start()
		tell(b.found())
		for round := 0; !e.ends(ctx, round) && b.length > b.least+g.slight; round++ {
			if b.round(ctx) {
				tell(b.found())
			}
		}
		return b.found()
	})
	return best.layout, best.value, err
}

func (b *belt) found() found { return found{layout: b.y.g.layout(b.best), value: b.length} }

func rectangle(wide, high float64) Shape {
	return Shape{Outer: []r2.Vec{{}, {X: wide}, {X: wide, Y: high}, {Y: high}}}
}

// A belt is the search for the shortest strip: it goes on from layouts that did not come free on
// a shorter one, large pieces changed over, and now and then presses the best together
// (the two phases and the pool after Gardeyn, Vanden Berghe and Wauters 2025, from memory).
type belt struct {
	y      *yard
	best   stand
	length float64 // of the best
	least  float64 // no layout is shorter
	large  []int   // the larger half of the pieces
	pool   []held  // layouts on shorter strips that did not come free, the nearest to it first
	step   float64 // how much shorter
	press  float64 // the step by which the best itself is pressed together
}

// A held is a layout with pieces still in each other, and how deep.
type held struct {
	stand
	depth float64
}

func newBelt(g *ground, seed uint64) *belt {
	return &belt{y: newYard(g, seed), step: firstStep, least: g.atLeast()}
}

// Steps of the strip's length, as shares of it, found by trial.
const (
	firstStep  = 0.01  // taken off at once, to begin with
	leastStep  = 0.001 // below it the best is pressed together instead
	stepUp     = 1.2   // after one that went
	stepDown   = 0.9   // after one that did not
	firstPress = 0.001 // taken off the best, to begin with
	leastPress = 0.00005
	pressDown  = 0.8 // after one that did not go

	poolSize = 12 // layouts that did not come free: more are seldom gone on from
)

// start lays the pieces one after the other, the largest first, each as far left as lines
// through some heights show.
func (b *belt) start() {
	y := b.y
	order := y.cleared()
	b.large = order[:(len(order)+1)/2]
	for _, i := range order {
		best, far := spot{}, math.Inf(1)
		var bk int32
		for k := y.g.first[y.g.item[i]]; k < y.g.first[y.g.item[i]+1]; k++ {
			room, ok := y.fits(int32(k), 0)
			if !ok {
				continue
			}
			for t := 0; t < startLines; t++ {
				from := r2.Vec{X: room.x0, Y: room.y0 + float64(y.r.Float64()*(room.y1-room.y0))}
				switch {
				case t == 0:
					from.Y = room.y0
				case t == 1:
					from.Y = room.y1
				case t%2 == 0:
					from.Y = math.Min(math.Max(y.beside(i, int32(k), 0, from).Y, room.y0), room.y1)
				}
				if s, ok := y.along(i, int32(k), 0, from, r2.Vec{X: 1}, 0); ok && s.at.X+y.g.kinds[k].box.Max.X < far {
					best, far, bk = s, s.at.X+y.g.kinds[k].box.Max.X, int32(k)
				}
			}
		}
		y.put(i, bk, 0, best.at)
	}
	b.keep()
}

const startLines = 30

// keep takes what lies there as the best if it is shorter, and tells whether it is.
func (b *belt) keep() bool {
	y := b.y
	long := 0.0
	for i, k := range y.kind {
		long = math.Max(long, y.at[i].X+y.g.kinds[k].box.Max.X)
	}
	if b.best.at != nil && long >= b.length {
		return false
	}
	b.best, b.length, b.pool = y.stand(), long, b.pool[:0]
	return true
}

// round tries a shorter strip. It tells whether the best has got better.
func (b *belt) round(ctx context.Context) bool {
	stop := func() bool { return ctx.Err() != nil }
	if b.step >= leastStep {
		return b.explore(stop)
	}
	return b.compress(stop)
}

// explore goes on from a layout that did not come free on a shorter strip, with two pieces
// changed over.
func (b *belt) explore(stop func() bool) bool {
	y := b.y
	if len(b.pool) == 0 {
		y.back(b.best)
		b.squeeze(b.step)
	} else {
		u := y.r.Float64()
		y.back(b.pool[int(float64(float64(u*u)*float64(len(b.pool))))].stand)
		b.squeeze(b.step)
		b.swap()
	}
	y.even()
	if y.loosen(patience, stop) {
		b.step = math.Min(firstStep, float64(b.step*stepUp))
		return b.keep()
	}
	b.step = float64(b.step * stepDown)
	if b.step < leastStep {
		b.press = firstPress
	}
	n := held{y.stand(), y.total()}
	at, _ := slices.BinarySearchFunc(b.pool, n, func(a, b held) int { return cmp.Compare(a.depth, b.depth) })
	if b.pool = slices.Insert(b.pool, at, n); len(b.pool) > poolSize {
		b.pool = b.pool[:poolSize]
	}
	return false
}

// compress presses the best together by little, at some place.
func (b *belt) compress(stop func() bool) bool {
	y := b.y
	y.back(b.best)
	b.squeeze(b.press)
	y.even()
	if y.loosen(patience, stop) {
		p := b.pool
		ok := b.keep()
		b.pool = p
		return ok
	}
	if b.press = float64(b.press * pressDown); b.press < leastPress {
		b.step = firstStep
	}
	return false
}

// squeeze takes a step off the best length, at some place of the layout.
func (b *belt) squeeze(step float64) {
	y := b.y
	y.room[0].x1 = math.Max(b.least, b.length-float64(step*b.length))
	long := 0.0
	for i, k := range y.kind {
		long = math.Max(long, y.at[i].X+y.g.kinds[k].box.Max.X)
	}
	off := long - y.room[0].x1
	cut := float64(y.r.Float64() * y.room[0].x1)
	for i := range y.kind {
		if y.at[i].X > cut {
			y.at[i].X -= off
		}
		y.inside(i)
	}
	for i := range y.kind {
		y.measure(i)
	}
}

// inside shifts a piece into its room, turned so that it goes.
func (y *yard) inside(i int) {
	in, ok := y.fits(y.kind[i], y.on[i])
	for t := y.g.first[y.g.item[i]]; !ok; t++ {
		y.kind[i] = int32(t) // turned so, it goes: least sees to that
		in, ok = y.fits(int32(t), y.on[i])
	}
	y.at[i].X = math.Min(math.Max(y.at[i].X, in.x0), in.x1)
	y.at[i].Y = math.Min(math.Max(y.at[i].Y, in.y0), in.y1)
}

// swap changes over two large pieces that differ, each with the smaller ones in its box.
func (b *belt) swap() {
	y := b.y
	i, j := 0, 0
	for t := 0; t < 20 && y.g.item[i] == y.g.item[j]; t++ {
		i, j = b.large[y.r.IntN(len(b.large))], b.large[y.r.IntN(len(b.large))]
	}
	size := func(i int) float64 { return y.g.kinds[y.kind[i]].area }
	span := func(i int) box {
		b := y.g.kinds[y.kind[i]].box
		return box{y.at[i].X + b.Min.X, y.at[i].Y + b.Min.Y, y.at[i].X + b.Max.X, y.at[i].Y + b.Max.Y}
	}
	mid := func(b box) r2.Vec { return r2.Vec{X: (b.x0 + b.x1) / 2, Y: (b.y0 + b.y1) / 2} }
	from, to := span(i), span(j)
	by := mid(to).Sub(mid(from))
	with := func(q, of int, in box) bool {
		m := mid(span(q))
		return q == of || q != i && q != j && m.X > in.x0 && m.X < in.x1 && m.Y > in.y0 && m.Y < in.y1 && size(q) < size(of)
	}
	for q := range y.at {
		switch {
		case with(q, i, from):
			y.at[q] = y.at[q].Add(by)
		case with(q, j, to):
			y.at[q] = y.at[q].Sub(by)
		default:
			continue
		}
		y.inside(q)
	}
	for q := range y.at {
		y.measure(q)
	}
}

// atLeast is a length that no layout goes below: the area over the height, and the
// longest piece, laid as short as it goes.
func (g *ground) atLeast() float64 {
	sum, longest := 0.0, 0.0
	height := g.boards[0].y1 - g.boards[0].y0
	for i, it := range g.p.Items {
		if it.Count == 0 {
			continue
		}
		sum += float64(g.kinds[g.first[i]].area * float64(it.Count))
		short := math.Inf(1)
		for _, k := range g.kinds[g.first[i]:g.first[i+1]] {
			if s := k.box.Size(); s.Y <= height+g.slight {
				short = math.Min(short, s.X)
			}
		}
		longest = math.Max(longest, short)
	}
	return math.Max(sum/height, longest)
}

// layout writes a stand as a layout.
func (g *ground) layout(s stand) Layout {
	l := Layout{Left: make([]int, len(g.p.Items))}
	for i, k := range s.kind {
		if s.on[i] < 0 {
			l.Left[g.item[i]]++
			continue
		}
		l.Places = append(l.Places, Place{Item: g.kinds[k].item, Turn: g.kinds[k].turn, Board: int(s.on[i]), At: s.at[i]})
	}
	return l
}

// newStrip makes a problem ready for a strip.
func newStrip(p *Problem, height float64) (*ground, error) {
	if err := p.usable(); err != nil {
		return nil, err
	}
	kinds, first, err := kindsOf(p)
	if err != nil {
		return nil, err
	}
	g := &ground{p: p, kinds: kinds, first: first}
	length := g.count()
	g.boards = []box{{0, 0, length, height}}
	for i, it := range p.Items {
		if !g.goes(i, 0) {
			return nil, fmt.Errorf("%s is wider than the strip, however it is turned", it.Name)
		}
	}
	g.tables()
	g.off = make([]clash, len(kinds))
	for k := range g.off {
		g.off[k].box = noBox()
	}
	return g, nil
}

// count lists the pieces, and returns how long they are one after the other.
func (g *ground) count() (length float64) {
	sum := 0.0
	for i, it := range g.p.Items {
		wide := 0.0
		for k := g.first[i]; k < g.first[i+1]; k++ {
			wide = math.Max(wide, g.kinds[k].box.Size().X)
		}
		for c := 0; c < it.Count; c++ {
			g.item = append(g.item, int32(i))
			length += wide + g.p.gap(i, i)
			sum += g.kinds[g.first[i]].area
		}
	}
	g.slight = float64(slightShare * math.Sqrt(sum/math.Max(1, float64(len(g.item)))))
	return length
}

// slightShare is the depth, of the side of a square as large as a usual piece, that
// rounding alone can make.
const slightShare = 1e-9

// tables works out where each two kinds clash, and how that weighs.
func (g *ground) tables() {
	g.base = g.bases()
	n := len(g.kinds)
	g.clash = make([]clash, n*n)
	parts := make([][][]r2.Vec, n)
	for a := range g.kinds {
		parts[a] = fewer(g.kinds[a].parts, g.slight)
		for b := range a + 1 {
			g.clash[a*n+b], g.clash[b*n+a] = clashes(parts[a], parts[b], g.p.gap(g.kinds[a].item, g.kinds[b].item), g.slight)
		}
	}
}

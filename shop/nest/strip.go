package nest

import (
	"context"
	"fmt"
	"math"

	"dryfit/geom/r2"
)

// Strip lays all items on a strip of a height, as short as it can, and returns the layout
// and its length. The problem's boards are not looked at.
func Strip(ctx context.Context, p Problem, height float64, e Effort) (Layout, float64, error) {
	g, err := newStrip(&p, height)
	if err != nil {
		return Layout{}, 0, err
	}
	best := e.search(func(seed uint64, tell func(found)) found {
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
	return best.layout, best.value, nil
}

func (b *belt) found() found { return found{layout: b.y.g.layout(b.best), value: b.length} }

// A belt is the search for the shortest strip.
type belt struct {
	y      *yard
	best   stand
	length float64 // of the best
	now    stand   // what is gone on from
	long   float64 // its length
	least  float64 // no layout is shorter
	step   float64
}

func newBelt(g *ground, seed uint64) *belt {
	return &belt{y: newYard(g, seed), step: firstStep, least: g.atLeast()}
}

// Steps of the strip's length, as shares of it, and how far chance goes; found by trial.
const (
	firstStep = 0.01 // taken off at once
	leastStep = 0.0005
	stepUp    = 1.2  // after one that went
	stepDown  = 0.7  // after one that did not
	kicks     = 4    // tries of one length
	shaken    = 0.25 // of the pieces are thrown anywhere where no step goes any more
	shakeRoom = 1.04 // on a strip longer by this
	alike     = 3    // pieces change places whose areas differ by no more than this
)

// start lays the pieces one after the other, the largest first, each as far left as lines
// through some heights show.
func (b *belt) start() {
	y := b.y
	for _, i := range y.cleared() {
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
				if s, ok := y.along(i, int32(k), 0, from, r2.Vec{X: 1}); ok && s.f == 0 && s.at.X+y.g.kinds[k].box.Max.X < far {
					best, far, bk = s, s.at.X+y.g.kinds[k].box.Max.X, int32(k)
				}
			}
		}
		y.put(i, bk, 0, best.at)
	}
	b.keep()
}

const startLines = 30

// keep takes what lies there as what is gone on from, and as the best if it is shorter.
// It tells whether it is.
func (b *belt) keep() bool {
	y := b.y
	b.now, b.long = y.stand(), 0
	for i, k := range y.kind {
		b.long = math.Max(b.long, y.at[i].X+y.g.kinds[k].box.Max.X)
	}
	y.room[0].x1 = b.long
	if b.best.at != nil && b.long >= b.length {
		return false
	}
	b.best, b.length = b.now, b.long
	return true
}

// round makes the strip shorter and tries to loosen the pieces; where no step goes any more
// it shakes the best, and goes on from there. It tells whether the best has got better.
func (b *belt) round(ctx context.Context) bool {
	y := b.y
	stop := func() bool { return ctx.Err() != nil }
	for k := 0; k < kicks && !stop(); k++ {
		if k%2 == 0 { // now and then from what is free again, else from what was nearly so
			y.back(b.now)
			b.squeeze()
		}
		if k > 0 {
			y.kick()
		}
		y.even()
		if y.loosen(patience, stop) {
			b.step = math.Min(firstStep, float64(b.step*stepUp))
			return b.keep()
		}
	}
	if b.step = float64(b.step * stepDown); b.step < leastStep {
		b.step = firstStep
		b.shake(stop)
	}
	return false
}

// shake throws some pieces anywhere on a strip that is a little longer than the best, to go on
// from another layout.
func (b *belt) shake(stop func() bool) {
	y := b.y
	for k := 0; k < kicks && !stop(); k++ {
		y.back(b.best)
		y.room[0].x1 = float64(b.length * shakeRoom)
		for i := range y.kind {
			if y.r.Float64() >= shaken {
				continue
			}
			item := y.g.item[i]
			kind := int32(y.g.first[item] + y.r.IntN(y.g.first[item+1]-y.g.first[item]))
			if in, ok := y.fits(kind, 0); ok {
				y.put(i, kind, 0, r2.Vec{X: in.x0 + float64(y.r.Float64()*(in.x1-in.x0)), Y: in.y0 + float64(y.r.Float64()*(in.y1-in.y0))})
			}
		}
		y.even()
		if y.loosen(patience, stop) {
			b.keep()
			return
		}
	}
	b.now, b.long = b.best, b.length
}

// squeeze takes a step off the strip at some place of it.
func (b *belt) squeeze() {
	y := b.y
	off := math.Min(float64(b.step*b.long), b.long-b.least)
	y.room[0].x1 = b.long - off
	cut := float64(y.r.Float64() * y.room[0].x1)
	for i, k := range y.kind {
		if y.at[i].X > cut {
			y.at[i].X -= off
		}
		in, ok := y.fits(k, 0)
		for t := y.g.first[y.g.item[i]]; !ok; t++ {
			y.kind[i] = int32(t) // turned so, it goes: least sees to that
			in, ok = y.fits(int32(t), 0)
		}
		y.at[i].X = math.Min(math.Max(y.at[i].X, in.x0), in.x1)
		y.at[i].Y = math.Min(math.Max(y.at[i].Y, in.y0), in.y1)
	}
	for i := range y.kind {
		y.measure(i)
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

// kick changes over two pieces of like size.
func (y *yard) kick() {
	n := y.pieces()
	for t := 0; t < 20; t++ {
		i, j := y.r.IntN(n), y.r.IntN(n)
		a, b := &y.g.kinds[y.kind[i]], &y.g.kinds[y.kind[j]]
		if a.item == b.item || math.Max(a.area, b.area) > alike*math.Min(a.area, b.area) {
			continue
		}
		y.at[i], y.at[j] = y.at[j], y.at[i]
		y.on[i], y.on[j] = y.on[j], y.on[i]
		for _, q := range [2]int{i, j} {
			in, _ := y.fits(y.kind[q], y.on[q])
			y.at[q].X = math.Min(math.Max(y.at[q].X, in.x0), in.x1)
			y.at[q].Y = math.Min(math.Max(y.at[q].Y, in.y0), in.y1)
			y.measure(q)
		}
		if y.r.IntN(3) == 0 {
			continue
		}
		return
	}
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

// tables works out where each two kinds clash.
func (g *ground) tables() {
	n := len(g.kinds)
	g.clash = make([]clash, n*n)
	for a := range g.kinds {
		for b := range g.kinds {
			g.clash[a*n+b] = clashOf(g.kinds[a].parts, g.kinds[b].parts, g.p.gap(g.kinds[a].item, g.kinds[b].item))
		}
	}
}

package boards

import (
	"context"
	"math"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/shop/nest"
)

// What lies on a board, as a piece that is put beside it sees it.
type lying struct {
	item   int
	line   []r2.Vec
	box    r2.Box
	square bool // it is its box
	mid    r2.Vec
}

func lies(p *nest.Problem, at nest.Place) lying {
	s := p.Laid(at)
	box := r2.Around(s.Outer...)
	size := box.Size()
	full := float64(size.X * size.Y)
	return lying{at.Item, s.Outer, box, full-math.Abs(outline.SignedArea(s.Outer)) < 1e-9*full, box.Min.Add(box.Max).Scale(0.5)}
}

// fill puts pieces that are left into what is free on some boards, beside all that lies there:
// in the corner of the largest rectangle that is free, and then from the reference edge up in
// steps, in each turn. Pieces are taken as their boxes, rounds as they are. If all have to go there
// it ends with the first that does not.
func fill(ctx context.Context, p *nest.Problem, dia []float64, l *nest.Layout, boards []int, all bool) {
	on := make([][]lying, len(p.Boards))
	for _, at := range l.Places {
		on[at.Board] = append(on[at.Board], lies(p, at))
	}
	for _, i := range sorted(len(p.Items), func(a, b int) bool {
		return wideFirst(r2.Around(p.Items[a].Shape.Outer...).Size(), r2.Around(p.Items[b].Shape.Outer...).Size())
	}) {
		for _, b := range boards {
			if l.Left[i] == 0 {
				break
			}
			for t := 0; t < max(1, len(p.Items[i].Turns)); t++ {
				low := r2.Around(p.Laid(nest.Place{Item: i, Turn: t}).Outer...)
				f := filler{p: p, dia: dia, item: i, size: low.Size(), board: p.Boards[b].Shape, rim: p.Rim + p.Items[i].Room}
				y := math.Inf(-1)
				for l.Left[i] > 0 && ctx.Err() == nil {
					at, ok := f.find(on[b], &y)
					if !ok {
						break
					}
					put := nest.Place{Item: i, Board: b, Turn: t, At: at.Sub(low.Min)}
					l.Places = append(l.Places, put)
					l.Left[i]--
					on[b] = append(on[b], lies(p, put))
				}
			}
		}
		if all && l.Left[i] > 0 {
			return
		}
	}
}

// A filler looks for a place for one piece in one turn on one board.
type filler struct {
	p     *nest.Problem
	dia   []float64
	item  int
	size  r2.Vec // of its box
	board nest.Shape
	rim   float64
}

// find returns where the lower left corner of the piece's box can lie, not below y, which goes
// up as far as nothing is free.
func (f *filler) find(on []lying, y *float64) (r2.Vec, bool) {
	in := r2.Around(f.board.Outer...)
	if math.IsInf(*y, -1) {
		*y = in.Min.Y + f.rim
	}
	var lines [][]r2.Vec
	for _, o := range on {
		lines = append(lines, o.line)
	}
	if r := largest(f.board, lines, f.p.Gap, cellMM); r != nil {
		at := in.Min.Add(r2.Vec{X: r.XMM + f.rim, Y: r.YMM + f.rim})
		if _, ok := f.free(on, at); ok {
			return at, true
		}
	}
	for ; *y+f.size.Y <= in.Max.Y-f.rim+1e-9; *y += rowStep {
		for x := in.Min.X + f.rim; x+f.size.X <= in.Max.X-f.rim+1e-9; {
			at := r2.Vec{X: x, Y: *y}
			next, ok := f.free(on, at)
			if ok {
				return at, true
			}
			x = max(next, x+1e-6)
		}
	}
	return r2.Vec{}, false
}

// free tells whether the piece can lie at a place, or else from which x on it is worth to look
// again.
func (f *filler) free(on []lying, at r2.Vec) (next float64, ok bool) {
	box := r2.Box{Min: at, Max: at.Add(f.size)}
	mid := box.Min.Add(box.Max).Scale(0.5)
	half := f.dia[f.item] / 2
	if half > 0 && !clearRound(f.board, mid, half+f.rim) || half == 0 && !clear(f.board, box, f.rim) {
		return at.X + rowStep, false
	}
	for _, o := range on {
		const slight = 1e-7
		by := gap(f.p, f.item, o.item) - slight
		if box.Min.X >= o.box.Max.X+by || box.Max.X <= o.box.Min.X-by || box.Min.Y >= o.box.Max.Y+by || box.Max.Y <= o.box.Min.Y-by {
			continue
		}
		past := o.box.Max.X + by + slight
		switch other := f.dia[o.item] / 2; {
		case half > 0 && other > 0:
			if x, ok := pastDisc(o.mid, mid, half+other+by+slight); !ok {
				return x - f.size.X/2, false
			}
		case half > 0:
			if !clearRound(nest.Shape{Outer: f.board.Outer, Holes: [][]r2.Vec{o.line}}, mid, half+by) {
				if o.square && mid.Y > o.box.Min.Y && mid.Y < o.box.Max.Y {
					return past, false
				}
				return at.X + rowStep, false
			}
		case o.square:
			return past, false
		default:
			grown := r2.Box{Min: box.Min.Sub(r2.Vec{X: by, Y: by}), Max: box.Max.Add(r2.Vec{X: by, Y: by})}
			if crosses(o.line, grown) || inside(o.line, mid) {
				return at.X + rowStep, false
			}
		}
	}
	return at.X, true
}

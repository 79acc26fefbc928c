package picture

import (
	"math"
	"sort"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// Edges that lie behind one another as seen, or belong to two pieces that touch,
// fall on the same line of the paper. Each stretch of it is drawn once.

// carrier is a line of the paper, with stretches of it.
type carrier struct {
	d    r2.Vec
	off  float64 // along d.Perp()
	runs []stretch
}

type stretch struct {
	from, to       float64
	round, contour bool
	look           Look
}

// once returns the strokes with what lies on the same line added up.
func once(in []stroke) []stroke {
	mid := r2.EmptyBox()
	for _, s := range in {
		mid = mid.Add(s.a).Add(s.b)
	}
	o := mid.Min.Add(mid.Max).Scale(0.5)
	var lines []carrier
	cells := map[int64][]int{}
	for _, s := range in {
		a, b := s.a.Sub(o), s.b.Sub(o)
		d := b.Sub(a).Unit()
		if d.X < -sameWay || math.Abs(d.X) <= sameWay && d.Y < 0 {
			a, b, d = b, a, d.Neg()
		}
		off := d.Perp().Dot(a.Add(b).Scale(0.5))
		cell := int64(math.Floor(off / tol.Page))
		id := -1
		for _, c := range [3]int64{cell, cell - 1, cell + 1} {
			for _, i := range cells[c] {
				l := &lines[i]
				if id < 0 && math.Abs(l.d.Cross(d)) < sameWay && math.Abs(l.off-off) < tol.Page {
					id = i
				}
			}
		}
		if id < 0 {
			id = len(lines)
			lines = append(lines, carrier{d: d, off: off})
			cells[cell] = append(cells[cell], id)
		}
		l := &lines[id]
		l.runs = append(l.runs, stretch{l.d.Dot(a), l.d.Dot(b), s.round, s.contour, s.look})
	}
	var out []stroke
	for i := range lines {
		l := &lines[i]
		base := o.Add(l.d.Perp().Scale(l.off))
		for _, r := range l.sum() {
			out = append(out, stroke{base.Add(l.d.Scale(r.from)), base.Add(l.d.Scale(r.to)), r.round, r.contour, r.look})
		}
	}
	return out
}

// sameWay is the sine of the angle between lines of one direction: over the
// metre that a toy has at most it stays below a hundredth of a pencil line.
const sameWay = 1e-6

// sum returns the stretches of the line without overlaps; where several lie on
// each other the heavier line shows.
func (l *carrier) sum() []stretch {
	if len(l.runs) == 1 {
		return l.runs
	}
	var stops []float64
	for _, r := range l.runs {
		stops = append(stops, r.from, r.to)
	}
	sort.Float64s(stops)
	k := 1
	for _, s := range stops[1:] {
		if s-stops[k-1] > 2*tol.Page {
			stops[k] = s
			k++
		}
	}
	var out []stretch
	for i := 0; i+1 < k; i++ {
		now := stretch{from: stops[i], to: stops[i+1], look: Quiet}
		at, any, straight := (now.from+now.to)/2, false, false
		for _, r := range l.runs {
			if r.from < at && at < r.to {
				any = true
				straight = straight || !r.round
				now.contour = now.contour || r.contour
				now.look = max(now.look, r.look)
			}
		}
		now.round = !straight
		if !any {
			continue
		}
		if n := len(out); n > 0 && out[n-1].to == now.from && out[n-1].contour == now.contour && out[n-1].look == now.look {
			o := &out[n-1]
			o.to = now.to
			o.round = o.round && now.round && l.chord(o.from, o.to)
		} else {
			out = append(out, now)
		}
	}
	return out
}

// chord tells whether one piece of a curve covers the stretch: a curve whose
// pieces go straight on is seen edge-on.
func (l *carrier) chord(from, to float64) bool {
	for _, r := range l.runs {
		if r.round && r.from <= from+2*tol.Page && r.to >= to-2*tol.Page {
			return true
		}
	}
	return false
}

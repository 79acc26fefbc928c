package boards

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/shop/nest"
)

// Rows are the layout that is easiest to follow: pieces of one kind side by side, row upon
// row from the reference edge. A search only earns its place where it saves a board.

// rowStep is how far a piece is moved along, or a row up, to get past a flaw or a slanting
// end, mm.
const rowStep = 1.5

// A row is pieces side by side on a board.
type row struct {
	y, high, x  float64 // x: where the last piece ends
	first, last int     // items; none that needs more room than the first goes there
	full        map[int]bool
	rounds      bool // it lies in the gaps of another, or another in its: nothing but rounds goes there
}

// rows lays the pieces of a problem in rows: the widest first, each in the first row that
// has room for it, on boards in the order given. Pieces lie in their first turn.
// dia has the diameters of rounds, 0 for all else: rounds lie in the gaps of the row before, or,
// where that is not wanted, square above it, which takes more of them on some narrow boards.
// Once a piece finds no place no other like it does, and none finds one on a board before that of
// the last like it.
func rows(p *nest.Problem, dia []float64, boards []int, less func(a, b r2.Vec) bool, gaps bool) nest.Layout {
	out := nest.Layout{Left: make([]int, len(p.Items))}
	boxes := make([]r2.Box, len(p.Items))
	for i := range p.Items {
		boxes[i] = r2.Around(p.Laid(nest.Place{Item: i}).Outer...)
	}
	discs := make([][]disc, len(p.Boards))
	stacks := make([][]*row, len(p.Boards))
	shut := make([]map[int]bool, len(p.Boards)) // items that get no new row
	for b := range shut {
		shut[b] = map[int]bool{}
	}
	for _, i := range sorted(len(p.Items), func(a, b int) bool { return less(boxes[a].Size(), boxes[b].Size()) }) {
		size := boxes[i].Size()
		put := func(b int, r *row) bool {
			if r.full[i] || p.Items[i].Room > p.Items[r.first].Room || r.rounds && dia[i] == 0 || size.Y > r.high+1e-9 {
				return false
			}
			in := r2.Around(p.Boards[b].Shape.Outer...)
			rim := p.Rim + p.Items[i].Room
			from := in.Min.X + rim
			if r.last >= 0 {
				from = max(from, r.x+gap(p, r.last, i))
			}
			for x := from; x+size.X <= in.Max.X-rim+1e-9; x += rowStep {
				if dia[i] > 0 {
					half := dia[i] / 2
					x = pastDiscs(p, discs[b], i, x+size.X/2, r.y+size.Y/2, half) - size.X/2
					if x+size.X > in.Max.X-rim+1e-9 {
						break
					}
					if c := (r2.Vec{X: x + size.X/2, Y: r.y + size.Y/2}); clearRound(p.Boards[b].Shape, c, half+rim) {
						out.Places = append(out.Places, nest.Place{Item: i, Board: b, At: r2.Vec{X: x, Y: r.y}.Sub(boxes[i].Min)})
						discs[b] = append(discs[b], disc{c, half, i})
						r.x, r.last = x+size.X, i
						return true
					}
					continue
				}
				at := r2.Vec{X: x, Y: r.y}
				if clear(p.Boards[b].Shape, r2.Box{Min: at, Max: at.Add(size)}, rim) {
					out.Places = append(out.Places, nest.Place{Item: i, Board: b, At: at.Sub(boxes[i].Min)})
					r.x, r.last = x+size.X, i
					return true
				}
			}
			r.full[i] = true
			return false
		}
		start := func(b int) bool {
			if shut[b][i] {
				return false
			}
			in := r2.Around(p.Boards[b].Shape.Outer...)
			rim := p.Rim + p.Items[i].Room
			y := in.Min.Y + rim
			var under *row // whose gaps the new row lies in
			if n := len(stacks[b]); n > 0 {
				top := stacks[b][n-1]
				next := top.y + top.high + gap(p, top.first, i)
				if gaps && dia[i] > 0 && top.first == i && top.last == i { // rounds of one size, in each other's gaps
					apart := dia[i] + gap(p, i, i)
					far := apart + 2*roundChord // see pastDisc
					next = top.y + math.Sqrt(float64(far*far)-float64(apart*apart/4)) + 1e-6
					under = top
				}
				y = max(y, next)
			}
			for ; y+size.Y <= in.Max.Y-rim+1e-9; y += rowStep {
				r := &row{y: y, high: size.Y, last: -1, first: i, full: map[int]bool{}}
				if put(b, r) {
					if under != nil {
						r.rounds, under.rounds = true, true
					}
					stacks[b] = append(stacks[b], r)
					return true
				}
			}
			shut[b][i] = true
			return false
		}
		k, n := 0, 0
		for n < p.Items[i].Count && k < len(boards) {
			done := false
			for _, r := range stacks[boards[k]] {
				if done = put(boards[k], r); done {
					break
				}
			}
			if done || start(boards[k]) {
				n++
			} else {
				k++
			}
		}
		out.Left[i] = p.Items[i].Count - n
	}
	return out
}

// A disc is a round that lies on a board.
type disc struct {
	at   r2.Vec
	half float64
	item int
}

// pastDiscs returns the least x from a place on at which a round is clear of others.
func pastDiscs(p *nest.Problem, list []disc, item int, x, y, half float64) float64 {
	for moved := true; moved; {
		moved = false
		for _, d := range list {
			c := r2.Vec{X: x, Y: y}
			if past, ok := pastDisc(d.at, c, half+d.half+gap(p, item, d.item)); !ok && past > x {
				x, moved = past, true
			}
		}
	}
	return x
}

// pastDisc tells whether two rounds whose middles have to be so far apart are, and if not from
// which x on the second is clear of the first. Side by side or one above the other the polygons
// that stand for them face each other with sides that touch the rounds, else maybe with corners.
func pastDisc(a, c r2.Vec, apart float64) (x float64, ok bool) {
	const slight = 1e-7
	d := c.Sub(a)
	far := apart + 2*roundChord
	switch {
	case math.Abs(d.Y) < slight:
		return a.X + apart, math.Abs(d.X) >= apart-slight
	case math.Abs(d.X) < slight && math.Abs(d.Y) >= apart-slight:
		return c.X, true
	case math.Abs(d.Y) >= far || math.Abs(d.X) >= far:
		return c.X, true
	}
	reach := math.Sqrt(float64(far*far) - float64(d.Y*d.Y))
	return a.X + reach, math.Abs(d.X) >= reach-slight
}

// clearRound tells whether a round of that radius, its rim with it, lies on a board and on
// none of its flaws. The polygon that stands for it has sides at the quarters, so that it is
// no nearer to lines along the board and across it; to others its corners may be.
func clearRound(s nest.Shape, c r2.Vec, r float64) bool {
	far := func(poly []r2.Vec) bool {
		for i, a := range poly {
			b := poly[(i+1)%len(poly)]
			d := b.Sub(a)
			t := c.Sub(a).Dot(d) / d.Dot(d)
			off := roundChord
			if t >= 0 && t <= 1 && (d.X == 0 || d.Y == 0) {
				off = 0
			}
			t = math.Min(1, math.Max(0, t))
			if c.Sub(a.Add(d.Scale(t))).Len() < r+off-1e-7 {
				return false
			}
		}
		return true
	}
	if !inside(s.Outer, c) || !far(s.Outer) {
		return false
	}
	for _, h := range s.Holes {
		if inside(h, c) || !far(h) {
			return false
		}
	}
	return true
}

func gap(p *nest.Problem, a, b int) float64 { return p.Gap + (p.Items[a].Room+p.Items[b].Room)/2 }

// wideFirst and longFirst are orders of pieces by the size of their boxes.
func wideFirst(a, b r2.Vec) bool { return a.Y > b.Y || a.Y == b.Y && a.X > b.X }
func longFirst(a, b r2.Vec) bool { return a.X > b.X || a.X == b.X && a.Y > b.Y }

// clear tells whether a box and a rim around it lie on a board, and on none of its flaws.
func clear(s nest.Shape, b r2.Box, rim float64) bool {
	const slight = 1e-7
	grow := r2.Vec{X: rim - slight, Y: rim - slight}
	b = r2.Box{Min: b.Min.Sub(grow), Max: b.Max.Add(grow)}
	mid := b.Min.Add(b.Max).Scale(0.5)
	if crosses(s.Outer, b) || !inside(s.Outer, mid) {
		return false
	}
	for _, h := range s.Holes {
		if crosses(h, b) || inside(h, mid) {
			return false
		}
	}
	return true
}

// crosses tells whether a line of a polygon passes through a box.
func crosses(poly []r2.Vec, b r2.Box) bool {
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		t0, t1 := 0.0, 1.0
		d := q.Sub(p)
		in := true
		for _, c := range [4][2]float64{{-d.X, p.X - b.Min.X}, {d.X, b.Max.X - p.X}, {-d.Y, p.Y - b.Min.Y}, {d.Y, b.Max.Y - p.Y}} {
			switch {
			case c[0] == 0:
				in = in && c[1] > 0
			case c[0] < 0:
				t0 = max(t0, c[1]/c[0])
			default:
				t1 = min(t1, c[1]/c[0])
			}
		}
		if in && t0 < t1 {
			return true
		}
	}
	return false
}

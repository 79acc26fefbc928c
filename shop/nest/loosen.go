package nest

import (
	"math"

	"dryfit/geom/r2"
)

// Effort, in lines and rounds, found by trial on open instances of nesting: with fewer tries
// a good place stays unseen, with more too few pieces move.
const (
	tries    = 3    // lines through places anywhere, for one move
	asides   = 3    // lines along another piece's side
	follow   = 6    // lines from there on, while they better it
	patience = 100  // rounds without getting better
	hopeful  = 2    // times the best place so far: what is still worth going on from
	better   = 0.98 // of the total: what counts as that

	// What a clash that lasts comes to weigh, each round: from least for the slightest to
	// least + more for the deepest; what is gone loses its weight slowly.
	weighLeast  = 1.2
	weighMore   = 0.6
	weighForget = 0.95
)

// move looks for a place where piece i weighs least, on any board, turned in any way, and
// puts it there.
func (y *yard) move(i int) {
	g := y.g
	item := int(g.item[i])
	best := spot{f: math.Inf(1)}
	bk, bb := y.kind[i], y.on[i]
	keep := func(k, b int32, s spot) {
		if s.f < best.f {
			best, bk, bb = s, k, b
		}
	}
	if y.on[i] >= 0 {
		_, f := y.sums(i)
		s := spot{at: y.at[i], f: f}
		keep(y.kind[i], y.on[i], y.descend(i, y.kind[i], y.on[i], s))
	}
	for t := 0; t < tries+asides && best.f > 0; t++ {
		k := int32(g.first[item] + y.r.IntN(g.first[item+1]-g.first[item]))
		b := y.someBoard()
		room, ok := y.fits(k, b)
		if !ok {
			continue
		}
		from := r2.Vec{X: room.x0 + float64(y.r.Float64()*(room.x1-room.x0)), Y: room.y0 + float64(y.r.Float64()*(room.y1-room.y0))}
		if t >= tries {
			from = y.beside(i, k, b, from)
		}
		dir := r2.Vec{X: 1}
		if y.r.IntN(2) == 0 {
			dir = r2.Vec{Y: 1}
		}
		from.X = math.Min(math.Max(from.X, room.x0), room.x1)
		from.Y = math.Min(math.Max(from.Y, room.y0), room.y1)
		s, ok := y.along(i, k, b, from, dir, float64(hopeful*best.f))
		if !ok {
			continue
		}
		keep(k, b, y.descend(i, k, b, s))
	}
	if !math.IsInf(best.f, 1) {
		y.put(i, bk, bb, best.at)
	}
}

// beside returns a shift at which the piece touches a corner of a clash with another.
func (y *yard) beside(i int, k, b int32, or r2.Vec) r2.Vec {
	for t := 0; t < 4; t++ {
		j := y.r.IntN(y.pieces())
		if j == i || y.on[j] != b {
			continue
		}
		c := y.g.between(k, y.kind[j])
		p := c.parts[y.r.IntN(len(c.parts))]
		n := int(p.to - p.from)
		e := y.r.IntN(n)
		a, d := c.edges[int(p.from)+e], c.edges[int(p.from)+(e+1)%n]
		det := float64(a.nx*d.ny) - float64(a.ny*d.nx)
		if math.Abs(det) < parallel {
			continue
		}
		return y.at[j].Add(r2.Vec{X: (float64(a.d*d.ny) - float64(d.d*a.ny)) / det, Y: (float64(a.nx*d.d) - float64(d.nx*a.d)) / det})
	}
	return or
}

// someBoard returns a board by chance, larger ones more often.
func (y *yard) someBoard() int32 {
	if len(y.room) == 1 {
		return 0
	}
	sum := 0.0
	for _, b := range y.room {
		sum += area(b)
	}
	at := float64(y.r.Float64() * sum)
	for i, b := range y.room {
		if at -= area(b); at < 0 {
			return int32(i)
		}
	}
	return int32(len(y.room) - 1)
}

func area(b box) float64 {
	return float64(math.Max(0, b.x1-b.x0) * math.Max(0, b.y1-b.y0))
}

// descend goes from a place to better ones along lines, as long as it gets better.
func (y *yard) descend(i int, k, b int32, s spot) spot {
	dirs := [2]r2.Vec{{X: 1}, {Y: 1}}
	stuck := 0
	for n := 0; n < follow && s.f > 0 && stuck < 3; n++ {
		dir := dirs[n%2]
		if stuck == 2 {
			if s.u == (r2.Vec{}) || s.u.X == 0 || s.u.Y == 0 {
				break
			}
			dir = s.u
		}
		t, ok := y.along(i, k, b, s.at, dir, s.f)
		if ok && t.f < s.f-y.g.slight {
			s, stuck = t, 0
		} else {
			stuck++
		}
	}
	return s
}

// loosen moves pieces that are in others until none is, or until patience rounds have not
// made it better. It returns whether all are free, and where the pieces stood best.
func (y *yard) loosen(patience int, stop func() bool) bool {
	n := y.pieces()
	least := math.Inf(1)
	var best stand
	defer func() {
		if least > 0 && best.at != nil {
			y.back(best)
		}
	}()
	var order []int
	for idle := 0; idle < patience; idle++ {
		order = order[:0]
		total := 0.0
		for i := 0; i < n; i++ {
			if plain, _ := y.sums(i); plain > 0 {
				order = append(order, i)
				total += plain
			}
		}
		if total == 0 {
			least = 0
			return true
		}
		if total < least {
			if total < better*least {
				idle = 0
			}
			least, best = total, y.stand()
		}
		if stop() {
			return false
		}
		y.r.Shuffle(len(order), func(a, b int) { order[a], order[b] = order[b], order[a] })
		for _, i := range order {
			if plain, _ := y.sums(i); plain > 0 {
				y.move(i)
			}
		}
		y.weigh()
	}
	return false
}

// weigh makes clashes that last weigh more: each by its share of the deepest (guided local
// search, Voudouris and Tsang 1999; for overlaps of polygons Egeblad, Nielsen and Odgaard
// 2007, and Umetani et al. 2009).
func (y *yard) weigh() {
	most := 0.0
	for _, d := range y.deep {
		if d > most {
			most = d
		}
	}
	if most == 0 {
		return
	}
	for k, d := range y.deep {
		if d > 0 {
			y.w[k] = float64(y.w[k] * (weighLeast + float64(weighMore*d/most)))
		} else if y.w[k] > y.g.base[k] {
			y.w[k] = math.Max(y.g.base[k], float64(y.w[k]*weighForget))
		}
	}
}

package solid

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// Overlapping says how two bodies claim the same space.
type Overlapping struct {
	Volume float64 // shared, mm³
	Depth  float64 // the deepest that a piece of one is in a piece of the other
	Clear  r3.Vec  // a shortest move of b that ends the overlap of every pair of pieces now in each other
	Where  r3.Vec  // centre of the shared volume
	A, B   int     // the pieces that are deepest in each other, -1 if none
}

// Overlap returns what a and b share. Pieces that only touch share nothing.
func Overlap(a, b Body) Overlapping {
	o := Overlapping{A: -1, B: -1}
	if a.Empty() || b.Empty() {
		return o
	}
	var k knife
	var g gauge
	var deepest, first r3.Vec // the way out of the deepest pair; volume times centre, from the middle of a
	mid := a.Bounds().Center()
	w := way{a: &a, b: &b}
	pairs(a.tree, b.tree, 0, func(i, j int32) bool {
		p, q := &a.Pieces[i], &b.Pieces[j]
		c, deep := k.meet(p, q)
		if c == nil {
			return true
		}
		if len(w.met) < allDirs || deep > o.Depth {
			s, n := g.separation(p, q, a.edges(i), b.edges(j))
			if s >= 0 {
				return true
			}
			w.add(n)
			if -s > o.Depth {
				o.Depth, o.A, o.B, deepest = -s, int(i), int(j), n
			}
		}
		vol, moment := c.first(mid)
		o.Volume += vol
		first = first.Add(moment)
		w.met = append(w.met, [2]int32{i, j})
		if len(w.dirs) < clearDirs {
			for f := range p.Faces {
				w.add(p.Faces[f].Plane.N)
			}
			for f := range q.Faces {
				w.add(q.Faces[f].Plane.N.Neg())
			}
		}
		return true
	})
	if o.Volume == 0 {
		return o
	}
	o.Where = mid.Add(first.Scale(1 / o.Volume))
	o.Clear = w.shortest(deepest)
	return o
}

// clearDirs is how many directions Clear chooses from: enough for every face of
// two blanks and a few holes, and the search stays linear in the pairs. allDirs
// is the number of pairs from each of which it takes its own shortest way, too.
const (
	clearDirs = 96
	allDirs   = 64
)

// way looks for a short move that ends the overlap of all pairs that met.
type way struct {
	a, b *Body
	met  [][2]int32
	dirs []r3.Vec
	far  [2][]float64 // how far each piece reaches along, or against, a direction
	at   [2][]int32   // which direction that is
}

func (w *way) add(n r3.Vec) {
	if len(w.dirs) >= clearDirs {
		return
	}
	for _, d := range w.dirs {
		if d.Dot(n) > 1-tol.Weld {
			return
		}
	}
	w.dirs = append(w.dirs, n)
}

// shortest returns the shortest move along one of the directions, or along the
// way out of the deepest pair.
func (w *way) shortest(deepest r3.Vec) (clear r3.Vec) {
	for k, n := range [2]int{len(w.a.Pieces), len(w.b.Pieces)} {
		w.far[k], w.at[k] = make([]float64, n), make([]int32, n)
	}
	best, hard := math.Inf(1), 0
	for k := 0; k <= len(w.dirs); k++ {
		n := deepest
		if k < len(w.dirs) {
			n = w.dirs[k]
		}
		// The pair that ruled out the last direction is likely to rule out this one.
		need := math.Max(0, w.need(hard, n, int32(k+1)))
		for m := 0; m < len(w.met) && need < best; m++ {
			if x := w.need(m, n, int32(k+1)); x > need {
				if need = x; need >= best {
					hard = m
				}
			}
		}
		if need < best-tol.Clip {
			best, clear = need, n.Scale(need)
		}
	}
	return clear
}

// need returns how far the pieces of a pair must move apart along n, the k-th
// direction.
func (w *way) need(m int, n r3.Vec, k int32) float64 {
	i, j := w.met[m][0], w.met[m][1]
	if w.at[0][i] != k {
		w.at[0][i] = k
		_, w.far[0][i] = w.a.Pieces[i].Support(n)
	}
	if w.at[1][j] != k {
		w.at[1][j] = k
		_, w.far[1][j] = w.b.Pieces[j].Support(n.Neg())
	}
	return w.far[1][j] + w.far[0][i]
}

// Penetrates tells whether some piece of a is in some piece of b by more than
// depth (0 or more).
func Penetrates(a, b Body, depth float64) bool {
	if a.Empty() || b.Empty() {
		return false
	}
	var g gauge
	return !pairs(a.tree, b.tree, -depth, func(i, j int32) bool {
		p, q := &a.Pieces[i], &b.Pieces[j]
		if clears(p, q, depth) || clears(q, p, depth) {
			return true
		}
		s, _ := g.separation(p, q, a.edges(i), b.edges(j))
		return s >= -depth
	})
}

// clears tells whether a face of p already keeps q from entering by more than depth.
func clears(p, q *Convex, depth float64) bool {
	for i := range p.Faces {
		if in, _ := q.reach(p.Faces[i].Plane); in <= depth {
			return true
		}
	}
	return false
}

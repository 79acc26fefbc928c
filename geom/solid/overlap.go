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
	var first r3.Vec // volume times centre, from the middle of a
	mid := a.Bounds().Center()
	var met [][2]int32
	var dirs []r3.Vec
	ea, eb := a.edges(), b.edges()
	pairs(a.tree, b.tree, 0, func(i, j int32) bool {
		p, q := &a.Pieces[i], &b.Pieces[j]
		c := k.common(p, q)
		if c == nil {
			return true
		}
		s, n := g.separation(p, q, ea[i], eb[j])
		if s >= 0 {
			return true
		}
		m := c.Moments()
		o.Volume += m.Volume
		first = first.Add(m.Center.Sub(mid).Scale(m.Volume))
		if -s > o.Depth {
			o.Depth, o.A, o.B = -s, int(i), int(j)
		}
		met = append(met, [2]int32{i, j})
		dirs = addDir(dirs, n)
		for f := range p.Faces {
			dirs = addDir(dirs, p.Faces[f].Plane.N)
		}
		for f := range q.Faces {
			dirs = addDir(dirs, q.Faces[f].Plane.N.Neg())
		}
		return true
	})
	if o.Volume == 0 {
		return o
	}
	o.Where = mid.Add(first.Scale(1 / o.Volume))
	best := math.Inf(1)
	for _, n := range dirs {
		need := 0.0
		for _, m := range met {
			need = math.Max(need, -along(&a.Pieces[m[0]], &b.Pieces[m[1]], n))
			if need >= best {
				break
			}
		}
		if need < best-tol.Clip {
			best, o.Clear = need, n.Scale(need)
		}
	}
	return o
}

// clearDirs is how many directions Clear chooses from at most: enough for every
// face of two blanks and a few holes, and the search stays linear in the pairs.
const clearDirs = 96

func addDir(dirs []r3.Vec, n r3.Vec) []r3.Vec {
	if len(dirs) >= clearDirs {
		return dirs
	}
	for _, d := range dirs {
		if d.Dot(n) > 1-tol.Weld {
			return dirs
		}
	}
	return append(dirs, n)
}

// Penetrates tells whether some piece of a is in some piece of b by more than
// depth (0 or more).
func Penetrates(a, b Body, depth float64) bool {
	if a.Empty() || b.Empty() {
		return false
	}
	var g gauge
	ea, eb := a.edges(), b.edges()
	return !pairs(a.tree, b.tree, -depth, func(i, j int32) bool {
		p, q := &a.Pieces[i], &b.Pieces[j]
		if clears(p, q, depth) || clears(q, p, depth) {
			return true
		}
		s, _ := g.separation(p, q, ea[i], eb[j])
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

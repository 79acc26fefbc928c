package prove

import (
	"math"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// fit.overlap: every two pieces whose boxes meet are cut with each other. A rod
// in a hole made for it is decided by true radii (fit.dowel, fit.holes): of the
// rod only what lies outside the hole is tried, against the piece with its round
// holes filled, so a rod that goes deeper than its hole still overlaps.

var overlapCheck = Check{
	ID: "fit.overlap", Asks: "do two pieces claim the same wood?", run: overlap,
	How: "Every two pieces whose boxes meet are cut with each other, convex piece by convex piece; the depth is the least shift that would part the deepest pair. A rod in a hole made for it is decided by true radii (fit.dowel, fit.holes): of the rod only what lies outside the hole is tried.",
	Limits: []Limit{
		{"two pieces may enter each other by", inMM(tol.Touch), "the accuracy of the computation"},
	},
}

// accuracy is where the limit of touching comes from.
const accuracy = "the accuracy of the computation"

// clashing is two pieces that claim the same wood.
type clashing struct {
	i, j int
	solid.Overlapping
}

// opposed is the cosine beyond which two moves count as the opposite ways: 45 degrees.
const opposed = 0.7

// wedgedBy finds another piece that the second of a pair would have to move the other
// way from: then no move helps.
func wedgedBy(found []clashing, k int) (other int, ok bool) {
	c := found[k]
	for _, d := range found {
		if d.i != c.i && d.j == c.j && d.Clear.Unit().Dot(c.Clear.Unit()) < -opposed {
			return d.i, true
		}
	}
	return 0, false
}

func overlap(r *run) {
	if r.w.built {
		r.builtOverlap()
		return
	}
	n, pairs := len(r.m.Pieces), 0
	var found []clashing
	for i := 0; i < n; i++ {
		for j := i + 1; j < n; j++ {
			if !r.m.Pieces[i].Body.Bounds().Meets(r.m.Pieces[j].Body.Bounds()) {
				continue
			}
			pairs++
			a, b := r.apart(i, j)
			o := solid.Overlap(a, b)
			if o.Depth <= tol.Touch {
				continue
			}
			found = append(found, clashing{i, j, o})
		}
	}
	for k, c := range found {
		pi, pj := r.m.Pieces[c.i], r.m.Pieces[c.j]
		mend := "move " + pj.ID + " " + r.way(c.Clear)
		if other, ok := wedgedBy(found, k); ok {
			mend = pj.ID + " has no room between " + pi.ID + " and " + r.m.Pieces[other].ID + ": make it smaller, or move them apart"
		}
		r.add(Finding{
			Check: "fit.overlap", About: pi.ID + "~" + pj.ID, Verdict: Fails,
			Value: c.Depth, Unit: "mm", Limit: tol.Touch, LimitOp: "<=", Source: accuracy,
			Says:   pi.ID + " and " + pj.ID + " claim the same wood, " + r.len(c.Depth) + " deep: " + mend,
			Notes:  []string{"shared volume " + volume(c.Volume)},
			Places: []Place{r.place(c.i, "", c.Where, pi.At), r.place(c.j, "", c.Where, pj.At)},
		})
	}
	if !r.has("fit.overlap") {
		r.add(Finding{Check: "fit.overlap", About: "toy", Verdict: Holds, Value: 0, Unit: "mm", Limit: tol.Touch, LimitOp: "<=",
			Source: accuracy, Says: "no two pieces claim the same wood (" + count(pairs, "pair") + " tried)"})
	}
}

// clash returns the first two pieces that claim the same wood.
func (r *run) clash() (i, j int, ok bool) {
	for i := range r.m.Pieces {
		for j := i + 1; j < len(r.m.Pieces); j++ {
			if !r.m.Pieces[i].Body.Bounds().Meets(r.m.Pieces[j].Body.Bounds()) {
				continue
			}
			if a, b := r.apart(i, j); solid.Penetrates(a, b, tol.Touch) {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// has tells whether the check has found anything yet.
func (r *run) has(check string) bool {
	for _, f := range r.findings {
		if f.Check == check {
			return true
		}
	}
	return false
}

// apart returns the bodies of two pieces as they are to be tried against each
// other.
func (r *run) apart(i, j int) (a, b solid.Body) {
	if s, ok := r.outside(i, j); ok {
		return s, r.m.Pieces[j].Body
	}
	if s, ok := r.outside(j, i); ok {
		return r.m.Pieces[i].Body, s
	}
	return r.against(i, j), r.against(j, i)
}

// against returns piece i as another piece meets it: with its round holes cut
// out where the other comes into one of them.
func (r *run) against(i, j int) solid.Body {
	p, q := r.m.Pieces[i], r.m.Pieces[j].Body.Bounds()
	for _, b := range r.w.pairs.bores[i] {
		if b.Meets(q) {
			return p.Bored()
		}
	}
	return p.Body
}

func boreBox(b assembly.Bore) r3.Box {
	g := r3.Vec{X: float64(b.R * math.Sqrt(1-math.Min(1, b.Dir.X*b.Dir.X))), Y: float64(b.R * math.Sqrt(1-math.Min(1, b.Dir.Y*b.Dir.Y))), Z: float64(b.R * math.Sqrt(1-math.Min(1, b.Dir.Z*b.Dir.Z)))}
	p, q := b.Point.Add(b.Dir.Scale(b.Lo)), b.Point.Add(b.Dir.Scale(b.Hi))
	return r3.Around(p.Sub(g), p.Add(g), q.Sub(g), q.Add(g))
}

// without takes what is in a bore away from stretches of its axis, which are measured
// from the place of a point along the axis.
func without(rest [][2]float64, b assembly.Bore, from, dir r3.Vec) (left [][2]float64) {
	lo, hi := b.Along(from, dir)
	for _, s := range rest {
		if lo > s[0] {
			left = append(left, [2]float64{s[0], math.Min(s[1], lo)})
		}
		if hi < s[1] {
			left = append(left, [2]float64{math.Max(s[0], hi), s[1]})
		}
	}
	return left
}

// outside returns what of rod i lies outside the holes of piece j that it is
// fitted into; ok is false where it is in none.
func (r *run) outside(i, j int) (solid.Body, bool) {
	in := false
	c, dir, radius := r.m.Pieces[i].Axis()
	half := r.m.Pieces[i].Made.Size.X / 2
	rest := [][2]float64{{-half, half}}
	for _, f := range r.m.Fits {
		if f.Rod != i || f.Piece != j {
			continue
		}
		in = true
		rest = without(rest, r.m.Pieces[j].Bore(f.Bore), c, dir)
	}
	if !in {
		return solid.Body{}, false
	}
	p := r.m.Pieces[i].Pose
	frame := r3.Pose{U: p.V, V: p.W, W: p.U, O: c}
	var cs []solid.Convex
	for _, s := range rest {
		if s[1]-s[0] > tol.Touch {
			cs = append(cs, solid.Cylinder(frame, radius, s[0], s[1], 1, 2, 3))
		}
	}
	return solid.NewBody(cs), true
}

package prove

import (
	"fmt"
	"math"
	"sort"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// fit.holes: the holes that one rod goes through have to lie in one line, as far
// as the slack of both allows. Decided by axes and true radii.

const exact = "geometry: slack of the two holes"

var holesCheck = Check{
	ID: "fit.holes", Asks: "do holes that share a dowel line up?", run: holes,
	How: "The axes of the holes that one rod goes through are compared in the middle of their wood, with what a lean adds over its length. The slack of both holes is what they may be out of line. Wheels follow their axle and are left out.",
	Limits: []Limit{
		{"out of line by no more than", "half the slack of both holes", "geometry"},
	},
}

func holes(r *run) {
	for _, rod := range r.rods() {
		var fits []assembly.Fit
		for _, f := range rod.fits {
			if f.Role != "wheel" { // a wheel goes where its axle is
				fits = append(fits, f)
			}
		}
		if len(fits) < 2 {
			continue
		}
		c, dir, _ := r.m.Pieces[rod.piece].Axis()
		type bad struct{ off, allowed, margin, lean float64 }
		worst := bad{margin: math.Inf(1)}
		var at [2]int
		for i := range fits {
			for j := i + 1; j < len(fits); j++ {
				a, b := r.m.Pieces[fits[i].Piece].Bore(fits[i].Bore), r.m.Pieces[fits[j].Piece].Bore(fits[j].Bore)
				// how far each axis is from the rod's line in the middle of its wood,
				// and what the lean of one against the other adds over its length
				lean := trig.Asin(math.Min(1, a.Dir.Cross(b.Dir).Len()))
				off := r.aside(fits[i], c, dir).Sub(r.aside(fits[j], c, dir)).Len() + float64(trig.Tan(math.Min(lean, steep))*r.woodOf(fits[j])/2)
				allowed := (math.Max(0, r.m.Slack(fits[i]))+math.Max(0, r.m.Slack(fits[j])))/2 + tol.Touch
				if m := allowed - off; m < worst.margin {
					worst = bad{off, allowed, m, lean}
					at = [2]int{i, j}
				}
			}
		}
		f := Finding{Check: "fit.holes", About: r.m.Pieces[rod.piece].ID, Verdict: Holds, Value: worst.off, Unit: "mm", Limit: worst.allowed, LimitOp: "<=", known: true, Margin: worst.margin, Source: exact,
			Says: r.m.Pieces[rod.piece].ID + " goes straight through its " + count(len(fits), "hole")}
		if worst.margin < 0 {
			f.Verdict = Fails
			f.Says = fmt.Sprintf("%s cannot go through %s and %s: they are %s out of line; bring them to within %s", r.m.Pieces[rod.piece].ID, r.hole(fits[at[0]]), r.hole(fits[at[1]]), r.len(worst.off), r.len(worst.allowed))
			if worst.lean > tol.Angle {
				f.Notes = append(f.Notes, "the two holes lean "+r.deg(worst.lean)+" against each other")
			}
		}
		for _, k := range at {
			b := r.m.Pieces[fits[k].Piece].Bore(fits[k].Bore)
			f.Places = append(f.Places, r.place(fits[k].Piece, b.Name, r.middle(fits[k], c, dir), b.At))
		}
		r.add(f)
	}
	if !r.has("fit.holes") {
		r.add(Finding{Check: "fit.holes", About: "toy", Verdict: Holds, Unit: "mm", LimitOp: "<=", Source: exact, Says: "no dowel goes through more than one hole"})
	}
}

// steep bounds the lean whose tangent is taken: beyond it the holes are square to
// each other and the finding fails by any measure.
const steep = 1.5

// aside returns how far a hole's axis lies from the rod's line, in the middle of
// the hole's wood and square to the rod.
func (r *run) aside(f assembly.Fit, c, dir r3.Vec) r3.Vec {
	b := r.m.Pieces[f.Piece].Bore(f.Bore)
	mid := r.middle(f, c, dir)
	d := b.Point.Sub(mid)
	along := b.Dir.Dot(dir)
	if math.Abs(along) < 1-trig.Sin(steep) {
		return d
	}
	d = d.Sub(b.Dir.Scale(d.Dot(dir) / along)) // down the hole's axis to the level of mid
	return d.Sub(dir.Scale(d.Dot(dir)))
}

// rodFits are the holes of one rod, in the order of the build.
type rodFits struct {
	piece int
	fits  []assembly.Fit
}

func (r *run) rods() []rodFits {
	by := map[int]*rodFits{}
	var order []int
	for _, f := range r.m.Fits {
		if by[f.Rod] == nil {
			by[f.Rod] = &rodFits{piece: f.Rod}
			order = append(order, f.Rod)
		}
		by[f.Rod].fits = append(by[f.Rod].fits, f)
	}
	sort.Ints(order)
	var out []rodFits
	for _, i := range order {
		out = append(out, *by[i])
	}
	return out
}

// wood returns the stretch of wood that a hole goes through, along the rod from
// its centre c.
func (r *run) wood(f assembly.Fit, c, dir r3.Vec) (lo, hi float64) {
	h := assembly.Hole{Piece: f.Piece, Bore: f.Bore}
	lo, hi, ok := r.m.Wood(h, c, dir)
	if !ok { // beside the wood: nothing to hold it
		at := r.m.Pieces[f.Piece].Bore(f.Bore).Point.Sub(c).Dot(dir)
		return at, at
	}
	return lo, hi
}

func (r *run) woodOf(f assembly.Fit) float64 {
	c, dir, _ := r.m.Pieces[f.Rod].Axis()
	lo, hi := r.wood(f, c, dir)
	return hi - lo
}

// middle is where the rod's line crosses the middle of a hole.
func (r *run) middle(f assembly.Fit, c, dir r3.Vec) r3.Vec {
	lo, hi := r.wood(f, c, dir)
	return c.Add(dir.Scale((lo + hi) / 2))
}

// hole names a hole as piece/feature.
func (r *run) hole(f assembly.Fit) string {
	return r.m.Name(assembly.Hole{Piece: f.Piece, Bore: f.Bore})
}

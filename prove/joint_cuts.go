package prove

import (
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/prove/strength"
)

// A cut parts a rigid body in two, across some of its bonds: what a hand pulls off, and
// what it is pulled from. Tried are every piece by itself, and what hangs on every
// bond and on every glue line that the file speaks of.

// cut is one of them. off is what comes off, the lighter side.
type cut struct {
	off, from []int
	bonds     []bond // across it; a is in off
}

// cuts lists the cuts of all rigid bodies.
func (r *run) cuts() []cut { return r.w.parts.get(r.findCuts) }

func (r *run) findCuts() (out []cut) {
	bodies := map[int][]int{}
	var order []int
	for i, b := range r.m.Rigid {
		if bodies[b] == nil {
			order = append(order, b)
		}
		bodies[b] = append(bodies[b], i)
	}
	all := r.bonds()
	for _, n := range order {
		ids := bodies[n]
		var own []bond
		for _, b := range all {
			if r.m.Rigid[b.a] == n && r.m.Rigid[b.b] == n {
				own = append(own, b)
			}
		}
		seen := map[string]bool{}
		try := func(set []int) {
			if len(set) == 0 || len(set) == len(ids) {
				return
			}
			rest := less(ids, set...)
			c := cut{off: set, from: rest}
			if r.weighs(rest) < r.weighs(set) {
				c.off, c.from = rest, set
			}
			key := ""
			for _, i := range c.off {
				key += string(rune(i)) + ","
			}
			if seen[key] {
				return
			}
			seen[key] = true
			for _, b := range own {
				ina, inb := slices.Contains(c.off, b.a), slices.Contains(c.off, b.b)
				if ina == inb {
					continue
				}
				if inb {
					b = b.turned()
				}
				c.bonds = append(c.bonds, b)
			}
			if len(c.bonds) > 0 {
				out = append(out, c)
			}
		}
		for _, i := range ids {
			try([]int{i})
		}
		for k := range own {
			try(hanging(own[k].a, ids, own, func(b bond) bool { return b.a == own[k].a && b.b == own[k].b }))
		}
		for _, g := range r.m.Glues {
			if r.m.Rigid[g.A[0]] != n {
				continue
			}
			try(hanging(g.A[0], ids, own, func(b bond) bool {
				return slices.Contains(g.A, b.a) && slices.Contains(g.B, b.b) || slices.Contains(g.A, b.b) && slices.Contains(g.B, b.a)
			}))
		}
	}
	return out
}

// hanging lists what hangs together with piece i when some bonds are parted.
func hanging(i int, ids []int, bonds []bond, parted func(bond) bool) []int {
	in := map[int]bool{i: true}
	for again := true; again; {
		again = false
		for _, b := range bonds {
			if in[b.a] != in[b.b] && !parted(b) {
				in[b.a], in[b.b], again = true, true, true
			}
		}
	}
	var out []int
	for _, j := range ids {
		if in[j] {
			out = append(out, j)
		}
	}
	return out
}

// turned is a bond seen from the other piece.
func (b bond) turned() bond {
	b.a, b.b = b.b, b.a
	ps := slices.Clone(b.patches)
	for i := range ps {
		ps[i].n = ps[i].n.Neg()
	}
	b.patches = ps
	return b
}

func (r *run) weighs(ids []int) float64 {
	kg, _ := r.massOf(ids)
	return kg
}

// dowelGlue returns how far a glued dowel is in its hole, and what its glue carries.
func (r *run) dowelGlue(f assembly.Fit) (in, tau float64, ok bool) {
	c, dir, _ := r.m.Pieces[f.Rod].Axis()
	lo, hi := r.wood(f, c, dir)
	half := r.m.Pieces[f.Rod].Made.Size.X / 2
	in = math.Max(0, math.Min(hi, half)-math.Max(lo, -half))
	a, okA := r.carries(f.Rod)
	b, okB := r.carries(f.Piece)
	tau = strength.Dowel(a, b)
	if slack := r.m.Slack(f); r.glue == asItIs && slack > assembly.GlueMost || r.glue == thickEverywhere {
		tau = float64(tau * strength.ThickGlue) // fit.dowel minds it
	}
	return in, tau, okA && okB
}

// capacity is what a cut holds and how many times the load that has to be, over all that
// carries together: the needs are weighed by what each carries.
type capacity struct{ holds, allowed float64 }

func (c *capacity) add(holds, need float64) {
	c.holds += holds
	c.allowed += holds / need
}

func (c capacity) against(load float64) factor {
	if c.holds == 0 {
		return factor{0, strength.NeedGlue}
	}
	return factor{c.holds / load, c.holds / c.allowed}
}

// short is how many times as much would be enough for a load; at least 1.
func (c capacity) short(load float64) float64 {
	f := c.against(load)
	return math.Max(1, f.need/f.is)
}

// cosines returns the cosines of a direction to the grain of a piece and to the normal of
// its sheet.
func (r *run) cosines(i int, n r3.Vec) (grain, face float64) {
	p := r.m.Pieces[i].Pose
	return math.Abs(p.U.Dot(n)), math.Abs(p.W.Dot(n))
}

// lying is the cosine up to which a direction counts as along a face, 6 degrees off: parts that
// lean less than that are held by the face all the same (common practice, no source).
const lying = 0.1

// pulled returns what a cut holds when its lighter side is pulled along d: glue against the
// pull and along it, dowels along their axis or sheared. ok is false where wood is in the way.
func (r *run) pulled(c cut, d r3.Vec) (k capacity, ok, told bool) {
	told = true
	for _, b := range c.bonds {
		wa, okA := r.carries(b.a)
		wb, okB := r.carries(b.b)
		told = told && okA && okB
		for _, p := range b.patches {
			cos := d.Dot(p.n)
			if cos > lying {
				return k, false, told
			}
			ga, fa := r.cosines(b.a, p.n)
			gb, fb := r.cosines(b.b, p.n)
			off := math.Min(wa.GlueTension(ga, fa), wb.GlueTension(gb, fb))
			along := math.Min(wa.GlueShear(ga, fa), wb.GlueShear(gb, fb))
			k.add(float64(p.area*strength.Hankinson(off, along, cos)), strength.NeedGlue)
		}
		for _, f := range b.fits {
			in, tau, ok := r.dowelGlue(f)
			told = told && ok
			_, dir, radius := r.m.Pieces[f.Rod].Axis()
			w, _ := r.carries(f.Rod)
			cos := dir.Dot(d)
			axial := strength.PullOut(tau, 2*radius, in)
			across := w.Shear / strength.Round{Dia: 2 * radius}.SingleShear(1)
			k.add(strength.Hankinson(axial, across, cos), strength.NeedGlue)
		}
	}
	return k, true, told
}

// ways lists the directions in which a cut is pulled: off each of its faces, and along each
// of its dowels.
func (r *run) ways(c cut) (out []r3.Vec) {
	add := func(d r3.Vec) {
		if !slices.ContainsFunc(out, func(e r3.Vec) bool { return e.Sub(d).Len() < tol.Clip }) {
			out = append(out, d)
		}
	}
	for _, b := range c.bonds {
		for _, p := range b.patches {
			add(p.n.Neg())
		}
		for _, f := range b.fits {
			_, dir, _ := r.m.Pieces[f.Rod].Axis()
			add(dir)
			add(dir.Neg())
		}
	}
	return out
}

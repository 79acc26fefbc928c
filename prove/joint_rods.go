package prove

import (
	"fmt"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/prove/strength"
	"dryfit/toy"
)

// Bending of rods. A rod in a hole is taken as held from the mouth on, and the load at
// the end of an arm.

// bent judges a rod under a force at the end of an arm: bending at the mouth, or shear
// across it where the arm is short.
func (r *run) bent(rod int, force, arm float64) (f factor, told bool, mend string) {
	return r.rod(rod, strength.Cantilever(force, arm), func(s strength.Round) float64 { return s.SingleShear(force) })
}

// rod judges a rod under a bending moment or a shear stress, whichever is worse, and says how
// thick a rod would carry it.
func (r *run) rod(rod int, moment float64, shear func(strength.Round) float64) (f factor, told bool, mend string) {
	w, told := r.carries(rod)
	by := func(dia float64) factor {
		s := strength.Round{Dia: dia}
		f, g := factor{w.Bend / s.Bending(moment), strength.NeedBend}, factor{w.Shear / shear(s), strength.NeedShear}
		if g.over() < f.over() {
			return g
		}
		return f
	}
	_, _, radius := r.m.Pieces[rod].Axis()
	f = by(2 * radius)
	if told && f.over() < 0 {
		dia := 2 * radius
		for by(dia).over() < 0 {
			dia += r.mark()
		}
		mend = "a rod of " + r.enough(dia) + " carries it"
	}
	return f, told, mend
}

// axles judges both ends of every axle: a hand pulls the outer wheel sideways; or presses
// on the body above the axle, which bears on its wheels.
func (r *run) axles(out []judged) []judged {
	l := r.loads()
	for _, a := range r.m.Axles {
		rod := r.m.Pieces[a.Rod]
		for end, sign := range []float64{-1, 1} {
			mouth := math.Max(sign*a.Lo, sign*a.Hi)
			outer := a.Wheels[end][len(a.Wheels[end])-1]
			pullArm := math.Max(0, float64(r.along(a, outer)*sign)-mouth)
			bears := r.bears(a, end)
			pressArm := math.Max(0, float64(bears*sign)-mouth)
			press := float64(r.shareOf(a, end) * l.press.N)
			name := fmt.Sprintf("%s under %s", rod.ID, r.m.Pieces[outer].ID)
			j := judged{about: name, off: a.Wheels[end], from: []int{a.Rod}, source: l.pull.From,
				at: r.place(a.Rod, "", a.Centre.Add(a.Dir.Scale(float64(mouth*sign))), a.Spec.At)}
			var mend string
			j.f, j.told, mend = r.bent(a.Rod, l.pull.N, pullArm)
			j.says = fmt.Sprintf("%s holds a pull of %s sideways on it", name, r.force(l.pull.N))
			arm := pullArm
			if f, _, m := r.bent(a.Rod, press, pressArm); f.over() < j.f.over() {
				j.f, j.source, arm, mend = f, l.press.From, pressArm, m
				j.says = fmt.Sprintf("%s holds a press of %s on the body, %s of it here", name, r.force(l.press.N), r.force(press))
			}
			j.mend = mend + ", or thinner wheels closer to the body"
			j.notes = []string{"bent where it leaves the body, by the load " + r.about(arm) + " out"}
			if end == 1 && !r.w.built && j.f == out[len(out)-1].f {
				continue // both ends alike
			}
			out = append(out, j)
		}
	}
	return out
}

// along is where the middle of a piece lies along an axle.
func (r *run) along(a assembly.Axle, piece int) float64 {
	c, _, _ := r.m.Pieces[piece].Axis()
	return c.Sub(a.Centre).Dot(a.Dir)
}

// bears is where the wheels of one end bear on the floor: the middle of the largest, of
// equals the inner, since the axle gives and lifts those farther out.
func (r *run) bears(a assembly.Axle, end int) float64 {
	best := a.Wheels[end][0]
	for _, w := range a.Wheels[end][1:] {
		if r.m.Pieces[w].Made.Size.X > r.m.Pieces[best].Made.Size.X+tol.Touch {
			best = w
		}
	}
	return r.along(a, best)
}

// shareOf is the share of a press that one end of an axle bears: the disc of the test lies on
// the body above the axle, as far out as it finds wood, and the two ends carry it as a beam.
func (r *run) shareOf(a assembly.Axle, end int) float64 {
	here, there := r.bears(a, end), r.bears(a, 1-end)
	if math.Abs(here-there) < gripLength {
		return 1
	}
	var body []int
	for i := range r.m.Pieces {
		if len(a.Hosts) > 0 && r.m.Rigid[i] == r.m.Rigid[a.Hosts[0].Piece] && i != a.Rod {
			body = append(body, i)
		}
	}
	lo, hi := r.extent(body, a.Dir)
	off := a.Centre.Dot(a.Dir)
	lo, hi = lo-off, hi-off
	disc := facts.Child(facts.PressDisc).Value / 2
	at := (lo + hi) / 2
	if here > there {
		at = math.Max(at, hi-disc)
	} else {
		at = math.Min(at, lo+disc)
	}
	return math.Min(1, math.Max(0.5, (at-there)/(here-there)))
}

// pins judges the pins of hinges: a pull across the pin on what turns on it.
func (r *run) pins(out []judged) []judged {
	pull := r.loads().pull
	for _, h := range r.m.Hinges {
		pin := r.m.Pieces[h.Pin]
		c, dir, _ := pin.Axis()
		half := pin.Made.Size.X / 2
		var held [][2]float64
		for _, k := range h.Fixed {
			held = append(held, r.stretches(h.Pin, k)...)
		}
		for _, k := range h.Runs {
			lo, hi := r.wood(assembly.Fit{Rod: h.Pin, Piece: k.Piece, Bore: k.Bore}, c, dir)
			at := (math.Max(lo, -half) + math.Min(hi, half)) / 2
			below, above := math.Inf(-1), math.Inf(1) // the nearest mouths on both sides
			for _, s := range held {
				if s[1] <= at {
					below = math.Max(below, s[1])
				}
				if s[0] >= at {
					above = math.Min(above, s[0])
				}
			}
			name := pin.ID + " in " + r.m.Pieces[k.Piece].ID
			j := judged{about: name, off: []int{k.Piece}, from: []int{h.Pin}, source: pull.From, at: r.place(h.Pin, "", c.Add(dir.Scale(at)), h.Spec.At),
				says: fmt.Sprintf("%s holds a pull of %s across it", name, r.force(pull.N))}
			switch {
			case !math.IsInf(below, 0) && !math.IsInf(above, 0):
				moment := strength.Spread(pull.N, above-below, math.Min(hi, above)-math.Max(lo, below))
				j.f, j.told, j.mend = r.rod(h.Pin, moment, func(s strength.Round) float64 { return s.DoubleShear(pull.N) })
				j.notes = []string{"held on both sides, " + r.about(above-below) + " apart: double shear, and bent as a beam"}
			case math.IsInf(below, 0) && math.IsInf(above, 0):
				continue // the holes share a place: fit.overlap says so
			default:
				arm := math.Min(at-below, above-at)
				j.f, j.told, j.mend = r.bent(h.Pin, pull.N, arm)
				j.mend += ", or one held on both sides"
				j.notes = []string{"bent where it is glued, by the load " + r.about(arm) + " out"}
			}
			out = append(out, j)
		}
	}
	return out
}

// stretches lists where a rod has wood of a hole round it, along it from its middle: more
// than one where the hole goes through a slot.
func (r *run) stretches(rod int, h assembly.Hole) (out [][2]float64) {
	c, dir, _ := r.m.Pieces[rod].Axis()
	lo, hi := r.wood(assembly.Fit{Rod: rod, Piece: h.Piece, Bore: h.Bore}, c, dir)
	half := r.m.Pieces[rod].Made.Size.X / 2
	lo, hi = math.Max(lo, -half), math.Min(hi, half)
	for _, s := range assembly.Spans(r.m.Pieces[h.Piece].Body, c, dir) {
		if a, b := math.Max(lo, s[0]), math.Min(hi, s[1]); b-a > tol.Touch {
			out = append(out, [2]float64{a, b})
		}
	}
	return out
}

// standing lists the cuts that go through one glued rod alone, which stands out: what comes
// off is the rod and what it alone carries.
func (r *run) standing() (out []cut) {
	for _, c := range r.cuts() {
		if len(c.bonds) != 1 || len(c.bonds[0].fits) != 1 || len(c.bonds[0].patches) > 0 {
			continue
		}
		f := c.bonds[0].fits[0]
		if c.bonds[0].a != f.Rod || r.isAxle(f.Rod) || r.rests(c) || len(c.off) == 1 && r.proud(f.Rod) < gripLength {
			continue
		}
		out = append(out, c)
	}
	return out
}

// isAxle tells whether a rod is an axle.
func (r *run) isAxle(rod int) bool {
	return slices.ContainsFunc(r.m.Axles, func(a assembly.Axle) bool { return a.Rod == rod })
}

// pegs judges glued rods that stand out, and what they alone carry: pulled sideways at the
// end, or at the middle of what they carry.
func (r *run) pegs(out []judged) []judged {
	pull := r.loads().pull
	for _, c := range r.standing() {
		f := c.bonds[0].fits[0]
		rod := r.m.Pieces[f.Rod]
		p, dir, _ := rod.Axis()
		lo, hi := r.wood(f, p, dir)
		half := rod.Made.Size.X / 2
		var at float64
		what := "its end"
		if others := less(c.off, f.Rod); len(others) > 0 {
			_, c := r.massOf(others)
			at = c.Sub(p).Dot(dir)
			what = r.thing(others)
		} else if at = half - gripLength/2; half-hi < lo+half {
			at = -at
		}
		arm := math.Max(0, math.Max(at-hi, lo-at))
		name := rod.ID + " in " + r.m.Pieces[f.Piece].ID
		j := judged{about: name, off: c.off, from: c.from, source: pull.From, at: r.place(f.Rod, "", p.Add(dir.Scale(math.Max(lo, math.Min(hi, at)))), f.At),
			says:  fmt.Sprintf("%s holds a pull of %s sideways at %s", name, r.force(pull.N), what),
			notes: []string{"bent where it leaves the wood, by the load " + r.about(arm) + " out"}}
		j.f, j.told, j.mend = r.bent(f.Rod, pull.N, arm)
		j.mend += ", or one that stands out less"
		out = append(out, j)
	}
	return out
}

// rests tells whether what comes off lies flat on what it comes off: then faces bear a pull
// sideways, and not the dowel alone.
func (r *run) rests(c cut) bool {
	for _, i := range c.off {
		for _, j := range c.from {
			if r.m.Pieces[i].Part.Shape == toy.Rod || r.m.Pieces[j].Part.Shape == toy.Rod {
				continue
			}
			for _, p := range r.patches(i, j) {
				if p.pts != nil {
					return true
				}
			}
		}
	}
	return false
}

package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure/source"
	"dryfit/toy"
)

// How deep a bit has to reach. A hole right through that is drilled square can be drilled
// from both sides, each as far as the middle, or, where there is air in the middle, as far as
// the wood on that side.

// DeepHole is a hole that an ordinary bit does not reach through, or to the end of.
type DeepHole struct {
	On   string       // the part or glue-up
	At   source.Range // of the drilling in the file; zero for the bore of a disc
	Dia  float64      // mm, as are the others
	Deep float64      // from the surface that the bit enters to the end of the wood
	Half float64      // the same from both sides, the deeper of the two; Deep where that cannot be
}

// Reached tells whether an ordinary bit drills it from both sides.
func (d DeepHole) Reached() bool { return d.Half <= facts.DrillReach(d.Dia)+tol.Page }

// DeepHoles lists the holes that are deeper than an ordinary bit reaches, of each drilling the
// deepest, in the order in which the parts come on the bench.
func DeepHoles(m *assembly.Model) (out []DeepHole) {
	c := &cutting{run: &run{m: m}}
	for _, b := range c.benches() {
		at := map[int]int{} // of a work, in out
		for i := range b.holes {
			h := &b.holes[i]
			d, deep := b.deep(h)
			if !deep {
				continue
			}
			if k, ok := at[h.work]; !ok {
				at[h.work] = len(out)
				out = append(out, d)
			} else if d.Deep > out[k].Deep {
				out[k] = d
			}
		}
	}
	return out
}

// deep measures a hole, and tells whether it is deeper than a bit reaches.
func (b *bench) deep(h *drilled) (DeepHole, bool) {
	if h.counter || h.work < 0 && b.part.Made != "" && b.part.Made != "sawn" {
		return DeepHole{}, false
	}
	d := DeepHole{On: b.name, Dia: 2 * h.bore.R}
	side, through, square := toy.Top, true, true
	if h.spec != nil {
		d.At, side, through, square = h.spec.At, h.spec.Side, h.spec.Depth == 0, h.spec.Lean == 0
	}
	spans := assembly.Spans(b.wood, h.bore.Point, h.bore.Dir)
	if len(spans) == 0 {
		return d, false
	}
	last := len(spans) - 1
	mouth := spans[0][0]
	if square && !b.sawnBefore(h.work) { // it is still the squared blank
		f := assembly.SideFrame(side, b.size).Inverse()
		mouth = math.Min(mouth, f.Point(b.frame.Inverse().Point(h.bore.Point)).Z-f.Box(b.reach).Max.Z)
	}
	if !through {
		d.Deep = h.bore.Hi - mouth
		d.Half = d.Deep
		return d, d.Deep > facts.DrillReach(d.Dia)+tol.Page
	}
	d.Deep = spans[last][1] - mouth
	d.Half = d.Deep
	if square {
		// The wood is met in the middle of its length, or each side's is drilled whole.
		d.Half /= 2
		middle := mouth + d.Half
		for k := range last {
			if spans[k][1] < middle && middle < spans[k+1][0] {
				d.Half = math.Max(spans[k][1]-mouth, spans[last][1]-spans[k+1][0])
			}
		}
	}
	return d, d.Deep > facts.DrillReach(d.Dia)+tol.Page
}

// sawnBefore tells whether something was sawn or cut through before a work.
func (b *bench) sawnBefore(work int) bool {
	for _, w := range b.work[:max(work, 0)] {
		switch w := w.(type) {
		case toy.Saw:
			return true
		case toy.Cut:
			if w.Depth == 0 {
				return true
			}
		}
	}
	return false
}

// reaches minds a hole that no ordinary bit reaches, not from both sides either, and notes one
// that is drilled from both.
func (c *cutting) reaches(b *bench, h *drilled) {
	d, deep := b.deep(h)
	if !deep {
		return
	}
	if d.Reached() {
		once(&c.both, h.name)
		return
	}
	reach := facts.DrillReach(d.Dia)
	f := Finding{About: h.name, Verdict: Mind, Unit: "mm", LimitOp: "<=", Value: d.Deep, Limit: reach, Margin: reach - d.Deep, Source: practice,
		Places: []Place{c.at(b, h.bore.Name, h.bore.Point, h.bore.At)}}
	f.Says = fmt.Sprintf("the hole %s is %s deep, and an ordinary bit of %s reaches about %s: ", h.name, c.len(d.Deep), c.len(d.Dia), c.len(reach))
	if d.Half < d.Deep {
		f.Says += "take a long bit, and drill from both sides"
	} else {
		f.Says += "take a long bit"
	}
	c.say(h.key(b, "reach"), f)
}

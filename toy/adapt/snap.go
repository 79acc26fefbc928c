package adapt

import (
	"math"
	"strings"

	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
)

const (
	// perInch and perMM are the marks of a rule: 1/64 in, and half a millimetre (common practice, no
	// source).
	perInch, perMM = 64, 2

	// Below oneMM there are no marks that help: tenths, as bits are sold by tenths.
	oneMM, perSmall = 1.0, 10

	// finest is the largest share that a mark may take from a length or add to it: what is finer than
	// a rule shows, as the room in a slot, stays what it is.
	finest = 0.25
)

// marked brings a length to the nearest mark of a rule in a unit; false where the marks are too coarse.
func marked(l measure.Length, u measure.Unit) (measure.Length, bool) {
	step := measure.Millimetre / perMM
	switch {
	case u == measure.Inch:
		step = measure.Inch.Length() / perInch
	case math.Abs(l.MM()) < oneMM:
		step = measure.Millimetre / perSmall
	}
	to := measure.Length(math.Round(float64(l/step)) * float64(step))
	return to, math.Abs(float64(to-l)) <= finest*math.Abs(float64(l))
}

// sold brings a size to the nearest that is sold; of two the smaller. Plywood and bought wheels are
// sold in one system only, so sizes of both are looked at; for the others, boards, dowels and balls,
// those of the unit alone.
func sold(kind string, l measure.Length, u measure.Unit) (facts.Size, bool) {
	metric := u == measure.MM
	best, ok := facts.NearestSize(kind, l.MM(), metric)
	if ok && (kind != "plywood" || metric) {
		return best, true
	}
	other, also := facts.NearestSize(kind, l.MM(), !metric)
	if also && (!ok || math.Abs(other.MM-l.MM()) < math.Abs(best.MM-l.MM())-tol.Page) {
		best = other
	}
	return best, ok || also
}

// isSold tells whether something is sold in a size, of either system.
func isSold(kind string, l measure.Length) bool {
	for _, z := range facts.Sizes(kind) {
		if math.Abs(z.MM-l.MM()) <= tol.Page {
			return true
		}
	}
	return false
}

// nearestBit is said of a hole that is as large as a bit.
const nearestBit = "the nearest bit"

// bit brings a hole to the marks of a rule, or where no bit makes that, to the nearest bit.
func bit(l measure.Length, u measure.Unit, systems []facts.System) (to measure.Length, why string) {
	to, ok := marked(l, u)
	if !ok {
		to = l
	}
	if len(systems) == 0 {
		systems = []facts.System{facts.Metric}
		if u == measure.Inch {
			systems = []facts.System{facts.Inch}
		}
	}
	var near facts.Drill
	off := math.Inf(1)
	for _, s := range systems {
		if n := facts.NameDrill(to.MM(), s); n.Exists {
			if to != l {
				why = "to the rule, as which there is a bit"
			}
			return to, why
		}
		if d, by := facts.NearestDrill(l.MM(), s); math.Abs(by) < off {
			near, off = d, math.Abs(by)
		}
	}
	if off > finest*l.MM() {
		return to, "no bit is near this: saw it out, or take a hole saw"
	}
	return inches(near.MM, near.Name), nearestBit
}

// inches is a size of a table: to the last bit where it is in inches.
func inches(mm float64, name string) measure.Length {
	if strings.HasSuffix(name, " in") {
		return measure.Inch.Of(math.Round(mm/facts.MMPerInch*perInch) / perInch)
	}
	return measure.FromMM(mm)
}

// written is a length as a file in a unit has it, with its unit only where that is another.
func written(l measure.Length, u measure.Unit) string {
	if u == measure.MM {
		fine := float64(l) / float64(measure.Millimetre) * 1000
		if n := l.ExactIn(measure.Inch); math.Abs(fine-math.Round(fine)) > 1e-6 && strings.HasSuffix(n, " in") {
			return n
		}
	}
	text := l.ExactIn(u)
	return strings.TrimSuffix(text, " "+u.Symbol())
}

// parted is a text for the place of a literal: a fraction behind a division sign stands in parentheses.
func parted(l *literal, text string) string {
	if l.Divides && strings.Contains(text, "/") {
		return "(" + text + ")"
	}
	return text
}

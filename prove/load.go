package prove

import (
	"fmt"
	"math"

	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/prove/strength"
)

// The loads that strength.joint and strength.grain put on a toy: those of the use-and-abuse
// tests of its ages, as forces that rest. Drops are not among them: how hard a drop
// strikes depends on where it lands and what gives way, which no drawing shows.

// load is one load of the tests with where it comes from.
type load struct {
	N    float64 // newtons; of a twist, newton millimetres
	From string
}

// loads are the greatest of all tests that the toy has to stand.
type loads struct{ pull, pullSmall, twist, press load }

// smallPull is the extent up to which EN 71-1 and ISO 8124-1 pull less, mm.
const smallPull = 6.0

// oldest is where the classes of the tests end, months.
const oldest = 96

// beyond tells whether no test asks anything of toys of this age: then the loads of the last
// class are tried all the same, and what does not hold them is minded.
func (r *run) beyond() bool { return r.m.Toy.Ages.FromMonths >= oldest }

// loads looks up the tests. EN 71-1 asks for its own of toys for under three years only
// (clause 5.1, from memory); 16 CFR 1500.51 to 53 and ISO 8124-1 go on to 96 months.
func (r *run) loads() loads { return r.w.loads.get(r.findLoads) }

func (r *run) findLoads() (l loads) {
	for _, a := range facts.AbuseFor(min(r.m.Toy.Ages.FromMonths, oldest-1), oldest) {
		if a.Name == "EN 71-1" && r.m.Toy.Ages.FromMonths >= threeYears {
			continue
		}
		more := func(l *load, x float64) {
			if x > l.N {
				*l = load{x, a.Source}
			}
		}
		more(&l.pull, a.Tension)
		more(&l.pullSmall, a.TensionSmall)
		more(&l.twist, float64(a.Torque*1000))
		more(&l.press, a.Compression)
	}
	return l
}

// pullOn is the pull on a thing by its greatest extent.
func (l loads) pullOn(extent float64) load {
	if extent <= smallPull {
		return l.pullSmall
	}
	return l.pull
}

// force prints a force in the user's units.
func (r *run) force(n float64) string {
	if r.m.Toy.Units == measure.Inch {
		return fmt.Sprintf("%.0f lbf", n/facts.NewtonsPerLbf)
	}
	return fmt.Sprintf("%.0f N", n)
}

// twisting prints a twist in the user's units.
func (r *run) twisting(nmm float64) string {
	if r.m.Toy.Units == measure.Inch {
		return fmt.Sprintf("%.0f lbf in", nmm/25.4/facts.NewtonsPerLbf)
	}
	return fmt.Sprintf("%.2f N m", nmm/1000)
}

// mark is the step to which a length that would mend something is said: a millimetre or a
// 16th of an inch.
func (r *run) mark() float64 {
	if r.m.Toy.Units == measure.Inch {
		return 25.4 / 16
	}
	return 1
}

// enough prints a length rounded up to the next mark.
func (r *run) enough(mm float64) string {
	return r.len(float64(math.Ceil((mm-tol.Touch)/r.mark()) * r.mark()))
}

// carried is what the wood of a piece carries, if that is known.
type carried struct {
	wood strength.Wood
	ok   bool
}

// carries returns what the wood of a piece carries.
func (r *run) carries(i int) (strength.Wood, bool) {
	c := r.w.woods.get(func() (out []carried) {
		for _, p := range r.m.Pieces {
			st, _ := r.m.Toy.StockNamed(p.Part.Stock)
			row, _ := facts.Wood(st.Wood) // Derive has refused unknown woods
			w, ok := strength.Of(row)
			out = append(out, carried{w, ok})
		}
		return out
	})[i]
	return c.wood, c.ok
}

// factor is how many times its load a thing holds, and how many times it has to.
type factor struct{ is, need float64 }

// over is how far a factor is above what it needs, as a share.
func (f factor) over() float64 {
	if math.IsInf(f.is, 1) {
		return math.Inf(1)
	}
	return f.is/f.need - 1
}

// times prints a factor.
func times(x float64) string {
	switch {
	case x >= 10:
		return fmt.Sprintf("%.0f times", x)
	case x < 0.1:
		return fmt.Sprintf("%.2g times", x)
	}
	return fmt.Sprintf("%.1f times", x)
}

package facts

import (
	"math"
	"slices"
	"strings"

	"dryfit/geom/tol"
)

// System is a drawer of drills: which kinds a maker picks from.
type System int

const (
	// Inch is fractions of an inch: twist drills by 64ths to 1 in, flat-bottom bits
	// by 16ths to 2-1/8 in.
	Inch System = iota
	// Metric is tenths of a millimetre to 13 mm, halves to 30 mm, and the usual
	// flat-bottom bits.
	Metric
)

// Drill is a bit that can be bought.
type Drill struct {
	Name string  // as a maker says it: "9/32 in", "6.5 mm"
	MM   float64 // diameter
	Kind string  // fraction, metric, forstner, metric forstner
	Origin
}

func (d Drill) in(s System) bool {
	if s == Inch {
		return d.Kind == "fraction" || d.Kind == "forstner"
	}
	return d.Kind == "metric" || d.Kind == "metric forstner"
}

// Drills returns the bits of a system by rising diameter, twist drills before
// flat-bottom bits of the same size.
func Drills(s System) []Drill {
	var out []Drill
	for _, d := range all().drills {
		if d.in(s) {
			out = append(out, d)
		}
	}
	return out
}

// NearestDrill returns the bit nearest to a diameter in mm, and how much larger it is
// (negative: smaller) in mm. Of two equally near ones it is the smaller: a hole
// can be opened up.
func NearestDrill(mm float64, s System) (d Drill, larger float64) {
	best := math.Inf(1)
	for _, c := range all().drills {
		if off := math.Abs(c.MM - mm); c.in(s) && off < best {
			best, d = off, c
		}
	}
	return d, d.MM - mm
}

// DrillName is the answer of NameDrill. If Exists, Drill makes the hole within
// tol.Drill. Else Below and Above are the nearest bits on either side; one without a Name
// is not there.
type DrillName struct {
	Exists       bool
	Drill        Drill
	Below, Above Drill
}

// NameDrill names the bit that a maker picks for a hole of mm diameter from one system.
func NameDrill(mm float64, s System) DrillName {
	var n DrillName
	if d, off := NearestDrill(mm, s); math.Abs(off) <= tol.Drill {
		n.Exists, n.Drill = true, d
		return n
	}
	for _, d := range all().drills {
		switch {
		case !d.in(s):
		case d.MM < mm && d.MM > n.Below.MM:
			n.Below = d
		case d.MM > mm && n.Above.Name == "":
			n.Above = d
		}
	}
	return n
}

// DrillReach is how deep an ordinary bit of a diameter goes, mm: ten times its diameter, at
// most 100 mm. Common practice, no source; the flutes of jobber drills are about as long
// (from memory: 57 mm at 6 mm, 87 mm at 10 mm, 101 mm at 13 mm, DIN 338).
func DrillReach(mm float64) float64 { return math.Min(10*mm, 100) }

func (t *tables) addDrill(r *record) {
	d := Drill{Name: r.text("name"), MM: r.number("size") * r.scale("unit"), Kind: r.text("kind"), Origin: r.origin()}
	switch d.Kind {
	case "fraction", "metric", "forstner", "metric forstner":
	default:
		r.fail("kind %q", d.Kind)
	}
	if !(d.MM > 0 && d.MM < 100) {
		r.fail("diameter %g mm", d.MM)
	}
	// Kept in order of size; a stable insertion leaves twist drills first.
	at, _ := slices.BinarySearchFunc(t.drills, d, func(a, b Drill) int {
		switch {
		case a.MM < b.MM, a.MM == b.MM && !flatter(a, b):
			return -1
		}
		return 1
	})
	t.drills = slices.Insert(t.drills, at, d)
}

// flatter tells that a is a flat-bottom bit and b is not.
func flatter(a, b Drill) bool {
	return strings.Contains(a.Kind, "forstner") && !strings.Contains(b.Kind, "forstner")
}

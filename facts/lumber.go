package facts

import "math"

// Nominal is a thickness that boards are sold in by name: what it measures rough, planed on one
// side and on two, mm. OneSide is NaN where it is not sold so.
type Nominal struct {
	Kind                    string // hardwood, softwood: as of a wood
	Name                    string // "4/4", "1 in"
	Rough, OneSide, TwoSide float64
	Origin
}

// Nominals returns the thicknesses of a kind of wood, thin before thick.
func Nominals(kind string) (out []Nominal) {
	for _, n := range all().nominals {
		if n.Kind == kind {
			out = append(out, n)
		}
	}
	return out
}

// NominalFor returns the thinnest board of a kind that gives mm when it is planed on two sides;
// false where none is that thick.
func NominalFor(kind string, mm float64) (Nominal, bool) {
	for _, n := range Nominals(kind) {
		if n.TwoSide >= mm-1e-6 {
			return n, true
		}
	}
	return Nominal{}, false
}

// Tally is a worked example of board feet: sizes in mm, thickness as it is named.
type Tally struct {
	Thick, Width, Length float64
	BoardFeet            float64
	Origin
}

// Tallies returns the worked examples.
func Tallies() []Tally { return append([]Tally(nil), all().tallies...) }

// Spread is how far something goes, or how much of it is taken: an estimate from least to most.
type Spread struct {
	Name        string
	Least, Most float64
	Unit        string // as g/m2
	Note        string
	Origin
}

// Mid is the middle of it.
func (s Spread) Mid() float64 { return (s.Least + s.Most) / 2 }

// SpreadOf returns how far something goes; false where no table says so.
func SpreadOf(name string) (Spread, bool) {
	for _, s := range all().spreads {
		if s.Name == name {
			return s, true
		}
	}
	return Spread{}, false
}

// A hole saw is stamped with its outside diameter. The plug that stays is smaller by two kerfs of
// 7/64 to 1/8 in, and has the hole of the pilot bit. Common practice, no source.
const (
	HoleSawTakes = MMPerInch / 4
	HoleSawPilot = MMPerInch / 4
)

func (t *tables) addNominal(r *record) {
	n := Nominal{Kind: r.text("kind"), Name: r.text("name"), Rough: r.number("rough_in") * MMPerInch,
		OneSide: r.optional("one_side_in") * MMPerInch, TwoSide: r.number("two_sides_in") * MMPerInch, Origin: r.origin()}
	if !(n.TwoSide > 0 && n.TwoSide < n.Rough) || !math.IsNaN(n.OneSide) && !(n.TwoSide < n.OneSide && n.OneSide < n.Rough) {
		r.fail("%g planed to %g", n.Rough, n.TwoSide)
	}
	if k := len(t.nominals); k > 0 && t.nominals[k-1].Kind == n.Kind && t.nominals[k-1].Rough >= n.Rough {
		r.fail("%g does not come after %g", n.Rough, t.nominals[k-1].Rough)
	}
	t.nominals = append(t.nominals, n)
}

func (t *tables) addTally(r *record) {
	x := Tally{r.number("thick_in") * MMPerInch, r.number("width_in") * MMPerInch, r.number("length_in") * MMPerInch, r.number("board_feet"), r.origin()}
	if !(x.BoardFeet > 0) {
		r.fail("%g board feet", x.BoardFeet)
	}
	t.tallies = append(t.tallies, x)
}

func (t *tables) addSpread(r *record) {
	s := Spread{r.text("name"), r.number("least"), r.number("most"), r.text("unit"), r.text("note"), r.origin()}
	if !(s.Least > 0 && s.Least <= s.Most) {
		r.fail("%g to %g", s.Least, s.Most)
	}
	t.spreads = append(t.spreads, s)
}

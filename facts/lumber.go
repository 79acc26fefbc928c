package facts

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

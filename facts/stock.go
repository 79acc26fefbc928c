package facts

import (
	"math"
	"slices"
	"strings"

	"dryfit/geom/tol"
)

// Size is a size in which something is sold.
type Size struct {
	Kind      string  // dowel, dowel length, wheel, plywood, ball, peg, board: its thickness as drawn
	Name      string  // "1/4 in", "6 mm"
	MM        float64 // nominal
	Metric    bool
	Low, High float64 // what it really measures, mm; both MM where not known
	Note      string
	Origin
}

// Sizes returns the sizes of a kind, inch sizes first, each by rising size. What
// is sold as a 1/4 in plywood measures less, see Low and High.
func Sizes(kind string) []Size {
	var out []Size
	for _, s := range all().sizes {
		if s.Kind == kind {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Size) int {
		switch {
		case a.Metric != b.Metric && b.Metric, a.Metric == b.Metric && a.MM < b.MM:
			return -1
		case a.Metric == b.Metric && a.MM == b.MM:
			return 0
		}
		return 1
	})
	return out
}

// Trade is a board or sheet as it is sold, mm. Panels are sold in any thickness: theirs is 0.
type Trade struct {
	Kind           string  // hardwood, softwood, panel: as of a wood
	Name           string  // "4/4", "1 × 6"
	Nominal        string  // what its thickness is called: "4/4", "1 in"; "" of panels
	Rough          float64 // thickness
	OneSide, Thick float64 // planed on one side, NaN where it is not sold so, and on two
	Width, Length  float64 // both 0 where only the thickness is known
	Note           string
	Origin
}

// Trades returns what boards or sheets are sold of a kind of wood, thin boards before thick ones.
func Trades(kind string) (out []Trade) {
	for _, b := range all().trade {
		if b.Kind == kind {
			out = append(out, b)
		}
	}
	return out
}

// NominalFor returns the thinnest board of a kind that gives mm when it is planed on two sides, or
// as near to it as boards come; false where none is that thick.
func NominalFor(kind string, mm float64) (Trade, bool) {
	for _, b := range Trades(kind) {
		if b.Thick >= mm-tol.Plank {
			return b, true
		}
	}
	return Trade{}, false
}

// NearestSize returns the size of a kind nearest to mm among inch or metric sizes, the
// smaller of two; false if there is none.
func NearestSize(kind string, mm float64, metric bool) (Size, bool) {
	var best Size
	off := math.Inf(1)
	for _, s := range Sizes(kind) {
		if d := math.Abs(s.MM - mm); s.Metric == metric && d < off {
			best, off = s, d
		}
	}
	return best, !math.IsInf(off, 1)
}

// Fit is a class of round wood in a round hole: hole minus shaft in mm of diameter.
type Fit struct {
	Name               string // press, glue, close running, free running, loose
	Usual, Least, Most float64
	Use                string
	Origin
}

// Fits returns the classes from tight to loose.
func Fits() []Fit { return slices.Clone(all().fits) }

// FitOf returns the class of a clearance in mm: the tightest whose Most it does not
// exceed. It is false for holes tighter than a press fit and looser than a loose one.
func FitOf(clearance float64) (Fit, bool) {
	for _, f := range all().fits {
		if clearance <= f.Most {
			return f, clearance >= f.Least
		}
	}
	return Fit{}, false
}

// FitNamed returns a class by its name.
func FitNamed(name string) (Fit, bool) {
	for _, f := range all().fits {
		if f.Name == plain(name) {
			return f, true
		}
	}
	return Fit{}, false
}

// Blade is a saw blade and the least radius that it turns, mm.
type Blade struct {
	Name               string // "band saw 1/4 in", "scroll saw no. 5"
	Band               bool
	Width, LeastRadius float64
	Origin
}

// Blades returns the blades by rising width, scroll-saw blades first.
func Blades() []Blade {
	out := slices.Clone(all().blades)
	slices.SortStableFunc(out, func(a, b Blade) int {
		switch {
		case a.Width < b.Width:
			return -1
		case a.Width > b.Width:
			return 1
		}
		return 0
	})
	return out
}

// WidestBlade returns the widest band-saw blade that turns radius mm; false if none does
// and the curve needs a scroll saw or relief cuts.
func WidestBlade(radius float64) (Blade, bool) {
	var best Blade
	for _, b := range Blades() {
		if b.Band && b.LeastRadius <= radius {
			best = b
		}
	}
	return best, best.Name != ""
}

// TurnRadius returns the least centre-line radius in mm of a blade of this width and
// set (kerf minus thickness): R = w^2 / (4 set), geometry of a flat blade in its kerf.
func TurnRadius(width, set float64) float64 { return width * width / (4 * set) }

// BandTurns returns the least inside radius in mm that a band-saw blade of this width leaves: that
// of the table, else by TurnRadius.
func BandTurns(width float64) float64 {
	for _, b := range Blades() {
		if b.Band && math.Abs(b.Width-width) <= tol.Drill {
			return b.LeastRadius
		}
	}
	return TurnRadius(width, BandSet)
}

// ScrollBlade returns the usual scroll-saw blade for wood of that thickness, mm, by the customary
// thickness of hardwood.
func ScrollBlade(thick float64) Blade {
	name := "scroll saw no. 5"
	switch {
	case thick > 1.25*MMPerInch:
		name = "scroll saw no. 9"
	case thick > 0.75*MMPerInch:
		name = "scroll saw no. 7"
	}
	for _, b := range Blades() {
		if b.Name == name {
			return b
		}
	}
	return Blade{Name: name}
}

// BandSet is the set at which TurnRadius gives the trade tables up to 3/4 in blades.
const BandSet = 0.025 * MMPerInch

// Paper is a sheet in upright position, mm, and the margin that any printer leaves free.
type Paper struct {
	Name                  string
	Width, Height, Margin float64
	Origin
}

// Papers returns the papers in the order of the table.
func Papers() []Paper { return slices.Clone(all().papers) }

// PaperNamed returns a paper by name, as capital or small letters.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range all().papers {
		if strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			return p, true
		}
	}
	return Paper{}, false
}

// Line is a standard line width, mm.
type Line struct {
	Width float64
	Origin
}

// Lines returns the standard line widths by rising width; wide to narrow is 2 to 1, such as 0.5
// and 0.25.
func Lines() []Line { return slices.Clone(all().lines) }

func (t *tables) addSize(r *record) {
	s := Size{Kind: r.text("kind"), Note: r.maybe("note"), Origin: r.origin()}
	scale := r.scale("unit")
	s.MM, s.Metric = r.number("size")*scale, scale == 1
	s.Name = strings.ReplaceAll(r.text("size"), "-", " ") + " " + r.text("unit")
	s.Low, s.High = r.optional("low")*scale, r.optional("high")*scale
	if math.IsNaN(s.Low) && math.IsNaN(s.High) {
		s.Low, s.High = s.MM, s.MM
	}
	if !(s.MM > 0) || !(s.Low <= s.High) {
		r.fail("size %g, %g to %g", s.MM, s.Low, s.High)
	}
	t.sizes = append(t.sizes, s)
}

func (t *tables) addTrade(r *record) {
	scale := r.scale("unit")
	size := func(name string) float64 {
		if r.maybe(name) == "" {
			return 0
		}
		return r.number(name) * scale
	}
	b := Trade{Kind: r.text("kind"), Name: r.text("name"), Nominal: r.maybe("thickness"), Rough: size("rough"), OneSide: r.optional("one_side") * scale,
		Thick: size("thick"), Width: size("width"), Length: size("length"), Note: r.maybe("note"), Origin: r.origin()}
	board := b.Kind != "panel"
	switch {
	case board != (b.Nominal != ""), board != (b.Rough > 0), (b.Width > 0) != (b.Length > 0), !board && b.Width == 0:
		r.fail("%q, %g x %g, %g rough", b.Nominal, b.Length, b.Width, b.Rough)
	case board && !(b.Thick > 0 && b.Thick < b.Rough), b.OneSide <= b.Thick, b.OneSide >= b.Rough:
		r.fail("%g planed to %g, and to %g on one side", b.Rough, b.Thick, b.OneSide)
	}
	if k := len(t.trade); k > 0 && t.trade[k-1].Kind == b.Kind && t.trade[k-1].Rough > b.Rough {
		r.fail("%g comes after %g", b.Rough, t.trade[k-1].Rough)
	}
	t.trade = append(t.trade, b)
}

func (t *tables) addFit(r *record) {
	f := Fit{Name: r.text("name"), Usual: r.number("usual_mm"), Least: r.number("least_mm"), Most: r.number("most_mm"),
		Use: r.text("use"), Origin: r.origin()}
	if !(f.Least <= f.Usual && f.Usual <= f.Most) {
		r.fail("%g is not within %g and %g", f.Usual, f.Least, f.Most)
	}
	if n := len(t.fits); n > 0 && t.fits[n-1].Most != f.Least {
		r.fail("starts at %g, the one before ends at %g", f.Least, t.fits[n-1].Most)
	}
	t.fits = append(t.fits, f)
}

func (t *tables) addBlade(r *record) {
	b := Blade{Name: r.text("name"), Width: r.number("width_in") * MMPerInch, LeastRadius: r.number("radius_in") * MMPerInch, Origin: r.origin()}
	r.maybe("set_in")
	if b.Band = b.Name == "band saw"; b.Band {
		b.Name += " " + r.text("width_in") + " in"
	}
	t.blades = append(t.blades, b)
}

func (t *tables) addPaper(r *record) {
	p := Paper{r.text("name"), r.number("width_mm"), r.number("height_mm"), r.number("margin_mm"), r.origin()}
	if !(p.Width > 0 && p.Width < p.Height && p.Margin > 0) {
		r.fail("%g x %g", p.Width, p.Height)
	}
	t.papers = append(t.papers, p)
}

func (t *tables) addLine(r *record) {
	t.lines = append(t.lines, Line{r.number("width_mm"), r.origin()})
}

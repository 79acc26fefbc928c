// Package facts holds the reference tables of the trade and of toy safety: woods,
// drills, dowels and wheels, papers, saw blades, fits, child limits, cautions.
//
// The tables are the CSV files under data, embedded in the program. Every row
// names its source and how sure it is (Origin). Start with Wood, NameDrill,
// Sizes, PaperNamed, FitOf, Child and Cautions. Millimetres, kilograms, pascals and newtons come
// out, whatever the file says: the files keep the units of their source, so that a
// row can be compared with the printed table.
//
// The tables are read once, at first use. A row that does not parse is an error of
// Check, which a test asserts to be nil; at run time nothing here fails.
package facts

import (
	"embed"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/*.csv
var files embed.FS

// Origin is where a row comes from.
type Origin struct {
	// Source is the published document and table, or "common practice, no source".
	Source string
	// Status is one of the statuses below.
	Status string
}

// How sure a row is.
const (
	Seen           = "seen"            // read in the source or in a text that quotes it
	SeenInPart     = "seen in part"    // some fields are from memory
	FromMemory     = "from memory"     // recalled, not looked up
	CommonPractice = "common practice" // customary; no published source
)

// Exact conversions, by the definitions of the international yard and pound (1959) and
// standard gravity (3rd CGPM, 1901).
const (
	MMPerInch       = 25.4
	KilogramsPerLb  = 0.45359237
	NewtonsPerLbf   = KilogramsPerLb * 9.80665
	PascalsPerPsi   = NewtonsPerLbf / (0.0254 * 0.0254)
	NewtonMPerInLbf = NewtonsPerLbf * 0.0254
)

type tables struct {
	woods     []Row
	woodAt    map[string]int
	drills    []Drill
	sizes     []Size
	trade     []Trade
	papers    []Paper
	blades    []Blade
	fits      []Fit
	lines     []Line
	limits    []Limit
	abuse     []Abuse
	cautions  []Caution
	climates  []Climate
	care      []Care
	tallies   []Tally
	spreads   []Spread
	deeds     []Deed
	durations []Duration
	finishes  []Finish
	offs      []Error
	err       error
}

// all reads every table once.
var all = sync.OnceValue(func() *tables {
	t := &tables{}
	var errs []error
	read := func(name string, row func(r *record)) {
		errs = append(errs, each(name, row))
	}
	t.woodAt = map[string]int{}
	read("woods", t.addWood)
	read("drills", t.addDrill)
	read("sizes", t.addSize)
	read("trade", t.addTrade)
	read("papers", t.addPaper)
	read("blades", t.addBlade)
	read("fits", t.addFit)
	read("lines", t.addLine)
	read("child", t.addLimit)
	read("abuse", t.addAbuse)
	read("cautions", t.addCaution)
	read("climates", t.addClimate)
	read("care", t.addCare)
	read("boardfeet", t.addTally)
	read("spread", t.addSpread)
	read("deeds", t.addDeed)
	read("durations", t.addDuration)
	read("finishes", t.addFinish)
	read("errors", t.addError)
	t.err = errors.Join(errs...)
	return t
})

// Check returns what is wrong with the tables; nil in every released program.
func Check() error { return all().err }

// record is a row on its way in: it hands out fields by name and remembers
// the first that is wrong.
type record struct {
	place  string
	fields map[string]string
	err    error
}

// each calls row for every row of a table and returns all problems.
func each(name string, row func(*record)) error {
	f, err := files.Open("data/" + name + ".csv")
	if err != nil {
		return err
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	if len(lines) < 2 {
		return fmt.Errorf("%s: no rows", name)
	}
	var errs []error
	for i, line := range lines[1:] {
		r := &record{place: fmt.Sprintf("%s.csv:%d", name, i+2), fields: map[string]string{}}
		for j, head := range lines[0] {
			r.fields[head] = line[j]
		}
		row(r)
		errs = append(errs, r.err)
	}
	return errors.Join(errs...)
}

func (r *record) fail(format string, args ...any) {
	if r.err == nil {
		r.err = fmt.Errorf("%s: %s", r.place, fmt.Sprintf(format, args...))
	}
}

// maybe returns a field that may be empty.
func (r *record) maybe(name string) string {
	v, ok := r.fields[name]
	if !ok {
		r.fail("no column %s", name)
	}
	if v != strings.TrimSpace(v) {
		r.fail("%s has blanks around it", name)
	}
	return v
}

// text returns a field that must not be empty.
func (r *record) text(name string) string {
	v := r.maybe(name)
	if v == "" {
		r.fail("%s is empty", name)
	}
	return v
}

// number returns a number that must be there; "1-1/4" is one and a quarter.
func (r *record) number(name string) float64 {
	f, err := number(r.text(name))
	if err != nil {
		r.fail("%s: %v", name, err)
	}
	return f
}

// optional returns a number, or NaN where the source gives none.
func (r *record) optional(name string) float64 {
	if r.maybe(name) == "" {
		return math.NaN()
	}
	return r.number(name)
}

func (r *record) origin() Origin {
	o := Origin{r.text("source"), r.text("status")}
	switch o.Status {
	case Seen, SeenInPart, FromMemory, CommonPractice:
	default:
		r.fail("status %q", o.Status)
	}
	return o
}

// scale returns the millimetres of the unit in a field.
func (r *record) scale(name string) float64 {
	switch u := r.text(name); u {
	case "in":
		return MMPerInch
	case "mm":
		return 1
	default:
		r.fail("unit %q", u)
		return 1
	}
}

// number reads a decimal, a fraction or a whole number and a fraction.
func number(s string) (float64, error) {
	if whole, rest, ok := strings.Cut(s, "-"); ok && whole != "" && strings.Contains(rest, "/") {
		a, err := strconv.ParseFloat(whole, 64)
		b, err2 := number(rest)
		return a + b, errors.Join(err, err2)
	}
	if top, under, ok := strings.Cut(s, "/"); ok {
		a, err := strconv.ParseFloat(top, 64)
		b, err2 := strconv.ParseFloat(under, 64)
		if b == 0 {
			err2 = errors.Join(err2, fmt.Errorf("%q divides by nothing", s))
		}
		return a / b, errors.Join(err, err2)
	}
	f, err := strconv.ParseFloat(s, 64)
	if err == nil && (math.IsNaN(f) || math.IsInf(f, 0)) {
		err = fmt.Errorf("%q is no number", s)
	}
	return f, err
}

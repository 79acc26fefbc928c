// Package app has the verbs that the command line, and later the browser page,
// share: open a toy, prove it, list what it takes, draw it. It works on texts and
// bytes; files are the caller's.
package app

import (
	"slices"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/guide"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy"
	"dryfit/toy/file"
)

// Version is the version of the program.
const Version = "0.1.0"

// Toy is an opened toy with what has been derived from it so far.
type Toy struct {
	*toy.Toy
	cache      *assembly.Cache
	name, text string
	options    Options
	paper      *prove.Report // the proof that papers were marked by; nil: not made yet
}

// Options are what a toy is read and proved with beside its own file.
type Options struct {
	Sets    []file.Set // other values for sizes
	Climate string     // in place of the file's, in the words of facts.ReadYear; "" leaves it
	Shop    *toy.Shop  // the builder's own tools, where the file says nothing of them; may be nil
	Units   string     // that all is said in, mm or inch; "": those of the file
	// Cache may be nil; given the cache of an earlier opening, only parts that changed
	// are made again.
	Cache *assembly.Cache
}

// Open reads a toy file. sets gives sizes other values for this reading. cache may
// be nil; given the cache of an earlier opening, only parts that changed are made
// again.
func Open(name, text string, sets []file.Set, cache *assembly.Cache) (*Toy, source.Problems) {
	return OpenWith(name, text, Options{Sets: sets, Cache: cache})
}

// OpenWith is Open with all options.
func OpenWith(name, text string, o Options) (*Toy, source.Problems) {
	if o.Cache == nil {
		o.Cache = &assembly.Cache{}
	}
	t, probs := read(name, text, o)
	if len(probs) > 0 {
		return nil, probs
	}
	return &Toy{Toy: t, cache: o.Cache, name: name, text: text, options: o}, nil
}

// ClimateOption is what the climate of Options goes by in problems and reports.
const ClimateOption = "--climate"

func read(name, text string, o Options) (*toy.Toy, source.Problems) {
	t, probs := file.Read(source.New(name, text), o.Sets)
	if len(probs) > 0 {
		return nil, probs
	}
	t.Shop = t.Shop.Over(o.Shop)
	if u, ok := measure.ParseUnit(o.Units); ok {
		t.Units = u
	}
	if o.Climate != "" {
		if _, bad := facts.ReadYear(o.Climate); bad != nil {
			f := source.New(ClimateOption, o.Climate)
			p := f.Problem("climate", f.Whole(), bad.Says)
			p.Expected, p.Nearest = bad.Expected, bad.Nearest
			return nil, source.Problems{p}
		}
		t.Climate = &toy.Climate{Text: o.Climate, From: ClimateOption}
	}
	return t, nil
}

// Model returns the toy in space, whole and as drawn.
func (t *Toy) Model() (*assembly.Model, source.Problems) {
	return assembly.Derive(t.Toy, assembly.Options{Cache: t.cache})
}

// With reads the toy again with one size at another value.
func (t *Toy) With(size, value string) (*toy.Toy, source.Problems) {
	o := t.options
	o.Sets = append(slices.Clone(o.Sets), file.Set{Size: size, Value: value})
	return read(t.name, t.text, o)
}

// Prove makes all checks.
func (t *Toy) Prove() (*prove.Report, source.Problems) { return prove.Run(t.Toy, t.cache) }

// proved is the proof that goes with what is printed, made once.
func (t *Toy) proved() (*prove.Report, source.Problems) {
	if t.paper != nil {
		return t.paper, nil
	}
	rep, probs := t.Prove()
	if len(probs) == 0 {
		t.paper = rep
	}
	return rep, probs
}

// Unproved says in a line that a toy whose papers were just made is not right yet: how many
// findings fail, and the worst. It is empty if the toy passes its proof.
func (t *Toy) Unproved() string {
	rep, probs := t.proved()
	if len(probs) > 0 || rep.Passes() {
		return ""
	}
	says := guide.Unproved(rep)
	switch fails := rep.Failing(); len(fails) {
	case 0:
	case 1:
		says += ": " + fails[0].Says + " (" + fails[0].ID + ")"
	default:
		says += ", the worst: " + fails[0].Says + " (" + fails[0].ID + ")"
	}
	return says
}

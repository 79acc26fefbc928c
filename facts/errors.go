package facts

import (
	"math"
	"slices"
)

// Skill is how much practice a builder has.
type Skill int

// The skills, from the most practice to none.
const (
	Practised Skill = iota
	Fair
	FirstTime
)

func (s Skill) String() string { return [...]string{"practised", "fair", "first time"}[s] }

// Skills lists their names in that order.
func Skills() []string { return []string{"practised", "fair", "first time"} }

// Error is how far off an operation of the shop comes out.
type Error struct {
	Name   string
	Shape  ErrorShape
	Angle  bool       // radians; else mm
	Spread [3]float64 // by Skill: see ErrorShape
	Says   string
	Origin
}

// ErrorShape is how the errors of many builds lie.
type ErrorShape int

const (
	// Normal: Spread is the standard deviation about nought.
	Normal ErrorShape = iota
	// Uniform: Spread is the farthest to either side, all between alike likely.
	Uniform
	// Over: never less than nought; Spread is the standard deviation of the normal
	// distribution that it is one half of.
	Over
)

// Errors returns the table of what builders are off by.
func Errors() []Error { return all().offs }

// ErrorNamed returns one operation of that table; a name that is not there is a bug.
func ErrorNamed(name string) Error {
	for _, e := range all().offs {
		if e.Name == name {
			return e
		}
	}
	panic("facts: bug: no error " + name)
}

func (t *tables) addError(r *record) {
	e := Error{Name: r.text("name"), Says: r.text("says"), Origin: r.origin()}
	switch s := r.text("shape"); s {
	case "normal":
	case "uniform":
		e.Shape = Uniform
	case "over":
		e.Shape = Over
	default:
		r.fail("shape %q", s)
	}
	scale := 1.0
	switch u := r.text("unit"); u {
	case "mm":
	case "degree":
		e.Angle, scale = true, math.Pi/180
	default:
		r.fail("unit %q", u)
	}
	for i, column := range []string{"practised", "fair", "first"} {
		e.Spread[i] = r.number(column) * scale
		if e.Spread[i] < 0 || i > 0 && e.Spread[i] < e.Spread[i-1] {
			r.fail("%s: practice makes nobody worse", column)
		}
	}
	if slices.ContainsFunc(t.offs, func(o Error) bool { return o.Name == e.Name }) {
		r.fail("%s is there twice", e.Name)
	}
	t.offs = append(t.offs, e)
}

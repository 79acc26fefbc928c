package file

import (
	"fmt"
	"math"
	"strings"

	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
)

// Named values: sizes may use each other in any order, and every formula may use
// stock (rod.dia, beech.thick) and parts (frame.length). They are evaluated on
// demand, each once; a name that is being evaluated when it is asked for again
// closes a circle.

type state int

const (
	waiting state = iota
	running
	done
	broken
)

type slot struct {
	from  shape.Formula
	wants formula.Kind // formula.Length for stock and parts; sizes keep their own kind
	any   bool
	set   string // the size that --set gave this formula, "" if the file did
	state state
	value formula.Value
}

type values struct {
	file  *source.File
	unit  measure.Unit
	slots map[string]*slot
	names []string // in the file's order
	probs *source.Problems
	trail []string // the names under evaluation
	set   string   // the size under evaluation if --set gave its formula
}

func (v *values) add(name string, from shape.Formula, any bool) {
	if _, twice := v.slots[name]; twice {
		return
	}
	v.slots[name] = &slot{from: from, wants: formula.Length, any: any}
	v.names = append(v.names, name)
}

// lookup returns the value of a name, evaluating it if need be.
func (v *values) lookup(name string) (formula.Value, bool) {
	s, ok := v.slots[name]
	if !ok {
		return formula.Value{}, false
	}
	switch s.state {
	case done:
	case running:
		circle := append([]string(nil), v.trail...)
		for len(circle) > 0 && circle[0] != name {
			circle = circle[1:]
		}
		v.problem("circle", s.from.At, strings.Join(append(circle, name), " uses ")+": these go round in a circle")
		s.state = broken
	case broken:
	case waiting:
		s.state = running
		v.trail = append(v.trail, name)
		v.set = s.set
		val, ok := v.eval(s.from, nil)
		v.set = ""
		v.trail = v.trail[:len(v.trail)-1]
		if s.state == running {
			s.state, s.value = done, val
		}
		if !ok {
			s.state = broken
		} else if !s.any {
			l, isLength := val.AsLength(v.unit)
			if !isLength {
				v.problem("wrong-kind", s.from.At, name+" is not a length")
				s.state = broken
			}
			s.value = formula.Value{Kind: formula.Length, N: float64(l)}
		}
	}
	if s.state == broken {
		return formula.Value{Kind: formula.Length, N: float64(measure.Millimetre)}, true
	}
	return s.value, true
}

func (v *values) problem(code string, at source.Range, says string) *source.Problem {
	*v.probs = append(*v.probs, v.file.Problem(code, at, says))
	return &(*v.probs)[len(*v.probs)-1]
}

// eval evaluates one formula. own holds extra names that are known only here.
func (v *values) eval(f shape.Formula, own map[string]formula.Value) (formula.Value, bool) {
	e, err := formula.Parse(f.Text)
	if err != nil {
		v.report(f, err)
		return formula.Value{}, false
	}
	val, err := e.Eval(v.unit, func(name string) (formula.Value, bool) {
		if x, ok := own[name]; ok {
			return x, true
		}
		return v.lookup(name)
	}, func() []string {
		names := append([]string(nil), v.names...)
		for n := range own {
			names = append(names, n)
		}
		return names
	})
	if err != nil {
		v.report(f, err)
		return formula.Value{}, false
	}
	return val, true
}

// report places a formula's error in the file.
func (v *values) report(f shape.Formula, err *formula.Error) {
	if v.set != "" {
		at := len(v.set) + 1 + err.At
		p := source.New("--set", v.set+"="+f.Text).Problem(err.Code, source.Range{Start: at, End: len(v.set) + 1 + max(err.End, err.At+1)}, err.Says)
		p.Expected, p.Nearest = err.Expected, err.Nearest
		*v.probs = append(*v.probs, p)
		return
	}
	at := f.At
	if f.At.End-f.At.Start == len(f.Text) { // written plainly, so offsets agree
		at = source.Range{Start: f.At.Start + err.At, End: f.At.Start + max(err.End, err.At+1)}
	}
	p := v.problem(err.Code, at, err.Says)
	p.Expected, p.Nearest = err.Expected, err.Nearest
}

// length evaluates a formula to a length within what a toy can be.
func (v *values) length(f shape.Formula, own map[string]formula.Value) measure.Length {
	return v.within(f, own, maxSize, "no toy is this large")
}

// within evaluates a formula to a length of at most so many mm; beyond says what is wrong
// with a longer one.
func (v *values) within(f shape.Formula, own map[string]formula.Value, most float64, beyond string) measure.Length {
	if f.Text == "" {
		return 0
	}
	val, ok := v.eval(f, own)
	if !ok {
		return 0
	}
	l, isLength := val.AsLength(v.unit)
	if !isLength {
		v.problem("wrong-kind", f.At, "this is not a length")
		return 0
	}
	if math.Abs(l.MM()) > most {
		v.problem("too-large", f.At, beyond).Expected = fmt.Sprintf("at most %g m", most/1000)
		return 0
	}
	return l
}

// positive is length for a size that has to be more than nothing.
func (v *values) positive(f shape.Formula, own map[string]formula.Value, what string) measure.Length {
	return v.moreThanNothing(f, what, func(f shape.Formula) measure.Length { return v.length(f, own) })
}

// moreThanNothing reads a size by read and refuses one that is nothing or less; what cannot be read
// at all is said once.
func (v *values) moreThanNothing(f shape.Formula, what string, read func(shape.Formula) measure.Length) measure.Length {
	before := len(*v.probs)
	l := read(f)
	if f.Text != "" && len(*v.probs) == before && l.MM() < minSize {
		v.problem("not-positive", f.At, what+" has to be more than nothing")
	}
	return l
}

// optional returns nil where the formula is absent.
func (v *values) optional(f shape.Formula) *measure.Length {
	if f.Text == "" {
		return nil
	}
	l := v.length(f, nil)
	return &l
}

func (v *values) angle(f shape.Formula, most float64) measure.Angle {
	if f.Text == "" {
		return 0
	}
	val, ok := v.eval(f, nil)
	if !ok {
		return 0
	}
	a, isAngle := val.AsAngle()
	if !isAngle {
		v.problem("wrong-kind", f.At, "this is not an angle").Expected = "an angle with its unit, as 15°"
		return 0
	}
	if math.Abs(a.Degrees()) > most {
		v.problem("too-large", f.At, "this angle is too large").Expected = "at most " + measure.FromDegrees(most).Format()
		return 0
	}
	return a
}

// blankNames are the names that work on a blank may use for its own size.
func blankNames(p *toy.Part) map[string]formula.Value {
	l := func(x measure.Length) formula.Value { return formula.Value{Kind: formula.Length, N: float64(x)} }
	return map[string]formula.Value{"length": l(p.Length), "width": l(p.Width), "thick": l(p.Thick)}
}

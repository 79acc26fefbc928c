package formula

import (
	"slices"
	"strings"

	"dryfit/measure"
)

// InUnit returns a formula with the unit written behind every number that is a length without
// saying so: what somebody typed who means unit by a number alone, for a file of any unit. Factors,
// angles, noughts and lengths that have their unit stay as they are. kindOf says what a name is; a
// name that is Bare, a size without unit, counts as the length that it is used as. A text that is no
// formula is returned as it is.
func InUnit(text string, unit measure.Unit, kindOf func(name string) Kind) string {
	e, bad := Parse(text)
	if bad != nil {
		return text
	}
	var b strings.Builder
	from := 0
	for _, k := range e.lengths(kindOf) {
		if s := e.steps[k]; s.value.Kind == Bare {
			b.WriteString(text[from:s.end] + " " + unit.Symbol())
			from = s.end
		}
	}
	return b.String() + text[from:]
}

// Literal is a number of a formula that is a length: the bytes from At to End, its unit included
// where it says one.
type Literal struct {
	At, End int
	Length  measure.Length
	Said    bool // it says its unit
	Divides bool // a division sign stands before it, behind which a fraction needs parentheses
}

// Lengths are the numbers of a formula that are lengths, in the order they are written: those with
// their unit, and those that are a length in the given one, as InUnit tells them from factors. Noughts
// are left out. A text that is no formula has none.
func Lengths(text string, unit measure.Unit, kindOf func(name string) Kind) (out []Literal) {
	e, bad := Parse(text)
	if bad != nil {
		return nil
	}
	for _, k := range e.lengths(kindOf) {
		s := e.steps[k]
		l, _ := s.value.AsLength(unit)
		before := strings.TrimRight(text[:s.at], " ")
		out = append(out, Literal{At: s.at, End: s.end, Length: l, Said: s.value.Kind == Length,
			Divides: strings.HasSuffix(before, "/") || strings.HasSuffix(before, "÷")})
	}
	return out
}

// lengths are the steps that are numbers and lengths, in the order of the text.
func (e *Expr) lengths(kindOf func(name string) Kind) (said []int) {
	var stack []worded
	for k, s := range e.steps {
		n := len(stack)
		switch s.op {
		case opValue:
			w := worded{kind: s.value.Kind}
			switch {
			case s.value.N == 0:
			case w.kind == Bare:
				w.steps = []int{k}
			case w.kind == Length:
				said = append(said, k)
			}
			stack = append(stack, w)
		case opName:
			kind := kindOf(s.name)
			stack = append(stack, worded{kind: kind, named: kind == Bare})
		case opNegate:
		default:
			stack[n-2] = stack[n-2].with(s.op, stack[n-1], &said)
			stack = stack[:n-1]
		}
	}
	if stack[0].kind == Bare {
		said = append(said, stack[0].steps...)
	}
	slices.Sort(said)
	return said
}

// worded is a value of a formula, and which of its numbers have to be lengths for it to be one.
type worded struct {
	kind  Kind
	named bool // it has a size without unit in it, which is a length in the unit of the file
	steps []int
}

func (w worded) long() bool { return w.kind == Length || w.named }

// with is the value of an operator between two; said takes in what is known to be a length.
func (w worded) with(o op, v worded, said *[]int) worded {
	kind := max(w.kind, v.kind)
	switch {
	case o == opDivide && w.kind == v.kind && w.kind != Bare:
		return worded{kind: Number}
	case o == opDivide:
		return worded{kind: kind, named: w.named, steps: w.steps}
	case o == opMultiply && v.long():
		return worded{kind: kind, named: v.named, steps: v.steps}
	case o == opMultiply:
		return worded{kind: kind, named: w.named, steps: w.steps}
	case w.long() || v.long():
		*said = append(append(*said, w.steps...), v.steps...)
		return worded{kind: kind, named: kind == Bare}
	}
	return worded{kind: kind, steps: append(slices.Clone(w.steps), v.steps...)}
}

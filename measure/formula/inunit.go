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
	var stack []worded
	var said []int // where units are put
	for _, s := range e.steps {
		n := len(stack)
		switch s.op {
		case opValue:
			w := worded{kind: s.value.Kind}
			if w.kind == Bare && s.value.N != 0 {
				w.ends = []int{s.end}
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
		said = append(said, stack[0].ends...)
	}
	slices.Sort(said)
	var b strings.Builder
	from := 0
	for _, at := range said {
		b.WriteString(text[from:at] + " " + unit.Symbol())
		from = at
	}
	return b.String() + text[from:]
}

// worded is a value of a formula, and where units have to be put for it to be a length.
type worded struct {
	kind  Kind
	named bool // it has a size without unit in it, which is a length in the unit of the file
	ends  []int
}

func (w worded) long() bool { return w.kind == Length || w.named }

// with is the value of an operator between two; said takes in what is known to be a length.
func (w worded) with(o op, v worded, said *[]int) worded {
	kind := max(w.kind, v.kind)
	switch {
	case o == opDivide && w.kind == v.kind && w.kind != Bare:
		return worded{kind: Number}
	case o == opDivide:
		return worded{kind: kind, named: w.named, ends: w.ends}
	case o == opMultiply && v.long():
		return worded{kind: kind, named: v.named, ends: v.ends}
	case o == opMultiply:
		return worded{kind: kind, named: w.named, ends: w.ends}
	case w.long() || v.long():
		*said = append(append(*said, w.ends...), v.ends...)
		return worded{kind: kind, named: kind == Bare}
	}
	return worded{kind: kind, ends: append(slices.Clone(w.ends), v.ends...)}
}

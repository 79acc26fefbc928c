package formula

import (
	"strings"

	"dryfit/measure"
)

// Eval works the formula out. lookup gives the value of a name; known, which
// may be nil, lists all names and is asked only to find the one nearest to a
// name that lookup does not know. The result is finite.
func (e *Expr) Eval(unit measure.Unit, lookup func(name string) (Value, bool), known func() []string) (Value, *Error) {
	var room [16]Value
	stack := room[:0]
	for i := range e.steps {
		s := &e.steps[i]
		switch n := len(stack); {
		case s.op == opValue:
			stack = append(stack, s.value)
		case s.op == opName:
			v, ok := lookup(s.name)
			if !ok {
				return Value{}, unknown(s, lookup, known)
			}
			if !finite(v.N) {
				return Value{}, s.fail(CodeValue, quote(s.name)+" has no finite value", "")
			}
			stack = append(stack, v)
		case s.op == opNegate:
			stack[n-1].N = -stack[n-1].N
		default:
			v, err := s.apply(unit, stack[n-2], stack[n-1])
			if err != nil {
				return Value{}, err
			}
			stack[n-2], stack = v, stack[:n-1]
		}
	}
	return stack[0], nil
}

func (s *step) fail(code, says, expected string) *Error {
	return &Error{At: s.at, End: s.end, Code: code, Says: says, Expected: expected}
}

// apply works out an operator between two values.
func (s *step) apply(unit measure.Unit, a, b Value) (v Value, err *Error) {
	switch s.op {
	case opMultiply:
		v, err = s.multiply(a, b)
	case opDivide:
		v, err = s.divide(a, b)
	default:
		v, err = s.combine(unit, a, b)
	}
	if err == nil && !finite(v.N) {
		err = s.fail(CodeValue, "the result is too large", "")
	}
	return v, err
}

// combine adds, subtracts or compares two values of one kind. A bare number
// takes the kind of a length or a pure number beside it, never of an angle.
func (s *step) combine(unit measure.Unit, a, b Value) (Value, *Error) {
	kind := max(a.Kind, b.Kind)
	for _, v := range [...]*Value{&a, &b} {
		switch {
		case v.Kind == kind:
		case v.Kind == Bare && kind == Length:
			v.N = float64(unit.Of(v.N))
		case v.Kind == Bare && kind == Number:
		case v.Kind == Bare:
			return Value{}, s.mismatch(a, b, "a unit on both, as in 55°")
		default:
			return Value{}, s.mismatch(a, b, "two of a kind")
		}
	}
	n := 0.0
	switch s.op {
	case opAdd:
		n = a.N + b.N
	case opSubtract:
		n = a.N - b.N
	case opMin:
		n = min(a.N, b.N)
	case opMax:
		n = max(a.N, b.N)
	}
	return Value{kind, n}, nil
}

func (s *step) mismatch(a, b Value, expected string) *Error {
	verb := " cannot be added"
	switch s.op {
	case opSubtract:
		verb = " cannot be subtracted"
	case opMin, opMax:
		verb = " cannot be compared"
	}
	return s.fail(CodeKind, a.Kind.String()+" and "+b.Kind.String()+verb, expected)
}

func (s *step) multiply(a, b Value) (Value, *Error) {
	if a.Kind < b.Kind {
		a, b = b, a
	}
	switch {
	case b.Kind == Bare || b.Kind == Number:
		return settled(a.Kind, float64(a.N*b.N)), nil
	case a.Kind == Length && b.Kind == Length:
		return Value{}, s.fail(CodeKind, "a length times a length is an area", "a length times a number")
	}
	return Value{}, s.fail(CodeKind, b.Kind.String()+" times "+a.Kind.String()+" has no use here", a.Kind.String()+" times a number")
}

func (s *step) divide(a, b Value) (Value, *Error) {
	kind := a.Kind
	switch {
	case b.Kind == Number && a.Kind == Bare, a.Kind == b.Kind && a.Kind != Bare:
		kind = Number
	case b.Kind == Bare || b.Kind == Number:
	case b.Kind == Length && a.Kind != Angle:
		return Value{}, s.fail(CodeKind, a.Kind.String()+" divided by a length is neither length nor number",
			"a number to divide by; a fraction with a unit is written without spaces, as in 1/4 in")
	default:
		return Value{}, s.fail(CodeKind, a.Kind.String()+" cannot be divided by "+b.Kind.String(), "a number to divide by")
	}
	if b.N == 0 {
		return Value{}, s.fail(CodeValue, "this divides by zero", "")
	}
	return settled(kind, a.N/b.N), nil
}

// settled is a value fresh from a multiplication or division: lengths lose its
// rounding error.
func settled(kind Kind, n float64) Value {
	if kind == Length {
		n = float64(measure.Settle(n))
	}
	return Value{kind, n}
}

// unknown is the error for a name that lookup does not know. A name made of
// known ones with hyphens between is most likely a subtraction.
func unknown(s *step, lookup func(string) (Value, bool), known func() []string) *Error {
	err := s.fail(CodeName, quote(s.name)+" is not known", "")
	if parts := spaced(strings.Split(s.name, "-"), lookup); parts != nil {
		err.Expected = "spaces round a minus"
		err.Nearest = strings.Join(parts, " - ")
		return err
	}
	if known != nil {
		err.Nearest = nearest(s.name, known())
	}
	return err
}

// spaced joins pieces of a hyphenated word to as few known names and numbers
// as it can, the first being a name; nil if that cannot be done.
func spaced(pieces []string, lookup func(string) (Value, bool)) []string {
	const mostPieces = 8 // each more doubles the work
	if len(pieces) > mostPieces {
		return nil
	}
	for n := len(pieces); n > 0; n-- {
		head := strings.Join(pieces[:n], "-")
		if _, ok := lookup(head); !ok && strings.Trim(head, "0123456789") != "" {
			continue
		}
		if n == len(pieces) {
			return []string{head}
		}
		if tail := spaced(pieces[n:], lookup); tail != nil {
			return append([]string{head}, tail...)
		}
	}
	return nil
}

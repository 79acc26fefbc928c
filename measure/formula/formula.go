// Package formula reads the lengths, angles and formulas of a toy file:
// `1 1/4`, `1-1/4 in`, `32 mm`, `dowel + running`, `min(frame.width / 2, 55 mm)`.
//
// [Parse] turns text into an [Expr] once; [Expr.Names] lists what it refers
// to, so that a caller can order sizes and find cycles; [Expr.Eval] works it
// out for given values of the names. Every failure is an [Error] with the
// stretch of the text it lies in.
//
// # Writing
//
// Numbers are 12, 0.75, .5, fractions 1/4 and mixed numbers 1 1/4. Units are
// in, ", ″, mm, cm, °, deg and rad, right behind a number. A mixed number may
// be written 1-1/4 in only with its unit, since 5-1/4 might mean a subtraction
// as well and is refused. A fraction is written without spaces; behind a
// division sign it is two divisions, so that x/1/2 is (x/1)/2.
//
// Names are letters, then letters, digits, _ and - where the hyphen has a
// letter or digit on both sides: rear-axle is one name, rear - axle is a
// subtraction. A dot leads into a part: frame.width. Operators are + - * / with
// × ÷ − for the same, unary minus, parentheses, min(a, b, …) and max(a, b, …).
//
// # Kinds
//
// A [Value] is a length, an angle, a pure number (a length over a length), or
// bare: a number without unit, which becomes a length in the unit of the file
// where a length is wanted. Kinds that do not go together are refused at the
// operator.
package formula

import (
	"math"

	"dryfit/measure"
	"dryfit/measure/source"
)

// The limits of one formula.
const (
	MaxBytes = 1000 // of text
	MaxDepth = 64   // of parentheses, functions and minus signs within each other
)

// The codes of an Error.
const (
	CodeSyntax    = "unreadable-formula"
	CodeAmbiguous = "ambiguous-formula"
	CodeUnit      = "unknown-unit"
	CodeName      = "unknown-name"
	CodeKind      = "wrong-kind"
	CodeValue     = "impossible-value"
	CodeLimit     = "oversized-formula"
)

// Error is what is wrong in a formula, and the bytes of its text it lies in.
// End is always beyond At, and may be one past the end of the text.
type Error struct {
	At, End                       int
	Code, Says, Expected, Nearest string
}

// Problem is the error as its author sees it, for a formula whose text begins
// at byte base of the file.
func (e *Error) Problem(f *source.File, base int) source.Problem {
	p := f.Problem(e.Code, source.Range{Start: base + e.At, End: base + e.End}, e.Says).Expect(e.Expected)
	p.Nearest = e.Nearest
	return p
}

// Kind is what a value measures.
type Kind int

// The kinds. A Bare value came from literals without unit.
const (
	Bare Kind = iota
	Number
	Length
	Angle
)

// String is the kind in words, with its article.
func (k Kind) String() string {
	return [...]string{"a number without unit", "a pure number", "a length", "an angle"}[k]
}

// Value is a finite number of what Kind says: nanometres for a Length,
// radians for an Angle.
type Value struct {
	Kind Kind
	N    float64
}

// OfLength is a length as a value.
func OfLength(l measure.Length) Value { return Value{Length, float64(l)} }

// OfAngle is an angle as a value.
func OfAngle(a measure.Angle) Value { return Value{Angle, float64(a)} }

// AsLength reads a length, or a bare number in the unit of the file.
func (v Value) AsLength(unit measure.Unit) (measure.Length, bool) {
	l := measure.Length(v.N)
	if v.Kind == Bare {
		l = unit.Of(v.N)
	}
	return l, (v.Kind == Length || v.Kind == Bare) && finite(float64(l))
}

// AsNumber reads a pure or bare number.
func (v Value) AsNumber() (float64, bool) { return v.N, v.Kind == Number || v.Kind == Bare }

// AsAngle reads an angle. A bare number is none: degrees or radians, the
// author must say.
func (v Value) AsAngle() (measure.Angle, bool) { return measure.Angle(v.N), v.Kind == Angle }

// Name is a name in a formula and the byte it starts at.
type Name struct {
	Text string
	At   int
}

// Expr is a formula that has been read. It does not change and may be shared.
type Expr struct {
	steps []step // in the order of working them out, operands before operators
}

// Names are the names in the formula in the order they are written, repeats
// included.
func (e *Expr) Names() []Name {
	var out []Name
	for _, s := range e.steps {
		if s.op == opName {
			out = append(out, Name{s.name, s.at})
		}
	}
	return out
}

// Reserved tells whether a word means something in every formula (a unit, min,
// max) and so cannot be the name of a size or a part.
func Reserved(word string) bool {
	_, unit := units[word]
	return unit || word == "min" || word == "max"
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// op is what a step does to the values above it.
type op byte

const (
	opValue op = iota // push a literal
	opName            // push the value of a name
	opNegate
	opAdd // from here on: two values become one
	opSubtract
	opMultiply
	opDivide
	opMin
	opMax
)

// step is one literal, name or operator, and where it stands in the text.
type step struct {
	op      op
	at, end int
	value   Value
	name    string
}

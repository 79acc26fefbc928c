// Package measure holds lengths and angles as a shop writes them, and prints
// them back the same way: fractional inches or millimetres.
//
// A [Length] is a float64 count of nanometres. One inch is 25.4 mm exactly
// (international yard and pound agreement, 1959), that is 25 400 000 nm, so
// every fraction of an inch over a power of two and every whole micrometre is
// a number that float64 holds exactly: 1/64 in is 396 875 nm. Sums,
// differences, doubles and halves of such lengths are exact too, as long as
// they stay under 2^53 nm (9000 km) at the step they need.
//
// The packages below it build on that: [dryfit/measure/source] is a user's
// file and the one kind of problem its author sees, and
// [dryfit/measure/formula] reads `1 1/4`, `32 mm` and `dowel + running`.
package measure

import "math"

// Length is a length in nanometres.
type Length float64

// The lengths of the units that a length can be written in; that of an inch is
// also Inch.Length().
const (
	Millimetre Length = 1e6
	Centimetre Length = 10 * Millimetre
	oneInch    Length = 25.4 * Millimetre // 1959 agreement, exact
)

// FromMM is the length of so many millimetres. Whole nanometres come out
// exact although most decimals are not float64 numbers: see [Settle].
func FromMM(mm float64) Length { return MM.Of(mm) }

// MM is the length in millimetres, correctly rounded: the form in which the
// geometry takes it.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// settleWithin is the relative error that [Settle] takes for rounding: four
// float64 steps. At a metre it is a millionth of a nanometre.
const settleWithin = 1.0 / (1 << 50)

// Settle turns nanometres that were multiplied or divided into a Length. What
// lies within rounding error of a whole nanometre becomes that nanometre, so
// that 3.175 (no float64) times 1 mm is 3 175 000 nm and not a hair beside it.
// Binary fractions of a nanometre are kept as they are.
func Settle(nm float64) Length {
	if r := math.Round(nm); math.Abs(nm-r) <= math.Abs(float64(r*settleWithin)) {
		return Length(r)
	}
	return Length(nm)
}

// Unit is the unit of a toy file: what a number without a unit is read in, and
// what lengths are printed in.
type Unit int

// The two units a file can choose. The zero Unit is MM.
const (
	MM Unit = iota
	Inch
)

// ParseUnit reads the name of a unit as a toy file writes it: mm or inch.
func ParseUnit(name string) (Unit, bool) {
	for _, u := range [...]Unit{MM, Inch} {
		if name == u.String() {
			return u, true
		}
	}
	return MM, false
}

// String is the name that [ParseUnit] reads.
func (u Unit) String() string {
	if u == Inch {
		return "inch"
	}
	return "mm"
}

// Symbol is what stands behind a number: mm or in.
func (u Unit) Symbol() string {
	if u == Inch {
		return "in"
	}
	return "mm"
}

// Length is one such unit.
func (u Unit) Length() Length {
	if u == Inch {
		return oneInch
	}
	return Millimetre
}

// Of is the length of n such units, settled to the nanometre.
func (u Unit) Of(n float64) Length { return Settle(float64(n * float64(u.Length()))) }

package measure

import (
	"math"
	"strconv"
	"strings"
)

const (
	// printStep is how far, in nanometres, a length may be from the fraction
	// printed for it and still be called that fraction: the step geom/tol
	// calls Page, below anything a shop can measure.
	printStep = 100

	// finest is the smallest division of a shop's inch rule.
	finest = oneInch / 64

	// farthest is where fractions stop making sense and plain digits are
	// printed: a million inches, or a thousand kilometres.
	farthest = 1e15
)

// Format prints a length for people. Inches go to the nearest 1/64, reduced,
// as in `1 1/4 in`, with ≈ before it when the true length is off by more than
// a tenth of a micrometre; millimetres to two decimals, trimmed, as in
// `3.18 mm`, halves away from zero. Use [Length.Exact] for what must be read
// back.
func (l Length) Format(u Unit) string { return l.Number(u) + " " + u.Symbol() }

// Number is [Length.Format] without the unit.
func (l Length) Number(u Unit) string {
	x := float64(l)
	if !(math.Abs(x) < farthest) {
		return strconv.FormatFloat(float64(l/u.Length()), 'g', 6, 64)
	}
	if u == Inch {
		return inches(l)
	}
	return hundredths(float64(l / (Millimetre / 100)))
}

// inches prints the nearest sixty-fourth.
func inches(l Length) string {
	n := math.Round(float64(l / finest))
	var b strings.Builder
	if math.Abs(float64(l)-float64(n*float64(finest))) > printStep {
		b.WriteString("≈")
	}
	if n < 0 {
		b.WriteByte('-')
		n = -n
	}
	whole, num, den := int64(n)/64, int64(n)%64, int64(64)
	if whole != 0 || num == 0 {
		b.WriteString(strconv.FormatInt(whole, 10))
	}
	if num == 0 {
		return b.String()
	}
	if whole != 0 {
		b.WriteByte(' ')
	}
	for num%2 == 0 {
		num, den = num/2, den/2
	}
	b.WriteString(strconv.FormatInt(num, 10) + "/" + strconv.FormatInt(den, 10))
	return b.String()
}

// hundredths prints n hundredths as a decimal without needless zeros.
func hundredths(n float64) string {
	i := int64(math.Round(n)) // an integer, so never -0
	sign := ""
	if i < 0 {
		sign, i = "-", -i
	}
	s := strconv.FormatInt(i/100, 10)
	switch c := i % 100; {
	case c == 0:
	case c%10 == 0:
		s += "." + strconv.FormatInt(c/10, 10)
	default:
		s += "." + strconv.FormatInt(c/10, 10) + strconv.FormatInt(c%10, 10)
	}
	return sign + s
}

// Exact prints a finite length in millimetres with all the digits it takes to
// read back the very same Length.
func (l Length) Exact() string {
	sign := ""
	if l < 0 {
		sign, l = "-", -l
	}
	if l == 0 {
		l = 0 // not -0
	}
	whole, part, _ := strings.Cut(strconv.FormatFloat(float64(l), 'f', -1, 64), ".")
	if len(whole) < 7 {
		whole = strings.Repeat("0", 7-len(whole)) + whole
	}
	cut := len(whole) - 6 // nanometres to millimetres moves the point, no more
	part = strings.TrimRight(whole[cut:]+part, "0")
	if part != "" {
		part = "." + part
	}
	return sign + whole[:cut] + part + " mm"
}

// ExactIn is [Length.Exact] in the hand of the file: an inch file gets
// `1 1/4 in` where that is the length to the last bit, else millimetres.
func (l Length) ExactIn(u Unit) string {
	if n := math.Round(float64(l / finest)); u == Inch && math.Abs(float64(l)) < farthest && Length(n)*finest == l {
		return l.Format(Inch)
	}
	return l.Exact()
}

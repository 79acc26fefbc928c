package formula

import (
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"

	"dryfit/measure"
)

// unitOf is a unit: its kind and how many nanometres or radians it is; per is
// 0 for degrees, which are no whole number of either.
type unitOf struct {
	kind Kind
	per  uint64
}

// inch is one inch in nanometres, as an integer: see package measure.
const inch = 25_400_000

var units = map[string]unitOf{
	"in": {Length, inch}, `"`: {Length, inch}, "″": {Length, inch},
	"mm": {Length, uint64(measure.Millimetre)}, "cm": {Length, uint64(measure.Centimetre)},
	"°": {Angle, 0}, "deg": {Angle, 0}, "rad": {Angle, 1},
}

const unitsInWords = "in, mm, cm, °, deg or rad"

// meant are units that people write and this grammar has another word for.
var meant = map[string]string{
	"inch": "in", "inches": "in", "In": "in", "IN": "in", "”": `"`, "“": `"`, "''": `"`,
	"millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm", "m": "mm",
	"centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
	"degree": "deg", "degrees": "deg", "º": "°", "radian": "rad", "radians": "rad",
}

// literal is a number as written: whole and, for a decimal, the digits behind
// the point; for a fraction num over den.
type literal struct{ whole, decimals, num, den string }

// times is the literal times per, rounded once and correctly. Where both the
// numerator and the denominator are exact float64 numbers their quotient is;
// else big.Rat does it.
func (l literal) times(per uint64) float64 {
	const exact = 1 << 53
	if len(l.whole)+len(l.decimals) <= 15 && len(l.num) <= 7 && len(l.den) <= 7 {
		n, d := digits(l.whole), uint64(1)
		if l.den != "" {
			if len(l.whole) > 7 {
				return l.slow(per)
			}
			d = digits(l.den)
			n = n*d + digits(l.num)
		}
		for _, c := range l.decimals {
			n, d = n*10+uint64(c-'0'), d*10
		}
		if n <= exact/per {
			return float64(n*per) / float64(d)
		}
	}
	return l.slow(per)
}

func (l literal) slow(per uint64) float64 {
	n, d := whole(l.whole+l.decimals), whole("1"+strings.Repeat("0", len(l.decimals)))
	if l.den != "" {
		d = whole(l.den)
		n.Mul(n, d).Add(n, whole(l.num))
	}
	x, _ := new(big.Rat).SetFrac(n.Mul(n, new(big.Int).SetUint64(per)), d).Float64()
	return x
}

func digits(s string) (n uint64) {
	for i := 0; i < len(s); i++ {
		n = n*10 + uint64(s[i]-'0')
	}
	return n
}

// less compares two integers of any length.
func less(a, b string) bool {
	a, b = strings.TrimLeft(a, "0"), strings.TrimLeft(b, "0")
	return len(a) < len(b) || len(a) == len(b) && a < b
}

func whole(s string) *big.Int {
	n, _ := new(big.Int).SetString("0"+s, 10)
	return n
}

// number reads a number and its unit. Behind a division sign a fraction is not
// read as one, since x/1/2 must be (x/1)/2: what can only be meant as one there
// is refused.
func (p *parser) number(divisor bool) {
	at := p.i
	l := literal{whole: p.digits()}
	form := "" // what a divisor cannot be
	if strings.HasPrefix(p.s[p.i:], ".") {
		p.i++
		if l.decimals = p.digits(); l.decimals == "" {
			p.fail(p.i, p.i+1, CodeSyntax, "there is no digit after the decimal point", "digits, as in 0.75", "")
			return
		}
	} else if num, den, end := p.fractionAt(at); end > 0 {
		if !divisor || p.unitAt(end) {
			l, form, p.i = literal{num: num, den: den}, "a fraction", end
		}
	} else if i := p.skip(p.i); i > p.i {
		if num, den, end := p.fractionAt(i); end > 0 {
			l.num, l.den, form, p.i = num, den, "a mixed number", end
		}
	} else if n := p.minusAt(i); n > 0 {
		if num, den, end := p.fractionAt(i + n); end > 0 {
			if p.s[i] != '-' || !p.unitAt(end) {
				f := num + "/" + den
				p.fail(at, end, CodeAmbiguous, "this can be a mixed number or a subtraction",
					quote(l.whole+" "+f)+", "+quote(l.whole+" - "+f)+" or "+quote(l.whole+"-"+f+" in"), "")
				return
			}
			l.num, l.den, form, p.i = num, den, "a mixed number", end
		}
	}
	switch {
	case divisor && form != "":
		p.fail(at, p.i, CodeAmbiguous, form+" after a division sign can be read in two ways", "parentheses round it", "")
	case l.den != "" && strings.Trim(l.den, "0") == "":
		p.fail(at, p.i, CodeValue, "a fraction over zero has no value", "", "")
	case form == "a mixed number" && !less(l.num, l.den):
		p.fail(at, p.i, CodeSyntax, "the fraction of a mixed number must be less than one", "", "")
	}
	if p.err == nil {
		p.unit(at, l)
	}
}

// fractionAt finds digits/digits without spaces at i; end is 0 if there is no
// fraction or if it goes on as a decimal.
func (p *parser) fractionAt(i int) (num, den string, end int) {
	q := parser{s: p.s, i: i}
	if num = q.digits(); num == "" || !strings.HasPrefix(q.s[q.i:], "/") {
		return "", "", 0
	}
	q.i++
	if den = q.digits(); den == "" || strings.HasPrefix(q.s[q.i:], ".") {
		return "", "", 0
	}
	return num, den, q.i
}

// unit reads the unit behind a number, if there is one, and adds the literal.
func (p *parser) unit(at int, l literal) {
	i := p.skip(p.i)
	end := p.unitEnd(i)
	v := Value{Kind: Bare}
	switch u, ok := units[p.s[i:end]]; {
	case ok && u.per == 0:
		v, p.i = Value{Angle, float64(measure.FromDegrees(l.times(1)))}, end
	case ok:
		v, p.i = Value{u.kind, l.times(u.per)}, end
	case end > i:
		word := p.s[i:end]
		near := meant[word]
		if near == "" {
			near = nearest(word, []string{"in", "mm", "cm", "deg", "rad"})
		}
		p.fail(i, end, CodeUnit, quote(word)+" is not a unit", unitsInWords+" after a number, or an operator before a name", near)
		return
	default:
		v.N = l.times(1)
	}
	if !finite(v.N) {
		p.fail(at, p.i, CodeValue, "this number is too large", "", "")
		return
	}
	p.add(step{op: opValue, at: at, end: p.i, value: v})
}

// unitAt tells whether a unit follows, spaces allowed.
func (p *parser) unitAt(i int) bool {
	i = p.skip(i)
	_, ok := units[p.s[i:p.unitEnd(i)]]
	return ok
}

// unitEnd is the end of the sign or the whole word at i. A hyphen ends a unit,
// so that `10 mm-1/4 in` subtracts, but a letter, digit or _ does not.
func (p *parser) unitEnd(i int) int {
	if i < len(p.s) && strings.IndexByte(" +-*/(),", p.s[i]) >= 0 {
		return i // by far the most frequent
	}
	for _, sign := range [...]string{`"`, "″", "°", "”", "“", "''", "º"} {
		if strings.HasPrefix(p.s[i:], sign) {
			return i + len(sign)
		}
	}
	end := i
	for end < len(p.s) {
		c, n := utf8.DecodeRuneInString(p.s[end:])
		if !unicode.IsLetter(c) && (end == i || !isDigit(c) && c != '_') {
			break
		}
		end += n
	}
	return end
}

func isDigit(c rune) bool { return c >= '0' && c <= '9' }

// digits reads the digits that follow.
func (p *parser) digits() string {
	at := p.i
	for p.i < len(p.s) && isDigit(rune(p.s[p.i])) {
		p.i++
	}
	return p.s[at:p.i]
}

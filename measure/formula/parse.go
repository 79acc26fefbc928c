package formula

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"dryfit/measure/source"
)

// parser reads a formula from left to right by recursive descent and writes
// down its steps. After the first failure it reads nothing more.
type parser struct {
	s     string
	i     int // next byte
	depth int
	steps []step
	err   *Error
}

// Parse reads a formula.
func Parse(text string) (*Expr, *Error) {
	if len(text) > MaxBytes {
		return nil, &Error{At: MaxBytes, End: len(text), Code: CodeLimit,
			Says: fmt.Sprintf("a formula of %d bytes is too long", len(text)), Expected: fmt.Sprintf("at most %d", MaxBytes)}
	}
	p := &parser{s: text, steps: make([]step, 0, 1+len(text)/5)}
	p.sum()
	if p.i = p.skip(p.i); p.err == nil && p.i < len(p.s) {
		p.leftover()
	}
	if p.err != nil {
		return nil, p.err
	}
	return &Expr{p.steps}, nil
}

func (p *parser) fail(at, end int, code, says, expected, nearest string) {
	if p.err == nil {
		p.err = &Error{at, max(end, at+1), code, says, expected, nearest}
	}
}

func (p *parser) add(s step) { p.steps = append(p.steps, s) }

// sum reads products joined by + and -.
func (p *parser) sum() {
	p.product()
	for p.err == nil {
		at := p.skip(p.i)
		op, n := opSubtract, p.minusAt(at)
		if strings.HasPrefix(p.s[at:], "+") {
			op, n = opAdd, 1
		}
		if n == 0 {
			return
		}
		p.i = at + n
		p.product()
		p.add(step{op: op, at: at, end: at + n})
	}
}

// product reads factors joined by * and /.
func (p *parser) product() {
	p.factor(false)
	for p.err == nil {
		at := p.skip(p.i)
		op, n := p.timesAt(at)
		if n == 0 {
			return
		}
		p.i = at + n
		p.factor(op == opDivide)
		p.add(step{op: op, at: at, end: at + n})
	}
}

// factor reads a number, a name, a function, parentheses, or one of these
// behind a minus sign.
func (p *parser) factor(divisor bool) {
	if p.i = p.skip(p.i); p.err != nil {
		return
	}
	at := p.i
	if n := p.minusAt(at); n > 0 {
		if p.enter(at) {
			p.i += n
			p.factor(divisor)
			p.add(step{op: opNegate, at: at, end: at + n})
			p.depth--
		}
		return
	}
	c, n := utf8.DecodeRuneInString(p.s[at:])
	switch {
	case isDigit(c), c == '.' && at+1 < len(p.s) && isDigit(rune(p.s[at+1])):
		p.number(divisor)
	case c == '(':
		if p.enter(at) {
			p.i++
			p.sum()
			p.closing(at)
			p.depth--
		}
	case unicode.IsLetter(c):
		p.word()
	case n == 0:
		p.fail(at, at+1, CodeSyntax, "the formula ends where a value should follow", "a number, a name or a parenthesis", "")
	default:
		p.fail(at, at+n, CodeSyntax, quote(p.s[at:at+n])+" stands where a value should be", "a number, a name or a parenthesis", fractionSign(c))
	}
}

// word reads a name or a call of min or max.
func (p *parser) word() {
	at := p.i
	p.i = p.nameEnd(at)
	name := p.s[at:p.i]
	open := p.skip(p.i)
	call := strings.HasPrefix(p.s[open:], "(")
	switch {
	case name == "min" || name == "max":
		if !call {
			p.fail(at, p.i, CodeSyntax, quote(name)+" needs its values in parentheses", quote(name+"(a, b)"), "")
			return
		}
		if p.enter(at) {
			p.i = open + 1
			p.call(at, open, name)
			p.depth--
		}
	case call:
		p.fail(at, p.i, CodeSyntax, quote(name)+" is not a function", "min or max, or an operator before the parenthesis", nearest(name, []string{"min", "max"}))
	case Reserved(name):
		p.fail(at, p.i, CodeSyntax, quote(name)+" is a unit and stands behind a number", "a number before it", "")
	default:
		p.add(step{op: opName, at: at, end: p.i, name: name})
	}
}

// call reads the values of min or max, two or more.
func (p *parser) call(at, open int, name string) {
	op := opMin
	if name == "max" {
		op = opMax
	}
	for n := 1; ; n++ {
		p.sum()
		if n > 1 {
			p.add(step{op: op, at: at, end: at + len(name)})
		}
		p.i = p.skip(p.i)
		if p.err != nil || !strings.HasPrefix(p.s[p.i:], ",") {
			if p.closing(open); n == 1 {
				p.fail(at, p.i, CodeSyntax, quote(name)+" compares at least two values", quote(name+"(a, b)"), "")
			}
			return
		}
		p.i++
	}
}

// closing reads the parenthesis that closes the one at open.
func (p *parser) closing(open int) {
	p.i = p.skip(p.i)
	switch {
	case p.err != nil:
	case strings.HasPrefix(p.s[p.i:], ")"):
		p.i++
	case p.i == len(p.s):
		p.fail(open, open+1, CodeSyntax, "this parenthesis is never closed", quote(")"), "")
	default:
		p.leftover()
	}
}

// enter goes one level deeper.
func (p *parser) enter(at int) bool {
	if p.depth++; p.depth > MaxDepth {
		p.fail(at, at+1, CodeLimit, "the formula is nested too deep", fmt.Sprintf("at most %d levels", MaxDepth), "")
	}
	return p.err == nil
}

// leftover fails at what stands where an operator should.
func (p *parser) leftover() {
	at := p.i
	c, n := utf8.DecodeRuneInString(p.s[at:])
	end, says, expected, near := at+n, "", "an operator", ""
	switch {
	case c == ')':
		says = "this parenthesis was never opened"
	case c == ',':
		says, expected = "a comma stands only between the values of min and max", "a decimal point, as in 1.25, or an operator"
	case p.unitAt(at):
		end, says = p.unitEnd(at), "a unit stands only behind a number"
	case unicode.IsLetter(c):
		end = p.nameEnd(at)
		says = "there is no operator before " + quote(p.s[at:end])
	case isDigit(c), c == '.', c == '(':
		says = "there is no operator between two values"
		if isDigit(c) {
			end = at + len(p.s[at:]) - len(strings.TrimLeft(p.s[at:], "0123456789"))
			expected = "an operator; a mixed number is a whole number and a fraction, as in 1 1/4, and stands in parentheses after a division sign"
		}
	default:
		says, near = quote(p.s[at:at+n])+" has no meaning in a formula", fractionSign(c)
		expected = "an operator: + - * /"
		switch c {
		case '–', '—', '‐', '‑':
			near = "-"
		case ':', '⁄', '∕':
			near = "/"
		case '·', '∙', '⋅':
			near = "*"
		}
	}
	p.fail(at, end, CodeSyntax, says, expected, near)
}

// nameEnd is the end of the name at i; i if there is none.
func (p *parser) nameEnd(i int) int {
	end, first := i, true
	for end < len(p.s) {
		c, n := utf8.DecodeRuneInString(p.s[end:])
		next, _ := utf8.DecodeRuneInString(p.s[end+n:])
		switch {
		case unicode.IsLetter(c):
			first = false
		case !first && (isDigit(c) || c == '_'):
		case !first && c == '-' && (unicode.IsLetter(next) || isDigit(next)) && p.s[end-1] != '_':
		case !first && c == '.' && unicode.IsLetter(next):
			first = true
		default:
			return end
		}
		end += n
	}
	return end
}

// minusAt is the length of a minus sign at i, 0 if there is none.
func (p *parser) minusAt(i int) int {
	for _, sign := range [...]string{"-", "−"} {
		if strings.HasPrefix(p.s[i:], sign) {
			return len(sign)
		}
	}
	return 0
}

// timesAt is the multiplying or dividing operator at i and its length, 0 if
// there is none.
func (p *parser) timesAt(i int) (op, int) {
	switch s := p.s[i:]; {
	case strings.HasPrefix(s, "*"):
		return opMultiply, 1
	case strings.HasPrefix(s, "×"):
		return opMultiply, len("×")
	case strings.HasPrefix(s, "/"):
		return opDivide, 1
	case strings.HasPrefix(s, "÷"):
		return opDivide, len("÷")
	}
	return opDivide, 0
}

// skip is the next byte from i on that is no space.
func (p *parser) skip(i int) int {
	for i < len(p.s) {
		c, n := rune(p.s[i]), 1
		if c >= utf8.RuneSelf {
			c, n = utf8.DecodeRuneInString(p.s[i:])
		}
		if !unicode.IsSpace(c) {
			break
		}
		i += n
	}
	return i
}

// fractionSign is how a one-character fraction is written here.
func fractionSign(c rune) string {
	return map[rune]string{'½': "1/2", '¼': "1/4", '¾': "3/4", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8"}[c]
}

func quote(s string) string { return strconv.Quote(s) }

func nearest(word string, options []string) string { return source.Nearest(word, options) }

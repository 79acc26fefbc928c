package drawing

import (
	"bytes"
	"compress/zlib"
	"encoding/hex"
	"io"
	"strconv"
)

// The objects of PDF (ISO 32000-1, 7.3), as far as lines need them: numbers are float64,
// names and operators are text of their own kinds, strings are bytes.
type (
	pdfName string
	pdfWord string // an operator or a keyword
	pdfRef  int
	pdfDict map[string]any
	pdfList []any
	stream  struct {
		dict pdfDict
		raw  []byte
	}
)

// lexer goes through PDF tokens. At the end of the bytes it gives nil and ok false.
type lexer struct {
	b     []byte
	at    int
	depth int
}

func blank(c byte) bool {
	return c == 0 || c == 9 || c == 10 || c == 12 || c == 13 || c == 32
}

func delimiter(c byte) bool { return bytes.IndexByte([]byte("()<>[]{}/%"), c) >= 0 }

func (l *lexer) space() {
	for l.at < len(l.b) {
		switch c := l.b[l.at]; {
		case blank(c):
			l.at++
		case c == '%':
			for l.at < len(l.b) && l.b[l.at] != '\n' && l.b[l.at] != '\r' {
				l.at++
			}
		default:
			return
		}
	}
}

// next reads an object. References (1 0 R) are put together where refs is true: not in
// the content of a page.
func (l *lexer) next(refs bool) (v any, ok bool) {
	l.space()
	if l.at >= len(l.b) {
		return nil, false
	}
	switch c := l.b[l.at]; {
	case c == '/':
		l.at++
		return pdfName(l.name()), true
	case c == '(':
		return l.text(), true
	case bytes.HasPrefix(l.b[l.at:], []byte("<<")):
		l.at += 2
		return l.dict(refs), true
	case c == '<':
		inner, _, _ := bytes.Cut(l.b[l.at+1:], []byte(">"))
		s := bytes.Join(bytes.Fields(inner), nil)
		l.at = min(len(l.b), l.at+len(inner)+2)
		if len(s)%2 == 1 {
			s = append(s, '0')
		}
		out := make([]byte, len(s)/2)
		if _, err := hex.Decode(out, s); err != nil {
			return []byte{}, true
		}
		return out, true
	case c == '[':
		l.at++
		return l.list(refs), true
	case c == ')' || c == '>' || c == ']' || c == '{' || c == '}':
		l.at++
		return pdfWord(c), true
	}
	from := l.at
	for l.at < len(l.b) && !blank(l.b[l.at]) && !delimiter(l.b[l.at]) {
		l.at++
	}
	word := string(l.b[from:l.at])
	f, err := strconv.ParseFloat(word, 64)
	if err != nil || !(f > -1e9 && f < 1e9) || word[0]|0x20 >= 'a' {
		return pdfWord(word), true
	}
	if refs && f == float64(int(f)) && f >= 0 {
		if n, ok := l.reference(int(f)); ok {
			return n, true
		}
	}
	return f, true
}

// reference reads the rest of "12 0 R".
func (l *lexer) reference(n int) (pdfRef, bool) {
	rest := l.b[l.at:min(len(l.b), l.at+12)]
	i := 0
	for i < len(rest) && blank(rest[i]) {
		i++
	}
	j := i
	for j < len(rest) && rest[j] >= '0' && rest[j] <= '9' {
		j++
	}
	k := j
	for k < len(rest) && blank(rest[k]) {
		k++
	}
	if i == 0 || j == i || k == j || k >= len(rest) || rest[k] != 'R' || k+1 < len(rest) && !blank(rest[k+1]) && !delimiter(rest[k+1]) {
		return 0, false
	}
	l.at += k + 1
	return pdfRef(n), true
}

func (l *lexer) name() string {
	var out []byte
	for l.at < len(l.b) && !blank(l.b[l.at]) && !delimiter(l.b[l.at]) {
		c := l.b[l.at]
		if c == '#' && l.at+2 < len(l.b) {
			if v, err := strconv.ParseUint(string(l.b[l.at+1:l.at+3]), 16, 8); err == nil {
				c = byte(v)
				l.at += 2
			}
		}
		out = append(out, c)
		l.at++
	}
	return string(out)
}

// text reads (a string (with others) in it).
func (l *lexer) text() []byte {
	var out []byte
	depth := 0
	for ; l.at < len(l.b); l.at++ {
		switch c := l.b[l.at]; c {
		case '\\':
			out = l.escape(out)
			continue
		case '(':
			if depth++; depth == 1 {
				continue
			}
		case ')':
			if depth--; depth == 0 {
				l.at++
				return out
			}
		}
		out = append(out, l.b[l.at])
	}
	l.at = len(l.b) // it has no end
	return out
}

// escape adds what a backslash and what follows it stand for (7.3.4.2, table 3), and stays
// at the last byte of that.
func (l *lexer) escape(out []byte) []byte {
	if l.at++; l.at >= len(l.b) {
		return out
	}
	c := l.b[l.at]
	if i := bytes.IndexByte([]byte("nrtbf"), c); i >= 0 {
		return append(out, "\n\r\t\b\f"[i])
	}
	octal := func(i int) bool { return i < len(l.b) && l.b[i] >= '0' && l.b[i] <= '7' }
	switch {
	case c == '\r': // the end of a line: the string goes on in the next
		if l.at+1 < len(l.b) && l.b[l.at+1] == '\n' {
			l.at++
		}
		return out
	case c == '\n':
		return out
	case octal(l.at): // up to three digits; what is above a byte is dropped
		v := int(c - '0')
		for n := 1; n < 3 && octal(l.at+1); n++ {
			l.at++
			v = v<<3 | int(l.b[l.at]-'0')
		}
		return append(out, byte(v))
	}
	return append(out, c)
}

func (l *lexer) list(refs bool) pdfList {
	out := pdfList{}
	if l.depth++; l.depth > maxDepth {
		l.at = len(l.b)
	}
	defer func() { l.depth-- }()
	for {
		v, ok := l.next(refs)
		if !ok || v == pdfWord("]") {
			return out
		}
		out = append(out, v)
	}
}

func (l *lexer) dict(refs bool) pdfDict {
	out := pdfDict{}
	if l.depth++; l.depth > maxDepth {
		l.at = len(l.b)
	}
	defer func() { l.depth-- }()
	for {
		k, ok := l.next(refs)
		if k == pdfWord(">") { // ">>" comes as two
			l.space()
			if l.at < len(l.b) && l.b[l.at] == '>' {
				l.at++
			}
			return out
		}
		name, isName := k.(pdfName)
		if !ok || !isName {
			return out
		}
		v, ok := l.next(refs)
		if !ok {
			return out
		}
		if v == pdfWord(">") {
			l.at--
			continue
		}
		out[string(name)] = v
	}
}

// unpacked returns the bytes of a stream, by the one filter that lines are packed with
// (7.4.4); false: packed in another way or broken. budget is what may still be unpacked.
func (f *pdfFile) unpacked(s *stream) ([]byte, bool) {
	filters, _ := f.get(s.dict["Filter"]).(pdfList)
	if one, ok := f.get(s.dict["Filter"]).(pdfName); ok {
		filters = pdfList{one}
	}
	b := s.raw
	for _, n := range filters {
		if name := f.get(n); name != pdfName("FlateDecode") && name != pdfName("Fl") {
			return nil, false
		}
		if p, ok := f.get(s.dict["DecodeParms"]).(pdfDict); ok {
			if v, ok := f.get(p["Predictor"]).(float64); ok && v > 1 {
				return nil, false
			}
		}
		z, err := zlib.NewReader(bytes.NewReader(b))
		if err != nil {
			return nil, false
		}
		out, err := io.ReadAll(io.LimitReader(z, int64(f.budget)+1))
		if len(out) > f.budget || err != nil && len(out) == 0 { // a wrong checksum at the end is common
			return nil, false
		}
		f.budget -= len(out)
		b = out
	}
	return b, true
}

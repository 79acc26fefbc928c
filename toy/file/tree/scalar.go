package tree

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

func itoa(n int) string { return strconv.Itoa(n) }

// scalar reads one value on one line, plain or in quotes.
func (p *parser) scalar(flow bool) *Node {
	c := p.at(0)
	switch c {
	case '"':
		return p.double()
	case '\'':
		return p.single()
	case '&', '*':
		p.fail("unwanted-yaml", p.pos, p.lineEnd(p.pos), "%c names a value to use it again (anchors and aliases): toy files name sizes instead; a text that starts so goes in quotes", c)
	case '!':
		p.fail("unwanted-yaml", p.pos, p.lineEnd(p.pos), "tags (!) are not used in toy files; a text that starts so goes in quotes")
	case '?':
		if p.white(p.pos + 1) {
			p.fail("unwanted-yaml", p.pos, p.pos+1, "complex keys (?) are not used in toy files")
		}
		p.quoteIt(c)
	case '|', '>':
		p.fail("bad-layout", p.pos, p.pos+1, "%c stands after a key and its colon, or after a dash; a text that starts so goes in quotes", c)
	case '-':
		if p.white(p.pos+1) || flow && flowSign(p.at(1)) {
			p.fail("bad-layout", p.pos, p.pos+1, "a dash for a list item cannot stand here")
		}
	case ':', ',', '[', ']', '{', '}', '#', '%', '@', '`':
		if c == ':' && p.white(p.pos+1) {
			p.fail("bad-key", p.pos, p.pos+1, "a key is missing before the colon")
		}
		p.quoteIt(c)
	}
	return p.plain(flow)
}

func (p *parser) quoteIt(c byte) {
	p.fail("bad-layout", p.pos, p.pos+1, "a value cannot start with %c unless it is in quotes", c)
}

func flowSign(c byte) bool {
	return c == ',' || c == '[' || c == ']' || c == '{' || c == '}'
}

// plain reads a text without quotes: up to the line's end, a comment, or a colon
// that ends a key; inside brackets also up to their signs.
func (p *parser) plain(flow bool) *Node {
	start, i := p.pos, p.pos
	end := start // past the last byte that is not a space
scan:
	for ; i < len(p.s); i++ {
		switch c := p.s[i]; c {
		case '\n', '\r':
			break scan
		case ' ':
			continue
		case '\t':
			p.fail("bad-layout", i, i+1, "a tab: words are kept apart with spaces; in quotes a tab may stand")
		case ':':
			if p.white(i+1) || flow && flowSign(p.s[i+1]) {
				break scan
			}
		case '#':
			if p.s[i-1] == ' ' {
				break scan
			}
		case ',', '[', ']', '{', '}':
			if flow {
				break scan
			}
		}
		end = i + 1
	}
	n := p.node(Scalar, start)
	n.Range.End, n.Text = end, p.s[start:end]
	p.pos = end
	switch n.Text {
	case "~", "null", "Null", "NULL":
		p.fail("empty-value", start, end, "%s means nothing: leave the value out, or quote it if it is a text", n.Text)
	}
	return n
}

func (p *parser) single() *Node {
	start := p.pos
	var b strings.Builder
	from := start + 1
	for i := from; i < len(p.s) && p.s[i] != '\n' && p.s[i] != '\r'; i++ {
		if p.s[i] != '\'' {
			continue
		}
		if i+1 < len(p.s) && p.s[i+1] == '\'' {
			b.WriteString(p.s[from : i+1])
			i++
			from = i + 1
			continue
		}
		return p.quoted(start, i+1, from, &b)
	}
	p.open(start)
	return nil
}

// quoted is the node of a text in quotes from start to end. What was decoded so
// far is in b, and from is where the rest begins.
func (p *parser) quoted(start, end, from int, b *strings.Builder) *Node {
	n := p.node(Scalar, start)
	n.Quoted, n.Range.End, p.pos = true, end, end
	n.Text = p.s[from : end-1]
	if b.Len() > 0 {
		b.WriteString(n.Text)
		n.Text = b.String()
	}
	return n
}

func (p *parser) open(start int) {
	p.fail("bad-layout", start, p.lineEnd(start), "the quote that opens here is not closed on its line")
}

func (p *parser) double() *Node {
	start := p.pos
	var b strings.Builder
	from := start + 1
	for i := from; i < len(p.s) && p.s[i] != '\n' && p.s[i] != '\r'; i++ {
		switch p.s[i] {
		case '"':
			return p.quoted(start, i+1, from, &b)
		case '\\':
			b.WriteString(p.s[from:i])
			r, size := p.escape(i)
			b.WriteRune(r)
			i += size - 1
			from = i + 1
		}
	}
	p.open(start)
	return nil
}

// escape decodes what a backslash starts (YAML 1.2.2, 5.7), but for characters
// that could not stand in the file themselves.
func (p *parser) escape(i int) (r rune, size int) {
	if i+1 >= len(p.s) {
		p.open(i)
	}
	digits := 0
	switch c := p.s[i+1]; c {
	case '"', '\\', '/', ' ':
		return rune(c), 2
	case 'n':
		return '\n', 2
	case 't':
		return '\t', 2
	case '_':
		return 0xA0, 2
	case 'x':
		digits = 2
	case 'u':
		digits = 4
	case 'U':
		digits = 8
	default:
		end := i + 2
		for end < len(p.s) && !utf8.RuneStart(p.s[end]) {
			end++
		}
		p.failExpect(`\" \\ \n \t \uXXXX`, "bad-escape", i, end, "%s means nothing here; in single quotes a backslash is just that", p.s[i:end])
	}
	size = 2 + digits
	end := min(i+size, len(p.s))
	v, err := strconv.ParseUint(p.s[i+2:end], 16, 32)
	if err != nil || end-i != size || p.s[i+2] == '+' {
		p.fail("bad-escape", i, min(end, p.lineEnd(i)), "%d hexadecimal digits follow \\%c", digits, p.s[i+1])
	}
	r = rune(v)
	if v > utf8.MaxRune || !utf8.ValidRune(r) || !printable(r) && r != '\n' && r != '\t' {
		p.fail("bad-escape", i, end, "this stands for no character that can be printed")
	}
	return r, size
}

// literal reads a text over several lines after |, or |- without the last line
// end. parent is the column of its key or dash.
func (p *parser) literal(parent int) *Node {
	n := p.node(Scalar, p.pos)
	if p.at(0) == '>' {
		p.fail("unwanted-yaml", p.pos, p.pos+1, "folded texts (>) are not used in toy files: write | and keep the lines as they are")
	}
	n.Quoted, n.literal = true, true
	start := p.pos
	p.pos++
	strip := p.at(0) == '-'
	if strip {
		p.pos++
	}
	if at := p.pos; !p.lineIsOver() || p.at(0) == '#' && p.pos == at {
		p.fail("bad-layout", p.pos, p.lineEnd(p.pos), "the text starts on the line below %s", p.s[start:at])
	}
	p.pos = p.lineEnd(p.pos)
	lines, broken := p.literalLines(parent, n)
	if len(lines) == 0 {
		p.fail("empty-value", start, start+1, "no text follows |, indented further than its key")
	}
	if last := p.s[p.pos-1]; (last == ' ' || last == '\t') && strings.Trim(p.s[p.pos:], " \r\n") == "" {
		// Libraries differ on whether it belongs to the text.
		p.fail("bad-layout", p.pos-1, p.pos, "a space after the last word of the file")
	}
	n.Text = strings.Join(lines, "\n")
	if !strip && broken {
		n.Text += "\n"
	}
	return n
}

// literalLines takes the lines of a literal text and leaves pos at the end of
// the last. broken tells whether a line end follows it.
func (p *parser) literalLines(parent int, n *Node) (lines []string, broken bool) {
	indent, blank := -1, 0
	for at := p.pos; at < len(p.s); {
		at = strings.IndexByte(p.s[at:], '\n') + at + 1 // every line here ends
		if at >= len(p.s) {
			break
		}
		end := p.lineEnd(at)
		text := at
		for text < end && p.s[text] == ' ' {
			text++
		}
		col := text - at
		if text == end {
			if indent >= 0 && col > indent || indent < 0 && col > parent+1 {
				p.fail("bad-layout", at, end, "a line of nothing but spaces, more than the text is indented by")
			}
			blank++
		} else {
			if col <= parent {
				break
			}
			if indent < 0 {
				indent = col
			}
			if col < indent {
				p.fail("bad-layout", text, end, "this line is indented less than the first of its text")
			}
			if p.s[text] == '\t' && col == indent {
				p.fail("bad-layout", text, text+1, "a tab: lines are indented with spaces")
			}
			for ; blank > 0; blank-- {
				lines = append(lines, "")
			}
			lines = append(lines, p.s[at+indent:end])
			p.line, p.pos, n.Range.End = at, end, end
			broken = end < len(p.s)
		}
		if end >= len(p.s) {
			break
		}
		at = end
	}
	return lines, broken
}

package tree

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"dryfit/measure/source"
)

// Parse reads a text. An empty one is an empty Scalar. The node is nil where
// problems are returned: the first thing that is no YAML of our kind, or every
// key that is there twice.
func Parse(f *source.File) (n *Node, probs source.Problems) {
	p := &parser{f: f, s: f.Text}
	defer func() {
		if r := recover(); r != nil {
			s, ours := r.(stop)
			if !ours {
				panic(r)
			}
			n, probs = nil, append(p.probs, s.problem)
		}
	}()
	p.legible()
	n = p.file()
	if len(p.probs) > 0 {
		return nil, p.probs
	}
	return n, nil
}

// parser reads by recursive descent; depth is bounded by MaxDepth. Only byte
// offsets are kept. A column is a byte count from the start of the line: where
// it matters, only spaces and dashes stand before it.
type parser struct {
	f     *source.File
	s     string
	pos   int
	line  int // offset of the start of the line that pos is in
	depth int
	nodes int
	begun bool // past the --- at the start
	probs source.Problems
	pool  []Node
}

type stop struct{ problem source.Problem }

const (
	maxRepeats = 50 // keys that are there twice: more are not listed
)

func (p *parser) fail(code string, start, end int, says string, args ...any) {
	p.failExpect("", code, start, end, says, args...)
}

func (p *parser) failExpect(expect, code string, start, end int, says string, args ...any) {
	if len(args) > 0 {
		says = fmt.Sprintf(says, args...)
	}
	pr := p.f.Problem(code, source.Range{Start: start, End: max(start, min(end, len(p.s)))}, says)
	if expect != "" {
		pr = pr.Expect(expect)
	}
	panic(stop{pr})
}

// legible refuses texts that are too long, and characters that YAML forbids or
// that some libraries take for line ends (YAML 1.2.2, 5.1 and 5.4).
func (p *parser) legible() {
	if len(p.s) > MaxBytes {
		p.fail("long-file", 0, 0, "the file is longer than %d MiB", MaxBytes>>20)
	}
	start := 0
	if strings.HasPrefix(p.s, "\uFEFF") {
		start = len("\uFEFF")
	}
	p.pos, p.line = start, start
	for i := start; i < len(p.s); {
		c := p.s[i]
		if c >= ' ' && c < 0x7F || c == '\n' || c == '\t' {
			i++
			continue
		}
		if c == '\r' {
			if i+1 == len(p.s) || p.s[i+1] != '\n' {
				p.fail("bad-character", i, i+1, "a carriage return without a line feed")
			}
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(p.s[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			p.fail("bad-character", i, i+1, "this is not UTF-8 text")
		case !printable(r):
			p.fail("bad-character", i, i+size, "a character that cannot be printed (U+%04X)", r)
		}
		i += size
	}
}

func printable(r rune) bool {
	return r >= 0xA0 && r != 0x2028 && r != 0x2029 && r != 0xFEFF && r != 0xFFFE && r != 0xFFFF || r >= ' ' && r < 0x7F
}

func (p *parser) file() *Node {
	p.gap()
	if p.pos == p.line && p.mark("---") {
		p.pos += 3
		if !p.lineIsOver() {
			p.fail("bad-layout", p.pos, p.lineEnd(p.pos), "nothing else may stand on the line of ---")
		}
		p.begun = true
		p.gap()
	}
	p.begun = true
	if p.eof() {
		return p.node(Scalar, p.pos)
	}
	n := p.block(-1)
	p.gap()
	if !p.eof() {
		p.misplaced(-1, n)
	}
	return n
}

func (p *parser) eof() bool   { return p.pos >= len(p.s) }
func (p *parser) column() int { return p.pos - p.line }

// at is the byte at pos plus an offset, 0 past the end.
func (p *parser) at(i int) byte {
	if i += p.pos; i < len(p.s) {
		return p.s[i]
	}
	return 0
}

func (p *parser) lineEnd(i int) int {
	if n := strings.IndexByte(p.s[i:], '\n'); n >= 0 {
		i += n
		if i > 0 && p.s[i-1] == '\r' {
			i--
		}
		return i
	}
	return len(p.s)
}

// white tells whether a separation stands at an offset: space, tab, line end or
// the end of the text.
func (p *parser) white(i int) bool {
	if i >= len(p.s) {
		return true
	}
	switch p.s[i] {
	case ' ', '\t', '\n', '\r':
		return true
	}
	return false
}

func (p *parser) mark(m string) bool {
	return strings.HasPrefix(p.s[p.pos:], m) && p.white(p.pos+len(m))
}

// gap skips spaces, comments and line ends.
func (p *parser) gap() {
	for !p.eof() {
		switch c := p.s[p.pos]; {
		case c == ' ' || c == '\r':
			p.pos++
		case c == '\n':
			p.pos++
			p.line = p.pos
		case c == '\t':
			p.fail("bad-layout", p.pos, p.pos+1, "a tab: lines are indented, and words kept apart, with spaces")
		case c == '#' && (p.pos == p.line || p.s[p.pos-1] == ' '):
			p.pos = p.lineEnd(p.pos)
		default:
			if p.pos == p.line {
				p.marks(c)
			}
			return
		}
	}
}

func (p *parser) marks(c byte) {
	switch {
	case c == '%':
		p.fail("unwanted-yaml", p.pos, p.lineEnd(p.pos), "a line that starts with %% is a directive: a toy file has none")
	case p.mark("---") && !p.begun:
	case strings.HasPrefix(p.s[p.pos:], "---"), strings.HasPrefix(p.s[p.pos:], "..."):
		// Some libraries end the document there whatever follows.
		p.fail("unwanted-yaml", p.pos, p.pos+3, "a toy file holds one document: no line starts with %s", p.s[p.pos:p.pos+3])
	}
}

// spaces skips spaces on the line and tells whether the line, but for a comment,
// is over.
func (p *parser) lineIsOver() bool {
	for p.at(0) == ' ' {
		p.pos++
	}
	if p.eof() {
		return true
	}
	switch p.at(0) {
	case '\n', '\r':
		return true
	case '\t':
		p.fail("bad-layout", p.pos, p.pos+1, "a tab: lines are indented, and words kept apart, with spaces")
	case '#':
		return p.pos == p.line || p.s[p.pos-1] == ' '
	}
	return false
}

// finish is called after a value that has to be the last of its line.
func (p *parser) finish() {
	at := p.pos
	if p.lineIsOver() {
		return
	}
	switch {
	case p.at(0) == '#' && p.pos == at:
		p.fail("bad-layout", p.pos, p.pos+1, "a space is missing before the comment")
	case p.at(0) == ':' && p.white(p.pos+1):
		p.fail("bad-layout", p.pos, p.pos+1, "this colon makes a key inside a value: quote the text, or start the key on a line of its own")
	}
	p.fail("bad-layout", p.pos, p.lineEnd(p.pos), "the value ends before this")
}

func (p *parser) node(k Kind, start int) *Node {
	if p.nodes++; p.nodes > MaxNodes {
		p.fail("long-file", start, start+1, "more than %d keys and values", MaxNodes)
	}
	if len(p.pool) == 0 {
		p.pool = make([]Node, min(256, max(8, p.nodes)))
	}
	n := &p.pool[0]
	p.pool = p.pool[1:]
	n.Kind, n.Range = k, source.Range{Start: start, End: start}
	return n
}

func (p *parser) enter() {
	if p.depth++; p.depth > MaxDepth {
		p.fail("deep-nesting", p.pos, p.pos+1, "maps and lists more than %d deep", MaxDepth)
	}
}

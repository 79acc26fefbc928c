package tree

import "strings"

// Offsets returns where in the text that it was read from each byte of a scalar's Text stands, and
// one more: where the next would stand. In a text in quotes an escape is one place.
func (n *Node) Offsets(text string) []int {
	out := make([]int, 0, len(n.Text)+1)
	at, end := n.Range.Start, n.Range.End
	switch {
	case n.literal:
		return n.literalOffsets(text)
	case !n.Quoted:
	case text[at] == '\'':
		for at++; at < end-1; at++ {
			out = append(out, at)
			if text[at] == '\'' {
				at++ // two of them stand for one
			}
		}
	default:
		p := &parser{s: text}
		for at++; at < end-1; {
			size, bytes := 1, 1
			if text[at] == '\\' {
				var r rune
				r, size = p.escape(at)
				bytes = len(string(r))
			}
			for range bytes {
				out = append(out, at)
			}
			at += size
		}
	}
	for len(out) <= len(n.Text) {
		out = append(out, at)
		at++
	}
	return out
}

// literalOffsets are the offsets of a text over several lines after |.
func (n *Node) literalOffsets(text string) []int {
	out := make([]int, 0, len(n.Text)+1)
	p := &parser{s: text}
	spaces := func(s string) int { return len(s) - len(strings.TrimLeft(s, " ")) }
	at := n.Range.Start
	for i, row := range strings.Split(n.Text, "\n") {
		if i > 0 {
			out = append(out, p.lineEnd(at)) // that of the row before
		}
		at = min(p.lineEnd(at)+len("\n"), len(text))
		if strings.HasPrefix(text[at:], "\n") && at > 0 && text[at-1] == '\r' {
			at++
		}
		start := min(at+spaces(text[at:p.lineEnd(at)])-spaces(row), p.lineEnd(at)) // past the indent
		for k := range len(row) {
			out = append(out, start+k)
		}
	}
	for len(out) <= len(n.Text) {
		out = append(out, n.Range.End)
	}
	return out
}

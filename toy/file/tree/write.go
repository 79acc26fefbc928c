package tree

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"dryfit/measure/source"
)

// given is a value to be written: what it means and, if it came as YAML, how it was
// written.
type given struct {
	node *Node
	text string // YAML; "" for a text
	from int    // of text: its column in the YAML it came from
}

func (g given) block() bool { return g.text != "" && g.node.Kind != Scalar && !g.node.Flow }

// given reads the value of an edit. old is what it is to replace, nil if nothing.
func (x *editor) given(e Edit, old *Node) (given, error) {
	if !utf8.ValidString(e.Value) {
		return given{}, errors.New("the value is not UTF-8 text")
	}
	value := strings.ReplaceAll(e.Value, "\r\n", "\n")
	asText := given{node: &Node{Kind: Scalar, Text: value, Quoted: value == ""}}
	if e.As == AsText {
		return asText, legible(value)
	}
	if e.As != "" && e.As != AsYAML {
		return given{}, fmt.Errorf("a value is text or yaml, not %q", e.As)
	}
	f := source.New("the value", value)
	n, probs := Parse(f)
	if e.As == "" {
		single := old != nil && old.Kind == Scalar
		bracket := strings.HasPrefix(value, "[") || strings.HasPrefix(value, "{")
		isText := n == nil && (single || !bracket) || n.Empty() && n != nil ||
			n != nil && n.Kind == Scalar && !n.Quoted ||
			n != nil && n.Kind != Scalar && single && !bracket && !strings.Contains(value, "\n")
		if isText {
			return asText, legible(value)
		}
	}
	if n == nil {
		return given{}, fmt.Errorf("the value cannot be read: %w", probs.Err())
	}
	if n.Empty() {
		return given{}, errors.New("there is no value to write")
	}
	v := editor{s: value}
	return given{node: n, text: value[n.Range.Start:n.Range.End], from: v.column(n.Range.Start)}, nil
}

func legible(text string) error {
	for _, r := range text {
		if !printable(r) && r != '\n' && r != '\t' {
			return fmt.Errorf("a character that cannot be printed (U+%04X)", r)
		}
	}
	return nil
}

// inline writes a value that starts on the line of its key or dash. Further lines
// are indented by col.
func (x *editor) inline(g given, old *Node, flow bool, col int) string {
	switch {
	case g.text == "":
		return x.scalar(g.node.Text, old, flow, col)
	case flow && (strings.Contains(g.text, "\n") || g.block() || g.node.literal):
		return emit(g.node)
	case g.node.literal:
		return x.scalar(g.node.Text, &Node{Kind: Scalar, Quoted: true, literal: true}, flow, col)
	case !flow && g.node.Kind == Scalar && !g.node.Quoted:
		return g.text
	case flow && g.node.Kind == Scalar:
		return x.scalar(g.node.Text, g.node, flow, col)
	}
	return x.indent(g, col)
}

// indent moves all lines but the first of a YAML text to a column.
func (x *editor) indent(g given, col int) string {
	lines := strings.Split(g.text, "\n")
	for i, l := range lines[1:] {
		body := strings.TrimLeft(l, " ")
		if body == "" {
			lines[i+1] = ""
			continue
		}
		lines[i+1] = strings.Repeat(" ", max(0, len(l)-len(body)-g.from)+col) + body
	}
	return strings.Join(lines, x.eol)
}

// scalar writes a text in the style of the old value, or in quotes where that
// style cannot hold it.
func (x *editor) scalar(text string, old *Node, flow bool, col int) string {
	oneLine := !strings.Contains(text, "\n")
	first := byte(0)
	if old != nil && old.Kind == Scalar && old.Quoted && old.Range.End > old.Range.Start && old.Range.End <= len(x.s) {
		first = x.s[old.Range.Start]
	}
	switch {
	case old != nil && old.literal && !flow:
		if s, ok := x.literal(text, col); ok {
			return s
		}
	case first == '\'' && oneLine:
		return single(text)
	case first == '"':
		return double(text)
	}
	if plainly(text, flow) {
		return text
	}
	if oneLine && (!strings.Contains(text, "'") || strings.ContainsAny(text, `"\`)) {
		return single(text)
	}
	return double(text)
}

// plainly tells whether a text can be written without quotes: whether it reads as
// itself.
func plainly(text string, flow bool) bool {
	yaml := "k: " + text
	if flow {
		yaml = "{k: " + text + "}"
	}
	n, _ := Parse(source.New("", yaml))
	return n != nil && n.Kind == Map && len(n.Entries) == 1 && plain(n.Entries[0].Value, text)
}

func plain(n *Node, text string) bool {
	return n.Kind == Scalar && !n.Quoted && n.Text == text && text != ""
}

// key writes a key.
func key(text string, flow bool) (string, error) {
	if err := legible(text); err != nil {
		return "", err
	}
	yaml := text + ": v"
	if flow {
		yaml = "{" + yaml + "}"
	}
	n, _ := Parse(source.New("", yaml))
	if n != nil && n.Kind == Map && len(n.Entries) == 1 && plain(n.Entries[0].Key, text) {
		return text, nil
	}
	if strings.Contains(text, "\n") {
		return double(text), nil
	}
	return single(text), nil
}

func single(text string) string { return "'" + strings.ReplaceAll(text, "'", "''") + "'" }

var doubleEscapes = strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", `\t`)

func double(text string) string { return `"` + doubleEscapes.Replace(text) + `"` }

// literal writes a text after |, indented by col.
func (x *editor) literal(text string, col int) (string, bool) {
	head, body := "|-", text
	if b, ok := strings.CutSuffix(text, "\n"); ok {
		head, body = "|", b
	}
	lines := strings.Split(body, "\n")
	for i, l := range lines {
		if i == 0 && (l == "" || l[0] == ' ') || l == "" && i == len(lines)-1 ||
			l != "" && (strings.Trim(l, " ") == "" || l[0] == '\t') {
			return "", false
		}
		if l != "" {
			lines[i] = strings.Repeat(" ", col) + l
		}
	}
	return head + x.eol + strings.Join(lines, x.eol), true
}

// emit writes a node on one line, in brackets.
func emit(n *Node) string {
	var b strings.Builder
	text := func(s string) {
		if plainly(s, true) {
			b.WriteString(s)
		} else if strings.Contains(s, "\n") || strings.Contains(s, "'") {
			b.WriteString(double(s))
		} else {
			b.WriteString(single(s))
		}
	}
	var walk func(n *Node)
	walk = func(n *Node) {
		switch n.Kind {
		case Map:
			b.WriteByte('{')
			for i, e := range n.Entries {
				if i > 0 {
					b.WriteString(", ")
				}
				k, err := key(e.Key.Text, true)
				if err != nil { // it was read, so it is legible
					panic("bug in emit: " + err.Error())
				}
				b.WriteString(k + ": ")
				if !e.Value.Empty() {
					walk(e.Value)
				}
			}
			b.WriteByte('}')
		case List:
			b.WriteByte('[')
			for i, it := range n.Items {
				if i > 0 {
					b.WriteString(", ")
				}
				walk(it)
			}
			b.WriteByte(']')
		default:
			text(n.Text)
		}
	}
	walk(n)
	return b.String()
}

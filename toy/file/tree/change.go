package tree

import (
	"errors"
	"fmt"
	"strings"

	"dryfit/measure/source"
)

// indentStep is how much further a value below its key is indented.
const indentStep = 2

func (x *editor) set(e Edit, steps []step) ([]change, *Node, error) {
	at, ok := x.find(steps)
	if !ok {
		return nil, nil, missing(e.Path)
	}
	g, err := x.given(e, at.old)
	if err != nil {
		return nil, nil, err
	}
	want := with(x.root, steps, func(*Node) *Node { return g.node })
	return []change{x.write(at, g)}, want, nil
}

// write puts a value into a slot.
func (x *editor) write(at slot, g given) change {
	old := at.old
	start, end := old.Range.Start, old.Range.End
	if at.flow {
		text := x.inline(g, old, true, 0)
		if old.Empty() {
			text = " " + text
		}
		return change{start, end, text}
	}
	inner := at.col + indentStep
	if at.col < 0 {
		inner = 0
	}
	gap := x.s[at.head:start]
	below := strings.Contains(gap, "\n")
	switch {
	case g.block() && at.col >= 0 && !below && !at.item:
		// The value moves below its key; a comment stays with the key.
		rest := x.s[end:x.lineEnd(end)]
		return change{at.head, end + len(rest), rest + x.eol + strings.Repeat(" ", inner) + x.indent(g, inner)}
	case g.block() && (below || !old.Empty()):
		here := x.column(start)
		to := here
		if here <= at.col {
			to = inner
		}
		return change{start, end, strings.Repeat(" ", to-here) + x.indent(g, to)}
	case g.block():
		return change{start, end, " " + x.indent(g, x.column(start)+1)}
	case below && at.col >= 0:
		// The value moves up to its key; comments between them stay.
		return change{at.head, end, " " + x.inline(g, old, false, inner) + strings.TrimRight(gap, " \r\n")}
	}
	text := x.inline(g, old, false, inner)
	if old.Empty() && at.col >= 0 {
		text = " " + text
	}
	return change{start, end, text}
}

func (x *editor) insert(e Edit, steps []step) ([]change, *Node, error) {
	if len(steps) == 0 {
		return nil, nil, errors.New("it is not said what to insert")
	}
	up, last := steps[:len(steps)-1], steps[len(steps)-1]
	at, ok := x.find(up)
	if !ok {
		return nil, nil, fmt.Errorf("there is nothing that could hold %s", e.Path)
	}
	g, err := x.given(e, nil)
	if err != nil {
		return nil, nil, err
	}
	n := at.old
	flow := at.flow || n.Flow
	if n.Empty() {
		return x.insertFirst(at, up, last, g)
	}
	i := n.size()
	prefix := "- "
	if last.item == -1 {
		if n.Kind != Map {
			return nil, nil, fmt.Errorf("a key can be put into a map only, and this is a %s", n.Kind)
		}
		if n.Get(last.key) != nil {
			return nil, nil, fmt.Errorf("the key %s is there already", last.key)
		}
		if prefix, err = key(last.key, flow); err != nil {
			return nil, nil, err
		}
		prefix += ":"
		if e.To != "" {
			if i = x.sibling(e.To, up, n); i < 0 {
				return nil, nil, missing(e.To)
			}
		}
	} else {
		if n.Kind != List {
			return nil, nil, fmt.Errorf("an item can be put into a list only, and this is a %s", n.Kind)
		}
		if last.item > i {
			return nil, nil, fmt.Errorf("the list has %d items: %s is too far", i, e.Path)
		}
		if last.item >= 0 {
			i = last.item
		}
	}
	want := with(x.root, up, func(n *Node) *Node { return added(n, i, last.key, g.node) })
	if flow {
		text := x.inline(g, nil, true, 0)
		if n.Kind == Map {
			text = prefix + " " + text
		}
		return []change{x.flowInsert(n, i, text)}, want, nil
	}
	first, _ := n.child(0)
	col := x.column(first)
	row := x.row(prefix, g, col)
	if i == 0 {
		return []change{{first, first, row + x.eol + strings.Repeat(" ", col)}}, want, nil
	}
	_, end := n.child(i - 1)
	end = x.lineEnd(end)
	return []change{{end, end, x.eol + strings.Repeat(" ", col) + row}}, want, nil
}

// sibling finds the entry of n that a path, or just its key, names.
func (x *editor) sibling(path string, up []step, n *Node) int {
	s, ok := split(path)
	if !ok || len(s) == 0 {
		return -1
	}
	if len(s) > 1 {
		if len(s) != len(up)+1 {
			return -1
		}
		for i := range up {
			if s[i] != up[i] {
				return -1
			}
		}
	}
	return n.index(s[len(s)-1])
}

func added(n *Node, i int, key string, v *Node) *Node {
	c := *n
	if n.Kind == Map {
		e := Entry{Key: &Node{Kind: Scalar, Text: key, Quoted: key == ""}, Value: v}
		c.Entries = append(append(append([]Entry(nil), n.Entries[:i]...), e), n.Entries[i:]...)
	} else {
		c.Items = append(append(append([]*Node(nil), n.Items[:i]...), v), n.Items[i:]...)
	}
	return &c
}

// row writes an entry (prefix "key:") or item (prefix "- ") of a block at a column,
// without the indent of its first line.
func (x *editor) row(prefix string, g given, col int) string {
	inner := col + indentStep
	switch {
	case prefix == "- ":
		if g.block() {
			return prefix + x.indent(g, inner)
		}
		return prefix + x.inline(g, nil, false, inner)
	case g.block():
		return prefix + x.eol + strings.Repeat(" ", inner) + x.indent(g, inner)
	}
	return prefix + " " + x.inline(g, nil, false, inner)
}

// insertFirst makes a map or list of a missing value.
func (x *editor) insertFirst(at slot, up []step, last step, g given) ([]change, *Node, error) {
	prefix, v := "- ", &Node{Kind: List}
	if last.item == -1 {
		k, err := key(last.key, at.flow)
		if err != nil {
			return nil, nil, err
		}
		prefix, v = k+":", &Node{Kind: Map}
	} else if last.item > 0 {
		return nil, nil, errors.New("the list has no items yet")
	}
	want := with(x.root, up, func(*Node) *Node { return added(v, 0, last.key, g.node) })
	if at.flow {
		text := x.inline(g, nil, true, 0)
		if v.Kind == Map {
			text = " {" + prefix + " " + text + "}"
		} else {
			text = " [" + text + "]"
		}
		return []change{{at.head, at.head, text}}, want, nil
	}
	row := x.row(prefix, g, 0)
	if x.root.Empty() { // at the end of a file of nothing but comments
		text := row + x.eol
		if x.s != "" && !strings.HasSuffix(x.s, "\n") && x.s != "\uFEFF" {
			text = x.eol + row
		}
		return []change{{len(x.s), len(x.s), text}}, want, nil
	}
	n, probs := Parse(source.New("the value", strings.ReplaceAll(row, "\r\n", "\n")))
	if n == nil {
		return nil, nil, fmt.Errorf("the value cannot be read: %w", probs.Err())
	}
	return []change{x.write(at, given{node: n, text: strings.ReplaceAll(row, "\r\n", "\n")})}, want, nil
}

// flowInsert adds a text as child i of a map or list in brackets.
func (x *editor) flowInsert(n *Node, i int, text string) change {
	if n.size() == 0 {
		return change{n.Range.Start + 1, n.Range.Start + 1, text}
	}
	first, _ := n.child(0)
	sep := " "
	if x.alone(first) && x.lineStart(first) > n.Range.Start {
		sep = x.eol + strings.Repeat(" ", x.column(first)) // a line each
	}
	if i == 0 {
		return change{first, first, text + "," + sep}
	}
	_, end := n.child(i - 1)
	if c := x.comma(end); sep != " " && c >= 0 && x.quiet(x.s[end:c]) {
		le := x.lineEnd(c) // past the comma and the comment on its line
		if x.quiet(x.s[c+1:le]) || strings.HasPrefix(strings.TrimLeft(x.s[c+1:le], " "), "#") {
			text = sep[len(x.eol):] + text
			if i < n.size() || x.comma(c+1) < 0 {
				text += ","
			}
			return change{le, le, x.eol + text}
		}
	}
	return change{end, end, "," + sep + text}
}

// comma finds the comma after the child of a flow that ends at an offset, -1 if
// the next thing is something else.
func (x *editor) comma(i int) int {
	p := &parser{f: x.f, s: x.s, pos: i, line: x.lineStart(i), begun: true}
	p.gap()
	if p.at(0) != ',' {
		return -1
	}
	return p.pos
}

// quiet tells whether there is nothing but white space.
func (x *editor) quiet(s string) bool { return strings.Trim(s, " \r\n") == "" }

package tree

import (
	"errors"
	"fmt"
	"strings"
)

func (x *editor) remove(e Edit, steps []step) ([]change, *Node, error) {
	if len(steps) == 0 {
		return nil, nil, errors.New("it is not said what to remove")
	}
	up, last := steps[:len(steps)-1], steps[len(steps)-1]
	at, ok := x.find(up)
	if !ok {
		return nil, nil, missing(e.Path)
	}
	n := at.old
	i := n.index(last)
	if i < 0 {
		return nil, nil, missing(e.Path)
	}
	want := with(x.root, up, func(n *Node) *Node {
		c := *n
		if n.Kind == Map {
			c.Entries = append(append([]Entry(nil), n.Entries[:i]...), n.Entries[i+1:]...)
		} else {
			c.Items = append(append([]*Node(nil), n.Items[:i]...), n.Items[i+1:]...)
		}
		return &c
	})
	switch {
	case n.Flow:
		return x.flowRemove(n, i), want, nil
	case n.size() == 1:
		none := given{node: &Node{Kind: n.Kind, Flow: true}, text: "[]"}
		if n.Kind == Map {
			none.text = "{}"
		}
		return []change{x.write(at, none)}, want, nil
	}
	start, end := n.child(i)
	le := x.lineEnd(end)
	if !x.alone(start) {
		// It starts on the line of a dash: the next one takes its place, or a comment
		// that stands before that.
		next := le
		for next < len(x.s) && strings.IndexByte(" \r\n", x.s[next]) >= 0 {
			next++
		}
		return []change{{start, next, ""}}, want, nil
	}
	ls := x.lineStart(start)
	whole := change{ls, x.after(le), ""}
	if le < len(x.s) {
		return []change{whole}, want, nil
	}
	before := ls - 1 // no line end follows: take the one before
	if before > 0 && x.s[before-1] == '\r' {
		before--
	}
	return []change{{max(before, 0), le, ""}, whole}, want, nil
}

// flowRemove takes child i out of a map or list in brackets.
func (x *editor) flowRemove(n *Node, i int) []change {
	start, end := n.child(i)
	comma := x.comma(end)
	past := end
	if comma >= 0 {
		past = comma + 1
	}
	simple := change{start, past, ""} // leaves spaces and comments as they are
	if comma >= 0 && !x.quiet(x.s[end:comma]) {
		simple = change{start, end, ""} // a comment before the comma
		if i == 0 {
			simple = change{start, comma + 1, strings.TrimRight(x.s[end:comma], " ")}
		} else {
			_, prev := n.child(i - 1)
			c := x.comma(prev)
			return []change{{start, comma + 1, strings.TrimLeft(x.s[end:comma], " ")}, {c, end, x.s[c+1 : start]}}
		}
	}
	ls, le := x.lineStart(start), x.lineEnd(past)
	rest := strings.TrimLeft(x.s[past:le], " ")
	switch {
	case x.alone(start) && ls > n.Range.Start && (rest == "" || rest[0] == '#'):
		return []change{{ls, x.after(le), ""}, simple}
	case i+1 < n.size():
		next, _ := n.child(i + 1)
		if g := x.s[past:next]; strings.Trim(g, " ") == "" {
			return []change{{start, next, ""}, simple}
		}
	case i > 0:
		_, prev := n.child(i - 1)
		if c := x.comma(prev); x.quiet(x.s[prev:c]) && x.quiet(x.s[c+1:start]) {
			return []change{{prev, end, ""}, simple}
		}
	case x.quiet(x.s[n.Range.Start+1:start]) && x.quiet(x.s[past:n.Range.End-1]):
		return []change{{n.Range.Start + 1, n.Range.End - 1, ""}, simple}
	}
	return []change{simple}
}

func (x *editor) move(e Edit, steps []step) ([]change, *Node, error) {
	if len(steps) == 0 || steps[len(steps)-1].item == -1 {
		return nil, nil, errors.New("only the items of a list can be moved")
	}
	up, last := steps[:len(steps)-1], steps[len(steps)-1]
	at, ok := x.find(up)
	if !ok || at.old.index(last) < 0 {
		return nil, nil, missing(e.Path)
	}
	n := at.old
	from, to := last.item, 0
	s, ok := split(e.To)
	if ok && len(s) > 0 && s[len(s)-1].item == atEnd {
		s = append(append([]step(nil), s[:len(s)-1]...), step{item: n.size() - 1})
		e.To = "[" + itoa(n.size()-1) + "]"
		if len(s) > 1 && len(s) != len(steps) {
			ok = false
		}
	}
	if !ok || x.sibling(e.To, up, n) < 0 {
		return nil, nil, fmt.Errorf("%q is no place in the same list", e.To)
	}
	to = x.sibling(e.To, up, n)
	want := with(x.root, up, func(n *Node) *Node {
		c := *n
		c.Items = append([]*Node(nil), n.Items...)
		rotate(c.Items, from, to)
		return &c
	})
	if from == to {
		return []change{{n.Range.Start, n.Range.Start, ""}}, want, nil
	}
	if n.Flow {
		return []change{x.flowMove(n, from, to)}, want, nil
	}
	return []change{x.blockMove(n, from, to)}, want, nil
}

func rotate[T any](list []T, from, to int) {
	v := list[from]
	if from < to {
		copy(list[from:to], list[from+1:to+1])
	} else {
		copy(list[to+1:from+1], list[to:from])
	}
	list[to] = v
}

// flowMove changes the order of the items; what stands between them stays.
func (x *editor) flowMove(n *Node, from, to int) change {
	lo, hi := min(from, to), max(from, to)
	texts := make([]string, n.size())
	for i := range texts {
		s, e := n.child(i)
		texts[i] = x.s[s:e]
	}
	rotate(texts, from, to)
	start, at := n.child(lo)
	var b strings.Builder
	for i := lo; i <= hi; i++ {
		s, e := n.child(i)
		if i > lo {
			b.WriteString(x.s[at:s])
		}
		b.WriteString(texts[i])
		at = e
	}
	return change{start, at, b.String()}
}

// blockMove moves the lines of an item, with the comment lines right above it.
func (x *editor) blockMove(n *Node, from, to int) change {
	firstAlone := x.alone(n.dashes[0])
	begin := func(i int) int {
		if !firstAlone {
			return n.dashes[i]
		}
		return x.withComments(n, i)
	}
	finish := func(i int) int { return x.lineEnd(n.Items[i].Range.End) }
	lo, hi := min(from, to), max(from, to)
	start, end := begin(lo), finish(hi)
	// cut is the text before the seam, paste the text after it; they change places.
	seamEnd := finish(from)
	seamStart := begin(from)
	if from < to {
		seamStart = begin(from + 1)
		if firstAlone {
			seamStart = x.after(seamEnd)
		}
	} else {
		seamEnd = finish(from - 1)
		if firstAlone {
			seamEnd = x.before(seamStart)
		}
	}
	return change{start, end, x.s[seamStart:end] + x.s[seamEnd:seamStart] + x.s[start:seamEnd]}
}

// before is the end of the line before one that starts at an offset.
func (x *editor) before(lineStart int) int {
	i := lineStart - 1
	if i > 0 && x.s[i-1] == '\r' {
		i--
	}
	return max(i, 0)
}

// withComments is the start of the line of an item's dash, or of the first of the
// comment lines right above it in the same column. What stands above the first item
// of a file is about the file.
func (x *editor) withComments(n *Node, i int) int {
	ls := x.lineStart(n.dashes[i])
	col := x.column(n.dashes[i])
	limit := 0
	if i > 0 {
		limit = x.after(x.lineEnd(n.Items[i-1].Range.End))
	} else if n == x.root {
		return ls
	}
	for ls > limit {
		up := x.lineStart(x.before(ls))
		text := strings.TrimLeft(x.s[up:ls], " ")
		if up < limit || !strings.HasPrefix(text, "#") || ls-up-len(text) != col {
			break
		}
		ls = up
	}
	return ls
}

package file

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// Apply makes an edit of a text, as tree.Apply does, and lets everything that speaks of pieces,
// hinges, work, holes or corners speak of the same ones as before, whatever they are called
// afterwards: the second of three crates is crate.3 once another one is put before it. What speaks
// of something that the edit takes away is left speaking of nothing, and never of what comes to
// have its name.
func Apply(f *source.File, e tree.Edit) (string, error) {
	text, _, err := tree.Apply(f, e)
	if err != nil || e.Op == "restore" || e.Op == "set" && !naming(e.Path) {
		return text, err
	}
	was, err := parsed(f)
	if err != nil {
		return "", err
	}
	text, _, err = follow(was, source.New(f.Name, text), moves(was, e))
	return text, err
}

// naming tells whether setting a value at a path can change what a piece or a hinge is called; no
// value changes a number.
func naming(path string) bool {
	return path == "" || strings.HasPrefix(path, "build") || strings.HasPrefix(path, "glue-ups")
}

// moves tells where an edit brings what is at a path; "" where it takes it away.
func moves(root *tree.Node, e tree.Edit) func(path string) string {
	list, at := lastItem(e.Path)
	n := root.At(list)
	if list == "" || n == nil || at < 0 && e.Op != "insert" {
		return func(path string) string { return path }
	}
	place := func(i int) int { return i }
	switch e.Op {
	case "insert":
		place = func(i int) int {
			if at >= 0 && i >= at {
				i++
			}
			return i
		}
	case "remove":
		place = func(i int) int {
			switch {
			case i == at:
				return -1
			case i > at:
				i--
			}
			return i
		}
	case "move":
		order := make([]int, len(n.Items))
		for i := range order {
			order[i] = i
		}
		_, to := lastItem(e.To)
		if to < 0 {
			to = len(order) - 1
		}
		if to < len(order) && at < len(order) {
			order = slices.Insert(slices.Delete(order, at, at+1), to, at)
		}
		place = func(i int) int { return slices.Index(order, i) }
	}
	return func(path string) string {
		rest, ok := strings.CutPrefix(path, list+"[")
		num, rest, closed := strings.Cut(rest, "]")
		i, err := strconv.Atoi(num)
		if !ok || !closed || err != nil {
			return path
		}
		if i = place(i); i < 0 {
			return ""
		}
		return item(list, i) + rest
	}
}

// lastItem parts the path of an item into its list and its place there, -1 for the end.
func lastItem(path string) (list string, at int) {
	open := strings.LastIndexByte(path, '[')
	if open < 0 || !strings.HasSuffix(path, "]") {
		return "", -1
	}
	at, err := strconv.Atoi(path[open+1 : len(path)-1])
	if err != nil {
		at = -1
	}
	return path[:open], at
}

// through returns names of a text as an edit of it leaves them: what they are called still as
// before, where it is said as it is now. now are the names of the text afterwards.
func (n *names) through(to func(string) string, now *names) *names {
	out := &names{of: map[ref]target{}, called: map[target]string{}, worked: map[target]string{}}
	move := func(t target) target {
		if t.path = to(t.path); t.in != "" {
			if t.in = to(t.in); t.in == "" {
				t.path = "" // gone from inside its glue-up
			}
		}
		return t
	}
	for _, r := range n.refs {
		t := move(n.of[r])
		r.scope = to(r.scope)
		if r.kind <= GlueUpName { // only Rename changes these, and all that speaks of them
			r.text = orElse(now.called[t], r.text)
		}
		out.add(r.kind, r.scope, r.text, t)
	}
	for t, on := range n.worked {
		out.worked[move(t)] = to(on)
	}
	return out
}

// hit is a stretch of a mention's text and what it stands for.
type hit struct {
	ref
	from, to int
	target   target
}

// hits are what a mention speaks of by these names: a waiver of a hole of a part speaks of the part
// and, where holes have no names, of work and a hole by their numbers.
func (n *names) hits(m mention) []hit {
	for _, kind := range m.kinds {
		r := ref{kind: kind}
		if kind == PieceName || kind == cornerNumber {
			r.scope = m.scope
		}
		for end := len(m.text); end > 0; end = strings.LastIndexByte(m.text[:end], '/') {
			r.text = m.text[:end]
			if t, ok := n.of[r]; ok {
				on := t.path
				if kind == PieceName {
					on = n.worked[t]
				}
				return append([]hit{{r, 0, end, t}}, n.numbers(m.text, end, on)...)
			}
			if !m.tail {
				break
			}
		}
	}
	return nil
}

// numbers finds the work and the hole that stand behind a name by their numbers: /work.2.3.
func (n *names) numbers(text string, from int, on string) (out []hit) {
	rest, ok := strings.CutPrefix(text[from:], "/work.")
	if !ok {
		return nil
	}
	from += len("/work.")
	work, hole, _ := strings.Cut(rest, ".")
	r := ref{workNumber, on, work}
	t, ok := n.of[r]
	if !ok {
		return nil
	}
	out = append(out, hit{r, from, from + len(work), t})
	r = ref{holeNumber, t.path, hole}
	if t, ok := n.of[r]; ok {
		from += len(work) + 1
		out = append(out, hit{r, from, from + len(hole), t})
	}
	return out
}

// Written is a name that was written anew.
type Written struct {
	Line     int // of the new text
	Was, Now string
}

// follow brings all that speaks of what has another name now to that name. was is the text before,
// f the text now, and to tells where what was at a path is now.
func follow(was *tree.Node, f *source.File, to func(string) string) (string, []Written, error) {
	root, err := parsed(f)
	if err != nil {
		return "", nil, err
	}
	now := namesOf(root)
	old := namesOf(was).through(to, now)
	w := &writer{f: f}
	for _, m := range mentionsIn(f, root) {
		hits := old.hits(m)
		if hits == nil && !m.tail {
			// It speaks of nothing yet: nothing that was there before may come to have the name.
			for _, h := range now.hits(m) {
				if _, there := old.called[h.target]; there && h.kind > GlueUpName {
					w.write(m, h, now.free(h.ref))
				}
			}
		}
		for _, h := range hits {
			if h.kind <= GlueUpName {
				continue
			}
			name, there := now.called[h.target]
			if !there {
				name = h.text
				if _, taken := now.of[h.ref]; taken {
					name = now.free(h.ref)
				}
			} else if m.first != "" {
				name = now.secondOf(old, m, name)
			}
			w.write(m, h, name)
		}
	}
	text, written := w.done()
	return text, written, nil
}

// secondOf is the number of the second corner of a flat, which is the one behind the first: a corner
// put between the two shortens the flat.
func (n *names) secondOf(old *names, m mention, second string) string {
	first, ok := n.called[old.of[ref{cornerNumber, m.scope, m.first}]]
	a, err := strconv.Atoi(m.first)
	b, err2 := strconv.Atoi(m.text)
	if !ok || err != nil || err2 != nil || b != a%old.count(cornerNumber, m.scope)+1 {
		return second
	}
	a, _ = strconv.Atoi(first)
	return strconv.Itoa(a%n.count(cornerNumber, m.scope) + 1)
}

// count is how many there are of a kind.
func (n *names) count(kind Kind, scope string) (all int) {
	for _, r := range n.refs {
		if r.kind == kind && r.scope == scope {
			all++
		}
	}
	return max(all, 1)
}

// free is a name like one that is taken, which is not.
func (n *names) free(r ref) string {
	slash := strings.LastIndexByte(r.text, '/') + 1
	lead, base := r.text[:slash], baseOf(r.text[slash:])
	for k := 1; ; k++ {
		switch r.kind {
		case PieceName:
			r.text = fmt.Sprintf("%s%s.%d", lead, base, k+1)
		case HingeName:
			r.text = fmt.Sprintf("%s-%d", base, k+1)
		default:
			r.text = strconv.Itoa(k)
		}
		if _, taken := n.of[r]; !taken {
			return r.text
		}
	}
}

// writer writes names anew in a text.
type writer struct {
	f     *source.File
	spots []spot
}

type spot struct {
	at   source.Range
	text string
}

func (w *writer) write(m mention, h hit, text string) {
	if text != h.text {
		w.put(m.node, m.from+h.from, m.from+h.to, text)
	}
}

// put replaces bytes of a node's text.
func (w *writer) put(n *tree.Node, from, to int, text string) {
	at := n.Offsets(w.f.Text)
	w.spots = append(w.spots, spot{source.Range{Start: at[from], End: at[to]}, text})
}

// done returns the new text, with what was written in the order of the file.
func (w *writer) done() (string, []Written) {
	slices.SortFunc(w.spots, func(a, b spot) int { return a.at.Start - b.at.Start })
	var b strings.Builder
	var out []Written
	last := 0
	for _, s := range w.spots {
		if s.at.Start < last {
			continue // written already: a place that is spoken of twice
		}
		line, _ := w.f.Position(s.at.Start)
		out = append(out, Written{line, w.f.Text[s.at.Start:s.at.End], s.text})
		b.WriteString(w.f.Text[last:s.at.Start] + s.text)
		last = s.at.End
	}
	b.WriteString(w.f.Text[last:])
	return b.String(), out
}

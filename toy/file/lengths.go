package file

import (
	"fmt"
	"slices"

	"dryfit/measure/source"
	"dryfit/toy/file/shape"
	"dryfit/toy/file/tree"
)

// Formula is a formula of a toy file, by its place: the text of the value at Path from byte From on.
type Formula struct {
	Path  string
	Line  int
	Text  string // of the formula alone
	From  int
	Whole string // the text of the value, which Text is the end of
	Data  bool   // it is SVG path data, numbers in the unit of the file
}

// Formulas lists all formulas of a file in its order, with what is added to places (frame.front -
// 1/8) and with path data; what cannot be read is left out.
func Formulas(f *source.File) ([]Formula, error) {
	root, err := parsed(f)
	if err != nil {
		return nil, err
	}
	type found struct {
		n    *tree.Node
		from int
		data bool
	}
	var all []found
	var d doc
	for _, p := range shape.Formulas(f, root, &d) {
		all = append(all, found{p.Node, p.From, false})
	}
	sits := func(steps *tree.Node) {
		for _, s := range items(steps) {
			for _, e := range entries(s.Get("sits")) {
				if m := refForm.FindStringSubmatchIndex(e.Value.Text); m != nil && m[8] >= 0 {
					all = append(all, found{e.Value, m[8], false})
				}
			}
		}
	}
	sits(root.Get("build"))
	drawn := func(work *tree.Node) {
		for _, w := range items(work) {
			for _, e := range entries(w) {
				if p := e.Value.Get("outline").Get("path"); p != nil && p.Kind == tree.Scalar {
					all = append(all, found{p, 0, true})
				}
			}
		}
	}
	for _, e := range entries(root.Get("parts")) {
		drawn(e.Value.Get("work"))
	}
	for _, e := range entries(root.Get("glue-ups")) {
		sits(e.Value.Get("pieces"))
		drawn(e.Value.Get("work"))
	}
	slices.SortStableFunc(all, func(a, b found) int { return a.n.Range.Start - b.n.Range.Start })
	paths := map[*tree.Node]string{}
	pathsOf(root, "", paths)
	var out []Formula
	for _, x := range all {
		line, _ := f.Position(x.n.Range.Start)
		out = append(out, Formula{Path: paths[x.n], Line: line, Text: x.n.Text[x.from:], From: x.from, Whole: x.n.Text, Data: x.data})
	}
	return out, nil
}

// pathsOf notes the path of every value.
func pathsOf(n *tree.Node, path string, into map[*tree.Node]string) {
	into[n] = path
	for i := range n.Entries {
		pathsOf(n.Entries[i].Value, tree.Join(path, n.Entries[i].Key.Text), into)
	}
	for i, it := range n.Items {
		pathsOf(it, fmt.Sprintf("%s[%d]", path, i), into)
	}
}

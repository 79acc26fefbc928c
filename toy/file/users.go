package file

import (
	"fmt"
	"slices"

	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// Users tells who in a file speaks of each part and glue-up, by its path (parts.wheel), in words and
// in the order of the file; a part without any can be taken away. A part's own formulas do not count.
func Users(f *source.File) (map[string][]string, error) {
	root, err := parsed(f)
	if err != nil {
		return nil, err
	}
	n := namesOf(root)
	stretches, said := stretchesOf(root), mentionsIn(f, root)
	out := map[string][]string{}
	for _, s := range stretches {
		for _, m := range said {
			if at := m.node.Range.Start; at < s.in.Start || at >= s.in.End {
				continue
			}
			for _, h := range n.hits(m) {
				own := h.target.path
				if (h.target.kind == PartName || h.target.kind == GlueUpName) && own != s.path && !slices.Contains(out[own], s.says) {
					out[own] = append(out[own], s.says)
				}
			}
		}
	}
	return out, nil
}

// stretch is a piece of a file that something is said in.
type stretch struct {
	path, says string
	in         source.Range
}

// stretchesOf parts a file into what can speak of a part.
func stretchesOf(root *tree.Node) (out []stretch) {
	for _, top := range entries(root) {
		switch key := top.Key.Text; key {
		case "sizes", "stock", "parts", "glue-ups":
			word := map[string]string{"sizes": "the size ", "stock": "the stock ", "parts": "the part ", "glue-ups": "the glue-up "}[key]
			for _, e := range entries(top.Value) {
				out = append(out, stretch{tree.Join(key, e.Key.Text), word + e.Key.Text, e.Value.Range})
			}
		case "build":
			for i, s := range items(top.Value) {
				out = append(out, stretch{item(key, i), fmt.Sprintf("line %d of the build", i+1), s.Range})
			}
		default:
			out = append(out, stretch{key, "the key " + key, top.Value.Range})
		}
	}
	return out
}

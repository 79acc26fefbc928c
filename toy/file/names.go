package file

import (
	"fmt"
	"strconv"
	"strings"

	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// Kind is what a name of the toy file is the name of.
type Kind int

// The kinds of names. Work, hole and corner are called by their number.
const (
	SizeName Kind = iota
	StockName
	PartName
	GlueUpName
	PieceName
	HingeName
	workNumber
	holeNumber
	cornerNumber
)

func (k Kind) String() string {
	return [...]string{"size", "stock", "part", "glue-up", "piece", "hinge", "work", "hole", "corner"}[k]
}

// target is what a name stands for, by where it is said in the file: that stays the same when its
// name becomes another.
type target struct {
	kind Kind
	path string // of a piece the step that adds it
	end  string // of a piece on an axle, or the axle: which; of a hole in a row: which
	in   string // of a piece inside a glue-up of the build: its path in the glue-up
}

// ref is a name as it is written somewhere.
type ref struct {
	kind  Kind
	scope string // of a piece the list of steps, of work what it is on, of a hole the drilling, of a corner the list; "" for what all of the file knows
	text  string
}

// names are all names of a text, both ways.
type names struct {
	of     map[ref]target
	called map[target]string
	worked map[target]string // the part or glue-up that a piece is of
	refs   []ref             // in the order of the file
}

func (n *names) add(kind Kind, scope, text string, t target) {
	r := ref{kind, scope, text}
	t.kind = kind
	n.called[t] = text
	if _, twice := n.of[r]; !twice {
		n.of[r] = t
		n.refs = append(n.refs, r)
	}
}

// namesOf finds the names of a text, as far as it can be read.
func namesOf(root *tree.Node) *names {
	n := &names{of: map[ref]target{}, called: map[target]string{}, worked: map[target]string{}}
	for _, k := range []struct {
		key  string
		kind Kind
	}{{"sizes", SizeName}, {"stock", StockName}, {"parts", PartName}, {"glue-ups", GlueUpName}} {
		for _, e := range entries(root.Get(k.key)) {
			path := tree.Join(k.key, e.Key.Text)
			n.add(k.kind, "", e.Key.Text, target{path: path})
			n.works(path, e.Value.Get("work"))
		}
	}
	inside := map[string][]string{} // the ids in a glue-up
	for _, e := range entries(root.Get("glue-ups")) {
		scope := piecesOf(e.Key.Text)
		ids := newIDs{}
		for i, p := range items(e.Value.Get("pieces")) {
			id := ids.next(orElse(textAt(p, "as"), textAt(p, "put")))
			n.piece(scope, id, target{path: item(scope, i)}, root, textAt(p, "put"))
			inside[e.Key.Text] = append(inside[e.Key.Text], id)
		}
	}
	ids := newIDs{}
	for i, s := range items(root.Get("build")) {
		path := item("build", i)
		for _, p := range piecesOfStep(s) {
			id := ids.next(p.base)
			if p.glueUp = textAt(s, "put"); inside[p.glueUp] != nil && root.At(tree.Join("parts", p.glueUp)) == nil {
				for k, in := range inside[p.glueUp] {
					under := item(piecesOf(p.glueUp), k)
					n.piece("build", id+"/"+in, target{path: path, in: under}, root, textAt(root.At(under), "put"))
				}
			}
			n.piece("build", id, target{path: path, end: p.end}, root, p.part)
		}
		if h := s.Get("hinge"); h != nil {
			n.add(HingeName, "", textAt(h, "name"), target{path: path})
		}
	}
	return n
}

func (n *names) piece(scope, id string, t target, root *tree.Node, of string) {
	n.add(PieceName, scope, id, t)
	t.kind = PieceName
	for _, key := range []string{"parts", "glue-ups"} {
		if root.Get(key).Get(of) != nil && n.worked[t] == "" {
			n.worked[t] = tree.Join(key, of)
		}
	}
}

// works numbers the work on a part or glue-up, the holes of a drilling without a name and the
// corners of an outline.
func (n *names) works(on string, work *tree.Node) {
	for i, w := range items(work) {
		path := item(on+".work", i)
		n.add(workNumber, on, strconv.Itoa(i+1), target{path: path})
		for _, e := range entries(w) {
			own := tree.Join(path, e.Key.Text)
			if e.Key.Text == "drill" {
				n.holes(path, own, e.Value)
			}
			if list, points := pointsOf(own+".outline", e.Value.Get("outline")); points != nil {
				for k := range points.Items {
					n.add(cornerNumber, list, strconv.Itoa(k+1), target{path: item(list, k)})
				}
			}
		}
	}
}

func (n *names) holes(work, own string, drill *tree.Node) {
	at := items(drill.Get("at"))
	for k := range at {
		n.add(holeNumber, work, strconv.Itoa(k+1), target{path: item(own+".at", k)})
	}
	before := len(at) + len(entries(drill.Get("named")))
	if row := drill.Get("row"); row != nil && textAt(row, "name") == "" {
		count, _ := strconv.Atoi(textAt(row, "count"))
		for k := range min(count, maxHoles) {
			n.add(holeNumber, work, strconv.Itoa(before+k+1), target{path: own + ".row", end: strconv.Itoa(k)})
		}
	}
}

// pointsOf finds the corners of an outline, which may be written in two ways.
func pointsOf(path string, outline *tree.Node) (list string, points *tree.Node) {
	switch {
	case outline == nil:
		return "", nil
	case outline.Kind == tree.List:
		return path, outline
	}
	points = outline.Get("points")
	return path + ".points", points
}

// stepPiece is a piece that a step adds.
type stepPiece struct{ base, part, end, glueUp string }

// piecesOfStep are the pieces that a step of the build adds, in the order in which they get their ids.
func piecesOfStep(s *tree.Node) (out []stepPiece) {
	if put := textAt(s, "put"); put != "" {
		return []stepPiece{{base: orElse(textAt(s, "as"), put), part: put}}
	}
	if w := s.Get("wheels"); w != nil {
		out = append(out, stepPiece{base: textAt(w, "axle"), part: textAt(w, "axle"), end: "axle"})
		for _, end := range []string{"right", "left"} {
			k := 0
			for _, it := range items(w.Get("outward")) {
				if it.Text != "gap" {
					out = append(out, stepPiece{base: it.Text, part: it.Text, end: fmt.Sprint(end, " ", k)})
					k++
				}
			}
		}
	}
	if p := s.Get("peg"); p != nil {
		out = append(out, stepPiece{base: orElse(textAt(p, "as"), textAt(p, "use")), part: textAt(p, "use")})
	}
	if h := s.Get("hinge"); h != nil {
		pin := textAt(h, "pin")
		out = append(out, stepPiece{base: orElse(textAt(h, "as"), textAt(h, "name")+"-"+pin), part: pin})
	}
	return out
}

// newIDs counts the pieces of each name: the second is NAME.2.
type newIDs map[string]int

func (c newIDs) next(base string) string {
	if c[base]++; c[base] > 1 {
		return fmt.Sprintf("%s.%d", base, c[base])
	}
	return base
}

// baseOf is the name that a piece is counted by.
func baseOf(id string) string {
	if base, n, ok := strings.Cut(id, "."); ok {
		if _, err := strconv.Atoi(n); err == nil {
			return base
		}
	}
	return id
}

func piecesOf(glueUp string) string { return tree.Join("glue-ups", glueUp) + ".pieces" }

func item(list string, i int) string { return fmt.Sprintf("%s[%d]", list, i) }

func orElse(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

func textAt(n *tree.Node, key string) string {
	if v := n.Get(key); v != nil && v.Kind == tree.Scalar {
		return v.Text
	}
	return ""
}

func items(n *tree.Node) []*tree.Node {
	if n == nil {
		return nil
	}
	return n.Items
}

func entries(n *tree.Node) []tree.Entry {
	if n == nil {
		return nil
	}
	return n.Entries
}

// parsed reads a text as a tree.
func parsed(f *source.File) (*tree.Node, error) {
	root, probs := tree.Parse(f)
	if len(probs) > 0 {
		return nil, fmt.Errorf("the file has to be readable before it can be changed: %w", probs.Err())
	}
	return root, nil
}

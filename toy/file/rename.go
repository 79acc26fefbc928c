package file

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/measure/formula"
	"dryfit/measure/source"
	"dryfit/toy/file/shape"
	"dryfit/toy/file/tree"
)

// Name is a name of the toy file.
type Name struct {
	Kind Kind
	Text string // of a piece its id; inside a glue-up GLUE-UP/PIECE
}

// kindWords are how a kind is said before a name where the name alone would not do: the key that
// holds it, or what it is.
var kindWords = map[Kind]string{SizeName: "sizes", StockName: "stock", PartName: "parts", GlueUpName: "glue-ups", PieceName: "pieces", HingeName: "hinges"}

// String is the name with its kind: parts.frame.
func (n Name) String() string { return kindWords[n.Kind] + "." + n.Text }

// Names lists all that Rename can give another name, in the order of the file; pieces that the build
// takes out of a glue-up go by their name in the glue-up.
func Names(f *source.File) ([]Name, error) {
	root, err := parsed(f)
	if err != nil {
		return nil, err
	}
	return namesOf(root).list(), nil
}

func (n *names) list() (out []Name) {
	for _, r := range n.refs {
		if t := n.of[r]; r.kind <= HingeName && t.in == "" && (r.kind != PieceName || !onAxle(t)) {
			out = append(out, Name{r.kind, r.full()})
		}
	}
	return out
}

// full is what a name goes by in all of the file.
func (r ref) full() string {
	if glueUp, ok := strings.CutPrefix(r.scope, "glue-ups."); ok && r.kind == PieceName {
		return strings.TrimSuffix(glueUp, ".pieces") + "/" + r.text
	}
	return r.text
}

// onAxle tells of an axle and its wheels, which are called after their parts.
func onAxle(t target) bool { return t.end != "" }

// Renaming is a text in which something goes by another name.
type Renaming struct {
	Text     string
	What     Name
	To       string
	Written  []Written // each place
	Problems source.Problems
}

// RenameError is a name that is not there, that cannot be, or that is taken.
type RenameError struct{ Says, Expected, Nearest string }

func (e *RenameError) Error() string {
	out := e.Says
	var hints []string
	if e.Expected != "" {
		hints = append(hints, "expected "+e.Expected)
	}
	if e.Nearest != "" {
		hints = append(hints, fmt.Sprintf("did you mean %q?", e.Nearest))
	}
	if hints != nil {
		out += " (" + strings.Join(hints, "; ") + ")"
	}
	return out
}

// Rename gives what goes by a name another one, and writes it so wherever the file speaks of it; every
// other byte stays. what is the name alone, or with its kind (parts.wheel) where it is that of
// several things. A piece that goes by the name of its part gets a name of its own (as), and has
// it no longer if to is that of its part.
func Rename(f *source.File, what, to string) (*Renaming, error) {
	root, err := parsed(f)
	if err != nil {
		return nil, err
	}
	if what == "" {
		return nil, &RenameError{Says: "it is not said what is to have another name"}
	}
	n := namesOf(root)
	name, t, err := n.find(what)
	if err != nil {
		return nil, err
	}
	out := &Renaming{Text: f.Text, What: name, To: to}
	if to == name.Text || name.Kind == PieceName && to == n.called[t] {
		return out, nil
	}
	if err := n.fits(root, name, t, to); err != nil {
		return nil, err
	}
	switch name.Kind {
	case PieceName, HingeName:
		err = out.own(f, root, n, t)
	default:
		err = out.everywhere(f, root, n, t)
	}
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(out.Written, func(a, b Written) int { return a.Line - b.Line })
	return out, out.reads(f)
}

// find looks a name up. A piece that goes by the name of its part is meant by pieces.NAME alone.
func (n *names) find(what string) (Name, target, error) {
	var found []Name
	var at []target
	var all []string
	for _, r := range n.refs {
		if r.kind > HingeName {
			continue
		}
		name, t := Name{r.kind, r.full()}, n.of[r]
		all = append(all, name.Text)
		if t.in != "" { // in the build by the name of its glue-up there
			if what != r.text && what != name.String() || slices.ContainsFunc(at, func(x target) bool { return x.path == t.in }) {
				continue
			}
			t = target{kind: PieceName, path: t.in}
			name.Text = n.fullOf(t)
		} else if what != name.Text && what != name.String() {
			continue
		}
		byPart := func(x Name) bool { return x.Kind == PartName || x.Kind == GlueUpName }
		if r.kind == PieceName && what == name.Text && slices.ContainsFunc(found, byPart) {
			continue
		}
		found, at = append(found, name), append(at, t)
	}
	switch len(found) {
	case 1:
		return found[0], at[0], nil
	case 0:
		for kind, word := range kindWords {
			if text, ok := strings.CutPrefix(what, word+"."); ok {
				return Name{}, target{}, &RenameError{Says: "there is no " + kind.String() + " " + text, Nearest: source.Nearest(text, n.all(kind))}
			}
		}
		return Name{}, target{}, &RenameError{Says: "there is nothing called " + what + " in the file", Nearest: source.Nearest(what, all)}
	}
	var kinds, options []string
	for _, name := range found {
		kinds, options = append(kinds, "a "+name.Kind.String()), append(options, name.String())
	}
	return Name{}, target{}, &RenameError{Says: what + " is the name of " + strings.Join(kinds, " and of "), Expected: strings.Join(options, " or ")}
}

func (n *names) fullOf(t target) string {
	for _, r := range n.refs {
		if n.of[r] == t {
			return r.full()
		}
	}
	return ""
}

func (n *names) all(kind Kind) (out []string) {
	for _, r := range n.refs {
		if r.kind == kind {
			out = append(out, r.full())
		}
	}
	return out
}

// fits tells why something cannot have a name.
func (n *names) fits(root *tree.Node, what Name, t target, to string) error {
	if what.Kind == PieceName && (onAxle(t) || to == byPart(root, n, t)) {
		if onAxle(t) {
			return &RenameError{Says: "an axle and its wheels go by the names of their parts", Expected: "another name for the part"}
		}
		return nil
	}
	if to == "" {
		return &RenameError{Says: "the new name is missing"}
	}
	if says, expected := shape.BadName(to); says != "" {
		return &RenameError{Says: says, Expected: expected}
	}
	if strings.EqualFold(to, "null") {
		return &RenameError{Says: to + " cannot be a name", Expected: "another word: this one means nothing"}
	}
	taken := func(kinds ...Kind) error {
		for _, r := range n.refs {
			if slices.Contains(kinds, r.kind) && r.text == to && n.of[r] != t {
				return &RenameError{Says: "there is already a " + r.kind.String() + " " + to}
			}
		}
		return nil
	}
	switch what.Kind {
	case SizeName:
		if slices.Contains(reserved, to) {
			return &RenameError{Says: to + " always means the blank in hand; a size needs another name"}
		}
		if formula.Reserved(to) {
			return &RenameError{Says: to + " has a meaning of its own in formulas; a size needs another name"}
		}
		return taken(SizeName)
	case StockName:
		if textAt(root.Get("parts").Get(to), "from") == what.Text { // the only part that may share it
			return taken(StockName)
		}
		return taken(StockName, PartName)
	case PartName:
		if to == "gap" {
			return &RenameError{Says: "gap stands for the space between twin wheels; a part needs another name"}
		}
		kinds := []Kind{PartName, GlueUpName}
		if textAt(root.At(t.path), "from") != to {
			kinds = append(kinds, StockName)
		}
		if err := taken(kinds...); err != nil {
			return err
		}
	case GlueUpName:
		if err := taken(PartName, GlueUpName); err != nil {
			return err
		}
	case HingeName:
		return taken(HingeName)
	}
	return n.clash(root, what, t, to)
}

// clash tells where pieces of another part or name go by a name already: ids would no longer tell
// them apart as they do.
func (n *names) clash(root *tree.Node, what Name, t target, to string) error {
	for _, r := range n.refs {
		if r.kind != PieceName || strings.Contains(r.text, "/") || baseOf(r.text) != to {
			continue
		}
		scope, _ := lastItem(t.path)
		if what.Kind == PieceName && r.scope != scope || n.of[r] == t {
			continue
		}
		return &RenameError{Says: "there is already a piece " + to}
	}
	return nil
}

// holder is the map that says what a piece is called, and the key that it is called by where nothing
// is said.
func holder(root *tree.Node, t target) (path string, n *tree.Node, key string) {
	step := root.At(t.path)
	for _, k := range []struct{ kind, key string }{{"peg", "use"}, {"hinge", "pin"}} {
		if body := step.Get(k.kind); body != nil {
			return t.path + "." + k.kind, body, k.key
		}
	}
	return t.path, step, "put"
}

// byPart is what a piece goes by where it has no name of its own.
func byPart(root *tree.Node, n *names, t target) string {
	_, body, key := holder(root, t)
	base := textAt(body, key)
	if key == "pin" {
		base = textAt(body, "name") + "-" + base
	}
	own := namesOf(root)
	scope, _ := lastItem(t.path)
	k := 1
	for _, r := range own.refs { // those of that name that come before it
		if r.kind == PieceName && r.scope == scope && baseOf(r.text) == base && own.of[r] != t {
			_, at := lastItem(own.of[r].path)
			if _, mine := lastItem(t.path); at < mine {
				k++
			}
		}
	}
	if k > 1 {
		return fmt.Sprintf("%s.%d", base, k)
	}
	return base
}

// own gives a piece or a hinge a name where it says its own.
func (r *Renaming) own(f *source.File, root *tree.Node, n *names, t target) error {
	path, body, key := holder(root, t)
	e := tree.Edit{Op: "set", Path: path + ".as", Value: r.To, As: tree.AsText}
	switch {
	case r.What.Kind == HingeName:
		e.Path = t.path + ".hinge.name"
	case body.Get("as") != nil && r.To == byPart(root, n, t):
		e = tree.Edit{Op: "remove", Path: e.Path}
	case body.Get("as") == nil:
		e.Op = "insert"
		for i := range body.Entries { // right behind the part
			if i > 0 && body.Entries[i-1].Key.Text == key {
				e.To = body.Entries[i].Key.Text
			}
		}
	}
	text, _, err := tree.Apply(f, e)
	if err != nil {
		return err
	}
	g := source.New(f.Name, text)
	if after, err := parsed(g); err == nil && e.Op != "remove" {
		line, _ := g.Position(after.At(e.Path).Range.Start)
		r.Written = append(r.Written, Written{line, n.called[t], r.To})
	}
	var more []Written
	r.Text, more, err = follow(root, g, func(path string) string { return path })
	r.Written = append(r.Written, more...)
	return err
}

// everywhere writes the name of a size, stock, part or glue-up anew.
func (r *Renaming) everywhere(f *source.File, root *tree.Node, n *names, t target) error {
	w := &writer{f: f}
	top, _, _ := strings.Cut(t.path, ".")
	for _, e := range root.Get(top).Entries {
		if e.Key.Text == r.What.Text {
			w.put(e.Key, 0, len(e.Key.Text), r.To)
		}
	}
	for _, m := range mentionsIn(f, root) {
		for _, h := range n.hits(m) {
			if h.target == t {
				w.write(m, h, r.To)
			}
		}
	}
	text, written := w.done()
	now := tree.Join(top, r.To)
	text, more, err := follow(root, source.New(f.Name, text), func(path string) string {
		if rest, ok := strings.CutPrefix(path, t.path); ok && (rest == "" || rest[0] == '.' || rest[0] == '[') {
			return now + rest
		}
		return path
	})
	r.Text, r.Written = text, append(written, more...)
	return err
}

// reads sees that the file can be read as well as before.
func (r *Renaming) reads(f *source.File) error {
	_, before := Read(f, nil)
	_, r.Problems = Read(source.New(f.Name, r.Text), nil)
	if len(r.Problems) > len(before) {
		return &RenameError{Says: "with this name the file could no longer be read: " + r.Problems[0].Says}
	}
	return nil
}

package shape

import (
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// maxProblems bounds what one reading reports.
const maxProblems = 200

// Reader reads nodes and keeps the problems.
type Reader struct {
	file  *source.File
	probs []*source.Problem
	more  int // problems beyond maxProblems

	formulas []Placed
}

// Placed is a formula in the file: the text of a node from byte From on.
type Placed struct {
	Node *tree.Node
	From int
}

// Formulas returns the formulas below a node that is read into what into points to, in the order
// in which they are read; what cannot be read is left out.
func Formulas(f *source.File, n *tree.Node, into any) []Placed {
	r := &Reader{file: f}
	r.Decode(n, into)
	return r.formulas
}

// Formula notes a formula that a type reads itself: the text of a node from byte from on.
func (r *Reader) Formula(n *tree.Node, from int) { r.formulas = append(r.formulas, Placed{n, from}) }

// Decode reads a node into the struct (or other type of this package) that into
// points to and returns all that is wrong, in the order of the file.
func Decode(f *source.File, n *tree.Node, into any) source.Problems {
	r := &Reader{file: f}
	r.Decode(n, into)
	var out source.Problems
	for _, p := range r.probs {
		out = append(out, *p)
	}
	out = out.Sorted()
	if r.more > 0 {
		out = append(out, f.Problem("many-problems", source.Range{}, fmt.Sprintf("and %d more problems", r.more)))
	}
	return out
}

// Decode reads a node into what into points to. It is for types that read
// themselves.
func (r *Reader) Decode(n *tree.Node, into any) {
	v := reflect.ValueOf(into)
	if v.Kind() != reflect.Pointer || v.IsNil() {
		panic(fmt.Sprintf("shape: cannot decode into %T", into))
	}
	r.value(n, v.Elem(), &field{most: defaultMost})
}

// File is the file that is read.
func (r *Reader) File() *source.File { return r.file }

// Problem notes a problem and returns it, so that what was expected and the
// nearest name can be added.
func (r *Reader) Problem(code string, at source.Range, says string) *source.Problem {
	if len(r.probs) >= maxProblems {
		r.more++
		return &source.Problem{}
	}
	p := r.file.Problem(code, at, says)
	r.probs = append(r.probs, &p)
	return &p
}

func (r *Reader) wrongKind(n *tree.Node, want string) {
	r.Problem("wrong-kind", n.Range, "expected "+want+", found "+found(n))
}

var numberLike = regexp.MustCompile(`^[-+]?[0-9]`)

func found(n *tree.Node) string {
	switch {
	case n.Kind == tree.List:
		return "a list"
	case n.Kind == tree.Map:
		return "a map"
	case n.Empty():
		return "nothing"
	case !n.Quoted && numberLike.MatchString(n.Text):
		return "a number"
	case nameLike.MatchString(n.Text):
		return "a name"
	}
	return "a text"
}

// value reads n into v by its type. f carries the tags of the field it is for.
func (r *Reader) value(n *tree.Node, v reflect.Value, f *field) {
	t := v.Type()
	if isCustom(t) {
		v.Addr().Interface().(Custom).FromNode(n, r)
		return
	}
	switch t {
	case formulaType:
		if r.single(n, "a length, an angle or a number") {
			v.Set(reflect.ValueOf(Formula{n.Text, n.Range}))
			r.Formula(n, 0)
		}
	case wordType:
		r.word(n, v, f)
	case textType:
		if r.single(n, "a text") {
			v.Set(reflect.ValueOf(Text{n.Text, n.Range}))
		}
	case flagType:
		r.flag(n, v)
	case countType:
		r.count(n, v, f)
	default:
		r.composite(n, v, f)
	}
}

func (r *Reader) composite(n *tree.Node, v reflect.Value, f *field) {
	t := v.Type()
	switch {
	case t.Implements(namedType):
		r.named(n, v, f)
	case t.Implements(oneType):
		v.Field(1).Set(reflect.ValueOf(n.Range))
		list := v.Field(0)
		if n.Kind == tree.List && len(n.Items) == 0 {
			r.Problem("empty-value", n.Range, "the list is empty")
		} else if n.Kind == tree.List {
			r.value(n, list, f)
		} else {
			list.Set(reflect.MakeSlice(list.Type(), 1, 1))
			r.value(n, list.Index(0), f)
		}
	case t.Kind() == reflect.Pointer:
		p := reflect.New(t.Elem())
		r.value(n, p.Elem(), f)
		v.Set(p)
	case t.Kind() == reflect.Slice:
		if n.Kind != tree.List {
			r.wrongKind(n, "a list")
			return
		}
		v.Set(reflect.MakeSlice(t, len(n.Items), len(n.Items)))
		for i, it := range n.Items {
			if it.Empty() {
				r.Problem("empty-value", it.Range, "an item of the list is missing").Expected = r.wants(t.Elem(), f)
				continue
			}
			r.value(it, v.Index(i), f)
		}
	case t.Kind() == reflect.Struct:
		r.record(n, v)
	default:
		panic(fmt.Sprintf("shape: cannot read into %s", t))
	}
}

// record reads a map into a struct.
func (r *Reader) record(n *tree.Node, v reflect.Value) {
	p := planOf(v.Type())
	if p.place != nil {
		v.FieldByIndex(p.place).Field(0).Set(reflect.ValueOf(n.Range))
	}
	if n.Kind != tree.Map {
		r.wrongKind(n, "a map with "+someOf(p))
		return
	}
	seen := make([]bool, len(p.fields))
	var picked []string
	meant := map[string]bool{} // keys that a mistyped one may be
	lost := false
	for i := range n.Entries {
		e := &n.Entries[i]
		k, known := p.byKey[e.Key.Text]
		if !known && len(r.probs) >= maxProblems {
			r.more++ // without looking for the nearest key, which takes time
			continue
		}
		if !known {
			pr := r.Problem("unknown-key", e.Key.Range, "there is no key "+e.Key.Text+" here")
			*pr = pr.Expect(oneOf(p.keys)).Near(e.Key.Text, p.keys)
			meant[pr.Nearest], lost = true, true
			continue
		}
		f := &p.fields[k]
		seen[k] = true
		if f.pick {
			if picked = append(picked, f.key); len(picked) == 2 {
				r.Problem("one-choice", e.Key.Range, "only one of these keys goes here, and "+picked[0]+" is there already").Expected = oneOf(p.picks)
			}
		}
		if e.Value.Empty() {
			r.Problem("empty-value", e.Key.Range, "nothing is said after "+f.key).Expected = r.wants(f.typ, f)
			continue
		}
		r.value(e.Value, v.FieldByIndex(f.index), f)
	}
	for i := range p.fields {
		if f := &p.fields[i]; f.need && !seen[i] && !meant[f.key] {
			r.Problem("missing-key", n.Range, "the key "+f.key+" is missing").Expected = f.key + ": " + r.wants(f.typ, f)
		}
	}
	if len(p.picks) > 0 && len(picked) == 0 && !lost {
		r.Problem("one-choice", n.Range, "none of the keys that say what this is").Expected = oneOf(p.picks)
	}
}

// someOf names keys of a struct to say which map is meant: those it needs, or
// the first few.
func someOf(p *plan) string {
	var need []string
	for _, f := range p.fields {
		if f.need {
			need = append(need, f.key)
		}
	}
	switch {
	case need != nil:
		return "the " + plural(len(need), "key ", "keys ") + strings.Join(need, ", ")
	case len(p.picks) > 0:
		return oneOf(p.picks)
	}
	return "keys such as " + strings.Join(p.keys[:min(3, len(p.keys))], ", ")
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func oneOf(words []string) string {
	if len(words) == 1 {
		return words[0]
	}
	return "one of " + strings.Join(words, ", ")
}

func (r *Reader) named(n *tree.Node, v reflect.Value, f *field) {
	if n.Kind != tree.Map {
		r.wrongKind(n, "a map of names")
		return
	}
	v.Set(reflect.MakeSlice(v.Type(), len(n.Entries), len(n.Entries)))
	for i := range n.Entries {
		e, pair := &n.Entries[i], v.Index(i)
		r.word(e.Key, pair.Field(0), &field{})
		if e.Value.Empty() {
			r.Problem("empty-value", e.Key.Range, "nothing is said after "+e.Key.Text).Expected = r.wants(pair.Field(1).Type(), f)
			continue
		}
		r.value(e.Value, pair.Field(1), f)
	}
}

// single tells whether n is one value and says so if not.
func (r *Reader) single(n *tree.Node, want string) bool {
	if n.Kind != tree.Scalar {
		r.wrongKind(n, want)
		return false
	}
	if strings.TrimSpace(n.Text) == "" {
		r.Problem("empty-value", n.Range, "nothing stands here").Expected = want
		return false
	}
	return true
}

const namePattern = `^[A-Za-z][A-Za-z0-9-]*$`

var (
	nameLike = regexp.MustCompile(namePattern)
	// reservedWord: plain words that a YAML library may read as something else
	// (YAML 1.2.2, 10.2.1; null is refused by tree already).
	reservedWord = regexp.MustCompile(`^(true|True|TRUE|false|False|FALSE)$`)
)

func (r *Reader) word(n *tree.Node, v reflect.Value, f *field) {
	want := "a name"
	if f.oneof != nil {
		want = oneOf(f.oneof)
	}
	if !r.single(n, want) {
		return
	}
	v.Set(reflect.ValueOf(Word{n.Text, n.Range}))
	if f.oneof != nil {
		for _, w := range f.oneof {
			if w == n.Text {
				return
			}
		}
		p := r.Problem("unknown-word", n.Range, n.Text+" cannot stand here")
		*p = p.Expect(want).Near(n.Text, f.oneof)
		return
	}
	if says, expected := BadName(n.Text); says != "" {
		r.Problem("bad-name", n.Range, says).Expected = expected
	}
}

// BadName says why a text cannot be a name of the author's own, and what could; says is empty if
// it can.
func BadName(text string) (says, expected string) {
	switch {
	case !nameLike.MatchString(text):
		return text + " is not a name", "letters a to z, digits and hyphens, the first a letter"
	case reservedWord.MatchString(text):
		return text + " cannot be a name", "another word: this one means yes or no"
	}
	return "", ""
}

func (r *Reader) flag(n *tree.Node, v reflect.Value) {
	if !r.single(n, "yes or no") {
		return
	}
	is := n.Text == "true" || n.Text == "yes"
	if !is && n.Text != "false" && n.Text != "no" {
		r.Problem("bad-flag", n.Range, n.Text+" is neither yes nor no").Expected = "one of yes, no, true, false"
		return
	}
	v.Set(reflect.ValueOf(Flag{is, n.Range}))
}

var belowNothing = regexp.MustCompile(`^-[0-9]+$`)

var wholeNumber = regexp.MustCompile(`^(0|[1-9][0-9]*)$`)

func (r *Reader) count(n *tree.Node, v reflect.Value, f *field) {
	want := "a whole number from 0 to " + strconv.Itoa(f.most)
	if !r.single(n, want) {
		return
	}
	k, err := strconv.Atoi(n.Text)
	switch {
	case n.Quoted:
		r.Problem("bad-count", n.Range, "a whole number stands without quotes").Expected = want
	case belowNothing.MatchString(n.Text):
		r.Problem("bad-count", n.Range, f.key+" cannot be less than 0").Expected = want
	case !wholeNumber.MatchString(n.Text):
		r.Problem("bad-count", n.Range, n.Text+" is not a whole number").Expected = want
	case err != nil || k > f.most:
		r.Problem("bad-count", n.Range, n.Text+" is too many").Expected = want
	default:
		v.Set(reflect.ValueOf(Count{k, n.Range}))
	}
}

// wants says in words what a type is written as.
func (r *Reader) wants(t reflect.Type, f *field) string {
	switch {
	case t == formulaType:
		return "a length, an angle or a number"
	case t == wordType && f.oneof != nil:
		return oneOf(f.oneof)
	case t == wordType:
		return "a name"
	case t == textType:
		return "a text"
	case t == flagType:
		return "yes or no"
	case t == countType:
		return "a whole number"
	case isCustom(t):
		return "a value"
	case t.Implements(namedType):
		return "a map of names"
	case t.Implements(oneType):
		return "a value or a list"
	case t.Kind() == reflect.Pointer:
		return r.wants(t.Elem(), f)
	case t.Kind() == reflect.Slice:
		return "a list"
	}
	return "a map with " + someOf(planOf(t))
}

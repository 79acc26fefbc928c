package desk

import (
	"errors"
	"strings"

	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// Stale is returned for a change made for a text that is no longer the toy's, where the two
// would be about the same place.
type Stale struct{ State State }

func (Stale) Error() string {
	return "this was changed in another window or program meanwhile: here is what it is now"
}

// ErrConflict is returned for changes while two versions wait for a choice.
var ErrConflict = errors.New("another program changed the file at the same time: choose which is to stay")

// A Wish is what somebody wants changed: edits, a whole text, or what is made of the present one.
type Wish struct {
	Base   string // hash of the text that it was made for; of no account for Make
	Edits  []tree.Edit
	Apply  func(*source.File, tree.Edit) (string, error) // makes each edit; nil: tree.Apply alone
	Text   *string
	Make   func(*source.File) (string, error)
	Sound  func(was, is string) error // refuses a text, where it is not to be made; nil: all are
	Intent string
	Group  string
}

// Change makes a wish true and saves it.
func (t *Toy) Change(w Wish) (State, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.look()
	if t.other != nil {
		return t.state(), ErrConflict
	}
	text, err := t.wished(w)
	if err != nil {
		return t.state(), err
	}
	if len(text) > MostBytes {
		return t.state(), ErrTooLong
	}
	if text != t.h.text {
		if w.Sound != nil {
			if err := w.Sound(t.h.text, text); err != nil {
				return t.state(), err
			}
		}
		t.make(text, w)
		t.save()
	}
	return t.state(), nil
}

// make makes a text of the present one: a change, or more of the last one if it is of the same
// group.
func (t *Toy) make(text string, w Wish) {
	l := line{}
	if last := t.h.last(); w.Group != "" && last != nil && t.h.done == len(t.h.past) && last.Group == w.Group {
		l.Amend = t.h.amended(text)
	} else {
		l.Do = new(between(t.h.text, text))
	}
	t.write(l, w.Intent, w.Group)
}

// write takes a step that makes a change, with what is to be said of it.
func (t *Toy) write(l line, intent, group string) {
	if intent == "" {
		intent = "a change" // no words mean that there is nothing to undo
	}
	for _, c := range []*Change{l.Do, l.Amend} {
		if c != nil {
			c.Intent, c.Group, c.When = intent, group, t.desk.Now()
		}
	}
	if !t.step(l) {
		panic("desk: bug: a change between two texts can be made")
	}
}

// wished works out the text that is wished for.
func (t *Toy) wished(w Wish) (string, error) {
	now := t.h.text
	if w.Make != nil {
		return w.Make(source.New(t.name, now))
	}
	if w.Base != tree.Hash(now) {
		base, known := t.h.before(w.Base)
		if w.Text != nil || !known || !untouched(base, now, w.Edits) {
			if t.made(w) {
				return now, nil // as when Enter is pressed twice
			}
			return "", Stale{t.state()}
		}
	}
	if w.Text != nil {
		return *w.Text, nil
	}
	for _, e := range w.Edits {
		if e.Op == "restore" {
			return "", errors.New("restore is no change that can be wished for")
		}
		var err error
		if now, err = t.edited(now, w, e); err != nil {
			return "", err
		}
	}
	return now, nil
}

// made tells whether all that is wished for is so already.
func (t *Toy) made(w Wish) bool {
	if w.Text != nil {
		return *w.Text == t.h.text
	}
	for _, e := range w.Edits {
		if e.Op != "set" {
			return false // what is put in or moved twice would be so twice
		}
		if text, err := t.edited(t.h.text, w, e); err != nil || text != t.h.text {
			return false
		}
	}
	return true
}

// edited makes one edit of a wish in a text.
func (t *Toy) edited(text string, w Wish, e tree.Edit) (string, error) {
	e.Hash = "" // what it was made for has been looked at
	f := source.New(t.name, text)
	if w.Apply != nil {
		return w.Apply(f, e)
	}
	out, _, err := tree.Apply(f, e)
	return out, err
}

// untouched tells whether what edits are about is the same in two texts.
func untouched(base, now string, edits []tree.Edit) bool {
	a, bad := tree.Parse(source.New("", base))
	b, bad2 := tree.Parse(source.New("", now))
	if len(bad)+len(bad2) > 0 {
		return false
	}
	for _, e := range edits {
		if !sameAt(a, b, e.Path, true) {
			return false
		}
		// Of what holds it, only how much that is: another value in it may have changed. Of a list,
		// all of the item: by its number alone it might be another one.
		for p := e.Path; p != ""; {
			p = parent(p)
			if !sameAt(a, b, p, strings.HasSuffix(p, "]")) {
				return false
			}
		}
	}
	return true
}

// sameAt tells whether two texts have the same at a path: all of it, or as much of the same kind.
func sameAt(a, b *tree.Node, path string, all bool) bool {
	x, y := a.At(path), b.At(path)
	if x == nil || y == nil {
		return x == nil && y == nil
	}
	if all {
		return tree.Same(x, y)
	}
	return x.Kind == y.Kind && (x.Kind != tree.List || len(x.Items) == len(y.Items))
}

func parent(p string) string {
	if i := strings.LastIndexAny(p, ".["); i >= 0 {
		return p[:i]
	}
	return ""
}

// Package desk keeps toys while they are worked on: their texts, what was done to them and how
// that is undone, and their files, which other programs may change as well.
//
// Open a toy with Desk.Open. Every change is first written to a journal beside the toys
// (.dryfit/NAME.history), then made, then saved to the file; so it can be undone after a restart,
// and what a crash kept from the file is made up for when the toy is opened again.
//
// The package knows neither what a toy file means nor who works on it.
package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
	"sync"
	"time"

	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// Desk is a folder of toys. It is safe for use by several goroutines.
type Desk struct {
	Disk Disk
	Now  func() time.Time

	mu   sync.Mutex
	toys map[string]*Toy
}

// New returns the desk of a disk.
func New(d Disk) *Desk { return &Desk{Disk: d, Now: time.Now, toys: map[string]*Toy{}} }

// Fit tells whether a name may be that of a toy's file: one of the folder itself, no hidden one.
func Fit(name string) error {
	switch {
	case name == "" || name != path.Base(name) || strings.ContainsAny(name, "/\\:\x00") || strings.HasPrefix(name, "."):
		return fmt.Errorf("%q is no name of a file in this folder", name)
	case !strings.HasSuffix(name, ".yaml") && !strings.HasSuffix(name, ".yml"):
		return fmt.Errorf("%q is no toy file: its name has to end in .yaml", name)
	case len(name) > 200:
		return errors.New("the name of the file is too long")
	}
	return nil
}

// Names returns the files that may be toys.
func (d *Desk) Names() (out []string, err error) {
	all, err := d.Disk.List(".")
	for _, n := range all {
		if Fit(n) == nil {
			out = append(out, n)
		}
	}
	return out, err
}

// Toy is one that is worked on. It is safe for use by several goroutines.
type Toy struct {
	desk *Desk
	name string

	mu      sync.Mutex
	h       history
	file    string // what the file has, as far as is known
	stamp   Stamp
	trouble error   // why the file could not be saved, nil if it is
	forget  error   // why the journal could not be written
	theirs  *string // what another program wrote while something of ours was not saved
	gone    bool    // the file is no longer there
}

// Open takes a toy to work on; if it is there already, that one.
func (d *Desk) Open(name string) (*Toy, error) {
	if err := Fit(name); err != nil {
		return nil, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if t := d.toys[name]; t != nil {
		return t, nil
	}
	stamp, err := d.Disk.Stamp(name)
	if err != nil {
		return nil, err
	}
	b, err := d.Disk.Read(name)
	if err != nil {
		return nil, err
	}
	t := &Toy{desk: d, name: name, file: string(b), stamp: stamp}
	t.remember()
	d.toys[name] = t
	return t, nil
}

// Create makes a file that is not there yet.
func (d *Desk) Create(name, text string) (*Toy, error) {
	if err := Fit(name); err != nil {
		return nil, err
	}
	if len(text) > MostBytes {
		return nil, ErrTooLong
	}
	if _, err := d.Disk.Stamp(name); err == nil {
		return nil, fmt.Errorf("there is a file %s already", name)
	} else if !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if err := d.Disk.Write(name, []byte(text)); err != nil {
		return nil, err
	}
	return d.Open(name)
}

// Rename gives a toy another name, and its history with it.
func (d *Desk) Rename(from, to string) error {
	if err := errors.Join(Fit(from), Fit(to)); err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	t := d.toys[from]
	if t != nil {
		t.mu.Lock()
		defer t.mu.Unlock()
		t.save()
	}
	if err := d.Disk.Rename(from, to); err != nil {
		return err
	}
	d.Disk.Rename(journalOf(from), journalOf(to)) // there may be none; undoing then goes back to here
	delete(d.toys, from)
	if t != nil {
		t.name, d.toys[to] = to, t
	}
	return nil
}

func journalOf(name string) string { return ".dryfit/" + name + ".history" }

// remember takes the history out of the journal. What the file has is right: if another
// program changed it meanwhile, that is one more change; if it is only behind the journal, a
// crash came between, and it is saved now.
func (t *Toy) remember() {
	journal, err := t.desk.Disk.Read(journalOf(t.name))
	h, begun, broken := history{}, false, false
	if err == nil {
		h, begun, broken = replay(journal)
	}
	if !begun {
		t.h = history{text: t.file}
		return
	}
	t.h = h
	if broken { // goes on in a journal that can be read to its end
		t.forget = t.desk.Disk.Write(journalOf(t.name), h.bytes())
	}
	if t.h.text == t.file {
		return
	}
	if _, behind := t.h.before(tree.Hash(t.file)); behind {
		t.save()
		return
	}
	text := t.file
	t.file = t.h.text
	t.outside(text)
}

// bytes writes a history as a journal that gives it back.
func (h *history) bytes() []byte {
	text := h.text
	for k := h.done; k > 0; k-- {
		text, _ = h.past[k-1].undo(text)
	}
	out := line{Text: &text}.bytes()
	for i := range h.past {
		out = append(out, line{Do: &h.past[i]}.bytes()...)
	}
	for k := len(h.past); k > h.done; k-- {
		out = append(out, line{Step: -1}.bytes()...)
	}
	return out
}

// step writes a step to the journal and takes it.
func (t *Toy) step(l line) bool {
	next := t.h
	if !next.take(l) {
		return false
	}
	l.Hash = tree.Hash(next.text)
	var b []byte
	if len(t.h.past) == 0 && t.h.done == 0 {
		b = line{Text: &t.h.text}.bytes()
	}
	t.forget = t.desk.Disk.Append(journalOf(t.name), append(b, l.bytes()...))
	t.h = next
	return true
}

// outside takes in what another program wrote.
func (t *Toy) outside(text string) {
	if text != t.h.text {
		c := between(t.h.text, text)
		c.Intent, c.When = ByOther, t.desk.Now()
		t.step(line{Do: &c})
	}
	t.file, t.theirs = text, nil
}

// ByOther is the intent of what another program changed.
const ByOther = "changed by another program"

// save writes the text to the file, unless the file is not what it was.
func (t *Toy) save() {
	if t.theirs != nil || t.file == t.h.text && !t.gone {
		return
	}
	if t.look(); t.theirs != nil {
		return
	}
	if t.trouble = t.desk.Disk.Write(t.name, []byte(t.h.text)); t.trouble != nil {
		return
	}
	t.file, t.gone = t.h.text, false
	t.stamp, _ = t.desk.Disk.Stamp(t.name)
}

// look sees whether another program changed the file.
func (t *Toy) look() {
	stamp, err := t.desk.Disk.Stamp(t.name)
	if err != nil {
		t.gone = errors.Is(err, fs.ErrNotExist)
		return
	}
	if t.gone = false; stamp == t.stamp {
		return
	}
	b, err := t.desk.Disk.Read(t.name)
	if err != nil {
		return
	}
	t.stamp = stamp
	text := string(b)
	switch {
	case text == t.file:
	case t.file == t.h.text: // nothing of ours is lost by it
		t.outside(text)
	case text == t.h.text:
		t.file, t.theirs = text, nil
	default:
		t.theirs = &text
	}
}

// State is what a window has to know of a toy.
type State struct {
	File, Text, Hash string
	Undo, Redo       string // what would be undone and done again, in words; "" if nothing
	Unsaved          string // why the file does not have it; "" if it has
	Forgets          string // why it can not be undone after a restart; "" if it can
	Gone             bool   // the file has been taken away
	Theirs           *string
}

// State returns the present one.
func (t *Toy) State() State {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.state()
}

func (t *Toy) state() State {
	s := State{File: t.name, Text: t.h.text, Hash: tree.Hash(t.h.text), Gone: t.gone, Theirs: t.theirs}
	if t.h.done > 0 {
		s.Undo = t.h.past[t.h.done-1].Intent
	}
	if t.h.done < len(t.h.past) {
		s.Redo = t.h.past[t.h.done].Intent
	}
	if t.trouble != nil {
		s.Unsaved = t.trouble.Error()
	}
	if t.forget != nil {
		s.Forgets = t.forget.Error()
	}
	return s
}

// Stale is returned for a change made for a text that is no longer the toy's, where the two
// would be about the same place.
type Stale struct{ State State }

func (Stale) Error() string {
	return "this was changed in another window or program meanwhile: here is what it is now"
}

// ErrConflict is returned for changes while two versions wait for a choice.
var ErrConflict = errors.New("another program changed the file at the same time: choose which is to stay")

// A Wish is what somebody wants changed: edits, or a whole text.
type Wish struct {
	Base   string // hash of the text that it was made for
	Edits  []tree.Edit
	Text   *string
	Intent string
	Group  string
}

// Change makes a wish true and saves it.
func (t *Toy) Change(w Wish) (State, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.look()
	if t.theirs != nil {
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
		t.make(text, w)
		t.save()
	}
	return t.state(), nil
}

// make makes a text of the present one: a change, or more of the last one if it is of the same
// group.
func (t *Toy) make(text string, w Wish) {
	l := line{}
	if n := t.h.done; w.Group != "" && n > 0 && n == len(t.h.past) && t.h.past[n-1].Group == w.Group {
		was, _ := t.h.past[n-1].undo(t.h.text)
		c := between(was, text)
		l.Amend = &c
	} else {
		c := between(t.h.text, text)
		l.Do = &c
	}
	for _, c := range []*Change{l.Do, l.Amend} {
		if c != nil {
			c.Intent, c.Group, c.When = w.Intent, w.Group, t.desk.Now()
		}
	}
	if !t.step(l) {
		panic("desk: bug: a change between two texts can be made")
	}
}

// wished works out the text that is wished for.
func (t *Toy) wished(w Wish) (string, error) {
	now := t.h.text
	if w.Base != tree.Hash(now) {
		base, known := t.h.before(w.Base)
		if w.Text != nil || !known || !untouched(base, now, w.Edits) {
			return "", Stale{t.state()}
		}
	}
	if w.Text != nil {
		return *w.Text, nil
	}
	for _, e := range w.Edits {
		e.Hash = ""
		if e.Op == "restore" {
			return "", errors.New("restore is no change that can be wished for")
		}
		text, _, err := tree.Apply(source.New(t.name, now), e)
		if err != nil {
			return "", err
		}
		now = text
	}
	return now, nil
}

// untouched tells whether what edits are about is the same in two texts.
func untouched(base, now string, edits []tree.Edit) bool {
	a, bad := tree.Parse(source.New("", base))
	b, bad2 := tree.Parse(source.New("", now))
	if len(bad)+len(bad2) > 0 {
		return false
	}
	for _, e := range edits {
		for _, p := range []string{e.Path, parent(e.Path)} {
			x, y := a.At(p), b.At(p)
			if (x == nil) != (y == nil) {
				return false
			}
			if x == nil {
				continue
			}
			// Of what holds it, only how much that is: another value in it may have changed.
			if p == e.Path && !tree.Same(x, y) || p != e.Path && (x.Kind != y.Kind || len(x.Items) != len(y.Items)) {
				return false
			}
		}
	}
	return true
}

func parent(p string) string {
	if i := strings.LastIndexAny(p, ".["); i >= 0 {
		return p[:i]
	}
	return ""
}

// Undo takes the last change back; Redo makes it again. They tell whether there was one.
func (t *Toy) Undo() (State, bool) { return t.walk(-1) }

// Redo makes the change again that was undone last.
func (t *Toy) Redo() (State, bool) { return t.walk(1) }

func (t *Toy) walk(by int) (State, bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.look()
	if t.theirs != nil {
		return t.state(), false
	}
	ok := t.step(line{Step: by})
	t.save()
	return t.state(), ok
}

// Look sees what other programs did, and tries again to save what could not be. It tells
// whether anything is other than it was.
func (t *Toy) Look() (State, bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	was := t.state()
	if t.look(); t.trouble != nil {
		t.save()
	}
	now := t.state()
	theirs := was.Theirs != now.Theirs && (was.Theirs == nil || now.Theirs == nil || *was.Theirs != *now.Theirs)
	was.Theirs, now.Theirs = nil, nil
	return t.state(), theirs || was != now
}

// Choice is what becomes of two versions.
type Choice string

// The choices: ours stays and theirs can be come back to, or the other way round, or theirs
// stays and ours becomes a file of its own.
const (
	Ours   Choice = "ours"
	Theirs Choice = "theirs"
	Both   Choice = "both"
)

// Choose ends a conflict. Whatever is chosen, undoing leads to the other version.
func (t *Toy) Choose(c Choice) (State, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.theirs == nil {
		return t.state(), nil
	}
	ours, theirs := t.h.text, *t.theirs
	switch c {
	case Ours:
		t.outside(theirs)
		t.make(ours, Wish{Intent: "keep mine"})
		t.save()
	case Theirs:
		t.outside(theirs)
	case Both:
		name := t.freeName()
		if err := t.desk.Disk.Write(name, []byte(ours)); err != nil {
			return t.state(), err
		}
		t.outside(theirs)
	default:
		return t.state(), fmt.Errorf("%q is no choice: ours, theirs or both", c)
	}
	return t.state(), nil
}

// freeName is a name for a copy of a toy.
func (t *Toy) freeName() string {
	ext := path.Ext(t.name)
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s-mine%s", strings.TrimSuffix(t.name, ext), ext)
		if n > 1 {
			name = fmt.Sprintf("%s-mine-%d%s", strings.TrimSuffix(t.name, ext), n, ext)
		}
		if _, err := t.desk.Disk.Stamp(name); errors.Is(err, fs.ErrNotExist) {
			return name
		}
	}
}

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
	"maps"
	"path"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"
)

// Desk is a folder of toys. It is safe for use by several goroutines.
type Desk struct {
	Disk Disk
	Now  func() time.Time

	mu      sync.Mutex
	toys    map[string]*Toy
	opening map[string]chan struct{} // closed when a toy has been opened, or could not be
}

// New returns the desk of a disk.
func New(d Disk) *Desk {
	return &Desk{Disk: d, Now: time.Now, toys: map[string]*Toy{}, opening: map[string]chan struct{}{}}
}

// Fit tells whether a name may be that of a toy's file: one of the folder itself, no hidden one.
func Fit(name string) error {
	switch {
	case name == "" || name != path.Base(name) || strings.ContainsAny(name, "/\\:\x00") || strings.HasPrefix(name, "."):
		return fmt.Errorf("%q is no name of a file in this folder", name)
	case !strings.HasSuffix(name, ".yaml") && !strings.HasSuffix(name, ".yml"):
		return fmt.Errorf("%q is no toy file: its name has to end in .yaml", name)
	case strings.ContainsFunc(name, unicode.IsControl):
		return errors.New("the name of a file has no such signs in it")
	case len(name) > nameMost:
		return errors.New("the name of the file is too long")
	}
	return nil
}

// nameMost leaves room in the 255 bytes that file systems have for a name: for those of journals
// and half-written files.
const nameMost = 200

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

// Open takes a toy to work on; if it is there already, that one.
func (d *Desk) Open(name string) (*Toy, error) {
	if err := Fit(name); err != nil {
		return nil, err
	}
	d.lock(name)
	if t := d.toys[name]; t != nil {
		d.mu.Unlock()
		t.Look()
		return t, nil
	}
	done := make(chan struct{})
	d.opening[name] = done
	d.mu.Unlock()
	var t *Toy
	defer func() {
		d.mu.Lock()
		defer d.mu.Unlock()
		if delete(d.opening, name); t != nil {
			d.toys[name] = t
		}
		close(done)
	}()
	var err error
	t, err = d.read(name) // a long history takes its time: the other toys do not wait for it
	return t, err
}

// lock has the desk for oneself while none of some toys is being opened.
func (d *Desk) lock(names ...string) {
	d.mu.Lock()
	for i := 0; i < len(names); i++ {
		if done := d.opening[names[i]]; done != nil {
			d.mu.Unlock()
			<-done
			d.mu.Lock()
			i = -1
		}
	}
}

// read reads a toy and its history.
func (d *Desk) read(name string) (*Toy, error) {
	stamp, err := d.Disk.Stamp(name)
	if err != nil {
		return nil, err
	}
	b, err := d.Disk.Read(name)
	if err != nil {
		return nil, err
	}
	t := &Toy{desk: d, name: name, file: string(b)}
	t.saw(stamp)
	t.remember()
	return t, nil
}

// Create makes a file that is not there yet. It begins a history of its own, whatever file had
// its name before.
func (d *Desk) Create(name, text string) (*Toy, error) {
	if err := Fit(name); err != nil {
		return nil, err
	}
	if len(text) > MostBytes {
		return nil, ErrTooLong
	}
	d.lock(name)
	defer d.mu.Unlock()
	free := d.free(name)
	if err := free(); err != nil {
		return nil, err
	}
	if d.toys[name] != nil {
		return nil, errOpen(name)
	}
	if err := d.Disk.Remove(journalOf(name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if err := d.Disk.Write(name, []byte(text), free); err != nil {
		return nil, err
	}
	t := &Toy{desk: d, name: name, h: history{text: text}, file: text}
	d.toys[name] = t
	return t, nil
}

// free returns what tells why a name cannot be that of a new file: nothing if it can.
func (d *Desk) free(name string) func() error {
	return func() error {
		switch _, err := d.Disk.Stamp(name); {
		case err == nil:
			return fmt.Errorf("there is a file %s already", name)
		case errors.Is(err, fs.ErrNotExist):
			return nil
		default:
			return err
		}
	}
}

// errOpen is returned for the name of a toy that is worked on though its file was taken away: what
// was done to it is not to be lost.
func errOpen(name string) error {
	return fmt.Errorf("a toy that is open here has the name %s: its file was taken away, and the next change writes it anew", name)
}

// Close lets go of a toy that nobody works on, unless something of it has not been saved. It tells
// whether it did.
func (d *Desk) Close(name string) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	t := d.toys[name]
	if t == nil {
		return true
	}
	if st := t.Look(); st.Unsaved != "" || st.Forgets != "" || st.Other != nil {
		return false
	}
	delete(d.toys, name)
	return true
}

// Rename gives a toy another name, and its history with it.
func (d *Desk) Rename(from, to string) error {
	if err := errors.Join(Fit(from), Fit(to)); err != nil {
		return err
	}
	if from == to {
		return nil
	}
	d.lock(from, to)
	defer d.mu.Unlock()
	if d.toys[to] != nil && !strings.EqualFold(from, to) {
		return errOpen(to)
	}
	t := d.toys[from]
	if t != nil {
		t.mu.Lock()
		defer t.mu.Unlock()
		t.save()
	}
	if _, err := d.Disk.Stamp(from); err != nil { // a link that leads outside
		return err
	}
	if err := d.Disk.Rename(from, to); err != nil {
		return err
	}
	// A journal of a file that had this name once is not this one's. If one's own does not come
	// along, undoing goes back to here only.
	if !strings.EqualFold(from, to) {
		d.Disk.Remove(journalOf(to))
	}
	moved := d.Disk.Rename(journalOf(from), journalOf(to))
	delete(d.toys, from)
	if t != nil {
		t.name, d.toys[to] = to, t
		if t.begun && moved != nil {
			t.tidy()
		}
	}
	return nil
}

// Opened returns the names of the toys that are open.
func (d *Desk) Opened() []string {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.Sorted(maps.Keys(d.toys))
}

// Unsaved returns the names of toys whose files do not have all that was done.
func (d *Desk) Unsaved() (out []string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	for name, t := range d.toys {
		if st := t.Look(); st.Unsaved != "" || st.Other != nil {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

func journalOf(name string) string { return ".dryfit/" + name + historyEnding }

const historyEnding = ".history"

package desk

import (
	"bytes"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// fake is a disk in memory that may be full, or fail, or break off.
type fake struct {
	files map[string][]byte
	when  map[string]time.Time
	now   time.Time
	room  int   // bytes that there is room for; below 0: no end of it
	fails error // what every writing fails with
	blind error // what every reading fails with
	syncs int

	meanwhile func(name string)
}

func newFake() *fake {
	return &fake{files: map[string][]byte{}, when: map[string]time.Time{}, now: time.Date(2026, 11, 30, 9, 0, 0, 0, time.UTC), room: -1}
}

// on returns a desk with this disk and its clock.
func (f *fake) on() *Desk {
	d := New(f)
	d.Now = func() time.Time { return f.now }
	return d
}

// pass lets time go by.
func (f *fake) pass(d time.Duration) { f.now = f.now.Add(d) }

// put is another program's writing.
func (f *fake) put(name, text string) {
	f.pass(time.Millisecond)
	f.files[name], f.when[name] = []byte(text), f.now
}

func (f *fake) List(dir string) ([]string, error) {
	var out []string
	for n := range f.files {
		if !strings.Contains(n, "/") {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out, nil
}

func (f *fake) Read(name string) ([]byte, error) { return f.ReadUpTo(name, MostBytes) }

func (f *fake) ReadUpTo(name string, most int) ([]byte, error) {
	if f.blind != nil {
		return nil, f.blind
	}
	b, ok := f.files[name]
	if !ok {
		return nil, fs.ErrNotExist
	}
	return bytes.Clone(b), nil
}

func (f *fake) Stamp(name string) (Stamp, error) {
	b, ok := f.files[name]
	if !ok {
		return Stamp{}, fs.ErrNotExist
	}
	return Stamp{f.when[name], int64(len(b))}, nil
}

func (f *fake) used() (n int) {
	for _, b := range f.files {
		n += len(b)
	}
	return n
}

// noRoom is how a full disk is said.
var noRoom = &fs.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC}

func (f *fake) Write(name string, b []byte, still func() error) error {
	if f.meanwhile != nil { // what another program does while this is written
		f.meanwhile(name)
	}
	if still != nil {
		if err := still(); err != nil {
			return err
		}
	}
	if f.fails != nil {
		return f.fails
	}
	if f.room >= 0 && f.used()+len(b) > f.room { // the old one is there until the new one is
		return noRoom
	}
	f.pass(time.Millisecond)
	f.files[name], f.when[name] = bytes.Clone(b), f.now
	return nil
}

func (f *fake) Append(name string, b []byte) error {
	if f.fails != nil {
		return f.fails
	}
	err := error(nil)
	if left := f.room - f.used(); f.room >= 0 && len(b) > left {
		b, err = b[:max(0, left)], noRoom // as far as there is room
	}
	f.pass(time.Millisecond)
	f.files[name], f.when[name] = append(f.files[name], b...), f.now
	return err
}

func (f *fake) Sync(string) error { f.syncs++; return f.fails }

func (f *fake) Rename(from, to string) error {
	if _, there := f.files[to]; there {
		return fmt.Errorf("there is a file %s already", to)
	}
	b, ok := f.files[from]
	if !ok {
		return fs.ErrNotExist
	}
	f.files[to], f.when[to] = b, f.when[from]
	return f.Remove(from)
}

func (f *fake) Remove(name string) error {
	if _, ok := f.files[name]; !ok {
		return fs.ErrNotExist
	}
	delete(f.files, name)
	return nil
}

// copied is the disk as a crash at this moment leaves it.
func (f *fake) copied() *fake {
	g := *f
	g.files, g.when = maps.Clone(f.files), maps.Clone(f.when)
	return &g
}

func open(t testing.TB, d *Desk, name string) *Toy {
	t.Helper()
	toy, err := d.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return toy
}

// write changes the whole text of a toy.
func write(t testing.TB, toy *Toy, text, group string) State {
	t.Helper()
	st, err := toy.Change(Wish{Base: toy.State().Hash, Text: &text, Intent: "write " + text[:min(len(text), 12)], Group: group})
	if err != nil {
		t.Fatal(err)
	}
	return st
}

func wantText(t testing.TB, what string, got State, want string) {
	t.Helper()
	if got.Text != want {
		t.Fatalf("%s: the text is\n%q\nnot\n%q", what, got.Text, want)
	}
}

func (f *fake) want(t testing.TB, what, name, want string) {
	t.Helper()
	if got := string(f.files[name]); got != want {
		t.Fatalf("%s: the file %s has\n%q\nnot\n%q", what, name, got, want)
	}
}

package desk

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// What another program writes while ours is being written is neither written over nor forgotten.
func TestWrittenMeanwhile(t *testing.T) {
	disk, toy := onQuay(t)
	other := "toy: theirs\n"
	disk.meanwhile = func(name string) {
		if name == "toy.yaml" {
			disk.meanwhile = nil
			disk.put(name, other)
		}
	}
	write(t, toy, "toy: mine\n", "")
	st := toy.State()
	if got := string(disk.files["toy.yaml"]); got != other {
		t.Errorf("the file has %q", got)
	}
	if st.Text != "toy: mine\n" || st.Other == nil || *st.Other != other {
		t.Errorf("%+v", st)
	}
	if _, err := toy.Choose(Here); err != nil {
		t.Fatal(err)
	}
	if got := string(disk.files["toy.yaml"]); got != "toy: mine\n" {
		t.Errorf("after the choice the file has %q", got)
	}
	if st, ok := toy.Undo(); !ok || st.Text != other {
		t.Errorf("undo leads to %q", st.Text)
	}
}

// A toy whose file was taken away keeps what was done to it: no other toy takes its name while it is open.
func TestNameOfAToyThatIsGone(t *testing.T) {
	disk, toy := onQuay(t)
	write(t, toy, "toy: precious\n", "")
	delete(disk.files, "toy.yaml")
	toy.Look()
	if _, err := toy.desk.Create("toy.yaml", "toy: new\n"); err == nil {
		t.Error("another toy took the name")
	}
	if st, ok := toy.Undo(); !ok || st.Text != quay {
		t.Errorf("%v, %q", ok, st.Text)
	}
	// Nobody works on it any more, and nothing is unsaved: then the name is free.
	delete(disk.files, "toy.yaml")
	if !toy.desk.Close("toy.yaml") {
		t.Fatal("it is not let go of")
	}
	if _, err := toy.desk.Create("toy.yaml", "toy: new\n"); err != nil {
		t.Error(err)
	}
}

// What could not be saved is not let go of.
func TestUnsavedIsNotClosed(t *testing.T) {
	disk, toy := onQuay(t)
	disk.fails = noRoom
	write(t, toy, "toy: mine\n", "")
	if toy.desk.Close("toy.yaml") {
		t.Error("it is let go of")
	}
	disk.fails = nil
	if !toy.desk.Close("toy.yaml") || string(disk.files["toy.yaml"]) != "toy: mine\n" {
		t.Errorf("%q", disk.files["toy.yaml"])
	}
}

// A toy that is opened again is what its file is now.
func TestOpenedAgainIsLookedAt(t *testing.T) {
	disk, toy := onQuay(t)
	disk.put("toy.yaml", "toy: another editor's\n")
	again, err := toy.desk.Open("toy.yaml")
	if err != nil || again.State().Text != "toy: another editor's\n" {
		t.Errorf("%v, %q", err, again.State().Text)
	}
}

// Links stay links, and rights stay what they are.
func TestWriteKeepsLinksAndRights(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("rights and links are others there")
	}
	dir, disk := folderIn(t)
	real, link := filepath.Join(dir, "sub", "real.yaml"), filepath.Join(dir, "link.yaml")
	if err := os.Mkdir(filepath.Join(dir, "sub"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(real, []byte("1"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(real, 0o664); err != nil { // more than the usual umask leaves
		t.Fatal(err)
	}
	if err := os.Symlink("sub/real.yaml", link); err != nil {
		t.Fatal(err)
	}
	if err := disk.Write("link.yaml", []byte("2"), nil); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(real)
	if err != nil || string(b) != "2" {
		t.Errorf("%v, %q", err, b)
	}
	if s, err := os.Lstat(link); err != nil || s.Mode()&os.ModeSymlink == 0 {
		t.Errorf("%v, the link is %v", err, s.Mode())
	}
	if s, err := os.Stat(real); err != nil || s.Mode().Perm() != 0o664 {
		t.Errorf("%v, %v", err, s.Mode())
	}
}

// BenchmarkOpenLong opens a toy to which ten thousand things were done.
func BenchmarkOpenLong(b *testing.B) {
	disk := newFake()
	disk.put("toy.yaml", quay+strings.Repeat("# a comment of some length here\n", 600))
	d := disk.on()
	toy, err := d.Open("toy.yaml")
	if err != nil {
		b.Fatal(err)
	}
	for i := range 10_000 {
		if _, err := toy.Change(Wish{Base: toy.State().Hash, Edits: set("sizes.long", fmt.Sprint(i+10)), Intent: "long"}); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		if _, err := disk.on().Open("toy.yaml"); err != nil {
			b.Fatal(err)
		}
	}
}

// A name that another program takes while a new toy is written is not taken from it.
func TestNameTakenMeanwhile(t *testing.T) {
	disk, toy := onQuay(t)
	other := "toy: theirs\n"
	take := func(taken string) {
		disk.meanwhile = func(name string) {
			if name == taken {
				disk.meanwhile = nil
				disk.put(name, other)
			}
		}
	}
	take("new.yaml")
	if _, err := toy.desk.Create("new.yaml", "toy: new\n"); err == nil {
		t.Error("it is made all the same")
	}
	disk.want(t, "a new toy", "new.yaml", other)

	disk.fails = noRoom
	write(t, toy, "toy: mine\n", "")
	disk.fails = nil
	disk.put("toy.yaml", "toy: another editor's\n")
	take("toy-mine.yaml")
	if _, err := toy.Choose(Apart); err == nil {
		t.Error("the version that was to be kept is nowhere, and nothing is said")
	}
	disk.want(t, "a version set aside", "toy-mine.yaml", other)
	if st := toy.State(); st.Text != "toy: mine\n" || st.Other == nil {
		t.Errorf("%+v", st)
	}
	if _, err := toy.Choose(Apart); err != nil {
		t.Error(err)
	}
	disk.want(t, "set aside again", "toy-mine-2.yaml", "toy: mine\n")
}

// The rights of a new file are as usual where one is: nobody who was kept out gets in.
func TestRightsOfNewFiles(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("rights are others there")
	}
	dir, disk := folderIn(t)
	usual := filepath.Join(dir, "usual.yaml")
	if err := os.WriteFile(usual, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := disk.Write("new.yaml", []byte("1"), nil); err != nil {
		t.Fatal(err)
	}
	want, err := os.Stat(usual)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := os.Stat(filepath.Join(dir, "new.yaml")); err != nil || got.Mode() != want.Mode() {
		t.Errorf("%v, %v instead of %v", err, got.Mode(), want.Mode())
	}
}

// slowDisk is one that takes its time with a file, until it is told to go on.
type slowDisk struct {
	*fake
	name   string
	at, on chan bool
}

func (d *slowDisk) ReadUpTo(name string, most int) ([]byte, error) {
	if name == d.name {
		d.at <- true
		<-d.on
	}
	return d.fake.ReadUpTo(name, most)
}

// A toy that takes long to be opened does not keep the others waiting, and becomes one toy for all who
// ask for it.
func TestOpensAsideTheOthers(t *testing.T) {
	disk := newFake()
	disk.put("toy.yaml", quay)
	disk.put("long.yaml", quay)
	slow := &slowDisk{disk, journalOf("long.yaml"), make(chan bool), make(chan bool)}
	d := New(slow)
	d.Now = func() time.Time { return disk.now }
	opened := make(chan *Toy)
	ask := func() {
		toy, err := d.Open("long.yaml")
		if err != nil {
			t.Error(err)
		}
		opened <- toy
	}
	go ask()
	<-slow.at
	other := make(chan bool)
	go func() {
		defer close(other)
		toy, err := d.Open("toy.yaml")
		if err != nil {
			t.Error(err)
			return
		}
		text := "toy: on\n"
		if _, err := toy.Change(Wish{Base: toy.State().Hash, Text: &text}); err != nil {
			t.Error(err)
		}
	}()
	select {
	case <-other:
	case <-time.After(30 * time.Second): // as long as a test waits for anything: it never comes
		t.Fatal("the other toy waits")
	}
	go ask()
	slow.on <- true
	if a, b := <-opened, <-opened; a == nil || a != b {
		t.Error("there are two of one toy")
	}
}

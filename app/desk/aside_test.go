package desk

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What is taken off the shelf comes back with its history; nothing takes the place of anything.
func TestAside(t *testing.T) {
	dir, disk := folderIn(t)
	d := New(disk)
	const first = "dryfit: 1\ntoy: Tug\n"
	tug, err := d.Create("tug.yaml", first)
	if err != nil {
		t.Fatal(err)
	}
	second := first + "note: blue\n"
	if _, err := tug.Change(Wish{Text: &second, Base: tug.State().Hash, Intent: "a note"}); err != nil {
		t.Fatal(err)
	}
	at, err := d.SetAside("tug.yaml")
	if err != nil || at != ".dryfit/aside/tug.yaml" {
		t.Fatal(at, err)
	}
	if b, err := os.ReadFile(filepath.Join(dir, at)); err != nil || string(b) != second {
		t.Errorf("%q, %v", b, err)
	}
	if names, _ := d.Names(); len(names) != 0 {
		t.Errorf("still on the shelf: %v", names)
	}
	if _, err := d.Create("tug.yaml", first); err != nil { // another one of that name
		t.Fatal(err)
	}
	if err := d.BringBack(at, "tug.yaml"); err == nil || !strings.Contains(err.Error(), "tug.yaml") {
		t.Errorf("it took the place of another: %v", err)
	}
	at2, err := d.SetAside("tug.yaml")
	if err != nil || at2 != ".dryfit/aside/tug-2.yaml" {
		t.Fatal(at2, err)
	}
	if err := d.BringBack(at, "tug.yaml"); err != nil {
		t.Fatal(err)
	}
	back, err := d.Open("tug.yaml")
	if err != nil || back.State().Text != second {
		t.Fatal(back, err)
	}
	if st, ok := back.Undo(); !ok || st.Text != first {
		t.Errorf("its history is gone: %v %q", ok, st.Text)
	}
	for _, bad := range []string{"../tug.yaml", ".dryfit/tug.yaml.history", "tug.yaml", ".dryfit/aside/../../tug.yaml", ".dryfit/aside/x.txt"} {
		if err := d.BringBack(bad, "new.yaml"); err == nil {
			t.Errorf("%s was brought back", bad)
		}
	}
	if _, err := d.SetAside("none.yaml"); err == nil {
		t.Error("what is not there was put aside")
	}
}

package desk

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

func folderIn(t *testing.T) (string, Disk) {
	t.Helper()
	dir := t.TempDir()
	d, err := Folder(dir)
	if err != nil {
		t.Fatal(err)
	}
	return dir, d
}

// Nothing outside of the folder is read or written, by links or by names.
func TestFolderStaysInside(t *testing.T) {
	outside := filepath.Join(t.TempDir(), "secret.yaml")
	if err := os.WriteFile(outside, []byte("toy: secret\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	dir, disk := folderIn(t)
	if err := os.Symlink(outside, filepath.Join(dir, "link.yaml")); err != nil {
		t.Skip(err)
	}
	os.Symlink(filepath.Dir(outside), filepath.Join(dir, ".dryfit"))
	os.Symlink(filepath.Join(filepath.Dir(outside), "new.yaml"), filepath.Join(dir, "dangling.yaml"))
	d := New(disk)
	for _, name := range []string{"link.yaml", "dangling.yaml"} {
		if _, err := d.Open(name); err == nil {
			t.Errorf("%s leads outside", name)
		}
	}
	for _, name := range []string{outside, "../" + filepath.Base(filepath.Dir(outside)) + "/secret.yaml", "link.yaml"} {
		if _, err := disk.Read(name); err == nil {
			t.Errorf("%s can be read", name)
		}
		if disk.Append(name, []byte("x")) == nil {
			t.Errorf("%s can be added to", name)
		}
	}
	toy, err := d.Create("toy.yaml", "toy: one\n")
	if err == nil {
		if st := write(t, toy, "toy: two\n", ""); st.Forgets == "" {
			t.Error("a journal was written outside")
		}
	}
	if b, _ := os.ReadFile(outside); string(b) != "toy: secret\n" {
		t.Errorf("the file outside has %q", b)
	}
	if list, _ := os.ReadDir(filepath.Dir(outside)); len(list) != 1 {
		t.Errorf("outside there are now %v", list)
	}
}

// A file keeps its rights; one that may only be read is left alone; one that is no plain file is
// never opened; what a crash left half-written is in nobody's way.
func TestFolderFiles(t *testing.T) {
	dir, disk := folderIn(t)
	at := func(name string) string { return filepath.Join(dir, name) }
	os.WriteFile(at("toy.yaml"), []byte("1"), 0o600)
	os.WriteFile(at(".toy.yaml.half-written"), []byte("half"), 0o400)
	if err := disk.Write("toy.yaml", []byte("2"), nil); err != nil {
		t.Fatal(err)
	}
	if s, _ := os.Stat(at("toy.yaml")); runtime.GOOS != "windows" && s.Mode().Perm() != 0o600 {
		t.Errorf("its rights are now %v", s.Mode())
	}
	if list, _ := disk.List("."); len(list) != 1 {
		t.Errorf("there are %v", list)
	}
	os.Chmod(at("toy.yaml"), 0o400)
	if err := disk.Write("toy.yaml", []byte("3"), nil); err == nil {
		t.Error("a file that may only be read is replaced")
	}
	os.Mkdir(at("folder.yaml"), 0o755)
	if _, err := New(disk).Open("folder.yaml"); err == nil {
		t.Error("a folder is a toy")
	}
	if err := os.WriteFile(at("long.yaml"), bytes.Repeat([]byte("x"), MostBytes+1), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := New(disk).Open("long.yaml"); err == nil {
		t.Error("a file that is too long is a toy")
	}
}

func TestFolderRename(t *testing.T) {
	dir, disk := folderIn(t)
	os.WriteFile(filepath.Join(dir, "a.yaml"), []byte("a"), 0o644)
	os.WriteFile(filepath.Join(dir, "b.yaml"), []byte("b"), 0o644)
	if err := disk.Rename("a.yaml", "b.yaml"); err == nil {
		t.Error("another file is replaced")
	}
	if err := disk.Rename("a.yaml", "A.yaml"); err != nil {
		t.Error(err)
	}
	// On a disk where capitals are the same name, the new name is there already: the file's own.
	os.Link(filepath.Join(dir, "A.yaml"), filepath.Join(dir, "a.yaml"))
	if err := disk.Rename("A.yaml", "a.yaml"); err != nil {
		t.Error(err)
	}
	os.Link(filepath.Join(dir, "b.yaml"), filepath.Join(dir, "c.yaml"))
	if err := disk.Rename("b.yaml", "c.yaml"); err == nil || !strings.Contains(err.Error(), "already") {
		t.Errorf("another name of the same file: %v", err)
	}
}

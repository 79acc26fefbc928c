package desk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
	"time"
)

// Disk is where toys are kept. Names are those of files in one folder, with slashes for
// what is below it. Tests put one in its place that is full or breaks off.
type Disk interface {
	// List returns the names of the files of a folder, sorted; "." is the whole one.
	List(dir string) ([]string, error)
	Read(name string) ([]byte, error)
	// Stamp changes whenever a file does; it does not read it.
	Stamp(name string) (Stamp, error)
	// Write replaces a file by another whole one, or leaves it as it is.
	Write(name string, b []byte) error
	// Append adds to the end of a file, which need not exist.
	Append(name string, b []byte) error
	Rename(from, to string) error
}

// Stamp tells two states of a file apart.
type Stamp struct {
	Changed time.Time
	Size    int64
}

// MostBytes is how long a file may be that is read or written: a hundred times the longest
// toy of the examples.
const MostBytes = 2 << 20

// ErrTooLong is returned for a file that is longer than that.
var ErrTooLong = fmt.Errorf("the file is longer than %d MB: no toy file is", MostBytes>>20)

// Folder opens a folder of this machine. Nothing outside of it is read or written, whatever
// names and links say.
func Folder(dir string) (Disk, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	return &folder{root}, nil
}

type folder struct{ root *os.Root }

func (d *folder) List(dir string) (out []string, err error) {
	f, err := d.root.Open(dir)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	all, err := f.ReadDir(-1)
	for _, e := range all {
		if !e.IsDir() && !strings.HasPrefix(e.Name(), ".") {
			out = append(out, e.Name())
		}
	}
	slices.Sort(out)
	return out, err
}

func (d *folder) Read(name string) ([]byte, error) {
	f, err := d.root.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, MostBytes+1))
	if err == nil && len(b) > MostBytes {
		err = ErrTooLong
	}
	return b, err
}

func (d *folder) Stamp(name string) (Stamp, error) {
	s, err := d.root.Stat(name)
	if err != nil {
		return Stamp{}, err
	}
	return Stamp{s.ModTime(), s.Size()}, nil
}

// Write writes another file beside the one it is to replace, has it on the disk, and gives it
// its name.
func (d *folder) Write(name string, b []byte) (err error) {
	mode := fs.FileMode(0o644)
	if s, err := d.root.Stat(name); err == nil {
		mode = s.Mode().Perm()
	}
	if err := d.above(name); err != nil {
		return err
	}
	half := path.Join(path.Dir(name), "."+path.Base(name)+".half-written")
	f, err := d.root.OpenFile(half, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			d.root.Remove(half)
		}
	}()
	_, err = f.Write(b)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	if err = d.root.Rename(half, name); err != nil {
		return err
	}
	// The new name has to be on the disk too; where a folder cannot be synced it is not needed.
	if dir, err := d.root.Open(path.Dir(name)); err == nil {
		dir.Sync()
		dir.Close()
	}
	return nil
}

func (d *folder) Append(name string, b []byte) error {
	if err := d.above(name); err != nil {
		return err
	}
	f, err := d.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	return errors.Join(err, f.Close())
}

// above makes the folder that a file is in.
func (d *folder) above(name string) error {
	if dir := path.Dir(name); dir != "." {
		return d.root.MkdirAll(dir, 0o755)
	}
	return nil
}

func (d *folder) Rename(from, to string) error {
	if _, err := d.root.Lstat(to); err == nil {
		return fmt.Errorf("there is a file %s already", to)
	}
	return d.root.Rename(from, to)
}

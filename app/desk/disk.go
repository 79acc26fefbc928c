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
	// Read reads a file of up to MostBytes.
	Read(name string) ([]byte, error)
	ReadUpTo(name string, most int) ([]byte, error)
	// Stamp changes whenever a file does; it does not read it.
	Stamp(name string) (Stamp, error)
	// Write replaces a file by another whole one, or leaves it as it is. still is asked at the last
	// moment whether it is still to be replaced, nil where it is in any case; its error is returned.
	Write(name string, b []byte, still func() error) error
	// Append adds to the end of a file, which need not exist.
	Append(name string, b []byte) error
	// Sync has what was added on the disk, where no power cut takes it away.
	Sync(name string) error
	// Rename refuses to take the place of another file.
	Rename(from, to string) error
	Remove(name string) error
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

func (d *folder) Read(name string) ([]byte, error) { return d.ReadUpTo(name, MostBytes) }

func (d *folder) ReadUpTo(name string, most int) ([]byte, error) {
	if _, err := d.Stamp(name); err != nil {
		return nil, err
	}
	f, err := d.root.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, int64(most)+1))
	if err == nil && len(b) > most {
		err = ErrTooLong
	}
	return b, err
}

// errNoFile is returned for folders, and for pipes and devices, which may never end.
var errNoFile = errors.New("this is no plain file")

func (d *folder) Stamp(name string) (Stamp, error) {
	s, err := d.root.Stat(name)
	if err == nil && !s.Mode().IsRegular() {
		err = errNoFile
	}
	if err != nil {
		return Stamp{}, err
	}
	return Stamp{s.ModTime(), s.Size()}, nil
}

var errReadOnly = errors.New("the file may only be read")

// target is the file that a name leads to: a link stays one. Links out of the folder are refused by
// whatever is done with it.
func (d *folder) target(name string) (string, error) {
	for range linksMost {
		s, err := d.root.Lstat(name)
		if err != nil || s.Mode()&fs.ModeSymlink == 0 {
			return name, nil // what is wrong with it shows when it is written
		}
		to, err := d.root.Readlink(name)
		if err != nil {
			return "", err
		}
		if name = path.Join(path.Dir(name), to); path.IsAbs(to) {
			return "", errOutside
		}
	}
	return "", errOutside
}

// linksMost is how many links in a row are followed; as many as Linux follows.
const linksMost = 40

var errOutside = errors.New("the file is a link that leads nowhere in this folder")

// Write writes another file beside the one it is to replace, has it on the disk, and gives it
// its name.
func (d *folder) Write(name string, b []byte, still func() error) (err error) {
	if name, err = d.target(name); err != nil {
		return err
	}
	mode, was := fs.FileMode(0o644), false
	if s, err := d.root.Stat(name); err == nil {
		was = true
		if mode = s.Mode().Perm(); mode&0o200 == 0 {
			return errReadOnly // giving its name to another file would get round that
		}
	}
	if err := d.above(name); err != nil {
		return err
	}
	half := path.Join(path.Dir(name), "."+path.Base(name)+".half-written")
	d.root.Remove(half) // left by a crash
	f, err := d.root.OpenFile(half, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			d.root.Remove(half)
		}
	}()
	if was {
		// Whatever the usual rights of new files are. Where the file system knows none it fails, and
		// there are none to be kept.
		f.Chmod(mode)
	}
	if _, err = f.Write(b); err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return err
	}
	if still != nil {
		if err = still(); err != nil {
			return err
		}
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

func (d *folder) Sync(name string) error {
	f, err := d.root.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

func (d *folder) Rename(from, to string) error {
	if there, err := d.root.Lstat(to); err == nil {
		// Where small and capital letters are the same, it may be the file itself.
		if own, err := d.root.Lstat(from); err != nil || !os.SameFile(own, there) || !strings.EqualFold(from, to) {
			return fmt.Errorf("there is a file %s already", to)
		}
	}
	if err := d.above(to); err != nil {
		return err
	}
	return d.root.Rename(from, to)
}

func (d *folder) Remove(name string) error { return d.root.Remove(name) }

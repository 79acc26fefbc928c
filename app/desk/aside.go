package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
)

// Taking a toy off the shelf loses nothing: its file and its history are put aside, and come back.

// asideFolder is where files are that were taken off the shelf.
const asideFolder = ".dryfit/aside"

// asideMost is how many files of one name may be aside.
const asideMost = 1000

// SetAside takes a toy off the shelf and returns where its file is then, in the folder. What is not
// saved, or waits for a choice, stays.
func (d *Desk) SetAside(name string) (at string, err error) {
	if err := Fit(name); err != nil {
		return "", err
	}
	d.lock(name)
	defer d.mu.Unlock()
	if t := d.toys[name]; t != nil {
		if st := t.Look(); st.Unsaved != "" || st.Other != nil {
			return "", fmt.Errorf("%s is not saved as it is now: settle that first", name)
		}
		t.mu.Lock()
		defer t.mu.Unlock()
		t.save()
	}
	if _, err := d.Disk.Stamp(name); err != nil {
		return "", err
	}
	stem := strings.TrimSuffix(name, path.Ext(name))
	for n := 1; n <= asideMost; n++ {
		at = path.Join(asideFolder, name)
		if n > 1 {
			at = path.Join(asideFolder, fmt.Sprintf("%s-%d%s", stem, n, path.Ext(name)))
		}
		if _, err := d.Disk.Stamp(at); err == nil {
			continue
		} else if !errors.Is(err, fs.ErrNotExist) {
			return "", err
		}
		if err := d.Disk.Rename(name, at); err != nil {
			return "", err
		}
		d.Disk.Rename(journalOf(name), at+historyEnding) // undoing goes along, where there is something to undo
		delete(d.toys, name)
		return at, nil
	}
	return "", fmt.Errorf("there are too many files called %s in %s", name, asideFolder)
}

// BringBack puts a file that was put aside on the shelf again, under a name that is free.
func (d *Desk) BringBack(at, name string) error {
	if path.Dir(at) != asideFolder || Fit(path.Base(at)) != nil {
		return fmt.Errorf("%q is no file that was put aside", at)
	}
	if err := Fit(name); err != nil {
		return err
	}
	d.lock(name)
	defer d.mu.Unlock()
	if d.toys[name] != nil {
		return errOpen(name)
	}
	if err := d.free(name)(); err != nil {
		return err
	}
	if err := d.Disk.Rename(at, name); err != nil {
		return err
	}
	d.Disk.Remove(journalOf(name)) // of a file that had this name once
	d.Disk.Rename(at+historyEnding, journalOf(name))
	return nil
}

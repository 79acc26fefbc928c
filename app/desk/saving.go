package desk

import (
	"errors"
	"io/fs"
	"syscall"
	"time"

	"dryfit/toy/file/tree"
)

// How a toy's text, its journal and its file are kept the same.

// ByOther is the intent of what another program changed.
const ByOther = "changed by another program"

// settled is how old the last change of a file has to be for its stamp to tell the next one:
// the clocks of some file systems go by two seconds (FAT; from memory). Until then the file is
// read. And two changes of another program within it are one: programs that empty a file before
// they write it are seen half-way.
const settled = 2 * time.Second

// remember takes the history out of the journal. What the file has is right: if another
// program changed it meanwhile, that is one more change; if it is only behind the journal, a
// crash came between, and it is saved now.
func (t *Toy) remember() {
	name := journalOf(t.name)
	journal, err := t.desk.Disk.ReadUpTo(name, journalMost)
	h, begun, broken := history{}, false, false
	if err == nil {
		h, begun, broken, err = replay(journal)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.forget = err
	}
	if !begun {
		t.h, t.begun = history{text: t.file}, false
		if broken { // not even its first line can be read: what is added to it could not be either
			t.tidy()
		}
		return
	}
	back := t.newer(name)
	t.h, t.begun, t.journal = h, true, len(journal)
	if broken || t.journal > t.long() { // goes on in one that can be read to its end
		t.tidy()
	}
	if t.h.text == t.file {
		return
	}
	if _, ours := t.h.before(tree.Hash(t.file)); ours && !back {
		t.save()
		return
	}
	text := t.file
	t.file = t.h.text
	t.outside(text)
}

// newer tells whether the file was changed after the journal: somebody put an earlier text back.
func (t *Toy) newer(journal string) bool {
	a, err := t.desk.Disk.Stamp(t.name)
	b, err2 := t.desk.Disk.Stamp(journal)
	return err == nil && err2 == nil && a.Changed.After(b.Changed)
}

// Bounds of a journal: below short it is never tidied, so that this is seldom done; above most
// it is not read, which by the two others it does not come to.
const (
	journalShort = 1 << 20
	journalMost  = 16 * historyMost
)

// long is how many bytes a journal has when it is time to leave out what cannot be come back to.
func (t *Toy) long() int { return max(journalShort, 2*t.tidied) }

// tidy writes the journal anew.
func (t *Toy) tidy() {
	if t.forget == errNewer {
		return
	}
	t.h.shorten()
	b := t.h.bytes()
	t.forget = t.desk.Disk.Write(journalOf(t.name), b, nil)
	if t.forget == nil {
		t.begun, t.journal, t.tidied, t.unsynced = true, len(b), len(b), false
	}
}

// step writes a step to the journal and takes it.
func (t *Toy) step(l line) bool {
	next := t.h
	if !next.take(l) {
		return false
	}
	l.Hash = tree.Hash(next.text)
	if t.forget != nil { // what was written last may have ended half-way
		t.h = next
		t.tidy()
		return true
	}
	b := l.bytes()
	if !t.begun {
		text := exact(t.h.text)
		b = append(line{Version: journalVersion, Lost: t.h.lost, Text: &text}.bytes(), b...)
	}
	t.h = next
	if t.forget = t.desk.Disk.Append(journalOf(t.name), b); t.forget != nil {
		return true
	}
	t.begun, t.unsynced = true, true
	if t.journal += len(b); t.journal > t.long() {
		t.tidy()
	}
	return true
}

// sync has the journal on the disk; so long as it was not, only a power cut would lose it.
func (t *Toy) sync() {
	if t.forget != nil {
		t.tidy()
	}
	if t.unsynced && t.forget == nil {
		if t.desk.Disk.Sync(journalOf(t.name)) == nil {
			t.unsynced = false
		}
	}
}

// outside takes in what another program wrote.
func (t *Toy) outside(text string) {
	t.other = nil
	t.file = text
	if text == t.h.text {
		return
	}
	l, now := line{}, t.desk.Now()
	if last := t.h.last(); last != nil && t.h.done == len(t.h.past) && last.Intent == ByOther && now.Sub(last.When) < settled {
		l.Amend = t.h.amended(text)
	} else {
		l.Do = new(between(t.h.text, text))
	}
	t.write(l, ByOther, "")
}

// save writes the text to the file, unless that is not what it was.
func (t *Toy) save() {
	err := t.look()
	switch {
	case t.other != nil:
	case t.file == t.h.text && !t.gone:
		t.trouble = nil
	case err != nil:
		t.trouble = err // it is not written over unread
	default:
		t.trouble = t.desk.Disk.Write(t.name, []byte(t.h.text), t.unchanged)
		switch {
		case t.trouble == nil:
			t.file, t.gone = t.h.text, false
			t.stamp = Stamp{} // another program may have been quicker than a look at it
		case errors.Is(t.trouble, errMeanwhile):
			t.look()
		}
	}
}

var errMeanwhile = errors.New("another program wrote it at the same moment")

// unchanged tells whether the file is still what it was when it was looked at.
func (t *Toy) unchanged() error {
	b, err := t.desk.Disk.Read(t.name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil // as when it was gone before
	case err != nil:
		return err
	case t.gone || string(b) != t.file:
		t.stamp = Stamp{}
		return errMeanwhile
	}
	return nil
}

// look sees whether another program changed the file.
func (t *Toy) look() error {
	stamp, err := t.desk.Disk.Stamp(t.name)
	if errors.Is(err, fs.ErrNotExist) {
		t.gone = true
		return nil
	}
	if err != nil {
		return err
	}
	if t.gone = false; stamp == t.stamp {
		return nil
	}
	b, err := t.desk.Disk.Read(t.name)
	if err != nil {
		return err
	}
	t.saw(stamp)
	text := string(b)
	switch {
	case text == t.file:
		t.other = nil
	case t.file == t.h.text: // nothing of ours is lost by it
		t.outside(text)
	case text == t.h.text:
		t.file, t.other = text, nil
	default:
		t.other = &text
	}
	return nil
}

// saw keeps the stamp of what was read, if it will tell the next change.
func (t *Toy) saw(s Stamp) {
	if t.stamp = s; t.desk.Now().Sub(s.Changed) < settled {
		t.stamp = Stamp{}
	}
}

// why is an error without the names of files and calls, which the one at the screen did not choose.
func why(err error) string {
	var no syscall.Errno
	switch {
	case err == nil:
		return ""
	case errors.As(err, &no):
		return no.Error()
	}
	return err.Error()
}

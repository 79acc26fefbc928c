package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"
)

// Choice is what becomes of two versions.
type Choice string

// The choices: ours stays and theirs can be come back to, or the other way round, or theirs
// stays and ours becomes a file of its own.
const (
	Ours   Choice = "here"
	Theirs Choice = "there"
	Both   Choice = "apart"
)

// Choose ends a conflict. Whatever is chosen, undoing leads to the other version.
func (t *Toy) Choose(c Choice) (State, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.look() // the other program may have gone on writing
	if t.theirs == nil {
		return t.state(), nil
	}
	ours, theirs := t.h.text, *t.theirs
	switch c {
	case Ours:
		t.outside(theirs)
		t.make(ours, Wish{Intent: "keep mine"})
	case Theirs:
		t.outside(theirs)
	case Both:
		name, err := t.freeName()
		if err == nil {
			err = t.desk.Disk.Write(name, []byte(ours), t.desk.free(name))
		}
		if err != nil {
			return t.state(), err
		}
		t.outside(theirs)
	default:
		return t.state(), fmt.Errorf("%q is no choice: here, there or apart", c)
	}
	t.save()
	return t.state(), nil
}

// freeName is a name for a copy of a toy.
func (t *Toy) freeName() (string, error) {
	ext := path.Ext(t.name)
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s-mine%s", strings.TrimSuffix(t.name, ext), ext)
		if n > 1 {
			name = fmt.Sprintf("%s-mine-%d%s", strings.TrimSuffix(t.name, ext), n, ext)
		}
		switch _, err := t.desk.Disk.Stamp(name); {
		case errors.Is(err, fs.ErrNotExist):
			return name, nil
		case err != nil:
			return "", err
		}
	}
}

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

// The choices: what is here stays and the other can be come back to; the other way round; or the other
// stays and what is here becomes a file of its own.
const (
	Here  Choice = "here"
	There Choice = "there"
	Apart Choice = "apart"
)

// Choose ends a conflict. Whatever is chosen, undoing leads to the other version.
func (t *Toy) Choose(c Choice) (State, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.look() // the other program may have gone on writing
	if t.other == nil {
		return t.state(), nil
	}
	mine, other := t.h.text, *t.other
	switch c {
	case Here:
		t.outside(other)
		t.make(mine, Wish{Intent: "keep mine"})
	case There:
		t.outside(other)
	case Apart:
		name, err := t.freeName()
		if err == nil {
			err = t.desk.Disk.Write(name, []byte(mine), t.desk.free(name))
		}
		if err != nil {
			return t.state(), err
		}
		t.outside(other)
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

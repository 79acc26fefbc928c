package desk

import (
	"sync"

	"dryfit/toy/file/tree"
)

// Toy is one that is worked on. It is safe for use by several goroutines.
type Toy struct {
	desk *Desk
	name string

	mu      sync.Mutex
	h       history
	file    string  // what the file has, as far as is known
	stamp   Stamp   // of the file when that was read; none while a change might not show in it
	trouble error   // why the file could not be saved, nil if it is
	other   *string // what another program wrote while something of ours was not saved
	gone    bool    // the file is no longer there

	forget          error // why the journal could not be written, nil if it is
	begun, unsynced bool  // whether there is a journal, and more in it than is surely on the disk
	journal, tidied int   // its bytes, and those when it was last written anew
}

// State is what a window has to know of a toy.
type State struct {
	File, Text, Hash string
	Undo, Redo       string  // what would be undone and done again, in words; "" if nothing
	Unsaved          string  // why the file does not have it; "" if it has
	Forgets          string  // why it can not be undone after a restart; "" if it can
	Lost             int     // how many changes before all that can be undone are no longer kept
	Gone             bool    // the file has been taken away
	Other            *string // what another program wrote meanwhile, waiting for a choice
}

// Same tells whether two states are the same, and so nobody has to be told of the other.
func (s State) Same(o State) bool {
	other := (s.Other == nil) == (o.Other == nil) && (s.Other == nil || *s.Other == *o.Other)
	s.Other, o.Other = nil, nil
	return other && s == o
}

// State returns the present one.
func (t *Toy) State() State {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.state()
}

func (t *Toy) state() State {
	s := State{File: t.name, Text: t.h.text, Hash: tree.Hash(t.h.text), Lost: t.h.lost, Gone: t.gone, Other: t.other, Unsaved: why(t.trouble), Forgets: why(t.forget)}
	if t.h.done > 0 {
		s.Undo = t.h.past[t.h.done-1].Intent
	}
	if t.h.done < len(t.h.past) {
		s.Redo = t.h.past[t.h.done].Intent
	}
	return s
}

// Undo takes the last change back. It tells whether there was one.
func (t *Toy) Undo() (State, bool) { return t.walk(-1) }

// Redo makes the change again that was undone last.
func (t *Toy) Redo() (State, bool) { return t.walk(1) }

func (t *Toy) walk(by int) (State, bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.look()
	if t.other != nil {
		return t.state(), false
	}
	ok := t.step(line{Step: by})
	t.save()
	return t.state(), ok
}

// Look sees what other programs did, and tries again to save what could not be.
func (t *Toy) Look() State {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.look(); t.trouble != nil {
		t.save()
	}
	t.sync()
	return t.state()
}

package web

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

func (s *served) put(name, text string) {
	s.t.Helper()
	if err := os.WriteFile(filepath.Join(s.dir, name), []byte(text), 0o644); err != nil {
		s.t.Fatal(err)
	}
}

func (s *served) lives() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.live)
}

// A toy that could not be saved is not let go of when its windows close: it is saved as soon as it can be.
func TestUnsavedIsKept(t *testing.T) {
	s := serve(t, func(s *Server) { s.keep = 100 * time.Millisecond })
	w := s.listen("toy.yaml")
	st := w.until("a state", stateWith("long: 60")).State
	path := filepath.Join(s.dir, "toy.yaml")
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	if now, code := long(s, st.Hash, "70"); code != http.StatusOK || now.Unsaved == "" {
		t.Fatalf("%d, unsaved %q", code, now.Unsaved)
	}
	w.stop()
	time.Sleep(3 * lookEvery)
	if s.lives() != 1 {
		t.Error("it is let go of")
	}
	if err := os.Chmod(path, 0o644); err != nil {
		t.Fatal(err)
	}
	eventually(t, "it to be saved", func() bool { return strings.Contains(s.file("toy.yaml"), "long: 70") })
	eventually(t, "it to be let go of", func() bool { return s.lives() == 0 })
}

// A copy is one of what the file is now.
func TestCopyOfWhatIsThere(t *testing.T) {
	s := serve(t)
	s.listen("toy.yaml").until("a state", stateWith("long: 60"))
	s.put("toy.yaml", strings.Replace(aToy, "60", "90", 1))
	if _, code := ask[ToyArgs](s, "copy", NameArgs{"toy.yaml", "Other"}); code != http.StatusOK {
		t.Fatal(code)
	}
	if got := s.file("other.yaml"); !strings.Contains(got, "long: 90") {
		t.Errorf("it is one of\n%s", got)
	}
}

// The name of a toy that was made, never opened and taken away is free again.
func TestNameIsFreeAgain(t *testing.T) {
	s := serve(t)
	if _, code := ask[ToyArgs](s, "copy", NameArgs{"toy.yaml", "Other"}); code != http.StatusOK {
		t.Fatal(code)
	}
	if err := os.Remove(filepath.Join(s.dir, "other.yaml")); err != nil {
		t.Fatal(err)
	}
	eventually(t, "its name to be free", func() bool {
		_, code := ask[ToyArgs](s, "rename", NameArgs{"toy.yaml", "Other"})
		return code == http.StatusOK
	})
}

// Undoing and doing again tell what that was, that there was nothing, and that two versions wait for a
// choice.
func TestWhatWasUndone(t *testing.T) {
	s := serve(t)
	w := s.listen("toy.yaml")
	st := w.until("a state", stateWith("long: 60")).State
	st2, _ := long(s, st.Hash, "70")
	long(s, st2.Hash, "80")
	for _, c := range []struct{ call, done, text string }{
		{"undo", "long 80", "long: 70"},
		{"undo", "long 70", "long: 60"},
		{"undo", "", "long: 60"},
		{"redo", "long 70", "long: 70"},
		{"redo", "long 80", "long: 80"},
		{"redo", "", "long: 80"},
	} {
		got, code := ask[Stepped](s, c.call, ToyArgs{"toy.yaml"})
		if code != http.StatusOK || got.Done != c.done || !strings.Contains(got.State.Text, c.text) {
			t.Errorf("%s: %d, %q\n%s\nnot %q, %s", c.call, code, got.Done, got.State.Text, c.done, c.text)
		}
		st = &got.State
	}
	path := filepath.Join(s.dir, "toy.yaml")
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	long(s, st.Hash, "75")
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(strings.Replace(aToy, "60", "90", 1)), 0o444); err != nil {
		t.Fatal(err)
	}
	w.until("two versions", func(e Event) bool { return e.State != nil && e.State.Other != nil })
	if code, text := s.post("/call/undo", jsonOf(ToyArgs{"toy.yaml"})); code != http.StatusConflict || !strings.Contains(text, "choose") {
		t.Errorf("while two versions wait: %d %s", code, text)
	}
}

// However renaming and opening meet, a toy has one life, under the name that it has.
func TestRenamedWhileOpened(t *testing.T) {
	s := serve(t)
	names := []string{"toy.yaml", "other.yaml"}
	var all sync.WaitGroup
	for i := range 4 {
		all.Go(func() {
			for k := range 40 {
				if from, to := names[k%2], names[1-k%2]; i == 0 {
					s.rename(from, to)
				} else {
					s.open(names[(i+k)%2]) // often it is not there under that name
				}
			}
		})
	}
	all.Wait()
	if _, err := s.open("toy.yaml"); err != nil {
		if _, err := s.open("other.yaml"); err != nil {
			t.Fatal(err)
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	var seen []string
	for name, l := range s.live {
		if st := l.toy.State(); st.File != name {
			t.Errorf("%s is kept as %s", st.File, name)
		}
		seen = append(seen, fmt.Sprintf("%s %p", name, l.toy))
	}
	if len(seen) != 1 {
		t.Errorf("there are %q", seen)
	}
}

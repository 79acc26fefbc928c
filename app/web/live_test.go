package web

import (
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"dryfit/app/page"
	"dryfit/toy/file/tree"
)

func jsonOf(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return string(b)
}

func long(s *served, base, value string) (State, int) {
	s.t.Helper()
	return ask[State](s, "change", ChangeArgs{File: "toy.yaml", Base: base, Edits: []tree.Edit{{Op: "set", Path: "sizes.long", Value: value}}, Intent: "long " + value})
}

// A change made in one window is in the file, in the other window, and proved; so is what
// another program writes.
func TestTwoWindowsAndAnEditor(t *testing.T) {
	s := serve(t)
	one, two := s.listen("toy.yaml"), s.listen("toy.yaml")
	st := *one.until("a state", stateWith("long: 60")).State
	two.until("a state", stateWith("long: 60"))
	done := one.until("the proof", func(e Event) bool { return e.Findings != nil && e.Findings.Done })
	if done.Findings.Hash != st.Hash || done.Findings.Verdict == "" {
		t.Errorf("proof %+v", done.Findings)
	}
	if _, code := long(s, st.Hash, "70"); code != http.StatusOK {
		t.Fatal(code)
	}
	now := two.until("the change", stateWith("long: 70")).State
	if !strings.Contains(s.file("toy.yaml"), "long: 70") || now.Undo != "long 70" {
		t.Errorf("the file has %s, undo %q", s.file("toy.yaml"), now.Undo)
	}
	two.until("its proof", func(e Event) bool { return e.Findings != nil && e.Findings.Done && e.Findings.Hash == now.Hash })
	// The other window still had the text before: the same place is refused.
	b := jsonOf(ChangeArgs{File: "toy.yaml", Base: st.Hash, Edits: []tree.Edit{{Op: "set", Path: "sizes.long", Value: "80"}}})
	code, text := s.post("/call/change", b)
	var f Failure
	json.Unmarshal([]byte(text), &f)
	if code != http.StatusConflict || f.State == nil || f.State.Hash != now.Hash {
		t.Errorf("a change too late: %d %s", code, text)
	}
	os.WriteFile(filepath.Join(s.dir, "toy.yaml"), []byte(strings.Replace(aToy, "60", "90", 1)), 0o644)
	one.until("the other program's change", stateWith("long: 90"))
	two.until("the other program's change", stateWith("long: 90"))
	if st, _ := ask[Stepped](s, "undo", ToyArgs{"toy.yaml"}); !strings.Contains(st.State.Text, "long: 70") {
		t.Errorf("undone: %s", st.State.Text)
	}
	one.until("the undo", stateWith("long: 70"))
	os.WriteFile(filepath.Join(s.dir, "toy.yaml"), []byte("toy: [\n"), 0o644)
	if e := two.until("a text that cannot be read", stateWith("toy: [")); len(e.State.Problems) == 0 {
		t.Error("nothing is said to be wrong")
	}
}

// A toy that gets another name is followed there by the windows that have it open.
func TestRenamedWhileOpen(t *testing.T) {
	s := serve(t)
	w := s.listen("toy.yaml")
	st := w.until("a state", stateWith("long: 60")).State
	if to, code := ask[ToyArgs](s, "rename", NameArgs{"toy.yaml", "Other toy"}); code != http.StatusOK || to.File != "other-toy.yaml" {
		t.Fatalf("renamed: %d %v", code, to)
	}
	w.until("the new name", func(e Event) bool { return e.State != nil && e.State.File == "other-toy.yaml" })
	args := ChangeArgs{File: "other-toy.yaml", Base: st.Hash, Edits: []tree.Edit{{Op: "set", Path: "sizes.long", Value: "70"}}}
	if _, code := ask[State](s, "change", args); code != http.StatusOK {
		t.Error(code)
	}
	w.until("a change", stateWith("long: 70"))
	if s.file("toy.yaml") != "" || !strings.Contains(s.file("other-toy.yaml"), "70") {
		t.Error("the files do not have it")
	}
}

// Many windows that change one toy at once: what each was told was done is in the history, and
// all end with the same text as the file.
func TestManyAtOnce(t *testing.T) {
	s := serve(t)
	var all []*listener
	for range 3 {
		all = append(all, s.listen("toy.yaml"))
	}
	var mu sync.Mutex
	var group sync.WaitGroup
	made := 0
	for n := range 4 {
		group.Go(func() {
			for k := range 10 {
				st, _ := ask[Stepped](s, "undo", ToyArgs{"toy.yaml"})
				if k%2 == 0 {
					ask[Stepped](s, "redo", ToyArgs{"toy.yaml"})
				}
				if _, code := long(s, st.State.Hash, fmt.Sprint(50+n*10+k)); code == http.StatusOK {
					mu.Lock()
					made++
					mu.Unlock()
				}
			}
		})
	}
	group.Wait()
	if made == 0 {
		t.Error("no change was made")
	}
	last, _ := long(s, "", "60")
	if last.Hash == "" { // refused, as it has no base: it says what is now
		now, _ := ask[Stepped](s, "redo", ToyArgs{"toy.yaml"})
		last = now.State
	}
	last, code := long(s, last.Hash, "99")
	if code != http.StatusOK {
		t.Fatal(code)
	}
	for _, w := range all {
		w.until("the last change", func(e Event) bool { return e.State != nil && e.State.Hash == last.Hash })
	}
	if s.file("toy.yaml") != last.Text {
		t.Error("the file is another")
	}
}

// A window that reads nothing stops nobody, and what waits for it stays little.
func TestWindowThatReadsNothing(t *testing.T) {
	s := serve(t)
	c, err := net.Dial("tcp", s.addr)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	body := jsonOf(StreamArgs{File: "toy.yaml"})
	fmt.Fprintf(c, "POST /stream HTTP/1.1\r\nHost: %s\r\n%s: %s\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", s.addr, TokenHeader, s.Token, len(body), body)
	w := s.listen("toy.yaml")
	st := w.until("a state", stateWith("long: 60")).State
	text := aToy + "# " + strings.Repeat("long ", 100_000) + "\n"
	args := ChangeArgs{File: "toy.yaml", Base: st.Hash, Text: &text}
	now, code := ask[State](s, "change", args)
	if code != http.StatusOK {
		t.Fatal(code)
	}
	for k := range 40 { // 20 MB of states, more than the system takes for one who does not read
		if now, code = long(s, now.Hash, fmt.Sprint(61+k)); code != http.StatusOK {
			t.Fatal(code)
		}
	}
	w.until("the last", stateWith("long: 100"))

	deaf := &window{wake: make(chan struct{}, 1)}
	for k := range 1000 {
		h := fmt.Sprint(k)
		deaf.send(Event{State: &State{Hash: h}}, Event{Toy: &page.Toy{Hash: h}}, Event{Findings: &page.Findings{Hash: h}}, Event{Scene: &page.Scene{Hash: h}}, Event{Apart: &Apart{Hash: h}}, Event{Shelf: &Shelf{}})
	}
	if n := len(deaf.queue); n > 6 {
		t.Errorf("%d events wait", n)
	}
	for _, e := range deaf.queue {
		if e.Findings != nil && e.Findings.Hash != "999" || e.State != nil && e.State.Hash != "999" {
			t.Errorf("of an earlier text there waits %+v", e)
		}
	}
}

// Windows that leave leave nothing behind, and toys that no window has open are let go.
func TestLeaving(t *testing.T) {
	s := serve(t, func(s *Server) { s.keep = 400 * time.Millisecond })
	ask[None](s, "there", None{})
	http.DefaultClient.CloseIdleConnections()
	time.Sleep(200 * time.Millisecond)
	before := runtime.NumGoroutine()
	for range 20 {
		w := s.listen("toy.yaml")
		w.until("a state", stateWith("long: 60"))
		w.stop()
	}
	count := func() (windows, lives int) {
		s.mu.Lock()
		defer s.mu.Unlock()
		return len(s.windows), len(s.live)
	}
	eventually(t, "the windows to be gone", func() bool { w, _ := count(); return w == 0 })
	eventually(t, "the toy to be let go", func() bool { _, l := count(); return l == 0 })
	eventually(t, "the goroutines to end", func() bool {
		http.DefaultClient.CloseIdleConnections()
		return runtime.NumGoroutine() <= before
	})
	// One that is open stays, and one that was let go comes back with its history.
	w := s.listen("toy.yaml")
	st := w.until("a state", stateWith("long: 60")).State
	if _, code := long(s, st.Hash, "70"); code != http.StatusOK {
		t.Fatal(code)
	}
	time.Sleep(900 * time.Millisecond)
	if _, l := count(); l != 1 {
		t.Error("an open toy is let go")
	}
	w.stop()
	eventually(t, "the toy to be let go", func() bool { _, l := count(); return l == 0 })
	if st, _ := ask[Stepped](s, "undo", ToyArgs{"toy.yaml"}); !strings.Contains(st.State.Text, "long: 60") {
		t.Errorf("undone: %s", st.State.Text)
	}
}

// The stream ends with the program.
func TestStreamEndsWithTheProgram(t *testing.T) {
	var w *listener
	t.Run("open", func(t *testing.T) {
		s := serve(t)
		w = s.listen("toy.yaml")
		w.until("a state", stateWith("long: 60"))
		w.stop = func() {}
	})
	for range w.seen {
	}
}

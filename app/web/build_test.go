package web

import (
	"encoding/json"
	"io"
	"log"
	"os"
	"strings"
	"testing"

	"dryfit/app/desk"
	"dryfit/toy/file/tree"
)

// hitchOpen is a program on a folder with one toy, hitch.yaml, which is open.
func hitchOpen(t *testing.T) (*Server, *live) {
	t.Helper()
	text, err := os.ReadFile("../../examples/plain/hitch.yaml")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.WriteFile(dir+"/hitch.yaml", text, 0o644); err != nil {
		t.Fatal(err)
	}
	disk, err := desk.Folder(dir)
	if err != nil {
		t.Fatal(err)
	}
	s := New(disk, "toys", nil)
	l, err := s.open("hitch.yaml")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		if l.cancel != nil {
			l.cancel()
		}
	})
	return s, l
}

func askFor(t *testing.T, s *Server, name string, args any) State {
	t.Helper()
	body, err := json.Marshal(args)
	if err != nil {
		t.Fatal(err)
	}
	out, err := s.calls[name].run(t.Context(), s, body)
	if err != nil {
		t.Fatal(err)
	}
	if s, ok := out.(Stepped); ok {
		return s.State
	}
	return out.(State)
}

// A piece that is dragged has the line of sits moved that it hangs on; the build follows the text,
// also where the toy does not stand any more.
func TestShiftOfSits(t *testing.T) {
	s, l := hitchOpen(t)
	sit := l.builds.Lists[0].Steps[1].Sits[1]
	st := askFor(t, s, "shift", ShiftArgs{File: "hitch.yaml", Base: l.state.Hash, Shifts: []Shift{{sit.Path, 3.175}, {"build[4].sits.bottom", -3.175}}, Intent: "drag"})
	for _, want := range []string{"front: tractor.front, middle", "bottom: tractor.bottom + 1/8}"} {
		if !strings.Contains(st.Text, want) {
			t.Errorf("no %q in\n%s", want, st.Text)
		}
	}
	st = askFor(t, s, "shift", ShiftArgs{File: "hitch.yaml", Base: st.Hash, Shifts: []Shift{{"build[1].sits.bottom", 1}}, Intent: "lift"})
	if len(st.Problems) != 1 || l.builds.Hash != st.Hash || l.builds.Lists[0].Steps[1].Sits[0].Off == "" {
		t.Errorf("%v, %+v", st.Problems, l.builds.Lists[0].Steps[1])
	}
}

func TestGlueCall(t *testing.T) {
	s, l := hitchOpen(t)
	before := l.state
	st := askFor(t, s, "glue", GlueArgs{"hitch.yaml", before.Hash, 0, 1, "engine"})
	if len(st.Problems) > 0 || !strings.Contains(st.Text, "- put: engine") || st.Undo != "glue engine" {
		t.Errorf("%v\n%s", st.Problems, st.Text)
	}
	if st = askFor(t, s, "undo", ToyArgs{"hitch.yaml"}); st.Text != before.Text {
		t.Error("one undo does not bring it back")
	}
	body, _ := json.Marshal(GlueArgs{"hitch.yaml", st.Hash, 0, 2, "x"})
	if _, err := s.calls["glue"].run(t.Context(), s, body); err == nil || !strings.Contains(err.Error(), "only parts") {
		t.Errorf("%v", err)
	}
}

// A slip in a field breaks nothing: it is refused in words, and the file stays as it is. A piece may be
// lifted off what it is glued to while it is placed, but nothing that cannot be read is written even there.
func TestUnsoundEditsAreRefused(t *testing.T) {
	s, l := hitchOpen(t)
	was := l.toy.State().Text
	hole := l.view.Parts[0].Work[0].Holes[0]
	for _, c := range []struct {
		edit tree.Edit
		says string
	}{
		{tree.Edit{Op: "set", Path: "sizes.tongue", Value: "tongue"}, "tongue"},
		{tree.Edit{Op: "set", Path: "sizes.tongue", Value: ""}, "length"},
		{tree.Edit{Op: "set", Path: "sizes.tongue", Value: "0"}, ""},
		{tree.Edit{Op: "remove", Path: hole.Path}, hole.Name},
		{tree.Edit{Op: "set", Path: "build[1].sits.bottom", Value: "tractor.nowhere"}, "nowhere"},
	} {
		body, err := json.Marshal(ChangeArgs{File: "hitch.yaml", Base: l.toy.State().Hash, Edits: []tree.Edit{c.edit}})
		if err != nil {
			t.Fatal(err)
		}
		_, err = s.calls["change"].run(t.Context(), s, body)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v", c.edit, err)
		}
		if l.toy.State().Text != was || len(l.state.Problems) > 0 {
			t.Fatalf("%+v was written", c.edit)
		}
	}
	// What is broken already may be edited, by text and by fields.
	broken := strings.Replace(was, "tongue: 1/4}", "tongue: x}", 1)
	st := askFor(t, s, "change", ChangeArgs{File: "hitch.yaml", Base: l.toy.State().Hash, Text: &broken})
	if len(st.Problems) == 0 {
		t.Fatal("the text can still be read")
	}
	st = askFor(t, s, "change", ChangeArgs{File: "hitch.yaml", Base: st.Hash, Edits: []tree.Edit{{Op: "set", Path: "sizes.tongue", Value: "still wrong"}}})
	if !strings.Contains(st.Text, "still wrong") {
		t.Error("a field of a broken file cannot be edited")
	}
}

// Where dryfit itself fails the findings say that nothing can be told, in every unit, and the program goes on.
func TestOwnMistake(t *testing.T) {
	_, l := hitchOpen(t)
	log.SetOutput(io.Discard)
	defer log.SetOutput(os.Stderr)
	l.mu.Lock()
	l.begin("mm", func() {}, func() {})
	ctx := l.ctx
	l.mu.Unlock()
	l.mistaken(ctx, "a test")
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, units := range []string{"", "mm"} {
		if f := l.findings[units]; !f.Done || f.Verdict != "cannot tell" || f.Findings[len(f.Findings)-1].Says != ownMistake.Says {
			t.Errorf("in %q: %+v", units, f)
		}
	}
}

package desk

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

const quay = `toy: Quay
sizes:
  long: 3
  high: 2
parts:
  side:
    work:
      - drill: {dia: 1, at: [1, 1]}
      - drill: {dia: 1, at: [2, 1]}
`

func onQuay(t *testing.T) (*fake, *Toy) {
	disk := newFake()
	disk.put("toy.yaml", quay)
	return disk, open(t, disk.on(), "toy.yaml")
}

func set(path, value string) []tree.Edit { return []tree.Edit{{Op: "set", Path: path, Value: value}} }

// What was written to the journal and not to the file is made up for.
func TestFileBehindJournal(t *testing.T) {
	disk, toy := onQuay(t)
	write(t, toy, "toy: one\n", "")
	before := disk.copied()
	write(t, toy, "toy: two\n", "")
	crashed := disk.copied()
	crashed.files["toy.yaml"], crashed.when["toy.yaml"] = before.files["toy.yaml"], before.when["toy.yaml"]
	again := open(t, crashed.on(), "toy.yaml")
	wantText(t, "after the crash", again.State(), "toy: two\n")
	crashed.want(t, "after the crash", "toy.yaml", "toy: two\n")
	st, _ := again.Undo()
	wantText(t, "undone", st, "toy: one\n")
}

// Somebody who puts an earlier version of the file back while dryfit is not running means it.
func TestEarlierVersionPutBack(t *testing.T) {
	disk, toy := onQuay(t)
	write(t, toy, "toy: one\n", "")
	disk.put("toy.yaml", quay)
	again := open(t, disk.on(), "toy.yaml")
	wantText(t, "put back", again.State(), quay)
	disk.want(t, "put back", "toy.yaml", quay)
	st, _ := again.Undo()
	wantText(t, "undone", st, "toy: one\n")
}

// What another program writes is there at once and can be undone; what it wrote half-way cannot
// be come back to.
func TestChangedOutside(t *testing.T) {
	disk, toy := onQuay(t)
	write(t, toy, "toy: mine\n", "")
	disk.pass(time.Minute)
	disk.put("toy.yaml", "")
	wantText(t, "half-way", toy.Look(), "")
	disk.put("toy.yaml", "toy: theirs\n")
	st := toy.Look()
	wantText(t, "whole", st, "toy: theirs\n")
	if st.Undo != ByOther || st.Unsaved != "" || st.Other != nil {
		t.Errorf("state %+v", st)
	}
	st, _ = toy.Undo()
	wantText(t, "undone", st, "toy: mine\n")
	disk.want(t, "undone", "toy.yaml", "toy: mine\n")
}

// A change of the same size within the same tick of the clock is seen.
func TestChangedOutsideWithinATick(t *testing.T) {
	disk, toy := onQuay(t)
	write(t, toy, "toy: A\n", "")
	toy.Look()
	disk.files["toy.yaml"] = []byte("toy: B\n")
	wantText(t, "same stamp", toy.Look(), "toy: B\n")
}

// While something of ours could not be saved, what another program wrote is not written over,
// and each choice keeps both: one as the text, the other an undo or a file away.
func TestConflictLosesNeither(t *testing.T) {
	for _, c := range []struct {
		choice     Choice
		text, undo string
		copied     bool
	}{
		{Here, "toy: mine\n", "toy: theirs\n", false},
		{There, "toy: theirs\n", "toy: mine\n", false},
		{Apart, "toy: theirs\n", "toy: mine\n", true},
	} {
		disk, toy := onQuay(t)
		disk.fails = noRoom
		if st := write(t, toy, "toy: mine\n", ""); st.Unsaved == "" || st.Forgets == "" {
			t.Fatalf("a failed saving is not said: %+v", st)
		}
		disk.fails = nil
		disk.put("toy.yaml", "toy: theirs\n")
		st := toy.Look()
		if st.Other == nil || *st.Other != "toy: theirs\n" {
			t.Fatalf("%s: no conflict: %+v", c.choice, st)
		}
		wantText(t, "before the choice", st, "toy: mine\n")
		disk.want(t, "before the choice", "toy.yaml", "toy: theirs\n")
		text := "toy: more\n"
		if _, err := toy.Change(Wish{Base: st.Hash, Text: &text}); !errors.Is(err, ErrConflict) {
			t.Errorf("a change before the choice: %v", err)
		}
		if _, ok := toy.Undo(); ok {
			t.Error("an undo before the choice")
		}
		if _, err := toy.Choose("mine"); err == nil {
			t.Error("a choice that is none")
		}
		st, err := toy.Choose(c.choice)
		if err != nil {
			t.Fatal(err)
		}
		wantText(t, string(c.choice), st, c.text)
		if st.Other != nil || st.Unsaved != "" || st.Forgets != "" {
			t.Errorf("%s: after the choice %+v", c.choice, st)
		}
		disk.want(t, string(c.choice), "toy.yaml", c.text)
		if _, is := disk.files["toy-mine.yaml"]; is != c.copied {
			t.Errorf("%s: a copy of mine: %v", c.choice, is)
		}
		st, _ = open(t, disk.on(), "toy.yaml").Undo()
		wantText(t, string(c.choice)+", undone after a restart", st, c.undo)
	}
}

// A conflict is over by itself if the other program takes its change back, and whichever is
// chosen the choice is of what the file has then.
func TestConflictThatMovesOn(t *testing.T) {
	conflict := func() (*fake, *Toy) {
		disk, toy := onQuay(t)
		disk.fails = noRoom
		write(t, toy, "toy: mine\n", "")
		disk.put("toy.yaml", "toy: theirs\n")
		toy.Look()
		return disk, toy
	}
	disk, toy := conflict()
	disk.fails = nil
	disk.put("toy.yaml", quay)
	st := toy.Look()
	if wantText(t, "taken back", st, "toy: mine\n"); st.Other != nil || st.Unsaved != "" {
		t.Errorf("taken back: %+v", st)
	}
	disk.want(t, "taken back", "toy.yaml", "toy: mine\n")

	disk, toy = conflict()
	disk.fails = nil
	disk.put("toy.yaml", "toy: theirs again\n")
	st, _ = toy.Choose(There)
	wantText(t, "went on", st, "toy: theirs again\n")

	disk, toy = conflict()
	disk.put("toy-mine.yaml", "another's")
	if _, err := toy.Choose(Apart); err == nil {
		t.Error("both, with no room for a second file")
	}
	if disk.fails = nil; toy.State().Other == nil {
		t.Error("a choice that failed ended the conflict")
	}
	toy.Choose(Apart)
	disk.want(t, "both", "toy-mine.yaml", "another's")
	disk.want(t, "both", "toy-mine-2.yaml", "toy: mine\n")
}

// A full disk is said, loses nothing, and all is saved as soon as there is room.
func TestFullDisk(t *testing.T) {
	for _, room := range []int{0, 100, 200, 300, 350, 400, 500, 700} {
		disk, toy := onQuay(t)
		disk.room = disk.used() + room
		want := ""
		for i := range 8 {
			want = fmt.Sprintf("toy: Quay %d %s\n", i, strings.Repeat("n", 60))
			write(t, toy, want, "")
		}
		st := toy.Look()
		if wantText(t, "on a full disk", st, want); st.Unsaved == "" && string(disk.files["toy.yaml"]) != want {
			t.Errorf("room %d: that it is not saved is not said", room)
		}
		if got := string(disk.files["toy.yaml"]); got != quay && !strings.HasSuffix(got, "n\n") {
			t.Errorf("room %d: the file is %q", room, got)
		}
		if st.Unsaved != "" && st.Unsaved != "no space left on device" {
			t.Errorf("it is said as %q", st.Unsaved)
		}
		disk.room = -1
		if st = toy.Look(); st.Unsaved != "" || st.Forgets != "" {
			t.Errorf("room %d: with room again: %+v", room, st)
		}
		disk.want(t, "with room again", "toy.yaml", want)
		again := open(t, disk.on(), "toy.yaml")
		for range 8 {
			again.Undo()
		}
		wantText(t, fmt.Sprintf("room %d: all undone after a restart", room), again.State(), quay)
	}
}

// A journal that broke off half-way for want of room goes on whole with the next change.
func TestJournalGoesOnWhole(t *testing.T) {
	disk, toy := onQuay(t)
	write(t, toy, "toy: one\n", "")
	disk.room = disk.used() + 20
	write(t, toy, "toy: two\n", "")
	disk.room = -1
	write(t, toy, "toy: three\n", "")
	again := open(t, disk.on(), "toy.yaml")
	for _, want := range []string{"toy: two\n", "toy: one\n", quay} {
		st, _ := again.Undo()
		wantText(t, "undone after a restart", st, want)
	}
}

// A file that cannot be read is not written over.
func TestUnreadIsNotWrittenOver(t *testing.T) {
	disk, toy := onQuay(t)
	disk.pass(time.Minute)
	toy.Look()
	disk.put("toy.yaml", "toy: theirs\n")
	disk.blind = ErrTooLong
	if st := write(t, toy, "toy: mine\n", ""); st.Unsaved == "" {
		t.Error("it is not said")
	}
	disk.want(t, "unread", "toy.yaml", "toy: theirs\n")
	disk.blind = nil
	if st := toy.Look(); st.Other == nil {
		t.Errorf("read again: %+v", st)
	}
}

// Undoing what could not be saved leaves nothing unsaved.
func TestUnsavedUndone(t *testing.T) {
	disk, toy := onQuay(t)
	disk.fails = noRoom
	write(t, toy, "toy: mine\n", "")
	if st, _ := toy.Undo(); st.Unsaved != "" {
		t.Errorf("undone: %+v", st)
	}
}

// A file taken away is said to be gone, and the next change writes it anew.
func TestGone(t *testing.T) {
	disk, toy := onQuay(t)
	disk.Remove("toy.yaml")
	if st := toy.Look(); !st.Gone || st.Text != quay {
		t.Errorf("taken away: %+v", st)
	}
	if st := write(t, toy, "toy: again\n", ""); st.Gone {
		t.Error("still gone after a change")
	}
	disk.want(t, "a change", "toy.yaml", "toy: again\n")
}

// Two windows: what one changes elsewhere in the file does not keep the other from changing
// what it saw; the same place is refused, with what it is now.
func TestTwoWindows(t *testing.T) {
	for _, c := range []struct {
		name        string
		first       []tree.Edit
		second      []tree.Edit
		merges      bool
		both, other string // in the text afterwards
	}{
		{"two sizes", set("sizes.long", "4"), set("sizes.high", "5"), true, "long: 4", "high: 5"},
		{"one size", set("sizes.long", "4"), set("sizes.long", "5"), false, "long: 4", ""},
		{"a size and a hole", set("sizes.long", "4"), set("parts.side.work[1].drill.dia", "2"), true, "long: 4", "dia: 2"},
		{"two holes", set("parts.side.work[0].drill.dia", "3"), set("parts.side.work[1].drill.dia", "2"), true, "dia: 3", "dia: 2"},
		{"one hole", set("parts.side.work[1].drill.at", "[3, 1]"), set("parts.side.work[1].drill.dia", "2"), false, "[3, 1]", ""},
		{"a hole that moved on", []tree.Edit{{Op: "remove", Path: "parts.side.work[0]"}}, set("parts.side.work[1].drill.dia", "2"), false, "", ""},
		{"holes that changed places", []tree.Edit{{Op: "move", Path: "parts.side.work[0]", To: "parts.side.work[1]"}}, set("parts.side.work[1].drill.dia", "2"), false, "", ""},
		{"a part that is gone", []tree.Edit{{Op: "remove", Path: "parts.side"}}, set("parts.side.work[1].drill.dia", "2"), false, "", ""},
		{"two new sizes", []tree.Edit{{Op: "insert", Path: "sizes.wide", Value: "1"}}, []tree.Edit{{Op: "insert", Path: "sizes.deep", Value: "2"}}, true, "wide: 1", "deep: 2"},
		{"one new size", []tree.Edit{{Op: "insert", Path: "sizes.wide", Value: "1"}}, []tree.Edit{{Op: "insert", Path: "sizes.wide", Value: "2"}}, false, "wide: 1", ""},
	} {
		_, toy := onQuay(t)
		base := toy.State().Hash
		if _, err := toy.Change(Wish{Base: base, Edits: c.first}); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		st, err := toy.Change(Wish{Base: base, Edits: c.second})
		if stale := errors.As(err, &Stale{}); stale == c.merges || c.merges && err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
		if !strings.Contains(st.Text, c.both) || !strings.Contains(st.Text, c.other) {
			t.Errorf("%s: the text is\n%s", c.name, st.Text)
		}
		text := "toy: whole\n"
		if _, err := toy.Change(Wish{Base: base, Text: &text}); !errors.As(err, &Stale{}) {
			t.Errorf("%s: a whole text for another: %v", c.name, err)
		}
	}
}

// What is sent twice, as by Enter and then leaving the field, is made once and is no mistake, also
// where what was typed is worded anew for the file.
func TestSentTwice(t *testing.T) {
	text := "toy: whole\n"
	worded := func(f *source.File, e tree.Edit) (string, error) {
		e.Value += " mm"
		out, _, err := tree.Apply(f, e)
		return out, err
	}
	for what, w := range map[string]Wish{
		"an edit":        {Edits: set("sizes.long", "5")},
		"a worded edit":  {Edits: set("sizes.long", "5"), Apply: worded},
		"two edits":      {Edits: append(set("sizes.long", "5"), set("sizes.high", "6")...)},
		"a whole text":   {Text: &text},
		"a word already": {Edits: set("sizes.long", "3")},
	} {
		_, toy := onQuay(t)
		w.Base = toy.State().Hash
		first, err := toy.Change(w)
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		if again, err := toy.Change(w); err != nil || !again.Same(first) || len(toy.h.past) > 1 {
			t.Errorf("%s: %v, %d changes\n%s", what, err, len(toy.h.past), again.Text)
		}
	}
	// What would be so twice is not made twice.
	_, toy := onQuay(t)
	w := Wish{Base: toy.State().Hash, Edits: []tree.Edit{{Op: "insert", Path: "parts.side.work[0]", Value: "{drill: {dia: 2, at: [1, 1]}}"}}}
	if _, err := toy.Change(w); err != nil {
		t.Fatal(err)
	}
	if st, err := toy.Change(w); !errors.As(err, &Stale{}) {
		t.Errorf("put in twice: %v\n%s", err, st.Text)
	}
}

// The texts of files with other ends of lines and a mark at the front stay as they are but for
// what is changed.
func TestOtherEndsOfLines(t *testing.T) {
	disk := newFake()
	text := "\ufeff" + strings.ReplaceAll(quay, "\n", "\r\n")
	disk.put("toy.yaml", text)
	toy := open(t, disk.on(), "toy.yaml")
	st, err := toy.Change(Wish{Base: toy.State().Hash, Edits: set("sizes.long", "4")})
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Replace(text, "long: 3", "long: 4", 1)
	wantText(t, "a size", st, want)
	disk.want(t, "a size", "toy.yaml", want)
	st, _ = open(t, disk.on(), "toy.yaml").Undo()
	wantText(t, "undone after a restart", st, text)
}

func TestNames(t *testing.T) {
	for _, name := range []string{"", ".", "..", ".toy.yaml", "a/b.yaml", `a\b.yaml`, "../toy.yaml", "/toy.yaml", "C:toy.yaml", "toy\x00.yaml", "toy\n.yaml", "toy.txt", "toy.yaml/", strings.Repeat("t", 200) + ".yaml"} {
		if Fit(name) == nil {
			t.Errorf("%q is taken for the name of a toy's file", name)
		}
		disk, _ := onQuay(t)
		d := disk.on()
		if _, err := d.Open(name); err == nil {
			t.Errorf("%q can be opened", name)
		}
		if _, err := d.Create(name, ""); err == nil {
			t.Errorf("%q can be made", name)
		}
		if err := d.Rename("toy.yaml", name); err == nil {
			t.Errorf("a toy can be renamed to %q", name)
		}
	}
	for _, name := range []string{"toy.yaml", "toy.yml", "spår vagn 2.yaml"} {
		if err := Fit(name); err != nil {
			t.Error(err)
		}
	}
}

// The history goes with a toy to its new name, and what another file of that name had is not its.
func TestRename(t *testing.T) {
	disk, toy := onQuay(t)
	disk.put("other.yaml", "toy: other\n")
	d := toy.desk
	other := open(t, d, "other.yaml")
	write(t, other, "toy: other 2\n", "")
	write(t, toy, "toy: one\n", "")
	if err := d.Rename("toy.yaml", "other.yaml"); err == nil {
		t.Error("the name of another toy is taken")
	}
	again := disk.on() // other.yaml is taken away, its journal is left
	disk.Remove("other.yaml")
	toy = open(t, again, "toy.yaml")
	if err := again.Rename("toy.yaml", "other.yaml"); err != nil {
		t.Fatal(err)
	}
	write(t, toy, "toy: two\n", "")
	disk.want(t, "renamed", "other.yaml", "toy: two\n")
	if toy.State().File != "other.yaml" || open(t, again, "other.yaml") != toy {
		t.Error("it is not that of its new name")
	}
	restarted := open(t, disk.on(), "other.yaml")
	restarted.Undo()
	st, _ := restarted.Undo()
	wantText(t, "all undone after a restart", st, quay)
}

// The history that a file of the new name once had does not become that of a toy that nobody
// had open when it was renamed.
func TestRenameUnopened(t *testing.T) {
	disk, toy := onQuay(t)
	write(t, toy, "toy: one\n", "")
	disk.Remove("toy.yaml")
	disk.put("new.yaml", "toy: new\n")
	d := disk.on()
	if err := d.Rename("new.yaml", "toy.yaml"); err != nil {
		t.Fatal(err)
	}
	if st := open(t, d, "toy.yaml").State(); st.Text != "toy: new\n" || st.Undo != "" {
		t.Errorf("it has the history of another: %+v", st)
	}
}

// A new toy begins with no history, even where one of its name was.
func TestCreate(t *testing.T) {
	disk, toy := onQuay(t)
	d := toy.desk
	write(t, toy, "toy: one\n", "")
	if _, err := d.Create("toy.yaml", "toy: new\n"); err == nil {
		t.Error("a toy is written over")
	}
	disk.Remove("toy.yaml")
	if !d.Close("toy.yaml") {
		t.Fatal("the toy is not let go of")
	}
	made, err := d.Create("toy.yaml", "toy: new\n")
	if err != nil {
		t.Fatal(err)
	}
	if st := made.State(); st.Undo != "" || st.Gone {
		t.Errorf("new: %+v", st)
	}
	write(t, made, "toy: newer\n", "")
	st, _ := open(t, disk.on(), "toy.yaml").Undo()
	wantText(t, "undone after a restart", st, "toy: new\n")
	disk.fails = noRoom
	if _, err := d.Create("next.yaml", ""); err == nil {
		t.Error("a toy that could not be written is there")
	}
}

// Which toys would lose something if the program ended now.
func TestUnsaved(t *testing.T) {
	disk, toy := onQuay(t)
	if list := toy.desk.Unsaved(); len(list) != 0 {
		t.Error(list)
	}
	disk.fails = noRoom
	write(t, toy, "toy: mine\n", "")
	if list := toy.desk.Unsaved(); len(list) != 1 {
		t.Error(list)
	}
}

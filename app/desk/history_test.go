package desk

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// Any sequence of changes, amendments, undoing and doing again gives back the texts to the byte,
// at once and out of the journal after a restart. The model is the plain list of texts.
func TestHistoryGivesBackEveryText(t *testing.T) {
	pieces := []string{"toy: Quay\n", "é", "😀", "\r\n", "\ufeff", "\xff\xfe", "\x00", "\u2028", "<&>", "", "a long stretch of a text that stays", "\xe2\x82"}
	for seed := range uint64(60) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		disk := newFake()
		disk.put("toy.yaml", "toy: Quay\n")
		desk := disk.on()
		toy := open(t, desk, "toy.yaml")
		texts, at, group := []string{"toy: Quay\n"}, 0, ""
		amendable := false
		for step := range 80 {
			what := fmt.Sprintf("seed %d step %d", seed, step)
			switch k := rnd.IntN(10); {
			case k < 5: // a change, of any place
				old := texts[at]
				from := rnd.IntN(len(old) + 1)
				to := min(len(old), from+rnd.IntN(6))
				text := old[:from] + pieces[rnd.IntN(len(pieces))] + old[to:]
				g := []string{"", "", "drag a", "drag b"}[rnd.IntN(4)]
				if text == old {
					continue
				}
				write(t, toy, text, g)
				switch more := amendable && g != "" && g == group && at == len(texts)-1; {
				case more && text == texts[at-1]: // back where it began: as if never done
					texts, at = texts[:at], at-1
					amendable = false // what was before may be of the group too
					group = ""
					if at > 0 {
						group, amendable = toy.h.last().Group, true
					}
				case more:
					texts[at] = text
				default:
					texts, at = append(texts[:at+1:at+1], text), at+1
					group, amendable = g, true
				}
			case k < 7:
				_, ok := toy.Undo()
				if ok != (at > 0) {
					t.Fatalf("%s: undo tells %v at %d", what, ok, at)
				}
				if ok {
					at--
				}
			case k < 8:
				_, ok := toy.Redo()
				if ok != (at < len(texts)-1) {
					t.Fatalf("%s: redo tells %v", what, ok)
				}
				if ok {
					at++
				}
				amendable, group = at > 0, ""
				if at > 0 {
					group = toy.h.last().Group
				}
			case k < 9: // a restart
				desk = disk.on()
				toy = open(t, desk, "toy.yaml")
			default:
				disk.pass(time.Minute)
				toy.Look()
			}
			wantText(t, what, toy.State(), texts[at])
			disk.want(t, what, "toy.yaml", texts[at])
		}
		for range at {
			toy.Undo()
		}
		wantText(t, "all undone", toy.State(), texts[0])
		for range len(texts) - 1 {
			toy.Redo()
		}
		wantText(t, "all done again", toy.State(), texts[len(texts)-1])
	}
}

// A change between two texts makes one of the other and back, whatever they are.
func TestBetween(t *testing.T) {
	texts := []string{"", "a", "aa", "aaa", "é", "è", "éé", "😀", "😁", "a😀b", "\xff", "\xff\xff", "\xe2\x82", "\xe2\x82\xac", "a\xe2b", "\n\n", "\n"}
	for _, a := range texts {
		for _, b := range texts {
			c := between(a, b)
			if got, ok := c.do(a); !ok || got != b {
				t.Errorf("%q to %q: %+v makes %q", a, b, c, got)
			}
			if got, ok := c.undo(b); !ok || got != a {
				t.Errorf("%q from %q: %+v makes %q", a, b, c, got)
			}
		}
	}
}

// More of a group is one change to undo; but not after that was undone, nor with others between.
func TestGroups(t *testing.T) {
	disk := newFake()
	disk.put("toy.yaml", "0")
	toy := open(t, disk.on(), "toy.yaml")
	for _, text := range []string{"1", "2", "3"} {
		write(t, toy, text, "drag")
	}
	st, _ := toy.Undo()
	wantText(t, "a drag undone", st, "0")
	write(t, toy, "4", "drag")
	st, _ = toy.Undo()
	wantText(t, "a drag after that", st, "0")
	st, _ = toy.Redo()
	wantText(t, "done again", st, "4")
	write(t, toy, "5", "other")
	toy.Undo()
	write(t, toy, "6", "drag") // there is something to be done again: that is no more of the drag
	st, _ = toy.Undo()
	wantText(t, "a drag with another undone", st, "4")

	write(t, toy, "7", "pull")
	st = write(t, toy, "4", "pull")
	if wantText(t, "pulled back", st, "4"); st.Redo != "" {
		t.Errorf("a drag back to where it began: redo would be %q", st.Redo)
	}
	st, _ = toy.Undo()
	wantText(t, "what was done before such a drag undone", st, "0")
}

// A journal that breaks off anywhere gives back all steps but the last that were whole.
func TestJournalCutAnywhere(t *testing.T) {
	disk := newFake()
	disk.put("toy.yaml", "toy: Quay\n")
	toy := open(t, disk.on(), "toy.yaml")
	for i := range 6 {
		write(t, toy, fmt.Sprintf("toy: Quay %d é\n", i), "")
	}
	toy.Undo()
	toy.Redo()
	write(t, toy, "toy: Kay\n", "g")
	write(t, toy, "toy: Kay é\n", "g")
	journal := disk.files[journalOf("toy.yaml")]
	lines := bytes.SplitAfter(journal, []byte("\n"))
	var after []string // the text after so many whole lines
	for n := range lines {
		h, _, _, _ := replay(bytes.Join(lines[:n], nil))
		after = append(after, h.text)
	}
	for cut := range len(journal) + 1 {
		whole := bytes.Count(journal[:cut], []byte("\n"))
		crashed := disk.copied()
		crashed.files[journalOf("toy.yaml")] = bytes.Clone(journal[:cut])
		got := open(t, crashed.on(), "toy.yaml")
		wantText(t, fmt.Sprint("cut at ", cut), got.State(), "toy: Kay é\n") // the file has it
		if whole > 0 && after[whole] != got.State().Text {
			st, ok := got.Undo()
			if !ok {
				t.Fatalf("cut at %d: there is nothing to undo", cut)
			}
			wantText(t, fmt.Sprint("undone, cut at ", cut), st, after[whole])
		}
		// And it goes on in a journal that can be read to its end.
		write(t, got, "toy: on\n", "")
		again := open(t, crashed.on(), "toy.yaml")
		if st := again.State(); st.Text != "toy: on\n" || st.Undo != "write toy: on\n" {
			t.Fatalf("cut at %d: after another change and a restart it is %+v", cut, st)
		}
	}
}

// A journal does not grow without end: a long drag is one change, and the oldest of very many
// are forgotten.
func TestJournalIsTidied(t *testing.T) {
	disk := newFake()
	disk.put("toy.yaml", "x: 0\n")
	toy := open(t, disk.on(), "toy.yaml")
	note := strings.Repeat("n", 1000)
	for i := range 3000 {
		write(t, toy, fmt.Sprintf("x: %d %s\n", i, note), "drag")
	}
	if n := len(disk.files[journalOf("toy.yaml")]); n > 2*journalShort {
		t.Errorf("a drag of 3,000 steps left a journal of %d bytes", n)
	}
	st, _ := toy.Undo()
	wantText(t, "undone", st, "x: 0\n")

	h := history{text: ""}
	for i := range 40 {
		c := between(h.text, strings.Repeat(string(rune('a'+i%2)), 1<<20))
		h.take(line{Do: &c})
	}
	last, all := h.text, len(h.past)
	h.shorten()
	if h.lost == 0 || h.lost+len(h.past) != all {
		t.Errorf("of %d changes %d are kept and %d said to be lost", all, len(h.past), h.lost)
	}
	if again, _, _, _ := replay(h.bytes()); again.lost != h.lost {
		t.Errorf("%d are lost, after a restart %d", h.lost, again.lost)
	}
	if size := len(h.bytes()); size > 3*historyMost || h.text != last || h.done == 0 {
		t.Errorf("40 changes of 2 MB each leave %d bytes and %d changes", size, h.done)
	}
}

// Within a second or so of a change the journal is told to be on the disk.
func TestJournalIsSynced(t *testing.T) {
	disk := newFake()
	disk.put("toy.yaml", "0")
	toy := open(t, disk.on(), "toy.yaml")
	write(t, toy, "1", "")
	toy.Look()
	if disk.syncs != 1 {
		t.Errorf("the journal was synced %d times", disk.syncs)
	}
	if toy.Look(); disk.syncs != 1 {
		t.Error("it is synced again with nothing in it")
	}
}

// Journals say their version. Those of before that are read as they are; one of a later version is
// left as it is, and said: what is done meanwhile can be undone until the program ends.
func TestJournalVersion(t *testing.T) {
	disk, toy := onQuay(t)
	write(t, toy, "toy: one\n", "")
	name := journalOf("toy.yaml")
	journal := string(disk.files[name])
	says := fmt.Sprintf(`{"version":%d,`, journalVersion)
	if !strings.HasPrefix(journal, says) {
		t.Fatalf("it begins with %.40q", journal)
	}
	before := disk.copied()
	before.put(name, "{"+strings.TrimPrefix(journal, says))
	if st, ok := open(t, before.on(), "toy.yaml").Undo(); !ok || st.Text != quay {
		t.Errorf("one without a version: %v, %+v", ok, st)
	}

	later := fmt.Sprintf(`{"version":%d,"steps":"of another kind"}`+"\n", journalVersion+1)
	disk.put(name, later)
	toy = open(t, disk.on(), "toy.yaml")
	if st := toy.State(); st.Text != "toy: one\n" || st.Forgets != errNewer.Error() {
		t.Errorf("of a later version: %+v", st)
	}
	write(t, toy, "toy: two\n", "")
	toy.Look()
	disk.want(t, "after a change", name, later)
	disk.want(t, "after a change", "toy.yaml", "toy: two\n")
	st, _ := toy.Undo()
	wantText(t, "undone", st, "toy: one\n")
}

// A journal whose first line broke off does not keep the next ones from being read.
func TestJournalWithoutBeginning(t *testing.T) {
	disk := newFake()
	disk.put("toy.yaml", quay)
	disk.put(journalOf("toy.yaml"), `{"text":"to`)
	write(t, open(t, disk.on(), "toy.yaml"), "toy: one\n", "")
	st, ok := open(t, disk.on(), "toy.yaml").Undo()
	if !ok {
		t.Error("nothing can be undone after a restart")
	}
	wantText(t, "undone", st, quay)
}

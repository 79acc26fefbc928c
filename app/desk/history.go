package desk

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"dryfit/toy/file/tree"
)

// A Change replaces a stretch of a text by another.
type Change struct {
	Intent string    `json:"intent"`          // in words: "wheel 1 1/4", "changed by another program"
	Group  string    `json:"group,omitempty"` // changes of one group that follow each other are one
	When   time.Time `json:"when"`
	Start  int       `json:"start"`
	Old    exact     `json:"old"`
	New    exact     `json:"new"`
}

// exact is a text that the journal has to the byte. JSON cannot: what is no UTF-8 is written as
// an array of one text in base64.
type exact string

// MarshalJSON implements json.Marshaler.
func (e exact) MarshalJSON() ([]byte, error) {
	if utf8.ValidString(string(e)) {
		return json.Marshal(string(e))
	}
	return json.Marshal([1][]byte{[]byte(e)})
}

// UnmarshalJSON implements json.Unmarshaler.
func (e *exact) UnmarshalJSON(b []byte) error {
	var raw [1][]byte
	if len(b) > 0 && b[0] == '[' {
		err := json.Unmarshal(b, &raw)
		*e = exact(raw[0])
		return err
	}
	return json.Unmarshal(b, (*string)(e))
}

// between returns the shortest single change that makes one text of another, at the bounds of
// characters.
func between(old, new string) Change {
	n := min(len(old), len(new))
	start := 0
	for start < n && old[start] == new[start] {
		start++
	}
	for start > 0 && start < len(old) && !utf8.RuneStart(old[start]) || start > 0 && start < len(new) && !utf8.RuneStart(new[start]) {
		start--
	}
	end := 0
	for end < n-start && old[len(old)-1-end] == new[len(new)-1-end] {
		end++
	}
	for end > 0 && (!utf8.RuneStart(old[len(old)-end]) || !utf8.RuneStart(new[len(new)-end])) {
		end--
	}
	return Change{Start: start, Old: exact(old[start : len(old)-end]), New: exact(new[start : len(new)-end])}
}

func (c Change) do(text string) (string, bool) {
	return splice(text, c.Start, string(c.Old), string(c.New))
}
func (c Change) undo(text string) (string, bool) {
	return splice(text, c.Start, string(c.New), string(c.Old))
}

func (c Change) none() bool { return c.Old == "" && c.New == "" }

func splice(text string, at int, old, new string) (string, bool) {
	if at < 0 || at > len(text) || !strings.HasPrefix(text[at:], old) {
		return text, false
	}
	return text[:at] + new + text[at+len(old):], true
}

// history is a text with what was done to it and what of that is undone. Every step that is
// taken is a line of a journal, which is only ever added to; read again, it gives the history
// back, as far as its lines are whole.
type history struct {
	text string
	past []Change
	done int // past[:done] is in the text, the rest is undone
	lost int // how many changes before those were left out, see shorten
}

// journalVersion is that of the journals that are written. Those before it say none, and are read as
// it is.
const journalVersion = 1

// errNewer is returned for a journal of a later version: it is left as it is.
var errNewer = errors.New("a newer dryfit has kept what was done to it, which this one cannot read and does not touch")

// line is a line of the journal: a whole text, with the version of the journal and how many changes
// before it are lost, or a step. Hash is that of the text after it.
type line struct {
	Version int     `json:"version,omitempty"`
	Lost    int     `json:"lost,omitempty"`
	Text    *exact  `json:"text,omitempty"`
	Do      *Change `json:"do,omitempty"`
	Amend   *Change `json:"amend,omitempty"` // in place of the last one done; if it changes nothing, that is forgotten
	Step    int     `json:"step,omitempty"`  // -1: undo, 1: redo
	Hash    string  `json:"hash"`
}

// take takes a step and tells whether it could.
func (h *history) take(l line) bool {
	text, ok := h.text, true
	switch {
	case l.Text != nil:
		text = string(*l.Text)
	case l.Do != nil:
		text, ok = l.Do.do(text)
	case l.Amend != nil && h.done > 0:
		if text, ok = h.past[h.done-1].undo(text); ok {
			text, ok = l.Amend.do(text)
		}
	case l.Step == -1 && h.done > 0:
		text, ok = h.past[h.done-1].undo(text)
	case l.Step == 1 && h.done < len(h.past):
		text, ok = h.past[h.done].do(text)
	default:
		return false
	}
	if !ok || l.Hash != "" && l.Hash != tree.Hash(text) {
		return false
	}
	h.text = text
	switch {
	case l.Text != nil:
		h.past, h.done, h.lost = nil, 0, l.Lost
	case l.Do != nil:
		h.put(h.done, l.Do)
	case l.Amend != nil:
		h.put(h.done-1, l.Amend)
	default:
		h.done += l.Step
	}
	return true
}

// put makes a change, if it is one, the last one done, after k others; what was undone is forgotten.
func (h *history) put(k int, c *Change) {
	clear(h.past[k:]) // so that nothing is kept that cannot be come back to
	if h.past, h.done = h.past[:k], k; !c.none() {
		h.past, h.done = append(h.past, *c), k+1
	}
}

// last is the change that undoing takes back, nil if there is none.
func (h *history) last() *Change {
	if h.done == 0 {
		return nil
	}
	return &h.past[h.done-1]
}

// amended is the change that makes a text in place of the last one.
func (h *history) amended(text string) *Change {
	was, _ := h.last().undo(h.text)
	c := between(was, text)
	return &c
}

// historyMost is how many bytes of changes are kept: of the small ones that a page makes, tens of
// thousands.
const historyMost = 16 << 20

// shorten forgets the oldest changes beyond that.
func (h *history) shorten() {
	size, from := 0, len(h.past)
	for from > 0 && size <= historyMost {
		from--
		size += len(h.past[from].Old) + len(h.past[from].New) + len(h.past[from].Intent)
	}
	if from = min(from, h.done); size > historyMost {
		h.past, h.done, h.lost = slices.Clone(h.past[from:]), h.done-from, h.lost+from
	}
}

// bytes writes a history as a journal that gives it back.
func (h *history) bytes() []byte {
	text := h.text
	for k := h.done; k > 0; k-- {
		text, _ = h.past[k-1].undo(text)
	}
	first := exact(text)
	out := line{Version: journalVersion, Lost: h.lost, Text: &first}.bytes()
	for i := range h.past {
		out = append(out, line{Do: &h.past[i]}.bytes()...)
	}
	for k := len(h.past); k > h.done; k-- {
		out = append(out, line{Step: -1}.bytes()...)
	}
	return out
}

// before returns the text of some hash, if it is that of one of the last changes.
func (h *history) before(hash string) (string, bool) {
	text := h.text
	for k := h.done; ; k-- {
		if tree.Hash(text) == hash {
			return text, true
		}
		if k == 0 || h.done-k > backMost {
			return "", false
		}
		text, _ = h.past[k-1].undo(text)
	}
}

// backMost is how many changes a window may be behind another.
const backMost = 50

// replay reads a journal. It ends at the first line that is not whole or does not follow: that
// is where writing it broke off. rest tells whether there was such a line. The error is errNewer.
func replay(journal []byte) (h history, begun, rest bool, err error) {
	first, _, _ := bytes.Cut(journal, []byte("\n"))
	var is struct{ Version int }
	if json.Unmarshal(first, &is); is.Version > journalVersion {
		return h, false, false, errNewer
	}
	for len(journal) > 0 {
		b, after, whole := bytes.Cut(journal, []byte("\n"))
		var l line
		if !whole || json.Unmarshal(b, &l) != nil || !begun && l.Text == nil || !h.take(l) {
			return h, begun, true, nil
		}
		begun, journal = true, after
	}
	return h, begun, false, nil
}

func (l line) bytes() []byte {
	b, err := json.Marshal(l)
	if err != nil {
		panic("desk: bug: a line of the journal can be written: " + err.Error())
	}
	return append(b, '\n')
}

package tree

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"

	"dryfit/measure/source"
)

// Edit is one change of a text.
//
//	set      gives the value at Path another Value
//	insert   adds Value under a new key (a.b.key), last or before the sibling key
//	         To; or as an item of a list: in place [2], which moves on, or last [+]
//	remove   takes the key or item at Path away, with its lines and the comments on
//	         them
//	move     takes the item at Path (work[2]) to another place of its list, To
//	         (work[0], or just [0]); comment lines right above it go along
//	restore  puts the bytes Value in the place Bytes; only Apply makes these, to
//	         undo what it did
type Edit struct {
	Op    string `json:"op"`
	Path  string `json:"path,omitempty"`
	Value string `json:"value,omitempty"`
	To    string `json:"to,omitempty"`
	As    string `json:"as,omitempty"`    // what Value is: AsText, AsYAML, or "" to go by its looks
	Hash  string `json:"hash,omitempty"`  // of the text the edit is made for; "" if it may be any
	Bytes *Bytes `json:"bytes,omitempty"` // of restore
}

// Bytes is a stretch of a text, End excluded.
type Bytes struct{ Start, End int }

// What the Value of an Edit is. Left open, a Value is YAML if it reads as a map or
// a list (in the place of a single value: only one in brackets or over several
// lines) or is a text in quotes, and else a text, put in quotes where it needs them.
const (
	AsText = "text" // a text as people type it
	AsYAML = "yaml" // a value as it is written in the file
)

// ErrChanged is returned for an edit that was made for another text.
var ErrChanged = errors.New("the file is no longer the one that this change was made for")

// Hash returns the first 16 hexadecimal digits of the SHA-256 of a text.
func Hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:8])
}

// Apply makes an edit and returns the new text and the edit that undoes it to the
// byte. All bytes that the edit is not about stay as they are. The new text is read
// again and has to mean what the edit says and otherwise the same as before; if
// not, or if the edit makes no sense, an error says so in plain words.
func Apply(f *source.File, e Edit) (text string, inverse Edit, err error) {
	if e.Hash != "" && e.Hash != Hash(f.Text) {
		return "", Edit{}, ErrChanged
	}
	if e.Op == "restore" {
		return restore(f, e)
	}
	root, probs := Parse(f)
	if len(probs) > 0 {
		return "", Edit{}, fmt.Errorf("the file has to be readable before it can be changed: %w", probs.Err())
	}
	x := &editor{f: f, s: f.Text, root: root, eol: "\n"}
	if i := strings.IndexByte(x.s, '\n'); i > 0 && x.s[i-1] == '\r' {
		x.eol = "\r\n"
	}
	ways, want, err := x.plan(e)
	if err != nil {
		return "", Edit{}, err
	}
	for _, c := range ways {
		var got *Node
		text = f.Text[:c.start] + c.text + f.Text[c.end:]
		got, probs = Parse(source.New(f.Name, text))
		if got != nil && Same(got, want) {
			return text, undo(f.Text, text, c), nil
		}
	}
	if len(probs) > 0 {
		return "", Edit{}, fmt.Errorf("this change would make the file unreadable: %w", probs.Err())
	}
	return "", Edit{}, errors.New("this change would also change another value")
}

// change replaces the bytes from start to end.
type change struct {
	start, end int
	text       string
}

func undo(before, after string, c change) Edit {
	return Edit{Op: "restore", Value: before[c.start:c.end], Bytes: &Bytes{c.start, c.start + len(c.text)}, Hash: Hash(after)}
}

func restore(f *source.File, e Edit) (string, Edit, error) {
	if e.Hash == "" || e.Bytes == nil || e.Bytes.Start < 0 || e.Bytes.End < e.Bytes.Start || e.Bytes.End > len(f.Text) {
		return "", Edit{}, errors.New("this is no change that can be undone")
	}
	c := change{e.Bytes.Start, e.Bytes.End, e.Value}
	text := f.Text[:c.start] + c.text + f.Text[c.end:]
	if _, probs := Parse(source.New(f.Name, text)); len(probs) > 0 {
		return "", Edit{}, fmt.Errorf("this change would make the file unreadable: %w", probs.Err())
	}
	return text, undo(f.Text, text, c), nil
}

type editor struct {
	f    *source.File
	s    string
	root *Node
	eol  string
}

// plan returns the ways to make an edit, the nicest first, and what the tree has to
// be afterwards.
func (x *editor) plan(e Edit) ([]change, *Node, error) {
	steps, ok := split(e.Path)
	if !ok {
		return nil, nil, fmt.Errorf("%q is no path", e.Path)
	}
	switch e.Op {
	case "set":
		return x.set(e, steps)
	case "insert":
		return x.insert(e, steps)
	case "remove":
		return x.remove(e, steps)
	case "move":
		return x.move(e, steps)
	}
	return nil, nil, fmt.Errorf("there is no change named %q", e.Op)
}

// slot is the place of a value: what holds it and where it may start.
type slot struct {
	old  *Node
	flow bool // inside brackets
	col  int  // column of its key or dash; -1 for the whole file
	head int  // offset just after its colon or dash
	item bool // of a list
}

// find follows a path and returns the slot at its end.
func (x *editor) find(steps []step) (slot, bool) {
	at := slot{old: x.root, col: -1, head: x.root.Range.Start}
	for _, s := range steps {
		n := at.old
		at.flow = at.flow || n.Flow
		at.item = s.item != -1
		switch i := n.index(s); {
		case i < 0:
			return slot{}, false
		case at.item:
			at.old = n.Items[i]
			if n.dashes != nil {
				at.col, at.head = x.column(n.dashes[i]), n.dashes[i]+1
			}
		default:
			e := &n.Entries[i]
			at.old, at.head = e.Value, e.colon
			if !at.flow {
				at.col = x.column(e.Key.Range.Start)
			}
		}
	}
	return at, true
}

// index is the place of a step's child in n, -1 if there is none.
func (n *Node) index(s step) int {
	if s.item >= 0 && s.item < len(n.Items) {
		return s.item
	}
	if s.item == -1 {
		for i := range n.Entries {
			if n.Entries[i].Key.Text == s.key {
				return i
			}
		}
	}
	return -1
}

// child is the stretch of an entry or item, its dash included.
func (n *Node) child(i int) (start, end int) {
	if n.Kind == Map {
		return n.Entries[i].Range.Start, n.Entries[i].Range.End
	}
	r := n.Items[i].Range
	if n.dashes != nil {
		return n.dashes[i], r.End
	}
	return r.Start, r.End
}

func (n *Node) size() int { return len(n.Entries) + len(n.Items) }

func (x *editor) lineStart(i int) int {
	i = strings.LastIndexByte(x.s[:i], '\n') + 1
	if i == 0 && strings.HasPrefix(x.s, "\uFEFF") {
		return len("\uFEFF")
	}
	return i
}

func (x *editor) column(i int) int { return i - x.lineStart(i) }

func (x *editor) lineEnd(i int) int { return (&parser{s: x.s}).lineEnd(i) }

// after is the start of the next line, for the end of a line.
func (x *editor) after(lineEnd int) int {
	if strings.HasPrefix(x.s[lineEnd:], "\r") {
		lineEnd++
	}
	return min(lineEnd+1, len(x.s))
}

// alone tells whether nothing but spaces stands before an offset on its line.
func (x *editor) alone(i int) bool { return strings.Trim(x.s[x.lineStart(i):i], " ") == "" }

func missing(path string) error {
	if path == "" {
		return errors.New("the file is empty")
	}
	return fmt.Errorf("there is no %s in the file", path)
}

// with returns the tree with another node at a path. The nodes on the way are
// copied.
func with(n *Node, steps []step, put func(*Node) *Node) *Node {
	if len(steps) == 0 {
		return put(n)
	}
	c := *n
	i := n.index(steps[0])
	if c.Kind == Map {
		c.Entries = append([]Entry(nil), n.Entries...)
		c.Entries[i].Value = with(n.Entries[i].Value, steps[1:], put)
	} else {
		c.Items = append([]*Node(nil), n.Items...)
		c.Items[i] = with(n.Items[i], steps[1:], put)
	}
	return &c
}

package tree

import (
	"encoding/json"
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"dryfit/measure/source"
)

const small = `# a tram
toy: Quay tram   # its name
sizes:
  board: 3/4
  # what wheels are made of
  wheel: "1 1/8"
parts:
  frame:
    blank: [5 1/8, 1 3/8]   # squared
    work:
      # first the holes
      - drill: {side: edge, dia: dowel}
      - saw:
          side: face
          outline: [
            [0, 0],   # corner
            [0, 1],
            [1, 1]
          ]
      - round: {by: 1/8} # last
build:
- put: frame
  glued: yes
- put: body
`

// edits shows what the text looks like afterwards, as the lines that differ.
var edits = []struct {
	name      string
	edit      Edit
	gone, new string
}{
	{"a number", Edit{Op: "set", Path: "sizes.board", Value: "5/8"}, "  board: 3/4\n", "  board: 5/8\n"},
	{"keeps double quotes", Edit{Op: "set", Path: "sizes.wheel", Value: "1 1/4"}, "\"1 1/8\"", "\"1 1/4\""},
	{"keeps the comment", Edit{Op: "set", Path: "toy", Value: "Tram: the second"}, "Quay tram ", "'Tram: the second' "},
	{"plain inch marks", Edit{Op: "set", Path: "sizes.board", Value: `3/4"`}, "board: 3/4\n", "board: 3/4\"\n"},
	{"in a flow", Edit{Op: "set", Path: "parts.frame.blank[0]", Value: "5, or 6"}, "[5 1/8,", "['5, or 6',"},
	{"a whole list", Edit{Op: "set", Path: "parts.frame.blank", Value: "[5, 1]"}, "[5 1/8, 1 3/8] ", "[5, 1] "},
	{"a block for a value", Edit{Op: "set", Path: "sizes.board", Value: "a: 1\nb: 2"}, "board: 3/4\n", "board:\n    a: 1\n    b: 2\n"},
	{"a block for a flow with a comment", Edit{Op: "set", Path: "parts.frame.blank", Value: "- 5\n- 1\n"}, "blank: [5 1/8, 1 3/8]   # squared\n", "blank:   # squared\n      - 5\n      - 1\n"},
	{"a value for a block", Edit{Op: "set", Path: "sizes", Value: "none"}, "sizes:\n  board: 3/4\n  # what wheels are made of\n  wheel: \"1 1/8\"\n", "sizes: none\n"},
	{"text that looks like a map", Edit{Op: "set", Path: "toy", Value: "{a: b}", As: AsText}, "Quay tram", "'{a: b}'"},
	{"a block into a flow", Edit{Op: "set", Path: "parts.frame.work[0].drill.dia", Value: "a: 1\nb: [x, 'y, z']", As: AsYAML}, "dia: dowel}", "dia: {a: 1, b: [x, 'y, z']}}"},
	{"an entry", Edit{Op: "insert", Path: "sizes.dowel", Value: "1/4"}, "", "\n  dowel: 1/4"},
	{"an entry before another", Edit{Op: "insert", Path: "sizes.dowel", Value: "1/4", To: "sizes.wheel"}, "", "\n  dowel: 1/4"},
	{"an item", Edit{Op: "insert", Path: "parts.frame.work[+]", Value: "chamfer: {by: 1/16}"}, "", "\n      - chamfer: {by: 1/16}"},
	{"an item of two lines", Edit{Op: "insert", Path: "build[1]", Value: "put: side\nglued: yes"}, "", "- put: side\n  glued: yes\n"},
	{"a line of a flow", Edit{Op: "insert", Path: "parts.frame.work[1].saw.outline[1]", Value: "[0, 1/2]"}, "", "            [0, 1/2],\n"},
	{"the last line of a flow", Edit{Op: "insert", Path: "parts.frame.work[1].saw.outline[+]", Value: "[1, 0]"}, "", ",\n            [1, 0]"},
	{"a flow entry", Edit{Op: "insert", Path: "parts.frame.work[0].drill.depth", Value: "1/2"}, "", ", depth: 1/2"},
	{"away with an entry", Edit{Op: "remove", Path: "toy"}, "toy: Quay tram   # its name\n", ""},
	{"away with an item", Edit{Op: "remove", Path: "parts.frame.work[2]"}, "      - round: {by: 1/8} # last\n", ""},
	{"away with the first of an item", Edit{Op: "remove", Path: "build[0].put"}, "put: frame\n  ", ""},
	{"away with a flow line", Edit{Op: "remove", Path: "parts.frame.work[1].saw.outline[0]"}, "            [0, 0],   # corner\n", ""},
	{"away with a flow entry", Edit{Op: "remove", Path: "parts.frame.work[0].drill.side"}, "side: edge, ", ""},
	{"away with the last flow entry", Edit{Op: "remove", Path: "parts.frame.work[0].drill.dia"}, ", dia: dowel", ""},
	{"away with the only entry", Edit{Op: "remove", Path: "parts.frame.work[2].round.by"}, "by: 1/8", ""},
}

func TestEdits(t *testing.T) {
	for _, c := range edits {
		f := source.New("toy", small)
		c.edit.Hash = Hash(small)
		got, inverse, err := Apply(f, c.edit)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if c.gone != "" || c.new == "" {
			if want := strings.Replace(small, c.gone, c.new, 1); got != want {
				t.Errorf("%s:\n%s", c.name, got)
			}
		} else if i := strings.Index(got, c.new); i < 0 || got[:i]+got[i+len(c.new):] != small {
			t.Errorf("%s:\n%s", c.name, got)
		}
		undone, _, err := Apply(source.New("toy", got), inverse)
		if err != nil || undone != small {
			t.Errorf("%s: undone it is %v\n%s", c.name, err, undone)
		}
	}
}

func TestMoveTakesCommentsAlong(t *testing.T) {
	got, _, err := Apply(source.New("toy", small), Edit{Op: "move", Path: "parts.frame.work[0]", To: "parts.frame.work[2]"})
	first := "      # first the holes\n      - drill: {side: edge, dia: dowel}\n"
	last := "      - round: {by: 1/8} # last\n"
	want := strings.Replace(strings.Replace(small, first, "", 1), last, last+first, 1)
	if err != nil || got != want {
		t.Errorf("%v\n%s", err, got)
	}
	back, _, err := Apply(source.New("toy", got), Edit{Op: "move", Path: "parts.frame.work[2]", To: "[0]"})
	if err != nil || back != small {
		t.Errorf("%v\n%s", err, back)
	}
}

func TestEditsThatMakeNoSense(t *testing.T) {
	for _, c := range []struct {
		edit Edit
		says string
	}{
		{Edit{Op: "set", Path: "toy", Value: "x", Hash: "0123456789abcdef"}, "no longer"},
		{Edit{Op: "set", Path: "boat", Value: "x"}, "no boat"},
		{Edit{Op: "set", Path: "toy..", Value: "x"}, "no path"},
		{Edit{Op: "set", Path: "parts", Value: "[[0, 1]"}, "cannot be read"},
		{Edit{Op: "set", Path: "toy", Value: "a\x1bb"}, "U+001B"},
		{Edit{Op: "set", Path: "toy", Value: "&a b", As: AsYAML}, "cannot be read"},
		{Edit{Op: "insert", Path: "toy", Value: "x"}, "there already"},
		{Edit{Op: "insert", Path: "build[9]", Value: "x"}, "too far"},
		{Edit{Op: "insert", Path: "build.x", Value: "x"}, "into a map only"},
		{Edit{Op: "insert", Path: "boat.x", Value: "x"}, "nothing that could hold"},
		{Edit{Op: "remove", Path: "boat"}, "no boat"},
		{Edit{Op: "remove"}, "what to remove"},
		{Edit{Op: "move", Path: "build[0]", To: "parts.frame.work[0]"}, "same list"},
		{Edit{Op: "move", Path: "build[0]", To: "[5]"}, "same list"},
		{Edit{Op: "turn", Path: "build"}, "no change named"},
		{Edit{Op: "restore", Value: "x"}, "undone"},
	} {
		text, _, err := Apply(source.New("toy", small), c.edit)
		if err == nil || !strings.Contains(err.Error(), c.says) || text != "" {
			t.Errorf("%+v: %v", c.edit, err)
		}
	}
	_, _, err := Apply(source.New("toy", small), Edit{Op: "set", Path: "toy", Value: "x", Hash: "no"})
	if !errors.Is(err, ErrChanged) {
		t.Error(err)
	}
}

func TestEditAsJSON(t *testing.T) {
	_, inverse, err := Apply(source.New("toy", small), edits[0].edit)
	if err != nil {
		t.Fatal(err)
	}
	b, _ := json.Marshal(inverse)
	var back Edit
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatal(err)
	}
	again, _ := json.Marshal(back)
	if string(b) != string(again) || !strings.Contains(string(b), `"op":"restore"`) {
		t.Errorf("%s and %s", b, again)
	}
}

// paths lists the paths of all nodes.
func paths(n *Node) (out []string) {
	var walk func(n *Node, path string)
	walk = func(n *Node, path string) {
		out = append(out, path)
		for _, e := range n.Entries {
			walk(e.Value, Join(path, e.Key.Text))
		}
		for i, it := range n.Items {
			walk(it, path+"["+itoa(i)+"]")
		}
	}
	walk(n, "")
	return out
}

var values = []string{
	"1/4", "a b", "Möwe", "it's", `say "so"`, "# no comment", "a: b", "- x", "[1, 2]", "{a: 1, b: [2, 'x y']}", "", "two\nlines", "two\nlines\n", "a\tb",
	"k: v\nl:\n  - 1\n  - 2 # c\n", "- a\n- b: 1\n  c: 2\n", "'quoted'", `"quoted\n"`, "[\n  1, # c\n  2\n]", "note: |\n  some\n\n    text\n", "null", "5°", "a, b", "}", "'", `\`, "true",
}

func randomEdit(r *rand.Rand, n *Node) Edit {
	all := paths(n)
	path := all[r.IntN(len(all))]
	e := Edit{Op: "set", Path: path, Value: values[r.IntN(len(values))], As: []string{"", "", AsText}[r.IntN(3)]}
	switch r.IntN(5) {
	case 0, 1:
		e.Op = "insert"
		if at := n.At(path); at.Kind == List || at.Empty() && r.IntN(2) == 0 {
			e.Path += []string{"[+]", "[0]", "[1]"}[r.IntN(3)]
		} else {
			e.Path = Join(path, []string{"new", "new key", "größe", "it's: x", "{", "a.b", ""}[r.IntN(7)])
			if len(at.Entries) > 0 && r.IntN(2) == 0 {
				e.To = Join("", at.Entries[r.IntN(len(at.Entries))].Key.Text)
			}
		}
	case 2:
		e.Op = "remove"
	case 3:
		var lists []string
		for _, p := range all {
			if len(n.At(p).Items) > 1 {
				lists = append(lists, p)
			}
		}
		if len(lists) > 0 {
			p := lists[r.IntN(len(lists))]
			k := len(n.At(p).Items)
			e = Edit{Op: "move", Path: p + "[" + itoa(r.IntN(k)) + "]", To: p + "[" + itoa(r.IntN(k)) + "]"}
		}
	}
	return e
}

// checkEdit applies an edit, undoes and redoes it. It returns the new text, or the
// old one if the edit was refused.
func checkEdit(t *testing.T, text string, e Edit) (string, error) {
	t.Helper()
	e.Hash = Hash(text)
	after, inverse, err := Apply(source.New("toy", text), e)
	if err != nil {
		return text, err
	}
	undone, redo, err := Apply(source.New("toy", after), inverse)
	if err != nil || undone != text {
		t.Fatalf("%+v: undone: %v\n%q\n%q", e, err, text, undone)
	}
	again, _, err := Apply(source.New("toy", undone), redo)
	if err != nil || again != after {
		t.Fatalf("%+v: redone: %v\n%q\n%q", e, err, after, again)
	}
	n := mustParse(t, after)
	if want, err := theirs(strings.TrimPrefix(after, "\uFEFF")); err != nil || want != outline(n) {
		t.Fatalf("%+v\nbefore %q\nafter  %q\nours   %s\ntheirs %s %v", e, text, after, outline(n), want, err)
	}
	if strings.Contains(text, "\r\n") && strings.Count(after, "\n") != strings.Count(after, "\r\n") {
		t.Fatalf("%+v: line ends are mixed: %q", e, after)
	}
	return after, nil
}

// TestRandomEdits: every edit that goes through can be undone and redone to the
// byte, changes nothing else (Apply compares the trees), and leaves a text that the
// oracle reads alike. Hardly any is refused because of where it would be written.
func TestRandomEdits(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	done, stuck := 0, map[string]int{}
	rounds := 300
	if testing.Short() {
		rounds = 30
	}
	all := samples(t)
	all["small"] = small
	for _, name := range sorted(all) {
		for range rounds / 10 {
			text := all[name]
			for range 10 {
				e := randomEdit(r, mustParse(t, text))
				after, err := checkEdit(t, text, e)
				if err == nil {
					done++
				} else if s := err.Error(); strings.Contains(s, "would") {
					stuck[s]++
					if len(stuck) < 15 && stuck[s] == 1 {
						t.Logf("%+v: %v", e, err)
					}
				}
				text = after
			}
		}
	}
	n := 0
	for _, k := range stuck {
		n += k
	}
	t.Logf("%d edits, %d could not be written", done, n)
	if n*100 > done {
		t.Errorf("%d edits could not be written, %d could", n, done)
	}
}

func sorted(m map[string]string) []string {
	var out []string
	for k := range m {
		i := 0
		for i < len(out) && out[i] < k {
			i++
		}
		out = append(out[:i], append([]string{k}, out[i:]...)...)
	}
	return out
}

// FuzzEdit: no edit of any text makes Apply panic; what goes through can be undone.
func FuzzEdit(f *testing.F) {
	for _, c := range edits {
		f.Add(small, c.edit.Op, c.edit.Path, c.edit.Value, c.edit.To, c.edit.As)
	}
	r := rand.New(rand.NewPCG(7, 8))
	all := samples(f)
	for _, name := range sorted(all) {
		for range 5 {
			e := randomEdit(r, mustParse(f, all[name]))
			f.Add(all[name], e.Op, e.Path, e.Value, e.To, e.As)
		}
	}
	f.Fuzz(func(t *testing.T, text, op, path, value, to, as string) {
		e := Edit{Op: op, Path: path, Value: value, To: to, As: as}
		after, inverse, err := Apply(source.New("toy", text), e)
		if err != nil {
			return
		}
		if undone, _, err := Apply(source.New("toy", after), inverse); err != nil || undone != text {
			t.Fatalf("%+v: undone: %v\n%q\n%q", e, err, text, undone)
		}
	})
}

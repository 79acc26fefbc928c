package tree

import (
	"strings"
	"testing"

	"dryfit/measure/source"
)

// FuzzParse: no text makes the parser panic; places lie inside the text and inside
// each other; two readings agree; and where the oracle accepts a text that we
// accept, both mean the same.
func FuzzParse(f *testing.F) {
	for _, s := range samples(f) {
		f.Add(s)
	}
	for _, c := range refused {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, probs := Parse(source.New("fuzz", text))
		if (n == nil) == (len(probs) == 0) {
			t.Fatalf("node %v and problems %v", n, probs)
		}
		if n == nil {
			return
		}
		checkPlaces(t, text, n)
		again := mustParse(t, text)
		if !Same(n, again) {
			t.Fatal("two readings differ")
		}
		compare(t, text, n)
	})
}

func compare(t *testing.T, text string, n *Node) {
	t.Helper()
	want, err := theirs(strings.TrimPrefix(text, "\uFEFF"))
	if err != nil {
		return // stricter than we are, or at fault: TestSamples… and the table say which texts it must accept
	}
	if got := outline(n); got != want {
		t.Fatalf("%q\nours   %s\ntheirs %s", text, got, want)
	}
}

func checkPlaces(t *testing.T, text string, root *Node) {
	t.Helper()
	var walk func(n *Node, from, to int)
	walk = func(n *Node, from, to int) {
		r := n.Range
		if r.Start < from || r.End > to || r.Start > r.End {
			t.Fatalf("%q: node %d to %d outside %d to %d", text, r.Start, r.End, from, to)
		}
		if n.Kind == Scalar && !n.Quoted && text[r.Start:r.End] != n.Text {
			t.Fatalf("%q: plain text %q is not at its place", text, n.Text)
		}
		at := r.Start
		for i := range n.Entries {
			e := &n.Entries[i]
			if e.Range.Start != e.Key.Range.Start || e.Range.Start < at || e.Range.End > r.End {
				t.Fatalf("%q: entry %v in %v", text, e.Range, r)
			}
			walk(e.Key, e.Range.Start, e.Range.End)
			walk(e.Value, e.Key.Range.End, e.Range.End)
			at = e.Range.End
		}
		for _, it := range n.Items {
			walk(it, at, r.End)
			at = it.Range.End
		}
	}
	walk(root, 0, len(text))
}

package tree

import (
	"testing"

	"dryfit/measure/source"
)

// Every byte of a value is found where it stands in the file, in every style and with both line
// ends; an escape stands for its character.
func TestOffsets(t *testing.T) {
	for _, c := range []struct{ text, value string }{
		{"a: frame.top - 1/4 # why\n", "frame.top - 1/4"},
		{"a: 'it''s frame'\n", "it's frame"},
		{`a: "a \"b\" \u00e9 frame"` + "\n", `a "b" é frame`},
		{"a: |\n  one\n\n    two\n  frame\n", "one\n\n  two\nframe\n"},
		{"a: |-\r\n  one\r\n  frame\r\nb: 1\r\n", "one\nframe"},
		{"- |\n  frame", "frame"},
	} {
		root, probs := Parse(source.New("t", c.text))
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		n := root.At("a")
		if n == nil {
			n = root.At("[0]")
		}
		at := n.Offsets(c.text)
		if n.Text != c.value || len(at) != len(n.Text)+1 {
			t.Fatalf("%q: %q, %d offsets", c.text, n.Text, len(at))
		}
		for i := range len(n.Text) {
			if raw := c.text[at[i]]; raw != n.Text[i] && raw != '\\' && !(raw == '\r' && n.Text[i] == '\n') {
				t.Errorf("%q: byte %d is %q at %d, want %q", c.text, i, raw, at[i], n.Text[i])
			}
			if at[i+1] < at[i] {
				t.Errorf("%q: offsets go back at %d", c.text, i)
			}
		}
	}
}

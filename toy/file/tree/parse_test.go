package tree

import (
	"strings"
	"testing"
	"time"

	"dryfit/measure/source"
)

// refused are texts that a toy file may not hold. Most are right YAML 1.2; where
// says where the problem is, as line:column.
var refused = []struct{ text, code, where, says string }{
	{"a:\n\tb: 1\n", "bad-layout", "2:1", "a tab"},
	{"a: b\tc\n", "bad-layout", "1:5", "a tab"},
	{"a: &x 1\nb: *x\n", "unwanted-yaml", "1:4", "anchors"},
	{"a: *x\n", "unwanted-yaml", "1:4", "anchors"},
	{"a: !!str 1\n", "unwanted-yaml", "1:4", "tags"},
	{"a: {<<: b}\n", "unwanted-yaml", "1:5", "merge keys"},
	{"<<: {a: b}\n", "unwanted-yaml", "1:1", "merge keys"},
	{"%YAML 1.2\n---\na: b\n", "unwanted-yaml", "1:1", "directive"},
	{"a: b\n---\nc: d\n", "unwanted-yaml", "2:1", "one document"},
	{"a: b\n...\n", "unwanted-yaml", "2:1", "one document"},
	{"--- a\n", "bad-layout", "1:5", "the line of ---"},
	{"a: 1\nb: 2\na: 3\n", "repeated-key", "3:1", "first in line 1"},
	{"a: {b: 1, 'b': 3}\n", "repeated-key", "1:11", "twice"},
	{"? a\n: b\n", "unwanted-yaml", "1:1", "complex keys"},
	{"[a]: b\n", "unwanted-yaml", "1:1", "cannot be a key"},
	{"{[a]: b}\n", "unwanted-yaml", "1:2", "cannot be a key"},
	{"a: b\n  c\n", "bad-layout", "2:3", "stays on one line"},
	{"a: 'b\n  c'\n", "bad-layout", "1:4", "not closed"},
	{"a: \"b\n", "bad-layout", "1:4", "not closed"},
	{"a: >\n  b\n", "unwanted-yaml", "1:4", "folded"},
	{"a: |2\n  b\n", "bad-layout", "1:5", "the line below"},
	{"a: |\nb: 1\n", "empty-value", "1:4", "no text"},
	{"a: |\n   b\n  c\n", "bad-layout", "3:3", "indented less"},
	{"a: b: c\n", "bad-layout", "1:5", "key inside a value"},
	{"a: - b\n", "bad-layout", "1:4", "line below its key"},
	{"a:b\nc: d\n", "bad-layout", "2:1", "stays on one line"},
	{"x: y\na\n", "bad-layout", "2:1", "colon is missing"},
	{"a: {b}\n", "bad-layout", "1:5", "no value"},
	{"a: {b:c}\n", "bad-layout", "1:5", "no value"},
	{"a: {\"b\":c}\n", "bad-layout", "1:8", "space is missing"},
	{"a: [b: c]\n", "bad-layout", "1:6", "braces"},
	{"a: [b, , c]\n", "bad-layout", "1:8", "nothing stands before"},
	{"a: [b\n", "bad-layout", "1:4", "never closed"},
	{"a: [b}\n", "bad-layout", "1:6", "is over"},
	{"a: [b, }\n", "bad-layout", "1:8", "closes"},
	{"a: [\n  b,\nc]\n", "bad-layout", "3:1", "indented further"},
	{"a:\n  b: [\n    c,\n]\n", "bad-layout", "4:1", "indented further"},
	{"a: [b\n  c]\n", "bad-layout", "2:3", "is over"},
	{"a: [b] c\n", "bad-layout", "1:8", "ends before"},
	{"a: 'b'#c\n", "bad-layout", "1:7", "space is missing"},
	{"a: %b\n", "bad-layout", "1:4", "in quotes"},
	{"a: @b\n", "bad-layout", "1:4", "in quotes"},
	{"a: ~\n", "empty-value", "1:4", "means nothing"},
	{"a: null\n", "empty-value", "1:4", "means nothing"},
	{"a:\n    b: 1\n  c: 2\n", "bad-layout", "3:3", "fits no line"},
	{"a:\n  - b\n  c: 2\n", "bad-layout", "3:3", "column of the list's dashes"},
	{"- a\nb: c\n", "bad-layout", "2:1", "column of the list"},
	{"a: 1\n- b\n", "bad-layout", "2:1", "among keys"},
	{"a:\n-\nb: c\n", "empty-value", "2:1", "nothing follows"},
	{"a: |\n  b ", "bad-layout", "2:4", "after the last word"},
	{"...!", "unwanted-yaml", "1:1", "one document"},
	{"a: 1\n---b: 2", "unwanted-yaml", "2:1", "one document"},
	{"---b: 2", "unwanted-yaml", "1:1", "one document"},
	{"0<<: ", "unwanted-yaml", "1:1", "merge keys"},
	{"a: |\n  b\t", "bad-layout", "2:4", "after the last word"},
	{"{0:0: }", "bad-key", "1:2", "in quotes"},
	{"a: {e:: 1}\n", "bad-key", "1:5", "in quotes"},
	{": a\n", "bad-key", "1:1", "missing before the colon"},
	{"a: \"\\q\"\n", "bad-escape", "1:5", "means nothing here"},
	{"a: \"\\x0\"\n", "bad-escape", "1:5", "hexadecimal"},
	{"a: \"\\0\"\n", "bad-escape", "1:5", "means nothing here"},
	{"a: \"\\x00\"\n", "bad-escape", "1:5", "no character"},
	{"a: \"\\ud83d\\ude00\"\n", "bad-escape", "1:5", "no character"},
	{"a: \x00\n", "bad-character", "1:4", "U+0000"},
	{"a: \x1b[0m\n", "bad-character", "1:4", "U+001B"},
	{"a: \xff\n", "bad-character", "1:4", "UTF-8"},
	{"a: \u2028\n", "bad-character", "1:4", "U+2028"},
	{"a: b\rc: d\n", "bad-character", "1:5", "carriage return"},
	{"a: b\uFEFF\n", "bad-character", "1:5", "U+FEFF"},
	{strings.Repeat("[", 33), "deep-nesting", "1:33", "32 deep"},
	{strings.Repeat("- ", 40) + "x", "deep-nesting", "1:65", "32 deep"},
	{strings.Repeat("k", 1100) + ": x", "bad-key", "1:1", "1024"},
}

func TestRefusesInWordsWithAPlace(t *testing.T) {
	for _, c := range refused {
		n, probs := Parse(source.New("toy", c.text))
		if n != nil || len(probs) == 0 {
			t.Errorf("%.60q is accepted", c.text)
			continue
		}
		p := probs[0]
		where := itoa(p.Line) + ":" + itoa(p.Col)
		if p.Code != c.code || where != c.where || !strings.Contains(p.Says, c.says) {
			t.Errorf("%.60q\n got  %s %s %s\n want %s %s %s", c.text, p.Code, where, p.Says, c.code, c.where, c.says)
		}
	}
}

func TestReadsTextsAsYAMLDoes(t *testing.T) {
	n := mustParse(t, samples(t)["testdata/styles.yaml"])
	for path, want := range map[string]string{
		"plain":                   "1 1/4",
		"inch":                    `1 1/4"`,
		"angle":                   "55°",
		"sum":                     "dowel + running",
		"hash":                    "a#b",
		"double":                  "a \"quote\", a \\ and é\tA\n",
		"single":                  "it's # here: {not} [flow]",
		`"quoted key"`:            "yes",
		`"single: key"`:           "no",
		"list[1][1][1]":           "deeper",
		"list[2].other[0]":        "x",
		"list[2].last[2][0]":      "3",
		"list[5].d.e":             "f",
		"list[6][2][2]":           "r 1/4",
		"list[7].three":           "3",
		"flush[2][0]":             "x",
		"nested.deep.value-below": "",
		"note":                    "Two lines,\n  the second indented, # no comment\n\nand a last.\n",
		"note2":                   "No line end.",
		"größe":                   "3",
	} {
		got := n.At(path)
		if path == "nested.deep.value-below" {
			if got != nil {
				t.Errorf("%s is there", path)
			}
			continue
		}
		if got == nil || got.Text != want {
			t.Errorf("%s: %+v, want %q", path, got, want)
		}
	}
	for _, path := range []string{"missing", "missing-with-comment", "list[7].four"} {
		if !n.At(path).Empty() {
			t.Errorf("%s is not empty", path)
		}
	}
	if n.At("empty-text").Empty() || n.At("nothing.here") != nil || n.At("list[99]") != nil || n.At("list[x]") != nil {
		t.Error("paths that lead nowhere")
	}
}

func TestPathAtIsTheWayBack(t *testing.T) {
	text := samples(t)["testdata/tram.yaml"]
	n := mustParse(t, text)
	for _, path := range []string{"toy", "sizes.board", "parts.frame.work[2].saw.outline[2][1]", "build[2].wheels.outward[0]"} {
		if got := n.PathAt(n.At(path).Range.Start); got != path {
			t.Errorf("at the start of %s: %s", path, got)
		}
	}
}

func TestAnEmptyFileIsEmpty(t *testing.T) {
	for _, s := range []string{"", "\n", "# only a comment\n", "---\n", "\uFEFF", "  # x"} {
		if !mustParse(t, s).Empty() {
			t.Errorf("%q", s)
		}
	}
}

// TestLimits also bounds the time: each of these takes milliseconds where reading
// is linear and minutes where it is not.
func TestLimits(t *testing.T) {
	start := time.Now()
	wide := "[" + strings.Repeat("x,", MaxNodes) + "]"
	var keys strings.Builder
	for i := range 90_000 {
		keys.WriteString("k" + itoa(i) + ": 1\n")
	}
	for name, c := range map[string]struct {
		text string
		ok   bool
	}{
		"too many nodes":   {wide, false},
		"many keys":        {keys.String(), true},
		"repeated keys":    {strings.Repeat("a: 1\n", 90_000), false},
		"too long":         {strings.Repeat("#", MaxBytes+1), false},
		"one long line":    {"a: " + strings.Repeat("x", MaxBytes-10), true},
		"one long comment": {strings.Repeat("#", MaxBytes), true},
		"long quoted":      {"a: \"" + strings.Repeat(`\\`, MaxBytes/2-10) + `"`, true},
		"deep flow":        {strings.Repeat("{a: ", MaxBytes/5), false},
		"deep block":       {strings.Repeat("- ", MaxBytes/2), false},
		"open quotes":      {strings.Repeat("- 'a\n", MaxBytes/8), false},
		"blank lines":      {"a: |\n  x\n" + strings.Repeat("\n", MaxBytes-20), true},
		"spaces":           {"a:" + strings.Repeat(" ", MaxBytes-20), true},
	} {
		n, _ := Parse(source.New("toy", c.text))
		if (n != nil) != c.ok {
			t.Errorf("%s: accepted %v", name, n != nil)
		}
	}
	if d := time.Since(start); d > 20*time.Second {
		t.Errorf("took %v", d)
	}
}

func BenchmarkParse17KB(b *testing.B) {
	text := samples(b)["testdata/tram.yaml"]
	_, body, _ := strings.Cut(text, "parts:\n")
	var s strings.Builder
	for i := 0; s.Len() < 17<<10; i++ {
		s.WriteString("parts" + itoa(i) + ":\n" + strings.Replace(body, "\nglue-ups:", "\nx"+itoa(i)+":", 1))
		if j := strings.Index(s.String(), "\nbuild:"); j >= 0 {
			k := s.String()[:j+1]
			s.Reset()
			s.WriteString(k)
		}
	}
	f := source.New("toy", s.String())
	b.SetBytes(int64(len(f.Text)))
	b.ReportAllocs()
	for b.Loop() {
		if _, probs := Parse(f); len(probs) > 0 {
			b.Fatal(probs)
		}
	}
}

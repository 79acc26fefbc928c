package source

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestPosition(t *testing.T) {
	const text = "ab\r\ncé°x\n\rlast"
	f := New("t", text)
	for _, c := range []struct{ offset, line, col int }{
		{-5, 1, 1}, {0, 1, 1}, {1, 1, 2}, {2, 1, 3}, {3, 1, 3}, // on the CR and inside the CRLF
		{4, 2, 1}, {5, 2, 2}, {6, 2, 2}, {7, 2, 3}, {8, 2, 3}, {9, 2, 4}, {10, 2, 5},
		{11, 3, 1}, {12, 4, 1}, {15, 4, 4}, {16, 4, 5}, {999, 4, 5},
	} {
		if line, col := f.Position(c.offset); line != c.line || col != c.col {
			t.Errorf("Position(%d) = %d:%d, want %d:%d", c.offset, line, col, c.line, c.col)
		}
	}
	for n, want := range map[int]string{-1: "", 0: "", 1: "ab", 2: "cé°x", 3: "", 4: "last", 5: ""} {
		if got := f.Line(n); got != want {
			t.Errorf("Line(%d) = %q, want %q", n, got, want)
		}
	}
	if line, col := New("t", bom+"ab").Position(4); line != 1 || col != 2 {
		t.Errorf("behind a byte order mark: %d:%d, want 1:2", line, col)
	}
	if line, col := New("t", "").Position(0); line != 1 || col != 1 {
		t.Errorf("empty file: %d:%d, want 1:1", line, col)
	}
}

// FuzzProblem: any text, any place: a position inside the file, and nothing
// printed that could drive a terminal.
func FuzzProblem(f *testing.F) {
	f.Add("a: 1\r\nb: \x1b[31m\t°\n", 3, 9)
	f.Add(bom+strings.Repeat("é", 500), 400, 402)
	f.Add("\xff\xfe\r", 1, -4)
	f.Fuzz(func(t *testing.T, text string, start, end int) {
		file := New(text, text)
		line, col := file.Position(start)
		if line < 1 || col < 1 || col > utf8.RuneCountInString(file.Line(line))+1 {
			t.Fatalf("Position(%d) = %d:%d", start, line, col)
		}
		p := file.Problem("x", Range{start, end}, text).Expect(text).Near(text, []string{text + "a"})
		for _, c := range p.Error() {
			if c != '\n' && !unicode.IsPrint(c) {
				t.Fatalf("prints %U", c)
			}
		}
		if lines := strings.Split(p.Excerpt, "\n"); p.Excerpt != "" {
			if len(lines) != 2 || !strings.Contains(lines[1], "^") || utf8.RuneCountInString(lines[0]) > longestExcerpt+2 {
				t.Fatalf("excerpt %q", p.Excerpt)
			}
		}
	})
}

func TestProblemPrints(t *testing.T) {
	f := New("tram.yaml", "toy: Quay tram\nstok: beech\n")
	p := f.Problem("unknown-key", Range{15, 19}, `"stok" is no key of a toy`).Expect("a key of a toy").Near("stok", []string{"sizes", "stock", "parts"})
	const want = `tram.yaml:2:1: "stok" is no key of a toy (expected a key of a toy; did you mean "stock"?)
    stok: beech
    ^^^^`
	if p.Error() != want {
		t.Errorf("got\n%s\nwant\n%s", p.Error(), want)
	}
	if got := f.Problem("c", Range{}, "no place").Error(); got != "tram.yaml: no place" {
		t.Errorf("without a place: %q", got)
	}
	if got := f.Problem("c", f.Whole(), "all of it"); got.Line != 1 || got.Col != 1 || got.Excerpt != "toy: Quay tram\n^^^^^^^^^^^^^^" {
		t.Errorf("the whole file: %+v", got)
	}
	var none *File
	if got := none.Problem("c", Range{3, 4}, "no file").Error(); got != "no file" {
		t.Errorf("without a file: %q", got)
	}
	js, err := json.Marshal(f.Problem("c", Range{}, "s"))
	if got := string(js); err != nil || got != `{"code":"c","says":"s","file":"tram.yaml","line":0,"col":0}` {
		t.Errorf("JSON: %s %v", got, err)
	}
}

func TestExcerpt(t *testing.T) {
	long := strings.Repeat("0123456789", 30)
	for _, c := range []struct {
		name, line string
		col, width int
		want       string
	}{
		{"range", "a: 12 mn", 7, 2, "a: 12 mn\n      ^^"},
		{"past the end", "ab", 9, 1, "ab\n  ^"},
		{"to the end of the line", "abcd", 3, 99, "abcd\n  ^^"},
		{"empty", "", 1, 1, "\n^"},
		{"tab", "\tab", 2, 1, " ab\n ^"},
		{"control", "a\x1b[2Jb\u202e", 6, 1, "a�[2Jb�\n     ^"},
		{"wide", "木材x", 3, 1, "木材x\n    ^"},
		{"combining", "e\u0301x", 3, 1, "e\u0301x\n ^"},
		{"combining, marked", "e\u0301", 2, 1, "e\u0301\n ^"},
		{"long, start", long, 1, 3, long[:76] + "…\n^^^"},
		{"long, middle", long, 151, 2, "…" + long[110:186] + "…\n" + strings.Repeat(" ", 41) + "^^"},
		{"long, end", long, 301, 1, "…" + long[224:] + "\n" + strings.Repeat(" ", 77) + "^"},
	} {
		if got := excerpt(c.line, c.col, c.width); got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	options := []string{"wheel", "frame", "axle", "rear-axle", "front-axle", "dowel", "thick", "in", "mm", "cm", ""}
	for _, c := range [][2]string{
		{"stok", ""}, {"whel", "wheel"}, {"wheeel", "wheel"}, {"whele", "wheel"}, // a swap is one slip
		{"Frame", "frame"}, {"fraem", "frame"}, {"rear-axel", "rear-axle"}, {"tihck", "thick"},
		{"m", "mm"}, {"mn", "mm"}, {"inn", "in"}, {"x", ""}, {"", ""}, {"bottom", ""}, {"wheel", ""}, {strings.Repeat("w", 65), ""},
	} {
		if got := Nearest(c[0], options); got != c[1] {
			t.Errorf("Nearest(%q) = %q, want %q", c[0], got, c[1])
		}
	}
	if a, b := Nearest("bat", []string{"cat", "bar"}), Nearest("bat", []string{"bar", "cat"}); a != "bar" || b != "bar" {
		t.Errorf("the order of the options decides: %q, %q", a, b)
	}
}

// The classic worked example of edit distance (kitten to sitting takes three
// changes), and the pair that tells optimal string alignment from the
// unrestricted distance: ca to abc takes three, not two (from memory, both in
// many textbooks).
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"ca", "abc", 3}, {"ab", "ba", 1}, {"", "abc", 3}, {"abc", "", 3}, {"same", "same", 0}} {
		if got := distance([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestProblems(t *testing.T) {
	f := New("t", "one\ntwo three\n")
	ps := Problems{
		f.Problem("c", Range{8, 9}, "third"), f.Problem("c", Range{4, 5}, "second"), f.Problem("c", Range{8, 9}, "third"),
		f.Problem("c", Range{1, 2}, "first"), f.Problem("c", Range{}, "whole file"), f.Problem("c", Range{8, 9}, "another"),
	}
	var got []string
	for _, p := range ps.Sorted() {
		got = append(got, p.Says)
	}
	if want := "whole file, first, second, third, another"; strings.Join(got, ", ") != want {
		t.Errorf("got %s, want %s", strings.Join(got, ", "), want)
	}
	if ps[0].Says != "third" {
		t.Error("Sorted changed its receiver")
	}
	if err := (Problems{}).Err(); err != nil {
		t.Errorf("no problems are an error: %v", err)
	}
	var back Problems
	if err := ps.Err(); !errors.As(err, &back) || len(back) != len(ps) {
		t.Errorf("Err() = %v", err)
	}
}

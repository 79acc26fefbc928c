// Package source is a user's file and the one kind of problem its author sees.
//
// Whoever reads a file keeps byte offsets ([Range]); a [File] turns them into
// the line and column that people and editors count in. A [Problem] says in
// plain words what is wrong there, what was expected and which name may have
// been meant, and carries the line with a caret below it. [Problems] is what a
// reader hands back: all of them, in the order of the file.
package source

import (
	"sort"
	"strings"
	"unicode/utf8"
)

// File is a text that a user wrote and the name it goes by.
type File struct {
	Name, Text string

	starts []int // offset of the first byte of each line
}

// Range is a stretch of a file in byte offsets, End excluded. The zero Range
// means that the place is not known.
type Range struct{ Start, End int }

const bom = "\uFEFF"

// New takes a text. Lines end at LF, CRLF or a lone CR, as YAML 1.2 has it.
func New(name, text string) *File {
	f := &File{Name: name, Text: text, starts: []int{0}}
	if strings.HasPrefix(text, bom) {
		f.starts[0] = len(bom) // a byte order mark is no column
	}
	for i := 0; i < len(text); i++ {
		if c := text[i]; c == '\n' || c == '\r' && !strings.HasPrefix(text[i+1:], "\n") {
			f.starts = append(f.starts, i+1)
		}
	}
	return f
}

// Position is the line, from 1, and the column, from 1 and counted in
// characters (Unicode code points), of a byte offset. An offset outside the
// file is taken for its nearest end, one inside a line break for the end of
// the line, one inside a character for its beginning.
func (f *File) Position(offset int) (line, col int) {
	line = max(1, sort.SearchInts(f.starts, offset+1)) // lines that start at or before offset
	start := f.starts[line-1]
	s := f.Line(line)
	at := min(max(0, offset-start), len(s))
	for at > 0 && at < len(s) && !utf8.RuneStart(s[at]) {
		at--
	}
	return line, utf8.RuneCountInString(s[:at]) + 1
}

// Line is the text of line n, from 1, without its line break; empty where
// there is no such line.
func (f *File) Line(n int) string {
	if n < 1 || n > len(f.starts) {
		return ""
	}
	end := len(f.Text)
	if n < len(f.starts) {
		end = f.starts[n]
	}
	return strings.TrimRight(f.Text[f.starts[n-1]:end], "\r\n")
}

// Whole is the range of the whole file, for what is wrong with all of it: it is
// shown at the first line.
func (f *File) Whole() Range { return Range{0, len(f.Text)} }

package source

import (
	"fmt"
	"sort"
	"strings"
)

// Problem is one thing that is wrong in a user's file.
type Problem struct {
	Code string `json:"code"` // stable, for programs: adjective and noun
	Says string `json:"says"` // plain words, lower case, no full stop
	File string `json:"file"`
	Line int    `json:"line"` // from 1; 0 when the place is not known
	Col  int    `json:"col"`  // from 1, in characters

	Expected string `json:"expected,omitempty"` // what could stand there
	Nearest  string `json:"nearest,omitempty"`  // the name that may be meant
	Excerpt  string `json:"excerpt,omitempty"`  // the line, cut to fit, and a line with a caret
}

// longestSays is where words that quote a user's text are cut off.
const longestSays = 400

// Problem makes a problem at a place of the file. What is said may quote the
// file: it is made safe to print.
func (f *File) Problem(code string, at Range, says string) Problem {
	p := Problem{Code: code, Says: printable(says, longestSays)}
	if f == nil {
		return p
	}
	p.File = printable(f.Name, longestSays)
	if at == (Range{}) {
		return p
	}
	p.Line, p.Col = f.Position(at.Start)
	width := 1
	if l, c := f.Position(at.End); l == p.Line && c > p.Col {
		width = c - p.Col
	} else if l > p.Line {
		width = longestExcerpt // to the end of the line
	}
	p.Excerpt = excerpt(f.Line(p.Line), p.Col, width)
	return p
}

// Expect adds what could stand there.
func (p Problem) Expect(what string) Problem {
	p.Expected = printable(what, longestSays)
	return p
}

// Near adds the option nearest to the word found, if one is near enough.
func (p Problem) Near(word string, options []string) Problem {
	p.Nearest = printable(Nearest(word, options), longestSays)
	return p
}

// Error is the problem as a terminal shows it: place, words, hints, the line
// and a caret.
func (p Problem) Error() string {
	var b strings.Builder
	if p.File != "" {
		b.WriteString(p.File + ":")
	}
	if p.Line > 0 {
		fmt.Fprintf(&b, "%d:%d:", p.Line, p.Col)
	}
	if b.Len() > 0 {
		b.WriteByte(' ')
	}
	b.WriteString(p.Says)
	var hints []string
	if p.Expected != "" {
		hints = append(hints, "expected "+p.Expected)
	}
	if p.Nearest != "" {
		hints = append(hints, `did you mean "`+p.Nearest+`"?`)
	}
	if hints != nil {
		b.WriteString(" (" + strings.Join(hints, "; ") + ")")
	}
	if p.Excerpt != "" {
		b.WriteString("\n    " + strings.ReplaceAll(p.Excerpt, "\n", "\n    "))
	}
	return b.String()
}

// Problems is all that is wrong in one reading.
type Problems []Problem

// Error lists the problems, one below the other.
func (ps Problems) Error() string {
	var b strings.Builder
	for i, p := range ps {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(p.Error())
	}
	return b.String()
}

// Sorted is the problems by file, line and column, those without a place
// first and otherwise in the order they were found; the same words at the same
// place come once.
func (ps Problems) Sorted() Problems {
	type key struct {
		file, code, says string
		line, col        int
	}
	seen := make(map[key]bool, len(ps))
	var out Problems
	for _, p := range ps {
		k := key{p.File, p.Code, p.Says, p.Line, p.Col}
		if !seen[k] {
			seen[k] = true
			out = append(out, p)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if a.File != b.File {
			return a.File < b.File
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Col < b.Col
	})
	return out
}

// Err is the problems as an error, nil if there are none.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}

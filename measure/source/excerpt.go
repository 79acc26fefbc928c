package source

import (
	"strings"
	"unicode"
)

const (
	longestExcerpt = 76 // characters of a line that fit a terminal with its indent
	contextBefore  = 40 // characters kept before the caret of a longer line
)

// excerpt is the line, cut round the column if it is long, and below it a
// caret for each of the count characters from the column on.
func excerpt(line string, col, count int) string {
	r := []rune(line)
	at := min(max(0, col-1), len(r))
	from, to := 0, len(r)
	if len(r) > longestExcerpt {
		from = min(max(0, at-contextBefore), len(r)-longestExcerpt)
		to = from + longestExcerpt
	}
	var text, caret strings.Builder
	if from > 0 {
		text.WriteString("…")
		caret.WriteByte(' ')
	}
	end := min(at+max(1, count), to)
	for i := from; i < to; i++ {
		c := safe(r[i])
		text.WriteRune(c)
		mark, width := " ", cells(c)
		if i >= at && i < end {
			mark, width = "^", max(1, width)
		}
		if i <= at || i < end {
			caret.WriteString(strings.Repeat(mark, width))
		}
	}
	if at >= to {
		caret.WriteByte('^') // just past the end of the line
	}
	if to < len(r) {
		text.WriteString("…")
	}
	return text.String() + "\n" + strings.TrimRight(caret.String(), " ")
}

// printable makes a text safe for a terminal and at most so many characters
// long.
func printable(s string, longest int) string {
	var b strings.Builder
	n := 0
	for _, c := range s {
		if n++; n > longest {
			return b.String() + "…"
		}
		b.WriteRune(safe(c))
	}
	return b.String()
}

// safe is the character itself if it only draws something, a space for white
// space, and � for what could move the cursor, change colours or turn the
// direction of writing.
func safe(c rune) rune {
	switch {
	case unicode.IsPrint(c):
		return c
	case unicode.IsSpace(c):
		return ' '
	}
	return unicode.ReplacementChar
}

// cells is how many columns of a terminal a character takes: none for a
// combining mark, two for the wide blocks of Unicode Standard Annex 11.
func cells(c rune) int {
	switch {
	case unicode.In(c, unicode.Mn, unicode.Me):
		return 0
	case c < 0x1100:
		return 1
	case c <= 0x115F, c >= 0x2E80 && c <= 0xA4CF, c >= 0xAC00 && c <= 0xD7A3, c >= 0xF900 && c <= 0xFAFF,
		c >= 0xFE30 && c <= 0xFE6F, c >= 0xFF00 && c <= 0xFF60, c >= 0xFFE0 && c <= 0xFFE6,
		c >= 0x1F300 && c <= 0x1FAFF, c >= 0x20000 && c <= 0x3FFFD:
		return 2
	}
	return 1
}

package source

import (
	"strings"
	"unicode/utf8"
)

// longestWord is the most characters a mistyped word may have to be compared.
const longestWord = 64

// Nearest is the option that a mistyped word most likely means, or nothing. It
// counts letters put in, left out, changed and swapped with their neighbour
// (optimal string alignment distance), not minding capitals, and takes up to
// one slip for every three letters. Among equals one with the same first letter
// wins, then the first in the alphabet: the order of the options does not
// matter.
func Nearest(word string, options []string) string {
	w := []rune(strings.ToLower(word))
	if len(w) == 0 || len(w) > longestWord {
		return ""
	}
	best, slips := "", 0
	better := func(d int, o string) bool {
		if d != slips {
			return d < slips
		}
		if a, b := o[0] == word[0], best[0] == word[0]; a != b {
			return a
		}
		return o < best
	}
	for _, o := range options {
		n := utf8.RuneCountInString(o)
		longer := max(len(w), n)
		allowed := max(1, longer/3)
		if o == word || n == 0 || n > longestWord || longer-min(len(w), n) > allowed {
			continue
		}
		d := distance(w, []rune(strings.ToLower(o)))
		if d > allowed || d >= longer {
			continue
		}
		if best == "" || better(d, o) {
			best, slips = o, d
		}
	}
	return best
}

// distance counts slips between a and b in three rows of the usual table.
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			d := last[j-1]
			if a[i-1] != b[j-1] {
				d++
			}
			d = min(d, last[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, before[j-2]+1)
			}
			row[j] = d
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

package adapt

import (
	"strings"
	"unicode/utf8"

	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// aligned is a text whose remarks stand where they stood: what a value became longer or shorter by is
// taken from the spaces before the remark behind it, or put there. A text that would then mean
// anything else is left as it is.
func aligned(was *source.File, text string) string {
	before, after := strings.Split(was.Text, "\n"), strings.Split(text, "\n")
	if len(before) != len(after) {
		return text
	}
	for i, line := range after {
		from, to := remarkAt(before[i]), remarkAt(line)
		if line == before[i] || from < 0 || to < 0 || line[to:] != before[i][from:] {
			continue
		}
		code := strings.TrimRight(line[:to], " ")
		gap := utf8.RuneCountInString(before[i][:from]) - utf8.RuneCountInString(code)
		if code != "" {
			least := min(2, from-len(strings.TrimRight(before[i][:from], " ")))
			after[i] = code + strings.Repeat(" ", max(gap, least)) + line[to:]
		}
	}
	out := strings.Join(after, "\n")
	want, probs := tree.Parse(source.New(was.Name, text))
	got, more := tree.Parse(source.New(was.Name, out))
	if len(probs) > 0 || len(more) > 0 || !tree.Same(want, got) {
		return text
	}
	return out
}

package shop

import (
	"strings"
	"unicode/utf8"
)

// Columns is the widest line that Text prints.
const Columns = 96

// tie stands for a blank at which no line is broken, until Text puts the blank.
const tie = '\ue000'

// Block is a heading, a paragraph or a table of the lists in words.
type Block struct {
	Kind   BlockKind
	Indent int    // of a paragraph or table, in blanks
	Says   string // of a heading or paragraph
	// Heads and Rows are a table. A head that starts with > is of a column of counts, set to the
	// right. Columns that are empty in all rows are not shown.
	Heads []string
	Rows  [][]string
}

// BlockKind tells blocks apart.
type BlockKind int

// The kinds of blocks. A Gap is a blank line.
const (
	Gap BlockKind = iota
	Title
	Para
	Table
)

// page collects what the lists say.
type page struct{ blocks []Block }

func (p *page) blank()         { p.blocks = append(p.blocks, Block{Kind: Gap}) }
func (p *page) title(s string) { p.blocks = append(p.blocks, Block{Kind: Title, Says: s}) }

func (p *page) para(indent, s string) {
	p.blocks = append(p.blocks, Block{Kind: Para, Indent: len(indent), Says: s})
}

func (p *page) table(indent string, heads []string, rows [][]string) {
	p.blocks = append(p.blocks, Block{Kind: Table, Indent: len(indent), Heads: heads, Rows: rows})
}

// setter sets blocks in lines that are never wider than Columns.
type setter struct{ b strings.Builder }

func (p *setter) set(x Block) {
	indent := strings.Repeat(" ", x.Indent)
	switch x.Kind {
	case Gap:
		p.b.WriteByte('\n')
	case Title: // with a rule under it
		p.para("", x.Says)
		p.b.WriteString(strings.Repeat("─", min(wide(x.Says), Columns)) + "\n")
	case Para:
		p.para(indent, x.Says)
	case Table:
		p.table(indent, x.Heads, x.Rows)
	}
}

// para sets text wrapped; in a list, its further lines are two deeper.
func (p *setter) para(indent, s string) {
	rest := ""
	if indent != "" {
		rest = indent + "  "
	}
	p.wrap(indent, rest, s)
}

func (p *setter) wrap(first, rest, s string) { p.b.WriteString(Wrapped(first, rest, s)) }

// Wrapped breaks a text into lines of at most Columns, behind first and further ones behind rest.
func Wrapped(first, rest, s string) string {
	var b strings.Builder
	line := first
	fresh := true
	for _, w := range strings.Fields(s) {
		if !fresh && wide(line)+1+wide(w) > Columns {
			b.WriteString(line + "\n")
			line, fresh = rest, true
		}
		for fresh && wide(line)+wide(w) > Columns { // one word wider than the page
			n := cut(w, max(1, Columns-wide(line)))
			b.WriteString(line + w[:n] + "\n")
			line, w = rest, w[n:]
		}
		if !fresh {
			line += " "
		}
		line += w
		fresh = false
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
	return b.String()
}

// cut returns the bytes of the first n characters.
func cut(s string, n int) int {
	for i := range s {
		if n == 0 {
			return i
		}
		n--
	}
	return len(s)
}

func wide(s string) int { return utf8.RuneCountInString(s) }

// leastColumn is the narrowest column that text is wrapped in.
const leastColumn = 14

// table sets rows under heads, columns two apart. What is too wide for the page has its last
// column wrapped, or, where that would be too narrow, is set as one paragraph a row.
func (p *setter) table(indent string, heads []string, rows [][]string) {
	width := make([]int, len(heads))
	for _, r := range rows {
		for i, c := range r {
			width[i] = max(width[i], wide(c))
		}
	}
	total := wide(indent) - 2
	for i, h := range heads {
		if width[i] > 0 {
			width[i] = max(width[i], wide(strings.TrimPrefix(h, ">")))
			total += width[i] + 2
		}
	}
	last := len(heads) - 1
	room := Columns - (total - width[last]) // for the last column, if it has to be wrapped
	if total > Columns && room < leastColumn {
		for _, r := range rows {
			var parts []string
			for i, c := range r {
				if c != "" {
					parts = append(parts, strings.TrimSpace(strings.TrimPrefix(heads[i], ">")+" "+c))
				}
			}
			p.para(indent, strings.Join(parts, "; "))
		}
		return
	}
	print := func(r []string) {
		line := indent
		for i, c := range r {
			if width[i] == 0 {
				continue
			}
			space := strings.Repeat(" ", max(0, width[i]-wide(c)))
			if i == last && total > Columns {
				p.wrap(line, strings.Repeat(" ", wide(line)), c)
				return
			}
			if strings.HasPrefix(heads[i], ">") {
				line += space + c + "  "
			} else {
				line += c + space + "  "
			}
		}
		p.b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	bare := make([]string, len(heads))
	for i, h := range heads {
		bare[i] = strings.TrimPrefix(h, ">")
	}
	print(bare)
	for _, r := range rows {
		print(r)
	}
}

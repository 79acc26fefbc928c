package page

import (
	"context"
	"strings"

	"dryfit/app"
	"dryfit/shop"
)

// StockPage is the lists of the shop for some toys.
type StockPage struct {
	Hash  string `json:"hash"`
	Units string `json:"units"` // inch or mm, that lengths are said in
	Shop  string `json:"shop"`  // the file that says what there is; "": none
	Title string `json:"title"`
	// Short is what the rack has not enough of; known tells whether there is a rack at all.
	Known    bool          `json:"known"`
	Short    []string      `json:"short"`
	Head     []ListBlock   `json:"head"`
	Sections []ListSection `json:"sections"`
}

// ListSection is one of the lists.
type ListSection struct {
	Title  string      `json:"title"`
	Blocks []ListBlock `json:"blocks"`
}

// ListBlock is a paragraph or a table.
type ListBlock struct {
	Kind  string     `json:"kind"` // name, of what follows; para; item, of a list; table
	Says  string     `json:"says"`
	Heads []ListHead `json:"heads"`
	Rows  [][]string `json:"rows"`
}

// ListHead is the head of a column.
type ListHead struct {
	Says   string `json:"says"`
	Counts bool   `json:"counts"` // numbers, set to the right
}

// StockOf makes the lists for so many of a toy.
func StockOf(ctx context.Context, j *Job, count int) (StockPage, error) {
	of, err := j.making(count)
	if err != nil {
		return StockPage{}, err
	}
	l, err := app.Stock(ctx, of)
	if err != nil {
		return StockPage{}, err
	}
	out := StockPage{Hash: j.Hash, Units: l.Units, Shop: l.Shop, Known: l.Shop != "", Short: append([]string{}, l.Shorts()...)}
	out.Title, out.Head, out.Sections = sections(l.Words())
	return out, nil
}

// StockCSV is the same for a spreadsheet.
func StockCSV(ctx context.Context, j *Job, count int) ([]byte, error) {
	of, err := j.making(count)
	if err != nil {
		return nil, err
	}
	l, err := app.Stock(ctx, of)
	if err != nil {
		return nil, err
	}
	return l.CSV()
}

// sections puts what the lists say under their headings: the first is of the whole.
func sections(words []shop.Block) (title string, head []ListBlock, out []ListSection) {
	into := &head
	head, out = []ListBlock{}, []ListSection{}
	for i, w := range words {
		// On a page the layout is not a command.
		says := strings.ReplaceAll(w.Says, "dryfit layout", "the layout of boards")
		block := ListBlock{Says: says, Heads: []ListHead{}, Rows: [][]string{}}
		switch w.Kind {
		case shop.Title:
			if title == "" {
				title = w.Says
			} else {
				out = append(out, ListSection{Title: w.Says, Blocks: []ListBlock{}})
				into = &out[len(out)-1].Blocks
			}
			continue
		case shop.Gap:
			continue
		case shop.Para:
			block.Kind = "para"
			named := i > 0 && words[i-1].Kind == shop.Gap && i+1 < len(words) && words[i+1].Kind != shop.Gap && words[i+1].Kind != shop.Title
			if w.Indent > 0 {
				block.Kind = "item"
			} else if named {
				block.Kind = "name"
			}
		case shop.Table:
			if len(w.Rows) == 0 {
				continue
			}
			block.Kind = "table"
			block.Heads, block.Rows = columns(w)
		}
		*into = append(*into, block)
	}
	return title, head, out
}

// columns leaves out the columns of a table that are empty.
func columns(w shop.Block) (heads []ListHead, rows [][]string) {
	rows = make([][]string, len(w.Rows))
	for k, h := range w.Heads {
		empty := true
		for _, r := range w.Rows {
			empty = empty && r[k] == ""
		}
		if empty {
			continue
		}
		head := ListHead{Says: h}
		if h != "" && h[0] == '>' {
			head = ListHead{Says: h[1:], Counts: true}
		}
		heads = append(heads, head)
		for i, r := range w.Rows {
			rows[i] = append(rows[i], r[k])
		}
	}
	return heads, rows
}

package page

import (
	"fmt"
	"strings"

	"dryfit/app"
	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/tree"
)

// Job is a toy that is to be made: so many of it, in a shop, with all lengths said in some unit.
// It is proved already, so that several goroutines may share it.
type Job struct {
	Toy  *app.Toy
	Shop *toy.Shop // nil: nothing is known of it
	Hash string    // of the toy's text
}

// Text is the name and the text of a file.
type Text struct{ Name, Text string }

// Open reads a toy for a shop, whose text may be nil. units are mm or inch; "" as the toy has them.
// What is wrong with either is told with its file and line.
func Open(of Text, shop *Text, units string, cache *assembly.Cache) (*Job, error) {
	j := &Job{Hash: tree.Hash(of.Text)}
	var probs source.Problems
	if shop != nil {
		if j.Shop, probs = app.ReadShop(shop.Name, shop.Text); len(probs) > 0 {
			return nil, unreadable(shop.Name, probs)
		}
	}
	if j.Toy, probs = app.OpenWith(of.Name, of.Text, app.Options{Shop: j.Shop, Units: units, Cache: cache}); len(probs) == 0 {
		_, probs = j.Toy.Model()
	}
	if len(probs) > 0 {
		return nil, unreadable(of.Name, probs)
	}
	j.Toy.Unproved() // keeps the proof
	return j, nil
}

// unreadable says what is wrong with a file that nothing can be made of.
func unreadable(name string, probs source.Problems) error {
	return fmt.Errorf("%s cannot be read: line %d: %s", name, probs[0].Line, probs[0].Says)
}

// making is so many of the toy.
func (j *Job) making(count int) ([]app.Making, error) {
	if count < 1 || count > app.MostToys {
		return nil, fmt.Errorf("%d toys: expected a number from 1 to %d", count, app.MostToys)
	}
	return []app.Making{{Toy: j.Toy, Count: count}}, nil
}

// Print is what is printed on, in words.
type Print struct {
	Paper    string  `json:"paper"`    // "" as usual for the toy's units
	Margin   string  `json:"margin"`   // what the printer leaves free; "" as usual
	CorrectX float64 `json:"correctX"` // what 100 mm across measured on paper, mm; 0: true
	CorrectY float64 `json:"correctY"` // the same up the page
}

// On is the paper of a job. read returns the photograph for the cover and may be nil.
func (j *Job) On(p Print, read func(name string) ([]byte, error)) app.Print {
	if p.Paper == "" {
		p.Paper = usualPaper(j.Toy)
	}
	return app.Print{Paper: p.Paper, Margin: p.Margin, CorrectX: p.CorrectX, CorrectY: p.CorrectY, Read: read}
}

// usualPaper is what whoever works in a unit has in the printer, as a rule. Common practice, no
// source.
func usualPaper(t *app.Toy) string {
	if t.Units.String() == "inch" {
		return "letter"
	}
	return "a4"
}

// SheetPage is a page as it is printed.
type SheetPage struct {
	Title string  `json:"title"`
	SVG   string  `json:"svg"`
	Wide  float64 `json:"wide"` // mm
	High  float64 `json:"high"`
}

func sheetPages(sheets []app.Sheet) []SheetPage {
	out := make([]SheetPage, len(sheets))
	for i, s := range sheets {
		out[i] = SheetPage{Title: s.Title, SVG: string(s.SVG), Wide: s.Wide, High: s.High}
	}
	return out
}

// PatternsPage is the patterns as they are printed.
type PatternsPage struct {
	Hash   string      `json:"hash"`
	Paper  string      `json:"paper"`
	Papers []string    `json:"papers"` // that there are
	Says   string      `json:"says"`   // that the toy is not right yet; "" if it is
	Sheets []SheetPage `json:"sheets"`
}

// PatternsOf draws the patterns.
func PatternsOf(j *Job, p Print) (PatternsPage, error) {
	on := j.On(p, nil)
	sheets, err := j.Toy.PatternSheets(on)
	if err != nil {
		return PatternsPage{}, err
	}
	return PatternsPage{Hash: j.Hash, Paper: on.Paper, Papers: sheetPapers(), Says: j.Toy.Unproved(), Sheets: sheetPages(sheets)}, nil
}

// sheetPapers are the papers that have a name alone; a roll has a width too.
func sheetPapers() (out []string) {
	for _, n := range app.PaperNames() {
		if !strings.Contains(n, "=") {
			out = append(out, n)
		}
	}
	return out
}

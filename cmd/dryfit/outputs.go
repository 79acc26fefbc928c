package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"

	"dryfit/app"
	"dryfit/measure/source"
)

type patternsCmd struct {
	toyArgs
	Out string `help:"The PDF to write; an older one is replaced." short:"o" required:"" placeholder:"OUT.pdf"`
	printArgs
}

// printArgs say what is printed on.
type printArgs struct {
	Paper    string  `help:"The paper: a4, a3, letter, legal, tabloid, or roll=WIDTH for one long page." default:"a4" placeholder:"PAPER"`
	Margin   string  `help:"What the printer leaves free: 10mm, or by side as left=10mm,bottom=15mm (right, top); left out: 7 mm." placeholder:"LENGTH"`
	CorrectX float64 `help:"What the 100 mm bar across the page measured on paper, in mm, such as 98.6: all is printed that much larger." name:"correct-x" placeholder:"MM"`
	CorrectY float64 `help:"The same for the bar up the page." name:"correct-y" placeholder:"MM"`
}

func (p printArgs) print() app.Print {
	return app.Print{Paper: p.Paper, Margin: p.Margin, CorrectX: p.CorrectX, CorrectY: p.CorrectY}
}

// writesPDF refuses a name whose ending promises something else than the PDF that is written, or
// that cannot be written.
func writesPDF(toy, name string) error {
	if err := notItself(toy, name); err != nil {
		return err
	}
	if end := filepath.Ext(name); end != "" && !strings.EqualFold(end, ".pdf") {
		return fmt.Errorf("%s: a PDF is written: expected a name that ends in .pdf", name)
	}
	return writable(name)
}

// notItself refuses to write over the toy file.
func notItself(toy, path string) error {
	if a, err := os.Stat(toy); err == nil {
		if b, err := os.Stat(path); err == nil && os.SameFile(a, b) {
			return fmt.Errorf("%s: this is the toy file itself, which would be lost", path)
		}
	}
	return nil
}

// Run writes the patterns.
func (c *patternsCmd) Run(t *terminal) error {
	if err := writesPDF(c.File, c.Out); err != nil {
		return err
	}
	toy, err := c.open(t, false)
	if err != nil {
		return err
	}
	pdf, err := toy.Patterns(c.print())
	return t.saveProved(toy, c.File, c.Out, pdf, err)
}

type stockCmd struct {
	makingArgs
	Set  []string `help:"Try another value for a size that the toys have, as --set board='18 mm'; the files stay as they are. May be given several times." placeholder:"SIZE=VALUE" sep:"none"`
	JSON bool     `help:"Print the lists, or what is wrong in a file, as JSON." name:"json" xor:"form"`
	CSV  bool     `help:"Print the lists as CSV, for a spreadsheet." name:"csv" xor:"form"`
}

// Run prints the lists. Ctrl-C ends the search for the fewest sticks with the best so far.
func (c *stockCmd) Run(t *terminal) error {
	making, _, err := c.open(t, c.Set, "", c.JSON)
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	lists, err := app.Stock(ctx, making)
	stop()
	if err != nil {
		return t.failed(err, c.JSON)
	}
	switch {
	case c.JSON:
		t.out.Write(app.StockJSON(lists))
	case c.CSV:
		csv, err := lists.CSV()
		if err != nil {
			return err
		}
		t.out.Write(csv)
	default:
		io.WriteString(t.out, lists.Text())
	}
	return nil
}

type pictureCmd struct {
	toyArgs
	Out      string `help:"The picture to write, an older one is replaced: lines as .svg or .pdf, shaded as .png." short:"o" required:"" placeholder:"OUT.svg"`
	Exploded bool   `help:"Draw the toy apart, along the ways that its pieces go on." xor:"what"`
	View     string `help:"Look from one side alone: iso, front, side or top; left out, all of them on one sheet." placeholder:"VIEW"`
	Step     *int   `help:"Draw one step, by its number in the guide: what it adds on its way to its place." placeholder:"N" xor:"what"`
	Section  string `help:"Draw a part cut through each of its holes that end in the wood." placeholder:"PART" xor:"what"`
}

// Run writes the picture.
func (c *pictureCmd) Run(t *terminal) error {
	ending := strings.ToLower(filepath.Ext(c.Out))
	if !slices.Contains(app.PictureFormats, strings.TrimPrefix(ending, ".")) || ending == "" {
		return fmt.Errorf("%s: expected a name that ends in .%s", c.Out, strings.Join(app.PictureFormats, ", ."))
	}
	o := app.Pictures{Exploded: c.Exploded, View: c.View, Section: c.Section}
	if c.Step != nil {
		if o.Step = *c.Step; o.Step < 1 {
			return fmt.Errorf("--step %d: expected the number of a step, from 1", o.Step)
		}
	}
	switch {
	case o.Step > 0 && c.View != "":
		return errors.New("--view and --step exclude each other: a step is seen from where it shows")
	case o.Section != "" && c.View != "":
		return errors.New("--view and --section exclude each other: a section is seen along its holes")
	}
	if err := writable(c.Out); err != nil {
		return err
	}
	toy, err := c.open(t, false)
	if err != nil {
		return err
	}
	pic, err := toy.Picture(ending[1:], o)
	return t.save(c.File, c.Out, pic, err)
}

// save writes an output to its file and says so. The toy's own file is never
// written over.
func (t *terminal) save(toy, path string, data []byte, err error) error {
	if err != nil {
		return t.failed(err, false)
	}
	if err := notItself(toy, path); err != nil {
		return err
	}
	if err := writeFile(path, data, true); err != nil {
		return err
	}
	fmt.Fprintf(t.out, "wrote %s (%d KB)\n", path, (len(data)+1023)/1024)
	return nil
}

// saveProved is save for what wood is cut by: it says as well if the toy is not right yet.
// The file is written all the same, so this is no failure of the command.
func (t *terminal) saveProved(toy *app.Toy, file, path string, data []byte, err error) error {
	if err := t.save(file, path, data, err); err != nil {
		return err
	}
	t.unproved(toy, file)
	return nil
}

// unproved says if a toy is not right yet.
func (t *terminal) unproved(toy *app.Toy, file string) {
	if says := toy.Unproved(); says != "" {
		fmt.Fprintf(t.err, "%s: %s\nsee dryfit prove %[1]s\n", file, says)
	}
}

// failed shows problems as problems, and passes on other errors.
func (t *terminal) failed(err error, asJSON bool) error {
	var probs source.Problems
	if errors.As(err, &probs) {
		return t.problems(probs, asJSON)
	}
	return err
}

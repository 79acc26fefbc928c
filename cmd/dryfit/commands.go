package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/alecthomas/kong"

	"dryfit/app"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy/file"
)

// Exit codes (docs/contracts.md).
const (
	exitOK    = 0 // nothing fails and no must is left untold
	exitFails = 1 // something fails, or a must cannot be told
	exitInput = 2 // bad input or usage
	exitBug   = 3 // our own bug
)

// grammar is the whole command line.
type grammar struct {
	Open      openCmd      `cmd:"" help:"Open the toys of a folder in the browser: draw, dry-fit, print. This is done where no command is given."`
	New       newCmd       `cmd:"" help:"Start a new toy: write its file, a block on four wheels that holds, to be changed."`
	Prove     proveCmd     `cmd:"" help:"Prove a toy: does it go together, roll, turn and stand, and is it fit for a child?"`
	Solve     solveCmd     `cmd:"" help:"Find the value of a size at which a check that fails holds, and all that held still does."`
	Forgiving forgivingCmd `cmd:"" help:"Build the toy many times as others do, a little off everywhere: how often does it still work, and where to take care?"`
	Measures  measuresCmd  `cmd:"" help:"Write a sheet to put down what the finished pieces of a build measure."`
	Spreads   spreadsCmd   `cmd:"" help:"Tell from what builds measured what the builder is off by, and put it into the shop file."`
	Patterns  patternsCmd  `cmd:"" help:"Write the full-size paper patterns as PDF."`
	Guide     guideCmd     `cmd:"" help:"Write the guide to build the toy by, as PDF or as a web page."`
	Pack      packCmd      `cmd:"" help:"Write guide and patterns as one PDF, to be given away."`
	Stock     stockCmd     `cmd:"" help:"Print what to buy, saw and drill for a toy or a batch: wood, dowels, blades, bits, cost."`
	Layout    layoutCmd    `cmd:"" help:"Lay the pieces of toys on the boards you have, and draw each board to be marked out."`
	Plan      planCmd      `cmd:"" help:"Plan the work on one toy or many: when, who, what, with which tool; as text or a chart."`
	Picture   pictureCmd   `cmd:"" help:"Draw the toy: three views and an isometric, drawn apart, a step, or shaded."`
	Export    exportCmd    `cmd:"" help:"Write outlines or solids in an open format: SVG, DXF, STL, 3MF or glTF."`
	Outline   outlineCmd   `cmd:"" help:"Print the outlines of a drawing, SVG or PDF, as a toy file has them."`
	Compare   compareCmd   `cmd:"" help:"Tell what changed between two editions of a toy, for who has built the old one; prove both."`
	Adapt     adaptCmd     `cmd:"" help:"Make a toy file into one for other stock, dowels or wheels, another size or other units."`
	Rename    renameCmd    `cmd:"" help:"Give a part, size, piece or the like another name, wherever the toy file speaks of it."`
	Why       whyCmd       `cmd:"" help:"Explain a check: what it asks, how it is computed, every limit and its source."`
	Schema    schemaCmd    `cmd:"" help:"Print the JSON Schema of the toy file, the shop file or a measures file, for editors."`
	Version   versionCmd   `cmd:"" help:"Print the version."`
}

// toyArgs are the arguments of all commands that read a toy.
type toyArgs struct {
	File string   `arg:"" help:"The toy file (NAME.yaml)." name:"file"`
	Set  []string `help:"Try another value for a size of the toy, as --set board='18 mm'; the file stays as it is. May be given several times." placeholder:"SIZE=VALUE" sep:"none"`
}

// proofArgs are the arguments of all commands that prove a toy.
type proofArgs struct {
	toyArgs
	yearAndShop
}

// yearAndShop are what a toy is proved in, where its own file says nothing of it.
type yearAndShop struct {
	Climate *string `help:"The year the toy lives in: heated-room..humid-coast, air as 20C 30%..25C 60%, or the moisture of wood as 6%..11%." placeholder:"DRY..DAMP"`
	Shop    *string `help:"The file of the tools there are, where the toy's own says nothing of them; none takes no file. Left out: shop.yaml in your dryfit configuration, if it is there." placeholder:"FILE"`
}

// terminal is where a command speaks.
type terminal struct {
	out, err io.Writer
	colour   bool
}

// told is an error that has already been shown.
type told struct{ code int }

func (told) Error() string { return "told" }

func run(args []string, _ io.Reader, out, errw io.Writer) (code int) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(errw, "dryfit: this is our own mistake, not yours: %v\nplease report it with the toy file, the command and these lines:\n\n%s\n", p, debug.Stack())
			code = exitBug
		}
	}()
	var g grammar
	exit := -1
	parser, err := kong.New(&g, kong.Name("dryfit"),
		kong.Description("Take a wooden toy as work done on stock, prove it before wood is cut, and print what the shop needs."),
		kong.Writers(out, errw), kong.Exit(func(c int) { exit = c; panic(exited{}) }), kong.ConfigureHelp(kong.HelpOptions{Compact: true}))
	if err != nil {
		panic(err)
	}
	if len(args) == 0 {
		args = []string{"open"}
	}
	ctx, err := parse(parser, args)
	if exit >= 0 {
		return exit
	}
	if err != nil {
		fmt.Fprintf(errw, "dryfit: %s\n%s", usage(err.Error()), hint(err))
		return exitInput
	}
	kept := &keeper{w: out}
	err = ctx.Run(&terminal{out: kept, err: errw, colour: isTerminal(out)})
	var t told
	switch {
	case kept.err != nil:
		err = fmt.Errorf("what is printed could not be written: %v", bare(kept.err))
	case err == nil:
		return exitOK
	case errors.As(err, &t):
		return t.code
	}
	fmt.Fprintf(errw, "dryfit: %v\n", err)
	return exitInput
}

// usageWords puts what the parser of the command line says into plain words.
var usageWords = strings.NewReplacer(`expected string value but got "EOL" (<EOL>)`, "a value is missing", `missing value, expecting "<arg>"`, "a value is missing",
	"missing flags: ", "missing ", "unknown flag", "there is no", "can't be used together", "exclude each other",
	`expected "<was> <now>"`, "the two toy files are missing", `expected "<now>"`, "the toy file of the new edition is missing",
	`expected "<file> ..."`, "the toy file is missing", `expected "<file>"`, "the toy file is missing", `expected "<drawing>"`, "the drawing is missing", `expected "<name>"`, "the name of the toy is missing")

// notNumber is what the parser says of a value that should be a number.
var notNumber = regexp.MustCompile(`^(--[\w-]+): expected a (float|valid \d+ bit u?int) but got "(.*)"(?: \(\w+\))?$`)

// dashed is what it says of a value that starts with a dash.
var dashed = regexp.MustCompile(`^(--[\w-]+): expected \w+ value but got "(-[^"]*)" \((?:short|long)? ?flag\).*$`)

func usage(says string) string {
	if m := dashed.FindStringSubmatch(says); m != nil {
		if strings.Trim(m[2], "-.0123456789") == "" {
			return m[1] + " " + m[2] + ": expected a number that is not less than 0"
		}
		return m[1] + " " + m[2] + ": a value is missing"
	}
	if m := notNumber.FindStringSubmatch(says); m != nil {
		kind := "a whole number"
		if m[2] == "float" {
			kind = "a number"
		}
		return m[1] + " " + m[3] + ": expected " + kind
	}
	return usageWords.Replace(says)
}

// hint says which help to read after a mistake on the command line.
func hint(err error) string {
	command := ""
	var p *kong.ParseError
	if errors.As(err, &p) && p.Context.Selected() != nil {
		command = " " + p.Context.Selected().Name
	}
	return fmt.Sprintf("see dryfit%s --help\n", command)
}

// keeper keeps the first error of writing, so that a full disk is not taken for
// success.
type keeper struct {
	w   io.Writer
	err error
}

func (k *keeper) Write(b []byte) (int, error) {
	n, err := k.w.Write(b)
	if k.err == nil {
		k.err = err
	}
	return n, err
}

// exited unwinds from kong when it has printed help.
type exited struct{}

func parse(p *kong.Kong, args []string) (ctx *kong.Context, err error) {
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(exited); !ok {
				panic(r)
			}
		}
	}()
	if len(args) == 0 {
		args = []string{"--help"}
	}
	return p.Parse(args)
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("NO_COLOR") != "" {
		return false
	}
	st, err := f.Stat()
	return err == nil && st.Mode()&os.ModeCharDevice != 0
}

// open reads a toy, or shows its problems: as JSON where a program reads.
func (a toyArgs) open(t *terminal, asJSON bool) (*app.Toy, error) {
	return a.openWith(t, app.Options{}, asJSON)
}

func (a toyArgs) openWith(t *terminal, o app.Options, asJSON bool) (*app.Toy, error) {
	for _, s := range a.Set {
		name, value, ok := strings.Cut(s, "=")
		if !ok || strings.TrimSpace(name) == "" || strings.TrimSpace(value) == "" {
			return nil, fmt.Errorf("--set %s: expected SIZE=VALUE, as --set wheel=32mm", s)
		}
		o.Sets = append(o.Sets, file.Set{Size: strings.TrimSpace(name), Value: strings.TrimSpace(value)})
	}
	text, err := readText(a.File)
	if err != nil {
		return nil, t.unreadable(a.File, err, asJSON)
	}
	toy, probs := app.OpenWith(a.File, text, o)
	return toy, t.problems(probs, asJSON)
}

// unreadable says that a file cannot be read.
func (t *terminal) unreadable(name string, err error, asJSON bool) error {
	if asJSON {
		return t.problems(source.Problems{{Code: "unreadable-file", Says: err.Error(), File: name}}, true)
	}
	return fmt.Errorf("%s: %w", name, err)
}

func readText(name string) (string, error) {
	f, err := os.Open(name)
	if err != nil {
		return "", bare(err)
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, maxFile+1))
	if err != nil {
		return "", bare(err)
	}
	if len(b) > maxFile {
		return "", errors.New("larger than such a file can be (4 MiB)")
	}
	return string(b), nil
}

// maxFile is the largest file that is read.
const maxFile = 4 << 20

func (t *terminal) problems(probs source.Problems, asJSON bool) error {
	if len(probs) == 0 {
		return nil
	}
	if asJSON {
		t.out.Write(app.ProblemsJSON(probs))
		return told{exitInput}
	}
	fmt.Fprintln(t.err, probs.Error())
	return told{exitInput}
}

// mark colours the word of a verdict on a terminal: one accent for what fails,
// bold for what is to be read.
func (t *terminal) mark(v prove.Verdict, word string) string {
	if !t.colour {
		return word
	}
	switch v {
	case prove.Fails:
		return "\x1b[1;31m" + word + "\x1b[0m"
	case prove.Mind, prove.CannotTell:
		return "\x1b[1m" + word + "\x1b[0m"
	}
	return word
}

type proveCmd struct {
	proofArgs
	JSON    bool   `help:"Print the proof, or what is wrong in the file, as JSON." name:"json"`
	AsBuilt string `help:"Prove the toy as a build of it measured (dryfit measures)." placeholder:"MEASURES" name:"as-built"`
	Mends   bool   `help:"Offer with each finding that fails the value of a size that mends it, where one can."`
}

// Run proves a toy and prints the proof.
func (c *proveCmd) Run(t *terminal) error {
	toy, err := c.open(t, c.JSON)
	if err != nil {
		return err
	}
	if c.AsBuilt != "" {
		if c.Mends {
			return errors.New("--mends is for the drawing, --as-built for a build of it: expected one of them")
		}
		return t.asBuilt(toy, c.AsBuilt, c.JSON)
	}
	rep, probs := toy.Prove()
	if err := t.problems(probs, c.JSON); err != nil {
		return err
	}
	if c.Mends {
		if err := toy.AddMends(context.Background(), rep); err != nil {
			return err
		}
	}
	if c.JSON {
		t.out.Write(app.ReportJSON(rep))
	} else {
		io.WriteString(t.out, app.ReportText(rep, toy.Units, t.mark))
	}
	if !rep.Passes() {
		return told{exitFails}
	}
	return nil
}

type newCmd struct {
	Name  string `arg:"" help:"The name of the toy; its file is named after it, in this folder."`
	Units string `help:"The unit of the file: inch or mm." enum:"inch,mm" default:"inch"`
	app.Answers
}

var notInNames = regexp.MustCompile(`[^\p{L}\p{M}\p{N}]+`)

// longestName is the most characters that the name of a new toy may have: it has
// to fit on the edge of a pattern, and the file's name on any disk.
const longestName = 60

// Run writes the file of a new toy.
func (c *newCmd) Run(t *terminal) error {
	name := strings.Join(strings.Fields(c.Name), " ")
	slug := strings.Trim(notInNames.ReplaceAllString(strings.ToLower(name), "-"), "-")
	if utf8.RuneCountInString(name) > longestName {
		return fmt.Errorf("the name of a toy can have %d characters, not %d", longestName, utf8.RuneCountInString(name))
	}
	path := slug + ".yaml"
	units, _ := measure.ParseUnit(c.Units)
	text, err := app.BeginWith(name, units, c.Answers)
	if err != nil {
		return err
	}
	if toy, probs := app.Open(path, text, nil, nil); slug == "" || len(probs) > 0 || toy.Name != name || strings.ContainsFunc(name, unprintable) {
		return fmt.Errorf("%q cannot name a toy: use letters, digits and blanks", c.Name)
	}
	if _, err := os.Lstat(path); err == nil {
		return fmt.Errorf("%s: %w", path, errExists)
	}
	if err := writeFile(path, []byte(text), false); err != nil {
		return err
	}
	fmt.Fprintf(t.out, "wrote %s: prove it with\n  dryfit prove %s\n", path, path)
	return nil
}

func unprintable(c rune) bool { return c == utf8.RuneError || !unicode.IsPrint(c) }

type schemaCmd struct {
	Of string `arg:"" optional:"" help:"Which file: toy, shop or measures; left out: toy." enum:"toy,shop,measures" default:"toy"`
}

// Run prints the JSON Schema.
func (c schemaCmd) Run(t *terminal) error {
	schema := file.Schema
	switch c.Of {
	case "shop":
		schema = file.ShopSchema
	case "measures":
		schema = file.MeasuresSchema
	}
	b, err := schema()
	if err != nil {
		panic(err)
	}
	t.out.Write(b)
	return nil
}

type versionCmd struct{}

// Run prints the version.
func (versionCmd) Run(t *terminal) error {
	fmt.Fprintf(t.out, "dryfit %s, toy file %d\n", app.Version, file.Version)
	return nil
}

var errExists = errors.New("there is already a file of that name")

// writeFile writes a file whole or not at all: to a temporary file beside it, then
// renamed. With replace false an existing file is left as it is.
func writeFile(path string, data []byte, replace bool) error {
	if err := writeWhole(path, data, replace); err != nil {
		return fmt.Errorf("%s: cannot be written: %w", path, bare(err))
	}
	return nil
}

// bare is the cause of an error alone, without the system call and its file: who
// reports it knows the file by the name that the user gave.
func bare(err error) error {
	var p *os.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}

// writable tells before the work whether a file could be written then.
func writable(path string) error {
	tmp, err := tempBeside(path)
	if err != nil {
		return fmt.Errorf("%s: cannot be written: %w", path, bare(err))
	}
	tmp.Close()
	return os.Remove(tmp.Name())
}

// tempBeside makes the temporary file that will be renamed to a path.
func tempBeside(path string) (*os.File, error) {
	if st, err := os.Stat(path); err == nil && !st.Mode().IsRegular() {
		return nil, errors.New("there is something of that name that is not a plain file")
	}
	return os.CreateTemp(filepath.Dir(path), ".dryfit-*")
}

func writeWhole(path string, data []byte, replace bool) (err error) {
	tmp, err := tempBeside(path)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
		}
	}()
	if _, err = tmp.Write(data); err != nil {
		return err
	}
	if err = tmp.Sync(); err != nil {
		return err
	}
	if err = tmp.Close(); err != nil {
		return err
	}
	mode := os.FileMode(0o644)
	if st, err := os.Stat(path); err == nil {
		mode = st.Mode().Perm() // who may read the older file may read the new one
	}
	if err = os.Chmod(tmp.Name(), mode); err != nil {
		return err
	}
	if !replace {
		if err = os.Link(tmp.Name(), path); err == nil {
			return os.Remove(tmp.Name())
		} else if os.IsExist(err) {
			return errExists
		}
	}
	if err = os.Rename(tmp.Name(), path); err != nil {
		return err
	}
	return nil
}

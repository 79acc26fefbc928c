package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"dryfit/app"
)

type guideCmd struct {
	toyArgs
	Out   string `help:"The PDF to write, or the web page for a tablet in the shop (OUT.html); an older one is replaced." short:"o" required:"" placeholder:"OUT.pdf"`
	Paper string `help:"The paper to print on: a4 or letter." enum:"a4,letter" default:"a4"`
	careArg
}

// Run writes the guide.
func (c *guideCmd) Run(t *terminal) error {
	format := strings.ToLower(strings.TrimPrefix(filepath.Ext(c.Out), "."))
	if format == "htm" {
		format = "html"
	}
	if format != "pdf" && format != "html" {
		return fmt.Errorf("%s: a guide is a PDF or a web page: name it OUT.pdf or OUT.html", c.Out)
	}
	if err := writable(c.Out); err != nil {
		return err
	}
	toy, err := c.open(t, false)
	if err != nil {
		return err
	}
	data, err := toy.Guide(format, app.Print{Paper: c.Paper, Read: c.beside(), Care: c.Care})
	return t.saveProved(toy, c.File, c.Out, data, err)
}

type packCmd struct {
	toyArgs
	Out string `help:"The PDF to write; an older one is replaced." short:"o" required:"" placeholder:"OUT.pdf"`
	printArgs
	careArg
}

// careArg is of who is told where others go wrong.
type careArg struct {
	Care string `help:"Say in the guide where builders with that practice go wrong most: practised, fair or 'first time'; of virtual builds." placeholder:"SKILL" name:"take-care"`
}

// Run writes guide and patterns in one file.
func (c *packCmd) Run(t *terminal) error {
	if err := writesPDF(c.File, c.Out); err != nil {
		return err
	}
	toy, err := c.open(t, false)
	if err != nil {
		return err
	}
	on := c.print()
	on.Read, on.Care = c.beside(), c.Care
	pdf, err := toy.Pack(on)
	if err := t.saveProved(toy, c.File, c.Out, pdf, err); err != nil {
		return err
	}
	if len(pdf) > sendable {
		fmt.Fprintf(t.out, "this is more than the %d MB that is easily sent\n", int(sendable/1e6))
	}
	return nil
}

// sendable is the largest pack that any mail takes, in bytes.
const sendable = 5e6

// beside reads files that the toy file names: in its own folder, whatever the names or
// links in it say, for it may come from a stranger.
func (a toyArgs) beside() func(string) ([]byte, error) {
	return func(name string) ([]byte, error) {
		root, err := os.OpenRoot(filepath.Dir(a.File))
		if err != nil {
			return nil, bare(err)
		}
		defer root.Close()
		name = filepath.FromSlash(name)
		st, err := root.Stat(name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil, errors.New("there is no such file beside the toy file")
		case err != nil && bare(err).Error() == "path escapes from parent": // os.Root has no name for it
			return nil, errors.New("this leads out of the toy file's folder")
		case err != nil:
			return nil, bare(err)
		case !st.Mode().IsRegular():
			return nil, errors.New("this is not a file")
		case st.Size() > app.MostPhoto:
			return nil, fmt.Errorf("larger than a photograph can be (%d MiB)", app.MostPhoto>>20)
		}
		data, err := root.ReadFile(name)
		return data, bare(err)
	}
}

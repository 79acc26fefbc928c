package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"dryfit/app"
)

type guideCmd struct {
	toyArgs
	Out   string `help:"The PDF to write, or the web page for a tablet in the shop (OUT.html); an older one is replaced." short:"o" required:"" placeholder:"OUT.pdf"`
	Paper string `help:"The paper to print on: a4 or letter." enum:"a4,letter" default:"a4"`
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
	toy, err := c.open(t, false)
	if err != nil {
		return err
	}
	data, err := toy.Guide(format, app.Print{Paper: c.Paper})
	return t.save(c.File, c.Out, data, err)
}

type packCmd struct {
	toyArgs
	Out string `help:"The PDF to write; an older one is replaced." short:"o" required:"" placeholder:"OUT.pdf"`
	printArgs
}

// Run writes guide and patterns in one file.
func (c *packCmd) Run(t *terminal) error {
	toy, err := c.open(t, false)
	if err != nil {
		return err
	}
	pdf, err := toy.Pack(c.print())
	return t.save(c.File, c.Out, pdf, err)
}

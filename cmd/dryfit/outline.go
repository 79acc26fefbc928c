package main

import (
	"fmt"
	"io"

	"dryfit/app"
)

type outlineCmd struct {
	File  string   `arg:"" help:"The drawing: an SVG, or a PDF of lines." name:"drawing"`
	Units string   `help:"What one unit of the drawing is, where it does not say: mm, inch, or px (1/96 in)." placeholder:"UNIT"`
	Pick  []string `help:"Take the lines of this name or layer alone, measured from the largest that holds them. May be given several times." placeholder:"NAME" sep:"none"`
	As    string   `help:"The unit of the toy file that it is for: mm or inch." enum:"mm,inch" default:"mm"`
}

// Run prints the outlines of a drawing.
func (c *outlineCmd) Run(t *terminal) error {
	data, err := readText(c.File)
	if err != nil {
		return t.unreadable(c.File, err, false)
	}
	text, notes, err := app.Outline([]byte(data), app.Outlines{Units: c.Units, Pick: c.Pick, As: c.As})
	for _, n := range notes {
		fmt.Fprintf(t.err, "%s: %s\n", c.File, n)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	io.WriteString(t.out, text)
	return nil
}

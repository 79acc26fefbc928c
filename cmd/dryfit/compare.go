package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"dryfit/app"
	"dryfit/measure"
)

type compareCmd struct {
	Was   string   `arg:"" help:"The toy file of the edition that was built." name:"was"`
	Now   string   `arg:"" help:"The toy file of the new edition; with --set it may be the same." name:"now"`
	Set   []string `help:"Try another value for a size of the new edition, as --set board='18 mm'; the file stays as it is. May be given several times." placeholder:"SIZE=VALUE" sep:"none"`
	Units string   `help:"What lengths are said in: mm or inch; left out: as in the new file." placeholder:"UNITS"`
	yearAndShop
	Out   string `help:"Draw each part that changed, the old outline dashed and the new one solid: pages as .pdf, or one picture as .svg; an older file is replaced." short:"o" placeholder:"OUT.pdf"`
	Paper string `help:"The paper of the drawings: a4, a3, letter, legal or tabloid." default:"a4" placeholder:"PAPER"`
	JSON  bool   `help:"Print what changed, or what is wrong in a file, as JSON." name:"json"`
}

// Run compares two editions of a toy.
func (c *compareCmd) Run(t *terminal) error {
	ending := strings.TrimPrefix(strings.ToLower(filepath.Ext(c.Out)), ".")
	if c.Out != "" && !slices.Contains(app.CompareFormats, ending) {
		return fmt.Errorf("%s: expected a name that ends in .%s", c.Out, strings.Join(app.CompareFormats, " or ."))
	}
	if _, ok := measure.ParseUnit(c.Units); !ok && c.Units != "" {
		return fmt.Errorf("--units %s: expected mm or inch", c.Units)
	}
	if err := app.CheckComparePaper(app.Print{Paper: c.Paper}); err != nil {
		return err
	}
	o, err := c.options(t, c.JSON)
	if err != nil {
		return err
	}
	o.Units = c.Units
	now, err := toyArgs{File: c.Now, Set: c.Set}.openWith(t, o, c.JSON)
	if err != nil {
		return err
	}
	o.Units = now.Units.String()
	was, err := toyArgs{File: c.Was}.openWith(t, o, c.JSON)
	if err != nil {
		return err
	}
	if c.Out != "" {
		for _, name := range []string{c.Was, c.Now} {
			if err := notItself(name, c.Out); err != nil {
				return err
			}
		}
		if err := writable(c.Out); err != nil {
			return err
		}
	}
	found, err := app.Compare(was, now)
	if err != nil {
		return t.failed(err, c.JSON)
	}
	if c.JSON {
		t.out.Write(found.JSON())
	} else {
		io.WriteString(t.out, found.Text())
	}
	if c.Out != "" {
		drawn, err := found.Draw(ending, app.Print{Paper: c.Paper})
		if err != nil {
			return err
		}
		said := *t
		if c.JSON {
			said.out = io.Discard
		}
		if err := said.save(c.Now, c.Out, drawn, nil); err != nil {
			return err
		}
	}
	if !found.Passes() {
		return told{exitFails}
	}
	return nil
}

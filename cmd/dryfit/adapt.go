package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"

	"dryfit/app"
)

type adaptCmd struct {
	File    string   `arg:"" help:"The toy file (NAME.yaml)." name:"file"`
	Stock   []string `help:"Another thickness, wood or both for a stock, as beech=18mm or beech='18mm oak'. May be given several times." placeholder:"NAME=VALUE" sep:"none"`
	Dowel   []string `help:"Another diameter for all dowels, or for one stock, as rod=6mm. May be given several times." placeholder:"[NAME=]DIAMETER" sep:"none"`
	Wheel   []string `help:"Another diameter for all wheels on axles, or for one part, as wheel=32mm; bores follow the axles. May be given several times." placeholder:"[NAME=]DIAMETER" sep:"none"`
	Units   string   `help:"The units that the file is to be in: inch or mm." placeholder:"UNIT"`
	Scale   *float64 `help:"Make the toy larger or smaller by this factor: stock, dowels and bought wheels come in what is sold, clearances stay." placeholder:"FACTOR"`
	Mend    bool     `help:"Make the mends of what no longer holds, where single sizes can; else they are offered."`
	Out     string   `help:"Write the adapted toy to this file; left out: only tell what would change." short:"o" placeholder:"NEW.yaml"`
	Climate *string  `help:"The year the toy lives in, as for prove." placeholder:"DRY..DAMP"`
	Shop    *string  `help:"The file of the tools there are, as for prove." placeholder:"FILE"`
	JSON    bool     `help:"Print what changed, or what is wrong, as JSON." name:"json"`
}

// Run adapts a toy to other stock, size or units and tells what changed and what no longer holds.
func (c *adaptCmd) Run(t *terminal) error {
	spec := app.Spec{Stock: c.Stock, Dowels: c.Dowel, Wheels: c.Wheel, Units: c.Units}
	if c.Scale != nil {
		if spec.Scale = *c.Scale; spec.Scale == 0 {
			return errors.New("--scale 0: expected a number from 0.1 to 10")
		}
	} else if len(c.Stock)+len(c.Dowel)+len(c.Wheel) == 0 && c.Units == "" {
		return errors.New("it is not said what to adapt the toy to: expected --stock, --dowel, --wheel, --units or --scale")
	}
	text, err := readText(c.File)
	if err != nil {
		return t.unreadable(c.File, err, c.JSON)
	}
	if c.Out != "" {
		if err := writable(c.Out); err != nil {
			return err
		}
		if sameFile(c.File, c.Out) {
			return fmt.Errorf("%s: the adapted toy would take the place of the one it is made from: expected another file", c.Out)
		}
	}
	o, err := proofArgs{yearAndShop: yearAndShop{c.Climate, c.Shop}}.options(t, c.JSON)
	if err != nil {
		return err
	}
	a, err := app.Adapt(context.Background(), c.File, text, spec, o, c.Mend, func(says string) { fmt.Fprintf(t.err, "dryfit: %s\n", says) })
	if err != nil {
		return t.failed(err, c.JSON)
	}
	if c.Out != "" {
		if err := writeFile(c.Out, []byte(a.Text), true); err != nil {
			return err
		}
	}
	if c.JSON {
		t.out.Write(a.JSON())
	} else {
		io.WriteString(t.out, a.Report())
		if c.Out != "" {
			fmt.Fprintf(t.out, "wrote %s\n", c.Out)
		}
	}
	if !a.Holds {
		return told{exitFails}
	}
	return nil
}

// sameFile tells whether two names are of one file.
func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

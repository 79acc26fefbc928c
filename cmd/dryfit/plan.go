package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"dryfit/app"
)

type planCmd struct {
	Files   []string `arg:"" help:"The toy files (NAME.yaml), one or several." name:"file"`
	Count   int      `help:"How many of each toy are made." default:"1" placeholder:"N"`
	Hands   string   `help:"Who works, by commas: adult, child (of 8), child=11, or names of hands in the shop file. Left out: those of the shop file, or one adult." placeholder:"WHO"`
	Session string   `help:"How long is worked in one go, each on a day of its own, as 3h; left out: without breaks." placeholder:"TIME"`
	Shop    *string  `help:"The file of your shop: tools, clamps, hands, durations; none takes no file. Left out: shop.yaml in your dryfit configuration, if it is there." placeholder:"FILE"`
	Out     string   `help:"Draw the plan instead: OUT.pdf or OUT.svg; an older one is replaced." short:"o" placeholder:"OUT"`
	Paper   string   `help:"The paper of a drawn plan: a4, a3, letter, legal or tabloid; left out: a4, or letter for toys in inches." placeholder:"PAPER"`
	JSON    bool     `help:"Print the plan, or what is wrong in a file, as JSON." name:"json"`
}

// Run plans toys, and prints or draws it.
func (c *planCmd) Run(t *terminal) error {
	format := strings.ToLower(strings.TrimPrefix(filepath.Ext(c.Out), "."))
	switch {
	case c.Out != "" && c.JSON:
		return errors.New("-o and --json exclude each other: the JSON is what is printed")
	case c.Out != "" && !slices.Contains(app.PlanFormats, format):
		return fmt.Errorf("%s: a plan is drawn as PDF or SVG: name it OUT.pdf or OUT.svg", c.Out)
	case c.Count < 1:
		return fmt.Errorf("--count %d: expected 1 or more", c.Count)
	}
	own, err := proofArgs{Shop: c.Shop}.ownShop(t, c.JSON)
	if err != nil {
		return err
	}
	var toys []*app.Toy
	for _, name := range c.Files {
		if err := notItself(name, c.Out); c.Out != "" && err != nil {
			return err
		}
		toy, err := toyArgs{File: name}.openWith(t, app.Options{Shop: own}, c.JSON)
		if err != nil {
			return err
		}
		toys = append(toys, toy)
	}
	p, err := app.Plan(context.Background(), toys, app.Plans{Count: c.Count, Hands: c.Hands, Session: c.Session, Shop: own})
	switch {
	case err != nil:
		return t.failed(err, c.JSON)
	case c.JSON:
		t.out.Write(app.PlanJSON(p))
	case c.Out == "":
		io.WriteString(t.out, p.Text())
	default:
		data, err := app.PlanChart(p, toys, format, app.Print{Paper: c.Paper})
		return t.save(c.Files[0], c.Out, data, err)
	}
	return nil
}

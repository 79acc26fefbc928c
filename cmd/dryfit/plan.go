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
)

type planCmd struct {
	makingArgs
	Hands   string `help:"Who works, by commas: adult, child (of 8), child=11, or names of hands in the shop file. Left out: those of the shop file, or one adult." placeholder:"WHO"`
	Session string `help:"How long is worked in one go, each on a day of its own, as 3h; left out: without breaks." placeholder:"TIME"`
	Out     string `help:"Draw the plan instead: OUT.pdf or OUT.svg; an older one is replaced." short:"o" placeholder:"OUT"`
	Paper   string `help:"The paper of a drawn plan: a4, a3, letter, legal or tabloid; left out: a4, or letter for toys in inches." placeholder:"PAPER"`
	JSON    bool   `help:"Print the plan, or what is wrong in a file, as JSON." name:"json"`
}

// Run plans toys, and prints or draws it. Ctrl-C ends the search with the best plan so far.
func (c *planCmd) Run(t *terminal) error {
	format := strings.ToLower(strings.TrimPrefix(filepath.Ext(c.Out), "."))
	switch {
	case c.Out != "" && c.JSON:
		return errors.New("-o and --json exclude each other: the JSON is what is printed")
	case c.Out != "" && !slices.Contains(app.PlanFormats, format):
		return fmt.Errorf("%s: a plan is drawn as PDF or SVG: name it OUT.pdf or OUT.svg", c.Out)
	}
	making, own, err := c.open(t, nil, c.Out, c.JSON)
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	p, err := app.Plan(ctx, making, app.Plans{Hands: c.Hands, Session: c.Session, Shop: own})
	stop()
	switch {
	case err != nil:
		return t.failed(err, c.JSON)
	case c.JSON:
		t.out.Write(app.PlanJSON(p))
	case c.Out == "":
		io.WriteString(t.out, p.Text())
	default:
		data, err := app.PlanChart(p, making[0].Toy.Units, format, app.Print{Paper: c.Paper})
		return t.save(c.Files[0], c.Out, data, err)
	}
	return nil
}

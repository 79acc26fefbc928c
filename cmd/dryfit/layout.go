package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"dryfit/app"
	"dryfit/shop/boards"
)

type layoutCmd struct {
	makingArgs
	Out     string  `help:"Draw it: pages as .pdf, or one picture as .svg; an older file is replaced." short:"o" placeholder:"OUT.pdf"`
	Seconds float64 `help:"How long to look for fewer boards." default:"5" placeholder:"N"`
	Seed    uint64  `help:"Another seed may find another layout." default:"1" placeholder:"N"`
	Paper   string  `help:"The paper of the pages: a4, a3, letter, legal or tabloid." default:"a4" placeholder:"PAPER"`
	JSON    bool    `help:"Print the layout, or what is wrong in a file, as JSON." name:"json"`
}

// perRound is how many of the seconds one more round of the search is for.
const perRound = 1

// Run lays the pieces of toys on boards. Ctrl-C ends the search with the best so far.
func (c *layoutCmd) Run(t *terminal) error {
	ending := strings.TrimPrefix(strings.ToLower(filepath.Ext(c.Out)), ".")
	switch {
	case c.Out != "" && !slices.Contains(app.LayoutFormats, ending):
		return fmt.Errorf("%s: expected a name that ends in .%s", c.Out, strings.Join(app.LayoutFormats, " or ."))
	case !(c.Seconds > 0 && c.Seconds <= 3600):
		return fmt.Errorf("--seconds %g: expected more than 0, and up to 3600", c.Seconds)
	}
	if err := app.CheckLayoutPaper(app.Print{Paper: c.Paper}); err != nil {
		return err
	}
	making, shop, err := c.open(t, nil, c.Out, c.JSON)
	if err != nil {
		return err
	}
	e := boards.Effort{Seed: c.Seed, Hands: 2, Rounds: 1 + int(c.Seconds/perRound), Time: time.Duration(c.Seconds * float64(time.Second))}
	if isTerminal(t.err) {
		e.Progress = func(says string) { fmt.Fprintf(t.err, "laying %s\n", says) }
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	plan, err := app.Layout(ctx, making, shop, e)
	stop()
	if err != nil {
		return t.failed(err, c.JSON)
	}
	if c.JSON {
		t.out.Write(app.LayoutJSON(plan))
	} else {
		io.WriteString(t.out, plan.Text())
	}
	if c.Out == "" {
		return nil
	}
	drawn, err := app.DrawLayout(plan, ending, app.Print{Paper: c.Paper})
	if err != nil {
		return err
	}
	said := *t
	if c.JSON {
		said.out = io.Discard
	}
	return said.save(c.Files[0], c.Out, drawn, nil)
}

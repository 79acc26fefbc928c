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
	"time"

	"dryfit/app"
	"dryfit/shop/boards"
)

type layoutCmd struct {
	Files   []string `arg:"" help:"The toy files (NAME.yaml)." name:"file"`
	Shop    *string  `help:"The file of the boards there are and can be bought; none takes no file, and says what to buy. Left out: shop.yaml in your dryfit configuration, if it is there." placeholder:"FILE"`
	Count   int      `help:"How many of each toy." default:"1" placeholder:"N"`
	Out     string   `help:"Draw it: pages as .pdf, or one picture as .svg; an older file is replaced." short:"o" placeholder:"OUT.pdf"`
	Seconds float64  `help:"How long to look for fewer boards." default:"5" placeholder:"N"`
	Seed    uint64   `help:"Another seed may find another layout." default:"1" placeholder:"N"`
	Paper   string   `help:"The paper of the pages: a4, a3, letter, legal or tabloid." default:"a4" placeholder:"PAPER"`
	JSON    bool     `help:"Print the layout, or what is wrong in a file, as JSON." name:"json"`
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
	shop, err := proofArgs{Shop: c.Shop}.ownShop(t, c.JSON)
	if err != nil {
		return err
	}
	var toys []*app.Toy
	for _, name := range c.Files {
		toy, err := toyArgs{File: name}.open(t, c.JSON)
		if err != nil {
			return err
		}
		toys = append(toys, toy)
	}
	e := boards.Effort{Seed: c.Seed, Hands: 2, Rounds: 1 + int(c.Seconds/perRound), Time: time.Duration(c.Seconds * float64(time.Second))}
	if isTerminal(t.err) {
		e.Progress = func(says string) { fmt.Fprintf(t.err, "laying %s\n", says) }
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	plan, err := app.Layout(ctx, toys, c.Count, shop, e)
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
	for _, name := range c.Files[1:] {
		if same, err := sameFile(name, c.Out); err == nil && same {
			return errors.New(c.Out + ": this is a toy file itself, which would be lost")
		}
	}
	said := *t
	if c.JSON {
		said.out = io.Discard
	}
	return said.save(c.Files[0], c.Out, drawn, nil)
}

func sameFile(a, b string) (bool, error) {
	x, err := os.Stat(a)
	if err != nil {
		return false, err
	}
	y, err := os.Stat(b)
	if err != nil {
		return false, err
	}
	return os.SameFile(x, y), nil
}

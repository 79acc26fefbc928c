package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"

	"dryfit/app"
)

type forgivingCmd struct {
	proofArgs
	Skill  string `help:"How much practice the builders have: practised, fair or 'first time'; left out: as the shop file says, or fair."`
	Builds int    `help:"How many virtual builds are made." default:"1000"`
	Seed   uint64 `help:"Another number makes other builds." default:"1"`
	JSON   bool   `help:"Print what is found, or what is wrong in the file, as JSON." name:"json"`
}

// Run makes virtual builds. What is found so far is said on the way where somebody watches, and
// Ctrl-C ends it with what it has.
func (c *forgivingCmd) Run(t *terminal) error {
	toy, err := c.open(t, c.JSON)
	if err != nil {
		return err
	}
	if c.Builds <= 0 {
		return errors.New("--builds: expected a whole number above 0")
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	b := app.Builders{Skill: c.Skill, Builds: c.Builds, Seed: c.Seed}
	if isTerminal(t.err) {
		b.Progress = func(f *app.Forgiving) { fmt.Fprintln(t.err, f.Line()) }
	}
	f, err := toy.Forgiving(ctx, b)
	switch {
	case err != nil && ctx.Err() == nil:
		return t.failed(err, c.JSON)
	case c.JSON:
		t.out.Write(f.JSON())
	default:
		io.WriteString(t.out, f.Text())
	}
	return nil
}

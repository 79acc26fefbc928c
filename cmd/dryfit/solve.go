package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strconv"
	"strings"

	"dryfit/app"
)

type solveCmd struct {
	proofArgs
	Check     string   `help:"The check that is to hold, as move.wheels." xor:"what" required:"" placeholder:"CHECK"`
	Forgiving string   `help:"Find sizes, several if need be, at which the toy surely works in that share of virtual builds, as 90%." xor:"what" required:"" placeholder:"SHARE"`
	About     string   `help:"Mend only this finding of the check, as axle.2; left out: all that fail." placeholder:"PIECE"`
	Size      []string `help:"The size that may change; left out: any one. With --forgiving it may be given several times." placeholder:"NAME" sep:"none"`
	Skill     string   `help:"With --forgiving: how much practice the builders have: practised, fair or 'first time'; left out: as the shop file says, or fair."`
	Builds    int      `help:"With --forgiving: how many virtual builds are made." default:"1000"`
	Seed      uint64   `help:"With --forgiving: another number makes other builds." default:"1"`
	Out       string   `short:"o" help:"With --forgiving: the file to write the toy to with its new sizes." placeholder:"NEW"`
	JSON      bool     `help:"Print what is found, or what is wrong in the file, as JSON." name:"json"`
}

// Run looks for the value of a size at which a check holds.
func (c *solveCmd) Run(t *terminal) error {
	toy, err := c.open(t, c.JSON)
	if err != nil {
		return err
	}
	if c.Forgiving != "" {
		return c.forgiving(t, toy)
	}
	size := ""
	switch {
	case len(c.Size) > 1:
		return errors.New("--size: with --check one size is looked for: expected one name")
	case c.Out != "":
		return errors.New("-o goes with --forgiving: a single size is told, and you write it")
	case len(c.Size) == 1:
		size = c.Size[0]
	}
	s, err := toy.Solve(context.Background(), app.Ask{Check: c.Check, About: c.About, Size: size})
	switch {
	case err != nil:
		return t.failed(err, c.JSON)
	case c.JSON:
		t.out.Write(s.JSON())
	default:
		io.WriteString(t.out, s.Text())
	}
	if !s.Found() {
		return told{exitFails}
	}
	return nil
}

// share reads 90% or 0.9.
func share(says string) (float64, error) {
	text, percent := strings.CutSuffix(strings.TrimSpace(says), "%")
	x, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if percent {
		x /= 100
	}
	if err != nil || !(x > 0 && x < 1) {
		return 0, fmt.Errorf("--forgiving %s: expected a share of builds below all of them, as 90%%", says)
	}
	return x, nil
}

// forgiving looks for sizes at which the toy works for a share of its builders.
func (c *solveCmd) forgiving(t *terminal, toy *app.Toy) error {
	want, err := share(c.Forgiving)
	switch {
	case err != nil:
		return err
	case c.About != "":
		return errors.New("--about goes with --check: --forgiving asks that nothing fails")
	case c.Builds <= 0:
		return errors.New("--builds: expected a whole number above 0")
	case c.Out != "":
		if err := notItself(c.File, c.Out); err != nil {
			return err
		}
		if err := writable(c.Out); err != nil {
			return err
		}
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	b := app.Builders{Skill: c.Skill, Builds: c.Builds, Seed: c.Seed}
	if isTerminal(t.err) {
		b.Progress = func(f *app.Forgiving) { fmt.Fprintln(t.err, f.Line()) }
	}
	f, err := toy.Forgive(ctx, want, c.Size, b)
	if err != nil {
		return t.failed(err, c.JSON)
	}
	if c.Out != "" && f.Found {
		if err := writeFile(c.Out, []byte(f.Text), true); err != nil {
			return err
		}
	}
	if c.JSON {
		t.out.Write(f.JSON())
	} else {
		io.WriteString(t.out, f.Report())
		if c.Out != "" && f.Found {
			fmt.Fprintf(t.out, "wrote %s\n", c.Out)
		}
	}
	if !f.Found {
		return told{exitFails}
	}
	return nil
}

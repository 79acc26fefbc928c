package main

import (
	"errors"
	"fmt"
	"path/filepath"

	"dryfit/app"
	"dryfit/measure/source"
)

type renameCmd struct {
	File string `arg:"" help:"The toy file (NAME.yaml)." name:"file"`
	Old  string `arg:"" help:"What has the name now: a size, stock, a part, a glue-up, a piece or a hinge. Where several things have it, with its kind: sizes.wheel, stock.rod, parts.wheel, glue-ups.coach, pieces.crate.2, hinges.tip." name:"old"`
	New  string `arg:"" help:"The new name: letters a to z, digits and hyphens, a letter first." name:"new"`
	Out  string `help:"Write this file, and leave the toy file as it is." short:"o" placeholder:"OUT.yaml"`
}

// Run renames something in a toy file, and prints each place.
func (c *renameCmd) Run(t *terminal) error {
	text, err := readText(c.File)
	if err != nil {
		return t.unreadable(c.File, err, false)
	}
	r, err := app.Rename(source.New(c.File, text), c.Old, c.New)
	var probs source.Problems
	switch {
	case errors.As(err, &probs):
		return t.problems(probs, false)
	case err != nil:
		return fmt.Errorf("%s: %w", c.File, err)
	}
	out, to := c.Out, c.Out
	if out == "" {
		out = c.File
		if to, err = filepath.EvalSymlinks(out); err != nil { // a link to the file stays one
			return t.unreadable(out, bare(err), false)
		}
	}
	if r.Text != text || c.Out != "" {
		if err := writeFile(to, []byte(r.Text), true); err != nil {
			return err
		}
	}
	for _, w := range r.Written {
		fmt.Fprintf(t.out, "%s:%d: %s is %s\n", out, w.Line, w.Was, w.Now)
	}
	places := "in 1 place"
	if n := len(r.Written); n != 1 {
		places = fmt.Sprintf("in %d places", n)
	}
	if r.Text == text {
		fmt.Fprintf(t.out, "the %s %s has that name already\n", r.What.Kind, r.What.Text)
		return nil
	}
	fmt.Fprintf(t.out, "the %s %s is called %s now, %s\n", r.What.Kind, r.What.Text, r.To, places)
	return nil
}

package main

import (
	"fmt"
	"io"

	"dryfit/app"
)

type whyCmd struct {
	Check string `arg:"" optional:"" help:"The check, as fit.reach; left out: a list of all."`
}

// Run explains a check, or lists all.
func (c *whyCmd) Run(t *terminal) error {
	if c.Check == "" {
		io.WriteString(t.out, app.WhyAll())
		return nil
	}
	text, near, ok := app.Why(c.Check)
	if !ok {
		return noCheck(c.Check, near)
	}
	io.WriteString(t.out, text)
	return nil
}

// noCheck says that there is no such check, and which may be meant.
func noCheck(id, near string) error { return noSuch("check", id, near, "dryfit why lists them") }

func noSuch(what, name, near, list string) error {
	if near != "" {
		return fmt.Errorf("there is no %s %q; did you mean %s?", what, name, near)
	}
	return fmt.Errorf("there is no %s %q: %s", what, name, list)
}

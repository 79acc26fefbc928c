package main

import (
	"context"
	"io"

	"dryfit/app"
)

type solveCmd struct {
	proofArgs
	Check string `help:"The check that is to hold, as move.wheels." required:"" placeholder:"CHECK"`
	About string `help:"Mend only this finding of the check, as axle.2; left out: all that fail." placeholder:"PIECE"`
	Size  string `help:"The size that may change; left out: any one." placeholder:"NAME"`
	JSON  bool   `help:"Print what is found, or what is wrong in the file, as JSON." name:"json"`
}

// Run looks for the value of a size at which a check holds.
func (c *solveCmd) Run(t *terminal) error {
	toy, err := c.open(t, c.JSON)
	if err != nil {
		return err
	}
	s, err := toy.Solve(context.Background(), app.Ask{Check: c.Check, About: c.About, Size: c.Size})
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

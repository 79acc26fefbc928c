package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"

	"dryfit/app"
)

type measuresCmd struct {
	toyArgs
	Out string `short:"o" help:"The file to write; left out: print it." placeholder:"FILE"`
}

// Run writes a measures file to be filled in.
func (c *measuresCmd) Run(t *terminal) error {
	toy, err := c.openWith(t, app.Options{}, false)
	if err != nil {
		return err
	}
	text, probs := toy.MeasuresSheet()
	if err := t.problems(probs, false); err != nil {
		return err
	}
	if c.Out == "" {
		io.WriteString(t.out, text)
		return nil
	}
	if err := writeFile(c.Out, []byte(text), false); err != nil { // what was filled in is never lost
		return err
	}
	fmt.Fprintf(t.out, "wrote %s\n", c.Out)
	return nil
}

// measured reads what a build of a toy measured.
func (t *terminal) measured(toy *app.Toy, name string, asJSON bool) (*app.Measured, error) {
	text, err := readText(name)
	if err != nil {
		return nil, t.unreadable(name, err, asJSON)
	}
	b, err := toy.ReadMeasures(name, text)
	if err != nil {
		return nil, t.failed(err, asJSON)
	}
	return b, nil
}

// asBuilt proves a toy with what a build of it measured.
func (t *terminal) asBuilt(toy *app.Toy, name string, asJSON bool) error {
	b, err := t.measured(toy, name, asJSON)
	if err != nil {
		return err
	}
	a, err := toy.ProveBuilt(b)
	switch {
	case err != nil:
		return t.failed(err, asJSON)
	case asJSON:
		t.out.Write(a.JSON())
	default:
		io.WriteString(t.out, a.Text())
	}
	if !a.Passes() {
		return told{exitFails}
	}
	return nil
}

type spreadsCmd struct {
	File     string   `arg:"" help:"The toy file (NAME.yaml)." name:"file"`
	Measures []string `arg:"" help:"What builds of it measured (dryfit measures)." name:"measures"`
	Skill    string   `help:"How much practice the builder has, for what was not measured often: practised, fair or 'first time'." default:"fair"`
	Out      string   `short:"o" help:"The shop file that it is written into; all else of it stays. Left out: only print it." placeholder:"SHOP"`
	JSON     bool     `help:"Print what is found, or what is wrong in a file, as JSON." name:"json"`
}

// Run gathers what a builder is off by.
func (c *spreadsCmd) Run(t *terminal) error {
	toy, err := toyArgs{File: c.File}.openWith(t, app.Options{}, c.JSON)
	if err != nil {
		return err
	}
	var builds []*app.Measured
	for _, name := range c.Measures {
		b, err := t.measured(toy, name, c.JSON)
		if err != nil {
			return err
		}
		builds = append(builds, b)
	}
	s, err := toy.Spreads(builds, c.Skill)
	if err != nil {
		return t.failed(err, c.JSON)
	}
	if c.Out != "" {
		text, err := readText(c.Out)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return t.unreadable(c.Out, err, c.JSON)
		}
		if text, err = s.Into(c.Out, text); err != nil {
			return t.failed(err, c.JSON)
		}
		if err := writeFile(c.Out, []byte(text), true); err != nil {
			return err
		}
	}
	if c.JSON {
		t.out.Write(s.JSON())
		return nil
	}
	io.WriteString(t.out, s.Text())
	if c.Out != "" {
		fmt.Fprintf(t.out, "wrote %s\n", c.Out)
	}
	return nil
}

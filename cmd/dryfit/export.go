package main

import (
	"fmt"
	"os"
	"path/filepath"
)

type exportCmd struct {
	toyArgs
	To  string `help:"The format: svg or dxf (outlines of each part, in mm), stl (each part as a solid), 3mf (the toy as solids with names), glb (the toy with its moves)." required:"" enum:"svg,dxf,stl,3mf,glb" placeholder:"FORMAT"`
	Out string `help:"The folder to write to; it is made if it is not there." short:"o" required:"" placeholder:"DIR"`
}

// Run writes the toy in an open format.
func (c *exportCmd) Run(t *terminal) error {
	toy, err := c.open(t, false)
	if err != nil {
		return err
	}
	files, err := toy.Export(c.To)
	if err != nil {
		return t.failed(err, false)
	}
	if err := os.MkdirAll(c.Out, 0o777); err != nil {
		return fmt.Errorf("%s: the folder cannot be made: %w", c.Out, bare(err))
	}
	for _, f := range files {
		if err := t.save(c.File, filepath.Join(c.Out, f.Name), f.Bytes, nil); err != nil {
			return err
		}
	}
	return nil
}

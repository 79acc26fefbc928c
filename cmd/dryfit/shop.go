package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"dryfit/app"
	"dryfit/toy"
)

// noShop is the word of --shop that takes no file.
const noShop = "none"

// open reads a toy to be proved, with the climate and the tools that are asked for.
func (a proofArgs) open(t *terminal, asJSON bool) (*app.Toy, error) {
	var o app.Options
	if a.Climate != nil {
		if o.Climate = strings.TrimSpace(*a.Climate); o.Climate == "" {
			return nil, errors.New("--climate: expected DRY..DAMP, as --climate 6%..11%")
		}
	}
	var err error
	if o.Shop, err = t.ownShop(a.Shop, asJSON); err != nil {
		return nil, err
	}
	return a.openWith(t, o, asJSON)
}

// ownShop reads the builder's shop, of the file that --shop says: nil where there is none.
func (t *terminal) ownShop(said *string, asJSON bool) (*toy.Shop, error) {
	name := usersShop()
	if said != nil {
		name = *said
	}
	switch {
	case said == nil && name == "", said != nil && name == noShop:
		return nil, nil
	case name == "":
		return nil, errors.New("--shop: expected a file, or none")
	}
	text, err := readText(name)
	switch {
	case said == nil && errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, t.unreadable(name, err, asJSON)
	}
	shop, probs := app.ReadShop(name, text)
	return shop, t.problems(probs, asJSON)
}

// mostToys is how many of a toy are made at once.
const mostToys = 1000

// makingArgs are the arguments of all commands that make toys in a shop.
type makingArgs struct {
	Files []string `arg:"" help:"The toy files (NAME.yaml), one or several." name:"file"`
	Count int      `help:"How many of each toy are made." default:"1" placeholder:"N"`
	Shop  *string  `help:"The file of your shop: wood, prices, tools, clamps, hands, durations; none takes no file. Left out: shop.yaml in your dryfit configuration, if it is there." placeholder:"FILE"`
}

// open reads the toys and the shop, which is nil where there is no file of it. out is what will
// be written, "" for nothing: no toy file is lost to it, and no work is done for what cannot be written.
func (a makingArgs) open(t *terminal, set []string, out string, asJSON bool) (toys []*app.Toy, own *toy.Shop, err error) {
	if a.Count < 1 || a.Count > mostToys {
		return nil, nil, fmt.Errorf("--count %d: expected a number from 1 to %d", a.Count, mostToys)
	}
	if own, err = t.ownShop(a.Shop, asJSON); err != nil {
		return nil, nil, err
	}
	for _, name := range a.Files {
		if err := notItself(name, out); out != "" && err != nil {
			return nil, nil, err
		}
		toy, err := toyArgs{File: name, Set: set}.openWith(t, app.Options{Shop: own}, asJSON)
		if err != nil {
			return nil, nil, err
		}
		toys = append(toys, toy)
	}
	if out != "" {
		if err := writable(out); err != nil {
			return nil, nil, err
		}
	}
	return toys, own, nil
}

// usersShop is the shop file in the user's own configuration; "" where there is no such
// folder.
func usersShop() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "dryfit", "shop.yaml")
}

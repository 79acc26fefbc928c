package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"dryfit/app"
	"dryfit/measure"
	"dryfit/toy"
)

// noShop is the word of --shop that takes no file.
const noShop = "none"

// open reads a toy to be proved, with the climate and the tools that are asked for.
func (a proofArgs) open(t *terminal, asJSON bool) (*app.Toy, error) {
	o, err := a.options(t, asJSON)
	if err != nil {
		return nil, err
	}
	return a.openWith(t, o, asJSON)
}

// options are the climate and the tools that are asked for.
func (a proofArgs) options(t *terminal, asJSON bool) (o app.Options, err error) {
	if a.Climate != nil {
		if o.Climate = strings.TrimSpace(*a.Climate); o.Climate == "" {
			return o, errors.New("--climate: expected DRY..DAMP, as --climate 6%..11%")
		}
	}
	o.Shop, err = t.ownShop(a.Shop, asJSON)
	return o, err
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

// makingArgs are the arguments of all commands that make toys in a shop.
type makingArgs struct {
	Files []string `arg:"" help:"The toy files (NAME.yaml), one or several; one that is named twice is made twice." name:"file"`
	Count []int    `help:"How many are made: one number for all files, or one for each in their order, as --count 3,2." default:"1" placeholder:"N"`
	Units string   `help:"What sizes are said in: mm or inch; left out: as in the first toy file." placeholder:"UNITS"`
	Shop  *string  `help:"The file of your shop: wood, prices, tools, clamps, hands, durations; none takes no file. Left out: shop.yaml in your dryfit configuration, if it is there." placeholder:"FILE"`
}

// open reads the toys and the shop, which is nil where there is no file of it, and says which toys
// are not right yet. out is what will be written, "" for nothing: no toy file is lost to it,
// and no work is done for what cannot be written.
func (a makingArgs) open(t *terminal, set []string, out string, asJSON bool) (making []app.Making, own *toy.Shop, err error) {
	counts, err := a.counts()
	if err != nil {
		return nil, nil, err
	}
	if _, ok := measure.ParseUnit(a.Units); !ok && a.Units != "" {
		return nil, nil, fmt.Errorf("--units %s: expected mm or inch", a.Units)
	}
	names, counts := once(a.Files, counts)
	for i, n := range counts {
		if n > app.MostToys {
			return nil, nil, fmt.Errorf("%s: %d toys in all: expected at most %d", names[i], n, app.MostToys)
		}
	}
	if own, err = t.ownShop(a.Shop, asJSON); err != nil {
		return nil, nil, err
	}
	for i, name := range names {
		if err := notItself(name, out); out != "" && err != nil {
			return nil, nil, err
		}
		toy, err := toyArgs{File: name, Set: set}.openWith(t, app.Options{Shop: own, Units: a.Units}, asJSON)
		if err != nil {
			return nil, nil, err
		}
		making = append(making, app.Making{Toy: toy, Count: counts[i]})
	}
	if out != "" {
		if err := writable(out); err != nil {
			return nil, nil, err
		}
	}
	for i, x := range making {
		t.unproved(x.Toy, names[i])
	}
	return making, own, nil
}

// counts are how many are made of each file.
func (a makingArgs) counts() ([]int, error) {
	for _, n := range a.Count {
		if n < 1 || n > app.MostToys {
			return nil, fmt.Errorf("--count %d: expected a number from 1 to %d", n, app.MostToys)
		}
	}
	switch {
	case len(a.Count) == len(a.Files):
		return a.Count, nil
	case len(a.Count) == 1:
		return slices.Repeat(a.Count, len(a.Files)), nil
	}
	return nil, fmt.Errorf("--count has %d numbers: expected one for all files, or %d, one for each in their order", len(a.Count), len(a.Files))
}

// once names each file once, with the counts of those that are the same added up.
func once(files []string, counts []int) (names []string, sums []int) {
	same := func(a, b string) bool {
		x, errX := os.Stat(a)
		y, errY := os.Stat(b)
		return a == b || errX == nil && errY == nil && os.SameFile(x, y)
	}
	for i, f := range files {
		k := slices.IndexFunc(names, func(n string) bool { return same(n, f) })
		if k < 0 {
			names, sums = append(names, f), append(sums, counts[i])
		} else {
			sums[k] += counts[i]
		}
	}
	return names, sums
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

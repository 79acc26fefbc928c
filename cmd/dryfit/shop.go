package main

import (
	"errors"
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
	if o.Shop, err = a.ownShop(t, asJSON); err != nil {
		return nil, err
	}
	return a.openWith(t, o, asJSON)
}

// ownShop reads the builder's tools: nil where there is no file of them.
func (a proofArgs) ownShop(t *terminal, asJSON bool) (*toy.Shop, error) {
	name := usersShop()
	if a.Shop != nil {
		name = *a.Shop
	}
	switch {
	case a.Shop == nil && name == "", a.Shop != nil && name == noShop:
		return nil, nil
	case name == "":
		return nil, errors.New("--shop: expected a file, or none")
	}
	text, err := readText(name)
	switch {
	case a.Shop == nil && errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, t.unreadable(name, err, asJSON)
	}
	shop, probs := app.ReadShop(name, text)
	return shop, t.problems(probs, asJSON)
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

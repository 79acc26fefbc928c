package main

import (
	"os"
	"path/filepath"
	"testing"
)

// layout --json prints exactly what docs/contracts.md shows.
func TestLayoutJSON(t *testing.T) {
	shape := shapeOf(t, "Layout")
	root := filepath.Join("..", "..")
	tram, wagon := filepath.Join(root, "examples", "quay-tram.yaml"), filepath.Join(root, "examples", "tipping-wagon.yaml")
	for _, args := range [][]string{
		{tram, "--shop", filepath.Join(root, "examples", "shop", "quay-lane.yaml"), "--count", "3"},
		{tram, wagon, "--shop", "none"},
	} {
		code, out, errs := invoke(append([]string{"layout", "--json"}, args...)...)
		if code != exitOK || errs != "" {
			t.Fatalf("%v: exit code %d, %q", args, code, errs)
		}
		sameShape(t, "layout", shape, decoded(t, out))
	}
	if _, err := os.Stat("boards.pdf"); err == nil {
		t.Error("something was drawn that was not asked for")
	}
}

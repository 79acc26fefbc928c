package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The tram before and after a change, word by word: go test ./cmd/dryfit -run Golden -update writes
// it anew.
func TestGoldenCompare(t *testing.T) {
	tram, after := globs(t, "quay-tram.yaml")[0], filepath.Join("testdata", "compare", "quay-tram-2.yaml")
	var b strings.Builder
	for _, args := range [][]string{{tram, after}, {after, tram, "--units", "mm"}, {tram, tram}} {
		code, out, errs := invoke(append([]string{"compare", "--shop", "none"}, args...)...)
		if code != exitOK || errs != "" {
			t.Fatalf("exit code %d, %q", code, errs)
		}
		b.WriteString(out + "\n----\n\n")
	}
	golden := filepath.Join("testdata", "compare", "quay-tram.golden")
	if *update {
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got, want := b.String(), read(t, golden); got != want {
		t.Errorf("it differs from %s (-update writes it anew):\n%s", golden, firstDifference(want, got))
	}
}

// compare --json prints the shape that docs/contracts.md shows, and the exit code is that of the
// proof of the new edition.
func TestCompareJSON(t *testing.T) {
	shape := shapeOf(t, "Comparing")
	tram, wagon := globs(t, "quay-tram.yaml")[0], globs(t, "tipping-wagon.yaml")[0]
	for _, c := range []struct {
		args []string
		code int
	}{
		{[]string{tram, tram}, exitOK},
		{[]string{tram, wagon}, exitOK},
		{[]string{tram, tram, "--set", "dowel=5/16", "--set", "car=4 1/8"}, exitOK},
		{[]string{tram, tram, "--set", "running=0"}, exitFails},
		{[]string{tram, filepath.Join("testdata", "compare", "quay-tram-2.yaml")}, exitOK},
	} {
		code, out, errs := invoke(append([]string{"compare", "--json", "--shop", "none"}, c.args...)...)
		if code != c.code || errs != "" {
			t.Fatalf("%v: exit code %d, %q", c.args, code, errs)
		}
		sameShape(t, "comparison", shape, decoded(t, out))
	}
}

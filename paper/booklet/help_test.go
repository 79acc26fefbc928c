package booklet_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/assembly/assemblytest"
	"dryfit/paper/booklet"
	"dryfit/prove"
)

func example(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// books are those that were made: making one takes a proof.
var books = map[string]*booklet.Book{}

func book(t testing.TB, text string) *booklet.Book {
	t.Helper()
	if books[text] == nil {
		books[text] = fresh(t, text)
	}
	return books[text]
}

func fresh(t testing.TB, text string) *booklet.Book {
	t.Helper()
	cache := &assembly.Cache{}
	m := assemblytest.Derive(t, "toy.yaml", text, assembly.Options{Cache: cache})
	return booklet.New(m, prove.Model(m), cache)
}

// tool runs an outside program on a file; without it the test fails.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		t.Fatalf("%s is not installed: see scripts/tools.sh", name)
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

func saved(t *testing.T, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// train is a toy of 40 pieces: eight cars in a row, each with a cabin, an axle and two
// wheels.
func train(cars int) string {
	var b strings.Builder
	b.WriteString(`dryfit: 1
toy: Long train
units: mm
ages: 3 and up
ease: 1.5
stock:
  b: {wood: beech, form: board, thick: 20}
  thin: {wood: beech, form: board, thick: 8}
  rod: {wood: beech, form: dowel, dia: 6}
parts:
  frame: {from: b, blank: [60, 40], work: [{drill: {side: edge, dia: 7, named: {hole: [middle, 8]}}}]}
  cabin: {from: b, blank: [30, 40], work: [{saw: {side: edge, outline: [[0, 0], [length, 0], [length, thick, r 8], [0, thick, r 3]]}}]}
  wheel: {from: thin, disc: 30, bore: 6}
  axle: {from: rod}
build:
`)
	last := ""
	for i := 1; i <= cars; i++ {
		name := fmt.Sprintf("car-%d", i)
		if i == 1 {
			fmt.Fprintf(&b, "  - {put: frame, as: %s}\n", name)
		} else {
			fmt.Fprintf(&b, "  - {put: frame, as: %s, sits: {back: %s.front, left: %s.left, bottom: %s.bottom}, glued: yes}\n", name, last, last, last)
		}
		fmt.Fprintf(&b, "  - {put: cabin, sits: {bottom: %s.top, back: %s.back + 5, left: %s.left}, glued: yes}\n", name, name, name)
		fmt.Fprintf(&b, "  - wheels: {in: %s.hole, axle: axle, outward: [wheel], play: 1, proud: 2}\n", name)
		last = name
	}
	return b.String()
}

package pattern

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/assembly/assemblytest"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
)

// derived reads and derives a toy, which must be without problems.
func derived(t *testing.T, name, text string) *assembly.Model {
	t.Helper()
	return assemblytest.Derive(t, name, text, assembly.Options{})
}

// lopsided has no symmetry that could hide a mirror or a turn, and every kind of
// work that a pattern shows.
const lopsided = `dryfit: 1
toy: Lopsided
units: mm
stock:
  ash: {wood: ash, form: board, thick: 20}
  rod: {wood: birch, form: dowel, dia: 8}
  balls: {wood: maple, form: ball, dia: 25}
parts:
  wedge:
    from: ash
    blank: [100, 40]
    work:
      - drill: {side: face, dia: 6, depth: 10, counterbore: {dia: 12, depth: 4}, named: {near: [10, 5]}}
      - drill: {side: edge, dia: 5, lean: {toward: right, by: 10°}, named: {low: [30, 4]}}
      - drill: {side: end, dia: 4, depth: 12, at: [[6, 3], [14, 3], [22, 3]]}
      - groove: {side: other-face, from: [60, 8], to: [85, 8], wide: 8, depth: 5}
      - cut-out: {side: face, outline: {circle: [60, 25], dia: 14}}
      - saw: {side: other-edge, outline: [[0, 0], [100, 0], [100, 20, r 5], [12, 20], [0, 11]]}
      - saw: {side: face, outline: [[0, 0], [90, 0], [100, 12], [100, 40, r 9], [0, 40]]}
  long-board:
    from: ash
    blank: [460, 230]
    work:
      - drill: {side: face, dia: 7.77, row: {from: [20, 20], step: [0, 30], count: 6}}
      - drill: {side: face, dia: 8, named: {a: [100, 100], b: [110, 100], c: [120, 100], d: [110, 112], e: [110, 88]}}
      - saw: {side: face, outline: {path: "M0 0 H460 V190 A40 40 0 0 1 420 230 H0 Z"}}
  pin: {from: rod, length: 30, spare: 2}
  marble: {from: balls}
build:
  - put: wedge
  - {put: long-board, sits: {bottom: wedge.top, back: wedge.back, right: wedge.right}, glued: yes}
  - {put: marble, sits: {bottom: long-board.top, back: long-board.back, right: long-board.right}, glued: yes}
`

// papersFor are all papers for the two demo toys, and for the others one of them.
func papersFor(name string) []layout.Paper {
	all := layout.Papers()
	if name == "quay-tram" || name == "tipping-wagon" {
		return all
	}
	return all[len(name)%3*2%5 : len(name)%3*2%5+1]
}

// toys are the examples, and some that are made to be hard to draw.
func toys(t *testing.T) map[string]*assembly.Model {
	t.Helper()
	all := map[string]*assembly.Model{}
	files, _ := filepath.Glob("../../examples/*.yaml")
	more, _ := filepath.Glob("../../examples/plain/*.yaml")
	files = append(files, more...)
	if len(files) == 0 {
		t.Fatal("no examples")
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(filepath.Base(f), ".yaml")
		all[name] = derived(t, name, string(text))
	}
	all["lopsided"] = derived(t, "lopsided", lopsided)
	return all
}

// pagesOf lays the patterns of a toy out on paper.
func pagesOf(m *assembly.Model, paper layout.Paper) ([]draw.Page, []Place, error) {
	s, err := Lay(m, paper)
	return s.Pages, s.Places, err
}

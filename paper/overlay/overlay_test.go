package overlay

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/assembly/assemblytest"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/papertest"
	"dryfit/paper/pdf"
	"dryfit/prove"
	"dryfit/prove/compare"
)

// board is a toy of one board with holes through its face, its edge and, from below, not through.
func board(length, width, hole float64, face string) string {
	return fmt.Sprintf(`dryfit: 1
toy: Board
units: mm
stock:
  oak: {wood: oak, form: board, thick: 18}
parts:
  deck:
    from: oak
    blank: [%g, %g]
    work:
      - drill: {side: %s, dia: %g, depth: 10, named: {peg: [30, 20]}}
      - drill: {side: edge, dia: 6, named: {axle: [50, 9]}}
build:
  - put: deck
`, length, width, face, hole)
}

func drawn(t *testing.T, was, now string, paper layout.Paper) ([]draw.Page, *compare.Result) {
	t.Helper()
	edition := func(text string) compare.Edition {
		m := assemblytest.Derive(t, "toy.yaml", text, assembly.Options{})
		return compare.Edition{Model: m, Report: prove.Only(m, "fit.overlap")}
	}
	a, b := edition(was), edition(now)
	r := compare.Toys(a, b, measure.MM)
	pages, entries, err := Pages(r, a.Model, b.Model, func(p *compare.Piece) string { return "it changed" }, paper)
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) < 1 {
		t.Error("nothing in the outline of the file")
	}
	return pages, r
}

// seenOf gathers what is drawn on a layer: its box and line styles, and all words.
func seenOf(pages []draw.Page, layer string) (box r2.Box, lines map[draw.Line]int, words string) {
	box, lines = r2.EmptyBox(), map[draw.Line]int{}
	for _, p := range pages {
		p.Walk(func(m draw.Mark) {
			if m.Text != nil {
				words += m.Text.Says + "\n"
			}
			if m.Path != nil && m.Layer == layer {
				lines[m.Path.Line]++
				for _, r := range m.Path.Runs {
					box = box.Union(r.Bounds())
				}
			}
		})
	}
	return box, lines, words
}

// A part that fits is drawn full size with check bars, the old one dashed below the new one.
func TestFullSize(t *testing.T) {
	pages, _ := drawn(t, board(120, 60, 8, "face"), board(123, 60, 9, "face"), layout.A4)
	now, solid, words := seenOf(pages, LayerNew)
	was, dashed, _ := seenOf(pages, LayerOld)
	if w := now.Size().X; math.Abs(w-123) > tol.Page {
		t.Errorf("the new one is %g mm long, want 123", w)
	}
	if w := was.Size().X; math.Abs(w-120) > tol.Page {
		t.Errorf("the old one is %g mm long, want 120", w)
	}
	if len(solid) != 1 || solid[draw.Cut] == 0 || len(dashed) != 1 || dashed[draw.Later] == 0 {
		t.Errorf("new lines %v, old ones %v", solid, dashed)
	}
	if len(draw.Cut.Style().Dash) > 0 || len(draw.Later.Style().Dash) == 0 {
		t.Error("old and new are told apart by more than their tone: one is dashed")
	}
	for _, w := range []string{"Full size.", "100 mm", "4 in", "FACE", "EDGE", "1: peg hole 1 mm larger", "it changed"} {
		if !strings.Contains(strings.Join(strings.Fields(words), " "), w) {
			t.Errorf("the page does not say %q: %s", w, words)
		}
	}
	file, err := pdf.Write(pages, pdf.Meta{Title: "Board"})
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range papertest.Apart(papertest.Words(t, papertest.File(t, file)), papertest.Room{}) {
		t.Error(fault)
	}
}

// One that does not fit is drawn to a scale that is said.
func TestToScale(t *testing.T) {
	pages, _ := drawn(t, board(400, 60, 8, "face"), board(403, 60, 8, "face"), layout.A4)
	now, _, words := seenOf(pages, LayerNew)
	long := math.Max(now.Size().X, now.Size().Y)
	if math.Abs(long-403.0/2) > tol.Page || !strings.Contains(words, "Scale 1:2, not to cut by.") || strings.Contains(words, "Full size.") {
		t.Errorf("%g mm long: %s", long, words)
	}
}

// A blind hole is shown from the side that it is drilled from.
func TestSideOfHole(t *testing.T) {
	pages, _ := drawn(t, board(120, 60, 8, "other-face"), board(120, 60, 9, "other-face"), layout.A4)
	_, _, words := seenOf(pages, LayerNew)
	if !strings.Contains(words, "OTHER FACE") || strings.Contains(words, "\nFACE") || strings.Contains(words, "EDGE") {
		t.Errorf("%s", words)
	}
}

// Where nothing changed, the page says so, and shows no part.
func TestNothing(t *testing.T) {
	pages, r := drawn(t, board(120, 60, 8, "face"), board(120, 60, 8, "face"), layout.A4)
	box, _, words := seenOf(pages, LayerNew)
	if !r.Same || len(pages) != 1 || !box.Empty() || !strings.Contains(words, "No outline of a piece that there was has changed.") {
		t.Errorf("%d pages, %v: %s", len(pages), box, words)
	}
}

package app

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/exchange"
	"dryfit/exchange/drawing"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/toy"
)

// apart is the largest distance of one line from another, both ways.
func apart(a, b outline.Path) float64 {
	most := 0.0
	for range 2 {
		for _, v := range a.Polygon() {
			most = math.Max(most, b.DistanceTo(v))
		}
		a, b = b, a
	}
	return most
}

// closest is the least that a line is apart from lines of a drawing.
func closest(lines []drawing.Line, layer string, p outline.Path) float64 {
	least := math.Inf(1)
	for _, l := range lines {
		if layer == "" || l.Layer == layer {
			least = math.Min(least, apart(l.Path, p))
		}
	}
	return least
}

// Outlines that were exported as SVG, which xmllint finds well-formed, are read back to
// the same lines within 0.01 mm, arcs as arcs, on their layers.
func TestExportSVG(t *testing.T) {
	lines := 0
	exported(t, func(t *testing.T, toy *Toy, m *assembly.Model) {
		made, err := toy.Export("svg")
		if err != nil {
			t.Fatal(err)
		}
		outside(t, "xmllint", append([]string{"--noout"}, written(t, t.TempDir(), toy, "svg")...)...)
		sheets, err := sheets(m)
		if err != nil {
			t.Fatal(err)
		}
		for i, s := range sheets {
			d, err := drawing.SVG(made[i].Bytes, drawing.Options{})
			if err != nil {
				t.Fatal(made[i].Name, err)
			}
			if len(d.Notes) > 0 {
				t.Errorf("%s: %q", made[i].Name, d.Notes)
			}
			// The drawing is measured from the corner of its page, the sheet from its blank.
			move := outline.Shifted(d.Lines[0].Path.Bounds().Min.Sub(s.Lines[0].Path.Bounds().Min))
			for _, l := range s.Lines {
				lines++
				if off := closest(d.Lines, l.Layer, l.Path.Transform(move)); off > 0.001 { // a tenth of what is asked
					t.Errorf("%s: %s comes back %g mm off", made[i].Name, l.Name, off)
				}
			}
			steps := 0 // arcs come back whole
			for _, l := range s.Lines {
				steps -= len(l.Path.Segs)
			}
			for _, l := range d.Lines {
				steps += len(l.Path.Segs)
			}
			if steps > 0 {
				t.Errorf("%s: comes back with %d steps more", made[i].Name, steps)
			}
		}
	})
	if lines < 150 {
		t.Errorf("only %d lines in all examples", lines)
	}
}

// What is printed for a line, pasted into a toy file in mm or inches, is that line again
// within 0.01 mm.
func TestOutlinePasted(t *testing.T) {
	for _, as := range []string{"mm", "inch"} {
		pasted := 0
		exported(t, func(t *testing.T, _ *Toy, m *assembly.Model) {
			sheets, err := sheets(m)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range sheets {
				for _, l := range s.Lines {
					if l.Layer != exchange.Saw && l.Layer != exchange.CutOut {
						continue
					}
					one := exchange.SVG(exchange.Sheet{Name: s.Name, Size: s.Size, Lines: []exchange.Line{l}})
					text, notes, err := Outline(one, Outlines{As: as})
					if err != nil || len(notes) > 0 {
						t.Fatal(s.Name, l.Name, err, notes)
					}
					moved := l.Path.Transform(outline.Shifted(l.Path.Bounds().Min.Neg()))
					if off := apart(moved, readBack(t, text, as, moved.Bounds().Size())); off > 0.01 {
						t.Errorf("%s, %s: %g mm off in\n%s", s.Name, l.Name, off, text)
					}
					pasted++
				}
			}
		})
		if pasted < 40 {
			t.Errorf("only %d lines were pasted", pasted)
		}
	}
}

// readBack reads an outline as the user pastes it: below a saw, as far in.
func readBack(t *testing.T, text, units string, size r2.Vec) outline.Path {
	t.Helper()
	said := strings.ReplaceAll(strings.TrimSpace(text), "\n", "\n          ")
	yaml := fmt.Sprintf(`dryfit: 1
toy: Pasted
units: %s
stock:
  board: {wood: beech, form: board, thick: 18 mm}
parts:
  plank:
    from: board
    blank: [%g mm, %g mm]
    work:
      - cut-out:
          side: face
          %s
build:
  - put: plank
`, units, size.X+1, size.Y+1, said)
	got := openText(t, "pasted.yaml", yaml)
	cut, ok := got.Parts[0].Work[0].(toy.Cut)
	if !ok {
		t.Fatalf("%T", got.Parts[0].Work[0])
	}
	p, err := assembly.Line(cut.Outline)
	if err != nil {
		t.Fatal(err, yaml)
	}
	return p
}

// Outlines of our own patterns, read out of the PDF, are those of the parts within
// 0.01 mm, wherever and whichever way round they lie on the page.
func TestOutlineOfPatterns(t *testing.T) {
	for _, name := range []string{"quay-tram.yaml", "tipping-wagon.yaml"} {
		toy := openToy(t, name)
		pdf, err := toy.Patterns(Print{Paper: "a3"})
		if err != nil {
			t.Fatal(err)
		}
		d, err := drawing.PDF(pdf, drawing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		m, _ := toy.Model()
		sheets, err := sheets(m)
		if err != nil {
			t.Fatal(err)
		}
		all := 0
		for _, s := range sheets {
			for _, l := range s.Lines {
				if l.Layer != exchange.Saw && l.Layer != exchange.CutOut {
					continue
				}
				all++
				off := math.Inf(1)
				for _, q := range d.Lines {
					off = math.Min(off, placed(l.Path, q.Path))
				}
				if off > 0.01 {
					t.Errorf("%s: %s, %s: nearest %g mm", name, s.Name, l.Name, off)
				}
			}
		}
		if all < 5 {
			t.Errorf("%s: only %d lines", name, all)
		}
	}
}

// placed is how far two lines are apart at best when one is moved, turned by quarters
// and flipped; infinite where their areas differ.
func placed(p, q outline.Path) float64 {
	least := math.Inf(1)
	if math.Abs(math.Abs(p.Area())-math.Abs(q.Area())) > 0.02*p.Length() {
		return least
	}
	for _, flip := range []outline.Similar{outline.Same, outline.FlippedX()} {
		for quarter := range 4 {
			r := p.Transform(flip.Then(outline.Turned(float64(quarter) * math.Pi / 2)))
			r = r.Transform(outline.Shifted(q.Bounds().Min.Sub(r.Bounds().Min)))
			least = math.Min(least, apart(r, q))
		}
	}
	return least
}

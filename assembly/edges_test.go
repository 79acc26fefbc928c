package assembly_test

import (
	"math"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
)

const sawn = `
dryfit: 1
toy: Sawn round the ends, and along edges
units: mm
stock: {b: {wood: beech, form: board, thick: 20}}
parts:
  round:
    from: b
    blank: [100, 40]
    work: [{saw: {side: face, outline: [[0, 0, r 18], [length, 0, r 18], [length, width, r 18], [0, width, r 18]]}}]
  kept:
    from: b
    blank: [100, 40]
    work: [{saw: {side: face, outline: [[0, 0], [length, 0], [length, width], [20, width], [0, 20]]}}]
build: [{put: round}, {put: kept, sits: {bottom: round.top, back: round.back, middle: round.middle}, glued: yes}]
`

// A line is sawn as it is off: where it is sawn all round the blank is larger for that, where it runs
// along an edge that stays as it is, and a blade that leans goes right through everywhere.
func TestSawnOff(t *testing.T) {
	size := func(piece string, dev assembly.Deviations) r3.Vec {
		t.Helper()
		drawn, probs := assembly.Derive(read(t, sawn), assembly.Options{})
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		m, probs := assembly.Derive(read(t, sawn), assembly.Options{Dev: dev, Drawn: drawn})
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		return m.Pieces[m.Find(piece)[0]].Made.Filled.Bounds().Size()
	}
	off := func(piece string, d assembly.Deviation) assembly.Deviations {
		return assembly.Deviations{{Piece: piece, Op: "work.1"}: d}
	}
	for _, c := range []struct {
		what, piece string
		dev         assembly.Deviations
		want        r3.Vec
	}{
		{"sawn outside round the ends", "round", off("round", assembly.Deviation{Grow: 0.5}), r3.Vec{X: 101, Y: 40, Z: 20}},
		{"sawn inside round the ends", "round", off("round", assembly.Deviation{Grow: -0.5}), r3.Vec{X: 99, Y: 40, Z: 20}},
		{"shifted", "round", off("round", assembly.Deviation{D: r3.Vec{X: 1.5, Y: -1.5}}), r3.Vec{X: 100, Y: 40, Z: 20}},
		{"along edges that are kept", "kept", off("kept", assembly.Deviation{Grow: -0.8, D: r3.Vec{X: -1.4, Y: -0.9}}), r3.Vec{X: 100, Y: 40, Z: 20}},
		{"a thicker blank", "kept", assembly.Deviations{{Piece: "kept", Op: "blank"}: {D: r3.Vec{X: 0.4, Z: 0.3}}}, r3.Vec{X: 100.4, Y: 40, Z: 20.3}},
	} {
		if got := size(c.piece, c.dev); !same(got, c.want, 0.06) { // facets of the rounds
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
	}
	// 1.2 degrees over 100 mm are 2 mm: the far end of the cut must still be outside of the wood
	if got := size("round", off("round", assembly.Deviation{Lean: r2.Vec{X: 0.02, Y: 0.02}})); math.Abs(got.Z-20) > 1e-9 {
		t.Errorf("a leaning saw takes from the thickness: %v", got)
	}
}

func TestEdgesKept(t *testing.T) {
	ty := read(t, sawn)
	for part, want := range map[string][2]bool{"round": {true, false}, "kept": {false, false}} {
		p, _ := ty.PartNamed(part)
		if got := assembly.SawnSides(p); got != want {
			t.Errorf("%s: sawn %v, want %v", part, got, want)
		}
	}
}

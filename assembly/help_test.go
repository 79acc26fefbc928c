package assembly_test

import (
	"fmt"
	"math"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file"
)

func f(format string, args ...any) string { return fmt.Sprintf(format, args...) }

func read(t testing.TB, text string) *toy.Toy {
	t.Helper()
	ty, probs := file.Read(source.New("test.yaml", text), nil)
	if len(probs) > 0 {
		t.Fatalf("%v\nin\n%s", probs, text)
	}
	return ty
}

func derive(t testing.TB, text string, cache *assembly.Cache) *assembly.Model {
	t.Helper()
	m, probs := assembly.Derive(read(t, text), assembly.Options{Cache: cache})
	if len(probs) > 0 {
		t.Fatalf("%v\nin\n%s", probs, text)
	}
	return m
}

// one is a toy of one part of a 20 mm board; lies and work in flow style.
func one(blank, lies, work string) string {
	s := "dryfit: 1\ntoy: One\nunits: mm\nstock:\n  b: {wood: beech, form: board, thick: 20}\nparts:\n  it:\n    from: b\n    blank: " + blank + "\n"
	if lies != "" {
		s += "    lies: " + lies + "\n"
	}
	if work != "" {
		s += "    work: [" + work + "]\n"
	}
	return s + "build:\n  - put: it\n"
}

func same(a, b r3.Vec, within float64) bool { return a.Sub(b).Len() <= within }

// taken returns the volume that work took out of the blank of a piece, and its
// centre in the frame of the blank: found from what is left, not from how it was
// described.
func taken(p *assembly.Piece) (float64, r3.Vec) {
	s, m := p.Made.Size, p.Made.Moments()
	whole := s.X * s.Y * s.Z
	v := whole - m.Volume
	return v, s.Scale(0.5 * whole).Sub(m.Center.Scale(m.Volume)).Scale(1 / v)
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

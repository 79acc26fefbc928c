package picture

import (
	"math"
	"math/rand"
	"path/filepath"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
)

// toys returns the files that the properties are tried on.
func toys(t *testing.T) []string {
	plain, err := filepath.Glob("../../examples/plain/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return append([]string{tram, "testdata/trolley.yaml"}, plain...)
}

// What is drawn is really seen: from samples along every kind of line, a plain
// look at all convex pieces meets no wood in front. Within 0.05 mm of the line
// (facets of round things that touch) and at the ends of a line it may.
func TestDrawnIsSeen(t *testing.T) {
	t.Parallel()
	for _, name := range toys(t) {
		toy := toyOf(t, name)
		o := toy.look.o
		r := rand.New(rand.NewSource(21))
		for i, from := range sights {
			view, s := from.name, from.sight
			lines := toy.lines[i]
			for range 300 {
				l := lines[r.Intn(len(lines))]
				long := l.b.Sub(l.a).Len()
				if long < 0.2 {
					continue
				}
				f := (0.05 + r.Float64()*(long-0.1)) / long
				p := l.a.Add(l.b.Sub(l.a).Scale(f))
				// On the line or a hair to either side of it: it is seen if one is.
				side := s.toward.Cross(l.b.Sub(l.a)).Unit().Scale(0.02)
				wood := blocked(o, p, s.toward, 0.05)
				for _, q := range []r3.Vec{p.Add(side), p.Sub(side)} {
					wood = math.Min(wood, blocked(o, q, s.toward, 0.05))
				}
				if wood > 0.05 && !overlaid(lines, s, p) {
					t.Errorf("%s from %s: behind %.3f mm of wood at %v", name, view, wood, p)
				}
			}
		}
	}
}

// overlaid tells whether a line nearer to the eye runs through the place of p: a
// ball as wide as the hole it sits in.
func overlaid(lines []line, s sight, p r3.Vec) bool {
	for _, l := range lines {
		if l.a.Dot(s.toward) > p.Dot(s.toward)+1 && (stroke{a: s.flat(l.a), b: s.flat(l.b)}).away(s.flat(p)) < 0.02 {
			return true
		}
	}
	return false
}

// What is seen is drawn: wherever two looks close to each other meet different
// pieces, a step in depth or a sharp turn of the surface, there is a line.
func TestSeenIsDrawn(t *testing.T) {
	t.Parallel()
	const step, near = 0.1, 0.25
	changes := 0
	for _, name := range toys(t) {
		toy := toyOf(t, name)
		o := toy.look.o
		r := rand.New(rand.NewSource(22))
		for i, from := range sights {
			view, s := from.name, from.sight
			box := s.bounds(o)
			strokes := toy.look.seen[i]
			for range 150 {
				size := box.Size()
				q := box.Min.Add(r2.Vec{X: r.Float64() * size.X, Y: r.Float64() * size.Y})
				if r.Intn(2) == 0 { // beside a line there are more changes to see
					k := strokes[r.Intn(len(strokes))]
					q = k.a.Add(k.b.Sub(k.a).Scale(r.Float64())).Add(r2.Vec{X: r.Float64() - 0.5, Y: r.Float64() - 0.5}.Scale(4 * step))
				}
				turn := r.Float64() * 2 * math.Pi
				a, b := look(o, s, q), look(o, s, q.Add(r2.Vec{X: math.Cos(turn), Y: math.Sin(turn)}.Scale(step)))
				if a.body == b.body && (a.body < 0 || a.n.Dot(b.n) > 0.7 && math.Abs(a.depth-b.depth) < 20*step) {
					continue
				}
				changes++
				drawn := false
				for _, k := range strokes {
					drawn = drawn || k.away(q) < near
				}
				if !drawn {
					t.Errorf("%s from %s: no line at %v between %+v and %+v", name, view, q, a, b)
				}
			}
		}
	}
	if changes < 1000 {
		t.Errorf("only %d changes were met", changes)
	}
}

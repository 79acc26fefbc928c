package assembly_test

import (
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// oddOnes have every kind of work and attitude, on every side, with no symmetry that
// could hide a mistake.
const oddOnes = `dryfit: 1
toy: Odd ones
units: mm
stock:
  ash: {wood: ash, form: board, thick: 20}
parts:
  wedge:
    from: ash
    blank: [100, 40]
    lies: {length: left, forward: edge, lean: {about: up, by: 20°}}
    work:
      - drill: {side: face, dia: 6, depth: 10, counterbore: {dia: 12, depth: 4}, named: {near: [10, 5]}}
      - drill: {side: edge, dia: 5, lean: {toward: right, by: 10°}, named: {low: [30, 4]}}
      - drill: {side: other-edge, dia: 4, depth: 8, lean: {toward: left, by: 15°}, at: [[70, 12]]}
      - drill: {side: end, dia: 4, depth: 12, lean: {toward: left, by: 20°}, at: [[8, 7]]}
      - drill: {side: other-end, dia: 3, depth: 12, lean: {toward: up, by: 20°}, at: [[8, 7]]}
      - groove: {side: other-face, from: [60, 8], to: [85, 8], wide: 8, depth: 5}
      - cut-out: {side: face, outline: {circle: [60, 25], dia: 14}}
      - notch: {side: edge, at: [40, 12], size: [9, 8], depth: 6}
      - saw: {side: other-edge, outline: [[0, 0], [100, 0], [100, 20, r 5], [12, 20], [0, 11]]}
      - saw: {side: face, outline: [[0, 0], [90, 0], [100, 12], [100, 40, r 9], [0, 40]]}
  fish:
    from: ash
    blank: [120, 50]
    lies: {length: back, left: face, lean: {about: forward, by: 12°}}
    work:
      - drill: {side: other-face, dia: 5, depth: 6, lean: {toward: down, by: 25°}, row: {from: [20, 11], step: [14, 3], count: 3, name: gill}}
      - drill: {side: face, dia: 5, depth: 6, lean: {toward: right, by: 25°}, at: [[60, 33]]}
      - saw: {side: face, outline: {points: [[0, 24], [5, 8], {to: [60, 10], through: [30, 2]}, [100, 17], [118, 24]], mirror: along}}
      - cut-in: {side: end, outline: {path: "M18 0 H32 A9 9 0 0 1 23 9 L18 14 Z"}, depth: 40}
      - cut-in: {side: other-edge, outline: {path: "M50 0 H64 A9 9 0 0 1 55 9 L50 14 Z"}, depth: 16}
      - chamfer: {by: 2, along: [[face, edge]]}
  leg:
    from: ash
    blank: [90, 60]
    lies: {length: up, back: other-face, lean: {about: left, by: 8°}}
    work:
      - saw: {side: other-face, outline: {path: "M3 2 H90 V40 A15 15 0 0 1 75 55 C60 60 40 50 20 58 L3 30 Z"}}
      - cut-out: {side: other-face, outline: {points: [[40, 25], [28, 21], [20, 10], [40, 12]], mirror: across}}
  round:
    from: ash
    disc: 60
    bore: 7
    lies: {length: down, right: face}
    work:
      - drill: {side: face, dia: 8, at: [[20, 12]]}
      - drill: {side: other-face, dia: 6, depth: 9, at: [[44, 20]]}
build:
  - put: wedge
`

// alone is a part as all of a toy.
func alone(t *testing.T, in *toy.Toy, p toy.Part) *assembly.Piece {
	t.Helper()
	one := &toy.Toy{File: in.File, Name: in.Name, Units: in.Units, Stock: in.Stock, Parts: []toy.Part{p},
		Build: []toy.Step{toy.Put{Part: p.Name, ID: p.Name, At: p.At}}}
	m, probs := assembly.Derive(one, assembly.Options{})
	if len(probs) > 0 {
		t.Fatalf("%s of %s: %v", p.Name, in.Name, probs)
	}
	return m.Pieces[0]
}

// The mirror image of a part is its solid with left and right changed over in the
// world, as it lies there: the same weight, its middle, its extents and its inertia
// mirrored, and wood at the mirrored place of wherever there is wood. Twice mirrored
// it is the part itself.
func TestMirrorImages(t *testing.T) {
	texts := map[string]string{"odd ones": oddOnes}
	for _, folder := range []string{"*.yaml", "plain/*.yaml", "broken/*.yaml"} {
		names, _ := filepath.Glob("../examples/" + folder)
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			texts[name] = string(text)
		}
	}
	tried := 0
	for name, text := range texts {
		in := read(t, text)
		for _, p := range in.Parts {
			if p.Shape != toy.Block && p.Shape != toy.Disc {
				continue
			}
			tried++
			image := p.MirrorImage("image")
			if image.Mirrors != p.Name || image.Name != "image" {
				t.Errorf("%s, %s: called %q, of %q", name, p.Name, image.Name, image.Mirrors)
			}
			a, b, twice := alone(t, in, p), alone(t, in, image), alone(t, in, image.MirrorImage(p.Name))
			mirrored(t, name+", "+p.Name, a, b)
			if u, v := a.Moments(), twice.Moments(); !near(u.Volume, v.Volume, 1e-6) || !same(u.Center, v.Center, 1e-9) || a.Pose != twice.Pose {
				t.Errorf("%s, %s: twice mirrored it is another part", name, p.Name)
			}
			for i, h := range a.Made.Bores {
				if g := b.Made.Bores[i]; g.Name != h.Name || g.R != h.R || g.Blind != h.Blind {
					t.Errorf("%s, %s: hole %s became %s", name, p.Name, h.Name, g.Name)
				}
				if g := twice.Made.Bores[i]; !same(g.Point, h.Point, 1e-9) || !same(g.Dir, h.Dir, 1e-9) {
					t.Errorf("%s, %s: hole %s is elsewhere when mirrored twice", name, p.Name, h.Name)
				}
			}
		}
	}
	if tried < 150 {
		t.Errorf("only %d parts were mirrored", tried)
	}
	t.Logf("%d parts", tried)
}

func mirrored(t *testing.T, what string, a, b *assembly.Piece) {
	t.Helper()
	u, v := a.Moments(), b.Moments()
	box, image := a.Bored().Bounds(), b.Bored().Bounds()
	// A circle of an odd number of chords is drawn from its right, in both: they differ by
	// less than a chord stands off.
	const within = 2 * tol.Chord
	middle := box.Max.Y + image.Min.Y // y becomes middle - y
	flip := func(p r3.Vec) r3.Vec { p.Y = middle - p.Y; return p }
	if !near(u.Volume, v.Volume, 1e-6*u.Volume) || !same(flip(u.Center), v.Center, within) {
		t.Errorf("%s: %g mm³ about %v became %g about %v", what, u.Volume, u.Center, v.Volume, v.Center)
	}
	if !same(box.Size(), image.Size(), within) || !near(box.Min.X, image.Min.X, within) || !near(box.Min.Z, image.Min.Z, within) {
		t.Errorf("%s: %v became %v", what, box, image)
	}
	most := math.Max(u.Inertia[0][0], math.Max(u.Inertia[1][1], u.Inertia[2][2]))
	for i := range 3 {
		for j := range 3 {
			want := u.Inertia[i][j]
			if (i == 1) != (j == 1) {
				want = -want
			}
			if !near(v.Inertia[i][j], want, 1e-4*most) {
				t.Errorf("%s: inertia %d %d is %g, want %g", what, i, j, v.Inertia[i][j], want)
			}
		}
	}
	in := func(p *assembly.Piece, at r3.Vec, slack float64) bool {
		body := p.Bored()
		for i := range body.Pieces {
			if body.Pieces[i].Contains(at, slack) {
				return true
			}
		}
		return false
	}
	r := rand.New(rand.NewSource(7))
	size := box.Size()
	for range 200 {
		p := box.Min.Add(r3.Vec{X: size.X * r.Float64(), Y: size.Y * r.Float64(), Z: size.Z * r.Float64()})
		if in(a, p, -within) && !in(b, flip(p), within) || !in(a, p, within) && in(b, flip(p), -within) {
			t.Fatalf("%s: the wood at %v is not mirrored", what, p)
		}
	}
}

// What is put on a mirror image by the names of its holes, flats and points comes
// to the mirrored place.
func TestNamesOfAMirrorImage(t *testing.T) {
	const text = `dryfit: 1
toy: Pair
units: mm
stock:
  b: {wood: beech, form: board, thick: 20}
parts:
  left:
    from: b
    blank: [100, 40]
    lies: {length: forward, left: face}
    work:
      - drill: {side: face, dia: 6, named: {eye: [30, 10]}}
      - saw: {side: face, outline: {points: [[0, 0], [100, 0], [100, 25], [60, 25], [60, 40], [0, 40]], flats: {step: [3, 4]}, named: {tip: 3}}}
  right: {mirrors: left}
  knob: {from: b, blank: [10, 10]}
build:
  - put: left
  - {put: right, sits: {left: left.right - 100, back: left.back, bottom: left.bottom}}
  - {put: knob, sits: {back: left.tip, middle-up: left.eye, left: left.left}}
  - {put: knob, sits: {back: right.tip, middle-up: right.eye, right: right.right}}
`
	m := derive(t, text, nil)
	left, right := m.Pieces[2].Body.Bounds(), m.Pieces[3].Body.Bounds()
	whole := m.Pieces[0].Body.Bounds().Union(m.Pieces[1].Body.Bounds())
	if c := whole.Min.Y + whole.Max.Y; !near(left.Min.Y, c-right.Max.Y, 1e-9) || !near(left.Min.X, right.Min.X, 1e-9) || !near(left.Min.Z, right.Min.Z, 1e-9) {
		t.Errorf("the knobs lie at %v and %v", left, right)
	}
	if p := m.Pieces[1].Part; p.Lies.Faces != toy.ToRight || p.Lies.Side != toy.Top {
		t.Errorf("the right one lies as %+v", p.Lies)
	}
}

// A part of which toy.Part.TurnsOver is true is its mirror image when it is turned half
// round about its length.
func TestTurnedOver(t *testing.T) {
	texts := []string{oddOnes}
	names, _ := filepath.Glob("../examples/plain/*.yaml")
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(text))
	}
	r := rand.New(rand.NewSource(3))
	over := 0
	for _, text := range texts {
		in := read(t, text)
		for _, p := range in.Parts {
			if p.Shape != toy.Block && p.Shape != toy.Disc {
				continue
			}
			a, b := alone(t, in, p).Made, alone(t, in, p.MirrorImage("image")).Made
			wood := func(m *assembly.Made, at r3.Vec, slack float64) bool {
				body := m.Bored()
				for i := range body.Pieces {
					if body.Pieces[i].Contains(at, slack) {
						return true
					}
				}
				return false
			}
			const within = 2 * tol.Chord
			differ := 0
			for range 400 {
				at := r3.Vec{X: a.Size.X * r.Float64(), Y: a.Size.Y * r.Float64(), Z: a.Size.Z * r.Float64()}
				turned := r3.Vec{X: at.X, Y: a.Size.Y - at.Y, Z: a.Size.Z - at.Z}
				if wood(a, at, -within) && !wood(b, turned, within) || !wood(a, at, within) && wood(b, turned, -within) {
					differ++
				}
			}
			if p.TurnsOver() {
				over++
				if differ > 0 {
					t.Errorf("%s of %s turned over is not its mirror image", p.Name, in.Name)
				}
			} else if in.Name == "Odd ones" && differ == 0 {
				t.Errorf("%s turned over is its mirror image", p.Name)
			}
		}
	}
	if over < 40 {
		t.Errorf("only %d parts can be turned over", over)
	}
}

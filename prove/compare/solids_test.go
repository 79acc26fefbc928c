package compare

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/assembly/assemblytest"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// symmetric is the volume of the symmetric difference, by what two bodies share and by what each
// has: not by the cuts that the package makes.
func symmetric(a, b solid.Body) float64 {
	return a.Moments().Volume + b.Moments().Volume - 2*solid.Overlap(a, b).Volume
}

// skin is the volume of a layer of tol.Touch over all faces of a body: what solids that count as the
// same can differ by.
func skin(b solid.Body) float64 {
	area := 0.0
	m := solid.Surface(b)
	for _, f := range m.T {
		p, q, r := m.V[f[0]], m.V[f[1]], m.V[f[2]]
		area += q.Sub(p).Cross(r.Sub(p)).Len() / 2
	}
	return area * tol.Touch
}

// Every piece of the toys against every other of its shape: what counts as the same differs by no
// more than a skin, laid as is said; what does not differs, laid in each of the ways and as it is
// compared, and by as much as is said.
func TestSolidsDiffer(t *testing.T) {
	names, err := filepath.Glob(filepath.Join("..", "..", "examples", "plain", "*.yaml"))
	if err != nil || len(names) == 0 {
		t.Fatal(err)
	}
	names = append(names, filepath.Join("..", "..", "examples", "quay-tram.yaml"))
	alikes, others := 0, 0
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		m, again := assemblytest.Derive(t, name, string(text), assembly.Options{}), assemblytest.Derive(t, name, string(text), assembly.Options{})
		seen := map[[2]*assembly.Made]bool{}
		for _, a := range m.Pieces {
			for _, b := range again.Pieces {
				key := [2]*assembly.Made{a.Made, b.Made}
				if a.Part.Shape != b.Part.Shape || seen[key] {
					continue
				}
				seen[key] = true
				r := likeness(a.Made, b.Made, a.Part.Shape)
				was, now := a.Made.Bored(), b.Made.Bored()
				most := skin(now)
				if a.ID == b.ID && !r.same {
					t.Errorf("%s: %s is not the same as itself", name, a.ID)
				}
				if r.same {
					alikes++
					for _, g := range r.turns {
						if v := symmetric(was.Transform(g), now); v > most {
							t.Errorf("%s: %s and %s are the same, but differ by %.2f mm³", name, a.ID, b.ID, v)
						}
					}
					continue
				}
				others++
				r.measure(a.Made, b.Made, a.Part.Shape)
				v := symmetric(was.Transform(r.align), now)
				if math.Abs(v-r.less-r.more) > most+skin(was) {
					t.Errorf("%s: %s and %s differ by %.2f mm³, said are %.2f and %.2f", name, a.ID, b.ID, v, r.less, r.more)
				}
				if v <= tol.Touch {
					t.Errorf("%s: %s and %s are not the same, but differ by %.4f mm³", name, a.ID, b.ID, v)
				}
				if r.fits != (r.more == 0) {
					t.Errorf("%s: %s fits in %s: %v, with %.2f mm³ beyond it", name, b.ID, a.ID, r.fits, r.more)
				}
			}
		}
	}
	if alikes < 50 || others < 50 {
		t.Errorf("%d pairs the same, %d not: the test is too narrow", alikes, others)
	}
}

// A chiral block is not its image, and the image of its image is itself; a board that is worked
// square through its faces is its own image, turned over.
func TestMirrorImages(t *testing.T) {
	const text = `dryfit: 1
toy: Images
units: mm
stock:
  oak: {wood: oak, form: board, thick: 18}
parts:
  flat: {from: oak, blank: [60, 30], work: [{drill: {side: face, dia: 8, at: [[12, 9]]}}]}
  deep: {from: oak, blank: [60, 30], work: [{drill: {side: face, dia: 8, depth: 10, at: [[12, 9]]}}]}
  square: {from: oak, blank: [30, 30], work: [{drill: {side: face, dia: 8, depth: 10, at: [[12, 15]]}}]}
build:
  - put: flat
  - {put: deep, sits: {bottom: flat.top, front: flat.front, middle: flat.middle}, glued: yes}
  - {put: square, sits: {bottom: deep.top, front: deep.front, middle: deep.middle}, glued: yes}
`
	was := assemblytest.Derive(t, "a", text, assembly.Options{})
	now := assemblytest.Derive(t, "b", strings.NewReplacer("[12, 9]", "[12, 21]").Replace(text), assembly.Options{})
	for i, want := range []struct{ same, mirror bool }{{true, false}, {false, true}, {true, false}} {
		r := likeness(was.Pieces[i].Made, now.Pieces[i].Made, toy.Block)
		if r.same != want.same || r.mirror != want.mirror {
			t.Errorf("%s: the same %v, its image %v", was.Pieces[i].ID, r.same, r.mirror)
		}
		b := was.Pieces[i].Made.Bored()
		if twice := b.Mirrored().Mirrored(); symmetric(twice, b) > 1e-6 || math.Abs(b.Mirrored().Moments().Volume-b.Moments().Volume) > 1e-6 || solid.Surface(b.Mirrored()).Open() != 0 {
			t.Errorf("%s: the image of its image is another", was.Pieces[i].ID)
		}
	}
	if n := len(ways(toy.Block)); n != 4 {
		t.Errorf("a board can be laid in %d ways, want 4", n)
	}
	if n := len(ways(toy.Sphere)); n != 24 {
		t.Errorf("a ball can be laid in %d ways, want 24", n)
	}
	for _, g := range ways(toy.Disc) {
		if g.U.Cross(g.V).Sub(g.W).Len() > 0 || g.W.Cross(r3.Z).Len() > 0 {
			t.Errorf("a disc is turned by %v", g)
		}
	}
}

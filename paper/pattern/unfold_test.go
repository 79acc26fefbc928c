package pattern

import (
	"math"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/paper/layout"
	"dryfit/paper/papertest"
	"dryfit/toy"
)

// Folding the second view back by a quarter turn about the arris, in space, must
// lay every point of it on its own side of the blank. This goes the other way
// round than unfold, by r3.Turn.
func TestFoldsBackOntoItsSide(t *testing.T) {
	size := r3.Vec{X: 100, Y: 40, Z: 20}
	pairs := 0
	for a := toy.Top; a <= toy.Back; a++ {
		for b := toy.Top; b <= toy.Back; b++ {
			move, ok := unfold(a, b, size)
			if want := b != a && b != a.Opposite(); ok != want {
				t.Fatalf("%s and %s: %v", a, b, ok)
			}
			if !ok {
				continue
			}
			pairs++
			fa, fb := assembly.SideFrame(a, size), assembly.SideFrame(b, size)
			// the corner of the blank farthest along both normals lies on the arris
			arris := r3.Vec{}
			for axis := range 3 {
				if fa.W.Add(fb.W).At(axis) > 0.5 {
					arris = arris.With(axis, size.At(axis))
				}
			}
			fold := r3.Turn(arris, fa.W.Cross(fb.W), math.Pi/2)
			for _, p := range []r2.Vec{{X: 3, Y: 1}, {X: 17, Y: 19}, {X: 11, Y: 2}} {
				q := move.Apply(p)
				flat := fa.Point(r3.Vec{X: q.X, Y: q.Y})
				if d := fold.Point(flat).Sub(fb.Point(r3.Vec{X: p.X, Y: p.Y})).Len(); d > 1e-9 {
					t.Errorf("%s beside %s: (%g, %g) is %g mm off when folded", b, a, p.X, p.Y, d)
				}
			}
		}
	}
	if pairs != 24 {
		t.Errorf("%d pairs share an arris, of 24", pairs)
	}
}

// The lopsided part, worked out by hand. It is sawn on its other edge (seen with
// the length to the left), then on its face: the face folds away above the other
// edge, turned half way round, so that its right end is at the left.
//
//	other edge: x from the front end to the left... (0, 0) is the front bottom corner
//	face:       a hole 10 from the back end and 5 from the right edge lies
//	            at x = 100 - 10 = 90 and y = 20 + 40 - 5 = 55
func TestLopsidedByHand(t *testing.T) {
	m := derived(t, "lopsided", lopsided)
	for _, paper := range []layout.Paper{layout.A4, layout.Letter} {
		data, err := PDF(m, paper)
		if err != nil {
			t.Fatal(err)
		}
		file := papertest.File(t, data)
		pages := traced(t, file, paper)
		_, places, _ := pagesOf(m, paper)
		var edge *Place
		for i, p := range places {
			if p.Of == "wedge" && p.Side == toy.Left {
				edge = &places[i]
			}
		}
		if edge == nil {
			t.Fatal("no view of the other edge")
		}
		onPage := func(pts ...r2.Vec) []r2.Vec {
			for i := range pts {
				pts[i] = edge.OnPage.Apply(pts[i])
			}
			return pts
		}
		for what, c := range map[string]struct {
			width float64
			pts   []r2.Vec
		}{
			"the outline on the edge":     {0.5, onPage(r2.Vec{}, r2.Vec{X: 100}, r2.Vec{X: 12, Y: 20}, r2.Vec{Y: 11})},
			"the outline on the face":     {0.5, onPage(r2.Vec{X: 100, Y: 60}, r2.Vec{X: 10, Y: 60}, r2.Vec{X: 0, Y: 48}, r2.Vec{X: 100, Y: 20})},
			"the hole in the face":        {0.35, onPage(r2.Vec{X: 93, Y: 55}, r2.Vec{X: 87, Y: 55})},
			"the counterbore in the face": {0.35, onPage(r2.Vec{X: 96, Y: 55}, r2.Vec{X: 84, Y: 55})},
		} {
			if off := misses(pages[edge.Page], c.width, c.pts); off > tol.TrueSize {
				t.Errorf("%s on %s: %.2f mm off", what, paper.Name, off)
			}
		}
	}
}

package toy_test

import (
	"testing"

	"dryfit/toy"
)

// Arrises are no part of the solids, so what a mirror does to them is worked out by hand:
// edges change over, faces and ends do not. Turned over, an arris of the face is one of the
// other face.
func TestMirroredArrises(t *testing.T) {
	arris := func(pairs ...[2]toy.Side) toy.Part {
		return toy.Part{Name: "p", Length: 100, Width: 40, Thick: 20, Work: []toy.Work{toy.Arris{Round: true, By: 2, Sides: pairs}}}
	}
	for _, c := range []struct {
		of, image [2]toy.Side
		turns     bool
	}{
		{[2]toy.Side{toy.Top, toy.Right}, [2]toy.Side{toy.Top, toy.Left}, false},
		{[2]toy.Side{toy.Left, toy.Front}, [2]toy.Side{toy.Right, toy.Front}, true},
		{[2]toy.Side{toy.Bottom, toy.Back}, [2]toy.Side{toy.Bottom, toy.Back}, false},
	} {
		p := arris(c.of)
		if got := p.MirrorImage("q").Work[0].(toy.Arris).Sides[0]; got != c.image {
			t.Errorf("%v became %v, want %v", c.of, got, c.image)
		}
		if p.TurnsOver() != c.turns {
			t.Errorf("%v: turned over it is its mirror image: %v, want %v", c.of, !c.turns, c.turns)
		}
	}
	for _, p := range []toy.Part{arris(), arris([2]toy.Side{toy.Top, toy.Left}, [2]toy.Side{toy.Left, toy.Bottom})} {
		if !p.TurnsOver() {
			t.Errorf("%v is the same on both faces", p.Work)
		}
	}
}

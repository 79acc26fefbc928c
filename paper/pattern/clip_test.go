package pattern

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
	"dryfit/toy"
)

// A circle of 5 about a point 3 below the edge of a board comes in at 4 to either
// side (3, 4, 5); a rectangle over a corner keeps its two inner sides.
func TestWithin(t *testing.T) {
	board := draw.Rect(r2.Box{Max: r2.Vec{X: 40, Y: 20}})
	well := within(draw.Circle(r2.Vec{X: 20, Y: -3}, 5), board)
	if len(well) == 0 || len(well) > 2 {
		t.Fatal(well)
	}
	box := r2.EmptyBox()
	for _, r := range well {
		for _, p := range coarse(r) {
			box = box.Union(r2.Box{Min: p, Max: p})
		}
	}
	if want := (r2.Box{Min: r2.Vec{X: 16}, Max: r2.Vec{X: 24, Y: 2}}); box.Min.Sub(want.Min).Len() > tol.Page || box.Max.Sub(want.Max).Len() > tol.Page {
		t.Errorf("the well is drawn over %v, want %v", box, want)
	}
	corner := within(draw.Rect(r2.Box{Min: r2.Vec{X: -5, Y: -5}, Max: r2.Vec{X: 8, Y: 6}}), board)
	long := 0.0
	for _, r := range corner {
		long += length(r)
	}
	if math.Abs(long-14) > 10*tol.Page {
		t.Errorf("%g mm of line, want 8 + 6", long)
	}
	if whole := draw.Circle(r2.Vec{X: 20, Y: 10}, 5); len(within(whole, board)) != 1 || !within(whole, board)[0].Closed {
		t.Error("a circle inside is not left whole")
	}
	long = 0
	for _, r := range within(draw.Circle(r2.Vec{X: 20, Y: 10}, 10), board) {
		long += length(r)
	}
	if math.Abs(long-20*math.Pi) > 10*tol.Page {
		t.Errorf("of a circle that touches two edges %g mm are drawn, want all", long)
	}
	if len(within(draw.Rect(board.Bounds()), board)) != 0 {
		t.Error("the edge of the blank is sawn")
	}
}

func length(r draw.Run) (l float64) {
	from := r.From
	for _, s := range r.Segs {
		if s.Sweep != 0 {
			l += math.Abs(s.Sweep) * s.Radius
		} else {
			l += s.To.Sub(from).Len()
		}
		from = s.To
	}
	return l
}

// Against counting points: the share of a circle that lies in a board or a disc.
func TestWithinLength(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	for i := range 400 {
		wood := draw.Rect(r2.Box{Max: r2.Vec{X: 20 + 60*rnd.Float64(), Y: 20 + 60*rnd.Float64()}})
		if i%2 == 1 {
			wood = draw.Circle(r2.Vec{X: 30, Y: 30}, 10+20*rnd.Float64())
		}
		c, radius := r2.Vec{X: 80 * rnd.Float64(), Y: 80 * rnd.Float64()}, 2+30*rnd.Float64()
		got := 0.0
		for _, r := range within(draw.Circle(c, radius), wood) {
			got += length(r)
		}
		const n = 20000
		in := 0
		for k := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / n)
			if on(wood, c.Add(r2.Vec{X: radius * cos, Y: radius * sin})) {
				in++
			}
		}
		if want := 2 * math.Pi * radius * float64(in) / n; math.Abs(got-want) > 4*2*math.Pi*radius/n+8*tol.Page {
			t.Errorf("circle %d: %g mm in the wood, counted %g", i, got, want)
		}
	}
}

// What is drilled from one side is shown at the same place from the other: the
// hole in space is one.
func TestFarSide(t *testing.T) {
	size := r3.Vec{X: 100, Y: 40, Z: 20}
	work := []toy.Work{toy.Drill{Side: toy.Right, Dia: 6e6, Holes: []toy.Hole{{At: toy.Point{X: 30e6, Y: 5e6}}}}}
	_, centres := farSide(toy.Left, size, work)
	// seen from the left, the front is at the left: 100 - 30 from there
	if len(centres) != 1 || centres[0].at.Sub(r2.Vec{X: 70, Y: 5}).Len() > tol.Page || centres[0].r != 3 {
		t.Errorf("the hole is shown at %v", centres)
	}
	work = []toy.Work{toy.Drill{Side: toy.Top, Dia: 6e6, Holes: []toy.Hole{{At: toy.Point{X: 30e6, Y: 5e6}}}}}
	_, centres = farSide(toy.Bottom, size, work) // its lower left corner is back and left
	if len(centres) != 1 || centres[0].at.Sub(r2.Vec{X: 30, Y: 35}).Len() > tol.Page {
		t.Errorf("the hole is shown at %v", centres)
	}
	if _, centres = farSide(toy.Top, size, work); len(centres) != 0 {
		t.Error("a side is across from itself")
	}
}

package pattern

import (
	"math"
	"math/rand"
	"strings"
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

// An outline that leaves its blank is drawn on the wood, and along the wood's own edge where
// that is kept; one that stays on it is left whole. The wood is 60 × 40: a rectangle over its
// lower right corner keeps the sides of 30 and 20 on the wood, and as much of its edge.
func TestOnWood(t *testing.T) {
	wood := draw.Rect(r2.Box{Max: r2.Vec{X: 60, Y: 40}})
	whole := draw.Rect(r2.Box{Max: r2.Vec{X: 60, Y: 30}})
	if got := onWood(whole, wood); len(got) != 1 || !got[0].Closed || length(got[0]) != length(whole) {
		t.Errorf("an outline on the wood is cut: %v", got)
	}
	for name, c := range map[string]struct {
		line draw.Run
		long float64
	}{
		"a corner": {draw.Rect(r2.Box{Min: r2.Vec{X: 30, Y: -8}, Max: r2.Vec{X: 90, Y: 20}}), 30 + 20 + 30 + 20},
		// a circle of 25 about the middle of the lower edge: half of it is on the wood, and the edge below
		"a half":     {draw.Circle(r2.Vec{X: 30}, 25), 25*math.Pi + 50},
		"everything": {draw.Rect(r2.Box{Min: r2.Vec{X: -1, Y: -1}, Max: r2.Vec{X: 61, Y: 41}}), 200},
		// it leaves by 8, runs outside and comes back
		"a bulge": {draw.Run{Closed: true, Segs: []draw.Seg{{To: r2.Vec{X: 20}}, {To: r2.Vec{X: 30, Y: -8}}, {To: r2.Vec{X: 40}}, {To: r2.Vec{X: 60}}, {To: r2.Vec{X: 60, Y: 40}}, {To: r2.Vec{Y: 40}}}}, 200},
	} {
		got, sum := onWood(c.line, wood), 0.0
		for _, r := range got {
			sum += length(r)
			for _, p := range coarse(r) {
				if p.X < -tol.Touch || p.Y < -tol.Touch || p.X > 60+tol.Touch || p.Y > 40+tol.Touch {
					t.Errorf("%s: drawn at %v, which is no wood", name, p)
				}
			}
		}
		if math.Abs(sum-c.long) > 0.01 {
			t.Errorf("%s: %g mm of line, want %g", name, sum, c.long)
		}
	}
}

// Nothing is drawn over the neighbour: of a hull whose arc leaves its blank every line to saw
// lies on the two sides.
func TestAnOutlinePastItsBlank(t *testing.T) {
	m := derived(t, "bulge", `dryfit: 1
toy: Bulge
units: mm
stock:
  beech: {wood: beech, form: board, thick: 20}
parts:
  hull:
    from: beech
    blank: [180, 64]
    work:
      - saw: {side: face, outline: [[0, 0], [140, 0], {to: [180, 0], through: [160, -8]}, [180, width], [0, width]]}
      - saw: {side: edge, outline: [[0, 0], [length, 0], [length, thick, r 10], [0, thick, r 10]]}
build:
  - put: hull
`)
	all, err := blocks(m)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range all {
		if d.of != "hull" {
			continue
		}
		wood := r2.EmptyBox()
		for _, v := range d.views {
			wood = wood.Union(r2.Around(v.move.Apply(r2.Vec{}), v.move.Apply(v.size)))
		}
		n := 0
		draw.Page{Items: d.Items}.Walk(func(m draw.Mark) {
			if m.Path == nil || m.Path.Line != draw.Cut {
				return
			}
			n++
			for _, r := range m.Path.Runs {
				b := r.Bounds()
				if w := grown(wood, 2*tol.Touch); b.Min.X < w.Min.X || b.Min.Y < w.Min.Y || b.Max.X > w.Max.X || b.Max.Y > w.Max.Y {
					t.Errorf("a line to saw runs to %v, past the wood %v", b, wood)
				}
			}
		})
		if n != 2 {
			t.Errorf("%d lines to saw, want one on each side", n)
		}
	}
}

// Beside each hole stands where its middle is from the corner that all is measured from, and no
// name has the file's hyphens.
func TestPlacesOfHoles(t *testing.T) {
	m := derived(t, "quay", strings.Replace(lopsided, "named: {near: [10, 5]}", "named: {near-end: [10, 5]}", 1))
	all, err := blocks(m)
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	for _, d := range all {
		said[d.Title] = true
		draw.Page{Items: d.Items}.Walk(func(m draw.Mark) {
			if m.Text != nil {
				said[m.Text.Says] = true
			}
		})
	}
	for _, want := range []string{"near end", "→ 10 ↑ 5 mm", "→ 100 ↑ 100 mm", "2 · long board: cut 1"} {
		if !said[want] {
			t.Errorf("%q is not lettered", want)
		}
	}
}

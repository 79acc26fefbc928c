package pattern

import (
	"math"
	"slices"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/paper/draw"
	"dryfit/shop"
	"dryfit/toy"
)

// Where the blade starts, worked out by hand: as far from the line as can be, and the
// largest bit that leaves a millimetre all round.
func TestPierce(t *testing.T) {
	wood := draw.Rect(r2.Box{Max: r2.Vec{X: 200, Y: 100}})
	box := func(x0, y0, x1, y1 float64) draw.Run {
		return draw.Rect(r2.Box{Min: r2.Vec{X: x0, Y: y0}, Max: r2.Vec{X: x1, Y: y1}})
	}
	ell := draw.Polygon(r2.Vec{X: 10, Y: 10}, r2.Vec{X: 90, Y: 10}, r2.Vec{X: 90, Y: 20}, r2.Vec{X: 30, Y: 20}, r2.Vec{X: 30, Y: 90}, r2.Vec{X: 10, Y: 90})
	for name, c := range map[string]struct {
		run  draw.Run
		unit measure.Unit
		at   r2.Box
		dia  float64
	}{
		"a long slot":      {box(20, 20, 120, 40), measure.MM, r2.Box{Min: r2.Vec{X: 69, Y: 29}, Max: r2.Vec{X: 71, Y: 31}}, 6},
		"in inches":        {box(20, 20, 120, 40), measure.Inch, r2.Box{Min: r2.Vec{X: 69, Y: 29}, Max: r2.Vec{X: 71, Y: 31}}, 25.4 / 4},
		"a narrow slot":    {box(20, 20, 120, 26), measure.MM, r2.Box{Min: r2.Vec{X: 69, Y: 22.9}, Max: r2.Vec{X: 71, Y: 23.1}}, 3},
		"a saw's own kerf": {box(20, 20, 120, 23), measure.MM, r2.Box{Min: r2.Vec{X: 20, Y: 20}, Max: r2.Vec{X: 120, Y: 23}}, 0},
		"bent":             {ell, measure.MM, r2.Box{Min: r2.Vec{X: 17, Y: 18}, Max: r2.Vec{X: 23, Y: 82}}, 6},
		"round":            {draw.Circle(r2.Vec{X: 50, Y: 50}, 5), measure.MM, r2.Box{Min: r2.Vec{X: 49.9, Y: 49.9}, Max: r2.Vec{X: 50.1, Y: 50.1}}, 6},
	} {
		at, dia := shop.Pierce(coarse(c.run), wood.Bounds(), &toy.Toy{Units: c.unit})
		if math.Abs(dia-c.dia) > 1e-9 || !meet(c.at, grown(r2.Box{Min: at, Max: at}, 1e-6)) {
			t.Errorf("%s: a bit of %g mm at %v, want %g in %v", name, dia, at, c.dia, c.at)
		}
	}
}

// The hole that the blade is threaded through never reaches the line of a round cut-out,
// wherever its dot is put beside the cross.
func TestPierceRound(t *testing.T) {
	wood := draw.Rect(r2.Box{Max: r2.Vec{X: 80, Y: 60}})
	for dia := 6.0; dia <= 40; dia++ {
		for _, c := range []r2.Vec{{X: 40, Y: 30}, {X: 4, Y: 30}} {
			run := draw.Circle(c, dia/2)
			at, bit := shop.Pierce(coarse(run), wood.Bounds(), &toy.Toy{Units: measure.MM})
			if bit == 0 {
				continue
			}
			p := shop.OffCross(at, coarse(run), wood.Bounds(), bit)
			if free := dia/2 - p.Sub(c).Len() - bit/2; free < 1-tol.Page || !on(wood, p) {
				t.Errorf("diameter %g at %v: a bit of %g mm at %v leaves %.2f mm", dia, c, bit, p, free)
			}
			if d := p.Sub(at).Len(); dia >= 16 && c.X > 30 && d < 2 {
				t.Errorf("diameter %g: the dot is %.2f mm off the cross", dia, d)
			}
		}
	}
}

// Dashed lines of later work are where the finished piece ends: of two points close to
// either side of them, in the middle of the piece's thickness, one is wood and one is not.
func TestLaterIsWhereThePieceEnds(t *testing.T) {
	asked := 0
	for name, m := range toys(t) {
		for i := range m.Toy.Parts {
			p := &m.Toy.Parts[i]
			for side := toy.Top; side <= toy.Back; side++ {
				for _, q := range piecesOf(m, p) {
					asked += endsAt(t, name, q, side, inWood(laterOf(m, q, side), (&speaker{}).viewOf(side, p.Shape, q.Made.Size, 0, nil).blank))
				}
			}
		}
	}
	if asked < 200 {
		t.Errorf("only %d points of later work", asked)
	}
}

func endsAt(t *testing.T, name string, q *assembly.Piece, side toy.Side, runs []draw.Run) (asked int) {
	t.Helper()
	f := assembly.SideFrame(side, q.Made.Size)
	deep := math.Abs(f.W.Dot(q.Made.Size)) / 2
	body := q.Bored()
	wood := func(at r2.Vec) bool {
		p := q.Pose.Point(f.Point(r3.Vec{X: at.X, Y: at.Y, Z: -deep}))
		return slices.ContainsFunc(body.Pieces, func(c solid.Convex) bool { return c.Contains(p, 1e-6) })
	}
	size := r2.Vec{X: math.Abs(f.U.Dot(q.Made.Size)), Y: math.Abs(f.V.Dot(q.Made.Size))}
	const near = 0.1
	for _, r := range runs {
		pts := r.Points()
		for i := 1; i < len(pts); i++ {
			mid, off := pts[i-1].Add(pts[i]).Scale(0.5), pts[i].Sub(pts[i-1]).Unit().Perp().Scale(near)
			in := r2.Box{Min: r2.Vec{X: near, Y: near}, Max: size.Sub(r2.Vec{X: near, Y: near})}
			if pts[i].Sub(pts[i-1]).Len() < tol.Touch || !meet(in, grown(r2.Box{Min: mid, Max: mid}, near)) || !meet(grown(in, -near), grown(r2.Box{Min: mid, Max: mid}, 1e-9)) {
				continue
			}
			asked++
			if wood(mid.Add(off)) == wood(mid.Sub(off)) {
				t.Errorf("%s, %s, %s: a dashed line at %v, with the same on both sides", name, q.ID, side, mid)
			}
		}
	}
	return asked
}

// Every dowel that the toy uses and every bit of the drill list is on the strip, at
// its size.
func TestStripIsTrue(t *testing.T) {
	for name, m := range toys(t) {
		s := &speaker{toy: m.Toy, units: m.Toy.Units}
		var got []float64
		for _, b := range s.strip(m) {
			draw.Page{Items: b.Items}.Walk(func(k draw.Mark) {
				if k.Path != nil && k.Path.Line == draw.Outline {
					got = append(got, k.Path.Runs[0].Bounds().Size().X)
				}
			})
		}
		want := func(dia float64, what string) {
			if !slices.ContainsFunc(got, func(x float64) bool { return math.Abs(x-dia) < 1e-6 }) {
				t.Errorf("%s: no circle of %g mm for %s", name, dia, what)
			}
		}
		l := shop.List(m)
		n := 0
		for _, d := range l.Dowels {
			want(d.DiaMM, "a dowel")
			n++
		}
		for _, b := range l.Bits {
			if b.Drills() && b.DiaMM <= stripMost {
				want(b.DiaMM, "a bit")
				n++
			}
		}
		if len(got) > n {
			t.Errorf("%s: %d circles for %d sizes", name, len(got), n)
		}
	}
}

func TestTemplateWords(t *testing.T) {
	for want, c := range map[string]struct {
		n, spare     int
		folded, bare bool
	}{
		"": {1, 0, false, false},
		". One template serves both: trace it, or print this page twice":            {2, 0, false, false},
		". One template serves all three: trace it, or print this page three times": {2, 1, false, false},
		". Each blank needs a copy to fold around it: print this page twice":        {2, 0, true, false},
		". Each blank needs a copy to fold around it: print this page 13 times":     {12, 1, true, false},
	} {
		if got := templateSays(c.n, c.spare, c.folded, c.bare); got != want {
			t.Errorf("%d + %d: %q, want %q", c.n, c.spare, got, want)
		}
	}
}

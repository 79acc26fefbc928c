package outline_test

import (
	"math"
	"testing"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
)

// The area of a grown convex line is A + P e + pi e² less what its mitred corners have over round
// ones (Steiner's formula), to the first order A + P e whatever the line is; a circle and a rounded
// rectangle are exact.
func TestGrown(t *testing.T) {
	square := corners(t, []outline.Corner{{P: r2.Vec{}}, {P: r2.Vec{X: 40}}, {P: r2.Vec{X: 40, Y: 20}}, {P: r2.Vec{Y: 20}}})
	for _, by := range []float64{0.5, -0.5} {
		if got, want := square.Grown(by).Area(), (40+2*by)*(20+2*by); math.Abs(got-want) > 1e-9 {
			t.Errorf("a rectangle grown by %g has %g, want %g", by, got, want)
		}
		if got, want := square.Reverse().Grown(by).Area(), -(40+2*by)*(20+2*by); math.Abs(got-want) > 1e-9 {
			t.Errorf("the other way round: %g, want %g", got, want)
		}
		c := outline.Circle(r2.Vec{X: 3, Y: 4}, 10).Grown(by)
		if got, want := c.Area(), math.Pi*(10+by)*(10+by); math.Abs(got-want) > 1e-9 {
			t.Errorf("a circle grown by %g has %g, want %g", by, got, want)
		}
		round := corners(t, []outline.Corner{{P: r2.Vec{}, Radius: 5}, {P: r2.Vec{X: 40}, Radius: 3}, {P: r2.Vec{X: 40, Y: 20}}, {P: r2.Vec{Y: 20}, Radius: 8}})
		grown := round.Grown(by)
		want := (40+2*by)*(20+2*by) - (1-math.Pi/4)*((5+by)*(5+by)+(3+by)*(3+by)+(8+by)*(8+by))
		if got := grown.Area(); math.Abs(got-want) > 1e-9 {
			t.Errorf("a rounded rectangle grown by %g has %g, want %g", by, got, want)
		}
		if f := grown.Check(); f != nil {
			t.Error(f)
		}
		if d := round.DistanceTo(grown.Start); math.Abs(d-math.Abs(by)) > 1e-9 {
			t.Errorf("it runs %g beside the line, want %g", d, by)
		}
	}
	hollow := corners(t, []outline.Corner{{P: r2.Vec{}}, {P: r2.Vec{X: 40}}, {P: r2.Vec{X: 40, Y: 20}, Radius: 2}, {P: r2.Vec{X: 20, Y: 5}, Radius: 4}, {P: r2.Vec{Y: 20}}})
	const e = 1e-4
	if got, want := hollow.Grown(e).Area()-hollow.Area(), e*hollow.Length(); math.Abs(got-want) > 20*e*e {
		t.Errorf("a hollow line grows by %g, want its length times %g: %g", got, e, want)
	}
}

func corners(t *testing.T, cs []outline.Corner) outline.Path {
	t.Helper()
	p, err := outline.Corners(cs)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

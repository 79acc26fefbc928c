package solid

import (
	"math"
	"testing"

	"dryfit/geom/r3"
)

func box(lo, hi r3.Vec) Convex { return Box(lo, hi, [6]int32{1, 2, 3, 4, 5, 6}) }

// A block in the corner of an L lies on the floor of it and against its wall.
func TestMeetings(t *testing.T) {
	l := NewBody([]Convex{box(r3.Vec{}, r3.Vec{X: 50, Y: 20, Z: 10}), box(r3.Vec{Z: 10}, r3.Vec{X: 10, Y: 20, Z: 40})})
	block := NewBody([]Convex{box(r3.Vec{X: 10, Y: 5, Z: 10}, r3.Vec{X: 30, Y: 15, Z: 25})})
	found := Meetings(l, block, 0.02)
	if len(found) != 2 {
		t.Fatalf("%d meetings: %+v", len(found), found)
	}
	for _, m := range found {
		up := m.N.Dot(r3.Z) > 0.999
		if !up && m.N.Dot(r3.X) < 0.999 {
			t.Errorf("a meeting that looks %v", m.N)
		}
		for _, p := range m.At {
			on := math.Abs(p.X-10) < 1e-9 && p.Z > 10 && p.Z < 25
			if up {
				on = math.Abs(p.Z-10) < 1e-9 && p.X > 10 && p.X < 30
			}
			if !on || p.Y <= 5 || p.Y >= 15 {
				t.Errorf("%v is not inside of what is shared, looking %v", p, m.N)
			}
		}
	}
	for what, other := range map[string]Body{
		"an edge":  NewBody([]Convex{box(r3.Vec{X: 50, Z: 10}, r3.Vec{X: 60, Y: 20, Z: 20})}),
		"far away": NewBody([]Convex{box(r3.Vec{X: 20, Z: 12}, r3.Vec{X: 30, Y: 20, Z: 20})}),
	} {
		if found := Meetings(l, other, 0.02); len(found) > 0 {
			t.Errorf("%s: %+v", what, found)
		}
	}
}

func TestLeaves(t *testing.T) {
	two := NewBody([]Convex{box(r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10}), box(r3.Vec{X: 10}, r3.Vec{X: 25, Y: 10, Z: 10}), box(r3.Vec{X: 40}, r3.Vec{X: 50, Y: 10, Z: 10})})
	from := r3.Vec{X: 2, Y: 5, Z: 5}
	for _, c := range []struct {
		dir  r3.Vec
		want float64
	}{{r3.X, 23}, {r3.X.Neg(), 2}, {r3.Y, 5}, {r3.Vec{X: 1, Z: 1}.Unit(), 5 * math.Sqrt2}} {
		if far, ok := two.Leaves(from, c.dir); !ok || math.Abs(far-c.want) > 1e-9 {
			t.Errorf("along %v it goes on for %g, %v; want %g", c.dir, far, ok, c.want)
		}
	}
	if far, ok := two.Leaves(r3.Vec{X: 30, Y: 5, Z: 5}, r3.X); ok {
		t.Errorf("from outside it goes on for %g", far)
	}
}

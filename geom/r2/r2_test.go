package r2

import "testing"

func TestHits(t *testing.T) {
	b := Box{Vec{1, 1}, Vec{3, 2}}
	for _, c := range []struct {
		p, q Vec
		want bool
	}{
		{Vec{0, 0}, Vec{4, 3}, true},       // through it
		{Vec{0, 0}, Vec{0.9, 3}, false},    // beside it
		{Vec{0, 3}, Vec{4, 2.5}, false},    // above it
		{Vec{2, 1.5}, Vec{2.5, 1.6}, true}, // all in it
		{Vec{2, 0}, Vec{2, 0.9}, false},    // towards it
		{Vec{2, 0}, Vec{2, 1}, true},       // to its edge
		{Vec{0, 2}, Vec{1, 3}, false},      // past a corner
		{Vec{0, 1}, Vec{1, 3}, false},
		{Vec{1.5, 1.5}, Vec{1.5, 1.5}, true}, // a point
		{Vec{0, 1.5}, Vec{0, 1.5}, false},
	} {
		if b.Hits(c.p, c.q) != c.want || b.Hits(c.q, c.p) != c.want {
			t.Errorf("%v to %v: want %v", c.p, c.q, c.want)
		}
	}
}

package nest

import (
	"fmt"
	"math"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/trig"
)

// A kind is an item in one of its turns, as convex parts.
type kind struct {
	item, turn int
	parts      [][]r2.Vec
	box        r2.Box
	area       float64
}

// cosSin is exact for whole quarter turns.
func cosSin(angle float64) (c, s float64) {
	q := angle / (math.Pi / 2)
	if n := math.Round(q); math.Abs(q-n) < quarter {
		switch ((int(n) % 4) + 4) % 4 {
		case 0:
			return 1, 0
		case 1:
			return 0, 1
		case 2:
			return -1, 0
		}
		return 0, -1
	}
	return trig.Cos(angle), trig.Sin(angle)
}

// quarter is how near to a whole number of quarter turns counts as that.
const quarter = 1e-12

// kindsOf returns the kinds of all items, and where those of each item begin.
func kindsOf(p *Problem) (kinds []kind, first []int, err error) {
	for i, it := range p.Items {
		first = append(first, len(kinds))
		turns := it.Turns
		if len(turns) == 0 {
			turns = []Turn{{}}
		}
		for t := range turns {
			s := p.Laid(Place{Item: i, Turn: t})
			parts, err := outline.ConvexParts(s.Outer, s.Holes)
			if err != nil {
				return nil, nil, fmt.Errorf("%s: %w", it.Name, err)
			}
			k := kind{item: i, turn: t, parts: parts, box: r2.Around(s.Outer...)}
			for _, c := range parts {
				k.area += outline.SignedArea(c)
			}
			kinds = append(kinds, k)
		}
	}
	return kinds, append(first, len(kinds)), nil
}

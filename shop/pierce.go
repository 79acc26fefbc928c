package shop

import (
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/toy"
)

// A cut-out is begun in the waste: a hole is drilled there, and the blade is
// threaded through it. The pattern says where, and with which bit.

// piercing are the bits of a toy's shop that a hole for the blade is drilled with, mm, the best
// first. 6 mm passes any scroll-saw blade with its pin; where there is less room a
// plain blade goes through 2 mm (common practice, no source).
func piercing(t *toy.Toy) []float64 {
	if assembly.BitsOf(t.Shop, t.Units)[0] == facts.Inch {
		return []float64{facts.MMPerInch / 4, facts.MMPerInch / 8, facts.MMPerInch / 12.8} // 1/4, 1/8, 5/64
	}
	return []float64{6, 3, 2}
}

// pierceFree is left between the hole for the blade and the line, mm.
const pierceFree = 1.0

// Pierce returns where inside a closed line, given by its corners, and inside the box of the
// wood a blade can be started, and the bit for it, mm; 0 if there is no room for any. Patterns
// and guide both ask here, so that they name one bit.
func Pierce(line []r2.Vec, wood r2.Box, t *toy.Toy) (at r2.Vec, dia float64) {
	if n := len(line); n > 0 && line[0] != line[n-1] {
		line = append(line[:n:n], line[0])
	}
	at, room := roomiest(line, wood)
	for _, dia := range piercing(t) {
		if dia/2+pierceFree <= room {
			return at, dia
		}
	}
	return at, 0
}

// Pierced returns where a blade goes in through a cut, on its side, and the bit for it, mm; 0 if it
// is none that is pierced, if a bit makes it whole, or if there is no room for any.
func Pierced(c toy.Cut, t *toy.Toy) (at r2.Vec, dia float64) {
	if c.Word != "cut-out" || c.Depth > 0 {
		return r2.Vec{}, 0
	}
	line, err := assembly.Line(c.Outline)
	if err != nil {
		return r2.Vec{}, 0 // Derive has refused it
	}
	if _, bored := assembly.BoredCut(c, t); bored {
		return r2.Vec{}, 0
	}
	return Pierce(line.Polygon(), line.Bounds(), t)
}

// leastOff is how far the dot of a start is off the cross of a round cut-out at least: less
// is no help to tell them apart, mm.
const leastOff = 2.0

// OffCross moves the start of a round cut-out off the cross in its middle, half way to the
// line or as far as the bit has room; where that is hardly anything the start stays.
func OffCross(at r2.Vec, line []r2.Vec, wood r2.Box, dia float64) r2.Vec {
	if n := len(line); n > 0 && line[0] != line[n-1] {
		line = append(line[:n:n], line[0])
	}
	most := r2.Around(line...).Size().X / 4
	for by := most; by >= leastOff; by -= 0.25 {
		p := at.Sub(r2.Vec{X: by})
		if wood.Min.X < p.X && p.X < wood.Max.X && wood.Min.Y < p.Y && p.Y < wood.Max.Y && inside(line, p) && fromLine(p, line) >= dia/2+pierceFree {
			return p
		}
	}
	return at
}

// fromLine is how far a point is from a line.
func fromLine(p r2.Vec, line []r2.Vec) float64 {
	d := math.Inf(1)
	for k := 1; k < len(line); k++ {
		d = math.Min(d, fromSegment(p, line[k-1], line[k]))
	}
	return d
}

// roomiest returns the point of a grid inside a closed line and a box that is
// farthest from the line, and that distance.
func roomiest(line []r2.Vec, box r2.Box) (best r2.Vec, room float64) {
	b := r2.Around(line...)
	b.Min = r2.Vec{X: math.Max(b.Min.X, box.Min.X), Y: math.Max(b.Min.Y, box.Min.Y)}
	b.Max = r2.Vec{X: math.Min(b.Max.X, box.Max.X), Y: math.Min(b.Max.Y, box.Max.Y)}
	size := b.Size()
	const n = 24 // even, so that the middle is on the grid
	middle := b.Min.Add(size.Scale(0.5))
	for i := range n + 1 {
		for j := range n + 1 {
			p := r2.Vec{X: b.Min.X + float64(size.X*float64(i)/n), Y: b.Min.Y + float64(size.Y*float64(j)/n)}
			if !inside(line, p) {
				continue
			}
			d := fromLine(p, line)
			// of many that are as good, the one nearest to the middle
			if d > room+0.01 || d > room-0.01 && p.Sub(middle).Len() < best.Sub(middle).Len()-0.01 {
				best, room = p, math.Max(room, d)
			}
		}
	}
	return best, room
}

func fromSegment(p, a, b r2.Vec) float64 {
	d := b.Sub(a)
	if d.Len() == 0 {
		return p.Sub(a).Len()
	}
	t := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
	return p.Sub(a.Add(d.Scale(t))).Len()
}

// inside tells by even and odd whether a point is inside a closed line.
func inside(line []r2.Vec, c r2.Vec) bool {
	in := false
	for i, a := range line {
		b := line[(i+1)%len(line)]
		if (a.Y > c.Y) != (b.Y > c.Y) && c.X < a.X+float64((b.X-a.X)*((c.Y-a.Y)/(b.Y-a.Y))) {
			in = !in
		}
	}
	return in
}

package chance

// Even is how many coordinates of Points are of the Sobol' sequence.
const Even = len(directions) + 1

// Points gives points that fill a unit cube more evenly than random ones do, so that
// means over them settle sooner: nearly as 1/n for smooth functions, where random ones take
// 1/sqrt(n). Use a power of two of them, from number 0, for best effect; at most 2^32.
//
// Method: the first Even coordinates are the Sobol' sequence, each shifted by bits of the seed
// that are the same for all points (so every point is uniform, and seeds
// give independent answers); those beyond are random. Put what matters most first.
// Sources: Sobol', USSR Computational Mathematics and Mathematical Physics 7 (1967), with
// the numbers of Joe and Kuo (2008, directions.go); shift: Matoušek, Journal of Complexity
// 14 (1998); random rest: Spanier, "Quasi-Monte Carlo methods for particle transport
// problems" (1995); keeping point 0: Owen, "On dropping the first Sobol' point" (2020).
type Points struct {
	stream Stream
	shift  []uint64
	random bool
}

// NewPoints returns the points with dims coordinates of a seed.
func NewPoints(dims int, seed uint64) Points {
	p := Points{stream: NewStream(seed), shift: make([]uint64, dims)}
	for d := range p.shift {
		// The last build that can be: no point has its number.
		p.shift[d] = p.stream.Bits(1<<32, d, 0)
	}
	return p
}

// NewRandomPoints returns points whose coordinates are all random and independent.
func NewRandomPoints(dims int, seed uint64) Points {
	p := NewPoints(dims, seed)
	p.random = true
	return p
}

// Coordinate returns coordinate d of point i, in (0, 1).
func (p Points) Coordinate(i, d int) float64 {
	if p.random || d >= Even {
		return p.stream.Open(i, d, 0)
	}
	return open(uint64(sobolBits(d, uint32(i)))<<32 ^ p.shift[d])
}

// At puts the coordinates of point i in x, which has one for each.
func (p Points) At(i int, x []float64) {
	for d := range x {
		x[d] = p.Coordinate(i, d)
	}
}

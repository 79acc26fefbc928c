package chance

import "testing"

// The first points as the authors list them: Joe and Kuo, "Notes on generating Sobol'
// sequences" (2008), 10 points in 3 dimensions.
func TestSobolFirstPoints(t *testing.T) {
	for i, want := range [][3]float64{
		{0, 0, 0}, {.5, .5, .5}, {.75, .25, .25}, {.25, .75, .75}, {.375, .375, .625},
		{.875, .875, .125}, {.625, .125, .875}, {.125, .625, .375}, {.1875, .3125, .9375}, {.6875, .8125, .4375},
	} {
		for d := range want {
			if got := float64(sobolBits(d, uint32(i))) / (1 << 32); got != want[d] {
				t.Errorf("point %d, coordinate %d: %g, want %g", i, d, got, want[d])
			}
		}
	}
}

// The polynomials are all the primitive ones, by degree and then by their bits, as Joe and Kuo
// say; a polynomial of degree s is primitive if x has order 2^s - 1 modulo it (Lidl and
// Niederreiter, Finite Fields, 3.16).
func TestDirectionsPrimitive(t *testing.T) {
	at := 0
	for s := 1; at < len(directions); s++ {
		for a := uint32(0); a < 1<<(s-1) && at < len(directions); a++ {
			poly, x, order := 1<<s|a<<1|1, uint32(1), 0
			for {
				if x <<= 1; x>>s&1 == 1 {
					x ^= poly
				}
				order++
				if x == 1 || order > 1<<s {
					break
				}
			}
			if order != 1<<s-1 {
				continue
			}
			d := directions[at]
			if d.a != a || len(d.m) != s {
				t.Errorf("dimension %d: degree %d and bits %d, want %d and %d", at+2, len(d.m), d.a, s, a)
			}
			for j, m := range d.m {
				if m&1 == 0 || m >= 2<<j {
					t.Errorf("dimension %d: number %d is %d: want it odd and below %d", at+2, j+1, m, 2<<j)
				}
			}
			at++
		}
	}
}

// Property A: the first 2^d points in d dimensions lie one in each of the 2^d halves of halves,
// which is so if the first bits of the numbers are independent modulo 2. Source: Sobol',
// USSR Computational Mathematics and Mathematical Physics 16 (1976), theorem 3.1; Joe and
// Kuo (2008) say that their numbers have it.
func TestDirectionsPropertyA(t *testing.T) {
	for dims := 1; dims <= Even; dims++ {
		var rows []uint64
		for d := range dims {
			row := uint64(0)
			for j := range min(dims, 32) {
				row |= uint64(numbers[d][j]>>31) << j
			}
			rows = append(rows, row)
		}
		rank := 0
		for bit := range min(dims, 32) {
			for r := rank; r < dims; r++ {
				if rows[r]>>bit&1 == 0 {
					continue
				}
				rows[r], rows[rank] = rows[rank], rows[r]
				for q := range dims {
					if q != rank && rows[q]>>bit&1 == 1 {
						rows[q] ^= rows[rank]
					}
				}
				rank++
				break
			}
		}
		if rank != min(dims, 32) {
			t.Errorf("%d dimensions: rank %d", dims, rank)
		}
	}
}

// However they are shifted, 2^k points have one in each 2^-k of every coordinate.
func TestPointsEven(t *testing.T) {
	const n = 1024
	x := make([]float64, Even+3)
	for seed := range uint64(3) {
		p := NewPoints(len(x), seed)
		var seen [Even][n]bool
		for i := range n {
			p.At(i, x)
			for d, u := range x {
				if !(u > 0 && u < 1) {
					t.Fatalf("coordinate %d of point %d is %g", d, i, u)
				}
				if d < Even {
					seen[d][int(u*n)] = true
				}
			}
		}
		for d := range seen {
			for c, s := range seen[d] {
				if !s {
					t.Fatalf("seed %d, coordinate %d: no point in class %d", seed, d, c)
				}
			}
		}
	}
}

func BenchmarkPoints(b *testing.B) {
	x := make([]float64, 20)
	p := NewPoints(len(x), 1)
	for i := range b.N {
		p.At(i%100000, x)
	}
}

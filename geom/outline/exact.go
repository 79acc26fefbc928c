package outline

import (
	"math"

	"dryfit/geom/r2"
)

// orient returns 1 where c lies to the left of the line from a to b, -1 to the
// right, 0 exactly on it. The sign is exact for coordinates whose products do
// not underflow: a filter first (error bound from Shewchuk, "Adaptive Precision
// Floating-Point Arithmetic", 1997), then the sum of all products without
// rounding. An exact sign is what lets ear clipping never get stuck.
func orient(a, b, c r2.Vec) int {
	l := float64((a.X - c.X) * (b.Y - c.Y))
	r := float64((a.Y - c.Y) * (b.X - c.X))
	det := l - r
	const bound = (3 + 16*0x1p-53) * 0x1p-53
	if math.Abs(det) > bound*(math.Abs(l)+math.Abs(r)) {
		return sign(det)
	}
	if a == b || b == c || a == c || a.X == b.X && b.X == c.X || a.Y == b.Y && b.Y == c.Y {
		return 0
	}
	var sum [12]float64 // an expansion: parts that do not overlap, smallest first
	n := 0
	add := func(x float64) {
		k := 0
		for i := range n {
			s := x + sum[i]
			t := s - x
			low := (x - (s - t)) + (sum[i] - t)
			if x = s; low != 0 {
				sum[k] = low
				k++
			}
		}
		if n = k; x != 0 {
			sum[n] = x
			n++
		}
	}
	product := func(x, y float64) {
		p := float64(x * y)
		add(math.FMA(x, y, -p))
		add(p)
	}
	product(a.X, b.Y)
	product(-a.Y, b.X)
	product(b.X, c.Y)
	product(-b.Y, c.X)
	product(c.X, a.Y)
	product(-c.Y, a.X)
	if n == 0 {
		return 0
	}
	return sign(sum[n-1]) // the largest part outweighs all below it
}

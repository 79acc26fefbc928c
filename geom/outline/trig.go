package outline

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// The standard library's sine may be compiled to fused operations on some
// processors, and so differ in the last bit from one machine to the next. These
// are plain series with every product rounded; square root and division are
// correctly rounded everywhere. Errors are a few units in the last place, which
// the test compares with the standard library.

// halfPi in three parts, the first two short enough that small multiples of
// them are exact.
const (
	halfPi1 = 1.57079632673412561417e+00
	halfPi2 = 6.07710050630396597660e-11
	halfPi3 = 2.02226624879595063154e-21
)

// sincos returns sine and cosine of x, for |x| up to some hundred turns.
func sincos(x float64) (sin, cos float64) {
	q := math.Floor(float64(x*(2/math.Pi)) + 0.5)
	r := x - float64(q*halfPi1)
	r -= float64(q * halfPi2)
	r -= float64(q * halfPi3)
	// |r| <= pi/4: the terms left out are below 1e-18.
	z := float64(r * r)
	s, c := 0.0, 0.0
	for k := 16; k >= 2; k -= 2 {
		s = float64((1 - s) * z / float64(k*(k+1)))
		c = float64((1 - c) * z / float64((k-1)*k))
	}
	s, c = r-float64(r*s), 1-c
	switch int64(q) & 3 {
	case 0:
		return s, c
	case 1:
		return c, -s
	case 2:
		return -s, -c
	}
	return -c, s
}

// atan2 returns the angle of the vector (x, y) in (-pi, pi].
func atan2(y, x float64) float64 {
	ax, ay := math.Abs(x), math.Abs(y)
	var a float64
	switch {
	case ay == 0:
		a = 0
	case ax == 0:
		a = math.Pi / 2
	case ax == ay:
		a = math.Pi / 4
	case ay < ax:
		a = atan(ay / ax)
	default:
		a = math.Pi/2 - atan(ax/ay)
	}
	if x < 0 {
		a = math.Pi - a
	}
	if y < 0 {
		a = -a
	}
	return a
}

// atan returns the arc tangent of t in [0, 1]: the angle halved twice, then the
// series, whose first term left out is below 1e-18.
func atan(t float64) float64 {
	for range 2 {
		t /= 1 + math.Sqrt(1+float64(t*t))
	}
	z, s := float64(t*t), 0.0
	for k := 25; k >= 3; k -= 2 {
		s = float64(z * (1/float64(k) - s))
	}
	return float64(4 * (t - float64(t*s)))
}

// acos returns the arc cosine of x in [-1, 1].
func acos(x float64) float64 { return atan2(math.Sqrt(float64((1-x)*(1+x))), x) }

// turned returns v turned by angle.
func turned(v r2.Vec, angle float64) r2.Vec {
	sin, cos := sincos(angle)
	return times(r2.Vec{X: cos, Y: sin}, v)
}

// times multiplies two vectors as complex numbers: v turned and scaled by u.
func times(u, v r2.Vec) r2.Vec {
	return r2.Vec{
		X: float64(u.X*v.X) - float64(u.Y*v.Y),
		Y: float64(u.X*v.Y) + float64(u.Y*v.X),
	}
}

// step returns v turned by k/n of sweep. Whole quarter turns inside the sweep
// are exact when the sweep is itself a number of quarter turns.
func step(v r2.Vec, sweep float64, k, n int) r2.Vec {
	m := math.Round(sweep / (math.Pi / 2))
	if m == 0 || math.Abs(sweep-float64(m*(math.Pi/2))) > tol.Quarter {
		return turned(v, float64(sweep*float64(k))/float64(n))
	}
	dir := 1
	if m < 0 {
		m, dir = -m, -1
	}
	q, rest := int(m)*k/n, int(m)*k%n
	for range q {
		if v = v.Perp(); dir < 0 {
			v = v.Neg()
		}
	}
	if rest == 0 {
		return v
	}
	return turned(v, float64(dir)*float64(float64(rest)/float64(n)*(math.Pi/2)))
}

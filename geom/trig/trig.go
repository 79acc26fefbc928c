// Package trig has the functions of angles with the same bits on every machine.
//
// Those of the standard library may be compiled to fused operations, or to code
// of their own, on some processors, and so differ in the last bit. These are
// plain series with every product rounded before it is added; square root and
// division are correctly rounded everywhere. Angles are radians.
package trig

import (
	"math"

	"dryfit/geom/tol"
)

// A quarter turn in three parts, the first two short enough that small
// multiples of them are exact. Source: pi/2 to 120 bits, cut to pieces of 33, 33
// and 53 bits.
const (
	quarter1 = 1.57079632673412561417e+00
	quarter2 = 6.07710050630396597660e-11
	quarter3 = 2.02226624879595063154e-21
)

// The series of (1 - sin(r)/r)/r² and (1 - cos r)/r² in r², the highest power first.
var (
	sinTerms = [8]float64{-1.0 / 355687428096000, 1.0 / 1307674368000, -1.0 / 6227020800, 1.0 / 39916800, -1.0 / 362880, 1.0 / 5040, -1.0 / 120, 1.0 / 6}
	cosTerms = [8]float64{-1.0 / 20922789888000, 1.0 / 87178291200, -1.0 / 479001600, 1.0 / 3628800, -1.0 / 40320, 1.0 / 720, -1.0 / 24, 1.0 / 2}
)

// Sincos returns sine and cosine of x within 3e-16, for |x| up to some hundred turns.
func Sincos(x float64) (sin, cos float64) {
	q := math.Floor(float64(x*(2/math.Pi)) + 0.5)
	r := x - float64(q*quarter1)
	r -= float64(q * quarter2)
	r -= float64(q * quarter3)
	// |r| <= pi/4: the terms left out are below 1e-18.
	z := float64(r * r)
	s, c := 0.0, 0.0
	for i := range sinTerms {
		s = float64(s*z) + sinTerms[i]
		c = float64(c*z) + cosTerms[i]
	}
	s, c = r-float64(r*float64(z*s)), 1-float64(z*c)
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

// Turn is Sincos with exact results within tol.Quarter of a whole number of
// quarter turns.
func Turn(x float64) (sin, cos float64) {
	r := math.Round(x / (math.Pi / 2))
	if math.Abs(x-float64(r*(math.Pi/2))) < tol.Quarter && math.Abs(r) < 1e6 {
		switch int64(r) & 3 {
		case 0:
			return 0, 1
		case 1:
			return 1, 0
		case 2:
			return 0, -1
		}
		return -1, 0
	}
	return Sincos(x)
}

// Sin returns the sine of x within 3e-16.
func Sin(x float64) float64 { s, _ := Sincos(x); return s }

// Cos returns the cosine of x within 3e-16.
func Cos(x float64) float64 { _, c := Sincos(x); return c }

// Tan returns the tangent of x, within 1e-15 of it relative where |x| <= 1.5.
func Tan(x float64) float64 { s, c := Sincos(x); return s / c }

// Atan2 returns the angle of the vector (x, y) in [-pi, pi] within 1e-15; that
// of the zero vector is 0.
func Atan2(y, x float64) float64 {
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

var atanTerms = [12]float64{1.0 / 25, 1.0 / 23, 1.0 / 21, 1.0 / 19, 1.0 / 17, 1.0 / 15, 1.0 / 13, 1.0 / 11, 1.0 / 9, 1.0 / 7, 1.0 / 5, 1.0 / 3}

// atan returns the arc tangent of t in [0, 1]: the angle halved twice, then the
// series, whose first term left out is below 1e-18.
func atan(t float64) float64 {
	for range 2 {
		t /= 1 + math.Sqrt(1+float64(t*t))
	}
	z, s := float64(t*t), 0.0
	for _, c := range atanTerms {
		s = float64(z * (c - s))
	}
	return float64(4 * (t - float64(t*s)))
}

// Acos returns the arc cosine of x in [-1, 1] within 1e-15, NaN of others.
func Acos(x float64) float64 { return Atan2(math.Sqrt(float64((1-x)*(1+x))), x) }

// Asin returns the arc sine of x in [-1, 1] within 1e-15, NaN of others.
func Asin(x float64) float64 { return Atan2(x, math.Sqrt(float64((1-x)*(1+x)))) }

// Hypot returns the length of the vector (x, y), for coordinates from 1e-150 to 1e150.
func Hypot(x, y float64) float64 { return math.Sqrt(float64(x*x) + float64(y*y)) }

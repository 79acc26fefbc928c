package chance

import (
	"errors"
	"math"
)

// A builder's spread, from what was measured. A normal error about nought whose variance is not known
// has a scaled inverse chi-square distribution of it: with n0 degrees of freedom and the scale s0 from
// what is usual, n measures with a mean square of v make n0 + n degrees of freedom and the scale
// (n0 s0² + n v) / (n0 + n). Source: Gelman and others, Bayesian Data Analysis, 3rd ed., 2013, section
// 2.6, from memory.

// Spread is a standard deviation about nought, as far as it is known.
type Spread struct {
	SD       float64
	Interval Interval // of its share, at the confidence that was asked for
	Freedom  float64  // degrees of freedom, of what is usual and what was measured
}

// SpreadOf takes the usual spread for as good as usual measures and adds n measures, or degrees of
// freedom, of that sum of squares. Errors: a number below nought, or nothing at all to go by.
func SpreadOf(usual, weight, sumOfSquares float64, n int, confidence float64) (Spread, error) {
	if usual < 0 || weight < 0 || sumOfSquares < 0 || n < 0 || weight+float64(n) == 0 || confidence <= 0 || confidence >= 1 {
		return Spread{}, errors.New("chance: a spread needs numbers of nought or more, and something to go by")
	}
	s := Spread{Freedom: weight + float64(n)}
	total := float64(weight*float64(usual*usual)) + sumOfSquares
	s.SD = math.Sqrt(total / s.Freedom)
	tail := (1 - confidence) / 2
	s.Interval = Interval{math.Sqrt(total / ChiSquareQuantile(1-tail, s.Freedom)), math.Sqrt(total / ChiSquareQuantile(tail, s.Freedom))}
	return s, nil
}

// ChiSquareQuantile returns the point below which a share p (between 0 and 1) of a chi-square
// distribution lies, by halving, to the last bits.
func ChiSquareQuantile(p, freedom float64) float64 {
	lo, hi := 0.0, math.Max(1, freedom)
	for chiSquareCDF(hi, freedom) < p {
		lo, hi = hi, 2*hi
	}
	for range 200 {
		mid := lo + (hi-lo)/2
		if mid <= lo || mid >= hi {
			break
		}
		if chiSquareCDF(mid, freedom) < p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// chiSquareCDF is the regularised lower incomplete gamma function of half of both. Source: its power
// series, Abramowitz and Stegun 6.5.29; all terms are above nought, so none cancel.
func chiSquareCDF(x, freedom float64) float64 {
	if x <= 0 {
		return 0
	}
	a, z := freedom/2, x/2
	if z > 40+float64(4*a) { // beyond what counts: 1 to the last bit
		return 1
	}
	sum, term := 1.0, 1.0
	for k := 1; k < 10000; k++ {
		term = float64(term * (z / (a + float64(k))))
		sum += term
		if term < 1e-17*sum {
			break
		}
	}
	return math.Min(1, float64(sum*exp(float64(a*ln(z))-z-lnGamma(a+1))))
}

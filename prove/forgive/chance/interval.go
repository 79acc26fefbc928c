package chance

import (
	"fmt"
	"math"
)

// Interval is the range in which a share lies, both ends between 0 and 1.
type Interval struct{ Low, High float64 }

// ClopperPearson returns the exact confidence interval of a share of which k of n
// independent tries were seen: whatever the true share is, intervals made so hold
// it in at least the share confidence (say 0.95) of all cases. Each side is given half of
// the rest.
//
// Source: Clopper and Pearson, "The use of confidence or fiducial limits illustrated in the
// case of the binomial", Biometrika 26 (1934); by the beta distribution: Johnson, Kemp and
// Kotz, Univariate Discrete Distributions, 3.8.3.
func ClopperPearson(k, n int, confidence float64) (Interval, error) {
	return ClopperPearsonUndecided(k, 0, n, confidence)
}

// ClopperPearsonUndecided is ClopperPearson where u more of the n tries have no answer:
// from the low end as if none of them counted to the high end as if all did. It
// holds the true share as often as ClopperPearson, whatever the answers are.
func ClopperPearsonUndecided(k, u, n int, confidence float64) (Interval, error) {
	switch {
	case n < 1:
		return Interval{}, fmt.Errorf("an interval of %d tries: expected at least 1", n)
	case k < 0 || u < 0 || k > n || u > n-k:
		return Interval{}, fmt.Errorf("an interval of %d and %d undecided of %d tries: expected counts from 0 that are no more than the tries together", k, u, n)
	case !(confidence > 0 && confidence < 1):
		return Interval{}, fmt.Errorf("an interval with confidence %g: expected a share between 0 and 1, as 0.95", confidence)
	}
	half := (1 - confidence) / 2
	in := Interval{0, 1}
	if k > 0 {
		in.Low = betaQuantile(half, float64(k), float64(n-k+1))
	}
	if h := k + u; h < n {
		// By symmetry, so that k of n and n-k of n are mirror images to the last bit.
		in.High = 1 - betaQuantile(half, float64(n-h), float64(h+1))
	}
	return in, nil
}

// betaQuantile returns the x at which betaInc is p, to the last digits that float64 has:
// bisection, whose number of steps is bounded and the same everywhere.
func betaQuantile(p, a, b float64) float64 {
	low, high := 0.0, 1.0
	for range bisections {
		mid := low + (high-low)/2
		if mid == low || mid == high {
			break
		}
		if betaInc(a, b, mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return low + (high-low)/2
}

// bisections is enough to resolve shares down to 1e-30, digits and all.
const bisections = 160

// Holds tells whether a share lies in the interval, ends included.
func (i Interval) Holds(share float64) bool {
	return i.Low <= share && share <= i.High && !math.IsNaN(share)
}

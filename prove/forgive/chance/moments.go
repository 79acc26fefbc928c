package chance

import "math"

// Moments gathers number, mean and variance of values in one pass. The zero value is empty.
//
// Source: Welford, "Note on a method for calculating corrected sums of squares and
// products", Technometrics 4 (1962); merging: Chan, Golub and LeVeque, "Algorithms for
// computing the sample variance", The American Statistician 37 (1983).
type Moments struct {
	n        int
	mean, m2 float64
}

// Add takes a value in.
func (m *Moments) Add(x float64) {
	m.n++
	d := x - m.mean
	m.mean += d / float64(m.n)
	m.m2 += float64(d * (x - m.mean))
}

// Merge takes in all values of another. The last bits depend on what is merged when:
// Fold merges fixed blocks in order.
func (m *Moments) Merge(o Moments) {
	if m.n == 0 || o.n == 0 {
		if m.n == 0 {
			*m = o
		}
		return
	}
	a, b := float64(m.n), float64(o.n)
	d := o.mean - m.mean
	m.n += o.n
	m.mean += float64(d*b) / (a + b)
	m.m2 += o.m2 + float64(d*d*(a*b/(a+b)))
}

// N returns how many values were taken in.
func (m Moments) N() int { return m.n }

// Mean returns the mean, NaN of no value.
func (m Moments) Mean() float64 {
	if m.n == 0 {
		return math.NaN()
	}
	return m.mean
}

// Variance returns the sample variance, with n-1 below; NaN of fewer than two values.
func (m Moments) Variance() float64 {
	if m.n < 2 {
		return math.NaN()
	}
	return m.m2 / float64(m.n-1)
}

// SD returns the standard deviation of a value, the root of Variance.
func (m Moments) SD() float64 { return math.Sqrt(m.Variance()) }

// Error returns the standard error of the mean of independent values, SD/sqrt(n).
func (m Moments) Error() float64 { return math.Sqrt(m.Variance() / float64(m.n)) }

package chance

import (
	"math"
	"testing"
)

// Against the standard library, whose functions are other code.
func TestElementary(t *testing.T) {
	for _, x := range []float64{1e-300, 1e-20, 0.01, 0.5, 0.7, 0.70710678, 0.7071068, 0.9, 0.999999, 1, 1.0000001, 1.4, 2, 3, 1e5, 1e300} {
		near(t, "ln", ln(x), math.Log(x), 3e-16*max(1, math.Abs(math.Log(x))))
	}
	for _, x := range []float64{-0.999, -0.5, -0.1, -1e-5, -1e-12, 1e-9, 0.3, 2} {
		near(t, "ln1p", ln1p(x), math.Log1p(x), 4e-16*math.Abs(math.Log1p(x)))
	}
	for _, x := range []float64{-745, -700, -30, -1, -0.3, -1e-9, 0, 0.3466, 1, 10, 700, 709.7} {
		near(t, "exp", exp(x), math.Exp(x), 5e-16*math.Exp(x)+5e-324)
	}
	if exp(-800) != 0 || !math.IsInf(exp(800), 1) {
		t.Error("exp beyond the numbers")
	}
	for _, x := range []float64{1, 1.5, 2, 3, 15.9, 16, 100, 1e6} {
		want, _ := math.Lgamma(x)
		near(t, "lnGamma", lnGamma(x), want, 2e-15*max(10, math.Abs(want)))
	}
}

// Percentage points. Source: NIST/SEMATECH e-Handbook of Statistical Methods 1.3.6.7.1, and
// the two check values that Wichura (1988) gives for PPND16.
func TestNormalQuantilePublished(t *testing.T) {
	near(t, "0.25 (Wichura)", NormalQuantile(0.25), -0.6744897501960817, 1e-15)
	near(t, "0.001 (Wichura)", NormalQuantile(0.001), -3.090232306167814, 3e-15)
	near(t, "1e-20 (Wichura)", NormalQuantile(1e-20), -9.262340089798408, 9e-15)
	for p, z := range map[float64]float64{0.90: 1.282, 0.95: 1.645, 0.975: 1.960, 0.99: 2.326, 0.995: 2.576, 0.999: 3.090} {
		near(t, "NIST", NormalQuantile(p), z, 5e-4)
	}
	if !math.IsInf(NormalQuantile(0), -1) || !math.IsInf(NormalQuantile(1), 1) || !math.IsNaN(NormalQuantile(-0.1)) || !math.IsNaN(NormalQuantile(1.1)) || !math.IsNaN(NormalQuantile(math.NaN())) {
		t.Error("the ends of the quantile")
	}
}

// The quantile undoes the error function of the standard library over all it can be asked for.
func TestNormalAgainstErfc(t *testing.T) {
	cdf := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	for z := -37.0; z <= 8; z += 0.0371 {
		want := cdf(z)
		near(t, "NormalCDF", NormalCDF(z), want, 3e-13*want)
	}
	for e := -1000.0; e < -1; e += 0.73 {
		p := math.Exp2(e)
		z := NormalQuantile(p)
		// An error of z shows in p times the density over p, which is |z| or so.
		near(t, "undone", cdf(z)/p, 1, 1e-15*(20+4*z*z))
		if 1-p == 1 {
			continue
		}
		near(t, "mirrored", NormalQuantile(1-p), -NormalQuantile(1-(1-p)), 1e-14*max(1, math.Abs(NormalQuantile(1-(1-p)))))
	}
}

// Means and variances of the distributions, over a grid of shares. Source: of the normal cut
// off, Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 1 (1994), 13.10; of
// the others Evans, Hastings and Peacock, Statistical Distributions.
func TestDistributions(t *testing.T) {
	const k = 2.0
	inside := math.Erf(k / math.Sqrt2)
	cut := 1 - 2*k*math.Exp(-k*k/2)/math.Sqrt(2*math.Pi)/inside
	for _, c := range []struct {
		what           string
		d              Distribution
		mean, variance float64
		low, high      float64
	}{
		{"uniform", Uniform{2, 5}, 3.5, 0.75, 2, 5},
		{"normal", Normal{3, 0.5}, 3, 0.25, -2, 8},
		{"half-normal", HalfNormal{2}, 2 * math.Sqrt(2/math.Pi), 4 * (1 - 2/math.Pi), 0, 20},
		{"half-normal down", HalfNormal{-2}, -2 * math.Sqrt(2/math.Pi), 4 * (1 - 2/math.Pi), -20, 0},
		{"truncated", NewTruncated(10, 3, k), 10, 9 * cut, 4, 16},
		{"hardly truncated", NewTruncated(10, 3, 60), 10, 9, -20, 40},
		{"triangular", Triangular{1, 2, 6}, 3, (1. + 4 + 36 - 2 - 6 - 12) / 18, 1, 6},
		{"triangular, one side", Triangular{1, 1, 4}, 2, 0.5, 1, 4},
	} {
		var m Moments
		const n = 400000
		last := math.Inf(-1)
		for i := range n {
			x := c.d.Quantile((float64(i) + 0.5) / n)
			if x < last || x < c.low || x > c.high {
				t.Fatalf("%s: %g after %g, in %g to %g", c.what, x, last, c.low, c.high)
			}
			last = x
			m.Add(x)
		}
		near(t, c.what+": mean", m.Mean(), c.mean, 1e-4)
		near(t, c.what+": variance", m.Variance(), c.variance, 1e-3)
		var drawn Moments
		for i := range 100000 {
			drawn.Add(NewStream(3).Draw(c.d, i, 0, 0))
		}
		near(t, c.what+": mean of what is drawn", drawn.Mean(), c.mean, 4*drawn.Error())
	}
	if x := (Triangular{2, 2, 2}).Quantile(0.3); x != 2 {
		t.Errorf("a triangle of no width gives %g", x)
	}
	if !math.IsNaN(NewTruncated(0, 1, 0).Quantile(0.3)) {
		t.Error("a normal distribution cut off at 0 gives numbers")
	}
}

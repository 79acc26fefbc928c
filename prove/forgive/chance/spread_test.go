package chance

import (
	"math"
	"testing"
)

// Critical values of chi-square: NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.4, from
// memory.
func TestChiSquarePublished(t *testing.T) {
	for _, c := range []struct{ p, freedom, is float64 }{
		{0.95, 1, 3.841}, {0.975, 1, 5.024}, {0.99, 2, 9.210}, {0.95, 10, 18.307}, {0.975, 10, 20.483},
		{0.05, 10, 3.940}, {0.025, 10, 3.247}, {0.05, 30, 18.493}, {0.95, 30, 43.773}, {0.99, 100, 135.807}, {0.01, 100, 70.065},
	} {
		if got := ChiSquareQuantile(c.p, c.freedom); math.Abs(got-c.is) > 0.0006 {
			t.Errorf("p %g, %g degrees of freedom: %.4f, published %.3f", c.p, c.freedom, got, c.is)
		}
	}
	// with two degrees of freedom the distribution is exponential: -2 ln(1-p)
	for _, p := range []float64{0.001, 0.1, 0.5, 0.9, 0.999} {
		if got, want := ChiSquareQuantile(p, 2), -2*math.Log(1-p); math.Abs(got-want) > 1e-9*want {
			t.Errorf("p %g: %.12g, exactly %.12g", p, got, want)
		}
	}
}

func TestSpreadOf(t *testing.T) {
	// Nothing measured: as usual. Much measured: as measured. In between by the conjugate formula.
	for _, c := range []struct {
		usual, weight, squares float64
		n                      int
		is                     float64
	}{{0.3, 4, 0, 0, 0.3}, {0.3, 4, 1000 * 0.04, 1000, math.Sqrt((4*0.09 + 40) / 1004)}, {0.3, 4, 0, 12, 0.15}, {0, 0, 8, 2, 2}} {
		s, err := SpreadOf(c.usual, c.weight, c.squares, c.n, 0.95)
		if err != nil || math.Abs(s.SD-c.is) > 1e-12 || s.Interval.Low > s.SD || s.Interval.High < s.SD {
			t.Errorf("%+v: %+v, %v", c, s, err)
		}
	}
	if _, err := SpreadOf(1, 0, 0, 0, 0.95); err == nil {
		t.Error("a spread from nothing")
	}
}

// However often it is measured anew, the interval holds the true spread as often as it says, where what
// is usual counts for nothing.
func TestSpreadCoverage(t *testing.T) {
	held, tries := 0, 4000
	for i := range tries {
		sum := 0.0
		for k := range 6 {
			x := 0.2 * NewStream(99).Normal(i, k, 0)
			sum += float64(x * x)
		}
		s, err := SpreadOf(0, 0, sum, 6, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if s.Interval.Low <= 0.2 && 0.2 <= s.Interval.High {
			held++
		}
	}
	// 0.95 of 4000 is 3800, give or take 14 (binomial); 4 of those
	if held < 3745 || held > 3855 {
		t.Errorf("%d of %d intervals hold the spread", held, tries)
	}
}

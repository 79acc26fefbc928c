package chance

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"
)

func exact(t *testing.T, k, n int, confidence float64) Interval {
	t.Helper()
	in, err := ClopperPearson(k, n, confidence)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

func TestIntervalPublished(t *testing.T) {
	for _, c := range []struct {
		k, n       int
		confidence float64
		low, high  float64
		digits     float64
	}{
		// Newcombe, "Two-sided confidence intervals for the single proportion", Statistics in
		// Medicine 17 (1998), table I, method 5.
		{81, 263, 0.95, 0.2527, 0.3676, 1e-4},
		{15, 148, 0.95, 0.0578, 0.1617, 1e-4},
		{0, 20, 0.95, 0, 0.1684, 1e-4},
		{1, 29, 0.95, 0.0009, 0.1776, 1e-4},
		// Conover, Practical Nonparametric Statistics (1971), p. 97, to the digits that the
		// documentation of binom.test of R prints.
		{682, 925, 0.95, 0.7076683, 0.7654066, 1e-7},
		// Tables of the binomial limits of 10 tries, 95 % (from memory).
		{1, 10, 0.95, 0.0025, 0.4450, 1e-4},
		{2, 10, 0.95, 0.0252, 0.5561, 1e-4},
		{3, 10, 0.95, 0.0667, 0.6525, 1e-4},
		{5, 10, 0.95, 0.1871, 0.8129, 1e-4},
		{10, 10, 0.95, 0.6915, 1, 1e-4},
	} {
		what := fmt.Sprintf("%d of %d", c.k, c.n)
		in := exact(t, c.k, c.n, c.confidence)
		near(t, what+": low", in.Low, c.low, c.digits/2*1.001)
		near(t, what+": high", in.High, c.high, c.digits/2*1.001)
	}
}

// None of n has a closed form, 1 - (half of the rest)^(1/n), also for many tries.
func TestIntervalNone(t *testing.T) {
	for _, n := range []int{1, 2, 10, 1000, 100000, 1000000} {
		want := -math.Expm1(math.Log(0.005) / float64(n))
		in := exact(t, 0, n, 0.99)
		near(t, fmt.Sprintf("0 of %d", n), in.High, want, 1e-10*want+1e-16)
		if in.Low != 0 {
			t.Errorf("0 of %d: low end %g", n, in.Low)
		}
		if all := exact(t, n, n, 0.99); all.High != 1 || math.Abs(all.Low-(1-in.High)) > 1e-15 {
			t.Errorf("%d of %d: %v is not the mirror of %v", n, n, all, in)
		}
	}
}

// tail returns the chance that k or more of n are seen, summed term by term with 300 bits.
func tail(k, n int, p float64) float64 {
	num := func(x float64) *big.Float { return new(big.Float).SetPrec(300).SetFloat64(x) }
	pow := func(x *big.Float, e int) *big.Float {
		r := num(1)
		for ; e > 0; e-- {
			r.Mul(r, x)
		}
		return r
	}
	b := num(p)
	rest := num(1)
	rest.Sub(rest, b)
	term := new(big.Float).SetPrec(300).SetInt(new(big.Int).Binomial(int64(n), int64(k)))
	term.Mul(term, pow(b, k)).Mul(term, pow(rest, n-k))
	sum := num(0)
	for i := k; i <= n; i++ {
		sum.Add(sum, term)
		term.Mul(term, num(float64(n-i))).Mul(term, b).Quo(term, num(float64(i+1))).Quo(term, rest)
	}
	f, _ := sum.Float64()
	return f
}

// At the low end k or more have the chance of half the rest, at the high end k or fewer: that is what
// Clopper and Pearson ask for.
func TestIntervalTails(t *testing.T) {
	for _, c := range []struct{ k, n int }{{1, 2}, {3, 7}, {1, 50}, {25, 50}, {49, 50}, {7, 1000}, {500, 1000}, {990, 1000}, {40, 20000}, {10000, 20000}} {
		for _, confidence := range []float64{0.8, 0.95, 0.999} {
			in, half := exact(t, c.k, c.n, confidence), (1-confidence)/2
			what := fmt.Sprintf("%d of %d at %g", c.k, c.n, confidence)
			near(t, what+": tail of the low end", tail(c.k, c.n, in.Low)/half, 1, 1e-9)
			near(t, what+": tail of the high end", (1-tail(c.k+1, c.n, in.High))/half, 1, 1e-9)
		}
	}
}

// Whatever the true share is, the interval holds it at least as often as it says; and not
// always, which would be no art. The chance is summed, not tried.
func TestIntervalCoverage(t *testing.T) {
	for _, n := range []int{5, 20, 60} {
		var ins []Interval
		for k := range n + 1 {
			ins = append(ins, exact(t, k, n, 0.9))
		}
		least := 1.0
		for p := 0.005; p < 1; p += 0.005 {
			held, term := 0.0, math.Pow(1-p, float64(n))
			for k := range n + 1 {
				if ins[k].Holds(p) {
					held += term
				}
				term *= float64(n-k) / float64(k+1) * p / (1 - p)
			}
			if held < 0.9-1e-12 {
				t.Errorf("%d tries of %g: held in %g of all cases", n, p, held)
			}
			least = min(least, held)
		}
		if least > 0.94 {
			t.Errorf("%d tries: held in %g of all cases at least, far more than 0.9", n, least)
		}
	}
}

// Undecided tries count both ways.
func TestIntervalUndecided(t *testing.T) {
	in, err := ClopperPearsonUndecided(12, 5, 100, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if low, high := exact(t, 12, 100, 0.95).Low, exact(t, 17, 100, 0.95).High; in.Low != low || in.High != high {
		t.Errorf("%v, want %g to %g", in, low, high)
	}
	if in, err = ClopperPearsonUndecided(0, 8, 8, 0.95); err != nil || in != (Interval{0, 1}) {
		t.Errorf("nothing decided: %v, %v", in, err)
	}
}

func TestIntervalWrong(t *testing.T) {
	for _, c := range []struct {
		k, u, n    int
		confidence float64
		want       string
	}{
		{0, 0, 0, 0.95, "at least 1"},
		{-1, 0, 5, 0.95, "no more than the tries"},
		{6, 0, 5, 0.95, "no more than the tries"},
		{3, 3, 5, 0.95, "no more than the tries"},
		{3, math.MaxInt, 5, 0.95, "no more than the tries"},
		{3, 0, 5, 1, "between 0 and 1"},
		{3, 0, 5, 95, "between 0 and 1"},
		{3, 0, 5, math.NaN(), "between 0 and 1"},
	} {
		if _, err := ClopperPearsonUndecided(c.k, c.u, c.n, c.confidence); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v", c, err)
		}
	}
}

func BenchmarkClopperPearson(b *testing.B) {
	for range b.N {
		ClopperPearson(4180, 10000, 0.95)
	}
}

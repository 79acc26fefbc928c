package chance

import "math"

// The logarithm of 2 in two parts, the first short enough that its multiples by any
// exponent are exact. Source: ln 2 to 107 bits.
const (
	ln2Hi = 6.93147180369123816490e-01
	ln2Lo = 1.90821492927058770002e-10
)

// ln returns the natural logarithm of a positive finite x: x is 2^k (1+f) with 1+f within
// a root of two of 1, and ln(1+f) = 2 artanh(f/(2+f)). Source: DLMF 4.6.4.
func ln(x float64) float64 {
	m, k := math.Frexp(x)
	if m < math.Sqrt2/2 {
		m, k = 2*m, k-1
	}
	s := (m - 1) / (m + 1)
	// s² < 0.0295: the terms left out are below 1e-19.
	z, sum := float64(s*s), 0.0
	for n := 23; n >= 3; n -= 2 {
		sum = float64(z * (1/float64(n) + sum))
	}
	return float64(float64(k)*ln2Hi) + (2*s + (float64(2*s*sum) + float64(float64(k)*ln2Lo)))
}

// ln1p returns ln(1+x) for x > -1, without losing digits for small x: the rounding of
// 1+x is made up for. Source: Goldberg, "What every computer scientist should know about
// floating-point arithmetic", ACM Computing Surveys 23 (1991), theorem 4.
func ln1p(x float64) float64 {
	w := 1 + x
	if w == 1 {
		return x
	}
	return float64(x * (ln(w) / (w - 1)))
}

// exp returns e^x; 0 and infinity where it leaves the numbers. x is k ln 2 + r with
// |r| <= ln(2)/2, and e^r its power series. Source: DLMF 4.2.19.
func exp(x float64) float64 {
	switch {
	case x < -745:
		return 0
	case x > 709.78:
		return math.Inf(1)
	}
	k := math.Floor(x/math.Ln2 + 0.5)
	r := x - float64(k*ln2Hi) - float64(k*ln2Lo)
	// The terms left out are below 1e-17.
	sum := 1.0
	for n := 14; n >= 1; n-- {
		sum = 1 + float64(r*sum)/float64(n)
	}
	return math.Ldexp(sum, int(k))
}

package chance

import "math"

// betaInc returns the regularized incomplete beta function I_x(a, b), for a and b of at
// least 1 and x in [0, 1], within about 1e-10 relative up to a+b = 1e6.
//
// Source: DLMF 8.17.22 (continued fraction, converging for x < (a+1)/(a+b+2)) and
// 8.17.4 (symmetry); the fraction by the method of Lentz as changed by Thompson and
// Barnett, Journal of Computational Physics 64 (1986).
func betaInc(a, b, x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	}
	front := exp(lnGamma(a+b) - lnGamma(a) - lnGamma(b) + float64(a*ln(x)) + float64(b*ln1p(-x)))
	if x > (a+1)/(a+b+2) {
		return 1 - float64(front/b*betaFraction(b, a, 1-x))
	}
	return float64(front / a * betaFraction(a, b, x))
}

const (
	// small stands for a nought that the method would divide by.
	small = 1e-300
	// steady is how near to 1 a factor of the fraction must be for the rest not to count:
	// the rounding of a float64.
	steady = 3e-16
	// steps ends a fraction that does not settle: it needs about the root of the larger
	// parameter, so this is for numbers far beyond any count.
	steps = 1000000
)

func betaFraction(a, b, x float64) float64 {
	c := 1.0
	d := 1 / apart(1-float64((a+b)*x/(a+1)))
	h := d
	for m := 1.0; m < steps; m++ {
		even := m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		d = 1 / apart(1+float64(even*d))
		c = apart(1 + even/c)
		h = float64(h * float64(d*c))
		odd := -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		d = 1 / apart(1+float64(odd*d))
		c = apart(1 + odd/c)
		factor := float64(d * c)
		h = float64(h * factor)
		if math.Abs(factor-1) < steady {
			break
		}
	}
	return h
}

func apart(x float64) float64 {
	if math.Abs(x) < small {
		return small
	}
	return x
}

// The terms B(2k) / (2k (2k-1)) of Stirling's series, the highest first.
var stirling = [7]float64{1.0 / 156, -691.0 / 360360, 1.0 / 1188, -1.0 / 1680, 1.0 / 1260, -1.0 / 360, 1.0 / 12}

// lnGamma returns the logarithm of the gamma function of x >= 1. Source: DLMF 5.11.1, after
// 5.5.1 has raised x to at least 16, where the terms left out are below 1e-17.
func lnGamma(x float64) float64 {
	up := 1.0
	for ; x < 16; x++ {
		up = float64(up * x)
	}
	s, z := 0.0, 1/float64(x*x)
	for _, c := range stirling {
		s = float64(s*z) + c
	}
	return float64((x-0.5)*ln(x)) - x + math.Ln2/2 + lnPi/2 + s/x - ln(up)
}

// lnPi is the logarithm of pi.
const lnPi = 1.14472988584940017414342735135305871165

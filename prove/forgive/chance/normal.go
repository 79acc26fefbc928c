package chance

import "math"

// The coefficients of PPND16, the highest power first.
var (
	midTop  = [8]float64{2.5090809287301226727e+3, 3.3430575583588128105e+4, 6.7265770927008700853e+4, 4.5921953931549871457e+4, 1.3731693765509461125e+4, 1.9715909503065514427e+3, 1.3314166789178437745e+2, 3.3871328727963666080e0}
	midLow  = [8]float64{5.2264952788528545610e+3, 2.8729085735721942674e+4, 3.9307895800092710610e+4, 2.1213794301586595867e+4, 5.3941960214247511077e+3, 6.8718700749205790830e+2, 4.2313330701600911252e+1, 1}
	nearTop = [8]float64{7.74545014278341407640e-4, 2.27238449892691845833e-2, 2.41780725177450611770e-1, 1.27045825245236838258e0, 3.64784832476320460504e0, 5.76949722146069140550e0, 4.63033784615654529590e0, 1.42343711074968357734e0}
	nearLow = [8]float64{1.05075007164441684324e-9, 5.47593808499534494600e-4, 1.51986665636164571966e-2, 1.48103976427480074590e-1, 6.89767334985100004550e-1, 1.67638483018380384940e0, 2.05319162663775882187e0, 1}
	farTop  = [8]float64{2.01033439929228813265e-7, 2.71155556874348757815e-5, 1.24266094738807843860e-3, 2.65321895265761230930e-2, 2.96560571828504891230e-1, 1.78482653991729133580e0, 5.46378491116411436990e0, 6.65790464350110377720e0}
	farLow  = [8]float64{2.04426310338993978564e-15, 1.42151175831644588870e-7, 1.84631831751005468180e-5, 7.86869131145613259100e-4, 1.48753612908506148525e-2, 1.36929880922735805310e-1, 5.99832206555887937690e-1, 1}
)

// NormalQuantile returns the number below which a share p of the standard normal
// distribution lies, within 1e-15 relative for p in (0, 1); infinities at 0 and 1,
// NaN outside.
//
// Source: Wichura, "Algorithm AS 241: The percentage points of the normal
// distribution", Applied Statistics 37 (1988), PPND16.
func NormalQuantile(p float64) float64 {
	if q := p - 0.5; math.Abs(q) <= 0.425 {
		r := 0.180625 - float64(q*q)
		return q * poly(&midTop, r) / poly(&midLow, r)
	}
	tail, sign := p, -1.0
	if p > 0.5 {
		tail, sign = 1-p, 1
	}
	switch {
	case tail == 0:
		return math.Inf(int(sign))
	case !(tail > 0):
		return math.NaN()
	}
	r := math.Sqrt(-ln(tail))
	if r <= 5 {
		return sign * poly(&nearTop, r-1.6) / poly(&nearLow, r-1.6)
	}
	return sign * poly(&farTop, r-5) / poly(&farLow, r-5)
}

func poly(c *[8]float64, x float64) float64 {
	s := c[0]
	for _, a := range c[1:] {
		s = float64(s*x) + a
	}
	return s
}

// deep is where the series of the normal distribution gives way to the continued
// fraction, and depth how many steps of it give 15 digits from there on.
const (
	deep  = 3.0
	depth = 80
)

// NormalCDF returns the share of the standard normal distribution below x, within 3e-13
// relative also in the lower tail.
//
// Source: DLMF 7.6.2 (power series) and 7.9.1 (continued fraction of the tail), as
// functions of x = z sqrt 2; Abramowitz and Stegun 26.2.11 and 26.2.14.
func NormalCDF(x float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x > deep:
		return 1 - NormalCDF(-x)
	case x < -40:
		return 0 // below the smallest float64
	}
	z := float64(x * x)
	density := exp(-z/2) / math.Sqrt(2*math.Pi)
	if x < -deep {
		f := 0.0
		for n := depth; n >= 1; n-- {
			f = float64(n) / (f - x)
		}
		return density / (f - x)
	}
	term, sum := x, x
	for n := 3.0; math.Abs(term) > 1e-18; n += 2 {
		term = float64(term*z) / n
		sum += term
	}
	return 0.5 + float64(density*sum)
}

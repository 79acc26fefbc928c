package chance

import "math"

// Distribution is what an input may be: the number below which a share u of it lies, for u
// in (0, 1). Any unit; that of the parameters.
type Distribution interface{ Quantile(u float64) float64 }

// Uniform is the uniform distribution from Low to High.
type Uniform struct{ Low, High float64 }

// Quantile returns the number below which a share u lies.
func (d Uniform) Quantile(u float64) float64 { return d.Low + float64(u*(d.High-d.Low)) }

// Normal is the normal distribution.
type Normal struct{ Mean, SD float64 }

// Quantile returns the number below which a share u lies.
func (d Normal) Quantile(u float64) float64 { return d.Mean + float64(d.SD*NormalQuantile(u)) }

// HalfNormal is the size of a normal distribution of mean 0 and standard deviation SD: what
// only goes one way. Its mean is SD sqrt(2/pi). Negative SD goes down.
type HalfNormal struct{ SD float64 }

// Quantile returns the number below which a share u lies.
func (d HalfNormal) Quantile(u float64) float64 {
	if d.SD < 0 {
		return float64(-d.SD * NormalQuantile(u/2))
	}
	return float64(-d.SD * NormalQuantile((1-u)/2))
}

// Truncated is a normal distribution of which nothing lies farther from Mean than K times
// SD: the rest is thrown away, and what is left has all the chance. NewTruncated makes it.
type Truncated struct{ mean, sd, k, tail float64 }

// NewTruncated returns the normal distribution cut off at k standard deviations, k > 0, on
// either side. sd is that before the cut.
func NewTruncated(mean, sd, k float64) Truncated {
	if !(k > 0) {
		return Truncated{math.NaN(), sd, k, 0}
	}
	return Truncated{mean, sd, k, NormalCDF(-k)}
}

// Quantile returns the number below which a share u lies. Source: inversion; Devroye,
// Non-Uniform Random Variate Generation (1986), II.2.1.
func (d Truncated) Quantile(u float64) float64 {
	side := 1.0
	if u > 0.5 {
		side, u = -1, 1-u // the lower tail has more digits
	}
	z := NormalQuantile(d.tail + float64(u*(1-2*d.tail)))
	return d.mean + float64(side*d.sd*max(-d.k, min(z, 0)))
}

// Triangular is the distribution whose density rises in a line from Low to Mode and falls
// in a line to High.
type Triangular struct{ Low, Mode, High float64 }

// Quantile returns the number below which a share u lies. Source: Evans, Hastings and
// Peacock, Statistical Distributions, triangular.
func (d Triangular) Quantile(u float64) float64 {
	width, rise := d.High-d.Low, d.Mode-d.Low
	if width == 0 {
		return d.Mode
	}
	if float64(u*width) <= rise {
		return d.Low + math.Sqrt(float64(u*width*rise))
	}
	return d.High - math.Sqrt(float64((1-u)*width*(d.High-d.Mode)))
}

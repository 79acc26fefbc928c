package outline

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// turned returns v turned by angle.
func turned(v r2.Vec, angle float64) r2.Vec {
	sin, cos := trig.Sincos(angle)
	return times(r2.Vec{X: cos, Y: sin}, v)
}

// times multiplies two vectors as complex numbers: v turned and scaled by u.
func times(u, v r2.Vec) r2.Vec {
	return r2.Vec{
		X: float64(u.X*v.X) - float64(u.Y*v.Y),
		Y: float64(u.X*v.Y) + float64(u.Y*v.X),
	}
}

// step returns v turned by k/n of sweep. Whole quarter turns inside the sweep
// are exact when the sweep is itself a number of quarter turns.
func step(v r2.Vec, sweep float64, k, n int) r2.Vec {
	m := math.Round(sweep / (math.Pi / 2))
	if m == 0 || math.Abs(sweep-float64(m*(math.Pi/2))) > tol.Quarter {
		return turned(v, float64(sweep*float64(k))/float64(n))
	}
	dir := 1
	if m < 0 {
		m, dir = -m, -1
	}
	q, rest := int(m)*k/n, int(m)*k%n
	for range q {
		if v = v.Perp(); dir < 0 {
			v = v.Neg()
		}
	}
	if rest == 0 {
		return v
	}
	return turned(v, float64(float64(dir)*float64(rest)/float64(n)*(math.Pi/2)))
}

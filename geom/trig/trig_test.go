package trig

import (
	"math"
	"math/big"
	"testing"
)

// exact returns sine and cosine of x by their series in 300 bits: the
// definition, which owes nothing to any library of functions.
func exact(x float64) (sin, cos float64) {
	f := func(v float64) *big.Float { return new(big.Float).SetPrec(300).SetFloat64(v) }
	term, s, c := f(1), f(0), f(0)
	for k := 0; k < 120; k++ {
		sum := c
		if k%2 == 1 {
			sum = s
		}
		if k%4 < 2 {
			sum.Add(sum, term)
		} else {
			sum.Sub(sum, term)
		}
		term.Mul(term, f(x)).Quo(term, f(float64(k+1)))
	}
	sin, _ = s.Float64()
	cos, _ = c.Float64()
	return
}

func check(t *testing.T, what string, x, got, want, eps float64) {
	t.Helper()
	if !(math.Abs(got-want) <= eps) {
		t.Errorf("%s of %v is %v, want %v, off by %.2g", what, x, got, want, got-want)
	}
}

func TestAgainstSeries(t *testing.T) {
	for i := -1400; i <= 1400; i++ {
		x := float64(i)/200 + float64(i%7)*1e-9
		ws, wc := exact(x)
		s, c := Sincos(x)
		check(t, "sine", x, s, ws, 3e-16)
		check(t, "cosine", x, c, wc, 3e-16)
		check(t, "sine alone", x, Sin(x), s, 0)
		check(t, "cosine alone", x, Cos(x), c, 0)
		if math.Abs(x) <= 1.5 {
			check(t, "tangent", x, Tan(x), ws/wc, 1e-15*math.Max(1e-3, math.Abs(ws/wc)))
		}
	}
}

// The inverse functions against the standard library, and around many turns.
func TestAgainstLibrary(t *testing.T) {
	for i := -7000; i <= 7000; i++ {
		x := float64(i) / 1000
		ws, wc := math.Sincos(x)
		a := math.Remainder(x, 2*math.Pi)
		check(t, "angle", x, Atan2(5*ws, 5*wc), a, 2e-15)
		if u := x / 7; u >= -1 && u <= 1 {
			check(t, "arc cosine", u, Acos(u), math.Acos(u), 1e-15)
			check(t, "arc sine", u, Asin(u), math.Asin(u), 1e-15)
		}
		if s, c := Sincos(90 * x); true {
			ws, wc := math.Sincos(90 * x)
			check(t, "sine", 90*x, s, ws, 3e-16)
			check(t, "cosine", 90*x, c, wc, 3e-16)
		}
	}
}

func TestCorners(t *testing.T) {
	for _, c := range []struct{ y, x, want float64 }{
		{0, 0, 0}, {0, 1, 0}, {1, 0, math.Pi / 2}, {-1, 0, -math.Pi / 2}, {0, -1, math.Pi}, {1, 1, math.Pi / 4},
		{1, -1, 3 * math.Pi / 4}, {-1, -1, -3 * math.Pi / 4}, {-1, 1, -math.Pi / 4},
	} {
		check(t, "angle", c.y, Atan2(c.y, c.x), c.want, 0)
	}
	for _, x := range []float64{-1, 0, 1} {
		check(t, "arc cosine", x, Acos(x), math.Acos(x), 0)
		check(t, "arc sine", x, Asin(x), math.Asin(x), 0)
	}
	if !math.IsNaN(Acos(1.0000001)) || !math.IsNaN(Asin(-2)) {
		t.Error("an arc of what is no sine must be NaN")
	}
	want := [4][2]float64{{0, 1}, {1, 0}, {0, -1}, {-1, 0}}
	for q := -9; q <= 9; q++ {
		s, c := Turn(float64(q) * math.Pi / 2)
		if w := want[q&3]; s != w[0] || c != w[1] {
			t.Errorf("%d quarter turns: %v %v", q, s, c)
		}
	}
	if s, c := Turn(0.3); s != Sin(0.3) || c != Cos(0.3) {
		t.Error("Turn differs from Sincos")
	}
}

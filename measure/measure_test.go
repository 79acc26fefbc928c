package measure

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/tol"
)

// One inch is 25.4 mm exactly: international yard and pound agreement, 1959
// (also NIST Special Publication 811, appendix B.8).
func TestInchIsExact(t *testing.T) {
	if got := Inch.Of(1).MM(); got != 25.4 {
		t.Errorf("1 in = %v mm, want 25.4", got)
	}
	if got := Inch.Of(1.0 / 64); got != 396875 {
		t.Errorf("1/64 in = %v nm, want 396875", float64(got))
	}
	if got := Inch.Of(12).MM() * 3; math.Abs(got-914.4) > 1e-12 {
		t.Errorf("a yard = %v mm, want 914.4", got)
	}
}

// Sums and halves of sixty-fourths lose nothing: they are compared with
// integers.
func TestInchFractionsAddAndHalveExactly(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 10000 {
		a, b := r.Int63n(100*64), r.Int63n(100*64)
		la, lb := Inch.Of(float64(a)/64), Inch.Of(float64(b)/64)
		if got, want := la+lb, Length((a+b)*396875); got != want {
			t.Fatalf("%d/64 + %d/64 in = %v nm, want %v", a, b, float64(got), float64(want))
		}
		h := la
		for range 12 {
			h /= 2
		}
		for range 12 {
			h += h
		}
		if h != la {
			t.Fatalf("%d/64 in halved and doubled twelve times is %v nm, want %v", a, float64(h), float64(la))
		}
	}
}

// Every micrometre up to 2 m comes out exact from a decimal that float64
// cannot hold.
func TestMicrometresAreExact(t *testing.T) {
	for um := range 2_000_001 {
		if got := FromMM(float64(um) / 1000); got != Length(um*1000) {
			t.Fatalf("%d µm = %v nm", um, float64(got))
		}
	}
}

func TestSettleKeepsBinaryFractions(t *testing.T) {
	for _, nm := range []float64{0, 0.5, 49609.375, 25400000.0 / (1 << 20), 1e9 + 0.25, -3.75} {
		if got := Settle(nm); float64(got) != nm {
			t.Errorf("Settle(%v) = %v", nm, float64(got))
		}
	}
	if got := Settle(math.Nextafter(3175000, 0)); got != 3175000 {
		t.Errorf("a rounding error below 3175000 settles to %v", float64(got))
	}
	if got := Settle(math.Inf(1)); !math.IsInf(float64(got), 1) {
		t.Errorf("Settle(+Inf) = %v", float64(got))
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		l    Length
		u    Unit
		want string
	}{
		{Inch.Of(1.25), Inch, "1 1/4 in"},
		{Inch.Of(3.0 / 64), Inch, "3/64 in"},
		{Inch.Of(-1.25), Inch, "-1 1/4 in"},
		{Inch.Of(-5.0 / 16), Inch, "-5/16 in"},
		{0, Inch, "0 in"},
		{Inch.Of(7), Inch, "7 in"},
		{Inch.Of(63.0 / 64), Inch, "63/64 in"},
		{FromMM(25.4), Inch, "1 in"},
		{FromMM(25.4001), Inch, "1 in"},   // 0.1 micrometre off
		{FromMM(25.4002), Inch, "≈1 in"},  // 0.2
		{FromMM(32), Inch, "≈1 17/64 in"}, // 1.2598 in = 80.63/64
		{FromMM(-0.1), Inch, "≈0 in"},
		{Inch.Of(127.0 / 128), Inch, "≈1 in"},
		{FromMM(32), MM, "32 mm"},
		{FromMM(3.175), MM, "3.18 mm"}, // a half goes away from zero
		{FromMM(-3.175), MM, "-3.18 mm"},
		{FromMM(0.5), MM, "0.5 mm"},
		{FromMM(-0.001), MM, "0 mm"},
		{FromMM(1200), MM, "1200 mm"},
		{Inch.Of(1), MM, "25.4 mm"},
		{FromMM(10.05), MM, "10.05 mm"},
		{1e30, MM, "1e+24 mm"},
		{Length(math.Inf(-1)), Inch, "-Inf in"},
		{Length(math.NaN()), MM, "NaN mm"},
	} {
		if got := c.l.Format(c.u); got != c.want {
			t.Errorf("%v nm in %v = %q, want %q", float64(c.l), c.u, got, c.want)
		}
	}
	if got := Inch.Of(1.25).Number(Inch); got != "1 1/4" {
		t.Errorf("Number = %q, want 1 1/4", got)
	}
}

func TestExact(t *testing.T) {
	for _, c := range []struct {
		l    Length
		u    Unit
		want string
	}{
		{Inch.Of(1.0 / 64), MM, "0.396875 mm"},
		{Inch.Of(1.0 / 64), Inch, "1/64 in"},
		{Inch.Of(-1.25), Inch, "-1 1/4 in"},
		{Inch.Of(1.0 / 128), Inch, "0.1984375 mm"},
		{FromMM(25.4001), Inch, "25.4001 mm"}, // printed as 1 in, kept as it is
		{FromMM(1234.5), MM, "1234.5 mm"},
		{1, MM, "0.000001 mm"},
		{-0.5, MM, "-0.0000005 mm"},
		{0, MM, "0 mm"},
		{Length(math.Copysign(0, -1)), MM, "0 mm"},
	} {
		if got := c.l.ExactIn(c.u); got != c.want {
			t.Errorf("%v nm exactly in %v = %q, want %q", float64(c.l), c.u, got, c.want)
		}
	}
}

func TestAngle(t *testing.T) {
	for _, c := range []struct {
		a    Angle
		want string
	}{
		{FromDegrees(55), "55°"}, {FromDegrees(22.5), "22.5°"}, {FromDegrees(0.125), "0.13°"},
		{FromDegrees(-90), "-90°"}, {Angle(math.Pi), "180°"}, {0, "0°"}, {1, "57.3°"},
	} {
		if got := c.a.Format(); got != c.want {
			t.Errorf("%v rad = %q, want %q", float64(c.a), got, c.want)
		}
	}
	if got := FromDegrees(180); float64(got) != math.Pi {
		t.Errorf("180° = %v, want pi", float64(got))
	}
}

func TestParseUnit(t *testing.T) {
	for _, u := range []Unit{MM, Inch} {
		if got, ok := ParseUnit(u.String()); !ok || got != u {
			t.Errorf("ParseUnit(%q) = %v, %v", u, got, ok)
		}
	}
	for _, s := range []string{"", "in", "cm", "Inch"} {
		if _, ok := ParseUnit(s); ok {
			t.Errorf("ParseUnit(%q) is accepted", s)
		}
	}
}

// The step below which a length is called by its fraction is the one that
// numbers are brought to everywhere before they print.
func TestPrintStepIsPage(t *testing.T) {
	if FromMM(tol.Page) != printStep {
		t.Errorf("printStep is %v nm, tol.Page %v mm", printStep, tol.Page)
	}
}

package tracking

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r2"
)

// A wheel of no size: the slope from its foot to the point.
func TestRampOfPoint(t *testing.T) {
	w := Wheel{At: r2.Vec{X: 10, Y: 0}}
	near(t, "ramp", w.Ramp(r2.Vec{X: 30, Y: 15}), math.Atan2(15, 20), 1e-12)
	// Crest over two such wheels, at the middle: 2 atan(2 h / wheelbase).
	near(t, "crest", Crest(Wheel{}, Wheel{At: r2.Vec{X: 100}}, r2.Vec{X: 50, Y: 20}), 2*math.Atan2(2*20, 100), 1e-12)
}

// Any wheel and point: the slope touches the wheel and goes through the point.
func TestRampTouches(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	for n := 0; n < 500; n++ {
		w := Wheel{At: r2.Vec{X: 100 * r.Float64(), Y: 20}, R: 20}
		p := w.At.Add(r2.Vec{X: 1 + 80*r.Float64(), Y: -20 + 50*r.Float64()})
		a := w.Ramp(p)
		s, c := math.Sincos(a)
		if a == math.Pi/2 {
			if p.X-w.At.X > w.R && p.Y < w.At.Y {
				t.Fatalf("%v %v: no slope", w, p)
			}
			continue
		}
		foot := w.At.Add(r2.Vec{X: w.R * s, Y: -w.R * c}) // where the slope touches the wheel
		if d := (r2.Vec{X: c, Y: s}).Cross(p.Sub(foot)); math.Abs(d) > 1e-9 || a < 0 {
			t.Fatalf("%v %v: slope %g misses by %g", w, p, a, d)
		}
	}
	if (Wheel{At: r2.Vec{Y: 20}, R: 20}).Ramp(r2.Vec{X: -5, Y: 1}) != math.Pi/2 {
		t.Error("a point behind is reached")
	}
}

// A pin that leans binds when its shadow across the hole is as wide as the hole; small:
// slack over length.
func TestTilt(t *testing.T) {
	a := Tilt(7, 6, 20)
	near(t, "binds", 7*math.Cos(a), 6+20*math.Sin(a), 1e-12)
	near(t, "small", Tilt(6.05, 6, 40), 0.05/40, 1e-5)
	if Tilt(6, 6, 20) != 0 || Tilt(5, 6, 20) != 0 {
		t.Error("a pin without slack leans")
	}
}

// F (h - cord) = W d; a cord at the height of the middle of mass never rears it; blocked:
// F cord = W d.
func TestPull(t *testing.T) {
	p := Pulled{Share: 1, Height: 40, Behind: 30, Ahead: 50}
	q := p.At(10)
	near(t, "rears", q.Rears, 1, 1e-12)
	near(t, "blocked", q.Blocked, 5, 1e-12)
	if !math.IsInf(q.Dips, 1) {
		t.Errorf("dips at %g", q.Dips)
	}
	if q = p.At(40); !math.IsInf(q.Rears, 1) || !math.IsInf(q.Dips, 1) {
		t.Errorf("at its own height: %+v", q)
	}
	near(t, "dips", p.At(65).Dips, 2, 1e-12)
	// Half of the weight towed by a pin at 10: the rest pulls back there only.
	p.Share, p.Tow = 0.5, 10
	near(t, "towing", p.At(10).Rears, 0.5*30/(25-10), 1e-12)
}

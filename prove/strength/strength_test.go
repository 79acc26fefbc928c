package strength

import (
	"math"
	"testing"

	"dryfit/facts"
)

func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s: %.6g, want %.6g", what, got, want)
	}
}

// The formulas do not mind the units: these are in pounds and inches, as textbooks and
// handbooks of the trade print them, each with where it is from.
func TestPublished(t *testing.T) {
	quarter, three := Round{0.25}, Round{0.375}
	near(t, "area of 1/4 in (textbook)", quarter.Area(), .049087, 1e-5)
	near(t, "modulus of 1/4 in (textbook)", quarter.Modulus(), 1.5340e-3, 1e-4)
	near(t, "second moment of 1/4 in, Z d/2 (textbook)", quarter.Modulus()*0.125, 1.9175e-4, 1e-4)
	near(t, "5 lbf at 1 in (textbook)", quarter.Bending(Cantilever(5, 1)), 3259, 1e-3)
	near(t, "stub axle, 20 lbf at 3/4 in (textbook)", quarter.Bending(Cantilever(20, .75)), 9778, 1e-4)
	near(t, "the same of 3/8 in", three.Bending(Cantilever(20, .75)), 2897, 1e-3)
	near(t, "twist of 4 lbf in on 1/4 in (textbook)", quarter.Twisting(4), 1304, 1e-3)
	// Hibbeler, Mechanics of Materials, 1-47 and 1-61; Beer and Johnston, 1.16's kind
	near(t, "double shear of 25 mm under 135.61 kN", Round{25}.DoubleShear(135610), 138, 2e-3)
	near(t, "single shear, mean, 18 mm at 60 MPa", 60/(Round{18}.SingleShear(1)*0.75), 15268, 1e-4)
	near(t, "double shear of .6 in under 1.2 kip", Round{.6}.DoubleShear(1.2), 2.122, 1e-3)
	near(t, "Hankinson, 7830 and 1470 at 30 degrees (Wood Handbook, chapter 5)", Hankinson(7830, 1470, math.Cos(math.Pi/6)), 3761, 1e-3)
	near(t, "Hankinson along", Hankinson(7830, 1470, 1), 7830, 1e-12)
	near(t, "Hankinson across", Hankinson(7830, 1470, 0), 1470, 1e-12)
	near(t, "dowel 1/4 by 1 in at 500 lbf/in²", PullOut(500, .25, 1), 393, 1e-3)
	near(t, "the twist of it", PullRound(500, .25, 1), 393./8, 1e-3)
	near(t, "row tear-out (AWC NDS appendix E)", TearOut(3, 150, 1.5, 2), 1350, 1e-12)
	near(t, "beam, force in the middle, P L/4 (textbook)", Spread(12, 10, 0), 30, 1e-12)
	near(t, "beam, force over all of it, P L/8 (textbook)", Spread(12, 10, 10), 15, 1e-12)
}

// Every wood of the tables but those without strengths carries something every way, more
// along than across, and a gap in the table is said.
func TestWoods(t *testing.T) {
	none := 0
	for _, row := range facts.Woods() {
		w, ok := Of(row)
		if !ok {
			none++
			t.Logf("no strength: %s", row.Name)
			continue
		}
		if !(w.Bend > w.Shear && w.Shear >= w.Rolling && w.Rolling > 0 && w.Across > 0 && w.Bend > w.Across) {
			t.Errorf("%+v", w)
		}
		if gap := math.IsNaN(row.TensionAcross) || math.IsNaN(row.Shear); gap && len(w.Notes) == 0 {
			t.Errorf("%s: a gap is not said", row.Name)
		}
		if !w.Layered && !math.IsNaN(row.TensionAcross) && row.TensionAcross < acrossShare(row)*row.Bending || row.Shear < shearLeast*row.Bending {
			t.Errorf("%s is below what stands in for a missing figure", row.Name)
		}
	}
	if none > 0 {
		t.Errorf("%d woods without strength", none)
	}
	b, _ := facts.Wood("beech")
	w, _ := Of(b)
	near(t, "beech bending, 14900 lbf/in² (Wood Handbook 5-3b)", w.Bend, 102.73, 1e-3)
	near(t, "beech across, 1010 lbf/in² (Wood Handbook 5-3b)", w.Across, 6.964, 1e-3)
	near(t, "end grain", w.GlueTension(1, 0), w.Across/4, 1e-12)
	near(t, "side grain", w.GlueTension(0, 1), w.Across, 1e-12)
	mean, need := w.Section(0, 0)
	near(t, "short grain", mean, w.Across, 1e-12)
	near(t, "its need", need, NeedAcross, 1e-12)
	ply, _ := facts.Wood("plywood")
	p, _ := Of(ply)
	birch, _ := facts.Wood("birch")
	bw, _ := Of(birch)
	for _, cos := range []float64{0, 0.5, 1} { // either way in the sheet
		m, n := p.Section(cos, 0)
		near(t, "plywood in its sheet", m, bw.Bend/2, 1e-12)
		near(t, "its need", n, NeedBend, 1e-12)
	}
	m, _ := p.Section(0, 1)
	near(t, "plywood off its layers", m, bw.Across, 1e-12)
	// The weakest piece in twenty, grain running out 1 in 8: the needs are not below that.
	if NeedBend < 1/((1-1.645*facts.VaryBending)*0.75)-0.02 || NeedShear < 1/(1-1.645*facts.VaryShear)-0.005 || NeedAcross < 1/(1-1.645*facts.VaryTensionAcross) {
		t.Error("a need is below what it says")
	}
}

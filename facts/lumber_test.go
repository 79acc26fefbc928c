package facts

import (
	"math"
	"testing"
)

// Thicknesses by name: NHLA, planed on two sides, and PS 20, dry.
func TestNominal(t *testing.T) {
	if err := Check(); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		kind        string
		in          float64
		name        string
		rough, side float64
	}{
		{"hardwood", 3.0 / 4, "4/4", 1, 13.0 / 16},
		{"hardwood", 13.0 / 16, "4/4", 1, 13.0 / 16},
		{"hardwood", 21 / MMPerInch, "4/4", 1, 13.0 / 16}, // as near as boards of one planing come
		{"hardwood", 3.0 / 8, "5/8", 5.0 / 8, 7.0 / 16},
		{"hardwood", 1, "5/4", 1.25, 17.0 / 16},
		{"hardwood", 1.5, "8/4", 2, 1.75},
		{"hardwood", 4, "", 0, 0},
		{"softwood", 3.0 / 4, "1 in", 1, 3.0 / 4},
		{"softwood", 1.5, "2 in", 2, 1.5},
		{"panel", 0.5, "", 0, 0},
	} {
		n, ok := NominalFor(c.kind, c.in*MMPerInch)
		if ok != (c.name != "") || n.Nominal != c.name || math.Abs(n.Rough-c.rough*MMPerInch) > 1e-9 || math.Abs(n.Thick-c.side*MMPerInch) > 1e-9 {
			t.Errorf("%s %g in: %+v", c.kind, c.in, n)
		}
	}
	if n, _ := NominalFor("hardwood", 0.75*MMPerInch); math.Abs(n.OneSide-7.0/8*MMPerInch) > 1e-9 {
		t.Errorf("4/4 planed on one side: %g", n.OneSide/MMPerInch)
	}
	for kind, want := range map[string]int{"hardwood": 9, "softwood": 4} {
		named := map[string]Trade{}
		for _, b := range Trades(kind) {
			was, ok := named[b.Nominal]
			if same := was.OneSide == b.OneSide || math.IsNaN(was.OneSide) && math.IsNaN(b.OneSide); ok && !(was.Rough == b.Rough && was.Thick == b.Thick && same) {
				t.Errorf("%s: %s and %s differ", b.Nominal, was.Name, b.Name)
			}
			named[b.Nominal] = b
		}
		if len(named) != want {
			t.Errorf("%s: %d thicknesses, want %d", kind, len(named), want)
		}
	}
}

// The worked examples are of the definition, T × W × L / 144 in inches with at least one inch of
// thickness.
func TestTallies(t *testing.T) {
	want := []float64{4, 5, 7.8125, 4}
	for i, x := range Tallies() {
		v := math.Max(x.Thick, MMPerInch) * x.Width * x.Length / (144 * MMPerInch * MMPerInch * MMPerInch)
		if math.Abs(v-x.BoardFeet) > 1e-12 || x.BoardFeet != want[i] {
			t.Errorf("%g board feet, want %g", v, x.BoardFeet)
		}
	}
}

func TestSpread(t *testing.T) {
	for _, name := range []string{"white glue", "oil finish", "sandpaper"} {
		if s, ok := SpreadOf(name); !ok || s.Status != CommonPractice {
			t.Errorf("%s: %+v", name, s)
		}
	}
	if _, ok := SpreadOf("honey"); ok {
		t.Error("honey is spread")
	}
}

package formula

import (
	"math"
	"testing"

	"dryfit/measure"
)

// What a maker types in millimetres, as a file in inches has it; and the other way round.
func TestInUnit(t *testing.T) {
	kinds := map[string]Kind{"board": Bare, "share": Number, "lean": Angle}
	kindOf := func(name string) Kind {
		if k, ok := kinds[name]; ok {
			return k
		}
		return Length
	}
	for _, c := range []struct{ typed, mm string }{
		{"12", "12 mm"},
		{"0", "0"},
		{"1/2", "1/2 mm"},
		{"1 1/2", "1 1/2 mm"},
		{"12 mm", "12 mm"},
		{"1/2 in", "1/2 in"},
		{"length - 10", "length - 10 mm"},
		{"length-10", "length-10"}, // no formula of these names, but a name itself
		{"length / 2", "length / 2"},
		{"length / 2 + 3", "length / 2 + 3 mm"},
		{"2 * 3", "2 mm * 3"},
		{"2 * (3 + 4)", "2 mm * (3 + 4)"},
		{"(3 + 4) / 2", "(3 mm + 4 mm) / 2"},
		{"-5", "-5 mm"},
		{"min(length, 5)", "min(length, 5 mm)"},
		{"max(3, 5, length / 3)", "max(3 mm, 5 mm, length / 3)"},
		{"board + 3", "board + 3 mm"},
		{"3 + board * 2", "3 mm + board * 2"},
		{"2 * board", "2 * board"},
		{"share * 3", "share * 3"},
		{"length * share + 3", "length * share + 3 mm"},
		{"15°", "15°"},
		{"lean / 2", "lean / 2"},
		{"5 mm + 3", "5 mm + 3 mm"},
		{"length / width * 2", "length / width * 2"},
		{"2 +", "2 +"},
		{"rear-axle", "rear-axle"},
	} {
		if got := InUnit(c.typed, measure.MM, kindOf); got != c.mm {
			t.Errorf("%q: %q, want %q", c.typed, got, c.mm)
		}
		if got := InUnit(c.mm, measure.Inch, kindOf); got != c.mm {
			t.Errorf("%q has its units and becomes %q", c.mm, got)
		}
	}
	if got := InUnit("1 1/4", measure.Inch, kindOf); got != "1 1/4 in" {
		t.Errorf("inches: %q", got)
	}
}

// With its units said a formula is worth the same in a file of either unit: what it was worth where
// its numbers alone were of that unit.
func TestInUnitIsWorthTheSame(t *testing.T) {
	values := map[string]Value{"length": OfLength(measure.FromMM(80)), "share": {Number, 0.5}}
	lookup := func(name string) (Value, bool) { v, ok := values[name]; return v, ok }
	worth := func(text string, own measure.Unit) float64 {
		e, bad := Parse(text)
		if bad != nil {
			t.Fatalf("%q: %s", text, bad.Says)
		}
		v, bad := e.Eval(own, lookup, nil)
		if bad != nil {
			t.Fatalf("%q: %s", text, bad.Says)
		}
		l, _ := v.AsLength(own)
		return l.MM()
	}
	for _, text := range []string{"12", "2 * 3 + 1/2", "length - 3 1/2", "min(length / 2, 7 * 2)", "(3 + 4) / 2 * 5", "-(2 + 1) + length", "length * share - 2", "3 / 4 + 5", "10 mm + 3"} {
		for _, typed := range []measure.Unit{measure.MM, measure.Inch} {
			said := InUnit(text, typed, func(name string) Kind { return values[name].Kind })
			for _, own := range []measure.Unit{measure.MM, measure.Inch} {
				if got, want := worth(said, own), worth(text, typed); math.Abs(got-want) > 1e-9 {
					t.Errorf("%q in %v is %v mm; as %q in a file in %v it is %v", text, typed, want, said, own, got)
				}
			}
		}
	}
}

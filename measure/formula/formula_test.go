package formula

import (
	"math"
	"math/big"
	"math/rand"
	"strconv"
	"strings"
	"testing"

	"dryfit/measure"
	"dryfit/measure/source"
)

// sizes are the names that the tests know, in nanometres where a length.
var sizes = map[string]Value{
	"dowel": {Length, 6_350_000}, "running": {Length, 1_587_500}, "board": {Length, 19_050_000},
	"rear-axle": {Length, 5_000_000}, "rear": {Length, 1_000_000},
	"frame.width": {Length, 34_925_000}, "body.core.length": {Length, 100_000_000},
	"slope": {Angle, 0.5}, "ratio": {Number, 1.5}, "n": {Bare, 3}, "zero": {Length, 0}, "huge": {Length, math.MaxFloat64},
	"bad": {Length, math.NaN()}, "Länge_2": {Length, 7e6},
}

func lookup(name string) (Value, bool) { v, ok := sizes[name]; return v, ok }

func known() []string {
	var names []string
	for n := range sizes {
		names = append(names, n)
	}
	return names
}

func eval(text string, unit measure.Unit) (Value, *Error) {
	e, err := Parse(text)
	if err != nil {
		return Value{}, err
	}
	return e.Eval(unit, lookup, known)
}

// Lengths in nanometres, worked by hand from 1 in = 25.4 mm exactly
// (international yard and pound agreement, 1959).
func TestLengths(t *testing.T) {
	const in, mm = measure.Inch, measure.MM
	for _, c := range []struct {
		text string
		unit measure.Unit
		nm   float64
	}{
		// as people write them
		{"1 1/4", in, 31_750_000}, {"1-1/4 in", mm, 31_750_000}, {`1 1/4"`, mm, 31_750_000}, {"1 1/4 ″", mm, 31_750_000},
		{"1-1/4in", mm, 31_750_000}, {`1-1/4"`, mm, 31_750_000}, {"0.75in", mm, 19_050_000}, {"32 mm", in, 32_000_000},
		{"3.2 cm", in, 32_000_000}, {"3/4", in, 19_050_000}, {"3/4", mm, 750_000}, {".5", in, 12_700_000}, {".5in", mm, 12_700_000},
		{"1/64 in", mm, 396_875}, {"3/64in", mm, 1_190_625}, {"1/1024 in", mm, 24804.6875}, {"0.001 mm", in, 1000},
		{"3.175", mm, 3_175_000}, {"0.3", in, 7_620_000}, {"0.1 in", mm, 2_540_000}, {"12", in, 304_800_000}, {" 5 ", mm, 5_000_000},
		{"1\u00a01/4 in", mm, 31_750_000}, {"007 mm", mm, 7_000_000}, {"1/3 in", mm, 25_400_000.0 / 3},
		// formulas
		{"dowel + running", in, 7_937_500}, {"dowel - running", in, 4_762_500}, {"dowel+running", in, 7_937_500},
		{"frame.width / 2", in, 17_462_500}, {"body.core.length/4", mm, 25_000_000}, {"rear-axle", mm, 5_000_000}, {"rear - dowel", mm, -5_350_000},
		{"dowel + 1/32", in, 7_143_750}, {"2 * (dowel + 1 mm)", in, 14_700_000}, {"min(dowel, running, board)", in, 1_587_500},
		{"max(dowel, 1 in) - 1 mm", mm, 24_400_000}, {"max (1/4, 1/2)", in, 12_700_000}, {"min(dowel, 1)", mm, 1_000_000},
		{"- dowel", mm, -6_350_000}, {"--dowel", mm, 6_350_000}, {"-1 1/4 in", mm, -31_750_000}, {"2 − 1", mm, 1_000_000},
		{"dowel × 2 ÷ 4", mm, 3_175_000}, {"Länge_2", mm, 7_000_000}, {"dowel * ratio", mm, 9_525_000}, {"board / ratio", mm, 12_700_000},
		{"n", mm, 3_000_000}, {"dowel * n", mm, 19_050_000}, {"dowel * (board / dowel)", mm, 19_050_000}, {"10 mm * 1.1", in, 11_000_000},
		{"-(2 - 3) * 4 mm", in, 4_000_000}, {"2 - 3 - 4 mm", mm, -5_000_000}, {"24 mm/2/3", mm, 4_000_000}, {"2 + 3 * 4 mm", mm, 14_000_000},
		// a fraction behind a division sign is two divisions
		{"dowel/1/2", mm, 3_175_000}, {"dowel / 1/2", mm, 3_175_000}, {"dowel/-1/2", mm, -3_175_000}, {"dowel/(1/2)", mm, 12_700_000},
		{"dowel ÷ 1/2", mm, 3_175_000}, {"1/2/2", in, 6_350_000}, {"dowel/2*1/2", mm, 1_587_500}, {"dowel/(2*1/2)", mm, 6_350_000},
		{"dowel * 1/2", mm, 3_175_000}, {"2 * 1/4 in", mm, 12_700_000}, {"dowel/max(1/2, 1/4)", mm, 12_700_000},
		// subtraction or mixed number
		{"10 mm-1/4 in", mm, 3_650_000}, {"5 - 1/4 in", in, 120_650_000}, {"5 - 1/4", in, 120_650_000}, {"1 1/4-1/8", in, 28_575_000},
		{"5-3", mm, 2_000_000}, {"5-.5", mm, 4_500_000}, {"5-1/4.5", mm, 5e6 - 1e6/4.5}, {`1"-1/4"`, mm, 19_050_000}, {"5/8-1/4 in", in, 9_525_000},
		{"dowel - 1-1/4 in", mm, -25_400_000}, {"-1-1/4 in", mm, -31_750_000}, {"2*1-1/4 in", mm, 63_500_000}, {"1.5-1/4 in", in, 31_750_000},
		{"3 mm-rear-axle", mm, -2_000_000}, {"5 -1/4 in", in, 120_650_000},
	} {
		v, err := eval(c.text, c.unit)
		if err != nil {
			t.Errorf("%s: %+v", c.text, err)
			continue
		}
		if l, ok := v.AsLength(c.unit); !ok || float64(l) != c.nm {
			t.Errorf("%s in %v = %v (%v) nm, want %v", c.text, c.unit, float64(l), v.Kind, c.nm)
		}
	}
}

func TestKinds(t *testing.T) {
	for _, c := range []struct {
		text string
		want Value
	}{
		{"12", Value{Bare, 12}}, {"1 1/4", Value{Bare, 1.25}}, {"1 / 4", Value{Bare, 0.25}}, {"2 * 3", Value{Bare, 6}}, {"2 - 3", Value{Bare, -1}},
		{"board / dowel", Value{Number, 3}}, {"slope / slope", Value{Number, 1}}, {"2 * ratio", Value{Number, 3}}, {"3 / ratio", Value{Number, 2}},
		{"ratio + 1", Value{Number, 2.5}}, {"min(ratio, 1)", Value{Number, 1}}, {"ratio / 3", Value{Number, 0.5}}, {"ratio * ratio", Value{Number, 2.25}},
		{"180°", Value{Angle, math.Pi}}, {"180 deg", Value{Angle, math.Pi}}, {"1/2 rad", Value{Angle, 0.5}}, {"22 1/2°", Value{Angle, 22.5 * math.Pi / 180}},
		{"slope * 2", Value{Angle, 1}}, {"2 * slope", Value{Angle, 1}}, {"slope / 2", Value{Angle, 0.25}}, {"slope / ratio * 3", Value{Angle, 1}},
		{"-slope", Value{Angle, -0.5}}, {"slope + 1 rad", Value{Angle, 1.5}}, {"max(slope, 1 rad)", Value{Angle, 1}}, {"1 in", Value{Length, 25.4e6}},
	} {
		if v, err := eval(c.text, measure.MM); err != nil || v != c.want {
			t.Errorf("%s = %v %v, want %v", c.text, v, err, c.want)
		}
	}
	if _, ok := (Value{Bare, 55}).AsAngle(); ok {
		t.Error("a bare number is taken for an angle")
	}
	if n, ok := (Value{Bare, 2}).AsNumber(); !ok || n != 2 {
		t.Error("a bare number is no number")
	}
	for _, v := range []Value{{Number, 1}, {Angle, 1}, {Bare, 1e303}} {
		if l, ok := v.AsLength(measure.MM); ok {
			t.Errorf("%v is taken for the length %v", v, float64(l))
		}
	}
	if _, ok := (Value{Length, 1}).AsNumber(); ok {
		t.Error("a length is taken for a number")
	}
	if a, ok := OfAngle(1).AsAngle(); !ok || a != 1 {
		t.Error("an angle does not come back")
	}
}

func TestErrors(t *testing.T) {
	for _, c := range []struct {
		text, place, code, says, near string // place: the bytes the error points at
	}{
		// at the operator
		{"dowel + slope", "+", CodeKind, "a length and an angle cannot be added", ""},
		{"dowel - ratio", "-", CodeKind, "a length and a pure number cannot be subtracted", ""},
		{"slope + 5", "+", CodeKind, "an angle and a number without unit cannot be added", ""},
		{"5 - slope", "-", CodeKind, "a number without unit and an angle", ""},
		{"ratio + 1 mm", "+", CodeKind, "a pure number and a length", ""},
		{"dowel * board", "*", CodeKind, "area", ""},
		{"dowel × slope", "×", CodeKind, "a length times an angle", ""},
		{"slope * slope", "*", CodeKind, "an angle times an angle", ""},
		{"1 / dowel", "/", CodeKind, "divided by a length", ""},
		{"1 / 4 in", "/", CodeKind, "divided by a length", ""},
		{"dowel / slope", "/", CodeKind, "a length cannot be divided by an angle", ""},
		{"slope / dowel", "/", CodeKind, "an angle cannot be divided by a length", ""},
		{"min(dowel, slope)", "min", CodeKind, "cannot be compared", ""},
		{"max(1, slope)", "max", CodeKind, "cannot be compared", ""},
		{"dowel / zero", "/", CodeValue, "divides by zero", ""},
		{"3 / (1 - 1)", "/", CodeValue, "divides by zero", ""},
		{"0 / 0", "/", CodeValue, "divides by zero", ""},
		{"0/0", "0/0", CodeValue, "over zero", ""},
		{"1 1/0 in", "1 1/0", CodeValue, "over zero", ""},
		{"huge + huge", "+", CodeValue, "too large", ""},
		{"huge * 2", "*", CodeValue, "too large", ""},
		{"huge / 0.5", "/", CodeValue, "too large", ""},
		{strings.Repeat("9", 400), strings.Repeat("9", 400), CodeValue, "too large", ""},
		{"bad", "bad", CodeValue, "finite", ""},
		// names
		{"dowl + 1", "dowl", CodeName, "not known", "dowel"},
		{"frame.widht", "frame.widht", CodeName, "not known", "frame.width"},
		{"dowel-running", "dowel-running", CodeName, "not known", "dowel - running"},
		{"board-rear-axle-2", "board-rear-axle-2", CodeName, "not known", "board - rear-axle - 2"},
		{"2 * board-1/4", "board-1", CodeName, "not known", "board - 1"},
		{"xyzzy", "xyzzy", CodeName, "not known", ""},
		// units
		{"3 inch", "inch", CodeUnit, "not a unit", "in"}, {"3inches", "inches", CodeUnit, "not a unit", "in"}, {"1/4 in_x", "in_x", CodeUnit, "not a unit", ""},
		{"3 mn", "mn", CodeUnit, "not a unit", "mm"}, {"2 m", "m", CodeUnit, "not a unit", "mm"}, {"2 dowel", "dowel", CodeUnit, "not a unit", ""},
		{"3”", "”", CodeUnit, "not a unit", `"`}, {"55 degrees", "degrees", CodeUnit, "not a unit", "deg"}, {"1e3", "e3", CodeUnit, "not a unit", ""},
		{"dowel in", "in", CodeSyntax, "only behind a number", ""}, {"in", "in", CodeSyntax, "stands behind a number", ""}, {`(1) "`, `"`, CodeSyntax, "only behind a number", ""},
		{"5 mm in", "in", CodeSyntax, "only behind a number", ""},
		// ambiguous
		{"5-1/4", "5-1/4", CodeAmbiguous, "mixed number or a subtraction", ""}, {"1 + 5-1/4 * 2", "5-1/4", CodeAmbiguous, "mixed number", ""},
		{"5−1/4 in", "5−1/4", CodeAmbiguous, "mixed number", ""}, {"dowel/5-1/4", "5-1/4", CodeAmbiguous, "mixed number", ""},
		{"dowel / 1/4 in", "1/4", CodeAmbiguous, "a fraction after a division sign", ""}, {"dowel / 1 1/4", "1 1/4", CodeAmbiguous, "a mixed number after", ""},
		{"dowel / 1-1/4 in", "1-1/4", CodeAmbiguous, "a mixed number after", ""}, {`1/2"/1/4"`, "1/4", CodeAmbiguous, "a fraction after", ""},
		// unreadable
		{"", " ", CodeSyntax, "the formula ends", ""}, {"  ", " ", CodeSyntax, "the formula ends", ""}, {"dowel +", " ", CodeSyntax, "the formula ends", ""},
		{"+ 3", "+", CodeSyntax, "where a value should be", ""}, {"* 3", "*", CodeSyntax, "where a value should be", ""}, {"3 ** 2", "*", CodeSyntax, "where a value should be", ""},
		{"(1 + 2", "(", CodeSyntax, "never closed", ""}, {"1 + 2)", ")", CodeSyntax, "never opened", ""}, {"min(1, 2", "(", CodeSyntax, "never closed", ""}, {"()", ")", CodeSyntax, "where a value", ""},
		{"min(1)", "min(1)", CodeSyntax, "at least two", ""}, {"min 1", "min", CodeSyntax, "parentheses", ""}, {"mix(1, 2)", "mix", CodeSyntax, "not a function", "max"},
		{"1,25", ",", CodeSyntax, "comma", ""}, {"min(1,,2)", ",", CodeSyntax, "where a value", ""}, {"(1, 2)", ",", CodeSyntax, "comma", ""}, {"1.", " ", CodeSyntax, "no digit after", ""},
		{"1.2.3", ".", CodeSyntax, "no operator", ""}, {"1 2", "2", CodeSyntax, "no operator", ""}, {"1.5 1/4", "1", CodeSyntax, "no operator", ""}, {"2 (3)", "(", CodeSyntax, "no operator", ""},
		{"dowel board", "board", CodeSyntax, `no operator before "board"`, ""}, {"dowel 2", "2", CodeSyntax, "no operator", ""}, {"1 5/4", "1 5/4", CodeSyntax, "less than one", ""}, {"1-4/4 in", "1-4/4", CodeSyntax, "less than one", ""},
		{"2^3", "^", CodeSyntax, "no meaning", ""}, {"2 – 1", "–", CodeSyntax, "no meaning", "-"}, {"1½", "½", CodeSyntax, "no meaning", "1/2"}, {"½", "½", CodeSyntax, "where a value", "1/2"},
		{"dowel-", " ", CodeSyntax, "the formula ends", ""}, {"dowel.", ".", CodeSyntax, "no operator", ""}, {"_a", "_", CodeSyntax, "where a value", ""},
		{"3 \xff", "\xff", CodeSyntax, "no meaning", ""}, {"3 \x00", "\x00", CodeSyntax, "no meaning", ""},
		// limits
		{strings.Repeat("(", 65) + "1", "(", CodeLimit, "nested too deep", ""}, {strings.Repeat("-", 65) + "1", "-", CodeLimit, "nested too deep", ""},
		{strings.Repeat("1", 1001), "1", CodeLimit, "too long", ""},
	} {
		v, err := eval(c.text, measure.Inch)
		if err == nil {
			t.Errorf("%q = %v, want an error", c.text, v)
			continue
		}
		if padded := c.text + " "; err.At < 0 || err.End > len(padded) || padded[err.At:err.End] != c.place || err.Code != c.code || !strings.Contains(err.Says, c.says) || err.Nearest != c.near {
			t.Errorf("%q: %+v, want %s at %q: …%s… near %q", c.text, *err, c.code, c.place, c.says, c.near)
		}
	}
}

func TestDeepestAndLongestStillWork(t *testing.T) {
	for _, text := range []string{
		strings.Repeat("(", MaxDepth) + "1" + strings.Repeat(")", MaxDepth),
		"1" + strings.Repeat("+1", 499),
		strings.Repeat("1+(", MaxDepth) + "1" + strings.Repeat(")", MaxDepth),
	} {
		if v, err := eval(text, measure.MM); err != nil || v.Kind != Bare {
			t.Errorf("%s: %v", text, err)
		}
	}
}

func TestNames(t *testing.T) {
	e, err := Parse("2*rear-axle + min(frame.width, dowel - rear-axle)")
	if err != nil {
		t.Fatal(err)
	}
	want := []Name{{"rear-axle", 2}, {"frame.width", 18}, {"dowel", 31}, {"rear-axle", 39}}
	got := e.Names()
	if len(got) != len(want) {
		t.Fatalf("got %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("got %v, want %v", got[i], want[i])
		}
	}
	if !Reserved("in") || !Reserved("max") || Reserved("inner") {
		t.Error("Reserved is wrong")
	}
}

func TestProblemPointsIntoTheFile(t *testing.T) {
	f := source.New("t.yaml", "sizes:\n  hole: dowl + 1/16\n")
	_, err := eval("dowl + 1/16", measure.Inch)
	const want = `t.yaml:2:9: "dowl" is not known (did you mean "dowel"?)
      hole: dowl + 1/16
            ^^^^`
	if got := err.Problem(f, strings.Index(f.Text, "dowl")).Error(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Literals are rounded once: compared with math/big on decimals and fractions
// of every length.
func TestLiteralsAreCorrectlyRounded(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	pick := func(most int) string { // an integer of up to so many digits
		b := []byte{byte('1' + r.Intn(9))}
		for range r.Intn(most) {
			b = append(b, byte('0'+r.Intn(10)))
		}
		return string(b)
	}
	rat := func(s string) *big.Rat { x, _ := new(big.Rat).SetString(s); return x }
	for i := range 50000 {
		var text string
		var want *big.Rat
		switch most := 1 + r.Intn(20); i % 3 {
		case 0:
			text = pick(most) + "." + pick(most)
			want = rat(text)
		case 1:
			text = pick(most) + "/" + pick(most)
			want = rat(text)
		case 2:
			num, den := r.Intn(64), 65+r.Intn(5000)
			w, f := pick(most), strconv.Itoa(num)+"/"+strconv.Itoa(den)
			text, want = w+" "+f, new(big.Rat).Add(rat(w), rat(f))
		}
		for unit, per := range map[string]int64{" in": 25_400_000, " mm": 1_000_000, " cm": 10_000_000, "": 1} {
			exact, _ := new(big.Rat).Mul(want, big.NewRat(per, 1)).Float64()
			if v, err := eval(text+unit, measure.MM); err != nil || v.N != exact {
				t.Fatalf("%s%s = %v %v, want %v", text, unit, v.N, err, exact)
			}
		}
	}
}

// What Exact prints is read back to the last bit, for any finite length or
// angle; what Format prints of a sixty-fourth of an inch, too.
func TestExactComesBack(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for i := range 50000 {
		x := math.Float64frombits(r.Uint64())
		if i%2 == 0 {
			x = r.NormFloat64() * 1e8
		}
		if finite(x) {
			comesBack(t, x)
		}
		l := measure.Inch.Of(float64(r.Intn(20000)-10000) / 64)
		for _, text := range []string{l.Format(measure.Inch), l.ExactIn(measure.Inch)} {
			if v, err := eval(text, measure.MM); err != nil || v != OfLength(l) {
				t.Fatalf("%s = %v %v, want %v", text, v, err, float64(l))
			}
		}
	}
}

func comesBack(t *testing.T, x float64) {
	t.Helper()
	for text, want := range map[string]Value{
		measure.Length(x).Exact():                 {Length, x},
		measure.Length(x).ExactIn(measure.Inch):   {Length, x},
		measure.Angle(x).Exact():                  {Angle, x},
		"(" + measure.Length(x).Exact() + ") * 1": {Length, float64(measure.Settle(x))},
	} {
		if v, err := eval(text, measure.Inch); err != nil || v != want {
			t.Fatalf("%s = %v %v, want %v", text, v, err, want)
		}
	}
}

func FuzzFormula(f *testing.F) {
	for _, s := range []string{"1 1/4", `1-1/4 "`, "dowel + running", "min(frame.width / 2, 3.2 cm) − -.5", "dowel/1/2", "5-1/4", "55° * 2", "((1))", "dowel-running", "1e9", "½ \xff"} {
		f.Add(s, 1.5)
	}
	f.Fuzz(func(t *testing.T, text string, x float64) {
		e, err := Parse(text)
		if (e == nil) == (err == nil) {
			t.Fatal("neither or both of result and error")
		}
		if err == nil {
			for _, n := range e.Names() {
				if !strings.HasPrefix(text[n.At:], n.Text) {
					t.Fatalf("name %v is not in %q", n, text)
				}
			}
			var v, again Value
			v, err = e.Eval(measure.Inch, lookup, known)
			again, _ = e.Eval(measure.Inch, lookup, known)
			if !finite(v.N) || v != again || v.Kind < Bare || v.Kind > Angle {
				t.Fatalf("%q = %v, then %v", text, v, again)
			}
		}
		if err != nil && (err.At < 0 || err.At > len(text) || err.End <= err.At || err.End > len(text)+1 || err.Says == "" || err.Code == "") {
			t.Fatalf("%q: %+v", text, *err)
		}
		if finite(x) {
			comesBack(t, x)
		}
	})
}

func BenchmarkParseEval(b *testing.B) {
	for _, text := range []string{"1 1/4", "dowel + running", "min(frame.width / 2, 55 mm) - (dowel + 1/32)"} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := eval(text, measure.Inch); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

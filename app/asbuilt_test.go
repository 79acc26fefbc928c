package app

import (
	"math"
	"os"
	"regexp"
	"strings"
	"testing"

	"dryfit/prove"
	"dryfit/prove/asbuilt"
)

func tram(t *testing.T) *Toy {
	t.Helper()
	text, err := os.ReadFile("../examples/quay-tram.yaml")
	if err != nil {
		t.Fatal(err)
	}
	ty, probs := Open("quay-tram.yaml", string(text), nil, nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return ty
}

// filled is the measures sheet with all that is drawn put down as measured.
func filled(t *testing.T, ty *Toy) string {
	t.Helper()
	sheet, probs := ty.MeasuresSheet()
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	lines := strings.Split(sheet, "\n")
	for i, l := range lines[2:] {
		lines[i+2] = strings.Replace(l, "# ", "", 1)
	}
	return strings.Join(lines, "\n")
}

// What measures exactly as it is drawn is proved as it is drawn, and its builder is off by nothing.
func TestAsDrawn(t *testing.T) {
	ty := tram(t)
	b, err := ty.ReadMeasures("m.yaml", filled(t, ty))
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Measured) != b.Sizes {
		t.Errorf("%d of %d sizes read", len(b.Measured), b.Sizes)
	}
	for _, m := range b.Measured {
		// a sheet has fractions: what is drawn in mm, or follows from the build, is off by what those round
		if math.Abs(m.Off()) > 25.4/128+1e-9 {
			t.Errorf("%s %s is off by %g", m.Piece, m.What, m.Off())
		}
	}
	a, err := ty.ProveBuilt(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range a.Things {
		if x.Verdict >= prove.CannotTell {
			t.Errorf("as drawn it holds, as measured: %s", a.says(x))
		}
	}
	s, err := ty.Spreads(nil, "fair")
	if err == nil {
		t.Error("spreads of nothing", s)
	}
}

func TestAsBuilt(t *testing.T) {
	const head = "dryfit: 1\nmeasures-of: Quay tram\nunits: inch\npieces:\n"
	ty := tram(t)
	for _, c := range []struct{ name, text, says, fails string }{
		{"another toy", strings.Replace(head, "Quay tram", "Tug", 1) + "  - {piece: frame, thick: 3/4}\n", "these are the measures of Tug", ""},
		{"no such piece", head + "  - {piece: wheel.33, dia: 1 1/8}\n", `did you mean "wheel.3"`, ""},
		{"no such hole", head + "  - {piece: frame, holes: [{hole: rear-axel, dia: 5/16}]}\n", `did you mean "rear-axle"`, ""},
		{"no such size", head + "  - {piece: frame, bore: 1/4}\n", "frame has no bore to measure", ""},
		{"twice", head + "  - {piece: frame, thick: 3/4}\n  - {piece: frame, thick: 3/4}\n", "measured twice", ""},
		{"a slip of the pen", head + "  - {piece: frame, length: 51/4}\n", "the length of frame is drawn 5 1/4 in", ""},
		{"through hole", head + "  - {piece: frame, holes: [{hole: rear-axle, depth: 1/4}]}\n", "goes right through", ""},
		{"a hole too small for its axle", head + "  - {piece: frame, holes: [{hole: rear-axle, dia: 1/4}]}\n", "", "fit.dowel"},
		{"a wheel far too small", head + "  - {piece: wheel, dia: 29/32}\n", "", "move.ground"},
		{"as good as drawn", head + "  - {piece: wheel, dia: 1 1/8}\n", "", "-"},
	} {
		b, err := ty.ReadMeasures("m.yaml", c.text)
		if c.says != "" {
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("%s: %v, want %q", c.name, err, c.says)
			}
			continue
		}
		if err != nil {
			t.Fatal(c.name, err)
		}
		a, err := ty.ProveBuilt(b)
		if err != nil {
			t.Fatal(c.name, err)
		}
		var fails []string
		for _, x := range a.Things {
			if x.Verdict == prove.Fails {
				fails = append(fails, x.Check)
			}
		}
		if got := strings.Join(fails, " "); c.fails == "-" && got != "" || c.fails != "-" && !strings.Contains(got, c.fails) || a.Passes() != (c.fails == "-") {
			t.Errorf("%s: fails %q, want %s\n%s", c.name, got, c.fails, a.Text())
		}
	}
}

// The shop file keeps what it has, and what is put in is read again as it was found.
func TestSpreadsInto(t *testing.T) {
	ty := tram(t)
	text, err := os.ReadFile("../examples/measures/quay-tram-ada.yaml")
	if err != nil {
		t.Fatal(err)
	}
	b, err := ty.ReadMeasures("ada.yaml", string(text))
	if err != nil {
		t.Fatal(err)
	}
	s, err := ty.Spreads([]*asbuilt.Build{b, b, b, b}, "first time")
	if err != nil {
		t.Fatal(err)
	}
	shop, err := os.ReadFile("../examples/shop/quay-lane.yaml")
	if err != nil {
		t.Fatal(err)
	}
	once, err := s.Into("shop.yaml", string(shop))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(once, strings.TrimRight(string(shop), "\n")) {
		t.Error("what was in the shop file has changed")
	}
	twice, err := s.Into("shop.yaml", once)
	if err != nil || twice != once {
		t.Errorf("put in again it is not the same: %v", err)
	}
	own, probs := ReadShop("shop.yaml", once)
	if len(probs) > 0 || own.Builder == nil || own.Builder.Skill != "first-time" || len(own.Builder.Spreads) != len(s.Found) {
		t.Fatal(probs, own.Builder)
	}
	for i, f := range s.Found {
		if o := own.Builder.Spreads[i]; o.Of != f.Name || math.Abs(o.By-f.By) > 0.0005 || o.Measured != f.Measured {
			t.Errorf("%+v was put in as %+v", f, o)
		}
		if f.Low > f.By || f.High < f.By {
			t.Errorf("%s: %g is not between %g and %g", f.Name, f.By, f.Low, f.High)
		}
	}
	bad := regexp.MustCompile(`of: rod.length, by: [\d.]+ mm`).ReplaceAllString(once, "of: rod.lenght, by: 3°")
	if _, probs := ReadShop("shop.yaml", bad); len(probs) != 1 || !strings.Contains(probs[0].Error(), `did you mean "rod.length"`) {
		t.Error(probs)
	}
}

package adapt

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/facts"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

// most is assembly.ClearLeast.
var most = measure.Inch.Of(1.0 / 8)

// examples are all toys of the project that can be read.
func examples(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, dir := range []string{"", "plain", "broken"} {
		names, err := filepath.Glob(filepath.Join("../../examples", dir, "*.yaml"))
		if err != nil || len(names) == 0 {
			t.Fatalf("no toys in %q: %v", dir, err)
		}
		for _, name := range names {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			out[filepath.Base(name)] = string(b)
		}
	}
	return out
}

func sheetOf(t *testing.T, text string) *Sheet {
	t.Helper()
	f := source.New("toy.yaml", text)
	ty, probs := file.Read(f, nil)
	if len(probs) > 0 {
		t.Fatal(probs.Error())
	}
	s, err := Read(f, ty, most)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func made(t *testing.T, text string, spec Spec, o Options) *Adapted {
	t.Helper()
	a, probs := sheetOf(t, text).Make(spec, o)
	if len(probs) > 0 {
		t.Fatal(probs.Error())
	}
	return a
}

// Adapting to what a toy is already changes not one byte, for every example.
func TestSameValuesChangeNothing(t *testing.T) {
	for name, text := range examples(t) {
		t.Run(name, func(t *testing.T) {
			s := sheetOf(t, text)
			all := Spec{Units: s.toy.Units.String(), Scale: 1}
			specs := []Spec{{}, {Scale: 1}, {Units: s.toy.Units.String()}}
			for _, st := range s.toy.Stock {
				if s.root(stockPath(st)) == nil {
					continue // worked out: it cannot be asked for
				}
				l := st.Thick + st.Dia
				all.Stock = append(all.Stock, st.Name+"="+l.ExactIn(s.toy.Units)+" "+st.Wood)
			}
			for _, w := range s.wheels() {
				p, _ := s.toy.PartNamed(w)
				all.Wheels = append(all.Wheels, w+"="+p.Length.ExactIn(s.toy.Units))
			}
			for _, spec := range append(specs, all) {
				a := made(t, text, spec, Options{})
				if a.Text != text || len(a.Changes) > 0 {
					t.Errorf("%+v: %d changes: %+v", spec, len(a.Changes), a.Changes)
				}
			}
		})
	}
}

// However a toy is adapted, its lines, remarks, keys and names stay, remarks in their column; every
// value that is another is in the list of changes, and no other.
func TestRemarksAndLayoutStay(t *testing.T) {
	for name, text := range examples(t) {
		for _, spec := range []Spec{{Units: "mm"}, {Units: "inch"}, {Scale: 1.5}, {Units: "mm", Scale: 1.25}} {
			s := sheetOf(t, text)
			a, probs := s.Make(spec, Options{})
			if len(probs) > 0 {
				continue // as large or in such stock it cannot be made, which is said
			}
			if err := sameLayout(text, a); err != nil {
				t.Errorf("%s, %+v: %v", name, spec, err)
			}
		}
	}
}

func sameLayout(text string, a *Adapted) error {
	was, now := strings.Split(text, "\n"), strings.Split(a.Text, "\n")
	if len(was) != len(now) {
		return fmt.Errorf("%d lines, were %d", len(now), len(was))
	}
	for i := range was {
		from, to := remarkAt(was[i]), remarkAt(now[i])
		if (from < 0) != (to < 0) || from >= 0 && was[i][from:] != now[i][to:] {
			return fmt.Errorf("line %d: the remark of %q is another in %q", i+1, was[i], now[i])
		}
		code := func(line string, at int) string {
			if at < 0 {
				return line
			}
			return strings.TrimRight(line[:at], " ")
		}
		if b, c := code(was[i], from), code(now[i], to); from >= 0 && to != from && len([]rune(c)) < len([]rune(was[i][:from]))-1 && b != "" {
			return fmt.Errorf("line %d: the remark went from column %d to %d", i+1, from, to)
		}
		if lead(was[i]) != lead(now[i]) {
			return fmt.Errorf("line %d: %q became %q", i+1, was[i], now[i])
		}
	}
	listed := map[string]bool{}
	for _, c := range a.Changes {
		listed[c.Path] = true
	}
	before, _ := tree.Parse(source.New("a", text))
	after, _ := tree.Parse(source.New("b", a.Text))
	return differ(before, after, "", listed)
}

func lead(line string) string { return line[:len(line)-len(strings.TrimLeft(line, " "))] }

// differ compares two files value by value against the list of changes.
func differ(a, b *tree.Node, path string, listed map[string]bool) error {
	if a.Kind != b.Kind || len(a.Entries) != len(b.Entries) || len(a.Items) != len(b.Items) || a.Flow != b.Flow {
		return fmt.Errorf("%s is of another shape", path)
	}
	if a.Kind == tree.Scalar {
		if (a.Text != b.Text) != listed[path] {
			return fmt.Errorf("%s: %q, was %q, listed: %v", path, b.Text, a.Text, listed[path])
		}
		return nil
	}
	for i := range a.Entries {
		if a.Entries[i].Key.Text != b.Entries[i].Key.Text {
			return fmt.Errorf("%s has another key", path)
		}
		if err := differ(a.Entries[i].Value, b.Entries[i].Value, tree.Join(path, a.Entries[i].Key.Text), listed); err != nil {
			return err
		}
	}
	for i := range a.Items {
		if err := differ(a.Items[i], b.Items[i], fmt.Sprintf("%s[%d]", path, i), listed); err != nil {
			return err
		}
	}
	return nil
}

// In other units alone, what is no stock is within the marks of a rule of what it was: every length of
// the toy as it reads, stock and what is worked out from stock left aside.
func TestUnitsAloneChangeNoMoreThanTheRule(t *testing.T) {
	for name, text := range examples(t) {
		s := sheetOf(t, text)
		units := "mm"
		if s.toy.Units == measure.MM {
			units = "inch"
		}
		a, probs := s.Make(Spec{Units: units}, Options{})
		if len(probs) > 0 {
			continue
		}
		for _, c := range a.Changes {
			off := math.Abs(c.NowMM - c.WasMM)
			switch c.Role {
			case Stock, Wheel, Fit, "", Data:
			case Tool:
				if off != 0 {
					t.Errorf("%s: a tool became another: %+v", name, c)
				}
			default:
				if c.Role == Hole && c.Why == nearestBit {
					off /= 4 // flat-bottomed bits are sold by 1/16 in above 1 in
				}
				if step := map[string]float64{"mm": 0.5, "inch": 25.4 / 64}[units]; off > step/2+1e-6 {
					t.Errorf("%s: %s is off by %g mm: %+v", name, c.Path, off, c)
				}
			}
		}
	}
}

func TestSizesThatExist(t *testing.T) {
	for _, c := range []struct {
		kind string
		mm   float64
		u    measure.Unit
		want string
	}{
		{"dowel", 6.35, measure.MM, "6 mm"},
		{"dowel", 9, measure.MM, "8 mm"}, // of two the smaller
		{"dowel", 6, measure.Inch, "1/4 in"},
		{"plywood", 6.35, measure.MM, "6.5 mm"},
		{"plywood", 9, measure.Inch, "9 mm"}, // sold in mm in most places
		{"plywood", 6, measure.Inch, "1/4 in"},
		{"board", 19.05, measure.MM, "20 mm"},
		{"board", 18, measure.Inch, "3/4 in"},
		{"wheel", 32, measure.MM, "1 1/4 in"},
		{"ball", 24, measure.MM, "25 mm"},
	} {
		if z, ok := sold(c.kind, measure.FromMM(c.mm), c.u); !ok || z.Name != c.want {
			t.Errorf("%s of %g mm in %v: %s, want %s", c.kind, c.mm, c.u, z.Name, c.want)
		}
	}
	for _, c := range []struct {
		mm   float64
		u    measure.Unit
		want string
	}{
		{19.05, measure.MM, "19"}, {28.575, measure.MM, "28.5"}, {0.79375, measure.MM, "0.8"}, {1.5875, measure.MM, "1.5"},
		{1, measure.Inch, "3/64"}, {121, measure.Inch, "4 49/64"}, {0.75, measure.Inch, "1/32"},
	} {
		if l, ok := marked(measure.FromMM(c.mm), c.u); !ok || written(l, c.u) != c.want {
			t.Errorf("%g mm in %v: %s %v, want %s", c.mm, c.u, written(l, c.u), ok, c.want)
		}
	}
	if _, ok := marked(measure.FromMM(0.1), measure.Inch); ok {
		t.Error("a tenth of a millimetre is finer than the marks of an inch rule")
	}
	// ANSI/ASME B94.11M has no bit between 13 and 13.5 mm; flat-bottomed bits above 30 mm are those sold.
	for _, c := range []struct {
		mm      float64
		u       measure.Unit
		systems []facts.System
		want    string
	}{
		{12.7, measure.MM, nil, "12.5"}, {12.7, measure.MM, []facts.System{facts.Inch}, "12.7"}, {31, measure.MM, nil, "30"}, {27, measure.Inch, nil, "1 1/16"}, {90, measure.MM, nil, "90"},
	} {
		if l, _ := bit(measure.FromMM(c.mm), c.u, c.systems); written(l, c.u) != c.want {
			t.Errorf("a hole of %g mm in %v: %s, want %s", c.mm, c.u, written(l, c.u), c.want)
		}
	}
}

// Path data by SVG 1.1, 8.3: the turn of an arc and its flags are no lengths.
func TestPathDataIsScaled(t *testing.T) {
	for _, c := range []struct {
		data string
		by   float64
		want string
	}{
		{"M 0 0 H 5 C 5.6 0 6 1 6 1.5 Z", 25.4, "M 0 0 H 127 C 142.24 0 152.4 25.4 152.4 38.1 Z"},
		{"M10,20 a6 6 30 0 1 6-6z", 2, "M20,40 a12 12 30 0 1 12-12z"},
		{"M0 0a1 1 0 11.5.5z", 2, "M0 0a2 2 0 11 1 1z"},
		{"m1e1.5", 3, "m30 1.5"},
		{"M-1-2", 0.5, "M-0.5-1"},
	} {
		if got, ok := scaled(c.data, c.by); !ok || got != c.want {
			t.Errorf("%q times %g: %q %v, want %q", c.data, c.by, got, ok, c.want)
		}
	}
	for _, bad := range []string{"5 5", "M 1 x", "B 1 2"} {
		if got, ok := scaled(bad, 2); ok {
			t.Errorf("%q became %q", bad, got)
		}
	}
}

const cart = `dryfit: 1
toy: Cart
units: inch
sizes:
  board: 3/4                  # measure yours
  share: 1/2                  # a factor, no length
  wheel: 1 1/4
  eye: 1/4                    # of the cord
stock:
  beech: {wood: beech, form: board, thick: board, longest: 36}
  thin: {wood: maple, form: board, thick: 3/8}
  rod: {wood: birch, form: dowel, dia: 1/4}
parts:
  frame:
    from: beech
    blank: [5, 1 1/2]
    work:
      - drill: {side: edge, dia: 5/16, named: {rear-axle: [1, 5/16], front-axle: [length - wheel.dia * share, 5/16]}}
      - drill: {side: face, dia: 3/16, named: {cord: [length - 1/4, middle]}}
      - saw: {side: edge, outline: [[0, 0], [length, 0], [length, 3/4, r 1/4], [0, 3/4]]}
  wheel: {from: thin, disc: wheel + 0, bore: 1/4}
  axle: {from: rod}
build:
  - put: frame
  - wheels: {in: frame.rear-axle, axle: axle, outward: [wheel], play: 1/32, proud: 1/8}
  - wheels: {in: frame.front-axle, axle: axle, outward: [wheel], play: 1/32, proud: 1/8}
cord: {from: frame.cord, length: 30, end: knot}
shop:
  bits: [inch]
  band-saw: {blade: 1/4, kerf: 1/16}
must:
  - rolls
  - {clears-floor: 1/8}
  - {turns-in: 16}
  - {stands-on-slope: 20°}
`

// What a length is for decides what becomes of it.
func TestRoles(t *testing.T) {
	a := made(t, cart, Spec{Units: "mm", Scale: 2, Stock: []string{"beech=40mm oak"}, Dowels: []string{"12"}}, Options{Bits: []facts.System{facts.Inch}})
	got, probs := file.Read(source.New("toy.yaml", a.Text), nil)
	if len(probs) > 0 {
		t.Fatal(probs.Error())
	}
	has := func(line string) {
		t.Helper()
		if !strings.Contains(a.Text, line) {
			t.Errorf("no %q in\n%s", line, a.Text)
		}
	}
	has("units: mm")
	has("  board: 40                   # measure yours")
	has("share: 1/2 ") // factors are none of it
	has("  wheel: 63.5")
	has("{wood: oak, form: board, thick: board, longest: 36 in}") // what is sold stays, said with its unit
	has("thick: 20}")                                             // 3/8 in twice is 19.05 mm
	has("blank: [254, 76]")
	has("dia: 13.5, named")   // 1/16 over the rod, as it was
	has("dia: 3/8 in, named") // the shop has inch bits
	has("length - wheel.dia * share, 16]")
	has("[length, thick, r 12.5], [0, thick]]") // the arris of the board, unmistakably
	has("disc: wheel + 0, bore: 12}")
	has("play: 0.8, proud: 6.5}") // the room beside a wheel does not grow
	has("length: 800, end: knot") // as long as a pull cord may be: EN 71-1 5.4, from memory
	has("band-saw: {blade: 1/4 in, kerf: 1/16 in}")
	has("clears-floor: 3}") // the floor does not grow
	has("turns-in: 813}")
	has("stands-on-slope: 20°")
	if st, _ := got.StockNamed("rod"); st.Form != toy.Dowel || st.Dia.MM() != 12 {
		t.Errorf("rod %+v", st)
	}
	if len(a.Kept) != 3 {
		t.Errorf("what does not go with the scale: %+v", a.Kept)
	}
}

// A cord beyond the limit already is not made longer, and one may be made shorter.
func TestCord(t *testing.T) {
	long := strings.Replace(cart, "length: 30, end", "length: 40, end", 1)
	if a := made(t, long, Spec{Scale: 2}, Options{}); !strings.Contains(a.Text, "length: 40, end") {
		t.Error("a cord of 1 m became longer")
	}
	if a := made(t, long, Spec{Scale: 0.5}, Options{}); !strings.Contains(a.Text, "length: 20, end") {
		t.Error("a cord does not become shorter")
	}
}

// What is asked for and cannot be is one clear problem each, and nothing is made.
func TestWhatIsAskedFor(t *testing.T) {
	shared := strings.Replace(cart, "thick: 3/8}", "thick: board}", 1)
	worked := strings.Replace(cart, "thick: 3/8}", "thick: board / 2}", 1)
	for _, c := range []struct {
		text string
		spec Spec
		says string
	}{
		{cart, Spec{Stock: []string{"bech=18mm"}}, `there is no stock bech of that kind (expected one of beech, thin, rod; did you mean "beech"?)`},
		{cart, Spec{Stock: []string{"beech"}}, "this does not say which stock becomes what"},
		{cart, Spec{Stock: []string{"beech=18mm bech"}}, `did you mean "beech"?`},
		{cart, Spec{Stock: []string{"beech=0"}}, "has to be more than nothing"},
		{cart, Spec{Stock: []string{"beech=18mm", "beech=20mm"}}, "asked for twice, and differently"},
		{shared, Spec{Stock: []string{"beech=18mm"}}, "sizes.board is the size of beech and of thin, and only one was asked for"},
		{worked, Spec{Stock: []string{"thin=9mm"}}, "the size of stock thin is worked out in the file (board / 2)"},
		{cart, Spec{Dowels: []string{"thick"}}, "this does not say the diameter of a dowel"},
		{cart, Spec{Dowels: []string{"beech=6mm"}}, "expected one of rod"},
		{cart, Spec{Wheels: []string{"weel=32mm"}}, `did you mean "wheel"?`},
		{cart, Spec{Wheels: []string{"32mm"}}, "the diameter of wheel is worked out in the file (wheel + 0)"},
		{cart, Spec{Units: "cm"}, "this is no unit of a toy file (expected mm or inch"},
		{cart, Spec{Scale: -1}, "a toy is not scaled by so much"},
		{cart, Spec{Scale: math.NaN()}, "a toy is not scaled by so much"},
	} {
		a, probs := sheetOf(t, c.text).Make(c.spec, Options{})
		if a != nil || len(probs) != 1 || !strings.Contains(probs.Error(), c.says) {
			t.Errorf("%+v: %v, want %s", c.spec, probs, c.says)
		}
	}
	if a := made(t, shared, Spec{Stock: []string{"beech=18mm", "thin=18mm"}}, Options{}); !strings.Contains(a.Text, "board: 18 mm ") {
		t.Errorf("both asked for: %s", a.Text)
	}
}

// A length that is as large as a stock was thick, and is not said with it, is said; a remark that
// speaks of a length is, too.
func TestWhatCannotBeFollowed(t *testing.T) {
	text := strings.Replace(cart, "[0, 3/4]]", "[3/4, thick]]", 1)
	text = strings.Replace(text, "# measure yours", "# 3/4 in or so", 1)
	a := made(t, text, Spec{Stock: []string{"beech=1"}}, Options{})
	if len(a.Looks) != 2 || a.Looks[0].Text != "3/4" || !strings.Contains(a.Looks[0].Why, "beech.thick") || !strings.Contains(a.Looks[1].Text, "3/4 in or so") {
		t.Errorf("%+v", a.Looks)
	}
	want := []string{"[5, 2 * beech.thick]", "[beech.thick, thick]"}
	if len(a.Alike) != len(want) {
		t.Fatalf("%+v", a.Alike)
	}
	for i, like := range a.Alike {
		a := made(t, text, Spec{Stock: []string{"beech=1"}}, Options{Thick: map[Spot]Alike{like.Spot: like}})
		if !strings.Contains(a.Text, want[i]) {
			t.Errorf("no %s in\n%s", want[i], a.Text)
		}
	}
}

// Of two sizes without unit that are multiplied, either may be the length: that is for the file to say.
func TestLengthOrFactor(t *testing.T) {
	text := strings.Replace(cart, "disc: wheel + 0", "disc: wheel * share", 1)
	text = strings.Replace(text, "wheel.dia * share", "1", 1)
	for _, spec := range []Spec{{Units: "mm"}, {Scale: 2}} {
		if _, probs := sheetOf(t, text).Make(spec, Options{}); len(probs) != 1 || !strings.Contains(probs.Error(), "whether this is a length or a factor cannot be told: share and wheel are multiplied") {
			t.Errorf("%+v: %v", spec, probs)
		}
	}
	made(t, text, Spec{Dowels: []string{"6mm"}}, Options{})
	said := strings.Replace(text, "wheel: 1 1/4", "wheel: 1 1/4 in", 1)
	if a := made(t, said, Spec{Scale: 2}, Options{}); !strings.Contains(a.Text, "wheel: 2 1/2 in\n") || !strings.Contains(a.Text, "share: 1/2 ") {
		t.Error(a.Text)
	}
}

package shop

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"math/rand"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"dryfit/assembly"
	"dryfit/assembly/assemblytest"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

var update = flag.Bool("update", false, "write the golden files anew")

func derive(t *testing.T, name, text string, without ...string) *assembly.Model {
	t.Helper()
	return assemblytest.Derive(t, name, text, assembly.Options{Without: without})
}

func load(t *testing.T, name string, without ...string) *assembly.Model {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return derive(t, name, string(b), without...)
}

// plainText is a text without the ties of its lines.
func plainText(s string) string { return strings.ReplaceAll(s, string(tie), " ") }

const tram, cart, wagon = "../examples/quay-tram.yaml", "testdata/cart.yaml", "../examples/tipping-wagon.yaml"

// The worked examples of the table: lumber dealers' and from the definition.
func TestBoardFeet(t *testing.T) {
	for _, c := range facts.Tallies() {
		if got := boardFeet(c.Length, c.Width, c.Thick); math.Abs(got-c.BoardFeet) > 1e-12 {
			t.Errorf("%g × %g × %g in: %.15g board feet, want %g", c.Thick/inch, c.Width/inch, c.Length/inch, got, c.BoardFeet)
		}
	}
}

func TestGolden(t *testing.T) {
	for _, c := range []struct{ toy, golden string }{{tram, "testdata/tram.golden"}, {cart, "testdata/cart.golden"}} {
		l := List(load(t, c.toy))
		table, err := l.CSV()
		if err != nil {
			t.Fatal(err)
		}
		data, err := json.MarshalIndent(l, "", "  ")
		if err != nil {
			t.Fatal(err)
		}
		for ext, got := range map[string][]byte{".txt": []byte(l.Text()), ".csv": table, ".json": data} {
			name := strings.TrimSuffix(c.golden, ".golden") + ext + ".golden"
			if *update {
				if err := os.WriteFile(name, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s differs; look at it and run go test -update:\n%s", name, got)
			}
		}
	}
}

// Worked by hand from the file of the tram, in inches.
func TestTramByHand(t *testing.T) {
	l := List(load(t, tram))
	near := func(what string, got, want float64) {
		if math.Abs(got-want) > 0.51e-6 { // they are rounded to a millionth
			t.Errorf("%s is %.12g, want %.12g", what, got, want)
		}
	}
	// beech: 5 3/4 × 1 1/2, 5 5/8 × 1 1/2, two of 4 1/2 × 1 3/4, counted 1 in thick
	near("board feet of beech", l.Stock[0].BoardFeet, (5.75*1.5+5.625*1.5+2*4.5*1.75)/144)
	near("area of plywood", l.Stock[1].RoughAreaM2, 4*4.5*1.75*inch*inch*1e-6)
	near("volume of plywood in litres", l.Stock[1].RoughVolumeM3*1000, 4*4.5*1.75*0.25*inch*inch*inch*1e-6)
	near("board feet of wheels", l.Stock[2].BoardFeet, 11*1.375*1.375/144)
	// axle: frame 1 1/4, and at each end play 1/32, wheel 3/8, proud 1/8; twins add
	// 1/16 and 3/8 at each end
	d := l.Dowels[0]
	near("twin axle", d.Lengths[0].LengthMM, 3.1875*inch)
	near("axle", d.Lengths[1].LengthMM, 2.3125*inch)
	near("pin", d.Lengths[2].LengthMM, 0.75*inch) // step 3/8 and tongue 3/8
	near("dowel", d.NeedMM, (3.1875+3*2.3125+0.75+5.0/16+0.25)*inch)
	var names []string
	for _, b := range l.Bits {
		names = append(names, b.Name)
	}
	if got := strings.Join(names, ", "); got != "1/4 in, 9/32 in, 5/16 in" {
		t.Error("bits are", got)
	}
}

// Weight: specific gravity of beech at 12 % is 0.64 (Wood Handbook table 5-3a),
// so 1120 × 0.64 kg/m³ × 100 × 50 × 20 mm = 71.68 g; a 10 mm hole through 20 mm
// takes π/4 × 100 × 20 mm³.
func TestWeight(t *testing.T) {
	m := derive(t, "block", `dryfit: 1
toy: block
units: mm
stock: {b: {wood: beech, form: board, thick: 20}}
parts:
  block:
    from: b
    blank: [100, 50]
    work: [{drill: {side: face, dia: 10, at: [[50, 25]]}}]
build: [{put: block}]
`)
	l := List(m)
	want := 1120 * 0.64 * (100*50*20 - math.Pi/4*100*20) * 1e-9
	if math.Abs(l.WeightKg-want) > 1e-5 || l.WeightKg != l.Stock[0].WeightKg {
		t.Errorf("weighs %.6f kg, and by stock %.6f; want %.6f", l.WeightKg, l.Stock[0].WeightKg, want)
	}
}

// counted checks that the lists hold the pieces of the model, no more, no fewer.
func counted(t *testing.T, m *assembly.Model, l *Lists) {
	t.Helper()
	byPart, rods := map[string]int{}, 0
	for _, p := range m.Pieces {
		byPart[p.Part.Name]++
		if p.Part.Shape == toy.Rod {
			rods++
		}
	}
	listed, weight := map[string]int{}, 0.0
	for _, s := range l.Stock {
		weight += s.WeightKg
		for _, b := range s.Blanks {
			listed[b.Part] += b.Count
		}
	}
	for part, n := range byPart {
		if listed[part] != n {
			t.Errorf("%d of %s listed, the model has %d", listed[part], part, n)
		}
	}
	if len(listed) != len(byPart) {
		t.Errorf("%d parts listed, the model has %d", len(listed), len(byPart))
	}
	if math.Abs(weight-l.WeightKg) > 1e-9 {
		t.Errorf("stock weighs %g kg, the toy %g", weight, l.WeightKg)
	}
	for _, d := range l.Dowels {
		total := 0.0
		for k, c := range d.Lengths {
			rods -= c.Count
			total += float64(c.Count+c.Spare) * c.LengthMM
			if k > 0 && c.LengthMM >= d.Lengths[k-1].LengthMM {
				t.Error("dowel lengths do not fall")
			}
		}
		if d.NeedMM <= total {
			t.Errorf("%g mm of dowel do not give %g mm", d.NeedMM, total)
		}
		cutAll(t, &d, l)
	}
	if rods != 0 {
		t.Errorf("%d rods of the model are not in the dowel list", rods)
	}
}

func TestCounts(t *testing.T) {
	for _, name := range []string{tram, cart} {
		m := load(t, name)
		counted(t, m, List(m))
	}
	whole, part := List(load(t, cart)), List(load(t, cart, "driver"))
	counted(t, load(t, cart, "driver"), part)
	if part.Pieces != whole.Pieces-1 || len(part.Stock) != len(whole.Stock)-1 {
		t.Error("a group left out is still listed")
	}
	// Toys of random make: blocks in a row, any number of each of several parts.
	rnd := rand.New(rand.NewSource(7))
	for i := 0; i < 20; i++ {
		var parts, build strings.Builder
		n := 1 + rnd.Intn(4)
		last := ""
		for p := 0; p < n; p++ {
			fmt.Fprintf(&parts, "  p%d: {from: %s, blank: [%d, %d], spare: %d}\n", p, []string{"a", "b"}[rnd.Intn(2)], 20+rnd.Intn(80), 10+rnd.Intn(40), 1+rnd.Intn(3))
			for k := rnd.Intn(5); k >= 0; k-- {
				id := fmt.Sprintf("p%d-%d", p, k)
				if last == "" {
					fmt.Fprintf(&build, "  - {put: p%d, as: %s}\n", p, id)
				} else {
					fmt.Fprintf(&build, "  - {put: p%d, as: %s, sits: {back: %s.front, bottom: %s.bottom, right: %s.right}}\n", p, id, last, last, last)
				}
				last = id
			}
		}
		m := derive(t, "random", "dryfit: 1\ntoy: random\nunits: mm\nstock:\n  a: {wood: beech, form: board, thick: 20}\n  b: {wood: birch plywood, form: sheet, thick: 12}\nparts:\n"+parts.String()+"build:\n"+build.String())
		counted(t, m, List(m))
	}
}

// plane is a side of a blank as a coordinate: axis and value.
func plane(name string, size r3.Vec) (axis int, at float64) {
	switch name {
	case "end (front)":
		return 0, size.X
	case "other end (back)":
		return 0, 0
	case "other edge (left)":
		return 1, size.Y
	case "edge (right)":
		return 1, 0
	case "face (top)":
		return 2, size.Z
	}
	return 2, 0
}

// Every hole that the model bores is in the drill list, once, with its diameter,
// and where the list puts it: so far from the two sides named.
func TestDrillListIsTheModel(t *testing.T) {
	sides := map[string]bool{}
	for _, name := range []string{tram, cart} {
		m := load(t, name)
		l := List(m)
		for i := range m.Toy.Parts {
			p := &m.Toy.Parts[i]
			var piece *assembly.Piece
			for _, q := range m.Pieces {
				if q.Part == p {
					piece = q
				}
			}
			if piece == nil {
				continue
			}
			var bores []assembly.Bore // its own, not those of the glue-up
			for _, b := range piece.Made.Bores {
				if piece.GlueUp == "" {
					bores = append(bores, b)
				}
			}
			found := 0
			for _, bit := range l.Bits {
				for _, s := range bit.SetUps {
					if s.GlueUp || s.Part != p.Name || s.Op == OpPierce {
						continue
					}
					sides[s.Side] = true
					for _, h := range s.Holes {
						found++
						ok := false
						for _, b := range bores {
							xa, x := plane(s.XFrom, piece.Made.Size)
							ya, y := plane(s.YFrom, piece.Made.Size)
							sa, _ := plane(s.Side, piece.Made.Size)
							dir := math.Abs(b.Dir.At(sa))
							ok = ok || math.Abs(math.Abs(b.Point.At(xa)-x)-h.XMM) < tol.Page && math.Abs(math.Abs(b.Point.At(ya)-y)-h.YMM) < tol.Page &&
								math.Abs(2*b.R-s.DrawnMM) < tol.Page && math.Abs(dir-math.Cos(s.LeanRad)) < 1e-9 && (s.Through || math.Abs(b.Hi-s.DepthMM) < tol.Page)
						}
						if !ok {
							t.Errorf("%s: the hole at %g from the %s and %g from the %s is not in the model", p.Name, h.XMM, s.XFrom, h.YMM, s.YFrom)
						}
					}
				}
			}
			if found != len(bores) {
				t.Errorf("%s has %d holes in the list and %d in the model", p.Name, found, len(bores))
			}
		}
	}
	if len(sides) != 6 {
		t.Errorf("only %d sides are drilled in the test toys", len(sides))
	}
}

// No bit at all, and one of the other drawer, by B94.11M (inches) and tenths of a
// millimetre.
func TestNoBit(t *testing.T) {
	for _, c := range []struct {
		mm                 float64
		u                  measure.Unit
		name, below, above string
	}{
		{6.35, measure.Inch, "1/4 in", "", ""},
		{6.35, measure.MM, "1/4 in", "6.3 mm", "6.4 mm"},
		{6.5, measure.Inch, "6.5 mm", "1/4 in", "17/64 in"},
		{6.45, measure.Inch, "", "6.4 mm", "6.5 mm"},
		{6.45, measure.MM, "", "6.4 mm", "6.5 mm"},
		{80, measure.Inch, "", "2 1/8 in", ""},
	} {
		if b := NameBit(c.mm, &toy.Toy{Units: c.u}); b.Name != c.name || b.Below != c.below || b.Above != c.above {
			t.Errorf("%g mm in %s: %+v", c.mm, c.u, b)
		}
	}
}

// Spares, equal lengths from two stocks, what is bought, and glue-ups.
func TestCart(t *testing.T) {
	l := List(load(t, cart))
	if len(l.Dowels) != 1 || len(l.Dowels[0].Lengths) != 2 {
		t.Fatalf("dowels are %+v", l.Dowels)
	}
	c := l.Dowels[0].Lengths[1]
	if c.Count != 2 || c.Spare != 1 || !c.Follows || strings.Join(c.Parts, " ") != "pin peg" {
		t.Errorf("the 24 mm lengths are %+v", c)
	}
	for _, s := range l.Stock {
		if s.Name == "bought" && (s.RoughVolumeM3 != 0 || s.Blanks[0].RoughLengthMM != 0) {
			t.Error("wood is counted for bought wheels")
		}
	}
	for _, b := range l.Bits {
		for _, s := range b.SetUps {
			if s.LeanRad != 0 && (b.Name != "7/32 in" || b.Below != "5.5 mm" || b.Above != "5.6 mm") {
				t.Errorf("5.55 mm is drilled with %+v", b)
			}
			if s.GlueUp && (s.Pieces != 2 || s.FromPiece != "plate") {
				t.Errorf("the glue-up is listed as %+v", s)
			}
		}
	}
	if len(l.Notes) != 1 || !strings.Contains(l.Notes[0], "unused") {
		t.Error("notes are", l.Notes)
	}
}

// nasty is lists with names that try to be formulas, columns, lines or commands.
func nasty() *Lists {
	long := strings.Repeat("wide-", 60)
	names := []string{"=1+1", "+1", "-1", "@x", "\t=2", "  =3", "＝4", "a,b", `say "so"`, "two\nlines", "\x1b[2J", "\u202egnp", long, "plain"}
	l := &Lists{Toy: long, Toys: []ToMake{{Toy: long, Count: 1}}, unit: measure.Inch}
	s := Stock{Name: "=stock", Wood: "@wood", Form: "board", ThickMM: 20}
	b := Bit{DiaMM: 6.123, Below: "6.1 mm", Above: "6.2 mm"}
	for _, n := range names {
		s.Blanks = append(s.Blanks, Blank{Part: n, Shape: "block", Count: 2, LengthMM: 1999.123, WidthMM: 777.77, ThickMM: 20, RoughLengthMM: 2011.123, RoughWidthMM: 783.77, RoughThickMM: 20, Grain: n})
		b.SetUps = append(b.SetUps, SetUp{Part: n, Op: OpHole, Side: "top face", XFrom: "back end", YFrom: "right edge", FromPiece: n, Pieces: 1, DrawnMM: 6.123,
			Holes: []Hole{{Name: n, XMM: -3.5, YMM: 4}, {Name: "b", XMM: 1}}})
	}
	l.Stock, l.Bits = []Stock{s}, []Bit{b}
	l.Dowels = []Dowel{{DiaMM: 6, Wood: long, Stock: names, Lengths: []DowelCut{{LengthMM: 20, Count: 1, Parts: names}}}}
	return l
}

func TestCSV(t *testing.T) {
	for _, l := range []*Lists{List(load(t, tram)), List(load(t, cart)), nasty()} {
		out, err := l.CSV()
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(out)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		want := 1
		for _, s := range l.Stock {
			want += len(s.Blanks)
		}
		for _, d := range l.Dowels {
			want += len(d.Lengths)
		}
		for _, d := range l.Dowels {
			want += len(d.Sticks) + len(d.Buy)
		}
		for _, s := range l.Saws {
			want += len(s.Cuts)
		}
		want += len(l.Wheels) + len(l.Hardware) + len(l.Consumables)
		for _, b := range l.Bits {
			for _, s := range b.SetUps {
				want += len(s.Holes)
			}
		}
		if len(rows) != want {
			t.Errorf("%d rows, want %d", len(rows), want)
		}
		if n := bytes.Count(out, []byte("\n")); n != bytes.Count(out, []byte("\r\n")) {
			t.Error("a line does not end in CRLF")
		}
		known := map[string]bool{"stock": true, "dowel": true, "stick": true, "buy": true, "saw": true, "drill": true, "wheel": true, "hardware": true, "used up": true}
		for _, r := range rows[1:] {
			if !known[r[0]] {
				t.Errorf("list %q", r[0])
			}
			for i, c := range r {
				number := strings.HasSuffix(csvHead[i], "_mm")
				c = strings.TrimLeft(c, " \t\r\n")
				if !number && c != "" && strings.ContainsRune("=+-@＝＋－＠", []rune(c)[0]) {
					t.Errorf("%s %q is a formula", csvHead[i], c)
				}
			}
		}
	}
	heads := map[string]bool{}
	for _, h := range csvHead {
		heads[h] = true
	}
	l := List(load(t, cart))
	for _, b := range l.Bits {
		for k := range l.holeCells(b, &b.SetUps[0], b.SetUps[0].Holes[0]) {
			if !heads[k] {
				t.Errorf("a hole has %s, which is no column", k)
			}
		}
	}
}

func TestTextIsNarrowAndPlain(t *testing.T) {
	for _, l := range []*Lists{List(load(t, tram)), List(load(t, cart)), nasty()} {
		for _, line := range strings.Split(l.Text(), "\n") {
			if n := utf8.RuneCountInString(line); n > Columns {
				t.Errorf("%d columns: %s", n, line)
			}
			if strings.ContainsAny(line, "\x1b\t\r\u202e") {
				t.Errorf("%q would steer a terminal", line)
			}
			if strings.TrimRight(line, " ") != line {
				t.Errorf("%q ends in blanks", line)
			}
		}
	}
}

// cutAll checks that the sticks give every length that is wanted, none more, and are long enough.
func cutAll(t *testing.T, d *Dowel, l *Lists) {
	t.Helper()
	want := map[int64]int{}
	for _, c := range d.Lengths {
		want[micro(c.LengthMM)] += c.Count + c.Spare
	}
	bought := 0
	for _, s := range d.Sticks {
		long := l.waste() - l.kerf() + s.LeftMM
		for k, c := range s.Cuts {
			want[micro(c.LengthMM)] -= c.Count * s.Times
			long += float64(c.Count) * (c.LengthMM + l.kerf())
			if k > 0 && c.LengthMM >= s.Cuts[k-1].LengthMM {
				t.Error("a stick is not cut long before short")
			}
		}
		if long > s.LengthMM+1e-3 {
			t.Errorf("%g mm are cut from a stick of %g", long, s.LengthMM)
		}
		if s.From != FromRack {
			bought += s.Times
		}
	}
	for _, b := range d.Buy {
		bought -= b.Count
	}
	if bought != 0 {
		t.Errorf("%d more sticks are cut than bought", bought)
	}
	for _, c := range d.Short {
		want[micro(c.LengthMM)] -= c.Count
	}
	for um, n := range want {
		if n != 0 {
			t.Errorf("%d of %d µm are not cut", n, um)
		}
	}
}

// Sticks by hand: of 36 in less 1/4 in waste, three lengths of 11 in and a kerf
// (11 1/16) fit, of 48 in four; seven come from one of each, 84 in, and not from less.
func TestSticks(t *testing.T) {
	l := &Lists{unit: measure.Inch}
	d := Dowel{Lengths: []DowelCut{{LengthMM: 11 * inch, Count: 6, Spare: 1}}}
	l.sticks(context.Background(), &d)
	cutAll(t, &d, l)
	if got := plainText(l.Sticks(&d)); got != "1 stick of 36 in and 1 stick of 48 in" && got != "1 stick of 48 in and 1 stick of 36 in" || !d.Proved || d.Least != 84*inch {
		t.Errorf("%s, at least %g", got, d.Least/inch)
	}
	d = Dowel{Lengths: []DowelCut{{LengthMM: 40 * inch, Count: 1}}}
	if l.sticks(context.Background(), &d); len(d.Buy) != 1 || !same(d.Buy[0].LengthMM, 48*inch) {
		t.Errorf("40 in come from %+v", d.Buy)
	}
	d = Dowel{Lengths: []DowelCut{{LengthMM: 50 * inch, Count: 1}}}
	if l.sticks(context.Background(), &d); len(d.Sticks) != 0 || len(d.Short) != 1 || len(d.Notes) != 1 {
		t.Errorf("50 in: %+v", d)
	}
}

package shop

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"slices"
	"strings"
	"testing"

	"dryfit/measure"
)

// A tray of two stocks that are alike, walls and a floor of 400 × 100 each, and a thin lid that
// only a rough board gives.
const tray = `dryfit: 1
toy: Tray
units: mm
stock:
  walls: {wood: beech, form: board, thick: 19}
  floor: {wood: beech, form: board, thick: 19}
  lid: {wood: beech, form: board, thick: 18}
parts:
  wall: {from: walls, blank: [400, 100]}
  base: {from: floor, blank: [400, 100]}
  top: {from: lid, blank: [400, 100]}
build:
  - put: base
  - {put: wall, sits: {bottom: base.top, back: base.back, right: base.right}, glued: true}
  - {put: top, sits: {bottom: wall.top, back: base.back, right: base.right}, glued: true}
`

// What one stock takes of a board of the rack, the next has not: by hand, a rough blank of 412 × 106
// and a quarter more is 0.05459 m², a board of 600 × 100 is 0.06 m².
func TestBoardsOnce(t *testing.T) {
	const head, each = "dryfit: 1\nunits: mm\n", 0.412 * 0.106 * 1.25
	l := List(in(t, derive(t, "tray", tray), head+"boards: {a: {wood: beech, thick: 19, size: [600, 100]}}\nsold: {boards: {plank: {wood: beech, thick: 19, size: [1000, 100], price: 10}}}\n"))
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 2e-6 {
			t.Errorf("%s: %g m², want %g", what, got, want)
		}
	}
	walls, floor, lid := l.Stock[0], l.Stock[1], l.Stock[2]
	near("the rack has for walls", walls.OnRackM2, 0.06)
	near("walls are short", walls.ShortM2, 0)
	near("walls leave", floor.OnRackM2, 0.06-each)
	near("the floor is short", floor.ShortM2, each-(0.06-each))
	near("the lid finds nothing left to plane", lid.OnRackM2, 0)
	near("the lid is short", lid.ShortM2, each)
	if says := l.amount(floor); !strings.Contains(says, "the rack has 0.005 m² left by what is listed before (a): 0.049 m² short by area") {
		t.Error(says)
	}
	if want := 100 * (floor.ShortM2 + lid.ShortM2); math.Abs(l.Cost.Total-want) > 0.02 {
		t.Errorf("costs %g, want %g", l.Cost.Total, want)
	}
	// What needs no planing is taken first, wherever it stands, so that the lid has what is rough.
	l = List(in(t, derive(t, "tray", tray), head+"boards:\n  rough: {wood: beech, thick: 22, rough: yes, size: [600, 100]}\n  a: {wood: beech, thick: 19, size: [1200, 100]}\n"))
	if s := l.Stock[2]; s.ShortM2 != 0 || !slices.Equal(s.OnRack, []string{"rough", "a"}) {
		t.Errorf("%+v", s)
	}
}

// The kerf is what cutting says, else that of the band saw, else what is usual; blanks have it once.
func TestKerf(t *testing.T) {
	for _, c := range []struct {
		own                   string
		kerf, allow, cut, lid float64
	}{
		{"", 1.5, 12, 412, 18},
		{"cutting: {kerf: 2}", 2, 12, 412, 18},
		{"shop: {band-saw: {kerf: 1}}", 1, 12, 412, 18},
		{"shop: {band-saw: {kerf: 1}}\ncutting: {kerf: 2}", 2, 12, 412, 18},
		{"cutting: {handling: 3}", 1.5, 7.5, 407.5, 18},
		{"shop: {band-saw: {kerf: 1}}\ncutting: {handling: 3}", 1, 7, 407, 18},
		{"cutting: {handling: 0}", 1.5, 1.5, 401.5, 18},
		{"boards: {b: {wood: beech, thick: 20, rough: yes, size: [1000, 100]}}", 1.5, 12, 412, 18},
		{"boards: {b: {wood: beech, thick: 20, rough: yes, size: [1000, 100]}}\ncutting: {planing: 0}", 1.5, 12, 412, 20},
	} {
		l := ListAll(context.Background(), []Order{{Model: in(t, derive(t, "tray", tray), "dryfit: 1\nunits: mm\n"+c.own+"\n"), Count: 4}})
		if l.kerf() != c.kerf || !same(l.Allowance.LengthMM, c.allow) {
			t.Errorf("%s: a kerf of %g, %+v", c.own, l.kerf(), l.Allowance)
		}
		if s := l.Stock[0].Strips; len(s) != 1 || !same(s[0].LengthMM, 4*c.cut) {
			t.Errorf("%s: strips %+v", c.own, s)
		}
		if b := l.Stock[2].Blanks[0]; !same(b.RoughThickMM, c.lid) {
			t.Errorf("%s: the lid is cut from %g", c.own, b.RoughThickMM)
		}
	}
}

// What is short is never said to be on the rack or proved, and why it is short names who says what
// is sold.
func TestShortSticks(t *testing.T) {
	const rack = "dryfit: 1\nunits: mm\ndowels: {a: {wood: birch, dia: 6, length: 300}}\n"
	for _, c := range []struct {
		sold    string
		lengths []DowelCut
		buys    string
		note    string
	}{
		{"", []DowelCut{{LengthMM: 200, Count: 1}}, "; all of it is on the rack", ""},
		{"", []DowelCut{{LengthMM: 1500, Count: 2}, {LengthMM: 200, Count: 1}}, "; 2 pieces are short", "1500 mm is longer than the sticks that are commonly sold"},
		{"sold: {dowels: {c: {wood: birch, dia: 6, length: 250, price: 2}}}", []DowelCut{{LengthMM: 280, Count: 2}, {LengthMM: 200, Count: 1}},
			"; buy 1 stick of 250 mm; 1 piece is short", "1 of 280 mm is short: the rack has no more sticks, and none that are sold are long enough"},
		{"sold: {dowels: {c: {wood: birch, dia: 6, length: 250, price: 2}}}", []DowelCut{{LengthMM: 900, Count: 2}}, "; 2 pieces are short", "900 mm is longer than any stick that shop.yaml has or says is sold"},
	} {
		own := readShop(t, rack+c.sold+"\n")
		l := &Lists{unit: measure.MM, own: own, rack: own.Rack}
		d := Dowel{Wood: "birch", DiaMM: 6, Lengths: c.lengths}
		l.sticks(context.Background(), &d)
		cutAll(t, &d, l)
		if got := plainText(l.toBuy(&d)); got != c.buys {
			t.Errorf("%s%q, want %q", c.sold, got, c.buys)
		}
		if got := strings.Join(d.Notes, "; "); got != c.note {
			t.Errorf("%s%q, want %q", c.sold, got, c.note)
		}
	}
	// A stick that no search takes is said, not called long enough for nothing.
	l := &Lists{unit: measure.MM, own: readShop(t, rack)}
	l.rack = l.own.Rack
	l.rack.Dowels[0].Length = 0
	d := Dowel{Wood: "birch", DiaMM: 6, Lengths: []DowelCut{{LengthMM: 200, Count: 1}}}
	if l.sticks(context.Background(), &d); len(d.Notes) != 1 || !strings.Contains(d.Notes[0], "could not be worked out") || l.toBuy(&d) != "" {
		t.Errorf("%+v", d)
	}
}

// The total says what it is without, on paper and in the table, where what is short has its rows.
func TestWhatTheTotalIsWithout(t *testing.T) {
	const shelf = `dryfit: 1
toy: Shelf
units: mm
stock:
  b: {wood: beech, form: board, thick: 19}
  rod: {wood: birch, form: dowel, dia: 6}
parts:
  base: {from: b, blank: [400, 100], work: [{drill: {side: face, dia: 6, named: {h: [50, 50]}, depth: 15}}]}
  post: {from: rod}
build:
  - put: base
  - peg: {use: post, in: base.h, proud: 300}
`
	l := List(in(t, derive(t, "shelf", shelf), "dryfit: 1\nunits: mm\nmoney: EUR\nsold:\n  boards: {plank: {wood: beech, thick: 19, size: [1000, 100], price: 10}}\n  dowels: {c: {wood: birch, dia: 6, length: 200, price: 2}}\n"))
	if got := strings.Join(l.Cost.Unpriced, "; "); got != "birch dowel 6 mm, short: 1 of 315 mm; what is used up" {
		t.Error(got)
	}
	text := plainText(l.Text())
	for _, want := range []string{"EUR in all, without what has no price\n", "  Without a price: birch dowel 6 mm, short: 1 of 315 mm.\n", "322.5 mm in all; 1 piece is short\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	table, err := l.CSV()
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	at := func(r []string, head string) string { return r[slices.Index(csvHead, head)] }
	for _, r := range rows {
		if r[0] == "short" || r[0] == "cost" && at(r, "note") != "" {
			got = append(got, strings.TrimSpace(strings.Join([]string{r[0], at(r, "stock"), at(r, "part"), at(r, "pieces"), at(r, "amount"), at(r, "length_mm"), at(r, "note")}, " ")))
		}
	}
	want := []string{"short b   0.05459", "short   1  315", "cost  birch dowel 6 mm, short: 1 of 315 mm    no price", "cost  what is used up    no price", "cost  in all    without what has no price"}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	if whole := (&Cost{}); whole.without() != "" {
		t.Error("a whole total is without something")
	}
}

// Each finish has its line, with what is put on of it, in the coats of the table; bare wood has none.
func TestFinishes(t *testing.T) {
	toy := func(finish string) Order {
		return Order{Model: derive(t, "block", "dryfit: 1\ntoy: block\nunits: mm\n"+finish+"stock: {b: {wood: beech, form: board, thick: 20}}\nparts: {block: {from: b, blank: [1000, 500]}}\nbuild: [{put: block}]\n"), Count: 2}
	}
	// two blocks of 1.06 m²
	for _, c := range []struct {
		toys []string
		want string
	}{
		{[]string{"finish: none\n", "finish: no finish\n", "finish: left untreated\n"}, ""},
		{[]string{"finish: shellac\n"}, "finish: shellac, 300 to 420 ml: 2 coats"},
		{[]string{"finish: mineral oil\n", "finish: none\n", "finish: shellac\n", "finish: shellac\n"}, "finish: mineral oil, 150 to 210 ml: 1 coat; finish: shellac, 610 to 850 ml: 2 coats"},
		{[]string{""}, "finish, where the toy file says none, 150 to 210 ml: 1 coat as of mineral oil"},
		{[]string{"finish: stardust\n"}, "finish: stardust, 150 to 210 ml: 1 coat as of mineral oil"},
	} {
		var orders []Order
		for _, f := range c.toys {
			orders = append(orders, toy(f))
		}
		var got []string
		for _, x := range ListAll(context.Background(), orders).Consumables {
			if strings.HasPrefix(x.What, "finish") {
				got = append(got, x.What+", "+decimal(x.Least)+" to "+decimal(x.Most)+" ml: "+strings.Split(x.Note, ", ")[1])
			}
		}
		if strings.Join(got, "; ") != c.want {
			t.Errorf("%q: %q", c.toys, got)
		}
	}
}

// Ctrl-C: with no time at all every length is still cut, and nothing is called proved that is not.
func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	l := ListAll(ctx, []Order{{Model: in(t, load(t, tram), backRoom), Count: 20}})
	d := &l.Dowels[0]
	cutAll(t, d, l)
	if len(d.Short) != 0 || d.Proved {
		t.Errorf("short %v, proved %v", d.Short, d.Proved)
	}
}

// The lists of nothing are empty.
func TestNoToys(t *testing.T) {
	l := ListAll(context.Background(), nil)
	if l.Pieces != 0 || len(l.Stock) != 0 || l.Units != "mm" || l.Text() == "" {
		t.Errorf("%+v", l)
	}
	if _, err := l.CSV(); err != nil {
		t.Error(err)
	}
}

// A round opening that a bit makes whole is a hole of the drill list, and no saw's.
func TestBoredOpening(t *testing.T) {
	l := List(load(t, "../examples/plain/windows.yaml"))
	var got []string
	for _, b := range l.Bits {
		for _, s := range b.SetUps {
			for _, h := range s.Holes {
				if h.Name == opening {
					got = append(got, b.Name+" in "+s.Part+" at "+l.length(h.XMM)+", "+l.length(h.YMM))
				}
			}
		}
	}
	if !slices.Equal(got, []string{"5/8 in in side at 4 in, 1 3/8 in"}) {
		t.Errorf("%q", got)
	}
	if text := l.Text(); strings.Contains(text, "bored") || len(under(l, "side", "cut-out")) != 1 {
		t.Error(text)
	}
}

package shop

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file"
)

// readShop reads a shop's own file from a text.
func readShop(t *testing.T, text string) *toy.Shop {
	t.Helper()
	s, probs := file.ReadShop(source.New("shop.yaml", text))
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return s
}

// in is a toy in a shop.
func in(t *testing.T, m *assembly.Model, shop string) *assembly.Model {
	t.Helper()
	m.Toy.Shop = m.Toy.Shop.Over(readShop(t, shop))
	return m
}

const backRoom = `dryfit: 1
units: inch
money: EUR
shop:
  band-saw: {blade: 1/4}
  scroll-saw: {blade: 3/64}
boards:
  offcut: {wood: beech, thick: 3/4, size: [24, 5], flaws: [{at: [0, 0], size: [2, 1]}]}
  rough-one: {wood: beech, thick: 7/8, rough: yes, size: [30, 6]}
  thin: {wood: beech, thick: 1/2, size: [30, 6]}
dowels:
  short-rod: {wood: birch, dia: 1/4, length: 14, count: 3}
  oak-rod: {wood: white oak, dia: 1/4, length: 36}
  thin-rod: {wood: birch, dia: 3/16, length: 36}
sold:
  boards:
    plank: {wood: beech, thick: 3/4, size: [48, 6], price: 18}
    ply: {wood: birch plywood, form: sheet, thick: 1/4, size: [24, 24], price: 14}
  dowels:
    rod: {wood: birch, dia: 1/4, length: 36, price: 1.90}
    long-rod: {wood: birch, dia: 1/4, length: 48, price: 2.40}
tools: [mitre-saw, hand-saw, hand-plane]
cutting: {kerf: 1/16, handling: 1/8}
`

// Twenty of one: all counts twenty times, wheels' spares with each toy, others once.
func TestBatch(t *testing.T) {
	one, many := List(load(t, tram)), ListAll(context.Background(), []Order{{Model: load(t, tram), Count: 20}})
	if many.Pieces != 20*one.Pieces || math.Abs(many.WeightKg-20*one.WeightKg) > 1e-5 {
		t.Errorf("%d pieces of %g kg", many.Pieces, many.WeightKg)
	}
	for i, s := range one.Stock {
		x := many.Stock[i]
		if math.Abs(x.BoardFeet-20*s.BoardFeet) > 1e-4 || math.Abs(x.RoughAreaM2-20*s.RoughAreaM2) > 1e-4 {
			t.Errorf("%s: %g board feet, %g m²", s.Name, x.BoardFeet, x.RoughAreaM2)
		}
		for k, b := range s.Blanks {
			if x.Blanks[k].Count != 20*b.Count || x.Blanks[k].Spare != 20*b.Spare || x.Blanks[k].RoughLengthMM != b.RoughLengthMM {
				t.Errorf("%s: %+v", b.Part, x.Blanks[k])
			}
		}
	}
	for i, b := range one.Bits {
		for k, s := range b.SetUps {
			if m := many.Bits[i].SetUps[k]; m.Pieces != 20*s.Pieces || len(m.Holes) != len(s.Holes) {
				t.Errorf("%s: %d pieces", s.Part, m.Pieces)
			}
		}
	}
	for i, s := range one.Saws {
		for k, c := range s.Cuts {
			if many.Saws[i].Cuts[k].Pieces != 20*c.Pieces {
				t.Errorf("%s %s: %d pieces", c.Op, c.Part, many.Saws[i].Cuts[k].Pieces)
			}
		}
	}
	beds := ListAll(context.Background(), []Order{{Model: load(t, cart), Count: 5}})
	if b := beds.Stock[0].Blanks[0]; b.Count != 5 || b.Spare != 2 {
		t.Errorf("five carts have %d beds and %d spare", b.Count, b.Spare)
	}
	if says := strings.Join(beds.Notes, "; "); !strings.Contains(says, "each toy has its own spare wheel") || !strings.Contains(says, "the spares of bed and peg serve the whole batch") {
		t.Error(says)
	}
}

// Two toys share their stock, their bits and their blades, and keep their pieces apart.
func TestSeveralToys(t *testing.T) {
	a, b := load(t, tram), load(t, "../examples/plain/hitch.yaml")
	l := ListAll(context.Background(), []Order{{Model: a, Count: 2}, {Model: b, Count: 3}})
	if want := 2*len(a.Pieces) + 3*len(b.Pieces); l.Pieces != want {
		t.Errorf("%d pieces, want %d", l.Pieces, want)
	}
	count, weight := 0, 0.0
	keys := map[string]bool{}
	for _, s := range l.Stock {
		weight += s.WeightKg
		key := woodOf(s.Wood) + s.Form + l.length(s.ThickMM+s.DiaMM)
		if keys[key] {
			t.Errorf("%s is listed twice", key)
		}
		keys[key] = true
		for _, b := range s.Blanks {
			count += b.Count
		}
	}
	if count != l.Pieces || math.Abs(weight-l.WeightKg) > 1e-9 {
		t.Errorf("%d pieces are in the stock list, which weigh %g", count, weight)
	}
	bits := map[string]bool{}
	for _, b := range l.Bits {
		if bits[b.Name] {
			t.Errorf("bit %s is put on twice", b.Name)
		}
		bits[b.Name] = true
	}
	blades := map[string]bool{}
	for _, s := range l.Saws {
		if blades[s.Saw+s.Blade] {
			t.Errorf("%s %s is put on twice", s.Saw, s.Blade)
		}
		blades[s.Saw+s.Blade] = true
	}
	for i := range l.Dowels {
		cutAll(t, &l.Dowels[i], l)
	}
	twice := ListAll(context.Background(), []Order{{Model: load(t, tram), Count: 1}, {Model: load(t, tram), Count: 1}})
	if twice.Toys[1].Toy != "Quay tram (2)" || twice.Pieces != 46 {
		t.Errorf("the same twice: %+v", twice.Toys)
	}
}

// The rack by hand, in inches: dowels of three short sticks first, then the cheapest; boards by
// area; blanks with the shop's own allowance, twice 1/8 and a kerf of 1/16.
func TestRack(t *testing.T) {
	l := ListAll(context.Background(), []Order{{Model: in(t, load(t, tram), backRoom), Count: 20}})
	if a := l.Allowance; !same(a.LengthMM, 5.0/16*inch) || !same(a.WidthMM, 5.0/16*inch) || a.ThickMM != 0 || a.From != "shop.yaml" {
		t.Errorf("allowance %+v", a)
	}
	d := &l.Dowels[0]
	cutAll(t, d, l)
	rack, paid := 0, 0.0
	for _, s := range d.Sticks {
		if s.From == FromRack {
			rack += s.Times
		}
	}
	for _, b := range d.Buy {
		paid += float64(b.Count) * b.Price
	}
	// 20 of 3 3/16, 60 of 2 5/16, 20 of 3/4 and a kerf each are 223 3/4 in; three of 14 in give at
	// most 41 1/4 of that, so that 182 1/2 are bought: no three sticks give as much, and any four
	// cost 7.60 to 9.60: 48 + 48 + 48 + 36 is 180 less four ends.
	if rack != 3 || !d.Proved || !d.ByPrice || math.Abs(paid-9.6) > 1e-9 || math.Abs(d.Least-9.6) > 1e-9 {
		t.Errorf("%d sticks of the rack, %g paid, at least %g: %+v", rack, paid, d.Least, d.Sticks)
	}
	notes := strings.Join(d.Notes, "; ")
	if !strings.Contains(notes, "oak-rod on the rack is white oak, not birch") || !strings.Contains(notes, "thin-rod on the rack is too thin: 3/16 in") {
		t.Error(notes)
	}
	beech := l.Stock[0]
	have := (24*5 - 2 + 30*6) * inch * inch * 1e-6
	if strings.Join(beech.OnRack, " ") != "offcut rough-one" || math.Abs(beech.OnRackM2-have) > 1e-6 {
		t.Errorf("on the rack: %v, %g m²", beech.OnRack, beech.OnRackM2)
	}
	need := 20 * (5.5625*1.5625 + 5.4375*1.5625 + 2*4.3125*1.8125) * inch * inch * 1e-6 * (1 + wasteShare)
	if math.Abs(beech.ShortM2-(need-have)) > 2e-6 {
		t.Errorf("short %g m², want %g", beech.ShortM2, need-have)
	}
	each := 18 / (48 * 6 * inch * inch * 1e-6)
	if c := l.Cost.Lines[0]; math.Abs(c.Sum-each*(need-have)) > 0.01 || l.Cost.Money != "EUR" {
		t.Errorf("%+v", l.Cost)
	}
	sum := 0.0
	for _, c := range l.Cost.Lines {
		sum += c.Sum
	}
	if math.Abs(sum-l.Cost.Total) > 1e-9 || len(l.Cost.Lines) != 3 || len(l.Cost.Unpriced) != 2 || !strings.Contains(l.Cost.Unpriced[0], "maple") || l.Cost.Unpriced[1] != "what is used up" {
		t.Errorf("%+v", l.Cost)
	}
	if s := l.Saws[0]; s.Saw != SawStraight || s.Blade != "mitre saw" {
		t.Errorf("straight cuts with %s", s.Blade)
	}
}

// What is short is said in a line for each wood and dowel; of a shop without a rack nothing is known.
func TestShorts(t *testing.T) {
	if l := List(load(t, tram)); l.Shorts() != nil {
		t.Errorf("without a rack: %v", l.Shorts())
	}
	one := List(in(t, load(t, tram), backRoom))
	many := ListAll(context.Background(), []Order{{Model: in(t, load(t, tram), backRoom), Count: 20}})
	says := strings.Join(many.Shorts(), "\n")
	for _, want := range []string{"beech board, 3/4 in thick: ", " short of ", "none on the rack", "birch dowel, 1/4 in: "} {
		if !strings.Contains(says, want) {
			t.Errorf("twenty do not say %q:\n%s", want, says)
		}
	}
	if strings.ContainsRune(says, tie) {
		t.Errorf("%q", says)
	}
	if strings.Contains(strings.Join(one.Shorts(), "\n"), "beech board") {
		t.Errorf("one is short of beech: %v", one.Shorts())
	}
}

// Words are what Text sets in lines: every word of them is in it, in their order.
func TestWordsAreTheText(t *testing.T) {
	l := ListAll(context.Background(), []Order{{Model: in(t, load(t, tram), backRoom), Count: 3}})
	text := strings.Join(strings.Fields(l.Text()), " ")
	for _, b := range l.Words() {
		says := strings.Join(strings.Fields(b.Says), " ")
		at := strings.Index(text, says)
		if at < 0 {
			t.Fatalf("the text does not say %q", says)
		}
		text = text[at+len(says):]
		if (b.Kind == Table) != (len(b.Heads) > 0) {
			t.Errorf("a block of kind %d has the heads %v", b.Kind, b.Heads)
		}
	}
}

// Boards by the rule that the layout has: what is rough or thicker is planed, if there is a plane
// and it is not too much; a blank is thicker only where every board that does has to be planed.
func TestPlaned(t *testing.T) {
	for _, c := range []struct{ change, to, rough, onRack, notes string }{
		{"", "", "3/4", "offcut rough-one", "rough-one on the rack has to be planed from 7/8 in to 3/4 in; thin on the rack is only 1/2 in thick"},
		{", hand-plane", "", "3/4", "offcut", "rough-one on the rack would have to be planed, and the shop has neither planer nor hand plane; thin on the rack is only 1/2 in thick"},
		{"thick: 3/4", "thick: 15/16", "7/8", "offcut rough-one", "offcut on the rack has to be planed from 15/16 in to 3/4 in; rough-one on the rack has to be planed from 7/8 in to 3/4 in; thin on the rack is only 1/2 in thick"},
		{"thick: 7/8, rough: yes", "thick: 1 1/16", "3/4", "offcut", "rough-one on the rack is 1 1/16 in thick, too much to plane away; thin on the rack is only 1/2 in thick"},
	} {
		own := strings.ReplaceAll(strings.Replace(backRoom, "handling: 1/8", "planing: 1/8", 1), c.change, c.to)
		if c.change == "" {
			own = strings.Replace(backRoom, "handling: 1/8", "planing: 1/8", 1)
		}
		s := ListAll(context.Background(), []Order{{Model: in(t, load(t, tram), own), Count: 1}}).Stock[0]
		b := s.Blanks[0]
		if got := measure.FromMM(b.RoughThickMM).Number(measure.Inch); got != c.rough || !same(b.RoughLengthMM, b.LengthMM+inch/2) {
			t.Errorf("%s: blanks of %+v, want %s in", c.change, b, c.rough)
		}
		if got := strings.Join(s.OnRack, " "); got != c.onRack {
			t.Errorf("%s: on the rack %s, want %s", c.change, got, c.onRack)
		}
		if got := strings.Join(s.Notes, "; "); got != c.notes {
			t.Errorf("%s: %s", c.change, got)
		}
	}
}

// The bits of the shop decide: what it has not is named, to be got, with the nearest that it has,
// as the proof says; nothing is said of inches in a shop that has none. Openings are begun with a
// bit of the shop's too, and stand in the list with their places.
func TestBitsOfTheShop(t *testing.T) {
	metric := "dryfit: 1\nunits: mm\nshop: {bits: [metric]}\n"
	l := List(in(t, load(t, tram), metric))
	text := l.Text()
	for _, want := range []string{"Bit 6 mm\n  side: 4 pieces, from the face (top), through the waste of each of its 3 openings, where the\n    pattern marks it\n",
		"Bit 1/4 in, which the shop has not: get one, or make the hole in the toy file as wide as a bit\nthere is (the nearest: 6.3 mm and 6.4 mm)\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	for _, b := range l.Bits {
		if b.Lacks != (b.Name != "6 mm") || b.Drills() == (b.Name == "6 mm") {
			t.Errorf("%+v", b)
		}
	}
	for _, c := range []struct {
		mm   float64
		bits []string
		want string
	}{
		{7, nil, "Bit 7 mm; of those in inches the nearest are 17/64 in and 9/32 in"},
		{7, []string{"metric"}, "Bit 7 mm"},
		{7, []string{"inch"}, "Bit 7 mm, which the shop has not: get one, or make the hole in the toy file as wide as a bit there is (the nearest: 17/64 in and 9/32 in)"},
		{6.45, nil, "No bit is sold for ≈1/4 in (0.2539 in): make the hole in the toy file as wide as a bit there is (the nearest: 6.4 mm and 6.5 mm)"},
		{90, []string{"metric"}, "The shop has no bit as large as ≈3 35/64 in (3.5433 in): get one, saw the hole out, or take a hole saw"},
	} {
		b := NameBit(c.mm, &toy.Toy{Units: measure.Inch, Shop: &toy.Shop{Bits: c.bits}})
		if got := strings.ReplaceAll((&Lists{unit: measure.Inch}).bitSays(b), string(tie), " "); got != c.want {
			t.Errorf("%g mm with %v: %s", c.mm, c.bits, got)
		}
	}
}

// Straight cuts, of blanks and of outlines, are those of the saw that plans take for them: a table,
// mitre or hand saw that the tools have, else the band saw, and a hand saw where there is none.
func TestStraightSaw(t *testing.T) {
	if got := StraightSaw(nil, []string{"hand-saw", "table-saw"}); got != TableSaw {
		t.Errorf("with a table saw and nothing said of other saws: %s", got)
	}
	for own, want := range map[string]string{
		"":                               "",
		"tools: [hand-saw]":              "hand saw",
		"tools: [hand-saw, mitre-saw]":   "mitre saw",
		"shop: {scroll-saw: {blade: 1}}": "hand saw",
		"shop: {band-saw: {blade: 6}}":   "band saw",
		"tools: [table-saw]\nshop: {band-saw: {blade: 6}}": "table saw",
	} {
		l := List(in(t, load(t, tram), "dryfit: 1\nunits: mm\n"+own+"\n"))
		if s := l.Saws[0]; s.Saw != SawStraight || s.Blade != want || strings.Join(under(l, "frame", "saw")[:1], "") != strings.TrimSpace("straight "+want) {
			t.Errorf("%s: straight cuts with %q, want %q", own, s.Blade, want)
		}
	}
}

// Strips by hand: in five carts five beds and two spare, 132 mm rough, saw cuts and all.
func TestStrips(t *testing.T) {
	l := ListAll(context.Background(), []Order{{Model: load(t, cart), Count: 5}})
	s := l.Stock[0].Strips
	if len(s) != 1 || s[0].Pieces != 7 || math.Abs(s[0].LengthMM-7*132) > 1e-6 || !same(s[0].WidthMM, 56) {
		t.Errorf("%+v", s)
	}
	if one := List(load(t, cart)).Stock[0].Strips; len(one) != 0 {
		t.Errorf("one cart: %+v", one)
	}
	b := l.Stock[0].Blanks[0]
	if b.AllowLengthMM != 12 || b.AllowWidthMM != 6 || b.AllowThickMM != 0 {
		t.Errorf("%+v", b)
	}
}

// Thin pieces are drilled in a pile as thick as a board, others one by one.
func TestGang(t *testing.T) {
	for _, c := range []struct {
		thick  float64
		pieces int
		lean   float64
		want   int
	}{{inch / 4, 20, 0, 3}, {inch / 4, 2, 0, 2}, {inch / 4, 1, 0, 0}, {inch * 3 / 8, 20, 0, 2}, {inch / 2, 20, 0, 0}, {inch / 4, 20, 0.2, 0}} {
		s := SetUp{Op: OpHole, Through: true, WoodMM: c.thick, Pieces: c.pieces, LeanRad: c.lean}
		if s.gang(); s.Stack != c.want {
			t.Errorf("%+v: %d at a time", c, s.Stack)
		}
	}
}

// What there is in sticks is used with care: one of two is cut, and nothing is bought.
func TestSticksAtHand(t *testing.T) {
	l := &Lists{unit: measure.MM}
	l.rack = readShop(t, "dryfit: 1\nunits: mm\ndowels:\n  a: {wood: birch, dia: 6, length: 900}\n  b: {wood: birch, dia: 6, length: 300}\nsold:\n  dowels:\n    c: {wood: birch, dia: 6, length: 1000, price: 2}\n").Rack
	d := Dowel{Wood: "birch", DiaMM: 6, Lengths: []DowelCut{{LengthMM: 80, Count: 3}}}
	l.sticks(context.Background(), &d)
	cutAll(t, &d, l)
	if len(d.Buy) != 0 || len(d.Sticks) != 1 || d.Sticks[0].Name != "b" || !d.Proved || d.Least != 0 {
		t.Errorf("%+v", d)
	}
	d = Dowel{Wood: "birch", DiaMM: 6, Lengths: []DowelCut{{LengthMM: 1200, Count: 2}}}
	if l.sticks(context.Background(), &d); len(d.Short) != 1 || d.Short[0].Count != 2 {
		t.Errorf("%+v", d)
	}
}

// under finds the blade of a cut.
func under(l *Lists, part, op string) (found []string) {
	for _, s := range l.Saws {
		for _, c := range s.Cuts {
			if c.Part == part && c.Op == op {
				found = append(found, strings.TrimSpace(s.Saw+" "+s.Blade))
			}
		}
	}
	return found
}

// Blades by the trade's table: 1/4 in turns 5/8, 3/16 turns 5/16.
func TestBlades(t *testing.T) {
	l := List(load(t, tram))
	for _, c := range []struct{ part, op, want string }{
		{"wheel", "disc", "band saw 3/16 in"}, // radius 9/16
		{"frame", "saw", "straight; band saw 3/16 in"},
		{"side", "cut-out", "scroll saw no. 5"},
	} {
		if got := strings.Join(under(l, c.part, c.op), "; "); got != c.want {
			t.Errorf("%s of %s: %s, want %s", c.op, c.part, got, c.want)
		}
	}
	for _, s := range l.Saws {
		for _, c := range s.Cuts {
			if c.Op == "cut-out" && (c.PierceMM == 0 || c.Each < 1) {
				t.Errorf("%+v", c)
			}
		}
	}
	bandOnly := List(in(t, load(t, tram), "dryfit: 1\nunits: inch\nshop: {band-saw: {blade: 1/4}}\n"))
	if got := strings.Join(under(bandOnly, "side", "cut-out"), "; "); got != SawByHand {
		t.Errorf("windows without a scroll saw: %s", got)
	}
	// An outside curve is no matter of the blade: cut.possible has nothing against it.
	if got := strings.Join(under(bandOnly, "wheel", "disc"), "; "); got != "band saw 1/4 in" {
		t.Errorf("wheels of 1 1/8 in with a 1/4 in blade: %s", got)
	}
	for _, s := range bandOnly.Saws {
		for _, c := range s.Cuts {
			if round := strings.Contains(c.Why, "saw off the corners"); c.Op == "disc" && !round {
				t.Errorf("%+v", c)
			}
		}
	}
}

// A hole saw is stamped 1/4 in larger than its plug, whose hole is that of the pilot bit.
func TestHoleSaw(t *testing.T) {
	l := List(load(t, "../examples/plain/hole-sawn.yaml"))
	n := 0
	for _, w := range l.Wheels {
		if w.Made == MadePlug {
			n++
			if !same(w.StampedMM, w.DiaMM+inch/4) || !same(w.PilotMM, inch/4) {
				t.Errorf("%+v", w)
			}
		}
	}
	for _, s := range l.Stock {
		for _, b := range s.Blanks {
			if b.Made == MadePlug && !same(b.RoughLengthMM, b.LengthMM+inch/2) {
				t.Errorf("a plug of %g mm comes from %g", b.LengthMM, b.RoughLengthMM)
			}
		}
	}
	if n == 0 {
		t.Errorf("no wheel is a plug: %+v", l.Wheels)
	}
}

// Two blocks of 40 × 40 × 20 mm with 40 × 40 mm between them, and a peg of 6 mm in 20 mm.
func TestAreas(t *testing.T) {
	m := derive(t, "block", `dryfit: 1
toy: block
units: mm
stock:
  b: {wood: beech, form: board, thick: 20}
  rod: {wood: birch, form: dowel, dia: 6}
parts:
  block: {from: b, blank: [40, 40]}
  holed: {from: b, blank: [40, 40], work: [{drill: {side: face, dia: 6, named: {h: [20, 20]}, depth: 15}}]}
  peg: {from: rod}
build:
  - put: holed
  - {put: block, sits: {top: holed.bottom, back: holed.back, right: holed.right}, glued: true}
  - peg: {use: peg, in: holed.h, proud: 5}
`)
	rim := 0.0
	for _, f := range m.Fits {
		if f.Kind == assembly.Glued {
			rim += math.Pi * 6 * 15
		}
	}
	if got, want := gluedArea(m), (1600+rim)*1e-6; math.Abs(got-want) > 2e-6 || rim == 0 {
		t.Errorf("glued %g m², want %g", got, want)
	}
	blocks := 2*(2*1600+4*800) + math.Pi*6*15
	peg := math.Pi*6*20 + 2*math.Pi*9
	if got, want := Surface(m), (blocks+peg)*1e-6; math.Abs(got-want) > 2e-5 {
		t.Errorf("surface %g m², want %g", got, want)
	}
	l := List(m)
	if len(l.Consumables) != 4 || !l.Consumables[0].Estimate {
		t.Errorf("%+v", l.Consumables)
	}
	l.SetPages([]int{2}, "A4")
	if c := l.Consumables[0]; c.What != "patterns of block on A4" || c.Most != 2 || len(l.Consumables) != 6 {
		t.Errorf("%+v", l.Consumables)
	}
}

// Every toy of the examples is listed, one and twenty of it, with all that is sawn through.
func TestEveryExample(t *testing.T) {
	var names []string
	for _, dir := range []string{"", "plain", "broken"} {
		found, _ := filepath.Glob(filepath.Join("..", "examples", dir, "*.yaml"))
		names = append(names, found...)
	}
	if len(names) < 50 {
		t.Fatal("no examples")
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		ty, probs := file.Read(source.New(name, string(text)), nil)
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		m, probs := assembly.Derive(ty, assembly.Options{})
		if len(probs) > 0 {
			continue // tested where problems are
		}
		ty.Shop = ty.Shop.Over(readShop(t, backRoom))
		sawn := 0
		for i := range ty.Parts {
			p := &ty.Parts[i]
			for _, q := range m.Pieces {
				if q.Part == p {
					sawn += len(assembly.SawnThrough(p.Work, q.Made.Size, m.Reach(assembly.GlueUp{Pieces: []int{0}})))
					break
				}
			}
		}
		for i := range ty.GlueUps {
			for _, g := range m.GlueUps {
				if g.Spec == &ty.GlueUps[i] {
					sawn += len(assembly.SawnThrough(g.Spec.Work, m.Pieces[g.Pieces[0]].Made.Size, m.Reach(g)))
					break
				}
			}
		}
		for _, n := range []int{1, 20} {
			l := ListAll(context.Background(), []Order{{Model: m, Count: n}})
			listed := 0
			for _, s := range l.Saws {
				for _, c := range s.Cuts {
					if c.Op != "blank" && c.Op != "length" && c.Op != "disc" {
						listed += c.Each
					}
				}
			}
			for _, b := range l.Bits { // or a bit makes it whole
				for _, s := range b.SetUps {
					for _, h := range s.Holes {
						if h.Name == opening {
							listed += 1 + len(s.TurnedOver)
						}
					}
				}
			}
			if listed != sawn {
				t.Errorf("%s: %d cuts are listed of %d", name, listed, sawn)
			}
			for i := range l.Dowels {
				cutAll(t, &l.Dowels[i], l)
			}
			for _, line := range strings.Split(l.Text(), "\n") {
				if utf8.RuneCountInString(line) > Columns {
					t.Errorf("%s: %s", name, line)
				}
			}
			if _, err := l.CSV(); err != nil {
				t.Error(err)
			}
		}
	}
}

package adapt

import (
	"math"
	"strings"
	"testing"

	"dryfit/facts"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file"
)

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
	a := made(t, long, Spec{Scale: 2}, Options{})
	if said := a.Kept[len(a.Kept)-2]; !strings.Contains(a.Text, "length: 40, end") || said.Path != "cord.length" || !strings.Contains(said.Why, "no longer than a pull cord may be") {
		t.Errorf("a cord of 1 m became longer, or that it did not is not said: %+v", a.Kept)
	}
	if a := made(t, long, Spec{Scale: 0.5}, Options{}); !strings.Contains(a.Text, "length: 20, end") {
		t.Error("a cord does not become shorter")
	}
}

// A wheel that is bought comes as it is sold (common practice, no source), a sawn one as it is drawn.
func TestBoughtWheels(t *testing.T) {
	text := strings.Replace(cart, "disc: wheel + 0, bore: 1/4", "disc: wheel, bore: 1/4, made: bought", 1)
	a := made(t, text, Spec{Scale: 1.25}, Options{})
	if !strings.Contains(a.Text, "  wheel: 1 1/2\n") {
		t.Error(a.Text)
	}
	a = made(t, text, Spec{Units: "mm", Wheels: []string{"32"}, Dowels: []string{"6"}}, Options{})
	if !strings.Contains(a.Text, "  wheel: 32\n") || !strings.Contains(a.Text, "bore: 6,") {
		t.Error(a.Text)
	}
	for _, c := range a.Changes {
		if c.Path == "sizes.wheel" && c.Why != "as asked; it is not usually sold in this size" {
			t.Errorf("%+v", c)
		}
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

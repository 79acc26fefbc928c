package file_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file"
)

const car = `dryfit: 1
toy: Car
units: inch
ages: 18 months and up
sizes:
  wide: tall * 2
  tall: 3/4
  slant: 30°
stock:
  b: {wood: beech, form: board, thick: tall}
  flat: {wood: maple, form: board, thick: 1/4}
  rod: {wood: birch, form: dowel, dia: 1/4}
parts:
  frame:
    from: b
    blank: [5, wide]
    work:
      - drill: {side: edge, dia: rod.dia + 1/16, named: {rear: [1, 1/4], fore: [length - 1, thick / 3]}}
      - drill: {side: face, dia: 1/4, depth: 1/2, named: {socket: [middle, middle]}}
  wheel: {from: flat, disc: 1, bore: rod.dia}
  axle: {from: rod}
  post: {from: rod}
build:
  - put: frame
  - wheels: {in: frame.rear, axle: axle, outward: [wheel], play: 1/32, proud: 1/8}
  - wheels: {in: frame.fore, axle: axle, outward: [wheel], play: 1/32, length: 2.5}
  - peg: {use: post, in: frame.socket, proud: 1}
`

func readText(text string, sets ...file.Set) (*toy.Toy, source.Problems) {
	return file.Read(source.New("car.yaml", text), sets)
}

func TestRead(t *testing.T) {
	c, probs := readText(car)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	if c.Name != "Car" || c.Ages.FromMonths != 18 || !c.Ages.Said || len(c.Build) != 4 {
		t.Errorf("%q, %d months, %d steps", c.Name, c.Ages.FromMonths, len(c.Build))
	}
	frame, _ := c.PartNamed("frame")
	// sizes and stock in any order: 1 1/2 in wide
	if got := [3]float64{frame.Length.MM(), frame.Width.MM(), frame.Thick.MM()}; got != [3]float64{127, 38.1, 19.05} {
		t.Errorf("frame %v", got)
	}
	d := frame.Work[0].(toy.Drill)
	if d.Side != toy.Right || math.Abs(d.Dia.MM()-25.4*5/16) > 1e-12 || math.Abs(d.Holes[1].At.X.MM()-4*25.4) > 1e-12 || math.Abs(d.Holes[1].At.Y.MM()-25.4/4) > 1e-12 {
		t.Errorf("%+v", d)
	}
	if s := frame.Work[1].(toy.Drill).Holes[0].At; s.X.MM() != 63.5 || s.Y.MM() != 19.05 {
		t.Errorf("middle is %v", s)
	}
	w, v := c.Build[1].(toy.Wheels), c.Build[2].(toy.Wheels)
	if w.AxleID != "axle" || v.AxleID != "axle.2" || fmt.Sprint(w.WheelIDs, v.WheelIDs) != "[[wheel] [wheel.2]] [[wheel.3] [wheel.4]]" {
		t.Errorf("%v %v, %v %v", w.AxleID, w.WheelIDs, v.AxleID, v.WheelIDs)
	}
	if w.Length != nil || v.Proud != nil || v.Length.MM() != 63.5 {
		t.Errorf("what was left out is said: %v %v", w.Length, v.Proud)
	}
	// Every step and part knows its line.
	for i, s := range c.Build {
		var at source.Range
		switch s := s.(type) {
		case toy.Put:
			at = s.At
		case toy.Wheels:
			at = s.At
		case toy.Peg:
			at = s.At
		}
		if line, col := c.File.Position(at.Start); line != 24+i || col < 5 {
			t.Errorf("step %d is at %d:%d", i, line, col)
		}
	}
}

func TestSet(t *testing.T) {
	c, probs := readText(car, file.Set{Size: "tall", Value: "1"})
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	if f, _ := c.PartNamed("frame"); f.Width.MM() != 50.8 || f.Thick.MM() != 25.4 {
		t.Errorf("%v x %v", f.Width.MM(), f.Thick.MM())
	}
	_, probs = readText(car, file.Set{Size: "tal", Value: "1"})
	if len(probs) != 1 || probs[0].Nearest != "tall" || probs[0].Code != "unknown-name" {
		t.Errorf("%v", probs)
	}
	if _, probs = readText(car, file.Set{Size: "tall", Value: "1 +"}); len(probs) == 0 {
		t.Error("half a formula is taken")
	}
}

// What is wrong is said with its code, at its place, with the name that may be
// meant.
func TestProblems(t *testing.T) {
	for _, c := range []struct {
		old, new, code, at, nearest string
	}{
		{"dryfit: 1", "dryfit: 2", "version", "1:9", ""},
		{"dryfit: 1", "dryfit: 0", "version", "1:9", ""},
		{"wide: tall * 2", "wide: tal * 2", "unknown-name", "6:9", "tall"},
		{"tall: 3/4", "tall: wide / 2", "circle", "", ""},
		{"tall: 3/4", "tall: 3/0", "", "7:", ""},
		{"tall: 3/4", "length: 3/4", "reserved", "7:3", ""},
		{"thick: tall", "thick: slant", "wrong-kind", "", ""},
		{"disc: 1,", "disc: -1,", "not-positive", "20:29", ""},
		{"disc: 1,", "disc: 1000,", "too-large", "20:29", ""},
		{"from: flat", "from: flot", "unknown-name", "20:17", "flat"},
		{"bore: rod.dia", "bore: 2", "too-large", "", ""},
		{"side: edge", "side: egde", "", "18:23", "edge"},
		{"named: {rear:", "named: {top:", "name-twice", "18:58", ""},
		{"named: {socket", "named: {rear", "name-twice", "", ""},
		{"in: frame.rear", "in: frame.raer", "unknown-name", "25:18", "rear"},
		{"in: frame.rear", "in: fram.rear", "unknown-name", "25:18", "frame"},
		{"in: frame.rear", "in: frame.top", "place", "25:18", ""},
		{"outward: [wheel], play: 1/32, proud", "outward: [whele], play: 1/32, proud", "unknown-name", "25:52", "wheel"},
		{"play: 1/32, proud: 1/8", "play: 1/32", "missing", "25:", ""},
		{"play: 1/32, proud: 1/8", "play: 1/32, proud: 1/8, length: 3", "too-much", "25:", ""},
		{"play: 1/32, proud: 1/8", "play: 1/32, proud: 1/8, gap: 1/16", "unwanted", "25:", ""},
		{"put: frame", "put: frane", "unknown-name", "24:10", "frame"},
		{"use: post", "use: frame", "unknown-name", "27:16", ""},
		{"ages: 18 months and up", "ages: toddlers", "ages", "4:7", ""},
		{"units: inch", "units: inches", "", "3:8", "inch"},
		{"toy: Car\n", "toy: Car\ncolour: red\n", "", "3:1", ""},
		{"  - put: frame\n", "  - put: frame\n    glued: maybe\n", "", "25:12", ""},
		{"{side: face, dia: 1/4,", "{side: face, dia: 1/4, colour: red,", "", "19:39", ""},
	} {
		text := strings.Replace(car, c.old, c.new, 1)
		if text == car {
			t.Fatalf("%s is not in the file", c.old)
		}
		got, probs := readText(text)
		if got != nil || len(probs) == 0 {
			t.Errorf("%s is taken", c.new)
			continue
		}
		found := false
		for _, p := range probs {
			if p.File != "car.yaml" || p.Line < 1 || p.Col < 1 || p.Says == "" || strings.HasSuffix(p.Says, ".") {
				t.Errorf("%s: %+v", c.new, p)
			}
			found = found || (c.code == "" || p.Code == c.code) && strings.HasPrefix(fmt.Sprintf("%d:%d ", p.Line, p.Col), c.at) && (c.nearest == "" || p.Nearest == c.nearest)
		}
		if !found {
			t.Errorf("%s: want %s at %s (%s), got %v", c.new, c.code, c.at, c.nearest, probs)
		}
	}
}

// Problems of the whole file come at once, in its order, not one at a time.
func TestAllProblems(t *testing.T) {
	text := strings.NewReplacer("from: flat", "from: flot", "use: post", "use: pots", "disc: 1,", "disc: -1,").Replace(car)
	_, probs := readText(text)
	if len(probs) < 3 {
		t.Errorf("only %d: %v", len(probs), probs)
	}
	for i := 1; i < len(probs); i++ {
		if probs[i].Line < probs[i-1].Line {
			t.Errorf("out of order: %v", probs)
		}
	}
}

// Published limits, at their border.
func TestLimits(t *testing.T) {
	many := func(n int) string {
		var b strings.Builder
		b.WriteString("dryfit: 1\ntoy: Many\nunits: mm\nstock:\n  b: {wood: beech, form: board, thick: 5}\nparts:\n  it: {from: b, blank: [5, 5]}\nbuild:\n  - put: it\n")
		for i := 1; i < n; i++ {
			fmt.Fprintf(&b, "  - {put: it, sits: {bottom: it.bottom, left: it.left, back: it.back + %d}}\n", 4*i)
		}
		return b.String()
	}
	if _, probs := readText(many(400)); len(probs) > 0 {
		t.Errorf("400 pieces: %v", probs[0])
	}
	if _, probs := readText(many(401)); len(probs) == 0 || probs[0].Code != "too-many" {
		t.Errorf("401 pieces: %v", probs)
	}
	row := func(n int) string {
		return strings.Replace(car, "named: {socket: [middle, middle]}", fmt.Sprintf("named: {socket: [1, 1]}, row: {from: [1/4, 1/4], step: [1/100, 0], count: %d}", n), 1)
	}
	if _, probs := readText(row(199)); len(probs) > 0 {
		t.Errorf("200 holes: %v", probs[0])
	}
	if _, probs := readText(row(200)); len(probs) == 0 {
		t.Error("201 holes are taken")
	}
	if _, probs := readText(row(1000000000)); len(probs) == 0 {
		t.Error("a billion holes are taken")
	}
}

// A group that may be left out cannot carry what stays.
func TestLeftOut(t *testing.T) {
	text := car + "  - {put: post2, sits: {bottom: frame.top, middle-along: frame.middle, middle-across: frame.middle}, may-leave-out: load}\n"
	text = strings.Replace(text, "  post: {from: rod}", "  post: {from: rod}\n  post2: {from: b, blank: [1, 1]}", 1)
	if _, probs := readText(text); len(probs) > 0 {
		t.Fatal(probs)
	}
	on := text + "  - {put: post2, as: hat, sits: {bottom: post2.top, middle-along: frame.middle, middle-across: frame.middle}"
	if _, probs := readText(on + "}\n"); len(probs) == 0 || probs[0].Code != "left-out" {
		t.Errorf("a hat in the air: %v", probs)
	}
	if _, probs := readText(on + ", may-leave-out: load}\n"); len(probs) > 0 {
		t.Errorf("a hat that goes too: %v", probs)
	}
}

// A waiver names a check as prove does, and needs its reason.
func TestWaivers(t *testing.T) {
	c, probs := readText(car + "waive:\n  - {check: fit.dowel, about: axle~frame/rear, reason: it is for the shelf}\n")
	if len(probs) > 0 || len(c.Waivers) != 1 || c.Waivers[0].Check != "fit.dowel" || c.Waivers[0].About != "axle~frame/rear" {
		t.Errorf("%v", probs)
	}
	for _, bad := range []string{"{check: fit.dowel, about: x}", "{check: fit.dowel, about: x, reason: ' '}", "{about: x, reason: y}"} {
		if _, probs := readText(car + "waive:\n  - " + bad + "\n"); len(probs) == 0 {
			t.Errorf("%s is taken", bad)
		}
	}
}

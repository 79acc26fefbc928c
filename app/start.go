package app

import (
	"fmt"
	"math"
	"strings"

	"dryfit/measure"
	"dryfit/measure/formula"
)

// Beginning is what a new toy is begun with. Lengths of 0, and no axles, are usual ones.
type Beginning struct {
	Name    string
	Units   measure.Unit
	Axles   int            // of each car, 2 to 4
	Length  measure.Length // of each car
	Hitched bool           // a second car behind, dropped over a pin
	Board   measure.Length // the thickness at hand
	Dowel   measure.Length // the diameter at hand
}

// What a toy can be begun with: wood that is sold for small work, axles that carry a toy and
// leave wood around their holes, a toy that a hand takes hold of.
const (
	boardLeast, boardMost = 12 * measure.Millimetre, 40 * measure.Millimetre
	dowelLeast, dowelMost = 4.5 * measure.Millimetre, 13 * measure.Millimetre
	lengthMost            = 600 * measure.Millimetre
	axlesLeast, axlesMost = 2, 4
)

// start is a beginning with everything filled in.
type start struct {
	Beginning
	height, wheel measure.Length // of the axles above the bottom of the frame; diameter
	step          measure.Length // of the part that the tongue lies on
	running       measure.Length // a running hole is this much over its dowel
}

// Begin returns the file of a new toy that holds, to be changed into whatever it is to become: a
// block on wheels, or two of them hitched.
func Begin(o Beginning) (string, error) {
	s := start{Beginning: o}
	if o.Units == measure.Inch {
		s.usual(inches(3, 4), inches(1, 4), inches(1, 16))
	} else {
		s.usual(18*measure.Millimetre, 6*measure.Millimetre, measure.Millimetre)
	}
	says := func(l measure.Length) string { return l.Format(o.Units) }
	switch {
	case s.Axles < axlesLeast || s.Axles > axlesMost:
		return "", fmt.Errorf("a new toy has %d to %d axles, not %d", axlesLeast, axlesMost, s.Axles)
	case s.Board < boardLeast || s.Board > boardMost:
		return "", fmt.Errorf("a new toy is begun of boards from %s to %s, not %s", says(boardLeast), says(boardMost), says(s.Board))
	case s.Dowel < dowelLeast || s.Dowel > dowelMost:
		return "", fmt.Errorf("a new toy is begun with dowels from %s to %s, not %s", says(dowelLeast), says(dowelMost), says(s.Dowel))
	}
	wall := 3 * measure.Millimetre // wood left on either side of an axle hole
	hole := s.Dowel + s.running
	s.height = s.up(max(s.Board*2/5, hole/2+wall))
	if s.height+hole/2+wall > s.Board {
		return "", fmt.Errorf("a board of %s is too thin for axles of %s: there would be no wood around their holes", says(s.Board), says(s.Dowel))
	}
	s.wheel = s.upTo(max(28*measure.Millimetre, 2*(s.height+7*measure.Millimetre)), s.pick(2*measure.Millimetre, inches(1, 8)))
	between := s.wheel + 4*measure.Millimetre
	least := 2*s.wheel + measure.Length(s.Axles-1)*between
	if s.Length == 0 {
		s.Length = s.upTo(max(least, s.pick(120*measure.Millimetre, inches(5, 1))), s.pick(10*measure.Millimetre, inches(1, 2)))
	}
	if s.Length < least || s.Length > lengthMost {
		return "", fmt.Errorf("with %d axles and wheels of %s it is from %s to %s long, not %s", s.Axles, says(s.wheel), says(s.up(least)), says(lengthMost), says(s.Length))
	}
	s.step = s.near(s.Board / 2)
	return s.text(), nil
}

// Answers are what somebody says of a new toy. What is left out is as is usual.
type Answers struct {
	Axles   int    `json:"axles" help:"How many axles each car has: 2 to 4." placeholder:"N"`
	Length  string `json:"length" help:"How long each car is." placeholder:"LENGTH"`
	Hitched bool   `json:"hitched" help:"Two cars, the second dropped over a pin behind the first."`
	Board   string `json:"board" help:"How thick the boards at hand are." placeholder:"LENGTH"`
	Dowel   string `json:"dowel" help:"How thick the dowels at hand are." placeholder:"LENGTH"`
}

// BeginWith is Begin by answers as they are typed.
func BeginWith(name string, units measure.Unit, a Answers) (string, error) {
	o := Beginning{Name: name, Units: units, Axles: a.Axles, Hitched: a.Hitched}
	for _, x := range []struct {
		what, text string
		to         *measure.Length
	}{{"length", a.Length, &o.Length}, {"board", a.Board, &o.Board}, {"dowel", a.Dowel, &o.Dowel}} {
		if strings.TrimSpace(x.text) == "" {
			continue
		}
		e, bad := formula.Parse(x.text)
		if bad != nil || len(e.Names()) > 0 {
			return "", fmt.Errorf("%s: %q is no length: type it as 3/4, 18 or 18 mm", x.what, x.text)
		}
		v, bad := e.Eval(units, nil, nil)
		l, ok := v.AsLength(units)
		if bad != nil || !ok || l <= 0 {
			return "", fmt.Errorf("%s: %q is no length: type it as 3/4, 18 or 18 mm", x.what, x.text)
		}
		*x.to = l
	}
	return Begin(o)
}

func inches(n, of float64) measure.Length { return measure.Inch.Of(n / of) }

func (s *start) usual(board, dowel, running measure.Length) {
	if s.Board == 0 {
		s.Board = board
	}
	if s.Dowel == 0 {
		s.Dowel = dowel
	}
	if s.Axles == 0 {
		s.Axles = axlesLeast
	}
	s.running = running
	if s.Units == measure.MM { // there are bits of every tenth
		s.running = s.upTo(s.Dowel+running, measure.Millimetre/10) - s.Dowel
	}
}

func (s *start) pick(mm, inch measure.Length) measure.Length {
	if s.Units == measure.Inch {
		return inch
	}
	return mm
}

// mark is the finest mark of the rule that a new toy is measured with.
func (s *start) mark() measure.Length { return s.pick(measure.Millimetre/2, inches(1, 32)) }

func (s *start) up(l measure.Length) measure.Length   { return s.upTo(l, s.mark()) }
func (s *start) near(l measure.Length) measure.Length { return s.mark() * roundOff(l/s.mark()) }

func (s *start) upTo(l, mark measure.Length) measure.Length {
	return mark * measure.Length(math.Ceil(float64(l/mark)-1e-9)) // what is on a mark stays there
}

func roundOff(n measure.Length) measure.Length { return measure.Length(math.Round(float64(n))) }

// text fills in the file.
func (s *start) text() string {
	w := func(l measure.Length) string { return strings.TrimSuffix(l.ExactIn(s.Units), " "+s.Units.Symbol()) }
	text := startText
	if s.Hitched {
		text = hitchedText
	}
	pairs := []string{"{name}", s.Name, "{units}", s.Units.String(), "{board}", w(s.Board), "{dowel}", w(s.Dowel), "{running}", w(s.running), "{wheel}", w(s.wheel),
		"{height}", w(s.height), "{length}", w(s.Length), "{step}", w(s.step), "{cabin}", w(s.near(s.Length * 2 / 5)), "{back}", w(s.near(s.Length / 6)), "{box}", w(s.near(s.Length * 3 / 5))}
	for _, x := range [][3]string{
		{"{ease}", "1.5", "1/16"}, {"{thick}", "9", "3/8"}, {"{width}", "40", "1 1/2"}, {"{play}", "1", "1/32"}, {"{proud}", "3", "1/8"}, {"{corner}", "12", "1/2"},
		{"{pivot}", "0.8", "1/32"}, {"{tail}", "32", "1 1/4"}, {"{tongue}", "29", "1 1/8"}, {"{pin}", "13", "1/2"}, {"{eye}", "11", "7/16"}, {"{round}", "6", "1/4"}, {"{nose}", "8", "5/16"},
		{"{free}", "3", "1/8"}, {"{stub}", "9", "3/8"}, {"{set}", "10", "3/8"},
	} {
		v := x[1]
		if s.Units == measure.Inch {
			v = x[2]
		}
		pairs = append(pairs, x[0], v)
	}
	text = strings.NewReplacer("{axles}", s.axles("length"), "{lead-axles}", s.axles("lead"), "{trail-axles}", s.axles("trail"),
		"{wheels}", s.wheels("frame"), "{trail-wheels}", s.wheels("trailer-frame")).Replace(text)
	return strings.NewReplacer(pairs...).Replace(text)
}

var axleNames = [...][]string{2: {"rear-axle", "front-axle"}, 3: {"rear-axle", "middle-axle", "front-axle"}, 4: {"rear-axle", "second-axle", "third-axle", "front-axle"}}

// axles are the holes of a frame, evenly from one wheel before its back to one behind its front.
// A leading frame begins with a tail, a trailing one ends with a tongue.
func (s *start) axles(frame string) string {
	from, to := "wheel", "length - wheel"
	switch frame {
	case "lead":
		from = "{tail} + wheel"
	case "trail":
		to = "car - wheel"
	}
	var list []string
	n := s.Axles - 1
	for i, name := range axleNames[s.Axles] {
		at := fmt.Sprintf("((%s) * %d + (%s) * %d) / %d", from, n-i, to, i, n)
		switch i {
		case 0:
			at = from
		case n:
			at = to
		}
		list = append(list, fmt.Sprintf("%s: [%s, axle-height]", name, at))
	}
	return strings.Join(list, ", ")
}

func (s *start) wheels(frame string) string {
	var b strings.Builder
	for _, name := range axleNames[s.Axles] {
		fmt.Fprintf(&b, "  - wheels: {in: %s.%s, axle: axle, outward: [wheel], play: {play}, proud: {proud}}\n", frame, name)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

const headText = `dryfit: 1
toy: {name}
units: {units}
ages: 3 and up
ease: {ease}                  # every arris rubbed over by hand

sizes:
  board: {board}                # measure yours, and change it here
  dowel: {dowel}
  running: {running}              # a running hole is this much over its dowel
  wheel: {wheel}
  axle-height: {height}         # above the bottom of the frame
`

const stockText = `
stock:
  board:  {wood: beech, form: board, thick: board}
  wheels: {wood: maple, form: board, thick: {thick}}
  rod:    {wood: birch, form: dowel, dia: dowel}

`

const roundText = `  wheel: {from: wheels, disc: wheel, bore: dowel, made: sawn, spare: 1}
  axle:  {from: rod}           # its length follows from what is on it
`

const startText = headText + stockText + `parts:
  frame:
    from: board
    blank: [{length}, {width}]
    work:
      - drill: {side: edge, dia: dowel + running, named: {{axles}}}
      - saw: {side: face, outline: [[0, 0, r {ease}], [length, 0, r {corner}], [length, width, r {corner}], [0, width, r {ease}]]}
  cabin:
    from: board
    blank: [{cabin}, {width}]
    work:
      - saw: {side: edge, outline: [[0, 0], [length, 0], [length, thick, r {corner}], [0, thick, r {ease}]]}
` + roundText + `
build:
  - put: frame
  - {put: cabin, sits: {bottom: frame.top, back: frame.back + {back}, middle: frame.middle}, glued: yes}
{wheels}

must:
  - rolls
  - {stands-on-slope: 20°}
`

const hitchedText = headText + `  pivot: {pivot}               # the coupling's hole is this much over its pin
  car: {length}                  # length of each car's deck
  step: {step}                 # height of the step that the tongue lies on
  beam: {width}                 # width of both frames
` + stockText + `parts:
  frame:                       # of the leading car, sawn on two sides
    from: board
    blank: [car + {tail}, beam]
    lies: {length: forward, up: face}
    work:
      - drill: {side: edge, dia: dowel + running, named: {{lead-axles}}}
      - drill: {side: face, dia: dowel, named: {coupling: [{pin}, middle]}}
      - saw:
          side: edge
          outline:
            points: [[0, 0], [0, step], [{tail} - {round}, step], [{tail} - {round}, board], [length, board, r {round}], [length, {round}], [length - {stub}, 0]]
            flats: {tail: [2, 3], deck: [4, 5]}
      - saw: {side: face, outline: [[0, 0, r {nose}], [length, 0, r {nose}], [length, width, r {nose}], [0, width, r {nose}]]}
  trailer-frame:               # its tongue lies on the step of the leading car
    from: board
    blank: [car + {tongue}, beam]
    work:
      - drill: {side: edge, dia: dowel + running, named: {{trail-axles}}}
      - drill: {side: face, dia: dowel + pivot, named: {eye: [length - {eye}, middle]}}
      - saw:
          side: edge
          outline:
            points: [[0, 0], [0, board, r {round}], [length, board], [length, step], [car - {free}, step], [car - {free}, 0]]
            flats: {deck: [2, 3], under-tongue: [4, 5]}
      - saw:
          side: face
          outline: [[0, 0, r {nose}], [car, 0], [car + {free}, middle - {eye}], [length, middle - {eye}, r {eye}], [length, middle + {eye}, r {eye}], [car + {free}, middle + {eye}], [car, width], [0, width, r {nose}]]
  cabin:
    from: board
    blank: [{box}, beam]
    work:
      - saw: {side: edge, outline: [[0, 0], [length, 0], [length, thick, r {corner}], [0, thick, r {ease}]]}
` + roundText + `  pin:   {from: rod}

build:
  - put: frame
  - {put: cabin, sits: {bottom: frame.deck, front: frame.front - {set}, middle: frame.middle}, glued: yes}
{wheels}
  - {put: trailer-frame, sits: {eye: frame.coupling, under-tongue: frame.tail}}
  - {put: cabin, as: trailer-cabin, sits: {bottom: trailer-frame.deck, back: trailer-frame.back + {set}, middle: trailer-frame.middle}, glued: yes}
{trail-wheels}
  - hinge: {name: coupling, pin: pin, fixed: frame.coupling, runs: trailer-frame.eye, lifts-off: yes}

must:
  - rolls
  - {swings: coupling, at-least: 40°, each-way: yes}
  - {stands-on-slope: 15°}
`

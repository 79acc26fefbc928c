// Package trains writes toys of any number of pieces, for tests and benchmarks that ask what
// a number of pieces costs.
package trains

import (
	"fmt"
	"strings"
)

// Text is the toy file of n cars on each other's pins, ten pieces a car (a load on the first, a pin on
// each that follows), that is in all other respects a good toy. roof is the length of the roofs, in mm.
func Text(n int, roof float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, head, roof)
	for i := 1; i <= n; i++ {
		car, last := fmt.Sprintf("car-%d", i), fmt.Sprintf("car-%d", i-1)
		step := func(format string, args ...any) { fmt.Fprintf(&b, "  - "+format+"\n", args...) }
		if i == 1 {
			step("{put: frame, as: %s}", car)
		} else {
			step("{put: frame, as: %s, sits: {eye: %s.coupling, under-tongue: %s.tail}}", car, last, last)
		}
		step("{put: core, as: core-%d, sits: {bottom: %s.deck, back: %s.back + 26, middle: %s.middle}, glued: yes}", i, car, car, car)
		step("{put: roof, as: roof-%d, sits: {bottom: core-%d.top, middle-along: core-%d.middle, middle-across: core-%d.middle}, glued: yes}", i, i, i, i)
		step("wheels: {in: %s.rear-axle, axle: axle, outward: [wheel], play: 1, proud: 2}", car)
		step("wheels: {in: %s.front-axle, axle: axle, outward: [wheel], play: 1, proud: 2}", car)
		if i > 1 {
			step("hinge: {name: coupling-%d, pin: pin, fixed: %s.coupling, runs: %s.eye, lifts-off: yes}", i, last, car)
		}
	}
	b.WriteString("  - {put: core, as: load, sits: {bottom: roof-1.top, middle-along: roof-1.middle, middle-across: roof-1.middle}, glued: yes}\nmust:\n  - rolls\n")
	return b.String()
}

const head = `dryfit: 1
toy: Test train
units: mm
stock:
  b: {wood: beech, form: board, thick: 20}
  thin: {wood: beech, form: board, thick: 8}
  rod: {wood: birch, form: dowel, dia: 6}
  thick: {wood: birch, form: dowel, dia: 8}
parts:
  frame:
    from: b
    blank: [120, 36]
    work:
      - drill: {side: edge, dia: 7, named: {rear-axle: [36, 8], front-axle: [84, 8]}}
      - drill: {side: face, dia: 8, named: {coupling: [8, middle]}}
      - drill: {side: face, dia: 9, named: {eye: [108, middle]}}
      - saw: {side: edge, outline: {points: [[0, 0], [0, 10], [20, 10], [20, 20], [120, 20], [120, 10], [96, 10], [96, 0]], flats: {tail: [2, 3], deck: [4, 5], under-tongue: [6, 7]}}}
      - saw: {side: face, outline: [[0, 12, r 8], [20, 0], [96, 0], [104, 10], [length, 10, r 7], [length, 26, r 7], [104, 26], [96, 36], [20, 36], [0, 24, r 8]]}
  core: {from: b, blank: [56, 30], work: [{saw: {side: face, outline: [[0, 0, r 4], [length, 0, r 4], [length, width, r 4], [0, width, r 4]]}}]}
  roof: {from: thin, blank: [%g, 34], work: [{saw: {side: face, outline: [[0, 0, r 6], [length, 0, r 6], [length, width, r 6], [0, width, r 6]]}}]}
  wheel: {from: thin, disc: 30, bore: 6}
  axle: {from: rod}
  pin: {from: thick}
build:
`

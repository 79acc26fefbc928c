package app

import "strings"

// Start returns the file of a new toy: a block on four wheels that holds, to be
// changed into whatever it is to become.
func Start(name string, inch bool) string {
	mm := strings.NewReplacer("{name}", name, "{units}", "mm", "{board}", "18", "{dowel}", "6", "{running}", "1", "{wheel}", "30", "{thick}", "9",
		"{length}", "120", "{width}", "40", "{height}", "7", "{rear}", "28", "{front}", "92", "{play}", "1", "{proud}", "3", "{ease}", "1.5", "{corner}", "12", "{cabin}", "52", "{back}", "20")
	in := strings.NewReplacer("{name}", name, "{units}", "inch", "{board}", "3/4", "{dowel}", "1/4", "{running}", "1/16", "{wheel}", "1 1/4", "{thick}", "3/8",
		"{length}", "5", "{width}", "1 1/2", "{height}", "5/16", "{rear}", "1 1/8", "{front}", "3 7/8", "{play}", "1/32", "{proud}", "1/8", "{ease}", "1/16", "{corner}", "1/2", "{cabin}", "2 1/4", "{back}", "3/4")
	if inch {
		return in.Replace(startText)
	}
	return mm.Replace(startText)
}

const startText = `dryfit: 1
toy: {name}
units: {units}
ages: 3 and up
ease: {ease}                  # every arris rubbed over by hand

sizes:
  board: {board}                # measure yours, and change it here
  dowel: {dowel}
  running: {running}              # a running hole is this much over its dowel
  wheel: {wheel}

stock:
  board:  {wood: beech, form: board, thick: board}
  wheels: {wood: maple, form: board, thick: {thick}}
  rod:    {wood: birch, form: dowel, dia: dowel}

parts:
  frame:
    from: board
    blank: [{length}, {width}]
    work:
      - drill: {side: edge, dia: dowel + running, named: {rear-axle: [{rear}, {height}], front-axle: [{front}, {height}]}}
      - saw: {side: face, outline: [[0, 0, r {ease}], [length, 0, r {corner}], [length, width, r {corner}], [0, width, r {ease}]]}
  cabin:
    from: board
    blank: [{cabin}, {width}]
    work:
      - saw: {side: edge, outline: [[0, 0], [length, 0], [length, thick, r {corner}], [0, thick, r {ease}]]}
  wheel: {from: wheels, disc: wheel, bore: dowel, made: sawn, spare: 1}
  axle:  {from: rod}           # its length follows from what is on it

build:
  - put: frame
  - {put: cabin, sits: {bottom: frame.top, back: frame.back + {back}, middle: frame.middle}, glued: yes}
  - wheels: {in: frame.rear-axle, axle: axle, outward: [wheel], play: {play}, proud: {proud}}
  - wheels: {in: frame.front-axle, axle: axle, outward: [wheel], play: {play}, proud: {proud}}

must:
  - rolls
  - {stands-on-slope: 20°}
`

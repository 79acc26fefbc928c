package forgive_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/measure/source"
	"dryfit/prove/forgive"
	"dryfit/toy"
	"dryfit/toy/file"
)

func read(t testing.TB, text string) (*toy.Toy, *assembly.Model) {
	t.Helper()
	ty, probs := file.Read(source.New("toy.yaml", text), nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	m, probs := assembly.Derive(ty, assembly.Options{})
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return ty, m
}

// only are spreads of nothing but what is named.
func only(some forgive.Spreads) forgive.Spreads {
	out := forgive.Spreads{}
	for _, e := range facts.Errors() {
		out[e.Name] = some[e.Name]
	}
	return out
}

// Toys whose answer is known in closed form. Each has one check that can fail, and how often it holds
// follows from the distributions of its errors alone.
const (
	running = `
dryfit: 1
toy: Dowel in a hole
units: mm
stock: {b: {wood: beech, form: board, thick: 20}, rod: {wood: birch, form: dowel, dia: 6}}
parts:
  frame: {from: b, blank: [60, 40], work: [{drill: {side: edge, dia: 6.6, named: {axle: [30, 10]}}}]}
  wheel: {from: b, disc: 30, bore: 6}
  axle: {from: rod}
build:
  - put: frame
  - wheels: {in: frame.axle, axle: axle, outward: [wheel], play: 1, proud: 2}
`
	floor = `
dryfit: 1
toy: Four wheels on a floor
units: mm
stock: {b: {wood: beech, form: board, thick: 20}, thin: {wood: birch plywood, form: sheet, thick: 1}, rod: {wood: birch, form: dowel, dia: 6}}
parts:
  frame: {from: b, blank: [120, 60], work: [{drill: {side: edge, dia: 7, named: {hind: [20, 8], fore: [100, 8]}}}]}
  wheel: {from: thin, disc: 40, bore: 6, made: sawn}
  axle: {from: rod}
build:
  - put: frame
  - wheels: {in: frame.hind, axle: axle, outward: [wheel], play: 1, proud: 2}
  - wheels: {in: frame.fore, axle: axle, outward: [wheel], play: 1, proud: 2}
`
	stack = `
dryfit: 1
toy: Three boards in a slot
units: mm
stock: {a: {wood: beech, form: board, thick: 10}, b: {wood: beech, form: board, thick: 12}, c: {wood: beech, form: board, thick: 8}, wide: {wood: beech, form: board, thick: 30}}
parts:
  one: {from: a, blank: [60, 30]}
  two: {from: b, blank: [60, 30]}
  three: {from: c, blank: [60, 30]}
  clip: {from: wide, blank: [60, 50], lies: {length: left, forward: face}, work: [{cut-out: {side: face, outline: {rect: [10, 9.7], size: [40, 30.6]}}}]}
glue-ups:
  stack:
    pieces:
      - put: one
      - {put: two, sits: {bottom: one.top, back: one.back, middle: one.middle}, glued: yes}
      - {put: three, sits: {bottom: two.top, back: two.back, middle: two.middle}, glued: yes}
build:
  - put: stack
  - {put: clip, sits: {back: stack.back + 15, middle-up: stack.middle, middle-across: stack.middle}, slot: {over: stack, across: up, fit: running}}
`
)

type known struct {
	name, text string
	check      string
	spreads    forgive.Spreads
	holds      float64
}

// phi is the standard normal distribution function.
func phi(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

func knownToys() []known {
	// The wheels are as wide as the dowel: it goes in while it is no more than 0.1 mm too thick, and is
	// held while it is no more than 1/64 in too thin. In the frame it turns anyway.
	const off = 0.5
	dowel := known{"a dowel in its holes, uniform", running, "fit.dowel", forgive.Spreads{"stock.dowel": off}, (assembly.PressMost + assembly.RunningLeast) / (2 * off)}
	// the gap under the fourth wheel is r1 - r2 - r3 + r4 of radii that are off by half of a diameter's
	// error: as wide as one diameter's error; it may be as wide as the slack of the axles
	const sigma = 0.6
	wheels := known{"four wheels on a floor, normal", floor, "move.ground", forgive.Spreads{"wheel.sawn": sigma}, 2*phi(1/sigma) - 1}
	// three thicknesses, each off by up to 0.25 mm: the sum of three uniforms (Irwin 1927, Hall 1927). It
	// must leave 0.2 mm of the 0.6 mm that the slot is wider.
	const board = 0.25
	boards := known{"three boards in a slot, uniform", stack, "fit.dowel", forgive.Spreads{"stock.board": board}, irwinHall3((3*board + 0.4) / (2 * board))}
	return []known{dowel, wheels, boards}
}

// irwinHall3 is the distribution function of the sum of three uniforms on [0, 1].
func irwinHall3(x float64) float64 {
	sum, sign := 0.0, 1.0
	for k, choose := range []float64{1, 3, 3, 1} {
		if float64(k) < x {
			sum += sign * choose * math.Pow(x-float64(k), 3)
		}
		sign = -sign
	}
	return sum / 6
}

// seeds is how many seeds each toy is tried with, of which misses of the interval of 99 % may be.
func seeds() (n, misses int) {
	if os.Getenv("DRYFIT_SOAK") != "" {
		return 100, 3
	}
	return 20, 2
}

func TestKnown(t *testing.T) {
	n, most := seeds()
	for _, k := range knownToys() {
		ty, m := read(t, k.text)
		misses := 0
		var said strings.Builder
		for seed := range n {
			r, err := forgive.Study(context.Background(), ty, m, nil, forgive.Options{Spreads: only(k.spreads), Builds: 600, Seed: uint64(seed), Checks: []string{k.check}, Lanes: 2})
			if err != nil {
				t.Fatal(err)
			}
			if r.Works.Lo > k.holds || r.Works.Hi < k.holds {
				misses++
				fmt.Fprintf(&said, "  seed %d: %.3f to %.3f\n", seed, r.Works.Lo, r.Works.Hi)
			}
		}
		t.Logf("%s: %.4f, %d of %d intervals miss it", k.name, k.holds, misses, n)
		if misses > most {
			t.Errorf("%s: %d of %d intervals miss %.4f:\n%s", k.name, misses, n, k.holds, said.String())
		}
	}
}

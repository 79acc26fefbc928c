package guide_test

import (
	"slices"
	"strings"
	"testing"

	"dryfit/guide"
)

// stepOf is the step of a guide whose title begins so.
func stepOf(t *testing.T, g guide.Guide, title string) guide.Step {
	t.Helper()
	for _, c := range g.Chapters {
		for _, s := range c.Steps {
			if strings.HasPrefix(s.Title, title) {
				return s
			}
		}
	}
	t.Fatalf("there is no step %q in\n%s", title, text(g))
	return guide.Step{}
}

const tooShort = "This is too short to hold safely, and an end is worked on: clamp it between two scraps of wood or in a hand screw, or tape it to a longer block, and never hold it in your fingers at the drill or the saw."

// What a stranger stumbled over: words that named the wrong thing, or nothing.
func TestWordsOfAStranger(t *testing.T) {
	for name, steps := range map[string]map[string][]string{
		"plain/joinery": {
			"Make the floor (2)":              {"Saw it to size, square and straight. The first measure is along the grain."},
			"Make the right (1)":              {"Sand to the lines, and all over, until nothing is sharp, but leave the face flat: it is glued."},
			"Make the front end (4)":          nil,
			"Glue up the box":                 {"its right side: 6 mm to the right of the left side of the right (1)"},
			"Add the left to the box":         {"its back: level with that of the right (1)"},
			"Add the front end to the box":    {"The floor (2) keeps it in place while the glue sets.", "its front: level with that of the right (1)"},
			"Shape the box":                   {"Sand the front and back of the box until everything there is level with the right (1).", "Stick the pattern on the left side.", "Sand all over, until nothing is sharp."},
			"Put the rear wheels on the box":  nil,
			"Put the front wheels on the box": nil,
			"Cut the dowels":                  nil,
		},
		"plain/lidded-box": {
			"Put the lid in place": {"Put the lid (4) in place. No glue here."},
			"Drive in the lid pin": {"Hold all three so that their holes are in line: the pin hole of the lid (4) and the pin hole of the right ear (2) and the pin hole of the left ear (3). Rub wax on the lid pin (5) where it turns in the pin hole of the lid (4)."},
		},
		"plain/quay-crane": {
			"Put the jib in place": nil,
			"Glue the right cheek and the left cheek to the turntable": nil,
			"Make the turntable (2)":                                   {"This is too short to hold safely: leave it on the end of a longer strip, and cut it off last."},
		},
		// A strip would cover the end that is drilled.
		"plain/push-along": {"Make the body (1)": {tooShort}},
		"plain/steered-waggon": {
			"Make the bolster (2)": {tooShort, "Drill the axle hole from the end with the 7 mm bit, right through."},
			"Make the beam (3)":    {tooShort},
		},
		// Where there are only holes there are no lines to sand to.
		"plain/saddle-cab": {"Make the frame (1)": {"Sand all over, until nothing is sharp, but leave the face flat: it is glued."}},
		"plain/log-load":   {"Make the deck (1)": {"Sand all over, until nothing is sharp."}},
		"plain/pegs":       {"Drive in the legs": {"Put a little glue in the leg 1 hole of the seat (1), and tap the leg (2) in."}},
		"plain/left-and-right": {
			"Drive in the peg (7)": nil,
			"Drive in the peg (8)": nil,
			"Drive in the hooks":   nil,
		},
		"plain/three-axles": {
			"Put the rear and middle wheels on the frame": nil,
			"Put the front wheels on the frame":           nil,
		},
		"tipping-wagon": {
			"Add the right side and the left side to the bed": {"its left side: against the right side of the bed floor", "its front: level with that of the bed front (11)"},
			"Add the cleat to the bed":                        nil,
			"Shape the bed":                                   {"Stick the pattern on the right side.", "Sand all over, and rub every arris over by 1.5 mm."},
			"Cut the dowels":                                  {"prop pin and prop rest (8, 9), 6 mm thick: 2 of 60 mm"},
		},
		// What is glued stays sharp: both cheeks of the core, and its bottom on the frame.
		"quay-tram": {
			"Make two cores (2, 12)":                    {"Sand all over, and rub every arris over by 1/16 in, but those of the face, the other face and the edge, which are glued."},
			"Make four sides":                           {"Sand to the lines, and rub every arris over by 1/16 in, but those of the face (4, 14), the other face (3, 13) and the edge, which are glued."},
			"Make ten wheels":                           {"Sand all over, and rub every arris over by 1/16 in."},
			"Put the front wheels on the trailer frame": nil,
			"Put the rear wheels on the trailer frame":  nil,
			"Shape the two bodies":                      {"Sand to the lines, and rub every arris over by 1/16 in, but those of the bottom, which is glued."},
		},
	} {
		g := of(t, name)
		for title, says := range steps {
			s := stepOf(t, g, title)
			lines := slices.Clone(s.Does)
			for _, m := range s.Measures {
				lines = append(lines, m.What+": "+m.Is)
			}
			for _, want := range says {
				if !slices.Contains(lines, want) {
					t.Errorf("%s, %s: %q is not said in\n%s", name, title, want, strings.Join(lines, "\n"))
				}
			}
		}
	}
}

// A step says what its pattern is of, at the sentence that speaks of it.
func TestStepsKnowTheirPatterns(t *testing.T) {
	for _, name := range []string{"plain/joinery", "quay-tram", "tipping-wagon", "plain/quay-crane"} {
		n := 0
		for _, c := range of(t, name).Chapters {
			for _, s := range c.Steps {
				for k, d := range s.Does {
					speaks := strings.HasPrefix(d, "Stick")
					if speaks != (s.Pattern.Of != "" && s.Pattern.Does == k) {
						t.Errorf("%s, step %d: the pattern is %+v, and line %d says %q", name, s.Number, s.Pattern, k, d)
					}
					if speaks {
						n++
					}
				}
			}
		}
		if n < 3 {
			t.Errorf("%s: only %d patterns", name, n)
		}
	}
}

// One name for a number, wherever the guide says it: on the list of pieces, where it is cut
// and where it goes.
func TestOneNameForANumber(t *testing.T) {
	g := of(t, "tipping-wagon")
	for _, p := range g.Pieces {
		if want := map[string]string{"8, 9": "prop pin and prop rest", "15, 17": "tip pin and tailgate pin", "11": "bed front", "12, 13": "bed side"}[p.Numbers]; want != "" && p.Name != want {
			t.Errorf("%s are called %q, want %q", p.Numbers, p.Name, want)
		}
	}
	if all := text(g); strings.Contains(all, "the front (11)") || strings.Contains(all, "pin (8, 9)") {
		t.Error("a piece has two names")
	}
}

// A disc is told in an order in which it can be made: what is on its faces while the bit has
// wood under it, and its middle drilled once.
func TestDiscsCanBeMade(t *testing.T) {
	for name, want := range map[string][]string{
		"plain/counterbore": {
			"Stick or trace four circles, 1 3/4 in across, on the 3/4 in maple.",
			"First drill the wide mouth of the hole in the face with the 3/4 in bit, 1/4 in deep.",
			"Drill one hole from the face with the 3/8 in bit, right through.",
			"Saw each one out, a little outside the line.",
			"Put them all side by side on one spindle (a bolt or a length of dowel), clamp them, and sand them round together until all lines are gone.",
			"Try your dowel: it has to go in with a push of the hand, and stay.",
			"Sand all over, until nothing is sharp.",
		},
		"plain/saddle-cab": {
			"Stick or trace four circles, 30 mm across, on the 10 mm beech.",
			"Drill the middle of each before you saw, straight through, with the 6 mm bit. Put scrap wood under it.",
			"Saw each one out, a little outside the line.",
			"Put them all side by side on one spindle (a bolt or a length of dowel), clamp them, and sand them round together until all lines are gone.",
			"Try your dowel: it has to go in with a push of the hand, and stay.",
			"Sand all over, until nothing is sharp.",
		},
		"plain/hole-sawn": {
			"Cut six discs, 1 3/4 in across, from the 3/4 in poplar with a hole saw.",
			"Cut halfway from one face, turn the board over and finish from the other.",
			"Then drill the middle of each with the 1/4 in bit.",
			"Try your dowel: it has to go in with a push of the hand, and stay.",
			"Sand all over, until nothing is sharp.",
		},
	} {
		if s := stepOf(t, of(t, name), "Make four wheels"); !slices.Equal(s.Does, want) {
			t.Errorf("%s:\n%s", name, strings.Join(s.Does, "\n"))
		}
	}
	for _, c := range of(t, "plain/sunk-hole").Chapters {
		for _, s := range c.Steps {
			for _, d := range s.Does {
				if strings.Contains(d, " 0 mm bit") {
					t.Errorf("a disc without a bore: %q", d)
				}
			}
		}
	}
}

// What happens to a piece that is off one way is not said of the other.
func TestSlipsSayBothWays(t *testing.T) {
	for name, want := range map[string]string{
		"plain/saddle-cab": "1.5 mm further to the left, and the wheel (8) rubs on the left cheek (11); as far to the right, and the wheel (7) rubs on the right cheek (10).",
		"plain/log-load":   "1/16 in further to the left, and the wheel (4) rubs on the left log (10); as far to the right, and the wheel (3) rubs on the right log (9).",
	} {
		if says := text(of(t, name)); !strings.Contains(says, want) || strings.Contains(says, "either way") {
			t.Errorf("%s does not say %q in\n%s", name, want, says)
		}
	}
}

// What is the same either way is said once.
func TestSlipsSayTheSameOnce(t *testing.T) {
	says := text(guide.Of(input(t, endBlock)))
	for _, want := range []string{
		"Keep the block in the middle of the bed, up and down: 1.5 mm further either way, and not all wheels touch the floor.",
		"1.5 mm further to the left, and the wheel (7) rubs on the bed (1); as far to the right, and the wheel (8) rubs on the bed (1).",
	} {
		if strings.Count(says, want) != 1 {
			t.Errorf("%q is said %d times in\n%s", want, strings.Count(says, want), says)
		}
	}
}

const endBlock = `dryfit: 1
toy: Cart with an end block
units: mm
stock:
  b: {wood: beech, form: board, thick: 20}
  thin: {wood: beech, form: board, thick: 9}
  rod: {wood: beech, form: dowel, dia: 6}
parts:
  bed: {from: b, blank: [200, 50], work: [{drill: {side: edge, dia: 7, named: {rear: [15, middle], second: [168, middle]}}}]}
  block: {from: b, blank: [24, 50], work: [{drill: {side: edge, dia: 7, named: {hole: [middle, middle]}}}]}
  wheel: {from: thin, disc: 40, bore: 6}
  axle: {from: rod}
build:
  - put: bed
  - {put: block, sits: {back: bed.front, left: bed.left, middle: bed.middle}, glued: yes}
  - wheels: {in: bed.rear, axle: axle, outward: [wheel], play: 1, proud: 2}
  - wheels: {in: block.hole, axle: axle, outward: [wheel], play: 1, proud: 2}
  - wheels: {in: bed.second, axle: axle, outward: [wheel], play: 1, proud: 2}
must: [rolls]
`

// Small pieces are held on a strip, but not those that are worked on at an end.
func TestHabitsOfSmallPieces(t *testing.T) {
	for name, want := range map[string][2]bool{"plain/quay-crane": {true, false}, "plain/push-along": {false, true}, "plain/steered-waggon": {false, true}, "plain/saddle-cab": {}} {
		says := strings.Join(of(t, name).Habits, " ")
		if got := [2]bool{strings.Contains(says, "longer strip"), strings.Contains(says, "longer block")}; got != want {
			t.Errorf("%s: a strip, a block: %v, want %v: %s", name, got, want, says)
		}
	}
}

// A round opening that a bit makes whole is bored, as the lists and the proof have it; only the others
// are sawn out.
func TestBoredOpening(t *testing.T) {
	says := strings.Join(stepOf(t, of(t, "plain/windows"), "Make two sides (2, 3)").Does, "\n")
	for _, want := range []string{"Drill the round opening in the face with the 5/8 in bit, right through: nothing of it is sawn.", "Drill a hole inside each of the two openings with the 1/4 in bit"} {
		if !strings.Contains(says, want) {
			t.Errorf("no %q in\n%s", want, says)
		}
	}
}

// A small thing weighs something, and one piece is spoken of as one.
func TestOneSmallPiece(t *testing.T) {
	g := guide.Of(input(t, `dryfit: 1
toy: Counter
units: inch
stock: {b: {wood: maple, form: board, thick: 3/4}}
parts:
  counter: {from: b, blank: [1 1/2, 3/4]}
build: [{put: counter}]
`))
	if g.Facts[2] != "1 piece of wood, 0.3 oz" {
		t.Error(g.Facts[2])
	}
	s := stepOf(t, g, "Make the counter (1)")
	if s.Does[0] != "Saw it to size, square and straight. The first measure is along the grain." {
		t.Error(s.Does[0])
	}
	if c := g.Checks[len(g.Checks)-1]; c.Is != "0.3 oz" {
		t.Error(c)
	}
}

// No two steps of a guide have one title: wheels say where they are, pegs their numbers.
func TestTitlesDiffer(t *testing.T) {
	for _, name := range []string{"quay-tram", "tipping-wagon", "plain/joinery", "plain/left-and-right", "plain/three-axles", "plain/twin-wheels", "plain/windows"} {
		before := map[string]int{}
		for _, c := range of(t, name).Chapters {
			for _, s := range c.Steps {
				if k := before[s.Title]; k > 0 {
					t.Errorf("%s: steps %d and %d are both called %q", name, k, s.Number, s.Title)
				}
				before[s.Title] = s.Number
			}
		}
	}
}

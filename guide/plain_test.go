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

// What a stranger stumbled over: words that named the wrong thing, or nothing.
func TestWordsOfAStranger(t *testing.T) {
	for name, steps := range map[string]map[string][]string{
		"plain/joinery": {
			"Make the floor (2)":           {"Saw it to size, square and straight. The first measure is along the grain."},
			"Make the right (1)":           {"Sand to the lines, and all over, until nothing is sharp, but leave the face flat: it is glued."},
			"Make the front end (4)":       nil,
			"Glue up the box":              {"its right side: 6 mm to the right of the left side of the right (1)"},
			"Add the left to the box":      {"its back: level with that of the right (1)"},
			"Add the front end to the box": {"The floor (2) keeps it in place while the glue sets.", "its front: level with that of the right (1)"},
			"Shape the box":                {"Sand the front and back of the box until everything there is level with the right (1).", "Stick the pattern on the left side.", "Sand all over, until nothing is sharp."},
			"Put the wheels on the box":    nil,
			"Cut the dowels":               nil,
		},
		"plain/lidded-box": {
			"Put the lid in place": {"Put the lid (4) in place. No glue here."},
			"Drive in the lid pin": {"Hold all three so that their holes are in line: the pin hole of the lid (4) and the pin hole of the right ear (2) and the pin hole of the left ear (3). Rub wax on the lid pin (5) where it turns in the pin hole of the lid (4)."},
		},
		"plain/quay-crane": {"Put the jib in place": nil},
		"tipping-wagon": {
			"Add the right side and the left side to the bed": {"its left side: against the right side of the bed floor", "its front: level with that of the bed front (11)"},
			"Add the cleat to the bed":                        nil,
			"Shape the bed":                                   {"Stick the pattern on the right side.", "Sand all over, and rub every arris over by 1.5 mm."},
			"Cut the dowels":                                  {"prop pin and prop rest (8, 9), 6 mm thick: 2 of 60 mm"},
		},
		// What is glued stays sharp: both cheeks of the core, and its bottom on the frame.
		"quay-tram": {
			"Make two cores (2, 12)": {"Sand all over, and rub every arris over by 1/16 in, but those of the face, the other face and the edge, which are glued."},
			"Make four sides":        {"Sand to the lines, and rub every arris over by 1/16 in, but those of the face (4, 14), the other face (3, 13) and the edge, which are glued."},
			"Make ten wheels":        {"Sand all over, and rub every arris over by 1/16 in."},
			"Shape the two bodies":   {"Sand to the lines, and rub every arris over by 1/16 in, but those of the bottom, which is glued."},
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

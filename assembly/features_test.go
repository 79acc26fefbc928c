package assembly_test

import (
	"strings"
	"testing"

	"dryfit/assembly"
)

// stepped is a block whose top has a step, its outline drawn one way round and the other.
func stepped(outline, sits string) string {
	return "dryfit: 1\ntoy: Step\nunits: mm\nstock:\n  b: {wood: beech, form: board, thick: 20}\nparts:\n  it:\n    from: b\n    blank: [100, 40]\n    work:\n      - saw: {side: edge, outline: " + outline + "}\n" +
		"  cab: {from: b, blank: [30, 30]}\nbuild:\n  - put: it\n  - {put: cab, sits: {bottom: it." + sits + ", front: it.front, middle: it.middle}, glued: yes}\n"
}

const (
	against   = "{points: [[0, 0], [100, 0], [100, 20], [40, 20], [40, 8], [0, 8]], flats: {deck: [3, 4], under: [1, 2], riser: [4, 5]}}"
	clockwise = "{points: [[0, 8], [40, 8], [40, 20], [100, 20], [100, 0], [0, 0]], flats: {deck: [3, 4], under: [5, 6], riser: [2, 3]}}"
)

func TestFlats(t *testing.T) {
	for _, outline := range []string{against, clockwise} {
		m := derive(t, stepped(outline, "deck"), nil)
		for _, c := range []struct {
			name string
			face int
			at   float64
		}{{"deck", 5, 20}, {"under", 4, 0}, {"riser", 0, 40}} {
			if face, at, ok := m.Flat("it", c.name); !ok || face != c.face || at != c.at {
				t.Errorf("%s of %s: faces %d at %v, %v; want %d at %v", c.name, outline, face, at, ok, c.face, c.at)
			}
		}
		if box := m.Bounds("cab"); box.Min.Z != 20 || box.Max.X != 100 {
			t.Errorf("the cab is at %v", box)
		}
		if m.Fixes("cab", 0) != "front" || m.Fixes("cab", 1) != "middle" || m.Fixes("cab", 2) != "bottom" || m.Fixes("it", 0) != "" {
			t.Errorf("the cab is fixed by %s, %s and %s", m.Fixes("cab", 0), m.Fixes("cab", 1), m.Fixes("cab", 2))
		}
	}
}

// What sits on the top of a stepped profile is told the flats that face that way.
func TestSteppedNamesItsFlats(t *testing.T) {
	for _, outline := range []string{against, clockwise} {
		_, probs := assembly.Derive(read(t, stepped(outline, "top")), assembly.Options{})
		if len(probs) != 1 || probs[0].Code != "stepped" || !strings.HasSuffix(probs[0].Expected, "one of it.deck") {
			t.Errorf("%v", probs)
		}
	}
}

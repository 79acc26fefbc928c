package shop

import (
	"slices"
	"strings"
	"testing"

	"dryfit/toy"
)

// Said by hand from the two files of examples.
func TestWhereEachPieceGoes(t *testing.T) {
	for _, c := range []struct{ file, name, numbers, where string }{
		{tram, "frame", "1", "first, the others are put on it"},
		{tram, "body", "2–4", "bottom on frame's deck, front 3/16 in behind frame's front, in the middle; glued"},
		{tram, "right-side", "3, 13", "in the glue-up body: left against core's right, back and top flush with core's; glued"},
		{tram, "trailer-frame", "11", "eye in line with frame's coupling, under-tongue on frame's tail; not glued"},
		{tram, "wheel", "19–22", "on the axle in rear-axle of trailer-frame"},
		{tram, "coupling-pin", "23", "glued in coupling of frame; turns in eye of trailer-frame"},
		{wagon, "rest", "3", "bottom on chassis's top, front 72 mm behind chassis's front, left 2 mm to the right of chassis's left; glued"},
		{wagon, "right-side", "12", "in the glue-up bed: left against bed-floor's right, front and top flush with front's; glued to bed-floor and front"},
		{wagon, "cleat", "14", "in the glue-up bed: top against bed-floor's bottom, back 42 mm ahead of bed-floor's back, in the middle; glued"},
		{wagon, "prop-rest", "9", "in prop-rest of chassis; glued"},
	} {
		found := false
		for _, s := range Spots(load(t, c.file)) {
			found = found || s.Name() == c.name && Numbers(s.Numbers) == c.numbers && s.Where == c.where
		}
		if !found {
			t.Errorf("%s: no %s %s that goes %q", c.file, c.numbers, c.name, c.where)
		}
	}
}

// Every piece has one spot of its own, and the lists speak of the same numbers.
func TestNumbersAgree(t *testing.T) {
	for _, name := range []string{tram, cart, wagon} {
		m := load(t, name)
		l := List(m)
		spots, blanks, cuts := make([]int, len(m.Pieces)), make([]int, len(m.Pieces)), map[int]bool{}
		for _, s := range l.Spots {
			if s.Where == "" {
				t.Errorf("%s: nothing is said of where %v goes", name, s.IDs)
			}
			for i, n := range s.Numbers {
				if !s.GlueUp {
					if spots[n-1]++; m.Pieces[n-1].ID != s.IDs[i] {
						t.Errorf("%s: %d is %s, not %s", name, n, m.Pieces[n-1].ID, s.IDs[i])
					}
				}
			}
		}
		for _, s := range l.Stock {
			for _, b := range s.Blanks {
				for i, n := range b.Numbers {
					if blanks[n-1]++; m.Pieces[n-1].ID != b.IDs[i] || m.Pieces[n-1].Part.Name != b.Part {
						t.Errorf("%s: blank %d is %s of %s", name, n, b.IDs[i], b.Part)
					}
				}
			}
		}
		for _, d := range l.Dowels {
			for _, c := range d.Lengths {
				if !slices.IsSorted(c.Numbers) || len(c.For) == 0 {
					t.Errorf("%s: dowels %v for %q", name, c.Numbers, c.For)
				}
				for i, n := range c.Numbers {
					cuts[n-1] = true
					if p := m.Pieces[n-1]; p.ID != c.IDs[i] || !same(p.Made.Size.X, c.LengthMM) {
						t.Errorf("%s: %d is a rod of %g mm, listed with %g", name, n, p.Made.Size.X, c.LengthMM)
					}
				}
			}
		}
		for i, p := range m.Pieces {
			if spots[i] != 1 || blanks[i] != 1 || cuts[i] != (p.Part.Shape == toy.Rod) {
				t.Errorf("%s: %s has %d spots and %d blanks, cut from dowel: %v", name, p.ID, spots[i], blanks[i], cuts[i])
			}
		}
	}
}

func TestNumbers(t *testing.T) {
	for want, n := range map[string][]int{"": nil, "3": {3}, "3, 4": {3, 4}, "3–5": {3, 4, 5}, "1, 3–5, 8, 9": {1, 3, 4, 5, 8, 9}} {
		if got := Numbers(n); got != want {
			t.Errorf("%v is written %q, want %q", n, got, want)
		}
	}
}

// What is done to arrises is listed, on parts and on glue-ups.
func TestByHand(t *testing.T) {
	l := List(derive(t, "stack", `dryfit: 1
toy: stack
units: mm
ease: 1
stock: {b: {wood: beech, form: board, thick: 20}}
parts:
  block:
    from: b
    blank: [100, 50]
    work: [{round: {by: 3, along: [[face, end]]}}]
glue-ups:
  stack:
    pieces: [{put: block}, {put: block, as: upper, sits: {bottom: block.top, back: block.back, middle: block.middle}, glued: yes}]
    work: [{chamfer: {by: 2}}]
build: [{put: stack}]
`))
	text := l.Text()
	for _, want := range []string{"block: 2 pieces, round the arris face (top) to end (front) by 3 mm",
		"stack (once it is glued up): 1 piece, chamfer every arris by 2 mm", "all: ease every arris by 1 mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said in\n%s", want, text)
		}
	}
}

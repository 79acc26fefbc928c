package page

import (
	"math"
	"os"
	"strings"
	"testing"

	"dryfit/app"
	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// glued makes the edits of Glue, and sees that every piece stays where it was.
func glued(t *testing.T, text string, first, second int, name string) string {
	t.Helper()
	b, before, root := builds(t, text)
	edits, err := Glue(root, b, first, second, name)
	if err != nil {
		t.Fatal(err)
	}
	out := text
	for _, e := range edits {
		if out, _, err = tree.Apply(source.New("", out), e); err != nil {
			t.Fatalf("%+v: %v", e, err)
		}
	}
	after, probs := app.Open("", out, nil, nil)
	if len(probs) > 0 {
		t.Fatalf("%v\nin\n%s", probs, out)
	}
	m, probs := after.Model()
	if len(probs) > 0 {
		t.Fatalf("%v\nin\n%s", probs, out)
	}
	old, _ := before.Model()
	if len(m.Pieces) != len(old.Pieces) || len(m.GlueUps) != len(old.GlueUps)+1 {
		t.Fatalf("%d pieces and %d glue-ups", len(m.Pieces), len(m.GlueUps))
	}
	var was, is [3]float64 // all places in sum: pieces come in another order
	for i := range m.Pieces {
		was = sum(was, floats(old.Pieces[i].Pose.O))
		is = sum(is, floats(m.Pieces[i].Pose.O))
	}
	for i := range was {
		if math.Abs(was[i]-is[i]) > 1e-9 {
			t.Errorf("the pieces are at %v in sum and were at %v\nin\n%s", is, was, out)
		}
	}
	return out
}

func sum(a, b [3]float64) [3]float64 { return [3]float64{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func TestGlue(t *testing.T) {
	out := glued(t, twoBlocks, 0, 1, "whole")
	for _, want := range []string{"put: whole\n", "{put: top, as: cabin, sits: {bottom: base.deck, front: base.nose - 1/8 in, middle: base.middle}}"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	text, err := os.ReadFile("../../examples/plain/hitch.yaml")
	if err != nil {
		t.Fatal(err)
	}
	out = glued(t, string(text), 0, 1, "engine")
	for _, want := range []string{"in: engine/tractor.rear-axle", "fixed: engine/tractor.hitch", "bottom: engine/tractor.bottom + 1/4"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	b, _, root := builds(t, string(text))
	for _, c := range []struct {
		first, second int
		name, says    string
	}{
		{0, 1, "cart", "already a part"},
		{0, 2, "x", "no part that is put"},
		{0, 6, "x", "sits on tongue too"},
		{4, 6, "x", "sits on tractor too"},
		{1, 0, "x", "no two such steps"},
	} {
		if _, err := Glue(root, b, c.first, c.second, c.name); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("gluing %d and %d: %v, want %q", c.first, c.second, err, c.says)
		}
	}
}

// Pieces of one name are numbered anew where one of them goes into a glue-up.
func TestGlueNumbersAnew(t *testing.T) {
	text := `dryfit: 1
toy: blocks
units: mm
stock: {board: {wood: beech, form: board, thick: 18}}
parts:
  base: {from: board, blank: [100, 40]}
  block: {from: board, blank: [20, 40]}
build:
  - put: base
  - {put: block, sits: {bottom: base.top, front: base.front, middle: base.middle}, glued: true}
  - {put: block, sits: {bottom: base.top, back: block.back - 40, middle: base.middle}, glued: true}
  - {put: block, sits: {bottom: block.2.top, back: block.2.back, middle: block.2.middle}, glue-to: [block.2]}
`
	out := glued(t, text, 0, 1, "whole")
	for _, want := range []string{"back: whole/block.back - 40", "bottom: block.top", "glue-to: [block]"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	out = glued(t, text, 2, 3, "pile")
	for _, want := range []string{"{put: pile, sits: {bottom: base.top, back: block.back - 40, middle: base.middle}, glued: true}", "{put: block, sits: {bottom: block.top, back: block.back, middle: block.middle}}"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

package pattern

import (
	"strings"
	"testing"

	"dryfit/paper/layout"
	"dryfit/toy"
)

// What is lettered above the patterns of parts and their mirror images.
func TestCutTwoFlipOne(t *testing.T) {
	const base = `dryfit: 1
toy: pairs
units: mm
stock: {b: {wood: beech, form: board, thick: 20}}
parts:
  base: {from: b, blank: [200, 200]}
  left: {from: b, blank: [60, 40], WORK}
  right: {mirrors: left, spare: SPARE}
GLUE
build:
  - {put: base}
  - {put: left, sits: {bottom: base.top, back: base.back, left: base.left}, glued: yes}
  - {put: right, sits: {bottom: base.top, front: base.front, right: base.right}, glued: yes}
`
	through := "work: [{drill: {side: face, dia: 6, at: [[10, 10]]}}, {saw: {side: face, outline: [[0, 0], [60, 0], [0, 40]]}}]"
	blind := "work: [{drill: {side: face, dia: 6, depth: 9, at: [[10, 10]]}}, {saw: {side: face, outline: [[0, 0], [60, 0], [0, 40]]}}]"
	third := "  - {put: right, sits: {bottom: base.top, front: base.front, left: base.left}, glued: yes}\n"
	glued := "glue-ups:\n  both:\n    pieces: [{put: left}, {put: right, sits: {bottom: left.top, back: left.back, left: left.left}, glued: yes}]\n    work: [{drill: {side: face, dia: 8, at: [[6, 6]]}}]"
	last := "  - {put: both, sits: {bottom: base.top, front: base.front, left: base.left}, glued: yes}\n"
	for name, c := range map[string]struct {
		work, spare, glue, more string
		says                    []string
		own                     int // patterns of the mirror image itself
	}{
		"one of each":  {through, "0", "", "", []string{"2, 3 · left, right: cut 2, flip one", "as drawn left (2), turned over right (3)", "left: Goes: ", "right: In the toy the other face looks up"}, 0},
		"one and two":  {through, "1", "", third, []string{"2–4 · left, right: cut 3 + 1 spare, flip two + 1 spare", "turned over right (3, 4 + 1 spare)"}, 0},
		"a blind hole": {blind, "0", "", "", []string{"2 · left: cut 1", "3 · right, mirror image of left: cut 1"}, 1},
		"worked glued": {through, "0", glued, last, []string{"right, mirror image of left: cut 2"}, 1},
	} {
		text := strings.NewReplacer("WORK", c.work, "SPARE", c.spare, "GLUE\n", c.glue+"\n").Replace(base) + c.more
		m := derived(t, name, text)
		drawn, err := blocks(m)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, d := range drawn {
			all = append(all, d.Title, d.Note, d.Where)
		}
		for _, want := range c.says {
			if !strings.Contains(strings.Join(all, "\n"), want) {
				t.Errorf("%s: %q is not said in\n%s", name, want, strings.Join(all, "\n"))
			}
		}
		set, err := Lay(m, layout.A4)
		if err != nil {
			t.Fatal(err)
		}
		own, turned := 0, 0
		for _, p := range set.Places {
			if p.Of == "right" && p.Side == toy.Top {
				if p.Turned {
					turned++
				} else {
					own++
				}
			}
		}
		if own != c.own || own+turned != 1 {
			t.Errorf("%s: %d patterns of its own, %d of the other turned over", name, own, turned)
		}
	}
}

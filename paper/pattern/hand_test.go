package pattern

import (
	"strings"
	"testing"

	"dryfit/paper/draw"
	"dryfit/paper/layout"
)

// What is done to arrises is said on the pattern of a part, and of a glue-up even
// if nothing else is done to it.
func TestArrisesAreSaid(t *testing.T) {
	m := derived(t, "stack", `dryfit: 1
toy: stack
units: mm
stock: {b: {wood: beech, form: board, thick: 20}}
parts:
  block:
    from: b
    blank: [150, 50]
    work: [{round: {by: 3, along: [[face, end]]}}]
glue-ups:
  stack:
    pieces: [{put: block}, {put: block, as: upper, sits: {bottom: block.top, back: block.back, middle: block.middle}, glued: yes}]
    work: [{chamfer: {by: 2}}]
build: [{put: stack}]
`)
	pages, _, err := pagesOf(m, layout.A4)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, p := range pages {
		p.Walk(func(k draw.Mark) {
			if k.Text != nil {
				all = append(all, k.Text.Says)
			}
		})
	}
	text := strings.Join(all, " ")
	for _, want := range []string{"1, 2 · block: cut 2", "round the arris face (top) to end (front) by 3 mm", "1, 2 · stack, glue-up: make 1", "chamfer every arris by 2 mm",
		"2 upper in the glue-up stack: bottom on block's top, back flush with block's, in the middle; glued"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not said in %q", want, text)
		}
	}
}

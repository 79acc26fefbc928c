package prove_test

import (
	"strings"
	"testing"

	"dryfit/prove"
)

// A frame of 30 whose axles run 7 above its bottom in holes 1 mm over their dowels rests down
// on them: on wheels of 30 its bottom is 15 - 7 - 0.5 = 7.5 above the floor, which is the room
// under it, and its top 37.5. A wheel that is higher than that stands on the floor as it is.
func TestHeightAsItRests(t *testing.T) {
	for _, c := range []struct{ wheel, high, room float64 }{{30, 37.5, 7.5}, {60, 60, 22.5}} {
		text := sheetOf{stock: []string{board("beech", 30), "rod: {wood: beech, form: dowel, dia: 6}"},
			parts: []string{"frame: {from: beech, blank: [140, 40], work: [{drill: {side: edge, dia: 7, named: {r-axle: [30, 7], f-axle: [110, 7]}}}]}",
				f("wheel: {from: beech, disc: %g, bore: 6}", c.wheel), "axle: {from: rod}"},
			build: []string{"put: frame", "wheels: {in: frame.r-axle, axle: axle, outward: [wheel], play: 1, proud: 3}", "wheels: {in: frame.f-axle, axle: axle, outward: [wheel], play: 1, proud: 3}"}}.text()
		if got := prove.Height(model(t, text)); !near(got, c.high, 1e-6) {
			t.Errorf("on wheels of %g it is %g high, want %g", c.wheel, got, c.high)
		}
		if g := find(t, proof(t, text), "move.ground:clearance"); !near(g.Value, c.room, 1e-6) {
			t.Errorf("on wheels of %g its room is %g, want %g", c.wheel, g.Value, c.room)
		}
	}
	block := sheetOf{stock: []string{board("beech", 18)}, parts: []string{"it: {from: beech, blank: [60, 40]}"}, build: []string{"put: it"}}
	if got := prove.Height(model(t, block.text())); !near(got, 18, 1e-9) {
		t.Errorf("a block of 18 is %g high", got)
	}
}

// The label names the small piece, not the glue-up that it is of: the wagon's cleat is small,
// its bed is not.
func TestSmallPieceOfAGlueUp(t *testing.T) {
	for _, n := range find(t, proof(t, example(t, "tipping-wagon.yaml")), "child.small:attached").Notes {
		if strings.HasPrefix(n, "label: ") && !strings.Contains(n, "(rest, bed/cleat)") {
			t.Errorf("the label says %q", n)
		}
	}
}

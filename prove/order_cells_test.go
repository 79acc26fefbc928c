package prove_test

import (
	"math/rand"
	"testing"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/prove"
)

// The floods cell by cell, with turns and without.

// door is a panel between two rails with a groove in each, and posts at both ends: up
// deep above, down deep below, as thick as the panel and play; it stands on the lower
// groove's floor and room is left above it.
func door(up, down, room, play float64) sheetOf {
	return sheetOf{stock: []string{board("b", 20), board("p", 6)},
		parts: []string{
			f("sill: {from: b, blank: [60, 40], work: [{groove: {side: face, from: [0, 10], to: [length, 10], wide: %g, depth: %g}}]}", 6+play, down),
			f("head: {from: b, blank: [60, 40], lies: {length: forward, up: other-face}, work: [{groove: {side: face, from: [0, 30], to: [length, 30], wide: %g, depth: %g}}]}", 6+play, up),
			"post: {from: b, blank: [80, 40], lies: {length: up, forward: face}}",
			f("panel: {from: p, blank: [59.8, %g], lies: {length: forward, right: face}}", 40+up+down-room)},
		build: []string{"put: sill",
			"{put: post, as: rear, sits: {front: sill.back, bottom: sill.bottom, right: sill.right}, glued: yes}",
			"{put: post, as: front, sits: {back: sill.front, bottom: sill.bottom, right: sill.right}, glued: yes}",
			"{put: head, sits: {bottom: sill.top + 40, back: sill.back, right: sill.right}, glue-to: [rear, front], glued: yes}",
			f("{put: panel, sits: {bottom: sill.top - %g, back: sill.back + 0.1, right: sill.right + 7}}", down)}}
}

// A sliding door is hung by lifting it into its deep upper groove and swinging its
// foot over the sill: no shift does it, a twist does. With less room above than the
// lower groove is deep it is in for good.
func TestOrderSlidingDoor(t *testing.T) {
	for _, c := range []struct {
		up, down, room, play float64
		twist                bool // it is proved that there is none
	}{
		{5, 5, 0.2, 0.2, true},
		{5, 4, 0.5, 0.2, true},
		{12, 3, 6, 5, false},
	} {
		m := model(t, door(c.up, c.down, c.room, c.play).text())
		panel, frame := piecesOf(m, "panel"), piecesOf(m, "sill", "rear", "front", "head")
		got := prove.Shut(m, panel, frame)
		if !got.Shift || got.Twist != c.twist || got.Rod || got.Thread || got.Ball {
			t.Errorf("%+v: %+v", c, got)
		}
		if c.twist {
			continue
		}
		// lifted, then its foot swung over the lip as far as it goes, and down and off
		var wood solid.Body
		for _, i := range frame {
			wood = wood.Union(m.Pieces[i].Bored())
		}
		wood = solid.NewBody(wood.Pieces)
		body := m.Pieces[panel[0]].Bored()
		box := body.Bounds()
		top := box.Center().With(2, box.Max.Z)
		here := r3.Shift(r3.Vec{})
		try := func(m r3.Pose) bool {
			next := here.Then(m)
			if solid.Penetrates(wood, body.Transform(next), tol.Touch) {
				return false
			}
			here = next
			return true
		}
		for try(r3.Shift(r3.Z.Scale(0.05))) {
		}
		swing := func() bool {
			return try(r3.Turn(here.Point(top), r3.X, -0.001)) || try(r3.Turn(here.Point(top), r3.X, -0.001).Then(r3.Shift(r3.Y.Scale(0.02))))
		}
		for k := 0; k < 2000 && body.Transform(here).Bounds().Max.Z > 58; k++ {
			_ = swing() || try(r3.Shift(here.Dir(r3.Z).Scale(-0.05)))
		}
		for k := 0; k < 2000; k++ {
			_ = try(r3.Shift(r3.Y.Scale(-0.05))) || try(r3.Shift(r3.Z.Scale(-0.02)))
		}
		if b := body.Transform(here).Bounds(); b.Meets(wood.Bounds()) {
			t.Errorf("it does not swing out: %v %v", b.Min, b.Max)
		}
	}
}

// What the floods call closed is closed: at random places of closed cells, and at
// their corners, the panel is in the wood.
func TestOrderClosedCells(t *testing.T) {
	rng := rand.New(rand.NewSource(2))
	m := model(t, door(5, 4, 0.5, 0.4).text())
	panel, frame := piecesOf(m, "panel"), piecesOf(m, "sill", "rear", "front", "head")
	var wood solid.Body
	for _, i := range frame {
		wood = wood.Union(m.Pieces[i].Bored())
	}
	wood = solid.NewBody(wood.Pieces)
	body := m.Pieces[panel[0]].Bored()
	closed := 0
	for k := 0; k < 600; k++ {
		var n [6]int
		for i := range n {
			n[i] = rng.Intn(5) - 2
		}
		is, shift, turn, halfTurn, pose := prove.Cell(m, panel, frame, n, 0.5)
		if !is {
			continue
		}
		closed++
		for range 12 {
			d := func(half float64) float64 {
				if rng.Intn(4) > 0 { // mostly a corner
					return half * float64(2*rng.Intn(2)-1)
				}
				return half * (2*rng.Float64() - 1)
			}
			at := pose(shift.Add(r3.Vec{X: d(0.5), Y: d(0.5), Z: d(0.5)}), turn.Add(r3.Vec{X: d(halfTurn), Y: d(halfTurn), Z: d(halfTurn)}))
			if !solid.Penetrates(wood, body.Transform(at), 0) {
				t.Fatalf("cell %v is called closed, and is free at %v", n, at)
			}
		}
	}
	if t.Logf("%d closed", closed); closed < 60 || closed > 590 {
		t.Error("too alike to tell anything")
	}
}

// A drawer has to go 0.3 mm aside to come past the lip at the mouth of its case, and
// has 0.4 mm: no cell has its middle there, and none may be called closed for that.
func TestOrderBetweenCells(t *testing.T) {
	for _, c := range []struct {
		lip  float64
		shut bool
	}{{0.3, false}, {4, true}} {
		s := sheetOf{stock: []string{board("b", 10), board("d", 20)},
			parts: []string{"floor: {from: b, blank: [50, 60]}", "side: {from: b, blank: [50, 20.2], lies: {length: forward, right: face}}",
				"back: {from: b, blank: [60, 40.2], lies: {length: left, forward: face}}", f("lip: {from: b, blank: [%g, 20.2], lies: {length: left, forward: face}}", 10+c.lip),
				"drawer: {from: d, blank: [24, 20]}"},
			build: []string{"put: floor",
				"{put: side, as: right, sits: {bottom: floor.top, right: floor.right, back: floor.back}, glued: yes}",
				"{put: side, as: left, sits: {bottom: floor.top, right: right.left + 20.4, back: floor.back}, glued: yes}",
				"{put: floor, as: lid, sits: {bottom: right.top, right: floor.right, back: floor.back}, glued: yes}",
				"{put: back, sits: {front: floor.back, bottom: floor.bottom, right: floor.right}, glued: yes}",
				"{put: lip, sits: {back: right.front, right: right.right, bottom: right.bottom}, glued: yes}",
				"{put: drawer, sits: {right: right.left, bottom: floor.top, back: floor.back + 0.5}}"}}
		m := model(t, s.text())
		got := prove.Shut(m, piecesOf(m, "drawer"), piecesOf(m, "floor", "right", "left", "lid", "back", "lip"))
		if got.Shift != c.shut || got.Any() != c.shut {
			t.Errorf("lip of %g: %+v", c.lip, got)
		}
	}
}

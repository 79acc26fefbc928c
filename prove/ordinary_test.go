package prove_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"dryfit/prove"
)

// What ordinary good toys must not be told, and what they must be told instead. Mutants
// tried on a scratch copy, each caught here: the crossing of two
// faces not counted; a piece on an upright pin that lifts off taken for one put down;
// a part that another carries asked to stand by itself; the wheels not raised by their
// slack; the lean over an axle to the wrong side; wheels that wood keeps off the floor;
// length counted from the inner end although proud is said; two opposite moves told as if
// either helped; a must to stand or to roll not asked on a line or a skid; the grain of a
// round to be turned.

// One pair of wheels: the wheels' radius is that of a circle which touches the line through
// the lower back corner that leans by 10°: r = a sin 10° + h cos 10°, the corner a behind
// the axle and h below it (plane trigonometry). The running fit of 1 mm lets the body
// sink by 0.5 mm.
func TestOnePairOfWheels(t *testing.T) {
	const a, h, lean = 40.0, 9.0, 10 * math.Pi / 180
	cart := func(back float64, must ...string) sheetOf {
		x, lies := a, "forward"
		if back < 0 {
			lies = "back" // the other way round it leans forward
		}
		return sheetOf{stock: []string{board("beech", 18), "rod: {wood: birch, form: dowel, dia: 6}"}, must: must,
			parts: []string{f("frame: {from: beech, blank: [60, 40], lies: {length: %s, up: face}, work: [{drill: {side: edge, dia: 7, named: {axle: [%g, %g]}}}]}", lies, x, h-0.5),
				f("wheel: {from: beech, disc: %.9f, bore: 6}", 2*(a*math.Sin(lean)+h*math.Cos(lean))), "axle: {from: rod}"},
			build: []string{"put: frame", "wheels: {in: frame.axle, axle: axle, outward: [wheel], play: 1, proud: 3}"}}
	}
	for _, way := range []float64{1, -1} {
		m := model(t, cart(way).text())
		up, height, skids := prove.Floor(m)
		// the floor falls away under the back, so the way up from it leans back or forward
		if !near(up.X, way*math.Sin(lean), 1e-6) || !near(up.Z, math.Cos(lean), 1e-6) || !slices.Equal(skids, []string{"frame"}) {
			t.Errorf("way %g: up %v, skids %v", way, up, skids)
		}
		for _, p := range m.Pieces {
			if low := height(p.Body.Support(up.Neg())); low < -0.5-1e-6 { // a wheel by the slack of its axle
				t.Errorf("way %g: %s is %g below the floor", way, p.ID, -low)
			}
		}
		rep := proof(t, cart(way).text())
		for _, id := range []string{"move.ground:wheels", "move.ground:clearance", "balance:toy"} {
			if g := find(t, rep, id); g.Verdict != prove.Holds {
				t.Errorf("way %g: %v %s", way, g.Verdict, g.Says)
			}
		}
	}
	small := cart(1)
	small.parts[1] = "wheel: {from: beech, disc: 16.8, bore: 6}" // 8.4 below the axle, where the wood is 9
	if up, _, skids := prove.Floor(model(t, small.text())); len(skids) > 0 {
		t.Errorf("wheels that do not reach the floor: up %v, skids %v", up, skids)
	}
	if g := find(t, proof(t, cart(1, "rolls").text()), "move.ground:clearance"); g.Verdict != prove.Fails || !strings.Contains(g.Says, "frame drags") {
		t.Errorf("it must roll: %v %s", g.Verdict, g.Says)
	}
	if g := find(t, proof(t, cart(1, "{clears-floor: 1}").text()), "move.ground:clearance"); g.Verdict != prove.Fails {
		t.Errorf("it must clear the floor: %v %s", g.Verdict, g.Says)
	}
}

// A long post against an edge: glued where the two cross, it is as good as it is wide,
// though most of its length stands free; half of the crossing is minded (common
// practice, no source).
func TestContactOfACrossing(t *testing.T) {
	for _, c := range []struct {
		on      float64 // of 18, how much of its width lies on the edge
		verdict prove.Verdict
	}{{18, prove.Holds}, {9.5, prove.Holds}, {8.5, prove.Mind}} {
		s := sheetOf{stock: []string{board("b", 18)}, parts: []string{"seat: {from: b, blank: [110, 110]}", "post: {from: b, blank: [90, 18], lies: {length: up, forward: face}}"},
			build: []string{"put: seat", f("{put: post, sits: {front: seat.back, bottom: seat.bottom, left: seat.right + %g}, glued: yes}", c.on)}}
		g := find(t, proof(t, s.text()), "fit.contact:post~seat")
		if g.Verdict != c.verdict || !near(g.Value, 18*c.on, 1e-3) || !near(g.Limit, 18*18/2, 1e-3) {
			t.Errorf("%g: %v %g of %g: %s", c.on, g.Verdict, g.Value, g.Limit, g.Says)
		}
		if c.verdict == prove.Mind && !strings.Contains(g.Says, "dowel") {
			t.Errorf("it does not say what to change: %s", g.Says)
		}
	}
}

// A roller does not stand, and nobody wants it to unless the file does.
func TestRollsAbout(t *testing.T) {
	s := sheetOf{stock: []string{"rod: {wood: beech, form: dowel, dia: 40}"}, parts: []string{"roller: {from: rod, length: 60, lies: {length: left, up: face}}"}, build: []string{"put: roller"}}
	if g := find(t, proof(t, s.text()), "balance:toy"); g.Verdict != prove.Holds || !strings.Contains(g.Says, "rolls about") {
		t.Errorf("%v %s", g.Verdict, g.Says)
	}
	s.must = []string{"{stands-on-slope: 5°}"}
	if g := find(t, proof(t, s.text()), "balance:toy"); g.Verdict != prove.Fails || g.Margin >= 0 {
		t.Errorf("it must stand: %v %s", g.Verdict, g.Says)
	}
}

// What turns on an upright pin and lifts off it is carried by what it turns on: it is
// neither just put down, nor has it to stand by itself, however far a jib reaches out.
func TestCarriedOnAPin(t *testing.T) {
	s := sheetOf{stock: []string{board("b", 20), "rod: {wood: beech, form: dowel, dia: 10}"},
		parts: []string{"base: {from: b, blank: [160, 160], work: [{drill: {side: face, dia: 10, depth: 15, named: {post: [middle, middle]}}}]}",
			"table: {from: b, blank: [60, 60], work: [{drill: {side: face, dia: 11, named: {post: [middle, middle]}}}]}",
			"jib: {from: b, blank: [110, 24]}", "pin: {from: rod}"},
		build: []string{"put: base", "{put: table, sits: {bottom: base.top, post: base.post}}", "{put: jib, sits: {bottom: table.top, back: table.middle + 6, middle: table.middle}, glued: yes}",
			"hinge: {name: turning, pin: pin, fixed: base.post, runs: table.post, lifts-off: yes}"}}
	rep := proof(t, s.text())
	for _, g := range rep.Findings {
		if g.Verdict != prove.Holds && (g.Check == "fit.contact" || g.Check == "balance") {
			t.Errorf("%s: %v %s", g.ID, g.Verdict, g.Says)
		}
	}
	// whereas without the hinge it is only put down
	s.build = s.build[:3]
	s.parts[1] = "table: {from: b, blank: [60, 60]}"
	s.build[1] = "{put: table, sits: {bottom: base.top, middle-along: base.middle, middle-across: base.middle}}"
	s.parts = s.parts[:3]
	if g := find(t, proof(t, s.text()), "fit.contact:table"); g.Verdict != prove.Mind {
		t.Errorf("put down: %v %s", g.Verdict, g.Says)
	}
}

// The grain of a round is short somewhere however it is turned, so turning it is no advice.
func TestWordsOfAThinRing(t *testing.T) {
	s := sheetOf{ages: "18 months and up", stock: []string{"cherry: {wood: cherry, form: board, thick: 6}"}, parts: []string{"ring: {from: cherry, disc: 60, bore: 30, lies: {length: forward, up: face}}"}, build: []string{"put: ring"}}
	g := find(t, proof(t, s.text()), "strength.grain:ring")
	if g.Verdict != prove.Fails || !strings.Contains(g.Says, "of plywood") || strings.Contains(g.Says, "turn the grain") {
		t.Errorf("%v %s", g.Verdict, g.Says)
	}
}

// A plank too wide for the room between two posts is not to be moved either way.
func TestNoRoomBetween(t *testing.T) {
	for _, c := range []struct {
		wide float64
		want string
	}{{24, "plank has no room between "}, {20, "no two pieces"}} {
		s := sheetOf{stock: []string{board("b", 10)}, parts: []string{"floor: {from: b, blank: [80, 60]}", "post: {from: b, blank: [40, 20], lies: {length: up, right: face}}", f("plank: {from: b, blank: [60, %g]}", c.wide)},
			build: []string{"put: floor", "{put: post, as: right-post, sits: {bottom: floor.top, left: floor.middle - 10, middle-along: floor.middle}, glued: yes}",
				"{put: post, as: left-post, sits: {bottom: floor.top, right: floor.middle + 10, middle-along: floor.middle}, glued: yes}",
				"{put: plank, sits: {bottom: floor.top + 10, middle-along: floor.middle, middle-across: floor.middle}}"}}
		said := 0
		for _, g := range proof(t, s.text()).Findings {
			if g.Check == "fit.overlap" && strings.Contains(g.Says, c.want) {
				said++
			}
		}
		if said == 0 {
			t.Errorf("%g wide: nothing says %q", c.wide, c.want)
		}
	}
}

// A spindle that stands proud of a disc by what is said, the rest of its length on the
// other side: 60 long through 20 of wood and 15 proud leaves 25.
func TestProudAndLength(t *testing.T) {
	s := sheetOf{stock: []string{board("b", 20), "rod: {wood: birch, form: dowel, dia: 8}"}, parts: []string{"disc: {from: b, disc: 60, bore: 8, lies: {length: forward, up: face}}", "spindle: {from: rod, length: 60}"},
		build: []string{"put: disc", "peg: {use: spindle, in: disc.bore, proud: 15}"}}
	m := model(t, s.text())
	disc, rod := m.Pieces[0].Body.Bounds(), m.Pieces[1].Body.Bounds()
	above, below := rod.Max.Z-disc.Max.Z, disc.Min.Z-rod.Min.Z
	if !near(math.Min(above, below), 15, 1e-9) || !near(math.Max(above, below), 25, 1e-9) {
		t.Errorf("%g above, %g below", above, below)
	}
}

// What a failing finding says to change is enough: a block 20 wide and 80 high that must
// stand on 20° wants feet 40 tan 20° - 10 = 4.56 further out, or its middle
// 40 - 10 / tan 20° = 12.53 lower (geometry); an axle as long as it is told leaves play.
func TestWordsOfMends(t *testing.T) {
	s := sheetOf{stock: []string{board("b", 80)}, parts: []string{"block: {from: b, blank: [60, 20]}"}, build: []string{"put: block"}, must: []string{"{stands-on-slope: 20°}"}}
	if g := find(t, proof(t, s.text()), "balance:toy"); !strings.Contains(g.Says, "4.6 mm further out") || !strings.Contains(g.Says, "12.6 mm lower") {
		t.Errorf("balance: %s", g.Says)
	}
	cart := func(length string) string {
		return sheetOf{stock: []string{board("b", 18), "rod: {wood: birch, form: dowel, dia: 6}"},
			parts: []string{"frame: {from: b, blank: [90, 40], work: [{drill: {side: edge, dia: 7, named: {rear: [20, 8], fore: [70, 8]}}}]}", "wheel: {from: b, disc: 36, bore: 6}", "axle: {from: rod}"},
			build: []string{"put: frame", "wheels: {in: frame.rear, axle: axle, outward: [wheel], length: " + length + ", proud: 2}", "wheels: {in: frame.fore, axle: axle, outward: [wheel], play: 1, proud: 2}"}}.text()
	}
	g := find(t, proof(t, cart("76")), "fit.reach:axle")
	_, told, ok := strings.Cut(g.Says, "make it ")
	told, _, _ = strings.Cut(told, " mm long")
	if g.Verdict != prove.Fails || !ok {
		t.Fatalf("%v %s", g.Verdict, g.Says)
	}
	if g := find(t, proof(t, cart(told)), "fit.reach:axle"); g.Verdict != prove.Holds {
		t.Errorf("%s long as told: %v %s", told, g.Verdict, g.Says)
	}
}

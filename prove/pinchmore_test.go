package prove_test

import (
	"strings"
	"testing"

	"dryfit/prove"
)

// Mutants of levers and spokes tried by hand: the lever minded at 2.5 or 7 times; pushes up for
// pushes down; pushes any way; the nearest gap for the farthest; the weakest lever for the
// strongest; light parts on level pins not looked at. Of spokes: 13 mm of room behind as 14; a
// step of 2 mm, or of 20, for one of 5; an edge without a finger's room beside it, or with twice
// that; what closes a hole before or behind it, on the axle or standing still,
// forgotten; the fingertip forgotten; a tenth of the weight; the middle of a hole only; a
// rod without thickness; the looks of a whole turn not joined; from one side only. Each
// made a line here fail. Not caught: what other looks find as well (a blind hole known by its
// drilling, a filled one by its section, the lever's reach from outside).

// A light arm on a level pin comes down on a post and on nothing else, like a nutcracker: by the
// law of the lever a hand at its end squeezes a finger on the far arris of the post by the
// ratio of the two distances from the pin. Four times is common practice, no source.
func nutcracker(post float64) sheetOf {
	return sheetOf{ages: "3 and up", stock: []string{board("b", 30), board("thin", 18), board("tall", 46), dowelOf("rod", 8)},
		parts: []string{
			"base: {from: b, blank: [260, 80]}",
			"ear: {from: thin, blank: [40, 70], lies: {length: forward, right: face}, work: [{drill: {side: face, dia: 8, named: {pin: [20, 58]}}}]}",
			"arm: {from: thin, blank: [220, 30], work: [{drill: {side: edge, dia: 9, named: {pin: [12, 9]}}}]}",
			"post: {from: tall, blank: [20, 30]}",
			"pin: {from: rod}"},
		build: []string{
			"put: base",
			"{put: ear, as: right-ear, sits: {bottom: base.top, back: base.back, right: base.middle - 34}, glued: yes}",
			"{put: ear, as: left-ear, sits: {bottom: base.top, back: base.back, left: base.middle + 34}, glued: yes}",
			f("{put: post, sits: {bottom: base.top, front: right-ear.pin + %g, middle-across: base.middle}, glued: yes}", post),
			"{put: arm, sits: {pin: right-ear.pin, middle: base.middle}}",
			"hinge: {name: jaw, pin: pin, fixed: [right-ear.pin, left-ear.pin], runs: arm.pin}"}}
}

func TestLever(t *testing.T) {
	for _, c := range []struct {
		post float64
		want prove.Verdict
	}{{35, prove.Mind}, {45, prove.Mind}, {70, prove.Holds}, {190, prove.Holds}} {
		s := nutcracker(c.post)
		g := pinched(t, s.text())
		if g.Verdict != c.want {
			t.Errorf("a post %g mm from the pin: %v %g %s", c.post, g.Verdict, g.Value, g.Says)
		}
		ratio := 208.0 / c.post
		if g.Verdict == prove.Mind && (!near(g.Value, ratio, 0.12*ratio) || !strings.Contains(g.Says, "times as hard") || g.Source != "common practice, no source") {
			t.Errorf("a post %g mm from the pin: %g times, about %g is wanted: %s (%s)", c.post, g.Value, ratio, g.Says, g.Source)
		}
		if g.Verdict == prove.Holds && !strings.Contains(strings.Join(g.Notes, "; "), "times as hard") {
			t.Errorf("a post %g mm from the pin: the lever is not said: %v", c.post, g.Notes)
		}
	}
	// laid on its side the pin stands upright, and what is pushed gives way
	s := nutcracker(35)
	for i, p := range s.parts {
		p = strings.Replace(p, "blank: [260, 80]}", "blank: [260, 80], lies: {length: forward, left: face}}", 1)
		p = strings.Replace(p, "lies: {length: forward, right: face}", "lies: {length: forward, up: face}", 1)
		p = strings.Replace(p, "blank: [220, 30],", "blank: [220, 30], lies: {length: forward, left: face},", 1)
		s.parts[i] = strings.Replace(p, "blank: [20, 30]}", "blank: [20, 30], lies: {length: forward, left: face}}", 1)
	}
	turn := strings.NewReplacer("bottom: base.top", "right: base.left", "right: base.middle - 34", "top: base.middle - 15.5", "left: base.middle + 34", "bottom: base.middle + 15.5", "middle-across", "middle-up")
	for i, b := range s.build {
		s.build[i] = turn.Replace(b)
	}
	if g := pinched(t, s.text()); g.Verdict != prove.Holds {
		t.Errorf("upright: %v %s", g.Verdict, g.Says)
	}
}

// Holes in wheels run past the frame: ASTM F963 4.18.1, whose rationale names spokes that pass
// a frame (from memory). Rods of 5 and 13 mm; 0.25 kg as for all gaps; the fingertips of 16 CFR
// 1500.48(c), from memory.
func TestSpokes(t *testing.T) {
	text := example(t, "broken/child.pinch-holes-past-the-frame.yaml")
	for _, c := range []struct {
		name string
		swap []string
		want prove.Verdict
	}{
		{"as it is", nil, prove.Fails},
		{"at 3", []string{"2 and up", "3 and up"}, prove.Fails},
		{"at 8", []string{"2 and up", "8 and up"}, prove.Holds},
		{"too small for a rod", []string{"eye: 12", "eye: 4.9"}, prove.Holds},
		{"takes a rod, but no fingertip", []string{"eye: 12", "eye: 5.2"}, prove.Mind},
		{"takes the fingertip of 2 years", []string{"eye: 12", "eye: 5.7"}, prove.Fails},
		{"and not that of 3", []string{"eye: 12", "eye: 8.5", "2 and up", "3 and up"}, prove.Mind},
		{"light", []string{"wood: beech, form: board", "wood: western redcedar, form: board"}, prove.Mind},
		{"room behind", []string{"play: 1,", "play: 12.9,"}, prove.Fails},
		{"more room behind", []string{"play: 1,", "play: 13.1,"}, prove.Holds},
		{"blind", []string{"dia: eye,", "dia: eye, depth: 9,"}, prove.Holds},
		{"the frame stands behind all of it", []string{"[180, 50]", "[180, 50]", "thick: 30}", "thick: 68}", "[40, 15], front-axle: [140, 15]", "[40, 34], front-axle: [140, 34]"}, prove.Holds},
		{"sawn", []string{"- drill: {side: face, dia: eye, named: {eye-1: [middle, 48], eye-2: [47.12, 35.56], eye-3: [40.58, 15.44], eye-4: [19.42, 15.44], eye-5: [12.88, 35.56]}}", "- cut-out: {side: face, outline: {rect: [24, 42], size: [12, 12], r: 2}}"}, prove.Fails},
		{"only the outer side of a hole comes past the edge", []string{"eye-1: [middle, 48], eye-2: [47.12, 35.56], eye-3: [40.58, 15.44], eye-4: [19.42, 15.44], eye-5: [12.88, 35.56]", "eye-1: [middle, 45.5]"}, prove.Fails},
		{"and by less than a finger", []string{"eye-1: [middle, 48], eye-2: [47.12, 35.56], eye-3: [40.58, 15.44], eye-4: [19.42, 15.44], eye-5: [12.88, 35.56]", "eye-1: [middle, 43]"}, prove.Holds},
		{"sawn too small", []string{"- drill: {side: face, dia: eye, named: {eye-1: [middle, 48], eye-2: [47.12, 35.56], eye-3: [40.58, 15.44], eye-4: [19.42, 15.44], eye-5: [12.88, 35.56]}}", "- cut-out: {side: face, outline: {rect: [24, 42], size: [12, 4.8]}}"}, prove.Holds},
	} {
		got := strings.NewReplacer(c.swap...).Replace(text)
		g := pinched(t, got)
		if g.Verdict != c.want {
			t.Errorf("%s: %v %s", c.name, g.Verdict, g.Says)
		}
		if g.Verdict == prove.Fails && (len(g.Places) < 2 || !strings.Contains(g.Says, "shears")) {
			t.Errorf("%s: %s at %v", c.name, g.Says, g.Places)
		}
	}
	// a disc on the axle behind each wheel, or before it, closes its holes; a small one does not
	for _, c := range []struct {
		dia, outward string
		want         prove.Verdict
	}{{"54", "[disc, gap, wheel], gap: 0", prove.Holds}, {"54", "[wheel, gap, disc], gap: 0", prove.Holds}, {"20", "[disc, gap, wheel], gap: 0", prove.Fails}} {
		closed := strings.Replace(text, "outward: [wheel]", "outward: "+c.outward, 2)
		closed = strings.Replace(closed, "  axle: {from: rod}", "  disc: {from: sheet, disc: "+c.dia+", bore: dowel}\n  axle: {from: rod}", 1)
		closed = strings.Replace(closed, "  rod: {wood", "  sheet: {wood: birch plywood, form: sheet, thick: 5}\n  rod: {wood", 1)
		if g := pinched(t, closed); g.Verdict != c.want {
			t.Errorf("%s with a disc of %s mm: %v %s", c.outward, c.dia, g.Verdict, g.Says)
		}
	}
	// boards before the wheels keep fingers off
	skirts := strings.Replace(text, "  axle: {from: rod}", "  skirt: {from: thin, blank: [200, 60], lies: {length: forward, right: face}}\n  axle: {from: rod}", 1)
	skirts = strings.Replace(skirts, "- put: frame\n", "- put: frame\n  - {put: skirt, sits: {left: frame.right - 20, middle-along: frame.middle, bottom: frame.bottom - 15}, glue-to: [frame]}\n  - {put: skirt, as: other, sits: {right: frame.left + 20, middle-along: frame.middle, bottom: frame.bottom - 15}, glue-to: [frame]}\n", 1)
	if g := pinched(t, skirts); g.Verdict != prove.Holds {
		t.Errorf("skirts: %v %s", g.Verdict, g.Says)
	}
	// plugs fill them
	plugs := text[strings.Index(text, "dryfit: 1"):]
	plugs = strings.Replace(plugs, ", eye-2: [47.12, 35.56], eye-3: [40.58, 15.44], eye-4: [19.42, 15.44], eye-5: [12.88, 35.56]", "", 1)
	plugs = strings.Replace(plugs, "  axle: {from: rod}", "  plug: {from: fat}\n  axle: {from: rod}", 1)
	plugs = strings.Replace(plugs, "  rod: {wood", "  fat: {wood: beech, form: dowel, dia: 12}\n  rod: {wood", 1)
	open := pinched(t, plugs)
	plugs = strings.Replace(plugs, "must:", "  - peg: {use: plug, in: wheel.eye-1}\n  - peg: {use: plug, in: wheel.2.eye-1}\n  - peg: {use: plug, in: wheel.3.eye-1}\n  - peg: {use: plug, in: wheel.4.eye-1}\nmust:", 1)
	if g := pinched(t, plugs); open.Verdict != prove.Fails || g.Verdict != prove.Holds {
		t.Errorf("plugs: %v %s", g.Verdict, g.Says)
	}
	// behind a groove of 4 mm, or one 3 mm deep, no edge catches a finger
	for _, c := range []struct {
		wide, deep float64
		want       prove.Verdict
	}{{4, 10, prove.Holds}, {9, 10, prove.Fails}, {9, 3, prove.Holds}, {9, 5.1, prove.Fails}} {
		big := strings.NewReplacer("thick: 30}", "thick: 68}", "[40, 15], front-axle: [140, 15]", "[40, 34], front-axle: [140, 34]", "    work:\n      - drill: {side: edge", f("    work:\n      - groove: {side: edge, from: [40, 44], to: [40, 68], wide: %g, depth: %g}\n      - drill: {side: edge", c.wide, c.deep)).Replace(text)
		if g := pinched(t, big); g.Verdict != c.want {
			t.Errorf("a groove of %g by %g mm: %v %s", c.wide, c.deep, g.Verdict, g.Says)
		}
	}
}

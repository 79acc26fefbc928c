package prove_test

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"reflect"
	"sort"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/prove"
)

func tram(t testing.TB) string {
	t.Helper()
	b, err := os.ReadFile("../examples/quay-tram.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// signs checks what every finding promises.
func signs(t *testing.T, rep *prove.Report) {
	t.Helper()
	seen := map[string]bool{}
	for _, f := range rep.Findings {
		if f.ID != f.Check+":"+f.About || seen[f.ID] {
			t.Errorf("id %q of check %q about %q, twice: %v", f.ID, f.Check, f.About, seen[f.ID])
		}
		seen[f.ID] = true
		if f.LimitOp != ">=" && f.LimitOp != "<=" || f.Source == "" || f.Says == "" || strings.HasSuffix(f.Says, ".") {
			t.Errorf("%s: op %q, source %q, says %q", f.ID, f.LimitOp, f.Source, f.Says)
		}
		if bad := f.Verdict == prove.Fails || f.Verdict == prove.CannotTell; bad && !(f.Margin < 0) || f.Verdict == prove.Holds && !(f.Margin >= 0) {
			t.Errorf("%s: %v with margin %g (value %g, limit %g): %s", f.ID, f.Verdict, f.Margin, f.Value, f.Limit, f.Says)
		}
		for _, p := range f.Places {
			if p.Piece == "" || p.Line < 1 || p.Col < 1 {
				t.Errorf("%s: place %+v", f.ID, p)
			}
		}
	}
	for _, c := range prove.Checks {
		found := false
		for id := range seen {
			found = found || strings.HasPrefix(id, c.ID+":")
		}
		if !found {
			t.Errorf("%s found nothing, not even that it holds", c.ID)
		}
	}
}

func TestFindings(t *testing.T) {
	tight, short := inches(), inches()
	tight.hole, short.axle = "1/4", "length: 1 3/4, proud: 1/8"
	for name, text := range map[string]string{"tram": tram(t), "cart": inches().text(), "tight": tight.text(), "short": short.text(),
		"hitch": hitch{15, 20, 30, 40}.sheet().text(), "bench": bench(.5, 0, 2, 0).text(), "ball": smallToy("s: {wood: maple, form: ball, dia: 1}", "from: s", "18 months and up", true)} {
		t.Run(name, func(t *testing.T) { signs(t, proof(t, text)) })
	}
	rep := proof(t, tram(t))
	if rep.Verdict != prove.Holds || !rep.Passes() {
		t.Errorf("the tram: %v, mind %v fails %v cannot tell %v", rep.Verdict, ids(rep, prove.Mind), ids(rep, prove.Fails), ids(rep, prove.CannotTell))
	}
	if len(rep.NotAsked) == 0 {
		t.Error("silent about the checks that are not made")
	}
	for _, n := range rep.NotAsked {
		for _, c := range prove.Checks {
			if c.ID == n.Check {
				t.Errorf("%s is made and not asked", n.Check)
			}
		}
	}
}

// sweep is a size on its way through a range, and the finding to follow.
type sweep struct {
	name, id string
	from, to float64
	slope    float64 // the most that the margin may change for 1 of the size
	text     func(x float64) string
	dev      func(x float64) (string, assembly.Deviations)
	both     bool // it has to hold somewhere and fail somewhere
	jump     float64
}

// Margins are continuous in the sizes: no step between neighbours is larger than
// the slope allows, and the sign agrees with the verdict all along.
func TestMarginsAreContinuous(t *testing.T) {
	cartWith := func(said string) func(float64) string {
		return func(x float64) string { k := inches(); k.axle = f(said, x); return k.text() }
	}
	twins := func(said string) func(float64) string {
		return func(x float64) string {
			k := inches()
			k.axle = f(said, x)
			return strings.ReplaceAll(k.text(), "outward: [wheel]", "outward: [wheel, gap, wheel]")
		}
	}
	glued := func(x float64) string {
		return sheetOf{stock: []string{board("b", 20), dowelOf("rod", 6.35)},
			parts: []string{f("block: {from: b, blank: [80, 40], work: [{drill: {side: face, dia: %g, depth: 12, named: {socket: [20, 20]}}}]}", x), "post: {from: rod}"},
			build: []string{"put: block", "peg: {use: post, in: block.socket, proud: 30}"}}.text()
	}
	in := 25.4
	for _, s := range []sweep{
		{name: "axle length, play follows", id: "fit.reach:axle", from: 1.8, to: 2.3, slope: in / 2, text: cartWith("length: %g, proud: 1/8"), both: true},
		{name: "axle length, proud follows", id: "fit.reach:axle", from: 1.2, to: 2.3, slope: in / 2, text: cartWith("length: %g, play: 1/32"), both: true},
		{name: "play", id: "fit.reach:axle", from: -0.1, to: 0.2, slope: in, text: cartWith("play: %g, proud: 1/8"), both: true},
		{name: "proud", id: "fit.reach:axle", from: -0.4, to: 0.2, slope: in, text: cartWith("play: 1/32, proud: %g"), both: true},
		{name: "twins, gap follows", id: "fit.reach:axle", from: 2.2, to: 2.9, slope: in / 2, text: twins("length: %g, play: 1/32, proud: 1/8"), both: true},
		{name: "running hole", id: "fit.dowel:axle~frame/rear-axle", from: .24, to: .4, slope: in, text: func(x float64) string { k := inches(); k.hole = f("%g", x); return k.text() }, both: true},
		{name: "glued hole", id: "fit.dowel:post~block/socket", from: 6, to: 7, slope: 1, text: glued, both: true},
		{name: "a mudguard comes near a wheel", id: "move.wheels:axle", from: -3, to: 24, slope: 1, both: true, text: func(x float64) string {
			k := inches()
			s := k.sheet()
			s.stock = append(s.stock, board("guard-wood", ".1"))
			s.parts = append(s.parts, "guard: {from: guard-wood, blank: [.5, .2], lies: {length: left, up: face}}")
			// beside the frame, behind the rear wheel, which is 1/2 in behind its axle
			s.build = append(s.build, f("{put: guard, sits: {right: frame.left, front: frame.back + 1/2 - %g / 25.4, bottom: frame.bottom + .2}, glued: yes}", x))
			return strings.ReplaceAll(s.text(), "- -", "+ ")
		}},
		{name: "a guard over the wheel", id: "move.wheels:axle", from: -3, to: 10, slope: 1, both: true, text: func(x float64) string {
			k := inches()
			s := k.sheet()
			s.parts = append(s.parts, "guard: {from: beech, blank: [.5, .2], lies: {length: forward, up: edge}}")
			s.build = append(s.build, f("{put: guard, sits: {right: frame.left, middle-along: frame.rear-axle, bottom: frame.rear-axle + 1/2 + %g / 25.4}, glue-to: [frame]}", x))
			return strings.ReplaceAll(s.text(), "+ -", "- ")
		}},
		{name: "rear face", id: "move.hinge:coupling", from: 11, to: 25, slope: deg(1 / math.Sqrt(1300-25.1*25.1)), text: func(x float64) string {
			h := hitch{x, 20, 30, 60}.sheet()
			h.must = []string{"{swings: coupling, at-least: 60°, each-way: yes}"}
			return h.text()
		}, both: true},
		{name: "height", id: "balance:toy", from: 40, to: 160, slope: 1, text: func(x float64) string {
			return sheetOf{stock: []string{board("b", x)}, parts: []string{"block: {from: b, blank: [200, 50]}"}, build: []string{"put: block"}, must: []string{"{stands-on-slope: 25°}"}}.text()
		}, both: true},
		{name: "overhang", id: "balance:toy", from: -60, to: 40, slope: 2, text: func(x float64) string {
			return strings.ReplaceAll(sheetOf{stock: []string{board("b", 20)}, parts: []string{"foot: {from: b, blank: [60, 60]}", "top: {from: b, blank: [200, 60]}"},
				build: []string{"put: foot", f("{put: top, sits: {bottom: foot.top, middle-along: foot.middle + %g, middle-across: foot.middle}, glued: yes}", 60+x)}, must: []string{"{stands-on-slope: 15°}"}}.text(), "+ -", "- ")
		}, both: true},
		{name: "one wheel's radius", id: "move.ground:wheels", from: 0, to: 1.5, slope: 1.1, dev: func(x float64) (string, assembly.Deviations) {
			return bench(.6, 0, 0).text(), assembly.Deviations{{Piece: "wheel.2", Op: "blank"}: {D: r3.Vec{X: 2 * x, Y: 2 * x}}}
		}, both: true},
		{name: "clearance", id: "move.ground:clearance", from: -1, to: 4, slope: 1, text: func(x float64) string {
			return strings.ReplaceAll(bench(.5, 0, 0).text(), "disc: 40", f("disc: %g", 20+2*x))
		}, both: true},
		{name: "hole out of line", id: "fit.holes:axle", from: 0, to: 2, slope: 1, dev: twoPosts, both: true},
		{name: "pin", id: "fit.reach:coupling-pin", from: 2, to: 20, slope: 1, text: func(x float64) string {
			return strings.ReplaceAll(hitch{15, 20, 30, 40}.sheet().text(), "runs: trail.eye,", f("runs: trail.eye, length: %g,", x))
		}, both: true},
		{name: "loose cube", id: "child.small:loose", from: .6, to: 1.2, slope: 1.5 * in, text: func(x float64) string {
			return smallToy(board("s", x), f("from: s, blank: [%g, %g]", x, x), "18 months and up", false)
		}, both: true, jump: 0.02},
		{name: "loose disc", id: "child.small:loose", from: 1, to: 1.5, slope: in, text: func(x float64) string {
			return smallToy(board("s", .25), f("from: s, disc: %g", x), "18 months and up", false)
		}, both: true, jump: 0.02},
	} {
		t.Run(s.name, func(t *testing.T) {
			const n = 60
			last := math.NaN()
			holds, fails := false, false
			for i := 0; i <= n; i++ {
				x := s.from + (s.to-s.from)*float64(i)/n
				x = math.Round(x*1e6) / 1e6
				var rep *prove.Report
				if s.dev != nil {
					text, dev := s.dev(x)
					rep = built(t, text, dev)
				} else {
					rep = proof(t, s.text(x))
				}
				g := find(t, rep, s.id)
				bad := g.Verdict == prove.Fails || g.Verdict == prove.CannotTell
				holds, fails = holds || !bad, fails || bad
				if bad != (g.Margin < 0) && (g.Verdict != prove.Mind || s.id[:7] == "fit.rea") {
					t.Errorf("at %g: %v with margin %g: %s", x, g.Verdict, g.Margin, g.Says)
				}
				if d := math.Abs(g.Margin - last); d > s.slope*(s.to-s.from)/n*1.02+0.045+s.jump {
					t.Errorf("at %g: margin jumps from %g to %g: %s", x, last, g.Margin, g.Says)
				}
				last = g.Margin
			}
			if s.both && (!holds || !fails) {
				t.Errorf("holds %v, fails %v: the range shows only one side", holds, fails)
			}
		})
	}
}

// twoPosts is an axle in two posts of one base, the hole of one drilled x off.
func twoPosts(x float64) (string, assembly.Deviations) {
	s := sheetOf{stock: []string{board("b", 20), board("thin", 8), dowelOf("rod", 6)},
		parts: []string{"base: {from: b, blank: [100, 60]}",
			"post: {from: b, blank: [40, 30], lies: {length: up, right: face}, work: [{drill: {side: face, dia: 7, named: {hole: [10, middle]}}}]}",
			"wheel: {from: thin, disc: 80, bore: 6}", "axle: {from: rod}"},
		build: []string{"put: base", "{put: post, sits: {bottom: base.top, right: base.right, middle: base.middle}, glued: yes}",
			"{put: post, as: other, sits: {bottom: base.top, left: base.left, middle: base.middle}, glued: yes}",
			"wheels: {in: [post.hole, other.hole], axle: axle, outward: [wheel], play: 1, proud: 2}"}}
	return s.text(), assembly.Deviations{{Piece: "other", Op: "work.1.1"}: {D: r3.Vec{X: x}}}
}

// Deviations: none is as drawn; a hole 0.3 mm off is 0.3 mm out of line; a board
// 0.2 mm thicker is that much wood, and the axle in it has that much less play.
func TestDeviations(t *testing.T) {
	text, _ := twoPosts(0)
	asDrawn := proof(t, text)
	for _, dev := range []assembly.Deviations{nil, {}, {{Piece: "nobody", Op: "blank"}: {D: r3.Vec{X: 5}}}} {
		if rep := built(t, text, dev); !reflect.DeepEqual(rep.Findings, asDrawn.Findings) {
			t.Errorf("%v differs from as drawn", dev)
		}
	}
	for _, x := range []float64{0.3, -0.3, 1} {
		_, dev := twoPosts(x)
		h := find(t, built(t, text, dev), "fit.holes:axle")
		// both holes have 1 mm over the axle: half of each may be used up
		if !near(h.Value, math.Abs(x), 1e-4) || !near(h.Limit, 1.02, 1e-4) || h.Verdict != prove.Holds {
			t.Errorf("%g off: %v %g of %g", x, h.Verdict, h.Value, h.Limit)
		}
	}
	dev := assembly.Deviations{{Piece: "other", Op: "work.1.1"}: {Dia: -1.2}}
	if d := find(t, built(t, text, dev), "fit.dowel:axle~other/hole"); d.Verdict != prove.Fails || !near(d.Value, -0.2, 1e-4) {
		t.Errorf("a hole bored small: %v %g", d.Verdict, d.Value)
	}
	// The axle is cut to the length of the drawing; the frame comes out 0.2 thick.
	k := inches()
	k.axle = "length: 2 1/16, proud: 1/8" // 1/32 of play
	thick := built(t, k.text(), assembly.Deviations{{Piece: "frame", Op: "blank"}: {D: r3.Vec{Y: 0.2}}})
	if r := find(t, thick, "fit.reach:axle"); !near(r.Value, 25.4/32-0.1, 1e-4) {
		t.Errorf("play %g", r.Value)
	}
	heavier := assembly.Deviations{{Piece: "frame", Op: "blank"}: {D: r3.Vec{Z: 0.2}}}
	frame, plain := built(t, k.text(), heavier), proof(t, k.text())
	if d := frame.MassKg - plain.MassKg; !near(d, 0.2*5*1.25*25.4*25.4*1e-9*0.64*1.12*1000, 1e-6) {
		t.Errorf("0.2 mm of board weigh %g kg", d)
	}
	// A lid put down 0.3 mm too high is not glued to anything.
	two := sheetOf{stock: []string{board("b", 20)}, parts: []string{"box: {from: b, blank: [60, 50]}"}, build: []string{"put: box", "{put: box, as: lid, sits: {bottom: box.top, back: box.back, left: box.left}, glued: yes}"}}.text()
	off := built(t, two, assembly.Deviations{{Piece: "lid", Op: "sits"}: {D: r3.Vec{Z: 0.3}}})
	if c := find(t, off, "fit.contact:lid~box"); c.Verdict != prove.Fails || !near(c.Margin, -0.3, 1e-3) {
		t.Errorf("0.3 up: %v, margin %g", c.Verdict, c.Margin)
	}
	sunk := built(t, two, assembly.Deviations{{Piece: "lid", Op: "sits"}: {D: r3.Vec{Z: -0.3}}})
	if c := find(t, sunk, "fit.overlap:box~lid"); c.Verdict != prove.Fails || !near(c.Value, 0.3, 1e-3) {
		t.Errorf("0.3 down: %v %g", c.Verdict, c.Value)
	}
}

// A load may be left out: what is only wrong without it is said so, and nothing
// that is the same.
func TestLeaveOut(t *testing.T) {
	// The load ballasts the back; without it the long nose tips the toy over.
	s := sheetOf{stock: []string{board("b", 20), board("heavy", 60)},
		parts: []string{"foot: {from: b, blank: [60, 60]}", "nose: {from: b, blank: [170, 60]}", "load: {from: heavy, blank: [60, 60]}"},
		build: []string{"put: foot", "{put: nose, sits: {bottom: foot.top, back: foot.back, middle: foot.middle}, glued: yes}",
			"{put: load, sits: {bottom: nose.top, back: nose.back, middle: nose.middle}, may-leave-out: load}"},
		must: []string{"{stands-on-slope: 5°}"}}
	rep := proof(t, s.text())
	with, without := find(t, rep, "balance:toy"), find(t, rep, "balance:toy without load")
	if with.Verdict != prove.Holds || without.Verdict != prove.Fails || !strings.HasPrefix(without.Says, "without load: ") || rep.Verdict != prove.Fails || rep.Passes() {
		t.Errorf("with %v, without %v, all %v", with.Verdict, without.Verdict, rep.Verdict)
	}
	for _, f := range rep.Findings {
		if strings.Contains(f.About, "without") && f.ID != without.ID {
			t.Errorf("also %s", f.ID)
		}
	}
	// A load that changes nothing for the worse adds nothing, and one that is itself
	// the trouble is found with it.
	s.parts[1] = "nose: {from: b, blank: [60, 60]}"
	for _, f := range proof(t, s.text()).Findings {
		if strings.Contains(f.About, "without") {
			t.Errorf("the same, yet %s: %s", f.ID, f.Says)
		}
	}
	// Two groups: each alone, and both.
	s.build[2] = "{put: load, sits: {bottom: nose.top, back: nose.back, right: nose.right}, may-leave-out: a}"
	s.parts[1], s.parts[2] = "nose: {from: b, blank: [170, 60]}", "load: {from: heavy, blank: [60, 30]}"
	s.build = append(s.build, "{put: load, sits: {bottom: nose.top, back: nose.back, left: nose.left}, may-leave-out: b}")
	both := proof(t, s.text())
	if g := find(t, both, "balance:toy without a and b"); g.Verdict != prove.Fails {
		t.Errorf("without both: %v", g.Verdict)
	}
}

// A waived finding is counted as waived, says what it would be and why, and the
// toy passes; a waiver of something else changes nothing.
func TestWaiver(t *testing.T) {
	k := inches()
	k.hole = "1/4"
	s := k.sheet()
	bad := proof(t, s.text())
	if bad.Passes() {
		t.Fatal("an axle too tight to turn passes")
	}
	for _, id := range ids(bad, prove.Fails) {
		check, about, _ := strings.Cut(id, ":")
		s.waive = append(s.waive, f("{check: %s, about: %s, reason: it is to stand on a shelf}", check, about))
	}
	rep := proof(t, s.text())
	if !rep.Passes() || rep.Verdict == prove.Fails || len(ids(rep, prove.Waived)) != len(ids(bad, prove.Fails)) {
		t.Errorf("%v, waived %v, fails %v", rep.Verdict, ids(rep, prove.Waived), ids(rep, prove.Fails))
	}
	w := find(t, rep, "fit.dowel:axle~frame/rear-axle")
	if notes := strings.Join(w.Notes, "\n"); w.Verdict.String() != "waived" || w.Margin >= 0 || !strings.Contains(notes, `would be "fails"; waived: it is to stand on a shelf`) {
		t.Errorf("%v margin %g %q", w.Verdict, w.Margin, w.Notes)
	}
	s.waive = s.waive[1:]
	if proof(t, s.text()).Passes() {
		t.Error("one waiver covers two findings")
	}
	s.waive = []string{"{check: balance, about: toy, reason: no reason at all}"}
	if rep := proof(t, s.text()); rep.Passes() || find(t, rep, "balance:toy").Verdict != prove.Holds {
		t.Error("a waiver of what holds does something")
	}
}

// The same answer, whatever was proved before, with a cache or without.
func TestSameAnswer(t *testing.T) {
	texts := []string{tram(t), inches().text(), hitch{15, 20, 30, 40}.sheet().text(), bench(.5, 0, 1, 0).text()}
	show := func(rep *prove.Report) string { return fmt.Sprintf("%+v", *rep) }
	var want []string
	for _, x := range texts {
		want = append(want, show(proof(t, x)))
	}
	cache := &assembly.Cache{}
	for _, seed := range []int64{1, 2} {
		order := rand.New(rand.NewSource(seed)).Perm(len(texts))
		for _, i := range order {
			rep, probs := prove.Run(read(t, texts[i]), cache)
			if len(probs) > 0 || show(rep) != want[i] {
				t.Errorf("toy %d differs in order %v", i, order)
			}
		}
	}
}

// What comes later in the build, or under other names, changes no number: the
// same two carts, in either order of their parts and stock.
func TestOrderOfTheFile(t *testing.T) {
	s := inches().sheet()
	a := proof(t, s.text())
	sort.Sort(sort.Reverse(sort.StringSlice(s.parts)))
	sort.Sort(sort.Reverse(sort.StringSlice(s.stock)))
	b := proof(t, s.text())
	for i := range a.Findings {
		x, y := a.Findings[i], b.Findings[i]
		for k := range x.Places {
			x.Places[k].Line, y.Places[k].Line = 0, 0
		}
		if !reflect.DeepEqual(x, y) {
			t.Errorf("%s: %+v, %+v", x.ID, x, y)
		}
	}
}

package prove_test

import (
	"math"
	"math/rand"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/prove"
)

// The proofs that nothing gets out, against closed forms and against a search that
// only moves solids: straight and turning, at random, a fifth of a millimetre at a
// time. Ways out that need a turn are gone through by hand.
//
// The proofs were changed by hand on a scratch copy, one thing at a time: the rim not
// asked for; heads of any width; one head enough; glued holes not filled; no play; a
// rod's cone that does not narrow, or wider than the rod; engaged for ever as drawn; a
// rod longer than it is; one stop enough; all holes on the line taken for guides; cells
// of the ball without size; a ball too large, or as large as the box; shifts or turns
// that cost nothing; no turns in the cells; outside counted as inside; only rods
// proved; no shift taken for no motion. Each made a test fail.

// wander tries to get some pieces out from among others, and tells whether it did.
func wander(rng *rand.Rand, m *assembly.Model, moving, fixed []int, drives int) bool {
	var in, about solid.Body
	for _, i := range moving {
		in = in.Union(m.Pieces[i].Bored())
	}
	for _, j := range fixed {
		about = about.Union(m.Pieces[j].Bored())
	}
	in, about = solid.NewBody(in.Pieces), solid.NewBody(about.Pieces)
	mid, far := in.Bounds().Center(), in.Bounds().Size().Len()/2
	_, axis, _ := m.Pieces[moving[0]].Axis()
	here := r3.Shift(r3.Vec{})
	for _, d := range []r3.Vec{r3.X, r3.Y, r3.Z, r3.X.Neg(), r3.Y.Neg(), r3.Z.Neg()} { // straight first
		for k := 0; k < 600; k++ {
			b := in.Transform(r3.Shift(d.Scale(0.2 * float64(k))))
			if k > 0 && solid.Penetrates(about, b, tol.Touch) {
				break
			}
			if !b.Bounds().Meets(about.Bounds()) {
				return true
			}
		}
	}
	for range drives {
		// along an axis, anywhere, or turning about an axis, with some of both
		way, turn := r3.Vec{}, r3.Vec{}
		dir := func() r3.Vec {
			v := [...]r3.Vec{r3.X, r3.Y, r3.Z, here.Dir(axis), {X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}}[rng.Intn(5)]
			return v.Unit().Scale(float64(2*rng.Intn(2) - 1))
		}
		if rng.Intn(3) > 0 {
			way = dir().Scale(0.2)
		}
		if way == (r3.Vec{}) || rng.Intn(4) == 0 {
			turn = dir()
		}
		most := 1 + rng.Intn(400)
		for range most {
			next := here
			if turn != (r3.Vec{}) {
				next = next.Then(r3.Turn(here.Point(mid), turn, 0.2/far))
			}
			next = next.Then(r3.Shift(way))
			b := in.Transform(next)
			if solid.Penetrates(about, b, tol.Touch) {
				break
			}
			here = next
			if !b.Bounds().Meets(about.Bounds()) {
				return true
			}
		}
	}
	return false
}

// cases is how many are tried: a third when time is short, and then they prove little.
func cases(n int) int {
	if testing.Short() {
		return n / 3
	}
	return n
}

func piecesOf(m *assembly.Model, ids ...string) (out []int) {
	for _, id := range ids {
		out = append(out, m.Find(id)...)
	}
	return out
}

// spool is a plate with a hole, a rod through it, and a head on either end.
func spool(plate, hole, rod float64, heads [2]string, more string) sheetOf {
	return sheetOf{stock: []string{board("b", plate), board("thin", 6), dowelOf("rod", rod)},
		parts: []string{f("plate: {from: b, blank: [40, 40], lies: {length: forward, right: face}, work: [{drill: {side: face, dia: %g, named: {hole: [middle, middle]}}}%s]}", hole, more),
			f("disc: {from: thin, disc: %s, bore: %g, lies: {length: forward, left: face}}", heads[0], rod),
			f("other: {from: thin, disc: %s, bore: %g, lies: {length: forward, left: face}}", heads[1], rod),
			f("axle: {from: rod, length: %g, lies: {length: left, up: face}}", plate+20)},
		glueUps: []string{"spool: {pieces: [{put: axle}, {put: disc, sits: {bore: axle.axis, right: axle.right + 1}, glue-to: [axle]}, {put: other, sits: {bore: axle.axis, left: axle.left - 1}, glue-to: [axle]}]}"},
		build:   []string{"put: plate", "{put: spool, sits: {middle-along: plate.hole, middle-up: plate.hole, middle-across: plate.middle}}"}}
}

// A spool cannot leave a hole that is narrower than its heads, as anyone knows; one
// head that passes is enough to let it go, and so is a way sawn into the hole.
func TestOrderThreaded(t *testing.T) {
	for _, c := range []struct {
		name   string
		hole   float64
		heads  [2]string
		more   string
		parted bool
	}{
		{"wide heads", 9, [2]string{"30", "30"}, "", false},
		{"just wider", 9, [2]string{"10", "10"}, "", false},
		{"one just narrower", 9, [2]string{"30", "8.9"}, "", true},
		{"the other just narrower", 9, [2]string{"8.9", "30"}, "", true},
		{"a way in from the side", 9, [2]string{"30", "30"}, ", {notch: {side: face, at: [15, 0], size: [10, 20]}}", true},
	} {
		// glued on with a tenth to spare
		m := model(t, strings.ReplaceAll(spool(10, c.hole, 8, c.heads, c.more).text(), "bore: 8,", "bore: 8.1,"))
		a, b := piecesOf(m, "spool"), piecesOf(m, "plate")
		got := prove.Shut(m, a, b)
		if got.Thread == c.parted || got.Rod || got.Ball || c.parted && got.Any() {
			t.Errorf("%s: %+v", c.name, got)
		}
		if back := prove.Shut(m, b, a); back.Thread {
			t.Errorf("%s: the plate has no rod: %+v", c.name, back)
		}
	}
}

// Random spools: none that is said never to come off does.
func TestOrderThreadedSearch(t *testing.T) {
	rng := rand.New(rand.NewSource(11))
	var shut, out int
	for range cases(20) {
		hole := 9 + 3*rng.Float64()
		wide := hole - 2 + 3.5*rng.Float64()
		head := func() string { return f("%.2f", math.Max(8.5, wide+0.4*rng.Float64())) }
		m := model(t, spool(6+8*rng.Float64(), hole, 8, [2]string{head(), head()}, "").text())
		a, b := piecesOf(m, "spool"), piecesOf(m, "plate")
		said, came := prove.Shut(m, a, b).Thread, wander(rng, m, a, b, 60)
		if said && came {
			t.Errorf("hole %g: said to be shut in, and came out\n%+v", hole, m.Toy.Parts)
		}
		if said {
			shut++
		}
		if came {
			out++
		}
	}
	if t.Logf("%d shut in, %d came out", shut, out); !testing.Short() && (shut < 3 || out < 3) {
		t.Error("too alike to tell anything")
	}
}

// blind is a rod between two cheeks with blind holes in one glue-up: W apart, deep d
// each, the holes wider than the rod by twice play.
func blind(w, d1, d2, long, play float64) sheetOf {
	return sheetOf{stock: []string{board("b", 20), dowelOf("rod", 8)},
		parts: []string{
			f("right: {from: b, blank: [60, 40], lies: {length: forward, left: face}, work: [{drill: {side: face, dia: %g, depth: %g, named: {hole: [middle, middle]}}}]}", 8+2*play, d1),
			f("left: {from: b, blank: [60, 40], lies: {length: forward, right: face}, work: [{drill: {side: face, dia: %g, depth: %g, named: {hole: [middle, middle]}}}]}", 8+2*play, d2),
			f("base: {from: b, blank: [60, %g]}", w+40),
			f("bar: {from: rod, length: %g, lies: {length: left, up: face}}", long)},
		build: []string{"put: base",
			"{put: right, sits: {bottom: base.top, right: base.right, back: base.back}, glued: yes}",
			"{put: left, sits: {bottom: base.top, left: base.left, back: base.back}, glued: yes}",
			f("{put: bar, sits: {middle-along: right.hole, middle-up: right.hole, right: right.left - %g}}", d1-0.5)}}
}

// The rule for an axle in two blind holes: in for good if L cos(lean) > W + max(d1, d2),
// the lean of play 2c over W. One that is shorter than W comes out.
func TestOrderBlindAxle(t *testing.T) {
	for _, c := range []struct{ w, d1, d2, over, play float64 }{
		{50, 12, 12, 2, 0.25}, {50, 12, 12, -13, 0.25}, {50, 12, 8, 3, 0.25}, {50, 12, 8, -12.5, 0.25}, {30, 10, 12, 3, 0.4}, {30, 10, 12, -12.5, 0.4},
	} {
		lean := math.Atan2(2*c.play, c.w)
		long := (c.w+math.Max(c.d1, c.d2))/math.Cos(lean) + c.over
		m := model(t, blind(c.w, c.d1, c.d2, long, c.play).text())
		a, b := piecesOf(m, "bar"), piecesOf(m, "base", "right", "left")
		got := prove.Shut(m, a, b)
		if got.Rod != (c.over > 0) || c.over < 0 && got.Any() {
			t.Errorf("%+v, %g long: %+v", c, long, got)
		}
	}
}

// Random rods in a plate between two walls, of which one is lower: none that is said
// to be shut in comes out.
func TestOrderHeldRodSearch(t *testing.T) {
	rng := rand.New(rand.NewSource(7))
	var shut, out int
	for range cases(30) {
		plate, play := 4+10*rng.Float64(), 0.1+1.4*rng.Float64()
		gap, top := 4+20*rng.Float64(), -5+8*rng.Float64()
		s := walls(plate, play, gap, plate+2*gap*rng.Float64(), top)
		m := model(t, s.text())
		a, b := piecesOf(m, "bar"), piecesOf(m, "base", "plate", "low", "high")
		said, came := prove.Shut(m, a, b).Rod, wander(rng, m, a, b, 80)
		if said && came {
			t.Errorf("said to be shut in, and came out\n%s", s.text())
		}
		if said {
			shut++
		}
		if came {
			out++
		}
	}
	if t.Logf("%d shut in, %d came out", shut, out); !testing.Short() && (shut < 5 || out < 5) {
		t.Error("too alike to tell anything")
	}
}

// A bar that no shift lets over the low wall, but that leans in its loose hole and is
// drawn over it. The lean of play 2c over the plate lifts it at the wall by
// c + 2c gap/plate. In a plate of 10 mm that is 4.5 mm with 1.5 mm of play, where 3 mm
// are wanted (radius 4, wall 1 below the line), and only 0.9 with 0.3 mm. In one of
// 20 mm it is 3 mm with 1.5 mm of play, more than the play, where 2 are wanted.
func TestOrderBarLeansOut(t *testing.T) {
	for _, c := range []struct {
		plate, play, long, top float64
		shut                   bool
	}{{10, 1.5, 26, -1, false}, {10, 0.3, 26, -1, true}, {20, 1.5, 34, -2, false}, {20, 0.3, 34, -2, true}} {
		m := model(t, walls(c.plate, c.play, 10, c.long, c.top).text())
		a, b := piecesOf(m, "bar"), piecesOf(m, "base", "plate", "low", "high")
		if got := prove.Shut(m, a, b); got.Rod != c.shut || !c.shut && got.Any() {
			t.Errorf("%+v: %+v", c, got)
		}
		var wood solid.Body
		for _, j := range b {
			wood = wood.Union(m.Pieces[j].Bored())
		}
		wood = solid.NewBody(wood.Pieces)
		bar := m.Pieces[a[0]].Bored()
		mid := bar.Bounds().Center()
		// lean until it touches, then along itself
		at, came := 0.0, false
		free := func(lean, along float64) bool {
			turn := r3.Turn(mid, r3.X, -lean)
			return !solid.Penetrates(wood, bar.Transform(turn.Then(r3.Shift(turn.Dir(r3.Y).Scale(-along)))), tol.Touch)
		}
		for at < 1 && free(at+0.005, 0) {
			at += 0.005
		}
		for s := 0.0; free(at-0.02, s) && !came; s += 0.25 {
			came = s > 70
		}
		if came == c.shut {
			t.Errorf("%+v: leaning by %.3f it comes out: %v", c, at, came)
		}
	}
}

// walls is a plate with a hole, 20 mm up, and a wall on either side, the low one up to
// the middle of the hole and top higher.
func walls(plate, play, gap, long, top float64) sheetOf {
	lo := plate/2 + gap
	return sheetOf{stock: []string{board("b", 10), board("p", plate), dowelOf("rod", 8)},
		parts: []string{
			f("base: {from: b, blank: [30, %g]}", 2*lo+20),
			f("plate: {from: p, blank: [30, 40], lies: {length: forward, right: face}, work: [{drill: {side: face, dia: %g, named: {hole: [middle, 20]}}}]}", 8+2*play),
			f("low: {from: b, blank: [30, %g], lies: {length: forward, right: face}}", 20+top),
			"high: {from: b, blank: [30, 40], lies: {length: forward, right: face}}",
			f("bar: {from: rod, length: %g, lies: {length: left, up: face}}", math.Min(long, 2*lo-0.5))},
		build: []string{"put: base",
			"{put: plate, sits: {bottom: base.top, middle: base.middle, back: base.back}, glued: yes}",
			"{put: low, sits: {bottom: base.top, right: base.right, back: base.back}, glued: yes}",
			"{put: high, sits: {bottom: base.top, left: base.left, back: base.back}, glued: yes}",
			"{put: bar, sits: {middle-along: plate.hole, middle-up: plate.hole, middle-across: plate.middle}}"}}
}

// chest is a box with a window in its front, and a block in the middle of it.
func chest(window [2]float64, block [3]float64) sheetOf {
	return sheetOf{stock: []string{board("b", 10), board("blk", block[2])},
		parts: []string{"floor: {from: b, blank: [100, 80]}", "side: {from: b, blank: [100, 40], lies: {length: forward, right: face}}",
			"end: {from: b, blank: [60, 40], lies: {length: left, forward: face}}",
			f("front: {from: b, blank: [60, 40], lies: {length: left, forward: face}, work: [{notch: {side: face, at: [%g, %g], size: [%g, %g]}}]}", 30-window[0]/2, 20-window[1]/2, window[0], window[1]),
			f("block: {from: blk, blank: [%g, %g], lies: {length: left, up: face}}", block[0], block[1])},
		build: []string{"put: floor",
			"{put: side, as: right, sits: {bottom: floor.top, right: floor.right, back: floor.back}, glued: yes}",
			"{put: side, as: left, sits: {bottom: floor.top, left: floor.left, back: floor.back}, glued: yes}",
			"{put: end, sits: {bottom: floor.top, back: floor.back, middle: floor.middle}, glued: yes}",
			"{put: front, sits: {bottom: floor.top, front: floor.front, middle: floor.middle}, glued: yes}",
			"{put: floor, as: lid, sits: {bottom: front.top, back: floor.back, middle: floor.middle}, glued: yes}",
			"{put: block, sits: {middle: floor.middle, middle-along: floor.middle, middle-up: front.middle}}"}}
}

// A block whose every side is longer than the window's short one is shut in, whichever
// way it is turned. A plank that stands crosswise cannot be shifted out of a window
// that it fits lengthwise: turned a quarter, it can, so nothing is proved.
func TestOrderBallShut(t *testing.T) {
	for _, c := range []struct {
		window        [2]float64
		block         [3]float64
		ball, noShift bool
	}{
		{[2]float64{40, 30}, [3]float64{35, 35, 35}, true, true},
		{[2]float64{36, 31}, [3]float64{35, 35, 35}, true, true},
		{[2]float64{36, 36}, [3]float64{35, 35, 35}, false, false},
		{[2]float64{24, 12}, [3]float64{50, 20, 8}, false, true},
	} {
		m := model(t, chest(c.window, c.block).text())
		block, box := piecesOf(m, "block"), piecesOf(m, "floor", "right", "left", "end", "front", "lid")
		got := prove.Shut(m, block, box)
		if got.Ball != c.ball || got.Shift != c.noShift || !c.ball && got.Any() {
			t.Errorf("%+v: %+v", c, got)
		}
		if c.block[2] > 8 {
			continue
		}
		// the way out of the plank: a quarter turn, and along
		var wood solid.Body
		for _, i := range box {
			wood = wood.Union(m.Pieces[i].Bored())
		}
		wood = solid.NewBody(wood.Pieces)
		plank := m.Pieces[block[0]].Bored()
		for k := 0; k <= 400; k++ {
			a := math.Min(1, float64(k)/200) * math.Pi / 2
			at := r3.Turn(plank.Bounds().Center(), r3.Z, a).Then(r3.Shift(r3.X.Scale(math.Max(0, float64(k-200)) * 0.5)))
			if solid.Penetrates(wood, plank.Transform(at), tol.Touch) {
				t.Fatalf("the plank is stopped at %d", k)
			}
		}
		g := prove.OrderAlone(m)
		if v := worst(g); v != prove.CannotTell || !strings.Contains(g[0].Says, "no shift takes it out; whether a twist would is not computed") {
			t.Errorf("%v %+v", v, g)
		}
	}
}

// Random chests: no block that is said to be shut in comes out.
func TestOrderBallShutSearch(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	var shut, out int
	for range cases(40) {
		side := func() float64 { return math.Round(20 + 18*rng.Float64()) }
		s := chest([2]float64{side() + 6, side()}, [3]float64{side(), side(), side()})
		m := model(t, s.text())
		a, b := piecesOf(m, "block"), piecesOf(m, "floor", "right", "left", "end", "front", "lid")
		said, came := prove.Shut(m, a, b).Any(), wander(rng, m, a, b, 60)
		if said && came {
			t.Errorf("said to be shut in, and came out\n%s", s.text())
		}
		if said {
			shut++
		}
		if came {
			out++
		}
	}
	if t.Logf("%d shut in, %d came out", shut, out); !testing.Short() && (shut < 3 || out < 3) {
		t.Error("too alike to tell anything")
	}
}

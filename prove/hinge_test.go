package prove_test

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/prove"
	"dryfit/toy"
)

// hitch is a leading block and a trailing block, each sawn to a tongue, on an
// upright pin: the rear face of the leading one lies g ahead of the pin, the
// front face of the trailing one f behind it, which is 2 w2 wide.
type hitch struct{ g, f, w2, half float64 }

func (h hitch) sheet() sheetOf {
	return sheetOf{stock: []string{board("thick", 40), dowelOf("rod", 6)},
		parts: []string{
			f("lead: {from: thick, blank: [%.9g, %.9g], work: [{saw: {side: edge, outline: [[0, 0], [length, 0], [length, 40], [%.9g, 40], [%.9g, 10], [0, 10]]}}, {drill: {side: face, dia: 6, named: {pin: [8, middle]}}}]}", 8+h.g+60, 2*h.half, 8+h.g, 8+h.g),
			f("trail: {from: thick, blank: [%.9g, %.9g], work: [{saw: {side: edge, outline: [[0, 10], [length, 10], [length, 20], [60, 20], [60, 40], [0, 40]]}},"+
				" {saw: {side: face, outline: [[0, 0], [60, 0], [60, middle - 6], [length, middle - 6], [length, middle + 6], [60, middle + 6], [60, width], [0, width]]}},"+
				" {drill: {side: face, dia: 6.8, named: {eye: [length - 5, middle]}}}]}", 60+h.f+5, 2*h.w2),
			"pin: {from: rod}"},
		build: []string{"put: lead", "{put: trail, sits: {eye: lead.pin, bottom: lead.bottom + 10}}",
			"hinge: {name: coupling, pin: pin, fixed: lead.pin, runs: trail.eye, lifts-off: yes}"}}
}

// limit is the angle at which a front corner of the trailer meets the plane that
// lies depth beyond the rear face: asin((g + depth)/sqrt(f^2 + w2^2)) + atan(f/w2).
func (h hitch) limit(depth float64) float64 {
	return (math.Asin((h.g+depth)/math.Hypot(h.f, h.w2)) + math.Atan2(h.f, h.w2)) * 180 / math.Pi
}

// The articulation oracle: g 15, f 20, w2 30 give 58.274 degrees (derived in
// closed form), the same both ways, and it says what touches what and where.
func TestHingeOracle(t *testing.T) {
	h := hitch{15, 20, 30, 40}
	if !near(h.limit(0), 58.274, 5e-4) {
		t.Fatalf("the formula gives %g", h.limit(0))
	}
	rep := proof(t, h.sheet().text())
	c := find(t, rep, "move.hinge:coupling")
	if c.Verdict != prove.Holds || !near(c.Value, 58.274, 0.05) || !near(c.Value, h.limit(tol.Touch), 2e-4) {
		t.Errorf("%v %g %s, want %g", c.Verdict, c.Value, c.Says, h.limit(tol.Touch))
	}
	if !strings.Contains(c.Says, "trail swings 58.3° to the left and 58.3° to the right") {
		t.Errorf("says %q", c.Says)
	}
	for _, side := range []string{"left", "right"} {
		if want := "to the " + side + ": at 58.3° trail touches lead"; !strings.Contains(strings.Join(c.Notes, "\n"), want) {
			t.Errorf("notes %q lack %q", c.Notes, want)
		}
	}
	// The pin stands at (8, 40). The trailer's tail going left, its left corner comes forward.
	y := math.Sqrt(20*20 + 30*30 - 15*15)
	want := []struct {
		piece string
		at    r3.Vec
	}{{"coupling-pin", r3.Vec{}}, {"trail", r3.Vec{X: 23, Y: 40 + y}}, {"lead", r3.Vec{X: 23, Y: 40 + y}}, {"trail", r3.Vec{X: 23, Y: 40 - y}}, {"lead", r3.Vec{X: 23, Y: 40 - y}}}
	if len(c.Places) != len(want) {
		t.Fatalf("%d places", len(c.Places))
	}
	for i, p := range c.Places {
		if p.Piece != want[i].piece || p.Line == 0 || p.Col == 0 {
			t.Errorf("place %d is %+v", i, p)
		}
		if i > 0 && (!near(p.At.X, want[i].at.X, 0.05) || !near(p.At.Y, want[i].at.Y, 0.05) || p.At.Z < 20-0.05 || p.At.Z > 40+.05) {
			t.Errorf("place %d at %v, want %v", i, p.At, want[i].at)
		}
	}
}

// A must is measured against the worse way, and either way where it says so.
func TestHingeMust(t *testing.T) {
	for _, c := range []struct {
		must    string
		verdict prove.Verdict
	}{
		{"{swings: coupling, at-least: 55°, each-way: yes}", prove.Holds},
		{"{swings: coupling, at-least: 58.2°, each-way: yes}", prove.Holds},
		{"{swings: coupling, at-least: 58.4°, each-way: yes}", prove.Fails},
		{"{swings: coupling, at-least: 70°}", prove.Fails},
	} {
		s := hitch{15, 20, 30, 40}.sheet()
		s.must = []string{c.must}
		rep := proof(t, s.text())
		h := find(t, rep, "move.hinge:coupling")
		if h.Verdict != c.verdict || (h.Margin >= 0) != (c.verdict == prove.Holds) || rep.Passes() != (c.verdict == prove.Holds) {
			t.Errorf("%s: %v, value %g, margin %g, passes %v", c.must, h.Verdict, h.Value, h.Margin, rep.Passes())
		}
	}
	// Two ways that differ: the trailing block sits aside of the pin.
	s := hitch{15, 20, 30, 60}.sheet()
	s.parts[1] = strings.ReplaceAll(s.parts[1], "middle", "middle - 8")
	for _, c := range []struct {
		must    string
		verdict prove.Verdict
		value   float64
	}{
		{"{swings: coupling, at-least: 56°}", prove.Holds, hitch{15, 20, 22, 60}.limit(tol.Touch)},
		{"{swings: coupling, at-least: 56°, each-way: yes}", prove.Fails, hitch{15, 20, 38, 60}.limit(tol.Touch)},
	} {
		s.must = []string{c.must}
		h := find(t, proof(t, s.text()), "move.hinge:coupling")
		if h.Verdict != c.verdict || !near(h.Value, c.value, 1e-3) {
			t.Errorf("%s: %v %g, want %v %g", c.must, h.Verdict, h.Value, c.verdict, c.value)
		}
	}
}

// The general formula, wherever the corner lands on the face.
func TestHingeFormula(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for n := 0; n < 40; {
		h := hitch{g: 10 + 20*r.Float64(), f: 10 + 30*r.Float64(), w2: 12 + 40*r.Float64()}
		reach := math.Hypot(h.f, h.w2)
		if h.g > reach-0.5 || h.limit(tol.Touch) > 90 { // past square the rear corner leads
			continue
		}
		n++
		h.half = math.Sqrt(reach*reach-h.g*h.g) + 1 + 20*r.Float64()
		// all files say nine digits
		c := find(t, proof(t, h.sheet().text()), "move.hinge:coupling")
		if want := h.limit(tol.Touch); !near(c.Value, want, 5e-4) || !near(c.Value, h.limit(0), 0.05+h.limit(tol.Touch)-h.limit(0)) {
			t.Errorf("%+v: %g, want %g", h, c.Value, want)
		}
	}
	// The front corners pass where g > sqrt(f^2 + w2^2): then the rear ones, 60 mm
	// behind, are the first to meet.
	h, rear := hitch{g: 40, f: 20, w2: 30, half: 80}, hitch{g: 40, f: 80, w2: 30}
	if c := find(t, proof(t, h.sheet().text()), "move.hinge:coupling"); !near(c.Value, rear.limit(tol.Touch), 5e-4) {
		t.Errorf("rear corner: %g, want %g", c.Value, rear.limit(tol.Touch))
	}
	h.g = 90 // and these pass too
	if c := find(t, proof(t, h.sheet().text()), "move.hinge:coupling"); c.Value != 180 || len(c.Places) != 1 {
		t.Errorf("free: %g %s", c.Value, c.Says)
	}
}

// box is a piece by its corner and edges, for the plain search below.
type box struct {
	mid  r3.Vec
	u    [3]r3.Vec // unit
	half [3]float64
}

func boxOf(p *assembly.Piece) box {
	s := p.Made.Size.Scale(0.5)
	return box{p.Pose.Point(s), [3]r3.Vec{p.Pose.U, p.Pose.V, p.Pose.W}, [3]float64{s.X, s.Y, s.Z}}
}

// depth is how far two boxes are in each other: the least overlap of their
// shadows on the fifteen axes on which boxes can be parted (the separating axis
// theorem), negative if they are apart.
func (a box) depth(b box) float64 {
	d := b.mid.Sub(a.mid)
	least := math.Inf(1)
	try := func(n r3.Vec) bool {
		l := n.Len()
		if l < 1e-9 {
			return true
		}
		sum := -math.Abs(d.Dot(n))
		for k := 0; k < 3; k++ {
			sum += a.half[k]*math.Abs(a.u[k].Dot(n)) + b.half[k]*math.Abs(b.u[k].Dot(n))
		}
		least = math.Min(least, sum/l)
		return least > 0
	}
	for k := 0; k < 3; k++ {
		if !try(a.u[k]) || !try(b.u[k]) {
			return least
		}
	}
	for i := 0; i < 3; i++ {
		for j := 0; j < 3; j++ {
			if !try(a.u[i].Cross(b.u[j])) {
				return least
			}
		}
	}
	return least
}

func (a box) turned(m r3.Pose) box {
	a.mid = m.Point(a.mid)
	for k := range a.u {
		a.u[k] = m.Dir(a.u[k])
	}
	return a
}

// pair is a random fixed box and a random moving box, leaning, each glued to a
// plate on the pin.
func pair(r *rand.Rand) string {
	n := func(lo, hi float64) float64 { return math.Round((lo+(hi-lo)*r.Float64())*1000) / 1000 }
	axes := []string{"forward", "left", "up"}
	lean := func() string { return f("{about: %s, by: %g°}", axes[r.Intn(3)], n(-80, 80)) }
	s := sheetOf{stock: []string{board("ply", 6), dowelOf("rod", 6), board("a", n(5, 30)), board("b", n(5, 30))},
		parts: []string{
			"base: {from: ply, blank: [12, 12], work: [{drill: {side: face, dia: 6, named: {pin: [middle, middle]}}}]}",
			"arm: {from: ply, blank: [12, 12], work: [{drill: {side: face, dia: 6.8, named: {eye: [middle, middle]}}}]}",
			f("fixed: {from: a, blank: [%g, %g], lies: {length: forward, up: face, lean: %s}}", n(10, 60), n(10, 60), lean()),
			f("moving: {from: b, blank: [%g, %g], lies: {length: forward, up: face, lean: %s}}", n(10, 60), n(10, 60), lean()),
			"pin: {from: rod}"},
		build: []string{"put: base", "{put: arm, sits: {eye: base.pin, bottom: base.top}}",
			f("{put: fixed, sits: {middle-along: base.middle + %g, middle-across: base.middle + %g, middle-up: base.middle + %g}, glue-to: [base]}", n(-50, 50), n(-50, 50), n(-30, 30)),
			f("{put: moving, sits: {middle-along: arm.middle + %g, middle-across: arm.middle + %g, middle-up: arm.middle + %g}, glue-to: [arm]}", n(-50, 50), n(-50, 50), n(-30, 30)),
			"hinge: {name: swing, pin: pin, fixed: base.pin, runs: arm.eye, lifts-off: yes}"}}
	return strings.ReplaceAll(s.text(), "+ -", "- ")
}

// 100 random box pairs of toy files against brute-force stepping at 0.01 degree
// with boxes parted by the separating axis theorem: within 0.05 degree.
func TestHingeAgainstStepping(t *testing.T) {
	r := rand.New(rand.NewSource(58))
	const step = 0.01 * math.Pi / 180
	hits, worst := 0, 0.0
	for n := 0; n < 100; {
		m := model(t, pair(r))
		h := m.Hinges[0]
		moving, ok := m.Moving(h)
		if !ok || len(moving) != 2 {
			t.Fatalf("moving %v", moving)
		}
		var mov, fix []box
		isMoving := map[int]bool{}
		for _, i := range moving {
			isMoving[i] = true
			mov = append(mov, boxOf(m.Pieces[i]))
		}
		for i, p := range m.Pieces {
			if !isMoving[i] && i != h.Pin {
				fix = append(fix, boxOf(p))
			}
		}
		if len(fix) != 2 {
			t.Fatalf("%d fixed", len(fix))
		}
		in := func(angle float64, dir r3.Vec) float64 {
			turn := r3.Turn(h.Centre, dir, angle)
			d := math.Inf(-1)
			for _, b := range mov {
				for _, a := range fix {
					d = math.Max(d, a.depth(b.turned(turn)))
				}
			}
			return d
		}
		// Not in each other, nor on the pin, which the plain search leaves out.
		clear := in(0, h.Dir) <= 1e-9
		for _, b := range append(append([]box(nil), mov...), fix...) {
			if b.half[2] != 3 && math.Hypot(b.mid.X-h.Centre.X, b.mid.Y-h.Centre.Y) < 5+math.Sqrt(b.half[0]*b.half[0]+b.half[1]*b.half[1]+b.half[2]*b.half[2]) {
				clear = false
			}
		}
		if !clear {
			continue
		}
		n++
		want := [2]float64{}
		for way, dir := range []r3.Vec{h.Dir, h.Dir.Neg()} {
			angle := math.Pi
			for k := 1; float64(k)*step <= math.Pi; k++ {
				if in(float64(k)*step, dir) > tol.Touch {
					// re-evaluated exactly there: halved down to the crossing
					lo, hi := float64(k-1)*step, float64(k)*step
					for i := 0; i < 30; i++ {
						if mid := (lo + hi) / 2; in(mid, dir) > tol.Touch {
							hi = mid
						} else {
							lo = mid
						}
					}
					angle = hi
					break
				}
			}
			want[way] = angle * 180 / math.Pi
		}
		c := prove.Model(m)
		got := find(t, c, "move.hinge:swing")
		// Without each-way the better way is the value, with it the worse one.
		m.Toy.Musts = []toy.Must{{Kind: toy.MustSwing, Hinge: "swing", EachWay: true}}
		worse := find(t, prove.Model(m), "move.hinge:swing")
		if math.Min(want[0], want[1]) < 180 {
			hits++
		}
		for _, d := range []float64{math.Max(want[0], want[1]) - got.Value, math.Min(want[0], want[1]) - worse.Value} {
			if math.Abs(d) > 0.05 {
				t.Errorf("pair %d: %g and %g, stepping gives %v (%s)", n, got.Value, worse.Value, want, got.Says)
			}
			worst = math.Max(worst, math.Abs(d))
		}
	}
	if hits < 30 {
		t.Errorf("only %d pairs meet", hits)
	}
	t.Logf("%d of 100 meet; worst %.5f degree", hits, worst)
}

// What a swing that is too short says is in the way, and by how much, is enough.
func TestHingeSaysHowMuchRoom(t *testing.T) {
	b, err := os.ReadFile("../examples/broken/move.hinge-corner-hits.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := string(b)
	says := find(t, proof(t, text), "move.hinge:arm").Says
	var more float64
	if _, err := fmt.Sscanf(says[strings.Index(says, "it wants "):], "it wants %g mm more room between arm and stop", &more); err != nil || more <= 0 {
		t.Fatalf("%v: %s", err, says)
	}
	const was = "sizes: {gap: 1}"
	for by, want := range map[float64]prove.Verdict{more + 0.1: prove.Holds, more - 0.5: prove.Fails} {
		wider := strings.Replace(text, was, fmt.Sprintf("sizes: {gap: %g}", 1+by), 1)
		if wider == text {
			t.Fatal("the toy has another gap now")
		}
		if g := find(t, proof(t, wider), "move.hinge:arm"); g.Verdict != want {
			t.Errorf("%g mm more: %v: %s", by, g.Verdict, g.Says)
		}
	}
}

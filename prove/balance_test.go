package prove_test

import (
	"math"
	"sort"
	"strings"
	"testing"

	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/prove"
)

func deg(rad float64) float64 { return rad * 180 / math.Pi }

// Tip angles against the static stability factor and its generalisation to any
// support polygon: least over the sides of atan(d/h). The published figure is a
// centre of mass 1 ft over a 3 ft base; the three-wheel case is derived in closed
// form: d = (t/2)(L - x)/sqrt(L^2 + t^2/4).
func TestTips(t *testing.T) {
	rect := func(back, front, half float64) []r2.Vec {
		return []r2.Vec{{X: back, Y: -half}, {X: front, Y: -half}, {X: front, Y: half}, {X: back, Y: half}}
	}
	three := []r2.Vec{{X: 0, Y: -30}, {X: 100, Y: 0}, {X: 0, Y: 30}}
	for _, c := range []struct {
		name string
		feet []r2.Vec
		c    r2.Vec
		h    float64
		want []float64 // sorted
	}{
		{"half track 30, height 30", rect(-100, 100, 30), r2.Vec{}, 30, []float64{45, 45}},
		{"half track 25, height 40", rect(-100, 100, 25), r2.Vec{}, 40, []float64{32.005, 32.005}},
		{"half track 40, height 25", rect(-100, 100, 40), r2.Vec{}, 25, []float64{57.995, 57.995}},
		{"published: 1 ft over 3 ft", rect(-9, 9, 1.5), r2.Vec{}, 1, []float64{56.3, 56.3}},
		{"three wheels", three, r2.Vec{X: 40}, 35, []float64{26.225, 26.225, 48.814}},
		{"four wheels", rect(0, 100, 30), r2.Vec{X: 40}, 35, []float64{40.601, 40.601, 48.814}},
		{"outside its feet", rect(0, 100, 30), r2.Vec{X: -10}, 35, []float64{-deg(math.Atan2(10, 35))}},
	} {
		var got []float64
		for _, tip := range prove.Tips(c.feet, c.c, c.h) {
			got = append(got, deg(tip.Angle))
		}
		sort.Float64s(got)
		for i, w := range c.want {
			within := 5e-4
			if strings.HasPrefix(c.name, "published") {
				within = 0.05 // as many digits as are printed
			}
			if len(got) <= i || !near(got[i], w, within) {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
				break
			}
		}
	}
	for _, tip := range prove.Tips(three, r2.Vec{X: 40}, 35) {
		// it falls away from the middle: over a side forward and outward, or back
		if back := tip.Dir.X < -0.99; back != near(deg(tip.Angle), 48.814, 1e-3) || !near(tip.Dir.Len(), 1, 1e-12) {
			t.Errorf("falls %v at %g", tip.Dir, deg(tip.Angle))
		}
	}
	if prove.Tips([]r2.Vec{{X: 0}, {X: 1}, {X: 2}}, r2.Vec{X: 1}, 1) != nil {
		t.Error("feet in line tip everywhere")
	}
}

// The same through toy files: blocks that stand on their bottom, and a base of
// three or four corners with a block on it that brings the centre of mass to the
// place of the derived case (base and block of one volume and wood).
func TestBalance(t *testing.T) {
	block := func(l, w, h float64) sheetOf {
		return sheetOf{stock: []string{board("b", h)}, parts: []string{f("block: {from: b, blank: [%g, %g]}", l, w)}, build: []string{"put: block"}}
	}
	base := func(outline string, l, w, back string) sheetOf {
		return sheetOf{stock: []string{board("low", 20), board("high", 80)},
			parts: []string{"base: {from: low, blank: [100, 60], work: [{saw: {side: face, outline: " + outline + "}}]}", f("load: {from: high, blank: [%s, %s]}", l, w)},
			build: []string{"put: base", f("{put: load, sits: {bottom: base.top, back: base.back + %s, middle: base.middle}, glued: yes}", back)}}
	}
	inch := block(48, 36, 24)
	inch.units = "inch"
	for _, c := range []struct {
		name string
		s    sheetOf
		want float64
		says string
	}{
		{"30/30", block(200, 60, 60), 45, "to the"},
		{"25/40", block(200, 50, 80), 32.005, "to the"},
		{"40/25", block(200, 80, 50), 57.995, "to the"},
		{"lying across", block(50, 200, 80), 32.005, "ward"},
		{"published: 1 ft over 3 ft", inch, 56.310, "to the"},
		{"three corners", base("[[0, 0], [100, 30], [0, 60]]", "30", "25", "95 / 3"), 26.225, "to the"},
		{"four corners", base("[[0, 0], [100, 0], [100, 60], [0, 60]]", "50", "30", "5"), 40.601, "to the"},
	} {
		b := find(t, proof(t, c.s.text()), "balance:toy")
		if !near(b.Value, c.want, 6e-4) || !strings.Contains(b.Says, c.says) || b.Verdict != prove.Holds {
			t.Errorf("%s: %g %s, want %g", c.name, b.Value, b.Says, c.want)
		}
	}
	// What it must stand on, and what it should.
	for _, c := range []struct {
		h       float64
		must    string
		verdict prove.Verdict
	}{{80, "", prove.Holds}, {160, "", prove.Mind}, {80, "{stands-on-slope: 32°}", prove.Holds}, {80, "{stands-on-slope: 32.1°}", prove.Fails}, {160, "{stands-on-slope: 15°}", prove.Holds}} {
		s := block(200, 50, c.h)
		if c.must != "" {
			s.must = []string{c.must}
		}
		rep := proof(t, s.text())
		b := find(t, rep, "balance:toy")
		if b.Verdict != c.verdict || (b.Margin >= 0) != (c.verdict == prove.Holds) || rep.Passes() == (c.verdict == prove.Fails) {
			t.Errorf("%g %s: %v, margin %g", c.h, c.must, b.Verdict, b.Margin)
		}
	}
	// Overhung: a long board glued on a small foot falls by itself.
	s := base("[[0, 0], [10, 0], [10, 60], [0, 60]]", "300", "50", "0")
	if b := find(t, proof(t, s.text()), "balance:toy"); b.Verdict != prove.Fails || b.Value >= 0 || !strings.Contains(b.Says, "falls over forward by itself") {
		t.Errorf("overhung: %v %g %s", b.Verdict, b.Value, b.Says)
	}
}

// A cart on wheels: weight and tip angle from volumes, densities and heights
// summed by hand.
func TestBalanceOnWheels(t *testing.T) {
	k := inches()
	rep := proof(t, k.text())
	beech, _ := facts.Wood("beech")
	birch, _ := facts.Wood("birch")
	const in = 25.4
	axle := (1.25 + 2*(1./32+.25+.125)) * in
	disc := math.Pi * (.5*.5 - .125*.125) * .25 * in * in * in
	rod := math.Pi * .125 * .125 * in * in * axle
	hole := math.Pi * (5. / 32) * (5. / 32) * 1.25 * in * in * in
	frame := 5*1.25*.75*in*in*in - 2*hole
	mFrame := frame * beech.Density * 1e-9
	mRun := (4*disc*beech.Density + 2*rod*birch.Density) * 1e-9
	if !near(rep.MassKg, mFrame+mRun, 2e-3*rep.MassKg) {
		t.Errorf("weighs %g kg, want %g", rep.MassKg, mFrame+mRun)
	}
	// Heights above the bottom of the frame: the wheels' middle at 1/4 in; that of
	// the frame is half its thickness, shifted by the holes.
	zFrame := (5*1.25*.75*in*in*in*.375*in - 2*hole*.25*in) / frame
	z := (mFrame*zFrame + mRun*.25*in) / (mFrame + mRun)
	h := z + .25*in - (1./16)*in/2 // the floor is a radius below the axle, the body half the slack lower
	want := deg(math.Atan2((1.25/2+1./32+.25)*in, h))
	if b := find(t, rep, "balance:toy"); !near(b.Value, want, 0.05) {
		t.Errorf("tips at %g, want %g", b.Value, want)
	}
}

// Mass properties M1 to M6 of handbook solids, as far as parts have their shape:
// volume within the chord error, centre exact, inertia for the stated mass.
func TestMassProperties(t *testing.T) {
	plain := func(part string) sheetOf {
		return sheetOf{stock: []string{board("t12", 12), board("t20", 20), board("t10", 10), dowelOf("rod", 10), "ball: {wood: maple, form: ball, dia: 30}"}, parts: []string{"it: {" + part + "}"}, build: []string{"put: it"}}
	}
	chord := func(r float64) float64 { return 2 * 0.01 / r } // share of the volume, at most
	for _, c := range []struct {
		name, part string
		volume     float64
		share      float64    // how much of the volume may be missing
		centre     [3]float64 // from the lower back right corner
		mass       float64    // for the inertia
		inertia    [3]float64
	}{
		{"M2 disc 20 x 12", "from: t12, disc: 40", math.Pi * 400 * 12, chord(20), [3]float64{20, 20, 6}, 10, [3]float64{1120, 1120, 2000}},
		{"M3 ring 20/4 x 12", "from: t12, disc: 40, bore: 8", 14476.459, chord(4), [3]float64{20, 20, 6}, 1, [3]float64{(3*(400+16) + 144) / 12., (3*(400+16) + 144) / 12., (400 + 16) / 2.}},
		{"M4 box", "from: t20, blank: [100, 40]", 80000, 0, [3]float64{50, 20, 10}, 56.448, [3]float64{9408, 56.448 * 10400 / 12, 56.448 * 11600 / 12}},
		{"M5 half disc 30", "from: t10, blank: [60, 30], work: [{saw: {side: face, outline: {path: 'M0 0 H60 A30 30 0 0 1 0 0 Z'}}}]", math.Pi * 450 * 10, chord(30), [3]float64{30, 12.7324, 5}, 0, [3]float64{}},
		{"M6 L", "from: t10, blank: [60, 60], work: [{notch: {side: face, at: [20, 20], size: [40, 40]}}]", 20000, 0, [3]float64{22, 22, 5}, 0, [3]float64{}},
		{"M6 L as an outline", "from: t10, blank: [60, 60], work: [{saw: {side: face, outline: [[0, 0], [60, 0], [60, 20], [20, 20], [20, 60], [0, 60]]}}]", 20000, 0, [3]float64{22, 22, 5}, 0, [3]float64{}},
		{"rod", "from: rod, length: 80", math.Pi * 25 * 80, chord(5), [3]float64{40, 5, 5}, 12, [3]float64{12 * 25 / 2., 12 * (75 + 6400) / 12., 12 * (75 + 6400) / 12.}},
	} {
		m := model(t, plain(c.part).text()).Pieces[0].Moments()
		if m.Volume > c.volume*(1+c.share)+1e-3 || m.Volume < c.volume*(1-c.share)-1e-3 {
			t.Errorf("%s: volume %g, want %g", c.name, m.Volume, c.volume)
		}
		for k, want := range c.centre {
			within := 1e-9
			if strings.HasPrefix(c.name, "M5") {
				within = 0.005 // an arc and its chords
			}
			if !near(m.Center.At(k), want, within) {
				t.Errorf("%s: centre %v, want %v", c.name, m.Center, c.centre)
			}
			if got := m.Inertia[k][k] / m.Volume * c.mass; c.mass > 0 && !near(got, c.inertia[k], 2*c.share*c.inertia[k]+1e-6) {
				t.Errorf("%s: inertia %d %g, want %g", c.name, k, got, c.inertia[k])
			}
		}
	}
	// M4's weight is that of hard maple, specific gravity 0.63 at 12 % moisture.
	s := plain("from: t20, blank: [100, 40]").text()
	if rep := proof(t, strings.ReplaceAll(s, "wood: beech", "wood: hard maple")); !near(rep.MassKg, 0.056448, 1e-9) {
		t.Errorf("weighs %g kg", rep.MassKg)
	}
	// A ball's polyhedron lies inside it by 0.1 mm at most.
	v := 4. / 3 * math.Pi * 15 * 15 * 15
	if m := model(t, plain("from: ball").text()).Pieces[0].Moments(); m.Volume > v || m.Volume < v*(1-3*0.1/15) || !near(m.Center.Z, 15, 1e-9) {
		t.Errorf("ball: %g of %g, centre %v", m.Volume, v, m.Center)
	}
}

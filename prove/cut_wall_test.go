package prove_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/prove"
)

// wallOf returns the least wood beside the holes of a toy, whatever the verdict.
func wallOf(t *testing.T, s sheetOf) float64 {
	t.Helper()
	if got := cutFinds(t, "", s); len(got) == 1 {
		return got[0].Value
	} else if len(got) > 1 {
		t.Fatalf("%+v", got)
	}
	return cutOf(t, "", s, "toy").Value
}

// Random stars, sawn round a hole: what is left is the distance from its middle to the
// nearest side, by the formula for a point and a line segment, less its radius.
func TestCutWallOfStars(t *testing.T) {
	r := rnd()
	for n := 0; n < 60; n++ {
		k := 5 + r.Intn(8)
		var px, py []float64
		line := ""
		for i := 0; i < k; i++ {
			a := 2 * math.Pi * (float64(i) + 0.6*r.Float64()) / float64(k)
			d := 12 + 30*r.Float64()
			px, py = append(px, 50+d*math.Cos(a)), append(py, 50+d*math.Sin(a))
			line += f("[%.12g, %.12g], ", px[i], py[i])
		}
		want := math.Inf(1)
		for i := range px {
			j := (i + 1) % k
			dx, dy := px[j]-px[i], py[j]-py[i]
			u := math.Max(0, math.Min(1, ((50-px[i])*dx+(50-py[i])*dy)/(dx*dx+dy*dy)))
			want = math.Min(want, math.Hypot(px[i]+u*dx-50, py[i]+u*dy-50))
		}
		const dia = 9
		s := block("mm", 100, 100, 20, f("{drill: {side: face, dia: %d, at: [[50, 50]]}}", dia), "{saw: {side: face, outline: ["+strings.TrimSuffix(line, ", ")+"]}}")
		want -= dia / 2.
		got := cutFinds(t, "", s)
		switch {
		case want <= -dia/4.: // a seat
			if len(got) > 0 {
				t.Errorf("%d: %+v", n, got)
			}
			continue
		case want < 0:
			if len(got) != 1 || got[0].Verdict != prove.Fails {
				t.Errorf("%d: %g mm: %+v", n, want, got)
			}
		case want < 2.25-0.01:
			if len(got) != 1 || got[0].Verdict != prove.Mind {
				t.Errorf("%d: %g mm: %+v", n, want, got)
			}
		case want > 2.25+0.01 && len(got) > 0:
			t.Errorf("%d: %g mm: %+v", n, want, got)
		}
		if w := wallOf(t, s); !near(w, want, 1e-3) {
			t.Errorf("%d: wall %g, want %g", n, w, want)
		}
	}
}

// Walls that no section shows square: beside a slope, in round wood, in a ball, beside
// a recess, beside a leaning hole.
func TestCutWallsInSpace(t *testing.T) {
	for _, c := range []struct {
		name string
		toy  sheetOf
		want float64
	}{
		// the edge is sawn to a slope of 3 in 4: at the level of the hole's middle, 30 up
		// from it, the plane x = 4/3... is 0.8 of the level distance away
		{"slope", block("mm", 100, 60, 60, "{drill: {side: edge, dia: 8, at: [[50, 30]]}}", "{saw: {side: face, outline: [[0, 0], [65, 0], [85, width], [0, width]]}}"),
			// in the sections at 15, 30 and 45 across: level distance 65 + 20 y/60 - 50 - 4
			(65 + 20*15./60 - 50 - 4) * 60 / math.Hypot(60, 20)},
		// a hole right through a rod: the circle of 20 less the hole's half, at mid height
		{"round wood", sheetOf{stock: []string{dowelOf("rod", 40)}, build: []string{"put: it"}, parts: []string{"it: {from: rod, length: 100, work: [{drill: {side: top, dia: 30, at: [[50, middle]]}}]}"}}, 5},
		// a hole 4 up from a recess that is 10 deep, in 20 of wood
		{"recess", block("mm", 100, 60, 20, "{drill: {side: edge, dia: 6, at: [[50, 7]]}}", "{groove: {side: other-face, from: [0, middle], to: [length, middle], wide: 58, depth: 1}}"), 3},
		// leaning 30° in 40 of wood, towards a side that is 60 away at the mouth
		{"leaning", block("mm", 100, 60, 40, "{drill: {side: face, dia: 6, at: [[50, middle]], lean: {toward: right, by: 30°}}}"),
			// along the hole its three sections are at 1/4 of 40 / cos 30; the end side is
			// at 60° to the section: distance (50 - x) less the radius x cos 30
			50 - 30*math.Tan(math.Pi/6) - 3*math.Cos(math.Pi/6)},
	} {
		if c.name == "leaning" {
			c.want = math.Min(c.want, 30-3) // the edges are nearer
		}
		if w := wallOf(t, c.toy); !near(w, c.want, 0.02) {
			t.Errorf("%s: wall %g, want %g", c.name, w, c.want)
		}
	}
}

// A hole and what the saw makes of it: broken out, a seat on the line, a hole that the saw
// turns in, a hook; the hole of a dowel is judged by fit.dowel.
func TestCutBrokenOut(t *testing.T) {
	hole := func(y float64, work ...string) sheetOf {
		return block("mm", 100, 60, 20, append([]string{f("{drill: {side: face, dia: 10, at: [[50, %g]]}}", y)}, work...)...)
	}
	only(t, "inside", "", hole(8), prove.Holds, "")
	only(t, "thin", "", hole(7), prove.Mind, "only 2 mm")
	only(t, "out", "", hole(4), prove.Fails, "runs out of the side of the wood by 1 mm")
	only(t, "on the line", "", hole(0), prove.Holds, "")
	only(t, "beside the wood", "", hole(-2), prove.Mind, "starts 2 mm beside the wood")
	only(t, "hook", "", hole(20, "{cut-in: {side: face, outline: {rect: [48, 0], size: [4, 20]}}}"), prove.Holds, "")
	only(t, "beside a slot", "", hole(20, "{cut-in: {side: face, outline: {rect: [53, 0], size: [4, 40]}}}"), prove.Fails, "by 2 mm")
	only(t, "corner", "", hole(30, "{saw: {side: face, outline: [[0, 0], [50, 0], [50, 30], [length, 30], [length, width], [0, width]]}}"), prove.Holds, "")
	// drilled into the corner from inside the wood, as room for the next piece's sharp one
	only(t, "dog's ear", "", block("mm", 100, 60, 20, "{drill: {side: face, dia: 10, at: [[47.3, 32.7]]}}", "{saw: {side: face, outline: [[0, 0], [50, 0], [50, 30], [length, 30], [length, width], [0, width]]}}"), prove.Holds, "")
	// a quarter of the hole, but never under 1/16 nor over 1/8 in
	wide := func(dia, web float64) sheetOf {
		return block("mm", 100, 60, 20, f("{drill: {side: face, dia: %g, at: [[50, %g]]}}", dia, dia/2+web))
	}
	only(t, "a large hole", "", wide(24, 3.2), prove.Holds, "")
	only(t, "thin beside a large hole", "", wide(24, 3.1), prove.Mind, "only 3.1 mm")
	only(t, "a small hole", "", wide(3, 1.6), prove.Holds, "")
	only(t, "thin beside a small hole", "", wide(3, 1.5), prove.Mind, "only 1.5 mm")
	// of a row, the worst is told
	row := func(from, step float64) sheetOf {
		return block("mm", 100, 60, 20, f("{drill: {side: face, dia: 6, row: {from: [10, %g], step: [20, %g], count: 4, name: r}}}", from, step))
	}
	for _, s := range []sheetOf{row(4.2, -0.3), row(3.3, 0.3)} {
		if got := cutFinds(t, "", s); len(got) != 1 || !near(got[0].Value, 0.3, 1e-3) {
			t.Errorf("row: %+v", got)
		}
	}
	only(t, "only below", "", hole(6, "{notch: {side: other-face, at: [0, 57], size: [100, 3], depth: 3}}"), prove.Mind, "only 1 mm")
	// a dowel in it: one finding, of fit.dowel
	s := sheetOf{stock: []string{board("b", 20), dowelOf("rod", 10)}, parts: []string{"it: {from: b, blank: [100, 60], work: [{drill: {side: face, dia: 10, named: {hole: [50, 4]}}}]}", "peg: {from: rod}"},
		build: []string{"put: it", "peg: {use: peg, in: it.hole, proud: 20}"}}
	rep := proof(t, s.text())
	if bad := ids(rep, prove.Fails); len(bad) != 1 || bad[0] != "fit.dowel:peg~it/hole" {
		t.Errorf("fails %v", bad)
	}
	if bad := cutFinds(t, "", s); len(bad) > 0 {
		t.Errorf("cut: %+v", bad)
	}
}

// Holes near each other, by hand: side by side, crossing, end on, and stopped short.
func TestCutHolesTogether(t *testing.T) {
	pair := func(rod bool, work ...string) sheetOf {
		s := sheetOf{stock: []string{board("b", 40), dowelOf("rod", 6)}, parts: []string{f("it: {from: b, blank: [100, 60], work: [%s]}", strings.Join(work, ", ")), "peg: {from: rod}"}, build: []string{"put: it"}}
		if rod {
			s.build = append(s.build, "peg: {use: peg, in: it.a, proud: 5}")
		} else {
			s.parts = s.parts[:1]
		}
		return s
	}
	a := "{drill: {side: face, dia: 6, named: {a: [50, 30]}}}"
	for _, c := range []struct {
		name  string
		rod   bool
		b     string
		gap   float64 // below 0: they meet
		want  prove.Verdict
		words string
	}{
		{"beside", false, "{drill: {side: face, dia: 6, named: {b: [58, 30]}}}", 2, prove.Holds, ""},
		{"too near", false, "{drill: {side: face, dia: 6, named: {b: [57, 30]}}}", 1, prove.Mind, "only 1 mm of wood"},
		{"a slot is drilled so", false, "{drill: {side: face, dia: 6, named: {b: [54, 30]}}}", -1, prove.Holds, ""},
		{"but not round a dowel", true, "{drill: {side: face, dia: 6, named: {b: [55, 30]}}}", -1, prove.Mind, "run into each other"},
		{"crossing", true, "{drill: {side: edge, dia: 6, named: {b: [55, 20]}}}", -1, prove.Mind, "run into each other"},
		{"passing", true, "{drill: {side: edge, dia: 6, named: {b: [58, 20]}}}", 2, prove.Holds, ""},
		{"end on", true, "{drill: {side: edge, dia: 6, depth: 25, named: {b: [50, 20]}}}", 2, prove.Holds, ""},
		{"nearly end on", true, "{drill: {side: edge, dia: 6, depth: 26, named: {b: [50, 20]}}}", 1, prove.Mind, "only 1 mm of wood"},
		{"a counterbore is no other hole", true, "{drill: {side: other-face, dia: 12, depth: 5, named: {b: [50, 30]}}}", -1, prove.Holds, ""},
	} {
		s := pair(c.rod, a, c.b)
		only(t, c.name, "", s, c.want, c.words)
		if got := cutFinds(t, "", s); len(got) == 1 && !near(got[0].Value, math.Max(0, c.gap), 0.02) {
			t.Errorf("%s: gap %g, want %g", c.name, got[0].Value, c.gap)
		}
	}
}

// Pegs that would go through each other are for fit.overlap to tell.
func TestCutCollidingPegs(t *testing.T) {
	s := sheetOf{stock: []string{board("b", 40), dowelOf("rod", 6)}, parts: []string{"it: {from: b, blank: [100, 60], work: [{drill: {side: face, dia: 6, named: {a: [50, 30]}}}, {drill: {side: edge, dia: 6, named: {b: [52, 20]}}}]}", "peg: {from: rod}"},
		build: []string{"put: it", "peg: {use: peg, in: it.a, proud: 5}", "peg: {use: peg, in: it.b, proud: 5}"}}
	only(t, "both", "", s, prove.Holds, "")
	if bad := ids(proof(t, s.text()), prove.Fails); len(bad) == 0 || !strings.HasPrefix(bad[0], "fit.overlap") {
		t.Errorf("fails %v", bad)
	}
}

// The order of work: a hole is drilled while its side is there and square.
func TestCutOrderOfWork(t *testing.T) {
	drill := "{drill: {side: edge, dia: 6, at: [[80, 10]]}}"
	nose := "{saw: {side: face, outline: [[0, 0], [60, 0], [length, 30], [length, width], [0, width]]}}" // a slope of 36.9°
	step := "{saw: {side: face, outline: [[0, 0], [60, 0], [60, 20], [length, 20], [length, width], [0, width]]}}"
	gentle := "{saw: {side: face, outline: [[0, 0], [60, 0], [length, 6], [length, width], [0, width]]}}" // 8.5°
	only(t, "drill first", "", block("mm", 100, 60, 20, drill, nose), prove.Holds, "")
	only(t, "saw first", "", block("mm", 100, 60, 20, nose, drill), prove.Mind, "a slope of 36.9°")
	only(t, "a flat step", "", block("mm", 100, 60, 20, step, drill), prove.Holds, "")
	only(t, "hardly a slope", "", block("mm", 100, 60, 20, gentle, drill), prove.Holds, "")
	only(t, "in a well", "", block("mm", 100, 60, 20, "{cut-in: {side: face, outline: {rect: [70, 0], size: [20, 10]}}}", drill), prove.Holds, "")
	face := "{drill: {side: face, dia: 6, at: [[90, 20]]}}" // its middle where the nose was
	only(t, "in the air", "", block("mm", 100, 60, 20, nose, face), prove.Mind, "drilled after work 1 has taken the wood away")
	only(t, "drilled before", "", block("mm", 100, 60, 20, face, nose), prove.Holds, "")
}

// A hole drilled through a glue-up is judged in all of its wood: on the glue line each
// layer has half of it.
func TestCutHoleOnTheGlueLine(t *testing.T) {
	stack := func(depth, z float64) sheetOf {
		return sheetOf{stock: []string{board("b", 12)}, parts: []string{"layer: {from: b, blank: [80, 50]}"}, build: []string{"put: stack"},
			glueUps: []string{f("stack: {pieces: [{put: layer}, {put: layer, as: upper, sits: {bottom: layer.top, back: layer.back, left: layer.left}, glued: yes}], work: [{drill: {side: edge, dia: 7, depth: %g, named: {hole: [40, %g]}}}]}", depth, z)}}
	}
	only(t, "on the line", "{bits: [metric]}", stack(47.5, 12), prove.Holds, "")
	if w := cutOf(t, "", stack(30, 12), "toy").Value; !near(w, 12-3.5, 1e-3) {
		t.Errorf("wall %g", w)
	}
	only(t, "near the top", "", stack(30, 24-5), prove.Mind, "only 1.5 mm")
	only(t, "near the far side", "{bits: [metric]}", stack(48.5, 12), prove.Mind, "comes through")
}

// The hole of the pull cord may run into another, where its knot lies, and has to be whole.
func TestCutCordHole(t *testing.T) {
	text := func(y float64, cord string) string {
		return sheetOf{stock: []string{board("b", 40), dowelOf("rod", 12)}, build: []string{"put: it", "peg: {use: peg, in: it.knot, proud: 5}"},
			parts: []string{f("it: {from: b, blank: [100, 60], work: [{drill: {side: end, dia: 6, depth: 30, named: {cord: [%g, 20]}}}, {drill: {side: face, dia: 12, named: {knot: [80, 30]}}}]}", y), "peg: {from: rod}"}}.text() + cord
	}
	finds := func(text string) (out []prove.Finding) {
		for _, f := range proof(t, text).Findings {
			if f.Check == "cut.possible" && f.Verdict != prove.Holds {
				out = append(out, f)
			}
		}
		return out
	}
	const cord = "cord: {from: it.cord, length: 200}\n"
	if got := finds(text(30, cord)); len(got) > 0 {
		t.Errorf("cord into its knot's hole: %+v", got)
	}
	if got := finds(text(30, "")); len(got) != 1 || got[0].Verdict != prove.Mind {
		t.Errorf("another hole: %+v", got)
	}
	if got := finds(text(1, cord)); len(got) != 1 || got[0].Verdict != prove.Fails {
		t.Errorf("half a hole for a cord: %+v", got)
	}
	if got := finds(text(1, "")); len(got) > 0 {
		t.Errorf("a seat: %+v", got)
	}
}

package prove_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/prove"
)

// Mutants tried by hand on a scratch copy, each caught here or in prove/tracking: the
// wheel's own radius left out of the ramp; the body not resting down on its axles; the crest
// looked for at corners only; a follower's front counted; the pin's tilt by slack over twice
// its length; the cord at the mouth of its hole; the front wheels for the rear ones, and
// the rear for the front; the towed weight left out; a toy without a cord minded.

// number finds the number after some words in a text.
func number(t *testing.T, text, after string) float64 {
	t.Helper()
	m := regexp.MustCompile(regexp.QuoteMeta(after) + `[^0-9]*([0-9.]+)`).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no %q in %s", after, text)
	}
	x, err := strconv.ParseFloat(strings.TrimSuffix(m[1], "."), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// slopeBelow is the steepest slope below a wheel that stays below a point ahead, by halving.
func slopeBelow(x, z, radius float64) float64 { // the point from the foot of the wheel
	lo, hi := 0.0, math.Pi/2
	for i := 0; i < 60; i++ {
		a := (lo + hi) / 2
		// height of the point above the slope that touches the wheel
		if h := (z-radius)*math.Cos(a) - x*math.Sin(a) + radius; h > 0 {
			lo = a
		} else {
			hi = a
		}
	}
	return lo * 180 / math.Pi
}

// A frame of 160 on axles at 30 and 130, 10 above its bottom, wheels of radius 20, 0.5 of
// slack: its bottom is 9.75 above the floor.
func TestRamps(t *testing.T) {
	g := find(t, proof(t, bench(.5, 0, 0).text()), "move.ground:clearance")
	ramp := slopeBelow(30, 9.75, 20)
	crest := 2 * slopeBelow(50, 9.75, 20)
	text := g.Says + "\n" + strings.Join(g.Notes, "\n")
	for after, want := range map[string]float64{"takes a ramp of": ramp, "and a crest of": crest, "dip of": ramp, "one of": ramp, "frame clears a ramp or dip of": ramp} {
		if got := number(t, text, after); !near(got, want, 0.051) {
			t.Errorf("%s %g, want %g", after, got, want)
		}
	}
	// The tractor and trailer: a ramp ahead of the tractor, one behind the trailer, and a
	// pin of 6 that leans in a hole of 6.8, 9 long.
	text = strings.Join(find(t, proof(t, tractor(t)), "move.ground:clearance").Notes, "\n")
	lean := math.Atan2(0.8, 9) // nearly
	if got := number(t, text, "by its slack only,") * math.Pi / 180; !near(got, lean, 0.005) {
		t.Errorf("tilt %g, nearly %g: %s", got, lean, text)
	}
	if strings.Count(text, "ahead") != 1 || strings.Count(text, "behind") != 1 {
		t.Errorf("%s", text)
	}
}

// tower is a tall block on a low frame, pulled by a cord through a hole at a height above
// the bottom of its front board.
func tower(height float64, cord string) string {
	s := bench(.5, 0, 0)
	s.parts[0] = strings.Replace(s.parts[0], "named: {", f("named: {eye: [155, 15], "), 1)
	s.parts[0] = strings.Replace(s.parts[0], "work: [", "work: [{drill: {side: face, dia: 4, named: {top-eye: [145, middle]}}}, ", 1)
	s.stock = append(s.stock, "tall: {wood: oak, form: board, thick: 60}")
	s.parts = append(s.parts, f("tower: {from: tall, blank: [%g, 60], lies: {length: up, forward: face}}", height))
	s.build = append(s.build, "{put: tower, sits: {bottom: frame.top, back: frame.back, middle: frame.middle}, glued: yes}")
	return s.text() + cord
}

func densityOf(m *assembly.Model, stock string) float64 {
	st, _ := m.Toy.StockNamed(stock)
	w, _ := facts.Wood(st.Wood)
	return w.Density
}

// F (h - cord) = W d: by the numbers of the note of balance and the centre of mass.
func TestPulledByItsCord(t *testing.T) {
	const cord = "cord: {from: frame.eye, length: 300, end: plain}\n"
	for _, c := range []struct {
		height float64
		cord   string
		mind   bool
	}{{20, cord, false}, {100, cord, true}, {160, cord, true}, {160, strings.Replace(cord, ".eye", ".top-eye", 1), true}, {160, "", false}} {
		text := tower(c.height, c.cord)
		rep := proof(t, text)
		m := model(t, text)
		mass, first, x := 0.0, 0.0, 0.0
		for _, p := range m.Pieces {
			mo := p.Moments()
			kg := mo.Volume * densityOf(m, p.Part.Stock)
			mass, first, x = mass+kg, first+kg*mo.Center.Z, x+kg*mo.Center.X
		}
		h := first/mass + 9.75 // the bottom of the frame is 9.75 above the floor
		hole := 15 + 9.75
		want := (x/mass - 30) / (h - hole)
		note := strings.Join(find(t, rep, "balance:toy").Notes, "\n")
		if c.cord == "" {
			if !strings.Contains(note, "no cord is said") {
				t.Error(note)
			}
		} else if h > hole {
			if got := number(t, note, "rears up under"); !near(got, want, 0.051) {
				t.Errorf("tower of %g: %g, want %g", c.height, got, want)
			}
			if got := number(t, note, "goes over under"); !near(got, (130-x/mass)/hole, 0.051) {
				t.Errorf("tower of %g, held: %g, want %g", c.height, got, (130-x/mass)/hole)
			}
		}
		var pull *prove.Finding
		for i := range rep.Findings {
			if rep.Findings[i].ID == "balance:pull" {
				pull = &rep.Findings[i]
			}
		}
		if c.height == 100 && (want < 0.5 || want > 0.9) {
			t.Fatalf("tower of %g rears at %g: no longer between the limit and half of it", c.height, want)
		}
		if (pull != nil) != c.mind {
			t.Errorf("tower of %g: %v", c.height, pull)
		} else if pull != nil && (pull.Verdict != prove.Mind || !near(pull.Value, want, 1e-3) || pull.Margin < 0) {
			t.Errorf("tower of %g: %v %g, want %g", c.height, pull.Verdict, pull.Value, want)
		}
	}
}

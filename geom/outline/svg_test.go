package outline

import (
	"math"
	"strings"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

func parse(t testing.TB, d string) []Path {
	t.Helper()
	p, err := ParseSVG(d)
	if err != nil {
		t.Fatalf("%s: %v", d, err)
	}
	return p
}

// Examples and rules of SVG 1.1 (second edition) chapter 8, section in the
// first field; areas are closed forms.
func TestSVG(t *testing.T) {
	for _, c := range []struct {
		from, d string
		areas   []float64
		by      float64
	}{
		{"8.3.2 triangle01", "M 100 100 L 300 100 L 200 300 z", []float64{20000}, 0},
		{"8.3.1 white space may go", "M100 100L300 100L200 300z", []float64{20000}, 0},
		{"8.3.1 command may go", "M100,100 300,100 200 300Z", []float64{20000}, 0},
		{"8.3.2 relative moveto, implicit l", "m100 100 200 0-100 200z", []float64{20000}, 0},
		{"8.3.2 not closed: filled as if", "M 100 100 L 300 100 L 200 300", []float64{20000}, 0},
		{"8.3.9 numbers end where they must", "M.0.0.5.0.5.5z", []float64{0.125}, 1e-15},
		{"8.3.9 exponent, signs", "M+0-0H1e1V+.1E+2H0e-3z", []float64{100}, 1e-12},
		{"8.3.9 trailing point", "M0. 0.H1.V1.H0.z", []float64{1}, 0},
		{"8.3.4 H V h v, last of several counts", "M 0 0 H 5 10 v 3 7 h -4 -6 V 8 0", []float64{100}, 0},
		{"8.3.3 after z the pen is at the start", "m5 5h10v10h-10z l0-5 5 0 z", []float64{100, 12.5}, 0},
		{"8.3.3 z then m relative to the start", "m5 5h10v10h-10zm1 1h2v2z", []float64{100, 2}, 0},
		{"8.3.2 lone moves", "M 1 2 M 3 4 0 0 5 0 5 5 M 7 7", []float64{12.5 + 0.5*(3*0-0*4) + 0.5*(5*4-3*5)}, 1e-12},
		// 8.3.8 arcs01: three quarters and one quarter of a pie.
		{"8.3.8 arcs01 large", "M300,200 h-150 a150,150 0 1,0 150,-150 z", []float64{-0.75 * math.Pi * 22500}, 1e-8},
		{"8.3.8 arcs01 small", "M275,175 v-150 a150,150 0 0,0 -150,150 z", []float64{-0.25 * math.Pi * 22500}, 1e-8},
		{"8.3.9 flags glued", "M0 0a1 1 0 0110 10z", []float64{25 * math.Pi}, 1e-9},
		{"8.3.9 flags glued, comma free", "M0 0a5 5 0 01.1e2-.0z", []float64{12.5 * math.Pi}, 1e-9},
		{"8.3.8 two arcs", "M0 0A5 5 0 0 1 10 0 5 5 0 0 1 0 0", []float64{25 * math.Pi}, 1e-9},
		{"F.6.6 radii too small grow", "M0 0A1 1 0 0 1 10 0z", []float64{12.5 * math.Pi}, 1e-9},
		{"F.6.6 negative radii are turned", "M0 0A-5 -5 0 0 0 10 0z", []float64{-12.5 * math.Pi}, 1e-9},
		{"F.6.6 no radius: a line", "M0 0A0 5 0 0 1 10 0V5z", []float64{25}, 0},
		{"F.6.2 same ends: nothing", "M0 0H10A5 5 0 1 1 10 0V5z", []float64{25}, 0},
		{"F.6.6 ellipse too small grows", "M0 0A1 2 0 0 1 10 0z", []float64{math.Pi * 5 * 10 / 2}, 0.2},
		{"half an ellipse", "M-20 0A20 10 0 0 1 20 0z", []float64{math.Pi * 100}, 0.33},
		{"tilted ellipse", "M-10 0A10 20 90 0 1 10 0z", []float64{ellipseSegment(20, 10, 10)}, 0.2},
		// Under a parabola: two thirds of its box. Cubic with controls straight
		// above the ends: 3/20 (3 h) w... = 0.6 h w for height h of the controls.
		{"8.3.7 quadratic", "M0 0Q50-100 100 0z", []float64{100 * 50 * 2 / 3.0}, 1},
		{"8.3.6 cubic", "M0 0C0-100 100-100 100 0z", []float64{6000}, 1},
		{"8.3.7 T mirrors the control", "M0 0Q50-100 100 0T200 0z", []float64{0}, 1e-9},
		{"8.3.7 T after no Q: a line", "M0 0V50T100 0z", []float64{-2500}, 1e-9},
		{"8.3.6 S mirrors the control", "M0 0C0-100 100-100 100 0S200 100 200 0z", []float64{0}, 1e-9},
		{"8.3.6 S after no C", "M0 0S100-100 100 0z", []float64{0.15 * (100*100 + 100*100)}, 1},
	} {
		ps := parse(t, c.d)
		if len(ps) != len(c.areas) {
			t.Errorf("%s: %d paths", c.from, len(ps))
			continue
		}
		for i, p := range ps {
			near(t, c.from, p.Area(), c.areas[i], c.by)
		}
	}
}

// ellipseSegment is the area cut off an ellipse with half axes a and b by a
// chord of half length h square to b and centred.
func ellipseSegment(a, b, h float64) float64 {
	s := 2 * math.Asin(h/a)
	return a * b / 2 * (s - math.Sin(s))
}

// A circle's arcs stay arcs; the four arcs of SVG 1.1 figure arcs02 lie on one
// pair of circles.
func TestSVGArcs(t *testing.T) {
	for _, c := range []struct {
		flags  string
		centre r2.Vec
		sweep  float64
	}{
		{"0 0", v(0, -4), -2 * math.Atan2(3, 4)}, {"0 1", v(0, 4), 2 * math.Atan2(3, 4)},
		{"1 0", v(0, 4), 2*math.Atan2(3, 4) - 2*math.Pi}, {"1 1", v(0, -4), 2*math.Pi - 2*math.Atan2(3, 4)},
	} {
		p := parse(t, "M-3 0A5 5 30 "+c.flags+" 3 0z")[0]
		s := p.Segs[0]
		if !s.Round() || s.R != 5 {
			t.Errorf("%s: %v", c.flags, s)
		}
		nearVec(t, c.flags, s.C, c.centre, 1e-12)
		near(t, c.flags, s.Sweep, c.sweep, 1e-12)
		nearVec(t, c.flags, s.C.Add(turned(v(-3, 0).Sub(s.C), s.Sweep)), s.To, 1e-12)
	}
	// In inches; the area in square millimetres.
	p, err := ParseSVGIn("M0 0 H4.75 L5.125 .3 V1.075 L4.75 1.375 H0 Z", 25.4)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "inches", p[0].Area(), (4.75*1.375+.375*(1.375+.775)/2)*25.4*25.4, 1e-9)
}

// Flattened curves stay within tol.Chord of the curve and end on it.
func TestSVGFlatness(t *testing.T) {
	for _, unit := range []float64{1, 25.4} {
		p, err := ParseSVGIn("M100,200 C100,100 250,100 250,200 S400,300 400,200", unit)
		if err != nil {
			t.Fatal(err)
		}
		e, err := ParseSVGIn("M 20 0 A 20 7 25 0 1 -12 5", unit)
		if err != nil {
			t.Fatal(err)
		}
		open := p[0]
		worst := 0.0
		for i := 0; i <= 5000; i++ {
			x := float64(i) / 5000
			y := 1 - x
			b := func(p0, p1, p2, p3 float64) float64 {
				return y*y*y*p0 + 3*y*y*x*p1 + 3*y*x*x*p2 + x*x*x*p3
			}
			q := v(b(100, 100, 250, 250), b(200, 100, 100, 200)).Scale(unit)
			worst = math.Max(worst, open.DistanceTo(q))
			q = v(b(250, 250, 400, 400), b(200, 300, 300, 200)).Scale(unit)
			worst = math.Max(worst, open.DistanceTo(q))
		}
		if worst > tol.Chord || worst < tol.Chord/10 {
			t.Errorf("unit %v: %v off", unit, worst)
		}
		// Every flattened point of the ellipse satisfies one ellipse's equation:
		// a circle when turned back and squeezed.
		var c []r2.Vec
		for _, q := range append([]r2.Vec{e[0].Start}, ends(e[0])...) {
			w := turned(q.Scale(1/unit), -25*math.Pi/180)
			c = append(c, v(w.X/20, w.Y/7))
		}
		o, _ := circumcentre(c[0], c[len(c)/3], c[2*len(c)/3])
		for _, q := range c {
			near(t, "ellipse", q.Sub(o).Len(), c[0].Sub(o).Len(), 1e-9)
		}
	}
}

func ends(p Path) (out []r2.Vec) {
	for _, s := range p.Segs {
		out = append(out, s.To)
	}
	return out
}

func TestSVGErrors(t *testing.T) {
	for _, c := range []struct {
		d    string
		at   int
		says string
	}{
		{"", 0, "draws nothing"},
		{"  M 1 1 ", 8, "draws nothing"},
		{"L 1 1", 0, "must begin with M"},
		{"1 1", 0, "expected a command"},
		{"M 0 0 X 1", 6, "expected a command"},
		{"M 0 0 é", 6, `not "é"`},
		{"M 0 0 L 5", 9, "but the path ends"},
		{"M 0 0 L 5 z", 10, `expected a number, not "z"`},
		{"M 0 0 L 5,,5", 10, "expected a number"},
		{"M 0 0 L 5 5,", 11, "a comma with no number"},
		{"M,0 0", 1, "expected a number"},
		{"M 0 0 L 1e 5", 9, "expected a number"},
		{"M 0 0 L 5 1e", 11, "expected a command"},
		{"M 0 0 L - 5", 8, "expected a number"},
		{"M 0 0 L nan 5", 8, "expected a number"},
		{"M 0 0 L 1e9 5", 8, "larger than"},
		{"M 0 0 L 1e999 5", 8, "larger than"},
		{"M 0 0 A 5 5 0 2 1 9 9", 14, "arc flag"},
		{"M 0 0 A 5 5 0 11", 16, "but the path ends"},
		{"M 0 0 z 5", 8, "expected a command"},
		{"M 0 0 z,", 7, "expected a command"},
		{"M 0 0 l" + strings.Repeat(" 1e6 0", 3), 20, "too far"},
		{"M 0 0" + strings.Repeat("h1", 20001), 5 + 2*20000 + 1, "more than 20000"},
		{"M 0 0 C 1e6 1e6 -1e6 1e6 0 0" + strings.Repeat(" 1e6 1e6 -1e6 1e6 0 0", 9), 29, "more than 20000"},
	} {
		p, err := ParseSVG(c.d)
		if err == nil {
			t.Errorf("%.30q gives %d paths", c.d, len(p))
		} else if err.At != c.at || !strings.Contains(err.Says, c.says) {
			t.Errorf("%.30q: %d %s; want %d %s", c.d, err.At, err.Says, c.at, c.says)
		}
	}
}

func FuzzParseSVG(f *testing.F) {
	for _, d := range []string{
		"M 100 100 L 300 100 L 200 300 z", "M100,200 C100,100 250,100 250,200 S400,300 400,200",
		"M200,300 Q400,50 600,300 T1000,300", "m0 0a1 1 0 0110 10zm5-5.5.5h3v2H1V1z", "M0 0A9 4 30 1 0 1e1-2E-1",
	} {
		f.Add(d)
	}
	f.Fuzz(func(t *testing.T, d string) {
		ps, err := ParseSVG(d)
		if err != nil {
			if err.At < 0 || err.At > len(d) || err.Says == "" || ps != nil {
				t.Fatalf("%q: %v", d, err)
			}
			return
		}
		chords := 0
		for _, p := range ps {
			if len(p.Segs) == 0 || p.Segs[len(p.Segs)-1].To != p.Start {
				t.Fatalf("%q: not closed", d)
			}
			chords += p.chordCount()
			if a := p.Area(); math.IsNaN(a) || math.IsInf(a, 0) {
				t.Fatalf("%q: area %v", d, a)
			}
			if p.Check() == nil && len(p.Segs) < 2000 {
				poly := p.Polygon()
				if _, err := ConvexParts(poly, nil); err != nil {
					t.Fatalf("%q passes Check but: %v", d, err)
				}
			}
		}
		if chords > MaxSegments+len(ps) {
			t.Fatalf("%q: %d chords", d, chords)
		}
	})
}

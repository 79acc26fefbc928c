package draw

import (
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

func v(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

func near(a, b r2.Vec) bool { return a.Sub(b).Len() < 1e-9 }

func bezier(p0 r2.Vec, c Cubic, t float64) r2.Vec {
	u := 1 - t
	return p0.Scale(u * u * u).Add(c.C1.Scale(3 * u * u * t)).Add(c.C2.Scale(3 * u * t * t)).Add(c.To.Scale(t * t * t))
}

// TestCubics measures how far the curves leave the circle they stand for.
func TestCubics(t *testing.T) {
	for _, radius := range []float64{0.5, 3.2, 14, 100, 1000} {
		for _, sweep := range []float64{0.01, 0.5, math.Pi / 2, math.Pi, -math.Pi, 2 * math.Pi, -4.5} {
			c := v(12, -7)
			run := Arc(c, radius, 0.3, sweep)
			from, worst := run.From, 0.0
			for _, cubic := range run.Segs[0].Cubics() {
				for i := range 101 {
					worst = math.Max(worst, math.Abs(bezier(from, cubic, float64(i)/100).Sub(c).Len()-radius))
				}
				from = cubic.To
			}
			if worst > tol.Curve {
				t.Errorf("radius %g, sweep %g: %g mm off the circle", radius, sweep, worst)
			}
			if from != run.End() {
				t.Errorf("radius %g, sweep %g: ends at %v, not %v", radius, sweep, from, run.End())
			}
		}
	}
}

func TestBounds(t *testing.T) {
	for name, c := range map[string]struct {
		run  Run
		want r2.Box
	}{
		"circle":       {Circle(v(10, 20), 5), r2.Box{Min: v(5, 15), Max: v(15, 25)}},
		"quarter":      {Arc(v(0, 0), 2, 0, math.Pi/2), r2.Box{Min: v(0, 0), Max: v(2, 2)}},
		"over the top": {Arc(v(0, 0), 1, math.Pi/4, math.Pi/2), r2.Box{Min: v(-math.Sqrt2/2, math.Sqrt2/2), Max: v(math.Sqrt2/2, 1)}},
		"clockwise":    {Arc(v(0, 0), 1, math.Pi/4, -math.Pi/2), r2.Box{Min: v(math.Sqrt2/2, -math.Sqrt2/2), Max: v(1, math.Sqrt2/2)}},
		"polygon":      {Polygon(v(1, 1), v(4, 2), v(2, 5)), r2.Box{Min: v(1, 1), Max: v(4, 5)}},
		"rounded":      {Start(v(0, 0)).LineTo(v(10, 0)).ArcTo(v(10, 5), math.Pi).Close(), r2.Box{Min: v(0, 0), Max: v(15, 10)}},
	} {
		if b := c.run.Bounds(); !near(b.Min, c.want.Min) || !near(b.Max, c.want.Max) {
			t.Errorf("%s: %v, want %v", name, b, c.want)
		}
	}
}

// A builder must not write into a run that someone else holds.
func TestRunsDoNotShare(t *testing.T) {
	base := Start(v(0, 0)).LineTo(v(1, 0)).LineTo(v(2, 0))
	a, b := base.LineTo(v(3, 1)), base.LineTo(v(3, 2))
	if a.End() != v(3, 1) || b.End() != v(3, 2) {
		t.Errorf("ends at %v and %v", a.End(), b.End())
	}
}

func anyTransform(r *rand.Rand) Transform {
	turn := r.Float64() * 7
	if r.Intn(2) == 0 {
		turn = float64(r.Intn(5)) * math.Pi / 2
	}
	return Transform{Mirror: r.Intn(2) == 0, Scale: r.Float64() * 3, Turn: turn, Shift: v(r.Float64()*100, r.Float64()*100)}
}

func TestTransforms(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 500 {
		a, b := anyTransform(r), anyTransform(r)
		p := v(r.Float64()*50, r.Float64()*50)
		if got, want := a.After(b).Apply(p), a.Apply(b.Apply(p)); !near(got, want) {
			t.Fatalf("%+v after %+v: %v, want %v", a, b, got, want)
		}
		// Moving an arc and walking along it, either way round, meets the same points.
		arc := Arc(p, 1+r.Float64()*5, r.Float64()*6, r.Float64()*12-6)
		s, moved := arc.Segs[0], a.Run(arc).Segs[0]
		for _, share := range []float64{0, 0.3, 1} {
			if got, want := moved.at(share), a.Apply(s.at(share)); !near(got, want) {
				t.Fatalf("%+v moves an arc to %v, want %v", a, got, want)
			}
		}
		// Text keeps its box from foot to capitals, is never mirrored, and stays readable.
		x := Text{At: p, Says: "Axle ⌀ 6", Height: 2.5, Turn: r.Float64()*3 - 1.5, Across: Across(r.Intn(3)), Up: Up(r.Intn(3))}
		y := x.moved(a)
		var from, to []r2.Vec
		for _, corner := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
			at := func(x Text) r2.Vec {
				x.At, x.Across, x.Up = x.Start(), Left, Base
				return x.corner(corner[0]*x.Width(), corner[1]*x.Height)
			}
			from, to = append(from, a.Apply(at(x))), append(to, at(y))
		}
		for _, p := range from {
			if !slices.ContainsFunc(to, func(q r2.Vec) bool { return near(p, q) }) {
				t.Fatalf("%+v: box of the text %v became %v", a, from, to)
			}
		}
		if math.Cos(y.Turn) < -1e-9 {
			t.Fatalf("%+v: text at angle %g stands on its head", a, y.Turn)
		}
	}
	if got := (Transform{Turn: math.Pi / 2}).Apply(v(100, 50)); got != v(-50, 100) {
		t.Errorf("a quarter turn is not exact: %v", got)
	}
}

func TestWalk(t *testing.T) {
	clip := []Run{Rect(r2.Box{Max: v(5, 5)})}
	p := Page{Items: []Item{
		Group{Layer: "Cut", Move: Translate(v(10, 0)), Items: []Item{
			Path{Runs: []Run{Circle(v(1, 1), 1)}, Line: Cut},
			Group{Clip: clip, Items: []Item{Text{At: v(2, 2), Says: "a", Height: 2}}},
		}},
		Path{Runs: []Run{Polyline(v(0, 0), v(1, 0))}},
	}}
	var marks []Mark
	p.Walk(func(m Mark) { marks = append(marks, m) })
	if len(marks) != 3 || marks[0].Layer != "Cut" || marks[1].Layer != "Cut" || marks[2].Layer != "" {
		t.Fatalf("marks %+v", marks)
	}
	if c := marks[0].Path.Runs[0].Segs[0].Centre; c != v(11, 1) {
		t.Errorf("circle at %v", c)
	}
	if len(marks[1].Clips) != 1 || marks[1].Clips[0][0].From != v(10, 0) || marks[1].Text.At != v(12, 2) {
		t.Errorf("clipped text %+v at %v", marks[1].Clips, marks[1].Text.At)
	}
	if len(marks[2].Clips) != 0 {
		t.Error("a clip leaks out of its group")
	}
}

func TestText(t *testing.T) {
	x := Text{At: v(50, 50), Says: "Wheel", Height: 3, Across: Middle, Up: Half}
	w := x.Width()
	if got, want := x.Start(), v(50-w/2, 48.5); !near(got, want) {
		t.Errorf("starts at %v, want %v", got, want)
	}
	x.Turn = math.Pi / 2
	if got, want := x.Start(), v(51.5, 50-w/2); !near(got, want) {
		t.Errorf("turned, starts at %v, want %v", got, want)
	}
	// A letter H is as high as asked: 1493 of 2048 units are the capitals.
	if got, want := x.Size(), 3*2048/1493.0; math.Abs(got-want) > 1e-12 {
		t.Errorf("size %g, want %g", got, want)
	}
	lines := Wrap("beech ¾ × 1 ⅜ in, make one of these", 2, false, 25)
	if len(lines) < 2 || Widest(lines, 2, false) > 25 {
		t.Errorf("wrapped to %q", lines)
	}
	for _, l := range Wrap("Stick the pattern on. It is on page\u00a014.", 2, false, 29) {
		if strings.HasPrefix(l, "14") || strings.Contains(l, "\u00a0") {
			t.Errorf("a number is alone on its line, or a space is not plain: %q", l)
		}
	}
	for _, l := range Wrap("birch, blank 4 × 1 1/2 in, or 12 mm, drilled 1/4 in. Then 3 in all", 2, false, 12) {
		if strings.HasSuffix(l, "×") || strings.HasPrefix(l, "1/2") || strings.HasPrefix(l, "in") || strings.HasPrefix(l, "mm") {
			t.Errorf("a size is broken: %q", l)
		}
	}
	if s := Shorten("a title that is too long for its line", 3, true, 30); TextWidth(s, 3, true) > 30 || len(s) < 8 {
		t.Errorf("shortened to %q", s)
	}
}

// Widths must come from the series of ISO 128-2, and no two styles may look
// alike, which the reader could not tell apart.
func TestStyles(t *testing.T) {
	for a := Cut; a <= Faint; a++ {
		s := a.Style()
		if !slices.Contains([]float64{0.13, 0.18, 0.25, 0.35, 0.5, 0.7}, s.Width) {
			t.Errorf("%s is %g wide", a, s.Width)
		}
		for b := a + 1; b <= Faint; b++ {
			o := b.Style()
			if s.Width == o.Width && s.Tone == o.Tone && slices.Equal(s.Dash, o.Dash) {
				t.Errorf("%s and %s look alike", a, b)
			}
		}
	}
}

func TestDigits(t *testing.T) {
	for in, want := range map[float64]string{0: "0", -0.00001: "0", 1: "1", 1.5: "1.5", 100: "100", -2.34567: "-2.3457", 0.1 + 0.2: "0.3"} {
		if got := Digits(in); got != want {
			t.Errorf("%g: %s, want %s", in, got, want)
		}
	}
}

func TestDimension(t *testing.T) {
	for _, c := range []struct {
		a, b   r2.Vec
		offset float64
	}{{v(0, 0), v(50, 0), 8}, {v(0, 0), v(50, 0), -8}, {v(0, 0), v(3, 0), 8}, {v(0, 0), v(0, 40), 6}, {v(40, 30), v(0, 0), 5}} {
		g := Dimension(c.a, c.b, c.offset, "50 mm")
		var text Text
		for _, it := range g.Items {
			if x, ok := it.(Text); ok {
				text = x
			}
		}
		if !upright(text.Turn) {
			t.Errorf("%v: label at angle %g", c, text.Turn)
		}
		side := c.b.Sub(c.a).Unit().Cross(text.At.Sub(c.a))
		if side*c.offset <= 0 {
			t.Errorf("%v: label on the wrong side, %g", c, side)
		}
	}
}

// Hatching a plate with a hole, against the area: the lines' length times their
// distance comes close to it, and no point of a line lies outside.
func TestHatch(t *testing.T) {
	hole := Circle(v(30, 20), 8)
	plate := Start(v(0, 0)).LineTo(v(60, 0)).LineTo(v(60, 30)).ArcTo(v(50, 30), math.Pi/2).LineTo(v(0, 40)).Close()
	want := 60*40 - (100 - 25*math.Pi) - 64*math.Pi
	for _, angle := range []float64{0, math.Pi / 4, 1.1, math.Pi / 2, -2} {
		h := Hatch([]Run{plate, hole}, angle, 0.25)
		sum := 0.0
		for _, r := range h.Runs {
			sum += r.End().Sub(r.From).Len() * 0.25
			for _, p := range []r2.Vec{r.From, r.End(), r.From.Add(r.End()).Scale(0.5)} {
				if p.X < -1e-6 || p.Y < -1e-6 || p.X > 60+1e-6 || p.Y > 40+1e-6 || p.Sub(v(30, 20)).Len() < 8-tol.Chord {
					t.Fatalf("angle %g: hatched at %v", angle, p)
				}
			}
		}
		if math.Abs(sum-want) > 0.01*want {
			t.Errorf("angle %g: hatched %.0f mm², want %.0f", angle, sum, want)
		}
	}
	if h := Hatch(nil, 0, 1); len(h.Runs) != 0 {
		t.Error("hatched nothing at all")
	}
}

package outline

import (
	"math"
	"strings"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

func v(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

func sharp(pts ...r2.Vec) []Corner {
	var c []Corner
	for _, p := range pts {
		c = append(c, Corner{P: p})
	}
	return c
}

func near(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: got %.12g, want %.12g", what, got, want)
	}
}

func nearVec(t *testing.T, what string, got, want r2.Vec, by float64) {
	t.Helper()
	if !(got.Sub(want).Len() <= by) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func must(t testing.TB) func(Path, error) Path {
	return func(p Path, err error) Path {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
}

func halfDisc(t testing.TB) Path {
	up := v(0, 30)
	return must(t)(Corners([]Corner{{P: v(-30, 0), Via: &up}, {P: v(30, 0)}}))
}

func ell(t testing.TB) Path {
	return must(t)(Corners(sharp(v(0, 0), v(60, 0), v(60, 20), v(20, 20), v(20, 60), v(0, 60))))
}

// Closed forms of any mechanics textbook: half disc 4r/3pi = 12.7324 for r 30;
// L of 60x60 less a 40x40 corner: area 2000, centroid (22, 22).
func TestMeasures(t *testing.T) {
	d := halfDisc(t)
	near(t, "half disc area", d.Area(), 450*math.Pi, 1e-9)
	nearVec(t, "half disc centroid", d.Centroid(), v(0, 12.732395447), 1e-9)
	near(t, "half disc length", d.Length(), 60+30*math.Pi, 1e-9)
	if b := d.Bounds(); b != (r2.Box{Min: v(-30, 0), Max: v(30, 30)}) {
		t.Errorf("half disc bounds %v", b)
	}
	near(t, "reversed area", d.Reverse().Area(), -450*math.Pi, 1e-9)
	nearVec(t, "reversed centroid", d.Reverse().Centroid(), v(0, 12.732395447), 1e-9)

	l := ell(t)
	near(t, "L area", l.Area(), 2000, 0)
	nearVec(t, "L centroid", l.Centroid(), v(22, 22), 1e-12)
	m := Moments(l.Polygon())
	near(t, "L area", m.Area, 2000, 0)
	nearVec(t, "L centroid", m.Centroid, v(22, 22), 1e-12)
	// Two rectangles 60x20 and 20x40, parallel axes (b h^3/12 + A d^2).
	near(t, "L second moment", m.YY, 60*8000.0/12+1200*144+20*64000.0/12+800*18*18, 1e-6)
	near(t, "L product", m.XY, 1200*8*-12+800*-12*18, 1e-6)

	// Rectangle b h^3/12, disc pi r^4/4 (handbook tables).
	rect := must(t)(Rect(v(10, 20), v(110, 60), 0))
	m = Moments(rect.Polygon())
	near(t, "rectangle", m.YY, 100*64000.0/12, 1e-6)
	near(t, "rectangle", m.XX, 40*1e6/12, 1e-6)
	c := Circle(v(500, -300), 20)
	near(t, "disc area", c.Area(), 400*math.Pi, 1e-9)
	nearVec(t, "disc centroid", c.Centroid(), v(500, -300), 1e-12)
	m = Moments(c.Polygon())
	near(t, "disc second moment", m.XX/(math.Pi*160000/4), 1, 3e-3)
	round := must(t)(Rect(v(0, 0), v(50, 30), 10))
	near(t, "rounded rectangle", round.Area(), 1500-100*(4-math.Pi), 1e-9)
	nearVec(t, "rounded rectangle", round.Centroid(), v(25, 15), 1e-12)
	if b := round.Bounds(); b != (r2.Box{Max: v(50, 30)}) {
		t.Errorf("rounded rectangle bounds %v", b)
	}
	// Sector of half angle a: centroid 2 r sin a/(3a); here 3/4 of a turn, made
	// of straight steps and a long arc.
	s := Path{Start: v(0, 0), Segs: []Seg{Line(v(10, 0)), {To: v(0, -10), C: v(0, 0), R: 10, Sweep: 1.5 * math.Pi}}}
	a := 0.75 * math.Pi
	far := 2 * 10 * math.Sin(a) / (3 * a)
	near(t, "sector area", s.Area(), a*100, 1e-9)
	nearVec(t, "sector centroid", s.Centroid(), v(far*math.Cos(a), far*math.Sin(a)), 1e-12)
	if b := s.Bounds(); b != (r2.Box{Min: v(-10, -10), Max: v(10, 10)}) {
		t.Errorf("sector bounds %v", b)
	}
}

// Tangent fillet: setback r/tan(A/2), so r 10 at a right angle takes 10.
func TestCorners(t *testing.T) {
	p := must(t)(Corners([]Corner{{P: v(0, 0)}, {P: v(50, 0), Radius: 10}, {P: v(50, 40)}, {P: v(0, 40)}}))
	want := Seg{To: v(50, 10), C: v(40, 10), R: 10, Sweep: math.Pi / 2}
	if p.Segs[0].To != v(40, 0) || p.Segs[1] != want {
		t.Errorf("right angle: %v", p.Segs[:2])
	}
	for _, deg := range []float64{20, 60, 90, 135, 170} {
		a := deg * math.Pi / 180
		for _, side := range []float64{1, -1} {
			p := must(t)(Corners([]Corner{{P: v(100, 0)}, {P: v(0, 0), Radius: 10}, {P: v(100*math.Cos(a), side*100*math.Sin(a))}}))
			near(t, "setback", p.Segs[0].To.X, 10/math.Tan(a/2), 1e-12)
			s := p.Segs[1]
			near(t, "sweep", s.Sweep, -side*(math.Pi-a), 1e-12)
			near(t, "centre to start", s.C.Sub(p.Segs[0].To).Len(), 10, 1e-12)
			near(t, "centre to end", s.C.Sub(s.To).Len(), 10, 1e-12)
			nearVec(t, "turned", s.C.Add(turned(p.Segs[0].To.Sub(s.C), s.Sweep)), s.To, 1e-12)
		}
	}
	// A slot: the setbacks use the ends up whole.
	slot := must(t)(Rect(v(0, 0), v(30, 10), 5))
	near(t, "slot", slot.Area(), 200+25*math.Pi, 1e-12)
	if len(slot.Segs) != 6 {
		t.Errorf("slot has %d steps", len(slot.Segs))
	}
	if f := slot.Check(); f != nil {
		t.Error(f)
	}
	// A radius in the middle of a straight line changes nothing.
	p = must(t)(Corners([]Corner{{P: v(0, 0)}, {P: v(25, 0), Radius: 5}, {P: v(50, 0)}, {P: v(0, 40)}}))
	near(t, "flat corner", p.Area(), 1000, 0)
	mid := v(5, 5)
	for _, c := range []struct {
		pts  []Corner
		at   int
		says string
	}{
		{[]Corner{{P: v(0, 0)}, {P: v(15, 0), Radius: 10}, {P: v(15, 40), Radius: 35}, {P: v(0, 40)}}, 2, "radius 35 does not fit: it takes 35 of a side that is 40 long, and corner 1 takes 10"},
		{[]Corner{{P: v(0, 0), Radius: 12}, {P: v(10, 0)}, {P: v(10, 40)}, {P: v(0, 40)}}, 0, "radius 12 does not fit: it takes 12 of a side that is 10 long"},
		{sharp(v(0, 0), v(0, 0), v(1, 1)), 1, "lies on the corner before"},
		{sharp(v(0, 0), v(9, 0)), 1, "at least three"},
		{sharp(v(0, 0), v(9, 0), v(math.NaN(), 0)), 2, "not a usable number"},
		{[]Corner{{P: v(0, 0)}, {P: v(10, 0), Radius: -1}, {P: v(10, 40)}}, 1, "not a usable number"},
		{[]Corner{{P: v(0, 0)}, {P: v(10, 0), Radius: 1}, {P: v(10, 40), Via: &mid}}, 1, "cannot have a radius"},
		{[]Corner{{P: v(0, 0)}, {P: v(10, 0), Radius: 1}, {P: v(5, 0)}}, 1, "straight back"},
	} {
		_, err := Corners(c.pts)
		e, ok := err.(*CornerError)
		if !ok || e.At != c.at || !strings.Contains(e.Says, c.says) {
			t.Errorf("got %v, want corner %d: %s", err, c.at, c.says)
		}
	}
}

// Chord 100 and rise 10 have the radius c^2/8s + s/2 = 130.
func TestThreePointArc(t *testing.T) {
	s, err := ThreePointArc(v(0, 0), v(50, 10), v(100, 0))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "radius", s.R, 130, 1e-10)
	nearVec(t, "centre", s.C, v(50, -120), 1e-10)
	near(t, "sweep", s.Sweep, -2*math.Asin(50.0/130), 1e-12)
	s, _ = ThreePointArc(v(0, 0), v(50, -90), v(100, 0)) // more than a half turn, leftwards
	near(t, "rise 90", s.R, 10000.0/720+45, 1e-10)
	near(t, "sweep 90", s.Sweep, 2*math.Pi-2*math.Asin(50/s.R), 1e-12)
	if s, err := ThreePointArc(v(0, 0), v(3, 0), v(9, 0)); err != nil || s.Round() {
		t.Errorf("straight: %v %v", s, err)
	}
	for _, via := range []r2.Vec{v(12, 0), v(-1, 0), v(0, 0), v(9, 0), v(math.Inf(1), 0)} {
		if _, err := ThreePointArc(v(0, 0), via, v(9, 0)); err == nil {
			t.Errorf("via %v passes", via)
		}
	}
}

func TestMirror(t *testing.T) {
	// Half of an arch: on the mirror line x = 20 above, off it below.
	top := v(20, 50)
	over := v(20-30*math.Sqrt(0.5), 20+30*math.Sqrt(0.5))
	half := []Corner{{P: v(10, 0)}, {P: v(-10, 0), Radius: 3}, {P: v(-10, 20)}, {P: top, Via: &over}}
	all, err := MirrorCorners(half, v(20, 0), v(20, 1))
	if err != nil {
		t.Fatal(err)
	}
	p := must(t)(Corners(all))
	want := 60*20 + 450*math.Pi - 2*9*(1-math.Pi/4)
	near(t, "arch", math.Abs(p.Area()), want, 1e-9)
	near(t, "arch middle", p.Centroid().X, 20, 1e-12)
	if f := p.Check(); f != nil {
		t.Error(f)
	}
	q := must(t)(Mirror(must(t)(Polyline(half)), v(20, 5), v(20, -1)))
	near(t, "arch again", math.Abs(q.Area()), want, 1e-9)
	if f := q.Check(); f != nil {
		t.Error(f)
	}
	if b := q.Bounds(); b.Min.X != -10 || b.Max.X != 50 {
		t.Errorf("bounds %v", b)
	}
	// About a sloping line, a corner with a radius on the line itself.
	all, err = MirrorCorners([]Corner{{P: v(0, 0), Radius: 2}, {P: v(30, 0)}, {P: v(30, 30)}}, v(0, 0), v(1, 1))
	if err != nil {
		t.Fatal(err)
	}
	p = must(t)(Corners(all))
	near(t, "square", p.Area(), 900-4*(1-math.Pi/4), 1e-9)
	if _, err := MirrorCorners(half, v(1, 1), v(1, 1)); err == nil {
		t.Error("no mirror line passes")
	}
}

// The rule in flatten.go; n >= pi/acos(1 - e/R): R 50, e .05 gives 70.2.
func TestPolygonRule(t *testing.T) {
	if n := chords(50, 2*math.Pi, 0.05); n != 72 {
		t.Errorf("R 50, 0.05: %d, want 71 brought to a multiple of 4", n)
	}
	if n := chords(50, 1.99999999*math.Pi, 0.05); n != 71 {
		t.Errorf("R 50, 0.05: %d, want 71", n)
	}
	for _, r := range []float64{1e-3, 0.006, 0.02, 1, 3.175, 25.4, 400} {
		half := math.Pi
		if r > tol.Chord/2 {
			half = math.Acos(1 - tol.Chord/r)
		}
		p := Circle(v(7, -3), r).Polygon()
		want := max(8, 4*int(math.Ceil(math.Pi/half/4)))
		if len(p) != want {
			t.Errorf("circle r %v: %d corners, want %d", r, len(p), want)
		}
		n := len(p)
		for k, q := range []r2.Vec{v(7+r, -3), v(7, -3+r), v(7-r, -3), v(7, -3-r)} {
			if p[k*n/4] != q {
				t.Errorf("circle r %v: quarter %d at %v", r, k, p[k*n/4])
			}
		}
		if r > 0.02 {
			sag := r * (1 - math.Cos(math.Pi/float64(n)))
			if sag > tol.Chord+1e-12 {
				t.Errorf("circle r %v: chord %v off", r, sag)
			}
		}
		for _, s := range []float64{0.001, 0.5, math.Pi / 2, 3, 6} {
			if got, want := Chords(r, -s), max(1, int(math.Ceil(s/(2*half)))); got != want {
				t.Errorf("arc r %v sweep %v: %d, want %d", r, s, got, want)
			}
		}
	}
	// Half a turn the other way, still counter-clockwise, its top exact.
	d := halfDisc(t)
	p, of := d.PolygonOf()
	if SignedArea(p) <= 0 {
		t.Error("polygon is clockwise")
	}
	k := Chords(30, math.Pi)
	if len(p) != k+1 {
		t.Errorf("half disc has %d corners, want %d", len(p), k+1)
	}
	arcs := 0
	for i := range p {
		a, b := p[i], p[(i+1)%len(p)]
		round := a.Y > 0 || b.Y > 0
		if d.Segs[of[i]].Round() != round {
			t.Errorf("edge %d stands for step %d", i, of[i])
		}
		if round {
			arcs++
		}
	}
	if arcs != k {
		t.Errorf("%d edges of the arc, want %d", arcs, k)
	}
	if k%2 == 0 && p[k/2] != v(0, 30) {
		t.Errorf("top at %v", p[k/2])
	}
	// Points in a line and repeated ones go, whatever the start.
	q := Path{Start: v(5, 0), Segs: []Seg{Line(v(10, 0)), Line(v(10, 1e-10)), Line(v(10, 5)), Line(v(10, 10)), Line(v(0, 10)), Line(v(0, 0)), Line(v(2, 0))}}
	if got := q.Polygon(); len(got) != 4 || SignedArea(got) != 100 {
		t.Errorf("square: %v", got)
	}
}

func TestTransform(t *testing.T) {
	d := halfDisc(t)
	p := d.Transform(Turned(math.Pi / 2)).Transform(Shifted(v(100, 7))).Transform(Scaled(2))
	if b := p.Bounds(); b.Min != v(140, -46) || b.Max != v(200, 74) {
		t.Errorf("bounds %v", b)
	}
	near(t, "area", p.Area(), 1800*math.Pi, 1e-9)
	q := d.Transform(Turned(math.Pi / 2).Then(Shifted(v(100, 7))).Then(Scaled(2)))
	nearVec(t, "in one", q.Centroid(), p.Centroid(), 1e-12)
	f := d.Transform(Turned(0.3).Then(FlippedX()).Then(Scaled(1.5)))
	near(t, "flipped area", f.Area(), -2.25*d.Area(), 1e-9)
	nearVec(t, "flipped", f.Centroid(), FlippedX().Apply(turned(d.Centroid(), 0.3)).Scale(1.5), 1e-12)
	for i, s := range f.Segs {
		if s.Round() {
			nearVec(t, "arc ends", s.C.Add(turned(f.Start.Sub(s.C), s.Sweep)), s.To, 1e-9)
			_ = i
			break
		}
		f.Start = s.To
	}
}

func TestNear(t *testing.T) {
	d := halfDisc(t)
	for _, c := range []struct {
		p    r2.Vec
		in   bool
		dist float64
	}{
		{v(0, 10), true, 10}, {v(0, 29), true, 1}, {v(0, 31), false, 1}, {v(0, -5), false, 5},
		{v(40, 0), false, 10}, {v(33, -4), false, 5}, {v(0, 0), true, 0}, {v(0, 30), true, 0},
		{v(-29.9, 0), true, 0}, {v(18, 24), true, 0}, {v(-30, 30), false, 30 * (math.Sqrt2 - 1)},
	} {
		for _, p := range []Path{d, d.Reverse()} {
			if p.Contains(c.p) != c.in {
				t.Errorf("contains %v: %v", c.p, !c.in)
			}
			near(t, "distance", p.DistanceTo(c.p), c.dist, 1e-12)
		}
	}
	ring := Circle(v(0, 0), 20)
	big := must(t)(Corners([]Corner{{P: v(-20, -20), Radius: 15}, {P: v(20, -20)}, {P: v(20, 20)}, {P: v(-20, 20)}}))
	for _, c := range []struct {
		name          string
		a, b          Path
		inside, apart bool
	}{
		{"hole in plate", Circle(v(0, 3), 5), d, false, false},
		{"hole in plate", Circle(v(0, 13), 5), d, true, false},
		{"plate in hole", d, Circle(v(0, 13), 5), false, false},
		{"beside", Circle(v(0, 40), 5), d, false, true},
		{"in the angle", Circle(v(30, 40), 5), ell(t), false, true},
		{"touching beside", Circle(v(25, 40), 5.0), must(t)(Rect(v(30, 0), v(60, 60), 0)), false, false},
		{"touching inside", ring, big, false, false},
		{"concentric", Circle(v(0, 0), 19.9), ring, true, false},
	} {
		if in, apart := c.a.Inside(c.b), c.a.Apart(c.b); in != c.inside || apart != c.apart {
			t.Errorf("%s: inside %v, apart %v", c.name, in, apart)
		}
	}
}

func TestCheck(t *testing.T) {
	lines := func(pts ...r2.Vec) Path {
		p := Path{Start: pts[0]}
		for _, q := range pts[1:] {
			p.Segs = append(p.Segs, Line(q))
		}
		return p
	}
	for _, c := range []struct {
		name string
		p    Path
		a, b int
		at   r2.Vec
		says string
	}{
		{"bow tie", lines(v(0, 0), v(10, 10), v(10, 0), v(0, 10)), 0, 2, v(5, 5), "crosses itself"},
		{"corner on side", lines(v(0, 0), v(10, 0), v(10, 10), v(5, 0), v(0, 10)), 0, 2, v(5, 0), "touches itself"},
		{"spike", lines(v(0, 0), v(10, 0), v(10, 10), v(10, 20), v(10, 10), v(0, 10)), 1, 3, v(10, 10), "touches itself"},
		{"two corners meet", lines(v(0, 0), v(10, 0), v(5, 5), v(10, 10), v(0, 10), v(5, 5)), 1, 4, v(5, 5), "touches itself"},
		{"there and back", lines(v(0, 0), v(10, 0), v(20, 0)), 0, 2, v(10, 0), ""},
		{"two points", lines(v(0, 0), v(10, 0)), 0, -1, v(0, 0), "fewer than three"},
		{"nothing", Path{}, 0, -1, v(0, 0), "fewer than three"},
		{"no number", lines(v(0, 0), v(10, 0), v(math.NaN(), 10)), 1, -1, v(10, 0), "not usable"},
		{"huge circle", Circle(v(0, 0), 1e9), 0, -1, v(1e9, 0), "more than 20000"},
		{"no centre", Circle(v(0, math.Inf(1)), 1), 0, -1, v(1, math.Inf(1)), "not usable"},
		{"arc through side", Path{Start: v(0, 0), Segs: []Seg{Line(v(10, 0)), Line(v(10, 3)), {To: v(0, 3), C: v(5, 3), R: 5, Sweep: -math.Pi}}}, 0, 2, v(0, 0), "crosses itself"},
	} {
		f := c.p.Check()
		if f == nil {
			t.Errorf("%s passes", c.name)
			continue
		}
		if f.A != c.a || f.B != c.b || !strings.Contains(f.Says, c.says) || c.name != "arc through side" && f.At != c.at {
			t.Errorf("%s: %+v", c.name, *f)
		}
	}
	for _, p := range []Path{ell(t), halfDisc(t), Circle(v(0, 0), 3), Circle(v(0, 0), 3).Reverse()} {
		if f := p.Check(); f != nil {
			t.Error(f)
		}
	}
	plate := must(t)(Rect(v(0, 0), v(100, 60), 0))
	for _, c := range []struct {
		name  string
		holes []Path
		says  string
	}{
		{"good", []Path{Circle(v(20, 20), 5), Circle(v(40, 20), 5).Reverse()}, ""},
		{"outside", []Path{Circle(v(20, 20), 5), Circle(v(140, 20), 5)}, "hole 2 lies outside the outline"},
		{"through the edge", []Path{Circle(v(3, 20), 5)}, "hole 1 crosses the outline"},
		{"together", []Path{Circle(v(20, 20), 5), Circle(v(30, 20), 5)}, "hole 2 touches hole 1"},
		{"nested", []Path{Circle(v(20, 20), 5), Circle(v(20, 20), 3)}, "hole 2 lies inside hole 1"},
	} {
		g := Region{plate, c.holes}
		f := g.Check()
		if c.says == "" {
			if f != nil {
				t.Errorf("%s: %v", c.name, f)
			}
			near(t, "area", g.Area(), 6000-50*math.Pi, 1e-9)
		} else if f == nil || f.Says != c.says {
			t.Errorf("%s: %v, want %s", c.name, f, c.says)
		}
	}
}

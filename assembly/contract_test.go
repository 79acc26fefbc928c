package assembly_test

import (
	"math"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r3"
)

// The contracts Attitude, Views, Names and Deviations of docs/contracts.md, shown
// on a lopsided blank of 100 x 50 x 20.

var directions = []struct {
	word string
	v    r3.Vec
}{{"forward", r3.X}, {"back", r3.X.Neg()}, {"left", r3.Y}, {"right", r3.Y.Neg()}, {"up", r3.Z}, {"down", r3.Z.Neg()}}

// laid returns where the axes of a blank point, by the right-hand rule alone.
func laid(length r3.Vec, side string, faces r3.Vec) (x, y, z r3.Vec) {
	x = length
	switch side {
	case "face", "top":
		return x, faces.Cross(x), faces
	case "other-face", "bottom":
		return x, faces.Neg().Cross(x), faces.Neg()
	case "other-edge", "left":
		return x, faces, x.Cross(faces)
	}
	return x, faces.Neg(), x.Cross(faces.Neg()) // edge, right
}

func TestAttitude(t *testing.T) {
	seen := map[[3]r3.Vec]int{}
	size := r3.Vec{X: 100, Y: 50, Z: 20}
	for _, length := range directions {
		for _, second := range directions {
			if length.v.Cross(second.v).Len() < 0.5 {
				continue
			}
			for _, side := range []string{"face", "other-face", "edge", "other-edge", "top", "bottom", "right", "left"} {
				lies := f("{length: %s, %s: %s}", length.word, second.word, side)
				m := derive(t, one("[100, 50]", lies, "{notch: {side: face, at: [92, 44], size: [8, 6], depth: 4}}, {drill: {side: face, dia: 3, depth: 5, named: {mark: [90, 40]}}}"), nil)
				p := m.Pieces[0]
				x, y, z := laid(length.v, side, second.v)
				seen[[3]r3.Vec{x, y, z}]++
				// The blank's corner goes where the whole comes to lie with its lower
				// back right corner at the origin.
				var corner r3.Vec
				for axis := 0; axis < 3; axis++ {
					low := 0.0
					for k, e := range []r3.Vec{x, y, z} {
						low += math.Min(0, e.At(axis)*size.At(k))
					}
					corner = corner.With(axis, -low)
				}
				at := func(v r3.Vec) r3.Vec { return corner.Add(x.Scale(v.X)).Add(y.Scale(v.Y)).Add(z.Scale(v.Z)) }
				if !same(p.Pose.Point(r3.Vec{}), corner, 1e-9) {
					t.Errorf("%s: corner at %v, want %v", lies, p.Pose.O, corner)
				}
				b := p.Bore(0)
				if !same(b.Point, at(r3.Vec{X: 90, Y: 40, Z: 20}), 1e-9) || !same(b.Dir, z.Neg(), 1e-12) || !b.Blind {
					t.Errorf("%s: hole at %v along %v, want %v along %v", lies, b.Point, b.Dir, at(r3.Vec{X: 90, Y: 40, Z: 20}), z.Neg())
				}
				// And the wood itself: its middle, less the notch and the hole.
				nv, hv := 8*6*4., math.Pi*1.5*1.5*5
				want := size.Scale(0.5 * 1e5).Sub(r3.Vec{X: 96, Y: 47, Z: 18}.Scale(nv)).Sub(r3.Vec{X: 90, Y: 40, Z: 17.5}.Scale(hv)).Scale(1 / (1e5 - nv - hv))
				if got := p.Moments().Center; !same(got, at(want), 1e-3) {
					t.Errorf("%s: middle of the wood at %v, want %v", lies, got, at(want))
				}
				if box := p.Body.Bounds(); !same(box.Min, r3.Vec{}, 1e-9) {
					t.Errorf("%s: lowest corner %v", lies, box.Min)
				}
			}
		}
	}
	if len(seen) != 24 {
		t.Errorf("%d attitudes, want 24", len(seen))
	}
	for a, n := range seen {
		if n != 8 { // twice each of the four sides
			t.Errorf("%v is said in %d ways", a, n)
		}
	}
}

// A lean is a right-handed turn about a world axis, after the attitude.
func TestLean(t *testing.T) {
	c, s := math.Cos(math.Pi/6), math.Sin(math.Pi/6)
	for _, k := range []struct {
		about string
		x, z  r3.Vec
	}{
		{"left", r3.Vec{X: c, Z: -s}, r3.Vec{X: s, Z: c}}, {"right", r3.Vec{X: c, Z: s}, r3.Vec{X: -s, Z: c}},
		{"up", r3.Vec{X: c, Y: s}, r3.Z}, {"down", r3.Vec{X: c, Y: -s}, r3.Z},
		{"forward", r3.X, r3.Vec{Y: -s, Z: c}}, {"back", r3.X, r3.Vec{Y: s, Z: c}},
	} {
		p := derive(t, one("[100, 50]", f("{length: forward, up: face, lean: {about: %s, by: 30°}}", k.about), ""), nil).Pieces[0]
		if !same(p.Pose.U, k.x, 1e-12) || !same(p.Pose.W, k.z, 1e-12) {
			t.Errorf("about %s: %v %v", k.about, p.Pose.U, p.Pose.W)
		}
	}
}

// views says, for each side as seen from outside, where [10, 7] lies on the
// lopsided blank, which way is in, right and up: written down by hand.
var views = []struct {
	words                string
	mouth, in, right, up r3.Vec
}{
	{"top face", r3.Vec{X: 10, Y: 7, Z: 20}, r3.Z.Neg(), r3.X, r3.Y},
	{"bottom other-face", r3.Vec{X: 10, Y: 43, Z: 0}, r3.Z, r3.X, r3.Y.Neg()},
	{"right edge", r3.Vec{X: 10, Y: 0, Z: 7}, r3.Y, r3.X, r3.Z},
	{"left other-edge", r3.Vec{X: 90, Y: 50, Z: 7}, r3.Y.Neg(), r3.X.Neg(), r3.Z},
	{"front end", r3.Vec{X: 100, Y: 10, Z: 7}, r3.X.Neg(), r3.Y, r3.Z},
	{"back other-end", r3.Vec{X: 0, Y: 40, Z: 7}, r3.X, r3.Y.Neg(), r3.Z},
}

func TestViews(t *testing.T) {
	for _, v := range views {
		if !same(v.right.Cross(v.up), v.in.Neg(), 0) {
			t.Fatalf("%s is a mirror image", v.words)
		}
		for _, side := range strings.Fields(v.words) {
			get := func(work string) *assembly.Piece {
				return derive(t, one("[100, 50]", "", work), nil).Pieces[0]
			}
			// A blind hole.
			p := get(f("{drill: {side: %s, dia: 4, depth: 3, named: {mark: [10, 7]}}}", side))
			if vol, at := taken(p); !near(vol, math.Pi*4*3, 0.02*math.Pi*12) || !same(at, v.mouth.Add(v.in.Scale(1.5)), 1e-6) {
				t.Errorf("%s: %g mm³ drilled out at %v", side, vol, at)
			}
			if b := p.Made.Bores[0]; !same(b.Point, v.mouth, 1e-12) || !same(b.Dir, v.in, 1e-12) || !b.Blind || b.R != 2 {
				t.Errorf("%s: %+v", side, b)
			}
			// A hole right through comes out at the other side.
			p = get(f("{drill: {side: %s, dia: 4, at: [[10, 7]]}}", side))
			through := math.Abs(r3.Vec{X: 100, Y: 50, Z: 20}.Dot(v.in))
			if vol, at := taken(p); !near(vol, math.Pi*4*through, 0.02*math.Pi*4*through) || !same(at, v.mouth.Add(v.in.Scale(through/2)), 1e-6) || p.Made.Bores[0].Blind {
				t.Errorf("%s: %g mm³ drilled through at %v", side, vol, at)
			}
			// A notch to the right of and above that place, cut to a depth.
			p = get(f("{notch: {side: %s, at: [10, 7], size: [4, 2], depth: 3}}", side))
			if vol, at := taken(p); !near(vol, 24, 1e-6) || !same(at, v.mouth.Add(v.right.Scale(2)).Add(v.up.Scale(1)).Add(v.in.Scale(1.5)), 1e-6) {
				t.Errorf("%s: notch of %g at %v", side, vol, at)
			}
			// A lopsided outline: a triangle of wood stays.
			p = get(f("{saw: {side: %s, outline: [[0, 0], [12, 0], [0, 9]]}}", side))
			m := p.Made.Moments()
			origin := v.mouth.Sub(v.right.Scale(10)).Sub(v.up.Scale(7))
			if want := origin.Add(v.right.Scale(4)).Add(v.up.Scale(3)).Add(v.in.Scale(through / 2)); !same(m.Center, want, 1e-6) || !near(m.Volume, 54*through, 1e-6) {
				t.Errorf("%s: triangle at %v, want %v", side, m.Center, want)
			}
			// A hole that leans goes that way as it deepens.
			for _, l := range []struct {
				word string
				to   r3.Vec
			}{{"right", v.right}, {"left", v.right.Neg()}, {"up", v.up}, {"down", v.up.Neg()}} {
				p = get(f("{drill: {side: %s, dia: 2, depth: 4, lean: {toward: %s, by: 20°}, named: {mark: [10, 7]}}}", side, l.word))
				a := 20 * math.Pi / 180
				if b := p.Made.Bores[0]; !same(b.Point, v.mouth, 1e-12) || !same(b.Dir, v.in.Scale(math.Cos(a)).Add(l.to.Scale(math.Sin(a))), 1e-12) {
					t.Errorf("%s: leaning %s it goes %v", side, l.word, b.Dir)
				}
			}
		}
	}
}

// A counterbore is at the mouth of its hole, on each side.
func TestCounterbore(t *testing.T) {
	for _, v := range views {
		side := strings.Fields(v.words)[0]
		p := derive(t, one("[100, 50]", "", f("{drill: {side: %s, dia: 4, at: [[10, 7]], counterbore: {dia: 8, depth: 2}}}", side)), nil).Pieces[0]
		through := math.Abs(r3.Vec{X: 100, Y: 50, Z: 20}.Dot(v.in))
		wide, narrow := math.Pi*16*2, math.Pi*4*(through-2)
		vol, at := taken(p)
		want := v.mouth.Add(v.in.Scale((wide*1 + narrow*(2+(through-2)/2)) / (wide + narrow)))
		if !near(vol, wide+narrow, 0.02*(wide+narrow)) || !same(at, want, 0.05) {
			t.Errorf("%s: %g at %v, want %g at %v", side, vol, at, wide+narrow, want)
		}
	}
}

const shed = `dryfit: 1
toy: Shed
units: mm
stock:
  b: {wood: beech, form: board, thick: 20}
  thin: {wood: birch plywood, form: sheet, thick: 6}
  rod: {wood: birch, form: dowel, dia: 6}
parts:
  frame:
    from: b
    blank: [120, 40]
    work:
      - drill: {side: face, dia: 4, at: [[10, 10], [20, 10]]}
      - drill: {side: edge, dia: 7, named: {rear-axle: [20, 8], front-axle: [100, 8]}}
      - drill: {side: face, dia: 5, row: {from: [40, 20], step: [10, 0], count: 2, name: post}}
  core: {from: b, blank: [80, 50], lies: {length: forward, right: face}}
  side: {from: thin, blank: [80, 50], lies: {length: forward, right: face}}
  wheel: {from: thin, disc: 30, bore: 6}
  axle: {from: rod}
glue-ups:
  body:
    pieces:
      - put: core
      - {put: side, sits: {left: core.right, back: core.back, top: core.top}, glued: yes}
      - {put: side, sits: {right: core.left, back: core.back, top: core.top}, glued: yes}
    work:
      - drill: {side: face, dia: 4, named: {peep: [70, 40]}}
build:
  - put: frame
  - {put: body, sits: {bottom: frame.top, back: frame.back, middle: frame.middle}, glued: yes}
  - wheels: {in: frame.rear-axle, axle: axle, outward: [wheel], play: 1, proud: 2}
  - wheels: {in: frame.front-axle, axle: axle, outward: [wheel], play: 1, proud: 2}
`

func TestNames(t *testing.T) {
	m := derive(t, shed, nil)
	var ids, holes []string
	for i, p := range m.Pieces {
		ids = append(ids, p.ID)
		for k := range p.Made.Bores {
			holes = append(holes, m.Name(assembly.Hole{Piece: i, Bore: k}))
		}
	}
	if got := strings.Join(ids, " "); got != "frame body/core body/side body/side.2 axle wheel wheel.2 axle.2 wheel.3 wheel.4" {
		t.Error(got)
	}
	if got := strings.Join(holes, " "); got != "frame/work.1.1 frame/work.1.2 frame/rear-axle frame/front-axle frame/post-1 frame/post-2 "+
		"body/core/peep body/side/peep body/side.2/peep wheel/bore wheel.2/bore wheel.3/bore wheel.4/bore" {
		t.Error(got)
	}
	for _, id := range []string{"frame", "body/side.2", "wheel.3"} {
		if got := m.Find(id); len(got) != 1 || m.Pieces[got[0]].ID != id {
			t.Errorf("%s is %v", id, got)
		}
	}
	if got := m.Find("body"); len(got) != 3 {
		t.Errorf("body is %v", got)
	}
	// Wheels: the first end is the negative one of the axle, to the right.
	if a := m.Axles[0]; m.Pieces[a.Wheels[0][0]].ID != "wheel" || m.Pieces[a.Wheels[0][0]].Body.Bounds().Max.Y > 0 {
		t.Errorf("wheel is %+v", a.Wheels)
	}
}

// A glue-up has the frame of its first piece: the hole lies where it would in the
// core alone, and goes through all three pieces.
func TestGlueUpFrame(t *testing.T) {
	m := derive(t, shed, nil)
	core := m.Pieces[m.Find("body/core")[0]]
	// core: length forward, face right: [70, 40] is 70 along and 40 up.
	back := m.Pieces[0].Body.Bounds().Min.X
	want := r3.Vec{X: back + 70, Z: 20 + 40}
	for _, i := range m.Find("body") {
		p := m.Pieces[i]
		b := p.Bore(0)
		if b.Name != "peep" || b.Blind || !near(b.Point.X, want.X, 1e-9) || !near(b.Point.Z, want.Z, 1e-9) || !same(b.Dir, r3.Y, 1e-12) {
			t.Errorf("%s: %+v", p.ID, b)
		}
		if vol, at := taken(p); !near(vol, math.Pi*4*p.Made.Size.Z, 0.02*math.Pi*4*p.Made.Size.Z) || !near(p.Pose.Point(at).X, want.X, 1e-6) || !near(p.Pose.Point(at).Z, want.Z, 1e-6) {
			t.Errorf("%s: %g taken at %v", p.ID, vol, p.Pose.Point(at))
		}
	}
	if b := core.Body.Bounds(); !near(b.Min.Z, 20, 1e-9) || !near(b.Center().Y, 20, 1e-9) {
		t.Errorf("the core lies %v", b)
	}
}

// Deviations move what they name, by what they say, and nothing else.
func TestDeviations(t *testing.T) {
	drawn := derive(t, shed, nil)
	with := func(piece, op string, d assembly.Deviation) *assembly.Model {
		m, probs := assembly.Derive(read(t, shed), assembly.Options{Dev: assembly.Deviations{{Piece: piece, Op: op}: d}})
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		return m
	}
	same9 := func(a, b r3.Vec) bool { return same(a, b, 1e-9) }
	hole := func(m *assembly.Model, id string, k int) assembly.Bore { return m.Pieces[m.Find(id)[0]].Bore(k) }
	// One hole of a drilling: up by 0.3 on its side, the edge, and 0.1 wide.
	m := with("frame", "work.2.2", assembly.Deviation{D: r3.Vec{Y: 0.3}, Dia: 0.1})
	if b, was := hole(m, "frame", 3), hole(drawn, "frame", 3); !same9(b.Point.Sub(was.Point), r3.Vec{Z: 0.3}) || !near(b.R-was.R, 0.05, 1e-12) {
		t.Errorf("hole moved %v, wider by %g", b.Point.Sub(was.Point), b.R-was.R)
	}
	if b, was := hole(m, "frame", 2), hole(drawn, "frame", 2); !same9(b.Point, was.Point) || b.R != was.R {
		t.Error("its neighbour moved too")
	}
	for _, id := range []string{"wheel.3", "wheel.4", "axle.2"} {
		a, b := m.Pieces[m.Find(id)[0]].Body.Bounds().Center(), drawn.Pieces[drawn.Find(id)[0]].Body.Bounds().Center()
		if !same9(a.Sub(b), r3.Vec{Z: 0.3}) {
			t.Errorf("%s in that hole moved %v", id, a.Sub(b))
		}
	}
	// A blank thicker by 0.2: what sits on it is that much higher.
	m = with("frame", "blank", assembly.Deviation{D: r3.Vec{Z: 0.2}})
	if a, b := m.Pieces[1].Body.Bounds().Min.Z, drawn.Pieces[1].Body.Bounds().Min.Z; !near(a-b, 0.2, 1e-9) {
		t.Errorf("the body rose by %g", a-b)
	}
	// A glue-up that was put down askew, and a piece inside it.
	m = with("body", "sits", assembly.Deviation{D: r3.Vec{X: 1, Y: -2}})
	for _, i := range m.Find("body") {
		if d := m.Pieces[i].Body.Bounds().Min.Sub(drawn.Pieces[i].Body.Bounds().Min); !same9(d, r3.Vec{X: 1, Y: -2}) {
			t.Errorf("%s moved %v", m.Pieces[i].ID, d)
		}
	}
	m = with("body/side.2", "sits", assembly.Deviation{D: r3.Vec{X: 0.5}})
	for i, p := range m.Pieces {
		d := p.Body.Bounds().Min.Sub(drawn.Pieces[i].Body.Bounds().Min)
		if want := map[bool]float64{true: 0.5}[p.ID == "body/side.2"]; !same9(d, r3.Vec{X: want}) {
			t.Errorf("%s moved %v", p.ID, d)
		}
	}
	// Only the second wheel of four is larger.
	m = with("wheel.2", "blank", assembly.Deviation{D: r3.Vec{X: 0.4, Y: 0.4}})
	for i, p := range m.Pieces {
		_, _, r := p.Axis()
		_, _, was := drawn.Pieces[i].Axis()
		if want := map[bool]float64{true: 0.2}[p.ID == "wheel.2"]; !near(r-was, want, 1e-9) {
			t.Errorf("%s is larger by %g", p.ID, r-was)
		}
		if !same9(p.Body.Bounds().Center(), drawn.Pieces[i].Body.Bounds().Center()) {
			t.Errorf("%s moved", p.ID)
		}
	}
	// No deviations, none that is named, and nil are as drawn.
	for _, dev := range []assembly.Deviations{nil, {}, {{Piece: "no-such", Op: "blank"}: {Dia: 4}}} {
		m, _ := assembly.Derive(read(t, shed), assembly.Options{Dev: dev})
		for i, p := range m.Pieces {
			if p.Pose != drawn.Pieces[i].Pose || p.Made.Size != drawn.Pieces[i].Made.Size {
				t.Errorf("%s is not as drawn", p.ID)
			}
		}
	}
}

// Parts are kept by content: an edit of one part makes that part alone again,
// and one of comments, places or names of pieces makes none.
func TestCache(t *testing.T) {
	cache := &assembly.Cache{}
	derive(t, shed, cache)
	first := cache.Built
	// frame, wheel, axle; core and side before the glue-up is drilled, and the core
	// and each of the two sides after it
	if first != 8 {
		t.Errorf("%d solids made", first)
	}
	for _, e := range []struct {
		what, old, new string
		built          int
	}{
		{"the same again", "", "", 0},
		{"a comment", "toy: Shed", "# not a word of this matters\n\ntoy: Shed", 0},
		{"the name of the toy", "toy: Shed", "toy: Engine shed", 0},
		{"where the body sits", "back: frame.back, middle: frame.middle", "back: frame.back + 3, middle: frame.middle", 0},
		{"a name of a piece", "put: body,", "put: body, as: cabin,", 0},
		{"an unused part", "  axle: {from: rod}", "  axle: {from: rod}\n  spare: {from: b, blank: [10, 10]}", 0},
		{"play", "play: 1, proud: 2}\n  - wheels: {in: frame.front", "play: 1, proud: 2.5}\n  - wheels: {in: frame.front", 1}, // that axle
		{"the wheel", "disc: 30", "disc: 32", 1},
		{"one hole", "rear-axle: [20, 8]", "rear-axle: [21, 8]", 1},
		{"one hole by a micrometre", "rear-axle: [20, 8]", "rear-axle: [20.001, 8]", 1},
		{"the wood", "wood: beech", "wood: oak", 0},
	} {
		text := strings.Replace(shed, e.old, e.new, 1)
		if text == shed && e.old != "" {
			t.Fatalf("%s: nothing changed", e.what)
		}
		c := &assembly.Cache{}
		derive(t, shed, c)
		before := c.Built
		derive(t, text, c)
		if c.Built-before != e.built {
			t.Errorf("%s: %d solids made again, want %d", e.what, c.Built-before, e.built)
		}
		// Made from the cache or not, the toy is the same.
		a, b := derive(t, text, c), derive(t, text, nil)
		for i := range a.Pieces {
			if a.Pieces[i].Pose != b.Pieces[i].Pose || a.Pieces[i].Moments() != b.Pieces[i].Moments() {
				t.Errorf("%s: %s differs from the cache", e.what, a.Pieces[i].ID)
			}
			for k := range a.Pieces[i].Made.Bores {
				if a.Pieces[i].Bore(k) != b.Pieces[i].Bore(k) {
					t.Errorf("%s: hole %s of %s differs from the cache: %+v, fresh %+v", e.what, a.Pieces[i].Bore(k).Name, a.Pieces[i].ID, a.Pieces[i].Bore(k).At, b.Pieces[i].Bore(k).At)
					break
				}
			}
		}
	}
}

// Two parts of one shape share their solid, but not their places in the file.
func TestTwins(t *testing.T) {
	text := strings.Replace(one("[60, 40]", "", "{drill: {side: face, dia: 5, named: {hole: [20, 20]}}}"), "build:\n", "  two:\n    from: b\n    blank: [60, 40]\n    work: [{drill: {side: face, dia: 5, named: {hole: [20, 20]}}}]\nbuild:\n", 1) +
		"  - {put: two, sits: {bottom: it.top, back: it.back, left: it.left}}\n"
	c := &assembly.Cache{}
	m := derive(t, text, c)
	if c.Built != 1 || m.Pieces[0].Made != m.Pieces[1].Made {
		t.Errorf("%d solids", c.Built)
	}
	line := func(i int) int { l, _ := m.Toy.File.Position(m.Pieces[i].Bore(0).At.Start); return l }
	if line(0) != 10 || line(1) != 14 {
		t.Errorf("holes of lines 10 and 14 say lines %d and %d", line(0), line(1))
	}
}

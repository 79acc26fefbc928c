package nest

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
)

func rect(w, h float64) Shape {
	return Shape{Outer: []r2.Vec{{}, {X: w}, {X: w, Y: h}, {Y: h}}}
}

func ell(w, h, t float64) Shape {
	return Shape{Outer: []r2.Vec{{}, {X: w}, {X: w, Y: t}, {X: t, Y: t}, {X: t, Y: h}, {Y: h}}}
}

var quarters = []Turn{{}, {Angle: math.Pi / 2}, {Angle: math.Pi}, {Angle: 3 * math.Pi / 2}}

const exact = 1e-6

// jag is a polygon around a middle, its corners at random distances from it.
func jag(r *rand.Rand, n int, size float64) Shape {
	var s Shape
	for i := 0; i < n; i++ {
		a, d := 2*math.Pi*(float64(i)+0.8*r.Float64())/float64(n), size*(0.3+0.7*r.Float64())
		s.Outer = append(s.Outer, r2.Vec{X: d * math.Cos(a), Y: d * math.Sin(a)})
	}
	return s
}

// Strips whose least length is plain to see.
func TestStripOfKnownLength(t *testing.T) {
	for _, c := range []struct {
		name   string
		items  []Item
		gap    float64
		height float64
		want   float64
	}{
		{"one", []Item{{Name: "a", Shape: rect(7, 5), Count: 1}}, 0, 5, 7},
		{"one that has to be turned", []Item{{Name: "a", Shape: rect(7, 5), Turns: quarters, Count: 1}}, 0, 7, 5},
		{"squares", []Item{{Name: "a", Shape: rect(2, 2), Count: 12}}, 0, 6, 8},
		{"squares with a kerf", []Item{{Name: "a", Shape: rect(2, 2), Count: 12}}, 0.5, 7, 4*2 + 3*0.5},
		{"two angles in each other", []Item{{Name: "a", Shape: ell(4, 4, 1), Turns: quarters, Count: 2}}, 0, 5, 4},
		{"a square in a frame", []Item{{Name: "frame", Shape: Shape{Outer: rect(6, 6).Outer, Holes: [][]r2.Vec{{{X: 1, Y: 1}, {X: 5, Y: 1}, {X: 5, Y: 5}, {X: 1, Y: 5}}}}, Count: 1}, {Name: "fill", Shape: rect(4, 4), Count: 1}}, 0, 6, 6},
	} {
		p := Problem{Items: c.items, Gap: c.gap}
		l, length, err := Strip(context.Background(), p, c.height, Effort{Seed: 1, Rounds: 25})
		if err != nil || length > c.want*(1+leastStep) || length < c.want-exact {
			t.Errorf("%s: %g, expected %g (%v)", c.name, length, c.want, err)
		}
		p.Boards = []Board{{Name: "strip", Shape: rect(length, c.height)}}
		if err := p.Check(l, exact); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	if _, _, err := Strip(context.Background(), Problem{Items: []Item{{Name: "plank", Shape: rect(9, 5), Count: 1}}}, 4, Effort{Rounds: 1}); err == nil {
		t.Error("a plank wider than the strip was laid")
	}
}

// Whatever is found is allowed, lies on the board given, and is found again.
func TestAllowedAndRepeated(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for run := 0; run < 8; run++ {
		p := Problem{Gap: []float64{0, 0.5}[run%2], Rim: []float64{0, 1}[run/2%2]}
		for i := 0; i < 4; i++ {
			p.Items = append(p.Items, Item{Name: string(rune('a' + i)), Shape: jag(r, 3+r.IntN(6), 4+4*r.Float64()), Turns: quarters[:1+r.IntN(4)], Count: 1 + r.IntN(3)})
		}
		for i := 0; i < 3; i++ {
			b := Board{Name: string(rune('A' + i)), Shape: Shape{Outer: []r2.Vec{{}, {X: 25 + 10*r.Float64()}, {X: 30, Y: 22}, {X: 3, Y: 25}}}}
			b.Shape.Holes = [][]r2.Vec{{{X: 12, Y: 12}, {X: 14, Y: 12}, {X: 14, Y: 13}, {X: 12, Y: 14}}}
			b.Cost = math.Abs(outline.SignedArea(b.Shape.Outer))
			p.Boards = append(p.Boards, b)
		}
		a, cost, err := Boards(context.Background(), p, Effort{Seed: uint64(run), Rounds: 2})
		if err != nil {
			t.Fatal(err)
		}
		if err := p.Check(a, exact); err != nil {
			t.Errorf("run %d: %v", run, err)
		}
		b, again, _ := Boards(context.Background(), p, Effort{Seed: uint64(run), Rounds: 2})
		if cost != again || !reflect.DeepEqual(a, b) {
			t.Errorf("run %d: %g and then %g, or lying elsewhere", run, cost, again)
		}
	}
}

// No place on a line is better than the one found: against a thousand places on it.
func TestLineIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for run := 0; run < 200; run++ {
		p := Problem{Gap: 0.3, Items: []Item{{Name: "a", Shape: jag(r, 7, 5), Turns: quarters, Count: 8}}, Boards: []Board{{Name: "b", Shape: Shape{Outer: []r2.Vec{{}, {X: 40}, {X: 36, Y: 30}, {Y: 30}}}}}}
		g, err := newGround(&p)
		if err != nil {
			t.Fatal(err)
		}
		y := newYard(g, uint64(run))
		for i := range y.kind {
			y.put(i, int32(r.IntN(4)), 0, r2.Vec{X: 10 + 20*r.Float64(), Y: 10 + 10*r.Float64()})
		}
		for i := range y.w {
			y.w[i] = 1 + r.Float64()
		}
		a := 2 * math.Pi * r.Float64()
		if run%3 == 0 {
			a = 0
		}
		dir, from := r2.Vec{X: math.Cos(a), Y: math.Sin(a)}, r2.Vec{X: 12 + 15*r.Float64(), Y: 12 + 5*r.Float64()}
		found, ok := y.along(0, 1, 0, from, dir, math.Inf(1))
		if !ok {
			t.Fatal("no place")
		}
		room, _ := y.fits(1, 0)
		for k := -500; k <= 500; k++ {
			at := from.Add(dir.Scale(float64(k) * 0.08))
			if at.X < room.x0 || at.X > room.x1 || at.Y < room.y0 || at.Y > room.y1 {
				continue
			}
			y.put(0, 1, 0, at)
			if _, f := y.sums(0); f < found.f-1e-7 {
				t.Fatalf("run %d: %g at %v, but found %g at %v", run, f, at, found.f, found.at)
			}
		}
		y.put(0, 1, 0, found.at)
		if _, f := y.sums(0); math.Abs(f-found.f) > 1e-6 {
			t.Fatalf("run %d: says %g, is %g", run, found.f, f)
		}
		if again, ok := y.along(0, 1, 0, from, dir, found.f*1.5); !ok || again != found {
			t.Fatalf("run %d: %v, but %v where more is too much", run, found, again)
		}
		if found.f > 0 {
			if worse, ok := y.along(0, 1, 0, from, dir, found.f*0.9); ok {
				t.Fatalf("run %d: %v is no more than %g", run, worse, found.f*0.9)
			}
		}
	}
}

// Check refuses what is not allowed.
func TestCheckRefuses(t *testing.T) {
	p := Problem{Gap: 1, Rim: 2, Items: []Item{{Name: "a", Shape: rect(4, 4), Count: 2}}, Boards: []Board{{Name: "b", Shape: Shape{Outer: rect(20, 20).Outer, Holes: [][]r2.Vec{{{X: 14, Y: 14}, {X: 15, Y: 14}, {X: 15, Y: 15}, {X: 14, Y: 15}}}}}}}
	at := func(x, y float64) Place { return Place{At: r2.Vec{X: x, Y: y}} }
	for _, c := range []struct {
		name  string
		lies  []Place
		good  bool
		turns int
	}{
		{"good", []Place{at(2, 2), at(7, 2)}, true, 0},
		{"in each other", []Place{at(2, 2), at(5, 2)}, false, 0},
		{"on top of each other", []Place{at(2, 2), at(2, 2)}, false, 0},
		{"nearer than the gap", []Place{at(2, 2), at(6.9, 2)}, false, 0},
		{"corners nearer than the gap", []Place{at(2, 2), at(6.7, 6.7)}, false, 0},
		{"corners apart", []Place{at(2, 2), at(6.8, 6.8)}, true, 0},
		{"at the edge", []Place{at(1.9, 2), at(7, 2)}, false, 0},
		{"off the board", []Place{at(2, 2), at(30, 2)}, false, 0},
		{"on the knot", []Place{at(2, 2), at(11, 11)}, false, 0},
		{"too near the knot", []Place{at(2, 2), at(8.5, 14)}, false, 0},
		{"one too many", []Place{at(2, 2), at(7, 2), at(12, 2)}, false, 0},
		{"turned as it must not", []Place{at(2, 2), {Turn: 1, At: r2.Vec{X: 7, Y: 2}}}, false, 0},
		{"no such board", []Place{at(2, 2), {Board: 1}}, false, 0},
	} {
		if err := p.Check(Layout{Places: c.lies}, exact); (err == nil) != c.good {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// What does not go on the boards is left, and said.
func TestLeft(t *testing.T) {
	p := Problem{Items: []Item{{Name: "a", Shape: rect(4, 4), Count: 5}, {Name: "long", Shape: rect(30, 1), Count: 1}}, Boards: []Board{{Name: "b", Shape: rect(8, 8), Cost: 1}}}
	l, _, err := Boards(context.Background(), p, Effort{Seed: 1, Rounds: 5})
	if err != nil || len(l.Places) != 4 || l.Left[0] != 1 || l.Left[1] != 1 {
		t.Errorf("%v %v", l, err)
	}
}

// Bars of work: one move's line among many pieces.
func BenchmarkLine(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 3))
	p := Problem{Items: []Item{{Name: "a", Shape: jag(r, 9, 5), Turns: quarters, Count: 60}}, Boards: []Board{{Name: "b", Shape: rect(80, 60)}}}
	g, err := newGround(&p)
	if err != nil {
		b.Fatal(err)
	}
	y := newYard(g, 1)
	for i := range y.kind {
		y.put(i, int32(i%4), 0, r2.Vec{X: 6 + 68*r.Float64(), Y: 6 + 48*r.Float64()})
	}
	for b.Loop() {
		y.along(0, 1, 0, y.at[0], r2.Vec{X: 1}, math.Inf(1))
	}
}

// A piece that needs room of its own has it: whole at the edge, and half of each from others.
func TestRoom(t *testing.T) {
	for _, c := range []struct {
		name  string
		rooms [2]float64
		wide  float64 // of a board 4 high
		fits  bool
	}{
		{"none needed", [2]float64{0, 0}, 9, true},
		{"none needed, and less than there has to be", [2]float64{0, 0}, 8.9, false},
		{"one needs it", [2]float64{2, 0}, 12.1, false},
	} {
		for turn := 0; turn < 2; turn++ {
			p := Problem{Gap: 1, Boards: []Board{{Name: "b", Shape: rect(c.wide, 4)}}}
			for i, room := range c.rooms {
				p.Items = append(p.Items, Item{Name: string(rune('a' + i)), Shape: rect(4, 4), Room: room, Count: 1})
			}
			l, _, err := Boards(context.Background(), p, Effort{Seed: 1, Rounds: 3})
			if err != nil || (l.Left[0]+l.Left[1] == 0) != c.fits {
				t.Errorf("%s: %v, %v", c.name, l, err)
			}
			c.rooms[0], c.rooms[1] = c.rooms[1], c.rooms[0]
		}
	}
	// one of 4 with room 2 needs 8 by 8, and lies 1 + 1 from one without
	p := Problem{Gap: 1, Items: []Item{{Name: "roomy", Shape: rect(4, 4), Room: 2, Count: 1}, {Name: "plain", Shape: rect(4, 4), Count: 1}}, Boards: []Board{{Name: "b", Shape: rect(12, 8)}}}
	l, _, err := Boards(context.Background(), p, Effort{Seed: 1, Rounds: 3})
	if err != nil || l.Left[0]+l.Left[1] > 0 {
		t.Fatalf("%v, %v", l, err)
	}
	if err := p.Check(l, exact); err != nil {
		t.Error(err)
	}
	for _, bad := range [][2]r2.Vec{{{X: 1.9, Y: 2}, {X: 8}}, {{X: 2, Y: 2}, {X: 7.9}}} {
		l.Places = []Place{{At: bad[0]}, {Item: 1, At: bad[1]}}
		if p.Check(l, exact) == nil {
			t.Errorf("%v is allowed", bad)
		}
	}
}

// Fewer parts cover what more did, and no more.
func TestFewerParts(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	before, after := 0, 0
	for run := 0; run < 60; run++ {
		var parts [2][][]r2.Vec
		for k := range parts {
			s := jag(r, 5+r.IntN(12), 5)
			if k == 0 && run%3 == 0 {
				s = Shape{Outer: rect(10, 10).Outer, Holes: [][]r2.Vec{{{X: 2, Y: 2}, {X: 8, Y: 2}, {X: 8, Y: 8}, {X: 2, Y: 8}}}}
			}
			var err error
			if parts[k], err = outline.ConvexParts(s.Outer, s.Holes); err != nil {
				t.Fatal(err)
			}
		}
		all := clashOf(parts[0], parts[1], 0)
		there, back := clashes(parts[0], parts[1], 0, 1e-9)
		before, after = before+len(all.parts), after+len(there.parts)
		g := ground{slight: 1e-7}
		for range 3000 {
			p := r2.Vec{X: 30*r.Float64() - 15, Y: 30*r.Float64() - 15}
			want, got, other := g.depth(&all, p) > 0, g.depth(&there, p) > 0, g.depth(&back, p.Neg()) > 0
			if want != got || want != other {
				t.Fatalf("run %d: at %v %v, with fewer parts %v and from the other %v", run, p, want, got, other)
			}
		}
	}
	if after*2 > before {
		t.Errorf("%d parts were made %d", before, after)
	}
	// a square goes into a hole of its size, and nowhere else near
	frame, _ := outline.ConvexParts(rect(10, 10).Outer, [][]r2.Vec{{{X: 3, Y: 3}, {X: 7, Y: 3}, {X: 7, Y: 7}, {X: 3, Y: 7}}})
	c, _ := clashes([][]r2.Vec{rect(4, 4).Outer}, frame, 0, 1e-9)
	g := ground{slight: 1e-9}
	if d := g.depth(&c, r2.Vec{X: 3, Y: 3}); d != 0 {
		t.Errorf("%g deep where it just goes", d)
	}
	if d := g.depth(&c, r2.Vec{X: 3.001, Y: 3}); d == 0 {
		t.Error("free beside where it just goes")
	}
}

// Pieces change places only where each goes.
func TestKickKeepsToBoards(t *testing.T) {
	p := Problem{Items: []Item{{Name: "rail", Shape: rect(100, 20), Count: 2}, {Name: "pad", Shape: rect(45, 45), Count: 2}}, Boards: []Board{{Name: "a", Shape: rect(210, 22)}, {Name: "b", Shape: rect(50, 50)}, {Name: "c", Shape: rect(44, 50)}, {Name: "d", Shape: rect(120, 50)}}}
	g, err := newGround(&p)
	if err != nil {
		t.Fatal(err)
	}
	y := newYard(g, 1)
	for i, b := range []int32{0, 3, 1, 3} {
		y.put(i, int32(y.g.first[y.g.item[i]]), b, r2.Vec{})
	}
	for range 100 {
		y.kick()
		for i := range y.kind {
			if in, ok := y.fits(y.kind[i], y.on[i]); !ok || y.at[i].X < in.x0 || y.at[i].X > in.x1 || y.at[i].Y < in.y0 || y.at[i].Y > in.y1 {
				t.Fatalf("piece %d is on board %d", i, y.on[i])
			}
		}
	}
}

// A layout that is not allowed is dropped, and those before it stay.
func TestSearchDropsWhatIsRefused(t *testing.T) {
	check := func(_ Layout, v float64) error {
		if v < 5 {
			return errors.New("too good")
		}
		return nil
	}
	told := []float64{}
	e := Effort{Hands: 2, Found: func(_ Layout, v float64) { told = append(told, v) }}
	best, err := e.search(check, func(_ uint64, tell func(found)) found {
		tell(found{value: 7})
		tell(found{value: 4})
		return found{value: 3}
	})
	if err != nil || best.value != 7 || len(told) != 1 {
		t.Errorf("%g, told %v, %v", best.value, told, err)
	}
	if _, err := e.search(check, func(uint64, func(found)) found { return found{value: 4} }); err == nil {
		t.Error("nothing is allowed, and nothing is said")
	}
}

// Where the context ends at once, nothing is laid, and the pieces are said to be left.
func TestEndedBeforeItStarts(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	p := Problem{Items: []Item{{Name: "a", Shape: rect(4, 4), Count: 5}}, Boards: []Board{{Name: "b", Shape: rect(80, 80), Cost: 1}}}
	if l, _, err := Boards(ctx, p, Effort{}); err != nil || l.Left[0] != 5 {
		t.Errorf("%v, %v", l, err)
	}
}

// Boards that are alike and empty are tried once, and planned with once.
func TestBoardsAlike(t *testing.T) {
	p := Problem{Items: []Item{{Name: "a", Shape: rect(4, 4), Count: 1}, {Name: "bent", Shape: ell(12, 12, 1), Count: 1}}}
	for range 300 {
		p.Boards = append(p.Boards, Board{Name: "small", Shape: Shape{Outer: []r2.Vec{{}, {X: 20}, {X: 2.1, Y: 2.1}, {Y: 20}}}, Cost: 1})
	}
	for range 2 {
		p.Boards = append(p.Boards, Board{Name: "large", Shape: rect(20, 20), Cost: 3})
	}
	g, err := newGround(&p)
	if err != nil {
		t.Fatal(err)
	}
	s := &stacker{y: newYard(g, 1)}
	s.start(context.Background())
	if most := startLines * 2 * 3; s.left > 0 || s.y.work > most {
		t.Errorf("%d left after %d lines, expected at most %d", s.left, s.y.work, most)
	}
	if len(s.plans) != 1 || s.plans[0].cost != 1 || s.plans[0].with < 0 {
		t.Errorf("plans %v", s.plans)
	}
}

// Hands together find the same strip again, and a shorter one than they begin with.
func TestStripRepeated(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	p := Problem{Gap: 0.2}
	for i := range 4 {
		p.Items = append(p.Items, Item{Name: string(rune('a' + i)), Shape: jag(r, 5+r.IntN(6), 3+3*r.Float64()), Turns: quarters, Count: 2})
	}
	first := 0.0
	e := Effort{Seed: 4, Rounds: 12, Hands: 2, Found: func(_ Layout, v float64) {
		if first == 0 {
			first = v
		}
	}}
	a, length, err := Strip(context.Background(), p, 16, e)
	if err != nil || length > first*0.95 {
		t.Errorf("%g, at first %g: %v", length, first, err)
	}
	b, again, _ := Strip(context.Background(), p, 16, e)
	if length != again || !reflect.DeepEqual(a, b) {
		t.Errorf("%g and then %g, or lying elsewhere", length, again)
	}
	p.Boards = []Board{{Name: "strip", Shape: rectangle(length, 16)}}
	if err := p.Check(a, exact); err != nil {
		t.Error(err)
	}
}

// Large pieces change places with what lies in them, and all stay on the strip.
func TestSwap(t *testing.T) {
	p := Problem{Items: []Item{{Name: "wide", Shape: rect(8, 4), Count: 1}, {Name: "tall", Shape: rect(4, 9), Count: 1}, {Name: "small", Shape: rect(1, 1), Count: 2}}}
	g, err := newStrip(&p, 10)
	if err != nil {
		t.Fatal(err)
	}
	b := newBelt(g, 1)
	b.start()
	for i, at := range []r2.Vec{{}, {X: 8}, {X: 3, Y: 1}, {X: 9, Y: 4}} { // a small one in each large one
		b.y.put(i, int32(g.first[g.item[i]]), 0, at)
	}
	b.y.room[0].x1 = 12
	b.swap()
	want := []r2.Vec{{X: 4, Y: 2.5}, {X: 2}, {X: 9, Y: 3.5}, {X: 3, Y: 1.5}}
	if !reflect.DeepEqual(b.y.at, want) {
		t.Errorf("%v, expected %v", b.y.at, want)
	}
}

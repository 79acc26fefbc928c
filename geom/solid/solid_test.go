package solid

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// closed tells whether every edge of c has its reverse and every corner lies on
// the planes of its faces: what every cut must keep.
func closed(t *testing.T, c *Convex) {
	t.Helper()
	halves := 0
	for _, f := range c.Faces {
		halves += len(f.Loop)
		for _, v := range f.Loop {
			if d := math.Abs(f.Plane.Side(c.V[v])); d > 3*tol.Clip {
				t.Fatalf("corner %g off its plane", d)
			}
		}
	}
	if e := len(c.edges()); 2*e != halves {
		t.Fatalf("%d half edges, %d whole edges", halves, e)
	}
	if x := len(c.V) - halves/2 + len(c.Faces); x != 2 {
		t.Fatalf("V - E + F = %d", x)
	}
}

// The volume of two crossed profiles is the integral of H(x)W(x), exactly, on
// integer grids: columns that line up are the hard case for cutting.
func TestCrossedProfilesOnGrid(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for run := 0; run < 60; run++ {
		n := 6 + r.Intn(10)
		side, top := randStrips(r, n), randStrips(r, n)
		b := NewBody(side.prisms(sideFrame, -100, 100)).Intersect(top.prisms(topFrame, -100, 100))
		want := 0.0
		for i := 0; i < n; i++ {
			want += side.width(i) * top.width(i)
		}
		if got := b.Moments().Volume; !near(got, want, 1e-12*want) {
			t.Fatalf("run %d: volume %.15g, want %.15g", run, got, want)
		}
		for i := range b.Pieces {
			closed(t, &b.Pieces[i])
		}
	}
}

// Cutting at random, also through corners and along edges, loses no volume and
// keeps every piece closed.
func TestSplitKeepsVolume(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for run := 0; run < 3000; run++ {
		c := randConvex(r, 10)
		var p Plane
		switch run % 3 {
		case 0:
			p = PlaneAt(randVec(r, 10), randVec(r, 1))
		case 1: // through three corners
			i, j, k := c.V[r.Intn(len(c.V))], c.V[r.Intn(len(c.V))], c.V[r.Intn(len(c.V))]
			n := j.Sub(i).Cross(k.Sub(i))
			if n.Len() < 1e-3 {
				continue
			}
			p = PlaneAt(i, n)
		case 2: // along a face, off by noise around the tolerance
			f := c.Faces[r.Intn(len(c.Faces))].Plane
			p = Plane{f.N.Add(randVec(r, 1e-10)).Unit(), f.D + 1e-8*(r.Float64()-.5)}
		}
		in, out, okIn, okOut := c.Split(p)
		sum := 0.0
		if okIn {
			closed(t, &in)
			sum += in.Volume()
		}
		if okOut {
			closed(t, &out)
			sum += out.Volume()
		}
		// What tol.Clip may lose: a layer that thick over the face.
		if !near(sum, c.Volume(), 1e-6+1e-12*c.Volume()) {
			t.Fatalf("run %d: %g of %g", run, sum, c.Volume())
		}
	}
}

// Handbook inertia: oracles M2 (disc r 20 h 12, mass 10) and M4 (box
// 100x40x20, 56.448 g about its 100 axis), L of 60x60 less 40x40 (M6); textbook
// formulas m r²/2, m(3r²+h²)/12, m(b²+c²)/12.
func TestMomentsHandbook(t *testing.T) {
	box := bodyOf(cube(5, 6, 7, 105, 46, 27)).Moments()
	if rho := 56.448 / box.Volume; !near(rho*box.Inertia[0][0], 9408, 1e-9*9408) {
		t.Errorf("M4: %g", rho*box.Inertia[0][0])
	}
	if box.Center.Sub(r3.Vec{X: 55, Y: 26, Z: 17}).Len() > 1e-12 || !near(box.Inertia[0][1], 0, 1e-3) {
		t.Errorf("box %+v", box)
	}
	disc := bodyOf(Cylinder(r3.Shift(r3.Vec{X: 3, Y: 4}), 20, -6, 6, 1, 2, 3)).Moments()
	rho := 10 / disc.Volume
	// Inscribed: the facets of 100-gon miss (2 pi²/3n²) of the area, twice that of the moment.
	for _, c := range []struct{ got, want float64 }{
		{disc.Volume, math.Pi * 400 * 12}, {rho * disc.Inertia[2][2], 2000}, {rho * disc.Inertia[0][0], 1120},
	} {
		if c.got > c.want || c.got < c.want*(1-2e-3) {
			t.Errorf("M2: %g, want a little below %g", c.got, c.want)
		}
	}
	// The polygon itself, exactly: regular n-gon area n r² sin(2 pi/n)/2, polar moment A r²(2+cos(2 pi/n))/6.
	n := float64(Facets(20, tol.Chord))
	area := n * 400 * math.Sin(2*math.Pi/n) / 2
	if !near(disc.Volume, area*12, 1e-12*area*12) || !near(disc.Inertia[2][2], area*12*400*(2+math.Cos(2*math.Pi/n))/6, 1e-6) {
		t.Errorf("n-gon: %+v", disc)
	}
	l := bodyOf(cube(0, 0, 0, 60, 60, 1)).Carve(cube(20, 20, -1, 80, 80, 2)).Moments()
	if !near(l.Volume, 2000, 1e-9) || l.Center.Sub(r3.Vec{X: 22, Y: 22, Z: .5}).Len() > 1e-12 {
		t.Errorf("M6: %+v", l)
	}
	// Inertia does not depend on where the body is.
	m := randPose(rand.New(rand.NewSource(3)), 300)
	a, b := bodyOf(cube(0, 0, 0, 60, 60, 1)).Moments(), bodyOf(cube(0, 0, 0, 60, 60, 1)).Transform(m).Moments()
	tr := func(m Moments) float64 { return m.Inertia[0][0] + m.Inertia[1][1] + m.Inertia[2][2] }
	if !near(tr(a), tr(b), 1e-9*tr(a)) || b.Center.Sub(m.Point(a.Center)).Len() > 1e-10 {
		t.Errorf("moved: %v %v", a, b)
	}
}

// M5: the hemisphere of radius 30 has its centre at 3r/8 = 11.25 from the flat.
func TestBall(t *testing.T) {
	b := Ball(r3.Vec{X: 1, Y: 2, Z: 3}, 30, 0.05, 9)
	closed(t, &b)
	v := 4. / 3 * math.Pi * 27000
	if got := b.Volume(); got > v || got < v*(1-3*0.05/30) {
		t.Errorf("volume %g of %g", got, v)
	}
	for i := range b.Faces {
		if d := b.Faces[i].Plane.Side(r3.Vec{X: 1, Y: 2, Z: 3}); d > -30+0.05 {
			t.Fatalf("facet %d only %g from the centre", i, d)
		}
	}
	half, _ := b.Clip(PlaneAt(r3.Vec{Z: 3}, r3.Z.Neg()), 1)
	if z := half.Moments().Center.Z - 3; !near(z, 11.25, 0.05) {
		t.Errorf("hemisphere centre %g", z)
	}
}

func TestFacets(t *testing.T) {
	for _, r := range []float64{0.005, 0.5, 1, 3.2, 6.35, 14.3, 50, 300} {
		n := Facets(r, tol.Chord)
		if n%4 != 0 || n < 8 || r*(1-math.Cos(math.Pi/float64(n))) > tol.Chord {
			t.Errorf("r %g: %d", r, n)
		}
		if n > 8 && r*(1-math.Cos(math.Pi/float64(n-4))) <= tol.Chord {
			t.Errorf("r %g: %d is not the least", r, n)
		}
	}
}

// Carving overlapping holes is the same in any order, and is what inclusion and
// exclusion say.
func TestCarveOverlappingHoles(t *testing.T) {
	block := bodyOf(cube(0, 0, 0, 80, 40, 20))
	holes := []Convex{
		Cylinder(r3.Shift(r3.Vec{X: 30, Y: 20}), 8, -1, 21, 10, 11, 12),
		Cylinder(r3.Shift(r3.Vec{X: 38, Y: 22}), 6, -1, 21, 20, 21, 22),
		Cylinder(r3.Pose{U: r3.Y, V: r3.Z, W: r3.X, O: r3.Vec{X: 0, Y: 20, Z: 10}}, 4, -1, 50, 30, 31, 32),
	}
	inc := func(cs ...Convex) float64 {
		b := block
		for _, c := range cs {
			b = b.Intersect([]Convex{c})
		}
		return b.Moments().Volume
	}
	a, b, c := holes[0], holes[1], holes[2]
	want := 80*40*20 - inc(a) - inc(b) - inc(c) + inc(a, b) + inc(a, c) + inc(b, c) - inc(a, b, c)
	for _, order := range [][3]int{{0, 1, 2}, {2, 1, 0}, {1, 2, 0}} {
		body := block.Carve(holes[order[0]]).Carve(holes[order[1]]).Carve(holes[order[2]])
		if got := body.Moments().Volume; !near(got, want, 1e-9*want) {
			t.Errorf("order %v: %.12g, want %.12g", order, got, want)
		}
		for i := range body.Pieces {
			closed(t, &body.Pieces[i])
		}
		for _, h := range holes {
			if o := Overlap(body, bodyOf(h)); o.Volume != 0 {
				t.Errorf("order %v: hole still has %g", order, o.Volume)
			}
		}
		if o := Overlap(body, body.Transform(r3.Identity)); !near(o.Volume, want, 1e-9*want) {
			t.Errorf("pieces overlap: shared with itself %g of %g", o.Volume, want)
		}
	}
	if same := block.Carve(cube(90, 0, 0, 95, 5, 5)); &same.Pieces[0].V[0] != &block.Pieces[0].V[0] {
		t.Error("a miss must leave the pieces as they are")
	}
	if touch := block.Carve(cube(80, 0, 0, 95, 5, 5)); len(touch.Pieces) != 1 {
		t.Error("a touch must leave the pieces as they are")
	}
}

// Notches on an integer grid against counting unit cells.
func TestCarveGrid(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	for run := 0; run < 60; run++ {
		b := bodyOf(cube(0, 0, 0, 10, 8, 6))
		var full [10][8][6]bool
		left := 480
		for k := 0; k < 6; k++ {
			x, y, z := r.Intn(9), r.Intn(7), r.Intn(5)
			X, Y, Z := x+1+r.Intn(4), y+1+r.Intn(4), z+1+r.Intn(4)
			b = b.Carve(cube(float64(x), float64(y), float64(z), float64(X), float64(Y), float64(Z)))
			for i := x; i < X && i < 10; i++ {
				for j := y; j < Y && j < 8; j++ {
					for l := z; l < Z && l < 6; l++ {
						if !full[i][j][l] {
							full[i][j][l] = true
							left--
						}
					}
				}
			}
		}
		if got := b.Moments().Volume; !near(got, float64(left), 1e-10) {
			t.Fatalf("run %d: %g, want %d", run, got, left)
		}
	}
}

func TestPrismTagsAndClip(t *testing.T) {
	c := Prism(topFrame, []r2.Vec{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 0, Y: 3}}, []int32{1, 2, 3}, 0, 2, 4, 5)
	closed(t, &c)
	if v := c.Volume(); v != 12 {
		t.Errorf("volume %g", v)
	}
	k, ok := c.Clip(PlaneAt(r3.Vec{Z: 1}, r3.Z), 9)
	if !ok || k.Volume() != 6 || k.Faces[len(k.Faces)-1].Tag != 9 {
		t.Errorf("clip %v", k)
	}
	if _, ok := c.Clip(PlaneAt(r3.Vec{}, r3.Z), 9); ok {
		t.Error("a plane along the bottom leaves nothing below")
	}
}

// A cut along a seam names it, also in the middle of a row of cuts, and changes
// nothing else.
func TestCutNamesSeam(t *testing.T) {
	r := rand.New(rand.NewSource(14))
	for run := 0; run < 200; run++ {
		c := Box(r3.Vec{}, r3.Vec{X: 10, Y: 8, Z: 6}, [6]int32{})
		before := append([]r3.Vec(nil), c.V...)
		lo := r3.Vec{X: float64(r.Intn(3)), Y: float64(r.Intn(3)), Z: float64(r.Intn(3))}
		hi := r3.Vec{X: float64(8 + r.Intn(3)), Y: float64(6 + r.Intn(3)), Z: float64(4 + r.Intn(3))}
		q := cube(lo.X, lo.Y, lo.Z, hi.X, hi.Y, hi.Z)
		b := bodyOf(c).Intersect([]Convex{q})
		s := hi.Sub(lo)
		if len(b.Pieces) != 1 || !near(b.Moments().Volume, s.X*s.Y*s.Z, 1e-10) {
			t.Fatalf("run %d: %+v", run, b.Moments())
		}
		closed(t, &b.Pieces[0])
		for _, f := range b.Pieces[0].Faces {
			want := int32(0)
			for _, g := range q.Faces {
				if g.Plane.N.Dot(f.Plane.N) > .9 {
					want = g.Tag
				}
			}
			if f.Tag != want {
				t.Fatalf("run %d: face %v has tag %d, want %d", run, f.Plane, f.Tag, want)
			}
		}
		for i := range before {
			if c.V[i] != before[i] {
				t.Fatal("the blank was changed")
			}
		}
		for _, f := range c.Faces {
			if f.Tag != Seam {
				t.Fatal("the blank was changed")
			}
		}
	}
}

// Bodies are never changed by what is made from them.
func TestBodiesStay(t *testing.T) {
	b := sample()
	m := b.Moments()
	o := b.Carve(Cylinder(r3.Shift(r3.Vec{X: 35, Y: 20}), 9, -5, 50, 1, 2, 3)).Clip(PlaneAt(r3.Vec{X: 90}, r3.X), 4)
	o.Intersect(b.Pieces)
	Overlap(b, o)
	FirstContact(b, o, Axis{r3.Vec{X: 1}, r3.Z}, 1, tol.Touch)
	if b.Moments() != m {
		t.Error("changed")
	}
	for i := range b.Pieces {
		closed(t, &b.Pieces[i])
	}
	for i := range o.Pieces {
		closed(t, &o.Pieces[i])
	}
}

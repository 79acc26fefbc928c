package solid

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// A bar on a pivot swings into a wall: the corner at radius R and angle f
// passes the wall at x by the depth when R cos(f + t) = -(x + depth).
func TestSwingIntoWall(t *testing.T) {
	bar := bodyOf(cube(0, 0, 0, 50, 10, 5))
	wall := bodyOf(cube(-100, -100, -1, -30, 100, 6))
	c := FirstContact(wall, bar, Axis{r3.Vec{}, r3.Z}, math.Pi, tol.Touch)
	// The outer corners are (50, 0) and (50, 10); the second leads.
	want := math.Acos(-(30+tol.Touch)/math.Hypot(50, 10)) - math.Atan2(10, 50)
	if !c.Hit || !near(c.Travel, want, 1e-7) || c.AtLeast > c.Travel || c.Travel-c.AtLeast > tol.Angle {
		t.Errorf("%+v, want %.12g", c, want)
	}
	if at := c.At(); !near(at.X, -30, 0.05) || at.Z < 0 || at.Z > 5 {
		t.Errorf("at %v", at)
	}
	if c.Steps > 6 {
		t.Errorf("%d steps", c.Steps)
	}
	// The other way it comes later, and a quarter turn short of it never.
	d := FirstContact(wall, bar, Axis{r3.Vec{}, r3.Z.Neg()}, math.Pi, tol.Touch)
	if want := math.Acos(-(30+tol.Touch)/50.) - 0; !d.Hit || !near(d.Travel, want, 1e-7) {
		t.Errorf("back: %+v, want %g", d, want)
	}
	if e := FirstContact(wall, bar, Axis{r3.Vec{}, r3.Z}, math.Pi/2, tol.Touch); e.Hit || e.AtLeast != math.Pi/2 || e.Travel != math.Pi/2 {
		t.Errorf("short: %+v", e)
	}
}

// What slides, or turns in a hole that fits it, takes few steps and never hits.
func TestSlidingContact(t *testing.T) {
	plate := bodyOf(cube(-50, -50, -10, 50, 50, 0))
	c := FirstContact(plate, bodyOf(cube(0, 0, 0, 30, 20, 5)), Axis{r3.Vec{}, r3.Z}, 2*math.Pi, tol.Touch)
	if c.Hit || c.AtLeast != 2*math.Pi || c.Steps > 2 {
		t.Errorf("on a plate: %+v", c)
	}
	// Line to line: the hole of radius 6 and the pin of radius 6, both facets.
	holed := plate.Carve(Cylinder(r3.Identity, 6, -11, 1, 1, 2, 3))
	pin := bodyOf(Cylinder(r3.Turn(r3.Vec{}, r3.Z, 0.01), 6, -30, 30, 1, 2, 3))
	c = FirstContact(holed, pin, Axis{r3.Vec{}, r3.Z}, 2*math.Pi, tol.Touch)
	if c.Hit || c.AtLeast != 2*math.Pi || c.Steps > 4*len(holed.Pieces) {
		t.Errorf("in a hole: %+v of %d pieces", c, len(holed.Pieces))
	}
	s := FirstContactSlide(holed, pin, r3.Z, 100, tol.Touch)
	if s.Hit || s.Steps > 2*len(holed.Pieces) {
		t.Errorf("drawn out: %+v", s)
	}
	if s = FirstContactSlide(holed, pin, r3.Vec{X: 1, Y: 0.01}, 100, tol.Touch); !s.Hit || s.Travel > 0.05 || s.Travel < 0.01 {
		t.Errorf("sideways: %+v", s)
	}
}

func TestSlide(t *testing.T) {
	a, b := bodyOf(cube(0, 0, 0, 10, 10, 10)), bodyOf(cube(-30, 2, 2, -20, 8, 8))
	c := FirstContactSlide(a, b, r3.Vec{X: 2}, 100, 0.02)
	if !c.Hit || !near(c.Travel, 20.02, 2e-9) || c.AtLeast > c.Travel {
		t.Errorf("%+v", c)
	}
	if c = FirstContactSlide(a, b, r3.X, 20.01, 0.02); c.Hit || c.Travel != 20.01 {
		t.Errorf("%+v", c)
	}
	if c = FirstContactSlide(a, b, r3.Y, 100, 0.02); c.Hit {
		t.Errorf("%+v", c)
	}
	if c = FirstContactSlide(a, bodyOf(cube(9, 0, 0, 20, 5, 5)), r3.Y, 100, 0.02); !c.Hit || c.Travel != 0 {
		t.Errorf("in at the start: %+v", c)
	}
}

// 100 random pairs of boxes against stepping at 0.01 degree: the first angle at
// which the depth passes tol.Touch, within 0.05 degree.
func TestSwingAgainstStepping(t *testing.T) {
	r := rand.New(rand.NewSource(9))
	step := 0.01 * math.Pi / 180
	hits, worst, steps := 0, 0.0, 0
	for run := 0; run < 100; {
		a := bodyOf(cube(-20, -4, -12, 20, 4, 12).at(randPose(r, 8)))
		b := bodyOf(cube(-14, -4, -3, 14, 4, 3).at(randPose(r, 18)))
		if Penetrates(a, b, 0) {
			continue
		}
		run++
		axis := Axis{randVec(r, 16), randVec(r, 1)}
		limit := math.Pi
		c := FirstContact(a, b, axis, limit, tol.Touch)
		steps += c.Steps
		if c.Travel-c.AtLeast > tol.Angle || c.AtLeast > c.Travel {
			t.Fatalf("run %d: not certified %+v", run, c)
		}
		want := math.Inf(1)
		for k := 0; float64(k)*step <= limit; k++ {
			if Penetrates(a, b.Transform(r3.Turn(axis.At, axis.Dir, float64(k)*step)), tol.Touch) {
				want = float64(k) * step
				break
			}
		}
		if math.IsInf(want, 1) {
			if c.Hit {
				// Between two steps it may only graze: the depth there must be right.
				if s := pairDepth(a, b, axis, c.Travel); s < tol.Touch-1e-6 {
					t.Fatalf("run %d: hit at %g with depth %g", run, c.Travel, s)
				}
			}
			continue
		}
		hits++
		if !c.Hit || c.Travel > want+1e-9 {
			t.Fatalf("run %d: stepping hits at %g, got %+v", run, want, c)
		}
		// Evaluated exactly there.
		if s := pairDepth(a, b, axis, c.Travel); !near(s, tol.Touch, 1e-7) && c.Travel > 0 {
			t.Fatalf("run %d: depth %g at %g", run, s, c.Travel)
		}
		if d := want - c.Travel; d > 0.05*math.Pi/180 {
			t.Fatalf("run %d: %g radians early", run, d)
		} else {
			worst = math.Max(worst, d)
		}
	}
	if hits < 40 {
		t.Fatalf("only %d of 100 pairs meet", hits)
	}
	t.Logf("%d meet, worst %.4f degree early, %d steps", hits, worst*180/math.Pi, steps)
}

func (c Convex) at(m r3.Pose) Convex { return c.Transform(m) }

func pairDepth(a, b Body, axis Axis, t float64) float64 {
	m := b.Transform(r3.Turn(axis.At, axis.Dir, t))
	s, _ := Separation(&a.Pieces[0], &m.Pieces[0])
	return -s
}

// Bodies of many pieces: the rings and the tree skip no pair that meets.
func TestSwingBodies(t *testing.T) {
	r := rand.New(rand.NewSource(10))
	hits := 0
	for run := 0; run < 120; run++ {
		a := NewBody(randStrips(r, 6).prisms(sideFrame, -16, 16)).Transform(randPose(r, 4))
		b := NewBody(randStrips(r, 6).prisms(topFrame, -6, 6)).Transform(randPose(r, 18))
		if Penetrates(a, b, 0) {
			continue
		}
		axis := Axis{randVec(r, 20), randVec(r, 1)}
		c := FirstContact(a, b, axis, 4, tol.Touch)
		want := Contact{Travel: 4}
		for i := range a.Pieces {
			for j := range b.Pieces {
				d := FirstContact(bodyOf(a.Pieces[i]), bodyOf(b.Pieces[j]), axis, 4, tol.Touch)
				if d.Hit && d.Travel < want.Travel {
					want = d
				}
			}
		}
		if c.Hit != want.Hit || !near(c.Travel, want.Travel, 1e-6) {
			t.Fatalf("run %d: %+v, want %+v", run, c, want)
		}
		if c.Hit {
			hits++
			if c.Travel > 0 && Penetrates(a, b.Transform(r3.Turn(axis.At, axis.Dir, c.Travel*(1-1e-6))), tol.Touch+1e-6) {
				t.Fatalf("run %d: in before %g", run, c.Travel)
			}
		}
		for k := 0.0; k < c.AtLeast; k += 0.02 {
			if Penetrates(a, b.Transform(r3.Turn(axis.At, axis.Dir, k)), tol.Touch+1e-9) {
				t.Fatalf("run %d: in at %g, said free to %g", run, k, c.AtLeast)
			}
		}
	}
	if hits < 15 {
		t.Fatalf("only %d meet", hits)
	}
}

// A corner that just grazes the limit ends the walk within few steps, whichever
// way it is decided, and never after a depth past the limit.
func TestSwingGrazes(t *testing.T) {
	for _, over := range []float64{-1e-3, -1e-5, -1e-7, -1e-9, 0, 1e-9, 1e-7, 1e-5, 1e-3} {
		bar := bodyOf(cube(0, 0, 0, 50, 10, 5))
		wall := bodyOf(cube(-100, -100, -1, -math.Hypot(50, 10)+tol.Touch+over, 100, 6))
		c := FirstContact(wall, bar, Axis{r3.Vec{}, r3.Z}, 2*math.Pi, tol.Touch)
		if over > 1e-6 && !c.Hit || over < -1e-6 && c.Hit {
			t.Errorf("over %g: %+v", over, c)
		}
		if c.Steps > 100 {
			t.Errorf("over %g: %d steps", over, c.Steps)
		}
		if c.Hit && pairDepth(wall, bar, Axis{r3.Vec{}, r3.Z}, c.Travel) > tol.Touch+1e-9 {
			t.Errorf("over %g: too deep", over)
		}
		// Round on round: a turned pin whose facets would bite by about the limit.
		pin := bodyOf(Prism(r3.Shift(r3.Vec{X: 3}), Circle(r2zero, 5, 16), nil, 0, 5, 0, 0))
		post := bodyOf(Prism(r3.Shift(r3.Vec{X: -13 + tol.Touch + over}), Circle(r2zero, 5, 16), nil, 0, 5, 0, 0))
		c = FirstContact(post, pin, Axis{r3.Vec{}, r3.Z}, 2*math.Pi, tol.Touch)
		if c.Steps > 400 {
			t.Errorf("over %g: round %d steps, slack %g", over, c.Steps, c.Slack)
		}
	}
}

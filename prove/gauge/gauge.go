// Package gauge decides whether a piece can lie wholly inside the small-parts
// cylinder of 16 CFR 1501.4, in any attitude. A piece that can is a choking
// hazard for a child under three.
//
// Start with Ball, Cylinder, Box or Points, or with RoundedCylinder, RoundedBox and
// Rounded where arrises are eased. Each returns an Answer: the verdict,
// the clearance, and the argument that carries it. The cavity of the gauge is
// convex, so a piece fits if and only if its convex hull fits: only corners and
// round rims matter, holes and hollows never do.
//
// The answer is proved both ways. "Fits" always comes with a Pose in which every
// corner and rim lies inside; "does not fit" always rests on a published
// or derived inequality, or on a search that leaves out no attitude (search.go).
// What neither reaches is "cannot tell".
//
// A piece with rounded arrises is what a ball of their radius sweeps inside it: a core,
// fattened all over by that radius. Clearance is how far a piece may be fattened,
// so the core's clearance less the radius is the piece's, exactly.
//
// The package knows nothing of what breaks or of ages: the caller says which pieces
// may come loose and hands over their true shape. It screens a design; it certifies
// nothing.
package gauge

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// The cavity, in millimetres: x^2 + y^2 <= Radius^2, z <= 0 and z >= -(mean + x).
// Source: 16 CFR 1501.4 figure 1, where the inch figures govern: bore 1.25 in,
// depth 1.00 in at the shallow side to 2.25 in at the deep side, so the floor is
// a plane at 45 degrees.
const (
	Radius  = 1.25 * 25.4 / 2
	Shallow = 1.00 * 25.4
	Deep    = 2.25 * 25.4

	// mean is the depth on the axis of the bore.
	mean = (Shallow + Deep) / 2
)

// Source names the geometry that all answers derive from.
const Source = "16 CFR 1501.4 figure 1"

// Verdict is the outcome of a decision. The zero value is CannotTell.
type Verdict int

// The three outcomes.
const (
	CannotTell Verdict = iota
	Fits
	DoesNotFit
)

func (v Verdict) String() string {
	switch v {
	case Fits:
		return "fits"
	case DoesNotFit:
		return "does not fit"
	}
	return "cannot tell"
}

// Answer is a decision and what it rests on.
type Answer struct {
	Verdict Verdict

	// Clearance is the radius, in millimetres, of the largest ball by which the
	// piece may be fattened all over and still clear rim, wall and floor in its
	// best attitude. It is negative if the piece cannot enter: then the rim, the
	// wall and the floor would each have to give way by so much.
	// It is what the best attitude found reaches, thus never above the truth.
	Clearance float64

	// AtMost is a proven upper bound of the clearance, in millimetres.
	AtMost float64

	// Exact tells that Clearance and AtMost differ by no more than
	// tol.GaugeSearch.
	Exact bool

	// Lemma is the deciding argument in plain words.
	Lemma string

	// Pose is the attitude that reaches Clearance: it carries the piece, as
	// described to the function that was asked, into the gauge, whose rim lies
	// in the plane z = 0 around the origin with its deep side at +x.
	Pose r3.Pose

	// Attitudes counts the attitudes that were looked at.
	Attitudes int
}

// The arguments, as they are shown to the user.
const (
	lemmaCircle  = "a full circle wider than the bore enters in no attitude"
	lemmaChord   = "it is longer than the longest line inside the gauge"
	lemmaBox     = "its narrowest shadow is wider than the bore"
	lemmaBall    = "a ball no wider than the bore lies below the rim"
	lemmaUpright = "it stands upright inside the gauge"
	lemmaTilt    = "it lies inside the gauge in an attitude found and checked"
	lemmaNone    = "every attitude was bounded and none lets it in"
	lemmaOpen    = "the attitudes looked at leave the question open"
	lemmaBad     = "a size is not a positive number"
)

// Circle is a true round rim of a piece: radius in millimetres about Center, in
// the plane across Normal (which need not be of length 1).
type Circle struct {
	Center, Normal r3.Vec
	Radius         float64
}

// Ball decides for a ball of diameter d, in closed form.
func Ball(d float64) Answer {
	if !positive(d) {
		return Answer{Lemma: lemmaBad}
	}
	// The inscribed ball of the cavity touches the wall all round: with its
	// centre on the axis it needs (1 + sqrt 2) * Radius of depth there, and has
	// mean, which is more.
	c := Radius - d/2
	a := Answer{Clearance: c, AtMost: c, Exact: true, Verdict: Fits, Lemma: lemmaBall,
		Pose: r3.Shift(r3.Vec{Z: -math.Max(d/2, Radius)})}
	if c < -tol.Gauge {
		a.Verdict, a.Lemma = DoesNotFit, lemmaCircle
	}
	return a
}

// Cylinder decides for a dowel, disc or wheel of diameter d, standing on the
// origin's plane z = 0 up to z = length.
func Cylinder(d, length float64) Answer { return RoundedCylinder(d, length, 0) }

// RoundedCylinder is Cylinder with both rims rounded by a radius, which counts up to
// what leaves a core.
func RoundedCylinder(d, length, round float64) Answer {
	if !positive(d, length) || !(round >= 0) {
		return Answer{Lemma: lemmaBad}
	}
	about := r3.Shift(r3.Vec{Z: -length / 2})
	round = math.Min(round, roundMost*math.Min(d, length))
	d, length = d-2*round, length-2*round
	b := body{
		circles: []circle{
			{c: r3.Vec{Z: -length / 2}, n: r3.Z, r: d / 2},
			{c: r3.Vec{Z: length / 2}, n: r3.Z, r: d / 2},
		},
		about: about,
	}
	limits := []limit{
		{Radius - d/2, lemmaCircle},
		{chordLimit(hypot(d, length)), lemmaChord},
	}
	return decide(newSearch(revolved, true, b), limits, round)
}

// roundMost is the largest radius that counts, as a share of the least size: nearly a
// half, so that the core keeps a size.
const roundMost = 0.499

// Ring decides for a ring or bored wheel: its hull is that of the full disc.
func Ring(outer, thickness float64) Answer { return Cylinder(outer, thickness) }

// Box decides for a block with a corner at the origin and sides a, b and c along x,
// y and z.
func Box(a, b, c float64) Answer { return RoundedBox(a, b, c, 0) }

// RoundedBox is Box with every arris rounded by a radius, which counts up to what
// leaves a core.
func RoundedBox(a, b, c, round float64) Answer {
	if !positive(a, b, c) || !(round >= 0) {
		return Answer{Lemma: lemmaBad}
	}
	shape := body{about: r3.Shift(r3.Vec{X: -a / 2, Y: -b / 2, Z: -c / 2})}
	round = math.Min(round, roundMost*math.Min(a, math.Min(b, c)))
	a, b, c = a-2*round, b-2*round, c-2*round
	half := r3.Vec{X: a / 2, Y: b / 2, Z: c / 2}
	for i := 0; i < 8; i++ {
		p := half
		for axis := 0; axis < 3; axis++ {
			if i>>axis&1 == 0 {
				p = p.With(axis, -p.At(axis))
			}
		}
		shape.points = append(shape.points, p)
	}
	// The four space diagonals have squared lengths in a shadow along u of
	// D^2 - (diagonal . u)^2, on average D^2 - (a^2 u1^2 + b^2 u2^2 + c^2 u3^2),
	// which is least, two smaller sides squared, along the longest side.
	longest := math.Max(a, math.Max(b, c))
	diagonal := math.Sqrt(float64(a*a) + float64(b*b) + float64(c*c))
	shadow := math.Sqrt(math.Max(0, float64(diagonal*diagonal)-float64(longest*longest)))
	limits := []limit{
		{Radius - shadow/2, lemmaBox},
		{chordLimit(diagonal), lemmaChord},
	}
	return decide(newSearch(block, false, shape), limits, round)
}

// Points decides for the convex hull of corners and round rims. Corners that are
// samples of a curve describe a smaller piece, so a "does not fit" stays true and
// a "fits" is off by no more than the sampling; describe round rims as circles.
func Points(hull []r3.Vec, circles []Circle) Answer { return Rounded(hull, circles, 0) }

// Rounded decides for the hull of balls of radius round about corners and all along
// rims: a piece with rounded arrises, given by the middles of its roundings.
func Rounded(core []r3.Vec, rims []Circle, round float64) Answer {
	b, ok := newBody(core, rims)
	if !ok || !(round >= 0) {
		return Answer{Lemma: lemmaBad}
	}
	limits := []limit{{chordLimit(b.longest()), lemmaChord}}
	for _, c := range b.circles {
		limits = append(limits, limit{Radius - c.r, lemmaCircle})
	}
	if turned, ok := b.revolved(); ok {
		return decide(newSearch(revolved, false, turned), limits, round)
	}
	return decide(newSearch(general, false, b), limits, round)
}

// limit is a proven upper bound of the clearance and its argument.
type limit struct {
	clearance float64
	lemma     string
}

// chordLimit returns the clearance that a piece with two points so far apart
// cannot exceed. Between rim and floor, all moved inward by e, the horizontal
// distance is at most 2(Radius - e), the depth Deep - (2 + sqrt 2)e; without
// clearance that is sqrt(1.25^2 + 2.25^2) = 2.574 in.
func chordLimit(length float64) float64 {
	const k = 2 + math.Sqrt2
	// (2R - 2e)^2 + (D - k e)^2 = length^2, the smaller root.
	const a = 4 + k*k
	const b = -2 * (4*Radius + k*Deep)
	c := 4*Radius*Radius + Deep*Deep - float64(length*length)
	disc := b*b - float64(4*a*c)
	if disc < 0 { // impossible for length > 0: the gauge cannot be so deep inside itself
		return Radius
	}
	return (-b - math.Sqrt(disc)) / (2 * a)
}

// decide answers by the limits if they suffice, else by search, for the piece that is
// round all over its core.
func decide(s *search, limits []limit, round float64) Answer {
	s.round = round
	best := limit{math.Inf(1), ""}
	for _, l := range limits {
		if l.clearance < best.clearance {
			best = l
		}
	}
	if best.clearance < s.need() {
		s.seed()
		return s.answer(best.clearance, DoesNotFit, best.lemma)
	}
	s.run(best.clearance)
	upper := math.Min(best.clearance, s.upper)
	switch {
	case s.best.lower >= s.need():
		if m := s.pose(); s.kind != general && math.Max(math.Abs(m.U.Z), math.Max(math.Abs(m.V.Z), math.Abs(m.W.Z))) > 1-tol.Clip {
			return s.answer(upper, Fits, lemmaUpright)
		}
		return s.answer(upper, Fits, lemmaTilt)
	case s.decided():
		return s.answer(upper, DoesNotFit, lemmaNone)
	}
	return s.answer(upper, CannotTell, lemmaOpen)
}

func (s *search) answer(upper float64, v Verdict, lemma string) Answer {
	return Answer{
		Verdict: v, Lemma: lemma,
		Clearance: s.best.lower - s.round, AtMost: math.Max(upper, s.best.lower) - s.round,
		Exact:     upper-s.best.lower <= tol.GaugeSearch,
		Pose:      s.pose(),
		Attitudes: s.looked,
	}
}

func positive(sizes ...float64) bool {
	for _, s := range sizes {
		if !(s > 0) || math.IsInf(s, 0) {
			return false
		}
	}
	return true
}

// Long decides for any piece that has two points the given distance (mm) apart,
// if that alone keeps it out; ok is false if it does not.
func Long(distance float64) (a Answer, ok bool) {
	c := chordLimit(distance)
	if c >= -tol.Gauge {
		return Answer{}, false
	}
	return Answer{Verdict: DoesNotFit, Clearance: math.Inf(-1), AtMost: c, Lemma: lemmaChord}, true
}

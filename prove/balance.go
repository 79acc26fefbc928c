package prove

import (
	"fmt"
	"math"
	"sort"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/trig"
	"dryfit/measure/source"
	"dryfit/toy"
)

// balance: weight, centre of mass, and the slope on which the toy tips, over
// each side of what it stands on, its wheels blocked: atan(d/h), d the distance
// of the side from the foot of the centre of mass, h the height of that.

var source0 source.Range

// standLeast is the slope a small toy should stand on whichever way it faces
// (common practice, no source: 20 degrees for hand toys).
const standLeast = 20.0

// Tip is a side that a thing standing on the floor can tip over.
type Tip struct {
	Angle float64 // radians
	Dir   r2.Vec  // the way it falls, on the floor: x forward, y left
}

// Tips returns the slopes at which a thing tips over each side of the hull of its
// feet, for a centre of mass at height h above c. Negative: it falls by itself.
func Tips(feet []r2.Vec, c r2.Vec, h float64) []Tip {
	hull := outline.Hull(feet)
	if len(hull) < 3 {
		return nil
	}
	var out []Tip
	for i, a := range hull {
		b := hull[(i+1)%len(hull)]
		e := b.Sub(a).Unit()
		d := e.Cross(c.Sub(a)) // positive inside
		out = append(out, Tip{trig.Atan2(d, h), e.Perp().Neg()})
	}
	return out
}

var balanceCheck = Check{
	ID: "balance", Asks: "how heavy is it, and on what slope does it tip?", run: balance,
	How: "Mass from the handbook density of each wood at 12 % moisture. The slope on which it tips over each side of what it stands on, wheels blocked: atan(d/h), d the distance of the side from the foot of the centre of mass, h its height. Every car of a hitched toy that stands by itself is tried as well. Pulled level at its cord, its wheels rolling, it rears up when F (h - cord) > W d, h the height of the centre of mass and d how far that is ahead of the rear wheels.",
	Limits: []Limit{
		{"stands on a slope, whichever way it faces, of", inDegrees(standLeast), "common practice, no source (20 degrees for hand toys)"},
		{"a pull at its cord does not rear it up, as a share of its weight, up to", share(pullLeast), "common practice, no source"},
	},
}

func balance(r *run) {
	must := (*toy.Must)(nil)
	for i := range r.m.Toy.Musts {
		if m := &r.m.Toy.Musts[i]; m.Kind == toy.MustStand {
			must = m
		}
	}
	f := Finding{Check: "balance", About: "toy", Unit: "degree", Limit: standLeast, Source: practice}
	if must != nil {
		f.Limit, f.Source = must.Angle.Degrees(), "the toy file: must"
	}
	// The toy as a whole, and every car of it that stands by itself.
	groups := [][]int{r.all()}
	if cars := r.cars(); len(cars) > 1 {
		groups = append(groups, cars...)
	}
	worst, high := Tip{Angle: math.Inf(1)}, 0.0
	var floor support
	var at r3.Vec
	piece := 0
	for k, g := range groups {
		mass, c := r.massOf(g)
		s := r.stand(g, c)
		if k == 0 {
			floor = s
		} else if floor.height(s.points[0].at) > floorSlack {
			continue // it turns on another part, and is carried by that
		}
		if r.w.built {
			s = s.levelled()
		}
		feet, foot := s.onFloor(c)
		tips := Tips(feet, foot, s.height(c))
		if len(tips) == 0 || r.w.built && r.onOneAxle(g) {
			if k == 0 {
				r.onALine(f, s, must)
				return
			}
			continue // a car on one axle leans on its neighbour: the whole has it
		}
		sort.SliceStable(tips, func(i, j int) bool { return tips[i].Angle < tips[j].Angle })
		if tips[0].Angle < worst.Angle {
			worst, high, at, piece = tips[0], s.height(c), c, g[0]
		}
		if k == 0 {
			f.Notes = append(f.Notes, fmt.Sprintf("centre of mass %s above the floor", r.len(s.height(c))))
		} else {
			f.Notes = append(f.Notes, fmt.Sprintf("the car of %s: %.0f g, tips at %s %s", r.m.Pieces[g[0]].ID, mass*1000, r.deg(tips[0].Angle), fall(tips[0].Dir)))
		}
	}
	f.Value = degrees(worst.Angle)
	f.Places = []Place{r.place(piece, "", at, source0)}
	f.Says = fmt.Sprintf("weighs %.0f g, tips at %s %s", r.w.weigh().mass*1000, r.deg(worst.Angle), fall(worst.Dir))
	switch {
	case f.Value <= 0:
		f.Verdict = Fails
		f.Says = fmt.Sprintf("weighs %.0f g and falls over %s by itself", r.w.weigh().mass*1000, fall(worst.Dir))
	case f.Value < f.Limit && must != nil:
		f.Verdict = Fails
	case f.Value < f.Limit:
		f.Verdict = Mind
	}
	if must != nil {
		f.Says += fmt.Sprintf("; it must stand on %s", must.Angle.Format())
	}
	if f.Verdict != Holds {
		f.Says += r.steadier(worst, high, f.Limit)
	}
	note, mind := r.pull()
	if note != "" {
		f.Notes = append(f.Notes, note)
	}
	r.add(f)
	if mind != nil {
		r.add(*mind)
	}
}

// steadier says what would let a thing stand on a slope of that many degrees: its feet
// further out, or its weight lower, either alone.
func (r *run) steadier(t Tip, high, slope float64) string {
	want := trig.Tan(slope * math.Pi / 180)
	out, down := float64(high*want)-float64(high*trig.Tan(t.Angle)), high-float64(high*trig.Tan(t.Angle)/want)
	says := fmt.Sprintf(": its feet want to be %s further out that way", r.len(mend(out)))
	if t.Angle > 0 {
		says += fmt.Sprintf(", or its weight %s lower", r.len(mend(down)))
	}
	return says
}

// onALine files that a toy stands on a line only: it fails where it must stand; round
// wood without wheels is meant to roll about.
func (r *run) onALine(f Finding, s support, must *toy.Must) {
	f.Says = fmt.Sprintf("weighs %.0f g and has nothing to stand on but a line", r.w.weigh().mass*1000)
	switch {
	case must != nil:
		f.Verdict = Fails
		f.Says += fmt.Sprintf("; it must stand on %s: give it a flat or a foot", must.Angle.Format())
	case s.wheels:
		f.Verdict = Mind
		f.Says += ": give it a second axle, or let it rest on its wood"
	default:
		f.Verdict, f.Limit = Holds, 0
		f.Says += ": it rolls about, and no must asks it to stand"
	}
	f.Margin, f.known = -f.Limit, true
	r.add(f)
}

// onFloor lays what stands on the floor, and the foot of a point, onto the floor:
// x forward, y left as they run on it.
func (s support) onFloor(c r3.Vec) (feet []r2.Vec, foot r2.Vec) {
	x := r3.X.Sub(s.n.Scale(s.n.X)).Unit()
	y := s.n.Cross(x)
	lay := func(p r3.Vec) r2.Vec { d := p.Sub(s.at); return r2.Vec{X: d.Dot(x), Y: d.Dot(y)} }
	for _, p := range s.points {
		feet = append(feet, lay(p.at))
	}
	return feet, lay(c)
}

// fall says a way on the floor.
func fall(d r2.Vec) string {
	x, y := math.Abs(d.X), math.Abs(d.Y)
	ahead, side := "forward", "left"
	if d.X < 0 {
		ahead = "backward"
	}
	if d.Y < 0 {
		side = "right"
	}
	switch {
	case x > 2.5*y:
		return ahead
	case y > 2.5*x:
		return "to the " + side
	}
	return ahead + " and to the " + side
}

func (r *run) massOf(ids []int) (float64, r3.Vec) {
	mass, first := 0.0, r3.Vec{}
	for _, i := range ids {
		mass += r.w.weigh().of[i]
		first = first.Add(r.w.centreOf(i).Scale(r.w.weigh().of[i]))
	}
	if mass > 0 {
		first = first.Scale(1 / mass)
	}
	return mass, first
}

// cars splits the toy at its upright hinges, which carry no weight from one side
// to the other: each part has to stand on its own wheels.
func (r *run) cars() [][]int {
	n := len(r.m.Pieces)
	label := make([]int, n)
	for i := range label {
		label[i] = 0
	}
	next := 1
	for _, h := range r.m.Hinges {
		if math.Abs(h.Dir.Z) < 0.9 {
			continue
		}
		moving, ok := r.m.Moving(h)
		if !ok {
			continue
		}
		split := map[int]int{}
		for _, i := range moving {
			old := label[i]
			if split[old] == 0 {
				split[old] = next
				next++
			}
			label[i] = split[old]
		}
	}
	by := map[int][]int{}
	var order []int
	for i, l := range label {
		if by[l] == nil {
			order = append(order, l)
		}
		by[l] = append(by[l], i)
	}
	var out [][]int
	for _, l := range order {
		out = append(out, by[l])
	}
	return out
}

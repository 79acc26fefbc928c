package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// child.edges: what is left sharp. The limits of 16 CFR 1500.49 for edges are for
// metal and glass; how far a wooden arris is eased is custom. Points have a gauge
// that reaches wood, 16 CFR 1500.48: pointgauge.go computes what it would say.

const (
	// keen is the angle between two faces below which their arris is a knife edge
	// that nobody should leave to be understood: 45 degrees (common practice, no
	// source).
	keen = 45 * math.Pi / 180
	// keenLeast is the shortest arris that is looked at.
	keenLeast = 3.0
	// easeShort is what an ease may fall short of the custom: an inch fraction
	// stands for a round number of millimetres.
	easeShort  = 0.1
	easeUnsaid = "the file does not say how arrises are eased"
)

var edgesCheck = Check{
	ID: "child.edges", Asks: "are arrises and points left sharp?", run: edges, heavy: true,
	How: "The ease of the toy, or a rounding or chamfer all over a part, against the custom of the age; where the file does not say, from 3 years on, the usual 1.5 mm is taken, but not for arrises under 45 degrees, which are minded. A corner that no ease is said for is pressed into the point gauge: wood is crushed until the area bears the 4.45 N, and if what is left then still reaches the head of the gauge, 0.5 mm down the slot of 1.02 by 1.15 mm, it fails. Only what a fingertip can touch is listed. Splinters are for sandpaper and the hand: the drawing does not show them.",
	Limits: []Limit{
		{"arrises eased by, from 3 years", inMM(facts.Child(facts.ArrisUsual).Value), practice},
		{"arrises eased by, under 3 years", inMM(facts.Child(facts.ArrisUnder3).Value), practice},
		{"arris with nothing said about it at least", inDegrees(keen * 180 / math.Pi), practice},
		{"a point reaches into the gauge of 1.02 by 1.15 mm no further than", inMM(pointReach), pointSource},
		{"metal and glass edges only", "not applied to wood", "16 CFR 1500.49(b)"},
	},
}

func edges(r *run) {
	want := facts.Child(facts.ArrisUsual)
	if r.underThree() {
		want = facts.Child(facts.ArrisUnder3)
	}
	f := Finding{Check: "child.edges", About: "toy", Verdict: Holds, Unit: "mm", Limit: want.Value, Source: want.Source, Notes: []string{screening}}
	said := r.m.Toy.Ease.MM()
	least, at := math.Inf(1), -1
	for i, p := range r.m.Pieces {
		if p.Part.Shape == toy.Sphere || p.Part.Shape == toy.Rod {
			continue // a ball has no arris, and a dowel's ends follow the rest
		}
		if e := math.Max(said, allOver(p.Part)); e < least {
			least, at = e, i
		}
	}
	switch {
	case at < 0:
		f.Value, f.Says = want.Value, "there are only balls and dowels: no arris"
	case least == 0 && !r.underThree():
		f.Value, f.Says = want.Value, "arrises eased by "+r.len(want.Value)+" are taken for granted"
		f.Notes = append([]string{easeUnsaid + ": say ease, and the guide says it too"}, f.Notes...)
	default:
		f.Value = least
		f.Says = "every arris is eased by " + r.len(least)
		if f.Value < want.Value-easeShort {
			f.Verdict = Mind
			f.Says = "arrises are eased by only " + r.len(least)
			if least == 0 {
				f.Says = easeUnsaid
			}
			age := "3 years and up"
			if r.underThree() {
				age = "under 3 years"
			}
			f.Says += ": for " + age + " custom asks for " + r.len(want.Value)
			f.Places = r.someOf(least, said)
		}
		f.known, f.Margin = true, least-want.Value+easeShort
	}
	r.add(f)
	r.sharp(said)
}

// allOver returns by how much the work of a part eases every arris of it.
func allOver(p *toy.Part) (by float64) {
	for _, w := range p.Work {
		if a, ok := w.(toy.Arris); ok && len(a.Sides) == 0 {
			by = math.Max(by, a.By.MM())
		}
	}
	return by
}

// someOf names the first pieces of each part that are eased no more than that.
func (r *run) someOf(least, said float64) (out []Place) {
	const some = 5
	seen := map[*toy.Part]bool{}
	for i, p := range r.m.Pieces {
		if seen[p.Part] || p.Part.Shape == toy.Sphere || p.Part.Shape == toy.Rod || math.Max(said, allOver(p.Part)) > least {
			continue
		}
		seen[p.Part] = true
		if len(out) < some {
			out = append(out, r.place(i, "", p.Body.Bounds().Center(), source0))
		}
	}
	return out
}

// sharp looks for points and knife edges on pieces that nothing is said to ease.
func (r *run) sharp(said float64) {
	if r.m.Toy.Ages.FromMonths >= eightYears {
		return
	}
	type key struct {
		made *assembly.Made
		what string
	}
	done := map[key]bool{}
	for i, p := range r.m.Pieces {
		if p.Part.Shape == toy.Sphere || math.Max(said, allOver(p.Part)) >= pointRound {
			continue
		}
		k := assembly.Keep(p.Made, ofCorners{}, func() *corners { return cornersOf(p.Made.Filled) })
		hardness := r.crush(p)
		for _, c := range k.points {
			if done[key{p.Made, "point"}] {
				break
			}
			reach := pointGauge(c.ways, hardness)
			tip, out := p.Pose.Point(c.at), p.Pose.Dir(c.out)
			if reach <= pointReach || !r.touchable(i, tip, out) {
				continue
			}
			done[key{p.Made, "point"}] = true
			r.add(Finding{Check: "child.edges", About: p.ID + " (point)", Verdict: Fails, Value: reach, Unit: "mm", Limit: pointReach, LimitOp: "<=", Source: pointSource,
				Says:  fmt.Sprintf("%s has a sharp point: it reaches %s into the gauge; round it by %s, or say ease", p.ID, inMM(reach), inMM(pointRound)),
				Notes: []string{screening}, Places: []Place{r.place(i, "", tip, source0)}})
		}
		for _, e := range k.keen {
			if done[key{p.Made, "keen"}] {
				break
			}
			mid, out := p.Pose.Point(e.at), p.Pose.Dir(e.out)
			if !r.touchable(i, mid, out) {
				continue
			}
			done[key{p.Made, "keen"}] = true
			r.add(Finding{Check: "child.edges", About: p.ID + " (arris)", Verdict: Mind, Value: degrees(e.angle), Unit: "degree", Limit: degrees(keen), Source: practice,
				Says:  fmt.Sprintf("%s has an arris of only %s and nothing is said to ease it", p.ID, r.deg(e.angle)),
				Notes: []string{screening}, Places: []Place{r.place(i, "", mid, source0)}})
		}
	}
}

// eightYears is the age up to which the limits for points and edges reach:
// 16 CFR 1500.48 and 1500.49.
const eightYears = 96

// touchable tells whether a fingertip has room to touch p from outside along out.
func (r *run) touchable(piece int, p, out r3.Vec) bool {
	tip := probeSmall / 2
	if !r.underThree() {
		tip = probeLarge / 2
	}
	c := p.Add(out.Scale(tip))
	const dot = 1e-3 // a body must have a size
	d := r3.Vec{X: dot, Y: dot, Z: dot}
	ball := solid.NewBody([]solid.Convex{solid.Box(c.Sub(d), c.Add(d), [6]int32{1, 1, 1, 1, 1, 1})})
	for j, q := range r.m.Pieces {
		if q.Body.Bounds().Distance(ball.Bounds()) > tip {
			continue
		}
		allow := tol.Touch
		if j == piece {
			allow = tip / 10 // out is a direction between faces, not square to each
		}
		if solid.Distance(ball, q.Body, tip).D < tip-allow-2*dot {
			return false
		}
	}
	return true
}

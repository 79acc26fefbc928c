package prove

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/geom/r3"
	"dryfit/measure/source"
	"dryfit/prove/strength"
	"dryfit/toy"
)

// strength.joint: do dowels and glue lines carry the pulls, twists and presses of the
// tests for this age? Every way in which a rigid body comes apart is pulled and twisted
// (joint_cuts.go), and every axle, pin and peg is bent (joint_rods.go).

const (
	// gripLength is how much a thumb and a finger need to hold on to: 1/4 in (common
	// practice, no source).
	gripLength = 25.4 / 4
	// handSpan is the widest thing that a small hand goes round: 2 in (common practice,
	// no source).
	handSpan = 2 * 25.4
	handbook = "USDA FPL-GTR-190 Wood Handbook, chapter 5 (means)"
)

var jointCheck = Check{
	ID: "strength.joint", Asks: "do dowels and glue lines carry the pulls, twists and presses of this age?", run: joints,
	How: "Each piece, and all that hangs on each joint, is pulled off its faces and along its dowels, and twisted where a hand goes round it: glue by its area and the grain on both sides (end grain counts a quarter, wood in the way holds), dowels by the glue round them. Axles are bent by a pull sideways on the outer wheel and by a press on the body, pins by a pull on what they draw, pegs by a pull at their end, rods held on both sides by one in the middle. What stands on one flat of glue is minded if the same pull at its end levers it off. Drops are not computed: only a test decides.",
	Limits: []Limit{
		{"pull, twist and press", "the greatest that the tests of this age ask", "16 CFR 1500.51 to 53, ISO 8124-1; under three years EN 71-1 too"},
		{"strengths", "means of clear wood at 12 % moisture", "USDA FPL-GTR-190 Wood Handbook, tables 5-3 and 5-5"},
		{"bending has to hold the load", times(strength.NeedBend), "the weakest piece in twenty (table 5-6) with grain that runs out 1 in 8 (table 5-12, from memory)"},
		{"shear has to hold the load", times(strength.NeedShear), "the weakest piece in twenty (table 5-6)"},
		{"glue has to hold the load", times(strength.NeedGlue), "common practice, no source"},
		{"glue round a dowel carries", "500 lbf/in², in soft wood less", "common practice, no source (500 to 1000)"},
		{"glue on end grain counts", share(strength.EndGrain), "USDA FPL-GTR-190 Wood Handbook, chapter 10, from memory"},
		{"glue holds as a lever at least", times(leverLeast), "common practice, no source"},
		{"a hand goes round what is no wider than", inMM(handSpan), "common practice, no source"},
	},
}

// judged is one joint or rod under its worst load.
type judged struct {
	about, says string // "wheel-1 on axle-1", "holds a pull of 70 N"
	f           factor
	told        bool // else the strength of a wood is not known
	off         []int
	from        []int // what it comes off
	source      string
	mend        string // what to change if it does not hold
	notes       []string
	at          Place
	ways        []float64 // how far it is above what it needs in each way that it may go, see spare; nil: in one
}

// joints makes the check.
func joints(r *run) {
	if r.w.built {
		r.builtJoints()
		r.levers()
		return
	}
	r.weakest("strength.joint", r.judged(), "there are no glued joints and no axles, pins or pegs")
	r.levers()
}

// weakest files what fails and what cannot be told, and one finding for all that holds.
func (r *run) weakest(check string, list []judged, none string) {
	f := Finding{Check: check, About: "toy", Verdict: Holds, Limit: 1, Source: handbook, Says: none, known: true, Margin: 1}
	best := -1
	list = worstOfEach(list)
	if r.w.built {
		for _, j := range list {
			r.add(r.builtStrength(check, j))
		}
		return
	}
	same := map[string][]string{}
	for _, j := range list {
		same[r.alike(j)] = append(same[r.alike(j)], j.about)
	}
	for k, j := range list {
		bad := !j.told || j.f.over() < 0
		if !bad && (best < 0 || j.f.over() < list[best].f.over()) {
			best = k
		}
		as := same[r.alike(j)]
		if !bad || as[0] != j.about {
			continue
		}
		if len(as) > 1 {
			j.notes = append(slices.Clone(j.notes), "just so: "+strings.Join(as[1:], ", "))
		}
		g := r.strengthOf(check, j)
		switch {
		case !j.told:
			g.Verdict = CannotTell
			g.Says = "cannot tell whether " + j.about + " holds: the tables have no strength for the wood"
		case r.beyond():
			g.Verdict = Mind
			g.Says += ": " + j.mend
		default:
			g.Verdict = Fails
			g.Says += ": " + j.mend
		}
		r.add(g)
	}
	if best >= 0 {
		f = r.strengthOf(check, list[best])
		f.About, f.Verdict = "toy", Holds
		f.Says = "the weakest, " + f.Says
	} else if len(list) > 0 {
		return
	}
	r.add(f)
}

// worstOfEach keeps of all judgements about one thing the worst, in the order of the first.
func worstOfEach(list []judged) (out []judged) {
	at := map[string]int{}
	for _, j := range list {
		if k, ok := at[j.about]; !ok {
			at[j.about] = len(out)
			out = append(out, j)
		} else {
			ways := slices.Concat(out[k].ways, j.ways)
			if j.worse(out[k]) {
				out[k] = j
			}
			out[k].ways = ways
		}
	}
	return out
}

func (r *run) strengthOf(check string, j judged) Finding {
	notes := j.notes
	if r.beyond() {
		notes = append(slices.Clone(notes), "no test asks this of toys from 8 years on: it is tried with the loads of those up to that age")
	}
	return Finding{Check: check, About: j.about, Value: j.f.is, Limit: j.f.need, Source: j.source + "; " + handbook,
		known: true, Margin: j.f.is - j.f.need, Says: fmt.Sprintf("%s, %s the load (%s needed)", j.says, times(j.f.is), times(j.f.need)), Notes: notes, Places: []Place{j.at}}
}

// alike is the same for joints of parts made alike that are as strong: they are told once.
func (r *run) alike(j judged) string {
	var names []string
	for _, i := range j.off {
		names = append(names, r.m.Pieces[i].Part.Name)
	}
	return fmt.Sprintf("%s %.4f", strings.Join(names, ","), j.f.is)
}

// judged judges every joint and rod once.
func (r *run) judged() []judged {
	return r.w.joints.get(r.judge)
}

func (r *run) judge() []judged { return r.axles(r.pins(r.rails(r.pegs(r.pullsAndTwists(nil))))) }

// pullsAndTwists judges every cut in its weakest way.
func (r *run) pullsAndTwists(out []judged) []judged {
	l := r.loads()
	for _, c := range r.cuts() {
		only := r.m.Pieces[c.off[0]].Part.Shape
		rod := len(c.off) == 1 && only == toy.Rod && len(c.bonds[0].fits) > 0
		smooth := rod || len(c.off) == 1 && only == toy.Sphere // turns in the fingers
		if rod && (r.isAxle(c.off[0]) || r.proud(c.off[0]) < gripLength) {
			continue // nothing to hold it by
		}
		box := r3.EmptyBox()
		for _, i := range c.off {
			box = box.Union(r.m.Pieces[i].Body.Bounds())
		}
		s := box.Size()
		pull := l.pullOn(math.Max(s.X, math.Max(s.Y, s.Z)))
		worst := judged{about: r.onWhat(c), off: c.off, from: c.from, told: true, f: factor{math.Inf(1), 1}, at: r.atCut(c)}
		try := func(k capacity, load load, says string, told bool) {
			if f := k.against(load.N); !told || worst.told && f.over() < worst.f.over() {
				worst.f, worst.source, worst.told, worst.says = f, load.From, told, worst.about+" "+says
			}
		}
		for _, d := range r.ways(c) {
			if k, ok, told := r.pulled(c, d); ok {
				try(k, pull, "holds a pull of "+r.force(pull.N)+" "+r.wayOf(d), told)
			}
		}
		if k, ok, told := r.twisted(c); ok && !smooth {
			try(k, l.twist, "holds a twist of "+r.twisting(l.twist.N), told)
		}
		if !math.IsInf(worst.f.is, 1) || !worst.told {
			worst.mend = r.glueMend(c)
			worst.notes = r.woodNotes(append(r.glueNotes(c), "pulled straight off, not levered off"), c)
			out = append(out, worst)
		}
	}
	return out
}

// extent returns how far pieces reach along a direction.
func (r *run) extent(ids []int, d r3.Vec) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, i := range ids {
		b := r.m.Pieces[i].Body
		lo, hi = math.Min(lo, b.Support(d.Neg()).Dot(d)), math.Max(hi, b.Support(d).Dot(d))
	}
	return lo, hi
}

// onWhat names a joint: what comes off, and what it is glued to first.
func (r *run) onWhat(c cut) string { return r.thing(c.off) + " on " + r.m.Pieces[c.bonds[0].b].ID }

// atCut is where the first glue of a cut is.
func (r *run) atCut(c cut) Place {
	b := c.bonds[0]
	if len(b.patches) > 0 {
		return r.place(b.a, "", b.patches[0].at, source.Range{})
	}
	f := b.fits[0]
	p, dir, _ := r.m.Pieces[f.Rod].Axis()
	return r.place(f.Piece, r.m.Pieces[f.Piece].Made.Bores[f.Bore].Name, r.middle(f, p, dir), f.At)
}

// wayOf names a direction: along an axis of the world, or off the joint.
func (r *run) wayOf(d r3.Vec) string {
	for k, w := range []string{"forward", "to the left", "up"} {
		back := []string{"back", "to the right", "down"}[k]
		if d.At(k) > 1-lying {
			return w
		} else if d.At(k) < lying-1 {
			return back
		}
	}
	return "off it"
}

// glueNotes says how much glue there is.
func (r *run) glueNotes(c cut) []string {
	var area, in float64
	for _, b := range c.bonds {
		for _, p := range b.patches {
			area += p.area
		}
		for _, f := range b.fits {
			l, _, _ := r.dowelGlue(f)
			in += l
		}
	}
	var out []string
	if area > 0 {
		out = append(out, r.area(area)+" of glued face")
	}
	if in > 0 {
		out = append(out, r.len(in)+" of glued dowel")
	}
	return out
}

// glueMend says what would make a joint hold.
func (r *run) glueMend(c cut) string {
	faces, thin, end := false, false, false
	for _, b := range c.bonds {
		for _, p := range b.patches {
			faces = true
			thin = thin || p.pts == nil
			for _, i := range []int{b.a, b.b} {
				w, _ := r.carries(i)
				grain, _ := r.cosines(i, p.n)
				end = end || !w.Layered && grain > lying
			}
		}
	}
	switch {
	case thin:
		return "it touches only along a line or in a spot: make it a flat or a cup to lie in, or put a dowel in"
	case end:
		return "glue holds little on end grain: put a dowel in, turn the grain, or let it in"
	case faces:
		return "give it more face to glue, or put a dowel in"
	}
	return "let the dowel in deeper, or take a thicker one"
}

// woodNotes adds what was assumed of the woods of a cut.
func (r *run) woodNotes(notes []string, c cut) []string {
	for _, b := range c.bonds {
		for _, i := range []int{b.a, b.b} {
			if w, ok := r.carries(i); ok {
				for _, n := range w.Notes {
					if !slices.Contains(notes, n) {
						notes = append(notes, n)
					}
				}
			}
		}
	}
	return notes
}

// proud is how far a rod stands out of the wood at its longer end.
func (r *run) proud(rod int) float64 {
	c, dir, _ := r.m.Pieces[rod].Axis()
	half := r.m.Pieces[rod].Made.Size.X / 2
	lo, hi := half, -half
	for _, f := range r.m.Fits {
		if f.Rod == rod {
			l, h := r.wood(f, c, dir)
			lo, hi = math.Min(lo, l), math.Max(hi, h)
		}
	}
	return math.Max(0, math.Max(lo+half, half-hi))
}

package prove

import (
	"fmt"
	"math"
	"slices"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure/source"
	"dryfit/prove/strength"
	"dryfit/toy"
)

// strength.grain: short grain, weak necks, thin webs. What glue has made one is swept by
// planes square to the axes of its pieces. On every limb beyond a plane a hand pulls, at
// its end, along it and sideways; the section has to carry that, wood across its grain
// with what it carries across.

var grainCheck = Check{
	ID: "strength.grain", Asks: "does a neck, a web or short grain break?", run: grain, Slow: true, heavy: true,
	How: "Everything that is glued together is swept by planes along the axes of its pieces. What a plane parts off is pulled at its end, along and sideways; the wood cut by the plane bends as one, each piece with its strength at the angle of its grain (short grain with its tension across). (A press between the axles bends it less than the pull at its half length.) Beside axles and pins the wood out to the edge is split or torn out. Rods and what is on axles are judged by strength.joint. Drops are not computed: only a test decides.",
	Limits: []Limit{
		{"pull and press", "the greatest that the tests of this age ask", "16 CFR 1500.51 to 53, ISO 8124-1; under three years EN 71-1 too"},
		{"strengths", "means of clear wood at 12 % moisture", "USDA FPL-GTR-190 Wood Handbook, tables 5-3 and 5-5; between along and across by Hankinson, chapter 5"},
		{"along the grain it has to hold the load", times(strength.NeedBend), "the weakest piece in twenty (table 5-6) with grain that runs out 1 in 8 (table 5-12, from memory)"},
		{"across the grain it has to hold the load", times(strength.NeedAcross), "the weakest piece in twenty (table 5-6)"},
		{"plywood counts as", "layers of birch, half of them each way", "common practice, no source"},
		{"a hand holds on to the last", inMM(gripLength), "common practice, no source"},
	},
}

// planes is how many planes sweep the length of a lump beside those at its steps and holes.
const planes = 32

// closer is into how many steps the neighbourhood of the weakest plane is parted.
const closer = 8

func grain(r *run) {
	var list []judged
	axle := map[int]bool{}
	for _, a := range r.m.Axles {
		axle[a.Rod] = true
	}
	lumps := [][]int(nil)
	if r.wantsAny("strength.grain", r.all()) {
		lumps = r.bonded()
	}
	for _, ids := range lumps {
		wheels := slices.ContainsFunc(ids, func(i int) bool { return axle[i] }) // joint judges them
		round := !slices.ContainsFunc(ids, func(i int) bool { return r.flatSided(i) })
		if wheels && !slices.ContainsFunc(ids, func(i int) bool { return r.m.Pieces[i].Part.Shape == toy.Block }) || round {
			continue
		}
		if r.wantsAny("strength.grain", ids) {
			list = append(list, r.sweptOnce(ids)...)
		}
	}
	list = r.webs(list)
	r.weakest("strength.grain", list, "there is nothing to break but rods and wheels")
}

// flatSided tells whether a piece is neither a rod nor a ball.
func (r *run) flatSided(i int) bool {
	s := r.m.Pieces[i].Part.Shape
	return s != toy.Rod && s != toy.Sphere
}

// swept judges the weakest section of a lump along each of its directions, and of every
// piece that fails.
func (r *run) swept(ids []int) (out []judged) {
	l := r.lump(ids)
	for _, d := range r.directions(ids) {
		lo, hi := l.along(d)
		if hi-lo < 2*gripLength {
			continue
		}
		levels := r.levels(l, d, lo, hi)
		best, at := judged{f: factor{math.Inf(1), 1}, told: true}, -1
		for k, t := range levels {
			j, ok := r.atPlane(l, d, t)
			if ok && j.f.over() < 0 {
				out = append(out, j)
			}
			if ok && j.worse(best) {
				best, at = j, k
			}
		}
		if at < 0 {
			continue
		}
		// closer, between the planes on both sides
		a, b := levels[max(0, at-1)], levels[min(len(levels)-1, at+1)]
		for k := 1; k < closer; k++ {
			t := a + float64((b-a)*float64(k))/closer
			if j, ok := r.atPlane(l, d, t); ok && j.worse(best) {
				best = j
			}
		}
		out = append(out, best)
	}
	return out
}

// worse tells whether a judgement is worse than another.
func (j judged) worse(than judged) bool {
	if j.told != than.told {
		return !j.told
	}
	return j.f.over() < than.f.over()
}

// directions lists the axes of the blanks of pieces, each once.
func (r *run) directions(ids []int) (out []r3.Vec) {
	for _, i := range ids {
		if !r.flatSided(i) {
			continue
		}
		p := r.m.Pieces[i].Pose
		for _, d := range []r3.Vec{p.U, p.V, p.W} {
			if !slices.ContainsFunc(out, func(e r3.Vec) bool { return math.Abs(e.Dot(d)) > 1-tol.Clip }) {
				out = append(out, d)
			}
		}
	}
	return out
}

// levels lists where planes are laid: evenly, just beside every face that lies square to
// the sweep, and through every hole.
func (r *run) levels(l *lump, d r3.Vec, lo, hi float64) (out []float64) {
	for k := 1; k < planes; k++ {
		out = append(out, lo+float64((hi-lo)*float64(k))/planes)
	}
	for i := range l.chunks {
		for _, f := range l.chunks[i].c.Faces {
			if math.Abs(f.Plane.N.Dot(d)) > 1-tol.Clip {
				x := l.chunks[i].c.V[f.Loop[0]].Dot(d)
				out = append(out, x-tol.Chord, x+tol.Chord)
			}
		}
	}
	for _, i := range l.ids {
		p := r.m.Pieces[i]
		for k := range p.Made.Bores {
			if b := p.Bore(k); math.Abs(b.Dir.Dot(d)) < lying {
				out = append(out, b.Point.Dot(d))
			}
		}
	}
	slices.Sort(out)
	var kept []float64
	for _, x := range out {
		if x > lo+tol.Touch && x < hi-tol.Touch && (len(kept) == 0 || x > kept[len(kept)-1]+tol.Chord/2) {
			kept = append(kept, x)
		}
	}
	return kept
}

// atPlane judges the weakest limb at a plane. ok is false where there is none to hold on to.
func (r *run) atPlane(l *lump, d r3.Vec, t float64) (worst judged, ok bool) {
	load := r.loads()
	worst = judged{f: factor{math.Inf(1), 1}, told: true}
	t = l.between(t)
	for side, above := range []bool{true, false} {
		for _, m := range l.limbs(t, above) {
			if m.reach < gripLength || m.volume > l.volume/2 || !slices.ContainsFunc(m.cut, func(i int) bool { return r.flatSided(l.chunks[i].piece) }) {
				continue
			}
			s := r.sectionOf(l, m.cut, d, t)
			arm := m.reach - gripLength/2
			j := judged{f: s.bends(strength.Cantilever(load.pull.N, arm), load.pull.N), told: s.told, source: load.pull.From}
			if ok && !j.worse(worst) {
				continue
			}
			worst, ok = j, true
			way := d
			if side == 1 {
				way = d.Neg()
			}
			r.saySection(&worst, l, m.cut, s, fmt.Sprintf("holds a pull of %s at its end, %s %s", r.force(load.pull.N), r.about(m.reach), r.wayOn(way)))
		}
	}
	return worst, ok
}

// runsThrough is the cosine of the grain to a section from which on grain counts as running
// through it, 26 degrees: beyond that the usual woods have less than a third of their strength
// along (Hankinson).
const runsThrough = 0.9

// saySection words a judgement about a section: the piece of which most is cut, where, and
// how its grain runs.
func (r *run) saySection(j *judged, l *lump, cut []int, s section, says string) {
	big, most := l.chunks[cut[0]].piece, 0.0
	by := map[int]float64{}
	for _, i := range cut {
		c := &l.chunks[i]
		if by[c.piece] += c.volume; by[c.piece] > most {
			big, most = c.piece, by[c.piece]
		}
	}
	var mid r3.Vec
	for _, c := range s.corners {
		mid = mid.Add(c)
	}
	mid = mid.Scale(1 / float64(len(s.corners)))
	p := r.m.Pieces[big]
	j.about = p.ID
	j.says = p.ID + " " + says
	grain, _ := r.cosines(big, s.u.Cross(s.v))
	w, _ := r.carries(big)
	j.mend = "make it thicker, or shorter"
	cutThere := "cut there: " + r.area(s.area)
	switch {
	case w.Layered:
	case grain > runsThrough:
		cutThere += ", the grain runs through it"
	default:
		cutThere += " of short grain"
		j.mend = "turn the grain along it, or make it thicker"
		if p.Part.Shape == toy.Disc { // round: its grain is short somewhere, however it is turned
			j.mend = "make it thicker, or of plywood"
		}
	}
	j.notes = append(j.notes, cutThere)
	for _, i := range cut {
		if v, ok := r.carries(l.chunks[i].piece); ok {
			for _, n := range v.Notes {
				if !slices.Contains(j.notes, n) {
					j.notes = append(j.notes, n)
				}
			}
		}
	}
	j.at = r.place(big, "", mid, source.Range{})
}

// wayOn says towards where a limb reaches.
func (r *run) wayOn(d r3.Vec) string {
	if w := r.wayOf(d); w != "off it" {
		return "farther " + w
	}
	return "farther out"
}

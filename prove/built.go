package prove

import (
	"math"
	"slices"
	"sync"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// Virtual builds: the same checks, of a model that is built with a builder's errors from one as drawn.
// What a drawing says exactly, wood does only nearly, and a builder sees to that as a matter of
// course: faces that touch as drawn are fitted to each other by hand. So what touches as drawn may be
// off by handFit in a build where the drawing allows tol.Touch; all else is judged as in a proof, and
// for every pair of pieces that are near each other there is a finding of its own, whose margin goes
// on through nought as they part or meet.

const (
	// handFit is how far faces that touch as drawn may be off before a builder has more to do than to
	// pare or sand them to each other: 1/32 in (common practice, no source).
	handFit = 25.4 / 32
	// nearBuilt is how far apart as drawn two pieces are still looked at in a build: no error of a
	// builder reaches further.
	nearBuilt = 3.0
)

// near is a pair of pieces that errors may bring into each other.
type near struct {
	i, j    int
	touches bool    // as drawn
	faces   []meets // that touch
}

// nearOf lists the pairs of a model as drawn.
func nearOf(r *run) (out []near) {
	for i, p := range r.m.Pieces {
		for j := i + 1; j < len(r.m.Pieces); j++ {
			q := r.m.Pieces[j]
			if !p.Body.Bounds().Grow(nearBuilt).Meets(q.Body.Bounds()) {
				continue
			}
			a, b := r.apart(i, j)
			if a.Empty() || b.Empty() {
				continue
			}
			if d := solid.Distance(a, b, nearBuilt).D; d <= tol.Touch {
				out = append(out, near{i, j, true, r.meetsOf(i, j)})
			} else if d < nearBuilt {
				out = append(out, near{i: i, j: j})
			}
		}
	}
	return out
}

// Built returns the proof of a build of a model as drawn (assembly.Options.Drawn), of which drawn is
// the proof.
func Built(m *assembly.Model, drawn *Proof) *Proof {
	p := Of(m)
	p.w.near = drawn.w.nears.get(func() []near { return nearOf(&run{m: drawn.m, w: drawn.w}) })
	p.w.built, p.w.drawn, p.w.touch = true, drawn.w, map[[2]int]bool{}
	for _, n := range p.w.near {
		if n.touches {
			p.w.touch[[2]int{n.i, n.j}] = true
		}
	}
	return p
}

// Make makes the checks of these ids on the model as it is, waivers not applied. wants names the
// findings that are asked for, by check and what they are about: others may be left out where they are
// dear. Nil asks for all.
func (p *Proof) Make(ids []string, wants func(check, about string) bool) []Finding {
	var out []Finding
	for i := range Checks {
		if chosen(ids, Checks[i].ID) {
			r := &run{m: p.m, w: p.w, wanted: wants}
			Checks[i].run(r)
			out = append(out, r.findings...)
		}
	}
	return out
}

// wants tells whether a finding is asked for.
func (r *run) wants(check, about string) bool { return r.wanted == nil || r.wanted(check, about) }

// wantsAny tells whether a finding about one of some pieces is asked for.
func (r *run) wantsAny(check string, ids []int) bool {
	return slices.ContainsFunc(ids, func(i int) bool { return r.wants(check, r.m.Pieces[i].ID) })
}

// deep is how far one of two pieces may go into the other before it counts as stopped by it: faces
// that touch as drawn run on each other once they are fitted, and where they are too far in each
// other for that, fit.overlap says so already.
func (r *run) deep(i, j int) float64 {
	if !r.w.touch[[2]int{min(i, j), max(i, j)}] {
		return tol.Touch
	}
	return handFit + r.w.entered.of([2]int{min(i, j), max(i, j)}, func() float64 { return r.entered(i, j) })
}

// entered is how deep two pieces are in each other.
func (r *run) entered(i, j int) float64 {
	a, b := r.apart(min(i, j), max(i, j))
	if !solid.Penetrates(a, b, tol.Touch) {
		return 0
	}
	return solid.Overlap(a, b).Depth
}

// depths keeps what was found of pairs; checks that run side by side may ask.
type depths struct {
	mu  sync.Mutex
	has map[[2]int]float64
}

func (d *depths) of(pair [2]int, find func() float64) float64 {
	d.mu.Lock()
	defer d.mu.Unlock()
	if deep, ok := d.has[pair]; ok {
		return deep
	}
	if d.has == nil {
		d.has = map[[2]int]float64{}
	}
	d.has[pair] = find()
	return d.has[pair]
}

// builtOverlap is fit.overlap of a build.
func (r *run) builtOverlap() {
	for _, n := range r.w.near {
		if r.turnsBeside(n.i, n.j) || !r.wants("fit.overlap", r.m.Pieces[n.i].ID+"~"+r.m.Pieces[n.j].ID) {
			continue
		}
		f := Finding{Check: "fit.overlap", About: r.m.Pieces[n.i].ID + "~" + r.m.Pieces[n.j].ID, Unit: "mm", Limit: tol.Touch, LimitOp: "<=", Source: practice}
		if n.touches {
			f.Limit = handFit
			f.Value, f.Parts = r.lying(n)
		} else {
			gap := math.Min(nearBuilt, solid.Distance(r.m.Pieces[n.i].Body, r.m.Pieces[n.j].Body, nearBuilt).D)
			if gap <= tol.Touch {
				gap = r.clearOf(n)
			}
			f.Value = -gap
		}
		if f.Value > f.Limit {
			f.Verdict = Fails
		}
		r.add(f)
	}
}

// clearOf is how far two pieces are apart whose round holes are to be thought of: one of them may be in
// a hole of the other. It is negative where they are in each other.
func (r *run) clearOf(n near) float64 {
	a, b := r.apart(n.i, n.j)
	if a.Empty() || b.Empty() {
		return nearBuilt
	}
	if gap := solid.Distance(a, b, nearBuilt).D; gap > tol.Touch {
		return math.Min(gap, nearBuilt)
	}
	return -r.w.entered.of([2]int{n.i, n.j}, func() float64 { return r.entered(n.i, n.j) })
}

// turnsBeside tells whether one of two pieces is a wheel and the other is not on its axle: how far it
// clears that is for move.wheels and fit.reach.
func (r *run) turnsBeside(i, j int) bool {
	for _, a := range r.m.Axles {
		on := func(k int) bool { return slices.Contains(a.Wheels[0], k) || slices.Contains(a.Wheels[1], k) }
		if on(i) && !on(j) && j != a.Rod || on(j) && !on(i) && i != a.Rod {
			return true
		}
	}
	return false
}

// builtContact is fit.contact of a build: faces that are to be glued come so near that glue, or what
// a builder takes off where they meet first, closes the gap. How much they overlap hardly changes.
func (r *run) builtContact() {
	for _, g := range r.m.Glues {
		gap := farGap
		for _, i := range g.A {
			for _, j := range g.B {
				gap = math.Min(gap, solid.Distance(r.m.Pieces[i].Body, r.m.Pieces[j].Body, gap).D)
			}
		}
		f := Finding{Check: "fit.contact", About: r.thing(g.A) + "~" + r.thing(g.B), Value: gap, Unit: "mm", Limit: assembly.GlueMost + handFit, LimitOp: "<=", Source: practice}
		if gap > f.Limit {
			f.Verdict = Fails
		}
		r.add(f)
	}
}

// builtCars is move.ground of a build whose cars each stand on wheels of their own: what they are
// coupled by carries nothing, so one that is built a little higher or lower than its neighbour stands
// as well. ok is false where some car leans on another.
func (r *run) builtCars() (ok bool) {
	cars := r.cars()
	if len(cars) < 2 {
		return false
	}
	var stands []support
	for _, ids := range cars {
		_, c := r.massOf(ids)
		s := r.stand(ids, c)
		if !s.wheels || !s.ok {
			return false
		}
		stands = append(stands, s)
	}
	for k, s := range stands {
		from := len(r.findings)
		r.touchFloor(s, false)
		r.clearFloorOf(s, cars[k], r.must(toy.MustClear))
		for i := range r.findings[from:] {
			f := &r.findings[from+i]
			f.About += " of the car of " + r.m.Pieces[cars[k][0]].ID
			f.ID = f.Check + ":" + f.About
		}
	}
	r.trackStraight(r.must(toy.MustRoll))
	return true
}

// glueLine says how thick the glue round dowels is taken to be.
type glueLine int

const (
	asItIs glueLine = iota
	thinEverywhere
	thickEverywhere
)

// builtJoints is strength.joint of a build. What a joint carries drops at once where the glue round a
// dowel gets thick, so it has two parts that do not: what it carries with thin glue, and, where it
// fails with thick glue, how far its dowels are from that.
func (r *run) builtJoints() {
	by := func(g glueLine) map[string]judged {
		out := map[string]judged{}
		for _, j := range worstOfEach((&run{m: r.m, w: r.w, glue: g}).judge()) {
			out[j.about] = j
		}
		return out
	}
	thin, thick := by(thinEverywhere), by(thickEverywhere)
	for _, j := range worstOfEach(r.judged()) {
		f := r.builtStrength("strength.joint", j)
		f.Parts = []float64{spare(thin[j.about].f), 1}
		if thick[j.about].f.over() < 0 {
			for _, fit := range r.m.Fits {
				if fit.Kind == assembly.Glued && (slices.Contains(j.off, fit.Rod) || slices.Contains(j.off, fit.Piece)) {
					f.Parts[1] = math.Min(f.Parts[1], assembly.GlueMost-r.m.Slack(fit))
				}
			}
		}
		r.add(f)
	}
}

// spare is how far what is carried is above what has to be: their difference over their sum, which is
// the hyperbolic tangent of half the logarithm of their ratio. Strengths are products of sizes, so small
// errors of these add up in it, and what carries many times the load is as good as what carries more.
func spare(f factor) float64 {
	if math.IsInf(f.is, 1) {
		return 1
	}
	return (f.is - f.need) / (f.is + f.need)
}

// builtStrength is one judgement of a joint or a section, in a build.
func (r *run) builtStrength(check string, j judged) Finding {
	f := r.strengthOf(check, j)
	if f.Parts = j.ways; len(f.Parts) == 0 {
		f.Parts = []float64{spare(j.f)}
	}
	switch {
	case !j.told:
		f.Verdict = CannotTell
	case j.f.over() < 0 && r.beyond():
		f.Verdict = Mind
	case j.f.over() < 0:
		f.Verdict = Fails
	}
	return f
}

// builtRoom is what a year's damp leaves of one clearance, in a build.
func builtRoom(x room) Finding {
	f := Finding{Check: "wood.season", About: x.about, Value: x.left, Unit: "mm", Source: seasonTable, known: true, Margin: x.sure - tol.Touch}
	switch {
	case x.sure <= tol.Touch:
		f.Verdict = Fails
	case x.left <= tol.Touch:
		f.Verdict = Mind
	}
	return f
}

// rock is by how much one of four wheels hangs when the others stand, whichever that is: a toy that
// rests across the corners rocks by it. It is positive where one pair of corners is high and negative
// where the other is. ok is false where there are not four wheels.
func (s support) rock(wheels []int) (most float64, ok bool) {
	if len(wheels) != 4 {
		return 0, false
	}
	var low [4]r3.Vec
	for k, w := range wheels {
		first := true
		for _, p := range s.points {
			if p.piece == w && (first || s.height(p.at) < s.height(low[k])) {
				low[k], first = p.at, false
			}
		}
	}
	six := low[1].Sub(low[0]).Cross(low[2].Sub(low[0])).Dot(low[3].Sub(low[0])) // times the volume between them
	for k := range low {
		a, b, c := low[(k+1)%4], low[(k+2)%4], low[(k+3)%4]
		area := b.Sub(a).Cross(c.Sub(a)).Len()
		if area < minTriangle {
			return 0, false
		}
		if h := six / area; math.Abs(h) > math.Abs(most) {
			most = h
		}
	}
	return most, true
}

// levelled is a support as it counts for balance in a build: all wheels carry, each as its fit and the
// couplings let it, and what stands on its wood stands on all of the face that it was to stand on.
func (s support) levelled() support {
	s.n = r3.Z
	for _, p := range s.points {
		if p.at.Z < s.at.Z {
			s.at = p.at
		}
	}
	return s
}

// flatFoot is how far above the lowest of it wood still stands on the floor: a builder takes off what
// makes a toy rock.
func (r *run) flatFoot() float64 {
	if r.w.built {
		return nearBuilt
	}
	return tol.Touch
}

// onOneAxle tells whether what has wheels has no more than one axle to stand on.
func (r *run) onOneAxle(ids []int) bool {
	n := 0
	for _, a := range r.m.Axles {
		if slices.Contains(ids, a.Rod) {
			n++
		}
	}
	return n == 1
}

// sweptOnce is swept. Of a lump that is in a build as it is drawn it is worked out once for all builds.
func (r *run) sweptOnce(ids []int) []judged {
	if !r.w.built || !r.asDrawn(ids) {
		return r.swept(ids)
	}
	of := r.w.drawn
	of.mu.Lock()
	if of.lumps == nil {
		of.lumps = map[int]*kept[[]judged]{}
	}
	if of.lumps[ids[0]] == nil {
		of.lumps[ids[0]] = &kept[[]judged]{}
	}
	k := of.lumps[ids[0]]
	of.mu.Unlock()
	return k.get(func() []judged { return (&run{m: of.m, w: of}).swept(ids) })
}

// asDrawn tells whether pieces are the solids that are drawn, and lie to each other as drawn.
func (r *run) asDrawn(ids []int) bool {
	first, was := r.m.Pieces[ids[0]].Pose.Inverse(), r.m.Drawn.Pieces[ids[0]].Pose.Inverse()
	for _, i := range ids {
		p, q := r.m.Pieces[i], r.m.Drawn.Pieces[i]
		if p.Made != q.Made || !p.Pose.Then(first).Near(q.Pose.Then(was), tol.Clip) {
			return false
		}
	}
	return true
}

// nearHole is how far from a size that traps a finger a hole is still looked at in a build.
const nearHole = 1.5

// builtHole is child.holes of one drilled hole in a build: it holds by whatever lets a finger out with
// most to spare. tip is the thickness of fingertips.
func (r *run) builtHole(piece, bore int, tip float64) {
	p, deep := r.m.Pieces[piece], facts.Child(facts.HoleDepth).Value
	d := 2 * p.Made.Bores[bore].R
	drawn := 2 * r.m.Drawn.Pieces[piece].Made.Bores[bore].R
	if drawn < facts.Child(facts.HoleRod).Value-nearHole || drawn < tip-nearHole || drawn > holeWide+nearHole {
		return
	}
	name := r.m.Name(assembly.Hole{Piece: piece, Bore: bore})
	if !r.wants("child.holes", name) {
		return
	}
	m, ok := r.deepest(piece, bore)
	in := 0.0
	if ok && m.wall > deep-nearHole && !r.slips(p.Bore(bore), m, false) {
		in = m.wall
	}
	f := Finding{Check: "child.holes", About: name, Value: in, Unit: "mm", Limit: deep, LimitOp: "<=", Source: roundCustom, known: true,
		Parts: []float64{deep - in, facts.Child(facts.HoleRod).Value - d, tip - d, d - holeWide}, Any: true}
	f.Margin = slices.Max(f.Parts)
	if f.Margin < 0 {
		f.Verdict = Mind
	}
	r.add(f)
}

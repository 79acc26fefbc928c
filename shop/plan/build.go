package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/guide"
	"dryfit/toy"
)

// What is glued, put together, finished and checked: in lots.

// What is clamped in one place takes so many clamps, and no lot is larger than what hands keep apart.
// Common practice, no source.
const (
	clampsEach = 2
	mostGlued  = 10 // glue-ups in a lot
	mostToys   = 5  // toys in a lot
)

// most is how many of n things, each clamped in so many places, go in a lot, so that it fits in a
// session too.
func (l *line) most(n, usual, places int, minutes float64) int {
	most := min(n, usual)
	if l.clamps >= 0 && places > 0 {
		most = min(most, l.clamps/(clampsEach*places))
	}
	if l.session > 0 && minutes > 0 {
		most = min(most, int(l.session/minutes))
	}
	return max(1, most)
}

// clampsFor is how many clamps a lot of n holds, each clamped in so many places.
func (l *line) clampsFor(n, places int) int {
	if l.clamps < 0 || places == 0 {
		return 0
	}
	if l.clamps < clampsEach*places {
		l.note("a place that is clamped takes %d clamps, and some steps have several: rubber bands or weights have to do where there are fewer", clampsEach)
		return l.clamps
	}
	return clampsEach * places * n
}

// places is in how many places the joints of some moves are clamped: joints that lie over each
// other and are pressed along the same axis of the toy share their clamps.
func (l *line) places(moves []guide.Move) int {
	type joint struct {
		axis int // that it is pressed along; -1: none of the toy's
		box  [3][2]float64
	}
	var list []joint
	for _, m := range moves {
		if !m.Clamped {
			continue
		}
		for _, axis := range l.presses(m) {
			j := joint{axis: axis}
			box := r3.EmptyBox()
			for _, i := range m.Pieces {
				box = box.Union(l.m.Pieces[i].Body.Bounds())
			}
			j.box = [3][2]float64{{box.Min.X, box.Max.X}, {box.Min.Y, box.Max.Y}, {box.Min.Z, box.Max.Z}}
			shared := func(o joint) bool {
				for k := range 3 {
					if k != axis && (o.box[k][0] > j.box[k][1]-tol.Touch || o.box[k][1] < j.box[k][0]+tol.Touch) {
						return false
					}
				}
				return axis >= 0 && axis == o.axis
			}
			if !slices.ContainsFunc(list, shared) {
				list = append(list, j)
			}
		}
	}
	return len(list)
}

// presses are the axes that a clamped move is pressed along: across the largest face of each
// piece that it is glued to; -1 is one that is none of the toy's.
func (l *line) presses(m guide.Move) (axes []int) {
	in := func(list, all []int) bool {
		return slices.ContainsFunc(list, func(i int) bool { return slices.Contains(all, i) })
	}
	for _, g := range l.m.Glues {
		if !(in(g.A, m.Pieces) && in(g.B, m.Onto) || in(g.B, m.Pieces) && in(g.A, m.Onto)) {
			continue
		}
		axis, most := -1, 0.0
		for _, i := range g.A {
			for _, k := range g.B {
				for t := range assembly.Touches(l.m.Pieces[i].Body, l.m.Pieces[k].Body) {
					if t.Area > most {
						most = t.Area
						axis = slices.IndexFunc([]float64{t.A.N.X, t.A.N.Y, t.A.N.Z}, func(x float64) bool { return math.Abs(x) > 1-tol.Clip })
					}
				}
			}
		}
		if axis < 0 || !slices.Contains(axes, axis) {
			axes = append(axes, axis)
		}
	}
	if len(axes) == 0 {
		return []int{-1}
	}
	return axes
}

// lowerFirst makes a title of the guide go on in a sentence.
func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// glueUps is the step of gluing up all glue-ups of a kind.
func (l *line) glueUps(st guide.Step) {
	b := st.Bench
	var ready []int
	joints := 0
	steps := 0 // that glue up this kind
	for _, o := range l.steps(guide.GlueUps) {
		if o.Bench.GlueUp == b.GlueUp {
			steps++
		}
	}
	for _, m := range b.Moves {
		ready = append(ready, m.Pieces...)
		if len(m.Onto) > 0 {
			joints++
		}
	}
	units := 0
	for _, g := range l.m.GlueUps {
		if g.Spec.Name == b.GlueUp {
			units += l.job.Count
		}
	}
	before := l.glue[b.GlueUp] // what was glued up before in the same ones
	takes := float64(l.minutes["joint"]*float64(max(1, joints))) + l.minutes["clamping"]
	does := lowerFirst(l.title(st))
	if steps > 1 {
		does += ": " + l.names(b.Moves)
	}
	places := l.places(b.Moves)
	k := l.newKind(kind{ways: []each{{deeds: b.Deeds, each: takes}}, hold: l.minutes["glue-sets"], clamps: l.clampsFor(1, places)})
	var out flow
	for _, lot := range lots(units, l.most(units, min(mostGlued, l.toys*units/l.job.Count), places, takes)) {
		n := lot[1] - lot[0]
		from, to := float64(lot[0])/float64(units), float64(lot[1])/float64(units)
		o := op{job: l.j, step: l.step, does: does, clamps: l.clampsFor(n, places), hold: l.minutes["glue-sets"], kind: k}
		o.after = append(l.ready(ready, from, to), before.over(from, to)...)
		o.lot, o.what = lotOf(lot, units), "number"
		o.ways = []way{{deeds: b.Deeds, minutes: float64(takes * float64(n))}}
		out = append(out, stretch{from, to, l.add(o, float64(n))})
	}
	l.glue[b.GlueUp] = out
}

// names are the parts that some moves put, the first of a glue-up with them.
func (l *line) names(moves []guide.Move) string {
	var parts []string
	n := map[string]int{}
	for _, m := range moves {
		for _, i := range m.Pieces {
			name := l.m.Pieces[i].Part.Name
			if n[name]++; n[name] == 1 {
				parts = append(parts, name)
			}
		}
	}
	for k, name := range parts {
		parts[k] = guide.Counted(n[name], name)
	}
	return strings.Join(parts, ", ")
}

// title is what a step is called, for so many toys.
func (l *line) title(st guide.Step) string {
	switch b := st.Bench; {
	case l.job.Count > 1 && (b.Kind == guide.GlueUps || b.Kind == guide.Shaping):
		n := 0
		for _, g := range l.m.GlueUps {
			if g.Spec.Name == b.GlueUp {
				n += l.job.Count
			}
		}
		verb := "Glue up "
		if b.Kind == guide.Shaping {
			verb = "Shape "
		}
		return verb + guide.Counted(n, b.GlueUp)
	}
	return st.Title
}

// shaping is the work on what was glued up, once the glue is hard.
func (l *line) shaping(st guide.Step) {
	name := st.Bench.GlueUp
	var spec *toy.GlueUp
	n, face := 0, 0.0
	for _, g := range l.m.GlueUps {
		if g.Spec.Name != name {
			continue
		}
		n += l.job.Count
		if spec == nil {
			for _, i := range g.Pieces {
				face += faceOf(l.m.Pieces[i].Part) / 2
			}
		}
		spec = g.Spec
	}
	at := l.wait("the glue of the "+guide.Counted(n, name)+" gets hard", span{}, max(1, l.minutes["glue-hard"]-l.minutes["glue-sets"]), l.glue[name])
	flush := 0
	for _, w := range spec.Work {
		if _, ok := w.(toy.Flush); ok {
			flush++
		}
	}
	if flush > 0 {
		at = l.do("sand the "+guide.Counted(n, name)+" flush", loose(n), at, each{deeds: []string{"sand"}, each: float64(flush) * l.minutes["face"] * face / 1e4})
	}
	at = l.work(name, spec.Work, loose(n), true, at)
	edge := l.sawn(name, true)
	l.glue[name] = l.smooth(name, n, edge, face, 2*edge.all(), at)
}

// ready are the tasks after which some pieces can be put, in a stretch of the batch.
func (l *line) ready(pieces []int, from, to float64) (out []int) {
	for _, i := range pieces {
		for _, k := range l.part[l.m.Pieces[i].Part.Name].over(from, to) {
			if !slices.Contains(out, k) {
				out = append(out, k)
			}
		}
	}
	return out
}

// body is pieces of one toy of a lot that are together, and the task that was the last on them.
type body struct {
	pieces []int
	last   []int
	axle   int // the task of an axle that was the last; else -1
}

// building puts the toys together, lot by lot, and finishes and checks them.
func (l *line) building(steps []guide.Step) {
	each := make([]float64, len(steps))
	places := make([]int, len(steps))
	longest, mostPlaces := 0.0, 0
	for k, st := range steps {
		each[k], places[k] = l.moves(st), l.places(st.Bench.Moves)
		longest, mostPlaces = max(longest, each[k]), max(mostPlaces, places[k])
	}
	n := l.job.Count
	defer func() { l.lot = nil }()
	first := l.first
	for _, lot := range lots(n, l.most(n, min(mostToys, l.toys), mostPlaces, longest)) {
		l.first, l.lot = first, &[2]float64{float64(lot[0]) / float64(n), float64(lot[1]) / float64(n)}
		l.buildLot(steps, each, places, lot)
	}
}

// moves is how long a step of the build takes for one toy.
func (l *line) moves(st guide.Step) (minutes float64) {
	for _, m := range st.Bench.Moves {
		switch {
		case m.Clamped:
			minutes += l.minutes["joint"] + l.minutes["clamping"]
		case m.Axle:
			minutes += l.minutes["axle"]
		case m.Driven:
			minutes += l.minutes["drive"] + l.minutes["joint"]
		case len(m.Onto) > 0 && st.Bench.Glued:
			minutes += l.minutes["joint"]
		default:
			minutes += l.minutes["place"]
		}
	}
	return minutes
}

func (l *line) buildLot(steps []guide.Step, minutes []float64, places []int, lot [2]int) {
	n, name := lot[1]-lot[0], lotOf(lot, l.job.Count)
	from, to := l.lot[0], l.lot[1]
	var bodies []*body
	find := func(i int) *body {
		for _, b := range bodies {
			if slices.Contains(b.pieces, i) {
				return b
			}
		}
		b := &body{[]int{i}, l.ready([]int{i}, from, to), -1}
		if id := l.m.Pieces[i].GlueUp; id != "" {
			for _, g := range l.m.GlueUps {
				if g.ID == id {
					b = &body{slices.Clone(g.Pieces), l.glue[g.Spec.Name].over(from, to), -1}
				}
			}
		}
		bodies = append(bodies, b)
		return b
	}
	var glued, all flow
	for k, st := range steps {
		l.step = st.Number
		o := op{job: l.j, step: l.step, lot: name, what: "toy", does: lowerFirst(st.Title)}
		if name.units == 0 && n > 1 { // the guide's title is of one
			o.lot = span{1, n, n}
		}
		joined := &body{axle: -1}
		axles := len(st.Bench.Moves) > 0 && !slices.ContainsFunc(st.Bench.Moves, func(m guide.Move) bool { return !m.Axle })
		join := func(i int) {
			b := find(i)
			if b == joined {
				return
			}
			o.after = append(o.after, b.last...)
			if axles && b.axle >= 0 { // axle by axle, and then the glue of all sets
				l.ops[b.axle].hold, l.kinds[l.ops[b.axle].kind].hold = 0, 0
			}
			joined.pieces = append(joined.pieces, b.pieces...)
			bodies = slices.DeleteFunc(bodies, func(x *body) bool { return x == b })
			if !slices.Contains(bodies, joined) {
				bodies = append(bodies, joined)
			}
		}
		for _, m := range st.Bench.Moves {
			for _, i := range m.Pieces {
				join(i)
			}
			for _, i := range m.Onto {
				join(i)
			}
		}
		if st.Bench.Glued {
			o.hold = l.minutes["glue-sets"]
			o.clamps = l.clampsFor(n, places[k])
		}
		deeds := st.Bench.Deeds
		if len(deeds) == 0 {
			deeds = []string{"place"}
		}
		o.ways = []way{{deeds: deeds, minutes: float64(minutes[k] * float64(n))}}
		slices.Sort(o.after)
		o.after = slices.Compact(o.after)
		o.kind = l.newKind(kind{ways: []each{{deeds: deeds, each: minutes[k]}}, hold: o.hold, clamps: o.clamps / n})
		at := l.add(o, float64(n))
		joined.last = []int{at}
		if axles {
			joined.axle = at
		}
		all = append(all, stretch{from, to, at})
		if st.Bench.Glued {
			glued = append(glued, stretch{from, to, at})
		}
	}
	if len(all) == 0 { // a toy of one piece is not built
		for i := range l.m.Pieces {
			for _, at := range find(i).last {
				all = append(all, stretch{from, to, at})
			}
		}
	}
	l.finishLot(name, n, all, glued)
}

// finishLot sands, finishes and checks a lot.
func (l *line) finishLot(name span, n int, all, glued flow) {
	steps := l.steps(guide.Finishing)
	if len(steps) == 0 {
		return
	}
	st := steps[0]
	l.step = st.Number
	lot := func(at flow) flow {
		for _, s := range at {
			l.ops[s.op].lot, l.ops[s.op].what = name, "toy"
		}
		return at
	}
	what := guide.Counted(n, "toy")
	if name.units > 0 {
		what = "the toys" // the lot says which
	}
	hard := glued
	if len(glued) > 0 {
		does := "the glue gets hard: until then nothing pulls at the toy"
		if l.job.Count > 1 {
			does = "the glue gets hard: until then nothing pulls at the toys"
		}
		hard = l.wait(does, name, max(1, l.minutes["glue-hard"]-l.minutes["glue-sets"]), glued)
	}
	at := lot(l.do("go over "+what+" with fine sandpaper", loose(n), all, each{deeds: []string{"sand"}, each: l.minutes["last-sanding"]}))
	f, known := facts.FinishOf(l.m.Toy.Finish)
	switch {
	case l.m.Toy.Finish == "":
		l.note("%s says no finish: one coat of %s is taken", l.m.Toy.Name, facts.UsualFinish)
	case !known:
		l.note("how %q is put on is not known: one coat is taken, dry as %s is", l.m.Toy.Finish, facts.UsualFinish)
	}
	if f.Coats == 0 {
		at = lot(l.do("wipe the dust off "+what+"; no finish", loose(n), at, each{deeds: []string{"finish"}, each: 1}))
	}
	for c := range f.Coats {
		does := "put the finish on " + what
		if f.Coats > 1 {
			does = fmt.Sprintf("put coat %d of %d on %s", c+1, f.Coats, what)
		}
		at = lot(l.do(does, loose(n), at, each{deeds: []string{"finish"}, each: l.minutes["coat"]}))
		for _, s := range at {
			l.ops[s.op].hold, l.kinds[l.ops[s.op].kind].hold = float64(f.Recoat*60), float64(f.Recoat*60)
		}
	}
	if f.Harden > 0 {
		l.note("%s: the finish goes on hardening for %s before a child gets the toy, or as long as its label says", l.m.Toy.Name, guide.Counted(int(f.Harden), "day"))
	}
	if l.m.Toy.Cord != nil {
		at = lot(l.do("tie the cord on "+what, loose(n), at, each{deeds: []string{"tie"}, each: l.minutes["cord"]}))
	}
	l.step = 0
	lot(l.do("check "+what+" by the last page of the guide", loose(n), append(slices.Clone(at), hard...), each{deeds: []string{"check"}, each: l.minutes["check"]}))
}

// steps are those of a kind, in order.
func (l *line) steps(kind guide.BenchKind) (out []guide.Step) {
	for _, c := range l.job.Guide.Chapters {
		for _, st := range c.Steps {
			if st.Bench.Kind == kind {
				out = append(out, st)
			}
		}
	}
	return out
}

// tasks makes all tasks of the job.
func (l *line) tasks() {
	l.boards()
	for _, c := range l.job.Guide.Chapters {
		for _, st := range c.Steps {
			l.step, l.need = st.Number, 1
			switch st.Bench.Kind {
			case guide.Squares:
				l.squares(st)
			case guide.Parts:
				l.onePart(st)
			case guide.Dowels:
				l.dowels(st)
			case guide.GlueUps:
				l.glueUps(st)
			case guide.Shaping:
				l.shaping(st)
			}
		}
	}
	l.need = 1
	l.building(l.steps(guide.Building))
}

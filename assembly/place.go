package assembly

import (
	"errors"
	"fmt"
	"sort"
	"strings"

	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
)

// Options say how a toy is derived. The zero Options derive it as drawn, whole.
type Options struct {
	Cache   *Cache
	Dev     Deviations
	Without []string // groups left out
}

// Derive builds the model of a toy. Problems speak to its author: work that
// cannot be done, a piece that is not placed.
func Derive(t *toy.Toy, o Options) (*Model, source.Problems) {
	if o.Cache == nil {
		o.Cache = &Cache{}
	}
	b := &builder{m: &Model{Toy: t, Without: o.Without, byID: map[string][]int{}}, o: o, frames: map[string]r3.Pose{}}
	for _, st := range t.Stock {
		if _, ok := facts.Wood(st.Wood); !ok {
			p := b.problem("unknown-name", st.WoodAt, "no wood is called "+st.Wood)
			p.Nearest, p.Expected = facts.NearWood(st.Wood), "one of "+strings.Join(facts.WoodNames(), ", ")
		}
	}
	if len(b.probs) > 0 {
		return nil, b.probs.Sorted()
	}
	for i := range t.Build {
		switch s := t.Build[i].(type) {
		case toy.Put:
			if !b.left(s.Leave) {
				b.put(s)
			}
		case toy.Wheels:
			if !b.left(s.Leave) {
				b.wheels(s)
			}
		case toy.Peg:
			if !b.left(s.Leave) {
				b.peg(s)
			}
		case toy.Hinge:
			if !b.left(s.Leave) {
				b.hinge(s)
			}
		}
		if len(b.probs) > 0 {
			return nil, b.probs.Sorted() // what follows stands on what failed
		}
	}
	b.passing()
	b.rigid()
	return b.m, nil
}

type builder struct {
	m      *Model
	o      Options
	probs  source.Problems
	frames map[string]r3.Pose // of glue-ups: the pose of the first piece
	convex int                // flat-sided pieces so far
}

// maxConvexToy bounds the work of the whole proof: the tram has about 400.
const maxConvexToy = 40000

func (b *builder) left(group string) bool {
	for _, w := range b.o.Without {
		if w == group && group != "" {
			return true
		}
	}
	return false
}

func (b *builder) problem(code string, at source.Range, says string) *source.Problem {
	b.probs = append(b.probs, b.m.Toy.File.Problem(code, at, says))
	return &b.probs[len(b.probs)-1]
}

func (b *builder) workProblem(err error, otherwise source.Range) {
	var w *workError
	if errors.As(err, &w) {
		otherwise = w.at
	}
	says := err.Error()
	if w != nil && w.need > 0 { // a round that does not fit, in the author's units
		u := b.m.Toy.Units
		says = fmt.Sprintf("this radius does not fit: it takes %s of a side that is %s long", measure.FromMM(w.need).Format(u), measure.FromMM(w.have).Format(u))
	}
	b.problem("work", otherwise, says)
}

// spec returns what decides the solid of a part used under an id.
func (b *builder) spec(p *toy.Part, id string, length float64) (*spec, error) {
	s := &spec{shape: p.Shape, size: r3.Vec{X: p.Length.MM(), Y: p.Width.MM(), Z: p.Thick.MM()}, bore: p.Bore.MM()}
	if length > 0 {
		s.size.X = length
	}
	d := b.o.Dev.of(id, "blank")
	s.size = s.size.Add(d.D)
	if p.Shape != toy.Block && d.Dia != 0 {
		s.bore += d.Dia
	}
	var err error
	s.cutters, err = cutters(p.Work, s.size, r3.Box{Max: s.size}, id, b.o.Dev)
	for i := range s.cutters {
		s.cutters[i].own = true
	}
	return s, err
}

// addPiece makes a piece and puts it at pose.
func (b *builder) addPiece(id string, p *toy.Part, s *spec, pose r3.Pose, leave string, at source.Range) (int, bool) {
	made, err := b.o.Cache.get(s)
	if err != nil {
		b.workProblem(err, at)
		return 0, false
	}
	i := len(b.m.Pieces)
	b.m.Pieces = append(b.m.Pieces, &Piece{ID: id, Part: p, Made: made, Pose: pose, Body: made.Filled.Transform(pose), Leave: leave, At: at, said: s.said(),
		Lengths: p.Shape == toy.Rod && p.Length == 0})
	b.m.byID[id] = []int{i}
	if b.convex += len(made.Filled.Pieces) * (1 + len(made.Bores)/8); b.convex > maxConvexToy {
		b.problem("too-many", at, "the toy as a whole is too intricate to prove").Expected = fmt.Sprintf("at most %d flat-sided pieces of wood in all", maxConvexToy)
		return 0, false
	}
	return i, true
}

func (b *builder) put(s toy.Put) {
	if g, ok := b.m.Toy.GlueUpNamed(s.Part); ok {
		b.putGlueUp(s, g)
		return
	}
	p, _ := b.m.Toy.PartNamed(s.Part)
	sp, err := b.spec(p, s.ID, 0)
	if err != nil {
		b.workProblem(err, s.At)
		return
	}
	lies := p.Lies
	if s.Lies != nil {
		lies = *s.Lies
	}
	first := len(b.m.Pieces) == 0
	i, ok := b.addPiece(s.ID, p, sp, Attitude(lies), s.Leave, s.At)
	if !ok {
		return
	}
	b.settle(s, s.ID, first)
	b.relations(s, []int{i})
}

// settle moves the pieces of an id, so far laid at the origin, to where they sit.
func (b *builder) settle(s toy.Put, id string, first bool) {
	shift := b.o.Dev.of(s.ID, "sits").D
	if first {
		// The lower back right corner of what lies there comes to the origin.
		shift = shift.Sub(b.bounds(id).Min)
	} else {
		shift = shift.Add(b.where(s, id))
	}
	for _, i := range b.m.byID[id] {
		b.move(i, r3.Shift(shift))
	}
	if f, ok := b.frames[id]; ok {
		b.frames[id] = f.Then(r3.Shift(shift))
	}
}

func (b *builder) move(i int, by r3.Pose) {
	p := b.m.Pieces[i]
	p.Pose = p.Pose.Then(by)
	p.Body = p.Made.Filled.Transform(p.Pose)
}

func (b *builder) bounds(id string) r3.Box {
	box := r3.EmptyBox()
	for _, i := range b.m.byID[id] {
		box = box.Union(b.m.Pieces[i].Body.Bounds())
	}
	return box
}

var axisNames = [3]string{"forward and back", "left and right", "up and down"}

// worldSide tells the axis of a side word, and whether it is the far side.
func worldSide(word string) (axis int, positive, ok bool) {
	switch word {
	case "front":
		return 0, true, true
	case "back":
		return 0, false, true
	case "left":
		return 1, true, true
	case "right":
		return 1, false, true
	case "top":
		return 2, true, true
	case "bottom":
		return 2, false, true
	}
	return 0, false, false
}

// feat is a feature as a place: the coordinates that it fixes.
type feat struct {
	has  [3]bool
	at   r3.Vec
	line bool
	dir  r3.Vec
	face int // for planes: axis*2 + 1 if it looks along the axis, axis*2 if against; -1 unknown
}

// feature finds a side, the middle, a hole, a flat or a point of an id.
func (b *builder) feature(id, name string, at source.Range) (feat, bool) {
	box := b.bounds(id)
	f := feat{face: -1}
	if axis, positive, ok := worldSide(name); ok {
		f.has[axis] = true
		f.at, f.face = box.Min, 2*axis
		if positive {
			f.at, f.face = box.Max, 2*axis+1
		}
		return f, true
	}
	if name == "middle" {
		f.has, f.at = [3]bool{true, true, true}, box.Center()
		return f, true
	}
	for _, h := range b.m.holes(id, name) {
		bo := b.m.Pieces[h.Piece].Bore(h.Bore)
		return lineFeat(bo.Point, bo.Dir), true
	}
	ids := b.m.byID[id]
	if name == "axis" && len(ids) == 1 {
		c, d, _ := b.m.Pieces[ids[0]].Axis()
		return lineFeat(c, d), true
	}
	work, frame, size := b.workOf(id)
	for _, w := range work {
		var side toy.Side
		var o toy.Outline
		switch w := w.(type) {
		case toy.Saw:
			side, o = w.Side, w.Outline
		case toy.Cut:
			side, o = w.Side, w.Outline
		default:
			continue
		}
		sf := SideFrame(side, size).Then(frame)
		place := func(i int) r3.Vec {
			p := pt(o.Corners[i%len(o.Corners)].Point)
			return sf.Point(r3.Vec{X: p.X, Y: p.Y})
		}
		for _, n := range o.Points {
			if n.Name == name {
				return lineFeat(place(n.Index), sf.W), true
			}
		}
		for _, n := range o.Flats {
			if n.Name != name {
				continue
			}
			p, q := place(n.Index), place(n.Index+1)
			normal := q.Sub(p).Cross(sf.W).Unit()
			for axis := 0; axis < 3; axis++ {
				if c := normal.At(axis); c > 1-tol.Clip || c < tol.Clip-1 {
					f.has[axis], f.at, f.face = true, p, 2*axis
					return f, true
				}
			}
			b.problem("flat", at, name+" lies slanting, so nothing can be said to sit on it square")
			return f, false
		}
	}
	b.problem("unknown-name", at, id+" has no side, hole, flat or point "+name)
	return f, false
}

func lineFeat(p, dir r3.Vec) feat {
	f := feat{at: p, line: true, dir: dir, face: -1}
	for axis := 0; axis < 3; axis++ {
		c := dir.At(axis)
		f.has[axis] = c < tol.Clip && c > -tol.Clip
	}
	return f
}

// workOf returns the work of an id with the frame and blank size it is drawn in.
func (b *builder) workOf(id string) ([]toy.Work, r3.Pose, r3.Vec) {
	ids := b.m.byID[id]
	if f, ok := b.frames[id]; ok {
		for _, g := range b.m.GlueUps {
			if g.ID == id {
				return g.Spec.Work, f, b.m.Pieces[g.Pieces[0]].Made.Size
			}
		}
	}
	p := b.m.Pieces[ids[0]]
	return p.Part.Work, p.Pose, p.Made.Size
}

// holes returns the holes of that name: one of a piece, or those that a drill
// through a glue-up made in its pieces.
func (m *Model) holes(id, name string) []Hole {
	var out []Hole
	for _, i := range m.byID[id] {
		p := m.Pieces[i]
		for k, bo := range p.Made.Bores {
			if bo.Name != name {
				continue
			}
			w := p.Bore(k)
			if _, _, ok := Span(p.Body, w.Point, w.Dir); ok || len(m.byID[id]) == 1 {
				out = append(out, Hole{i, k})
			}
		}
	}
	return out
}

// where returns the shift that brings an id, laid at the origin, to where it sits.
func (b *builder) where(s toy.Put, id string) r3.Vec {
	var shift r3.Vec
	var fixed [3]*toy.Sit
	fix := func(axis int, c float64, sit *toy.Sit) {
		if old := fixed[axis]; old != nil {
			if d := shift.At(axis) - c; d > tol.Touch || d < -tol.Touch {
				b.problem("fixed-twice", sit.At, fmt.Sprintf("%s is placed %s twice, and differently: %s and %s are %s apart", s.ID, axisNames[axis], old.Own, sit.Own, measure.FromMM(abs(d)).Format(b.m.Toy.Units)))
			}
			return
		}
		fixed[axis] = sit
		shift = shift.With(axis, c)
	}
	var middles []*toy.Sit
	for k := range s.Sits {
		sit := &s.Sits[k]
		target, ok := b.feature(sit.Target.Piece, sit.Target.Feature, sit.Target.At)
		if !ok {
			return shift
		}
		own := sit.Own
		axis, _, isSide := worldSide(own)
		switch own {
		case "middle-along":
			axis, isSide = 0, true
		case "middle-across":
			axis, isSide = 1, true
		case "middle-up":
			axis, isSide = 2, true
		case "middle":
			if !target.line { // over a hole it settles both directions that the hole does
				middles = append(middles, sit)
				continue
			}
		}
		if isSide {
			if !target.has[axis] {
				b.problem("sits", sit.Target.At, fmt.Sprintf("%s does not say where to go %s", sit.Target, axisNames[axis]))
				return shift
			}
			if b.stepped(sit, own) {
				return shift
			}
			f, ok := b.feature(id, strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(own, "-along"), "-across"), "-up"), sit.At)
			if !ok {
				return shift
			}
			fix(axis, target.at.At(axis)+sit.Off.MM()-f.at.At(axis), sit)
			continue
		}
		f, ok := b.feature(id, own, sit.At)
		if !ok {
			return shift
		}
		if f.line && target.line && f.dir.Cross(target.dir).Len() > 1e-6 {
			b.problem("sits", sit.At, fmt.Sprintf("%s and %s do not point the same way", own, sit.Target))
			return shift
		}
		n := 0
		for axis := 0; axis < 3; axis++ {
			if f.has[axis] && target.has[axis] {
				fix(axis, target.at.At(axis)+sit.Off.MM()-f.at.At(axis), sit)
				n++
			}
		}
		if n == 0 {
			b.problem("sits", sit.At, fmt.Sprintf("%s and %s share no direction in which one could sit on the other", own, sit.Target))
			return shift
		}
	}
	for _, sit := range middles {
		free := -1
		for axis := range fixed {
			if fixed[axis] == nil {
				if free >= 0 {
					b.problem("free", sit.At, fmt.Sprintf("middle could mean %s or %s here", axisNames[free], axisNames[axis])).Expected = "middle-along, middle-across or middle-up"
					return shift
				}
				free = axis
			}
		}
		if free < 0 {
			b.problem("fixed-twice", sit.At, s.ID+" is already placed in every direction: middle has nothing left to settle")
			return shift
		}
		target, _ := b.feature(sit.Target.Piece, sit.Target.Feature, sit.Target.At)
		if !target.has[free] {
			b.problem("sits", sit.Target.At, fmt.Sprintf("%s does not say where to go %s", sit.Target, axisNames[free]))
			return shift
		}
		fix(free, target.at.At(free)+sit.Off.MM()-b.bounds(id).Center().At(free), sit)
	}
	var open []string
	words := [3]string{"front, back or middle", "left, right or middle", "top, bottom or middle"}
	for axis := range fixed {
		if fixed[axis] == nil {
			open = append(open, axisNames[axis]+" ("+words[axis]+")")
		}
	}
	if len(open) > 0 && len(b.probs) == 0 {
		b.problem("free", s.At, s.ID+" is still free to move "+strings.Join(open, ", and ")).Expected = "a line under sits for each direction"
	}
	return shift
}

// stepped refuses the top of a stepped profile (or any other side) as a place to
// sit on, since it does not say which flat is meant.
func (b *builder) stepped(sit *toy.Sit, own string) bool {
	axis, positive, ok := worldSide(sit.Target.Feature)
	a, p, _ := worldSide(own)
	if !ok || a != axis || p == positive {
		return false // flush, not sitting on it
	}
	work, frame, size := b.workOf(sit.Target.Piece)
	levels := map[int]bool{}
	facing := 2 * axis
	if positive {
		facing++
	}
	var names []string
	for _, w := range work {
		s, isSaw := w.(toy.Saw)
		if !isSaw || len(s.Outline.Corners) == 0 || s.Outline.Mirror != "" {
			continue
		}
		line, err := Line(s.Outline)
		if err != nil {
			continue
		}
		sf := SideFrame(s.Side, size).Then(frame)
		poly, of := line.PolygonOf()
		for i, v := range poly {
			q := poly[(i+1)%len(poly)]
			if of[i] < len(line.Segs) && line.Segs[of[i]].Round() {
				continue
			}
			n := sf.Dir(r3.Vec{X: q.Y - v.Y, Y: v.X - q.X}).Unit()
			c := n.At(axis)
			if positive && c > 1-tol.Clip || !positive && c < tol.Clip-1 {
				levels[int(sf.Point(r3.Vec{X: v.X, Y: v.Y}).At(axis)/tol.Touch)] = true
			}
		}
		for _, f := range s.Outline.Flats {
			if t, ok := b.feature(sit.Target.Piece, f.Name, sit.Target.At); ok && t.face == facing {
				names = append(names, sit.Target.Piece+"."+f.Name)
			}
		}
	}
	if len(levels) < 2 {
		return false
	}
	p2 := b.problem("stepped", sit.Target.At, fmt.Sprintf("%s has %d flats at different heights that face that way", sit.Target.Piece, len(levels)))
	sort.Strings(names)
	p2.Expected = "a named flat"
	if len(names) > 0 {
		p2.Expected = "one of " + strings.Join(names, ", ")
	}
	return true
}

// relations records what a put piece is glued to, and what it straddles.
func (b *builder) relations(s toy.Put, ids []int) {
	if len(b.probs) > 0 {
		return // it is not where it should be
	}
	if s.Keyed != "" {
		b.m.Keys = append(b.m.Keys, Key{A: ids, B: b.m.byID[s.Keyed], At: s.At})
	}
	if s.Saddle != nil {
		b.m.Saddles = append(b.m.Saddles, Saddle{A: ids, B: b.m.byID[s.Saddle.Over], Dir: dirVec(s.Saddle.Across), Spec: s.Saddle, At: s.Saddle.At})
		if s.Saddle.Glued {
			b.m.Glues = append(b.m.Glues, Glue{A: ids, B: b.m.byID[s.Saddle.Over], At: s.Saddle.At})
		}
	}
	if !s.Glued {
		return
	}
	if len(s.GlueTo) > 0 {
		for _, to := range s.GlueTo {
			b.m.Glues = append(b.m.Glues, Glue{A: ids, B: b.m.byID[to], At: s.At})
		}
		return
	}
	n := 0
	for _, sit := range s.Sits {
		a, p, own := worldSide(sit.Own)
		if !own || sit.Off != 0 {
			continue
		}
		t, ok := b.feature(sit.Target.Piece, sit.Target.Feature, sit.Target.At)
		ta, tp, isSide := worldSide(sit.Target.Feature)
		if !ok || isSide && (ta != a || tp == p) || t.line {
			continue
		}
		d := r3.Vec{}.With(a, 1)
		if p {
			d = d.Neg()
		}
		b.m.Glues = append(b.m.Glues, Glue{A: ids, B: b.m.byID[sit.Target.Piece], Dir: d, At: s.At})
		n++
	}
	if n == 0 && len(s.Sits) > 0 && (s.Saddle == nil || !s.Saddle.Glued) {
		b.problem("glued", s.At, s.ID+" is glued, but it sits against nothing").Expected = "a side against the opposite side of another piece, or glue-to: [pieces]"
	}
}

// putGlueUp places the pieces of a glue-up on each other, does the work on it as
// one piece, and then puts the whole.
func (b *builder) putGlueUp(s toy.Put, g *toy.GlueUp) {
	first := len(b.m.Pieces) == 0
	start := len(b.m.Pieces)
	inner := &builder{m: &Model{Toy: b.m.Toy, byID: map[string][]int{}}, o: Options{Cache: b.o.Cache}, frames: map[string]r3.Pose{}}
	specs := make([]*spec, 0, len(g.Pieces))
	for _, q := range g.Pieces {
		p, _ := b.m.Toy.PartNamed(q.Part)
		sp, err := b.spec(p, s.ID+"/"+q.ID, 0)
		if err != nil {
			b.workProblem(err, q.At)
			return
		}
		lies := p.Lies
		if q.Lies != nil {
			lies = *q.Lies
		}
		i, ok := inner.addPiece(q.ID, p, sp, Attitude(lies), s.Leave, q.At)
		if !ok {
			b.probs = append(b.probs, inner.probs...)
			return
		}
		inner.settle(q, q.ID, i == 0)
		if d := b.o.Dev.of(s.ID+"/"+q.ID, "sits").D; d != (r3.Vec{}) {
			inner.move(i, r3.Shift(d))
		}
		if i > 0 {
			inner.relations(q, []int{i})
		}
		if len(inner.probs) > 0 {
			b.probs = append(b.probs, inner.probs...)
			return
		}
		specs = append(specs, sp)
	}
	frame := inner.m.Pieces[0].Pose
	if !b.workTogether(s, g, inner, specs, frame) {
		return
	}
	ids := make([]int, len(g.Pieces))
	for k, q := range g.Pieces {
		ip := inner.m.Pieces[k]
		id := s.ID + "/" + q.ID
		i, ok := b.addPiece(id, ip.Part, specs[k], ip.Pose, s.Leave, ip.At)
		if !ok {
			return
		}
		b.m.Pieces[i].GlueUp = s.ID
		ids[k] = i
	}
	b.m.byID[s.ID] = ids
	b.m.GlueUps = append(b.m.GlueUps, GlueUp{ID: s.ID, Spec: g, Pieces: ids, Leave: s.Leave})
	b.frames[s.ID] = frame
	for _, gl := range inner.m.Glues {
		b.m.Glues = append(b.m.Glues, Glue{A: offset(gl.A, start), B: offset(gl.B, start), Dir: gl.Dir, At: gl.At})
	}
	for _, k := range inner.m.Keys {
		b.m.Keys = append(b.m.Keys, Key{A: offset(k.A, start), B: offset(k.B, start), At: k.At})
	}
	for _, sa := range inner.m.Saddles {
		b.m.Saddles = append(b.m.Saddles, Saddle{A: offset(sa.A, start), B: offset(sa.B, start), Dir: sa.Dir, Spec: sa.Spec, At: sa.At})
	}
	b.settle(s, s.ID, first)
	b.relations(s, ids)
}

// workTogether carries the work on a glue-up into each of its pieces.
func (b *builder) workTogether(s toy.Put, g *toy.GlueUp, inner *builder, specs []*spec, frame r3.Pose) bool {
	if len(g.Work) == 0 {
		return true
	}
	reach := r3.EmptyBox() // all the wood, in the frame of the first piece
	back := frame.Inverse()
	for _, p := range inner.m.Pieces {
		for _, v := range p.Body.Vertices() {
			reach = reach.Add(back.Point(v))
		}
	}
	size := inner.m.Pieces[0].Made.Size
	cs, err := cutters(g.Work, size, reach, s.ID, b.o.Dev)
	if err != nil {
		b.workProblem(err, s.At)
		return false
	}
	for _, w := range g.Work {
		f, ok := w.(toy.Flush)
		if !ok {
			continue
		}
		k := inner.m.byID[f.With][0]
		sf := SideFrame(f.Side, size)
		far := 0.0
		for i, v := range inner.m.Pieces[k].Body.Vertices() {
			if d := back.Point(v).Sub(sf.O).Dot(sf.W); i == 0 || d > far {
				far = d
			}
		}
		sf.O = sf.O.Add(sf.W.Scale(far))
		cs = append(cs, cutter{kind: plane, frame: sf, name: "sand-flush", at: f.At})
	}
	for k, p := range inner.m.Pieces {
		// from the first piece's frame into this piece's
		to := frame.Then(p.Pose.Inverse())
		for _, c := range cs {
			c.frame = c.frame.Then(to)
			if !c.named {
				c.name = "glue-up-" + c.name
			}
			specs[k].cutters = append(specs[k].cutters, c)
		}
	}
	return true
}

func offset(ids []int, by int) []int {
	out := make([]int, len(ids))
	for i, x := range ids {
		out[i] = x + by
	}
	return out
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

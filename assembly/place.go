package assembly

import (
	"errors"
	"fmt"
	"math"
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
	// Drawn is the model as drawn that this is a build of: what a builder takes from the
	// drawing and not from the wood at hand, how long a rod is cut, which fit a hole was
	// meant for and how wide a gap is left, is as there. Nil: all follows from the pieces.
	Drawn *Model
}

// Derive builds the model of a toy. Problems speak to its author: work that
// cannot be done, a piece that is not placed.
func Derive(t *toy.Toy, o Options) (*Model, source.Problems) {
	if o.Cache == nil {
		o.Cache = &Cache{}
	}
	b := &builder{m: &Model{Toy: t, Without: o.Without, Drawn: o.Drawn, byID: map[string][]int{}, fixed: map[string][3]*toy.Sit{}}, o: o, frames: map[string]r3.Pose{}}
	for _, st := range t.Stock {
		if _, ok := facts.Wood(st.Wood); !ok {
			p := b.problem("unknown-name", st.WoodAt, "no wood is called "+st.Wood)
			p.Nearest, p.Expected = facts.NearWood(st.Wood), "one of "+strings.Join(facts.WoodNames(), ", ")
		}
	}
	if c := t.Climate; c != nil {
		if _, bad := facts.ReadYear(c.Text); bad != nil {
			p := b.problem("climate", c.At, bad.Says)
			p.Nearest, p.Expected = bad.Nearest, bad.Expected
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
	b.m.frames = b.frames
	if o.Drawn != nil {
		if !b.m.alike(o.Drawn) {
			return nil, source.Problems{t.File.Problem("work", source.Range{}, "it comes out as another toy than is drawn")}
		}
		b.m.Fits, b.m.Rigid = o.Drawn.Fits, o.Drawn.Rigid
		return b.m, nil
	}
	b.passing()
	b.rigid()
	return b.m, nil
}

type builder struct {
	m      *Model
	o      Options
	probs  source.Problems
	within string             // of the glue-up that is put together: what its pieces are called by begins so
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
	s := &spec{shape: p.Shape, size: r3.Vec{X: p.Length.MM(), Y: p.Width.MM(), Z: p.Thick.MM()}, bore: p.Bore.MM(), off: b.o.Drawn != nil}
	if length > 0 {
		s.size.X = length
	}
	d := b.o.Dev.of(id, "blank")
	s.size = s.size.Add(d.D)
	if s.bore > 0 {
		s.bore += d.Dia
	}
	var err error
	s.cutters, err = cutters(p.Work, s.size, s.size.Sub(d.D), r3.Box{Max: s.size}, id, b.o.Dev)
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
	shift := b.o.Dev.of(b.within+s.ID, "sits").D
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

// where returns the shift that brings an id, laid at the origin, to where it sits.
func (b *builder) where(s toy.Put, id string) r3.Vec {
	var shift r3.Vec
	var fixed [3]*toy.Sit
	fix := func(axis int, c float64, sit *toy.Sit) {
		if old := fixed[axis]; old != nil {
			if d := shift.At(axis) - c; b.o.Drawn == nil && math.Abs(d) > tol.Touch { // a builder lays it by the first
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
		if f.line && target.line && f.dir.Cross(target.dir).Len() > math.Max(1e-6, b.lean()) {
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
	b.m.fixed[id] = fixed
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
	p2 := b.problem("stepped", sit.Target.At, fmt.Sprintf("%s has %d sides that face %s, in different places", sit.Target.Piece, len(levels), facingWords[facing]))
	sort.Strings(names)
	p2.Expected = "the name of one of them, given under flats"
	if len(names) > 0 {
		p2.Expected = "one of " + strings.Join(names, ", ")
	}
	return true
}

// facingWords are the directions a side can face: axis*2, and 1 more if along it.
var facingWords = [6]string{"back", "forward", "right", "left", "down", "up"}

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
	n, near := 0, ""
	for _, sit := range s.Sits {
		a, p, own := worldSide(sit.Own)
		if !own {
			continue
		}
		if ta, tp, side := worldSide(sit.Target.Feature); sit.Off != 0 && (!side || ta == a && tp != p) {
			near = fmt.Sprintf(": its %s is %s off %s", sit.Own, measure.Length(math.Abs(float64(sit.Off))).Format(b.m.Toy.Units), sit.Target)
		}
		if sit.Off != 0 {
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
		b.problem("glued", s.At, s.ID+" is glued, but it sits against nothing"+near).Expected = "a side against the opposite side of another piece, or glue-to: [pieces]"
	}
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

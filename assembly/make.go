package assembly

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"dryfit/geom/group"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/measure/source"
	"dryfit/toy"
)

// Making a part: its work becomes a list of cutters in the frame of the blank,
// plain geometry without names or places, and from that the solid. The list is
// the key under which the solid is kept, so that an edit elsewhere in the file
// costs nothing.

// cutter is what one operation does to the wood.
type cutter struct {
	kind   cutKind
	frame  r3.Pose // of the side: W points out of the wood
	line   outline.Path
	lo, hi float64 // along W
	r      float64 // of a bore
	name   string  // of the operation or hole, for places: "work.3", "front-axle"
	named  bool
	over   []r3.Vec // the ways in which the blank was larger than it, see edges.go
	own    bool     // work on the part itself: it has to meet wood; work on a glue-up may miss a piece
	at     source.Range
}

type cutKind int

const (
	keep   cutKind = iota // what is inside the line stays
	remove                // what is inside the line goes
	bore                  // a round hole: stays analytic, see Bore
	plane                 // what is outside (W positive) goes
)

// Bore is a round hole as drilled: true radius, from Lo to Hi along Dir.
type Bore struct {
	Name   string // of the hole, or work.N
	Named  bool
	Point  r3.Vec // on the axis
	Dir    r3.Vec // into the wood
	R      float64
	Lo, Hi float64 // where it starts and ends along Dir from Point; ±through if it goes right through
	Blind  bool
	At     source.Range // in bores of a Piece
}

// Along returns where the bore starts and ends on its axis, from the place of a point
// along a direction, which is that of the bore or its opposite.
func (b Bore) Along(from, dir r3.Vec) (lo, hi float64) {
	at := b.Point.Sub(from).Dot(dir)
	if b.Dir.Dot(dir) < 0 {
		return at - b.Hi, at - b.Lo
	}
	return at + b.Lo, at + b.Hi
}

// Moved returns the bore carried along by a motion.
func (b Bore) Moved(m r3.Pose) Bore {
	b.Point, b.Dir = m.Point(b.Point), m.Dir(b.Dir)
	return b
}

// Made is what work makes of a blank, in the frame of the blank. It is shared
// between pieces and never changed.
type Made struct {
	Size   r3.Vec // extents of the blank
	Filled solid.Body
	Bores  []Bore

	once   sync.Once
	bored  solid.Body
	mass   sync.Once
	volume solid.Moments
	kept   sync.Map // see Keep
}

// Keep returns what make makes of the solid, which is made once for each key: a check of an edited toy
// has at hand what it found of the parts that stayed as they were. A key is of a type of the caller's
// own; make depends on nothing but it and the solid.
func Keep[T any](m *Made, key any, make func() T) T {
	if have, ok := m.kept.Load(key); ok {
		return have.(T)
	}
	have, _ := m.kept.LoadOrStore(key, make())
	return have.(T)
}

// Bored returns the solid with its round holes cut as polygons inscribed in the
// true circles (chord error tol.Chord).
func (m *Made) Bored() solid.Body {
	m.once.Do(func() {
		var cs []solid.Convex
		for i, b := range m.Bores {
			tag := boreTag + 3*int32(i)
			cs = append(cs, solid.Cylinder(b.frame(), b.R, b.Lo, b.Hi, tag, tag+1, tag+2))
		}
		m.bored = m.Filled.CarveAll(cs)
	})
	return m.bored
}

// Moments returns volume, centre and inertia of the piece with its holes.
func (m *Made) Moments() solid.Moments {
	m.mass.Do(func() { m.volume = m.Bored().Moments() })
	return m.volume
}

// boreTag is the first surface tag of bores; those of other work are below.
const boreTag = 1 << 20

// frame returns a frame whose W axis is the bore's.
func (b Bore) frame() r3.Pose {
	u := r3.X
	if math.Abs(b.Dir.X) > 0.9 {
		u = r3.Y
	}
	if b.Dir.X == 0 && b.Dir.Y == 0 || b.Dir.Y == 0 && b.Dir.Z == 0 || b.Dir.X == 0 && b.Dir.Z == 0 {
		// square to a side: U along the first coordinate axis, so that the oracle
		// and drawings find the first facet where the contract says
		v := b.Dir.Cross(u)
		return r3.Pose{U: u, V: v, W: b.Dir, O: b.Point}
	}
	v := b.Dir.Cross(u).Unit()
	return r3.Pose{U: v.Cross(b.Dir), V: v, W: b.Dir, O: b.Point}
}

// spec is all that decides the solid of one piece.
type spec struct {
	shape   toy.Shape
	size    r3.Vec
	bore    float64
	cutters []cutter
	off     bool // of a build: work is looked at as drawn, see build
}

// said lists where the file speaks of each hole, in the order of Made.Bores. It is
// no part of the key.
func (s *spec) said() (at []source.Range) {
	if s.bore > 0 {
		at = append(at, source.Range{})
	}
	for _, c := range s.cutters {
		if c.kind == bore {
			at = append(at, c.at)
		}
	}
	return at
}

func (s *spec) key() [32]byte {
	h := sha256.New()
	put := func(xs ...float64) {
		var b [8]byte
		for _, x := range xs {
			binary.LittleEndian.PutUint64(b[:], math.Float64bits(x))
			h.Write(b[:])
		}
	}
	vec := func(vs ...r3.Vec) {
		for _, v := range vs {
			put(v.X, v.Y, v.Z)
		}
	}
	put(float64(s.shape), s.bore)
	vec(s.size)
	for _, c := range s.cutters {
		put(float64(c.kind), c.lo, c.hi, c.r, float64(len(c.line.Segs)), c.line.Start.X, c.line.Start.Y, float64(len(c.name)))
		h.Write([]byte(c.name))
		vec(c.frame.U, c.frame.V, c.frame.W, c.frame.O)
		vec(c.over...)
		for _, g := range c.line.Segs {
			put(g.To.X, g.To.Y, g.C.X, g.C.Y, g.R, g.Sweep)
		}
	}
	var k [32]byte
	h.Sum(k[:0])
	return k
}

// Cache keeps what was made, by content. It is safe for use by several
// goroutines; the zero Cache is ready.
type Cache struct {
	mu    sync.Mutex
	made  map[[32]byte]*Made
	Built int // how many solids were really made
}

// cacheSize bounds the memory of a long editing session; a toy has some tens of
// different parts.
const cacheSize = 4096

func (c *Cache) get(s *spec) (*Made, error) {
	k := s.key()
	c.mu.Lock()
	m, ok := c.made[k]
	c.mu.Unlock()
	if ok {
		return m, nil
	}
	m, err := build(s)
	if err != nil {
		return nil, err
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.made == nil || len(c.made) >= cacheSize {
		c.made = map[[32]byte]*Made{}
	}
	c.made[k] = m
	c.Built++
	return m, nil
}

// workError is a fault of one operation.
type workError struct {
	at         source.Range
	says       string
	need, have float64 // mm that a rounded corner takes of a side, and has; 0 for other faults
}

func (e *workError) Error() string { return e.says }

// ballChord is how far the polyhedron of a ball may lie inside it: balls are
// decided by their true radius wherever it matters, and at tol.Chord a one-inch
// ball would take five thousand facets.
const ballChord = 0.1

// build makes a solid. Whether work meets the wood and leaves it in one piece is asked of it as it is
// drawn: the errors of a builder leave dust at most, and what they leave too thin is for the checks.
func build(s *spec) (*Made, error) {
	m := &Made{Size: s.size}
	mid := r3.Vec{X: s.size.X / 2, Y: s.size.Y / 2, Z: s.size.Z / 2}
	switch s.shape {
	case toy.Block:
		b := r3.Box{Max: s.size}
		for _, c := range s.cutters {
			for _, way := range c.over {
				b = b.Union(r3.Box{Min: b.Min.Add(way.Scale(outBeyond)), Max: b.Max.Add(way.Scale(outBeyond))})
			}
		}
		m.Filled = solid.NewBody([]solid.Convex{solid.Box(b.Min, b.Max, [6]int32{1, 2, 3, 4, 5, 6})})
	case toy.Disc:
		f := r3.Pose{U: r3.X, V: r3.Y, W: r3.Z, O: r3.Vec{X: mid.X, Y: mid.Y}}
		m.Filled = solid.NewBody([]solid.Convex{solid.Cylinder(f, s.size.X/2, 0, s.size.Z, 1, 2, 3)})
	case toy.Rod:
		f := r3.Pose{U: r3.Y, V: r3.Z, W: r3.X, O: r3.Vec{Y: mid.Y, Z: mid.Z}}
		m.Filled = solid.NewBody([]solid.Convex{solid.Cylinder(f, s.size.Z/2, 0, s.size.X, 1, 2, 3)})
	case toy.Sphere:
		m.Filled = solid.NewBody([]solid.Convex{solid.Ball(mid, s.size.X/2, ballChord, 1)})
	}
	if s.bore > 0 {
		m.Bores = append(m.Bores, Bore{Name: "bore", Named: true, Point: r3.Vec{X: mid.X, Y: mid.Y}, Dir: r3.Z, R: s.bore / 2, Lo: -clear, Hi: s.size.Z + clear})
	}
	tag := int32(8)
	for _, c := range s.cutters {
		switch c.kind {
		case bore:
			if c.own && !s.off {
				b := Bore{Point: c.frame.O, Dir: c.frame.W.Neg()}
				if !solid.Penetrates(m.Filled, solid.NewBody([]solid.Convex{solid.Cylinder(b.frame(), c.r, c.lo, c.hi, 1, 1, 1)}), tol.Touch) {
					what := "hole"
					if strings.HasSuffix(c.name, "-counterbore") {
						what = "counterbore"
					}
					return nil, &workError{at: c.at, says: "this " + what + " misses the wood"}
				}
			}
			m.Bores = append(m.Bores, Bore{Name: c.name, Named: c.named, Point: c.frame.O, Dir: c.frame.W.Neg(), R: c.r, Lo: c.lo, Hi: c.hi})
		case plane:
			m.Filled = m.Filled.Clip(solid.Plane{N: c.frame.W, D: c.frame.W.Dot(c.frame.O)}, tag)
			tag++
		default:
			prisms, next, err := prisms(c, tag)
			if err != nil {
				return nil, &workError{at: c.at, says: err.Error()}
			}
			tag = next
			if c.kind == keep {
				m.Filled = m.Filled.Intersect(prisms)
			} else {
				if c.own && !s.off && !solid.Penetrates(m.Filled, solid.NewBody(prisms), tol.Touch) {
					return nil, &workError{at: c.at, says: "this cut misses the wood"}
				}
				m.Filled = m.Filled.CarveAll(prisms)
			}
		}
		if m.Filled.Empty() {
			return nil, &workError{at: c.at, says: "this leaves nothing of the wood"}
		}
		if len(m.Filled.Pieces) > maxConvex {
			return nil, &workError{at: c.at, says: fmt.Sprintf("this part is too intricate: it takes more than %d flat-sided pieces", maxConvex)}
		}
	}
	if n := len(s.cutters); n > 0 && s.cutters[n-1].own && !s.off && !whole(m.Filled) {
		return nil, &workError{at: s.cutters[n-1].at, says: "this work cuts the part in two"}
	}
	for i := range m.Bores {
		b := &m.Bores[i]
		b.Blind = !leaves(m.Filled, *b)
	}
	return m, nil
}

// whole tells whether the wood hangs together: every piece of it meets another
// in a face, and so on to all of them.
func whole(b solid.Body) bool {
	n := len(b.Pieces)
	g, parts := group.New(n), n
	for i := 0; i < n && parts > 1; i++ {
		for j := i + 1; j < n && parts > 1; j++ {
			p, q := &b.Pieces[i], &b.Pieces[j]
			if g.Root(i) != g.Root(j) && p.Bounds().Grow(tol.Clip).Meets(q.Bounds()) && faceToFace(p, q) {
				g.Join(i, j)
				parts--
			}
		}
	}
	return parts <= 1
}

// faceToFace tells whether two convex pieces share some area.
func faceToFace(p, q *solid.Convex) bool {
	for _, f := range p.Faces {
		for _, g := range q.Faces {
			if f.Plane.N.Dot(g.Plane.N) > tol.Clip-1 || math.Abs(f.Plane.D+g.Plane.D) > 10*tol.Clip {
				continue
			}
			u := f.Plane.N.Cross(r3.X)
			if u.Len() < 0.5 {
				u = f.Plane.N.Cross(r3.Y)
			}
			u = u.Unit()
			v := f.Plane.N.Cross(u)
			lay := func(c *solid.Convex, loop []int32) []r2.Vec {
				out := make([]r2.Vec, len(loop))
				for i, k := range loop {
					out[i] = r2.Vec{X: c.V[k].Dot(u), Y: c.V[k].Dot(v)}
				}
				if outline.SignedArea(out) < 0 {
					slices.Reverse(out)
				}
				return out
			}
			if outline.SignedArea(outline.ClipConvex(lay(p, f.Loop), lay(q, g.Loop))) > tol.Touch*tol.Touch {
				return true
			}
		}
	}
	return false
}

// leaves tells whether a bore comes out of the wood at its far end.
func leaves(b solid.Body, h Bore) bool {
	_, hi, ok := Span(b, h.Point, h.Dir)
	return !ok || h.Hi >= hi-tol.Touch
}

// clear is how far a through cutter reaches beyond the wood at both ends, so
// that it never ends in a face of it.
const clear = 1.0

// maxConvex bounds the work on one part: the tram's most intricate piece has
// about a hundred.
const maxConvex = 6000

// prisms turns a line into convex prisms, one surface tag for each step of it.
func prisms(c cutter, tag int32) ([]solid.Convex, int32, error) {
	poly, of := c.line.PolygonOf()
	parts, err := outline.ConvexParts(poly, nil)
	if err != nil {
		return nil, tag, err
	}
	type side struct{ a, b r2.Vec }
	tags := make(map[side]int32, len(poly))
	for i, p := range poly {
		tags[side{p, poly[(i+1)%len(poly)]}] = tag + int32(of[i])
	}
	next := tag + int32(len(c.line.Segs)) + 1
	var out []solid.Convex
	for _, part := range parts {
		ts := make([]int32, len(part))
		for i, p := range part {
			ts[i] = tags[side{p, part[(i+1)%len(part)]}]
		}
		out = append(out, solid.Prism(c.frame, part, ts, c.lo, c.hi, next, next+1))
	}
	return out, next + 2, nil
}

// Span returns the stretch of the line through p along dir that lies in the
// body: the first place it enters and the last it leaves, as distances from p.
func Span(b solid.Body, p, dir r3.Vec) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range b.Pieces {
		a, z, hit := spanConvex(&b.Pieces[i], p, dir)
		if hit {
			lo, hi, ok = math.Min(lo, a), math.Max(hi, z), true
		}
	}
	return lo, hi, ok
}

func spanConvex(c *solid.Convex, p, dir r3.Vec) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for _, f := range c.Faces {
		d, n := f.Plane.Side(p), f.Plane.N.Dot(dir)
		switch {
		case math.Abs(n) < 1e-12:
			if d > tol.Clip {
				return 0, 0, false
			}
		case n > 0:
			hi = math.Min(hi, -d/n)
		default:
			lo = math.Max(lo, -d/n)
		}
	}
	return lo, hi, hi-lo > tol.Touch
}

// Spans returns all separate stretches of the line in the body, in order.
func Spans(b solid.Body, p, dir r3.Vec) [][2]float64 {
	var all [][2]float64
	for i := range b.Pieces {
		if lo, hi, ok := spanConvex(&b.Pieces[i], p, dir); ok {
			all = append(all, [2]float64{lo, hi})
		}
	}
	for i := 1; i < len(all); i++ { // few: insertion sort
		for j := i; j > 0 && all[j][0] < all[j-1][0]; j-- {
			all[j], all[j-1] = all[j-1], all[j]
		}
	}
	var out [][2]float64
	for _, s := range all {
		if n := len(out); n > 0 && s[0] <= out[n-1][1]+tol.Touch {
			out[n-1][1] = math.Max(out[n-1][1], s[1])
		} else {
			out = append(out, s)
		}
	}
	return out
}

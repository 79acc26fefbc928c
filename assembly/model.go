// Package assembly turns a toy into solids in space: it does the work on each
// blank (make.go), lays and places the pieces (place.go), and finds what is
// rigid, what turns and what is fitted into what (joints.go). Start with Derive.
//
// All lengths are millimetres in world axes (x forward, y left, z up), the first
// piece of the build with the lower back right corner of its blank at the origin.
package assembly

import (
	"slices"
	"sync"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/measure/source"
	"dryfit/toy"
)

// Model is a toy in space, as drawn or as built with deviations.
type Model struct {
	Toy     *toy.Toy
	Pieces  []*Piece
	GlueUps []GlueUp
	Fits    []Fit
	Glues   []Glue
	Axles   []Axle
	Hinges  []Hinge
	Saddles []Saddle
	Keys    []Key
	Rigid   []int // for each piece, the number of the rigid body it belongs to
	Without []string
	Drawn   *Model // what this is a build of; nil: it is as drawn

	byID   map[string][]int
	fixed  map[string][3]*toy.Sit
	frames map[string]r3.Pose // of glue-ups
}

// alike tells whether two models have the same pieces with the same holes.
func (m *Model) alike(o *Model) bool {
	return slices.EqualFunc(m.Pieces, o.Pieces, func(p, q *Piece) bool {
		return p.ID == q.ID && len(p.Made.Bores) == len(q.Made.Bores)
	})
}

// Fixes returns the own feature of the line of sits that settles where an id is along an axis, empty
// for the first piece and for what follows from a hole. A piece inside a glue-up goes by the id
// that it has in the toy.
func (m *Model) Fixes(id string, axis int) string {
	if sit := m.fixed[id][axis]; sit != nil {
		return sit.Own
	}
	return ""
}

// Piece is one part in its place.
type Piece struct {
	ID      string
	Part    *toy.Part
	Made    *Made
	Pose    r3.Pose    // from the blank's frame to the world
	Body    solid.Body // in the world, round holes still filled
	Leave   string     // the group that a builder may leave out with it
	GlueUp  string     // id of the glue-up it belongs to, "" if none
	At      source.Range
	Lengths bool // a rod whose length followed from the build

	said  []source.Range // where the file speaks of each hole; parts share solids, not places
	once  sync.Once
	bored solid.Body
}

// Bored returns the solid in the world with its round holes cut as polygons.
func (p *Piece) Bored() solid.Body {
	p.once.Do(func() {
		if len(p.Made.Bores) == 0 {
			p.bored = p.Body
			return
		}
		p.bored = p.Made.Bored().Transform(p.Pose)
	})
	return p.bored
}

// Bore returns hole i in the world.
func (p *Piece) Bore(i int) Bore {
	b := p.Made.Bores[i].Moved(p.Pose)
	b.At = p.said[i]
	return b
}

// Moments returns volume, centre and inertia in the world, holes out.
func (p *Piece) Moments() solid.Moments {
	m := p.Made.Moments()
	m.Center = p.Pose.Point(m.Center)
	m.Inertia = turned(m.Inertia, p.Pose)
	return m
}

// Axis returns the centre and axis of a disc, rod or ball, with its true radius.
func (p *Piece) Axis() (centre, dir r3.Vec, radius float64) {
	s := p.Made.Size
	centre = p.Pose.Point(s.Scale(0.5))
	switch p.Part.Shape {
	case toy.Disc:
		return centre, p.Pose.W, s.X / 2
	case toy.Rod:
		return centre, p.Pose.U, s.Z / 2
	}
	return centre, p.Pose.U, s.X / 2
}

// turned carries an inertia tensor into the world: R I Rᵀ.
func turned(in [3][3]float64, p r3.Pose) (out [3][3]float64) {
	r := [3]r3.Vec{p.U, p.V, p.W} // columns
	for i := 0; i < 3; i++ {
		for j := 0; j < 3; j++ {
			sum := 0.0
			for k := 0; k < 3; k++ {
				for l := 0; l < 3; l++ {
					sum += float64(float64(r[k].At(i)*in[k][l]) * r[l].At(j))
				}
			}
			out[i][j] = sum
		}
	}
	return out
}

// GlueUp is a glue-up in its place.
type GlueUp struct {
	ID     string
	Spec   *toy.GlueUp
	Pieces []int
	Leave  string
}

// FitKind is how a rod is in a hole.
type FitKind int

// The fits of rods in holes.
const (
	Glued FitKind = iota
	Running
)

func (k FitKind) String() string { return [...]string{"glued", "running"}[k] }

// Fit is a rod in a hole: an axle in a frame, a wheel on an axle, a peg, a pin.
type Fit struct {
	Rod   int // piece
	Piece int // with the hole
	Bore  int // index of the hole in the piece
	Kind  FitKind
	Role  string // "axle", "wheel", "peg", "pin"
	// Passing says that nobody said the rod goes through this hole.
	Passing bool
	At      source.Range
}

// Slack returns hole less rod, in diameter.
func (m *Model) Slack(f Fit) float64 {
	_, _, r := m.Pieces[f.Rod].Axis()
	return 2 * (m.Pieces[f.Piece].Made.Bores[f.Bore].R - r)
}

// Glue is a place where two pieces, or two glue-ups, are glued face to face.
type Glue struct {
	A, B []int
	Dir  r3.Vec // from B to A; zero if not known
	At   source.Range
}

// Axle is an axle with wheels in its holes.
type Axle struct {
	Rod          int
	Wheels       [2][]int // from the body outward, at the negative and the positive end of Dir
	Hosts        []Hole
	Centre, Dir  r3.Vec
	Lo, Hi       float64 // the outer mouths of the holes, along Dir from Centre
	Length, Play float64
	Proud, Gap   float64
	Held         bool // the outermost disc at each end is a glue fit: nothing comes off
	Spec         *toy.Wheels
}

// Hole is hole Bore of a piece.
type Hole struct{ Piece, Bore int }

// Hinge is a pin that some pieces are glued to and others turn on.
type Hinge struct {
	Name        string
	Pin         int
	Fixed, Runs []Hole
	Centre, Dir r3.Vec
	Spec        *toy.Hinge
}

// Saddle is a piece that straddles another or goes into it.
type Saddle struct {
	A, B []int
	Dir  r3.Vec
	Spec *toy.Saddle
	At   source.Range
}

// Key is a piece (A) that another (B) keeps in place while the glue sets.
type Key struct {
	A, B []int
	At   source.Range
}

// Find returns the pieces of an id: one, or those of a glue-up.
func (m *Model) Find(id string) []int { return m.byID[id] }

// Name returns "piece/feature" for a hole.
func (m *Model) Name(h Hole) string {
	p := m.Pieces[h.Piece]
	return p.ID + "/" + p.Made.Bores[h.Bore].Name
}

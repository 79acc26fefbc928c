// Package oracle compares the engine with an independent reading of the same toy
// files: oracle.mjs, which shares no code with it and makes its solids with the
// general-purpose mesh library manifold-3d (pinned in package.json).
//
// Read takes down what the engine says of a toy: volume and centre of each piece
// in the frame of its blank, overlap and clearance of pieces near each other.
// What goes to the other side is the text of the file and where the pieces lie,
// no more: placement is not what is checked here. Run the comparison with
//
//	npm ci --omit=optional --ignore-scripts    (once, in this folder)
//	go test ./oracle                           (both example toys and 40 random parts)
//	go test ./oracle -full                     (200 random parts, times, writes table.md)
//	go test ./oracle -parts 500 -seed 1000     (others)
package oracle

import (
	"math"
	"sort"
	"time"

	"dryfit/app"
	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/measure/source"
)

// Search is how far apart two pieces may be, in mm, to have their clearance measured.
const Search = 5.0

// Request is what the other side gets.
type Request struct {
	Toys   []Toy   `json:"toys"`
	Pairs  []Pair  `json:"pairs"`
	Search float64 `json:"search"`
	Times  int     `json:"times"` // how often to measure a time; 0: run once, no time worth the name
}

// Toy is a toy file and the pieces of its build.
type Toy struct {
	Name    string   `json:"name"`
	Text    string   `json:"text"`
	Pieces  []Piece  `json:"pieces"`
	GlueUps []GlueUp `json:"glue_ups"`
}

// Piece is a piece in its place, with what the engine makes of it.
type Piece struct {
	ID     string      `json:"id"`
	Part   string      `json:"part"`
	Length float64     `json:"length"` // of the blank, since a rod's may follow from the build
	Pose   [12]float64 `json:"pose"`   // U, V, W, O of r3.Pose
	Volume float64     `json:"volume"`
	Centre [3]float64  `json:"centre"` // in the frame of the blank

	made *assembly.Made
}

// GlueUp is a glue-up of the build: its name in the file and its pieces.
type GlueUp struct {
	Name   string `json:"name"`
	Pieces []int  `json:"pieces"`
}

// End is one piece of a pair and where it lies.
type End struct {
	Toy   int         `json:"toy"`
	Piece int         `json:"piece"`
	Pose  [12]float64 `json:"pose"`
}

// Pair is two pieces with what the engine says of them: shared volume and
// distance (Search if it is larger), and the time each took.
type Pair struct {
	Name      string  `json:"name"`
	A         End     `json:"a"`
	B         End     `json:"b"`
	Overlap   float64 `json:"overlap"`
	Gap       float64 `json:"gap"`
	OverlapMS float64 `json:"overlap_ms"`
	GapMS     float64 `json:"gap_ms"`
}

// Read derives a toy and adds it to the request, with all its pairs within Search.
func (q *Request) Read(name, text string) source.Problems {
	t, probs := app.Open(name, text, nil, nil)
	if len(probs) > 0 {
		return probs
	}
	m, probs := t.Model()
	if len(probs) > 0 {
		return probs
	}
	q.Search = Search
	n := len(q.Toys)
	out := Toy{Name: name, Text: text}
	for _, p := range m.Pieces {
		mo := p.Made.Moments()
		out.Pieces = append(out.Pieces, Piece{ID: p.ID, Part: p.Part.Name, Length: p.Made.Size.X, Pose: flat(p.Pose), Volume: mo.Volume,
			Centre: [3]float64{mo.Center.X, mo.Center.Y, mo.Center.Z}, made: p.Made})
	}
	for _, g := range m.GlueUps {
		out.GlueUps = append(out.GlueUps, GlueUp{g.Spec.Name, g.Pieces})
	}
	q.Toys = append(q.Toys, out)
	for i, a := range m.Pieces {
		for j := i + 1; j < len(m.Pieces); j++ {
			b := m.Pieces[j]
			if a.Body.Bounds().Grow(Search).Meets(b.Body.Bounds()) {
				q.pair(a.ID+" ~ "+b.ID, End{n, i, flat(a.Pose)}, End{n, j, flat(b.Pose)})
			}
		}
	}
	return nil
}

// pair measures two pieces and adds them.
func (q *Request) pair(name string, a, b End) {
	x, y := q.body(a), q.body(b)
	p := Pair{Name: name, A: a, B: b}
	p.OverlapMS = q.timed(func() { p.Overlap = solid.Overlap(x, y).Volume })
	p.GapMS = q.timed(func() { p.Gap = math.Min(Search, solid.Distance(x, y, Search).D) })
	q.Pairs = append(q.Pairs, p)
}

func (q *Request) body(e End) solid.Body {
	return q.Toys[e.Toy].Pieces[e.Piece].made.Bored().Transform(pose(e.Pose))
}

// timed returns the middle of q.Times times, in ms, after a first run that warms up.
func (q *Request) timed(f func()) float64 {
	f()
	if q.Times == 0 {
		return 0
	}
	ms := make([]float64, q.Times)
	for i := range ms {
		start := time.Now()
		f()
		ms[i] = float64(time.Since(start).Nanoseconds()) / 1e6
	}
	sort.Float64s(ms)
	return ms[len(ms)/2]
}

func flat(p r3.Pose) [12]float64 {
	return [12]float64{p.U.X, p.U.Y, p.U.Z, p.V.X, p.V.Y, p.V.Z, p.W.X, p.W.Y, p.W.Z, p.O.X, p.O.Y, p.O.Z}
}

func pose(f [12]float64) r3.Pose {
	v := func(i int) r3.Vec { return r3.Vec{X: f[i], Y: f[i+1], Z: f[i+2]} }
	return r3.Pose{U: v(0), V: v(3), W: v(6), O: v(9)}
}

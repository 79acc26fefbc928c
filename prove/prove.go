// Package prove asks of a toy in space whether it goes together, rolls, turns,
// stands and is fit for a child. Each check is one file and one entry of Checks;
// Run makes them all, side by side (run.go). A finding always has a measured value, a limit, where the
// limit comes from, and the places on the toy.
//
// The line between Fails and Mind: it fails if it won't go together, won't meet a
// must, or breaks a cited mandatory limit for the stated age. Thumb rules mind.
package prove

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
)

// Check is one question.
type Check struct {
	ID     string
	Asks   string  // the question in plain words
	How    string  // how it is computed
	Limits []Limit // what is compared with, and where that comes from
	Slow   bool    // not among the quick checks that follow every edit
	heavy  bool    // among those of its group that take longest: begun first, so that all lanes end at about one time
	run    func(*run)
}

// Limit is a figure that a check compares with.
type Limit struct{ What, Is, Source string }

func inMM(x float64) string      { return measure.FromMM(x).Format(measure.MM) }
func inDegrees(x float64) string { return measure.FromDegrees(x).Format() }
func share(x float64) string     { return fmt.Sprintf("%.0f %%", x*100) }

// Checks are all checks in the order in which they are made and printed.
var Checks = []Check{
	overlapCheck,
	contactCheck,
	holesCheck,
	dowelCheck,
	reachCheck,
	orderCheck,
	cutCheck,
	wheelsCheck,
	groundCheck,
	hingeCheck,
	turnCheck,
	balanceCheck,
	grainCheck,
	jointCheck,
	seasonCheck,
	smallCheck,
	pinchCheck,
	fingerHolesCheck,
	edgesCheck,
	cordCheck,
	materialCheck,
}

// notYet are the checks of the design that are not made with a proof. They are
// listed with every proof, so that silence is never taken for holding.
var notYet = []string{"move.mechanism", forgiving}

// forgiving is asked of many builds, not of one drawing (package forgive).
const forgiving = "forgiving"

// Elsewhere tells where a check is made that is not made with a proof; "" where it is not made yet.
func Elsewhere(id string) string {
	if id == forgiving {
		return "dryfit forgiving FILE"
	}
	return ""
}

// run is one making of one check on one model. Checks share nothing but the model
// and its world, which they only read: they are made side by side (run.go).
type run struct {
	m        *assembly.Model
	w        *world
	findings []Finding
	untold   bool
	glue     glueLine
	wanted   func(check, about string) bool // nil: all, see Make
}

// maxGroups is how many groups are proved in every combination: 15 more proofs.
const maxGroups = 4

// variants lists what may be left out, in every combination up to maxGroups.
func variants(t *toy.Toy) [][]string {
	seen := map[string]bool{}
	var groups []string
	for _, s := range t.Build {
		g := ""
		switch s := s.(type) {
		case toy.Put:
			g = s.Leave
		case toy.Wheels:
			g = s.Leave
		case toy.Peg:
			g = s.Leave
		case toy.Hinge:
			g = s.Leave
		}
		if g != "" && !seen[g] {
			seen[g] = true
			groups = append(groups, g)
		}
	}
	var out [][]string
	if len(groups) > maxGroups { // each alone and all together
		for _, g := range groups {
			out = append(out, []string{g})
		}
		return append(out, groups)
	}
	for set := 1; set < 1<<len(groups); set++ {
		var without []string
		for i, g := range groups {
			if set>>i&1 == 1 {
				without = append(without, g)
			}
		}
		out = append(out, without)
	}
	return out
}

// waivable refuses waivers of checks that do not exist.
func waivable(t *toy.Toy) (probs source.Problems) {
	ids := append(IDs(), notYet...)
	for _, w := range t.Waivers {
		if !slices.Contains(ids, w.Check) {
			probs = append(probs, t.File.Problem("unknown-name", w.At, "there is no check "+w.Check).Near(w.Check, ids))
		}
	}
	return probs.Sorted()
}

// add files a finding: its id, and its margin and value brought to tol.Page.
func (r *run) add(f Finding) {
	f.ID = f.Check + ":" + f.About
	if f.LimitOp == "" {
		f.LimitOp = ">="
	}
	if !f.known {
		f.Margin = f.Value - f.Limit
		if f.LimitOp == "<=" {
			f.Margin = f.Limit - f.Value
		}
	}
	f.Value, f.Limit, f.Margin = page(f.Value), page(f.Limit), page(f.Margin)
	r.findings = append(r.findings, f)
}

// page brings a number to the step at which results are compared and printed.
func page(x float64) float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return x
	}
	return math.Round(x/tol.Page) / (1 / tol.Page)
}

// place says where a piece's feature is, with the line of the file it comes from.
func (r *run) place(piece int, feature string, at r3.Vec, from source.Range) Place {
	p := r.m.Pieces[piece]
	if from == (source.Range{}) {
		from = p.At
	}
	line, col := r.m.Toy.File.Position(from.Start)
	return Place{Piece: p.ID, Feature: feature, At: r3.Vec{X: page(at.X), Y: page(at.Y), Z: page(at.Z)}, Line: line, Col: col}
}

func (r *run) deg(rad float64) string {
	return measure.FromDegrees(math.Round(rad*180/math.Pi*10) / 10).Format()
}

func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// world is what several checks need of a model.
type world struct {
	m       *assembly.Model
	weights kept[weights] // see weigh
	year    facts.Year
	swung   swungOnce // see swings
	pairs   pairsOf

	woods  kept[[]carried]
	loads  kept[loads]
	glue   kept[[]bond]   // see bonds
	parts  kept[[]cut]    // see cuts
	joints kept[[]judged] // see judged
	nears  kept[[]near]   // see Built

	mu    sync.Mutex
	lumps map[int]*kept[[]judged] // by their first piece, guarded by mu: see sweptOnce

	drawn   *world // of a build: that of the toy as drawn
	built   bool   // it is a build of a toy as drawn, of which near are the pairs of pieces near each other
	near    []near
	touch   map[[2]int]bool // those of them that touch as drawn
	entered depths          // how deep pairs are in each other
}

// kept keeps what is worked out when first asked for; checks that run side by side may ask.
type kept[T any] struct {
	do sync.Once
	is T
}

func (o *kept[T]) get(make func() T) T {
	o.do.Do(func() { o.is = make() })
	return o.is
}

func newWorld(m *assembly.Model) *world {
	w := &world{m: m, pairs: newPairs(m)}
	w.year, _ = yearOf(m.Toy)
	return w
}

// weights are what the pieces weigh, in kg, and where their middle is.
type weights struct {
	of     []float64
	mass   float64
	centre r3.Vec
}

// weigh weighs all pieces. A build weighs what is drawn, each piece where it is in the build: what the
// saw was off by weighs little.
func (w *world) weigh() weights {
	return w.weights.get(func() weights {
		out := weights{of: make([]float64, len(w.m.Pieces))}
		var first r3.Vec
		for i, p := range w.m.Pieces {
			st, _ := w.m.Toy.StockNamed(p.Part.Stock)
			wood, _ := facts.Wood(st.Wood) // Derive has refused unknown woods
			kg := float64(w.weighed(i).Made.Moments().Volume * 1e-9 * wood.Density)
			out.of[i] = kg
			out.mass += kg
			first = first.Add(w.centreOf(i).Scale(kg))
		}
		if out.mass > 0 {
			out.centre = first.Scale(1 / out.mass)
		}
		return out
	})
}

// weighed is the piece whose weight is taken for that of a piece.
func (w *world) weighed(i int) *assembly.Piece {
	if w.built {
		return w.m.Drawn.Pieces[i]
	}
	return w.m.Pieces[i]
}

// centreOf is the centre of mass of a piece.
func (w *world) centreOf(i int) r3.Vec {
	return w.m.Pieces[i].Pose.Point(w.weighed(i).Made.Moments().Center)
}

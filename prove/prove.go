// Package prove asks of a toy in space whether it goes together, rolls, turns,
// stands and is fit for a child. Each check is one file and one entry of Checks;
// Run makes them all. A finding always has a measured value, a limit, where the
// limit comes from, and the places on the toy.
//
// The line between Fails and Mind: it fails if it won't go together, won't meet a
// must, or breaks a cited mandatory limit for the stated age. Thumb rules mind.
package prove

import (
	"fmt"
	"math"
	"slices"
	"sort"

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
	wheelsCheck,
	groundCheck,
	hingeCheck,
	turnCheck,
	balanceCheck,
	seasonCheck,
	smallCheck,
	fingerHolesCheck,
	edgesCheck,
	cordCheck,
	materialCheck,
}

// notYet are the checks of the design that this version does not make. They are
// listed with every proof, so that silence is never taken for holding.
var notYet = []string{"cut.possible", "move.mechanism", "strength.grain", "strength.joint",
	"child.pinch", "forgiving"}

// run is one making of all checks on one model.
type run struct {
	m        *assembly.Model
	w        *world
	findings []Finding
	untold   bool
}

// Run proves a toy. The groups that a builder may leave out are proved with and
// without: a finding of the toy without one is added where it is worse.
func Run(t *toy.Toy, cache *assembly.Cache) (*Report, source.Problems) {
	if probs := waivable(t); len(probs) > 0 {
		return nil, probs
	}
	if cache == nil {
		cache = &assembly.Cache{}
	}
	m, probs := assembly.Derive(t, assembly.Options{Cache: cache})
	if len(probs) > 0 {
		return nil, probs
	}
	rep := Model(m)
	for _, without := range variants(t) {
		if len(without) == 1 {
			rep.Without = append(rep.Without, without[0])
		}
		mv, probs := assembly.Derive(t, assembly.Options{Cache: cache, Without: without})
		if len(probs) > 0 {
			return nil, probs
		}
		rep.worse(Model(mv), without)
	}
	rep.waive(t)
	return rep, nil
}

// Model proves one model as it is, waivers not applied.
func Model(m *assembly.Model) *Report {
	r := &run{m: m, w: newWorld(m)}
	for _, c := range Checks {
		c.run(r)
	}
	rep := &Report{Toy: m.Toy.Name, Pieces: len(m.Pieces), MassKg: r.w.mass, Findings: r.findings, MustUntold: r.untold}
	for _, id := range notYet {
		rep.NotAsked = append(rep.NotAsked, NotAsked{id, "this version does not compute it"})
	}
	rep.sum()
	return rep
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

// worse adds the findings of a toy without a group that are worse than with it.
func (rep *Report) worse(v *Report, without []string) {
	have := map[string]Verdict{}
	for _, f := range rep.Findings {
		have[f.ID] = f.Verdict
	}
	for _, f := range v.Findings {
		if f.Verdict > have[f.ID] {
			name := ""
			for i, g := range without {
				if i > 0 {
					name += " and "
				}
				name += g
			}
			f.About += " without " + name
			f.ID = f.Check + ":" + f.About
			f.Says = "without " + name + ": " + f.Says
			rep.Findings = append(rep.Findings, f)
		}
	}
	rep.MustUntold = rep.MustUntold || v.MustUntold
	rep.sum()
}

// waivable refuses waivers of checks that do not exist.
func waivable(t *toy.Toy) (probs source.Problems) {
	var ids []string
	for _, c := range Checks {
		ids = append(ids, c.ID)
	}
	ids = append(ids, notYet...)
	for _, w := range t.Waivers {
		if !slices.Contains(ids, w.Check) {
			probs = append(probs, t.File.Problem("unknown-name", w.At, "there is no check "+w.Check).Near(w.Check, ids))
		}
	}
	return probs.Sorted()
}

// waive marks the findings that the file waives.
func (rep *Report) waive(t *toy.Toy) {
	for _, w := range t.Waivers {
		found := false
		for i := range rep.Findings {
			if f := &rep.Findings[i]; w.Check == f.Check && w.About == f.About && f.Verdict > Waived {
				f.Notes = append(f.Notes, fmt.Sprintf("would be %q; waived: %s", f.Verdict, w.Reason))
				f.Verdict, found = Waived, true
			}
		}
		if !found {
			line, col := t.File.Position(w.At.Start)
			rep.Findings = append(rep.Findings, Finding{ID: w.Check + ":" + w.About + " (waiver)", Check: w.Check, About: w.About + " (waiver)", Verdict: Mind, LimitOp: ">=", Source: "the toy file: waive",
				Says: "the file waives this, but there is nothing of that name to waive", Places: []Place{{Piece: w.About, Line: line, Col: col}}})
		}
	}
	rep.sum()
}

func (rep *Report) sum() {
	rep.Verdict = Holds
	for _, f := range rep.Findings {
		if f.Verdict != Waived && f.Verdict > rep.Verdict {
			rep.Verdict = f.Verdict
		}
	}
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
	mass   float64 // kg
	centre r3.Vec
	masses []float64
}

func newWorld(m *assembly.Model) *world {
	w := &world{masses: make([]float64, len(m.Pieces))}
	var first r3.Vec
	for i, p := range m.Pieces {
		st, _ := m.Toy.StockNamed(p.Part.Stock)
		mo := p.Moments()
		wood, _ := facts.Wood(st.Wood) // Derive has refused unknown woods
		kg := mo.Volume * 1e-9 * wood.Density
		w.masses[i] = kg
		w.mass += kg
		first = first.Add(mo.Center.Scale(kg))
	}
	if w.mass > 0 {
		w.centre = first.Scale(1 / w.mass)
	}
	return w
}

// names lists piece ids, sorted, without repeats.
func (r *run) names(ids []int) []string {
	seen := map[string]bool{}
	var out []string
	for _, i := range ids {
		if id := r.m.Pieces[i].ID; !seen[id] {
			seen[id] = true
			out = append(out, id)
		}
	}
	sort.Strings(out)
	return out
}

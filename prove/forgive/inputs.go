package forgive

import (
	"fmt"
	"slices"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/toy"
)

// Input is one error that a builder makes, drawn once for each virtual build.
type Input struct {
	facts.Error
	Group  int    // of Groups: what a builder would take care of as one thing
	On     string // the piece, or the stock
	Spread float64
	terms  []term
}

// Group is the operation on the part, or the stock, that several inputs belong to.
type Group struct {
	Operation string // of the table of errors
	On        string // the part, the stock or the axle
	Detail    string // "rear-axle", "work.2"; "" for the whole of it
}

// term is what an error of 1 adds to one deviation.
type term struct {
	key assembly.DeviationKey
	add assembly.Deviation
}

// Spreads are what a builder is off by, for operations of facts.Errors in mm or radians; what is not
// there is taken from the table of the skill.
type Spreads map[string]float64

// inputs lists what can be off in a build of a model.
type inputs struct {
	m      *assembly.Model
	skill  facts.Skill
	own    Spreads
	list   []Input
	groups []Group
}

// inputsOf goes through stock, pieces, their work and the build.
func inputsOf(m *assembly.Model, skill facts.Skill, own Spreads) *inputs {
	in := &inputs{m: m, skill: skill, own: own}
	in.stock()
	byPart := map[string][]*assembly.Piece{}
	var parts []string
	for _, p := range m.Pieces {
		if byPart[p.Part.Name] == nil {
			parts = append(parts, p.Part.Name)
		}
		byPart[p.Part.Name] = append(byPart[p.Part.Name], p)
	}
	for _, name := range parts {
		in.part(name, byPart[name])
	}
	for _, g := range m.GlueUps {
		in.work(g.Spec.Name, g.Spec.Work, []string{g.ID})
	}
	for _, a := range m.Axles {
		in.add("play.card", a.Spec.AxleID, "", a.Spec.AxleID, term{key(a.Spec.AxleID, "play"), assembly.Deviation{D: r3.X}})
	}
	in.slips()
	return in
}

func key(piece, op string) assembly.DeviationKey {
	return assembly.DeviationKey{Piece: piece, Op: op}
}

// add puts an input in; one that is off by nothing is left out.
func (in *inputs) add(operation, on, detail, piece string, terms ...term) {
	e := facts.ErrorNamed(operation)
	spread, ok := in.own[operation]
	if !ok {
		spread = e.Spread[in.skill]
	}
	if spread == 0 || len(terms) == 0 {
		return
	}
	g := Group{operation, on, detail}
	at := slices.Index(in.groups, g)
	if at < 0 {
		at = len(in.groups)
		in.groups = append(in.groups, g)
	}
	in.list = append(in.list, Input{Error: e, Group: at, On: piece, Spread: spread, terms: terms})
}

// stock is as thick as it is bought, for all pieces that are cut from it.
func (in *inputs) stock() {
	for _, st := range in.m.Toy.Stock {
		var terms []term
		for _, p := range in.m.Pieces {
			if p.Part.Stock != st.Name {
				continue
			}
			d := assembly.Deviation{D: r3.Z}
			switch p.Part.Shape {
			case toy.Rod:
				d.D = r3.Vec{Y: 1, Z: 1}
			case toy.Sphere:
				d.D = r3.Vec{X: 1, Y: 1, Z: 1}
			}
			terms = append(terms, term{key(p.ID, "blank"), d})
		}
		name := map[toy.Form]string{toy.Board: "stock.board", toy.Sheet: "stock.sheet", toy.Dowel: "stock.dowel", toy.Ball: "stock.ball"}[st.Form]
		in.add(name, st.Name, "", st.Name, terms...)
	}
}

// part is all pieces of one part: what is set once for all of them, and what is off on each.
func (in *inputs) part(name string, pieces []*assembly.Piece) {
	p := pieces[0].Part
	var ids []string
	for _, q := range pieces {
		ids = append(ids, q.ID)
	}
	each := func(operation, detail string, d assembly.Deviation) {
		for _, id := range ids {
			in.add(operation, name, detail, id, term{key(id, "blank"), d})
		}
	}
	all := func(operation, detail string, d assembly.Deviation) {
		var terms []term
		for _, id := range ids {
			terms = append(terms, term{key(id, "blank"), d})
		}
		in.add(operation, name, detail, name, terms...)
	}
	switch p.Shape {
	case toy.Block:
		sawn := assembly.SawnSides(p)
		for axis, words := range [2]string{"length", "width"} {
			if sawn[axis] {
				continue // the outline is what counts
			}
			d := assembly.Deviation{D: r3.Vec{}.With(axis, 1)}
			all("cut.stop", words, d)
			each("cut.piece", words, d)
		}
	case toy.Disc:
		made := "wheel.turned"
		switch p.Made {
		case "sawn":
			made = "wheel.sawn"
		case "bought":
			made = "wheel.bought"
		}
		each(made, "", assembly.Deviation{D: r3.Vec{X: 1, Y: 1}})
		if p.Bore > 0 {
			all("drill.over", "bore", assembly.Deviation{Dia: 1})
		}
	case toy.Rod:
		each("rod.length", "", assembly.Deviation{D: r3.X})
	}
	in.work(name, p.Work, ids)
}

// work is what is done on pieces of a part, or on glue-ups of one kind.
func (in *inputs) work(on string, work []toy.Work, ids []string) {
	for n, w := range work {
		op := fmt.Sprintf("work.%d", n+1)
		switch w := w.(type) {
		case toy.Saw:
			in.sawing(on, op, ids, false)
		case toy.Cut:
			in.sawing(on, op, ids, w.Depth > 0)
		case toy.Drill:
			in.drilling(on, op, w, ids)
		}
	}
}

func (in *inputs) sawing(on, op string, ids []string, blind bool) {
	for _, id := range ids {
		k := key(id, op)
		in.add("saw.line", on, op, id, term{k, assembly.Deviation{D: r3.X}})
		in.add("saw.line", on, op, id, term{k, assembly.Deviation{D: r3.Y}})
		in.add("saw.grow", on, op, id, term{k, assembly.Deviation{Grow: 1}})
		if blind {
			in.add("saw.depth", on, op, id, term{k, assembly.Deviation{D: r3.Z}})
			continue
		}
		in.add("saw.skew", on, op, id, term{k, tipped(0)})
		in.add("saw.skew", on, op, id, term{k, tipped(1)})
	}
}

func (in *inputs) drilling(on, op string, w toy.Drill, ids []string) {
	var over []term
	fence := [2][]term{}
	for i, h := range w.Holes {
		hole := fmt.Sprintf("%s.%d", op, i+1)
		name := h.Name
		if name == "" {
			name = hole
		}
		for _, id := range ids {
			k := key(id, hole)
			over = append(over, term{k, assembly.Deviation{Dia: 1}})
			fence[0] = append(fence[0], term{k, assembly.Deviation{D: r3.X}})
			fence[1] = append(fence[1], term{k, assembly.Deviation{D: r3.Y}})
			in.add("drill.centre", on, name, id, term{k, assembly.Deviation{D: r3.X}})
			in.add("drill.centre", on, name, id, term{k, assembly.Deviation{D: r3.Y}})
			in.add("drill.lean", on, name, id, term{k, tipped(0)})
			in.add("drill.lean", on, name, id, term{k, tipped(1)})
			if w.Depth > 0 {
				in.add("drill.depth", on, name, id, term{k, assembly.Deviation{D: r3.Z}})
			}
		}
	}
	in.add("drill.fence", on, op, on, fence[0]...)
	in.add("drill.fence", on, op, on, fence[1]...)
	in.add("drill.over", on, op, on, over...)
}

// tipped is a blade or a drill that leans by a radian about the first or the second direction.
func tipped(axis int) (d assembly.Deviation) {
	if axis == 0 {
		d.Lean.X = 1
	} else {
		d.Lean.Y = 1
	}
	return d
}

// slips are the ways in which what is glued can slide: along the faces that are glued, unless it is
// keyed or a dowel holds it.
func (in *inputs) slips() {
	steps := func(within string, puts []toy.Put) {
		for i, s := range puts {
			id := within + s.ID
			if within != "" && i == 0 || !s.Glued || s.Keyed != "" || in.pegged(id) {
				continue
			}
			for axis, slides := range in.slides(id) {
				if slides {
					in.add("glue.slip", id, "", id, term{key(id, "sits"), assembly.Deviation{D: r3.Vec{}.With(axis, 1)}})
				}
			}
		}
	}
	var puts []toy.Put
	for _, s := range in.m.Toy.Build {
		if p, ok := s.(toy.Put); ok && len(in.m.Find(p.ID)) > 0 {
			puts = append(puts, p)
		}
	}
	steps("", puts)
	for _, g := range in.m.GlueUps {
		steps(g.ID+"/", g.Spec.Pieces)
	}
}

// slides tells along which axes an id can slide on what it is glued to: square to every glued face.
func (in *inputs) slides(id string) (slides [3]bool) {
	ids := in.m.Find(id)
	found := false
	slides = [3]bool{true, true, true}
	for _, g := range in.m.Glues {
		if !slices.Equal(g.A, ids) {
			continue
		}
		if g.Dir == (r3.Vec{}) {
			return [3]bool{} // round about something: there is no saying
		}
		found = true
		for axis := range slides {
			if d := g.Dir.At(axis); d > 0.5 || d < -0.5 {
				slides[axis] = false
			}
		}
	}
	if !found {
		return [3]bool{}
	}
	return slides
}

// pegged tells whether a dowel is glued in holes of an id and of something else.
func (in *inputs) pegged(id string) bool {
	ids := in.m.Find(id)
	for _, f := range in.m.Fits {
		if f.Role != "peg" || !slices.Contains(ids, f.Piece) {
			continue
		}
		for _, o := range in.m.Fits {
			if o.Rod == f.Rod && !slices.Contains(ids, o.Piece) {
				return true
			}
		}
	}
	return false
}

// deviations are the errors of one build: x has one number for each input.
func (in *inputs) deviations(x []float64) assembly.Deviations {
	out := assembly.Deviations{}
	for i, v := range x {
		if v == 0 {
			continue
		}
		for _, t := range in.list[i].terms {
			d := out[t.key]
			d.D = d.D.Add(t.add.D.Scale(v))
			d.Dia += float64(t.add.Dia * v)
			d.Grow += float64(t.add.Grow * v)
			d.Lean = d.Lean.Add(t.add.Lean.Scale(v))
			out[t.key] = d
		}
	}
	return out
}

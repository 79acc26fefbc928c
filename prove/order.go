package prove

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// fit.order: can the toy be put together in the file's order, and if not, is there
// an order that works? It is taken apart instead: what can be drawn out along the
// way it would go in can be put there. order_units.go says what goes on in one
// move, order_way.go draws one thing out of others, order_search.go finds the order.

var orderCheck = Check{
	ID: "fit.order", Asks: "can it be put together in the order of the file?", run: order, Slow: true,
	How: "The toy is taken apart from its last step back: a piece, a glue-up as one, an axle, then each wheel. Each is drawn out along a straight line past all that is there by then: along the axis of its hole, one of the six directions, or the direction of least obstruction, by continuous collision, so that nothing on the way is skipped; a rod in its own hole goes by true radii. " +
		"What only hinges or pegs hold may be built apart and then joined, and a piece may be shifted twice. The pieces of a glue-up are tried too, as they are before the work on it. If the file's order fails, whatever is free is taken off, one piece or several together, until nothing is: that finds an order if there is one of such moves. " +
		"Ways that need turning or bending are not looked for. It fails only where it is proved that no motion at all, turning included, takes a piece out, by one of four proofs about two rigid things: a rod meets wood at both ends before it is out of its hole, leaning as far as its play lets it; what is on both ends of a rod is wider than the hole of the ring on it; a ball that fits into the piece cannot get out; all places and turns that the piece can come to, cell by cell, are few and inside. " +
		"Where only this is proved, that no shift, straight or not, takes a piece out without turning it, it cannot be told.",
	Limits: []Limit{
		{"pieces may enter each other on the way by", inMM(tol.Touch), "the accuracy of the computation"},
		{"a proof that a piece is shut in has to spare", inMM(tol.Spare), practice},
	},
}

// Sequence is an order in which a toy goes together, with the way of each thing.
type Sequence struct {
	Found     bool // there is such an order; else Steps is empty
	FileOrder bool // it is that of the file
	Steps     []StepPath
}

// StepPath is one thing put where it belongs.
type StepPath struct {
	Step   int    // of the build; inside a glue-up, the number of its piece; -1 where something that was built apart is joined
	GlueUp string // id of the glue-up that this is inside of, "" in the build itself
	Name   string
	Pieces []int // of the model
	Onto   []int // pieces that are there; none for what comes first
	// Out are the shifts that draw it out, one after the other, just far enough to
	// be past the pieces that it is put onto. It goes on along them backwards.
	Out []r3.Vec
}

// Order finds an order in which the toy goes together: the file's, or else the
// nearest to it that is found.
func Order(m *assembly.Model) Sequence {
	r := &run{m: m}
	inner := map[string][]StepPath{}
	seq := Sequence{Found: true, FileOrder: true}
	for _, g := range m.GlueUps {
		if _, ok := inner[g.Spec.Name]; ok {
			continue
		}
		sub := innerModel(m, g)
		if sub == nil {
			return Sequence{}
		}
		s := solve(newPuzzle(&run{m: sub}, stepUnits(sub)))
		if s.moves == nil {
			return Sequence{}
		}
		seq.FileOrder = seq.FileOrder && len(s.no) == 0
		inner[g.Spec.Name] = s.steps()
	}
	s := solve(newPuzzle(r, stepUnits(m)))
	if s.moves == nil {
		return Sequence{}
	}
	seq.FileOrder = seq.FileOrder && len(s.no) == 0
	if len(s.no) == 0 {
		s.apart()
	}
	for _, st := range s.steps() {
		for _, g := range m.GlueUps {
			if st.Step >= 0 && slices.Equal(g.Pieces, st.Pieces) {
				for _, in := range inner[g.Spec.Name] {
					in.GlueUp, in.Pieces, in.Onto = g.ID, through(g.Pieces, in.Pieces), through(g.Pieces, in.Onto)
					seq.Steps = append(seq.Steps, in)
				}
			}
		}
		seq.Steps = append(seq.Steps, st)
	}
	return seq
}

func through(of, ids []int) []int {
	out := make([]int, len(ids))
	for k, i := range ids {
		out[k] = of[i]
	}
	return out
}

// innerModel derives a glue-up as it is before the work on it; nil if it cannot be.
func innerModel(m *assembly.Model, g assembly.GlueUp) *assembly.Model {
	t := *m.Toy
	t.GlueUps, t.Musts, t.Build = nil, nil, nil
	for _, p := range g.Spec.Pieces {
		t.Build = append(t.Build, p)
	}
	sub, probs := assembly.Derive(&t, assembly.Options{})
	if len(probs) > 0 || len(sub.Pieces) != len(g.Pieces) {
		return nil
	}
	return sub
}

// solved is a puzzle with its answer.
type solved struct {
	p     *puzzle
	no    []blocked // in the file's order
	moves []move    // of building, in order; nil if none was found
	late  []late    // what the file has too late; empty if it cannot be said so simply
	stuck [][]int
}

// late is what has to come before what.
type late struct{ units, before []int }

func solve(p *puzzle) solved {
	s := solved{p: p}
	moves, no := p.fileOrder(true)
	if s.no = no; len(no) == 0 {
		slices.Reverse(moves)
		s.moves = moves
		return s
	}
	if order, jumped := p.earlier(); order != nil {
		q := p.of(order)
		moves, _ = q.fileOrder(true)
		slices.Reverse(moves)
		for _, m := range moves { // back to the numbers of p
			m.units, m.from = through(order, m.units), through(order, m.from)
			s.moves = append(s.moves, m)
		}
		for u := 0; u < len(p.units); {
			step := []int{u}
			for u++; u < len(p.units) && p.units[u].step == p.units[step[0]].step; u++ {
				step = append(step, u)
			}
			s.late = addLate(s.late, late{step, jumped[p.units[step[0]].step]})
		}
		return s
	}
	if moves, s.stuck = p.search(); len(s.stuck) == 0 {
		slices.Reverse(moves)
		s.moves = moves
	}
	return s
}

// addLate adds what is late, together with what is late for the same.
func addLate(all []late, l late) []late {
	if len(l.before) == 0 {
		return all
	}
	for k := range all {
		if slices.Equal(all[k].before, l.before) {
			all[k].units = append(all[k].units, l.units...)
			return all
		}
	}
	return append(all, l)
}

// steps returns the moves as they are told to others.
func (s solved) steps() (out []StepPath) {
	for _, m := range s.moves {
		st := StepPath{Step: -1, Pieces: s.p.wood(m.units), Onto: s.p.wood(m.from), Out: m.out}
		st.Name = s.p.units[m.units[0]].name
		if !m.join {
			st.Step = s.p.units[m.units[0]].step
		}
		out = append(out, st)
	}
	return out
}

func order(r *run) {
	steps := 0
	seen := map[*toy.GlueUp]bool{}
	for _, g := range r.m.GlueUps {
		if seen[g.Spec] {
			continue
		}
		seen[g.Spec] = true
		sub := innerModel(r.m, g)
		if sub == nil {
			r.add(Finding{Check: "fit.order", About: g.ID, Verdict: CannotTell, Source: practice, known: true, Margin: -1,
				Says: "the pieces of " + g.ID + " cannot be laid out before the work on it"})
			continue
		}
		s := solve(newPuzzle(&run{m: sub}, stepUnits(sub)))
		r.ordered(s, g)
		steps += len(sub.Pieces)
	}
	p := newPuzzle(r, stepUnits(r.m))
	if a, b, ok := r.clash(); ok { // long searches for what has no way in anyway
		if _, no := p.fileOrder(false); len(no) > 0 {
			r.add(Finding{Check: "fit.order", About: "toy", Verdict: CannotTell, Source: practice, known: true, Margin: -1,
				Says: fmt.Sprintf("%s and %s claim the same wood: how they go together can be told once they do not", r.m.Pieces[a].ID, r.m.Pieces[b].ID)})
			return
		}
	}
	s := solve(p)
	r.ordered(s, assembly.GlueUp{})
	if r.has("fit.order") {
		return
	}
	f := Finding{Check: "fit.order", About: "toy", Verdict: Holds, Value: 1, Limit: 1, Source: "the toy file: build",
		Says: "it goes together in the order of the file (" + count(steps+len(p.units), "straight move") + " tried)"}
	for _, m := range s.moves {
		if m.join {
			f.Notes = append(f.Notes, p.together(m))
		} else if len(m.out) > 1 {
			f.Notes = append(f.Notes, fmt.Sprintf("%s goes on in two moves: %s, then %s", p.names(m.units), r.way(m.out[1].Neg()), r.way(m.out[0].Neg())))
		}
	}
	r.add(f)
}

// ordered tells what is wrong with the file's order, of the build or of a glue-up.
func (r *run) ordered(s solved, g assembly.GlueUp) {
	in := ""
	if g.Spec != nil {
		in = "in " + g.ID + ": "
	}
	switch {
	case len(s.no) == 0:
	case s.moves != nil && len(s.late) > 0:
		for _, l := range s.late {
			r.late(s, g, in, l)
		}
	case s.moves != nil:
		r.late(s, g, in, late{units: []int{s.no[len(s.no)-1].unit}})
	default:
		r.stuck(s, g, in)
	}
}

// late files what comes too late in the file, where another order works.
func (r *run) late(s solved, g assembly.GlueUp, in string, l late) {
	p := s.p
	var fails []blocked // those of them that cannot be put
	for _, b := range s.no {
		if slices.Contains(l.units, b.unit) {
			fails = append([]blocked{b}, fails...)
		}
	}
	if len(fails) == 0 {
		fails = s.no
	}
	f := r.outOf(p, fails[0], g)
	f.Says = fmt.Sprintf("%sin the order of the file there is no way for %s", in, p.names(l.units))
	if len(l.before) > 0 {
		have := "has"
		if p.isAre(l.units) == "are" {
			have = "have"
		}
		todo, _ := p.units[l.units[0]].kind.goes()
		_, done := p.units[l.before[0]].kind.goes()
		f.Says = fmt.Sprintf("%s%s %s to %s before %s %s %s", in, p.names(l.units), have, todo, p.names(l.before), p.isAre(l.before), done)
	}
	f.Notes = append(f.Notes, "an order that works: "+strings.Join(p.told(s.moves), ", "))
	f.Verdict = Mind // another order works, and this one may
	switch is, why := p.anyShut(fails); is {
	case noMotion:
		f.Verdict = Fails
		f.Says += ": there is no way afterwards"
		f.Notes = append(f.Notes, "proved: "+why)
	case noShift:
		f.Verdict = CannotTell
		f.Says += ": afterwards " + twistUntold
	}
	r.add(f)
}

// stuck files that no order is found.
func (r *run) stuck(s solved, g assembly.GlueUp, in string) {
	p := s.p
	set := s.stuck[0]
	for _, g := range s.stuck { // the fewest are soonest proved, and one is enough
		if len(g) < len(set) {
			set = g
		}
	}
	is, why := p.neverApart(set)
	f := r.outOf(p, s.no[0], g)
	f.Verdict = CannotTell
	if is == noMotion {
		f.Verdict = Fails
	}
	says := "no order is found in which it goes together: none of %s can be drawn from the rest"
	if len(set) == 2 {
		says = "no order is found in which it goes together: %s cannot be drawn apart"
	}
	f.Says = in + fmt.Sprintf(says, p.names(set)) + ": open what holds them, or glue one of them up around the rest"
	switch is {
	case noMotion:
		f.Notes = append(f.Notes, "proved: "+why)
	case noShift:
		f.Notes = append(f.Notes, "proved: "+twistUntold)
	default:
		f.Notes = append(f.Notes, "tried: straight moves of one piece or of several together, and two moves of one piece; that there is no way at all is not proved")
	}
	// A glue-up may go on piece by piece.
	if us := piecewise(r.m, p.units, set); g.Spec == nil && len(us) > len(p.units) {
		if q := solve(newPuzzle(r, us)); q.moves != nil {
			f.Notes = append(f.Notes, "it would go if it were not glued up before: "+strings.Join(q.p.told(q.moves), ", "))
		}
	}
	r.add(f)
}

// twistUntold says what noShift leaves.
const twistUntold = "no shift takes it out; whether a twist would is not computed"

// outOf starts a finding about a unit that does not come out: how far it does.
func (r *run) outOf(p *puzzle, b blocked, g assembly.GlueUp) Finding {
	u := p.units[b.unit]
	f := Finding{Check: "fit.order", About: u.name, Unit: "mm", Source: "the toy file: build", known: true, Margin: math.Inf(-1)}
	fixed := p.wood(b.from)
	by := -1
	f.Value = -1
	for _, d := range p.ways(u.pieces, u.ways) {
		far := p.out(u.pieces, fixed, r3.Vec{}, p.dirs[d]).Len()
		best, who := far, -1
		for _, i := range u.pieces {
			for _, j := range fixed {
				if !p.hits(i, j, d) {
					continue
				}
				if t := p.travel(i, j, r3.Vec{}, p.dirs[d], far); t < best {
					best, who = t, j
				}
			}
		}
		if best > f.Value {
			f.Value, f.Limit, f.Margin, by = best, far, math.Min(best-far, 0)-tol.Touch, who
		}
	}
	// where it is in the whole toy
	whole := func(i int) int {
		if g.Spec != nil {
			return g.Pieces[i]
		}
		return i
	}
	if g.Spec != nil {
		f.About = g.ID + "/" + u.name
	}
	f.Places = append(f.Places, r.place(whole(u.pieces[0]), "", r.m.Pieces[whole(u.pieces[0])].Body.Bounds().Center(), u.at))
	if by >= 0 {
		f.Value = math.Max(0, f.Value-tol.Touch)
		f.Notes = append(f.Notes, fmt.Sprintf("it comes out %s of %s, then %s is in the way", r.len(f.Value), r.len(f.Limit), p.r.m.Pieces[by].ID))
		f.Places = append(f.Places, r.place(whole(by), "", r.m.Pieces[whole(by)].Body.Bounds().Center(), p.r.m.Pieces[by].At))
	}
	return f
}

// together says that something is built apart.
func (p *puzzle) together(m move) string {
	if len(m.units) == 1 { // it comes over what the file has later
		var later []int
		for _, u := range m.from {
			if u > m.units[0] {
				later = append(later, u)
			}
		}
		if len(later) > 0 {
			_, done := p.units[later[0]].kind.goes()
			return fmt.Sprintf("%s goes there only once %s %s %s", p.names(m.units), p.names(later), p.isAre(later), done)
		}
	}
	return fmt.Sprintf("build %s apart, and then put it together with %s", p.names(m.units), p.names(m.from))
}

// told tells moves in order, a wheels step as one where it is.
func (p *puzzle) told(moves []move) (out []string) {
	var us []int
	for _, m := range moves {
		if !m.join {
			us = append(us, m.units[0])
			continue
		}
		out = append(append(out, p.list(us)...), "then "+p.names(m.units)+" and "+p.names(m.from)+" together")
		us = nil
	}
	return append(out, p.list(us)...)
}

// list names units, and the wheels that follow their axle with it.
func (p *puzzle) list(us []int) (out []string) {
	for k := 0; k < len(us); k++ {
		u := p.units[us[k]]
		name := u.name
		if u.axle != "" {
			name += " (" + u.axle + ")"
		}
		n := k
		for n+1 < len(us) && u.kind == rodUnit && p.units[us[n+1]].kind == wheelUnit && p.units[us[n+1]].step == u.step {
			n++
		}
		if n > k {
			name += " with its wheels"
		}
		out, k = append(out, name), n
	}
	return out
}

func (p *puzzle) isAre(us []int) string {
	if len(p.list(us)) > 1 {
		return "are"
	}
	return "is"
}

// names lists units in words.
func (p *puzzle) names(us []int) string {
	l := p.list(us)
	if len(l) == 1 {
		return l[0]
	}
	return strings.Join(l[:len(l)-1], ", ") + " and " + l[len(l)-1]
}

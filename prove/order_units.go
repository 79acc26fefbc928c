package prove

import (
	"dryfit/assembly"
	"dryfit/geom/group"
	"dryfit/geom/r3"
	"dryfit/measure/source"
	"dryfit/toy"
)

// A puzzle is a set of units in their places: what fit.order takes apart. A unit
// is what goes on in one move: a piece, a glue-up as one, an axle, one wheel.

type unit struct {
	name   string
	kind   unitKind
	step   int // of the build, or of the pieces of a glue-up
	pieces []int
	at     source.Range
	ways   []r3.Vec // directions out that are tried first
	axle   string   // of an axle: the hole that it is in
}

type unitKind int

const (
	putUnit unitKind = iota
	gluedUnit
	rodUnit // axle, peg or pin
	wheelUnit
)

// goes says how a unit is put: "has to ... before the other is ...".
func (k unitKind) goes() (infinitive, done string) {
	switch k {
	case gluedUnit:
		return "be glued on", "glued on"
	case rodUnit:
		return "go in", "in"
	case wheelUnit:
		return "go on", "on"
	}
	return "be put there", "put there"
}

// stepUnits lists the units of a build in the file's order.
func stepUnits(m *assembly.Model) []unit {
	var us []unit
	add := func(kind unitKind, step int, id string, at source.Range, ways ...r3.Vec) {
		if ids := m.Find(id); len(ids) > 0 { // else the builder left it out
			us = append(us, unit{name: id, kind: kind, step: step, pieces: ids, at: at, ways: ways})
		}
	}
	for k, s := range m.Toy.Build {
		switch s := s.(type) {
		case toy.Put:
			kind := putUnit
			if s.Glued || len(s.GlueTo) > 0 || s.Saddle != nil && s.Saddle.Glued {
				kind = gluedUnit
			}
			var ways []r3.Vec
			if ids := m.Find(s.ID); len(ids) > 0 {
				for _, g := range m.Glues {
					if g.A[0] == ids[0] && len(g.A) == len(ids) && g.Dir != (r3.Vec{}) {
						ways = append(ways, g.Dir)
					}
				}
			}
			add(kind, k, s.ID, s.At, ways...)
		case toy.Peg:
			add(rodUnit, k, s.ID, s.At)
		case toy.Hinge:
			add(rodUnit, k, s.ID, s.At)
		case toy.Wheels:
			add(rodUnit, k, s.AxleID, s.At)
			if len(m.Find(s.AxleID)) > 0 {
				us[len(us)-1].axle = s.In[0].String()
			}
			for _, ids := range s.WheelIDs {
				for _, id := range ids {
					var ways []r3.Vec
					if w := m.Find(id); len(w) > 0 {
						_, dir, _ := m.Pieces[w[0]].Axis() // a wheel is laid with its face outward
						ways = []r3.Vec{dir}
					}
					add(wheelUnit, k, id, s.At, ways...)
				}
			}
		}
	}
	return us
}

// piecewise returns the units with some glue-ups as the pieces they are made of.
func piecewise(m *assembly.Model, us []unit, split []int) []unit {
	var out []unit
	for k, u := range us {
		in := false
		for _, s := range split {
			in = in || s == k
		}
		if !in || len(u.pieces) < 2 {
			out = append(out, u)
			continue
		}
		for _, i := range u.pieces {
			out = append(out, unit{name: m.Pieces[i].ID, kind: gluedUnit, step: u.step, pieces: []int{i}, at: m.Pieces[i].At})
		}
	}
	return out
}

// parts groups units that hang together by glue or on rods. A rod of which cut
// says so holds nothing.
func (p *puzzle) parts(units []int, cut func(assembly.Fit) bool) [][]int {
	of := make([]int, len(p.r.m.Pieces)) // piece to place in units, from 1
	for k, u := range units {
		for _, i := range p.units[u].pieces {
			of[i] = k + 1
		}
	}
	sets := group.New(len(units))
	join := func(i, j int) {
		if a, b := of[i], of[j]; a > 0 && b > 0 {
			sets.Join(a-1, b-1)
		}
	}
	for _, g := range p.r.m.Glues {
		for _, i := range g.A {
			for _, j := range g.B {
				join(i, j)
			}
		}
	}
	for _, f := range p.r.m.Fits {
		if !cut(f) {
			join(f.Rod, f.Piece)
		}
	}
	out := sets.Lists()
	for _, list := range out {
		for k := range list {
			list[k] = units[list[k]]
		}
	}
	return out
}

// pressed cuts all but wheels glued on axles: what pegs and pins join may be laid
// dry, and pressed together later.
func pressed(f assembly.Fit) bool {
	return f.Kind == assembly.Running || f.Role == "peg" || f.Role == "pin"
}

// hinged cuts hinges: their two sides are built apart.
func hinged(f assembly.Fit) bool { return f.Kind == assembly.Running && f.Role == "pin" }

// lastRods cuts hinges, and the pegs and pins of the run of such steps that unit k
// belongs to: they are all put before what they join is pressed together.
func (p *puzzle) lastRods(k int) func(assembly.Fit) bool {
	rods := map[int]bool{}
	for ; k >= 0 && p.units[k].kind == rodUnit && p.units[k].axle == ""; k-- {
		rods[p.units[k].pieces[0]] = true
	}
	return func(f assembly.Fit) bool { return rods[f.Rod] || hinged(f) }
}

// wood returns the pieces of units.
func (p *puzzle) wood(units []int) []int {
	var out []int
	for _, u := range units {
		out = append(out, p.units[u].pieces...)
	}
	return out
}

// less returns the units without some.
func less(units []int, without ...int) []int {
	var out []int
next:
	for _, u := range units {
		for _, w := range without {
			if u == w {
				continue next
			}
		}
		out = append(out, u)
	}
	return out
}

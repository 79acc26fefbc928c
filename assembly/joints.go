package assembly

import (
	"fmt"
	"math"

	"dryfit/geom/group"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
)

// holesIn finds the holes of references and checks that they lie about one
// line's direction. How well they line up is for fit.holes to say.
func (b *builder) holesIn(refs []toy.Ref) []Hole {
	var out []Hole
	for _, ref := range refs {
		hs := b.m.holes(ref.Piece, ref.Feature)
		if len(hs) == 0 {
			b.problem("place", ref.At, ref.String()+" is not a round hole through wood")
		}
		for _, h := range hs {
			bo := b.m.Pieces[h.Piece].Bore(h.Bore)
			if _, _, ok := Span(b.m.Pieces[h.Piece].Body, bo.Point, bo.Dir); !ok {
				b.problem("place", ref.At, "the middle of "+ref.String()+" runs beside the wood, so nothing can be held in it")
			}
		}
		out = append(out, hs...)
	}
	return out
}

// axisOf returns the line of the first hole, pointing along the positive axis it
// is nearest to, so that left, right, front and back ends keep their meaning.
func (b *builder) axisOf(hs []Hole) (centre, dir r3.Vec) {
	bo := b.m.Pieces[hs[0].Piece].Bore(hs[0].Bore)
	dir = bo.Dir
	lead := 0
	for axis := 1; axis < 3; axis++ {
		if math.Abs(dir.At(axis)) > math.Abs(dir.At(lead))+tol.Clip {
			lead = axis
		}
	}
	if dir.At(lead) < 0 {
		dir = dir.Neg()
	}
	return bo.Point, dir
}

// Wood returns where a hole has wood around it along dir from centre: the wood
// it goes through, or its depth where it is blind, less what a wider hole about
// the same line, such as a counterbore, takes at either end. ok is false where its
// middle runs beside the wood.
func (m *Model) Wood(h Hole, centre, dir r3.Vec) (lo, hi float64, ok bool) {
	p := m.Pieces[h.Piece]
	bo := p.Bore(h.Bore)
	lo, hi, ok = Span(p.Body, bo.Point, bo.Dir)
	if !ok {
		return 0, 0, false
	}
	lo, hi = math.Max(lo, bo.Lo), math.Min(hi, bo.Hi)
	for k := range p.Made.Bores {
		c := p.Bore(k)
		if c.R <= bo.R+tol.Touch || c.Dir.Cross(bo.Dir).Len() > tol.Clip || c.Dir.Cross(bo.Point.Sub(c.Point)).Len() > tol.Touch {
			continue
		}
		from, to := c.Along(bo.Point, bo.Dir)
		if from <= lo+tol.Touch {
			lo = math.Max(lo, math.Min(to, hi))
		} else if to >= hi-tol.Touch {
			hi = math.Min(hi, math.Max(from, lo))
		}
	}
	bo.Lo, bo.Hi = lo, hi
	lo, hi = bo.Along(centre, dir)
	return lo, hi, true
}

// through is the line of a rod that is pushed through several holes of a build: it goes through the
// middles of the first and the last, whatever they lean.
func (b *builder) through(hs []Hole, centre, dir r3.Vec) (at, along r3.Vec) {
	if b.o.Drawn == nil {
		return centre, dir
	}
	var lo, hi r3.Vec
	least, most := math.Inf(1), math.Inf(-1)
	for _, h := range hs {
		bo := b.m.Pieces[h.Piece].Bore(h.Bore)
		l, u, ok := b.m.Wood(h, bo.Point, bo.Dir)
		if !ok {
			continue
		}
		mid := bo.Point.Add(bo.Dir.Scale((l + u) / 2))
		s := mid.Sub(centre).Dot(dir)
		if s < least {
			least, lo = s, mid
		}
		if s > most {
			most, hi = s, mid
		}
	}
	if most-least < farApart {
		return centre, dir
	}
	return lo, hi.Sub(lo).Unit()
}

// farApart is how far the middles of two holes are apart, mm, that settle between them which way a rod
// goes; nearer ones are two walls of one joint.
const farApart = 10.0

func (b *builder) reach(hs []Hole, centre, dir r3.Vec) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, h := range hs {
		if l, u, ok := b.m.Wood(h, centre, dir); ok {
			lo, hi = math.Min(lo, l), math.Max(hi, u)
		}
	}
	return lo, hi
}

// rod adds a piece of dowel of the given length along dir, its middle at mid.
func (b *builder) rod(id, part string, length float64, mid, dir r3.Vec, leave string, at source.Range) (int, bool) {
	p, _ := b.m.Toy.PartNamed(part)
	if length <= tol.Touch {
		b.problem("work", at, fmt.Sprintf("%s comes out %s long", id, measure.FromMM(length).Format(b.m.Toy.Units)))
		return 0, false
	}
	if b.o.Drawn != nil { // it is as long as it came out
		length -= b.o.Dev.of(id, "blank").D.X
	}
	sp, err := b.spec(p, id, length)
	if err != nil {
		b.workProblem(err, at)
		return 0, false
	}
	turn := along(r3.X, dir)
	turn.O = mid.Sub(turn.Dir(sp.size.Scale(0.5)))
	return b.addPiece(id, p, sp, turn, leave, at)
}

func (b *builder) wheels(s toy.Wheels) {
	hs := b.holesIn(s.In)
	if len(hs) == 0 || len(b.probs) > 0 {
		return
	}
	a := Axle{Hosts: hs, Spec: &s}
	a.Centre, a.Dir = b.axisOf(hs)
	a.Centre, a.Dir = b.through(hs, a.Centre, a.Dir)
	a.Lo, a.Hi = b.reach(hs, a.Centre, a.Dir)
	thick := 0.0
	for _, w := range s.Outward {
		p, _ := b.m.Toy.PartNamed(w)
		thick += p.Thick.MM()
	}
	gaps := float64(len(s.Outward) - 1)
	get := func(l *measure.Length) float64 {
		if l == nil {
			return 0
		}
		return l.MM()
	}
	a.Length, a.Proud, a.Play, a.Gap = get(s.Length), get(s.Proud), get(s.Play), get(s.Gap)
	// length = body + 2 (play + wheels + gaps + proud): the one left out follows.
	each := (a.Length - (a.Hi - a.Lo)) / 2
	switch {
	case s.Length == nil:
		a.Length = a.Hi - a.Lo + 2*(a.Play+thick+float64(gaps*a.Gap)+a.Proud)
	case s.Proud == nil:
		a.Proud = each - a.Play - thick - float64(gaps*a.Gap)
	case s.Play == nil:
		a.Play = each - a.Proud - thick - float64(gaps*a.Gap)
	default:
		a.Gap = (each - a.Play - a.Proud - thick) / gaps
	}
	if b.o.Drawn != nil { // strips of card keep play and gap, and the rod is cut as drawn
		d := b.o.Drawn.Axles[len(b.m.Axles)]
		a.Length, a.Play, a.Gap = d.Length+b.o.Dev.of(s.AxleID, "blank").D.X, d.Play+b.o.Dev.of(s.AxleID, "play").D.X, d.Gap
		a.Proud = (a.Length-(a.Hi-a.Lo))/2 - a.Play - thick - float64(gaps*a.Gap)
	}
	mid := (a.Lo + a.Hi) / 2
	rod, ok := b.rod(s.AxleID, s.Axle, a.Length, a.Centre.Add(a.Dir.Scale(mid)), a.Dir, s.Leave, s.At)
	if !ok {
		return
	}
	a.Rod = rod
	for end := 0; end < 2; end++ {
		out, at := a.Dir.Neg(), -a.Lo
		if end == 1 {
			out, at = a.Dir, a.Hi
		}
		at += math.Max(0, a.Play) // where there is no room, fit.reach says so, and not an overlap
		for k, w := range s.Outward {
			p, _ := b.m.Toy.PartNamed(w)
			sp, err := b.spec(p, s.WheelIDs[end][k], 0)
			if err != nil {
				b.workProblem(err, s.At)
				return
			}
			turn := along(r3.Z, out)
			turn.O = a.Centre.Add(out.Scale(at + sp.size.Z/2)).Sub(turn.Dir(sp.size.Scale(0.5)))
			i, ok := b.addPiece(s.WheelIDs[end][k], p, sp, turn, s.Leave, s.At)
			if !ok {
				return
			}
			a.Wheels[end] = append(a.Wheels[end], i)
			at += sp.size.Z + math.Max(0, a.Gap)
		}
	}
	// A disc that is a glue fit on the axle is glued to it; a looser one turns on it
	// and is kept there by one that is glued on outside it. Where all are glued the
	// axle has to turn in the body; else it does what its own holes allow.
	axleDia := b.m.Pieces[rod].Made.Size.Z
	glued := func(bore float64) bool { return bore-axleDia < GlueMost }
	all := true
	for end := range a.Wheels {
		for _, w := range a.Wheels[end] {
			p := b.m.Pieces[w]
			if len(p.Made.Bores) == 0 || p.Part.Bore == 0 {
				b.problem("missing", s.At, p.Part.Name+" has no bore for the axle").Expected = "bore, in the part"
				return
			}
			all = all && glued(p.Part.Bore.MM())
		}
	}
	a.Held = glued(b.m.Pieces[a.Wheels[1][len(s.Outward)-1]].Part.Bore.MM())
	if b.o.Drawn != nil {
		a.Held = b.o.Drawn.Axles[len(b.m.Axles)].Held
	}
	for _, h := range hs {
		kind := Running
		if !all && glued(2*b.m.Pieces[h.Piece].Made.Bores[h.Bore].R) {
			kind = Glued
		}
		b.m.Fits = append(b.m.Fits, Fit{Rod: rod, Piece: h.Piece, Bore: h.Bore, Kind: kind, Role: "axle", At: s.At})
	}
	for end := range a.Wheels {
		for _, w := range a.Wheels[end] {
			kind := Running
			if glued(b.m.Pieces[w].Part.Bore.MM()) {
				kind = Glued
			}
			b.m.Fits = append(b.m.Fits, Fit{Rod: rod, Piece: w, Bore: 0, Kind: kind, Role: "wheel", At: s.At})
		}
	}
	b.m.Axles = append(b.m.Axles, a)
}

// dowelIn adds a rod in holes that share an axis: from the innermost wood to the
// mouth of the last hole and proud beyond it, or of a given length from the end
// that has to hold. Where both are given, proud settles where it ends and the length
// goes back from there.
func (b *builder) dowelIn(id, part string, hold, rest []Hole, proud float64, length *measure.Length, leave string, at source.Range) (int, r3.Vec, r3.Vec, bool) {
	all := append(append([]Hole(nil), hold...), rest...)
	centre, dir := b.axisOf(all)
	lo, hi := b.reach(all, centre, dir)
	// The free end is the one towards the last hole named.
	last := all[len(all)-1]
	l0, h0, _ := b.m.Wood(last, centre, dir)
	fl, fh := b.reach(hold[:1], centre, dir)
	up := (l0+h0)/2 >= (fl+fh)/2
	if len(all) == 1 {
		bo := b.m.Pieces[last.Piece].Bore(last.Bore)
		up = bo.Dir.Dot(dir) < 0 // out of the mouth it was drilled from
	}
	if up {
		hi += proud
	} else {
		lo -= proud
	}
	if b.o.Drawn != nil { // it is cut as drawn, and driven home or left as proud as it is to be
		long := b.o.Drawn.Pieces[len(b.m.Pieces)].Made.Size.X + b.o.Dev.of(id, "blank").D.X
		length = new(measure.Length)
		*length = measure.FromMM(long)
		centre, dir = b.through(hold, centre, dir)
		lo, hi = b.reach(all, centre, dir)
	}
	if length != nil {
		if up == (proud == 0) {
			hi = lo + length.MM()
		} else {
			lo = hi - length.MM()
		}
	}
	i, ok := b.rod(id, part, hi-lo, centre.Add(dir.Scale((lo+hi)/2)), dir, leave, at)
	return i, centre, dir, ok
}

func (b *builder) peg(s toy.Peg) {
	hs := b.holesIn(s.In)
	if len(hs) == 0 || len(b.probs) > 0 {
		return
	}
	rod, _, _, ok := b.dowelIn(s.ID, s.Use, hs, nil, s.Proud.MM(), s.Length, s.Leave, s.At)
	if !ok {
		return
	}
	for _, h := range hs {
		b.m.Fits = append(b.m.Fits, Fit{Rod: rod, Piece: h.Piece, Bore: h.Bore, Kind: Glued, Role: "peg", At: s.At})
	}
}

func (b *builder) hinge(s toy.Hinge) {
	fixed, runs := b.holesIn(s.Fixed), b.holesIn(s.Runs)
	if len(fixed) == 0 || len(runs) == 0 || len(b.probs) > 0 {
		return
	}
	rod, centre, dir, ok := b.dowelIn(s.ID, s.Pin, fixed, runs, s.Proud.MM(), s.Length, "", s.At)
	if !ok {
		return
	}
	for _, h := range fixed {
		b.m.Fits = append(b.m.Fits, Fit{Rod: rod, Piece: h.Piece, Bore: h.Bore, Kind: Glued, Role: "pin", At: s.At})
	}
	for _, h := range runs {
		b.m.Fits = append(b.m.Fits, Fit{Rod: rod, Piece: h.Piece, Bore: h.Bore, Kind: Running, Role: "pin", At: s.At})
	}
	b.m.Hinges = append(b.m.Hinges, Hinge{Name: s.Name, Pin: rod, Fixed: fixed, Runs: runs, Centre: centre, Dir: dir, Spec: &s})
}

// passing adds the holes that a rod goes through without being said to. An axle has
// to turn in them too; a peg or pin is as its slack allows, and where that is none,
// it sticks.
func (b *builder) passing() {
	m := b.m
	axle := map[int]*Axle{}
	for i := range m.Axles {
		axle[m.Axles[i].Rod] = &m.Axles[i]
	}
	listed := map[int]map[Hole]bool{}
	var rods []Fit // the first fit of each rod
	for _, f := range m.Fits {
		if listed[f.Rod] == nil {
			listed[f.Rod] = map[Hole]bool{}
			rods = append(rods, f)
		}
		listed[f.Rod][Hole{f.Piece, f.Bore}] = true
	}
	for _, first := range rods {
		rod, listed := first.Rod, listed[first.Rod]
		a := axle[rod]
		for end := 0; a != nil && end < 2; end++ { // a wheel's own bore is its fit, whatever else is drilled there
			for _, w := range a.Wheels[end] {
				for k := range m.Pieces[w].Made.Bores {
					listed[Hole{w, k}] = true
				}
			}
		}
		c, dir, radius := m.Pieces[rod].Axis()
		half := m.Pieces[rod].Made.Size.X / 2
		for i, p := range m.Pieces {
			for k := range p.Made.Bores {
				bo := p.Bore(k)
				off := dir.Cross(bo.Point.Sub(c)).Len()
				if listed[Hole{i, k}] || i == rod || bo.Dir.Cross(dir).Len() > tol.Clip || off > radius || 2*(bo.R-radius) > ClearLeast {
					continue
				}
				lo, hi, ok := m.Wood(Hole{i, k}, c, dir)
				if !ok || lo >= half-tol.Touch || hi <= tol.Touch-half {
					continue
				}
				kind := Running
				if a == nil && 2*(bo.R-radius) < GlueMost {
					kind = Glued
				}
				m.Fits = append(m.Fits, Fit{Rod: rod, Piece: i, Bore: k, Kind: kind, Role: first.Role, At: first.At, Passing: true})
			}
		}
	}
}

// rigid numbers the rigid bodies: pieces joined by glue.
func (b *builder) rigid() {
	m := b.m
	g := group.New(len(m.Pieces))
	for _, u := range m.GlueUps {
		for _, i := range u.Pieces[1:] {
			g.Join(u.Pieces[0], i)
		}
	}
	for _, u := range m.Glues {
		for _, i := range u.A {
			for _, j := range u.B {
				g.Join(i, j)
			}
		}
	}
	for _, f := range m.Fits {
		if f.Kind == Glued {
			g.Join(f.Rod, f.Piece)
		}
	}
	m.Rigid = g.Numbers()
}

// Moving returns the pieces on the side of a hinge that turns with the wood it
// runs in, when everything on the pin's side stays: all that hangs on it through
// glue, axles, other hinges and saddles. ok is false if the two sides are joined
// some other way too, so that the hinge cannot be turned alone.
func (m *Model) Moving(h Hinge) (moving []int, ok bool) {
	n := 0
	for _, r := range m.Rigid {
		n = max(n, r+1)
	}
	links := make([][]int, n)
	link := func(i, j int) {
		i, j = m.Rigid[i], m.Rigid[j]
		if i != j {
			links[i], links[j] = append(links[i], j), append(links[j], i)
		}
	}
	own := map[int]bool{} // pins on the same line turn together
	for _, o := range m.Hinges {
		own[o.Pin] = own[o.Pin] || o.Dir.Cross(h.Dir).Len() < tol.Clip && h.Dir.Cross(o.Centre.Sub(h.Centre)).Len() < tol.Touch
	}
	for _, f := range m.Fits {
		if f.Kind == Running && !own[f.Rod] && !f.Passing {
			link(f.Rod, f.Piece)
		}
	}
	for _, s := range m.Saddles {
		link(s.A[0], s.B[0])
	}
	seen := make([]bool, n)
	queue := []int{}
	for _, r := range h.Runs {
		if b := m.Rigid[r.Piece]; !seen[b] {
			seen[b] = true
			queue = append(queue, b)
		}
	}
	for len(queue) > 0 {
		b := queue[0]
		queue = queue[1:]
		for _, c := range links[b] {
			if !seen[c] {
				seen[c] = true
				queue = append(queue, c)
			}
		}
	}
	if seen[m.Rigid[h.Pin]] {
		return nil, false
	}
	for i := range m.Pieces {
		if seen[m.Rigid[i]] {
			moving = append(moving, i)
		}
	}
	return moving, true
}

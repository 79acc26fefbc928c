package prove

import (
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// How each piece of wood moves: coefficients along the three axes of its blank, with
// the grain along its length. A flat-sawn board has its rings along its width, one sawn
// on the quarter along its thickness; where the file does not say, either may be.

// grained is the coefficients of a piece along its blank's axes, for 1 % of moisture: the
// least and the most that they may be.
type grained struct {
	pose        r3.Pose
	least, most [3]float64
}

// grainOf returns how a piece moves.
func (r *run) grainOf(p *assembly.Piece) grained {
	st, _ := r.m.Toy.StockNamed(p.Part.Stock)
	w, _ := facts.Wood(st.Wood) // Derive has refused unknown woods
	l, rad, tan := w.Coefficient(facts.Along), w.Coefficient(facts.Radial), w.Coefficient(facts.Tangential)
	g := grained{pose: p.Pose}
	switch {
	case w.Kind == "panel":
		g.least = [3]float64{l, tan, rad}
		g.most = g.least
	case st.Form == toy.Board && st.Sawn == "flat":
		g.least = [3]float64{l, tan, rad}
		g.most = g.least
	case st.Form == toy.Board && st.Sawn == "quarter":
		g.least = [3]float64{l, rad, tan}
		g.most = g.least
	default:
		g.least, g.most = [3]float64{l, rad, rad}, [3]float64{l, tan, tan}
	}
	return g
}

// grain is grainOf by number.
func (r *run) grain(i int) grained { return r.grainOf(r.m.Pieces[i]) }

// across is the most that a rod or ball moves across its grain, whichever way its rings
// lie.
func (g grained) across() float64 { return math.Max(g.most[1], g.most[2]) }

// along returns the least and most coefficient in a direction of the world: between the
// axes, the usual approximation by squares of cosines (common practice).
func (g grained) along(dir r3.Vec) (least, most float64) {
	for k, axis := range []r3.Vec{g.pose.U, g.pose.V, g.pose.W} {
		c := axis.Dot(dir)
		least += float64(float64(c*c) * g.least[k])
		most += float64(float64(c*c) * g.most[k])
	}
	return least, most
}

// tensor is the least coefficients as a tensor of the world.
func (g grained) tensor(p r3.Pose) (t [3][3]float64) {
	for k, axis := range []r3.Vec{p.U, p.V, p.W} {
		for i := 0; i < 3; i++ {
			for j := 0; j < 3; j++ {
				t[i][j] += float64(float64(axis.At(i)*axis.At(j)) * g.least[k])
			}
		}
	}
	return t
}

// spanGrows returns how much the wood between the mouths of an axle's holes grows, at
// most and at least: each stretch by the piece that the axle is in there, a gap between
// two of them by the piece of the same body that reaches over it and grows most.
func (r *run) spanGrows(a assembly.Axle) (most, least float64) {
	type stretch struct{ lo, hi, least, most float64 }
	var list []stretch
	for _, h := range a.Hosts {
		if lo, hi, ok := r.m.Wood(h, a.Centre, a.Dir); ok {
			l, m := r.grain(h.Piece).along(a.Dir)
			list = append(list, stretch{lo, hi, l, m})
		}
	}
	// In order along the axle; where two hosts share a stretch the one that grows more counts.
	at := a.Lo
	for at < a.Hi-tol.Touch {
		var now *stretch
		next := a.Hi
		for k := range list {
			s := &list[k]
			if s.lo <= at+tol.Touch && s.hi > at+tol.Touch {
				if now == nil || s.most > now.most {
					now = s
				}
			} else if s.lo > at+tol.Touch {
				next = math.Min(next, s.lo)
			}
		}
		if now != nil {
			next = math.Min(now.hi, a.Hi)
			most += float64((next - at) * r.grows(now.most))
			least += float64((next - at) * r.grows(now.least))
		} else {
			l, m := r.bridge(a, at, next)
			most += float64((next - at) * r.grows(m))
			least += float64((next - at) * r.grows(l))
		}
		at = next
	}
	return most, least
}

// bridge returns the coefficients of the piece that holds two hosts of an axle apart.
func (r *run) bridge(a assembly.Axle, lo, hi float64) (least, most float64) {
	rigid := r.m.Rigid[a.Hosts[0].Piece]
	for i, p := range r.m.Pieces {
		if r.m.Rigid[i] != rigid || i == a.Rod {
			continue
		}
		from := p.Body.Support(a.Dir.Neg()).Sub(a.Centre).Dot(a.Dir)
		to := p.Body.Support(a.Dir).Sub(a.Centre).Dot(a.Dir)
		if from > lo+tol.Touch || to < hi-tol.Touch {
			continue
		}
		if l, m := r.grain(i).along(a.Dir); m > most {
			least, most = l, m
		}
	}
	return least, most
}

// between is one thing held between two walls of another, or straddling it.
type between struct {
	slack   float64 // both ways together
	width   float64 // of what is inside
	in, out [2]int  // the pieces that meet, at the one end and at the other
}

// within slides some pieces both ways until they touch others. The first wall is met on
// the side that is slid to if the moving pieces are inside, on the other if they straddle.
// ok is false where one way or the other is open.
func (r *run) within(moving, fixed []int, dir r3.Vec) (b between, ok bool) {
	const search = 10.0
	var at [2]float64
	var who [2][2]int
	for k, d := range []r3.Vec{dir.Neg(), dir} {
		best := search
		for _, i := range moving {
			for _, j := range fixed {
				if r.fitted(i, j) {
					continue
				}
				if c := solid.FirstContactSlide(r.against(j, i), r.against(i, j), d, best, tol.Touch); c.Hit && c.Travel < best {
					best, at[k], who[k] = c.Travel, c.At().Dot(dir), [2]int{i, j}
				}
			}
		}
		if best >= search {
			return b, false
		}
		b.slack += best - tol.Touch
	}
	if at[1] > at[0] {
		b.width = at[1] - at[0] - b.slack
		b.in, b.out = [2]int{who[0][0], who[1][0]}, [2]int{who[0][1], who[1][1]}
	} else {
		b.width = at[0] - at[1]
		b.in, b.out = [2]int{who[0][1], who[1][1]}, [2]int{who[0][0], who[1][0]}
	}
	return b, b.width > tol.Touch
}

// roomWithin is what is left at the damp end: what is inside grows by its width, and the
// room between the walls with the wood that holds them apart.
func (r *run) roomWithin(b between, dir r3.Vec) (left, sure float64) {
	var least, most float64
	for _, i := range b.in {
		l, m := r.grain(i).along(dir)
		least, most = math.Max(least, l), math.Max(most, m)
	}
	holds := r.holdsApart(b.out, dir, b.width)
	room := b.width + b.slack
	left = b.slack - float64(b.width*r.grows(most))
	sure = b.slack - float64(b.width*r.grows(least))
	if len(holds) > 0 {
		slow, fast := math.Inf(1), 0.0
		for _, i := range holds {
			l, m := r.grain(i).along(dir)
			slow, fast = math.Min(slow, l), math.Max(fast, m)
		}
		left += float64(room * r.grows(slow))
		sure += float64(room * r.grows(fast))
	}
	return left, sure
}

// holdsApart lists the pieces of one body with two walls that reach from one to the other.
func (r *run) holdsApart(walls [2]int, dir r3.Vec, width float64) []int {
	if walls[0] == walls[1] {
		return walls[:1]
	}
	span := func(i int) (lo, hi float64) {
		b := r.m.Pieces[i].Body
		return b.Support(dir.Neg()).Dot(dir), b.Support(dir).Dot(dir)
	}
	var out []int
	for i := range r.m.Pieces {
		lo, hi := span(i)
		if r.m.Rigid[i] != r.m.Rigid[walls[0]] || r.m.Pieces[i].Part.Shape == toy.Rod || hi-lo < width {
			continue
		}
		reaches := true
		for _, w := range walls {
			l, h := span(w)
			reaches = reaches && i != w && lo <= h+assembly.GlueMost && hi >= l-assembly.GlueMost
		}
		if reaches {
			out = append(out, i)
		}
	}
	return out
}

// stiff is the play up to which a joint counts as drawn without any, to stay where it is
// put by friction (common practice, no source).
const stiff = 0.1

// slidingRoom is the play of a saddle or slot at the damp end.
func (r *run) slidingRoom(s assembly.Saddle) []room {
	b, ok := r.within(s.A, s.B, s.Dir)
	if !ok || b.slack <= stiff {
		return nil // fit.dowel says that nothing holds it, or that it does not slide
	}
	left, sure := r.roomWithin(b, s.Dir)
	p, q := r.m.Pieces[s.A[0]], r.m.Pieces[s.B[0]]
	return []room{{about: p.ID + "~" + q.ID, what: p.ID + " on " + q.ID, left: left, sure: sure,
		places: []Place{r.place(s.A[0], "", p.Body.Bounds().Center(), s.At)}}}
}

// hingeRoom is the play along its pin of what swings between two walls, or straddles what
// it swings about. One drawn without play is meant to be stiff.
func (r *run) hingeRoom(h assembly.Hinge) []room {
	moving, ok := r.m.Moving(h)
	if !ok {
		return nil // move.hinge says so
	}
	b, ok := r.within(moving, r.linked(h.Pin, r.others(moving)), h.Dir)
	if !ok || b.slack <= stiff {
		return nil
	}
	left, sure := r.roomWithin(b, h.Dir)
	in, out := r.m.Pieces[b.in[0]], r.m.Pieces[b.out[0]]
	return []room{{about: h.Name + " (sides)", what: "the side play of " + h.Name + ", " + in.ID + " between the sides of " + out.ID, left: left, sure: sure,
		places: []Place{r.place(b.in[0], "", in.Body.Bounds().Center(), h.Spec.At), r.place(b.out[0], "", out.Body.Bounds().Center(), source0)},
		notes:  []string{r.len(b.slack) + " of play as made, both sides together, over " + r.len(b.width)}}}
}

// crossGrain minds glue lines in which wood is held across its grain over a wide span.
func (r *run) crossGrain() {
	worst := Finding{}
	found := false
	for _, g := range r.m.Glues {
		for _, i := range g.A {
			for _, j := range g.B {
				p, q := r.m.Pieces[i], r.m.Pieces[j]
				if r.panel(p) || r.panel(q) {
					continue
				}
				span, moves, at := r.crossed(p, q)
				if span <= crossMost || found && span <= worst.Value {
					continue
				}
				found = true
				worst = Finding{Check: "wood.season", About: p.ID + "~" + q.ID, Verdict: Mind, Value: span, Unit: "mm", Limit: crossMost, LimitOp: "<=", Source: practice, known: true,
					Says:   p.ID + " and " + q.ID + " are glued with their grain crossed over " + r.len(span) + ", and want to move " + r.len(moves) + " past each other in a year: the glue line cracks or the wood splits",
					Notes:  []string{"turn the grain of one of them, use plywood for one, or fasten the middle only"},
					Places: []Place{r.place(i, "", at, g.At), r.place(j, "", at, q.At)}}
			}
		}
	}
	if found {
		r.add(worst)
	}
}

func (r *run) panel(p *assembly.Piece) bool {
	st, _ := r.m.Toy.StockNamed(p.Part.Stock)
	w, _ := facts.Wood(st.Wood)
	return w.Kind == "panel"
}

// crossed returns the widest stretch of the faces in which two pieces meet along which
// the grain of one runs and that of the other does not, how much they move past each
// other there, and where.
func (r *run) crossed(p, q *assembly.Piece) (span, moves float64, at r3.Vec) {
	for _, u := range []r3.Vec{p.Pose.U, q.Pose.U} {
		a, b := p.Pose.U.Dot(u), q.Pose.U.Dot(u)
		if math.Abs(float64(a*a)-float64(b*b)) < 0.5 {
			continue
		}
		lo, hi, mid := contactSpan(p.Bored(), q.Bored(), u)
		if hi-lo > span {
			_, cp := r.grainOf(p).along(u)
			_, cq := r.grainOf(q).along(u)
			span, at = hi-lo, mid
			moves = float64(span * math.Abs(r.grows(cp)-r.grows(cq)))
		}
	}
	return span, moves, at
}

// alongMost is the sine of the angle at which a face still lies along a direction: 6
// degrees, less than any slope that a saw table is set to.
const alongMost = 0.1

// contactSpan returns how far the faces in which two bodies meet reach along a direction that
// lies in them, and the middle of that; nothing where they do not meet.
func contactSpan(a, b solid.Body, along r3.Vec) (lo, hi float64, mid r3.Vec) {
	lo, hi = math.Inf(1), math.Inf(-1)
	box := r3.EmptyBox()
	for t := range assembly.Touches(a, b) {
		if math.Abs(t.A.N.Dot(along)) > alongMost {
			continue
		}
		for _, s := range t.Shared {
			w := spaceOf(s, t.U, t.V, t.A)
			box = box.Add(w)
			d := w.Dot(along)
			lo, hi = math.Min(lo, d), math.Max(hi, d)
		}
	}
	if lo > hi {
		return 0, 0, r3.Vec{}
	}
	return lo, hi, box.Center()
}

// spaceOf lifts a point that flat has laid down back into its plane.
func spaceOf(s r2.Vec, u, v r3.Vec, p solid.Plane) r3.Vec {
	return u.Scale(s.X).Add(v.Scale(s.Y)).Add(p.N.Scale(p.D))
}

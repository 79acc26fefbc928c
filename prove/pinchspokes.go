package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// child.pinch for what turns and is open: the holes of a wheel, and what is left between its
// spokes, are carried past the edges of what stands behind them like the blades of shears. A
// finger that has gone through has to stay clear of every such edge.

// eye is an opening right through something that turns.
type eye struct {
	piece   int
	name    string // in words
	feature string
	at, dir r3.Vec    // its middle, and its axis
	half    float64   // of its length
	dia     float64   // the largest rod that goes through
	radii   []float64 // from the axis of the turning: where a rod of 5 mm goes through
}

// turnedBy is a motion about an axis, with what it carries.
type turnedBy struct {
	about, dir r3.Vec
	from, to   float64
	carries    map[int]bool
}

// eyes lists the openings of a piece that lie along the axis of a turning and take a finger's
// rod, one for each ring that they sweep. Whether they go right through, shears finds out.
func (r *run) eyes(piece int, t turnedBy, cuts []cutOpen) (out []eye) {
	takes, _ := gapLimits()
	p := r.m.Pieces[piece]
	add := func(e eye, line outline.Path, f r3.Pose, reach float64) {
		b := line.Bounds()
		m := r2.Vec{X: takes, Y: takes}
		s := r.section(f, 0, r2.Box{Min: b.Min.Sub(m), Max: b.Max.Add(m)}, nil)
		c, dia := s.largest(line, takes, reach)
		if dia < takes {
			return // filled, or too small
		}
		e.dia = dia
		e.at = f.Point(r3.Vec{X: c.X, Y: c.Y})
		arm := e.at.Sub(t.about)
		arm = arm.Sub(t.dir.Scale(arm.Dot(t.dir)))
		if arm.Len() <= dia/2 {
			return // the axis itself goes through it
		}
		u := arm.Unit()
		in := r2.Vec{X: u.Dot(f.U), Y: u.Dot(f.V)}
		rod := fingerHalf()
		e.radii = []float64{arm.Len() - s.slide(c, in.Neg(), rod, arm.Len()), arm.Len(), arm.Len() + s.slide(c, in, rod, reach)}
		for _, o := range out {
			if math.Abs(o.dia-e.dia) < tol.Touch && math.Abs(o.radii[0]-e.radii[0]) < tol.Touch && math.Abs(o.radii[2]-e.radii[2]) < tol.Touch {
				return // another of a ring
			}
		}
		out = append(out, e)
	}
	reach := math.Max(p.Made.Size.X, math.Max(p.Made.Size.Y, p.Made.Size.Z))
	for k := range p.Made.Bores {
		b := p.Bore(k)
		if b.Blind || 2*b.R < takes || b.Dir.Cross(t.dir).Len() > tol.Angle {
			continue
		}
		lo, hi, ok := r.m.Wood(assembly.Hole{Piece: piece, Bore: k}, b.Point, b.Dir)
		if !ok {
			continue
		}
		u, v := basis(b.Dir)
		f := r3.Pose{U: u, V: v, W: b.Dir, O: b.Point.Add(b.Dir.Scale((lo + hi) / 2))}
		add(eye{piece: piece, name: "the hole " + b.Name, feature: b.Name, dir: b.Dir, half: (hi - lo) / 2}, outline.Circle(r2.Vec{}, b.R), f, 2*b.R)
	}
	for _, o := range cuts {
		if o.piece != piece || o.spec != p.Made || o.frame.W.Cross(t.dir).Len() > tol.Angle {
			continue
		}
		f := o.frame
		f.O = f.O.Add(f.W.Scale((o.lo + o.hi) / 2))
		add(eye{piece: piece, name: "the " + o.word, feature: o.feature, dir: f.W, half: (o.hi - o.lo) / 2}, o.line, f, reach)
	}
	return out
}

// shear is a place where an opening passes an edge.
type shear struct {
	eye    eye
	edge   int     // the piece that has it
	gap    float64 // from the face of what turns to the edge
	at, to r3.Vec  // at the face, and at the edge
}

// shears looks for the closest edge that an opening passes with a finger in it.
func (r *run) shears(e eye, t turnedBy) (best shear, ok bool) {
	takes, clears := gapLimits()
	reach, rod := clears+takes, fingerHalf()
	arm := e.at.Sub(t.about)
	level := t.dir.Scale(arm.Dot(t.dir))
	out := arm.Sub(level).Unit()
	// what stands still and is near, others are left out of each look
	skip := map[int]bool{}
	box := r.m.Pieces[e.piece].Body.Bounds().Grow(reach + e.half)
	for i, q := range r.m.Pieces {
		if t.carries[i] || !q.Body.Bounds().Meets(box) {
			skip[i] = true
		}
	}
	if len(skip) == len(r.m.Pieces) {
		return best, false
	}
	type depth struct {
		d     float64
		piece int
		at    r3.Vec // at the face of what turns
		open  bool   // a finger comes in there from the other side
	}
	for _, rad := range e.radii {
		n := max(eyeLooks, int(math.Ceil((t.to-t.from)*rad/eyeStep)))
		for _, way := range []float64{1, -1} {
			side := e.dir.Scale(way)
			// what turns with it, such as a second wheel, may close the opening
			from := e.at.Add(out.Scale(rad - arm.Sub(level).Len()))
			if r.blocked(from, side, e.half+takes, t.carries) || r.blocked(from, side.Neg(), e.half+clears, t.carries) {
				continue
			}
			looks := make([]depth, n+1)
			for k := range looks {
				s, c := trig.Sincos(t.from + (t.to-t.from)*float64(k)/float64(n))
				d := out.Scale(c).Add(t.dir.Cross(out).Scale(s))
				face := t.about.Add(level).Add(side.Scale(e.half))
				l := depth{d: reach, piece: -1, at: face.Add(d.Scale(rad)), open: true}
				for _, aside := range []float64{-rod, 0, rod} { // over the thickness of a finger
					p := face.Add(d.Scale(rad + aside))
					if d, piece := r.meets(p, side, l.d, skip); piece >= 0 {
						l.d, l.piece = d, piece
					}
					back, _ := r.meets(p.Sub(side.Scale(2*e.half)), side.Neg(), clears, skip)
					l.open = l.open && back >= clears
				}
				looks[k] = l
			}
			whole := t.to-t.from >= 2*math.Pi-tol.Angle
			at := func(k int) (depth, bool) {
				if whole {
					k = (k + n) % n
				}
				if k < 0 || k > n {
					return depth{}, false
				}
				return looks[k], true
			}
			wide := int(math.Ceil(takes / ((t.to - t.from) * rad / float64(n)))) // a finger, in looks
			for k, m := range looks {
				if m.piece < 0 || m.d >= clears-tol.Touch || ok && m.d >= best.gap-tol.Touch {
					continue
				}
				for _, from := range []int{-1, 1} { // the side that the finger comes from
					in := true
					for j := 1; j <= wide && in; j++ {
						l, known := at(k + from*j)
						in = known && l.d >= m.d+takes && l.open
					}
					if in {
						best, ok = shear{e, m.piece, m.d, m.at, m.at.Add(side.Scale(m.d))}, true
					}
				}
			}
		}
	}
	return best, ok
}

// fingerHalf is half the rod of the clause, less what counts as touching.
func fingerHalf() float64 {
	takes, _ := gapLimits()
	return takes/2 - tol.Touch
}

const (
	// eyeStep is how far apart, along its way, an opening is looked through, and eyeLooks how
	// often at least: a recess that is looked into is known to be wide enough for a finger within
	// one step.
	eyeStep  = 0.5
	eyeLooks = 8
)

// blocked tells whether something that turns along lies in the way.
func (r *run) blocked(p, dir r3.Vec, limit float64, carries map[int]bool) bool {
	still := map[int]bool{}
	for i := range r.m.Pieces {
		if !carries[i] {
			still[i] = true
		}
	}
	d, _ := r.meets(p, dir, limit, still)
	return d < limit-tol.Touch
}

// spokes judges the openings of the wheels of an axle.
func (r *run) spokes(a assembly.Axle, cuts []cutOpen) {
	t := turnedBy{about: a.Centre, dir: a.Dir, to: 2 * math.Pi, carries: map[int]bool{a.Rod: true}}
	for _, side := range a.Wheels {
		for _, w := range side {
			t.carries[w] = true
		}
	}
	for i := range r.m.Pieces { // what is glued to them
		if r.m.Rigid[i] == r.m.Rigid[a.Rod] && !r.host(a, i) {
			t.carries[i] = true
		}
	}
	worst := map[int]int{}
	for _, side := range a.Wheels {
		for _, w := range side {
			for _, e := range r.eyes(w, t, cuts) {
				s, ok := r.shears(e, t)
				if !ok {
					continue
				}
				if at, ok := worst[s.edge]; ok { // the other wheel of the axle
					r.findings[at].Places = append(r.findings[at].Places, r.place(w, e.feature, s.at, a.Spec.At))
					continue
				}
				worst[s.edge] = len(r.findings)
				f := r.sheared(s, r.m.Pieces[a.Rod].ID+"~"+r.m.Pieces[s.edge].ID, "the wheel turns")
				if r.w.weigh().mass >= facts.Child(facts.HingeWeight).Value && e.dia >= r.tip() {
					f.Verdict = Fails
				}
				r.add(f)
			}
		}
	}
}

// sheared is the finding about an opening that passes an edge: minded, unless the caller knows better.
func (r *run) sheared(s shear, about, as string) Finding {
	takes, clears := gapLimits()
	f := Finding{Check: "child.pinch", About: about, Verdict: Mind, Value: s.gap, Unit: "mm", Limit: clears, Source: pinchSource + ", spokes past a frame from memory", known: true, Margin: -math.Min(clears-s.gap, s.eye.dia-takes+tol.Touch),
		Says:   fmt.Sprintf("a finger goes through %s of %s, %s wide, and the edge of %s shears past it %s away as %s; make it under %s, close it, or leave %s behind it", s.eye.name, r.m.Pieces[s.eye.piece].ID, r.len(rounded(s.eye.dia)), r.m.Pieces[s.edge].ID, r.len(rounded(s.gap)), as, inMM(takes), inMM(clears)),
		Notes:  []string{screening},
		Places: []Place{r.place(s.eye.piece, s.eye.feature, s.at, source0), r.place(s.edge, "", s.to, source0)}}
	if s.eye.dia < r.tip() {
		f.Notes = append([]string{"the clause speaks of a rod of " + inMM(takes) + "; the fingertips of this age are " + inMM(r.tip()) + " thick"}, f.Notes...)
	}
	return f
}

package prove

import (
	"fmt"
	"math"
	"sort"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

const (
	// jawStep is by how much a gap may change from one look to the next, and jawApart
	// how far apart the points are that are followed: a rod of 5 mm is between two.
	jawStep, jawApart = 1.0, 4.0
	// jawLook is how far around a point is looked.
	jawLook = 25.0
	// jawTries is for how many of the worst gaps it is asked whether a rod comes there.
	jawTries = 24
)

// jaw is a gap that closes as something swings.
type jaw struct {
	piece, against int
	open, shut     float64 // widest before it closes, and where it is narrowest
	at             float64 // the swing where a finger is in it, radians
	way            float64 // +1 or -1: the sense of the swing that closes it
	p, across      r3.Vec  // middle of the gap there, and the direction over it
	on, onto       r3.Vec  // its two sides, on the toy as it is drawn
	falls          bool    // by its own weight
}

// jaws looks for gaps that the swing of a hinge closes on a finger, and returns the
// weight and the name of its lighter side, and what a hand on it does.
func (r *run) jaws(hinge int, points jawPoints) (kg float64, who string, most lever) {
	h := &r.m.Hinges[hinge]
	moving, ok := r.m.Moving(*h)
	if !ok {
		r.add(Finding{Check: "child.pinch", About: h.Name, Verdict: CannotTell, Unit: "mm", LimitOp: ">=", Source: pinchSource, known: true, Margin: -tol.Touch, Notes: []string{screening},
			Says: h.Name + " cannot be turned alone, so its gaps cannot be followed", Places: []Place{r.place(h.Pin, "", h.Centre, h.Spec.At)}})
		return 0, "", most
	}
	fixed := r.linked(h.Pin, r.others(moving))
	// The lighter side is the one that moves.
	kg, centre := r.massOf(moving)
	side, sense, lighter := r.thing([]int{h.Runs[0].Piece}), 1.0, moving
	if m, c := r.massOf(fixed); m < kg {
		kg, centre, side, sense, lighter = m, c, r.thing([]int{h.Fixed[0].Piece}), -1, fixed
	}
	heavy := kg >= facts.Child(facts.HingeWeight).Value
	if !heavy && math.Abs(h.Dir.Z) > pushLeast { // nobody pushes it against the floor
		return kg, side, most
	}
	ways := r.swings(hinge)
	w := &jawWatch{r: r, h: h, from: -ways[1].angle, to: ways[0].angle, in: map[int]bool{}, points: points}
	for _, i := range moving {
		w.in[i] = true
	}
	w.watch(moving, fixed, 1)
	w.watch(fixed, moving, -1)
	// Which of them its own weight closes: its moment about the pin, as it has swung.
	arm := centre.Sub(h.Centre)
	for k := range w.found {
		j := &w.found[k]
		turned := r3.Turn(r3.Vec{}, h.Dir, float64(j.at*sense)).Dir(arm)
		moment := float64(h.Dir.Dot(turned.Cross(r3.Z.Neg())) * sense) // of the weight, in the sense of the swing
		j.falls = moment*j.way > fallLeast*arm.Len()
	}
	if heavy {
		r.report(h, w, kg, side, func(j jaw) lever { return r.leverOf(h, lighter, j, sense) })
		return kg, side, most
	}
	return kg, side, r.nutcracker(h, w, lighter, side, sense)
}

// fallLeast is the least moment, as a share of that of the weight level with the pin,
// that counts as falling shut: the sine of 3 degrees, so that an upright pin does not.
const fallLeast = 0.05

// report files the worst gap that a rod comes into.
func (r *run) report(h *assembly.Hinge, w *jawWatch, kg float64, side string, push func(jaw) lever) {
	takes, clears := gapLimits()
	// The worst first: of gaps that close about as far, those that most points saw,
	// and of these the widest.
	saw := map[[2]int]int{}
	pair := func(j jaw) [2]int { return [2]int{min(j.piece, j.against), max(j.piece, j.against)} }
	for _, j := range w.found {
		saw[pair(j)]++
	}
	sort.SliceStable(w.found, func(a, b int) bool {
		x, y := w.found[a], w.found[b]
		if x.falls != y.falls {
			return x.falls
		}
		if r, s := math.Round(x.shut/jawStep), math.Round(y.shut/jawStep); r != s {
			return r < s
		}
		if r, s := saw[pair(x)], saw[pair(y)]; r != s {
			return r > s
		}
		return page(x.open) > page(y.open)
	})
	for k, j := range w.found {
		if k == jawTries {
			break
		}
		pose := r3.Turn(h.Centre, h.Dir, j.at)
		if !r.reachable(j.p, j.across, takes, w.in, pose) {
			continue
		}
		f := Finding{Check: "child.pinch", About: h.Name, Verdict: Mind, Value: j.shut, Unit: "mm", Limit: clears, Source: pinchSource, known: true, Margin: math.Max(j.shut-clears, takes-j.open) - tol.Touch, Notes: []string{fmt.Sprintf("%s weighs %.0f g: from 250 g on its gaps count", side, kg*1000), screening},
			Says:   fmt.Sprintf("%s: a finger goes between %s and %s, and the gap there closes to %s as it swings; make %s lighter than 250 g, or stop it where %s are left", h.Name, r.m.Pieces[j.piece].ID, r.m.Pieces[j.against].ID, inMM(math.Round(j.shut*10)/10), side, inMM(clears)),
			Places: []Place{r.place(j.piece, "", j.on, source0), r.place(j.against, "", j.onto, source0)}}
		if j.falls {
			f.Verdict = Fails
			f.Notes[0] = fmt.Sprintf("%s weighs %.0f g and falls shut: from 250 g on its gaps count", side, kg*1000)
		}
		if l := push(j); l.arm > 0 {
			f.Notes = append([]string{f.Notes[0], r.leverSays(l)}, f.Notes[1:]...)
		}
		r.add(f)
		return
	}
}

// jawWatch follows points through a swing.
type jawWatch struct {
	r        *run
	h        *assembly.Hinge
	from, to float64
	in       map[int]bool // the pieces that the swing carries
	points   jawPoints
	found    []jaw
}

// watch follows the arrises of some pieces as they swing against others. sense is -1
// where the others swing: then the points go the other way about.
func (w *jawWatch) watch(points, others []int, sense float64) {
	box := r3.EmptyBox()
	for _, j := range others {
		box = box.Union(w.r.m.Pieces[j].Body.Bounds())
	}
	for _, i := range points {
		p := w.r.m.Pieces[i]
		var near []int
		bodies := map[int]solid.Body{}
		for _, j := range others {
			if !w.r.fitted(i, j) {
				near = append(near, j)
				bodies[j] = w.r.against(j, i)
			}
		}
		for _, q := range w.points.of(p.Made) {
			w.follow(i, p.Pose.Point(q), near, bodies, box, sense)
		}
	}
}

// jawPoints keeps what sparse finds: pieces of one part share it, for all hinges.
type jawPoints map[*assembly.Made][]r3.Vec

func (k jawPoints) of(m *assembly.Made) []r3.Vec {
	ps, ok := k[m]
	if !ok {
		ps = sparse(m.Filled)
		k[m] = ps
	}
	return ps
}

// sparse returns points along the arrises of a solid, none nearer to another than
// half of jawApart.
func sparse(b solid.Body) (out []r3.Vec) {
	const apart = jawApart / 2
	type cell [3]int
	in := map[cell][]r3.Vec{} // those found so far, by cells as wide as they are apart
	of := func(p r3.Vec) cell {
		return cell{int(math.Floor(p.X / apart)), int(math.Floor(p.Y / apart)), int(math.Floor(p.Z / apart))}
	}
	lone := func(q r3.Vec) bool {
		c := of(q)
		for k := 0; k < 27; k++ {
			for _, o := range in[cell{c[0] + k%3 - 1, c[1] + k/3%3 - 1, c[2] + k/9 - 1}] {
				if o.Sub(q).Len() < apart {
					return false
				}
			}
		}
		return true
	}
	for _, e := range solid.FeatureEdges(b) {
		d := e.B.Sub(e.A)
		n := int(math.Ceil(d.Len() / jawApart))
		for k := 0; k <= n; k++ {
			if q := e.A.Add(d.Scale(float64(k) / float64(n))); lone(q) {
				out = append(out, q)
				in[of(q)] = append(in[of(q)], q)
			}
		}
	}
	return out
}

// look is one gap of a point on its way.
type look struct {
	t, d    float64
	against int
	p, q    r3.Vec // the point and what is nearest to it, as the others lie
}

// follow steps a point through the swing and keeps the worst of its gaps that close.
func (w *jawWatch) follow(piece int, p r3.Vec, near []int, bodies map[int]solid.Body, box r3.Box, sense float64) {
	takes, clears := gapLimits()
	arm := p.Sub(w.h.Centre)
	speed := math.Max(1, arm.Sub(w.h.Dir.Scale(arm.Dot(w.h.Dir))).Len()) // mm for a radian
	var looks []look
	for t := w.from; ; {
		at := r3.Turn(w.h.Centre, w.h.Dir, float64(t*sense)).Point(p)
		l := look{t: t, d: jawLook, against: -1, p: at}
		dot := r3.Around(at)
		if box.Distance(dot) < jawLook {
			for _, j := range near {
				if w.r.m.Pieces[j].Body.Bounds().Distance(dot) >= l.d {
					continue
				}
				if d, q := toPoint(bodies[j], at, l.d); d < l.d {
					l.d, l.q, l.against = d, q, j
				}
			}
		} else {
			l.d = box.Distance(dot)
		}
		looks = append(looks, l)
		if t >= w.to {
			break
		}
		t = math.Min(w.to, t+math.Max(jawStep, l.d-clears)/speed)
	}
	for _, way := range []float64{1, -1} {
		n := len(looks)
		open, was := 0.0, -1 // the widest so far, and where the last finger went in
		for k := 0; k < n; k++ {
			l := looks[k]
			if way < 0 {
				l = looks[n-1-k]
			}
			if open >= takes && l.against >= 0 && l.d < math.Min(open, clears)-jawStep && was >= 0 {
				in := looks[was]
				w.keep(piece, p, in, l, open, way, sense)
			}
			if l.d >= takes && l.d < clears && l.against >= 0 {
				was = k
				if way < 0 {
					was = n - 1 - k
				}
			}
			open = math.Max(open, l.d)
		}
	}
}

// keep notes a gap, one for each piece, what it closes on and the way.
func (w *jawWatch) keep(piece int, drawn r3.Vec, in, shut look, open, way, sense float64) {
	j := jaw{piece: piece, against: in.against, open: open, shut: shut.d, at: in.t, way: way, on: drawn, onto: in.q}
	j.p = in.p.Add(in.q).Scale(0.5)
	j.across = in.q.Sub(in.p).Unit()
	if sense < 0 { // what was followed stands still, and the rest has swung
		m := r3.Turn(w.h.Centre, w.h.Dir, in.t)
		j.p, j.across = m.Point(j.p), m.Dir(j.across)
	}
	for k := range w.found {
		o := &w.found[k]
		if o.piece == j.piece && o.against == j.against && o.way == j.way && o.p.Sub(j.p).Len() < 2*jawApart {
			if j.shut < o.shut {
				*o = j
			}
			return
		}
	}
	w.found = append(w.found, j)
}

// toPoint is the distance of a body from a point, 0 inside, and its nearest place, within a limit.
func toPoint(b solid.Body, p r3.Vec, limit float64) (float64, r3.Vec) {
	best, at := limit, p
	dot := r3.Around(p)
	for i := range b.Pieces {
		c := &b.Pieces[i]
		if c.Bounds().Distance(dot) >= best {
			continue
		}
		far := math.Inf(-1)
		for k := range c.Faces {
			far = math.Max(far, c.Faces[k].Plane.Side(p))
		}
		if far <= 0 {
			return 0, p
		}
		if far >= best {
			continue // a plane of the piece is as far away
		}
		for k := range c.Faces {
			f := &c.Faces[k]
			if side := f.Plane.Side(p); side <= 0 || side >= best {
				continue
			}
			q := toFace(c, f, p)
			if d := q.Sub(p).Len(); d < best {
				best, at = d, q
			}
		}
	}
	return best, at
}

// toFace is the place of a face that is nearest to a point.
func toFace(c *solid.Convex, f *solid.Face, p r3.Vec) r3.Vec {
	n := f.Plane.N
	foot := p.Sub(n.Scale(f.Plane.Side(p)))
	best, at, in := math.Inf(1), foot, true
	for i, k := range f.Loop {
		a, b := c.V[k], c.V[f.Loop[(i+1)%len(f.Loop)]]
		d := b.Sub(a)
		if n.Cross(d).Dot(foot.Sub(a)) >= 0 {
			continue
		}
		in = false
		t := 0.0
		if l := d.Dot(d); l > 0 {
			t = math.Min(1, math.Max(0, foot.Sub(a).Dot(d)/l))
		}
		q := a.Add(d.Scale(t))
		if l := q.Sub(foot).Len(); l < best {
			best, at = l, q
		}
	}
	if in {
		return foot
	}
	return at
}

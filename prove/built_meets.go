package prove

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// How deep two pieces are in each other stays nought however far they part, and two that touch on
// faces that look different ways do not part at all while one of them touches. So in a build each face
// that touches as drawn is followed by itself, through nought, at points that go with the wood.

// meets is where two pieces touch as drawn on faces that look one way.
type meets struct {
	n  r3.Vec // out of the first piece, in its frame
	at []meet
}

// meet is a point of both faces.
type meet struct {
	at   r3.Vec     // in the frame of the first piece
	wood [2]float64 // how far in from there it is surely still in each of them
}

// meetsOf finds where two pieces touch. Those of which one is fitted into the other are for the checks
// of fits.
func (r *run) meetsOf(i, j int) (out []meets) {
	for _, k := range r.w.pairs.fits[i] {
		if k == j {
			return nil
		}
	}
	p, q := r.m.Pieces[i], r.m.Pieces[j]
	back := p.Pose.Inverse()
	for _, m := range solid.Meetings(p.Body, q.Body, tol.Touch) {
		f := meets{n: back.Dir(m.N)}
		for _, v := range m.At {
			x := meet{at: back.Point(v)}
			var ok [2]bool
			for k, s := range []struct {
				body solid.Body
				in   r3.Vec
			}{{p.Body, m.N.Neg()}, {q.Body, m.N}} {
				x.wood[k], ok[k] = s.body.Leaves(v.Add(s.in.Scale(2*tol.Touch)), s.in)
				x.wood[k] = math.Min(nearBuilt, x.wood[k]/2)
			}
			if ok[0] && ok[1] {
				f.at = append(f.at, x)
			}
		}
		if len(f.at) > 0 {
			out = append(out, f)
		}
	}
	return out
}

// parting is how far the faces of two pieces are apart in a build, negative where they are in each
// other, at the point where they are least; nought, as drawn, where they have come to miss each other.
func (r *run) parting(n near, f meets) float64 {
	p, q := r.m.Pieces[n.i], r.m.Pieces[n.j]
	dir, least := p.Pose.Dir(f.n), math.Inf(1)
	for _, x := range f.at {
		v := p.Pose.Point(x.at)
		mine, ok := p.Body.Leaves(v.Sub(dir.Scale(x.wood[0])), dir)
		if !ok {
			continue
		}
		its, ok := q.Body.Leaves(v.Add(dir.Scale(x.wood[1])), dir.Neg())
		if !ok {
			continue
		}
		if gap := float64(x.wood[1]-its) - float64(mine-x.wood[0]); gap > -nearBuilt { // otherwise it has come beside what stands up there
			least = math.Min(least, gap)
		}
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return math.Min(least, nearBuilt)
}

// lying tells how deep two pieces that touch as drawn are in each other, and the margins of the faces
// on which they do, of which the least is on that side of nought on which the depth is of handFit.
func (r *run) lying(n near) (depth float64, parts []float64) {
	p, q := r.m.Pieces[n.i], r.m.Pieces[n.j]
	least := 0
	for k, f := range n.faces {
		apart := r.parting(n, f)
		depth = math.Max(depth, -apart)
		parts = append(parts, handFit+apart)
		if parts[k] < parts[least] {
			least = k
		}
	}
	switch {
	case depth > handFit: // whatever else there is
		return depth, parts
	case len(n.faces) > 0 && !solid.Penetrates(p.Body, q.Body, handFit): // with all holes filled
		return depth, parts
	}
	depth = math.Max(depth, r.w.entered.of([2]int{n.i, n.j}, func() float64 { return r.entered(n.i, n.j) }))
	if len(parts) > 0 && depth > handFit {
		parts[least] = handFit - depth
	}
	return depth, parts
}

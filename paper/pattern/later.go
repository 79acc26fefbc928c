package pattern

import (
	"math"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
	"dryfit/toy"
)

// A part that goes into a glue-up may be sawn and drilled again once the glue has
// set. Its own pattern shows those lines dashed: not now.

// laterOn returns what is sawn or drilled through a part after it is glued up, in
// the coordinates of one of its sides, for the sides that look along that work. It
// is false where the pieces of the part do not all get the same: then the pattern of
// the glue-up alone can say it.
func laterOn(m *assembly.Model, p *toy.Part, side toy.Side) ([]draw.Run, bool) {
	var first []draw.Run
	any := false
	for _, q := range piecesOf(m, p) {
		runs := laterOf(m, q, side)
		if any && !sameRuns(first, runs) {
			return nil, false
		}
		first, any = runs, true
	}
	return first, true
}

// laterOf is laterOn for one piece.
func laterOf(m *assembly.Model, q *assembly.Piece, side toy.Side) (out []draw.Run) {
	for _, u := range m.GlueUps {
		if u.ID != q.GlueUp || len(u.Pieces) == 0 {
			continue
		}
		base := m.Pieces[u.Pieces[0]]
		// from the frame of the glue-up to the side of the piece
		to := assembly.SideFrame(side, q.Made.Size).Then(q.Pose).Then(base.Pose.Inverse()).Inverse()
		for _, w := range u.Spec.Work {
			at, runs := throughWork(w)
			if len(runs) == 0 {
				continue
			}
			f := assembly.SideFrame(at, base.Made.Size).Then(to)
			if math.Abs(f.W.Z) < 1-tol.Clip {
				continue
			}
			move := inPlane(f)
			for _, r := range runs {
				out = append(out, move.Run(r))
			}
		}
	}
	return out
}

// throughWork returns the side and the lines of work that goes right through.
func throughWork(w toy.Work) (toy.Side, []draw.Run) {
	switch w := w.(type) {
	case toy.Saw:
		return w.Side, []draw.Run{runOf(w.Outline)}
	case toy.Cut:
		if w.Depth == 0 {
			return w.Side, []draw.Run{runOf(w.Outline)}
		}
	case toy.Drill:
		if w.Depth == 0 && w.Lean == 0 {
			var runs []draw.Run
			for _, h := range w.Holes {
				runs = append(runs, draw.Circle(r2.Vec{X: h.At.X.MM(), Y: h.At.Y.MM()}, w.Dia.MM()/2))
			}
			return w.Side, runs
		}
	}
	return 0, nil
}

func sameRuns(a, b []draw.Run) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if len(a[i].Segs) != len(b[i].Segs) || a[i].From.Sub(b[i].From).Len() > tol.Touch {
			return false
		}
		for k := range a[i].Segs {
			if a[i].Segs[k].To.Sub(b[i].Segs[k].To).Len() > tol.Touch {
				return false
			}
		}
	}
	return true
}

// inWood returns what of the runs lies inside wood, and not on its edge.
func inWood(runs []draw.Run, wood draw.Run) (out []draw.Run) {
	for _, r := range runs {
		for _, part := range within(r, wood) {
			if part.Closed {
				out = append(out, part)
				continue
			}
			// stretches along the edge of the blank are no new line
			open := draw.Run{}
			from, started := part.From, false
			for _, s := range part.Segs {
				if s.Sweep == 0 && onEdge(wood, from, s.To) {
					if started {
						out = append(out, open)
					}
					started = false
				} else {
					if !started {
						open, started = draw.Run{From: from}, true
					}
					open.Segs = append(open.Segs, s)
				}
				from = s.To
			}
			if started {
				out = append(out, open)
			}
		}
	}
	return out
}

// onEdge tells whether a straight line runs along the edge of a rectangle.
func onEdge(wood draw.Run, a, b r2.Vec) bool {
	box := wood.Bounds()
	near := func(x, y float64) bool { return math.Abs(x-y) <= tol.Touch }
	return near(a.X, b.X) && (near(a.X, box.Min.X) || near(a.X, box.Max.X)) ||
		near(a.Y, b.Y) && (near(a.Y, box.Min.Y) || near(a.Y, box.Max.Y))
}

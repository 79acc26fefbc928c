package pattern

import (
	"iter"
	"math"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
	"dryfit/toy"
)

// The side of a glue-up's first piece is often covered by another piece, and work
// may lie beyond it. So the pattern shows in pencil what the maker then sees: the
// outlines of the pieces that lie outermost on that side.

// outermost returns the outlines of the pieces of a glue-up that reach farthest
// out on a side of its first piece, in the coordinates of that side. The first
// piece itself is left out: its blank is drawn anyway.
func outermost(m *assembly.Model, first int, side toy.Side) []draw.Run {
	var out []draw.Run
	far := math.Inf(-1)
	for i, to := range gluedOn(m, first, side) {
		p := m.Pieces[i]
		reach := math.Inf(-1)
		for _, c := range corners(p.Made.Size) {
			reach = math.Max(reach, to.Point(c).Z)
		}
		if reach < far-tol.Touch {
			continue
		}
		if reach > far+tol.Touch {
			far, out = reach, nil
		}
		if i != first {
			out = append(out, seenFrom(p, to)...)
		}
	}
	return out
}

// behind tells whether other pieces of a glue-up reach further out on a side than its
// first piece, so that it is not seen there.
func behind(m *assembly.Model, first int, side toy.Side) bool {
	for i, to := range gluedOn(m, first, side) {
		for _, c := range corners(m.Pieces[i].Made.Size) {
			if to.Point(c).Z > tol.Touch {
				return true
			}
		}
	}
	return false
}

// gluedOn gives the pieces of a glue-up in order, each with the way from its frame to a side
// of the first piece.
func gluedOn(m *assembly.Model, first int, side toy.Side) iter.Seq2[int, r3.Pose] {
	base := m.Pieces[first]
	frame := assembly.SideFrame(side, base.Made.Size)
	return func(yield func(int, r3.Pose) bool) {
		for i, p := range m.Pieces {
			if p.GlueUp == base.GlueUp && !yield(i, p.Pose.Then(base.Pose.Inverse()).Then(frame.Inverse())) {
				return
			}
		}
	}
}

// extent returns the box of all the wood of a glue-up as seen on a side of its
// first piece.
func extent(m *assembly.Model, first int, side toy.Side) r2.Box {
	box := r2.EmptyBox()
	for i, to := range gluedOn(m, first, side) {
		for _, c := range corners(m.Pieces[i].Made.Size) {
			q := to.Point(c)
			box = box.Add(r2.Vec{X: q.X, Y: q.Y})
		}
	}
	return box
}

func corners(size r3.Vec) (out [8]r3.Vec) {
	for i := range out {
		out[i] = r3.Vec{X: size.X * float64(i&1), Y: size.Y * float64(i>>1&1), Z: size.Z * float64(i>>2)}
	}
	return out
}

// inPlane is the move of the paper that a frame is, which lies in the plane of the paper or
// is turned over in it.
func inPlane(f r3.Pose) draw.Transform {
	move := draw.Transform{Shift: r2.Vec{X: f.O.X, Y: f.O.Y}, Mirror: f.W.Z < 0, Turn: math.Atan2(f.U.Y, f.U.X)}
	if move.Mirror { // x goes the other way before it is turned
		move.Turn = math.Atan2(-f.U.Y, -f.U.X)
	}
	return move
}

// seenFrom returns the lines of a piece as seen along W of the frame that to
// leads to: what it is sawn to from that side or the one across, else its blank,
// with what is cut out of it. Of a piece that lies aslant it returns nothing.
func seenFrom(p *assembly.Piece, to r3.Pose) []draw.Run {
	var saws, cuts []draw.Run
	var blank draw.Run
	for side := toy.Top; side <= toy.Back; side++ {
		f := assembly.SideFrame(side, p.Made.Size).Then(to)
		if math.Abs(f.W.Z) < 1-tol.Clip {
			continue
		}
		move := inPlane(f)
		v := (&speaker{}).viewOf(side, p.Part.Shape, p.Made.Size, 0, p.Part.Work)
		blank = move.Run(v.blank)
		for _, s := range v.saws {
			saws = append(saws, move.Run(s))
		}
		for _, c := range v.cuts {
			if c.depth == 0 {
				cuts = append(cuts, move.Run(c.run))
			}
		}
	}
	if len(saws) == 0 && len(blank.Segs) > 0 {
		saws = []draw.Run{blank}
	}
	return append(saws, cuts...)
}

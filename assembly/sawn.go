package assembly

import (
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure/source"
	"dryfit/toy"
)

// Sawn is one outline that is sawn right through.
type Sawn struct {
	Work    int // index of the work
	Word    string
	Side    toy.Side
	Line    outline.Path
	Outside bool    // the wood stays outside: a cut-out, cut-in or notch
	Pierced bool    // it touches no border, so the blade goes in through a hole
	Depth   float64 // of the wood
	At      source.Range
}

// SawnThrough lists what is sawn through on a blank of that size, reach being all the wood there
// is in its frame. What is cut to a depth is chiselled or routed: no saw limits it.
func SawnThrough(work []toy.Work, size r3.Vec, reach r3.Box) (out []Sawn) {
	for k, w := range work {
		s := Sawn{Work: k}
		var o toy.Outline
		switch w := w.(type) {
		case toy.Saw:
			s.Word, s.Side, o, s.At = "saw", w.Side, w.Outline, w.At
		case toy.Cut:
			if w.Depth > 0 {
				continue
			}
			s.Word, s.Side, o, s.At, s.Outside = w.Word, w.Side, w.Outline, w.At, true
		default:
			continue
		}
		line, err := Line(o)
		if err != nil {
			continue // Derive has refused it
		}
		s.Line, s.Depth = line, SideFrame(s.Side, size).Inverse().Box(reach).Size().Z
		out = append(out, s)
	}
	for i := range out {
		s := &out[i]
		box := SideFrame(s.Side, size).Inverse().Box(reach)
		l := s.Line.Bounds()
		s.Pierced = s.Outside && l.Min.X > box.Min.X+tol.Touch && l.Min.Y > box.Min.Y+tol.Touch && l.Max.X < box.Max.X-tol.Touch && l.Max.Y < box.Max.Y-tol.Touch
		for _, o := range out {
			if s.Pierced && !o.Outside && o.Side == s.Side {
				s.Pierced = s.Line.Inside(o.Line)
			}
		}
	}
	return out
}

// SawnRound is the outline of a sawn disc; its Work is -1.
func SawnRound(p *toy.Part, size r3.Vec) Sawn {
	mid := r2.Vec{X: size.X / 2, Y: size.Y / 2}
	return Sawn{Work: -1, Word: "disc", Side: toy.Top, Line: outline.Circle(mid, size.X/2), Depth: size.Z, At: p.At}
}

// Reach returns all the wood of a glue-up in the frame of its first piece.
func (m *Model) Reach(g GlueUp) r3.Box {
	out := r3.EmptyBox()
	back := m.Pieces[g.Pieces[0]].Pose.Inverse()
	for _, i := range g.Pieces {
		p := m.Pieces[i]
		out = out.Union(p.Pose.Then(back).Box(r3.Box{Max: p.Made.Size}))
	}
	return out
}

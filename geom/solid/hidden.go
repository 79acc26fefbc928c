package solid

import (
	"math"
	"sort"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// View is a set of bodies seen from one direction, ready to be asked what hides
// a line. It is not for use by several goroutines at once.
type View struct {
	toward, u, v r3.Vec
	trees        [][]shade
	bodies       []Body
	poly, swap   []spot
}

// shade is where a node of a box tree lies on the picture and how far it
// reaches towards the eye.
type shade struct{ u0, u1, v0, v1, front float64 }

// spot is a point of the strip that a line sweeps towards the eye: t along the
// line, s towards the eye.
type spot struct{ t, s float64 }

// Span is a stretch of a line, 0 at its start and 1 at its end.
type Span struct{ From, To float64 }

// NewView looks at the bodies from afar; toward points from them to the eye.
func NewView(toward r3.Vec, bodies ...Body) *View {
	w := &View{toward: toward.Unit(), bodies: bodies}
	w.u = r3.X
	if math.Abs(w.toward.X) > 0.7 {
		w.u = r3.Y
	}
	w.u = w.u.Sub(w.toward.Scale(w.u.Dot(w.toward))).Unit()
	w.v = w.toward.Cross(w.u)
	for _, b := range bodies {
		t := make([]shade, len(b.tree))
		for i := len(b.tree) - 1; i >= 0; i-- {
			n := &b.tree[i]
			if n.piece >= 0 {
				t[i] = w.shade(b.Pieces[n.piece].V...)
				continue
			}
			x, y := t[n.left], t[n.right]
			t[i] = shade{math.Min(x.u0, y.u0), math.Max(x.u1, y.u1), math.Min(x.v0, y.v0), math.Max(x.v1, y.v1), math.Max(x.front, y.front)}
		}
		w.trees = append(w.trees, t)
	}
	return w
}

func (w *View) shade(vs ...r3.Vec) shade {
	inf := math.Inf(1)
	s := shade{inf, -inf, inf, -inf, -inf}
	for _, p := range vs {
		u, v := p.Dot(w.u), p.Dot(w.v)
		s.u0, s.u1 = math.Min(s.u0, u), math.Max(s.u1, u)
		s.v0, s.v1 = math.Min(s.v0, v), math.Max(s.v1, v)
		s.front = math.Max(s.front, p.Dot(w.toward))
	}
	return s
}

// Hidden returns the stretches of an edge of one of the bodies that are hidden,
// in order. The edge is held off its own faces by tol.Lift. Stretches shorter
// than tol.Page, hidden or seen, are not told apart.
func (w *View) Hidden(e Edge) []Span {
	lift := e.N[0].Add(e.N[1]).Unit().Scale(tol.Lift)
	return w.HiddenLine(e.A.Add(lift), e.B.Add(lift))
}

// HiddenLine is Hidden for any line from a to b; a line in a face counts as
// hidden where it is seen edge-on.
func (w *View) HiddenLine(a, b r3.Vec) []Span {
	var out []Span
	here := w.shade(a, b)
	back := math.Min(a.Dot(w.toward), b.Dot(w.toward))
	for k := range w.bodies {
		tree := w.bodies[k].tree
		if len(tree) == 0 {
			continue
		}
		var walk func(i int32)
		walk = func(i int32) {
			s := &w.trees[k][i]
			if s.u0 > here.u1+tol.Clip || here.u0 > s.u1+tol.Clip || s.v0 > here.v1+tol.Clip || here.v0 > s.v1+tol.Clip || s.front < back {
				return
			}
			if p := tree[i].piece; p >= 0 {
				if sp, ok := w.behind(a, b, &w.bodies[k].Pieces[p], s.front-back+1); ok {
					out = append(out, sp)
				}
				return
			}
			walk(tree[i].left)
			walk(tree[i].right)
		}
		walk(0)
	}
	return join(out, tol.Page/math.Max(b.Sub(a).Len(), tol.Page))
}

// behind returns the stretch of ab that c hides: the points a + t(b-a) + s·toward
// of c with 0 <= t <= 1 and s from ten tol.Lift on are a convex polygon in t and
// s, cut out by the faces; its extent in t is exact.
func (w *View) behind(a, b r3.Vec, c *Convex, far float64) (Span, bool) {
	near := 10 * tol.Lift
	poly := append(w.poly[:0], spot{0, near}, spot{1, near}, spot{1, far}, spot{0, far})
	other := w.swap[:0]
	ab := b.Sub(a)
	for i := range c.Faces {
		p := &c.Faces[i].Plane
		kt, ks := p.N.Dot(ab), p.N.Dot(w.toward)
		d := p.D - p.N.Dot(a) + tol.Clip // a hair wide, so that light does not pass through seams
		other = other[:0]
		prev := poly[len(poly)-1]
		hp := float64(kt*prev.t) + float64(ks*prev.s) - d
		for _, q := range poly {
			hq := float64(kt*q.t) + float64(ks*q.s) - d
			if (hp < 0 && hq > 0) || (hp > 0 && hq < 0) {
				f := hp / (hp - hq)
				other = append(other, spot{prev.t + float64(f*(q.t-prev.t)), prev.s + float64(f*(q.s-prev.s))})
			}
			if hq <= 0 {
				other = append(other, q)
			}
			prev, hp = q, hq
		}
		poly, other = other, poly
		if len(poly) == 0 {
			break
		}
	}
	w.poly, w.swap = poly, other
	if len(poly) == 0 {
		return Span{}, false
	}
	s := Span{1, 0}
	for _, q := range poly {
		s.From, s.To = math.Min(s.From, q.t), math.Max(s.To, q.t)
	}
	return s, s.From < s.To
}

// join sorts and joins spans, dropping gaps and spans up to small.
func join(in []Span, small float64) []Span {
	sort.Slice(in, func(i, j int) bool {
		if in[i].From != in[j].From {
			return in[i].From < in[j].From
		}
		return in[i].To < in[j].To
	})
	out := in[:0]
	for _, s := range in {
		if n := len(out); n > 0 && s.From <= out[n-1].To+small {
			out[n-1].To = math.Max(out[n-1].To, s.To)
		} else {
			out = append(out, s)
		}
	}
	k := 0
	for _, s := range out {
		if s.From <= small {
			s.From = 0
		}
		if s.To >= 1-small {
			s.To = 1
		}
		if s.To-s.From > small {
			out[k] = s
			k++
		}
	}
	return out[:k]
}

// Seen returns what Hidden leaves.
func Seen(hidden []Span) []Span {
	var out []Span
	at := 0.0
	for _, h := range hidden {
		if h.From > at {
			out = append(out, Span{at, h.From})
		}
		at = h.To
	}
	if at < 1 {
		out = append(out, Span{at, 1})
	}
	return out
}

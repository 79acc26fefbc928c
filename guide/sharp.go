package guide

import (
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/prove"
	"dryfit/shop"
	"dryfit/toy"
)

// Arrises are rubbed over, but not those of a face that is glued: the joint would gape.
// Which these are follows from what is glued to what, and where the two lie on each other.

// meeting is a plane in which a piece lies on something that it is glued to.
type meeting struct {
	plane solid.Plane
	on    int // the other piece
}

// meetings returns where a piece is glued to flat wood.
func (b *book) meetings(piece int) []meeting {
	if b.met == nil {
		b.met = map[int][]meeting{}
		for _, g := range b.Model.Glues {
			for _, i := range g.A {
				for _, j := range g.B {
					pi, pj := b.Model.Pieces[i], b.Model.Pieces[j]
					if !pi.Body.Bounds().Grow(assembly.GlueMost).Meets(pj.Body.Bounds()) {
						continue
					}
					for _, p := range prove.Meeting(pi.Body, pj.Body) {
						b.met[i] = append(b.met[i], meeting{p, j})
					}
					for _, p := range prove.Meeting(pj.Body, pi.Body) {
						b.met[j] = append(b.met[j], meeting{p, i})
					}
				}
			}
		}
	}
	return b.met[piece]
}

// sharp are sides whose arrises stay as they are: said alike of pieces, or by numbers.
type sharp struct {
	sides []string
	n     int
	any   bool // they are marked elsewhere, or too many to be named
}

// gluedSides says which sides of a part are glued, in the words of its blank; flats that
// have a name by that.
func (b *book) gluedSides(p *toy.Part, pieces []int) sharp {
	var order []string
	of := map[string][]int{}
	for _, i := range pieces {
		var own []string
		for _, m := range b.meetings(i) {
			if s := b.sideAt(i, m.plane); s != "" && !slices.Contains(own, s) {
				own = append(own, s)
			}
		}
		for _, s := range own {
			if of[s] == nil {
				order = append(order, s)
			}
			of[s] = append(of[s], i)
		}
	}
	rank := func(s string) int {
		return slices.Index([]string{"face", "other face", "edge", "other edge", "end", "other end"}, s)
	}
	slices.SortStableFunc(order, func(x, y string) int { return rank(x) - rank(y) })
	var out sharp
	for _, s := range order {
		says := "the " + s
		if len(of[s]) < len(pieces) {
			says = b.say("the", "name", s, "numbers", numbers(of[s]))
		}
		out.sides = append(out.sides, says)
		out.n++
		if len(of[s]) < len(pieces) && len(of[s]) > 1 {
			out.n++ // several pieces have it
		}
	}
	return out
}

// sideAt names the side or flat of a piece that lies in a plane; "" for what is inside of
// the blank and has no name.
func (b *book) sideAt(i int, plane solid.Plane) string {
	p := b.Model.Pieces[i]
	back := p.Pose.Inverse()
	n, at := back.Dir(plane.N), back.Point(plane.N.Scale(plane.D))
	for s := toy.Top; s <= toy.Back; s++ {
		f := assembly.SideFrame(s, p.Made.Size)
		if off := at.Sub(f.O).Dot(f.W); n.Dot(f.W) > 1-tol.Clip && off > -tol.Touch && off < tol.Touch {
			return shop.SideWord(s)
		}
	}
	for _, w := range p.Part.Work {
		var side toy.Side
		var o toy.Outline
		switch w := w.(type) {
		case toy.Saw:
			side, o = w.Side, w.Outline
		case toy.Cut:
			side, o = w.Side, w.Outline
		}
		f := assembly.SideFrame(side, p.Made.Size)
		for _, fl := range o.Flats {
			c := o.Corners[fl.Index]
			d := o.Corners[(fl.Index+1)%len(o.Corners)]
			from, to := f.Point(r3.Vec{X: c.X.MM(), Y: c.Y.MM()}), f.Point(r3.Vec{X: d.X.MM(), Y: d.Y.MM()})
			near := func(q r3.Vec) bool { x := q.Sub(at).Dot(n); return x > -tol.Touch && x < tol.Touch }
			if near(from) && near(to) {
				return plain(fl.Name)
			}
		}
	}
	return ""
}

// gluedTogether says which sides of glue-ups of one kind are glued to something else, in
// the words of the toy.
func (b *book) gluedTogether(all [][]int) sharp {
	var has [6]bool
	for _, pieces := range all {
		for _, i := range pieces {
			for _, m := range b.meetings(i) {
				if slices.Contains(pieces, m.on) {
					continue
				}
				for d, dir := range [...]r3.Vec{r3.Z, r3.Z.Neg(), r3.Y.Neg(), r3.Y, r3.X, r3.X.Neg()} {
					has[d] = has[d] || m.plane.N.Dot(dir) > 1-tol.Clip
				}
			}
		}
	}
	var out sharp
	for d, is := range has {
		if is {
			out.sides = append(out.sides, "the "+b.dirSide(toy.Dir(d)))
			out.n++
		}
	}
	return out
}

// sharpMost is how many sides are named at most.
const sharpMost = 3

// but says what is left out of an easing, by a key or by one for any sides; "" if that is
// nothing.
func (b *book) but(key, any string, s sharp) string {
	switch {
	case s.any || len(s.sides) > sharpMost:
		return b.say(any)
	case s.n == 0:
		return ""
	}
	return b.say(key, "where", b.listed(s.sides), "n", s.n)
}

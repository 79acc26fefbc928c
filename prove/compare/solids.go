package compare

import (
	"math"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// relation is how the solid of an old piece stands to that of a new one, in the frames of their
// blanks.
type relation struct {
	same     bool
	turns    []r3.Pose // of the same solid: the ways in which the old one serves as the new
	mirror   bool      // the new one is the mirror image of the old one, and not the same
	measured bool      // what follows is known
	align    r3.Pose   // carries the old blank to where it shares most with the new one
	less     float64   // volume of the old one that is not in the new, so laid
	more     float64   // and of the new one that is not in the old
	fits     bool      // the new one lies in the old one
}

// likeness tells whether two solids are the same or images of each other: what matching asks of
// many. Pieces share what was made, so each two are looked at once.
func (d *differ) likeness(a, b *assembly.Piece) *relation {
	if a.Part.Shape != b.Part.Shape {
		return &relation{align: r3.Identity}
	}
	key := [2]*assembly.Made{a.Made, b.Made}
	r, ok := d.seen[key]
	if !ok {
		r = likeness(a.Made, b.Made, a.Part.Shape)
		d.seen[key] = r
	}
	return r
}

// relate is likeness with how two solids that are not the same differ.
func (d *differ) relate(a, b *assembly.Piece) *relation {
	r := d.likeness(a, b)
	if !r.same && !r.measured && a.Part.Shape == b.Part.Shape {
		r.measure(a.Made, b.Made, a.Part.Shape)
	}
	return r
}

func likeness(a, b *assembly.Made, shape toy.Shape) *relation {
	r := &relation{align: r3.Identity}
	if alike(a.Moments(), b.Moments(), a.Filled.Bounds()) {
		r.turns = turns(a.Bored(), b.Bored(), a.Moments().Center, b.Moments().Center, shape)
		if r.same = len(r.turns) > 0; r.same {
			r.align = r.turns[0]
			return r
		}
		image := a.Bored().Mirrored()
		r.mirror = len(turns(image, b.Bored(), image.Moments().Center, b.Moments().Center, shape)) > 0
	}
	return r
}

// measure says how two solids that are not the same differ.
func (r *relation) measure(a, b *assembly.Made, shape toy.Shape) {
	r.align, r.measured = laid(a, b, shape), true
	was, now := a.Bored().Transform(r.align), b.Bored()
	less, _ := rest(was, now)
	more, thick := rest(now, was)
	r.less, r.more, r.fits = less, more, !thick
}

// alike tells whether two solids could be the same, by their volume. A skin of tol.Touch over the
// box around them is more than what rounds that stand as chords can differ by.
func alike(a, b solid.Moments, box r3.Box) bool {
	s := box.Size()
	sides := float64(s.X*s.Y) + float64(s.Y*s.Z) + float64(s.Z*s.X)
	skin := float64(2 * sides * tol.Touch)
	return math.Abs(a.Volume-b.Volume) <= skin
}

// turns lists the ways of turning a about its centre of volume that bring it onto b: of those that
// leave the grain, and the layers of a sheet, where they were.
func turns(a, b solid.Body, from, to r3.Vec, shape toy.Shape) (out []r3.Pose) {
	for _, g := range ways(shape) {
		g.O = to.Sub(g.Dir(from))
		moved := a.Transform(g)
		ba, bb := moved.Bounds(), b.Bounds()
		if ba.Min.Sub(bb.Min).Len() > tol.Touch || ba.Max.Sub(bb.Max).Len() > tol.Touch {
			continue
		}
		if _, thick := rest(moved, b); thick {
			continue
		}
		if _, thick := rest(b, moved); !thick {
			out = append(out, g)
		}
	}
	return out
}

// ways are the quarter turns that leave what a blank is of: a board may be turned over and end for
// end, a disc in its plane as well, a rod about its length, a ball any way.
func ways(shape toy.Shape) (out []r3.Pose) {
	axes := []r3.Vec{r3.X, r3.Y, r3.Z, r3.X.Neg(), r3.Y.Neg(), r3.Z.Neg()}
	for _, u := range axes {
		for _, v := range axes {
			if math.Abs(u.Dot(v)) > 0.5 {
				continue
			}
			w := u.Cross(v)
			onX, onZ := math.Abs(u.X) > 0.5, math.Abs(w.Z) > 0.5
			if shape == toy.Sphere || shape == toy.Disc && onZ || shape == toy.Rod && onX || onX && onZ {
				out = append(out, r3.Pose{U: u, V: v, W: w})
			}
		}
	}
	return out
}

// rest is what of a is not in b: its volume, and whether any of it is thicker than tol.Touch, which
// chords that stand for rounds never are.
func rest(a, b solid.Body) (volume float64, thick bool) {
	left := a.CarveAll(b.Pieces)
	for i := range left.Pieces {
		c := &left.Pieces[i]
		if width(c) > tol.Touch {
			thick = true
			volume += c.Volume()
		}
	}
	return volume, thick
}

// width is how thick a convex piece is, square to the one of its faces where it is least.
func width(c *solid.Convex) float64 {
	least := math.Inf(1)
	for i := range c.Faces {
		deep := 0.0
		for _, v := range c.V {
			deep = math.Max(deep, -c.Faces[i].Plane.Side(v))
		}
		least = math.Min(least, deep)
	}
	return least
}

// laid finds how to lay an old blank over a new one, by corner on corner or by the ends, edges,
// faces and middles of what is left of them: so that they share most, the first of equals. What is
// round is laid with its axis on the other's.
func laid(a, b *assembly.Made, shape toy.Shape) r3.Pose {
	ba, bb := a.Filled.Bounds(), b.Filled.Bounds()
	var by [3][]float64
	for axis := range 3 {
		if shape == toy.Sphere || shape == toy.Disc && axis < 2 || shape == toy.Rod && axis > 0 {
			by[axis] = []float64{(b.Size.At(axis) - a.Size.At(axis)) / 2}
			continue
		}
		for _, x := range []float64{0, b.Size.At(axis) - a.Size.At(axis), bb.Min.At(axis) - ba.Min.At(axis),
			bb.Max.At(axis) - ba.Max.At(axis), bb.Center().At(axis) - ba.Center().At(axis)} {
			fresh := true
			for _, y := range by[axis] {
				fresh = fresh && math.Abs(x-y) > tol.Page
			}
			if fresh {
				by[axis] = append(by[axis], x)
			}
		}
	}
	best, most := r3.Identity, -1.0
	was, now := a.Bored(), b.Bored()
	for _, x := range by[0] {
		for _, y := range by[1] {
			for _, z := range by[2] {
				at := r3.Shift(r3.Vec{X: x, Y: y, Z: z})
				if v := solid.Overlap(was.Transform(at), now).Volume; v > most*(1+tol.Cover) {
					best, most = at, v
				}
			}
		}
	}
	return best
}

// grown is how much longer, wider and thicker the finished new piece is, beyond tol.Touch.
func grown(a, b *assembly.Piece) (out r3.Vec) {
	by := b.Made.Filled.Bounds().Size().Sub(a.Made.Filled.Bounds().Size())
	for axis := range 3 {
		if c := by.At(axis); math.Abs(c) > tol.Touch {
			out = out.With(axis, c)
		}
	}
	return out
}

// workable tells whether a maker would work on an old piece whose solid the new one fits in: dowels,
// balls and sheets are not made thinner, nor bought wheels smaller.
func (d *differ) workable(a, b *assembly.Piece) bool {
	thinner := b.Made.Size.Z < a.Made.Size.Z-tol.Touch
	smaller := b.Made.Size.X < a.Made.Size.X-tol.Touch
	if s, _ := d.was.Toy.StockNamed(a.Part.Stock); s.Form == toy.Sheet && thinner {
		return false
	}
	switch b.Part.Shape {
	case toy.Rod:
		return !thinner
	case toy.Sphere:
		return !smaller
	case toy.Disc:
		return a.Part.Made != "bought" || !thinner && !smaller
	}
	return true
}

package toy

import "dryfit/measure"

// Left and right. The mirror image of a blank is taken across its width: its faces
// and ends stay, its edges change over. In the axes of the blank y becomes W - y; on
// the sides as they are seen, on a face the second number becomes what is left of
// the width, on an edge or an end the first what is left of the side. Names stay.

// MirrorImage returns the part that is the mirror image of p, under another name.
// Twice is the part itself. It lies mirrored left to right in the world, so that
// what was the left side of a toy is its right side.
func (p *Part) MirrorImage(name string) Part {
	out := *p
	out.Name, out.Mirrors, out.Lies = name, p.Name, p.Lies.MirrorImage()
	out.Work = make([]Work, len(p.Work))
	for i, w := range p.Work {
		out.Work[i] = p.mirrored(w)
	}
	return out
}

func (p *Part) mirrored(w Work) Work {
	switch w := w.(type) {
	case Drill:
		f := p.flip(w.Side)
		w.Side, w.Toward = w.Side.mirrored(), f.seen(w.Toward)
		holes := make([]Hole, len(w.Holes))
		for i, h := range w.Holes {
			h.At = f.point(h.At)
			holes[i] = h
		}
		w.Holes = holes
		return w
	case Saw:
		w.Outline, w.Side = p.flip(w.Side).outline(w.Outline), w.Side.mirrored()
		return w
	case Cut:
		w.Outline, w.Side = p.flip(w.Side).outline(w.Outline), w.Side.mirrored()
		return w
	case Arris:
		sides := make([][2]Side, len(w.Sides))
		for i, s := range w.Sides {
			sides[i] = [2]Side{s[0].mirrored(), s[1].mirrored()}
		}
		w.Sides = sides
		return w
	}
	return w // Flush is no work on a part
}

// mirrored is the side that s comes to lie on: an edge becomes the other edge.
func (s Side) mirrored() Side {
	if s == Right || s == Left {
		return s.Opposite()
	}
	return s
}

// flip is the mirror image of what is drawn on a side: one of the two numbers is
// taken from the size of the side, the other stays.
type flip struct {
	up bool           // the second number, not the first
	of measure.Length // the size
}

func (p *Part) flip(s Side) flip {
	switch s {
	case Top, Bottom:
		return flip{true, p.Width}
	case Right, Left:
		return flip{false, p.Length}
	}
	return flip{false, p.Width}
}

func (f flip) point(a Point) Point {
	if f.up {
		a.Y = f.of - a.Y
	} else {
		a.X = f.of - a.X
	}
	return a
}

func (f flip) seen(d Seen) Seen {
	if across := d == SeenRight || d == SeenLeft; across != f.up {
		return d ^ 1
	}
	return d
}

// outline keeps the order of the corners, which names count by: the line runs the
// other way round.
func (f flip) outline(o Outline) Outline {
	corners := make([]Corner, len(o.Corners))
	for i, c := range o.Corners {
		c.Point = f.point(c.Point)
		if c.Through != nil {
			t := f.point(*c.Through)
			c.Through = &t
		}
		corners[i] = c
	}
	o.Corners = corners
	if o.Circle != nil {
		o.Circle = &Circle{Centre: f.point(o.Circle.Centre), Dia: o.Circle.Dia}
	}
	if o.Path != "" {
		over := &o.Over.X
		if f.up {
			over = &o.Over.Y
		}
		if *over == 0 {
			*over = f.of
		} else {
			*over = 0 // the image of an image
		}
	}
	return o
}

// MirrorImage returns the attitude of the mirror image of a blank, seen in a mirror
// that changes left and right in the world. A turn about an axis that lies in the
// mirror changes its way; about left it stays.
func (l Lies) MirrorImage() Lies {
	l.Length, l.Faces, l.Side = l.Length.mirrored(), l.Faces.mirrored(), l.Side.mirrored()
	if axis, _ := l.LeanDir.Axis(); axis != 1 {
		l.Lean = -l.Lean
	}
	return l
}

func (d Dir) mirrored() Dir {
	if d == ToRight || d == ToLeft {
		return d.Opposite()
	}
	return d
}

// TurnsOver tells whether the finished part, laid on its other face, is its own
// mirror image: all that is done to it goes square right through its faces, or is the
// same at both.
func (p *Part) TurnsOver() bool {
	if p.Shape != Block && p.Shape != Disc {
		return false
	}
	face := func(s Side) bool { return s == Top || s == Bottom }
	for _, w := range p.Work {
		switch w := w.(type) {
		case Drill:
			if !face(w.Side) || w.Depth != 0 || w.Lean != 0 || w.CounterDia != 0 {
				return false
			}
		case Saw:
			if !face(w.Side) {
				return false
			}
		case Cut:
			if !face(w.Side) || w.Depth != 0 {
				return false
			}
		case Arris:
			for _, s := range w.Sides {
				if !w.has(s[0].turnedOver(), s[1].turnedOver()) {
					return false
				}
			}
		default:
			return false
		}
	}
	return true
}

// turnedOver is the side that changes over with s where a blank is laid on its other face
// and seen from above again, in the axes of its mirror image.
func (s Side) turnedOver() Side {
	if s == Top || s == Bottom {
		return s.Opposite()
	}
	return s
}

func (w Arris) has(a, b Side) bool {
	for _, s := range w.Sides {
		if s == [2]Side{a, b} || s == [2]Side{b, a} {
			return true
		}
	}
	return false
}

package solid

import "dryfit/geom/r3"

// Moments are the mass properties of a solid of density 1 per mm³.
type Moments struct {
	Volume  float64       // mm³
	Center  r3.Vec        // centre of volume
	Inertia [3][3]float64 // about Center, axes as the world's, mm⁵
}

// Volume returns the volume of c in mm³.
func (c *Convex) Volume() float64 {
	if c.Empty() {
		return 0
	}
	var s sums
	s.add(c, c.V[0])
	return s.vol / 6
}

// first returns the volume of c and the volume times its centre, from o.
func (c *Convex) first(o r3.Vec) (vol float64, moment r3.Vec) {
	at := c.V[0] // small coordinates cancel less
	for i := range c.Faces {
		l := c.Faces[i].Loop
		a := c.V[l[0]].Sub(at)
		b := c.V[l[1]].Sub(at)
		for _, k := range l[2:] {
			d := c.V[k].Sub(at)
			det := a.Dot(b.Cross(d))
			vol += det
			moment = moment.Add(a.Add(b).Add(d).Scale(det))
			b = d
		}
	}
	vol /= 6
	return vol, moment.Scale(1.0 / 24).Add(at.Sub(o).Scale(vol))
}

// sums gathers det, det·x and det·x·x over tetrahedra with one corner at the
// origin o. Source: the closed integrals of a tetrahedron with corners 0, a, b,
// c: volume det/6, first moment det/24 (a+b+c), second moment
// det/120 ((a+b+c)(a+b+c)ᵀ + aaᵀ + bbᵀ + ccᵀ).
type sums struct {
	vol    float64
	first  [3]float64
	second [3][3]float64
}

func (s *sums) add(c *Convex, o r3.Vec) {
	for i := range c.Faces {
		l := c.Faces[i].Loop
		a := c.V[l[0]].Sub(o)
		for j := 1; j+1 < len(l); j++ {
			b, d := c.V[l[j]].Sub(o), c.V[l[j+1]].Sub(o)
			det := a.Dot(b.Cross(d))
			t := a.Add(b).Add(d)
			s.vol += det
			for x := 0; x < 3; x++ {
				s.first[x] += float64(det * t.At(x))
				for y := 0; y <= x; y++ {
					q := float64(t.At(x)*t.At(y)) + float64(a.At(x)*a.At(y)) +
						float64(b.At(x)*b.At(y)) + float64(d.At(x)*d.At(y))
					s.second[x][y] += float64(det * q)
				}
			}
		}
	}
}

func (s *sums) moments(o r3.Vec) Moments {
	if s.vol == 0 {
		return Moments{Center: o}
	}
	m := Moments{Volume: s.vol / 6}
	var c [3]float64 // centre from o
	for x := range c {
		c[x] = s.first[x] / 4 / s.vol
	}
	m.Center = o.Add(r3.Vec{X: c[0], Y: c[1], Z: c[2]})
	var q [3][3]float64 // second moment about the centre
	for x := 0; x < 3; x++ {
		for y := 0; y <= x; y++ {
			q[x][y] = s.second[x][y]/120 - float64(m.Volume*float64(c[x]*c[y]))
			q[y][x] = q[x][y]
		}
	}
	trace := q[0][0] + q[1][1] + q[2][2]
	for x := 0; x < 3; x++ {
		for y := 0; y < 3; y++ {
			m.Inertia[x][y] = -q[x][y]
		}
		m.Inertia[x][x] += trace
	}
	return m
}

// Moments returns the mass properties of c.
func (c *Convex) Moments() Moments {
	if c.Empty() {
		return Moments{}
	}
	var s sums
	o := c.box.Center()
	s.add(c, o)
	return s.moments(o)
}

// Moments returns the mass properties of the body; an empty one has none.
func (b Body) Moments() Moments {
	if b.Empty() {
		return Moments{}
	}
	// Sums piece by piece about the middle of the body: less cancels.
	var all sums
	o := b.Bounds().Center()
	for i := range b.Pieces {
		var s sums
		s.add(&b.Pieces[i], o)
		all.vol += s.vol
		for x := 0; x < 3; x++ {
			all.first[x] += s.first[x]
			for y := 0; y < 3; y++ {
				all.second[x][y] += s.second[x][y]
			}
		}
	}
	return all.moments(o)
}

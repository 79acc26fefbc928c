package solid

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
)

// Axis is a line in space: what a wheel or a hinge turns about. Dir is unit
// length; turning is right-handed about it.
type Axis struct{ At, Dir r3.Vec }

// Contact is the first moment at which a moving body enters a fixed one.
type Contact struct {
	Hit      bool
	Travel   float64 // radians or millimetres moved when some piece is in by allow; the limit if none is
	AtLeast  float64 // proved: up to here no piece is in by more than allow
	OnFixed  int     // the pieces that meet, -1 if none
	OnMoving int
	Normal   r3.Vec  // direction of least depth there, from the fixed to the moving
	Slack    float64 // the depth there is allow, or short of it by less than this
	Steps    int     // positions tried: the work done

	a, b *Convex // the two pieces, b before it moves
	by   r3.Pose // how b moves until they meet
}

// At returns the middle of what the two pieces share where they meet; the zero point if
// they do not.
func (c Contact) At() r3.Vec {
	if !c.Hit {
		return r3.Vec{}
	}
	b := c.b.Transform(c.by)
	var k knife
	if s := k.common(c.a, &b); s != nil {
		return s.Moments().Center
	}
	_, _, p, q, _ := closest(c.a, &b, math.Inf(1))
	return p.Add(q).Scale(0.5)
}

// FirstContact turns moving about axis from 0 to limit radians and returns the
// first angle at which some piece of it is in some piece of fixed by more than
// allow (usually tol.Touch). Turn the axis round to turn the other way. Already
// in by more than allow, it returns 0.
//
// Between a pair of pieces it keeps a separating plane and moves on at once to
// the angle at which the first corner passes it by allow, in closed form: faces
// that slide along each other take one step, and no angle is skipped. Where the
// depth only grazes allow within Slack, it counts as passing.
func FirstContact(fixed, moving Body, axis Axis, limit, allow float64) Contact {
	return NewTurning(axis).FirstContact(fixed, moving, limit, allow)
}

// FirstContact is the FirstContact of two bodies about the axis.
func (t *Turning) FirstContact(fixed, moving Body, limit, allow float64) Contact {
	return firstContact(fixed, moving, t.m, limit, allow, t)
}

// FirstContactSlide moves moving along dir by up to limit millimetres, else as
// FirstContact.
func FirstContactSlide(fixed, moving Body, dir r3.Vec, limit, allow float64) Contact {
	return firstContact(fixed, moving, motion{dir: dir.Unit()}, limit, allow, nil)
}

// motion is a turn about the line o, dir, or a slide along dir.
type motion struct {
	turn   bool
	o, dir r3.Vec
}

func (m motion) at(t float64) r3.Pose {
	if m.turn {
		return r3.Turn(m.o, m.dir, t)
	}
	return r3.Shift(m.dir.Scale(t))
}

// back is the same motion the other way: how the fixed body moves as seen from
// the moving one.
func (m motion) back() motion { m.dir = m.dir.Neg(); return m }

// crosses returns the first travel after t0 at which a point of vs, given where
// it is at travel 0, gets below level along n; +Inf if never.
func (m motion) crosses(vs []r3.Vec, n r3.Vec, level, t0 float64) float64 {
	first := math.Inf(1)
	if !m.turn {
		speed := n.Dot(m.dir)
		if speed >= 0 {
			return first
		}
		for _, v := range vs {
			first = math.Min(first, (n.Dot(v)-level)/-speed)
		}
		return math.Max(first, t0)
	}
	// The height of a turning point is c + a cos t + b sin t.
	nu := n.Dot(m.dir)
	side := m.dir.Cross(n).Neg() // n·(dir × q) = q·(n × dir)
	for _, v := range vs {
		q := v.Sub(m.o)
		axial := float64(q.Dot(m.dir) * nu)
		a := q.Dot(n) - axial
		b := q.Dot(side)
		low := n.Dot(m.o) + axial - level // height of the middle of the swing over the level
		r := trig.Hypot(a, b)
		if low >= r {
			continue
		}
		if low <= -r {
			return t0
		}
		half := trig.Acos(-low / r) // above the level within half of the top
		x := math.Mod(t0-trig.Atan2(b, a), 2*math.Pi)
		if x < 0 {
			x += 2 * math.Pi
		}
		switch {
		case x <= half:
			first = math.Min(first, t0+(half-x))
		case x >= 2*math.Pi-half:
			first = math.Min(first, t0+(half-x)+2*math.Pi)
		default:
			return t0
		}
	}
	return first
}

func firstContact(fixed, moving Body, m motion, limit, allow float64, turning *Turning) Contact {
	c := Contact{Travel: limit, AtLeast: limit, OnFixed: -1, OnMoving: -1}
	if fixed.Empty() || moving.Empty() || !(limit >= 0) {
		return c
	}
	var buf Convex
	var g gauge
	m.meet(fixed, moving, limit, allow, turning, func(i, j int32) float64 {
		a, b := &fixed.Pieces[i], &moving.Pieces[j]
		p := chase{a: a, b: b, ea: fixed.edges(i), eb: moving.edges(j), m: m, allow: allow, moved: &buf, g: &g}
		end := c.Travel
		if p.run(end); p.hit && (p.t < end || !c.Hit) {
			c.Hit, c.Travel, c.OnFixed, c.OnMoving, c.Normal, c.Slack = true, p.t, int(i), int(j), p.n, p.slack
		}
		c.AtLeast = math.Min(c.AtLeast, p.sure)
		c.Steps += p.steps
		return c.Travel
	})
	c.AtLeast = math.Min(c.AtLeast, c.Travel)
	if c.Hit {
		c.a, c.b, c.by = &fixed.Pieces[c.OnFixed], &moving.Pieces[c.OnMoving], m.at(c.Travel)
	}
	return c
}

// chase follows one pair of pieces along the motion.
type chase struct {
	a, b   *Convex
	ea, eb []edge
	m      motion
	allow  float64
	moved  *Convex // scratch: b where it is now
	g      *gauge

	t     float64 // how far it has come
	sure  float64 // proved free up to here
	hit   bool
	n     r3.Vec // where it hits: the direction of least depth
	slack float64
	steps int
}

// patience is how many positions a pair gets for each doubling of the slack with
// which its depth must reach the limit, so that a pair that grazes it ends too.
// Pairs that meet squarely need about five.
const patience = 24

func (p *chase) run(end float64) {
	p.slack = tol.Clip
	for {
		p.steps++
		p.place(p.t)
		n, gap, t := p.plane(end)
		if p.steps%patience == 0 {
			p.slack = math.Max(tol.Clip, math.Min(2*p.slack, p.allow/2))
		}
		if gap <= p.slack-p.allow {
			p.hit, p.n, p.sure = true, n, p.t
			return
		}
		if t >= end {
			p.t, p.sure = end, end
			return
		}
		p.t = t
	}
}

// place puts b where it is after travel t.
func (p *chase) place(t float64) {
	pose := p.m.at(t)
	b, s := p.b, p.moved
	s.V, s.Faces, s.box, s.frame = s.V[:0], s.Faces[:0], r3.EmptyBox(), b.frame
	for _, v := range b.V {
		w := pose.Point(v)
		s.V = append(s.V, w)
		s.box = s.box.Add(w)
	}
	for _, f := range b.Faces {
		s.Faces = append(s.Faces, Face{f.Plane.Move(pose), f.Loop, f.Tag})
	}
}

// plane returns the best separating direction at the present travel with its
// gap, and how far the motion can go on before every plane tried is passed by
// more than allow.
func (p *chase) plane(end float64) (n r3.Vec, gap, t float64) {
	a, b := p.a, p.moved
	t = p.t
	use := func(m r3.Vec, s float64) {
		if s <= -p.allow {
			return
		}
		t = math.Max(t, p.keep(m))
	}
	// A face of either often serves for the rest of the way.
	gap = math.Inf(-1)
	for i := range a.Faces {
		m := a.Faces[i].Plane.N
		_, far := b.Support(m.Neg())
		if s := -far - a.Faces[i].Plane.D; s > gap {
			n, gap = m, s
		}
	}
	use(n, gap)
	if t >= end {
		return
	}
	fb, nb := math.Inf(-1), r3.Vec{}
	for i := range b.Faces {
		m := b.Faces[i].Plane.N.Neg()
		_, far := a.Support(m)
		if s := -far - b.Faces[i].Plane.D; s > fb {
			nb, fb = m, s
		}
	}
	use(nb, fb)
	if fb > gap {
		n, gap = nb, fb
	}
	if t >= end {
		return
	}
	s, m := p.g.signed(a, b, p.ea, p.eb)
	if s = along(a, b, m); s > gap {
		n, gap = m, s
	}
	use(m, s)
	return
}

// keep returns how far the motion can go from the present travel until n, held
// by the fixed piece or carried by the moving one, is passed by allow.
func (p *chase) keep(n r3.Vec) float64 {
	_, sa := p.a.Support(n)
	t := p.m.crosses(p.b.V, n, sa-p.allow, p.t)
	if math.IsInf(t, 1) || !p.m.turn {
		return t
	}
	// As seen from b the fixed piece turns the other way.
	nb := p.m.at(p.t).Inverse().Dir(n).Neg()
	_, sb := p.b.Support(nb)
	return math.Max(t, p.m.back().crosses(p.a.V, nb, sb-p.allow, p.t))
}

package drawing

import (
	"math"

	"dryfit/geom/r2"
)

// affine takes x, y to a x + c y + e, b x + d y + f: the matrix of SVG and of PDF.
type affine struct{ a, b, c, d, e, f float64 }

var unchanged = affine{a: 1, d: 1}

func (m affine) apply(p r2.Vec) r2.Vec {
	return m.turn(p).Add(r2.Vec{X: m.e, Y: m.f})
}

// turn is apply for a direction.
func (m affine) turn(p r2.Vec) r2.Vec {
	return r2.Vec{X: float64(m.a*p.X) + float64(m.c*p.Y), Y: float64(m.b*p.X) + float64(m.d*p.Y)}
}

// of is the change that does n first and m after it.
func (m affine) of(n affine) affine {
	u, v, o := m.turn(r2.Vec{X: n.a, Y: n.b}), m.turn(r2.Vec{X: n.c, Y: n.d}), m.apply(r2.Vec{X: n.e, Y: n.f})
	return affine{u.X, u.Y, v.X, v.Y, o.X, o.Y}
}

// flat tells whether the change leaves no area, or is not of numbers.
func (m affine) flat() bool {
	det := float64(m.a*m.d) - float64(m.b*m.c)
	sum := math.Abs(m.e) + math.Abs(m.f)
	return !(math.Abs(det) > 1e-12 && math.Abs(det) < 1e12 && sum < 1e9)
}

// piece is a step of a line as it was drawn.
type piece struct {
	kind         byte // L, C or E
	from, to     r2.Vec
	c1, c2       r2.Vec  // C
	c, u, v      r2.Vec  // E: c + u cos + v sin
	begin, sweep float64 // E
}

// sub is a line drawn without lifting the pen.
type sub struct {
	start  r2.Vec
	pieces []piece
	closed bool
}

// pen draws through a change, and keeps what was drawn (outline.Pen).
type pen struct {
	m         affine
	at, start r2.Vec
	cur       sub
	subs      []sub
}

func (p *pen) Move(to r2.Vec) {
	p.lift()
	p.at = p.m.apply(to)
	p.start = p.at
}

func (p *pen) Line(to r2.Vec) { p.add(piece{kind: 'L', to: p.m.apply(to)}) }

func (p *pen) Cubic(c1, c2, to r2.Vec) {
	p.add(piece{kind: 'C', c1: p.m.apply(c1), c2: p.m.apply(c2), to: p.m.apply(to)})
}

func (p *pen) Ellipse(c, u, v r2.Vec, from, sweep float64, to r2.Vec) {
	p.add(piece{kind: 'E', c: p.m.apply(c), u: p.m.turn(u), v: p.m.turn(v), begin: from, sweep: sweep, to: p.m.apply(to)})
}

func (p *pen) Close() {
	if len(p.cur.pieces) > 0 {
		p.cur.closed = true
	}
	p.lift()
	p.at = p.start
}

func (p *pen) add(s piece) {
	if len(p.cur.pieces) == 0 {
		p.cur.start = p.at
	}
	s.from = p.at
	p.cur.pieces, p.at = append(p.cur.pieces, s), s.to
}

// lift ends the line that is being drawn.
func (p *pen) lift() {
	if len(p.cur.pieces) > 0 {
		p.subs = append(p.subs, p.cur)
	}
	p.cur = sub{}
}

// done returns all lines.
func (p *pen) done() []sub {
	p.lift()
	return p.subs
}

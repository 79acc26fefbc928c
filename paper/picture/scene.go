package picture

import (
	"math"
	"sync"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/paper/draw"
	"dryfit/shop"
)

// Scene is what one drawing shows: some of the pieces of a model, in their places
// or drawn out along the way they go on.
type Scene struct {
	// Of is the model that the numbers of pieces are of; nil is the one that Draw is
	// given. A glue-up before the work on it is a model of its own.
	Of    *assembly.Model
	Shown []Shown
	Moves []Move
	View  View
	// NoArrows leaves the arrows out; guide lines stay.
	NoArrows bool
	// Most is the scale that it is drawn at at most; 0: as large as fits.
	Most float64
}

// Shown is a piece that is drawn.
type Shown struct {
	Piece  int // of the model
	Look   Look
	Number int // written in a circle beside the drawing; 0: none
}

// Move is pieces drawn together off their places: along the shifts Out, in mm, one
// after the other. They go on along them backwards, as the guide lines and the
// arrow of the drawing show.
type Move struct {
	Pieces []int
	Out    []r3.Vec
	With   []int // what is carried along, off its own place too
}

// Look is how a piece is drawn.
type Look int8

// The looks, from light to heavy: in thin grey, as ever, in heavy lines with a grey fill.
const (
	Quiet Look = iota - 1
	Plain
	New
)

// Drafter draws many scenes of one toy and keeps what they share. It is safe for
// use by several goroutines.
type Drafter struct {
	m     *assembly.Model
	known known

	lock   sync.Mutex
	before map[string]*assembly.Model // glue-ups before the work on them
}

// NewDrafter returns a drafter for the scenes of a toy.
func NewDrafter(m *assembly.Model) *Drafter { return &Drafter{m: m} }

// Draw draws a scene as large as fits into size, mm, with its lower left corner at
// the origin and the drawing in the middle. Hidden lines are left out.
func (d *Drafter) Draw(s Scene, size r2.Vec) []draw.Item {
	items, _ := d.draw(s, size, 0)
	return items
}

// Told draws a scene as Draw does, and returns the numbers that it has no room to point out
// or whose pieces are not seen.
func (d *Drafter) Told(s Scene, size r2.Vec) (items []draw.Item, unseen []int) {
	return d.draw(s, size, 0)
}

// draw draws a scene at a scale, or as large as fits if that is 0, and returns the numbers
// of what is not seen.
func (d *Drafter) draw(s Scene, size r2.Vec, scale float64) (out []draw.Item, unseen []int) {
	m := s.model(d.m)
	o := d.known.gather(m, s.Shown, s.offsets())
	from := s.View.sight()
	box := from.bounds(o)
	if box.Empty() {
		return nil, nil
	}
	// Numbers stand on a ring around the drawing.
	room := size.Sub(r2.Vec{X: 1, Y: 1})
	ring := 0.0
	if s.numbered() {
		ring = ringRoom
		room = room.Sub(r2.Vec{X: 2 * ring, Y: 2 * ring})
	}
	if scale == 0 {
		scale = s.largest(fit(box.Size(), room))
	}
	if scale <= 0 {
		return nil, nil
	}
	at := place{from, scale, middle(box), size.Scale(0.5)}
	look := looked(o, at)
	items := wash(o, look)
	items = append(items, from.ink(o, scale, at.from, at.to)...)
	view := solid.NewView(from.toward, o.bodies...)
	var arrows []draw.Item
	if !s.NoArrows {
		arrows = s.arrows(m, at, func(a spot) int { return coveredBy(a, o, look) })
	}
	items = append(items, s.guides(m, view, at)...)
	items = append(items, arrows...)
	out = []draw.Item{draw.Group{Layer: layerToy, Items: items}}
	if ring > 0 {
		var g draw.Group
		g, unseen = callouts(m, s.Shown, o, at, look, arrows)
		out = append(out, g)
	}
	return out, unseen
}

// largest is the most that lengths are enlarged by: a dowel alone should not fill a page.
const largest = 1.5

// largest is the scale of a scene where one fits.
func (s Scene) largest(fits float64) float64 {
	most := largest * s.View.sight().foreshort()
	if s.Most > 0 {
		most = min(most, s.Most)
	}
	return min(fits, most)
}

// place is where a point of space comes to on the paper.
type place struct {
	sight
	scale    float64
	from, to r2.Vec
}

func (p place) on(v r3.Vec) r2.Vec { return p.flat(v).Sub(p.from).Scale(p.scale).Add(p.to) }

func (s Scene) model(m *assembly.Model) *assembly.Model {
	if s.Of != nil {
		return s.Of
	}
	return m
}

func (s Scene) numbered() bool {
	for _, p := range s.Shown {
		if p.Number > 0 {
			return true
		}
	}
	return false
}

// offsets returns how far each piece that moves is off its place.
func (s Scene) offsets() map[int]r3.Vec {
	off := map[int]r3.Vec{}
	for _, m := range s.Moves {
		by := m.off()
		for _, p := range m.Pieces {
			off[p] = off[p].Add(by)
		}
		for _, p := range m.With {
			off[p] = off[p].Add(by)
		}
	}
	return off
}

func (m Move) off() (sum r3.Vec) {
	for _, v := range m.Out {
		sum = sum.Add(v)
	}
	return sum
}

// all shows every piece of a model as it stands.
func all(m *assembly.Model) (out []Shown) {
	for i := range m.Pieces {
		out = append(out, Shown{Piece: i})
	}
	return out
}

// numbered shows every piece with its number.
func numbered(m *assembly.Model) []Shown {
	out := all(m)
	for i := range out {
		out[i].Number = shop.Number(i)
	}
	return out
}

// Whole is the scene of a toy as it stands.
func Whole(m *assembly.Model) Scene { return Scene{Shown: all(m)} }

// foreshort is by how much lengths along the axes look shorter at least.
func (s sight) foreshort() float64 {
	if s.toward.X*s.toward.Y*s.toward.Z != 0 {
		return axial
	}
	return 1
}

// guides draws the way of what moves: a thin line from its leading end to where that
// comes to lie, as far as it is seen.
func (s Scene) guides(m *assembly.Model, view *solid.View, at place) []draw.Item {
	var runs []draw.Run
	off := s.offsets()
	for _, mv := range s.Moves {
		carried := off[mv.Pieces[0]].Sub(mv.off())
		for _, a := range s.anchors(m, mv, at) {
			a = a.Add(carried)
			for _, out := range mv.Out {
				b := a.Add(out)
				lift := at.toward.Scale(guideLift)
				d := b.Sub(a)
				for _, sp := range solid.Seen(view.HiddenLine(a.Add(lift), b.Add(lift))) {
					p, q := at.on(a.Add(d.Scale(sp.From))), at.on(a.Add(d.Scale(sp.To)))
					if q.Sub(p).Len() > 0.3 {
						runs = append(runs, draw.Polyline(q, p))
					}
				}
				a = b
			}
		}
	}
	if len(runs) == 0 {
		return nil
	}
	return []draw.Item{draw.Path{Runs: runs, Line: draw.Centre}}
}

// guideLift holds guide lines off the faces that they run along, mm.
const guideLift = 0.05

// anchors are the points of a move, where it belongs, that guide lines start from: the
// middle of its end for a round thing that goes along its axis, else the two outermost
// corners of its leading face as seen.
func (s Scene) anchors(m *assembly.Model, mv Move, at place) []r3.Vec {
	way := mv.way()
	if len(mv.Pieces) == 1 {
		if c, ok := leadingEnd(m.Pieces[mv.Pieces[0]], way); ok {
			return []r3.Vec{c}
		}
	}
	lead, corners := math.Inf(-1), []r3.Vec{}
	for _, i := range mv.Pieces {
		for _, v := range m.Pieces[i].Bored().Vertices() {
			lead = math.Max(lead, v.Dot(way))
			corners = append(corners, v)
		}
	}
	across := at.flat(way).Perp()
	if across.Len() < 1e-6 {
		across = r2.Vec{X: 1}
	}
	across = across.Unit()
	var lo, hi r3.Vec
	least, most := math.Inf(1), math.Inf(-1)
	for _, v := range corners {
		if v.Dot(way) < lead-leadDepth {
			continue
		}
		t := at.flat(v).Dot(across)
		if t < least-1e-6 {
			least, lo = t, v
		}
		if t > most+1e-6 {
			most, hi = t, v
		}
	}
	return []r3.Vec{lo, hi}
}

// leadDepth is how far behind its foremost corner the leading face of a piece may be, mm.
const leadDepth = 0.5

// way is the direction in which a move starts on its way on.
func (m Move) way() r3.Vec {
	if n := len(m.Out); n > 0 {
		return m.Out[n-1].Neg().Unit()
	}
	return r3.Vec{}
}

// leadingEnd returns the middle of the end of a rod or disc that goes first when it is
// moved along its axis.
func leadingEnd(p *assembly.Piece, way r3.Vec) (r3.Vec, bool) {
	c, dir, _, ok := roundAxis(p)
	if !ok || math.Abs(dir.Dot(way)) < 0.999 {
		return r3.Vec{}, false
	}
	b := p.Body
	return c.Add(way.Scale(b.Support(way).Sub(c).Dot(way))), true
}

package prove

import (
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// Ways out. A piece is slid along a direction, by continuous collision, until it
// is past all the rest; whether it meets another one on the way depends on the
// two alone, so each pair is asked once for each direction and the answer kept.
// Most are told by the box that the slide sweeps.

type puzzle struct {
	*table
	r     *run
	units []unit
	axes  bool // nothing but the six directions, one move at a time
}

// table is what all orders of one toy share.
type table struct {
	boxes []r3.Box   // of pieces
	bores [][]r3.Box // of the holes of pieces
	fits  map[[2]int][]int
	dirs  []r3.Vec  // opposites differ in the last bit; the first six are the axes
	span  []float64 // how far along each direction takes a piece past everything
	met   map[meeting]bool

	slides, looks, balls, twists int // work left for shifts in two moves, and for proofs that a piece is shut in: by shifts, of a ball, with turning
}

type meeting struct{ moving, fixed, dir int32 }

// Work that is spent at most, counted so that it is the same everywhere.
const (
	slidesMost = 400  // for one toy
	looksMost  = 6000 // for one proof that a piece is shut in
	looksAll   = 20000
	ballsMost  = 15000 // of a ball
	ballsAll   = 30000
	twistsMost = 10000 // with turning
	twistsAll  = 20000
)

func newPuzzle(r *run, us []unit) *puzzle {
	p := &puzzle{&table{fits: map[[2]int][]int{}, met: map[meeting]bool{}, slides: slidesMost, looks: looksAll, balls: ballsAll, twists: twistsAll}, r, us, false}
	for _, q := range r.m.Pieces {
		p.boxes = append(p.boxes, q.Body.Bounds())
		var holes []r3.Box
		for k := range q.Made.Bores {
			holes = append(holes, boreBox(q.Bore(k)))
		}
		p.bores = append(p.bores, holes)
	}
	for k, f := range r.m.Fits {
		p.fits[[2]int{f.Rod, f.Piece}] = append(p.fits[[2]int{f.Rod, f.Piece}], k)
	}
	for _, d := range []r3.Vec{r3.Z, r3.X, r3.Y} {
		p.dir(d)
	}
	return p
}

// dir returns the number of a direction.
func (p *puzzle) dir(v r3.Vec) int {
	v = v.Unit()
	for k, d := range p.dirs {
		if d.Dot(v) > 1-tol.Clip {
			return k
		}
	}
	for _, d := range []r3.Vec{v, v.Neg()} {
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, b := range p.boxes {
			l, h := reachOf(b, d)
			lo, hi = math.Min(lo, l), math.Max(hi, h)
		}
		p.dirs = append(p.dirs, d)
		p.span = append(p.span, hi-lo)
	}
	return len(p.dirs) - 2
}

// reachOf returns how far a box goes back and forth along d.
func reachOf(b r3.Box, d r3.Vec) (lo, hi float64) {
	for axis := 0; axis < 3; axis++ {
		u, v := float64(b.Min.At(axis)*d.At(axis)), float64(b.Max.At(axis)*d.At(axis))
		lo, hi = lo+math.Min(u, v), hi+math.Max(u, v)
	}
	return lo, hi
}

func swept(b r3.Box, by r3.Vec) r3.Box {
	return b.Union(r3.Box{Min: b.Min.Add(by), Max: b.Max.Add(by)})
}

// at returns piece i as it is met within a box: its round holes are cut only
// where one of them is there.
func (p *puzzle) at(i int, box r3.Box) solid.Body {
	for _, b := range p.bores[i] {
		if b.Meets(box) {
			return p.r.m.Pieces[i].Bored()
		}
	}
	return p.r.m.Pieces[i].Body
}

// hits tells whether piece i, slid out along direction d, meets piece j.
func (p *puzzle) hits(i, j, d int) bool {
	k := meeting{int32(i), int32(j), int32(d)}
	if j < i { // j slid the other way is the same
		k = meeting{k.fixed, k.moving, k.dir ^ 1}
	}
	by := p.dirs[d].Scale(p.span[d])
	if !swept(p.boxes[i], by).Grow(-tol.Touch).Meets(p.boxes[j]) {
		return false
	}
	hit, known := p.met[k]
	if !known {
		hit = p.meets(i, j, p.dirs[d], p.span[d])
		p.met[k] = hit
	}
	return hit
}

func (p *puzzle) meets(i, j int, d r3.Vec, far float64) bool {
	if hit, ok := p.rodAhead(i, j, d, far); ok {
		return hit
	}
	// What is in the way mostly is so at once, and a short slide sweeps little.
	if far > nearBy {
		if t := p.travel(i, j, r3.Vec{}, d, nearBy); t < nearBy {
			return true
		}
	}
	t := p.travel(i, j, r3.Vec{}, d, far)
	return t < far
}

// nearBy is the slide that is tried before a whole one, in mm: more than any fit
// has play.
const nearBy = 2.0

// travel returns how far piece i, shifted by off, goes along d before it is in
// piece j by more than tol.Touch, or deeper than where it is drawn: what they
// claim of each other there is for fit.overlap and fit.dowel to say.
func (p *puzzle) travel(i, j int, off, d r3.Vec, far float64) float64 {
	by := d.Scale(far)
	from := r3.Box{Min: p.boxes[i].Min.Add(off), Max: p.boxes[i].Max.Add(off)}
	back := r3.Box{Min: p.boxes[j].Min.Sub(off), Max: p.boxes[j].Max.Sub(off)}
	way := swept(from, by)
	if !way.Grow(-tol.Touch).Meets(p.boxes[j]) {
		return far
	}
	fixed, moving := p.at(j, way), p.at(i, swept(back, by.Neg()))
	shifted := moving
	if off != (r3.Vec{}) {
		shifted = moving.Transform(r3.Shift(off))
	}
	c := solid.FirstContactSlide(fixed, shifted, d, far, tol.Touch)
	if c.Hit && c.Travel == 0 {
		c = solid.FirstContactSlide(fixed, shifted, d, far, p.allowed(fixed, moving))
	}
	if !c.Hit {
		return far
	}
	return math.Min(c.Travel, far)
}

// allowed is how deep two pieces may be in each other: as deep as they are drawn.
func (p *puzzle) allowed(fixed, moving solid.Body) float64 {
	if !solid.Penetrates(fixed, moving, tol.Touch) {
		return tol.Touch
	}
	return solid.Overlap(fixed, moving).Depth + tol.Touch
}

// rodAhead decides a rod that is drawn along its own hole, or wood that is drawn
// along a rod, by true radii: what lies ahead of the rod, its own holes left out,
// must be free of wood. ok is false for any other pair or direction.
func (p *puzzle) rodAhead(i, j int, d r3.Vec, far float64) (hit, ok bool) {
	rod, host := i, j
	if p.fits[[2]int{i, j}] == nil {
		rod, host, d = j, i, d.Neg()
	}
	own := p.fits[[2]int{rod, host}]
	if own == nil {
		return false, false
	}
	c, axis, radius := p.r.m.Pieces[rod].Axis()
	if axis.Cross(d).Len() > tol.Clip {
		return false, false
	}
	half := p.r.m.Pieces[rod].Made.Size.X / 2
	rest := [][2]float64{{half, half + far}}
	for _, k := range own {
		rest = without(rest, p.r.m.Pieces[host].Bore(p.r.m.Fits[k].Bore), c, d)
	}
	u := d.Cross(r3.X)
	if u.Len() < 0.5 {
		u = d.Cross(r3.Y)
	}
	u = u.Unit()
	frame := r3.Pose{U: u, V: d.Cross(u), W: d, O: c}
	for _, s := range rest {
		if s[1]-s[0] <= tol.Touch {
			continue
		}
		bar := solid.NewBody([]solid.Convex{solid.Cylinder(frame, radius, s[0], s[1], 1, 2, 3)})
		if solid.Penetrates(bar, p.at(host, bar.Bounds()), tol.Touch) {
			return true, true
		}
	}
	return false, true
}

// stops returns which of the fixed pieces moving ones meet along direction d;
// with first only the first of them.
func (p *puzzle) stops(moving, fixed []int, d int, first bool) (out []int) {
	for _, j := range fixed {
		for _, i := range moving {
			if p.hits(i, j, d) {
				out = append(out, j)
				break
			}
		}
		if first && out != nil {
			return out
		}
	}
	return out
}

// ways lists the directions to try for some pieces: those asked for, the axes of
// the holes that join them to the rest, and the six.
func (p *puzzle) ways(moving []int, first []r3.Vec) []int {
	var out []int
	seen := map[int]bool{}
	add := func(d int) {
		if !seen[d] {
			seen[d] = true
			out = append(out, d)
		}
	}
	if !p.axes {
		in := map[int]bool{}
		for _, i := range moving {
			in[i] = true
		}
		for _, v := range first {
			add(p.dir(v))
		}
		for _, f := range p.r.m.Fits {
			if in[f.Rod] != in[f.Piece] {
				_, axis, _ := p.r.m.Pieces[f.Rod].Axis()
				d := p.dir(axis)
				add(d)
				add(d ^ 1)
			}
		}
	}
	for d := 0; d < 6; d++ {
		add(d)
	}
	return out
}

// draw finds a way out for some pieces past others: the moves, one after the
// other. With hard it goes on to the direction of least obstruction, and to two
// moves.
func (p *puzzle) draw(moving, fixed []int, first []r3.Vec, hard bool) ([]r3.Vec, bool) {
	ways := p.ways(moving, first)
	for _, d := range ways {
		if p.stops(moving, fixed, d, true) == nil {
			return []r3.Vec{p.out(moving, fixed, r3.Vec{}, p.dirs[d])}, true
		}
	}
	if !hard || p.axes {
		return nil, false
	}
	for _, v := range p.loosest(moving, fixed) {
		if d := p.dir(v); p.stops(moving, fixed, d, true) == nil {
			return []r3.Vec{p.out(moving, fixed, r3.Vec{}, p.dirs[d])}, true
		}
	}
	return p.twoMoves(moving, fixed, ways)
}

// out returns the least move along d that takes the pieces, shifted by off, past
// the others.
func (p *puzzle) out(moving, fixed []int, off, d r3.Vec) r3.Vec {
	low, high := math.Inf(1), math.Inf(-1)
	for _, i := range moving {
		l, _ := reachOf(p.boxes[i], d)
		low = math.Min(low, l+off.Dot(d))
	}
	for _, j := range fixed {
		_, h := reachOf(p.boxes[j], d)
		high = math.Max(high, h)
	}
	return d.Scale(math.Max(moveLeast, high-low))
}

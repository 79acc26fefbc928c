package picture

import (
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// Which way and from where: what a step adds has to be seen off its place, and where it
// goes.

// choose finds the ways and the view of a scene: the first of the views that shows
// enough of what is added and of its way, else the one that shows most. A rod that
// could as well come from the other side comes from the side that is seen. It returns
// the ways that it took, without room for arrows.
func (d *Drafter) choose(m *assembly.Model, s *Scene) (ways []Move) {
	out := s.Moves
	best := -1.0
	var view View
	var moves []Move
	for k, v := range corners {
		s.View = v
		less := 0.0
		if k > 0 {
			less += otherSide
		}
		if v >= FrontRightBelow {
			less += fromBelow
		}
		for _, tried := range [3][]Move{turned(m, *s, out, true), out, turned(m, *s, out, false)} {
			s.Moves = tried
			if score := d.bring(m, s) - less; score > best+morePush {
				best, view, moves, ways = score, v, s.Moves, tried
			}
			if best >= plenty {
				break
			}
		}
		if best >= enough {
			break
		}
	}
	s.View, s.Moves = view, moves
	return ways
}

// enough is the share of what is added that a view has to show to be kept; other views
// have to show so much more than the usual one.
const (
	enough    = 0.55
	plenty    = 0.85 // no other way is looked for
	otherSide = 0.08
	fromBelow = 0.25
)

// turned looks for other ways for what moves away from the eye: a rod or what goes
// straight may as well come from the other side, or from above; rods alone, or all. Each is tried by
// continuous collision, as the proved ways are.
func turned(m *assembly.Model, s Scene, moves []Move, rods bool) (out []Move) {
	toward := s.View.sight().toward
	moving := map[int]bool{}
	for _, mv := range moves {
		for _, i := range mv.Pieces {
			moving[i] = true
		}
	}
	for _, mv := range moves {
		if len(mv.Out) == 1 && mv.Out[0].Dot(toward) < -tol.Clip {
			ways := [2]r3.Vec{r3.Z, mv.Out[0].Neg().Unit()}
			if _, dir, _, ok := roundAxis(m.Pieces[mv.Pieces[0]]); ok && dir.Cross(ways[1]).Len() < tol.Weld {
				ways[0], ways[1] = ways[1], ways[0]
			} else if rods {
				ways = [2]r3.Vec{}
			}
			for _, d := range ways {
				if d.Dot(toward) > 0 && free(m, s, moving, mv.Pieces, d) {
					mv.Out = []r3.Vec{d.Scale(past(m, s, moving, mv.Pieces, d))}
					break
				}
			}
		}
		out = append(out, mv)
	}
	return out
}

// past returns how far along d pieces have to be moved to be past all that stays and is
// before them.
func past(m *assembly.Model, s Scene, moving map[int]bool, pieces []int, d r3.Vec) float64 {
	far := 1.0
	for _, i := range pieces {
		b := m.Pieces[i].Body
		swept := b.Bounds().Union(b.Transform(r3.Shift(d.Scale(reach))).Bounds())
		for _, q := range s.Shown {
			if o := m.Pieces[q.Piece].Body; !moving[q.Piece] && o.Bounds().Grow(-tol.Touch).Meets(swept) {
				far = max(far, o.Support(d).Sub(b.Support(d.Neg())).Dot(d))
			}
		}
	}
	return far
}

// reach is farther than any toy is long, mm.
const reach = 5000.0

// free tells whether pieces can be drawn out along d past all that stays.
func free(m *assembly.Model, s Scene, moving map[int]bool, pieces []int, d r3.Vec) bool {
	far := past(m, s, moving, pieces, d)
	for _, i := range pieces {
		p := m.Pieces[i]
		for _, q := range s.Shown {
			if !moving[q.Piece] && solid.FirstContactSlide(m.Pieces[q.Piece].Bored(), p.Body, d, far, tol.Touch).Hit {
				return false
			}
		}
	}
	return true
}

// bring spaces the moves of a scene so that each is seen, what goes away from the eye
// farther out, and returns how much is seen.
func (d *Drafter) bring(m *assembly.Model, s *Scene) float64 {
	ways := s.Moves
	toward := s.View.sight().toward
	extra := make([]int, len(ways))
	best := -1.0
	var moves []Move
	for range mostPushes {
		s.Moves = spaced(m, *s, ways, extra)
		score, seen := d.sees(m, *s)
		for _, n := range extra {
			score -= pushCost * float64(n) / float64(len(ways))
		}
		if score > best+morePush {
			best, moves = score, s.Moves
		}
		pushed := false
		for k, mv := range ways {
			if seen[k] < wellSeen && mv.way().Dot(toward) > 0.1 {
				extra[k]++
				pushed = true
			}
		}
		if !pushed {
			break
		}
	}
	s.Moves = moves
	return best
}

// How often what is hidden is pushed out farther, how much is well seen, how much more
// has to be seen for it, and what it costs.
const (
	mostPushes = 5
	wellSeen   = 0.7
	morePush   = 0.02
	pushCost   = 0.05
)

// spaced draws the moves out a little farther, so that there is room for an arrow, and
// so that no two of them lie in each other; extra is how much farther, in steps.
func spaced(m *assembly.Model, s Scene, moves []Move, extra []int) (out []Move) {
	box := r3.EmptyBox()
	for _, p := range s.Shown {
		box = box.Union(m.Pieces[p.Piece].Body.Bounds())
	}
	gap := max(leastGap, box.Size().Len()*gapShare)
	var taken []r3.Box
	for k, mv := range moves {
		own := r3.EmptyBox()
		for _, i := range mv.Pieces {
			own = own.Union(m.Pieces[i].Body.Bounds())
		}
		by := mv.off()
		n := len(mv.Out) - 1
		step := mv.Out[n].Unit().Scale(gap)
		legs := append([]r3.Vec(nil), mv.Out...)
		moved := func() r3.Box { return r3.Box{Min: own.Min.Add(by), Max: own.Max.Add(by)} }
		push := func() { by, legs[n] = by.Add(step), legs[n].Add(step) }
		for range 1 + extra[k] {
			push()
		}
		for tries := 0; tries < 60 && meets(taken, moved().Grow(gap/4)); tries++ {
			push()
		}
		taken = append(taken, moved())
		out = append(out, Move{Pieces: mv.Pieces, Out: legs})
	}
	return out
}

// Room for an arrow, as a share of what is shown, and at least, mm of the toy.
const (
	gapShare = 0.12
	leastGap = 9.0
)

func meets(all []r3.Box, b r3.Box) bool {
	return slices.ContainsFunc(all, func(o r3.Box) bool { return o.Meets(b) })
}

// sees tells how much a view shows of what is new: the share of each new piece that
// nothing hides, half by the one that shows least, and of the way of each; and the share
// of each move.
func (d *Drafter) sees(m *assembly.Model, s Scene) (score float64, shares []float64) {
	o := s.stand(m)
	at := place{sight: s.View.sight(), scale: 1}
	box := at.bounds(o)
	if box.Empty() || len(s.Moves) == 0 {
		return 1, nil
	}
	cell := max(box.Size().X, box.Size().Y) / 150
	r := newRaster(o, at, box, cell)
	seen := make([]int, len(o.bodies))
	for _, b := range r.body {
		if b >= 0 {
			seen[b]++
		}
	}
	worst, sum, n := 1.0, 0.0, 0
	unit := map[int]int{} // pieces that move together count as one
	for k, mv := range s.Moves {
		for _, i := range mv.Pieces {
			unit[i] = k
		}
	}
	saw, have := make([]float64, len(s.Moves)), make([]float64, len(s.Moves))
	for k, p := range s.Shown {
		if u, ok := unit[p.Piece]; ok && p.Look == New {
			saw[u] += float64(seen[k])
			have[u] += area(o.bodies[k], at) / (cell * cell)
		}
	}
	for u := range saw {
		share := min(1, saw[u]/max(1, have[u]))
		shares = append(shares, share)
		worst = min(worst, share)
		sum += share
		n++
	}
	view := solid.NewView(at.toward, o.bodies...)
	clear, length := 0.0, 0.0
	for _, mv := range s.Moves {
		for _, a := range s.anchors(m, mv, at) {
			lift := at.toward.Scale(guideLift)
			b := a.Add(mv.off())
			length++
			for _, sp := range solid.Seen(view.HiddenLine(a.Add(lift), b.Add(lift))) {
				clear += sp.To - sp.From
			}
		}
	}
	if length == 0 {
		length, clear = 1, 1
	}
	return float64(0.25*worst) + float64(0.35*sum/float64(n)) + float64(0.4*clear/length), shares
}

// stand returns the bodies of a scene where they are drawn, without their edges.
func (s Scene) stand(m *assembly.Model) *object {
	o := &object{box: r3.EmptyBox()}
	off := s.offsets()
	for _, p := range s.Shown {
		b := m.Pieces[p.Piece].Bored()
		if by := off[p.Piece]; by != (r3.Vec{}) {
			b = b.Transform(r3.Shift(by))
		}
		o.bodies, o.looks = append(o.bodies, b), append(o.looks, p.Look)
	}
	return o
}

// area returns how large a body looks: that of the hull of its picture.
func area(b solid.Body, at place) float64 {
	var pts []r2.Vec
	for _, v := range b.Vertices() {
		pts = append(pts, at.flat(v))
	}
	h := hullOf(pts)
	sum := 0.0
	for i, p := range h {
		sum += p.Cross(h[(i+1)%len(h)])
	}
	return sum / 2
}

package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
)

// wallWanted is the wood that a drill of that diameter wants beside it.
func wallWanted(dia float64) float64 {
	return math.Min(wallMost, math.Max(wallLeast, wallShare*dia))
}

// walls judges the wood left beside each hole of a bench.
func (c *cutting) walls(b *bench) {
	for i := range b.holes {
		c.wallOf(b, &b.holes[i])
	}
}

func (c *cutting) wallOf(b *bench, h *drilled) {
	web, where := math.Inf(1), r3.Vec{}
	open, closed := 0, 0
	for _, s := range assembly.Spans(b.wood, h.bore.Point, h.bore.Dir) {
		lo, hi := math.Max(s[0], h.bore.Lo), math.Min(s[1], h.bore.Hi)
		if hi-lo <= tol.Touch {
			continue
		}
		ends := [2]r3.Vec{h.bore.Point.Add(h.bore.Dir.Scale(s[0])), h.bore.Point.Add(h.bore.Dir.Scale(s[1]))}
		for _, share := range [3]float64{0.25, 0.5, 0.75} {
			// near its mouth a hole in round or slanting wood has a thin lip by nature
			if share != 0.5 && (hi-lo)/4 < h.bore.R {
				continue
			}
			w, at, ok := wallAt(b.wood, h.bore.Point.Add(h.bore.Dir.Scale(lo+float64((hi-lo)*share))), h.bore.Dir, h.bore.R, ends)
			if !ok {
				continue
			}
			if w < -tol.Touch {
				open++
			} else {
				closed++
			}
			if w < web {
				web, where = w, at
			}
		}
	}
	if open+closed == 0 {
		once(&c.slots, h.name)
		return
	}
	limit := wallWanted(2 * h.bore.R)
	f := Finding{About: h.name, Unit: "mm", Value: web, Limit: limit, Margin: web - limit, Source: practice, Places: []Place{c.at(b, h.bore.Name, where, h.bore.At)}}
	switch {
	case open > 0 && b.relieves(h):
		return // a hole for the saw to turn in
	case open > 0 && closed > 0:
		f.Verdict = Mind
		f.Says = fmt.Sprintf("the hole %s runs out of the side of the wood for part of its way", h.name)
	case open > 0 && len(h.rods) > 0:
		return // fit.dowel fails it
	case open > 0 && web <= -h.bore.R/2 && !c.tied(h.in[0]):
		once(&c.slots, h.name) // so little of the round is left that it is meant: a seat
		return
	case open > 0:
		f.Verdict, f.Limit, f.Margin, f.Source = Fails, 0, web, "geometry: wood all round the hole"
		f.Says = fmt.Sprintf("the hole %s runs out of the side of the wood by %s: move it in, or draw the cut that opens it to end in the hole", h.name, c.len(-web))
	case web < limit-tol.Page:
		f.Verdict = Mind
		f.Says = fmt.Sprintf("only %s of wood is left beside the hole %s of %s: a drill tears it out", c.len(web), h.name, c.len(2*h.bore.R))
	default:
		if !math.IsInf(web, 1) {
			c.wall.meet(web, limit, h.name, f.Places[0])
		}
		return
	}
	c.say(h.key(b, "wall"), f)
}

// relieves tells whether an inside corner of a cut from the same direction lies in the
// hole: it was drilled for the saw to end or to turn in.
func (b *bench) relieves(h *drilled) bool {
	back := b.frame.Inverse()
	at, dir := back.Point(h.bore.Point), back.Dir(h.bore.Dir)
	for _, s := range b.sawCuts() {
		f := assembly.SideFrame(s.Side, b.size)
		if math.Abs(f.W.Dot(dir)) < 1-tol.Clip {
			continue
		}
		q := f.Inverse().Point(at)
		_, _, corners := s.Line.InsideCurves(s.Outside)
		for _, p := range corners {
			if p.Sub(r2.Vec{X: q.X, Y: q.Y}).Len() <= h.bore.R+tol.Touch {
				return true
			}
		}
	}
	return false
}

// between judges the holes of each piece against each other.
func (c *cutting) between() {
	parts := map[*assembly.Made]bool{}
	rods := map[assembly.Hole][]int{}
	for _, f := range c.m.Fits {
		k := assembly.Hole{Piece: f.Piece, Bore: f.Bore}
		rods[k] = append(rods[k], f.Rod)
	}
	for i, p := range c.m.Pieces {
		if parts[p.Made] {
			continue
		}
		parts[p.Made] = true
		for j := range p.Made.Bores {
			for k := j + 1; k < len(p.Made.Bores); k++ {
				c.pair(assembly.Hole{Piece: i, Bore: j}, assembly.Hole{Piece: i, Bore: k}, rods)
			}
		}
	}
}

// pair judges two holes of one piece.
func (c *cutting) pair(g, h assembly.Hole, rods map[assembly.Hole][]int) {
	p := c.m.Pieces[g.Piece]
	a, b := p.Bore(g.Bore), p.Bore(h.Bore)
	along := a.Dir.Cross(b.Dir).Len() <= tol.Clip
	if along && a.Dir.Cross(b.Point.Sub(a.Point)).Len() <= tol.Touch {
		return // a counterbore, or the same hole from the other side
	}
	limit := wallWanted(2 * math.Min(a.R, b.R))
	near := holeGap{math.Inf(1), r3.Vec{}}
	for _, x := range holePipes(p.Body, a) {
		for _, y := range holePipes(p.Body, b) {
			if x.Bounds().Distance(y.Bounds()) > limit {
				continue
			}
			if d := solid.Distance(x, y, limit); d.D < near.gap {
				near = holeGap{d.D, d.OnA}
			}
		}
	}
	if near.gap >= limit-tol.Touch {
		return
	}
	held := len(rods[g]) + len(rods[h])
	meet := near.gap <= tol.Touch
	if meet && (held == 0 || c.tied(g) || c.tied(h) || c.collide(rods[g], rods[h])) {
		return // drilled into each other on purpose; or fit.overlap says that the rods collide
	}
	names := [2]string{p.Part.Name + "/" + a.Name, p.Part.Name + "/" + b.Name}
	f := Finding{About: names[0] + "~" + names[1], Verdict: Mind, Unit: "mm", Value: near.gap, Limit: limit, Margin: near.gap - limit, Source: practice,
		Places: []Place{c.place(g.Piece, a.Name, near.at, a.At), c.place(h.Piece, b.Name, near.at, b.At)}}
	f.Says = fmt.Sprintf("only %s of wood is left between the holes %s and %s", c.len(near.gap), names[0], names[1])
	if meet {
		f.Says = fmt.Sprintf("the holes %s and %s run into each other", names[0], names[1])
	}
	c.say(f.About, f)
}

type holeGap struct {
	gap float64
	at  r3.Vec
}

// holePipes are the stretches of a hole that go through wood, as solids.
func holePipes(wood solid.Body, b assembly.Bore) (out []solid.Body) {
	u, v := basis(b.Dir)
	for _, s := range assembly.Spans(wood, b.Point, b.Dir) {
		lo, hi := math.Max(s[0], b.Lo), math.Min(s[1], b.Hi)
		if hi-lo > tol.Touch {
			out = append(out, solid.NewBody([]solid.Convex{solid.Cylinder(r3.Pose{U: u, V: v, W: b.Dir, O: b.Point}, b.R, lo, hi, 1, 1, 1)}))
		}
	}
	return out
}

// tied tells whether the pull cord is tied in a hole.
func (c *cutting) tied(h assembly.Hole) bool {
	cord := c.m.Toy.Cord
	if cord == nil || c.m.Pieces[h.Piece].Made.Bores[h.Bore].Name != cord.From.Feature {
		return false
	}
	for _, i := range c.m.Find(cord.From.Piece) {
		if i == h.Piece {
			return true
		}
	}
	return false
}

func (c *cutting) collide(a, b []int) bool {
	for _, i := range a {
		for _, j := range b {
			if solid.Penetrates(c.m.Pieces[i].Body, c.m.Pieces[j].Body, tol.Touch) {
				return true
			}
		}
	}
	return false
}

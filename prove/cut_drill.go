package prove

import (
	"fmt"
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// drills judges the holes of a bench as they are drilled: bits, the order of work, what
// is left in front of a stopped hole.
func (c *cutting) drills(b *bench) {
	if b.part != nil && b.part.Shape == toy.Disc && b.part.Made == "bought" && len(b.part.Work) == 0 {
		return
	}
	judged := map[[2]int]bool{} // work, counterbore
	for i := range b.holes {
		h := &b.holes[i]
		if h.work < 0 && b.part.Made == "bought" {
			continue
		}
		kind := [2]int{h.work, 0}
		if h.counter {
			kind[1] = 1
		}
		if !judged[kind] && !b.again {
			judged[kind] = true
			c.size(b, h)
		}
		if !h.counter && (h.spec == nil || h.spec.Depth == 0) {
			once(&c.backed, b.name)
		}
		if h.counter {
			once(&c.first, b.name)
			continue
		}
		if !b.again {
			c.reaches(b, h)
		}
		if h.spec != nil && h.spec.Depth > 0 {
			c.floor(b, h)
		}
		if h.spec != nil && !b.again {
			c.start(b, h)
		}
	}
}

// key names a question about all the holes of one work.
func (h *drilled) key(b *bench, question string) string {
	return fmt.Sprintf("%s/%d/%v/%s", b.name, h.work, h.counter, question)
}

// size asks for a bit of a hole's diameter.
func (c *cutting) size(b *bench, h *drilled) {
	d := 2 * h.bore.R
	f := Finding{About: h.name, Unit: "mm", LimitOp: "<=", Limit: tol.Drill, Places: []Place{c.at(b, h.bore.Name, h.bore.Point, h.bore.At)}}
	if h.work < 0 && b.part.Made == "hole-saw" {
		if d >= pilotLeast-tol.Drill {
			return
		}
		f.Verdict, f.Value, f.Limit, f.LimitOp, f.Margin, f.Source = Mind, d, pilotLeast, ">=", d-pilotLeast, practice
		f.Says = fmt.Sprintf("the drill of a hole saw leaves a hole of %s in %s, not %s", c.len(pilotHole), b.name, c.len(d))
		c.say(h.key(b, "start"), f)
		return
	}
	have := c.bit(d)
	c.usual = c.usual || c.m.Toy.Shop == nil || len(c.m.Toy.Shop.Bits) == 0
	if have.Name != "" {
		return
	}
	off, near := math.Inf(1), have.Near()
	for _, n := range []facts.Drill{have.Below, have.Above} {
		if n.Name != "" {
			off = math.Min(off, math.Abs(n.MM-d))
		}
	}
	f.Verdict, f.Source = Mind, "the usual sets of bits"
	f.Value, f.Margin = off, tol.Drill-off
	f.Says = fmt.Sprintf("there is no bit of %s for %s; the nearest: %s", inMM(d), h.name, near)
	switch sh := c.m.Toy.Shop; {
	case have.Above.Name == "":
		f.Says = fmt.Sprintf("no bit is as large as %s, the hole %s: saw it out, or take a hole saw", inMM(d), h.name)
	case sh != nil && len(sh.Bits) > 0:
		f.Verdict, f.Source = Fails, sh.Source()
		f.Says = fmt.Sprintf("the shop has no bit of %s for %s; the nearest: %s", inMM(d), h.name, near)
	}
	c.say(h.key(b, "bit"), f)
}

// floor asks what is left in front of a stopped hole.
func (c *cutting) floor(b *bench, h *drilled) {
	end := math.Inf(-1)
	for _, s := range assembly.Spans(b.wood, h.bore.Point, h.bore.Dir) {
		if s[0] < h.bore.Hi-tol.Touch && s[1] > h.bore.Hi+tol.Touch {
			end = s[1]
		}
	}
	left := end - h.bore.Hi
	if left < 0 { // it goes through, or ends in the air
		once(&c.backed, b.name)
		return
	}
	d := 2 * h.bore.R
	limit := math.Max(floorLeast, pointShare*d)
	if c.flatBit(d) {
		if left >= floorLeast-tol.Page && left < limit-tol.Page {
			once(&c.flat, h.name)
		}
		limit = floorLeast
	}
	if left >= limit-tol.Page {
		return
	}
	f := Finding{About: h.name, Verdict: Mind, Unit: "mm", Value: left, Limit: limit, Margin: left - limit, Source: "118° drill point; " + practice,
		Places: []Place{c.at(b, h.bore.Name, h.bore.Point.Add(h.bore.Dir.Scale(h.bore.Hi)), h.bore.At)}}
	f.Says = fmt.Sprintf("only %s is left in front of the stopped hole %s: the drill comes through", c.len(left), h.name)
	c.say(h.key(b, "floor"), f)
}

// start asks what the drill finds where it starts: wood under its point, square to it.
func (c *cutting) start(b *bench, h *drilled) {
	if h.spec.Lean != 0 {
		return
	}
	frame := assembly.SideFrame(h.spec.Side, b.size)
	back := b.frame.Inverse()
	box := frame.Inverse().Box(b.reach)
	p := frame.Inverse().Point(back.Point(h.bore.Point)) // the mouth on the side
	f := Finding{About: h.name, Verdict: Mind, Source: practice, Places: []Place{c.at(b, h.bore.Name, h.bore.Point, h.bore.At)}}
	if beside := math.Max(math.Max(box.Min.X-p.X, p.X-box.Max.X), math.Max(box.Min.Y-p.Y, p.Y-box.Max.Y)); beside > -tol.Touch {
		once(&c.slots, h.name)
		if beside > tol.Touch {
			f.Unit, f.LimitOp, f.Value, f.Margin = "mm", "<=", beside, -beside
			f.Says = fmt.Sprintf("the drill for %s starts %s beside the wood: clamp scrap against it, or draw it as a cut-in and saw it", h.name, c.len(beside))
			c.say(h.key(b, "start"), f)
		}
		return
	}
	gone := c.goneBefore(b, h.work, frame.Point(p))
	if gone < 0 {
		return
	}
	spans := assembly.Spans(b.wood, h.bore.Point, h.bore.Dir)
	if len(spans) == 0 {
		f.Unit, f.Limit, f.Margin = "", 1, -1
		f.Says = fmt.Sprintf("%s is drilled after work %d has taken the wood away where the drill starts: drill first", h.name, gone+1)
		c.say(h.key(b, "start"), f)
		return
	}
	slope := entrySlope(b.wood, h.bore.Point.Add(h.bore.Dir.Scale(spans[0][0])), h.bore.Dir)
	if slope > walkSlope {
		f.Unit, f.LimitOp, f.Value, f.Limit, f.Margin = "degree", "<=", degrees(slope), degrees(walkSlope), degrees(walkSlope-slope)
		f.Says = fmt.Sprintf("%s is drilled after work %d has left a slope of %s there, on which a drill walks: drill first, while the wood is square", h.name, gone+1, c.deg(slope))
		c.say(h.key(b, "start"), f)
	}
}

// goneBefore returns the work before a drill that took the wood away at its mouth
// (in the frame of the blank); -1 if none did.
func (c *cutting) goneBefore(b *bench, work int, mouth r3.Vec) int {
	for k, w := range b.work[:work] {
		var side toy.Side
		var o toy.Outline
		depth, keep := 0.0, false
		switch w := w.(type) {
		case toy.Saw:
			side, o, keep = w.Side, w.Outline, true
		case toy.Cut:
			side, o, depth = w.Side, w.Outline, w.Depth.MM()
		default:
			continue
		}
		line, err := assembly.Line(o)
		if err != nil {
			continue
		}
		f := assembly.SideFrame(side, b.size).Inverse()
		q := f.Point(mouth)
		p := r2.Vec{X: q.X, Y: q.Y}
		if keep && !line.Contains(p) && line.DistanceTo(p) > tol.Touch {
			return k
		}
		if !keep && insideLine(line, p) && (depth == 0 || f.Box(b.reach).Max.Z-q.Z < depth-tol.Touch) {
			return k
		}
	}
	return -1
}

func insideLine(line outline.Path, p r2.Vec) bool {
	return line.Contains(p) && line.DistanceTo(p) > tol.Touch
}

package prove

import (
	"fmt"
	"math"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// sawCuts lists what is sawn through on a bench: the outline of a disc first.
func (b *bench) sawCuts() (out []assembly.Sawn) {
	if p := b.part; p != nil && p.Shape == toy.Disc && (p.Made == "sawn" || p.Made == "") {
		out = append(out, assembly.SawnRound(p, b.size))
	}
	return append(out, assembly.SawnThrough(b.work, b.size, b.reach)...)
}

// bladesFor says which blade turns an inside radius.
func bladesFor(radius float64) string {
	if b, ok := facts.WidestBlade(radius + tol.Touch); ok {
		return b.Name + " blade or narrower, or a scroll saw"
	}
	return "a scroll saw, or drilled first"
}

// saws judges what is sawn on a bench.
func (c *cutting) saws(b *bench) {
	if b.again {
		return
	}
	for _, s := range b.sawCuts() {
		c.saw(b, s)
		if !s.Outside && s.Work >= 0 {
			c.leaves(b, s)
		}
	}
	c.twoWays(b)
	for k, w := range b.work {
		if cut, ok := w.(toy.Cut); ok && cut.Depth.MM() > DeepRecess+tol.Page {
			c.recess(b, k, cut)
		}
	}
}

// leaves minds an outline that runs past the wood: what is not there cannot be sawn, so most
// likely a number is wrong.
func (c *cutting) leaves(b *bench, s assembly.Sawn) {
	box := assembly.SideFrame(s.Side, b.size).Inverse().Box(b.reach)
	l := s.Line.Bounds()
	mid := l.Min.Add(l.Max).Scale(0.5)
	over, way, at := 0.0, "", mid
	for _, o := range []struct {
		by  float64
		way string
		at  r2.Vec
	}{{box.Min.X - l.Min.X, "left", r2.Vec{X: box.Min.X, Y: mid.Y}}, {l.Max.X - box.Max.X, "right", r2.Vec{X: box.Max.X, Y: mid.Y}},
		{box.Min.Y - l.Min.Y, "lower side", r2.Vec{X: mid.X, Y: box.Min.Y}}, {l.Max.Y - box.Max.Y, "upper side", r2.Vec{X: mid.X, Y: box.Max.Y}}} {
		if o.by > over+tol.Page {
			over, way, at = o.by, o.way, o.at
		}
	}
	if over <= pastBlank+tol.Page {
		return
	}
	wood := "blank"
	if b.part == nil {
		wood = "wood"
	}
	c.say(b.about(s.Work), Finding{About: b.about(s.Work), Verdict: Mind, Unit: "mm", LimitOp: "<=", Value: over, Limit: pastBlank, Margin: pastBlank - over, Source: practice,
		Places: []Place{c.at(b, "", b.spot(assembly.SideFrame(s.Side, b.size).Point(r3.Vec{X: at.X, Y: at.Y})), s.At)},
		Says:   fmt.Sprintf("%s leaves the %s by %s, at its %s as seen: there is no wood to saw, and its own edge stays", cutName(b, s), wood, c.len(over), way)})
}

// recess judges what is cut to a depth for which a chisel or a router alone is too short.
func (c *cutting) recess(b *bench, work int, cut toy.Cut) {
	line, err := assembly.Line(cut.Outline)
	if err != nil {
		return // Derive has refused it
	}
	name := fmt.Sprintf("%s (work %d, %s)", b.name, work+1, cut.Word)
	deep, wide := cut.Depth.MM(), line.Narrowest()
	if most := recessSlender * wide; deep > most+tol.Page {
		at := line.Bounds().Min.Add(line.Bounds().Max).Scale(0.5)
		c.say(b.about(work), Finding{About: b.about(work), Verdict: Mind, Unit: "mm", LimitOp: "<=", Value: deep, Limit: most, Margin: most - deep, Source: practice,
			Places: []Place{c.at(b, "", b.spot(assembly.SideFrame(cut.Side, b.size).Point(r3.Vec{X: at.X, Y: at.Y})), cut.At)},
			Says:   fmt.Sprintf("%s is %s deep and only %s wide, and no chisel works at its floor: make it shallower, or saw it through and glue a floor on", name, c.len(deep), c.len(wide))})
		return
	}
	once(&c.bored, name)
}

// cutName says a saw cut for the user: by its place in the work of its part.
func cutName(b *bench, s assembly.Sawn) string {
	switch {
	case s.Work >= 0 && s.Word == "saw":
		return fmt.Sprintf("%s (work %d, saw)", b.name, s.Work+1)
	case s.Work >= 0:
		return fmt.Sprintf("%s (work %d, %s)", b.name, s.Work+1, s.Word)
	}
	return fmt.Sprintf("the %s of %s", s.Word, b.name)
}

// kerf is how much the finest of some saws takes away, and whether the shop says so.
func (c *cutting) kerf(saws ...*assembly.SawMachine) (kerf float64, said bool) {
	kerf = scrollKerf
	for _, m := range saws {
		if m != nil && m.Is != nil && m.Is.Kerf > 0 && (!said || m.Is.Kerf.MM() < kerf) {
			kerf, said = m.Is.Kerf.MM(), true
		}
	}
	return kerf, said
}

// saw judges one saw cut: its inside curves, how thick the wood is, and whether the blade
// has room in it.
func (c *cutting) saw(b *bench, s assembly.Sawn) {
	box := s.Line.Bounds()
	what := cutName(b, s)
	about := b.name
	if s.Work >= 0 {
		about = b.about(s.Work)
	}
	frame := assembly.SideFrame(s.Side, b.size)
	spot := func(p r2.Vec) []Place {
		return []Place{c.at(b, "", b.spot(frame.Point(r3.Vec{X: p.X, Y: p.Y})), s.At)}
	}
	say := func(f Finding) {
		f.About, f.Unit, f.Margin = about, "mm", f.Value-f.Limit
		if f.LimitOp == "<=" {
			f.Margin = -f.Margin
		}
		c.say(about, f)
	}
	if _, bored := assembly.BoredWith(s, c.m.Toy.Shop, c.m.Toy.Units); bored {
		return
	}
	radius, tight, _ := s.Line.InsideCurves(s.Outside)
	band, scroll := assembly.SawsOf(c.m.Toy.Shop)
	if s.Pierced {
		band = nil
	}
	thickest, least := 0.0, math.Inf(1)
	said := true
	for _, m := range []*assembly.SawMachine{band, scroll} {
		if m == nil {
			continue
		}
		said = said && m.Said
		c.usual = c.usual || !m.Said
		thickest = math.Max(thickest, m.Thickest)
		if m.Takes(s.Depth) {
			least = math.Min(least, m.Turns(s.Depth))
		}
	}
	mid := box.Min.Add(box.Max).Scale(0.5)
	switch {
	case band == nil && scroll == nil:
		say(Finding{Verdict: Mind, Value: 0, Limit: 1, LimitOp: ">=", Source: c.m.Toy.Shop.Source(), Places: spot(mid),
			Says: what + " is closed all round and the shop has no scroll saw: drill it out and pare it with a chisel"})
	case s.Depth > thickest+tol.Page:
		f := Finding{Verdict: Mind, Value: s.Depth, Limit: thickest, LimitOp: "<=", Source: practice, Places: spot(mid)}
		if said {
			f.Source = c.m.Toy.Shop.Source()
		}
		f.Says = fmt.Sprintf("%s goes through %s of wood, and a saw takes %s", what, c.len(s.Depth), c.len(thickest))
		if s.Pierced {
			f.Says += ": drill it out and pare it with a chisel"
		} else if said {
			f.Verdict = Fails
			f.Says += ": glue it up from thinner layers, each sawn alone"
		}
		say(f)
	case radius < least-tol.Page:
		f := Finding{Verdict: Mind, Value: radius, Limit: least, Source: "trade tables of blades", Places: spot(tight)}
		f.Says = fmt.Sprintf("%s has an inside curve of radius %s, and in %s of wood a blade turns no tighter than %s", what, inMM(radius), c.len(s.Depth), inMM(least))
		if bit := c.bit(2 * radius); bit.Name != "" && 2*radius >= bladeHole-tol.Page {
			f.Says += ": drill " + bit.Name + " there first and saw to the hole"
		} else {
			f.Says += ": leave the corner sharp or make it rounder"
		}
		say(f)
	}
	if !math.IsInf(radius, 1) {
		c.curve.meet(radius, 0, b.name, Place{})
	}
	if !s.Outside {
		return
	}
	wide := s.Line.Narrowest()
	kerf, kerfSaid := c.kerf(band, scroll)
	switch {
	case wide < kerf-tol.Page:
		f := Finding{Verdict: Mind, Value: wide, Limit: kerf, Source: practice, Places: spot(mid),
			Says: fmt.Sprintf("%s is %s wide, less than the saw takes away: %s; make it that wide", what, inMM(wide), inMM(kerf))}
		if kerfSaid {
			f.Verdict, f.Source = Fails, c.m.Toy.Shop.Source()
		}
		say(f)
	case s.Pierced && wide < bladeHole-tol.Page:
		say(Finding{Verdict: Mind, Value: wide, Limit: bladeHole, Source: practice, Places: spot(mid),
			Says: fmt.Sprintf("%s is %s wide: no room for the hole that the blade goes in through (%s)", what, inMM(wide), inMM(bladeHole))})
	}
}

// twoWays notes work that needs the waste of an earlier cut as its bed.
func (c *cutting) twoWays(b *bench) {
	sawn := -1
	for _, w := range b.work {
		axis := -1
		switch w := w.(type) {
		case toy.Saw:
			axis = int(w.Side) / 2
		case toy.Cut:
			axis = int(w.Side) / 2
		case toy.Drill:
			axis = int(w.Side) / 2
		}
		if axis >= 0 && sawn >= 0 && axis != sawn {
			once(&c.taped, b.name)
		}
		if _, ok := w.(toy.Saw); ok && sawn < 0 {
			sawn = axis
		}
	}
}

// bit finds a bit of that diameter among those of the shop.
func (c *cutting) bit(mm float64) assembly.Bit {
	return assembly.BitFor(mm, c.m.Toy.Shop, c.m.Toy.Units)
}

// flatBit tells whether a flat-bottomed bit of that diameter is among those of the shop.
func (c *cutting) flatBit(mm float64) bool {
	for _, s := range assembly.BitsOf(c.m.Toy.Shop, c.m.Toy.Units) {
		for _, d := range facts.Drills(s) {
			if math.Abs(d.MM-mm) <= tol.Drill && strings.Contains(d.Kind, "forstner") {
				return true
			}
		}
	}
	return false
}

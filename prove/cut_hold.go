package prove

import (
	"fmt"
	"math"

	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

// Held is how a part is held at a saw or drill.
type Held int

// The ways of holding a part.
const (
	ByItself Held = iota
	OnStrip       // too short to be held by itself: on the end of a longer strip, and cut off last
	InScraps      // too short, with work on an end, which a strip would cover: between scraps, or taped to a longer block
)

// HeldFor tells how a block is held for its work. Common practice, no source.
func HeldFor(p *toy.Part) Held {
	if p.Shape != toy.Block || max(p.Length.MM(), p.Width.MM(), p.Thick.MM()) >= heldLeast || len(p.Work) == 0 {
		return ByItself
	}
	for _, w := range p.Work {
		if s, ok := toy.SideOf(w); ok && (s == toy.Front || s == toy.Back) {
			return InScraps
		}
	}
	return OnStrip
}

// holding notes how small and round pieces are held for the work on them, and minds
// those that a strip does not help.
func (c *cutting) holding(b *bench) {
	p := b.part
	if p == nil || b.again {
		return
	}
	longest := math.Max(b.size.X, math.Max(b.size.Y, b.size.Z))
	f := Finding{About: p.Name, Verdict: Mind, Unit: "mm", Value: longest, Source: practice, Places: []Place{c.at(b, "", b.spot(b.size.Scale(0.5)), p.At)}}
	switch p.Shape {
	case toy.Sphere:
		if len(p.Work) > 0 {
			once(&c.cups, p.Name)
		}
	case toy.Rod:
		for _, w := range p.Work {
			if d, ok := w.(toy.Drill); ok && d.Side != toy.Front && d.Side != toy.Back {
				once(&c.vee, p.Name)
			}
		}
	case toy.Disc:
		if p.Made != "" && p.Made != "sawn" || longest >= heldLeast {
			return
		}
		once(&c.strip, p.Name)
		if longest < tinyRound-tol.Page {
			f.Limit = tinyRound
			f.Says = fmt.Sprintf("%s is only %s across, too small to saw round by hand: slice it off a dowel, or buy it", p.Name, c.len(longest))
		}
	default:
		switch HeldFor(p) {
		case ByItself:
			return
		case OnStrip:
			once(&c.strip, p.Name)
		case InScraps:
			once(&c.scraps, p.Name)
		}
		ways := map[toy.Side]bool{}
		for _, w := range p.Work {
			if s, ok := toy.SideOf(w); ok {
				ways[s|1] = true
			}
		}
		if longest < tinyPiece-tol.Page && len(ways) > 1 {
			f.Limit = tinyPiece
			f.Says = fmt.Sprintf("%s is only %s long and worked from two sides, too small to hold by hand: screw or tape it to scrap, or hold it in a hand vice", p.Name, c.len(longest))
		}
	}
	if f.Says != "" {
		f.Margin = f.Value - f.Limit
		c.say(p.Name, f)
	}
}

// stock asks whether each piece can be had in its length.
func (c *cutting) stock() {
	for _, st := range c.m.Toy.Stock {
		at, long := -1, 0.0
		for i, p := range c.m.Pieces {
			if p.Part.Stock != st.Name {
				continue
			}
			l := p.Made.Size.X
			if st.Form == toy.Sheet {
				l = math.Max(l, p.Made.Size.Y)
			}
			if l > long+tol.Page {
				at, long = i, l
			}
		}
		limit, src, v := st.Longest.MM(), "the toy file: longest", Fails
		if limit == 0 {
			if st.Form != toy.Dowel {
				continue
			}
			limit, src, v = usualDowel(c.m.Toy.Units), practice+": dowel lengths", Mind
		}
		if at < 0 || long <= limit+tol.Page {
			continue
		}
		p := c.m.Pieces[at]
		f := Finding{About: p.ID, Verdict: v, Unit: "mm", Value: long, Limit: limit, LimitOp: "<=", Margin: limit - long, Source: src, Places: []Place{c.place(at, "", p.Body.Bounds().Center(), p.At)}}
		f.Says = fmt.Sprintf("%s is %s long, and %s is to be had in %s: make it shorter, or of two", p.ID, c.len(long), st.Name, c.len(limit))
		if v == Mind {
			f.Says = fmt.Sprintf("%s is %s long, and dowels are sold in %s", p.ID, c.len(long), c.len(limit))
			f.Notes = append(f.Notes, "usual lengths are taken: say longest at the stock if yours is another")
		}
		c.say(p.ID, f)
	}
}

// usualDowel is the longest dowel that is usually sold, in a country of those units.
func usualDowel(u measure.Unit) float64 {
	most := 0.0
	for _, s := range facts.Sizes("dowel length") {
		if s.Metric == (u == measure.MM) {
			most = math.Max(most, s.MM)
		}
	}
	return most
}

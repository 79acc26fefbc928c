package shop

import (
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// The saw list: every cut under the blade that it is sawn with, so that each blade is put on
// once. Which saw and blade a cut has is decided by assembly.SawnWith.

// The saws, in the order of the list.
const (
	SawStraight = "straight"
	SawBand     = assembly.BandSaw
	SawScroll   = assembly.ScrollSaw
	SawByHand   = "by hand"
)

// Straight cuts; of others the operation is the word of the toy file, or disc.
const (
	OpBlank  = "blank"  // squared
	OpLength = "length" // cut off a dowel
)

// Saw is a blade and all that is sawn with it.
type Saw struct {
	Saw     string   `json:"saw"`
	Blade   string   `json:"blade,omitempty"` // "1/4 in", "no. 5"; for straight cuts the saw that does them
	WidthMM float64  `json:"width_mm,omitempty"`
	Cuts    []SawCut `json:"cuts"`
}

// SawCut is a cut that is made in so many pieces.
type SawCut struct {
	Toy      string  `json:"toy"`
	Part     string  `json:"part"` // or the glue-up
	GlueUp   bool    `json:"glue_up,omitempty"`
	Op       string  `json:"op"`             // blank, length, disc, saw, cut-out, cut-in, notch
	Side     string  `json:"side,omitempty"` // that the outline is drawn on
	Each     int     `json:"each"`           // such cuts in a piece
	Pieces   int     `json:"pieces"`
	Spare    int     `json:"spare"`
	ThickMM  float64 `json:"thick_mm"`            // of wood under the blade
	RadiusMM float64 `json:"radius_mm,omitempty"` // of the tightest curve; 0: none
	LineMM   float64 `json:"line_mm,omitempty"`   // of the outlines in a piece
	PierceMM float64 `json:"pierce_mm,omitempty"` // the bit that a hole for the blade is drilled with
	Why      string  `json:"why,omitempty"`       // how, where no blade alone does it
}

func (l *Lists) saws(orders []Order, all []usage) {
	sh := l.own
	if sh == nil {
		sh = orders[0].Model.Toy.Shop
	}
	l.straight(sh)
	for _, o := range orders {
		m := o.Model
		var used []usage
		for _, u := range all {
			if u.toy == o.name {
				used = append(used, u)
			}
		}
		for i := range m.Toy.Parts {
			p := &m.Toy.Parts[i]
			base := SawCut{Toy: o.name, Part: p.Name}
			base.Pieces, base.Spare = countOf(used, p), spareOf(used, p)
			if base.Pieces == 0 {
				continue
			}
			size := sizeOf(used, p)
			if p.Shape == toy.Disc && (p.Made == MadeSawn || p.Made == "") {
				l.sawn(m.Toy, base, assembly.SawnRound(p, size), toy.Cut{})
			}
			l.outlines(m.Toy, base, p.Work, size, r3.Box{Max: size})
		}
		for i := range m.Toy.GlueUps {
			spec := &m.Toy.GlueUps[i]
			base := SawCut{Toy: o.name, Part: spec.Name, GlueUp: true}
			var one assembly.GlueUp
			for _, g := range m.GlueUps {
				if g.Spec.Name == spec.Name {
					base.Pieces, one = base.Pieces+o.Count, g
				}
			}
			if base.Pieces > 0 {
				l.outlines(m.Toy, base, spec.Work, m.Pieces[one.Pieces[0]].Made.Size, m.Reach(one))
			}
		}
	}
	order := []string{SawStraight, SawBand, SawScroll, SawByHand}
	slices.SortStableFunc(l.Saws, func(a, b Saw) int {
		if d := slices.Index(order, a.Saw) - slices.Index(order, b.Saw); d != 0 {
			return d
		}
		switch {
		case a.WidthMM > b.WidthMM:
			return -1
		case a.WidthMM < b.WidthMM:
			return 1
		}
		return 0
	})
}

// straight lists the squaring of blanks and the cutting to length of dowels, one line a stock.
func (l *Lists) straight(sh *toy.Shop) {
	for _, s := range l.Stock {
		c := SawCut{Op: OpBlank, ThickMM: s.ThickMM}
		var parts, toys []string
		if s.Form == toy.Dowel.String() {
			c.Op, c.ThickMM = OpLength, s.DiaMM
		}
		for _, b := range s.Blanks {
			if b.RoughLengthMM > 0 && b.Made != MadePlug { // plugs come straight out of the board
				c.Pieces, c.Spare, parts, toys = c.Pieces+b.Count, c.Spare+b.Spare, with(parts, b.Part), with(toys, b.Toy)
				c.ThickMM = max(c.ThickMM, b.RoughThickMM)
			}
		}
		if c.Part, c.Toy = strings.Join(parts, ", "), strings.Join(toys, ", "); c.Pieces > 0 {
			l.putCut(straightCuts(sh), c)
		}
	}
}

// straightCuts is where straight cuts stand in the list; with which saw is said if the shop says
// anything of its saws.
func straightCuts(sh *toy.Shop) Saw {
	s := Saw{Saw: SawStraight}
	if saysSaws(sh) {
		var tools []string
		if sh.Rack != nil {
			tools = sh.Rack.Tools
		}
		s.Blade = StraightSaw(sh, tools)
	}
	return s
}

// saysSaws tells whether a shop, which may be nil, says anything of its saws.
func saysSaws(sh *toy.Shop) bool {
	return sh != nil && (sh.BandSaw != nil || sh.ScrollSaw != nil || sh.Rack != nil && len(sh.Rack.Tools) > 0)
}

// What is sawn straight with besides a band saw.
const (
	TableSaw = "table saw"
	MitreSaw = "mitre saw"
	HandSaw  = "hand saw"
)

// StraightSaw is what blanks are squared with and straight lines sawn in a shop, which may be nil: a
// table, mitre or hand saw if it is among the tools of the shop's file, else the band saw if there
// is one.
func StraightSaw(sh *toy.Shop, tools []string) string {
	for _, saw := range []string{TableSaw, MitreSaw, HandSaw} {
		if slices.Contains(tools, strings.ReplaceAll(saw, " ", "-")) {
			return saw
		}
	}
	if band, _ := assembly.SawsOf(sh); band != nil {
		return SawBand
	}
	return HandSaw
}

func (l *Lists) outlines(t *toy.Toy, base SawCut, work []toy.Work, size r3.Vec, reach r3.Box) {
	for _, s := range assembly.SawnThrough(work, size, reach) {
		cut, _ := work[s.Work].(toy.Cut)
		l.sawn(t, base, s, cut)
	}
}

// sawn puts a cut under its blade.
func (l *Lists) sawn(t *toy.Toy, c SawCut, s assembly.Sawn, cut toy.Cut) {
	c.Op, c.Side, c.ThickMM, c.LineMM = s.Word, SideName(s.Side), settled(s.Depth), kept(s.Line.Length())
	how := assembly.SawnWith(s, t.Shop)
	if radius := min(how.Inside, how.Outside); !math.IsInf(radius, 1) {
		c.RadiusMM = kept(radius)
	}
	if s.Pierced {
		if _, bored := assembly.BoredWith(s, t.Shop, t.Units); bored {
			return // it is in the drill list
		}
		_, c.PierceMM = Pierced(cut, t)
	}
	var under Saw
	under, c.Why = l.blade(t.Shop, s, how)
	l.putCut(under, c)
}

// blade is where a cut stands in the list, and how it is done if no blade alone does it.
func (l *Lists) blade(sh *toy.Shop, s assembly.Sawn, how assembly.Sawing) (under Saw, why string) {
	if how.Saw == nil {
		switch _, scroll := assembly.SawsOf(sh); {
		case s.Pierced && scroll == nil:
			why = "closed all round, and there is no scroll saw: drill it out and pare it"
		case s.Pierced:
			why = "closed all round, and too thick for the scroll saw: drill it out and pare it"
		default:
			why = "too thick for the saws there are"
		}
		return Saw{Saw: SawByHand}, why
	}
	if how.Straight() && !s.Pierced {
		return straightCuts(sh), ""
	}
	turns := how.Saw.Turns(s.Depth)
	switch {
	case how.Inside < turns-tol.Page:
		why = "the blade turns no tighter than " + l.length(settled(turns)) + ": drill the curve first, and saw to the hole"
	case how.Outside < turns-tol.Page && how.Saw.Name == SawBand:
		why = "rounder than the blade turns: saw off the corners in straight cuts, and sand to the line"
	}
	under = Saw{Saw: how.Saw.Name, Blade: strings.TrimPrefix(how.Blade.Name, how.Saw.Name+" "), WidthMM: settled(how.Blade.Width)}
	if under.Blade == "" {
		under.Blade = l.length(under.WidthMM)
	}
	return under, why
}

// putCut adds a cut under its blade; cuts that are alike are one line.
func (l *Lists) putCut(under Saw, c SawCut) {
	k := 0
	for k < len(l.Saws) && !(l.Saws[k].Saw == under.Saw && l.Saws[k].Blade == under.Blade) {
		k++
	}
	if k == len(l.Saws) {
		l.Saws = append(l.Saws, under)
	}
	c.Each = 1
	for i := range l.Saws[k].Cuts {
		o := &l.Saws[k].Cuts[i]
		d := c
		d.Each, d.LineMM = o.Each, o.LineMM
		if d == *o {
			o.Each++
			o.LineMM = kept(o.LineMM + c.LineMM)
			return
		}
	}
	l.Saws[k].Cuts = append(l.Saws[k].Cuts, c)
}

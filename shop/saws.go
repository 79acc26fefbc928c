package shop

import (
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/toy"
)

// The saw list: every cut under the blade that it is sawn with, so that each blade is put on
// once. A cut has the widest band-saw blade that turns its tightest curve; what is closed all
// round, or turns tighter than a band saw does, is for the scroll saw.

// The saws, in the order of the list.
const (
	SawStraight = "straight"
	SawBand     = "band saw"
	SawScroll   = "scroll saw"
	SawBored    = "bored" // a round opening that a bit makes
	SawByHand   = "by hand"
)

// Saw is a blade and all that is sawn with it.
type Saw struct {
	Saw     string   `json:"saw"`
	Blade   string   `json:"blade,omitempty"` // "1/4 in", "no. 5"; for straight cuts the saws there are
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
	Why      string  `json:"why,omitempty"`       // it is done by hand
}

// What a saw takes that the file says nothing of, mm: as cut.possible has it (common practice, no
// source).
const (
	scrollTakes = 2 * inch
	bandTakes   = 6 * inch
	// widestBand is the widest blade that is put on for a curve: that of a small band saw.
	widestBand = inch / 2
	// sandedRound is the largest radius of an outside corner that is sanded round instead of
	// sawn: less is not worth a narrow blade.
	sandedRound = inch / 4
	sawnCurve   = math.Pi / 4 // an arc that turns less is followed by any blade
)

func (l *Lists) saws(orders []Order, all []usage) {
	l.straight(all)
	for _, o := range orders {
		m := o.Model
		for i := range m.Toy.Parts {
			p := &m.Toy.Parts[i]
			base := SawCut{Toy: o.name, Part: p.Name}
			var size r3.Vec
			for _, u := range all {
				if u.toy == o.name && u.part == p {
					base.Pieces, base.Spare = base.Pieces+u.count, base.Spare+u.spare
					size = r3.Vec{X: u.mm, Y: p.Width.MM(), Z: p.Thick.MM()}
				}
			}
			if base.Pieces == 0 {
				continue
			}
			if p.Shape == toy.Disc && (p.Made == "sawn" || p.Made == "") {
				mid := r2.Vec{X: size.X / 2, Y: size.Y / 2}
				l.sawn(m.Toy.Shop, base, assembly.Sawn{Word: "disc", Side: toy.Top, Line: outline.Circle(mid, size.X/2), Depth: size.Z}, toy.Cut{})
			}
			l.outlines(m.Toy.Shop, base, p.Work, size, r3.Box{Max: size})
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
				l.outlines(m.Toy.Shop, base, spec.Work, m.Pieces[one.Pieces[0]].Made.Size, m.Reach(one))
			}
		}
	}
	order := []string{SawStraight, SawBand, SawScroll, SawBored, SawByHand}
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
func (l *Lists) straight(all []usage) {
	for _, s := range l.Stock {
		c := SawCut{Op: "blank", ThickMM: s.ThickMM}
		var parts, toys []string
		if s.Form == "dowel" {
			c.Op, c.ThickMM = "length", s.DiaMM
		}
		for _, b := range s.Blanks {
			if b.RoughLengthMM > 0 && b.Made != MadePlug { // plugs come straight out of the board
				c.Pieces, c.Spare, parts, toys = c.Pieces+b.Count, c.Spare+b.Spare, with(parts, b.Part), with(toys, b.Toy)
				c.ThickMM = max(c.ThickMM, b.RoughThickMM)
			}
		}
		if c.Part, c.Toy = strings.Join(parts, ", "), strings.Join(toys, ", "); c.Pieces > 0 {
			l.putCut(Saw{Saw: SawStraight, Blade: l.straightSaws()}, c)
		}
	}
}

// straightSaws are the saws for straight cuts that the shop says it has.
func (l *Lists) straightSaws() string {
	var out []string
	if l.rack != nil {
		for _, t := range l.rack.Tools {
			switch t {
			case "table-saw", "mitre-saw", "hand-saw":
				out = append(out, strings.ReplaceAll(t, "-", " "))
			}
		}
	}
	return strings.Join(out, ", ")
}

func (l *Lists) outlines(sh *toy.Shop, base SawCut, work []toy.Work, size r3.Vec, reach r3.Box) {
	for _, s := range assembly.SawnThrough(work, size, reach) {
		cut, _ := work[s.Work].(toy.Cut)
		l.sawn(sh, base, s, cut)
	}
}

// sawn puts a cut under its blade.
func (l *Lists) sawn(sh *toy.Shop, c SawCut, s assembly.Sawn, cut toy.Cut) {
	c.Op, c.Side, c.ThickMM, c.LineMM = s.Word, SideName(s.Side), settled(s.Depth), kept(s.Line.Length())
	inside, _, _ := s.Line.InsideCurves(s.Outside)
	radius := min(inside, outsideCurve(s))
	if !math.IsInf(radius, 1) {
		c.RadiusMM = kept(radius)
	}
	if s.Pierced {
		if len(s.Line.Segs) == 1 && s.Line.Segs[0].Round() {
			if b := nameBit(2*s.Line.Segs[0].R, l.unit); b.Name != "" {
				c.RadiusMM = 0
				l.putCut(Saw{Saw: SawBored, Blade: b.Name, WidthMM: b.DiaMM}, c)
				return
			}
		}
		c.PierceMM = Pierced(cut, l.unit)
	}
	under, why := l.blade(sh, s, radius)
	c.Why = why
	if under.Saw == SawStraight {
		under.Blade = l.straightSaws()
	}
	if (under.Saw == SawBand || under.Saw == SawScroll) && under.Blade == "" {
		under.Blade = l.length(under.WidthMM)
	}
	l.putCut(under, c)
}

// outsideCurve is the tightest curve of the wood's outside that is sawn round, mm; Inf: none.
func outsideCurve(s assembly.Sawn) float64 {
	way := 1.0
	if s.Line.Area() < 0 {
		way = -1
	}
	if s.Outside {
		way = -way
	}
	least := math.Inf(1)
	for _, g := range s.Line.Segs {
		if g.Round() && g.Sweep*way >= sawnCurve && g.R > sandedRound+tol.Page {
			least = min(least, g.R)
		}
	}
	return least
}

// blade finds the saw and the blade for a cut whose tightest curve has a radius: the widest one
// where the file says none; why it is by hand, if it is.
func (l *Lists) blade(sh *toy.Shop, s assembly.Sawn, radius float64) (Saw, string) {
	var band, scroll *toy.Machine
	usual := sh == nil || sh.BandSaw == nil && sh.ScrollSaw == nil
	if usual {
		band, scroll = &toy.Machine{}, &toy.Machine{}
	} else {
		band, scroll = sh.BandSaw, sh.ScrollSaw
	}
	takes := func(m *toy.Machine, most float64) bool {
		if m != nil && m.Thickest > 0 {
			most = m.Thickest.MM()
		}
		return m != nil && s.Depth <= most+tol.Page
	}
	if !s.Pierced && math.IsInf(radius, 1) {
		return Saw{Saw: SawStraight}, ""
	}
	if !s.Pierced && takes(band, bandTakes) {
		if w := band.Blade.MM(); w > 0 {
			if facts.BandTurns(w) <= radius+tol.Page {
				return Saw{Saw: SawBand, WidthMM: w}, ""
			}
		} else if b, ok := facts.WidestBlade(min(radius, facts.BandTurns(widestBand)) + tol.Touch); ok {
			return Saw{Saw: SawBand, Blade: strings.TrimPrefix(b.Name, "band saw "), WidthMM: settled(b.Width)}, ""
		}
	}
	if takes(scroll, scrollTakes) {
		if w := scroll.Blade.MM(); w > 0 {
			if w/2 <= radius+tol.Page {
				return Saw{Saw: SawScroll, WidthMM: w}, ""
			}
			return Saw{Saw: SawByHand}, "the scroll saw's blade turns no tighter than " + l.length(settled(w/2)) + ": drill the curve first"
		}
		b := facts.ScrollBlade(s.Depth)
		return Saw{Saw: SawScroll, Blade: strings.TrimPrefix(b.Name, "scroll saw "), WidthMM: settled(b.Width)}, ""
	}
	switch {
	case s.Pierced && scroll == nil:
		return Saw{Saw: SawByHand}, "closed all round, and there is no scroll saw: drill it out and pare it"
	case s.Pierced:
		return Saw{Saw: SawByHand}, "closed all round, and too thick for the scroll saw: drill it out and pare it"
	case !takes(band, bandTakes) && (scroll == nil || !takes(scroll, scrollTakes)):
		return Saw{Saw: SawByHand}, "too thick for the saws there are"
	}
	return Saw{Saw: SawByHand}, "tighter than the blade turns: drill the curve first, and saw to the hole"
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

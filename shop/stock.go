package shop

import (
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

// What is sawn off beyond the finished blank where the shop does not say. Common practice, no
// source: enough for a saw cut, a planed edge and an end that was not square.
const (
	inch = facts.MMPerInch

	endAllowanceInch  = inch / 2 // on the length of a blank
	endAllowanceMM    = 12.0
	edgeAllowanceInch = inch / 4 // on the width of a blank, and both ways on a disc
	edgeAllowanceMM   = 6.0
)

// Allowance is what rough blanks have more than finished ones.
type Allowance struct {
	LengthMM float64 `json:"length_mm"`          // of blocks
	WidthMM  float64 `json:"width_mm"`           // of blocks, and both ways of discs
	ThickMM  float64 `json:"thick_mm,omitempty"` // of rough boards, which have still to be planed
	From     string  `json:"from"`               // the shop file, or usual
}

// usualAllowance is where an allowance comes from that no shop says.
const usualAllowance = "usual"

// allowance is what the shop's file says of cutting, and what is usual where it says nothing.
func (l *Lists) allowance() Allowance {
	a := Allowance{LengthMM: endAllowanceMM, WidthMM: edgeAllowanceMM, From: usualAllowance}
	if l.unit == measure.Inch {
		a.LengthMM, a.WidthMM = endAllowanceInch, edgeAllowanceInch
	}
	if l.rack == nil {
		return a
	}
	if h := l.rack.Handling; h != nil {
		a.LengthMM = settled(2*h.MM() + l.kerf())
		a.WidthMM, a.From = a.LengthMM, l.rack.From
	}
	if p := l.rack.Planing; p != nil {
		a.ThickMM, a.From = p.MM(), l.rack.From
	}
	return a
}

// boardFoot is the volume of one board foot in mm³: 144 cubic inches. Boards
// under thinnestTally are sold as if they were that thick. Source: rules of the
// hardwood trade association for measuring lumber, from memory.
const (
	boardFoot     = 144 * inch * inch * inch
	thinnestTally = inch
)

// boardFeet returns the board feet of a board of these sizes in mm.
func boardFeet(length, width, thick float64) float64 {
	return length * width * math.Max(thick, thinnestTally) / boardFoot
}

// Stock is what is cut from one stock of the toys.
type Stock struct {
	Name    string  `json:"name"`
	Wood    string  `json:"wood"`
	Form    string  `json:"form"` // board, sheet, dowel, ball
	ThickMM float64 `json:"thick_mm,omitempty"`
	DiaMM   float64 `json:"dia_mm,omitempty"`
	Blanks  []Blank `json:"blanks"`
	// Of the rough blanks, spares with them. Board feet are for boards only, by the thickness
	// that Nominal names; dowels and balls have none of the three.
	RoughAreaM2   float64  `json:"rough_area_m2,omitempty"`
	RoughVolumeM3 float64  `json:"rough_volume_m3,omitempty"`
	BoardFeet     float64  `json:"board_feet,omitempty"`
	Nominal       string   `json:"nominal,omitempty"`     // the board that it is planed from, as the trade names it
	BuyAreaM2     float64  `json:"buy_area_m2,omitempty"` // with wasteShare
	OnRackM2      float64  `json:"on_rack_m2,omitempty"`  // of boards that fit it, less TakenM2
	TakenM2       float64  `json:"taken_m2,omitempty"`    // of those boards, by the stocks before it
	OnRack        []string `json:"on_rack,omitempty"`     // their names
	ShortM2       float64  `json:"short_m2,omitempty"`    // of BuyAreaM2, against the rack
	// Of its pieces in the finished toys, spares without.
	WeightKg float64  `json:"weight_kg"`
	Notes    []string `json:"notes,omitempty"`

	// Strips are blanks of one width that can be ripped together and cut to length after.
	Strips []Strip `json:"strips,omitempty"`

	tallyMM float64 // rough thickness that Nominal stands for
}

// Strip is a strip of board that several blanks of one width are cut off.
type Strip struct {
	WidthMM  float64  `json:"width_mm"`  // rough
	ThickMM  float64  `json:"thick_mm"`  // rough
	LengthMM float64  `json:"length_mm"` // of all rough blanks, which have room for the saw
	Pieces   int      `json:"pieces"`    // spares with them
	Parts    []string `json:"parts"`
}

// leastStrip is how many blanks of a width are worth a strip.
const leastStrip = 4

// strips gathers blocks of one width.
func (l *Lists) strips(s *Stock) {
	var out []Strip
	for _, b := range s.Blanks {
		if s.Form != toy.Board.String() || b.Shape != ShapeBlock {
			continue
		}
		k := 0
		for k < len(out) && !(same(out[k].WidthMM, b.RoughWidthMM) && same(out[k].ThickMM, b.RoughThickMM)) {
			k++
		}
		if k == len(out) {
			out = append(out, Strip{WidthMM: b.RoughWidthMM, ThickMM: b.RoughThickMM})
		}
		n := b.Count + b.Spare
		out[k].LengthMM = settled(out[k].LengthMM + float64(float64(n)*b.RoughLengthMM))
		out[k].Pieces, out[k].Parts = out[k].Pieces+n, with(out[k].Parts, b.Part)
	}
	for _, x := range out {
		if x.Pieces >= leastStrip {
			s.Strips = append(s.Strips, x)
		}
	}
}

// The shapes of blanks.
const (
	ShapeBlock = "block"
	ShapeDisc  = "disc"
	ShapeRod   = "rod"
	ShapeBall  = "ball"
)

// Blank is what to cut for a part: so many, finished and rough. Nothing is cut
// for bought discs and balls: their rough sizes are 0.
type Blank struct {
	Toy           string   `json:"toy"`
	Numbers       []int    `json:"numbers"` // of its pieces in one toy, as on picture and patterns
	IDs           []string `json:"ids"`
	Part          string   `json:"part"`
	Shape         string   `json:"shape"` // block, disc, rod, ball
	Made          string   `json:"made,omitempty"`
	Count         int      `json:"count"` // in all toys of its kind
	Spare         int      `json:"spare"` // beyond Count
	LengthMM      float64  `json:"length_mm"`
	WidthMM       float64  `json:"width_mm"`
	ThickMM       float64  `json:"thick_mm"`
	RoughLengthMM float64  `json:"rough_length_mm"`
	RoughWidthMM  float64  `json:"rough_width_mm"`
	RoughThickMM  float64  `json:"rough_thick_mm"`
	AllowLengthMM float64  `json:"allow_length_mm"` // rough less finished
	AllowWidthMM  float64  `json:"allow_width_mm"`
	AllowThickMM  float64  `json:"allow_thick_mm"`
	Grain         string   `json:"grain"`
	Follows       bool     `json:"length_follows,omitempty"` // the length follows from the build
	Mirrors       string   `json:"mirrors,omitempty"`        // the part it is the mirror image of
	TurnedOver    bool     `json:"turned_over,omitempty"`    // and is that one turned over
}

// stock gathers what comes from a stock of one toy, together with what earlier toys, those before
// begun, have from the same.
func (l *Lists) stock(m *assembly.Model, s toy.Stock, used []usage, begun int) {
	k := 0
	for k < begun && !(woodOf(l.Stock[k].Wood) == woodOf(s.Wood) && l.Stock[k].Form == s.Form.String() && same(l.Stock[k].ThickMM, s.Thick.MM()) && same(l.Stock[k].DiaMM, s.Dia.MM())) {
		k++
	}
	out := Stock{Name: s.Name, Wood: s.Wood, Form: s.Form.String(), ThickMM: s.Thick.MM(), DiaMM: s.Dia.MM()}
	if k < begun {
		out = l.Stock[k]
	}
	had := len(out.Blanks)
	for _, u := range used {
		if u.part.Stock != s.Name {
			continue
		}
		b := l.blank(s, u)
		b.Mirrors, b.TurnedOver = u.part.Mirrors, IsTurnedOver(m, u.part)
		out.Blanks = append(out.Blanks, b)
		out.WeightKg += u.weightKg
	}
	switch {
	case len(out.Blanks) == had:
		return
	case k < begun:
		if out.Name != s.Name {
			out.Name += ", " + s.Name
		}
		l.Stock[k] = out
		return
	}
	out.Notes = l.sold(m.Toy.Units, s)
	if w, _ := facts.Wood(s.Wood); s.Form == toy.Board {
		out.tallyMM = out.ThickMM
		if n, ok := facts.NominalFor(w.Kind, out.ThickMM); ok {
			out.Nominal, out.tallyMM = n.Nominal, n.Rough
		}
	}
	l.Stock = append(l.Stock, out)
}

// woodOf is the one name of a wood that has several; a wood that no table knows keeps its own.
func woodOf(name string) string {
	if w, ok := facts.Wood(name); ok {
		return w.Name
	}
	return name
}

// settle adds up a stock once all its blanks are there.
func (l *Lists) settle(s *Stock) {
	var notes []string
	for _, b := range s.Blanks {
		if s.Form == toy.Board.String() || s.Form == toy.Sheet.String() {
			n := float64(b.Count + b.Spare)
			area := n * b.RoughLengthMM * b.RoughWidthMM
			s.RoughAreaM2 += float64(area * 1e-6)
			s.RoughVolumeM3 += float64(area * b.RoughThickMM * 1e-9)
			if s.Form == toy.Board.String() {
				s.BoardFeet += float64(n * boardFeet(b.RoughLengthMM, b.RoughWidthMM, s.tallyMM))
			}
		}
		switch {
		case b.TurnedOver:
			notes = with(notes, b.Part+" is "+b.Mirrors+" turned over: one pattern serves both")
		case b.Mirrors != "":
			notes = with(notes, b.Part+" is the mirror image of "+b.Mirrors+", by a pattern of its own")
		}
	}
	s.Notes = append(notes, s.Notes...)
	s.WeightKg, s.RoughAreaM2, s.BoardFeet = kept(s.WeightKg), kept(s.RoughAreaM2), kept(s.BoardFeet)
	s.RoughVolumeM3 = math.Round(s.RoughVolumeM3*1e9) / 1e9 // a cubic millimetre
	s.BuyAreaM2 = kept(s.RoughAreaM2 * (1 + wasteShare))
	if s.RoughAreaM2 == 0 {
		s.Nominal = ""
	}
	l.strips(s)
	l.onRack(s)
}

func (l *Lists) blank(s toy.Stock, u usage) Blank {
	p := u.part
	b := Blank{Toy: u.toy, Numbers: u.numbers, IDs: u.ids, Part: p.Name, Shape: [...]string{ShapeBlock, ShapeDisc, ShapeRod, ShapeBall}[p.Shape], Made: p.Made, Count: u.count, Spare: u.spare,
		LengthMM: u.mm, WidthMM: p.Width.MM(), ThickMM: p.Thick.MM(), Follows: u.follows, Grain: grain(s, p)}
	end, edge := l.Allowance.LengthMM, l.Allowance.WidthMM
	switch {
	case p.Shape == toy.Sphere || p.Made == MadeBought:
		return b
	case p.Shape == toy.Rod:
		b.RoughLengthMM, b.RoughWidthMM = b.LengthMM+l.kerf(), b.WidthMM
	case p.Made == MadePlug: // the hole saw itself is wider than its plug, and wood stays around it
		b.RoughLengthMM, b.RoughWidthMM = b.LengthMM+facts.HoleSawTakes+edge, b.WidthMM+facts.HoleSawTakes+edge
	case p.Shape == toy.Disc:
		b.RoughLengthMM, b.RoughWidthMM = b.LengthMM+edge, b.WidthMM+edge
	default:
		b.RoughLengthMM, b.RoughWidthMM = b.LengthMM+end, b.WidthMM+edge
	}
	b.RoughLengthMM, b.RoughWidthMM = settled(b.RoughLengthMM), settled(b.RoughWidthMM)
	b.RoughThickMM = b.ThickMM
	if s.Form == toy.Board && p.Shape != toy.Rod {
		b.RoughThickMM = settled(b.ThickMM + l.boardThick(s) - s.Thick.MM())
	}
	b.AllowLengthMM, b.AllowWidthMM, b.AllowThickMM = settled(b.RoughLengthMM-b.LengthMM), settled(b.RoughWidthMM-b.WidthMM), settled(b.RoughThickMM-b.ThickMM)
	return b
}

func grain(s toy.Stock, p *toy.Part) string {
	w, _ := facts.Wood(s.Wood)
	switch {
	case w.Name == "mdf":
		return "none"
	case p.Made == MadeBought:
		return "as bought"
	case p.Shape == toy.Sphere:
		return "any way"
	case p.Shape == toy.Disc:
		return "in the faces"
	case s.Form == toy.Sheet:
		return "face grain along"
	}
	return "along the length"
}

// sold says where the stock differs from what is on sale in the units of its toy.
func (l *Lists) sold(u measure.Unit, s toy.Stock) []string {
	metric := u == measure.MM
	w, _ := facts.Wood(s.Wood)
	kind, mm := s.Form.String(), s.Dia.MM()
	if s.Form == toy.Board || s.Form == toy.Sheet {
		if kind, mm = "plywood", s.Thick.MM(); s.Form != toy.Sheet || w.Kind != "panel" || w.Name == "mdf" {
			return nil
		}
	}
	z, ok := facts.NearestSize(kind, mm, metric)
	switch {
	case !ok, mm >= z.Low-tol.Touch && mm <= z.High+tol.Touch:
		return nil
	case kind == "plywood":
		if !same(z.MM, mm) {
			return nil // measured, or a size that the table does not know
		}
		return []string{"plywood sold as " + z.Name + " measures " + l.length(z.Low) + " to " + l.length(z.High) +
			", not " + l.length(mm) + ": measure yours, and change the thickness in the file"}
	}
	return []string{"no " + kind + " is commonly sold as " + l.length(mm) + "; the nearest size is " + z.Name}
}

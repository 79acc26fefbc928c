package shop

import (
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

// What is sawn off beyond the finished blank. Common practice, no source: enough
// for a saw cut, a planed edge and an end that was not square.
const (
	inch = facts.MMPerInch

	endAllowanceInch  = inch / 2 // on the length of a blank
	endAllowanceMM    = 12.0
	edgeAllowanceInch = inch / 4 // on the width of a blank, and both ways on a disc
	edgeAllowanceMM   = 6.0
)

// BoardFoot is the volume of one board foot in mm³: 144 cubic inches. Boards
// under ThinnestTally are sold as if they were that thick. Source: rules of the
// hardwood trade association for measuring lumber, from memory.
const (
	BoardFoot     = 144 * inch * inch * inch
	ThinnestTally = inch
)

// BoardFeet returns the board feet of a board of these sizes in mm.
func BoardFeet(length, width, thick float64) float64 {
	return length * width * math.Max(thick, ThinnestTally) / BoardFoot
}

// Stock is what is cut from one stock of the toy.
type Stock struct {
	Name    string  `json:"name"`
	Wood    string  `json:"wood"`
	Form    string  `json:"form"` // board, sheet, dowel, ball
	ThickMM float64 `json:"thick_mm,omitempty"`
	DiaMM   float64 `json:"dia_mm,omitempty"`
	Blanks  []Blank `json:"blanks"`
	// Of the rough blanks, spares with them. Board feet are for boards only;
	// dowels and balls have none of the three.
	RoughAreaM2   float64 `json:"rough_area_m2,omitempty"`
	RoughVolumeM3 float64 `json:"rough_volume_m3,omitempty"`
	BoardFeet     float64 `json:"board_feet,omitempty"`
	// Of its pieces in the finished toy, spares without.
	WeightKg float64  `json:"weight_kg"`
	Notes    []string `json:"notes,omitempty"`
}

// Blank is what to cut for a part: so many, finished and rough. Nothing is cut
// for bought discs and balls: their rough sizes are 0.
type Blank struct {
	Numbers       []int    `json:"numbers"` // of its pieces, as on picture and patterns
	IDs           []string `json:"ids"`
	Part          string   `json:"part"`
	Shape         string   `json:"shape"` // block, disc, rod, ball
	Made          string   `json:"made,omitempty"`
	Count         int      `json:"count"` // in the toy
	Spare         int      `json:"spare"` // beyond Count
	LengthMM      float64  `json:"length_mm"`
	WidthMM       float64  `json:"width_mm"`
	ThickMM       float64  `json:"thick_mm"`
	RoughLengthMM float64  `json:"rough_length_mm"`
	RoughWidthMM  float64  `json:"rough_width_mm"`
	RoughThickMM  float64  `json:"rough_thick_mm"`
	Grain         string   `json:"grain"`
	Follows       bool     `json:"length_follows,omitempty"` // the length follows from the build
	Mirrors       string   `json:"mirrors,omitempty"`        // the part it is the mirror image of
	TurnedOver    bool     `json:"turned_over,omitempty"`    // and is that one turned over
}

func (l *Lists) allowances() (end, edge float64) {
	if l.unit == measure.Inch {
		return endAllowanceInch, edgeAllowanceInch
	}
	return endAllowanceMM, edgeAllowanceMM
}

// stock gathers what comes from s; false if nothing does.
func (l *Lists) stock(m *assembly.Model, s toy.Stock, used []usage) (Stock, bool) {
	out := Stock{Name: s.Name, Wood: s.Wood, Form: s.Form.String(), ThickMM: s.Thick.MM(), DiaMM: s.Dia.MM()}
	for _, u := range used {
		if u.part.Stock != s.Name {
			continue
		}
		b := l.blank(s, u)
		b.Mirrors, b.TurnedOver = u.part.Mirrors, IsTurnedOver(m, u.part)
		out.Blanks = append(out.Blanks, b)
		out.WeightKg += u.weightKg
		if s.Form != toy.Board && s.Form != toy.Sheet {
			continue
		}
		n := float64(b.Count + b.Spare)
		area := n * b.RoughLengthMM * b.RoughWidthMM
		out.RoughAreaM2 += float64(area * 1e-6)
		out.RoughVolumeM3 += float64(area * b.RoughThickMM * 1e-9)
		if s.Form == toy.Board {
			out.BoardFeet += float64(n * BoardFeet(b.RoughLengthMM, b.RoughWidthMM, b.RoughThickMM))
		}
	}
	out.WeightKg, out.RoughAreaM2, out.BoardFeet = kept(out.WeightKg), kept(out.RoughAreaM2), kept(out.BoardFeet)
	out.RoughVolumeM3 = math.Round(out.RoughVolumeM3*1e9) / 1e9 // a cubic millimetre
	for _, b := range out.Blanks {
		switch {
		case b.TurnedOver:
			out.Notes = append(out.Notes, b.Part+" is "+b.Mirrors+" turned over: one pattern serves both")
		case b.Mirrors != "":
			out.Notes = append(out.Notes, b.Part+" is the mirror image of "+b.Mirrors+", by a pattern of its own")
		}
	}
	out.Notes = append(out.Notes, l.sold(s)...)
	return out, len(out.Blanks) > 0
}

func (l *Lists) blank(s toy.Stock, u usage) Blank {
	p := u.part
	b := Blank{Numbers: u.numbers, IDs: u.ids, Part: p.Name, Shape: [...]string{"block", "disc", "rod", "ball"}[p.Shape], Made: p.Made, Count: u.count, Spare: u.spare,
		LengthMM: u.mm, WidthMM: p.Width.MM(), ThickMM: p.Thick.MM(), Follows: u.follows, Grain: grain(s, p)}
	end, edge := l.allowances()
	switch {
	case p.Shape == toy.Sphere || p.Made == "bought":
		return b
	case p.Shape == toy.Rod:
		b.RoughLengthMM, b.RoughWidthMM = b.LengthMM+l.kerf(), b.WidthMM
	case p.Shape == toy.Disc:
		b.RoughLengthMM, b.RoughWidthMM = b.LengthMM+edge, b.WidthMM+edge
	default:
		b.RoughLengthMM, b.RoughWidthMM = b.LengthMM+end, b.WidthMM+edge
	}
	b.RoughLengthMM, b.RoughWidthMM = settled(b.RoughLengthMM), settled(b.RoughWidthMM)
	b.RoughThickMM = b.ThickMM
	return b
}

func grain(s toy.Stock, p *toy.Part) string {
	w, _ := facts.Wood(s.Wood)
	switch {
	case w.Name == "mdf":
		return "none"
	case p.Made == "bought":
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

// sold says where the stock differs from what is on sale.
func (l *Lists) sold(s toy.Stock) []string {
	metric := l.unit == measure.MM
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

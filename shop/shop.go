// Package shop derives from the model of a toy what to get and how to set up the
// drill: the stock list (stock.go), the dowel list (dowel.go) and the drill list
// (drill.go). Nothing in it is typed by hand; counts are those of the pieces of
// the model, so the lists cannot disagree with the toy that was proved.
//
// Start with [List]. What it returns is plain data in millimetres, cubic metres
// and kilograms, fit for encoding/json; [Lists.Text] prints it for a bench in the
// toy's own units (text.go), [Lists.CSV] for a spreadsheet (csv.go).
package shop

import (
	"math"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

// Format is the version of the data that Lists holds.
const Format = 1

// Lists is all that the shop needs of one toy. Its order is that of the file:
// stock, then the parts from it; bits by rising diameter.
type Lists struct {
	Format   int      `json:"format"`
	Toy      string   `json:"toy"`
	Units    string   `json:"units"`
	Without  []string `json:"without,omitempty"` // groups left out of this toy
	Pieces   int      `json:"pieces"`            // of the toy, spares apart
	WeightKg float64  `json:"weight_kg"`         // of the finished toy
	Stock    []Stock  `json:"stock"`
	Dowels   []Dowel  `json:"dowels"`
	Bits     []Bit    `json:"bits"`
	ByHand   []Hand   `json:"by_hand,omitempty"` // arrises and sanding flush
	EaseMM   float64  `json:"ease_mm,omitempty"` // every arris is rubbed over by this much
	Spots    []Spot   `json:"spots"`             // where each piece goes
	Notes    []string `json:"notes,omitempty"`

	unit measure.Unit
}

// usage is the pieces of one part that have one length: one line of a list.
type usage struct {
	part     *toy.Part
	mm       float64 // length
	count    int
	spare    int
	follows  bool // the length followed from the build
	weightKg float64
	numbers  []int    // of its pieces
	ids      []string // of its pieces
}

// List derives the lists of a model. The model is taken as drawn: sizes are the
// part's own, lengths that follow from the build those of its pieces.
func List(m *assembly.Model) *Lists {
	l := &Lists{Format: Format, Toy: m.Toy.Name, Units: m.Toy.Units.String(), Without: m.Without,
		Pieces: len(m.Pieces), Stock: []Stock{}, Dowels: []Dowel{}, Bits: []Bit{}, unit: m.Toy.Units}
	used := uses(m)
	for i := range m.Toy.Parts {
		if p := &m.Toy.Parts[i]; countOf(used, p) == 0 {
			l.Notes = append(l.Notes, "the part "+p.Name+" is not in this toy, so it is not listed")
		}
	}
	for _, s := range m.Toy.Stock {
		if st, ok := l.stock(m, s, used); ok {
			l.Stock = append(l.Stock, st)
			l.WeightKg += st.WeightKg
		}
	}
	l.WeightKg = kept(l.WeightKg)
	l.Dowels = append(l.Dowels, l.dowels(m, used)...)
	l.Bits = append(l.Bits, bits(m, used)...)
	l.ByHand, l.EaseMM, l.Spots = byHand(m, used), m.Toy.Ease.MM(), Spots(m)
	return l
}

// uses counts the pieces by part and length: parts in file order, long before
// short. The spares of a part with several lengths have the longest of them,
// from which the others can be cut.
func uses(m *assembly.Model) []usage {
	var out []usage
	for i := range m.Toy.Parts {
		p := &m.Toy.Parts[i]
		first := len(out)
		for n, q := range m.Pieces {
			if q.Part.Name != p.Name {
				continue
			}
			mm := p.Length.MM()
			if p.Shape == toy.Rod {
				mm = settled(q.Made.Size.X)
			}
			out = insert(out, first, p, mm)
			for k := first; k < len(out); k++ {
				if u := &out[k]; same(u.mm, mm) {
					u.count++
					u.numbers, u.ids = append(u.numbers, Number(n)), append(u.ids, q.ID)
					u.follows = u.follows || q.Lengths
					u.weightKg += weight(m.Toy, q)
				}
			}
		}
		if len(out) > first {
			out[first].spare = p.Spare
		}
	}
	return out
}

// insert makes room for a length among the lines from first on, unless it has one.
func insert(out []usage, first int, p *toy.Part, mm float64) []usage {
	at := first
	for ; at < len(out); at++ {
		if same(out[at].mm, mm) {
			return out
		}
		if out[at].mm < mm {
			break
		}
	}
	out = append(out, usage{})
	copy(out[at+1:], out[at:])
	out[at] = usage{part: p, mm: mm}
	return out
}

// same tells that two lengths in mm print and cut alike.
func same(a, b float64) bool { return math.Abs(a-b) <= tol.Page }

// settled rids a computed length of rounding error: whole nanometres, of which
// every sixty-fourth of an inch is a whole number.
func settled(mm float64) float64 { return measure.Length(math.Round(mm * 1e6)).MM() }

func countOf(used []usage, p *toy.Part) (n int) {
	for _, u := range used {
		if u.part.Name == p.Name {
			n += u.count
		}
	}
	return n
}

func spareOf(used []usage, p *toy.Part) int {
	if countOf(used, p) == 0 {
		return 0
	}
	return p.Spare
}

// weight returns the mass of a piece in kg: its volume, holes out, at the density
// of its wood at 12 % moisture.
func weight(t *toy.Toy, p *assembly.Piece) float64 {
	s, _ := t.StockNamed(p.Part.Stock)
	w, ok := facts.Wood(s.Wood)
	if !ok {
		return 0 // assembly.Derive refuses such a toy
	}
	return float64(p.Made.Moments().Volume * 1e-9 * w.Density)
}

// kept rounds a weight in kg, an area in m² or board feet to a millionth: below
// what a scale in a shop shows, and above what rounding can change.
func kept(x float64) float64 { return math.Round(x*1e6) / 1e6 }

func (l *Lists) length(mm float64) string { return measure.FromMM(mm).Format(l.unit) }
func (l *Lists) number(mm float64) string { return measure.FromMM(mm).Number(l.unit) }

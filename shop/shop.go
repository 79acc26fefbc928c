// Package shop derives from the models of toys, and from what a shop has, what to get and how
// to set up saw and drill: the stock list (stock.go), dowels and how they are cut from sticks
// (dowel.go, sticks.go), the saw list (saws.go), the drill list (drill.go), wheels (wheels.go),
// what else is bought or used up (things.go), and what it costs and what is short (cost.go).
// Nothing in it is typed by hand; counts are those of the pieces of the models, so the lists
// cannot disagree with the toys that were proved.
//
// Start with [List], or with [ListAll] for several toys and any number of each. What they return
// is plain data in millimetres, square and cubic metres and kilograms, fit for encoding/json;
// [Lists.Text] prints it for a bench in the toy's own units (text.go), [Lists.CSV] for a
// spreadsheet (csv.go).
package shop

import (
	"context"
	"fmt"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

// Format is the version of the data that Lists holds.
const Format = 2

// MostToys is the most of one toy that are listed, laid or planned at once: more than a small shop
// makes in a year.
const MostToys = 500

// Order is a toy and how many of it are made.
type Order struct {
	Model *assembly.Model
	Count int

	name string // of the toy; a second one of that name has a number
}

// Lists is all that the shop needs of some toys. Its order is that of the files: stock, then the
// parts from it; bits by rising diameter. All counts are of all toys together.
type Lists struct {
	Format      int       `json:"format"`
	Toy         string    `json:"toy"` // the names of all
	Toys        []ToMake  `json:"toys"`
	Units       string    `json:"units"`
	Shop        string    `json:"shop,omitempty"` // the file that says what there is
	Pieces      int       `json:"pieces"`         // spares apart
	WeightKg    float64   `json:"weight_kg"`      // finished
	Allowance   Allowance `json:"allowance"`
	Stock       []Stock   `json:"stock"`
	Dowels      []Dowel   `json:"dowels"`
	Saws        []Saw     `json:"saws"`
	Bits        []Bit     `json:"bits"`
	Wheels      []Wheel   `json:"wheels"`
	ByHand      []Hand    `json:"by_hand,omitempty"` // arrises and sanding flush
	Hardware    []Thing   `json:"hardware"`
	Consumables []Thing   `json:"consumables"`
	Cost        *Cost     `json:"cost,omitempty"`
	Spots       []Spot    `json:"spots"` // where each piece goes
	Notes       []string  `json:"notes,omitempty"`

	unit measure.Unit
	rack *toy.Rack // nil: none is known
	own  *toy.Shop // whose rack it is
	left []float64 // of each board of the rack, m², once stocks have taken of it
}

// ToMake is one of the toys.
type ToMake struct {
	Toy      string   `json:"toy"`
	Count    int      `json:"count"`
	Pieces   int      `json:"pieces"`            // of one
	WeightKg float64  `json:"weight_kg"`         // of one
	Without  []string `json:"without,omitempty"` // groups left out of it
	EaseMM   float64  `json:"ease_mm,omitempty"` // every arris is rubbed over by this much
	Pages    int      `json:"pages,omitempty"`   // of its patterns; 0: not counted
	Paper    string   `json:"paper,omitempty"`   // that they are counted for
}

// usage is the pieces of one part that have one length: one line of a list.
type usage struct {
	m        *assembly.Model
	toy      string
	part     *toy.Part
	mm       float64 // length
	count    int     // of all toys of its kind
	spare    int
	follows  bool // the length followed from the build
	weightKg float64
	numbers  []int    // of its pieces in one toy
	ids      []string // of its pieces in one toy
}

// List derives the lists of one toy. The model is taken as drawn: sizes are the part's own,
// lengths that follow from the build those of its pieces.
func List(m *assembly.Model) *Lists {
	return ListAll(context.Background(), []Order{{Model: m, Count: 1}})
}

// ListAll derives the lists of some toys in the units of the first. What there is and what is sold
// is taken from the shop of the first that has a rack. When the context ends, sticks are cut as well
// as was found by then. The lists of no toys are empty.
func ListAll(ctx context.Context, orders []Order) *Lists {
	l := &Lists{Format: Format, Toys: []ToMake{}, Stock: []Stock{}, Dowels: []Dowel{}, Saws: []Saw{}, Bits: []Bit{}, Wheels: []Wheel{}, Hardware: []Thing{}, Consumables: []Thing{}, Spots: []Spot{}, unit: measure.MM}
	if len(orders) > 0 {
		l.unit = orders[0].Model.Toy.Units
	}
	l.Units = l.unit.String()
	orders = slices.Clone(orders)
	var names []string
	for i := range orders {
		o := &orders[i]
		o.name = o.Model.Toy.Name
		for n := 2; slices.Contains(names, o.name); n++ {
			o.name = fmt.Sprintf("%s (%d)", o.Model.Toy.Name, n)
		}
		names = append(names, o.name)
		if sh := o.Model.Toy.Shop; l.rack == nil && sh != nil && sh.Rack != nil {
			l.rack, l.own, l.Shop = sh.Rack, sh, sh.Rack.From
		}
	}
	l.Toy = listed(names)
	l.Allowance = l.allowance()
	g := &gatherer{}
	var all []usage
	for _, o := range orders {
		m := o.Model
		used := uses(o)
		all = append(all, used...)
		one := ToMake{Toy: o.name, Count: o.Count, Pieces: len(m.Pieces), Without: m.Without, EaseMM: m.Toy.Ease.MM()}
		for i := range m.Toy.Parts {
			if p := &m.Toy.Parts[i]; countOf(used, p) == 0 {
				says := "the part " + p.Name + " is not in this toy, so it is not listed"
				if len(orders) > 1 {
					says = o.name + ": " + says
				}
				l.Notes = append(l.Notes, says)
			}
		}
		if m.Toy.Units != l.unit {
			l.Notes = append(l.Notes, o.name+" is drawn in "+unitName(m.Toy.Units)+": its sizes stand in "+unitName(l.unit)+" here")
		}
		begun := len(l.Stock) // stock of earlier toys
		for _, s := range m.Toy.Stock {
			l.stock(m, s, used, begun)
		}
		for _, u := range used {
			one.WeightKg += u.weightKg / float64(o.Count)
		}
		one.WeightKg = kept(one.WeightKg)
		g.drill(o, used)
		l.ByHand = append(l.ByHand, byHand(o, used)...)
		for _, s := range Spots(m) {
			s.Toy = o.name
			l.Spots = append(l.Spots, s)
		}
		l.Pieces += o.Count * one.Pieces
		l.Toys = append(l.Toys, one)
	}
	for i := range l.Stock {
		l.settle(&l.Stock[i])
		l.WeightKg += l.Stock[i].WeightKg
	}
	l.WeightKg = kept(l.WeightKg)
	l.Dowels = append(l.Dowels, l.dowels(ctx, all)...)
	l.Bits = append(l.Bits, g.sorted()...)
	if len(orders) > 0 {
		l.saws(orders, all)
	}
	l.wheels(all)
	l.things(orders)
	l.cost()
	l.spareNote(all)
	return l
}

// spareNote says of which parts one lot of spares serves all the toys.
func (l *Lists) spareNote(all []usage) {
	var each, once []string
	many := false
	for _, t := range l.Toys {
		many = many || t.Count > 1
	}
	for _, u := range all {
		switch {
		case u.spare == 0:
		case u.part.Shape == toy.Disc:
			each = with(each, u.part.Name)
		default:
			once = with(once, u.part.Name)
		}
	}
	if many && len(each) > 0 {
		l.Notes = append(l.Notes, "each toy has its own spare "+listed(each))
	}
	if many && len(once) > 0 {
		l.Notes = append(l.Notes, "the spares of "+listed(once)+" serve the whole batch: they are for a slip of the saw")
	}
}

// uses counts the pieces by part and length: parts in file order, long before
// short. The spares (SparesOf) of a part with several lengths have the
// longest of them, from which the others can be cut.
func uses(o Order) []usage {
	var out []usage
	m := o.Model
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
					u.m, u.toy = m, o.name
					u.count += o.Count
					u.numbers, u.ids = append(u.numbers, Number(n)), append(u.ids, q.ID)
					u.follows = u.follows || q.Lengths
					u.weightKg += float64(weight(m.Toy, q) * float64(o.Count))
				}
			}
		}
		if len(out) > first {
			out[first].spare = SparesOf(p, o.Count)
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
	n := 0
	for _, u := range used {
		if u.part.Name == p.Name {
			n += u.spare
		}
	}
	return n
}

// sizeOf is the size of a part, as long as the shortest of its pieces.
func sizeOf(used []usage, p *toy.Part) r3.Vec {
	size := r3.Vec{Y: p.Width.MM(), Z: p.Thick.MM()}
	for _, u := range used { // long before short
		if u.part.Name == p.Name {
			size.X = u.mm
		}
	}
	return size
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

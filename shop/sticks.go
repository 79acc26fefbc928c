package shop

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"

	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/shop/lengths"
	"dryfit/toy"
)

// Dowels are cut from the sticks of the rack first, then from what is sold: by price where the
// shop's file gives one for each, else by length. Where the file knows of none that is sold, the
// lengths that the trade has are taken.

// Where a stick comes from.
const (
	FromRack  = "rack"
	FromSold  = "sold"  // as the shop's file says
	FromTrade = "trade" // as is usual
)

// Stick is a stick and how it is cut.
type Stick struct {
	Name     string     `json:"name,omitempty"` // in the shop's file
	From     string     `json:"from"`
	LengthMM float64    `json:"length_mm"`
	Times    int        `json:"times"` // sticks that are cut so
	Cuts     []StickCut `json:"cuts"`  // in their order
	LeftMM   float64    `json:"left_mm"`
}

// StickCut is some pieces of one length, one after the other.
type StickCut struct {
	LengthMM float64 `json:"length_mm"`
	Count    int     `json:"count"`
}

// BuyStick is sticks to buy.
type BuyStick struct {
	Name     string  `json:"name,omitempty"`
	From     string  `json:"from"`
	LengthMM float64 `json:"length_mm"`
	Count    int     `json:"count"`
	Price    float64 `json:"price,omitempty"` // of one
}

// ShortStick is pieces of a length that no stick is left for.
type ShortStick struct {
	LengthMM float64 `json:"length_mm"`
	Count    int     `json:"count"`
}

// stickWork is how far a cutting is searched: about a second.
const stickWork = 1e9

// micro is a length in whole micrometres, of which a 64th of an inch has 396.875: what rounding
// takes is a thousandth of what a saw does.
func micro(mm float64) int64 { return int64(math.Round(mm * 1000)) }

// sticks orders the lengths of a dowel, adds them up and cuts them from sticks.
func (l *Lists) sticks(ctx context.Context, d *Dowel) {
	sort.SliceStable(d.Lengths, func(i, j int) bool { return d.Lengths[i].LengthMM > d.Lengths[j].LengthMM })
	p := lengths.Problem{Kerf: micro(l.kerf()), Trim: micro(l.waste())}
	mm := map[int64]float64{}
	for _, c := range d.Lengths {
		n := c.Count + c.Spare
		d.NeedMM += float64(float64(n) * (c.LengthMM + l.kerf()))
		p.Pieces = append(p.Pieces, lengths.Piece{Length: micro(c.LengthMM), Demand: n})
		if _, ok := mm[micro(c.LengthMM)]; !ok {
			mm[micro(c.LengthMM)] = c.LengthMM
		}
	}
	d.NeedMM = settled(d.NeedMM + l.waste())
	from := l.sticksFor(d)
	r, err := solveSticks(ctx, &p, from, d.ByPrice)
	if err != nil { // more pieces or larger than any shop has
		r = &lengths.Result{}
		d.Notes = append(d.Notes, "how it is cut from sticks could not be worked out: "+err.Error())
	}
	d.Proved, d.Least = r.Proved, float64(r.Bound)/stickScale(d.ByPrice)
	d.Sticks, d.Buy, d.Short = []Stick{}, []BuyStick{}, []ShortStick{}
	for _, t := range r.Patterns {
		f := from[t.Stock]
		s := Stick{Name: f.Name, From: f.from, LengthMM: f.LengthMM, Times: t.Times}
		left := f.LengthMM - l.waste()
		for _, c := range t.Cuts {
			s.Cuts = append(s.Cuts, StickCut{mm[c.Length], c.Count})
			left -= float64(float64(c.Count) * (mm[c.Length] + l.kerf()))
		}
		s.LeftMM = settled(max(0, left))
		d.Sticks = append(d.Sticks, s)
		if f.from == FromRack {
			continue
		}
		k := 0
		for k < len(d.Buy) && !(d.Buy[k].Name == f.Name && same(d.Buy[k].LengthMM, f.LengthMM)) {
			k++
		}
		if k == len(d.Buy) {
			d.Buy = append(d.Buy, BuyStick{Name: f.Name, From: f.from, LengthMM: f.LengthMM, Price: f.Price})
		}
		d.Buy[k].Count += t.Times
	}
	sort.SliceStable(d.Sticks, func(i, j int) bool { return d.Sticks[i].From == FromRack && d.Sticks[j].From != FromRack })
	for _, c := range r.Short {
		d.Short = append(d.Short, ShortStick{mm[c.Length], c.Count})
		d.Notes = append(d.Notes, l.shortStick(mm[c.Length], c.Count, from))
	}
}

func (l *Lists) shortStick(mm float64, n int, from []stickOf) string {
	for _, f := range from {
		if f.from == FromRack && f.LengthMM >= mm+l.waste() {
			return fmt.Sprintf("%d of %s %s short: the rack has no more sticks, and none that are sold are long enough", n, l.length(mm), plural(n, "is", "are"))
		}
	}
	if slices.ContainsFunc(from, func(f stickOf) bool { return f.from == FromSold }) {
		return l.length(mm) + " is longer than any stick that " + l.rack.From + " has or says is sold"
	}
	return l.length(mm) + " is longer than the sticks that are commonly sold"
}

// stickOf is sticks that a dowel can be cut from.
type stickOf struct {
	BuyStick // Count: how many there are, or lengths.Any
	from     string
}

// sticksFor lists what a dowel can be cut from, and notes what nearly fits.
func (l *Lists) sticksFor(d *Dowel) (out []stickOf) {
	fits := func(s toy.Stick) bool {
		return woodOf(s.Wood) == woodOf(d.Wood) && math.Abs(s.Dia.MM()-d.DiaMM) <= tol.Drill
	}
	if l.rack != nil {
		for _, s := range l.rack.Dowels {
			if fits(s) {
				out = append(out, stickOf{BuyStick{Name: s.Name, LengthMM: s.Length.MM(), Count: s.Count}, FromRack})
			} else if says := l.nearly(s, d); says != "" {
				d.Notes = append(d.Notes, says)
			}
		}
		d.ByPrice = true
		sold := 0
		for _, s := range l.rack.Sold.Dowels {
			if fits(s) {
				sold++
				out = append(out, stickOf{BuyStick{Name: s.Name, From: FromSold, LengthMM: s.Length.MM(), Count: lengths.Any, Price: s.Price}, FromSold})
				d.ByPrice = d.ByPrice && s.Price > 0
			}
		}
		if sold > 0 {
			return out
		}
		d.ByPrice = false
	}
	for _, z := range facts.Sizes("dowel length") {
		if z.Metric == (l.unit == measure.MM) {
			out = append(out, stickOf{BuyStick{From: FromTrade, LengthMM: settled(z.MM), Count: lengths.Any}, FromTrade})
		}
	}
	return out
}

// nearStick is how much a stick may differ in diameter and be worth a word, mm.
const nearStick = inch / 8

// nearly says why a stick of the rack does not do.
func (l *Lists) nearly(s toy.Stick, d *Dowel) string {
	off := s.Dia.MM() - d.DiaMM
	wood := woodOf(s.Wood) == woodOf(d.Wood)
	switch {
	case math.Abs(off) > nearStick:
		return ""
	case math.Abs(off) <= tol.Drill:
		return s.Name + " on the rack is " + s.Wood + ", not " + d.Wood
	case !wood:
		return ""
	case off < 0:
		return s.Name + " on the rack is too thin: " + l.length(s.Dia.MM())
	}
	return s.Name + " on the rack is too thick: " + l.length(s.Dia.MM())
}

// stickScale is what a price or a mm counts in the search.
func stickScale(byPrice bool) float64 {
	if byPrice {
		return 100
	}
	return 1000
}

// solveSticks finds the least to buy, and of cuttings with that the one that takes the shortest
// sticks.
func solveSticks(ctx context.Context, p *lengths.Problem, from []stickOf, byPrice bool) (*lengths.Result, error) {
	rack := false
	for _, f := range from {
		s := lengths.Stock{Length: micro(f.LengthMM), Count: f.Count}
		switch {
		case f.from == FromRack:
			rack = true
		case byPrice:
			s.Cost = int64(math.Round(f.Price * 100))
		default:
			s.Cost = s.Length
		}
		p.Stock = append(p.Stock, s)
	}
	r, err := lengths.Solve(ctx, *p, lengths.Options{Work: stickWork})
	if err != nil || !rack {
		return r, err
	}
	// The same again from no more bought sticks than that, by length: what is at hand costs
	// nothing, but an offcut that is not needed stays whole.
	q := *p
	q.Stock = append([]lengths.Stock(nil), p.Stock...)
	used := make([]int, len(q.Stock))
	for _, t := range r.Patterns {
		used[t.Stock] += t.Times
	}
	for i := range q.Stock {
		if q.Stock[i].Cost = q.Stock[i].Length; from[i].from != FromRack {
			q.Stock[i].Count = used[i]
		}
	}
	s, err := lengths.Solve(ctx, q, lengths.Options{Work: stickWork})
	if err != nil || total(s.Short) > total(r.Short) {
		return r, nil
	}
	s.Value, s.Bound, s.Proved = r.Value, min(r.Bound, r.Value), r.Proved
	return s, nil
}

func total(list []lengths.Cut) (n int64) {
	for _, c := range list {
		n += c.Length * int64(c.Count)
	}
	return n
}

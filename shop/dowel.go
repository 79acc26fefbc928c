package shop

import (
	"context"
	"sort"

	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/toy"
)

// What a saw takes between two pieces, and what is lost at the end of a stick to make it square.
// Common practice, no source.
const (
	kerfInch       = inch / 16
	kerfMM         = 1.5
	dowelWasteInch = inch / 4
	dowelWasteMM   = 6.0
)

func (l *Lists) kerf() float64 { return KerfOf(l.own, l.unit) }

// KerfOf is what the saw takes between two pieces in a shop, which may be nil, mm: what it says of
// cutting, else of its band saw, else what is usual.
func KerfOf(sh *toy.Shop, u measure.Unit) float64 {
	switch {
	case sh != nil && sh.Rack != nil && sh.Rack.Kerf > 0:
		return sh.Rack.Kerf.MM()
	case sh != nil && sh.BandSaw != nil && sh.BandSaw.Kerf > 0:
		return sh.BandSaw.Kerf.MM()
	case u == measure.Inch:
		return kerfInch
	}
	return kerfMM
}

func (l *Lists) waste() float64 {
	if l.unit == measure.Inch {
		return dowelWasteInch
	}
	return dowelWasteMM
}

// Dowel is what to cut from dowel of one diameter and wood, long before short.
type Dowel struct {
	DiaMM   float64    `json:"dia_mm"`
	Wood    string     `json:"wood"`
	Stock   []string   `json:"stock"` // names in the toy
	Lengths []DowelCut `json:"lengths"`
	// NeedMM is all lengths, spares with them, a kerf for each and the waste at
	// the end of one stick.
	NeedMM float64      `json:"need_mm"`
	Sticks []Stick      `json:"sticks"` // how they are cut, those at hand first
	Buy    []BuyStick   `json:"buy"`
	Short  []ShortStick `json:"short"` // lengths that no stick is left for
	// Proved tells that no other cutting has less to buy: by price where all that is sold has
	// one, else by length. Least is what that is at least: a price, or mm.
	Proved  bool     `json:"proved"`
	ByPrice bool     `json:"by_price,omitempty"`
	Least   float64  `json:"least"`
	Notes   []string `json:"notes,omitempty"`
}

// DowelCut is one length.
type DowelCut struct {
	Toy      string   `json:"toy"`
	LengthMM float64  `json:"length_mm"`
	Count    int      `json:"count"`
	Spare    int      `json:"spare"`
	Follows  bool     `json:"length_follows,omitempty"` // for one of its parts at least
	Parts    []string `json:"parts"`
	Numbers  []int    `json:"numbers"` // of its pieces, of one toy, as on picture and patterns
	IDs      []string `json:"ids"`
	For      []string `json:"for"` // which of them goes where: "axle: rear-axle and front-axle of frame"
}

// dowels lists the rods by diameter and wood, in file order of their stock.
func (l *Lists) dowels(ctx context.Context, all []usage) []Dowel {
	var out []Dowel
	models := map[string]*assembly.Model{}
	add := func(s toy.Stock, u usage) {
		models[u.toy] = u.m
		k := 0
		for k < len(out) && !(same(out[k].DiaMM, s.Dia.MM()) && woodOf(out[k].Wood) == woodOf(s.Wood)) {
			k++
		}
		if k == len(out) {
			out = append(out, Dowel{DiaMM: s.Dia.MM(), Wood: s.Wood, Notes: l.sold(u.m.Toy.Units, s)})
		}
		out[k].Stock = with(out[k].Stock, s.Name)
		out[k].add(u)
	}
	for i, first := range all {
		if i > 0 && all[i-1].toy == first.toy {
			continue
		}
		for _, s := range first.m.Toy.Stock {
			for _, u := range all {
				if s.Form == toy.Dowel && u.toy == first.toy && u.part.Stock == s.Name {
					add(s, u)
				}
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].DiaMM < out[j].DiaMM })
	for k := range out {
		l.sticks(ctx, &out[k])
		for i := range out[k].Lengths {
			c := &out[k].Lengths[i]
			sort.Sort(byNumber{c})
			at := make([]int, len(c.Numbers))
			for j, n := range c.Numbers {
				at[j] = n - Number(0)
			}
			c.For = Rods(models[c.Toy], at)
		}
	}
	return out
}

func (d *Dowel) add(u usage) {
	k := 0
	for k < len(d.Lengths) && !(same(d.Lengths[k].LengthMM, u.mm) && d.Lengths[k].Toy == u.toy) {
		k++
	}
	if k == len(d.Lengths) {
		d.Lengths = append(d.Lengths, DowelCut{Toy: u.toy, LengthMM: u.mm})
	}
	c := &d.Lengths[k]
	c.Count += u.count
	c.Spare += u.spare
	c.Follows = c.Follows || u.follows
	c.Parts = with(c.Parts, u.part.Name)
	c.Numbers, c.IDs = append(c.Numbers, u.numbers...), append(c.IDs, u.ids...)
}

// byNumber orders the pieces of one length as they are built.
type byNumber struct{ *DowelCut }

func (b byNumber) Len() int           { return len(b.Numbers) }
func (b byNumber) Less(i, j int) bool { return b.Numbers[i] < b.Numbers[j] }
func (b byNumber) Swap(i, j int) {
	b.Numbers[i], b.Numbers[j] = b.Numbers[j], b.Numbers[i]
	b.IDs[i], b.IDs[j] = b.IDs[j], b.IDs[i]
}

// with returns the list with s in it once.
func with(list []string, s string) []string {
	for _, x := range list {
		if x == s {
			return list
		}
	}
	return append(list, s)
}

package shop

import (
	"fmt"
	"sort"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/measure"
	"dryfit/toy"
)

// What a saw takes between two lengths of dowel, and what is lost at the end of a
// stick to make it square. Common practice, no source.
const (
	dowelKerfInch  = inch / 16
	dowelKerfMM    = 1.5
	dowelWasteInch = inch / 4
	dowelWasteMM   = 6.0
)

func (l *Lists) kerf() float64 {
	if l.unit == measure.Inch {
		return dowelKerfInch
	}
	return dowelKerfMM
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
	NeedMM  float64  `json:"need_mm"`
	StickMM float64  `json:"stick_mm,omitempty"` // the stick that is bought; 0: none is long enough
	Sticks  int      `json:"sticks,omitempty"`   // that are enough, each cut long lengths first
	Notes   []string `json:"notes,omitempty"`
}

// DowelCut is one length.
type DowelCut struct {
	LengthMM float64  `json:"length_mm"`
	Count    int      `json:"count"`
	Spare    int      `json:"spare"`
	Follows  bool     `json:"length_follows,omitempty"` // for one of its parts at least
	Parts    []string `json:"parts"`
	Numbers  []int    `json:"numbers"` // of its pieces, as on picture and patterns
	IDs      []string `json:"ids"`
	For      []string `json:"for"` // which of them goes where: "axle: rear-axle and front-axle of frame"
}

// dowels lists the rods by diameter and wood, in file order of their stock.
func (l *Lists) dowels(m *assembly.Model, used []usage) []Dowel {
	var out []Dowel
	for _, s := range m.Toy.Stock {
		if s.Form != toy.Dowel {
			continue
		}
		for _, u := range used {
			if u.part.Stock != s.Name {
				continue
			}
			k := 0
			for k < len(out) && !(same(out[k].DiaMM, s.Dia.MM()) && out[k].Wood == s.Wood) {
				k++
			}
			if k == len(out) {
				out = append(out, Dowel{DiaMM: s.Dia.MM(), Wood: s.Wood, Notes: l.sold(s)})
			}
			out[k].Stock = with(out[k].Stock, s.Name)
			out[k].add(u)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].DiaMM < out[j].DiaMM })
	for k := range out {
		l.sticks(&out[k])
		for i := range out[k].Lengths {
			c := &out[k].Lengths[i]
			sort.Sort(byNumber{c})
			at := make([]int, len(c.Numbers))
			for j, n := range c.Numbers {
				at[j] = n - Number(0)
			}
			c.For = Rods(m, at)
		}
	}
	return out
}

func (d *Dowel) add(u usage) {
	k := 0
	for k < len(d.Lengths) && !same(d.Lengths[k].LengthMM, u.mm) {
		k++
	}
	if k == len(d.Lengths) {
		d.Lengths = append(d.Lengths, DowelCut{LengthMM: u.mm})
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

// sticks orders the lengths, adds them up and lays them onto sticks: each onto
// the first stick where it still goes, long ones first (first fit decreasing).
func (l *Lists) sticks(d *Dowel) {
	sort.SliceStable(d.Lengths, func(i, j int) bool { return d.Lengths[i].LengthMM > d.Lengths[j].LengthMM })
	for _, c := range d.Lengths {
		d.NeedMM += float64(float64(c.Count+c.Spare) * (c.LengthMM + l.kerf()))
	}
	d.NeedMM = settled(d.NeedMM + l.waste())
	longest := d.Lengths[0].LengthMM + l.kerf() + l.waste()
	for _, z := range facts.Sizes("dowel length") {
		if z.Metric == (l.unit == measure.MM) && z.MM >= longest {
			d.StickMM = settled(z.MM)
			break
		}
	}
	if d.StickMM == 0 {
		d.Notes = append(d.Notes, fmt.Sprintf("%s is longer than the sticks that are commonly sold", l.length(d.Lengths[0].LengthMM)))
		return
	}
	var left []float64
	for _, c := range d.Lengths {
		need := c.LengthMM + l.kerf()
		for n := c.Count + c.Spare; n > 0; n-- {
			k := 0
			for k < len(left) && left[k] < need {
				k++
			}
			if k == len(left) {
				left = append(left, d.StickMM-l.waste())
			}
			left[k] -= need
		}
	}
	d.Sticks = len(left)
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

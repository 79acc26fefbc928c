package shop

import (
	"fmt"
	"math"
	"slices"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/toy"
)

// wasteShare is how much more than the rough blanks is bought, as a share: for knots, and for
// offcuts too small to use. Common practice, no source: 15 to 30 percent.
const wasteShare = 0.25

// Cost is what has to be bought, at the prices of the shop's file.
type Cost struct {
	Money    string     `json:"money,omitempty"`
	Lines    []CostLine `json:"lines"`
	Total    float64    `json:"total"`
	Unpriced []string   `json:"unpriced,omitempty"` // what Total is without: it has no price, or is not to be had
}

// CostLine is one thing to pay for.
type CostLine struct {
	What   string  `json:"what"`
	Amount float64 `json:"amount"`
	Unit   string  `json:"unit"` // sticks, m2
	Each   float64 `json:"each"`
	Sum    float64 `json:"sum"`
}

// onRack adds up what the rack has of a stock, by area alone, and takes what the stock needs of it,
// first of boards that need no planing: what is taken, the stocks after it have not.
func (l *Lists) onRack(s *Stock) {
	if l.rack == nil || s.RoughAreaM2 == 0 || len(l.rack.Boards)+len(l.rack.Sold.Boards) == 0 {
		return
	}
	all := func(b toy.Plank) float64 { return float64(float64(b.Count) * boardArea(b)) }
	if l.left == nil {
		for _, b := range l.rack.Boards {
			l.left = append(l.left, all(b))
		}
	}
	var ready, planed []int
	for i, b := range l.rack.Boards {
		fits, says := l.boardFits(b, s)
		if says != "" {
			s.Notes = append(s.Notes, says)
		}
		if !fits {
			continue
		}
		if says == "" {
			ready = append(ready, i)
		} else {
			planed = append(planed, i)
		}
		s.OnRackM2 += l.left[i]
		s.TakenM2 += all(b) - l.left[i]
		s.OnRack = append(s.OnRack, b.Name)
	}
	need := s.BuyAreaM2
	for _, i := range append(ready, planed...) {
		take := min(need, l.left[i])
		l.left[i], need = l.left[i]-take, need-take
	}
	s.OnRackM2, s.TakenM2 = kept(s.OnRackM2), kept(s.TakenM2)
	s.ShortM2 = kept(math.Max(0, s.BuyAreaM2-s.OnRackM2))
}

// boardFits tells whether a board is of a stock's wood and does for its thickness, and what else
// there is to say of it: that it has to be planed, or why it does not do.
func (l *Lists) boardFits(b toy.Plank, s *Stock) (fits bool, says string) {
	if woodOf(b.Wood) != woodOf(s.Wood) || b.Form.String() != s.Form {
		return false, ""
	}
	to, why := PlanedTo(b, s.ThickMM, l.rack, l.unit)
	switch {
	case why != "":
		return false, b.Name + " on the rack " + why
	case to > 0:
		return true, b.Name + " on the rack has to be planed from " + l.length(b.Thick.MM()) + " to " + l.length(to)
	}
	return true, ""
}

// boardThick is how thick the blanks of a stock are before they are planed, mm: as thick as the
// thinnest board that fits, on the rack or sold, and as the stock itself where one needs no
// planing or none is known.
func (l *Lists) boardThick(s toy.Stock) float64 {
	thick := s.Thick.MM()
	if l.rack == nil || s.Form != toy.Board {
		return thick
	}
	least := math.Inf(1)
	for _, b := range slices.Concat(l.rack.Boards, l.rack.Sold.Boards) {
		if woodOf(b.Wood) != woodOf(s.Wood) || b.Form != s.Form {
			continue
		}
		switch to, why := PlanedTo(b, thick, l.rack, l.unit); {
		case why != "":
		case to == 0:
			return thick
		default:
			least = min(least, b.Thick.MM())
		}
	}
	if math.IsInf(least, 1) {
		return thick
	}
	return least
}

// boardArea is the area of a board less its flaws, in m².
func boardArea(b toy.Plank) float64 {
	var line []r2.Vec
	for _, p := range b.Outline {
		line = append(line, r2.Vec{X: p.X.MM(), Y: p.Y.MM()})
	}
	area := math.Abs(outline.SignedArea(line))
	for _, f := range b.Flaws {
		area -= float64(f.Size.X.MM()*f.Size.Y.MM()) + float64(math.Pi/4*f.Dia.MM()*f.Dia.MM())
	}
	return math.Max(0, area) * 1e-6
}

// cost adds up what has to be bought: sticks by number, boards by area until a layout says which.
func (l *Lists) cost() {
	if l.rack == nil {
		return
	}
	c := Cost{Money: l.rack.Money, Lines: []CostLine{}}
	priced := false
	for _, s := range append(append([]toy.Plank(nil), l.rack.Boards...), l.rack.Sold.Boards...) {
		priced = priced || s.Price > 0
	}
	for _, s := range append(append([]toy.Stick(nil), l.rack.Dowels...), l.rack.Sold.Dowels...) {
		priced = priced || s.Price > 0
	}
	if !priced {
		return
	}
	add := func(line CostLine) {
		line.Sum = math.Round(line.Amount*line.Each*100) / 100
		c.Lines = append(c.Lines, line)
		c.Total += line.Sum
	}
	for i := range l.Stock {
		s := &l.Stock[i]
		buy := s.ShortM2
		if len(s.OnRack) == 0 {
			buy = s.BuyAreaM2
		}
		if buy == 0 {
			continue
		}
		best, each := "", 0.0
		for _, b := range l.rack.Sold.Boards {
			if fits, _ := l.boardFits(b, s); fits && b.Price > 0 && boardArea(b) > 0 {
				if p := b.Price / boardArea(b); best == "" || p < each {
					best, each = b.Name, p
				}
			}
		}
		if best == "" {
			c.Unpriced = append(c.Unpriced, fmt.Sprintf("%s %s, %s: %s", s.Wood, s.Form, l.length(s.ThickMM), l.area(buy)))
			continue
		}
		add(CostLine{What: fmt.Sprintf("%s %s, %s, at the price of %s", s.Wood, s.Form, l.length(s.ThickMM), best), Amount: buy, Unit: "m2", Each: kept(each)})
	}
	for i := range l.Dowels {
		d := &l.Dowels[i]
		for _, b := range d.Buy {
			what := fmt.Sprintf("%s dowel %s, %s long", d.Wood, l.length(d.DiaMM), l.length(b.LengthMM))
			if b.Price == 0 {
				c.Unpriced = append(c.Unpriced, fmt.Sprintf("%s: %d", what, b.Count))
				continue
			}
			add(CostLine{What: what, Amount: float64(b.Count), Unit: "sticks", Each: b.Price})
		}
		for _, x := range d.Short {
			c.Unpriced = append(c.Unpriced, fmt.Sprintf("%s dowel %s, short: %d of %s", d.Wood, l.length(d.DiaMM), x.Count, l.length(x.LengthMM)))
		}
	}
	for _, h := range l.Hardware {
		c.Unpriced = append(c.Unpriced, h.counted())
	}
	if len(l.Consumables) > 0 {
		c.Unpriced = append(c.Unpriced, "what is used up")
	}
	c.Total = math.Round(c.Total*100) / 100
	l.Cost = &c
}

// Shorts says what the rack of the shop's file has not enough of, a line for each wood and for each
// length of dowel that no stick is left for. Without such a rack there is nothing to be short of.
func (l *Lists) Shorts() (out []string) {
	if l.rack == nil {
		return nil
	}
	boards := len(l.rack.Boards)+len(l.rack.Sold.Boards) > 0
	for i := range l.Stock {
		s := &l.Stock[i]
		what := fmt.Sprintf("%s %s, %s thick", s.Wood, s.Form, l.length(s.ThickMM))
		switch {
		case !boards || s.BuyAreaM2 == 0:
		case len(s.OnRack) == 0:
			out = append(out, fmt.Sprintf("%s: none on the rack, %s wanted", what, l.area(s.BuyAreaM2)))
		case s.ShortM2 > 0:
			out = append(out, fmt.Sprintf("%s: %s short of %s, by area", what, l.area(s.ShortM2), l.area(s.BuyAreaM2)))
		}
	}
	for i := range l.Dowels {
		d := &l.Dowels[i]
		what := fmt.Sprintf("%s dowel, %s", d.Wood, l.length(d.DiaMM))
		if len(d.Buy) > 0 {
			out = append(out, what+": "+whole(l.Sticks(d))+" to buy")
		}
		for _, x := range d.Short {
			out = append(out, fmt.Sprintf("%s: no stick for %d of %s", what, x.Count, l.length(x.LengthMM)))
		}
	}
	return out
}

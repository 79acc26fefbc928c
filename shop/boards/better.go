package boards

import "slices"

// Better tells whether a plan is better than another of the same pieces in the same shop: more of
// them have a place; then less has to be bought, by price where all has one, else by area; then
// fewer and smaller boards are cut; then more is left of them in one piece.
func (p *Plan) Better(q *Plan) bool {
	return slices.Compare(p.worth(), q.worth()) < 0
}

// worth is what plans are compared by, the first that differs telling; less is better.
func (p *Plan) worth() []float64 {
	placed, price, area, cut, boards, left := 0, 0.0, 0.0, 0.0, 0, 0.0
	priced := true
	for i := range p.Stocks {
		s := &p.Stocks[i]
		placed += s.Placed
		cut += s.BoardsM2
		for _, b := range s.Buy {
			price += b.Price
			area += b.LengthMM * b.WidthMM * float64(b.Count) * 1e-6
			priced = priced && b.Price > 0
		}
		for k := range s.Boards {
			boards++
			for _, r := range s.Boards[k].Left {
				left += r.LengthMM * r.WidthMM * 1e-6
			}
		}
	}
	buy := area
	if priced {
		buy = price
	}
	return []float64{float64(-placed), kept(buy), kept(cut), float64(boards), kept(-left)}
}

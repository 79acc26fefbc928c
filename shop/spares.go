package shop

import "dryfit/toy"

// SparesOf is how many spares of a part are made for so many toys. A wheel's spare goes with each
// toy, since wheels are lost; of other parts one lot of spares, for a slip of the saw, serves all.
func SparesOf(p *toy.Part, count int) int {
	if p.Shape == toy.Disc {
		return p.Spare * count
	}
	return p.Spare
}

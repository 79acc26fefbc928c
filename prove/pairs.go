package prove

import (
	"dryfit/assembly"
	"dryfit/geom/r3"
)

// pairsOf is what is asked for every pair of pieces, by piece.
type pairsOf struct {
	fits  [][]int    // the pieces that it is fitted into, or that are fitted into it
	bores [][]r3.Box // the boxes of its round holes
}

func newPairs(m *assembly.Model) pairsOf {
	p := pairsOf{make([][]int, len(m.Pieces)), make([][]r3.Box, len(m.Pieces))}
	for _, f := range m.Fits {
		p.fits[f.Rod], p.fits[f.Piece] = append(p.fits[f.Rod], f.Piece), append(p.fits[f.Piece], f.Rod)
	}
	for i, q := range m.Pieces {
		for k := range q.Made.Bores {
			p.bores[i] = append(p.bores[i], boreBox(q.Bore(k)))
		}
	}
	return p
}

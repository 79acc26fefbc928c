package prove

import (
	"fmt"
	"slices"

	"dryfit/assembly"
	"dryfit/prove/strength"
)

// rails judges rods that are glued on both sides of a stretch that is free, as handles,
// rungs and rails: pulled sideways in the middle of it. A glued hole holds them stiffly, so
// they bend as a beam that is built in at both ends (textbook, P L/8); in loose holes they
// bend as one that lies on two supports, P L/4.
func (r *run) rails(out []judged) []judged {
	pull := r.loads().pull
	for _, rod := range r.rods() {
		if role := rod.fits[0].Role; role != "peg" || r.isAxle(rod.piece) {
			continue
		}
		var held [][2]float64
		moment := strength.BuiltIn
		for _, f := range rod.fits {
			if f.Kind == assembly.Running {
				moment = func(force, span float64) float64 { return strength.Spread(force, span, 0) }
			}
			held = append(held, r.stretches(f.Rod, assembly.Hole{Piece: f.Piece, Bore: f.Bore})...)
		}
		slices.SortFunc(held, func(a, b [2]float64) int { return sign(a[0] - b[0]) })
		piece := r.m.Pieces[rod.piece]
		c, dir, _ := piece.Axis()
		for k := 1; k < len(held); k++ {
			lo, hi := held[k-1][1], held[k][0]
			if hi-lo < gripLength {
				continue
			}
			j := judged{about: piece.ID + " between its holes", off: []int{rod.piece}, from: []int{rod.piece}, source: pull.From,
				at:    r.place(rod.piece, "", c.Add(dir.Scale((lo+hi)/2)), piece.At),
				says:  fmt.Sprintf("%s holds a pull of %s sideways in its middle", piece.ID, r.force(pull.N)),
				notes: []string{"held on both sides, " + r.about(hi-lo) + " apart: bent as a beam"}}
			j.f, j.told, j.mend = r.rod(rod.piece, moment(pull.N, hi-lo), func(s strength.Round) float64 { return s.DoubleShear(pull.N) })
			j.mend += ", or a shorter one"
			out = append(out, j)
		}
	}
	return out
}

package picture

import (
	"testing"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// Arrows keep off what is new: of all squares of the paper whose middle lies in an arrow,
// by counting crossings with its border, none to speak of shows a piece that is added.
func TestArrowsKeepOffWhatIsNew(t *testing.T) {
	t.Parallel()
	arrows := 0
	for _, name := range toys(t) {
		toy := toyOf(t, name)
		if !toy.order().Found {
			continue
		}
		for n, st := range toy.steps() {
			s := st.Scene
			m := s.model(toy.m)
			o := toy.draft.known.gather(m, s.Shown, s.offsets())
			from := s.View.sight()
			box := from.bounds(o)
			size := r2.Vec{X: 85, Y: 62}
			at := place{from, s.largest(fit(box.Size(), size.Sub(v2(2*ringRoom+1, 2*ringRoom+1)))), middle(box), size.Scale(0.5)}
			look := looked(o, at)
			for _, it := range s.arrows(m, at, func(a spot) int { return coveredBy(a, o, look) }) {
				var a []r2.Vec
				for _, g := range it.(draw.Path).Runs[0].Segs {
					a = append(a, g.To)
				}
				covered := 0
				for i, b := range look.body {
					if b >= 0 && o.looks[b] == New && crossings(a, look.middleOf(i))%2 == 1 {
						covered++
					}
				}
				arrows++
				if area := float64(covered) * look.cell * look.cell; area > 0.5 {
					t.Errorf("%s, drawing %d: an arrow covers %.1f mm²", name, n, area)
				}
			}
		}
	}
	if arrows < 150 {
		t.Errorf("only %d arrows", arrows)
	}
}

// crossings counts how often a ray from a point to the right crosses a closed line.
func crossings(line []r2.Vec, p r2.Vec) (n int) {
	for i, a := range line {
		b := line[(i+1)%len(line)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			n++
		}
	}
	return n
}

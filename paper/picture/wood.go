package picture

import (
	"math"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
)

// What wood looks like in a shaded picture: its tint, with growth rings about a pith that
// lies beside the blank and runs along it, so that ends show rings and faces show figure.
// Plywood shows its layers. A picture, nothing that is proved.

type wood struct {
	tint   rgb
	back   r3.Pose // from the world to the blank
	pith   r2.Vec  // across the blank, mm
	ring   float64 // mm
	depth  float32 // how much darker late wood is
	layers bool
	thick  float64
}

func woodOf(m *assembly.Model, piece int, off r3.Vec) *wood {
	p := m.Pieces[piece]
	name := ""
	if s, ok := m.Toy.StockNamed(p.Part.Stock); ok {
		name = s.Wood
	}
	c := facts.Tint(name)
	lin := func(v uint8) float32 { return float32(v) / 255 * float32(v) / 255 }
	w := &wood{tint: rgb{lin(c[0]), lin(c[1]), lin(c[2])}, back: p.Pose.Then(r3.Shift(off)).Inverse(), ring: 2.4, depth: 0.16}
	size := p.Made.Size
	w.thick = size.Z
	// Where the log was differs from piece to piece.
	w.pith = r2.Vec{X: float64(size.Y * (0.2 + float64(0.17*float64(piece%5)))), Y: -9 - float64(piece*7%23)}
	switch {
	case strings.Contains(strings.ToLower(name), "plywood"):
		w.layers, w.ring, w.depth = true, 2.6, 0.3
	case strings.EqualFold(name, "mdf"):
		w.depth = 0
	}
	return w
}

// at returns the colour at a point of the world.
func (w *wood) at(p r3.Vec) rgb {
	q := w.back.Point(p)
	t := 0.0
	if w.layers {
		if t = frac((q.Z + 0.01) / w.ring); t < 0.5 {
			t = 0
		} else {
			t = 1
		}
		if q.Z < w.ring/2 || q.Z > w.thick-w.ring/2 { // the veneer outside, with a broad figure
			figure := frac((q.Y + float64(wave(q.X/83+w.pith.Y)*5) + float64(wave(q.X/37)*1.5)) / 9)
			t = float64(0.22 * figure * figure)
		}
	} else {
		// The log is not quite straight, nor round.
		bend := float64(wave(q.X/97+w.pith.Y)*2.2) + float64(wave(q.X/31)*0.5)
		a, b := q.Y-w.pith.X+bend, q.Z-w.pith.Y
		r := math.Sqrt(float64(a*a) + float64(b*b))
		t = frac(r/w.ring + float64(0.3*wave(r/11)))
		t = t * t * t
		if t > 0.8 {
			t = (1 - t) * 4
		}
	}
	return w.tint.scale(1 - float32(w.depth*float32(t)))
}

func frac(v float64) float64 { return v - math.Floor(v) }

// wave goes smoothly from -1 to 1 and back once in a unit.
func wave(v float64) float64 {
	t := 2 * math.Abs(2*frac(v)-1) // 2, 0, 2
	t -= 1
	return t * (1.5 - 0.5*float64(t*t))
}

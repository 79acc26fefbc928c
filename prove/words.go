package prove

import (
	"fmt"
	"math"
	"strings"

	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure"
)

// way says a shift in words: "1/8 in up", "3 mm back and 2 mm left".
func (r *run) way(v r3.Vec) string {
	words := [3][2]string{{"back", "forward"}, {"right", "left"}, {"down", "up"}}
	out := ""
	for axis := 0; axis < 3; axis++ {
		c := v.At(axis)
		if math.Abs(c) <= tol.Touch/2 {
			continue
		}
		if out != "" {
			out += " and "
		}
		w := words[axis][0]
		if c > 0 {
			w = words[axis][1]
		}
		out += r.len(math.Abs(c)) + " " + w
	}
	if out == "" {
		return "a little"
	}
	return out
}

func volume(mm3 float64) string { return fmt.Sprintf("%.1f mm³", mm3) }

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// area prints an area in the user's units.
func (r *run) area(mm2 float64) string {
	if r.m.Toy.Units == measure.Inch {
		return fmt.Sprintf("%.2f in²", mm2/(25.4*25.4))
	}
	return fmt.Sprintf("%.0f mm²", mm2)
}

// len prints a length for the user of this toy. In inches a small length that is
// no 64th of an inch is printed in millimetres: a nearest fraction would say 0.
func (r *run) len(mm float64) string {
	l := measure.FromMM(page(mm))
	if text := l.Format(r.m.Toy.Units); r.m.Toy.Units == measure.MM || math.Abs(mm) > smallInch || !strings.HasPrefix(text, "≈") {
		return text
	}
	return l.Format(measure.MM)
}

// smallInch is the length below which the nearest 64th of an inch says too little.
const smallInch = 25.4 / 8

// mend rounds a mend up to a tenth of a millimetre, finer than anyone saws.
func mend(mm float64) float64 { return math.Ceil(mm*10) / 10 }

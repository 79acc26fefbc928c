package compare

import (
	"fmt"
	"math"
	"strings"

	"dryfit/measure"
)

// len prints a length in the units that are asked for. In inches a small length that is no 64th of
// an inch is printed in millimetres, as in the proof: the nearest fraction would say nothing.
func (d *differ) len(mm float64) string {
	l := measure.FromMM(page(mm))
	text := l.Format(d.unit)
	if d.unit == measure.MM || math.Abs(mm) > smallInch || !strings.HasPrefix(text, "≈") {
		return text
	}
	return l.Format(measure.MM)
}

// smallInch is the length below which the nearest 64th of an inch says too little.
const smallInch = 25.4 / 8

func (d *differ) volume(mm3 float64) string {
	if d.unit == measure.Inch {
		return fmt.Sprintf("%.2f in³", mm3/(25.4*25.4*25.4))
	}
	return fmt.Sprintf("%.1f cm³", mm3/1000)
}

// sits says where a piece sits that has moved, or was turned.
func (d *differ) sits(by [3]float64, turned bool) string {
	words := [3][2]string{{"further back", "further forward"}, {"further right", "further left"}, {"lower", "higher"}}
	var says []string
	for axis, c := range by {
		switch {
		case c < 0:
			says = append(says, d.len(-c)+" "+words[axis][0])
		case c > 0:
			says = append(says, d.len(c)+" "+words[axis][1])
		}
	}
	where := strings.Join(says, " and ")
	switch {
	case where == "" && !turned:
		return ""
	case where == "":
		return "sits another way round"
	case turned:
		return "sits " + where + ", another way round"
	}
	return "sits " + where
}

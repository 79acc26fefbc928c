package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"dryfit/geom/r2"
	"dryfit/geom/trig"
)

// units are the lengths of SVG and CSS in mm; px is 1/96 in (CSS Values and Units 3, 5.2).
var units = map[string]float64{"mm": 1, "cm": 10, "q": 0.25, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6, "px": 25.4 / 96}

// Units are the words for what one unit of a drawing may be.
var Units = map[string]float64{"mm": 1, "inch": 25.4, "px": 25.4 / 96}

// split takes a length apart into its number and its unit.
func split(s string) (v float64, unit string, ok bool) {
	s = strings.TrimSpace(s)
	i := len(s)
	for i > 0 && (s[i-1] == '%' || s[i-1]|0x20 >= 'a' && s[i-1]|0x20 <= 'z') {
		i--
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(s[:i]), 64)
	if err != nil || math.IsNaN(v) || math.Abs(v) > 1e6 {
		return 0, "", false
	}
	return v, strings.ToLower(s[i:]), true
}

// length reads a length in the units of the drawing (px); empty is none.
func length(s string, none float64) (float64, bool) {
	if strings.TrimSpace(s) == "" {
		return none, true
	}
	v, unit, ok := split(s)
	if !ok {
		return 0, false
	}
	if unit == "" {
		return v, true
	}
	mm, ok := units[unit]
	return float64(v*mm) / units["px"], ok
}

// numbers reads a list of numbers apart by blanks or commas.
func numbers(s string) ([]float64, bool) {
	var out []float64
	for _, w := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ',' || r == '\t' || r == '\n' || r == '\r' }) {
		v, err := strconv.ParseFloat(w, 64)
		if err != nil || !(math.Abs(v) <= 1e6) {
			return nil, false
		}
		out = append(out, v)
	}
	return out, true
}

// transform reads the transform attribute (SVG 1.1, 7.6): changes written from the outer
// to the inner.
func transform(s string) (affine, error) {
	m := unchanged
	for s = strings.TrimLeft(s, " \t\r\n,"); s != ""; s = strings.TrimLeft(s, " \t\r\n,") {
		open, shut := strings.IndexByte(s, '('), strings.IndexByte(s, ')')
		if open < 0 || shut < open {
			return m, fmt.Errorf("%q is no change of place", s)
		}
		name := strings.TrimSpace(s[:open])
		v, ok := numbers(s[open+1 : shut])
		if !ok {
			return m, fmt.Errorf("%q is no list of numbers", s[open+1:shut])
		}
		n, err := change(name, v)
		if err != nil {
			return m, err
		}
		m = m.of(n)
		s = s[shut+1:]
	}
	return m, nil
}

func change(name string, v []float64) (affine, error) {
	radians := func(d float64) float64 { return float64(d*math.Pi) / 180 }
	switch n := len(v); {
	case name == "matrix" && n == 6:
		return affine{v[0], v[1], v[2], v[3], v[4], v[5]}, nil
	case name == "translate" && n == 1:
		return affine{1, 0, 0, 1, v[0], 0}, nil
	case name == "translate" && n == 2:
		return affine{1, 0, 0, 1, v[0], v[1]}, nil
	case name == "scale" && n == 1:
		return affine{v[0], 0, 0, v[0], 0, 0}, nil
	case name == "scale" && n == 2:
		return affine{v[0], 0, 0, v[1], 0, 0}, nil
	case name == "rotate" && (n == 1 || n == 3):
		sin, cos := trig.Turn(radians(math.Mod(v[0], 360)))
		m := affine{cos, sin, -sin, cos, 0, 0}
		if n == 3 {
			c := r2.Vec{X: v[1], Y: v[2]}
			o := c.Sub(m.turn(c))
			m.e, m.f = o.X, o.Y
		}
		return m, nil
	case name == "skewX" && n == 1 && math.Abs(v[0]) < 85:
		return affine{1, 0, trig.Tan(radians(v[0])), 1, 0, 0}, nil
	case name == "skewY" && n == 1 && math.Abs(v[0]) < 85:
		return affine{1, trig.Tan(radians(v[0])), 0, 1, 0, 0}, nil
	}
	return unchanged, fmt.Errorf("%s with %d numbers is no change of place that is read", name, len(v))
}

// viewport is the change that width, height, viewBox and preserveAspectRatio of an svg
// element make (SVG 1.1, 7.7 and 7.8), from its own units to those of its parent: mm for
// the outermost, px for one inside.
func (e *element) viewport(w, h float64) (affine, error) {
	box := e.attr["viewBox"]
	x, y := 0.0, 0.0
	v, ok := numbers(box)
	switch {
	case box == "":
		return unchanged, nil
	case !ok || len(v) != 4 || v[2] <= 0 || v[3] <= 0:
		return unchanged, e.problem("viewBox "+strconv.Quote(box)+" is not one", "four numbers, the last two more than 0")
	}
	if w == 0 {
		w = v[2]
		if h != 0 {
			w = float64(h*v[2]) / v[3]
		}
	}
	if h == 0 {
		h = float64(w*v[3]) / v[2]
	}
	sx, sy := w/v[2], h/v[3]
	if fit := strings.Fields(e.attr["preserveAspectRatio"]); len(fit) == 0 || fit[0] != "none" {
		align := "xMidYMid"
		if len(fit) > 0 {
			align = fit[0]
		}
		s := math.Min(sx, sy)
		if len(fit) > 1 && fit[1] == "slice" {
			s = math.Max(sx, sy)
		}
		share := func(word string, free float64) float64 {
			switch {
			case strings.Contains(align, word+"Mid"):
				return free / 2
			case strings.Contains(align, word+"Max"):
				return free
			}
			return 0
		}
		x, y = share("x", w-float64(s*v[2])), share("Y", h-float64(s*v[3]))
		sx, sy = s, s
	}
	return affine{sx, 0, 0, sy, x - float64(sx*v[0]), y - float64(sy*v[1])}, nil
}

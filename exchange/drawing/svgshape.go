package drawing

import (
	"fmt"
	"math"
	"strings"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
)

// draw draws a shape: SVG 1.1, chapters 8 and 9.
func (e *element) draw(p *pen) error {
	var bad string
	num := func(name string, none float64) float64 {
		v, ok := length(e.attr[name], none)
		if !ok && bad == "" {
			bad = name
		}
		return v
	}
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	switch e.name {
	case "path":
		if strings.TrimSpace(e.attr["d"]) == "" || e.attr["d"] == "none" {
			return nil
		}
		if err := outline.Trace(e.attr["d"], p); err != nil {
			return e.problem(fmt.Sprintf("path data, character %d: %s", err.At+1, err.Says), "path data as SVG 1.1 has it")
		}
	case "rect":
		x, y, w, h := num("x", 0), num("y", 0), num("width", 0), num("height", 0)
		rx, ry := num("rx", -1), num("ry", -1)
		if rx < 0 {
			rx = ry
		}
		if ry < 0 {
			ry = rx
		}
		rx, ry = math.Min(math.Max(rx, 0), w/2), math.Min(math.Max(ry, 0), h/2)
		if bad == "" && w > 0 && h > 0 {
			p.box(x, y, w, h, rx, ry)
		}
	case "circle", "ellipse":
		c, rx := at(num("cx", 0), num("cy", 0)), num("r", 0)
		ry := rx
		if e.name == "ellipse" {
			rx, ry = num("rx", 0), num("ry", 0)
		}
		if bad == "" && rx > 0 && ry > 0 {
			p.Move(c.Add(at(rx, 0)))
			p.Ellipse(c, at(rx, 0), at(0, ry), 0, 2*math.Pi, c.Add(at(rx, 0)))
			p.Close()
		}
	case "line":
		a, b := at(num("x1", 0), num("y1", 0)), at(num("x2", 0), num("y2", 0))
		if bad == "" {
			p.Move(a)
			p.Line(b)
		}
	case "polyline", "polygon":
		v, ok := numbers(e.attr["points"])
		if !ok || len(v)%2 == 1 {
			return e.problem("points are not pairs of numbers", "x,y x,y and so on")
		}
		for i := 0; i+1 < len(v); i += 2 {
			if q := at(v[i], v[i+1]); i == 0 {
				p.Move(q)
			} else {
				p.Line(q)
			}
		}
		if e.name == "polygon" {
			p.Close()
		}
	}
	if bad != "" {
		return e.problem(fmt.Sprintf("%s %q is no length that is read", bad, e.attr[bad]), "a number, or a length such as 12mm")
	}
	return nil
}

// box draws a rectangle with round corners.
func (p *pen) box(x, y, w, h, rx, ry float64) {
	p.Move(r2.Vec{X: x + rx, Y: y})
	corner := func(cx, cy, from float64, to r2.Vec) {
		if rx > 0 && ry > 0 {
			p.Ellipse(r2.Vec{X: cx, Y: cy}, r2.Vec{X: rx}, r2.Vec{Y: ry}, from, math.Pi/2, to)
		}
	}
	p.Line(r2.Vec{X: x + w - rx, Y: y})
	corner(x+w-rx, y+ry, -math.Pi/2, r2.Vec{X: x + w, Y: y + ry})
	p.Line(r2.Vec{X: x + w, Y: y + h - ry})
	corner(x+w-rx, y+h-ry, 0, r2.Vec{X: x + w - rx, Y: y + h})
	p.Line(r2.Vec{X: x + rx, Y: y + h})
	corner(x+rx, y+h-ry, math.Pi/2, r2.Vec{X: x, Y: y + h - ry})
	p.Line(r2.Vec{X: x, Y: y + ry})
	corner(x+rx, y+ry, math.Pi, r2.Vec{X: x + rx, Y: y})
	p.Close()
}

package picture

import (
	"fmt"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// blockHeight is that of the title block, mm.
const blockHeight = 15.0

// titles draws the frame and, along its foot, the title block: the name of the
// toy, how many pieces it has, units, scale, and the sign of the projection.
func titles(m *assembly.Model, frame r2.Box, third bool, scale string) []draw.Item {
	top := frame.Min.Y + blockHeight
	lines := []draw.Run{draw.Polyline(r2.Vec{X: frame.Min.X, Y: top}, r2.Vec{X: frame.Max.X, Y: top})}
	items := []draw.Item{draw.Path{Runs: []draw.Run{draw.Rect(frame)}, Line: draw.Outline}}
	pad := 3.0
	cell := func(right, width float64, small, large string) float64 {
		left := right - width
		lines = append(lines, draw.Polyline(r2.Vec{X: left, Y: frame.Min.Y}, r2.Vec{X: left, Y: top}))
		items = append(items,
			draw.Text{At: r2.Vec{X: left + pad, Y: top - 2.5}, Says: small, Height: 1.8, Tone: draw.Pencil, Up: draw.Top},
			draw.Text{At: r2.Vec{X: left + pad, Y: frame.Min.Y + 3.2}, Says: large, Height: 3})
		return left
	}
	angle := "first angle"
	if third {
		angle = "third angle"
	}
	right := cell(frame.Max.X, 32, angle, "")
	items = append(items, draw.Group{Move: draw.Translate(r2.Vec{X: right + 16, Y: frame.Min.Y + 5.4}), Items: cone(third)})
	units := "millimetres"
	if third {
		units = "inches"
	}
	right = cell(right, 19, "scale", scale)
	right = cell(right, 32, "units", units)
	right = cell(right, 19, "pieces", fmt.Sprint(len(m.Pieces)))
	name, room := m.Toy.Name, right-frame.Min.X-2*pad
	height := 5.0
	for height > 2.5 && draw.TextWidth(name, height, true) > room {
		height -= 0.5
	}
	items = append(items,
		draw.Text{At: r2.Vec{X: frame.Min.X + pad, Y: frame.Min.Y + blockHeight/2}, Says: draw.Shorten(name, height, true, room), Height: height, Bold: true, Up: draw.Half},
		draw.Path{Runs: lines, Line: draw.Thin})
	return []draw.Item{draw.Group{Layer: layerTitles, Items: items}}
}

// cone draws the sign of the projection about the origin: a truncated cone,
// small end to the left, and its view from the left, which stands on the left in
// third angle and on the right in first angle. Proportions: small end h, large
// end and length 2h (ISO 5456-2, from memory).
func cone(third bool) []draw.Item {
	const h, gap = 3.0, 2.2
	rings, body := -(h + gap/2), gap/2
	if !third {
		rings, body = h+gap/2, -(2*h + gap/2)
	}
	at := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	o := at(rings, 0)
	axis := func(a, b r2.Vec) draw.Run { return draw.Polyline(a, b) }
	return []draw.Item{
		draw.Path{Line: draw.Outline, Runs: []draw.Run{
			draw.Circle(o, h/2), draw.Circle(o, h),
			draw.Polygon(at(body, -h/2), at(body+2*h, -h), at(body+2*h, h), at(body, h/2)),
		}},
		draw.Path{Line: draw.Construction, Runs: []draw.Run{
			axis(at(rings-h-1, 0), at(rings+h+1, 0)), axis(at(rings, -h-1), at(rings, h+1)), axis(at(body-1, 0), at(body+2*h+1, 0)),
		}},
	}
}

// Package picture draws a toy from its model: three views and an isometric,
// with what is hidden left out.
//
// [Page] is the sheet, [File] writes it. The views are the side from the right (the toy drives to the
// right of the paper), the front and the top, laid out true to each other: in
// third angle for toys in inches, in first angle for toys in millimetres, as
// the sign of the truncated cone says (ISO 5456-2). The isometric (ISO 5456-3)
// has lengths along its three axes to scale. Scales are those of ISO 5455.
//
// A [Drafter] draws scenes: [Drafter.Steps] makes one for each step of the guide,
// [Drafter.Exploded] the toy drawn apart; [Drafter.Draw] draws one in lines,
// [Drafter.PNG] shades it, [Drafter.Alone] puts it on a page of its own.
// [Section] cuts a piece.
//
// The tour: edges.go says which lines a toy has, sight.go which of them are seen
// from where, once.go draws those that coincide only once, chain.go joins them
// and turns chords back into arcs; sheet.go puts the views on paper, plan.go
// finds scale and room for them, block.go letters the title block. scene.go draws
// a scene: wash.go fills what is new, arrows.go shows the way, callouts.go numbers
// the pieces. steps.go groups the proved moves, bring.go finds ways and views that
// show them, explode.go draws all of it apart. raster.go knows what is seen in each
// small square; shade.go, wood.go and ground.go make shaded pictures.
package picture

import (
	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/measure"
	"dryfit/paper/draw"
)

// The layers of a picture.
const (
	layerToy        = "Toy"
	layerFloor      = "Floor"
	layerDimensions = "Dimensions"
	layerTitles     = "Titles"
)

// Options say how a picture is drawn.
type Options struct {
	// Size of the paper in mm. The zero size is A4 for toys in millimetres and
	// Letter for toys in inches, upright or lying, whichever shows more.
	Size r2.Vec
}

// ink draws what is seen: first the edges inside, then, heavier, the contours,
// where a shape ends against what lies behind it.
func (s sight) ink(o *object, scale float64, from, to r2.Vec) []draw.Item {
	return inked(s.see(o), scale, from, to)
}

func inked(seen []stroke, scale float64, from, to r2.Vec) []draw.Item {
	// Two neighbours of the series of ISO 128-2, a step finer for small pictures.
	inner, contour := draw.Outline, draw.Cut
	if scale < fineBelow {
		inner, contour = draw.Thin, draw.Outline
	}
	var items []draw.Item
	for _, w := range []struct {
		look           Look
		inner, contour draw.Line
	}{{Quiet, draw.Construction, draw.Faint}, {Plain, inner, contour}, {New, draw.Outline, draw.Cut}} {
		for _, p := range []draw.Path{
			{Runs: runs(seen, w.look, false, scale, from, to), Line: w.inner},
			{Runs: runs(seen, w.look, true, scale, from, to), Line: w.contour},
		} {
			if len(p.Runs) > 0 {
				items = append(items, p)
			}
		}
	}
	return items
}

func middle(b r2.Box) r2.Vec { return b.Min.Add(b.Max).Scale(0.5) }

// fit returns the scale at which have fills room.
func fit(have, room r2.Vec) float64 {
	return max(0, min(room.X/have.X, room.Y/have.Y))
}

// says writes a length of the toy in its units.
func says(m *assembly.Model, mm float64) string {
	return measure.FromMM(mm).Format(m.Toy.Units)
}

// fineBelow is the scale below which edges are drawn finer: smaller pictures
// than full size would clog.
const fineBelow = 0.99

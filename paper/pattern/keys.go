package pattern

import (
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/shop"
	"dryfit/toy"
)

// Two blocks help to read and to trust the patterns: a legend of the lines that are
// used, and a strip of all dowels and holes as circles at true size.

const (
	sampleWide = 13.0 // of a sample in the legend
	rowStep    = 5.4
)

// uses tells which of the things that a legend explains are on the patterns.
type uses struct{ lines [16]bool }

func (u *uses) see(items []draw.Item) {
	draw.Page{Items: items}.Walk(func(m draw.Mark) {
		if m.Path != nil {
			u.lines[m.Path.Line] = true
		}
	})
}

// legend explains what is drawn on the blocks; it is nothing if there are none.
func legend(all []drawn) []drawn {
	if len(all) == 0 {
		return nil
	}
	var u uses
	starts, far, seen := false, false, false
	for _, d := range all {
		u.see(d.Items)
		starts = starts || d.starts
		for _, v := range d.views {
			far, seen = far || len(v.far) > 0 || len(v.marks) > 0, seen || len(v.seen) > 0
		}
	}
	places := false // are lettered somewhere
	for _, d := range all {
		draw.Page{Items: d.Items}.Walk(func(m draw.Mark) {
			places = places || m.Text != nil && strings.HasPrefix(m.Text.Says, legendRight+" ")
		})
	}
	var items []draw.Item
	y := 0.0
	row := func(show bool, says string, sample ...draw.Item) {
		if !show {
			return
		}
		x := sampleWide + 3
		for i, l := range draw.Wrap(says, wordHeight, false, legendWidth-x) {
			if i > 0 {
				y -= draw.LineStep(wordHeight)
			}
			at := r2.Vec{X: x, Y: y}
			if i == 0 {
				items = append(items, draw.Group{Move: draw.Translate(r2.Vec{Y: y}), Items: sample})
			}
			items = append(items, draw.Text{At: at, Says: l, Height: wordHeight, Up: draw.Half})
		}
		y -= rowStep
	}
	line := func(l draw.Line) draw.Item {
		return draw.Path{Line: l, Runs: []draw.Run{draw.Polyline(r2.Vec{}, r2.Vec{X: sampleWide})}}
	}
	box := draw.Rect(r2.Box{Min: r2.Vec{Y: -2}, Max: r2.Vec{X: sampleWide, Y: 2}})
	mid := r2.Vec{X: sampleWide / 2}
	row(u.lines[draw.Cut], legendCut, line(draw.Cut))
	row(u.lines[draw.Later], legendLater, line(draw.Later))
	row(u.lines[draw.HatchLine], legendWaste, draw.Path{Line: draw.Thin, Runs: []draw.Run{box}}, draw.Hatch([]draw.Run{box}, math.Pi/4, 2.4))
	row(u.lines[draw.Fold], legendFold, line(draw.Fold))
	row(u.lines[draw.Hidden], legendHidden, line(draw.Hidden))
	if seen || far {
		dashes := draw.Path{Line: draw.Construction, Runs: dashed(draw.Polyline(r2.Vec{}, r2.Vec{X: sampleWide}))}
		row(far, legendFar, dashes)
		row(seen, legendSeen, line(draw.Outline))
	}
	row(starts, legendStart, startDot(mid)[0])
	corner := r2.Vec{X: sampleWide/2 + 1, Y: -1.2}
	from := legendCorner
	if places {
		from = legendPlaces
	}
	row(u.lines[draw.Cut] || u.lines[draw.Thin], from,
		draw.Path{Line: draw.Thin, Runs: []draw.Run{draw.Polyline(corner.Add(r2.Vec{Y: 3}), corner, corner.Add(r2.Vec{X: 4.5}))}},
		draw.Arrow(corner.Sub(r2.Vec{X: 0.5, Y: 0.5}), r2.Vec{X: 1, Y: 1}.Unit()))
	return []drawn{boxed("legend", legendTitle, "", []draw.Item{draw.Group{Layer: layerWords, Items: items}})}
}

// boxed makes a block of items that lie anywhere.
func boxed(id, title, note string, items []draw.Item) drawn {
	b := grown(draw.Bounds(items...), 0.3)
	return drawn{of: id, Block: layout.Block{ID: id, Title: title, Note: note, Size: b.Size(), Split: true, Above: true,
		Items: []draw.Item{draw.Group{Move: draw.Translate(b.Min.Neg()), Items: items}}}}
}

// round is one circle of the strip.
type round struct {
	dia  float64
	says []string
}

// strip draws every diameter of dowel and of hole in the toy once.
func (s *speaker) strip(m *assembly.Model) []drawn {
	var rods, holes []round
	add := func(list []round, r round) []round {
		for _, o := range list {
			if math.Abs(o.dia-r.dia) < tol.Page {
				return list
			}
		}
		return append(list, r)
	}
	lists := shop.List(m)
	for _, st := range m.Toy.Stock {
		if used := slices.ContainsFunc(m.Pieces, func(p *assembly.Piece) bool { return p.Part.Stock == st.Name }); used && st.Form == toy.Dowel {
			rods = add(rods, round{st.Dia.MM(), []string{s.mm(st.Dia.MM()), dowelWord}})
		}
	}
	for _, b := range lists.Bits {
		if b.Drills() && b.DiaMM <= stripMost {
			holes = add(holes, round{b.DiaMM, []string{s.mm(b.DiaMM), holeWord}})
		}
	}
	if len(rods)+len(holes) == 0 {
		return nil
	}
	all := append(rods, holes...)
	var items []draw.Item
	x, y, high := 0.0, 0.0, 0.0
	for i, r := range all {
		wide := math.Max(r.dia+3, draw.Widest(r.says, wordHeight, false))
		if x > 0 && x+wide > stripWide {
			x, y, high = 0, y-high-6, 0
		}
		line, fill := draw.Outline, draw.NoTone
		if i < len(rods) {
			fill = draw.Light
		}
		// circles hang from one line, with their names under each
		c := r2.Vec{X: x + wide/2, Y: y - r.dia/2}
		items = append(items, draw.Path{Runs: []draw.Run{draw.Circle(c, r.dia/2)}, Line: line, Fill: fill})
		if i >= len(rods) {
			items = append(items, cross(c, r.dia/2))
		}
		for k, l := range r.says {
			items = append(items, draw.Text{At: r2.Vec{X: c.X, Y: y - r.dia - 3 - float64(float64(k)*draw.LineStep(wordHeight))}, Says: l, Height: wordHeight, Across: draw.Middle, Up: draw.Top})
		}
		high = math.Max(high, r.dia+3+2*draw.LineStep(wordHeight))
		x += wide + 5
	}
	return []drawn{boxed("rounds", stripTitle, stripNote, []draw.Item{draw.Group{Layer: layerHoles, Items: items}})}
}

const (
	legendWidth = 66.0
	stripWide   = 100.0
	stripMost   = 40.0 // a hole that is larger is sawn, or tried otherwise
)

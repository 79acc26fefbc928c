package picture

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/paper/draw"
)

// Frame and title block, mm on paper: the margin of ISO 5457 (from memory).
const (
	margin = 10.0
	inset  = 5.0
)

// Page returns the sheet: the three views with overall dimensions, the
// isometric, and the title block.
func Page(m *assembly.Model, opt Options) draw.Page {
	o := gather(m)
	v := views{third: m.Toy.Units == measure.Inch, ring: ringRoom}
	v.side, v.front, v.top, v.iso = fromRight.bounds(o), fromFront.bounds(o), fromAbove.bounds(o), isometric.bounds(o)

	v.length, v.width, v.height = says(m, v.side.Size().X), says(m, v.front.Size().X), says(m, v.side.Size().Y)

	size, p, ok := paper(v, opt.Size)
	if !ok { // without the numbers, then
		v.ring = 0
		size, p, ok = paper(v, opt.Size)
	}
	page := draw.Page{Size: size}
	frame := r2.Box{Min: r2.Vec{X: margin, Y: margin}, Max: size.Sub(r2.Vec{X: margin, Y: margin})}
	if !ok {
		page.Items = append(titles(m, frame, v.third, wordNoScale), draw.Text{
			At: middle(frame), Says: "this paper is too small for the toy", Height: 3, Across: draw.Middle,
		})
		return page
	}
	origin := body(size).Min
	for _, c := range []*r2.Vec{&p.side, &p.front, &p.top, &p.middle} {
		*c = c.Add(origin)
	}

	toy := draw.Group{Layer: LayerToy}
	names := draw.Group{Layer: LayerTitles}
	for _, w := range []struct {
		s    sight
		box  r2.Box
		at   r2.Vec
		name string
	}{{fromRight, v.side, p.side, "right side"}, {fromFront, v.front, p.front, "front"}, {fromAbove, v.top, p.top, "top"}} {
		toy.Items = append(toy.Items, w.s.ink(o, p.scale, w.box.Min, w.at)...)
		size := w.box.Size().Scale(p.scale)
		name := draw.Text{At: r2.Vec{X: w.at.X, Y: w.at.Y + size.Y + 3}, Says: w.name, Height: draw.LabelHeight, Tone: draw.Pencil}
		if name.Width() > size.X && !v.third { // not into the height beside it
			name.At.X, name.Across = w.at.X+size.X, draw.Right
		}
		names.Items = append(names.Items, name)
	}
	toy.Items = append(toy.Items, isometric.ink(o, p.iso*axial, middle(v.iso), p.middle)...)
	isoName := []string{"isometric"}
	if p.isoNote {
		isoName[0] += ", not to scale"
	}
	if v.ring > 0 {
		at := place{isometric, p.iso * axial, middle(v.iso), p.middle}
		numbers, unseen := callouts(m, numbered(m), o, at, looked(o, at), nil)
		toy.Items = append(toy.Items, numbers)
		if len(unseen) > 0 {
			isoName = append(isoName, draw.Shorten(fmt.Sprintf(wordNotSeen, commas(unseen)), ringText, false, p.wide))
		}
	}
	top := p.middle.Y + v.iso.Size().Y*axial*p.iso/2 + v.ring + 3
	for i, says := range isoName {
		t := draw.Text{At: r2.Vec{X: p.middle.X, Y: top + 4}, Says: says, Height: draw.LabelHeight, Tone: draw.Pencil, Across: draw.Middle}
		if i > 0 {
			t.At.Y, t.Height = top, ringText
		}
		names.Items = append(names.Items, t)
	}
	page.Items = append([]draw.Item{}, floor(m, v, p), toy, axles(m, v, p), dimensions(v, p), names)
	page.Items = append(page.Items, titles(m, frame, v.third, ratio(p.scale))...)
	return page
}

// commas lists numbers.
func commas(n []int) string {
	return strings.Trim(strings.ReplaceAll(fmt.Sprint(n), " ", ", "), "[]")
}

// body is where the views may go on paper of the given size.
func body(size r2.Vec) r2.Box {
	in := margin + inset
	return r2.Box{Min: r2.Vec{X: in, Y: margin + blockHeight + inset}, Max: size.Sub(r2.Vec{X: in, Y: in})}
}

// paper chooses the size, lying or upright, that shows the toy at the larger
// scale, then with the larger isometric.
func paper(v views, size r2.Vec) (r2.Vec, plan, bool) {
	sizes := papers(size, v.third)
	var best plan
	at, ok := sizes[0], false
	if v.side.Empty() {
		return at, best, false
	}
	for _, s := range sizes {
		if p, fits := v.spread(body(s).Size()); fits && (p.scale > best.scale || p.scale == best.scale && p.iso > best.iso) {
			best, at, ok = p, s, true
		}
	}
	return at, best, ok
}

// dimensions draws length and height at the side view, and width at the front.
func dimensions(v views, p plan) draw.Group {
	side, front := v.side.Size().Scale(p.scale), v.front.Size().Scale(p.scale)
	at := func(o r2.Vec, x, y float64) r2.Vec { return o.Add(r2.Vec{X: x, Y: y}) }
	g := draw.Group{Layer: LayerDimensions, Items: []draw.Item{
		draw.Dimension(at(p.side, 0, 0), at(p.side, side.X, 0), -offset, v.length),
		draw.Dimension(at(p.front, 0, 0), at(p.front, front.X, 0), -offset, v.width),
	}}
	height := draw.Dimension(at(p.side, 0, 0), at(p.side, 0, side.Y), offset, v.height)
	if !v.third { // the front view is to the left
		height = draw.Dimension(at(p.side, side.X, 0), at(p.side, side.X, side.Y), -offset, v.height)
	}
	g.Items = append(g.Items, height)
	return g
}

// axles draws centre lines through the wheels in the side view.
func axles(m *assembly.Model, v views, p plan) draw.Group {
	g := draw.Group{Layer: LayerDimensions}
	var done []r2.Vec
	for _, a := range m.Axles {
		if math.Abs(a.Dir.Dot(fromRight.toward)) < 1-tol.Clip {
			continue
		}
		radius := 0.0
		for _, w := range append(append([]int(nil), a.Wheels[0]...), a.Wheels[1]...) {
			_, _, r := m.Pieces[w].Axis()
			radius = max(radius, r)
		}
		c := fromRight.flat(a.Centre).Sub(v.side.Min).Scale(p.scale).Add(p.side)
		if !slices.ContainsFunc(done, func(d r2.Vec) bool { return d.Sub(c).Len() < 1 }) {
			done = append(done, c)
			g.Items = append(g.Items, draw.CentreMark(c, radius*p.scale))
		}
	}
	return g
}

// floor draws the floor that the toy stands on in the side view, a little longer
// than the toy, with short strokes below.
func floor(m *assembly.Model, v views, p plan) draw.Group {
	a, b := rest(m, v.side)
	d := b.Sub(a).Unit()
	past := 5 / p.scale
	a, b = a.Sub(d.Scale(past)), b.Add(d.Scale(past))
	on := func(q r2.Vec) r2.Vec { return q.Sub(v.side.Min).Scale(p.scale).Add(p.side) }
	a, b = on(a), on(b)
	var ticks []draw.Run
	const step, stroke = 3.0, 2.0
	back := r2.Vec{X: -1, Y: -1}.Unit().Scale(stroke)
	for k := step; k <= b.Sub(a).Len(); k += step {
		q := a.Add(d.Scale(k))
		ticks = append(ticks, draw.Polyline(q, q.Add(back)))
	}
	return draw.Group{Layer: LayerFloor, Items: []draw.Item{
		draw.Path{Runs: ticks, Line: draw.HatchLine},
		draw.Path{Runs: []draw.Run{draw.Polyline(a, b)}, Line: draw.Construction},
	}}
}

// rest returns the line of the side view that the toy stands on: the lower side
// of the shape's hull under the centre of mass, or level below the lowest point
// where it has only one to stand on.
func rest(m *assembly.Model, box r2.Box) (a, b r2.Vec) {
	var pts []r2.Vec
	var mass, first float64
	for _, p := range m.Pieces {
		mo := p.Moments()
		mass += mo.Volume
		first += float64(mo.Volume * fromRight.flat(mo.Center).X)
		for i := range p.Body.Pieces {
			for _, v := range p.Body.Pieces[i].V {
				pts = append(pts, fromRight.flat(v))
			}
		}
	}
	at := first / mass
	level := func() (r2.Vec, r2.Vec) {
		return box.Min, r2.Vec{X: box.Max.X, Y: box.Min.Y}
	}
	hull := lower(pts)
	for i := 0; i+1 < len(hull); i++ {
		p, q := hull[i], hull[i+1]
		if p.X <= at && at <= q.X {
			d := q.Sub(p).Unit()
			if q.Sub(p).Len() < leastStand || math.Abs(d.Y) > mostTilt {
				return level()
			}
			return p.Add(d.Scale((box.Min.X - p.X) / d.X)), p.Add(d.Scale((box.Max.X - p.X) / d.X))
		}
	}
	return level()
}

// A stand shorter than this is a facet of a wheel, mm; a floor steeper than this
// (a sine) is no picture of a toy on a floor.
const (
	leastStand = 3.0
	mostTilt   = 0.25
)

// lower returns the lower side of the convex hull, from left to right.
func lower(pts []r2.Vec) []r2.Vec {
	sort.Slice(pts, func(i, j int) bool {
		if pts[i].X != pts[j].X {
			return pts[i].X < pts[j].X
		}
		return pts[i].Y < pts[j].Y
	})
	var h []r2.Vec
	for _, p := range pts {
		for len(h) > 1 && h[len(h)-1].Sub(h[len(h)-2]).Cross(p.Sub(h[len(h)-2])) <= tol.Clip {
			h = h[:len(h)-1]
		}
		h = append(h, p)
	}
	return h
}

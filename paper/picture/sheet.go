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
func Page(m *assembly.Model, opt Options) draw.Page { return lookAt(m).page(opt) }

// views of the sheet, in the order of prospect.seen.
const (
	sideView = iota
	frontView
	topView
	isoView
)

// prospect is what the sheet shows of a toy, whatever the paper.
type prospect struct {
	m    *assembly.Model
	o    *object
	v    views
	seen [4][]stroke // of each view, once it was drawn
}

// see returns what one of the views shows.
func (l *prospect) see(view int, s sight) []stroke {
	if l.seen[view] == nil {
		l.seen[view] = s.see(l.o)
	}
	return l.seen[view]
}

// lookAt looks at a toy from all sides.
func lookAt(m *assembly.Model) *prospect {
	o := gather(m)
	v := views{third: m.Toy.Units == measure.Inch, ring: ringRoom}
	v.side, v.front, v.top, v.iso = fromRight.bounds(o), fromFront.bounds(o), fromAbove.bounds(o), isometric.bounds(o)

	v.length, v.width, v.height = says(m, v.side.Size().X), says(m, v.front.Size().X), says(m, v.side.Size().Y)

	v.wheels = wheelMarks(m)
	v.mark(m)
	mid := middle(v.iso)
	for _, b := range o.bodies {
		for _, q := range b.Vertices() {
			v.hull = append(v.hull, isometric.flat(q).Sub(mid))
		}
	}
	v.hull = hullOf(v.hull)
	return &prospect{m: m, o: o, v: v}
}

// page lays the views out on paper.
func (l *prospect) page(opt Options) draw.Page {
	m, o, v := l.m, l.o, l.v
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

	toy := draw.Group{Layer: layerToy}
	names := draw.Group{Layer: layerTitles}
	for i, w := range []struct {
		s    sight
		box  r2.Box
		at   r2.Vec
		name string
	}{{fromRight, v.side, p.side, "right side"}, {fromFront, v.front, p.front, "front"}, {fromAbove, v.top, p.top, "top"}} {
		toy.Items = append(toy.Items, inked(l.see(sideView+i, w.s), p.scale, w.box.Min, w.at)...)
		size := w.box.Size().Scale(p.scale)
		name := draw.Text{At: r2.Vec{X: w.at.X, Y: w.at.Y + size.Y + 3}, Says: w.name, Height: draw.LabelHeight, Tone: draw.Pencil}
		if name.Width() > size.X && !v.third { // not into the height beside it
			name.At.X, name.Across = w.at.X+size.X, draw.Right
		}
		names.Items = append(names.Items, name)
	}
	toy.Items = append(toy.Items, inked(l.see(isoView, isometric), p.iso*axial, middle(v.iso), p.middle)...)
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
	page.Items = append([]draw.Item{}, floor(m, v, p), toy, axles(v, p), dimensions(m, v, p), names)
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

// dimensions draws length and height at the side view, and width at the front; of the
// axles their distances, the height of the one at the dimensions' end, and the diameter of
// the largest wheel beside the front view.
func dimensions(m *assembly.Model, v views, p plan) draw.Group {
	side, front := v.side.Size().Scale(p.scale), v.front.Size().Scale(p.scale)
	at := func(o r2.Vec, x, y float64) r2.Vec { return o.Add(r2.Vec{X: x, Y: y}) }
	down, out := offset+v.below()-dimRoom, offset+v.beside()-dimRoom
	g := draw.Group{Layer: layerDimensions, Items: []draw.Item{
		draw.Dimension(at(p.side, 0, 0), at(p.side, side.X, 0), -down, v.length),
		draw.Dimension(at(p.front, 0, 0), at(p.front, front.X, 0), -down, v.width),
	}}
	height := draw.Dimension(at(p.side, 0, 0), at(p.side, 0, side.Y), out, v.height)
	if !v.third { // the front view is to the left
		height = draw.Dimension(at(p.side, side.X, 0), at(p.side, side.X, side.Y), -out, v.height)
	}
	g.Items = append(g.Items, height)
	if len(v.wheels) == 0 {
		return g
	}
	on := func(q r2.Vec) r2.Vec { return q.Sub(v.side.Min).Scale(p.scale).Add(p.side) }
	for i := range v.wheels[1:] {
		a, b := v.wheels[i].at, v.wheels[i+1].at
		label := says(m, b.X-a.X)
		if draw.TextWidth(label, draw.LabelHeight, false)+2 > (b.X-a.X)*p.scale { // no clutter
			continue
		}
		g.Items = append(g.Items, draw.Dimension(r2.Vec{X: on(a).X, Y: p.side.Y}, r2.Vec{X: on(b).X, Y: p.side.Y}, -offset, label))
	}
	up := func(x float64, d marked, away float64) {
		a, b := float64(d.from*p.scale), float64(d.to*p.scale)
		g.Items = append(g.Items, draw.Dimension(r2.Vec{X: x, Y: p.side.Y + a}, r2.Vec{X: x, Y: p.side.Y + b}, away, d.says))
	}
	if v.third {
		up(p.side.X, v.axle, offset)
		up(p.front.X+front.X, v.dia, -offset)
	} else {
		up(p.side.X+side.X, v.axle, -offset)
		up(p.front.X, v.dia, offset)
	}
	return g
}

// mark finds the height of the axle at the dimensions' end and the diameter of the largest
// wheel.
func (v *views) mark(m *assembly.Model) {
	if len(v.wheels) == 0 {
		return
	}
	end, big := v.wheels[0], v.wheels[0]
	if !v.third {
		end = v.wheels[len(v.wheels)-1]
	}
	for _, w := range v.wheels {
		if w.radius > big.radius {
			big = w
		}
	}
	low := v.side.Min.Y
	v.axle = marked{0, end.at.Y - low, says(m, end.at.Y-low)}
	v.dia = marked{big.at.Y - big.radius - low, big.at.Y + big.radius - low, fmt.Sprintf(wordWheel, says(m, 2*big.radius))}
}

// wheelMarks finds the axles that run across, from back to front, those at one place once.
func wheelMarks(m *assembly.Model) (out []wheelMark) {
	for _, a := range m.Axles {
		if math.Abs(a.Dir.Dot(fromRight.toward)) < 1-tol.Clip {
			continue
		}
		w := wheelMark{at: fromRight.flat(a.Centre)}
		for _, i := range append(append([]int(nil), a.Wheels[0]...), a.Wheels[1]...) {
			_, _, r := m.Pieces[i].Axis()
			w.radius = max(w.radius, r)
		}
		if !slices.ContainsFunc(out, func(o wheelMark) bool { return o.at.Sub(w.at).Len() < 1 }) {
			out = append(out, w)
		}
	}
	slices.SortStableFunc(out, func(a, b wheelMark) int {
		switch {
		case a.at.X < b.at.X-tol.Page:
			return -1
		case a.at.X > b.at.X+tol.Page:
			return 1
		}
		return 0
	})
	return out
}

// axles draws centre lines through the wheels in the side view.
func axles(v views, p plan) draw.Group {
	g := draw.Group{Layer: layerDimensions}
	for _, w := range v.wheels {
		g.Items = append(g.Items, draw.CentreMark(w.at.Sub(v.side.Min).Scale(p.scale).Add(p.side), w.radius*p.scale))
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
	return draw.Group{Layer: layerFloor, Items: []draw.Item{
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

package draw

import (
	"math"
	"slices"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// Sizes of drafting marks. ISO 129-1 (from memory) draws filled arrow heads of
// 30 degrees or less, starts extension lines off the outline and runs them on
// a little past the dimension line, and writes a dimension above its line,
// readable from the bottom or the right of the page.
const (
	headLength  = 2.5
	headWidth   = 0.9
	extendGap   = 1.0
	extendPast  = 1.8
	LabelHeight = 2.2 // capitals of dimensions and small labels, mm
)

// Arrow returns a filled arrow head whose point is at tip, seen along dir.
func Arrow(tip, dir r2.Vec) Path {
	d := dir.Unit()
	back, side := tip.Sub(d.Scale(headLength)), d.Perp().Scale(headWidth/2)
	return Path{Runs: []Run{Polygon(tip, back.Add(side), back.Sub(side))}, Fill: Ink}
}

// readable turns a direction over if text along it would stand on its head.
func readable(dir r2.Vec) r2.Vec {
	if dir.X < -tol.Clip || (math.Abs(dir.X) <= tol.Clip && dir.Y < 0) {
		return dir.Neg()
	}
	return dir
}

// Dimension returns a dimension line for the distance from a to b, offset to the
// left of the way from a to b (to the right if negative), with extension lines,
// arrows and the label above it. Where label and arrows do not fit between, the
// arrows come from outside, and the label moves out beyond b.
func Dimension(a, b r2.Vec, offset float64, label string) Group {
	along := b.Sub(a).Unit()
	out := along.Perp()
	if offset < 0 {
		out = out.Neg()
	}
	reach := math.Abs(offset)
	p, q := a.Add(out.Scale(reach)), b.Add(out.Scale(reach))
	extend := func(from r2.Vec) Run {
		return Polyline(from.Add(out.Scale(math.Min(extendGap, reach))), from.Add(out.Scale(reach+extendPast)))
	}
	line := Path{Line: Thin, Runs: []Run{extend(a), extend(b)}}
	length, width := b.Sub(a).Len(), TextWidth(label, LabelHeight, false)
	up := readable(along)
	text := Text{Says: label, Height: LabelHeight, Turn: math.Atan2(up.Y, up.X), Across: Middle, Up: Base}
	lift := up.Perp().Scale(0.9)
	heads := []Item{}
	inside := length >= 2*headLength+1.5
	if inside {
		line.Runs = append(line.Runs, Polyline(p, q))
		heads = append(heads, Arrow(p, along.Neg()), Arrow(q, along))
	} else {
		line.Runs = append(line.Runs, Polyline(p.Sub(along.Scale(2*headLength)), q.Add(along.Scale(2*headLength))))
		heads = append(heads, Arrow(p, along), Arrow(q, along.Neg()))
	}
	switch {
	case inside && width+2 <= length || !inside && width <= length:
		text.At = p.Add(q).Scale(0.5).Add(lift)
	default:
		from := 1.5
		if !inside {
			from += 2 * headLength
		}
		text.At = q.Add(along.Scale(from + width/2)).Add(lift)
		line.Runs = append(line.Runs, Polyline(q, q.Add(along.Scale(from+width))))
	}
	return Group{Items: append(append([]Item{line}, heads...), text)}
}

// CentreMark returns the crossed centre lines of a hole of the given radius,
// which reach a little past it. They cross in a plus of continuous line, so that
// the point to start the bit at is always inked.
func CentreMark(c r2.Vec, radius float64) Path {
	past := math.Max(1.5, math.Min(radius*0.5, 3))
	arm := radius + past
	ray := func(v r2.Vec) Run { return Polyline(c, c.Add(v.Scale(arm))) }
	return Path{Line: Centre, Runs: []Run{
		ray(r2.Vec{X: 1}), ray(r2.Vec{X: -1}), ray(r2.Vec{Y: 1}), ray(r2.Vec{Y: -1}),
	}}
}

// Hatch returns parallel lines at the given angle (radians) and distance (mm)
// inside closed runs, by the even-odd rule. They end where the runs are crossed,
// so that formats without clips can show them too.
func Hatch(region []Run, angle, spacing float64) Path {
	box := boundsOf(region)
	if box.Empty() || !(spacing > 0) {
		return Path{}
	}
	sin, cos := sincos(angle)
	along, across := r2.Vec{X: cos, Y: sin}, r2.Vec{X: -sin, Y: cos}
	mid := box.Min.Add(box.Max).Scale(0.5)
	reach := box.Size().Len() / 2
	out := Path{Line: HatchLine}
	for k := -math.Floor(reach / spacing); float64(k*spacing) <= reach; k++ {
		base := mid.Add(across.Scale(k * spacing))
		var hits []float64 // where the line crosses a run, by distance from base
		for _, r := range region {
			pts := r.Points()
			for i, p := range pts {
				p, q := p.Sub(base), pts[(i+1)%len(pts)].Sub(base)
				hp, hq := p.Dot(across), q.Dot(across)
				if (hp <= 0) != (hq <= 0) { // half-open: a corner on the line counts once
					hits = append(hits, p.Dot(along)+float64((q.Dot(along)-p.Dot(along))*(hp/(hp-hq))))
				}
			}
		}
		slices.Sort(hits)
		for i := 0; i+1 < len(hits); i += 2 {
			if hits[i+1]-hits[i] > tol.Page {
				out.Runs = append(out.Runs, Polyline(base.Add(along.Scale(hits[i])), base.Add(along.Scale(hits[i+1]))))
			}
		}
	}
	return out
}

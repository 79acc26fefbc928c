package pattern

import (
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
	"dryfit/paper/draw"
	"dryfit/toy"
)

// Only what lies on the wood is a line to saw: an outline that reaches beyond the
// blank, as that of a wheel well does, is drawn where it runs over wood. And what
// is done from the far side is shown in light dashes, to work by.

// within returns the stretches of a run that lie inside wood, a rectangle or a
// round; the run itself if that is all of it.
func within(r, wood draw.Run) []draw.Run {
	all := true
	var out []draw.Run
	open := false // the last run may go on
	add := func(from r2.Vec, s draw.Seg) {
		if !open {
			out = append(out, draw.Run{From: from})
		}
		last := &out[len(out)-1]
		last.Segs = append(last.Segs, s)
		open = true
	}
	from := r.From
	for _, s := range closed(r) {
		ts := append([]float64{0, 1}, meets(from, s, wood)...)
		slices.Sort(ts)
		for i := 0; i+1 < len(ts); i++ {
			a, b := ts[i], ts[i+1]
			if along(from, s, b).Sub(along(from, s, a)).Len() <= tol.Page && b-a < 0.5 {
				continue
			}
			if !on(wood, along(from, s, (a+b)/2)) {
				all, open = false, false
				continue
			}
			add(along(from, s, a), stretch(from, s, a, b))
		}
		from = s.To
	}
	if all {
		return []draw.Run{r}
	}
	return out
}

// onWood is what is drawn of an outline that is kept: the run itself, or, where it leaves the
// wood, its stretches on the wood and those of the wood's edge that are kept.
func onWood(r, wood draw.Run) []draw.Run {
	b, w := r.Bounds(), grown(wood.Bounds(), tol.Touch)
	if b.Min.X >= w.Min.X && b.Min.Y >= w.Min.Y && b.Max.X <= w.Max.X && b.Max.Y <= w.Max.Y {
		return []draw.Run{r}
	}
	out := within(r, wood)
	if wood.Segs[0].Sweep != 0 {
		return out // of a round: nothing is sawn along its edge
	}
	line := fine(r, math.Pi/180)
	from := wood.From
	segs := wood.Segs
	if last := segs[len(segs)-1].To; last.Sub(wood.From).Len() > tol.Page {
		segs = append(slices.Clone(segs), draw.Seg{To: wood.From})
	}
	middle := w.Min.Add(w.Max).Scale(0.5)
	for _, s := range segs {
		side := s.To.Sub(from)
		ts := []float64{0, 1}
		add := func(p r2.Vec) {
			if t := p.Sub(from).Dot(side) / side.Dot(side); t > 0 && t < 1 && p.Sub(from.Add(side.Scale(t))).Len() <= tol.Touch {
				ts = append(ts, t)
			}
		}
		at := r.From
		for _, x := range append(slices.Clone(r.Segs), draw.Seg{To: r.From}) {
			if x.To.Sub(at).Len() > tol.Page || x.Sweep != 0 {
				add(at)
				for _, t := range meets(at, x, wood) {
					add(along(at, x, t))
				}
			}
			at = x.To
		}
		slices.Sort(ts)
		inward := side.Perp().Unit()
		if middle.Sub(from).Dot(inward) < 0 {
			inward = inward.Neg()
		}
		for i := 0; i+1 < len(ts); i++ {
			a, b := from.Add(side.Scale(ts[i])), from.Add(side.Scale(ts[i+1]))
			if b.Sub(a).Len() > tol.Touch && inside(line, a.Add(b).Scale(0.5).Add(inward.Scale(2*tol.Touch))) {
				out = append(out, draw.Run{From: a, Segs: []draw.Seg{{To: b}}})
			}
		}
		from = s.To
	}
	return out
}

// along returns the point of a segment at t from 0 to 1.
func along(from r2.Vec, s draw.Seg, t float64) r2.Vec {
	switch {
	case t == 0:
		return from
	case t == 1:
		return s.To
	case s.Sweep == 0:
		return from.Add(s.To.Sub(from).Scale(t))
	}
	sin, cos := trig.Sincos(s.Start + float64(s.Sweep*t))
	return s.Centre.Add(r2.Vec{X: s.Radius * cos, Y: s.Radius * sin})
}

// stretch is a segment from a to b, shares of it.
func stretch(from r2.Vec, s draw.Seg, a, b float64) draw.Seg {
	part := draw.Seg{To: along(from, s, b)}
	if s.Sweep != 0 {
		part.Centre, part.Radius, part.Start, part.Sweep = s.Centre, s.Radius, s.Start+float64(s.Sweep*a), s.Sweep*(b-a)
	}
	return part
}

// closed are the segments of a run, back to its start where it is closed.
func closed(r draw.Run) []draw.Seg {
	if n := len(r.Segs); r.Closed && n > 0 && r.Segs[n-1].To.Sub(r.From).Len() > tol.Page {
		return append(slices.Clone(r.Segs), draw.Seg{To: r.From})
	}
	return r.Segs
}

// on tells whether a point is inside wood, and not on its edge.
func on(wood draw.Run, p r2.Vec) bool {
	if s := wood.Segs[0]; s.Sweep != 0 {
		return p.Sub(s.Centre).Len() < s.Radius-tol.Page
	}
	b := grown(wood.Bounds(), -tol.Page)
	return p.X > b.Min.X && p.X < b.Max.X && p.Y > b.Min.Y && p.Y < b.Max.Y
}

// meets returns where a segment crosses the edge of wood, as shares of it.
func meets(from r2.Vec, s draw.Seg, wood draw.Run) (ts []float64) {
	add := func(t float64) {
		if t > 0 && t < 1 {
			ts = append(ts, t)
		}
	}
	turn := func(angle float64) { // on an arc
		t := math.Mod(angle-s.Start, 2*math.Pi)
		if s.Sweep < 0 && t > 0 {
			t -= 2 * math.Pi
		} else if s.Sweep > 0 && t < 0 {
			t += 2 * math.Pi
		}
		add(t / s.Sweep)
	}
	if w := wood.Segs[0]; w.Sweep != 0 {
		if s.Sweep == 0 {
			d, o := s.To.Sub(from), from.Sub(w.Centre)
			b, c := d.Dot(o)/d.Dot(d), (o.Dot(o)-float64(w.Radius*w.Radius))/d.Dot(d)
			if q := float64(b*b) - c; q > 0 {
				add(-b - math.Sqrt(q))
				add(-b + math.Sqrt(q))
			}
			return ts
		}
		d := w.Centre.Sub(s.Centre)
		l := d.Len()
		if l == 0 {
			return nil
		}
		cos := (float64(s.Radius*s.Radius) + float64(l*l) - float64(w.Radius*w.Radius)) / (2 * s.Radius * l)
		if cos, ok := reached(cos); ok {
			mid := trig.Atan2(d.Y, d.X)
			turn(mid + trig.Acos(cos))
			turn(mid - trig.Acos(cos))
		}
		return ts
	}
	box := wood.Bounds()
	for _, k := range []float64{box.Min.X, box.Max.X} {
		if s.Sweep == 0 {
			add((k - from.X) / (s.To.X - from.X))
		} else if cos, ok := reached((k - s.Centre.X) / s.Radius); ok {
			turn(trig.Acos(cos))
			turn(-trig.Acos(cos))
		}
	}
	for _, k := range []float64{box.Min.Y, box.Max.Y} {
		if s.Sweep == 0 {
			add((k - from.Y) / (s.To.Y - from.Y))
		} else if sin, ok := reached((k - s.Centre.Y) / s.Radius); ok {
			turn(trig.Asin(sin))
			turn(math.Pi - trig.Asin(sin))
		}
	}
	return ts
}

// reached takes the sine or cosine at which an arc would meet a line; it is true
// if the arc gets there, or touches.
func reached(x float64) (float64, bool) {
	return min(1, max(-1, x)), math.Abs(x) <= 1+tol.Clip
}

// A dash of what is on the far side, and the gap after it, mm.
const (
	dashOn  = 2.0
	dashOff = 1.2
)

// dashed returns a run in dashes.
func dashed(r draw.Run) []draw.Run {
	var out []draw.Run
	from := r.From
	for _, s := range closed(r) {
		long := s.To.Sub(from).Len()
		if s.Sweep != 0 {
			long = math.Abs(s.Sweep) * s.Radius
		}
		n := math.Max(1, math.Round(long/(dashOn+dashOff)))
		for k := 0.0; k < n; k++ {
			a, b := k/n, (k+dashOn/(dashOn+dashOff))/n
			out = append(out, draw.Run{From: along(from, s, a), Segs: []draw.Seg{stretch(from, s, a, b)}})
		}
		from = s.To
	}
	return out
}

// farSide returns what is done from the side across, in the coordinates of a
// side: outlines, and holes with their centres.
func farSide(side toy.Side, size r3.Vec, work []toy.Work) (runs []draw.Run, centres []hole) {
	far := side.Opposite()
	f, g := assembly.SideFrame(side, size), assembly.SideFrame(far, size)
	move := draw.Transform{Mirror: true, Turn: trig.Atan2(-g.U.Dot(f.V), -g.U.Dot(f.U))}
	d := g.O.Sub(f.O)
	move.Shift = r2.Vec{X: d.Dot(f.U), Y: d.Dot(f.V)}
	for _, w := range work {
		switch w := w.(type) {
		case toy.Saw:
			if w.Side == far {
				runs = append(runs, move.Run(runOf(w.Outline)))
			}
		case toy.Cut:
			if w.Side == far {
				runs = append(runs, move.Run(runOf(w.Outline)))
			}
		case toy.Drill:
			if w.Side != far || w.Lean != 0 {
				continue
			}
			for _, h := range w.Holes {
				at := move.Apply(r2.Vec{X: h.At.X.MM(), Y: h.At.Y.MM()})
				runs = append(runs, draw.Circle(at, w.Dia.MM()/2))
				centres = append(centres, hole{at: at, r: w.Dia.MM() / 2})
			}
		}
	}
	return runs, centres
}

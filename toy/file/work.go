package file

import (
	"fmt"

	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
)

// work resolves the operations on a part, or on a glue-up whose frame is that of
// its first piece p. inside holds the pieces of the glue-up, nil for a part.
func (r *resolver) work(list []work, p *toy.Part, inside map[string]pieceKind) []toy.Work {
	if p == nil {
		return nil
	}
	if len(list) > maxWork {
		r.problem("too-many", list[maxWork].At, "more work on one part than dryfit reads").Expected = fmt.Sprintf("at most %d operations", maxWork)
		list = list[:maxWork]
	}
	own := blankNames(p)
	seen := map[string]bool{}
	for _, s := range []toy.Side{toy.Top, toy.Bottom, toy.Right, toy.Left, toy.Front, toy.Back} {
		seen[s.String()] = true
	}
	seen["middle"] = true
	for id := range inside {
		seen[id] = true
	}
	name := func(n string, at source.Range) {
		if seen[n] {
			r.problem("name-twice", at, n+" is already a side, a hole, a flat or a point here; it needs a name of its own")
		}
		seen[n] = true
	}
	var out []toy.Work
	for i := range list {
		w := &list[i]
		switch {
		case w.Drill != nil:
			out = append(out, r.drill(w.Drill, p, inside, own, name))
		case w.Saw != nil:
			side := sideOf(w.Saw.Side.Text)
			out = append(out, toy.Saw{Side: side, Outline: r.outline(&w.Saw.Outline, p, side, own, name), At: w.At})
		case w.CutOut != nil:
			out = append(out, r.cut("cut-out", w.CutOut, p, inside, own, name, w.At))
		case w.CutIn != nil:
			out = append(out, r.cut("cut-in", w.CutIn, p, inside, own, name, w.At))
		case w.Notch != nil:
			n := w.Notch
			side := sideOf(n.Side.Text)
			a := r.point(n.At, p, side, own, n.Place.At)
			size := r.point(n.Size, p, side, own, n.Place.At)
			depth := r.positive(n.Depth, own, "a depth")
			r.shallow(depth, p, side, inside, n.Depth)
			out = append(out, toy.Cut{Word: "notch", Side: side, Depth: depth, At: w.At,
				Outline: rectangle(a, toy.Point{X: a.X + size.X, Y: a.Y + size.Y}, n.Place.At)})
			if size.X <= 0 || size.Y <= 0 {
				r.problem("not-positive", n.Place.At, "a notch needs a width and a height")
			}
		case w.Groove != nil:
			out = append(out, r.groove(w.Groove, p, inside, own, w.At))
		case w.Round != nil:
			out = append(out, r.arris(w.Round, true, p, own, w.At))
		case w.Chamfer != nil:
			out = append(out, r.arris(w.Chamfer, false, p, own, w.At))
		case w.Flush != nil:
			f := toy.Flush{Side: sideOf(w.Flush.Side.Text), With: w.Flush.With.Text, At: w.At}
			if inside == nil {
				r.problem("unwanted", w.At, "sanding flush is work on a glue-up: a part alone has nothing to be flush with")
			} else if _, ok := inside[f.With]; !ok {
				r.problem("unknown-name", w.Flush.With.At, "the glue-up has no piece "+f.With).Nearest = source.Nearest(f.With, keys(inside))
			}
			out = append(out, f)
		}
	}
	return out
}

// shallow refuses a depth that goes right through: that is said by leaving it out.
// How thick a glue-up is, nobody knows yet.
func (r *resolver) shallow(depth measure.Length, p *toy.Part, side toy.Side, inside map[string]pieceKind, from shape.Formula) {
	if thick := sideDepth(p, side); inside == nil && thick > 0 && depth >= thick {
		r.problem("too-large", from.At, "this goes right through the blank, which is "+thick.Format(r.unit)+" deep here").Expected = "less, or no depth at all for right through"
	}
}

func (r *resolver) drill(d *drill, p *toy.Part, inside map[string]pieceKind, own map[string]formula.Value, name func(string, source.Range)) toy.Drill {
	side := sideOf(d.Side.Text)
	out := toy.Drill{Side: side, Dia: r.positive(d.Dia, own, "a hole"), Depth: r.positive(d.Depth, own, "a depth"), At: d.Place.At}
	for _, at := range d.At {
		out.Holes = append(out.Holes, toy.Hole{At: r.point(at, p, side, own, d.Place.At), In: d.Place.At})
	}
	for _, n := range d.Named {
		name(n.Key.Text, n.Key.At)
		out.Holes = append(out.Holes, toy.Hole{Name: n.Key.Text, At: r.point(n.Value, p, side, own, n.Key.At), In: n.Key.At})
	}
	if d.Row != nil {
		from := r.point(d.Row.From, p, side, own, d.Row.Place.At)
		step := r.point(d.Row.Step, p, side, own, d.Row.Place.At)
		for i := 0; i < d.Row.Count.N; i++ {
			h := toy.Hole{At: toy.Point{X: from.X + measure.Length(float64(i)*float64(step.X)), Y: from.Y + measure.Length(float64(i)*float64(step.Y))}, In: d.Row.Place.At}
			if d.Row.Name.Text != "" {
				h.Name = fmt.Sprintf("%s-%d", d.Row.Name.Text, i+1)
				name(h.Name, d.Row.Name.At)
			}
			out.Holes = append(out.Holes, h)
		}
		if d.Row.Count.N > 1 && step.X == 0 && step.Y == 0 {
			r.problem("not-positive", d.Row.Place.At, "the holes of the row all fall on one place")
		}
	}
	if len(out.Holes) == 0 {
		r.problem("missing", d.Place.At, "where is the hole?").Expected = "at, named or row"
	}
	if len(out.Holes) > maxHoles {
		r.problem("too-many", d.Place.At, "more holes than dryfit reads").Expected = fmt.Sprintf("at most %d", maxHoles)
		out.Holes = out.Holes[:maxHoles]
	}
	r.shallow(out.Depth, p, side, inside, d.Depth)
	if d.Lean != nil {
		out.Lean, out.Toward = r.angle(d.Lean.By, 75), seenOf(d.Lean.Toward.Text)
	}
	if d.Bigger != nil {
		out.CounterDia = r.positive(d.Bigger.Dia, own, "a counterbore")
		out.CounterDepth = r.positive(d.Bigger.Depth, own, "a depth")
		if out.CounterDia <= out.Dia {
			r.problem("too-small", d.Bigger.Dia.At, "a counterbore has to be wider than its hole")
		}
		deep := out.Depth
		if deep == 0 {
			deep = sideDepth(p, side)
		}
		if inside == nil && out.CounterDepth >= deep {
			r.problem("too-large", d.Bigger.Depth.At, "the counterbore goes as deep as the hole")
		}
	}
	return out
}

func (r *resolver) cut(word string, c *cut, p *toy.Part, inside map[string]pieceKind, own map[string]formula.Value, name func(string, source.Range), at source.Range) toy.Cut {
	side := sideOf(c.Side.Text)
	depth := r.positive(c.Depth, own, "a depth")
	r.shallow(depth, p, side, inside, c.Depth)
	return toy.Cut{Word: word, Side: side, Outline: r.outline(&c.Outline, p, side, own, name), Depth: depth, At: at}
}

func (r *resolver) groove(g *groove, p *toy.Part, inside map[string]pieceKind, own map[string]formula.Value, at source.Range) toy.Cut {
	side := sideOf(g.Side.Text)
	a, b := r.point(g.From, p, side, own, g.Place.At), r.point(g.To, p, side, own, g.Place.At)
	half := r.positive(g.Wide, own, "a width") / 2
	out := toy.Cut{Word: "groove", Side: side, Depth: r.positive(g.Depth, own, "a depth"), At: at}
	r.shallow(out.Depth, p, side, inside, g.Depth)
	lo := toy.Point{X: min(a.X, b.X), Y: min(a.Y, b.Y)}
	hi := toy.Point{X: max(a.X, b.X), Y: max(a.Y, b.Y)}
	switch {
	case a.Y == b.Y && a.X != b.X:
		lo.Y, hi.Y = lo.Y-half, hi.Y+half
	case a.X == b.X && a.Y != b.Y:
		lo.X, hi.X = lo.X-half, hi.X+half
	default:
		r.problem("groove", g.Place.At, "a groove runs along the blank or square across it").Expected = "from and to that share a number"
	}
	out.Outline = rectangle(lo, hi, g.Place.At)
	return out
}

func rectangle(lo, hi toy.Point, at source.Range) toy.Outline {
	c := func(x, y measure.Length) toy.Corner { return toy.Corner{Point: toy.Point{X: x, Y: y}, In: at} }
	return toy.Outline{Corners: []toy.Corner{c(lo.X, lo.Y), c(hi.X, lo.Y), c(hi.X, hi.Y), c(lo.X, hi.Y)}, At: at}
}

func (r *resolver) arris(a *arris, round bool, p *toy.Part, own map[string]formula.Value, at source.Range) toy.Arris {
	out := toy.Arris{Round: round, By: r.positive(a.By, own, "a round or chamfer"), At: at}
	// The rounding of an arris is no shape of its own for the proof: what is larger
	// is an outline.
	if most := min(p.Thick, p.Width) / 2; most > 0 && out.By > most {
		r.problem("too-large", a.By.At, "so large a round or chamfer is sawn, not rubbed over").Expected = "at most " + most.Format(r.unit) + " here, or an outline to saw"
	}
	for _, pair := range a.Along {
		if len(pair) != 2 {
			r.problem("arris", at, "an arris is where two sides meet").Expected = "pairs of sides, as [top, front]"
			continue
		}
		s := [2]toy.Side{sideOf(pair[0].Text), sideOf(pair[1].Text)}
		if s[0] == s[1] || s[0] == s[1].Opposite() {
			r.problem("arris", pair[0].At, "these two sides do not meet")
		}
		out.Sides = append(out.Sides, s)
	}
	return out
}

// point reads a place on a side; middle stands for half the side's extent.
func (r *resolver) point(xy []shape.Formula, p *toy.Part, side toy.Side, own map[string]formula.Value, at source.Range) toy.Point {
	if len(xy) != 2 {
		r.problem("point", at, "a place on a side is two numbers").Expected = "[to the right, up] from the lower left corner"
		return toy.Point{}
	}
	w, h := sideSize(p, side)
	coord := func(f shape.Formula, size measure.Length) measure.Length {
		withMiddle := map[string]formula.Value{"middle": {Kind: formula.Length, N: float64(size) / 2}}
		for k, v := range own {
			withMiddle[k] = v
		}
		return r.length(f, withMiddle)
	}
	return toy.Point{X: coord(xy[0], w), Y: coord(xy[1], h)}
}

func keys(m map[string]pieceKind) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sortStrings(out)
	return out
}

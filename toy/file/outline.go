package file

import (
	"fmt"
	"strings"

	"dryfit/measure/formula"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
	"dryfit/toy/file/tree"
)

// outline is a closed line as it is written: either a list of corners, or a map
// that says more.
type outline struct {
	shape.Place
	outlineMap
}

type outlineMap struct {
	shape.Place
	Points []corner                 `key:"points" says:"Corners in order; the last joins the first."`
	Mirror shape.Word               `key:"mirror" oneof:"along|across" says:"The corners are one half; the other is its mirror image: along a line to the right, or across it."`
	Circle []shape.Formula          `key:"circle" says:"Centre of a round outline."`
	Dia    shape.Formula            `key:"dia" says:"Diameter of a round outline."`
	Rect   []shape.Formula          `key:"rect" says:"Lower left corner of a rectangle."`
	Size   []shape.Formula          `key:"size" says:"Width and height of the rectangle."`
	Radius shape.Formula            `key:"r" says:"Radius of the rectangle's corners."`
	Path   shape.Text               `key:"path" says:"SVG path data, in the units of the file, y up."`
	Flats  shape.Named[flatEnds]    `key:"flats" says:"Names for straight sides: the numbers of their two corners, from 1."`
	Named  shape.Named[shape.Count] `key:"named" says:"Names for corners: their number, from 1."`
}

type flatEnds = []shape.Count

// corner is [x, y], [x, y, r RADIUS], or {to: [x, y], through: [x, y]}.
type corner struct {
	shape.Place
	at      []shape.Formula
	radius  shape.Formula
	through []shape.Formula
}

// cornerMap is the long form of a corner.
type cornerMap struct {
	shape.Place
	To      []shape.Formula `key:"to" need:"yes" says:"Where the arc ends."`
	Through []shape.Formula `key:"through" need:"yes" says:"A place on the arc between."`
}

// FromNode reads either form.
func (o *outline) FromNode(n *tree.Node, r *shape.Reader) {
	o.At = n.Range
	if n.Kind == tree.List {
		r.Decode(n, &o.Points)
	} else {
		r.Decode(n, &o.outlineMap)
	}
}

// Written says the forms for the reference.
func (o *outline) Written() string { return "a list of corners, or a map that says more" }

// Written says the forms for the reference.
func (c *corner) Written() string {
	return "`[x, y]`, or rounded `[x, y, r 1/4]`, or at the end of an arc `{to: [x, y], through: [x, y]}`"
}

// Schema describes both forms.
func (o *outline) Schema(g *shape.Generator) map[string]any {
	return map[string]any{"anyOf": []any{g.Of([]corner{}), g.Of(outlineMap{})}}
}

// FromNode reads a corner.
func (c *corner) FromNode(n *tree.Node, r *shape.Reader) {
	c.At = n.Range
	if n.Kind == tree.Map {
		var m cornerMap
		r.Decode(n, &m)
		c.at, c.through = m.To, m.Through
		return
	}
	if n.Kind != tree.List || len(n.Items) < 2 || len(n.Items) > 3 {
		r.Problem("point", n.Range, "a corner is two numbers, and perhaps a radius").Expected = "[x, y] or [x, y, r 1/4]"
		return
	}
	if len(n.Items) == 3 {
		var text shape.Text
		r.Decode(n.Items[2], &text)
		rest, ok := strings.CutPrefix(strings.TrimSpace(text.Text), "r ")
		if !ok {
			r.Problem("point", n.Items[2].Range, "the third thing of a corner is its radius").Expected = "as r 1/4"
			return
		}
		start := n.Items[2].Range.Start + strings.Index(text.Text, "r ") + 2
		c.radius = shape.Formula{Text: rest, At: source.Range{Start: start, End: n.Items[2].Range.End}}
		r.Formula(n.Items[2], strings.Index(text.Text, "r ")+2)
	}
	c.at = make([]shape.Formula, 2)
	r.Decode(n.Items[0], &c.at[0])
	r.Decode(n.Items[1], &c.at[1])
}

// Schema describes a corner.
func (c *corner) Schema(g *shape.Generator) map[string]any {
	value := map[string]any{"type": []any{"string", "number"}}
	return map[string]any{"anyOf": []any{
		map[string]any{"type": "array", "prefixItems": []any{value, value, map[string]any{"type": "string", "pattern": "^r "}}, "minItems": 2, "maxItems": 3, "items": false},
		g.Of(cornerMap{}),
	}}
}

// outline resolves a written outline on a side of the blank p.
func (r *resolver) outline(o *outline, p *toy.Part, side toy.Side, own map[string]formula.Value, name func(string, source.Range)) toy.Outline {
	out := toy.Outline{At: o.At, Mirror: o.Mirror.Text}
	forms := 0
	for _, has := range []bool{len(o.Points) > 0, len(o.Circle) > 0, len(o.Rect) > 0, o.Path.Text != ""} {
		if has {
			forms++
		}
	}
	if forms != 1 {
		r.problem("outline", o.At, "an outline is said in one way").Expected = "one of points, circle, rect and path"
		return out
	}
	if len(o.Points) > maxCorners {
		r.problem("too-many", o.At, "more corners than dryfit reads").Expected = fmt.Sprintf("at most %d", maxCorners)
		return out
	}
	for _, k := range []struct {
		has  bool
		at   source.Range
		says string
	}{
		{o.Dia.Text != "" && len(o.Circle) == 0, o.Dia.At, "dia goes with circle"},
		{len(o.Size) > 0 && len(o.Rect) == 0, o.At, "size goes with rect"},
		{o.Radius.Text != "" && len(o.Rect) == 0, o.Radius.At, "r goes with rect; a corner says its radius itself, as [1, 2, r 1/4]"},
		{o.Mirror.Text != "" && len(o.Points) == 0, o.Mirror.At, "mirror goes with points"},
		{len(o.Flats)+len(o.Named) > 0 && len(o.Points) == 0, o.At, "flats and named go with points"},
	} {
		if k.has {
			r.problem("unwanted", k.at, k.says)
			return out
		}
	}
	switch {
	case len(o.Points) > 0:
		for i := range o.Points {
			c := &o.Points[i]
			k := toy.Corner{Point: r.point(c.at, p, side, own, c.At), Radius: r.length(c.radius, own), In: c.At}
			if k.Radius < 0 {
				r.problem("not-positive", c.At, "a radius cannot be less than nothing")
			}
			if c.through != nil {
				t := r.point(c.through, p, side, own, c.At)
				k.Through = &t
			}
			out.Corners = append(out.Corners, k)
		}
		if o.Mirror.Text == "" && len(out.Corners) < 3 && out.Corners[0].Through == nil {
			r.problem("outline", o.At, "an outline needs at least three corners")
		}
	case len(o.Circle) > 0:
		out.Circle = &toy.Circle{Centre: r.point(o.Circle, p, side, own, o.At), Dia: r.positive(o.Dia, own, "a circle")}
		if o.Dia.Text == "" {
			r.problem("missing", o.At, "how large is the circle?").Expected = "dia"
		}
	case len(o.Rect) > 0:
		if len(o.Size) == 0 {
			r.problem("missing", o.At, "how large is the rectangle?").Expected = "size: [width, height]"
			return out
		}
		a, size := r.point(o.Rect, p, side, own, o.At), r.point(o.Size, p, side, own, o.At)
		if size.X <= 0 || size.Y <= 0 {
			r.problem("not-positive", o.At, "a rectangle needs a width and a height").Expected = "size: [width, height]"
		}
		rect := rectangle(a, toy.Point{X: a.X + size.X, Y: a.Y + size.Y}, o.At)
		radius := r.length(o.Radius, own)
		if radius < 0 {
			r.problem("not-positive", o.Radius.At, "a radius cannot be less than nothing")
		}
		for i := range rect.Corners {
			rect.Corners[i].Radius = radius
		}
		out.Corners = rect.Corners
	default:
		out.Path, out.Unit = o.Path.Text, r.unit.Length()
		if len(out.Path) > maxPathData {
			r.problem("too-many", o.At, "more path data than dryfit reads")
			out.Path = ""
		}
	}
	for _, f := range o.Flats {
		name(f.Key.Text, f.Key.At)
		if len(f.Value) != 2 {
			r.problem("flat", f.Key.At, "a flat is the side between two corners").Expected = "the numbers of two corners that follow each other, as [2, 3]"
			continue
		}
		a, b := f.Value[0].N, f.Value[1].N
		if n := len(out.Corners); a < 1 || a > n || b != a%max(n, 1)+1 {
			r.problem("flat", f.Key.At, fmt.Sprintf("corners %d and %d are not the ends of one side", a, b)).Expected = fmt.Sprintf("numbers from 1 to %d that follow each other", n)
			continue
		}
		out.Flats = append(out.Flats, toy.Named{Name: f.Key.Text, Index: a - 1, At: f.Key.At})
	}
	for _, c := range o.Named {
		name(c.Key.Text, c.Key.At)
		if c.Value.N < 1 || c.Value.N > len(out.Corners) {
			r.problem("corner", c.Key.At, fmt.Sprintf("the outline has no corner %d", c.Value.N)).Expected = fmt.Sprintf("a number from 1 to %d", len(out.Corners))
			continue
		}
		out.Points = append(out.Points, toy.Named{Name: c.Key.Text, Index: c.Value.N - 1, At: c.Key.At})
	}
	return out
}

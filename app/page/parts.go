package page

import (
	"fmt"
	"strings"

	"dryfit/app"
	"dryfit/assembly"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/measure"
	"dryfit/toy"
	"dryfit/toy/file/tree"
)

// Part is a part or a glue-up as it is drawn: its blank and the work on it, in order. On every
// side the origin is the lower left corner as seen from outside (docs/contracts.md: Views).
type Part struct {
	Name    string     `json:"name"`
	Path    string     `json:"path"`
	Shape   string     `json:"shape"` // block, disc, rod, ball, glue-up
	Stock   string     `json:"stock"`
	Mirrors string     `json:"mirrors"` // the part that it is the mirror image of: that one is drawn
	Size    [3]float64 `json:"size"`    // length, width, thickness of the blank
	Pieces  []string   `json:"pieces"`  // those of the toy that are made of it
	Fields  []Field    `json:"fields"`  // of the blank
	Work    []Work     `json:"work"`
	Inside  []string   `json:"inside"` // of a glue-up: the parts that it is glued of
	Users   []string   `json:"users"`  // who in the file speaks of it, in words; it can be taken away where nobody does
}

// Field is a value of the file that may be typed over.
type Field struct {
	Name  string   `json:"name"`
	Path  string   `json:"path"`
	Text  string   `json:"text"`
	Said  string   `json:"said"`  // the text with a unit behind every number that is a length
	MM    *float64 `json:"mm"`    // null where it is not known
	Plain bool     `json:"plain"` // a name or a count, and no length
}

// Work is one operation.
type Work struct {
	Path    string   `json:"path"` // of the item of the list
	Kind    string   `json:"kind"` // drill, saw, cut-out, cut-in, notch, groove, round, chamfer, sand-flush
	Side    string   `json:"side"` // top, bottom, right, left, front, back; empty where it is on no side
	Says    string   `json:"says"`
	Fields  []Field  `json:"fields"`
	Holes   []Hole   `json:"holes"`
	Line    string   `json:"line"` // of an outline: SVG path data, mm, y up
	Corners []Corner `json:"corners"`
	List    string   `json:"list"`   // path of the list that corners stand in; empty: they are not written one by one
	Mirror  string   `json:"mirror"` // along, across: the corners are one half
}

// Hole is one that is drilled.
type Hole struct {
	Name string  `json:"name"`
	X    Field   `json:"x"` // without a path where holes are written as a row
	Y    Field   `json:"y"`
	Path string  `json:"path"` // of the place; empty in a row
	Dia  float64 `json:"dia"`
}

// Corner is one of an outline.
type Corner struct {
	Path   string  `json:"path"`
	X      Field   `json:"x"`
	Y      Field   `json:"y"`
	Radius *Field  `json:"radius"` // of a rounded corner; its path is that of the text "r 1/4"
	Arc    []Field `json:"arc"`    // a place on the arc that ends here; empty: none
}

// PartsOf describes what may be drawn.
func PartsOf(t *app.Toy, m *assembly.Model, root *tree.Node) []Part {
	out, hand := []Part{}, handOf(t.Toy)
	for i := range t.Parts {
		p := &t.Parts[i]
		d := Part{Name: p.Name, Path: tree.Join("parts", p.Name), Shape: [...]string{"block", "disc", "rod", "ball"}[p.Shape], Stock: p.Stock, Mirrors: p.Mirrors,
			Size: [3]float64{mm(p.Length), mm(p.Width), mm(p.Thick)}, Pieces: []string{}, Inside: []string{}}
		for _, q := range m.Pieces {
			if q.Part.Name == p.Name {
				d.Pieces = append(d.Pieces, q.ID)
				d.Size = floats(q.Made.Size) // where the length follows from the build
			}
		}
		node := root.At(d.Path)
		d.Fields = fieldsOf(node, d.Path, "blank", "disc", "bore", "length", "spare")
		if p.Mirrors == "" {
			d.Work = worksOf(node, d.Path, p.Work)
		}
		out = append(out, d)
	}
	for i := range t.GlueUps {
		g := &t.GlueUps[i]
		d := Part{Name: g.Name, Path: tree.Join("glue-ups", g.Name), Shape: "glue-up", Pieces: []string{}, Inside: []string{}, Fields: []Field{}}
		for _, p := range g.Pieces {
			d.Inside = append(d.Inside, p.Part)
		}
		for _, u := range m.GlueUps {
			if u.Spec.Name == g.Name {
				d.Pieces = append(d.Pieces, u.ID)
				d.Size = floats(sizeIn(m, u.Pieces))
			}
		}
		d.Work = worksOf(root.At(d.Path), d.Path, g.Work)
		out = append(out, d)
	}
	for i := range out {
		if out[i].Work == nil {
			out[i].Work = []Work{}
		}
		if out[i].Fields == nil {
			out[i].Fields = []Field{}
		}
		hand.part(&out[i])
	}
	return out
}

// sizeIn is the blank of the first piece, whose frame work on a glue-up is drawn in.
func sizeIn(m *assembly.Model, pieces []int) r3.Vec { return m.Pieces[pieces[0]].Made.Size }

// fieldsOf returns the values of some keys of a map, those that are there.
func fieldsOf(n *tree.Node, path string, keys ...string) (out []Field) {
	names := map[string][]string{"blank": {"length", "width"}, "size": {"width", "height"}, "at": {"from left", "from bottom"}, "rect": {"from left", "from bottom"},
		"circle": {"from left", "from bottom"}, "from": {"start, from left", "start, from bottom"}, "to": {"end, from left", "end, from bottom"}}
	for _, key := range keys {
		v := n.Get(key)
		if v == nil {
			continue
		}
		at := tree.Join(path, key)
		if v.Kind == tree.Scalar {
			out = append(out, Field{Name: key, Path: at, Text: v.Text})
			continue
		}
		for i, it := range v.Items {
			if it.Kind == tree.Scalar && i < len(names[key]) {
				out = append(out, Field{Name: names[key][i], Path: fmt.Sprintf("%s[%d]", at, i), Text: it.Text})
			}
		}
	}
	return out
}

func worksOf(part *tree.Node, path string, list []toy.Work) (out []Work) {
	node := part.Get("work")
	if node == nil || len(node.Items) != len(list) {
		return nil
	}
	for i, w := range list {
		item := node.Items[i]
		if len(item.Entries) != 1 {
			continue
		}
		kind, body := item.Entries[0].Key.Text, item.Entries[0].Value
		d := Work{Path: fmt.Sprintf("%s.work[%d]", path, i), Kind: kind, Holes: []Hole{}, Corners: []Corner{}}
		own := d.Path + "." + kind
		if s, ok := toy.SideOf(w); ok {
			d.Side = s.String()
		}
		d.Fields = fieldsOf(body, own, "dia", "depth", "by", "wide", "at", "size", "from", "to")
		switch w := w.(type) {
		case toy.Drill:
			d.Fields = fieldsOf(body, own, "dia", "depth")
			d.holes(w, body, own)
			d.Says = "drill " + textOf(body, "dia") + depthSays(body)
		case toy.Saw:
			d.outline(w.Outline, body.Get("outline"), own+".outline")
			d.Says = "saw along a line"
		case toy.Cut:
			if o := body.Get("outline"); o != nil {
				d.outline(w.Outline, o, own+".outline")
			} else if p, err := assembly.Line(w.Outline); err == nil {
				d.Line = pathData(p)
			}
			d.Says = kind + depthSays(body)
		case toy.Arris:
			d.Says = kind + " arrises by " + textOf(body, "by")
		case toy.Flush:
			d.Says = "sand flush with " + w.With
		}
		if d.Fields == nil {
			d.Fields = []Field{}
		}
		out = append(out, d)
	}
	return out
}

func textOf(n *tree.Node, key string) string {
	if v := n.Get(key); v != nil {
		return v.Text
	}
	return ""
}

func depthSays(body *tree.Node) string {
	if d := textOf(body, "depth"); d != "" {
		return ", " + d + " deep"
	}
	return ", right through"
}

// place returns a place written [x, y] and resolved.
func place(n *tree.Node, path string, at toy.Point) (x, y Field) {
	x, y = Field{Name: "from left", MM: number(at.X)}, Field{Name: "from bottom", MM: number(at.Y)}
	if n != nil && n.Kind == tree.List && len(n.Items) >= 2 {
		x.Path, x.Text = path+"[0]", n.Items[0].Text
		y.Path, y.Text = path+"[1]", n.Items[1].Text
	}
	return x, y
}

func number(l measure.Length) *float64 {
	v := mm(l)
	return &v
}

func (d *Work) holes(w toy.Drill, body *tree.Node, own string) {
	add := func(h toy.Hole, n *tree.Node, path string) {
		x, y := place(n, path, h.At)
		d.Holes = append(d.Holes, Hole{Name: h.Name, X: x, Y: y, Path: path, Dia: mm(w.Dia)})
	}
	k := 0
	next := func() (h toy.Hole) {
		if k < len(w.Holes) {
			h = w.Holes[k]
		}
		k++
		return h
	}
	if at := body.Get("at"); at != nil {
		for i, n := range at.Items {
			add(next(), n, fmt.Sprintf("%s.at[%d]", own, i))
		}
	}
	if named := body.Get("named"); named != nil {
		for _, e := range named.Entries {
			add(next(), e.Value, tree.Join(own+".named", e.Key.Text))
		}
	}
	for k < len(w.Holes) { // of a row
		h := next()
		d.Holes = append(d.Holes, Hole{Name: h.Name, X: Field{MM: number(h.At.X)}, Y: Field{MM: number(h.At.Y)}, Dia: mm(w.Dia)})
	}
}

// outline describes a line: its corners where they are written one by one, else what gives it.
func (d *Work) outline(o toy.Outline, n *tree.Node, path string) {
	if p, err := assembly.Line(o); err == nil {
		d.Line = pathData(p)
	}
	d.Mirror = o.Mirror
	points, list := n, path
	if n.Kind == tree.Map {
		points, list = n.Get("points"), path+".points"
		d.Fields = append(d.Fields, fieldsOf(n, path, "circle", "dia", "rect", "size", "r")...)
	}
	if points == nil || len(points.Items) != len(o.Corners) {
		return
	}
	d.List = list
	for i, c := range o.Corners {
		it, at := points.Items[i], fmt.Sprintf("%s[%d]", list, i)
		out := Corner{Path: at, Arc: []Field{}}
		if it.Kind == tree.Map {
			out.X, out.Y = place(it.Get("to"), at+".to", c.Point)
			if c.Through != nil {
				x, y := place(it.Get("through"), at+".through", *c.Through)
				out.Arc = append(out.Arc, x, y)
			}
		} else {
			out.X, out.Y = place(it, at, c.Point)
			if len(it.Items) == 3 {
				out.Radius = &Field{Name: "radius", Path: at + "[2]", Text: strings.TrimPrefix(it.Items[2].Text, "r "), MM: number(c.Radius)}
			}
		}
		d.Corners = append(d.Corners, out)
	}
}

// pathData writes a closed line as SVG path data, y up.
func pathData(p outline.Path) string {
	var b strings.Builder
	at := func(v r2.Vec) string { return fmt.Sprintf("%g %g", round(v.X), round(v.Y)) }
	fmt.Fprintf(&b, "M%s", at(p.Start))
	from := p.Start
	for _, s := range p.Segs {
		if !s.Round() {
			fmt.Fprintf(&b, "L%s", at(s.To))
		} else {
			half := s.Middle(from) // in two, so that a whole circle is one as well
			sweep := 0
			if s.Sweep > 0 {
				sweep = 1
			}
			fmt.Fprintf(&b, "A%g %g 0 0 %d %s", s.R, s.R, sweep, at(half))
			fmt.Fprintf(&b, "A%g %g 0 0 %d %s", s.R, s.R, sweep, at(s.To))
		}
		from = s.To
	}
	b.WriteString("Z")
	return b.String()
}

// round brings a place to a thousandth of a millimetre, which no screen shows.
func round(x float64) float64 {
	const fine = 1000
	return float64(int64(x*fine+0.5*sign(x))) / fine
}

func sign(x float64) float64 {
	if x < 0 {
		return -1
	}
	return 1
}

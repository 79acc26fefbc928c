package app

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/exchange"
	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/prove"
	"dryfit/shop"
	"dryfit/toy"
)

// Formats are what Export writes.
var Formats = []string{"svg", "dxf", "stl", "3mf", "glb"}

// Export returns the toy in an open format: svg and dxf are the outlines of every part
// and glue-up, a file for each side that work is drawn on; stl is a file for each part;
// 3mf and glb are the toy put together.
func (t *Toy) Export(format string) ([]Made, error) {
	m, probs := t.Model()
	if len(probs) > 0 {
		return nil, probs
	}
	name, names := fileName(t.Name), ownNames{}
	switch format {
	case "svg", "dxf":
		sheets, err := sheets(m)
		if err != nil {
			return nil, err
		}
		var out []Made
		for _, s := range sheets {
			b := exchange.SVG(s)
			if format == "dxf" {
				b = exchange.DXF(s)
			}
			out = append(out, Made{names.own(name+"-"+fileName(s.Name)) + "." + format, b})
		}
		if len(out) == 0 {
			return nil, errNoOutline
		}
		return out, nil
	case "stl":
		solids, _ := solids(m)
		var out []Made
		for _, s := range solids {
			out = append(out, Made{names.own(name+"-"+fileName(s.Name)) + ".stl", exchange.STL(s.Name, s.Surface)})
		}
		return out, nil
	case "3mf":
		solids, items := solids(m)
		b, err := exchange.ThreeMF(t.Name, solids, items)
		return []Made{{name + ".3mf", b}}, err
	case "glb":
		solids, items := solids(m)
		b, err := exchange.GLB(t.Name, solids, items, Nodes(m, prove.Swings(m)))
		return []Made{{name + ".glb", b}}, err
	}
	return nil, fmt.Errorf("no format is called %s: expected one of %s", format, strings.Join(Formats, ", "))
}

// exports returns the toy in every format that it can be written in.
func (t *Toy) exports() (out []Made, err error) {
	for _, format := range Formats {
		made, err := t.Export(format)
		if errors.Is(err, errNoOutline) {
			continue
		}
		if err != nil {
			return nil, err
		}
		out = append(out, made...)
	}
	return out, nil
}

var errNoOutline = errors.New("no part has an outline: there are only dowels and balls")

// fileName makes a name fit for a file: small letters, digits and hyphens.
func fileName(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	if out := strings.TrimSuffix(b.String(), "-"); out != "" {
		return out
	}
	return "toy"
}

// ownNames hands out names of files that differ whatever the case of their letters.
type ownNames map[string]bool

// own returns the name, with a number where another file has it.
func (o ownNames) own(name string) string {
	out := name
	for n := 2; o[strings.ToLower(out)]; n++ {
		out = fmt.Sprintf("%s-%d", name, n)
	}
	o[strings.ToLower(out)] = true
	return out
}

// sheets returns the sides of parts and glue-ups that work is drawn on.
func sheets(m *assembly.Model) (out []exchange.Sheet, err error) {
	first := func(part string) *assembly.Piece {
		for _, p := range m.Pieces {
			if p.Part.Name == part {
				return p
			}
		}
		return nil
	}
	add := func(name string, shape toy.Shape, size r3.Vec, bore float64, work []toy.Work, always bool) error {
		for s := toy.Top; s <= toy.Back; s++ {
			sheet, drawn, err := sheetOf(name, s, shape, size, bore, work)
			if err != nil {
				return err
			}
			if drawn || always && s == toy.Top {
				out = append(out, sheet)
			}
		}
		return nil
	}
	for i := range m.Toy.Parts {
		p := &m.Toy.Parts[i]
		if q := first(p.Name); q != nil {
			if err := add(p.Name, p.Shape, q.Made.Size, p.Bore.MM(), p.Work, p.Shape == toy.Block || p.Shape == toy.Disc); err != nil {
				return nil, err
			}
		}
	}
	for i := range m.Toy.GlueUps {
		g := &m.Toy.GlueUps[i]
		for _, u := range m.GlueUps {
			if u.Spec.Name == g.Name {
				p := m.Pieces[u.Pieces[0]]
				if err := add(g.Name, p.Part.Shape, p.Made.Size, 0, g.Work, false); err != nil {
					return nil, err
				}
				break
			}
		}
	}
	return out, nil
}

// sheetOf draws one side; drawn tells whether any work is on it.
func sheetOf(name string, side toy.Side, shape toy.Shape, size r3.Vec, bore float64, work []toy.Work) (s exchange.Sheet, drawn bool, err error) {
	s = exchange.Sheet{Name: name + " " + shop.SideWord(side)}
	var round bool
	s.Size, round = assembly.SideShape(side, shape, size)
	mid := s.Size.Scale(0.5)
	line := func(layer, name string, p outline.Path) {
		s.Lines = append(s.Lines, exchange.Line{Layer: layer, Name: name, Path: p})
		drawn = drawn || layer != exchange.Blank
	}
	if round {
		line(exchange.Blank, "blank", outline.Circle(mid, mid.X))
	} else {
		blank, err := outline.Rect(r2.Vec{}, s.Size, 0)
		if err != nil {
			return s, false, err
		}
		line(exchange.Blank, "blank", blank)
	}
	if bore > 0 && side == toy.Top {
		line(exchange.Drill, "bore", outline.Circle(mid, bore/2))
	}
	for i, w := range work {
		called := fmt.Sprintf("work %d", i+1)
		switch w := w.(type) {
		case toy.Saw:
			if w.Side != side {
				continue
			}
			p, err := assembly.Line(w.Outline)
			if err != nil {
				return s, false, err
			}
			line(exchange.Saw, called, p)
		case toy.Cut:
			if w.Side != side {
				continue
			}
			p, err := assembly.Line(w.Outline)
			if err != nil {
				return s, false, err
			}
			layer := exchange.CutOut
			if w.Depth > 0 {
				layer, called = exchange.Cut, fmt.Sprintf("%s, %g mm deep", called, w.Depth.MM())
			}
			line(layer, called, p)
		case toy.Drill:
			if w.Side != side {
				continue
			}
			for _, h := range w.Holes {
				says := called
				if h.Name != "" {
					says = h.Name
				}
				if w.Depth > 0 {
					says = fmt.Sprintf("%s, %g mm deep", says, w.Depth.MM())
				}
				at := r2.Vec{X: h.At.X.MM(), Y: h.At.Y.MM()}
				if w.CounterDia > 0 {
					line(exchange.Drill, fmt.Sprintf("%s, counterbore, %g mm deep", says, w.CounterDepth.MM()), outline.Circle(at, w.CounterDia.MM()/2))
				}
				line(exchange.Drill, says, outline.Circle(at, w.Dia.MM()/2))
			}
		}
	}
	return s, drawn, nil
}

// solids returns every shape that was made, once, and the pieces with it.
func solids(m *assembly.Model) (out []exchange.Solid, items []exchange.Item) {
	type shape struct {
		part string
		made *assembly.Made // parts of one shape share it, each in its own wood
	}
	at := map[shape]int{}
	of := map[string][]int{} // by part: rods may be cut to two lengths
	for _, p := range m.Pieces {
		k, ok := at[shape{p.Part.Name, p.Made}]
		if !ok {
			part, surface := p.Part.Name, solid.Surface(p.Made.Bored())
			same := slices.IndexFunc(of[part], func(i int) bool { // made twice, as in two glue-ups
				return slices.Equal(out[i].Surface.V, surface.V) && slices.Equal(out[i].Surface.T, surface.T)
			})
			if same >= 0 {
				k = of[part][same]
			} else {
				k = len(out)
				wood, name := woodOf(m.Toy, p.Part), part
				if n := len(of[part]); n > 0 {
					name = fmt.Sprintf("%s.%d", part, n+1)
				}
				of[part] = append(of[part], k)
				out = append(out, exchange.Solid{Name: name, Surface: surface, Wood: wood, Colour: facts.Tint(wood)})
			}
			at[shape{part, p.Made}] = k
		}
		items = append(items, exchange.Item{Name: p.ID, Solid: k, At: p.Pose})
	}
	return out, items
}

func woodOf(t *toy.Toy, p *toy.Part) string {
	if s, ok := t.StockNamed(p.Stock); ok {
		return s.Wood
	}
	return ""
}

// Nodes returns the bodies that move: the toy, what turns on hinges, axles with their
// wheels. What is on an axle hangs on the body that the axle runs in. swings are those of its
// hinges (prove.Swings).
func Nodes(m *assembly.Model, swings []prove.Swing) []exchange.Node {
	out := []exchange.Node{{Name: "body", Parent: -1}}
	of := make([]int, len(m.Pieces))
	// The hinges that carry most first: those on what they carry hang on them.
	order := make([]int, len(swings))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return len(swings[j].Moving) - len(swings[i].Moving) })
	for _, i := range order {
		s, h := swings[i], m.Hinges[i]
		if !s.OK {
			continue
		}
		n := len(out)
		out = append(out, exchange.Node{Name: h.Name, Parent: of[s.Moving[0]], Pivot: h.Centre,
			Move: &exchange.Motion{Name: h.Name, Axis: h.Dir, Lo: -s.Ways[1], Hi: s.Ways[0]}})
		for _, p := range s.Moving {
			of[p] = n
		}
	}
	for _, a := range m.Axles {
		n := len(out)
		name := m.Pieces[a.Rod].ID
		out = append(out, exchange.Node{Name: name, Parent: of[a.Hosts[0].Piece], Pivot: a.Centre,
			Move: &exchange.Motion{Name: name, Axis: a.Dir, Lo: math.Inf(-1), Hi: math.Inf(1)}})
		for i, body := range m.Rigid {
			if body == m.Rigid[a.Rod] {
				of[i] = n
			}
		}
	}
	for i := range m.Pieces {
		out[of[i]].Items = append(out[of[i]].Items, i)
	}
	return out
}

package shop

import (
	"fmt"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

// Thing is something bought ready made, or used up.
type Thing struct {
	What     string  `json:"what"`
	Count    int     `json:"count,omitempty"`
	Least    float64 `json:"least,omitempty"` // of Unit, where it is an amount
	Most     float64 `json:"most,omitempty"`
	Unit     string  `json:"unit,omitempty"` // g, ml, sheets, pages, mm
	Estimate bool    `json:"estimate,omitempty"`
	Note     string  `json:"note,omitempty"` // what it is for, or how it was reckoned
}

// counted is what it is and how many.
func (t *Thing) counted() string {
	if t.Count == 0 {
		return t.What
	}
	return fmt.Sprintf("%d × %s", t.Count, t.What)
}

// cordKnots is what a pull cord takes for a knot at either end, mm. Common practice, no source.
const cordKnots = 2 * 50.0

// Grits that every toy is sanded with: to shape, and to make smooth. Common practice, no source.
var grits = []string{"120", "220"}

// things lists hardware and what is used up.
func (l *Lists) things(orders []Order) {
	for _, s := range l.Stock {
		for _, b := range s.Blanks {
			n := b.Count + b.Spare
			switch {
			case b.Shape == ShapeBall:
				l.Hardware = append(l.Hardware, Thing{What: s.Wood + " ball, " + l.length(b.LengthMM), Count: n, Note: l.forPart(b.Toy, b.Part)})
			case b.Made == MadeBought:
				l.Hardware = append(l.Hardware, Thing{What: fmt.Sprintf("%s wheel, %s by %s", s.Wood, l.length(b.LengthMM), l.length(b.ThickMM)), Count: n, Note: l.forPart(b.Toy, b.Part)})
			}
		}
	}
	var glued, surface float64 // m²
	var finishes []finishOn
	for _, o := range orders {
		m := o.Model
		if c := m.Toy.Cord; c != nil {
			long := float64(o.Count) * (c.Length.MM() + cordKnots)
			l.Hardware = append(l.Hardware, Thing{What: "pull cord", Count: o.Count, Least: long, Most: long, Unit: "mm", Note: l.length(c.Length.MM()) + " free and " + l.length(settled(cordKnots)) + " for knots each"})
			if c.End == "bead" {
				l.Hardware = append(l.Hardware, Thing{What: "bead for the end of the cord", Count: o.Count})
			}
		}
		g := gluedArea(m)
		glued += float64(float64(o.Count) * g)
		bare := float64(float64(o.Count) * math.Max(0, Surface(m)-2*g))
		surface += bare
		k := slices.IndexFunc(finishes, func(f finishOn) bool { return f.says == m.Toy.Finish })
		if k < 0 {
			k, finishes = len(finishes), append(finishes, finishOn{says: m.Toy.Finish})
		}
		finishes[k].m2 += bare
	}
	amount := func(what, unit string, least, most float64, note string) {
		l.Consumables = append(l.Consumables, Thing{What: what, Least: significant(least), Most: significant(most), Unit: unit, Estimate: true, Note: note})
	}
	if s, ok := facts.SpreadOf("sandpaper"); ok && surface > 0 {
		for _, grit := range grits {
			amount("sandpaper, "+grit+" grit", "sheets", math.Ceil(surface/s.Most), math.Ceil(surface/s.Least), "for "+l.area(surface)+", a sheet of 9 × 11 in (230 × 280 mm) for each "+l.area(s.Least)+" to "+l.area(s.Most)+" ("+s.Source+")")
		}
	}
	if s, ok := facts.SpreadOf("white glue"); ok && glued > 0 {
		amount("wood glue", "g", glued*s.Least, glued*s.Most, fmt.Sprintf("for %s of joints, %g to %g g/m² (%s)", l.area(glued), s.Least, s.Most, s.Source))
	}
	for _, f := range finishes {
		s, ok := facts.SpreadOf("oil finish")
		is, known := facts.FinishOf(f.says)
		if !ok || f.m2 == 0 || is.Coats == 0 {
			continue
		}
		what, note := "finish: "+f.says, ""
		if f.says == "" {
			what = "finish, where the toy file says none"
		}
		if !known {
			note = " as of " + facts.UsualFinish
		}
		coats := float64(is.Coats)
		amount(what, "ml", 1000*coats*f.m2/s.Most, 1000*coats*f.m2/s.Least, fmt.Sprintf("for %s, %d %s%s, a litre goes over %g to %g m² (%s)", l.area(f.m2), is.Coats, plural(is.Coats, "coat", "coats"), note, s.Least, s.Most, s.Source))
	}
}

// finishOn is a finish in the words of a toy file, and what it is put on.
type finishOn struct {
	says string
	m2   float64
}

// SetPages says how many pages the patterns of each toy have on a paper, 0 where they are not
// counted. They are glued on, so that each toy of a batch takes its own.
func (l *Lists) SetPages(pages []int, paper string) {
	var out []Thing
	for i, n := range pages {
		t := &l.Toys[i]
		if t.Pages = n; n == 0 {
			continue
		}
		t.Paper = paper
		p := Thing{What: "patterns of " + t.Toy + " on " + paper, Least: float64(n), Most: float64(n * t.Count), Unit: "pages"}
		if t.Count > 1 {
			p.Note = fmt.Sprintf("%d %s a set, and a set for each toy where they are glued on; with templates to trace, one set does", n, plural(n, "page", "pages"))
		}
		out = append(out, p)
	}
	if len(out) > 0 {
		out = append(out, Thing{What: "glue stick, or repositionable spray, for the patterns", Note: "one coat on the paper"})
	}
	l.Consumables = append(out, l.Consumables...)
}

func (l *Lists) forPart(name, part string) string {
	if len(l.Toys) > 1 {
		return part + " of " + name
	}
	return part
}

// significant keeps two digits: it is an estimate.
func significant(x float64) float64 {
	if x <= 0 {
		return 0
	}
	step := 0.1
	for x/step >= 100 {
		step *= 10
	}
	return kept(math.Max(1, math.Round(x/step)) * step)
}

// area prints an area for reading.
func (l *Lists) area(m2 float64) string {
	if l.unit == measure.Inch {
		return fmt.Sprintf("%.1f sq ft", m2/m2PerFoot2)
	}
	return fmt.Sprintf("%.3f m²", m2)
}

// Surface is the surface of all pieces of a toy with their holes, in m².
func Surface(m *assembly.Model) float64 {
	sum := 0.0
	made := map[*assembly.Made]float64{}
	for _, p := range m.Pieces {
		a, ok := made[p.Made]
		if !ok {
			s := solid.Surface(p.Made.Bored())
			for _, t := range s.T {
				a += s.V[t[1]].Sub(s.V[t[0]]).Cross(s.V[t[2]].Sub(s.V[t[0]])).Len() / 2
			}
			made[p.Made] = a
		}
		sum += a
	}
	return kept(sum * 1e-6)
}

// gluedArea is the area of all joints of a toy that are glued, faces and dowels, in m².
func gluedArea(m *assembly.Model) float64 {
	sum := 0.0
	for _, g := range m.Glues {
		for _, i := range g.A {
			for _, j := range g.B {
				if a, b := m.Pieces[i], m.Pieces[j]; a.Body.Bounds().Grow(assembly.GlueMost).Meets(b.Body.Bounds()) {
					for t := range assembly.Touches(a.Bored(), b.Bored()) {
						sum += t.Area
					}
				}
			}
		}
	}
	for _, f := range m.Fits {
		rod, host := m.Pieces[f.Rod], m.Pieces[f.Piece]
		if f.Kind != assembly.Glued || rod.Part.Shape != toy.Rod {
			continue
		}
		mid, dir, r := rod.Axis()
		lo, hi := host.Bore(f.Bore).Along(mid, dir)
		half := rod.Made.Size.X / 2
		lo, hi = max(lo, -half), min(hi, half)
		back := host.Pose.Inverse()
		in, out := within(host.Made.Size, back.Point(mid), back.Dir(dir))
		sum += float64(2 * math.Pi * r * max(0, min(hi, out)-max(lo, in)))
	}
	return kept(sum * 1e-6)
}

// within returns where a line goes into a blank of that size and out of it.
func within(size, from, dir r3.Vec) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for axis := range 3 {
		if d := dir.At(axis); math.Abs(d) > tol.Clip {
			a, b := -from.At(axis)/d, (size.At(axis)-from.At(axis))/d
			lo, hi = max(lo, min(a, b)), min(hi, max(a, b))
		}
	}
	return lo, hi
}

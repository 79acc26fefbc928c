package adapt

import (
	"fmt"
	"math"
	"strings"

	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

// Make adapts the file. Problems are of what was asked for, or of the adapted text where it cannot be
// read. A Sheet is made once only: read another for other options.
func (s *Sheet) Make(spec Spec, o Options) (*Adapted, source.Problems) {
	m := &maker{Sheet: s, o: o, out: &Adapted{Text: s.file.Text}, woods: map[string]string{}, stocks: map[string]bool{}}
	if m.ask(spec); len(m.probs) > 0 {
		return nil, m.probs
	}
	if len(s.unclear) > 0 && (m.units != s.toy.Units || m.scale != 1) {
		at := s.at[tree.Join("sizes", s.unclear[0])]
		p := s.file.Problem("adapt", s.rangeOf(s.formulas[at].Path), "whether this is a length or a factor cannot be told: "+strings.Join(s.unclear, " and ")+" are multiplied, without a unit")
		p.Expected = "a unit behind the one that is a length, as " + s.unclear[0] + ": 32 mm"
		return nil, source.Problems{p}
	}
	m.out.Units = [2]measure.Unit{s.toy.Units, m.units}
	for _, l := range s.lits {
		if _, clear := o.Clear[s.spot(l)]; clear && l.role == Shape {
			l.role = Clearance
		}
	}
	// Stock first: holes for rods follow it.
	for _, l := range s.lits {
		if l.role == Stock || l.role == Wheel {
			m.value(l)
		}
	}
	for _, l := range s.lits {
		if l.role != Stock && l.role != Wheel {
			m.value(l)
		}
	}
	m.thickness()
	m.remarks()
	return m.write()
}

// Named is what the adapted file of a name goes by in problems.
func Named(name string) string { return "adapted " + name }

// grows tells whether a role goes with the scale.
func (r Role) grows() bool {
	switch r {
	case Clearance, Ease, Floor, Tool, Fit:
		return false
	}
	return true
}

// hand is the unit that a length is written in: that asked for, else its own.
func (m *maker) hand(l *literal) measure.Unit {
	if m.units != m.toy.Units || !l.Said {
		return m.units
	}
	return m.own(l)
}

// own is the unit in which a length is said.
func (m *maker) own(l *literal) measure.Unit {
	if !l.Said {
		return m.toy.Units
	}
	text := m.formulas[l.formula].Text[l.At:l.End]
	if text[len(text)-1] == 'm' {
		return measure.MM
	}
	return measure.Inch
}

// value gives a length its new value, and says why it is not exactly what it comes to.
func (m *maker) value(l *literal) {
	if l.role == Tool {
		return // write says its unit
	}
	if !l.asked {
		l.exact = l.Length
		if l.role.grows() && m.scale != 1 {
			l.exact = measure.Settle(float64(l.Length) * m.scale)
		}
		m.follows(l)
		m.safe(l)
		l.to = l.exact
		u := m.hand(l)
		if same := math.Abs(float64(l.exact-l.Length)) < 1; same && u == m.own(l) {
			l.to, l.exact = l.Length, l.Length
			return
		}
		m.snap(l, u)
	}
	if moved := math.Abs(float64(l.to - l.Length)); moved < 1 && m.hand(l) == m.own(l) {
		return
	}
	u := m.hand(l)
	l.text = written(l.to, u)
	if l.why == nearestBit && u == measure.MM {
		l.text = strings.TrimSuffix(l.to.ExactIn(measure.Inch), " mm") // as the bit is called
	}
	if l.Said { // what says its unit goes on saying it: without, it might be a factor
		l.text = l.to.ExactIn(u)
	}
}

// follows lets the hole for a rod follow the rod: it stays as much larger as it was.
func (m *maker) follows(l *literal) {
	st, ok := m.toy.StockNamed(l.rod)
	if l.role != Fit || !ok {
		return
	}
	over := l.Length - st.Dia
	rod := st.Dia
	if n := m.root(stockPath(st)); n != nil {
		rod = n.to
	}
	if math.Abs(over.MM()) <= tol.Page {
		l.exact, l.why = rod, "as large as "+st.Name
		return
	}
	if m.units != m.toy.Units {
		if to, ok := marked(over, m.units); ok {
			over = to
		}
	}
	l.exact = rod + over
	if rod != st.Dia {
		l.why = fmt.Sprintf("%s over %s", over.Format(m.units), st.Name)
	}
}

// safe keeps a cord from being made longer than the limits of the age allow, or longer at all where it
// is beyond the shortest already.
func (m *maker) safe(l *literal) {
	if l.role != Cord || l.exact <= l.Length {
		return
	}
	most := m.cordMost()
	if l.exact > most {
		l.exact = max(l.Length, most)
		l.why = "no longer than a pull cord may be: " + most.Format(m.units)
	}
}

// snap brings a length to what there is.
func (m *maker) snap(l *literal, u measure.Unit) {
	if l.role == Fit {
		return // as large as its rod makes it
	}
	switch l.role {
	case Stock, Wheel:
		if m.o.Planed && l.form == "board" {
			l.why = "planed to it: as it is sold, it would not hold"
			if to, ok := marked(l.exact, u); ok && !m.o.Exact[Owner(m.path(l))] {
				l.to = to
			}
			return
		}
		if z, ok := sold(l.form, l.exact, u); ok {
			to := inches(z.MM, z.Name)
			if l.form == "board" && math.Abs(float64(to-l.exact)) > finest*math.Abs(float64(l.exact)) {
				l.why = "no board is near this: glue it up, or plane it"
			} else if l.to = to; l.to != l.exact {
				l.why = "the nearest " + soldWords[l.form] + " that is sold"
			}
		}
	case Hole:
		l.to, l.why = bit(l.exact, u, m.o.Bits)
	default:
		to, ok := marked(l.exact, u)
		if m.o.Exact[Owner(m.path(l))] {
			if to != l.exact {
				l.why = "not brought to the rule: it would not hold"
			}
			return
		}
		if !ok {
			l.why = "finer than the marks of a rule"
			return
		}
		if l.to = to; l.to != l.exact && l.why == "" {
			l.why = "to the rule"
		}
	}
}

var soldWords = map[string]string{"board": "thickness of boards", "plywood": "plywood", "dowel": "dowel", "ball": "ball", "wheel": "wheel"}

// write writes all that has changed, by edits.
func (m *maker) write() (*Adapted, source.Problems) {
	text := m.file.Text
	set := func(path, value, as string) bool {
		to, err := file.Apply(source.New(m.file.Name, text), tree.Edit{Op: "set", Path: path, Value: value, As: as})
		if err != nil {
			p := m.file.Problem("adapt", m.file.Whole(), fmt.Sprintf("%s cannot become %q: %v", path, value, err))
			m.probs = append(m.probs, p)
			return false
		}
		text = to
		return true
	}
	if m.units != m.toy.Units {
		if !set("units", m.units.String(), tree.AsText) {
			return nil, m.probs
		}
		m.out.Changes = append(m.out.Changes, Change{Path: "units", Line: m.line("units"), Was: m.toy.Units.String(), Now: m.units.String()})
	}
	for _, st := range m.toy.Stock {
		wood, ok := m.woods[st.Name]
		path := tree.Join("stock", st.Name) + ".wood"
		if !ok || wood == st.Wood {
			continue
		}
		if !set(path, wood, tree.AsText) {
			return nil, m.probs
		}
		m.out.Changes = append(m.out.Changes, Change{Path: path, Line: m.line(path), Role: Stock, Was: st.Wood, Now: wood, Why: "as asked"})
	}
	for i, x := range m.formulas {
		now := m.rewritten(i)
		if now == x.Text {
			continue
		}
		if !set(x.Path, x.Whole[:x.From]+now, tree.AsText) {
			return nil, m.probs
		}
	}
	if m.out.Text = aligned(m.file, text); text != m.file.Text {
		if _, probs := file.Read(source.New(Named(m.file.Name), m.out.Text), nil); len(probs) > 0 {
			return nil, probs
		}
	}
	return m.out, nil
}

// line is the line of a value.
func (s *Sheet) line(path string) int {
	line, _ := s.file.Position(s.rangeOf(path).Start)
	return line
}

// rangeOf is where a value stands.
func (s *Sheet) rangeOf(path string) source.Range {
	root, _ := tree.Parse(s.file)
	if n := root.At(path); n != nil {
		return n.Range
	}
	return source.Range{}
}

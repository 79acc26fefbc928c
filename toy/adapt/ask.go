package adapt

import (
	"fmt"
	"math"
	"strings"

	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/tree"
)

// The least and most that a toy is scaled by: beyond, it is another toy.
const leastScale, mostScale = 0.1, 10

// maker makes one adapted text.
type maker struct {
	*Sheet
	o      Options
	scale  float64
	units  measure.Unit
	out    *Adapted
	probs  source.Problems
	woods  map[string]string // other woods, by stock
	stocks map[string]bool   // whose size was asked for
}

func (m *maker) wrong(option, text, says, expected string) *source.Problem {
	p := problem(option, text, "adapt", says).Expect(expected)
	m.probs = append(m.probs, p)
	return &m.probs[len(m.probs)-1]
}

// ask settles what is asked for by name.
func (m *maker) ask(spec Spec) {
	m.units, m.scale = m.toy.Units, 1
	if spec.Units != "" {
		u, ok := measure.ParseUnit(spec.Units)
		if !ok {
			p := m.wrong("--units", spec.Units, "this is no unit of a toy file", "mm or inch")
			p.Nearest = source.Nearest(spec.Units, []string{"mm", "inch"})
		}
		m.units = u
	}
	if spec.Scale != 0 {
		if m.scale = spec.Scale; !(m.scale >= leastScale && m.scale <= mostScale) {
			m.wrong("--scale", fmt.Sprint(spec.Scale), "a toy is not scaled by so much", fmt.Sprintf("a number from %g to %g", leastScale, float64(mostScale)))
		}
	}
	for _, text := range spec.Stock {
		m.askStock(text)
	}
	for _, text := range spec.Dowels {
		m.askEach("--dowel", text, "a dowel", func(st toy.Stock) bool { return st.Form == toy.Dowel })
	}
	for _, text := range spec.Wheels {
		m.askWheels(text)
	}
	m.shared()
}

// askStock is NAME=THICKNESS, NAME=WOOD or NAME=THICKNESS WOOD.
func (m *maker) askStock(text string) {
	const option = "--stock"
	name, value, ok := strings.Cut(text, "=")
	name, value = strings.TrimSpace(name), strings.TrimSpace(value)
	if !ok || name == "" || value == "" {
		m.wrong(option, text, "this does not say which stock becomes what", "NAME=THICKNESS, NAME=WOOD or NAME=THICKNESS WOOD, as beech=18mm")
		return
	}
	st, ok := m.toy.StockNamed(name)
	if !ok {
		m.noStock(option, text, name, func(toy.Stock) bool { return true })
		return
	}
	if l, ok := m.length(value); ok {
		m.askSize(option, text, st, l)
		return
	}
	wood := value
	for i := range value { // the longest start that is a length, the rest is wood
		if value[i] == ' ' {
			if l, ok := m.length(value[:i]); ok {
				wood = strings.TrimSpace(value[i:])
				if _, known := facts.Wood(wood); known {
					m.askSize(option, text, st, l)
					break
				}
			}
		}
	}
	if _, known := facts.Wood(wood); !known {
		p := m.wrong(option, text, wood+" is neither a length nor a wood that is known", "a thickness, a wood, or both, as 18mm oak")
		p.Nearest = facts.NearWood(wood)
		return
	}
	m.woods[st.Name] = wood
}

func (m *maker) noStock(option, text, name string, of func(toy.Stock) bool) {
	var names []string
	for _, st := range m.toy.Stock {
		if of(st) {
			names = append(names, st.Name)
		}
	}
	p := m.wrong(option, text, "there is no stock "+name+" of that kind", "one of "+strings.Join(names, ", "))
	p.Nearest = source.Nearest(name, names)
}

// askEach is DIAMETER for all stock of a kind, or NAME=DIAMETER.
func (m *maker) askEach(option, text, what string, of func(toy.Stock) bool) {
	name, value, named := strings.Cut(text, "=")
	if !named {
		value = name
	}
	name = strings.TrimSpace(name)
	l, ok := m.length(strings.TrimSpace(value))
	if !ok {
		m.wrong(option, text, "this does not say the diameter of "+what, "a length, as 6mm, or NAME=DIAMETER")
		return
	}
	found := false
	for _, st := range m.toy.Stock {
		if of(st) && (!named || st.Name == name) {
			found = true
			m.askSize(option, text, st, l)
		}
	}
	if !found && named {
		m.noStock(option, text, name, of)
	} else if !found {
		m.wrong(option, text, "the toy has no stock of that kind", "a toy with "+what)
	}
}

// askWheels is DIAMETER for all wheels on axles, or NAME=DIAMETER.
func (m *maker) askWheels(text string) {
	const option = "--wheel"
	name, value, named := strings.Cut(text, "=")
	if !named {
		value = name
	}
	name = strings.TrimSpace(name)
	l, ok := m.length(strings.TrimSpace(value))
	if !ok {
		m.wrong(option, text, "this does not say the diameter of a wheel", "a length, as 32mm, or NAME=DIAMETER")
		return
	}
	found := false
	for _, wheel := range m.wheels() {
		if named && wheel != name {
			continue
		}
		found = true
		p, _ := m.toy.PartNamed(wheel)
		m.set(option, text, tree.Join("parts", wheel)+".disc", "the diameter of "+wheel, l, p.Made == "bought", "wheel")
	}
	switch {
	case !found && named:
		p := m.wrong(option, text, "there is no wheel "+name+" on an axle", "one of "+strings.Join(m.wheels(), ", "))
		p.Nearest = source.Nearest(name, m.wheels())
	case !found:
		m.wrong(option, text, "the toy has no wheels on axles", "a toy with wheels")
	}
}

func (m *maker) askSize(option, text string, st toy.Stock, l measure.Length) {
	m.stocks[st.Name] = true
	m.set(option, text, stockPath(st), "the size of stock "+st.Name, l, true, soldAs[st.Form])
}

// set gives the length that says what stands at a path alone another value.
func (m *maker) set(option, text, path, what string, l measure.Length, bought bool, kind string) {
	n := m.root(path)
	switch {
	case l.MM() < tol.Touch:
		m.wrong(option, text, what+" has to be more than nothing", "a length, as 18mm")
	case n == nil:
		says := what + " is worked out in the file"
		if i, ok := m.at[path]; ok {
			says += fmt.Sprintf(" (%s)", strings.TrimSpace(m.formulas[i].Text))
		}
		m.wrong(option, text, says+": adapt cannot give it a value", "what it is worked out from to be given another value, or a length in its place")
	case n.asked && math.Abs((n.to-l).MM()) > tol.Page:
		m.wrong(option, text, fmt.Sprintf("%s is asked for twice, and differently: the file says it with %s", what, m.path(n)), "one value")
	default:
		n.asked, n.exact, n.to = true, l, l
		if bought && kind != "board" && !isSold(kind, l) {
			n.why = "as asked; it is not usually sold in this size"
		} else {
			n.why = "as asked"
		}
	}
}

// length reads a length of the command line: a number alone is in the units that the file will have.
func (m *maker) length(text string) (measure.Length, bool) {
	e, bad := formula.Parse(text)
	if bad != nil || len(e.Names()) > 0 {
		return 0, false
	}
	v, bad := e.Eval(m.units, func(string) (formula.Value, bool) { return formula.Value{}, false }, nil)
	if bad != nil {
		return 0, false
	}
	return v.AsLength(m.units)
}

// shared refuses to change the stock that was asked for where the file says other stock with the same
// length, which was not.
func (m *maker) shared() {
	for _, st := range m.toy.Stock {
		n := m.root(stockPath(st))
		if n == nil || !n.asked || m.stocks[st.Name] {
			continue
		}
		for _, other := range m.toy.Stock {
			if m.stocks[other.Name] && m.root(stockPath(other)) == n {
				m.wrong("--stock", other.Name, fmt.Sprintf("%s is the size of %s and of %s, and only one was asked for", m.path(n), other.Name, st.Name),
					fmt.Sprintf("--stock %s=%s as well, or a size of its own for each in the file", st.Name, n.to.ExactIn(m.units)))
				return
			}
		}
	}
}

package adapt

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/toy"
	"dryfit/toy/file/tree"
)

// rewritten is a formula with its lengths as they are to be, and notes what has changed in it.
func (m *maker) rewritten(i int) string {
	x := m.formulas[i]
	if x.Data {
		return m.data(i)
	}
	lits := m.of[i]
	if len(lits) > 0 && lits[0].role == Tool {
		now := x.Text
		if m.units != m.toy.Units {
			now = formula.InUnit(x.Text, m.toy.Units, m.kindOf)
		}
		if now != x.Text {
			m.out.Changes = append(m.out.Changes, Change{Path: x.Path, Line: x.Line, Role: Tool, Was: x.Text, Now: now,
				WasMM: lits[0].Length.MM(), ExactMM: lits[0].Length.MM(), NowMM: lits[0].Length.MM(), Why: "the same, with its unit: the toy has no say in it"})
		}
		return now
	}
	var b strings.Builder
	from := 0
	var changed []*literal
	for _, l := range lits {
		was := x.Text[l.At:l.End]
		if l.text != "" && parted(l, l.text) != was {
			b.WriteString(x.Text[from:l.At] + parted(l, l.text))
			from = l.End
			changed = append(changed, l)
		} else if m.stays(l) {
			m.kept(l, was)
		}
	}
	now := b.String() + x.Text[from:]
	for _, l := range changed {
		c := Change{Path: x.Path, Line: x.Line, Role: l.role, Was: x.Text[l.At:l.End], Now: l.text,
			WasMM: l.Length.MM(), ExactMM: l.exact.MM(), NowMM: l.to.MM(), Why: l.why}
		if now != c.Now {
			c.Formula = now
		}
		m.out.Changes = append(m.out.Changes, c)
		if m.stays(l) {
			m.kept(l, c.Now)
		}
	}
	return now
}

var keptWhy = map[Role]string{
	Ease:  "what a hand rubs off does not grow with the toy",
	Floor: "the floor does not grow with the toy",
}

// stays tells of a length that does not go with the scale.
func (m *maker) stays(l *literal) bool {
	return m.scale != 1 && (!l.role.grows() && l.role != Fit && l.role != Tool || l.role == Cord && l.why != "" && l.to == l.Length)
}

// kept notes what does not go with the scale.
func (m *maker) kept(l *literal, text string) {
	x := m.formulas[l.formula]
	why := keptWhy[l.role]
	if l.role == Cord {
		why = l.why
	}
	if l.role == Clearance {
		why = m.o.Clear[m.spot(l)]
		if why == "" {
			why = "the room beside a wheel"
		}
		why = "a clearance: " + why
	}
	m.out.Kept = append(m.out.Kept, Look{Path: x.Path, Lines: []int{x.Line}, Text: text, Why: why})
}

// data is path data as it is to be.
func (m *maker) data(i int) string {
	x := m.formulas[i]
	by := m.scale * float64(m.toy.Units.Length()) / float64(m.units.Length())
	if by == 1 {
		return x.Text
	}
	now, ok := scaled(x.Text, by)
	if !ok {
		m.out.Looks = append(m.out.Looks, Look{Path: x.Path, Lines: []int{x.Line}, Text: x.Text, Why: "this path data could not be read, and stays as it is"})
		return x.Text
	}
	m.out.Changes = append(m.out.Changes, Change{Path: x.Path, Line: x.Line, Role: Data, Was: x.Text, Now: now,
		Why: fmt.Sprintf("all its numbers times %.6g, to a thousandth", by)})
	return now
}

// cordMost is how long a cord may be made: for the age, by what is at its end (child.cord); from
// three years on no limit reaches it, and that of the youngest is kept to all the same.
func (m *maker) cordMost() measure.Length {
	id := facts.CordPull
	if c := m.toy.Cord; c != nil && (c.End == "bead" || c.End == "loop") && m.toy.Ages.FromMonths < 36 {
		id = facts.CordShort
	}
	return measure.FromMM(facts.Child(id).Value)
}

// upright finds the second number of a corner on an edge or an end: how high it lies in the thickness.
var upright = regexp.MustCompile(`^parts\.([^.]+)\.work\[(\d+)\]\.(?:saw|cut-in|cut-out)\.outline(?:\.points)?\[\d+\]\[1\]$`)

// slight is a share by which a stock may come out otherwise, where it was not asked for, without the
// lengths as large as it was being listed: what 1/4 in and 6.5 mm differ by.
const slight = 0.025

// thickness looks for lengths that may stand for the thickness of a stock that becomes another by more
// or less than the toy does. One that is the upper arris of an edge or an end unmistakably is (and
// says thick from then on); all others are for the maker to look at.
func (m *maker) thickness() {
	for _, st := range m.toy.Stock {
		n := m.root(stockPath(st))
		if n == nil || st.Thick == 0 || n.to == 0 {
			continue
		}
		off := math.Abs(float64(n.to)/(float64(n.Length)*m.scale) - 1)
		if off == 0 {
			continue
		}
		var same *Look
		for _, l := range m.lits {
			times := math.Round(float64(l.Length)/float64(st.Thick)*2) / 2
			if l.role != Shape || times != 1 && times != 2 && times != 0.5 || math.Abs(l.Length.MM()-float64(times*st.Thick.MM())) > tol.Page {
				continue
			}
			x := m.formulas[l.formula]
			if times == 1 && m.arris(x.Path, st) && m.alone(l) {
				l.text, l.to, l.exact, l.why = "thick", n.to, n.to, "the thickness of "+st.Name+", which it was drawn as"
				continue
			}
			like := Alike{m.spot(l), st.Name, times}
			if m.o.Thick[m.spot(l)] == like {
				l.text, l.to = like.said(), measure.Length(times*float64(n.to))
				l.exact, l.why = l.to, "taken for the thickness of "+st.Name+", which it goes with: only so does it hold"
				continue
			}
			m.out.Alike = append(m.out.Alike, like)
			if times != 1 || off < slight && !n.asked {
				continue
			}
			if same == nil {
				same = &Look{Path: stockPath(st), Text: x.Text[l.At:l.End],
					Why: fmt.Sprintf("as large as %s was thick, and taken for lengths of their own; where one is that thickness, say %s.thick", st.Name, st.Name)}
			}
			same.Lines = append(same.Lines, x.Line)
		}
		if same != nil {
			m.out.Looks = append(m.out.Looks, *same)
		}
	}
}

// arris tells whether a path is how high a corner lies in the thickness of a part from a stock.
func (m *maker) arris(path string, st toy.Stock) bool {
	g := upright.FindStringSubmatch(path)
	if g == nil {
		return false
	}
	p, ok := m.toy.PartNamed(g[1])
	if !ok || p.Stock != st.Name {
		return false
	}
	var k int
	fmt.Sscan(g[2], &k)
	if k >= len(p.Work) {
		return false
	}
	side, ok := toy.SideOf(p.Work[k])
	return ok && side != toy.Top && side != toy.Bottom
}

// measured finds a length in a remark.
var measured = regexp.MustCompile(`\d(?: ?(?:mm|cm|inch|inches|in)\b|/\d|"|″)`)

// remarks notes remarks, and texts of the file, that speak of lengths: they stay as they are.
func (m *maker) remarks() {
	if m.units == m.toy.Units && m.scale == 1 && len(m.stocks) == 0 {
		return
	}
	for i, line := range strings.Split(m.file.Text, "\n") {
		at := remarkAt(line)
		if at < 0 || !measured.MatchString(line[at:]) {
			continue
		}
		m.out.Looks = append(m.out.Looks, Look{Lines: []int{i + 1}, Text: strings.TrimSpace(line[at:]), Why: "this remark speaks of a length, and stays as it is"})
	}
	root, _ := tree.Parse(m.file)
	for _, path := range []string{"note", "cover.message"} {
		if n := root.At(path); n != nil && measured.MatchString(n.Text) {
			line, _ := m.file.Position(n.Range.Start)
			m.out.Looks = append(m.out.Looks, Look{Path: path, Lines: []int{line}, Text: path, Why: "this text speaks of a length, and stays as it is"})
		}
	}
}

// remarkAt is where the remark of a line begins, -1 where there is none: a # at its start or behind
// a space, outside quotes.
func remarkAt(line string) int {
	quote := byte(0)
	for i := range len(line) {
		switch c := line[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'' && (i == 0 || strings.IndexByte(" [{,:", line[i-1]) >= 0):
			quote = c
		case c == '#' && (i == 0 || line[i-1] == ' '):
			return i
		}
	}
	return -1
}

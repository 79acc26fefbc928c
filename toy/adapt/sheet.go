package adapt

import (
	"fmt"
	"math"
	"strings"

	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

// Sheet is every length that a file says.
type Sheet struct {
	file     *source.File
	toy      *toy.Toy
	formulas []file.Formula
	at       map[string]int // the formula of a path
	lits     []*literal
	of       map[int][]*literal // of a formula
	factors  map[string]bool    // sizes without unit that things are multiplied by
	unclear  []string           // sizes without unit of which not all are lengths
	kinds    map[string]formula.Kind
	most     measure.Length // a hole that is so much over its rod is no fit
}

// literal is a number of the file that is a length.
type literal struct {
	formula.Literal
	formula int
	role    Role
	asked   bool   // its value was asked for by name
	form    string // of Stock: what it is sold as (facts.Sizes)
	rod     string // of Fit: the stock of the rod in the hole
	exact   measure.Length
	to      measure.Length
	text    string // what is written in its place; "": it stays
	why     string
}

// Read finds the lengths of a file. t is the toy that it reads as; a hole that is by most or more over
// its rod is no fit, and no clearance is as large.
func Read(f *source.File, t *toy.Toy, most measure.Length) (*Sheet, error) {
	all, err := file.Formulas(f)
	if err != nil {
		return nil, err
	}
	s := &Sheet{file: f, toy: t, formulas: all, at: map[string]int{}, of: map[int][]*literal{}, factors: map[string]bool{}, kinds: map[string]formula.Kind{}, most: most}
	s.sizes()
	for i, x := range all {
		if _, twice := s.at[x.Path]; !twice {
			s.at[x.Path] = i
		}
		if x.Data {
			continue
		}
		for _, l := range formula.Lengths(x.Text, t.Units, s.kindOf) {
			if name, ok := strings.CutPrefix(x.Path, "sizes."); ok && s.factors[name] && !l.Said {
				continue
			}
			n := &literal{Literal: l, formula: i}
			s.lits, s.of[i] = append(s.lits, n), append(s.of[i], n)
		}
	}
	s.roles()
	return s, nil
}

// sizes tells which sizes without unit are lengths, and which are factors: as a length the file could
// not be read. Of two that are multiplied by each other either may be; where all that is said is that
// not both are lengths, they are unclear.
func (s *Sheet) sizes() {
	var long []toy.Size
	for _, z := range s.toy.Sizes {
		s.kinds[z.Name] = z.Value.Kind
		if z.Value.Kind != formula.Bare {
			continue
		}
		if s.kinds[z.Name] = formula.Length; z.Value.N == 0 {
			continue
		}
		if s.reads([]toy.Size{z}) {
			long = append(long, z)
		} else {
			s.factors[z.Name], s.kinds[z.Name] = true, formula.Number
		}
	}
	if s.reads(long) {
		return
	}
	for i, z := range long {
		if s.reads(append(append([]toy.Size{}, long[:i]...), long[i+1:]...)) {
			s.unclear = append(s.unclear, z.Name)
		}
	}
	if len(s.unclear) == 1 {
		s.factors[s.unclear[0]], s.kinds[s.unclear[0]], s.unclear = true, formula.Number, nil
	} else if len(s.unclear) == 0 {
		for _, z := range long {
			s.unclear = append(s.unclear, z.Name)
		}
	}
}

// reads tells whether the file can be read with these sizes as lengths.
func (s *Sheet) reads(sizes []toy.Size) bool {
	var sets []file.Set
	for _, z := range sizes {
		sets = append(sets, file.Set{Size: z.Name, Value: s.toy.Units.Of(z.Value.N).ExactIn(s.toy.Units)})
	}
	_, probs := file.Read(s.file, sets)
	return len(probs) == 0
}

// kindOf is what a name is in a formula; what is no size is a length.
func (s *Sheet) kindOf(name string) formula.Kind {
	if k, ok := s.kinds[name]; ok {
		return k
	}
	return formula.Length
}

func (s *Sheet) path(l *literal) string { return s.formulas[l.formula].Path }

// spot is where a length stands.
func (s *Sheet) spot(l *literal) Spot {
	return Spot{s.path(l), s.formulas[l.formula].From + l.At}
}

// alone tells whether a length is all that its formula says.
func (s *Sheet) alone(l *literal) bool {
	return strings.TrimSpace(s.formulas[l.formula].Text) == s.formulas[l.formula].Text[l.At:l.End]
}

// root is the length that says alone what the value at a path is: its own, or that of the size or
// the stock it names; nil where it is worked out.
func (s *Sheet) root(path string) *literal {
	for range 20 { // names do not go round in a circle: the file was read
		i, ok := s.at[path]
		if !ok {
			return nil
		}
		text := strings.TrimSpace(s.formulas[i].Text)
		if lits := s.of[i]; len(lits) == 1 && s.alone(lits[0]) {
			return lits[0]
		}
		e, bad := formula.Parse(text)
		if bad != nil || len(e.Names()) != 1 || e.Names()[0].Text != text {
			return nil
		}
		path = s.named(text)
	}
	return nil
}

// named is the path of what a name stands for; "" for what has none.
func (s *Sheet) named(name string) string {
	owner, attr, dotted := strings.Cut(name, ".")
	if !dotted {
		return tree.Join("sizes", name)
	}
	if st, ok := s.toy.StockNamed(owner); ok && (attr == "thick" || attr == "dia") {
		return stockPath(st)
	}
	p, ok := s.toy.PartNamed(owner)
	if !ok {
		return ""
	}
	if p.Mirrors != "" {
		owner = p.Mirrors
	}
	part := tree.Join("parts", owner)
	switch {
	case attr == "dia" && p.Shape == toy.Disc:
		return part + ".disc"
	case attr == "bore":
		return part + ".bore"
	case attr == "length" && p.Shape == toy.Block:
		return part + ".blank[0]"
	case attr == "width" && p.Shape == toy.Block:
		return part + ".blank[1]"
	case attr == "length":
		return part + ".length"
	}
	if st, ok := s.toy.StockNamed(p.Stock); ok {
		return stockPath(st)
	}
	return ""
}

func stockPath(st toy.Stock) string {
	path := tree.Join("stock", st.Name)
	if st.Form == toy.Dowel || st.Form == toy.Ball {
		return path + ".dia"
	}
	return path + ".thick"
}

// Small are the lengths that may be clearances: no larger than the loosest fit, and of no other role.
func (s *Sheet) Small() (out []Spot) {
	for _, l := range s.lits {
		if l.role == Shape && l.Length > 0 && l.Length < s.most+measure.FromMM(tol.Page) {
			out = append(out, s.spot(l))
		}
	}
	return out
}

// Length is the length at a spot.
func (s *Sheet) Length(at Spot) measure.Length {
	for _, l := range s.lits {
		if s.spot(l) == at {
			return l.Length
		}
	}
	return measure.Length(math.NaN())
}

// Nudged is the text of the file with the length at a spot more by so much.
func (s *Sheet) Nudged(at Spot, by measure.Length) (string, error) {
	for _, l := range s.lits {
		if s.spot(l) == at {
			x := s.formulas[l.formula]
			value := x.Whole[:x.From+l.At] + parted(l, (l.Length+by).Exact()) + x.Whole[x.From+l.End:]
			return file.Apply(s.file, tree.Edit{Op: "set", Path: x.Path, Value: value, As: tree.AsText})
		}
	}
	return "", fmt.Errorf("there is no length at %s", at.Path)
}

// Asked are the sizes whose value was asked for by name.
func (s *Sheet) Asked() (out []string) {
	for _, l := range s.lits {
		if name, ok := strings.CutPrefix(s.path(l), "sizes."); ok && l.asked {
			out = append(out, name)
		}
	}
	return out
}

// Marked are the owners of lengths that were brought to the marks of a rule.
func (s *Sheet) Marked() map[string]bool {
	out := map[string]bool{}
	for _, l := range s.lits {
		if l.text != "" && l.to != l.exact && (l.role == Shape || l.role == Clearance) {
			out[Owner(s.path(l))] = true
		}
	}
	return out
}

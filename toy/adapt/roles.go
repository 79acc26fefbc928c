package adapt

import (
	"fmt"
	"regexp"
	"strings"

	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
	"dryfit/toy/file/tree"
)

// byPath are the roles that a path alone gives.
var byPath = []struct {
	form *regexp.Regexp
	role Role
}{
	{regexp.MustCompile(`^shop\.|^stock\.[^.]+\.longest$`), Tool},
	{regexp.MustCompile(`^ease$`), Ease},
	{regexp.MustCompile(`^cord\.length$`), Cord},
	{regexp.MustCompile(`\.clears-floor$`), Floor},
	{regexp.MustCompile(`\.wheels\.(play|gap)$`), Clearance},
	{regexp.MustCompile(`\.drill\.dia$|\.counterbore\.dia$|^parts\.[^.]+\.bore$`), Hole},
}

// roles gives every length its role. A size takes the role of what it says alone.
func (s *Sheet) roles() {
	for _, l := range s.lits {
		l.role = Shape
	}
	for i, x := range s.formulas {
		for _, b := range byPath {
			if !b.form.MatchString(x.Path) {
				continue
			}
			if lits := s.of[i]; b.role == Tool || len(lits) == 1 && s.alone(lits[0]) {
				for _, l := range lits {
					l.role = b.role
				}
			} else if l := s.root(x.Path); l != nil && l.role == Shape && b.role != Hole {
				l.role = b.role
			}
		}
	}
	for _, r := range s.rods() {
		l := s.root(r.path)
		if over := r.dia - r.stock.Dia; l != nil && (l.role == Shape || l.role == Hole) && over.MM() >= -tol.Plank && over < s.most {
			l.role, l.rod = Fit, r.stock.Name
		}
	}
	for _, p := range s.toy.Parts {
		if l := s.root(tree.Join("parts", p.Name) + ".disc"); p.Made == "bought" && l != nil {
			l.role, l.form = Wheel, "wheel"
		}
	}
	for _, st := range s.toy.Stock {
		if l := s.root(stockPath(st)); l != nil {
			l.role, l.form = Stock, soldAs[st.Form]
		}
	}
}

// soldAs are the kinds of facts.Sizes.
var soldAs = map[toy.Form]string{toy.Board: "board", toy.Sheet: "plywood", toy.Dowel: "dowel", toy.Ball: "ball"}

// rodIn is a hole with a rod in it.
type rodIn struct {
	path  string // of its diameter
	dia   measure.Length
	stock toy.Stock
}

// rods finds the holes that the build puts rods in, and the bores of wheels.
func (s *Sheet) rods() (out []rodIn) {
	owner := s.owners()
	add := func(rod string, holes []toy.Ref) {
		p, _ := s.toy.PartNamed(rod)
		if p == nil {
			return
		}
		st, ok := s.toy.StockNamed(p.Stock)
		if !ok {
			return
		}
		for _, ref := range holes {
			o, ok := owner[ref.Piece]
			if !ok {
				continue
			}
			for k, w := range o.work {
				d, isDrill := w.(toy.Drill)
				for _, h := range d.Holes {
					if isDrill && h.Name == ref.Feature {
						out = append(out, rodIn{fmt.Sprintf("%s.work[%d].drill.dia", o.path, k), d.Dia, st})
						break
					}
				}
			}
		}
	}
	for _, step := range s.toy.Build {
		switch b := step.(type) {
		case toy.Wheels:
			add(b.Axle, b.In)
			axle, _ := s.toy.PartNamed(b.Axle)
			if axle == nil {
				continue
			}
			for _, name := range b.Outward {
				w, _ := s.toy.PartNamed(name)
				if st, ok := s.toy.StockNamed(axle.Stock); ok && w != nil && w.Bore > 0 {
					out = append(out, rodIn{s.partPath(w) + ".bore", w.Bore, st})
				}
			}
		case toy.Peg:
			add(b.Use, b.In)
		case toy.Hinge:
			add(b.Pin, b.Fixed)
			add(b.Pin, b.Runs)
		}
	}
	return out
}

// owned is the part or glue-up that a piece comes from.
type owned struct {
	path string
	work []toy.Work
}

// owners finds what each piece of the build comes from.
func (s *Sheet) owners() map[string]owned {
	out := map[string]owned{}
	part := func(id, name string) {
		if p, _ := s.toy.PartNamed(name); p != nil {
			out[id] = owned{s.partPath(p), p.Work}
		}
	}
	for _, step := range s.toy.Build {
		b, ok := step.(toy.Put)
		if !ok {
			continue
		}
		part(b.ID, b.Part)
		if g, ok := s.toy.GlueUpNamed(b.Part); ok {
			out[b.ID] = owned{tree.Join("glue-ups", g.Name), g.Work}
			for _, p := range g.Pieces {
				part(b.ID+"/"+p.ID, p.Part)
			}
		}
	}
	return out
}

// partPath is where the blank of a part is said: a mirror image has that of the other.
func (s *Sheet) partPath(p *toy.Part) string {
	if p.Mirrors != "" {
		return tree.Join("parts", p.Mirrors)
	}
	return tree.Join("parts", p.Name)
}

// wheels are the parts that the build puts on axles, in the order of the file.
func (s *Sheet) wheels() (out []string) {
	on := map[string]bool{}
	for _, step := range s.toy.Build {
		if w, ok := step.(toy.Wheels); ok {
			for _, name := range w.Outward {
				on[name] = true
			}
		}
	}
	for _, p := range s.toy.Parts {
		if on[p.Name] && p.Mirrors == "" {
			out = append(out, p.Name)
		}
	}
	return out
}

var buildStep = regexp.MustCompile(`^build\[\d+\]`)

// Owner is the part, glue-up, size, stock or step of the build that a path belongs to.
func Owner(path string) string {
	if m := buildStep.FindString(path); m != "" {
		return m
	}
	top, rest, _ := strings.Cut(path, ".")
	if i := strings.IndexAny(rest, ".["); i >= 0 {
		rest = rest[:i]
	}
	return top + "." + rest
}

package app

import (
	"maps"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy/adapt"
)

// adapted is an adapted text with its proof.
type adapted struct {
	*adapt.Adapted
	sheet *adapt.Sheet
	toy   *Toy
	rep   *prove.Report
	way   way
	worse int // findings that are worse than they were
}

// way is how a toy is adapted where the plain way does not hold.
type way struct {
	exact  map[string]bool            // owners of lengths that are not brought to the marks of a rule
	planed bool                       // boards that were not asked for are planed to what they come to
	rooms  bool                       // room between pieces goes with the scale; fits never do
	thick  map[adapt.Spot]adapt.Alike // lengths that stand for the thickness of a stock
}

// try adapts in a way, and proves.
func (a *adapter) try(w way) (*adapted, error) {
	sheet, err := a.was.sheet()
	if err != nil {
		return nil, err
	}
	if a.clear == nil && (a.spec.Scale != 0 && a.spec.Scale != 1 || a.spec.Units != "" && a.spec.Units != a.was.Toy.Units.String()) {
		a.clear = a.was.clearances(a.ctx, sheet)
	}
	o := adapt.Options{Clear: a.clear, Exact: w.exact, Planed: w.planed, Thick: w.thick}
	if w.rooms {
		o.Clear = a.fits()
	}
	if sh := a.was.Shop; sh != nil && len(sh.Bits) > 0 {
		o.Bits = assembly.BitsOf(sh, a.was.Toy.Units)
	}
	out := &adapted{sheet: sheet, way: w}
	var probs source.Problems
	if out.Adapted, probs = sheet.Make(a.spec, o); len(probs) > 0 {
		return nil, probs
	}
	if err := a.prove(out); err != nil {
		return nil, err
	}
	out.worse = len(a.worse(out.rep))
	return out, nil
}

// sheet is every length that the file says.
func (t *Toy) sheet() (*adapt.Sheet, error) {
	return adapt.Read(source.New(t.name, t.text), t.Toy, measure.FromMM(assembly.ClearLeast))
}

// fits are the clearances that are fits, not room between pieces.
func (a *adapter) fits() map[adapt.Spot]string {
	out := map[adapt.Spot]string{}
	for at, why := range a.clear {
		if why == clearFit {
			out[at] = why
		}
	}
	return out
}

func (a *adapter) prove(t *adapted) (err error) {
	o := a.o
	o.Cache = a.was.cache
	var probs source.Problems
	if t.toy, probs = OpenWith(a.name, t.Text, o); len(probs) > 0 {
		return probs
	}
	t.rep, err = prove.RunContext(a.ctx, t.toy.Toy, a.was.cache, prove.Options{})
	return err
}

// worse are the findings of a proof that fail, or cannot be told, and did not before.
func (a *adapter) worse(rep *prove.Report) (out []prove.Finding) {
	was := map[string]prove.Verdict{}
	for _, f := range a.rep.Findings {
		was[f.ID] = f.Verdict
	}
	for _, f := range rep.Findings {
		if f.Verdict > prove.Mind && f.Verdict > was[f.ID] {
			out = append(out, f)
		}
	}
	return out
}

// mostFollowed is how many lengths are tried as the thickness of a stock.
const mostFollowed = 24

// best looks for the way in which least is worse than it was: the plain one; lengths that are as large
// as a stock was thick taken for its thickness, one by one, where that is better for it; boards planed
// to what they come to; room between pieces that goes with the scale; lengths not brought to the marks
// of a rule, those of the pieces in question alone if that does. What is no better is not done.
func (a *adapter) best() (*adapted, error) {
	best, err := a.try(way{})
	for _, w := range []way{{planed: true}, {rooms: true}, {planed: true, rooms: true}} {
		if err == nil || a.ctx.Err() != nil {
			break
		}
		if t, bad := a.try(w); bad == nil { // the plain way it cannot be made at all
			best, err = t, nil
		}
	}
	if err != nil || best.worse == 0 || !a.apart(best) {
		return best, err
	}
	plain := best
	if best, err = a.thicknesses(best); err != nil || best.worse == 0 {
		return best, err
	}
	marked := plain.sheet.Marked()
	for _, w := range []way{{planed: true}, {rooms: true}, {planed: true, rooms: true}, {exact: marked}, {exact: marked, planed: true}, {exact: marked, planed: true, rooms: true}} {
		if w.rooms && len(a.clear) == len(a.fits()) || w.exact != nil && len(marked) == 0 {
			continue
		}
		t, err := a.try(w)
		if err != nil {
			continue // this way it cannot be made
		}
		if t.worse < best.worse {
			best = t
		}
		if best.worse == 0 {
			break
		}
	}
	if best.way.exact != nil {
		w := best.way
		w.exact = a.asked(plain, marked)
		if t, err := a.try(w); err == nil && t.worse <= best.worse {
			best = t
		}
	}
	if best.worse == 0 || best.way.thick != nil {
		return best, nil
	}
	return a.thicknesses(best)
}

// apart tells whether something no longer fits or moves: what is too heavy, too weak or unsafe for its
// shape does not change with how lengths are rounded.
func (a *adapter) apart(t *adapted) bool {
	return slices.ContainsFunc(a.worse(t.rep), func(f prove.Finding) bool {
		return strings.HasPrefix(f.Check, "fit.") || strings.HasPrefix(f.Check, "move.")
	})
}

// thicknesses takes lengths for the thickness of the stock that they are as large as, each where less
// is worse with it.
func (a *adapter) thicknesses(best *adapted) (*adapted, error) {
	tried := 0
	alike := slices.Clone(best.Alike)
	slices.SortStableFunc(alike, func(a, b adapt.Alike) int { return likelier(a) - likelier(b) })
	for _, at := range alike {
		if tried++; best.worse == 0 || tried > mostFollowed {
			break
		}
		w := best.way
		if w.thick = maps.Clone(w.thick); w.thick == nil {
			w.thick = map[adapt.Spot]adapt.Alike{}
		}
		w.thick[at.Spot] = at
		if t, err := a.try(w); err == nil && t.worse < best.worse {
			best = t
		} else if err := a.ctx.Err(); err != nil {
			return nil, err
		}
	}
	return best, nil
}

// likelier orders lengths as large as a stock was thick before twice and half as large ones.
func likelier(a adapt.Alike) int {
	if a.Times == 1 {
		return 0
	}
	return 1
}

// asked are the owners, of some, that the pieces of what is worse come from.
func (a *adapter) asked(t *adapted, of map[string]bool) map[string]bool {
	out := map[string]bool{}
	for _, f := range a.worse(t.rep) {
		for _, p := range f.Places {
			for owner := range of {
				if a.was.ownedBy(p.Piece, owner) {
					out[owner] = true
				}
			}
		}
	}
	return out
}

// ownedBy tells whether a piece is of the part, the glue-up or the step of the build, or whether the
// owner is a size, which may be of all.
func (t *Toy) ownedBy(piece, owner string) bool {
	if strings.HasPrefix(owner, "sizes.") || strings.HasPrefix(owner, "build[") {
		return true
	}
	m, probs := t.Model()
	if len(probs) > 0 {
		return true
	}
	kind, name, _ := strings.Cut(owner, ".")
	return slices.ContainsFunc(m.Find(piece), func(i int) bool {
		p := m.Pieces[i]
		glueUp, _, _ := strings.Cut(p.GlueUp, ".")
		return kind == "parts" && p.Part.Name == name || kind == "glue-ups" && glueUp == name
	})
}
